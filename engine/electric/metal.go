package electric

import (
	"math"

	"hotlug/engine/formula"
)

// Metal is what a wire is made of.
type Metal int

// The metals, in the order of the words in the table. CCA is aluminium clad with
// 10 or 15 % of copper by volume, sold as copper by careless shops.
const (
	Copper Metal = iota
	Tinned
	Aluminium
	CCA10
	CCA15
)

var metals = []string{"copper", "tinned", "aluminium", "cca-10", "cca-15"}

// Aluminium class 2 wire, Ω/km at 20 °C, IEC 60228.
var (
	aluSizes = []float64{10, 16, 25, 35, 50, 70, 95, 120}
	aluOhm   = []float64{3.08, 1.91, 1.20, 0.868, 0.641, 0.443, 0.320, 0.253}
)

const (
	aluRho  = 0.0308  // Ω·mm²/m at 20 °C off the table: what 10 mm² of it has
	aluRise = 0.00403 // per K, IEC 60889
	ccaRise = 0.0040
)

// Resistance of clad aluminium over copper of the same area, from the two metals
// side by side.
var ccaTimes = map[Metal]float64{CCA10: 1.54, CCA15: 1.50}

// MetalOhm is the resistance in ohms of one wire of run metres, size mm² and a
// metal at temp °C: copper and tinned as WireOhm and TinnedOhm, aluminium by IEC
// 60228 class 2, clad aluminium 1.54 or 1.50 times plain copper.
// Errors: as WireOhm.
func MetalOhm(run, size, temp float64, metal Metal) (float64, error) {
	return metalOhm("metal_ohm", run, size, temp, metal)
}

func metalOhm(fn string, run, size, temp float64, metal Metal) (float64, error) {
	if err := chosen(fn, "metal", int(metal), len(metals)); err != nil {
		return 0, err
	}
	if metal == Tinned {
		return wireOhm(fn, run, size, temp, tinnedRho, tinnedOhm)
	}
	r, err := wireOhm(fn, run, size, 20, plainRho, plainOhm)
	if err = first(err, span(fn, "a wire temperature", temp, -60, 250, "°C")); err != nil {
		return 0, err
	}
	switch metal {
	case Aluminium:
		return run * aluOhmPerMetre(size) * (1 + aluRise*(temp-20)), nil
	case CCA10, CCA15:
		return r * ccaTimes[metal] * (1 + ccaRise*(temp-20)), nil
	}
	return r * (1 + copperRise*(temp-20)), nil
}

// aluOhmPerMetre is ohmPerMetre for aluminium, whose table starts at 10 mm².
func aluOhmPerMetre(size float64) float64 {
	r := aluRho / size
	for i, s := range aluSizes {
		t := aluOhm[i] / 1000
		switch {
		case math.Abs(s-size) <= 1e-9*s:
			return t
		case s < size:
			r = min(r, t)
		default:
			r = max(r, t)
		}
	}
	return r
}

// MetalDrop is the drop in volts of amps over the round trip of a run.
func MetalDrop(amps, run, size, temp float64, metal Metal) (float64, error) {
	const fn = "metal_drop"
	r, err := metalOhm(fn, run, size, temp, metal)
	return 2 * amps * r, first(err, notNegative(fn, "a current", amps, "A"))
}

// MetalFactor is the factor on the table amps of copper for a wire of the same
// area of a metal: the same heat, so sqrt(R_copper/R). Its terminals must be made
// for the metal.
func MetalFactor(metal Metal) (float64, error) {
	if err := chosen("metal_factor", "metal", int(metal), len(metals)); err != nil {
		return 0, err
	}
	switch metal {
	case Tinned:
		return math.Sqrt(plainRho / tinnedRho), nil
	case Aluminium:
		return math.Sqrt(17.241 / 28.264), nil
	case CCA10, CCA15:
		return math.Sqrt(1 / ccaTimes[metal]), nil
	}
	return 1, nil
}

// Ways in which a metric wire of a building or a cord is laid.
var metricWays = []string{"pvc-clipped", "pvc-spaced", "xlpe-clipped", "xlpe-touching", "rubber-60", "rubber-90"}

