package electric

import (
	"fmt"

	"hotlug/engine/formula"
)

// restChart is the rest voltage of one 12 V battery against its charge in per
// cent, and how far charts and histories differ from it.
type restChart struct {
	pct, volts  []float64
	spread      float64 // V per 12 V, to either side
	least, most float64 // V per 12 V between which a reading can be a rest voltage
}

// Charts of rest volts at 25 °C. Lithium: per-cell median of six sources times
// four; its spread is the rest gap of 12.5 mV per cell between "came by charging"
// and "came by discharging". AGM and gel: the five points that three sources
// confirm; lists in rows of ten per cent are not taken, their rows are for
// reading and differ from the points by little (0.2 %). Flooded: the
// 1.265 kg/l type. Lead charts differ by 0.10 V.
var restCharts = map[Chemistry]restChart{
	LFP: {
		pct: []float64{0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100},
		volts: fourfold(2.800, 3.060, 3.202, 3.222, 3.243, 3.266, 3.278, 3.285, 3.289, 3.293, 3.297,
			3.301, 3.310, 3.315, 3.323, 3.326, 3.331, 3.336, 3.341, 3.350, 3.370),
		spread: 0.050, least: 10, most: 13.8,
	},
	Flooded: {
		pct:    []float64{0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100},
		volts:  []float64{11.89, 11.96, 12.03, 12.10, 12.17, 12.24, 12.32, 12.41, 12.49, 12.57, 12.65},
		spread: 0.10, least: 10, most: 13.2,
	},
	AGM: {
		pct: []float64{0, 25, 50, 75, 100}, volts: []float64{11.80, 12.00, 12.30, 12.60, 12.85},
		spread: 0.10, least: 10, most: 13.4,
	},
	Gel: {
		pct: []float64{0, 25, 50, 75, 100}, volts: []float64{11.80, 12.00, 12.35, 12.65, 12.90},
		spread: 0.10, least: 10, most: 13.4,
	},
}

func fourfold(cells ...float64) []float64 {
	for i := range cells {
		cells[i] *= 4
	}
	return cells
}

// ChargeLowPct is the least charge in per cent that a battery of system volts
// which rests at volts can have: the chart, less the spread of charts and
// histories. The meter's error comes on top, with the reading itself. Lead after
// 6 h of rest, lithium 1 h after a discharge, 4 h after a charge. Below 10 % read
// it as "nearly empty".
// Errors: volts that are no rest voltage (10 V to 13.8 V lithium, 13.2 V flooded,
// 13.4 V AGM and gel, per 12 V); other-lithium.
func ChargeLowPct(volts, system float64, chem Chemistry) (float64, error) {
	return chargePct("charge_low_pct", volts, system, chem, -1)
}

// ChargeHighPct is the most charge in per cent that such a battery can have.
func ChargeHighPct(volts, system float64, chem Chemistry) (float64, error) {
	return chargePct("charge_high_pct", volts, system, chem, 1)
}

// ChargeMidPct is the chart's own charge in per cent. Never tell it of a lithium
// battery, whose limits lie 40-60 % apart: it is for working on with lead.
func ChargeMidPct(volts, system float64, chem Chemistry) (float64, error) {
	return chargePct("charge_mid_pct", volts, system, chem, 0)
}

func chargePct(fn string, volts, system float64, chem Chemistry, side float64) (float64, error) {
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	c := restCharts[chem]
	v := volts / k
	switch {
	case !(v >= c.least):
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g V is too low for a resting bank of %.4g V: its switch may be open or a cell dead; load it with a lamp first", volts, system))
	case !(v <= c.most):
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g V is no rest voltage of a bank of %.4g V: it is being charged, or was just now", volts, system))
	}
	v += side * c.spread
	switch last := len(c.volts) - 1; {
	case v <= c.volts[0]:
		return 0, nil
	case v >= c.volts[last]:
		return 100, nil
	}
	return along(c.volts, c.pct, v), nil
}

// RestVolts is the chart's rest voltage of a bank of system volts at a charge in
// per cent, 25 °C: what the simulated rig rests at.
func RestVolts(charge, system float64, chem Chemistry) (float64, error) {
	const fn = "rest_volts"
	if err := first(known(fn, chem), span(fn, "a charge", charge, 0, 100, "%")); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	c := restCharts[chem]
	return k * along(c.pct, c.volts, charge), err
}

// RestLow is the rest voltage under which a bank of system volts is nearly empty
// and wants charging now: 12.8 V lithium, 11.9 V lead, per 12 V.
func RestLow(chem Chemistry, system float64) (float64, error) {
	const fn = "rest_low"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	if chem == LFP {
		return 12.8 * k, err
	}
	return 11.9 * k, err
}

