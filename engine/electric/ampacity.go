package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// Lay is how a wire lies where it is hottest.
type Lay int

// The lays, in the order of the words in Lays.
const (
	Free Lay = iota
	Bundled
	InInsulation
	EngineSpace
	Coiled
)

var lays = []string{"free", "bundled", "in-insulation", "engine-space", "coiled"}

// Lays lists the words for Lay in order.
func Lays() []string { return append([]string(nil), lays...) }

// The marks on the insulation for which there is a column, °C.
var marks = []float64{60, 70, 90, 105}

// Continuous amps at 30 °C of one flexible copper wire by size and mark: the
// craft table of ISO 10133 / ISO 13297 (from memory; its 105 °C column lies 1 to
// 16 % below 33 CFR 183.425 scaled by area, so it is the safer of the two).
var allowRows = []struct {
	size float64
	amps [4]float64
}{
	{0.75, [4]float64{6, 10, 12, 16}},
	{1, [4]float64{8, 14, 18, 20}},
	{1.5, [4]float64{12, 18, 21, 25}},
	{2.5, [4]float64{17, 25, 30, 35}},
	{4, [4]float64{22, 35, 40, 45}},
	{6, [4]float64{29, 45, 50, 60}},
	{10, [4]float64{40, 65, 70, 90}},
	{16, [4]float64{54, 90, 100, 130}},
	{25, [4]float64{71, 120, 140, 170}},
	{35, [4]float64{87, 160, 185, 210}},
	{50, [4]float64{105, 210, 230, 270}},
	{70, [4]float64{135, 265, 285, 330}},
	{95, [4]float64{165, 310, 330, 390}},
	{120, [4]float64{190, 360, 400, 450}},
}

// column finds the column of a mark: the next lower one that the table has.
func column(fn string, rated float64) (int, error) {
	if err := span(fn, "an insulation mark", rated, 60, 250, "°C"); err != nil {
		return 0, err
	}
	c := 0
	for i, m := range marks {
		if rated >= m {
			c = i
		}
	}
	return c, nil
}

// WireTableAmps is what one wire of size mm² with insulation marked rated °C
// carries for ever in free air of 30 °C, in amps. A size or mark between two of
// the table counts as the lower one. Errors: size outside 0.75-1000, mark under 60.
func WireTableAmps(size, rated float64) (float64, error) {
	return tableAmps("wire_table_amps", size, rated)
}

func tableAmps(fn string, size, rated float64) (float64, error) {
	c, err := column(fn, rated)
	if err != nil {
		return 0, err
	}
	if err := span(fn, "a wire", size, 0.75, 1000, "mm²"); err != nil {
		return 0, err
	}
	a := 0.0
	for _, row := range allowRows {
		if size >= row.size {
			a = row.amps[c]
		}
	}
	return a, nil
}

// WireTempFactor is the factor on table amps for surroundings of ambient °C:
// sqrt((Tc - Ta)/(Tc - 30)) for insulation rated Tc. It equals the factors of
// NEC 310.15(B)(1) and IEC 60364-5-52 within 0.01.
// Errors: ambient not below the mark; mark outside 60-250.
func WireTempFactor(ambient, rated float64) (float64, error) {
	return tempFactor("wire_temp_factor", ambient, rated)
}

func tempFactor(fn string, ambient, rated float64) (float64, error) {
	if err := first(span(fn, "an insulation mark", rated, 60, 250, "°C"), span(fn, "surroundings", ambient, -40, 200, "°C")); err != nil {
		return 0, err
	}
	if ambient >= rated {
		return 0, formula.Outside(fn, fmt.Sprintf("surroundings of %.4g °C leave nothing for wire marked %.4g °C", ambient, rated))
	}
	return math.Sqrt((rated - ambient) / (rated - 30)), nil
}

// BundleFactor is the factor on table amps for count current-carrying wires
// bundled together: the boat rule of 33 CFR 183.425, stricter than the building
// rules; two wires 0.80 by IEC 60364-5-52 (from memory).
func BundleFactor(count float64) (float64, error) { return bundle("bundle_factor", count) }

func bundle(fn string, count float64) (float64, error) {
	if err := span(fn, "a bundle", count, 1, 1000, "wires"); err != nil {
		return 0, err
	}
	switch {
	case count < 2:
		return 1, nil
	case count < 3:
		return 0.80, nil
	case count < 4:
		return 0.70, nil
	case count < 7:
		return 0.60, nil
	case count < 25:
		return 0.50, nil
	}
	return 0.40, nil
}

// CoilFactor is the factor on table amps for a cable left on its drum in layers
// (BS 4F tables' note).
func CoilFactor(layers float64) (float64, error) { return coil("coil_factor", layers) }

