package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// ColdFits says that a string stays under a controller's input limit on the
// coldest morning: n·Voc·(1 + beta·(T - 25)) <= 0.97·limit, 3 % for the label.
func ColdFits(voc, series, coldest, beta, limit float64) (float64, error) {
	const fn = "pv_cold_fits"
	v, err := pvCold(fn, voc, series, coldest, beta)
	return yes(v <= 0.97*limit), first(err, positive(fn, "the input limit", limit, "V"))
}

// ColdMargin is how far in volts a string stays under a controller's limit on the
// coldest morning; below zero the controller is destroyed or stays off.
func ColdMargin(voc, series, coldest, beta, limit float64) (float64, error) {
	const fn = "pv_cold_margin"
	v, err := pvCold(fn, voc, series, coldest, beta)
	return limit - v, first(err, positive(fn, "the input limit", limit, "V"))
}

// SeriesMost is how many modules may stand in series under a controller's limit
// on the coldest morning, without any margin; 0 is a possible answer.
func SeriesMost(voc, coldest, beta, limit float64) (float64, error) {
	const fn = "pv_series_most"
	v, err := pvCold(fn, voc, 1, coldest, beta)
	if err = first(err, positive(fn, "the input limit", limit, "V")); err != nil {
		return 0, err
	}
	return math.Floor(limit/v + 1e-9), nil
}

// SeriesLeast is how many modules in series a tracking controller needs so that
// hot modules still start it (n·open >= Vb + 5) and keep it running (n·best >= Vb
// + 1): open and best are one hot module's volts, pv_open_volts and pv_best_volts
// at 65 °C cells, and battery the absorption volts.
func SeriesLeast(open, best, battery float64) (float64, error) {
	const fn = "pv_series_least"
	if err := first(positive(fn, "the open volts", open, "V"), positive(fn, "the best-point volts", best, "V"), notNegative(fn, "the battery", battery, "V")); err != nil {
		return 0, err
	}
	n := math.Ceil(max((battery+5)/open, (battery+1)/best) - 1e-9)
	return n, span(fn, "modules needed", n, 1, 100, "")
}

// trackLoss is what a tracking controller passes on.
const trackLoss = 0.96

// ClipWatts is the most power in watts that a controller limited to limit amps
// puts into a battery of volts: I·V.
func ClipWatts(limit, battery float64) (float64, error) {
	const fn = "clip_watts"
	return limit * battery, first(notNegative(fn, "the limit", limit, "A"), notNegative(fn, "the battery", battery, "V"))
}

// ClipPct is the part in per cent of an array's power that a controller's current
// limit cuts off: 100·(1 - I·V/(0.96·P)), none when the limit is not reached.
func ClipPct(watts, limit, battery float64) (float64, error) {
	const fn = "clip_pct"
	if err := first(positive(fn, "the array", watts, "W"), notNegative(fn, "the limit", limit, "A"), notNegative(fn, "the battery", battery, "V")); err != nil {
		return 0, err
	}
	return 100 * max(0, 1-limit*battery/(trackLoss*watts)), nil
}

// PVSeriesOhm is the resistance in ohms between module and controller, from the
// volts at both while amps flow.
func PVSeriesOhm(panel, controller, amps float64) (float64, error) {
	const fn = "pv_series_ohm"
	if err := first(notNegative(fn, "the volts at the module", panel, "V"), notNegative(fn, "the volts at the controller", controller, "V"), positive(fn, "the current", amps, "A")); err != nil {
		return 0, err
	}
	if controller > panel {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g V at the controller is more than %.4g V at the module: read both again while the same current flows", controller, panel))
	}
	return (panel - controller) / amps, nil
}

// The three limits of a controller's output in watts: what the array brings
// behind dirt, age and leads, what the controller may pass, what the battery takes.
func harvestLimits(fn string, watts, dirt, ohm, amps, limit, battery, accept float64) (array, controller, bank float64, err error) {
	err = first(
		notNegative(fn, "the array", watts, "W"), span(fn, "what dirt and age leave", dirt, 0, 1.1, ""), notNegative(fn, "the leads", ohm, "ohm"),
		notNegative(fn, "the current of the array", amps, "A"), notNegative(fn, "the controller's limit", limit, "A"),
		notNegative(fn, "the battery", battery, "V"), notNegative(fn, "what the battery takes", accept, "A"),
	)
	return trackLoss * max(0, watts*dirt-amps*amps*ohm), limit * battery, battery * accept, err
}

// ExpectedHarvest is the power in watts to expect at the battery now: the least of
// 0.96·(P·k - I²R), I_limit·Vb and Vb·I_accept. watts and amps are the array's
// best point in this sun and warmth, clean what dirt and age leave of it, ohm the
// leads, accept what battery and loads take: in bulk the battery's or BMS's limit,
// in absorption the falling tail and the loads, in float the loads.
func ExpectedHarvest(watts, clean, ohm, amps, limit, battery, accept float64) (float64, error) {
	a, c, b, err := harvestLimits("harvest_now", watts, clean, ohm, amps, limit, battery, accept)
	return min(a, c, b), err
}

// Which limit governs the harvest.
const (
	ArrayLimits = iota
	ControllerLimits
	BatteryLimits
)

var harvestWords = []string{"array", "controller", "battery"}