// Freezing point of lead acid by rest volts, the most cautious of three tables.
var (
	freezeVolts = []float64{11.8, 12.0, 12.2, 12.4, 12.65}
	freezeTemp  = []float64{-9, -15, -25, -36, -57}
)

// FreezeTemp is the temperature in °C at which the acid of a lead bank of system
// volts freezes that rested at volts. Suspect ice from 3 K above it: no charge,
// no load. 11.8 V and less per 12 V count as flat, -9 °C; 12.65 V and more as full.
// One fixed point at 12.1 V (-20 °C) is not taken for all: it misses the flat
// battery that is already ice at -10 °C.
// Errors: volts outside 8 to 14 per 12 V.
func FreezeTemp(volts, system float64) (float64, error) {
	const fn = "freeze_temp"
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	v := volts / k
	if err := span(fn, "a rest voltage per 12 V", v, 8, 14, "V"); err != nil {
		return 0, err
	}
	if v <= freezeVolts[0] {
		return freezeTemp[0], nil
	}
	return along(freezeVolts, freezeTemp, v), nil
}

func restTable() []*formula.Func {
	const charts = "rest charts, medians of published data; lead from makers' tables"
	const when = "rested: lead 6 h, lithium 1 h after use and 4 h after charge; below 10 % read \"nearly empty\""
	volts := in("volts", "V", grows, "volts at the posts, rested")
	system := in("system", "V", falls, "nominal volts of the bank")
	chem := oneOf("chemistry", "kind of battery", chemistries)
	return []*formula.Func{
		{
			Name: "charge_low_pct", Area: "battery", Title: "Least charge that a rest voltage means",
			Params: []formula.Param{volts, system, chem}, Result: unit("%"), Act: falls,
			Text: "chart read at U - 0.05 V (lithium) or U - 0.10 V (lead) per 12 V", Source: charts, Domain: when,
			Do: func(a []float64) (float64, error) { return ChargeLowPct(a[0], a[1], Chemistry(a[2])) },
		},
		{
			Name: "charge_high_pct", Area: "battery", Title: "Most charge that a rest voltage means",
			Params: []formula.Param{volts, system, chem}, Result: unit("%"), Act: grows,
			Text: "chart read at U + 0.05 V (lithium) or U + 0.10 V (lead) per 12 V", Source: charts, Domain: when,
			Do: func(a []float64) (float64, error) { return ChargeHighPct(a[0], a[1], Chemistry(a[2])) },
		},
		{
			Name: "charge_mid_pct", Area: "battery", Title: "Charge by the chart itself",
			Params: []formula.Param{volts, system, chem}, Result: unit("%"),
			Text: "chart", Source: charts, Domain: when + "; never tell it of a lithium battery",
			Do: func(a []float64) (float64, error) { return ChargeMidPct(a[0], a[1], Chemistry(a[2])) },
		},
		{
			Name: "rest_volts", Area: "battery", Title: "Rest voltage at a charge",
			Params: []formula.Param{in("charge", "%", grows, "charge left"), in("system", "V", grows, "nominal volts of the bank"), chem},
			Result: unit("V"), Text: "chart", Source: charts, Domain: "25 °C, rested",
			Do: func(a []float64) (float64, error) { return RestVolts(a[0], a[1], Chemistry(a[2])) },
		},
		{
			Name: "rest_low", Area: "battery", Title: "Rest voltage under which a bank is nearly empty",
			Params: []formula.Param{chem, in("system", "V", grows, "nominal volts of the bank")}, Result: unit("V"),
			Text: "12.8 V lithium, 11.9 V lead, per 12 V", Source: "rest charts, practice", Domain: "rested",
			Do: func(a []float64) (float64, error) { return RestLow(Chemistry(a[0]), a[1]) },
		},
		{
			Name: "freeze_temp", Area: "battery", Title: "Freezing point of a lead battery",
			Params: []formula.Param{in("volts", "V", falls, "volts at the posts, rested"), in("system", "V", grows, "nominal volts of the bank")},
			Result: unit("degC"), Act: grows, Text: "table by rest volts", Source: "makers' tables, the cautious of three",
			Domain: "lead only, 8 to 14 V per 12 V; 11.8 V and less count as flat, 12.65 V and more as full; suspect ice from 3 K above it",
			Do:     func(a []float64) (float64, error) { return FreezeTemp(a[0], a[1]) },
		},
	}
}
