package electric

import (
	"math"

	"hotlug/engine/formula"
)

// VentAir is the air flow in m³/h that a battery room needs: 0.05·n·Igas·C/1000
// for cells in series, gas mA per Ah (flooded 5 float, 20 boost; sealed 1, 8) and
// ah amp-hours. IEC 62485-2.
func VentAir(cells, gas, ah float64) (float64, error) {
	const fn = "vent_air"
	if err := first(span(fn, "cells", cells, 1, 1000, ""), notNegative(fn, "the gassing current", gas, "mA/Ah"), notNegative(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	return 0.05 * cells * gas * ah / 1000, nil
}

// VentArea is the free area in mm² of each of the two openings for an air flow in
// m³/h: 28 cm² per m³/h.
func VentArea(air float64) (float64, error) {
	if err := notNegative("vent_area", "the air flow", air, "m³/h"); err != nil {
		return 0, err
	}
	return 2800 * air, nil
}

// SparkDistance is the distance in metres that sparks keep from a charging
// battery: 28.8·cbrt(gas·ah) mm (IEC 62485-2, from memory). Keep 0.5 m at least.
func SparkDistance(gas, ah float64) (float64, error) {
	const fn = "spark_distance"
	if err := first(notNegative(fn, "the gassing current", gas, "mA/Ah"), notNegative(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	return 0.0288 * math.Cbrt(gas*ah), nil
}

func gasTable() []*formula.Func {
	gas := in("gas", "1", grows, "gassing in mA per Ah: flooded 20, sealed 8 when boosted")
	ah := in("ah", "Ah", grows, "amp-hours of the bank")
	return []*formula.Func{
		{
			Name: "vent_air", Area: "battery", Title: "Air that a battery room needs",
			Params: []formula.Param{in("cells", "1", grows, "cells in series, six per 12 V"), gas, ah}, Result: unit("m3/h"), Act: grows,
			Text: "Q = 0.05·n·Igas·C/1000", Source: "IEC 62485-2 [standard]", Domain: "lead",
			Do: func(a []float64) (float64, error) { return VentAir(a[0], a[1], a[2]) },
		},
		{
			Name: "vent_area", Area: "battery", Title: "Free area of each vent",
			Params: []formula.Param{in("air", "m3/h", grows, "air flow")}, Result: unit("mm2"), Act: grows,
			Text: "A = 28 cm² per m³/h, in and out", Source: "IEC 62485-2 [standard]", Domain: "natural ventilation",
			Do: func(a []float64) (float64, error) { return VentArea(a[0]) },
		},
		{
			Name: "spark_distance", Area: "battery", Title: "Distance of sparks from a charging battery",
			Params: []formula.Param{gas, ah}, Result: unit("m"), Act: grows, Text: "d = 28.8·cbrt(Igas·C) mm",
			Source: "IEC 62485-2 [standard, from memory]", Domain: "lead; keep 0.5 m at least",
			Do: func(a []float64) (float64, error) { return SparkDistance(a[0], a[1]) },
		},
	}
}