func coil(fn string, layers float64) (float64, error) {
	if err := span(fn, "a coil", layers, 1, 100, "layers"); err != nil {
		return 0, err
	}
	switch {
	case layers < 2:
		return 0.85, nil
	case layers < 3:
		return 0.65, nil
	case layers < 4:
		return 0.45, nil
	}
	return 0.35, nil
}

// WireAllow is the continuous amps that a wire of size mm² may carry where it is
// hottest: table·ambient·lay. rated is the mark on its insulation (70 if there
// is none), ambient the air around it; below 30 °C it counts as 30, as a wire
// laid in the cold will see summer. count is the number of loaded wires in the
// bundle, or of layers on the drum; the other lays do not look at it. In an
// engine space the air counts as at least 50 °C; more than 0.5 m in thermal
// insulation halves (BS 7671 table 52.2).
// Errors: as WireTableAmps and WireTempFactor.
func WireAllow(size, rated, ambient float64, lay Lay, count float64) (float64, error) {
	return wireAllow("wire_allow", size, rated, ambient, lay, count)
}

func wireAllow(fn string, size, rated, ambient float64, lay Lay, count float64) (float64, error) {
	if err := chosen(fn, "lay", int(lay), len(lays)); err != nil {
		return 0, err
	}
	table, err := tableAmps(fn, size, rated)
	if err != nil {
		return 0, err
	}
	if err := first(span(fn, "surroundings", ambient, -40, 200, "°C"), span(fn, "a count", count, 1, 1000, "")); err != nil {
		return 0, err
	}
	k := 1.0
	switch lay {
	case Bundled:
		k, err = bundle(fn, count)
	case Coiled:
		k, err = coil(fn, min(count, 100))
	case InInsulation:
		k = 0.5
	case EngineSpace:
		ambient = max(ambient, 50)
	}
	if err != nil {
		return 0, err
	}
	// The factor is worked with the column's own temperature, not with a higher
	// mark whose table amps are not used.
	c, err := column(fn, rated)
	if err != nil {
		return 0, err
	}
	f, err := tempFactor(fn, max(ambient, 30), marks[c])
	return table * f * k, err
}

// WireForAmps is the smallest standard size in mm² whose WireAllow is at least
// amps. Error: no single standard size is enough.
func WireForAmps(amps, rated, ambient float64, lay Lay, count float64) (float64, error) {
	const fn = "wire_for_amps"
	if err := notNegative(fn, "a current", amps, "A"); err != nil {
		return 0, err
	}
	for _, row := range allowRows {
		a, err := wireAllow(fn, row.size, rated, ambient, lay, count)
		if err != nil {
			return 0, err
		}
		if a >= amps {
			return row.size, nil
		}
	}
	return 0, formula.Outside(fn, fmt.Sprintf("%.4g A is more than one wire of 120 mm² may carry there: share it between equal wires, each with its fuse, or raise the system voltage", amps))
}

// LugAllow is the continuous amps of a 105 °C wire of size mm² that its lugs and
// devices stand when they are marked 75 °C or not at all: table·sqrt((75-Ta)/75)
// (NEC 110.14(C)). The wire's own table alone is not taken: the lug, holder and
// breaker cook before the wire does.
func LugAllow(size, ambient float64) (float64, error) {
	const fn = "lug_allow"
	t, err := tableAmps(fn, size, 105)
	if err != nil {
		return 0, err
	}
	if err := span(fn, "surroundings", ambient, -40, 74, "°C"); err != nil {
		return 0, err
	}
	return t * math.Sqrt((75-max(ambient, 30))/75), nil
}

// WireTemp is the temperature in °C of a wire at amps when its table allows
// allow amps at 30 °C with insulation rated °C: Ta + (rated - 30)·(I/allow)².
func WireTemp(amps, allow, ambient, rated float64) (float64, error) {
	const fn = "wire_temp"
	if err := first(
		notNegative(fn, "a current", amps, "A"), positive(fn, "the table current", allow, "A"),
		span(fn, "an insulation mark", rated, 60, 250, "°C"), span(fn, "surroundings", ambient, -60, 200, "°C"),
	); err != nil {
		return 0, err
	}
	return ambient + (rated-30)*amps/allow*amps/allow, nil
}

