package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// Sizes are the standard copper areas in mm², IEC 60228.
var sizes = []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}

// Largest resistances at 20 °C of class 5 wire, Ω/km, IEC 60228.
var (
	plainOhm  = []float64{39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.30, 1.91, 1.21, 0.780, 0.554, 0.386, 0.272, 0.206, 0.161}
	tinnedOhm = []float64{40.1, 26.7, 20.0, 13.7, 8.21, 5.09, 3.39, 1.95, 1.24, 0.795, 0.565, 0.393, 0.277, 0.210, 0.164}
)

const (
	copperRise = 0.00393 // per K, from 20 °C: annealed copper, IEC 60028
	plainRho   = 0.0195  // Ω·mm²/m at 20 °C, flexible plain copper, ruling for sizes off the table
	tinnedRho  = 0.0203  // the same, tinned
	hotWire    = 50.0    // °C: the temperature at which a new wire is sized
)

// Sizes lists the standard copper areas in mm² that a size is picked from.
func Sizes() []float64 { return append([]float64(nil), sizes...) }

// ohmPerMetre is the resistance of one metre at 20 °C. A standard size is read
// from the table. Any other is rho over its area, kept between the table's
// neighbours so that a thicker wire never counts as the worse one (rho over area
// runs up to 2 % to either side of the table).
func ohmPerMetre(size, rho float64, table []float64) float64 {
	r := rho / size
	for i, s := range sizes {
		t := table[i] / 1000
		switch {
		case math.Abs(s-size) <= 1e-9*s: // a size that was converted on its way here is still the standard one
			return t
		case s < size:
			r = min(r, t)
		default:
			r = max(r, t)
		}
	}
	return r
}

func wireOhm(fn string, run, size, temp, rho float64, table []float64) (float64, error) {
	if err := first(
		notNegative(fn, "a run", run, "m"),
		span(fn, "a wire", size, 0.05, 1000, "mm²"),
		span(fn, "a wire temperature", temp, -60, 250, "°C"),
	); err != nil {
		return 0, err
	}
	return run * ohmPerMetre(size, rho, table) * (1 + copperRise*(temp-20)), nil
}

// WireOhm is the resistance in ohms of one wire of run metres and size mm² at
// temp °C. Plain flexible copper: IEC 60228 class 5 for the standard sizes, else
// 0.0195 Ω·mm²/m; never the ideal 0.0175, which makes wires 11-16 % too small.
// Errors: a negative run; size outside 0.05-1000; temp outside -60 to 250.
func WireOhm(run, size, temp float64) (float64, error) {
	return wireOhm("wire_ohm", run, size, temp, plainRho, plainOhm)
}

// TinnedOhm is WireOhm for tinned strands.
func TinnedOhm(run, size, temp float64) (float64, error) {
	return wireOhm("tinned_ohm", run, size, temp, tinnedRho, tinnedOhm)
}

func roundTrip(fn string, amps, run, size, temp, rho float64, table []float64) (float64, error) {
	if err := notNegative(fn, "a current", amps, "A"); err != nil {
		return 0, err
	}
	r, err := wireOhm(fn, run, size, temp, rho, table)
	return 2 * amps * r, err
}

// WireDrop is the drop in volts of amps over the round trip of a run of two
// wires, there and back: U = 2·I·l·r. Joints and fuses are not in it.
func WireDrop(amps, run, size, temp float64) (float64, error) {
	return roundTrip("wire_drop", amps, run, size, temp, plainRho, plainOhm)
}

// TinnedDrop is WireDrop for tinned strands, as in array cables and boats.
func TinnedDrop(amps, run, size, temp float64) (float64, error) {
	return roundTrip("tinned_drop", amps, run, size, temp, tinnedRho, tinnedOhm)
}

// WireForDrop is the smallest standard size in mm² that keeps the round-trip
// drop of amps over run metres within volts, with the copper at 50 °C.
// Errors: nothing allowed for the drop; no single standard size is enough.
func WireForDrop(amps, run, volts float64) (float64, error) {
	const fn = "wire_for_drop"
	if err := positive(fn, "the volts allowed", volts, "V"); err != nil {
		return 0, err
	}
	for _, s := range sizes {
		u, err := roundTrip(fn, amps, run, s, hotWire, plainRho, plainOhm)
		if err != nil {
			return 0, err
		}
		if u <= volts {
			return s, nil
		}
	}
	return 0, formula.Outside(fn, fmt.Sprintf("%.4g A over %.4g m within %.4g V needs more than 120 mm²: shorten the run, use two equal wires side by side, or a higher system voltage", amps, run, volts))
}

// LongestRun is the longest run one way in metres over which amps in a wire of
// size mm² at temp °C stay within volts of round-trip drop.
func LongestRun(amps, size, volts, temp float64) (float64, error) {
	const fn = "longest_run"
	if err := first(positive(fn, "a current", amps, "A"), notNegative(fn, "the volts allowed", volts, "V")); err != nil {
		return 0, err
	}
	r, err := wireOhm(fn, 1, size, temp, plainRho, plainOhm)
	if err != nil {
		return 0, err
	}
	return volts / (2 * amps * r), nil
}

