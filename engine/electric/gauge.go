package electric

import (
	"math"

	"hotlug/engine/formula"
)

// Gauge numbers that the published tables list, thin to thick: 18 to 1, then 1/0
// to 4/0 as 0 to -3. A number between two of them counts as the thinner.
var gauges = []float64{18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3}

// WireMake is how a gauge wire is made.
type WireMake int

// Solid wire has the published resistance; strands are longer than their wire.
const (
	SolidWire WireMake = iota
	StrandedWire
)

var wireMakes = []string{"solid", "stranded"}

const (
	copperRho = 1.0 / 58 // Ω·mm²/m at 20 °C, annealed copper, IEC 60028
	strandUp  = 1.06     // stranded or tinned gauge wire is 2 to 6 % worse (from memory); the worst counts
)

// AWGOhm is the resistance in ohms of one wire of run metres and a gauge number
// at temp °C. Solid wire by ASTM B258 and IEC 60028, which gives the published
// Ω/1000 ft to the digits shown; stranded 6 % more. It is not the 0.0195 of
// metric flexible wire, whose strands may be up to 13 % under their nominal area.
// Errors: gauge outside -3 to 24; temp outside -60 to 250.
func AWGOhm(run, gauge, temp float64, make WireMake) (float64, error) {
	return awgOhm("awg_ohm", run, gauge, temp, make)
}

func awgOhm(fn string, run, gauge, temp float64, make WireMake) (float64, error) {
	if err := first(
		notNegative(fn, "a run", run, "m"), span(fn, "a gauge number", gauge, -3, 24, ""),
		span(fn, "a wire temperature", temp, -60, 250, "°C"), chosen(fn, "make", int(make), len(wireMakes)),
	); err != nil {
		return 0, err
	}
	area, err := AWGSize(gauge)
	r := run * copperRho / area * (1 + copperRise*(temp-20))
	if make == StrandedWire {
		r *= strandUp
	}
	return r, err
}

// AWGDrop is the drop in volts of amps over the round trip of a run of gauge wire.
func AWGDrop(amps, run, gauge, temp float64, make WireMake) (float64, error) {
	const fn = "awg_drop"
	r, err := awgOhm(fn, run, gauge, temp, make)
	return 2 * amps * r, first(err, notNegative(fn, "a current", amps, "A"))
}

// Vehicle gauge (SAE) areas in circular mils; 3 to 11 % under the same number of
// ASTM B258.
var (
	saeGauge = []float64{16, 14, 12, 10, 8, 6, 4, 2, 0, -1, -3}
	saeCmil  = []float64{2336, 3702, 5833, 9343, 14810, 24538, 37360, 62450, 98980, 125100, 205500}
)

// SAESize is the area in mm² of a vehicle gauge number. A number between two of
// the list counts as the thinner. Errors: gauge outside -3 to 16.
func SAESize(gauge float64) (float64, error) {
	const fn = "sae_mm2"
	if err := span(fn, "a vehicle gauge number", gauge, -3, 16, ""); err != nil {
		return 0, err
	}
	return math.Pi / 4 * 0.0254 * 0.0254 * thinner(saeGauge, saeCmil, gauge), nil
}

// thinner reads a list by falling gauge numbers: the last entry that is not
// thicker than gauge.
func thinner(numbers, values []float64, gauge float64) float64 {
	y := values[0]
	for i, n := range numbers {
		if n >= gauge-1e-9 {
			y = values[i]
		}
	}
	return y
}

// Amps of one gauge wire in free air of 30 °C by insulation mark, 33 CFR 183.425
// table 5.
var (
	boatMarks = []float64{60, 75, 80, 90, 105, 125, 200}
	boatAmps  = [][]float64{
		{10, 15, 20, 25, 40, 55, 80, 105, 120, 140, 165, 195, 225, 260, 300},
		{10, 15, 20, 25, 40, 65, 95, 125, 145, 170, 195, 230, 265, 310, 360},
		{15, 20, 25, 35, 50, 70, 100, 130, 150, 175, 210, 245, 285, 330, 385},
		{20, 25, 30, 40, 55, 70, 100, 135, 155, 180, 210, 245, 285, 330, 385},
		{20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445},
		{25, 30, 40, 50, 70, 90, 125, 170, 195, 225, 265, 305, 355, 410, 475},
		{25, 35, 45, 55, 70, 100, 135, 180, 210, 240, 280, 325, 370, 430, 510},
	}
	boatEngine = []float64{0.58, 0.75, 0.78, 0.82, 0.86, 0.89, 1.00} // printed in the table's note (from memory)
)

// lowerColumn is the column of the highest mark that is not above rated.
func lowerColumn(marks []float64, rated float64) int {
	c := 0
	for i, m := range marks {
		if rated >= m-1e-9 {
			c = i
		}
	}
	return c
}

