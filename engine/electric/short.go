package electric

import (
	"math"

	"hotlug/engine/formula"
)

// FaultAmps is the current in amps that a dead short draws from a source of
// volts and source ohms through loop ohms of wire, both ways: V/(Rb + Rx).
// Errors: no resistance at all; a negative one.
func FaultAmps(volts, source, loop float64) (float64, error) {
	const fn = "fault_amps"
	if err := first(
		notNegative(fn, "the volts", volts, "V"), notNegative(fn, "the source", source, "ohm"),
		notNegative(fn, "the loop", loop, "ohm"), positive(fn, "source and loop together", source+loop, "ohm"),
	); err != nil {
		return 0, err
	}
	return volts / (source + loop), nil
}

// ShortOhm is the least resistance in ohms with which a bank feeds a dead short
// in its first millisecond, for the breaking capacity of its main fuse: packs
// equal batteries of ah amp-hours side by side, each a whole bank of system
// volts. Lithium 1.5 mΩ per 100 Ah at 12 V, 3 at 24 V, 5 at 48 V; AGM and gel 3,
// flooded 5 mΩ per 100 Ah and 12 V. A switch inside a pack may have failed
// closed and does not count.
// The 3 to 10 mΩ of a 12 V lithium pack that a load of minutes shows (7 mΩ in
// SourceOhmNew, for sag) is not taken: the first milliseconds see the ohmic part
// alone, 1.5 to 2.5 mΩ per 100 Ah, of which the least gives the largest current.
// Errors: other-lithium (use its sheet); system outside 11-52 V.
func ShortOhm(chem Chemistry, system, ah, packs float64) (float64, error) {
	const fn = "short_ohm"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	if err := first(positive(fn, "the capacity", ah, "Ah"), span(fn, "packs side by side", packs, 1, 100, "")); err != nil {
		return 0, err
	}
	var r float64
	switch chem {
	case LFP:
		r = alongLog([]float64{1, 2, 4}, []float64{0.0015, 0.003, 0.005}, k)
	case Flooded:
		r = 0.005 * k
	default:
		r = 0.003 * k
	}
	return r * 100 / ah / packs, nil
}

// Insulation heat constants k of the adiabatic rule, A·s½/mm².
var shortKinds = []string{"pvc-70", "pvc-90", "xlpe", "rubber-60"}
var shortK = []float64{115, 100, 143, 141}

// ShortSeconds is how long a wire of size mm² stands a short of amps before its
// insulation is destroyed, in seconds: t = (k·S/I)². The device before it must
// open sooner. Kind is an index into pvc-70, pvc-90, xlpe, rubber-60.
// Errors: longer than 5 s, where the rule does not hold.
func ShortSeconds(amps, size float64, kind int) (float64, error) {
	const fn = "short_seconds"
	if err := first(chosen(fn, "insulation", kind, len(shortK)), positive(fn, "a current", amps, "A"), span(fn, "a wire", size, 0.05, 1000, "mm²")); err != nil {
		return 0, err
	}
	t := math.Pow(shortK[kind]*size/amps, 2)
	if t > 5 {
		return 0, formula.Outside(fn, "heat flows away in a short that lasts longer than 5 s: compare the fuse with the amps that the wire may carry")
	}
	return t, nil
}

func shortTable() []*formula.Func {
	return []*formula.Func{
		{
			Name: "fault_amps", Area: "fuse", Title: "Current of a dead short",
			Params: []formula.Param{
				in("volts", "V", grows, "volts of the source at rest"), in("source_ohm", "ohm", falls, "resistance of the source"),
				in("loop_ohm", "ohm", falls, "wires there and back, joints, fuses"),
			},
			Result: unit("A"), Act: grows, Text: "I = V/(R_source + R_loop)", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return FaultAmps(a[0], a[1], a[2]) },
		},
		{
			Name: "short_ohm", Area: "fuse", Title: "Resistance of a bank into a dead short",
			Params: []formula.Param{
				oneOf("chemistry", "kind of battery", chemistries), in("system", "V", grows, "nominal volts of the bank"),
				in("ah", "Ah", falls, "amp-hours of one battery"), in("packs", "1", falls, "batteries side by side"),
			},
			Result: unit("ohm"), Act: falls, Text: "mΩ per 100 Ah by kind and volts, over the packs",
			Source: "derived from cell data, practice", Domain: "the first millisecond, for breaking capacity; not for sag",
			Do: func(a []float64) (float64, error) { return ShortOhm(Chemistry(a[0]), a[1], a[2], a[3]) },
		},
		{
			Name: "short_seconds", Area: "fuse", Title: "How long a wire stands a short",
			Params: []formula.Param{
				in("amps", "A", falls, "current of the short"), in("size", "mm2", grows, "copper area"),
				oneOf("insulation", "kind of insulation", shortKinds),
			},
			Result: unit("s"), Act: falls, Text: "t = (k·S/I)²", Source: "IEC 60364-5-54, BS 7671 table 43.1 [standard]",
			Domain: "up to 5 s, copper",
			Do:     func(a []float64) (float64, error) { return ShortSeconds(a[0], a[1], int(a[2])) },
		},
	}
}
