package electric

import (
	"fmt"

	"hotlug/engine/formula"
)

// CableOwnRise is the rise in K of a 105 °C wire over the air by its own
// current, at amps where its table allows allow at 30 °C: 75·(I/allow)².
func CableOwnRise(amps, allow float64) (float64, error) {
	return ownRise("cable_own_rise", amps, allow, 75)
}

// PVCOwnRise is the same for 70 °C insulation: 40·(I/allow)².
func PVCOwnRise(amps, allow float64) (float64, error) {
	return ownRise("pvc_own_rise", amps, allow, 40)
}

func ownRise(fn string, amps, allow, full float64) (float64, error) {
	if err := first(notNegative(fn, "a current", amps, "A"), positive(fn, "the table current", allow, "A")); err != nil {
		return 0, err
	}
	f := amps / allow
	return full * f * f, nil
}

// RiseAtFull is a rise measured at amps, scaled to the full current: dT·(I_full/I)².
// The square is the worst case; natural cooling gives an exponent of 1.6.
// Errors: less than 0.3 of the full current flows, which only shows gross faults.
func RiseAtFull(rise, amps, full float64) (float64, error) {
	const fn = "rise_at_full"
	if err := first(notNegative(fn, "a rise", rise, "K"), positive(fn, "the current at the moment", amps, "A"), positive(fn, "the full current", full, "A")); err != nil {
		return 0, err
	}
	if amps < 0.3*full {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g A is under 0.3 of the full %.4g A: too little to scale a temperature from; load it more", amps, full))
	}
	x := full / amps
	return rise * x * x, nil
}

// JointTemp is the temperature in °C of a joint: the air, the wire's own rise
// and the joint's excess.
func JointTemp(ambient, own, excess float64) (float64, error) {
	const fn = "joint_temp"
	if err := first(span(fn, "the air", ambient, -60, 150, "°C"), notNegative(fn, "the wire's own rise", own, "K"), notNegative(fn, "the excess", excess, "K")); err != nil {
		return 0, err
	}
	return ambient + own + excess, nil
}

func heatTable() []*formula.Func {
	amps := in("amps", "A", grows, "current in the wire")
	allow := in("allow", "A", falls, "table amps of this wire at 30 °C")
	return []*formula.Func{
		{
			Name: "cable_own_rise", Area: "joint", Title: "Rise of a 105 °C wire by its own current",
			Params: []formula.Param{amps, allow}, Result: unit("K"), Act: grows,
			Text: "dT = 75·(I/Itable)²", Source: "derived from the table of amps", Domain: "105 °C wire in free air, settled",
			Do: func(a []float64) (float64, error) { return CableOwnRise(a[0], a[1]) },
		},
		{
			Name: "pvc_own_rise", Area: "joint", Title: "Rise of a 70 °C wire by its own current",
			Params: []formula.Param{amps, allow}, Result: unit("K"), Act: grows,
			Text: "dT = 40·(I/Itable)²", Source: "derived from the table of amps", Domain: "70 °C PVC wire in free air, settled",
			Do: func(a []float64) (float64, error) { return PVCOwnRise(a[0], a[1]) },
		},
		{
			Name: "rise_at_full", Area: "joint", Title: "A measured rise at full current",
			Params: []formula.Param{
				in("rise", "K", grows, "rise measured"), in("amps", "A", falls, "current then"),
				in("full_amps", "A", grows, "largest current of this path"),
			},
			Result: unit("K"), Act: grows, Text: "dT_full = dT·(I_full/I)²", Source: "textbook; the square is the worst case",
			Domain: "at least 0.3 of the full current, better 0.5, settled",
			Do:     func(a []float64) (float64, error) { return RiseAtFull(a[0], a[1], a[2]) },
		},
		{
			Name: "joint_temp", Area: "joint", Title: "Temperature of a loaded joint",
			Params: []formula.Param{
				in("ambient", "degC", grows, "air around it"), in("own", "K", grows, "the wire's own rise"),
				in("excess", "K", grows, "the joint's rise over its wire"),
			},
			Result: unit("degC"), Act: grows, Text: "T = Ta + own rise + excess", Source: "derived", Domain: "settled",
			Do: func(a []float64) (float64, error) { return JointTemp(a[0], a[1], a[2]) },
		},
	}
}