func gaugeChecks(fn string, gauge, rated float64) error {
	return first(span(fn, "a gauge number", gauge, -3, 18, ""), span(fn, "an insulation mark", rated, 60, 250, "°C"))
}

// AWGTableAmps is what one gauge wire with insulation marked rated °C carries for
// ever in free air of 30 °C, in amps: 33 CFR 183.425 table 5. A mark between two
// of the table counts as the lower. Errors: gauge outside -3 to 18; mark under 60.
func AWGTableAmps(gauge, rated float64) (float64, error) {
	const fn = "awg_table_amps"
	if err := gaugeChecks(fn, gauge, rated); err != nil {
		return 0, err
	}
	return thinner(gauges, boatAmps[lowerColumn(boatMarks, rated)], gauge), nil
}

// AWGAllow is the continuous amps that a gauge wire may carry where it is
// hottest: table·ambient·lay, as WireAllow does for metric wire. An engine space
// counts as at least 50 °C; the factors printed in the table's note (EngineFactor)
// lie up to 0.06 higher at 80 and 200 °C, and the lower is taken.
// Errors: as AWGTableAmps; surroundings not below the mark.
func AWGAllow(gauge, rated, ambient float64, lay Lay, count float64) (float64, error) {
	const fn = "awg_allow"
	if err := first(gaugeChecks(fn, gauge, rated), chosen(fn, "lay", int(lay), len(lays)), span(fn, "surroundings", ambient, -40, 200, "°C"), span(fn, "a count", count, 1, 1000, "")); err != nil {
		return 0, err
	}
	c := lowerColumn(boatMarks, rated)
	k, err := 1.0, error(nil)
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
	warm, err := tempFactor(fn, max(ambient, 30), boatMarks[c])
	return thinner(gauges, boatAmps[c], gauge) * warm * k, err
}

// EngineFactor is the factor for an engine space of 50 °C as printed in the note
// to 33 CFR 183.425 table 5 (from memory). At 80 and 200 °C it is more than the
// sqrt((Tc - 50)/(Tc - 30)) that AWGAllow takes.
func EngineFactor(rated float64) (float64, error) {
	if err := span("engine_factor", "an insulation mark", rated, 60, 250, "°C"); err != nil {
		return 0, err
	}
	return boatEngine[lowerColumn(boatMarks, rated)], nil
}

// Amps of copper in buildings by gauge: NEC 310.16 (three in a raceway or cable)
// and 310.17 (one in free air), columns 60, 75, 90 °C; editions of 2011 and later
// (older ones print 110 and 150 A for 3 and 1 AWG at 90 °C, 20 and 25 A for 14
// and 12 at 60 °C). 310.17 but for its 90 °C column and the 75 °C of 4 AWG is
// from memory. 18 and 16 AWG have a 90 °C column only.
var (
	necMarks = []float64{60, 75, 90}
	necAmps  = [2][3][]float64{
		{
			{0, 0, 15, 20, 30, 40, 55, 70, 85, 95, 110, 125, 145, 165, 195},
			{0, 0, 20, 25, 35, 50, 65, 85, 100, 115, 130, 150, 175, 200, 230},
			{14, 18, 25, 30, 40, 55, 75, 95, 115, 130, 145, 170, 195, 225, 260},
		},
		{
			{0, 0, 25, 30, 40, 60, 80, 105, 120, 140, 165, 195, 225, 260, 300},
			{0, 0, 30, 35, 50, 70, 95, 125, 145, 170, 195, 230, 265, 310, 360},
			{18, 24, 35, 40, 55, 80, 105, 140, 165, 190, 220, 260, 300, 350, 405},
		},
	}
	necLays = []string{"raceway", "free-air"}
)

// NECAmps is what copper of a gauge carries at 30 °C by NEC 310.16 (lay 0, three
// in a raceway) or 310.17 (lay 1, one in free air), in amps. Marks above 90 °C
// count as 90. Errors: 18 and 16 AWG under 90 °C, which have no figure.
func NECAmps(gauge, rated float64, lay int) (float64, error) {
	return necTable("nec_amps", gauge, rated, lay)
}

func necTable(fn string, gauge, rated float64, lay int) (float64, error) {
	if err := first(gaugeChecks(fn, gauge, rated), chosen(fn, "lay", lay, 2)); err != nil {
		return 0, err
	}
	a := thinner(gauges, necAmps[lay][lowerColumn(necMarks, rated)], gauge)
	if a < 1 {
		return 0, formula.Outside(fn, "the table has no figure for gauges thinner than 14 below 90 °C: take awg_table_amps")
	}
	return a, nil
}

