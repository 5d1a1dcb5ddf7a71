package electric

import (
	"math"

	"hotlug/engine/formula"
)

// SunFlat is the clear-sky sun in W/m² on a flat roof when a stick of height
// metres throws a shadow of shadow metres on level ground:
// 1098·sin(e)·exp(-0.059/sin(e)).
// Errors: no stick; the sun below 8°, where no shadow tells it.
func SunFlat(height, shadow float64) (float64, error) {
	s, err := sunSine("sun_flat", height, shadow, 7.2)
	if err != nil {
		return 0, err
	}
	return 1098 * s * math.Exp(-0.059/s), nil
}

// SunFacing is the clear-sky sun in W/m² on a plane that faces it:
// 1.1·1353·0.7^(AM^0.678) with the air mass AM = sqrt(1 + (shadow/height)²).
// Errors: the sun below 20°, where that air mass is too long.
func SunFacing(height, shadow float64) (float64, error) {
	s, err := sunSine("sun_facing", height, shadow, 2.75)
	if err != nil {
		return 0, err
	}
	return 1.1 * 1353 * math.Pow(0.7, math.Pow(1/s, 0.678)), nil
}

// sunSine is the sine of the sun's height over the horizon.
func sunSine(fn string, height, shadow, most float64) (float64, error) {
	if err := first(span(fn, "a stick", height, 0.01, 100, "m"), span(fn, "the shadow over the stick", shadow/height, 0, most, "")); err != nil {
		return 0, err
	}
	return height / math.Hypot(height, shadow), nil
}

// SunFromShort is the sun in W/m² on a clean sound module that gives amps into a
// short with its cells at temp °C: 1000·I/(Isc·(1 + 0.05 %·(T - 25))).
func SunFromShort(amps, isc, temp float64) (float64, error) {
	const fn = "sun_from_short"
	if err := first(notNegative(fn, "a current", amps, "A"), span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"), span(fn, "a cell temperature", temp, -40, 100, "°C")); err != nil {
		return 0, err
	}
	return 1000 * amps / (isc * (1 + 0.0005*(temp-25))), nil
}

// CellTemp is the temperature in °C of cells in air of air °C and sun W/m²:
// Ta + G·(NOCT - 20)/800. NOCT is 42-48 on the label, 55-60 glued to a roof.
func CellTemp(air, sun, noct float64) (float64, error) {
	const fn = "cell_temp"
	if err := first(span(fn, "the air", air, -50, 60, "°C"), span(fn, "the sun", sun, 0, 1400, "W/m²"), span(fn, "NOCT", noct, 20, 80, "°C")); err != nil {
		return 0, err
	}
	return air + sun*(noct-20)/800, nil
}

func sunTable() []*formula.Func {
	stick := in("height", "m", grows, "height of a stick standing upright")
	shadow := in("shadow", "m", falls, "length of its shadow on level ground")
	return []*formula.Func{
		{
			Name: "sun_flat", Area: "pv", Title: "Clear sun on a flat roof from a shadow",
			Params: []formula.Param{stick, shadow}, Result: unit("W/m2"), Text: "1098·sin(e)·exp(-0.059/sin(e)), e = atan(h/s)",
			Source: "clear-sky formula [textbook]", Domain: "clear sky, shadow up to 7.2 times the stick",
			Do: func(a []float64) (float64, error) { return SunFlat(a[0], a[1]) },
		},
		{
			Name: "sun_facing", Area: "pv", Title: "Clear sun on a plane facing it from a shadow",
			Params: []formula.Param{stick, shadow}, Result: unit("W/m2"), Text: "1.1·1353·0.7^(AM^0.678), AM = sqrt(1 + (s/h)²)",
			Source: "air-mass formula [textbook]", Domain: "clear sky, shadow up to 2.75 times the stick",
			Do: func(a []float64) (float64, error) { return SunFacing(a[0], a[1]) },
		},
		{
			Name: "sun_from_short", Area: "pv", Title: "Sun from a clean module's short-circuit amps",
			Params: []formula.Param{in("amps", "A", grows, "measured short-circuit amps"), in("isc", "A", falls, "short-circuit amps, label"), in("cell_temp", "degC", falls, "temperature of the cells")},
			Result: unit("W/m2"), Text: "1000·I/(Isc·(1 + 0.0005·(T - 25)))", Source: "textbook", Domain: "clean, no shade, -40 to 100 °C",
			Do: func(a []float64) (float64, error) { return SunFromShort(a[0], a[1], a[2]) },
		},
		{
			Name: "cell_temp", Area: "pv", Title: "Temperature of the cells",
			Params: []formula.Param{in("air", "degC", grows, "air"), in("sun", "W/m2", grows, "sun on the module"), in("noct", "degC", grows, "label 42-48; glued to a roof 55-60")},
			Result: unit("degC"), Text: "Ta + G·(NOCT - 20)/800", Source: "textbook", Domain: "light wind",
			Do: func(a []float64) (float64, error) { return CellTemp(a[0], a[1], a[2]) },
		},
	}
}
