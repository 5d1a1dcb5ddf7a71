package electric

import (
	"fmt"

	"hotlug/engine/formula"
)

// Ratings in amps that fuses are sold in: blades up to 40 A (ISO 8820-3), bolted
// ones above (ISO 8820-5).
var fuseRatings = []float64{
	1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100, 125, 150,
	175, 200, 225, 250, 300, 350, 400, 450, 500, 600,
}

// Cold resistance of blade fuses, mΩ by rating [from memory of typical sheets;
// 10 A and 15 A agree with published drop charts].
var (
	bladeAmps  = []float64{1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 40}
	bladeMilli = []float64{123, 53.5, 31.1, 17.9, 10.9, 7.7, 4.8, 3.4, 2.5, 2.0, 1.4}
)

// FuseRatings lists the standard ratings in amps that FuseNext picks from.
func FuseRatings() []float64 { return append([]float64(nil), fuseRatings...) }

// FuseNext is the smallest standard fuse rating in amps that is not below amps.
// Errors: nothing to carry; more than the largest rating.
func FuseNext(amps float64) (float64, error) { return fuseNext("fuse_next", amps) }

func fuseNext(fn string, amps float64) (float64, error) {
	if err := positive(fn, "a current", amps, "A"); err != nil {
		return 0, err
	}
	if r, ok := next(fuseRatings, amps); ok {
		return r, nil
	}
	return 0, formula.Outside(fn, fmt.Sprintf("no single fuse of the list carries %.4g A: the largest is 600 A; split the load", amps))
}

// FuseSpeed is the kind of element of a fuse.
type FuseSpeed int

// Fast elements are blades, strips and the quick main fuses; slow ones are
// time-delay fuses and thermal breakers.
const (
	FastFuse FuseSpeed = iota
	SlowFuse
)

var fuseSpeeds = []string{"fast", "slow"}

// FuseTempFactor is what is left of a fuse's rating in surroundings of ambient
// °C: 1 - c·(T - 25) with c 0.2 %/K for fast, 0.5 %/K for slow elements.
// Errors: ambient outside -40 to 125.
func FuseTempFactor(ambient float64, speed FuseSpeed) (float64, error) {
	return fuseTempFactor("fuse_temp_factor", ambient, speed)
}

func fuseTempFactor(fn string, ambient float64, speed FuseSpeed) (float64, error) {
	if err := first(chosen(fn, "speed", int(speed), 2), span(fn, "surroundings of a fuse", ambient, -40, 125, "°C")); err != nil {
		return 0, err
	}
	c := 0.002
	if speed == SlowFuse {
		c = 0.005
	}
	return 1 - c*(ambient-25), nil
}

// FuseForLoad is the next standard rating in amps for a continuous load of amps
// with a fast fuse in surroundings of ambient °C: 1.25·I/f(T). It must still not
// be larger than what the wire behind it may carry: the caller compares.
func FuseForLoad(amps, ambient float64) (float64, error) {
	return fuseFor("fuse_for_load", amps, ambient, FastFuse)
}

// SlowFuseForLoad is FuseForLoad for time-delay fuses and thermal breakers.
func SlowFuseForLoad(amps, ambient float64) (float64, error) {
	return fuseFor("slow_fuse_for_load", amps, ambient, SlowFuse)
}

func fuseFor(fn string, amps, ambient float64, speed FuseSpeed) (float64, error) {
	f, err := fuseTempFactor(fn, ambient, speed)
	if err != nil {
		return 0, err
	}
	return fuseNext(fn, 1.25*amps/f)
}

// FuseLoad is the load of a fast fuse as a part of what it carries in
// surroundings of ambient °C: I/(In·f(T)). Above 0.8 it ages.
func FuseLoad(amps, rating, ambient float64) (float64, error) {
	const fn = "fuse_load"
	f, err := fuseTempFactor(fn, ambient, FastFuse)
	if err != nil {
		return 0, err
	}
	if err := first(notNegative(fn, "a current", amps, "A"), positive(fn, "a rating", rating, "A")); err != nil {
		return 0, err
	}
	return amps / (rating * f), nil
}

