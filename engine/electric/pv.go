package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// usualBeta is the change of open volts with temperature in % per K, taken where
// the label's own figure is not at hand.
const usualBeta = -0.30

// PVColdVolts is the open volts of a string of series modules of voc each, from
// the label, on the coldest morning of coldest °C: n·Voc·(1 - 0.30 %·(T - 25)).
// Old and polycrystalline modules reach -0.36 %/K: PVColdVoltsBeta takes the
// label's figure. The cell counts as cold as the air.
// Errors: coldest outside -60 to 25.
func PVColdVolts(voc, series, coldest float64) (float64, error) {
	return pvCold("pv_cold_volts", voc, series, coldest, usualBeta)
}

// PVColdVoltsBeta is PVColdVolts with the label's change with temperature in %/K,
// a negative number.
func PVColdVoltsBeta(voc, series, coldest, beta float64) (float64, error) {
	return pvCold("pv_cold_volts_beta", voc, series, coldest, beta)
}

func pvCold(fn string, voc, series, coldest, beta float64) (float64, error) {
	if err := first(stringChecks(fn, voc, series), span(fn, "the coldest morning", coldest, -60, 25, "°C"), span(fn, "the change of volts", beta, -0.6, 0, "%/K")); err != nil {
		return 0, err
	}
	return series * voc * (1 + beta/100*(coldest-25)), nil
}

func stringChecks(fn string, voc, series float64) error {
	return first(span(fn, "the open volts of a module", voc, 0.1, 500, "V"), span(fn, "modules in series", series, 1, 100, ""))
}

// Factors on open volts by lowest air temperature for modules whose own figure
// is not known: each holds from its temperature up to the next (NEC table
// 690.7(A); the rows between 20 and -15 °C from memory).
var codeFrom = []float64{-40, -35, -30, -25, -20, -15, -10, -5, 0, 5, 10, 15, 20, 25}
var codeTimes = []float64{1.25, 1.23, 1.21, 1.20, 1.18, 1.16, 1.14, 1.12, 1.10, 1.08, 1.06, 1.04, 1.02, 1}

// PVColdVoltsCode is the open volts on the coldest morning by the factors of NEC
// table 690.7(A), which cover every crystalline module: the safe figure when no
// label tells the change with temperature. Errors: colder than -40 °C.
func PVColdVoltsCode(voc, series, coldest float64) (float64, error) {
	const fn = "pv_cold_volts_code"
	if err := first(stringChecks(fn, voc, series), span(fn, "the coldest morning", coldest, -40, 25, "°C")); err != nil {
		return 0, err
	}
	f := 1.0
	for i, from := range codeFrom {
		if coldest >= from {
			f = codeTimes[i]
		}
	}
	return series * voc * f, nil
}

// a0 is how far open volts move with the logarithm of light: a part of Voc, from
// five fitted modules (0.0367 to 0.0397).
const a0 = 0.0387

// PVOpenExpect is the open volts expected of a string of sound modules in strong
// sun (800 W/m²) with the cells at temp °C: within 6 % is a pass.
// Errors: temp outside -40 to 100.
func PVOpenExpect(voc, series, temp float64) (float64, error) {
	return pvOpen("pv_open_expect", voc, series, temp, 800)
}

// PVOpenAt is PVOpenExpect at sun W/m².
func PVOpenAt(voc, series, temp, sun float64) (float64, error) {
	return pvOpen("pv_open_at", voc, series, temp, sun)
}

func pvOpen(fn string, voc, series, temp, sun float64) (float64, error) {
	if err := first(stringChecks(fn, voc, series), span(fn, "a cell temperature", temp, -40, 100, "°C"), span(fn, "the sun", sun, 20, 1400, "W/m²")); err != nil {
		return 0, err
	}
	light := a0 * (temp + 273.15) / 298.15 * math.Log(sun/1000)
	return series * voc * (1 + usualBeta/100*(temp-25) + light), nil
}

// PVExpectAmps is the short-circuit amps expected of strings side by side of
// modules of isc each when the sun has the given share of full sun (1000 W/m²).
// Pass ±10 % by a reference module, ±20 % by the sun table; the current at the
// best point is 0.94 of it.
func PVExpectAmps(isc, parallel, share float64) (float64, error) {
	const fn = "pv_expect_amps"
	if err := first(span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"), span(fn, "strings side by side", parallel, 1, 100, ""), span(fn, "the share of full sun", share, 0, 1.4, "")); err != nil {
		return 0, err
	}
	return isc * parallel * share, nil
}

// ArrayWatts is the label power of an array from its open volts and short-circuit
// amps: 0.775·Voc·Isc·n·m, within 3 % for crystalline modules.
func ArrayWatts(voc, isc, series, parallel float64) (float64, error) {
	const fn = "array_watts"
	if err := first(stringChecks(fn, voc, series), span(fn, "the short-circuit amps of a module", isc, 0.01, 30, "A"), span(fn, "strings side by side", parallel, 1, 100, "")); err != nil {
		return 0, err
	}
	return 0.775 * voc * isc * series * parallel, nil
}

// StartMargin is how far the open volts of an array stand above what a tracking
// controller starts at, battery + 5 V; below zero it does not start.
func StartMargin(open, battery float64) (float64, error) {
	const fn = "start_margin"
	return open - battery - 5, first(notNegative(fn, "the array", open, "V"), notNegative(fn, "the battery", battery, "V"))
}

// RunMargin is the same for running on: loaded volts over battery + 1 V.
func RunMargin(loaded, battery float64) (float64, error) {
	const fn = "run_margin"
	return loaded - battery - 1, first(notNegative(fn, "the array", loaded, "V"), notNegative(fn, "the battery", battery, "V"))
}

// Best-point volts of a warm module (45 °C cells) over what a pulse-width
// controller makes of them: 0.985·Isc·Vb against 0.775·0.924·Voc·Isc.
const pwmGain = 0.985 / (0.775 * 0.924)

// PWMLoss is the part in per cent of its module's power that a pulse-width
// controller gives away in bulk with the battery at battery volts and modules
// whose strings have voc volts open on the label: good to 3 points.
// Errors: battery above 0.70 of voc, where the module runs past its best point,
// or not above zero.
func PWMLoss(voc, battery float64) (float64, error) {
	const fn = "pwm_loss"
	if err := first(span(fn, "the open volts of a string", voc, 0.1, 500, "V"), positive(fn, "the battery", battery, "V")); err != nil {
		return 0, err
	}
	if battery > 0.70*voc {
		return 0, formula.Outside(fn, fmt.Sprintf("a string of %.4g V open runs past its best point on a battery of %.4g V: pulse-width loses little there, or charges not at all when hot", voc, battery))
	}
	return 100 * (1 - pwmGain*battery/voc), nil
}

// ControllerAmps is the battery-side amps that watts of array make at battery
// volts through a tracking controller: 0.96·P/V.
func ControllerAmps(watts, battery float64) (float64, error) {
	const fn = "controller_amps"
	if err := first(notNegative(fn, "the array", watts, "W"), positive(fn, "the battery", battery, "V")); err != nil {
		return 0, err
	}
	return 0.96 * watts / battery, nil
}