// Amps at 30 °C by size and way: BS 7671 4D1A C, IEC B.52.10 G, 4E1A C, 4E1A F,
// 4F1A (cords 4F3A), 4F2A; zero where the table has none.
var metricRows = []struct {
	size float64
	amps [6]float64
}{
	{1, [6]float64{15.5, 0, 19, 0, 10, 0}},
	{1.5, [6]float64{20, 0, 25, 0, 16, 0}},
	{2.5, [6]float64{27, 0, 34, 0, 25, 0}},
	{4, [6]float64{37, 0, 46, 0, 30, 42}},
	{6, [6]float64{47, 0, 59, 0, 39, 55}},
	{10, [6]float64{65, 0, 81, 0, 51, 76}},
	{16, [6]float64{87, 0, 109, 0, 73, 103}},
	{25, [6]float64{114, 146, 143, 161, 97, 136}},
	{35, [6]float64{141, 181, 176, 200, 140, 200}},
	{50, [6]float64{182, 219, 228, 242, 175, 250}},
	{70, [6]float64{234, 281, 293, 310, 216, 310}},
	{95, [6]float64{284, 341, 355, 377, 258, 369}},
	{120, [6]float64{330, 396, 413, 437, 302, 432}},
}

// BuildingAmps is what a pair of metric copper wires carries at 30 °C laid in a
// way of the list, in amps. A size between two counts as the lower. For vehicles,
// huts and boats wire_allow has the stricter craft table.
// Errors: a size for which the way has no figure.
func BuildingAmps(size float64, way int) (float64, error) {
	const fn = "building_amps"
	if err := first(span(fn, "a wire", size, 1, 1000, "mm²"), chosen(fn, "way", way, len(metricWays))); err != nil {
		return 0, err
	}
	a := 0.0
	for _, r := range metricRows {
		if size >= r.size-1e-9 {
			a = r.amps[way]
		}
	}
	if a <= 0 {
		return 0, formula.Outside(fn, "the table has no figure for so thin a wire laid "+metricWays[way])
	}
	return a, nil
}

// InsulationFactor is the factor for a cable that runs through metres of thermal
// insulation: BS 7671 table 52.2, .88 .78 .63 .51 at 50 100 200 400 mm, 0.5 from
// half a metre; straight lines between. Older copies of the table print .89 .81
// .68 .55, which are superseded.
func InsulationFactor(metres float64) (float64, error) {
	if err := span("insulation_factor", "a run through insulation", metres, 0, 1000, "m"); err != nil {
		return 0, err
	}
	return along([]float64{0, 0.05, 0.1, 0.2, 0.4, 0.5, 1000}, []float64{1, 0.88, 0.78, 0.63, 0.51, 0.5, 0.5}, metres), nil
}

var bars = []string{"3x13", "3x19", "3x25", "6x13", "6x25", "6x38", "6x51"}
var barAmps = []float64{154, 215, 275, 238, 409, 572, 731}
var barMetals = []string{"copper", "brass"}

// BarAmps is what a bare bar carries in free air, in amps: the telecom table for
// copper (3.2 and 6.35 mm thick), 0.53 of it for brass; in a closed box 0.7 of either.
func BarAmps(bar, metal int) (float64, error) {
	const fn = "bar_amps"
	if err := first(chosen(fn, "bar", bar, len(bars)), chosen(fn, "metal", metal, len(barMetals))); err != nil {
		return 0, err
	}
	if metal == 1 {
		return 0.53 * barAmps[bar], nil
	}
	return barAmps[bar], nil
}

// WireReplace is the size in mm² that a cable must have so that its path stays
// within allowed volts, when now the cable drops cable volts and everything else
// others: A·V_cable/(V_allowed - V_else). First renew every part that drops more
// than twice what it should; a thicker cable does not cure a joint.
// Errors: the other parts alone use up what is allowed, so no cable helps.
func WireReplace(size, cable, allowed, others float64) (float64, error) {
	const fn = "wire_replace"
	if err := first(span(fn, "a wire", size, 0.05, 1000, "mm²"), notNegative(fn, "the drop of the cable", cable, "V"), positive(fn, "the drop allowed", allowed, "V"), notNegative(fn, "the drop of the rest", others, "V")); err != nil {
		return 0, err
	}
	if others >= allowed {
		return 0, formula.Outside(fn, "joints, fuse and switches alone use up what is allowed: no cable helps, renew the worst of them")
	}
	return size * cable / (allowed - others), nil
}

