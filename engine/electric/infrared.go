package electric

import (
	"math"

	"hotlug/engine/formula"
)

const gunSet = 0.95 // emissivity to which hand thermometers are fixed

// InfraredTrue is the temperature in °C of a surface that an infrared
// thermometer fixed to 0.95 shows as read, when its emissivity is lower and the
// surroundings it mirrors have surround °C:
// T⁴ = Ts⁴ + 0.95/e·(Tr⁴ - Ts⁴) in kelvin. It says how far a bare lug can fool.
// Errors: emissivity outside 0.03-0.95; a reading that no surface can give.
func InfraredTrue(read, surround, emissivity float64) (float64, error) {
	const fn = "infrared_true"
	if err := gunChecks(fn, read, surround, emissivity); err != nil {
		return 0, err
	}
	ts := math.Pow(surround+273.15, 4)
	t4 := ts + gunSet/emissivity*(math.Pow(read+273.15, 4)-ts)
	if t4 <= 0 {
		return 0, formula.Outside(fn, "no surface of that emissivity looks so cold in these surroundings")
	}
	return math.Sqrt(math.Sqrt(t4)) - 273.15, nil
}

// InfraredShown is what a thermometer fixed to 0.95 shows of a surface of temp °C.
func InfraredShown(temp, surround, emissivity float64) (float64, error) {
	const fn = "infrared_shown"
	if err := gunChecks(fn, temp, surround, emissivity); err != nil {
		return 0, err
	}
	ts := math.Pow(surround+273.15, 4)
	t4 := ts + emissivity/gunSet*(math.Pow(temp+273.15, 4)-ts)
	return math.Sqrt(math.Sqrt(t4)) - 273.15, nil
}

func gunChecks(fn string, t, surround, emissivity float64) error {
	return first(
		span(fn, "a surface", t, -40, 600, "°C"), span(fn, "the surroundings", surround, -40, 100, "°C"),
		span(fn, "an emissivity", emissivity, 0.03, gunSet, ""),
	)
}

func infraredTable() []*formula.Func {
	const law = "radiation law [textbook]"
	return []*formula.Func{
		{
			Name: "infrared_true", Area: "joint", Title: "True temperature behind an infrared reading",
			Params: []formula.Param{
				in("read", "degC", grows, "temperature shown, gun set to 0.95"), in("surround", "degC", falls, "surroundings that it mirrors"),
				in("emissivity", "1", mixed, "of the surface: tape and paint 0.95, oxidised copper 0.6, bright metal 0.05-0.1"),
			},
			Result: unit("degC"), Act: grows, Text: "T⁴ = Ts⁴ + 0.95/e·(Tr⁴ - Ts⁴), in kelvin", Source: law,
			Domain: "emissivity 0.03 to 0.95, spot smaller than the target",
			Do:     func(a []float64) (float64, error) { return InfraredTrue(a[0], a[1], a[2]) },
		},
		{
			Name: "infrared_shown", Area: "joint", Title: "What an infrared thermometer shows",
			Params: []formula.Param{
				in("temp", "degC", grows, "true temperature"), in("surround", "degC", grows, "surroundings that it mirrors"),
				in("emissivity", "1", mixed, "of the surface"),
			},
			Result: unit("degC"), Act: mixed, Text: "Tr⁴ = Ts⁴ + e/0.95·(T⁴ - Ts⁴), in kelvin", Source: law,
			Domain: "emissivity 0.03 to 0.95, gun set to 0.95, spot smaller than the target",
			Do:     func(a []float64) (float64, error) { return InfraredShown(a[0], a[1], a[2]) },
		},
	}
}
