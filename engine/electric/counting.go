package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

var shunts = []string{"500A-50mV", "500A-75mV", "300A-75mV", "200A-75mV", "100A-75mV", "100A-50mV", "50A-75mV"}

// Resistance of the shunts in ohms.
var shuntOhm = []float64{0.050 / 500, 0.075 / 500, 0.075 / 300, 0.075 / 200, 0.075 / 100, 0.050 / 100, 0.075 / 50}

// Shunts lists the words for shunts in order.
func Shunts() []string { return append([]string(nil), shunts...) }

// ShuntFactor is how many times the true amps a monitor shows when shunt label
// is fitted and set is chosen in its menu, both indices into Shunts.
func ShuntFactor(label, set int) (float64, error) {
	const fn = "shunt_factor"
	if err := first(chosen(fn, "shunt", label, len(shunts)), chosen(fn, "setting", set, len(shunts))); err != nil {
		return 0, err
	}
	return shuntOhm[label] / shuntOhm[set], nil
}

// ShuntOhm is the resistance in ohms of a shunt, an index into Shunts.
func ShuntOhm(label int) (float64, error) {
	if err := chosen("shunt_ohm", "shunt", label, len(shunts)); err != nil {
		return 0, err
	}
	return shuntOhm[label], nil
}

// PeukertAmps is the current in amps that a monitor counts when amps flow out of
// a bank of ah amp-hours at the rate of rate hours (20 for lead) with exponent k:
// I·(I·H/C)^(k-1). Errors: k outside 1 to 2; no capacity.
func PeukertAmps(amps, rate, ah, k float64) (float64, error) {
	const fn = "peukert_amps"
	if err := first(notNegative(fn, "a current", amps, "A"), positive(fn, "the rate", rate, "h"), positive(fn, "the capacity", ah, "Ah"), span(fn, "an exponent", k, 1, 2, "")); err != nil {
		return 0, err
	}
	return amps * math.Pow(amps*rate/ah, k-1), nil
}

// PeukertHours is how long a full bank of ah amp-hours at the rate of rate hours
// lasts at amps: H·(C/(I·H))^k.
func PeukertHours(amps, rate, ah, k float64) (float64, error) {
	const fn = "peukert_hours"
	if err := first(positive(fn, "a current", amps, "A"), positive(fn, "the rate", rate, "h"), positive(fn, "the capacity", ah, "Ah"), span(fn, "an exponent", k, 1, 2, "")); err != nil {
		return 0, err
	}
	return rate * math.Pow(ah/(amps*rate), k), nil
}