func allowTable() []*formula.Func {
	const iso = "ISO 10133 / ISO 13297 craft table [standard, from memory]"
	rated := usually(in("rated", "degC", grows, "temperature marked on the insulation; 70 if not marked"), "70 C")
	ambient := in("ambient", "degC", falls, "air around it at its hottest")
	lay := oneOf("lay", "how it lies where it is hottest", lays)
	count := in("count", "1", falls, "loaded wires in the bundle, or layers on the drum")
	return []*formula.Func{
		{
			Name: "wire_allow", Area: "wire", Title: "Amps that a wire may carry",
			Params: []formula.Param{in("size", "mm2", grows, "copper area"), rated, ambient, lay, count},
			Result: unit("A"), Act: falls, Text: "I = table·sqrt((Tc - Ta)/(Tc - 30))·k",
			Source: iso + "; 33 CFR 183.425 bundles; BS 7671 52.2 insulation",
			Domain: "flexible copper of 0.75 mm² and up; a size or mark between two counts as the lower; cold air counts as 30 °C; an engine space as at least 50 °C",
			Do: func(a []float64) (float64, error) {
				return WireAllow(a[0], a[1], a[2], Lay(a[3]), a[4])
			},
		},
		{
			Name: "wire_for_amps", Area: "wire", Title: "Smallest standard wire for a current",
			Params: []formula.Param{
				in("amps", "A", grows, "current it must carry for ever, or the fuse before it"),
				usually(in("rated", "degC", falls, "temperature marked on the insulation; 70 if not marked"), "70 C"),
				in("ambient", "degC", grows, "air around it at its hottest"), lay,
				in("count", "1", grows, "loaded wires in the bundle, or layers on the drum"),
			},
			Result: unit("mm2"), Standard: true, Act: grows, Text: "smallest standard A with wire_allow(A) >= I",
			Source: iso, Domain: "0.75 to 120 mm²; check the drop as well",
			Do: func(a []float64) (float64, error) {
				return WireForAmps(a[0], a[1], a[2], Lay(a[3]), a[4])
			},
		},
		{
			Name: "wire_table_amps", Area: "wire", Title: "Table amps of a wire in free air of 30 °C",
			Params: []formula.Param{in("size", "mm2", grows, "copper area"), rated},
			Result: unit("A"), Act: falls, Text: "table", Source: iso,
			Domain: "0.75 mm² and up, marks from 60 °C; between two counts as the lower",
			Do:     func(a []float64) (float64, error) { return WireTableAmps(a[0], a[1]) },
		},
		{
			Name: "wire_temp_factor", Area: "wire", Title: "Factor for warm surroundings",
			Params: []formula.Param{ambient, in("rated", "degC", mixed, "temperature marked on the insulation")},
			Result: unit("1"), Act: falls, Text: "k = sqrt((Tc - Ta)/(Tc - 30))",
			Source: "textbook; equals NEC 310.15(B)(1) and IEC 60364-5-52 within 0.01",
			Domain: "surroundings below the mark",
			Do:     func(a []float64) (float64, error) { return WireTempFactor(a[0], a[1]) },
		},
		{
			Name: "bundle_factor", Area: "wire", Title: "Factor for a bundle",
			Params: []formula.Param{in("count", "1", falls, "loaded wires in the bundle")},
			Result: unit("1"), Act: falls, Text: "1: 1, 2: 0.80, 3: 0.70, 4-6: 0.60, 7-24: 0.50, 25 and up: 0.40",
			Source: "33 CFR 183.425 [standard]; two wires IEC 60364-5-52 [from memory]", Domain: "1 to 1000 wires",
			Do: func(a []float64) (float64, error) { return BundleFactor(a[0]) },
		},
		{
			Name: "coil_factor", Area: "wire", Title: "Factor for a cable left on its drum",
			Params: []formula.Param{in("layers", "1", falls, "layers on the drum")},
			Result: unit("1"), Act: falls, Text: "1: 0.85, 2: 0.65, 3: 0.45, 4 and up: 0.35",
			Source: "BS 7671 flexible cable tables, note [standard]", Domain: "1 to 100 layers",
			Do: func(a []float64) (float64, error) { return CoilFactor(a[0]) },
		},
		{
			Name: "lug_allow", Area: "wire", Title: "Amps that unmarked lugs allow on 105 °C wire",
			Params: []formula.Param{in("size", "mm2", grows, "copper area"), ambient},
			Result: unit("A"), Act: falls, Text: "I = I105·sqrt((75 - Ta)/75)",
			Source: "NEC 110.14(C) [standard], derived", Domain: "lugs and devices marked 75 °C or not marked; below 74 °C",
			Do: func(a []float64) (float64, error) { return LugAllow(a[0], a[1]) },
		},
		{
			Name: "wire_temp", Area: "wire", Title: "Temperature of a loaded wire",
			Params: []formula.Param{
				in("amps", "A", grows, "current in the wire"), in("allow", "A", falls, "table amps of this wire at 30 °C"),
				in("ambient", "degC", grows, "air around it"), in("rated", "degC", grows, "temperature marked on the insulation"),
			},
			Result: unit("degC"), Act: grows, Text: "T = Ta + (Tc - 30)·(I/Itable)²", Source: "derived",
			Domain: "settled, after 3 time constants",
			Do:     func(a []float64) (float64, error) { return WireTemp(a[0], a[1], a[2], a[3]) },
		},
	}
}