func metalTable() []*formula.Func {
	const iec = "IEC 60228 class 5 copper, class 2 aluminium [standard]; clad aluminium derived"
	run, size := in("run", "m", grows, "length one way"), in("size", "mm2", falls, "area")
	temp := usually(in("temp", "degC", grows, "temperature of the wire"), "50 C")
	metal := oneOf("metal", "what the wire is made of", metals)
	return []*formula.Func{
		{
			Name: "metal_ohm", Area: "wire", Title: "Resistance of one wire of any metal, one way",
			Params: []formula.Param{run, size, temp, metal}, Result: unit("ohm"), Act: grows, Text: "R = l·r20·(1 + a·(T - 20))", Source: iec,
			Domain: "0.05 to 1000 mm², -60 to 250 °C", Example: "run=3m size=16mm2 metal=cca-10",
			Do: func(a []float64) (float64, error) { return MetalOhm(a[0], a[1], a[2], Metal(a[3])) },
		},
		{
			Name: "metal_drop", Area: "wire", Title: "Drop over a round trip of wire of any metal",
			Params: []formula.Param{in("amps", "A", grows, "current in the wire"), run, size, temp, metal}, Result: unit("V"), Act: grows,
			Text: "U = 2·I·l·r20·(1 + a·(T - 20))", Source: iec, Domain: "plus and minus of one size; joints and fuses not included",
			Example: "amps=60A run=3m size=25mm2 metal=aluminium",
			Do:      func(a []float64) (float64, error) { return MetalDrop(a[0], a[1], a[2], a[3], Metal(a[4])) },
		},
		{
			Name: "metal_factor", Area: "wire", Title: "Table amps of another metal over copper",
			Params: []formula.Param{metal}, Result: unit("1"), Act: falls, Text: "sqrt(R_copper/R)", Source: "derived: the same heat",
			Domain: "the same area; terminals made for the metal", Example: "metal=cca-15",
			Do: func(a []float64) (float64, error) { return MetalFactor(Metal(a[0])) },
		},
		{
			Name: "building_amps", Area: "wire", Title: "Amps of metric copper in a building or a cord",
			Params: []formula.Param{in("size", "mm2", grows, "copper area"), oneOf("way", "insulation and how it is laid", metricWays)}, Result: unit("A"), Act: falls,
			Text: "table", Source: "BS 7671 4D1A C, 4E1A C and F, 4F1A, 4F2A, 4F3A; IEC 60364-5-52 B.52.10 G [standard]",
			Domain: "1 mm² and up, two loaded wires, 30 °C", Example: "size=6mm2 way=rubber-90",
			Do: func(a []float64) (float64, error) { return BuildingAmps(a[0], int(a[1])) },
		},
		{
			Name: "insulation_factor", Area: "wire", Title: "Factor for a cable through thermal insulation",
			Params: []formula.Param{in("metres", "m", falls, "length inside the insulation")}, Result: unit("1"), Act: falls,
			Text: "50 mm: 0.88, 100: 0.78, 200: 0.63, 400: 0.51, from 500: 0.50", Source: "BS 7671 table 52.2 [standard]", Domain: "surrounded on all sides",
			Example: "metres=0.2m", Do: of1(InsulationFactor),
		},
		{
			Name: "bar_amps", Area: "wire", Title: "Amps of a bare bar",
			Params: []formula.Param{oneOf("bar", "thickness and width, mm", bars), oneOf("metal", "copper or brass", barMetals)}, Result: unit("A"), Act: falls,
			Text: "table; brass 0.53 of copper", Source: "telecom bar table, typical data; brass derived", Domain: "free air; in a closed box 0.7 of it",
			Example: "bar=6x25 metal=copper", Do: func(a []float64) (float64, error) { return BarAmps(int(a[0]), int(a[1])) },
		},
		{
			Name: "wire_replace", Area: "wire", Title: "Size that a cable needs beside its joints",
			Params: []formula.Param{in("size", "mm2", grows, "area now"), in("cable", "V", grows, "drop of the cable alone"), in("allowed", "V", falls, "drop allowed in all"), in("others", "V", grows, "drop of joints, fuse, switches")},
			Result: unit("mm2"), Act: grows, Text: "A·V_cable/(V_allowed - V_else)", Source: "derived", Domain: "after every part above twice its drop is renewed",
			Example: "size=50mm2 cable=0.163V allowed=0.36V others=0.12V", Do: of4(WireReplace),
		},
	}
}