// DropPct is drop as a percentage of the volts at the source. Two meters may make
// of next to no drop one below nought.
func DropPct(drop, volts float64) (float64, error) {
	const fn = "drop_pct"
	if err := first(span(fn, "a drop", drop, -volts, volts, "V"), positive(fn, "the source volts", volts, "V")); err != nil {
		return 0, err
	}
	return 100 * drop / volts, nil
}

// AWGSize is the copper area in mm² of a gauge number of ASTM B258, solid:
// d = 0.127·92^((36-n)/39) mm. 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3.
func AWGSize(gauge float64) (float64, error) {
	if err := span("awg_mm2", "a gauge number", gauge, -3, 24, ""); err != nil {
		return 0, err
	}
	d := 0.127 * math.Pow(92, (36-gauge)/39)
	return math.Pi / 4 * d * d, nil
}

func wireTable() []*formula.Func {
	const iec = "IEC 60228 class 5; 0.0195 Ω·mm²/m off the table [standard, derived]"
	run := in("run", "m", grows, "length one way")
	size := in("size", "mm2", falls, "copper area")
	temp := usually(in("temp", "degC", grows, "temperature of the wire"), "50 C") // hotWire: as new wires are sized
	amps := in("amps", "A", grows, "current in the wire")
	return []*formula.Func{
		{
			Name: "wire_ohm", Area: "wire", Title: "Resistance of one wire, one way",
			Params: []formula.Param{run, size, temp}, Result: unit("ohm"),
			Text: "R = l·r20·(1 + 0.00393·(T - 20))", Source: iec,
			Domain: "plain flexible copper, 0.05 to 1000 mm², -60 to 250 °C", Act: grows,
			Do: func(a []float64) (float64, error) { return WireOhm(a[0], a[1], a[2]) },
		},
		{
			Name: "wire_drop", Area: "wire", Title: "Drop over a round trip",
			Params: []formula.Param{amps, run, size, temp}, Result: unit("V"),
			Text: "U = 2·I·l·r20·(1 + 0.00393·(T - 20))", Source: iec,
			Domain: "plain flexible copper, plus and minus of one size; joints and fuses not included", Act: grows,
			Do: func(a []float64) (float64, error) { return WireDrop(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "wire_for_drop", Area: "wire", Title: "Smallest standard wire for a drop",
			Params: []formula.Param{amps, run, in("volts", "V", falls, "drop allowed, there and back")},
			Result: unit("mm2"), Standard: true, Act: grows,
			Text: "smallest standard A with 2·I·l·r(A)·1.12 <= U", Source: iec + "; 50 °C copper [practice]",
			Domain: "0.5 to 120 mm², plain flexible copper at 50 °C; check the amps it may carry as well",
			Do:     func(a []float64) (float64, error) { return WireForDrop(a[0], a[1], a[2]) },
		},
		{
			Name: "longest_run", Area: "wire", Title: "Longest run one way for a drop",
			Params: []formula.Param{
				in("amps", "A", falls, "current in the wire"), in("size", "mm2", grows, "copper area"),
				in("volts", "V", grows, "drop allowed, there and back"), usually(in("temp", "degC", falls, "temperature of the wire"), "50 C"),
			},
			Result: unit("m"), Act: falls, Text: "l = U/(2·I·r)", Source: iec,
			Domain: "plain flexible copper, 0.05 to 1000 mm²",
			Do:     func(a []float64) (float64, error) { return LongestRun(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "drop_pct", Area: "wire", Title: "Drop in per cent of the source",
			Params: []formula.Param{in("drop", "V", grows, "drop on the way"), in("volts", "V", falls, "volts at the source")},
			Result: unit("%"), Act: grows, Text: "100·U/V", Source: "textbook", Domain: "no more than the source has",
			Do: func(a []float64) (float64, error) { return DropPct(a[0], a[1]) },
		},
		{
			Name: "tinned_ohm", Area: "wire", Title: "Resistance of one tinned wire, one way",
			Params: []formula.Param{run, size, temp}, Result: unit("ohm"),
			Text:   "R = l·r20·(1 + 0.00393·(T - 20))",
			Source: "IEC 60228 class 5 tinned; 0.0203 Ω·mm²/m off the table [standard, derived]",
			Domain: "tinned flexible copper, 0.05 to 1000 mm²", Act: grows,
			Do: func(a []float64) (float64, error) { return TinnedOhm(a[0], a[1], a[2]) },
		},
		{
			Name: "tinned_drop", Area: "wire", Title: "Drop over a round trip of tinned wire",
			Params: []formula.Param{amps, run, size, temp}, Result: unit("V"),
			Text:   "U = 2·I·l·r20·(1 + 0.00393·(T - 20))",
			Source: "IEC 60228 class 5 tinned; 0.0203 Ω·mm²/m off the table [standard, derived]",
			Domain: "tinned flexible copper: array cables, boats", Act: grows,
			Do: func(a []float64) (float64, error) { return TinnedDrop(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "awg_mm2", Area: "wire", Title: "Area of a gauge number",
			Params: []formula.Param{in("gauge", "1", falls, "gauge number; 1/0 is 0, 4/0 is -3")},
			Result: unit("mm2"), Act: falls, Text: "A = π/4·(0.127·92^((36-n)/39))²", Source: "ASTM B258 [standard]",
			Domain: "4/0 (-3) to 24, solid; vehicle gauges are 3-11 % smaller",
			Do:     func(a []float64) (float64, error) { return AWGSize(a[0]) },
		},
	}
}