// FuseColdOhm is the resistance in ohms of a cold fuse of a rating in amps: the
// blade chart up to 40 A, 0.063/In above it (bolted strip and cube fuses, 0.7 of
// the hot 0.09/In), by ratios in between. Real ones lie within ±15 %.
// Errors: a rating outside 0.5 to 630 A.
func FuseColdOhm(rating float64) (float64, error) { return fuseCold("fuse_cold_ohm", rating) }

func fuseCold(fn string, rating float64) (float64, error) {
	if err := span(fn, "a fuse rating", rating, 0.5, 630, "A"); err != nil {
		return 0, err
	}
	switch {
	case rating < 1:
		return alongLog(bladeAmps[:2], bladeMilli[:2], rating) / 1000, nil
	case rating <= 40:
		return alongLog(bladeAmps, bladeMilli, rating) / 1000, nil
	case rating < 50:
		return alongLog([]float64{40, 50}, []float64{1.4, 1.26}, rating) / 1000, nil
	}
	return 0.063 / rating, nil
}

// FuseDrop is what a sound fuse of a rating drops from tab to tab at amps, in
// volts: R_cold·I·(1 + 0.42·(I/In)²); the element is 1.42 times its cold
// resistance at full rating. Above 1.5 times this it ages or fails; below 0.6
// times it is mis-marked or bypassed.
// Errors: a negative current; more than twice the rating; rating outside 0.5-630.
func FuseDrop(amps, rating float64) (float64, error) { return fuseDrop("fuse_drop", amps, rating) }

func fuseDrop(fn string, amps, rating float64) (float64, error) {
	r, err := fuseCold(fn, rating)
	if err != nil {
		return 0, err
	}
	if err := notNegative(fn, "a current", amps, "A"); err != nil {
		return 0, err
	}
	if amps > 2*rating {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g A is more than twice the %.4g A of the fuse: it opens in seconds and has no steady drop", amps, rating))
	}
	x := amps / rating
	return r * amps * (1 + 0.42*x*x), nil
}

// ClipDropLimit is the most volts that a fuse with its holder may drop at amps,
// wire to wire: the fuse itself and 80 mV for both clips at full amps, in
// proportion. More means worn or corroded contacts. A fixed 0.5 mΩ is not taken
// as the limit: it is normal for a spring clip.
func ClipDropLimit(amps, rating, full float64) (float64, error) {
	return withClips("clip_drop_limit", amps, rating, full, 0.080)
}

// HolderGoodLimit is what a new or cleaned holder with its fuse stays under:
// as ClipDropLimit with 40 mV, and for the same reason. It proves the repair.
func HolderGoodLimit(amps, rating, full float64) (float64, error) {
	return withClips("holder_good_limit", amps, rating, full, 0.040)
}

func withClips(fn string, amps, rating, full, clips float64) (float64, error) {
	u, err := fuseDrop(fn, amps, rating)
	if err != nil {
		return 0, err
	}
	if err := positive(fn, "the full current", full, "A"); err != nil {
		return 0, err
	}
	return u + clips*amps/full, nil
}

// Largest loss of one breaker pole in watts up to a rating in amps, IEC 60898-1
// (from memory).
var poleAmps = []float64{10, 16, 25, 32, 40, 50, 63, 100, 125}
var poleWatts = []float64{3, 3.5, 4.5, 6, 7.5, 9, 13, 15, 20}

// BreakerDropLimit is the most volts that one closed pole of a breaker of a
// rating may drop at amps: P/In·(I/In). Between two ratings of the standard the
// loss of the next larger counts. Act above 1.5 times this, or above 1.5 times
// the twin pole. Studs and hydraulic types: 0.1 V at their rating.
// A flat 100 to 200 mV for every breaker is not taken: it condemns sound small
// ones, of which the standard lets a 10 A pole drop 0.3 V.
// Errors: a rating outside 1 to 125 A; a negative current.
func BreakerDropLimit(amps, rating float64) (float64, error) {
	const fn = "breaker_drop_limit"
	if err := first(notNegative(fn, "a current", amps, "A"), span(fn, "a breaker rating", rating, 1, 125, "A")); err != nil {
		return 0, err
	}
	for i, a := range poleAmps {
		if rating <= a {
			return poleWatts[i] * amps / rating / rating, nil
		}
	}
	return 0, formula.Outside(fn, "no breaker of that rating")
}
