package electric

import (
	"math"

	"hotlug/engine/formula"
)

// AtFullLoad is the volts across a joint at full current when it drops drop at
// amps: U·I_full/I. Only for contacts and wire, not for fuses and diodes.
// Errors: no current at the moment.
func AtFullLoad(drop, amps, full float64) (float64, error) {
	const fn = "at_full_load"
	if err := first(notNegative(fn, "a drop", drop, "V"), positive(fn, "the current at the moment", amps, "A"), notNegative(fn, "the full current", full, "A")); err != nil {
		return 0, err
	}
	return drop * full / amps, nil
}

// Lorenz number in V²/K², for the temperature inside a contact.
const lorenz = 2.44e-8

// SpotTemp is the temperature in °C of the contact spots of one metal joint that
// drops volts, with the metal around at ambient °C: sqrt(T0² + U²/(4L)) kelvin.
// It holds for one interface, without wire or fuse, whatever its size.
// Errors: volts outside 0 to 0.5 (copper melts at 0.41-0.43).
func SpotTemp(volts, ambient float64) (float64, error) {
	const fn = "spot_temp"
	if err := first(span(fn, "a contact voltage", volts, 0, 0.5, "V"), span(fn, "the metal around", ambient, -60, 300, "°C")); err != nil {
		return 0, err
	}
	t := ambient + 273.15
	return math.Sqrt(t*t+volts*volts/(4*lorenz)) - 273.15, nil
}

// Seat is how a joint is cooled.
type Seat int

// The seats, in the order of the words in Seats.
const (
	OneCable  Seat = iota // a lug with one cable on an insulated stud
	TwoCables             // cable on both sides, or a cable on a post or long bar
	OneCableBoxed
	TwoCablesBoxed
)

var seats = []string{"one-cable", "two-cables", "one-cable-boxed", "two-cables-boxed"}

// Seats lists the words for Seat in order.
func Seats() []string { return append([]string(nil), seats...) }

// Thermal resistance K/W of a joint by wire size, cable as a cooling fin
// [derived, ±40 %].
var (
	rthSize = []float64{1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120}
	rthOne  = []float64{94, 70, 52, 40, 28, 20, 15, 12, 9.1, 7.3, 5.9, 5.0}
	rthTwo  = []float64{50, 37, 27, 21, 15, 11, 7.7, 6.2, 4.9, 3.9, 3.1, 2.7}
)

// JointRth is how many kelvin a joint on wire of size mm² rises per watt, over
// the wire far away: the fin table ±40 %, half as much again in a closed box.
// Figures over the air are not taken: they contain the cable's own heat, which
// CableOwnRise already counts.
// Errors: size outside 1.5 to 120 mm².
func JointRth(size float64, seat Seat) (float64, error) { return jointRth("joint_rth", size, seat) }

func jointRth(fn string, size float64, seat Seat) (float64, error) {
	if err := first(chosen(fn, "seat", int(seat), len(seats)), span(fn, "a wire", size, 1.5, 120, "mm²")); err != nil {
		return 0, err
	}
	table, k := rthOne, 1.0
	if seat == TwoCables || seat == TwoCablesBoxed {
		table = rthTwo
	}
	if seat == OneCableBoxed || seat == TwoCablesBoxed {
		k = 1.5
	}
	return k * alongLog(rthSize, table, size), nil
}

// JointRise is the rise in K of a joint over its own wire 3 fade lengths away:
// volts·amps·Rth, good to ±40 %: for ranking, not for proof.
func JointRise(volts, amps, size float64, seat Seat) (float64, error) {
	const fn = "joint_rise"
	r, err := jointRth(fn, size, seat)
	if err != nil {
		return 0, err
	}
	if err := first(notNegative(fn, "a drop", volts, "V"), notNegative(fn, "a current", amps, "A")); err != nil {
		return 0, err
	}
	return volts * amps * r, nil
}

