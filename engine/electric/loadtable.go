package electric

import (
	"math"

	"hotlug/engine/formula"
)

func loadTable() []*formula.Func {
	watts := func(d formula.Dir) formula.Param { return in("watts", "W", d, "power while it runs") }
	amps := func(d formula.Dir) formula.Param { return in("amps", "A", d, "current of the load") }
	ohm := func(d formula.Dir) formula.Param { return in("ohm", "ohm", d, "wires and joints, both ways") }
	hours := in("hours", "h", grows, "hours switched on")
	times := usually(in("times", "1", grows, "start over run: compressor 5 to 7, brush motor 2 to 3"), "6")
	eff := in("efficiency", "1", falls, "0.85 to 0.95; 1 straight from the battery")
	return []*formula.Func{
		{
			Name: "load_wh", Area: "inverter", Title: "Energy that a load takes out of the battery",
			Params: []formula.Param{watts(grows), hours, in("duty", "1", grows, "part of that time in which it runs"), eff}, Result: unit("Wh"), Act: grows,
			Text: "P·t·duty/n", Source: "textbook", Domain: "any", Example: "watts=45W hours=14h duty=0.4 efficiency=1", Do: of4(LoadWh),
		},
		{
			Name: "energy_ah", Area: "battery", Title: "Amp-hours of an energy",
			Params: []formula.Param{in("energy", "Wh", grows, "energy"), in("volts", "V", falls, "mean volts: lead 12.4, lithium 13.1 per 12 V")}, Result: unit("Ah"), Act: grows,
			Text: "E/V", Source: "textbook", Domain: "any", Example: "energy=651Wh volts=12.4V", Do: of2(EnergyAh),
		},
		{
			Name: "dawn_pct", Area: "battery", Title: "Charge left at dawn",
			Params: []formula.Param{in("charge", "%", grows, "charge at dusk"), in("used", "Ah", falls, "amp-hours of the night"), in("ah", "Ah", grows, "amp-hours of the bank")}, Result: unit("%"), Act: falls,
			Text: "charge - 100·used/C", Source: "textbook", Domain: "not below empty", Example: "charge=80% used=52.5Ah ah=100Ah", Do: of3(DawnPct),
		},
		{
			Name: "day_balance", Area: "battery", Title: "Energy that the battery gains in a day",
			Params: []formula.Param{in("sun", "Wh", grows, "energy of the array at the posts"), in("day", "Wh", falls, "loads by day"), in("night", "Wh", falls, "loads at night"), in("eta", "1", grows, "battery: 0.95 lithium, 0.80 lead")},
			Result: unit("Wh"), Act: falls, Text: "eta·(E_sun - E_day) - E_night; a shortfall by day counts whole", Source: "derived", Domain: "a mean day; below zero it runs down",
			Example: "sun=588Wh day=180Wh night=651Wh eta=0.8", Do: of4(DayBalance),
		},
		{
			Name: "stand_hours", Area: "battery", Title: "How long usable amp-hours stand a current",
			Params: []formula.Param{in("ah", "Ah", grows, "usable amp-hours: lead half, lithium 0.8 to 0.9"), in("amps", "A", falls, "standing current")}, Result: unit("h"), Act: falls,
			Text: "C/I", Source: "textbook", Domain: "small currents", Example: "ah=160Ah amps=1.35A", Do: of2(StandHours),
		},
		{
			Name: "start_amps", Area: "inverter", Title: "Battery amps as a motor starts",
			Params: []formula.Param{watts(grows), times, in("volts", "V", falls, "volts at the inverter"), eff}, Result: unit("A"), Act: grows,
			Text: "I = P·k/(V·n)", Source: "NEC 440 rule of six [standard, secondary]; practice", Domain: "half a second to five", Example: "watts=120W volts=12.5V efficiency=0.88", Do: of4(StartAmps),
		},
		{
			Name: "start_va", Area: "inverter", Title: "Volt-amps as a motor starts",
			Params: []formula.Param{watts(grows), times, in("pf", "1", falls, "power factor, 0.6 to 1")}, Result: unit("W"), Act: grows,
			Text: "P·k/pf", Source: "NEC 440 rule of six [standard, secondary]; practice", Domain: "in volt-amps; compare with the inverter's surge", Example: "watts=500W times=5 pf=0.6", Do: of3(StartVA),
		},
		{
			Name: "end_of_run_volts", Area: "inverter", Title: "Volts at a load at the end of a run",
			Params: []formula.Param{in("battery", "V", grows, "volts at the start of the run"), amps(falls), in("run", "m", falls, "length one way"), in("size", "mm2", grows, "copper area"), usually(in("temp", "degC", falls, "temperature of the wire"), "50 C")},
			Result: unit("V"), Act: falls, Text: "V - 2·I·l·r", Source: "IEC 60228 class 5 [standard]", Domain: "plain flexible copper; joints and fuse not included", Example: "battery=12.2V amps=5A run=6m size=2.5mm2", Do: of5(EndOfRunVolts),
		},
		{
			Name: "cutout_post_volts", Area: "inverter", Title: "Posts at which a load cuts out",
			Params: []formula.Param{in("off", "V", grows, "its low cut-out"), amps(grows), ohm(grows)}, Result: unit("V"), Act: grows,
			Text: "V_off + I·R", Source: "textbook", Domain: "cut-out is sensed at the load", Example: "off=10.4V amps=5A ohm=0.3ohm", Do: of3(CutoutPostVolts),
		},
		answers(&formula.Func{
			Name: "cuts_out", Area: "inverter", Title: "Does the load cut out by low volts?",
			Params: []formula.Param{in("posts", "V", falls, "volts at the posts, loaded"), amps(grows), ohm(grows), in("off", "V", grows, "its low cut-out")},
			Text:   "V - I·R < V_off", Source: "textbook", Domain: "cut-out is sensed at the load", Example: "posts=11.8V amps=5A ohm=0.3ohm off=10.4V", Do: of4(CutsOut),
		}),
		answers(&formula.Func{
			Name: "hunts", Area: "inverter", Title: "Does the load stop and restart for ever?",
			Params: []formula.Param{amps(grows), in("ohm", "ohm", grows, "battery, wires and joints"), in("gap", "V", falls, "restart volts less cut-out volts")},
			Text:   "I·R >= V_on - V_off", Source: "derived", Domain: "any", Example: "amps=5A ohm=0.3ohm gap=1.3V", Do: of3(Hunts),
		}),
		{
			Name: "converter_amps", Area: "inverter", Title: "Amps into a DC-DC converter",
			Params: []formula.Param{in("out", "V", grows, "volts out"), in("amps", "A", grows, "amps out"), in("volts", "V", falls, "volts in, lowest"), in("efficiency", "1", falls, "0.85 to 0.95")}, Result: unit("A"), Act: grows,
			Text: "V_out·I_out/(n·V_in)", Source: "derived", Domain: "size wire and fuse of the input for it", Example: "out=14.4V amps=30A volts=12V efficiency=0.9", Do: of4(ConverterAmps),
		},
		{
			Name: "charger_va", Area: "inverter", Title: "Volt-amps that a mains charger takes",
			Params: []formula.Param{in("volts", "V", grows, "charge volts"), in("amps", "A", grows, "charge amps"), in("pf", "1", falls, "power factor: 1 corrected, 0.6 plain")}, Result: unit("W"), Act: grows,
			Text: "V·I/(0.85·pf)", Source: "practice", Domain: "in volt-amps; a generator is loaded to 60-70 %", Example: "volts=14.4V amps=30A pf=0.6", Do: of3(ChargerVA),
		},
		{
			Name: "strip_pct", Area: "inverter", Title: "Current of a plain light strip over that at 12 V",
			Params: []formula.Param{in("volts", "V", grows, "volts at the strip")}, Result: unit("%"), Text: "100·(V - 9.9)/2.1", Source: "derived", Domain: "three diodes and a resistor, 9.9 to 16 V",
			Example: "volts=13.6V", Do: of1(StripPct),
		},
	}
}

