package main

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// slips are what goes wrong when a reading is typed. A sign is a slip only where
// the reading has one sign: frost, a battery's current and a polarity have both,
// and there it is the answer.
var slips = []struct {
	name  string
	least float64 // share that must be noticed
	of    func(float64) float64
	fits  func(*reading.Reading) bool
}{
	{"ten times", 0.90, func(v float64) float64 { return v * 10 }, func(*reading.Reading) bool { return true }},
	{"a thousand times", 0.99, func(v float64) float64 { return v * 1000 }, func(*reading.Reading) bool { return true }},
	{"millivolts for volts", 0.99, func(v float64) float64 { return v * 1000 },
		func(r *reading.Reading) bool { return r.Kind.ID == "volts" && r.Plausible.Hi <= 1 }},
	{"the sign", 0.99, func(v float64) float64 { return -v }, func(r *reading.Reading) bool { return r.Plausible.Lo >= 0 }},
}

// A slip of a plausible value is noticed when it is impossible, or odd with the
// value that was meant among those suggested. What lands on another plausible
// value nobody can see: the ranges must be narrow enough to leave little of it.
func TestSlipsOfReadingsAreNoticed(t *testing.T) {
	g, err := (&app{out: &bytes.Buffer{}, err: &bytes.Buffer{}}).knowledge()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(5, 6))
	all, allNoticed := 0, 0
	for _, slip := range slips {
		cases, seen := 0, 0
		for _, id := range g.ReadingOrder {
			rd := g.Readings[id]
			if rd.Answer != reading.Number || !rd.Possible.Set || !rd.Plausible.Set || !slip.fits(rd) {
				continue
			}
			for range 60 {
				l, v := drawn(r, rd)
				if math.Abs(v) < 1e-9 {
					continue // nothing has no sign and no decimal point
				}
				cases++
				if noticed(l, rd.Kind, v, slip.of(v)) {
					seen++
				}
			}
		}
		share := float64(seen) / float64(cases)
		t.Logf("%s: %d of %d, %.1f %%", slip.name, seen, cases, 100*share)
		if cases < 200 || share < slip.least {
			t.Errorf("%s: %.1f %% of %d are noticed, and %.0f %% are wanted", slip.name, 100*share, cases, 100*slip.least)
		}
		all, allNoticed = all+cases, allNoticed+seen
	}
	if share := float64(allNoticed) / float64(all); share < 0.95 {
		t.Errorf("of all slips %.1f %% are noticed, and 95 %% are wanted", 100*share)
	}
}

// drawn is a plausible value of a reading on a 12, 24 or 48 V system.
func drawn(r *rand.Rand, rd *reading.Reading) (quantity.Limits, float64) {
	times := 1.0
	if rd.Scales {
		times = float64(int(1) << r.IntN(3))
	}
	poss, plaus := rd.Possible.Times(times), rd.Plausible.Times(times)
	return quantity.Limits{PossibleLo: poss.Lo, PossibleHi: poss.Hi, PlausibleLo: plaus.Lo, PlausibleHi: plaus.Hi},
		plaus.Lo + r.Float64()*(plaus.Hi-plaus.Lo)
}

func noticed(l quantity.Limits, k quantity.Kind, meant, slip float64) bool {
	switch l.Judge(slip) {
	case quantity.Impossible:
		return true
	case quantity.Fine:
		return false
	}
	for _, s := range quantity.Slips(slip, k, l) {
		if math.Abs(s-meant) <= 1e-9*math.Abs(meant) {
			return true
		}
	}
	return false
}