// NECLugAmps is what lugs and devices without a mark allow on copper of a gauge:
// the 60 °C column up to 1 AWG (100 A), the 75 °C column above, NEC 110.14(C) in
// part from memory. Errors: thinner than 14 AWG.
func NECLugAmps(gauge float64) (float64, error) {
	rated := 60.0
	if gauge < 1-1e-9 {
		rated = 75
	}
	const fn = "nec_lug_amps"
	if err := span(fn, "a gauge number", gauge, -3, 14, ""); err != nil {
		return 0, err
	}
	return necTable(fn, gauge, rated, 0)
}

// NECFuseCap is the largest fuse or breaker in amps on thin copper of a gauge,
// NEC 240.4(D). Errors: anything but 10 to 14 AWG.
func NECFuseCap(gauge float64) (float64, error) {
	if err := span("nec_fuse_cap", "a gauge number", gauge, 10, 14, ""); err != nil {
		return 0, err
	}
	return thinner([]float64{14, 12, 10}, []float64{15, 20, 30}, gauge), nil
}

// NECTempFactor is the factor for warm surroundings as NEC 310.15(B)(1) prints
// it, by steps of 5 K; wire_temp_factor is the same without steps.
// Errors: surroundings outside 26 to 60 °C; a mark that leaves nothing.
func NECTempFactor(ambient, rated float64) (float64, error) {
	const fn = "nec_temp_factor"
	if err := first(span(fn, "surroundings", ambient, 26, 60, "°C"), span(fn, "an insulation mark", rated, 60, 250, "°C")); err != nil {
		return 0, err
	}
	bands := [3][]float64{{1, 0.91, 0.82, 0.71, 0.58, 0.41, 0}, {1, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58}, {1, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71}}
	k := bands[lowerColumn(necMarks, rated)][int(max(0, math.Ceil((ambient-30)/5)))]
	if k <= 0 {
		return 0, formula.Outside(fn, "surroundings above 55 °C leave nothing for wire marked 60 °C")
	}
	return k, nil
}

// NECGroupFactor is the factor for count loaded wires in one raceway, NEC
// 310.15(C)(1). For bundles on boats and vehicles bundle_factor is stricter.
func NECGroupFactor(count float64) (float64, error) {
	const fn = "nec_group_factor"
	return stepped(fn, "loaded wires", count, []float64{1, 4, 7, 10, 21, 31, 41}, []float64{1, 0.80, 0.70, 0.50, 0.45, 0.40, 0.35})
}

// IECGroupFactor is the factor for circuits bunched together, IEC 60364-5-52
// table B.52.17 (from memory); above 12 circuits the 0.45 of 12 would be too
// much, and there is no answer.
func IECGroupFactor(circuits float64) (float64, error) {
	const fn = "iec_group_factor"
	if err := span(fn, "circuits", circuits, 1, 12, ""); err != nil {
		return 0, err
	}
	return stepped(fn, "circuits", math.Ceil(circuits-1e-9), []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []float64{1, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50, 0.45})
}

// stepped reads a list that holds from each number of from up to the next.
func stepped(fn, what string, x float64, from, value []float64) (float64, error) {
	if err := span(fn, what, x, from[0], 1000, ""); err != nil {
		return 0, err
	}
	return value[lowerColumn(from, x)], nil
}

// AWGForDrop is the thinnest gauge number of the table that keeps the round-trip
// drop of amps over run metres within volts, the copper at 50 °C.
// Errors: nothing allowed for the drop; 4/0 is not enough.
func AWGForDrop(amps, run, volts float64, make WireMake) (float64, error) {
	const fn = "awg_for_drop"
	if err := first(positive(fn, "the volts allowed", volts, "V"), notNegative(fn, "a current", amps, "A")); err != nil {
		return 0, err
	}
	for _, g := range gauges {
		r, err := awgOhm(fn, run, g, hotWire, make)
		if err != nil {
			return 0, err
		}
		if 2*amps*r <= volts {
			return g, nil
		}
	}
	return 0, formula.Outside(fn, "4/0 is not enough: shorten the run, use two equal wires side by side, or a higher system voltage")
}

// AWGForAmps is the thinnest gauge number that carries amps where it is hottest,
// as AWGAllow reckons. Errors: 4/0 is not enough; as AWGAllow.
func AWGForAmps(amps, rated, ambient float64, lay Lay, count float64) (float64, error) {
	const fn = "awg_for_amps"
	if err := notNegative(fn, "a current", amps, "A"); err != nil {
		return 0, err
	}
	for _, g := range gauges {
		a, err := AWGAllow(g, rated, ambient, lay, count)
		if err != nil {
			return 0, renamed(fn, err)
		}
		if a >= amps {
			return g, nil
		}
	}
	return 0, formula.Outside(fn, "4/0 is not enough: share it over two equal wires, each with its own fuse")
}