func meterTable() []*formula.Func {
	chargeV := in("volts", "V", grows, "set-point at 25 °C")
	return []*formula.Func{
		{
			Name: "hydrogen_flow", Area: "battery", Title: "Hydrogen that a gassing battery frees",
			Params: []formula.Param{in("amps", "A", grows, "gassing current"), in("cells", "1", grows, "cells in series")}, Result: unit("m3/h"), Act: grows,
			Text: "0.456e-3·I·n", Source: "Faraday, 25 °C [derived]", Domain: "lead; explosive from 4 % of the air", Example: "amps=20A cells=6", Do: of2(HydrogenFlow),
		},
		{
			Name: "peukert_k", Area: "battery", Title: "Peukert exponent from two discharges",
			Params: []formula.Param{in("slow", "h", grows, "time of the slow one"), in("slow_amps", "A", mixed, "its current"), in("fast", "h", falls, "time of the fast one"), in("fast_amps", "A", mixed, "its current")}, Result: unit("1"), Act: grows,
			Text: "ln(t1/t2)/ln(I2/I1)", Source: "Peukert [textbook]", Domain: "both to empty; exponent 1 to 2", Example: "slow=20h slow-amps=5.2A fast=1h fast-amps=65.1A", Do: of4(PeukertK),
		},
		{
			Name: "tail_hours", Area: "battery", Title: "Time of the taper in absorption",
			Params: []formula.Param{in("ah", "Ah", grows, "amp-hours still missing in it: 0.2 of the bank"), in("amps", "A", falls, "current at its start"), in("tail", "A", falls, "current at its end")}, Result: unit("h"), Act: grows,
			Text: "Q·ln(I0/It)/(I0 - It)", Source: "derived: exponential taper", Domain: "lead", Example: "ah=40Ah amps=20A tail=2A", Do: of3(TailHours),
		},
		{
			Name: "charge_efficiency", Area: "battery", Title: "What a battery gives back",
			Params: []formula.Param{in("out", "Ah", grows, "amp-hours out between two full charges"), in("put_in", "Ah", falls, "amp-hours in")}, Result: unit("%"), Act: falls,
			Text: "100·out/in", Source: "derived", Domain: "between two true full charges", Example: "out=88Ah put-in=100Ah", Do: of2(ChargeEfficiency),
		},
		{
			Name: "full_volts", Area: "battery", Title: "Charged volts to set in a monitor",
			Params: []formula.Param{in("absorb", "V", grows, "absorption of the charger"), in("system", "V", falls, "nominal volts of the bank")}, Result: unit("V"), Act: falls,
			Text: "V_abs - 0.2 V per 12 V", Source: "practice", Domain: "with a tail above the charger's own, 2-6 % of the Ah, 3 min", Example: "absorb=14.2V system=12V", Do: of2(FullVolts),
		},
		withLimits(fullSettingsLimits, &formula.Func{
			Name: "full_set_right", Area: "battery", Title: "Can the monitor see full as it is set?",
			Params: []formula.Param{in("charged", "V", mixed, "charged volts set"), in("absorb", "V", grows, "absorption"), in("float", "V", falls, "float"), in("tail", "A", grows, "tail set"), in("charger_tail", "A", falls, "current at which the charger leaves absorption"), in("system", "V", falls, "nominal volts of the bank")},
			Text:   "V_float + 0.1 < charged <= V_abs - 0.2 per 12 V, tail above the charger's", Source: "practice", Domain: "monitors that take full from volts and tail",
			Example: "charged=14.0V absorb=14.2V float=13.5V tail=8A charger-tail=5A system=12V", Do: of6(FullSettings),
		}),
		withLimits(tooEarlyLimits, &formula.Func{
			Name: "full_too_early", Area: "battery", Title: "Does the monitor take the bank for full too early?",
			Params: []formula.Param{in("charged", "V", falls, "charged volts set"), in("tail", "A", grows, "tail set"), in("rest", "V", grows, "rest volts of the bank now"), in("amps", "A", mixed, "charge current"), in("ohm", "ohm", grows, "resistance of the bank")},
			Text:   "V_rest + I·R >= charged and I < tail", Source: "derived", Domain: "a bank that is not full", Example: "charged=13.2V tail=8A rest=13.24V amps=6A ohm=5mohm", Do: of5(FullTooEarly),
		}),
		{
			Name: "comp_volts", Area: "battery", Title: "Charge volts moved by temperature",
			Params: []formula.Param{chargeV, in("per_kelvin", "V/K", mixed, "compensation of the bank, below zero: lead -0.016 to -0.030 per 12 V"), in("temp", "degC", mixed, "temperature of the battery, or of its sensor")}, Result: unit("V"),
			Text: "V + k·(T - 25)", Source: "makers' data", Domain: "-10 to 50 °C; lithium is not moved", Example: "volts=14.4V per-kelvin=-0.03V/K temp=5C", Do: of3(CompVolts),
		},
		{
			Name: "cca_ohm", Area: "battery", Title: "Cold resistance of a starter battery",
			Params: []formula.Param{in("cca", "A", falls, "cold cranking amps")}, Result: unit("ohm"), Act: grows, Text: "(12.6 - 7.2)/CCA", Source: "SAE J537 [standard], derived", Domain: "12 V, -18 °C; at 25 °C 0.55-0.65 of it",
			Example: "cca=600A", Do: of1(CCAOhm),
		},
		{
			Name: "load_test_volts", Area: "battery", Title: "Least volts of a starter battery under test",
			Params: []formula.Param{in("temp", "degC", grows, "temperature of the battery")}, Result: unit("V"), Act: grows, Text: "table", Source: "service manuals, five",
			Domain: "12 V, 15 s at half its cold cranking amps, 75 % charged, -18 to 50 °C", Example: "temp=10C", Do: of1(LoadTestVolts),
		},
		{
			Name: "shunt_watts", Area: "battery", Title: "Heat of a shunt",
			Params: []formula.Param{oneOf("label", "print on the shunt", shunts), in("amps", "A", grows, "current through it")}, Result: unit("W"), Act: grows, Text: "I²·R", Source: "textbook", Domain: "above its rated amps it drifts",
			Example: "label=100A-75mV amps=100A", Do: func(a []float64) (float64, error) { return ShuntWatts(int(a[0]), a[1]) },
		},
		{
			Name: "clean_joint_ohm", Area: "joint", Title: "Resistance of a clean bolted joint by torque",
			Params: []formula.Param{in("torque", "Nm", falls, "torque of the bolt"), oneOf("thread", "thread of the bolt", threads)}, Result: unit("ohm"), Act: grows,
			Text: "R = (rho/2)·sqrt(pi·H/F), F = T/(0.2·d)", Source: "Holm [textbook]; torque to force 0.2·d [textbook]", Domain: "copper, hardness 1 GPa, clean faces; ten times as much has a film", Example: "torque=10Nm thread=M8",
			Do: func(a []float64) (float64, error) { return CleanJointOhm(a[0], int(a[1])) },
		},
	}
}