// JointBand is the band 0 to 3 of one joint: 0 good, 1 note and plan, 2 repair,
// 3 stop. full_drop is its volts at full current, rise its estimated rise there:
// 3 from 70 mV; 2 above 15 mV or 15 K; 1 above 5 mV or from 4 K.
// Fixed milliohms are not taken: they miss a poor joint at a big current and
// alarm on the sound crimp of a thin wire. What heats a contact is its volts.
func JointBand(fullDrop, rise float64) (float64, error) {
	const fn = "joint_band"
	if err := first(notNegative(fn, "a drop", fullDrop, "V"), notNegative(fn, "a rise", rise, "K")); err != nil {
		return 0, err
	}
	switch {
	case fullDrop >= 0.070:
		return 3, nil
	case fullDrop > 0.015 || rise > 15:
		return 2, nil
	case fullDrop > 0.005 || rise >= 4:
		return 1, nil
	}
	return 0, nil
}

func jointTable() []*formula.Func {
	const fin = "derived: cable as a cooling fin, ±40 %"
	seat := oneOf("seat", "how the joint is cooled", seats)
	return []*formula.Func{
		{
			Name: "at_full_load", Area: "joint", Title: "Volts of a joint at full current",
			Params: []formula.Param{
				in("drop", "V", grows, "volts across it now"), in("amps", "A", falls, "current now"),
				in("full_amps", "A", grows, "largest current of this path"),
			},
			Result: unit("V"), Act: grows, Text: "U_full = U·I_full/I", Source: "textbook",
			Domain: "contacts and wire; not fuses, diodes, lamps",
			Do:     func(a []float64) (float64, error) { return AtFullLoad(a[0], a[1], a[2]) },
		},
		{
			Name: "spot_temp", Area: "joint", Title: "Temperature inside a contact",
			Params: []formula.Param{in("volts", "V", grows, "volts across the one interface"), in("ambient", "degC", grows, "metal around it")},
			Result: unit("degC"), Act: grows, Text: "T = sqrt(T0² + U²/(4·2.44e-8)), in kelvin",
			Source: "voltage-temperature law of contacts [textbook]", Domain: "0 to 0.5 V across one metal joint, without wire or fuse",
			Do: func(a []float64) (float64, error) { return SpotTemp(a[0], a[1]) },
		},
		{
			Name: "joint_rth", Area: "joint", Title: "Kelvin a joint rises per watt",
			Params: []formula.Param{in("size", "mm2", falls, "copper area of the wire"), seat},
			Result: unit("K/W"), Act: grows, Text: "table by size; 1.5 times in a closed box", Source: fin, Domain: "1.5 to 120 mm²",
			Do: func(a []float64) (float64, error) { return JointRth(a[0], Seat(a[1])) },
		},
		{
			Name: "joint_rise", Area: "joint", Title: "Rise of a joint over its wire",
			Params: []formula.Param{
				in("volts", "V", grows, "volts across the joint"), in("amps", "A", grows, "current in it"),
				in("size", "mm2", falls, "copper area of the wire"), seat,
			},
			Result: unit("K"), Act: grows, Text: "dT = U·I·Rth", Source: fin, Domain: "1.5 to 120 mm², settled",
			Do: func(a []float64) (float64, error) { return JointRise(a[0], a[1], a[2], Seat(a[3])) },
		},
		{
			Name: "joint_band", Area: "joint", Title: "Band of a joint, 0 good to 3 stop",
			Params: []formula.Param{in("full_drop", "V", grows, "volts across it at full current"), in("rise", "K", grows, "its rise over the wire at full current")},
			Result: unit("1"), Act: grows, Text: "3: U >= 70 mV; 2: U > 15 mV or dT > 15 K; 1: U > 5 mV or dT >= 4 K; else 0",
			Source: "NETA MTS bands [standard], contact law [textbook], derived", Domain: "lugs, crimps, bolted joints; not fuses, clips, switches",
			Do: func(a []float64) (float64, error) { return JointBand(a[0], a[1]) },
		},
	}
}