// DriftPctWeek is how many per cent of ah amp-hours a monitor drifts in a week
// that shows amps when nothing flows; minus means it counts down.
func DriftPctWeek(amps, ah float64) (float64, error) {
	const fn = "drift_pct_week"
	if err := first(finite(fn, "the current shown", amps, "A"), positive(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	return 168 * amps / ah * 100, nil
}

// BypassAh is the amp-hours that amps over hours take past a shunt uncounted.
func BypassAh(amps, hours float64) (float64, error) {
	const fn = "bypass_ah"
	if err := first(notNegative(fn, "a current", amps, "A"), notNegative(fn, "the time", hours, "h")); err != nil {
		return 0, err
	}
	return amps * hours, nil
}

// ShownPct is the charge in per cent that a monitor set to set amp-hours shows
// when a bank of really ah has a true charge in per cent. It stops at zero, as
// monitors do.
func ShownPct(charge, ah, set float64) (float64, error) {
	const fn = "shown_pct"
	if err := pctChecks(fn, charge, ah, set); err != nil {
		return 0, err
	}
	return max(0, 100-(100-charge)*ah/set), nil
}

// TruePct is the true charge in per cent when a monitor set to set amp-hours
// shows a charge in per cent and the bank has really ah.
// Errors: the bank would be below empty.
func TruePct(shown, ah, set float64) (float64, error) {
	const fn = "true_pct"
	if err := pctChecks(fn, shown, ah, set); err != nil {
		return 0, err
	}
	t := 100 - (100-shown)*set/ah
	if t < 0 {
		return 0, formula.Outside(fn, fmt.Sprintf("a bank of %.4g Ah is empty before a monitor set to %.4g Ah shows %.4g %%", ah, set, shown))
	}
	return t, nil
}

func pctChecks(fn string, pct, ah, set float64) error {
	return first(span(fn, "a charge", pct, 0, 100, "%"), positive(fn, "the real capacity", ah, "Ah"), positive(fn, "the capacity set", set, "Ah"))
}

func countTable() []*formula.Func {
	shunt := func(name, doc string) formula.Param { return oneOf(name, doc, shunts) }
	amps := func(d formula.Dir) formula.Param { return in("amps", "A", d, "current out of the bank") }
	k := in("k", "1", mixed, "exponent: lithium 1.05, AGM 1.12, gel 1.18, flooded 1.25")
	charge := in("charge", "%", grows, "true charge")
	const peukert = "Peukert [textbook]"
	return []*formula.Func{
		{
			Name: "shunt_factor", Area: "battery", Title: "Times the true amps a monitor shows",
			Params: []formula.Param{shunt("label", "print on the shunt"), shunt("set", "shunt set in the monitor")},
			Result: unit("1"), Text: "(mV/A of the label)/(mV/A of the setting)", Source: "derived", Domain: "the listed shunts",
			Do: func(a []float64) (float64, error) { return ShuntFactor(int(a[0]), int(a[1])) },
		},
		{
			Name: "shunt_ohm", Area: "battery", Title: "Resistance of a shunt",
			Params: []formula.Param{shunt("label", "print on the shunt")}, Result: unit("ohm"), Text: "R = U/I", Source: "textbook", Domain: "the listed shunts",
			Do: func(a []float64) (float64, error) { return ShuntOhm(int(a[0])) },
		},
		{
			Name: "peukert_amps", Area: "battery", Title: "Current that a monitor counts",
			Params: []formula.Param{amps(grows), usually(in("rate", "h", grows, "hours of the rated capacity, 20"), "20 h"), in("ah", "Ah", falls, "rated amp-hours"), k},
			Result: unit("A"), Act: grows, Text: "I·(I·H/C)^(k - 1)", Source: peukert, Domain: "exponent 1 to 2",
			Do: func(a []float64) (float64, error) { return PeukertAmps(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "peukert_hours", Area: "battery", Title: "How long a full bank lasts",
			Params: []formula.Param{amps(falls), usually(in("rate", "h", falls, "hours of the rated capacity, 20"), "20 h"), in("ah", "Ah", grows, "rated amp-hours"), k},
			Result: unit("h"), Act: falls, Text: "H·(C/(I·H))^k", Source: peukert, Domain: "exponent 1 to 2; to empty",
			Do: func(a []float64) (float64, error) { return PeukertHours(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "drift_pct_week", Area: "battery", Title: "Drift of a monitor in a week",
			Params: []formula.Param{in("amps", "A", grows, "amps shown with nothing flowing"), in("ah", "Ah", mixed, "amp-hours set")},
			Result: unit("%"), Text: "168·I/C·100", Source: "derived", Domain: "no full charge in between",
			Do: func(a []float64) (float64, error) { return DriftPctWeek(a[0], a[1]) },
		},
		{
			Name: "bypass_ah", Area: "battery", Title: "Amp-hours that pass a shunt by",
			Params: []formula.Param{in("amps", "A", grows, "current past the shunt"), in("hours", "h", grows, "how long a day")},
			Result: unit("Ah"), Act: grows, Text: "I·t", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return BypassAh(a[0], a[1]) },
		},
		{
			Name: "shown_pct", Area: "battery", Title: "Charge that a wrongly set monitor shows",
			Params: []formula.Param{charge, in("ah", "Ah", falls, "real amp-hours"), in("set", "Ah", grows, "amp-hours set")},
			Result: unit("%"), Text: "100 - (100 - true)·C_true/C_set, not below 0", Source: "derived", Domain: "counted from full",
			Do: func(a []float64) (float64, error) { return ShownPct(a[0], a[1], a[2]) },
		},
		{
			Name: "true_pct", Area: "battery", Title: "True charge behind a wrongly set monitor",
			Params: []formula.Param{in("shown", "%", grows, "charge shown"), in("ah", "Ah", grows, "real amp-hours"), in("set", "Ah", falls, "amp-hours set")},
			Result: unit("%"), Act: falls, Text: "100 - (100 - shown)·C_set/C_true", Source: "derived", Domain: "counted from full, not below empty",
			Do: func(a []float64) (float64, error) { return TruePct(a[0], a[1], a[2]) },
		},
	}
}
