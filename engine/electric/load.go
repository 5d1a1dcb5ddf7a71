package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// Load is one consumer of a day: Watts while it runs, Hours that it is switched
// on, the Duty of that time in which it really runs (1 for all of it), and the
// Efficiency of what feeds it (1 straight from the battery, 0.85 by an inverter).
type Load struct {
	Name                           string
	Watts, Hours, Duty, Efficiency float64
}

// Wh is the energy that the load takes out of the battery.
func (l Load) Wh() (float64, error) { return LoadWh(l.Watts, l.Hours, l.Duty, l.Efficiency) }

// Budget is the energy of a day: what runs at night and by day, what the array
// brings, and what part of it comes back out of the battery (Eta: 0.95 lithium,
// 0.80 lead).
type Budget struct {
	Night, Day []Load
	Sun        float64 // Wh at the posts
	Eta        float64
}

// Sums are the Wh of the night and of the day.
func (b Budget) Sums() (night, day float64, err error) {
	for _, l := range b.Night {
		wh, e := l.Wh()
		night, err = night+wh, first(err, e)
	}
	for _, l := range b.Day {
		wh, e := l.Wh()
		day, err = day+wh, first(err, e)
	}
	return night, day, err
}

// Balance is the Wh that the battery gains (or loses, below zero) in the day.
func (b Budget) Balance() (float64, error) {
	night, day, err := b.Sums()
	if err != nil {
		return 0, err
	}
	return DayBalance(b.Sun, day, night, b.Eta)
}

