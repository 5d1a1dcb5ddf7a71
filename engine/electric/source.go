package electric

import (
	"math"

	"hotlug/engine/formula"
)

// Cells of 12 V of lithium come to 4·0.39 mΩ·314/Ah [data]; what the switch, bars
// and posts of a pack add is set so that packs of 100, 200 and 300 Ah have the
// usual 7, 5 and 4 mΩ [practice].
const cellMilliAh = 4 * 0.39 * 314

var (
	packAh   = []float64{100, 200, 300}
	packMore = []float64{7 - cellMilliAh/100, 5 - cellMilliAh/200, 4 - cellMilliAh/300}
)

// SourceOhmNew is the resistance in ohms at the posts of a new, full battery of
// ah amp-hours and system volts at 25 °C, for sag over half a minute. Lithium
// packs by cells and switch (7, 5, 4 mΩ for 100, 200, 300 Ah at 12 V); AGM
// 490/Ah mΩ; gel 1.45 and flooded 1.75 times that (from memory). For breaking
// capacity use ShortOhm.
// Errors: other-lithium; no capacity.
func SourceOhmNew(chem Chemistry, ah, system float64) (float64, error) {
	const fn = "source_ohm_new"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	if err != nil {
		return 0, err
	}
	if err := positive(fn, "the capacity", ah, "Ah"); err != nil {
		return 0, err
	}
	switch chem {
	case LFP:
		more := packMore[0]
		if ah > packAh[0] {
			more = along(packAh, packMore, ah)
		}
		return (k*cellMilliAh/ah + more) / 1000, nil
	case Flooded:
		return 1.75 * k * 0.490 / ah, nil
	case Gel:
		return 1.45 * k * 0.490 / ah, nil
	}
	return k * 0.490 / ah, nil
}

// Resistance of lithium cells over that at 25 °C, by temperature: middle of the
// measured rows; 5 °C by the model below it, which fits there. Above 5 °C the
// model is not taken: it misses the measured data (1.31 for 1.475 at
// 15 °C, 0.49 for 0.57 at 55 °C).
var (
	coldAt    = []float64{5, 15, 25, 35, 45, 55}
	coldTimes = []float64{coldModel(5), 1.475, 1, 0.765, 0.64, 0.57}
)

func coldModel(temp float64) float64 {
	return math.Exp(2300 * (1/(temp+273.15) - 1/298.15))
}

// ColdOhmFactor is how many times its resistance at 25 °C a lithium battery has
// at temp °C: measured rows from 5 to 55 °C, a model ±25 % below.
// Errors: temp outside -20 to 55.
func ColdOhmFactor(temp float64) (float64, error) {
	if err := span("cold_ohm_factor", "a cell temperature", temp, -20, 55, "°C"); err != nil {
		return 0, err
	}
	if temp <= 5 {
		return coldModel(temp), nil
	}
	return along(coldAt, coldTimes, temp), nil
}

// SourceOhm is the resistance in ohms between two loads: the volts lost over the
// amps added, both read at the same posts: (V1 - V2)/(I2 - I1).
// Errors: the second current is not the larger, or the volts rose.
func SourceOhm(before, after, ampsBefore, ampsAfter float64) (float64, error) {
	const fn = "source_ohm"
	if err := first(
		finite(fn, "the first reading", before, "V"), finite(fn, "the second reading", after, "V"),
		finite(fn, "the first current", ampsBefore, "A"), finite(fn, "the second current", ampsAfter, "A"),
		positive(fn, "the current added", ampsAfter-ampsBefore, "A"), notNegative(fn, "the volts lost", before-after, "V"),
	); err != nil {
		return 0, err
	}
	return (before - after) / (ampsAfter - ampsBefore), nil
}

// Sag is the volts that a source of ohms loses at amps.
func Sag(amps, ohm float64) (float64, error) {
	const fn = "sag"
	if err := first(notNegative(fn, "a current", amps, "A"), notNegative(fn, "the source", ohm, "ohm")); err != nil {
		return 0, err
	}
	return amps * ohm, nil
}

func sourceTable() []*formula.Func {
	return []*formula.Func{
		{
			Name: "source_ohm_new", Area: "battery", Title: "Resistance of a new battery",
			Params: []formula.Param{oneOf("chemistry", "kind of battery", chemistries), in("ah", "Ah", falls, "amp-hours of the bank"), in("system", "V", grows, "nominal volts of the bank")},
			Result: unit("ohm"), Act: grows, Text: "lithium 490/Ah + 2.1...2.6 mΩ; AGM 490/Ah, gel 1.45, flooded 1.75 times, mΩ per 12 V",
			Source: "cell data, makers' sheets; gel and flooded from memory", Domain: "new, full, 25 °C, half a minute of load; warm lead only",
			Do: func(a []float64) (float64, error) { return SourceOhmNew(Chemistry(a[0]), a[1], a[2]) },
		},
		{
			Name: "cold_ohm_factor", Area: "battery", Title: "Lithium resistance in the cold",
			Params: []formula.Param{in("temp", "degC", falls, "temperature of the cells")}, Result: unit("1"), Act: grows,
			Text: "rows 5 to 55 °C; exp(2300·(1/T - 1/298.15)) below", Source: "cell data; model ±25 % [derived]", Domain: "lithium, -20 to 55 °C",
			Do: func(a []float64) (float64, error) { return ColdOhmFactor(a[0]) },
		},
		{
			Name: "source_ohm", Area: "battery", Title: "Resistance between two loads",
			Params: []formula.Param{
				in("before", "V", grows, "volts at the smaller current"), in("after", "V", falls, "volts at the larger current"),
				in("amps_before", "A", grows, "smaller current"), in("amps_after", "A", falls, "larger current"),
			},
			Result: unit("ohm"), Act: grows, Text: "R = (V1 - V2)/(I2 - I1)", Source: "textbook", Domain: "same two points, same range, within minutes",
			Do: func(a []float64) (float64, error) { return SourceOhm(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "sag", Area: "battery", Title: "Sag under load",
			Params: []formula.Param{in("amps", "A", grows, "current"), in("ohm", "ohm", grows, "resistance of the source")},
			Result: unit("V"), Act: grows, Text: "U = I·R", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return Sag(a[0], a[1]) },
		},
	}
}