// HarvestLimit is the word for what governs the harvest: "array", "controller" or
// "battery"; the first of them when two are equal.
func HarvestLimit(watts, clean, ohm, amps, limit, battery, accept float64) (string, error) {
	a, c, b, err := harvestLimits("harvest_limit", watts, clean, ohm, amps, limit, battery, accept)
	if err != nil {
		return "", err
	}
	switch m := min(a, c, b); {
	case a <= m:
		return harvestWords[ArrayLimits], nil
	case c <= m:
		return harvestWords[ControllerLimits], nil
	}
	return harvestWords[BatteryLimits], nil
}

// limitsHarvest is one question of HarvestLimit as yes or no, on array watts
// behind everything, the controller's limit, battery volts and what it takes.
func limitsHarvest(fn string, which int) func(a []float64) (float64, error) {
	return func(x []float64) (float64, error) {
		a, c, b, err := harvestLimits(fn, x[0], 1, 0, 0, x[1], x[2], x[3])
		return yes([]float64{a, c, b}[which] <= min(a, c, b)), err
	}
}

// UsedShare is the part of the available power that a controller asks for, from
// where it holds the array: volts over open volts, right of the best point. From
// the model of 54- and 36-cell modules at 800 W/m² and 45 °C, which agree within
// 0.01. Errors: a ratio under 0.834, where the array is the limit.
func UsedShare(ratio float64) (float64, error) {
	if err := span("pv_used_share", "volts over open volts", ratio, 0.834, 1, ""); err != nil {
		return 0, err
	}
	return along([]float64{0.834, 0.867, 0.884, 0.901, 0.930, 0.960, 0.982, 0.993, 0.997, 1}, []float64{1, 0.98, 0.95, 0.90, 0.75, 0.50, 0.25, 0.10, 0.05, 0}, ratio), nil
}

// StringFuseNeeded says that each string needs a fuse: what the others push back
// is more than the module's largest series fuse, (m - 1)·1.25·Isc > limit. With
// the 1.25 it covers NEC 690.9 and IEC 62548 both; the forms without it, or with
// 1.35 times the limit, are not taken: they are the weaker.
func StringFuseNeeded(parallel, isc, limit float64) (float64, error) {
	const fn = "string_fuse_needed"
	if err := first(span(fn, "strings side by side", parallel, 1, 100, ""), span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"), positive(fn, "the module's largest series fuse", limit, "A")); err != nil {
		return 0, err
	}
	return yes((parallel-1)*1.25*isc > limit), nil
}

// StringFuseLeast is the least rating in amps of a string fuse: 1.56·Isc (NEC),
// which is also above the 1.5 of IEC 62548 and the 1.4 of IEC 60269-6.
func StringFuseLeast(isc float64) (float64, error) {
	return 1.56 * isc, span("string_fuse_least", "the short-circuit amps of a module", isc, 0.01, 30, "A")
}

// StringFuseMost is the largest rating in amps of a string fuse: 2.4·Isc (IEC
// 62548) or the module's largest series fuse, whichever is less.
func StringFuseMost(isc, limit float64) (float64, error) {
	const fn = "string_fuse_most"
	return min(2.4*isc, limit), first(span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"), positive(fn, "the module's largest series fuse", limit, "A"))
}

// StringFuseFits says that a rating lies in the window of a string fuse.
func StringFuseFits(rating, isc, limit float64) (float64, error) {
	const fn = "string_fuse_fits"
	most, err := StringFuseMost(isc, limit)
	if err != nil {
		return 0, renamed(fn, err)
	}
	return yes(rating >= 1.56*isc && rating <= most), positive(fn, "a rating", rating, "A")
}

// stringFuseLimits: the rating lies in a window, so one that may be under or over
// it may also be inside, for some short-circuit amps.
func stringFuseLimits(f *formula.Func) func([]formula.Val) formula.Val {
	return windowLimits(f, func(a []formula.Val) bool {
		top := min(a[0].Hi, a[2].Hi)
		return a[0].Lo <= top && a[0].Lo/2.4 <= a[1].Hi && top/1.56 >= a[1].Lo
	})
}

// StringFuseVolts is the DC volts that a string fuse must be made for: 1.2·n·Voc.
func StringFuseVolts(voc, series float64) (float64, error) {
	return 1.2 * voc * series, stringChecks("string_fuse_volts", voc, series)
}

// DayWh is the energy in Wh that an array of label watts brings in a day with
// sun hours (kWh/m² in its plane), at a ratio: 0.75 to the battery posts by a
// tracking controller, 0.62 36 cells on pulse-width.
func DayWh(watts, hours, ratio float64) (float64, error) {
	const fn = "pv_day_wh"
	return watts * hours * ratio, first(notNegative(fn, "the array", watts, "W"), span(fn, "the sun hours of a day", hours, 0, 13, "h"), span(fn, "the ratio", ratio, 0, 1, ""))
}

// WattsNeeded is the label watts of an array that carries a day: loads at night
// through the battery, loads by day direct: (E_night/eta + E_day)/(PSH·ratio).
func WattsNeeded(night, day, hours, ratio, eta float64) (float64, error) {
	const fn = "pv_watts_needed"
	if err := first(notNegative(fn, "the energy at night", night, "Wh"), notNegative(fn, "the energy by day", day, "Wh"), span(fn, "the sun hours of a day", hours, 0.01, 13, "h"), span(fn, "the ratio", ratio, 0.05, 1, ""), span(fn, "what the battery gives back", eta, 0.05, 1, "")); err != nil {
		return 0, err
	}
	return (night/eta + day) / (hours * ratio), nil
}