// windowLimits decides a question that is answered yes in a window: no is
// possible at some corner, yes where fits says so of the limits.
func windowLimits(f *formula.Func, fits func(a []formula.Val) bool) func([]formula.Val) formula.Val {
	return func(a []formula.Val) formula.Val {
		lo, okLow := extreme(f, corners(f, a, false), math.Min)
		_, okHigh := extreme(f, corners(f, a, true), math.Max)
		if !okLow || !okHigh {
			return formula.Val{Lo: math.NaN(), Hi: math.NaN()}
		}
		return formula.Val{CanTrue: fits(a), CanFalse: lo < 0.5}
	}
}

// fullSettingsLimits: the charged volts lie in a window between float and absorption.
func fullSettingsLimits(f *formula.Func) func([]formula.Val) formula.Val {
	return windowLimits(f, func(a []formula.Val) bool {
		k := a[5].Lo / 12
		top, bottom := a[1].Hi-0.2*k+1e-9, a[2].Lo+0.1*k
		return a[0].Lo <= top && a[0].Hi > bottom && bottom < top && a[3].Hi > a[4].Lo
	})
}

// tooEarlyLimits: the charge current lies in a window, enough to lift the volts and
// less than the tail.
func tooEarlyLimits(f *formula.Func) func([]formula.Val) formula.Val {
	return windowLimits(f, func(a []formula.Val) bool {
		amps := min(a[3].Hi, a[1].Hi)
		return a[2].Hi+amps*a[4].Hi >= a[0].Lo && a[3].Lo < a[1].Hi
	})
}