// LoadWh is the energy in Wh that a load takes out of the battery: P·h·duty/n.
func LoadWh(watts, hours, duty, eff float64) (float64, error) {
	const fn = "load_wh"
	if err := first(notNegative(fn, "the load", watts, "W"), span(fn, "the time", hours, 0, 8784, "h"), span(fn, "the part of the time that it runs", duty, 0, 1, ""), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return watts * hours * duty / eff, nil
}

// EnergyAh is the amp-hours of an energy at mean volts: 12.4 V lead, 13.1 lithium
// per 12 V.
func EnergyAh(wh, volts float64) (float64, error) {
	const fn = "energy_ah"
	return wh / volts, first(notNegative(fn, "the energy", wh, "Wh"), positive(fn, "the mean volts", volts, "V"))
}

// DawnPct is the charge in per cent left of a bank of ah after used amp-hours.
// Errors: it is empty before that.
func DawnPct(charge, used, ah float64) (float64, error) {
	const fn = "dawn_pct"
	if err := first(span(fn, "the charge at dusk", charge, 0, 100, "%"), notNegative(fn, "what is used", used, "Ah"), positive(fn, "the capacity", ah, "Ah")); err != nil {
		return 0, err
	}
	left := charge - 100*used/ah
	if left < 0 {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g Ah are not in the bank: it is empty after %.4g Ah", used, charge/100*ah))
	}
	return left, nil
}

// DayBalance is the energy in Wh that a battery gains in a day: what is left of
// the sun after the loads of the day times eta, less the night. Loads of the day
// beyond the sun come straight out of the battery. One sheet divides lithium's
// deficit by the volts of lead; energy_ah with 13.1 V is right.
func DayBalance(sun, day, night, eta float64) (float64, error) {
	const fn = "day_balance"
	if err := first(notNegative(fn, "the energy of the sun", sun, "Wh"), notNegative(fn, "the loads by day", day, "Wh"), notNegative(fn, "the loads at night", night, "Wh"), span(fn, "what the battery gives back", eta, 0.05, 1, "")); err != nil {
		return 0, err
	}
	left := sun - day
	if left > 0 {
		left *= eta
	}
	return left - night, nil
}

// StandHours is how many hours usable amp-hours last at a standing current.
func StandHours(ah, amps float64) (float64, error) {
	const fn = "stand_hours"
	return ah / amps, first(notNegative(fn, "the usable amp-hours", ah, "Ah"), positive(fn, "the standing current", amps, "A"))
}

// StartAmps is the battery amps as a motor of running watts starts through an
// inverter: P·k/(V·n), k 5 to 7 for compressors, 2 to 3 for brush motors.
func StartAmps(watts, times, volts, eff float64) (float64, error) {
	const fn = "start_amps"
	if err := first(notNegative(fn, "the running power", watts, "W"), span(fn, "the start over the run", times, 1, 15, ""), positive(fn, "the volts", volts, "V"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return watts * times / (volts * eff), nil
}

// StartVA is the volt-amps that an inverter must give as a motor starts: P·k/pf.
func StartVA(watts, times, pf float64) (float64, error) {
	const fn = "start_va"
	if err := first(notNegative(fn, "the running power", watts, "W"), span(fn, "the start over the run", times, 1, 15, ""), span(fn, "the power factor", pf, 0.2, 1, "")); err != nil {
		return 0, err
	}
	return watts * times / pf, nil
}

// EndOfRunVolts is the volts at a load at the end of a run of metres one way of
// size mm² at temp °C, with battery volts at its start.
// Errors: the wire would eat them all.
func EndOfRunVolts(battery, amps, run, size, temp float64) (float64, error) {
	const fn = "end_of_run_volts"
	u, err := roundTrip(fn, amps, run, size, temp, plainRho, plainOhm)
	if err = first(err, notNegative(fn, "the battery", battery, "V")); err != nil {
		return 0, err
	}
	if u > battery {
		return 0, formula.Outside(fn, fmt.Sprintf("%.4g A cannot flow: the wire alone would drop %.4g V", amps, u))
	}
	return battery - u, nil
}

// CutoutPostVolts is the volts at the posts at which a load with a low cut-out
// stops when amps flow through ohm of wires and joints: off + I·R. The battery
// may look fine there.
func CutoutPostVolts(off, amps, ohm float64) (float64, error) {
	const fn = "cutout_post_volts"
	return off + amps*ohm, first(notNegative(fn, "the cut-out", off, "V"), notNegative(fn, "the current", amps, "A"), notNegative(fn, "the path", ohm, "ohm"))
}

// CutsOut says that a load stops by its low cut-out: posts - I·R < off.
func CutsOut(posts, amps, ohm, off float64) (float64, error) {
	const fn = "cuts_out"
	return yes(posts-amps*ohm < off), first(notNegative(fn, "the posts", posts, "V"), notNegative(fn, "the current", amps, "A"), notNegative(fn, "the path", ohm, "ohm"), notNegative(fn, "the cut-out", off, "V"))
}

// Hunts says that a load stops and restarts for ever: I·R is at least the gap
// between its restart and its cut-out volts; R includes the battery.
func Hunts(amps, ohm, gapVolts float64) (float64, error) {
	const fn = "hunts"
	return yes(amps*ohm >= gapVolts), first(notNegative(fn, "the current", amps, "A"), notNegative(fn, "battery and path", ohm, "ohm"), positive(fn, "the gap", gapVolts, "V"))
}

// ConverterAmps is the amps into a DC-DC converter that gives amps at out volts:
// V_out·I_out/(n·V_in). Wire and fuse its input for this.
func ConverterAmps(out, amps, in, eff float64) (float64, error) {
	const fn = "converter_amps"
	if err := first(notNegative(fn, "the output", out, "V"), notNegative(fn, "the output", amps, "A"), positive(fn, "the input", in, "V"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return out * amps / (eff * in), nil
}

// ChargerVA is the volt-amps of mains or generator that a charger of volts and
// amps takes: V·I/(0.85·pf); its watts are those with a power factor of 1. A
// generator is loaded to 60 or 70 % of its rating.
func ChargerVA(volts, amps, pf float64) (float64, error) {
	const fn = "charger_va"
	if err := first(notNegative(fn, "the charge", volts, "V"), notNegative(fn, "the charge", amps, "A"), span(fn, "the power factor", pf, 0.2, 1, "")); err != nil {
		return 0, err
	}
	return volts * amps / (0.85 * pf), nil
}

// StripPct is the current of a plain light strip (three diodes and a resistor per
// section) in per cent of that at 12.0 V: (V - 9.9)/2.1.
func StripPct(volts float64) (float64, error) {
	return 100 * (volts - 9.9) / 2.1, span("strip_pct", "a light strip", volts, 9.9, 16, "V")
}

// HydrogenFlow is the hydrogen in m³/h that amps of gassing current free in cells
// at 25 °C: 0.456e-3 m³ per Ah and cell. One sheet has 0.42e-3, which is the
// volume at 0 °C.
func HydrogenFlow(amps, cells float64) (float64, error) {
	const fn = "hydrogen_flow"
	return 0.000456 * amps * cells, first(notNegative(fn, "the gassing current", amps, "A"), span(fn, "cells", cells, 1, 400, ""))
}

// PeukertK is the exponent from two full discharges: ln(t1/t2)/ln(I2/I1).
// Errors: the larger current did not empty it sooner, or k is not of 1 to 2.
func PeukertK(slowHours, slowAmps, fastHours, fastAmps float64) (float64, error) {
	const fn = "peukert_k"
	if err := first(positive(fn, "the slow discharge", slowHours, "h"), positive(fn, "the slow discharge", slowAmps, "A"), positive(fn, "the fast discharge", fastHours, "h"), positive(fn, "the fast discharge", fastAmps, "A")); err != nil {
		return 0, err
	}
	if fastAmps < 1.05*slowAmps {
		return 0, formula.Outside(fn, "the two discharges need different currents, the second the larger, by a twentieth at least")
	}
	k := math.Log(slowHours/fastHours) / math.Log(fastAmps/slowAmps)
	return k, span(fn, "the exponent that comes out", k, 1, 2, "")
}

// TailHours is how long the current takes from amps down to tail in absorption,
// with ah still missing in the taper: Q·ln(I0/It)/(I0 - It).
func TailHours(ah, amps, tail float64) (float64, error) {
	const fn = "tail_hours"
	if err := first(notNegative(fn, "what is missing", ah, "Ah"), positive(fn, "the tail", tail, "A"), span(fn, "the current at the start", amps, 1.001*tail, 1e6, "A")); err != nil {
		return 0, err
	}
	return leadTail(ah, amps, tail), nil
}

// ChargeEfficiency is what comes out of a battery between two full charges in per
// cent of what went in: lithium 99, AGM and gel 90 to 95, flooded 80 to 90.
func ChargeEfficiency(out, in float64) (float64, error) {
	const fn = "charge_efficiency"
	if err := first(notNegative(fn, "what came out", out, "Ah"), positive(fn, "what went in", in, "Ah")); err != nil {
		return 0, err
	}
	return 100 * out / in, span(fn, "what came out over what went in", out/in, 0, 1.1, "")
}

// FullVolts is the charged volts to set in a monitor so that it sees full before
// the charger leaves absorption: 0.2 V per 12 V under it.
func FullVolts(absorb, system float64) (float64, error) {
	const fn = "full_volts"
	k, err := twelves(fn, system)
	return absorb - 0.2*k, first(err, notNegative(fn, "the absorption", absorb, "V"))
}

// FullSettings says that a monitor can see full: its charged volts at most those
// of FullVolts and more than 0.1 V per 12 V above float, its tail above the
// charger's own.
func FullSettings(charged, absorb, float, tail, chargerTail, system float64) (float64, error) {
	const fn = "full_set_right"
	k, err := twelves(fn, system)
	if err = first(err, notNegative(fn, "the charged volts", charged, "V"), notNegative(fn, "the absorption", absorb, "V"), notNegative(fn, "the float", float, "V"), notNegative(fn, "the tail set", tail, "A"), notNegative(fn, "the charger's tail", chargerTail, "A")); err != nil {
		return 0, err
	}
	return yes(charged <= absorb-0.2*k+1e-9 && charged > float+0.1*k && tail > chargerTail), nil
}

// FullTooEarly says that a monitor takes a bank for full that is not: at rest
// volts rest, charging with amps through its own ohm, it already sees the charged
// volts and less than the tail.
func FullTooEarly(charged, tail, rest, amps, ohm float64) (float64, error) {
	const fn = "full_too_early"
	if err := first(notNegative(fn, "the charged volts", charged, "V"), notNegative(fn, "the tail set", tail, "A"), notNegative(fn, "the rest volts", rest, "V"), notNegative(fn, "the charge", amps, "A"), notNegative(fn, "the bank", ohm, "ohm")); err != nil {
		return 0, err
	}
	return yes(rest+amps*ohm >= charged && amps < tail), nil
}

// CompVolts is a charge voltage moved by temperature compensation: V + k·(T - 25),
// k in V/K below zero. Errors: temp outside 0 to 50 °C, where chargers stop moving.
func CompVolts(volts, perKelvin, temp float64) (float64, error) {
	const fn = "comp_volts"
	return volts + perKelvin*(temp-25), first(notNegative(fn, "the charge", volts, "V"), span(fn, "the compensation", perKelvin, -0.2, 0, "V/K"), span(fn, "a battery temperature", temp, -10, 50, "°C"))
}

// CCAOhm is the resistance in ohms at -18 °C of a starter battery by its cold
// cranking amps: (12.6 - 7.2)/CCA; at 25 °C it is 0.55 to 0.65 of it.
func CCAOhm(cca float64) (float64, error) {
	return (12.6 - 7.2) / cca, positive("cca_ohm", "the cold cranking amps", cca, "A")
}

// LoadTestVolts is the least volts of a 12 V starter battery after 15 s at half
// its cold cranking amps, at temp °C (five service manuals, straight lines
// between their rows). Errors: temp outside -18 to 50 °C.
func LoadTestVolts(temp float64) (float64, error) {
	if err := span("load_test_volts", "a battery temperature", temp, -18, 50, "°C"); err != nil {
		return 0, err
	}
	return along([]float64{-18, -12, -7, -1, 4, 10, 16, 21, 50}, []float64{8.5, 8.7, 8.9, 9.1, 9.3, 9.4, 9.5, 9.6, 9.6}, temp), nil
}

// ShuntWatts is the heat of a shunt at amps; above its rated amps it drifts.
func ShuntWatts(label int, amps float64) (float64, error) {
	const fn = "shunt_watts"
	if err := first(chosen(fn, "shunt", label, len(shunts)), notNegative(fn, "the current", amps, "A")); err != nil {
		return 0, err
	}
	return amps * amps * shuntOhm[label], nil
}

// CleanJointOhm is the resistance in ohms of one clean bolted joint of copper
// faces by the torque of its bolt, M3.5 to M12: (rho/2)·sqrt(pi·H/F) with F =
// T/(0.2·d), H 1 GPa (Holm). More than ten times this has a film, a washer or too
// few strands. Errors: no torque.
func CleanJointOhm(torque float64, thread int) (float64, error) {
	const fn = "clean_joint_ohm"
	if err := first(positive(fn, "a torque", torque, "N·m"), chosen(fn, "thread", thread, len(threads))); err != nil {
		return 0, err
	}
	d := []float64{3.5, 4, 5, 6, 8, 10, 12}[thread] / 1000
	force := torque / (0.2 * d)
	return 17.241e-9 / 2 * math.Sqrt(math.Pi*1e9/force), nil
}
