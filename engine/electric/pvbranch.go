package electric

import (
	"fmt"

	"hotlug/engine/formula"
)

// StringBackAmps is the current in amps that the other strings can push into one
// bad one: (m - 1)·1.25·Isc. Above the module's largest series fuse every string
// needs a fuse of its own. The form without the 1.25 is not taken: with it NEC
// 690.9 and IEC 62548 are covered both.
func StringBackAmps(parallel, isc float64) (float64, error) {
	const fn = "string_back_amps"
	if err := first(span(fn, "strings side by side", parallel, 1, 100, ""), span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A")); err != nil {
		return 0, err
	}
	return (parallel - 1) * 1.25 * isc, nil
}

var stringFuses = []float64{1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 16, 20, 25, 30, 32}

// PVFuse is the string fuse in amps for modules of isc: the next standard gPV
// rating from 1.56·Isc. It must not be above the module's largest series fuse.
// Errors: no rating is large enough.
func PVFuse(isc float64) (float64, error) {
	const fn = "pv_fuse"
	if err := span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"); err != nil {
		return 0, err
	}
	if r, ok := next(stringFuses, 1.56*isc); ok {
		return r, nil
	}
	return 0, formula.Outside(fn, fmt.Sprintf("no string fuse of the list carries 1.56 times %.4g A: the largest is 32 A", isc))
}

// LeakOhm is the resistance in ohms of one leak to the frame of an isolated
// array of open volts, when a meter of meter ohms shows plus and minus volts from
// the poles to the frame, both without sign: Rm·(Voc/(V+ + V-) - 1).
// Errors: no volts to the frame at all; more than the array has.
func LeakOhm(plus, minus, open, meter float64) (float64, error) {
	const fn = "leak_ohm"
	if err := first(
		notNegative(fn, "the volts from plus to the frame", plus, "V"), notNegative(fn, "the volts from minus to the frame", minus, "V"),
		positive(fn, "the open volts", open, "V"), positive(fn, "the meter's input", meter, "ohm"), positive(fn, "the two readings together", plus+minus, "V"),
	); err != nil {
		return 0, err
	}
	if plus+minus > open {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g and %.4g V to the frame are more than the %.4g V of the array: read them again, settled", plus, minus, open))
	}
	return meter * (open/(plus+minus) - 1), nil
}

func pvBranchTable() []*formula.Func {
	isc := in("isc", "A", grows, "short-circuit amps of one module, label")
	return []*formula.Func{
		{
			Name: "string_back_amps", Area: "pv", Title: "Current the other strings push into a bad one",
			Params: []formula.Param{in("parallel", "1", grows, "strings side by side"), isc}, Result: unit("A"), Act: grows,
			Text: "(m - 1)·1.25·Isc", Source: "NEC 690.9, IEC 62548 [standard]", Domain: "equal strings",
			Do: func(a []float64) (float64, error) { return StringBackAmps(a[0], a[1]) },
		},
		{
			Name: "pv_fuse", Area: "pv", Title: "String fuse",
			Params: []formula.Param{isc}, Result: unit("A"), Standard: true, Act: grows, Text: "next gPV rating >= 1.56·Isc",
			Source: "NEC 690.9, IEC 60269-6 ratings [standard]", Domain: "up to 20.5 A; not above the module's largest series fuse",
			Do: func(a []float64) (float64, error) { return PVFuse(a[0]) },
		},
		{
			Name: "leak_ohm", Area: "pv", Title: "Resistance of a leak to the frame",
			Params: []formula.Param{
				in("plus", "V", falls, "volts from plus to the frame, without sign"), in("minus", "V", falls, "volts from minus to the frame, without sign"),
				in("open", "V", grows, "open volts of the array"), usually(in("meter", "ohm", grows, "input of the meter, usually 10 Mohm"), "10 Mohm"),
			},
			Result: unit("ohm"), Act: falls, Text: "Rm·(Voc/(V+ + V-) - 1)", Source: "derived: one leak, divider with the meter",
			Domain: "array isolated at both poles, readings settled, up to 60 V",
			Do:     func(a []float64) (float64, error) { return LeakOhm(a[0], a[1], a[2], a[3]) },
		},
	}
}
