package simrig

import (
	"testing"

	"hotlug/engine/rig"
)

// seenCases are changes of a sound plant and what a person then answers.
var seenCases = []struct {
	name    string
	volts   float64 // 12 where nothing is said
	chem    string  // lfp
	kind    string  // mppt
	focus   string
	change  func(p *Plant)
	reading string
	want    string // "?": can't be told
}{
	{name: "main isolator off", change: func(p *Plant) { p.Parts["main-isolator"].Open = true }, reading: "switches_seen", want: "battery-isolator-off"},
	{name: "solar switch off", change: func(p *Plant) { p.Parts["pv-isolator"].Open = true }, reading: "switches_seen", want: "pv-isolator-off"},
	{name: "the first on the way is named", change: func(p *Plant) { p.Parts["main-isolator"].Open, p.Parts["pv-isolator"].Open = true, true }, reading: "switches_seen", want: "pv-isolator-off"},
	{name: "fuse out", change: func(p *Plant) { p.Parts["controller-fuse"].Missing = true }, reading: "switches_seen", want: "fuse-missing"},
	{name: "fuse blown", change: func(p *Plant) { p.Parts["controller-fuse"].Blown = true }, reading: "switches_seen", want: "fuse-blown"},
	{name: "fuse cracked inside", change: func(p *Plant) { p.Parts["controller-fuse"].Broken = true }, reading: "switches_seen", want: "all-on"},
	{name: "lead off", change: func(p *Plant) { p.Parts["ctl-neg"].Missing = true }, reading: "switches_seen", want: "lead-off"},
	{name: "a load's fuse is not on the way", change: func(p *Plant) { p.Parts["fridge-fuse"].Blown = true }, reading: "switches_seen", want: "all-on"},

	{name: "dusk", change: func(p *Plant) { p.Sky.Full = 2 }, reading: "sun_now", want: "none"},
	{name: "haze", change: func(p *Plant) { p.Sky.Full = 300 }, reading: "sun_now", want: "weak"},
	{name: "shade", change: func(p *Plant) { p.Array.Shade = []float64{1, 0.1} }, reading: "array_look", want: "shaded"},
	{name: "dirt", change: func(p *Plant) { p.Array.Dirt = 0.3 }, reading: "array_look", want: "dirty"},
	{name: "plug not joined", change: func(p *Plant) { p.Parts["pv-plug-neg"].Missing = true }, reading: "array_look", want: "some-not-connected"},
	{name: "plug burnt", change: func(p *Plant) { p.Parts["pv-plug-pos"].Browned = true }, reading: "array_look", want: "plug-burnt"},
	{name: "lead off at the controller is not seen from the ground", change: func(p *Plant) { p.Parts["pv-pos-ctl"].Missing = true }, reading: "array_look", want: "sound"},

	{name: "dead controller", change: func(p *Plant) { p.Controller.Dead = true }, reading: "controller_lit", want: "no"},
	{name: "controller without feed", kind: "pwm", change: func(p *Plant) { p.Parts["ctl-neg-splice"].Broken = true }, reading: "controller_lit", want: "no"},
	{name: "controller without feed lives on a lead of its own", kind: "pwm", change: func(p *Plant) { p.Parts["ctl-neg-splice"].Broken = true }, reading: "works_on_direct_lead", want: "yes"},
	{name: "controller without feed stays dark after a reset", kind: "pwm", change: func(p *Plant) { p.Parts["ctl-neg-splice"].Broken = true }, reading: "alive_after_reset", want: "no"},
	{name: "dead controller on a lead", change: func(p *Plant) { p.Controller.Dead = true }, reading: "works_on_direct_lead", want: "no"},
	{name: "battery asleep", change: func(p *Plant) { p.Battery.Off = true }, reading: "works_on_direct_lead", want: "no"},
	{name: "dark controller tells no error", change: func(p *Plant) { p.Controller.Dead = true }, reading: "controller_error", want: "?"},
	{name: "dark controller", change: func(p *Plant) { p.Controller.Dead = true }, reading: "controller_stage", want: "dark"},
	{name: "reversed array at a tracker", change: func(p *Plant) { p.Array.Reversed = true }, reading: "controller_error", want: "pv-reversed"},
	{name: "24 V bank taken for 12", volts: 24, change: func(p *Plant) { p.Controller.SystemV = 12 }, reading: "controller_error", want: "over-voltage"},
	{name: "12 V bank taken for 24", change: func(p *Plant) { p.Controller.SystemV = 24 }, reading: "controller_error", want: "battery-low"},
	{name: "12 V bank taken for 24 gives nothing", change: func(p *Plant) { p.Controller.SystemV = 24 }, reading: "controller_stage", want: "fault"},
	{name: "too hot", change: func(p *Plant) { p.Controller.TooHot = true }, reading: "controller_error", want: "too-hot"},
	{name: "disabled", change: func(p *Plant) { p.Controller.Disabled = true }, reading: "controller_stage", want: "disabled"},
	{name: "full battery", change: func(p *Plant) { p.Battery.Full, p.Battery.Charge = true, 100 }, reading: "controller_stage", want: "float"},
	{name: "night", change: func(p *Plant) { p.Sky.Full = 0 }, reading: "controller_stage", want: "standby"},
	{name: "dead output thinks that it charges", change: func(p *Plant) { p.Controller.DeadOut = true }, reading: "controller_stage", want: "bulk"},
	{name: "dead output charges nothing", change: func(p *Plant) { p.Controller.DeadOut = true }, reading: "charges_after_restart", want: "no"},
	{name: "hung", change: func(p *Plant) { p.Controller.Hung = true }, reading: "controller_stage", want: "standby"},
	{name: "hung charges after a restart", change: func(p *Plant) { p.Controller.Hung = true }, reading: "charges_after_restart", want: "yes"},
	{name: "wrong volts learned are learned anew", volts: 24, change: func(p *Plant) { p.Controller.AutoV, p.Controller.SystemV = true, 12 }, reading: "charges_after_restart", want: "yes"},
	{name: "wrong volts set stay", volts: 24, change: func(p *Plant) { p.Controller.SystemV = 12 }, reading: "charges_after_restart", want: "no"},
	{name: "set by hand", change: func(p *Plant) { p.Controller.AutoV = false }, reading: "system_volt_mode", want: "set-by-hand"},

	{name: "no app on lead", chem: "agm", reading: "bms_flag", want: "no-app"},
	{name: "cells below freezing", change: func(p *Plant) { p.Battery.CellC = -4 }, reading: "bms_flag", want: "cold"},
	{name: "frost is told by lithium's controller", change: func(p *Plant) { p.Battery.CellC = -4 }, reading: "controller_error", want: "too-cold"},
	{name: "lead in frost is charged", chem: "agm", change: func(p *Plant) { p.Battery.CellC = -4 }, reading: "controller_error", want: "none"},
	{name: "cut in the cold", change: func(p *Plant) { p.Battery.CellC, p.Battery.NoCharge = -4, true }, reading: "cut_when", want: "in-cold"},
	{name: "runner", change: func(p *Plant) { p.Battery.Flag = "cell-difference" }, reading: "cell_behaviour", want: "high-on-charge-only"},
	{name: "charging now", reading: "rest_kind", want: "charging-now"},
	{name: "used at night", change: func(p *Plant) { p.Sky.Full, p.LeftOn["fridge"] = 0, 60 }, reading: "rest_kind", want: "working-now"},
	{name: "at rest at night", change: func(p *Plant) { p.Sky.Full = 0; p.Inverter.Switch = false }, reading: "rest_kind", want: "rested-after-use"},

	{name: "gauge of volts", change: func(p *Plant) { p.Monitor.Source = "volts-only" }, reading: "percent_pattern", want: "jumps-with-load"},
	{name: "shunt reversed", change: func(p *Plant) { p.Monitor.Reversed = true }, reading: "percent_pattern", want: "wrong-direction"},
	{name: "sense wire off", change: func(p *Plant) { p.Monitor.Wire = "loose-plug" }, reading: "percent_pattern", want: "nonsense-at-times"},
	{name: "sense wire off moves nothing", change: func(p *Plant) { p.Monitor.Wire = "loose-plug" }, reading: "monitor_moves", want: "no"},
	{name: "full mark above the charger", change: func(p *Plant) { p.Monitor.FullV = p.Controller.AbsorbV + 0.3 }, reading: "percent_pattern", want: "never-100"},
	{name: "tail never met", change: func(p *Plant) { p.Monitor.TailPct = 0.2 }, reading: "percent_pattern", want: "never-100"},
	{name: "full mark at half charge", change: func(p *Plant) { p.Monitor.FullV = 13.2 }, reading: "percent_pattern", want: "jumps-to-100-early"},
	{name: "capacity set small", change: func(p *Plant) { p.Monitor.Ah = 100 }, reading: "percent_pattern", want: "too-fast-or-slow"},
	{name: "capacity set big", change: func(p *Plant) { p.Monitor.Ah = 400 }, reading: "percent_pattern", want: "too-fast-or-slow"},
	{name: "battery faded", change: func(p *Plant) { p.Battery.Ah = 75 }, reading: "percent_pattern", want: "quits-above-zero"},
	{name: "another shunt set shows more", change: func(p *Plant) { p.Monitor.ShuntSet = "300A-75mV" }, reading: "percent_pattern", want: "too-fast-or-slow"},
	{name: "all loads past the shunt", change: func(p *Plant) { p.Bypass["inverter"], p.Bypass["fridge"], p.Bypass["lights"] = true, true, true }, reading: "percent_pattern", want: "stuck-at-100"},
	{name: "all loads past the shunt move nothing", change: func(p *Plant) { p.Bypass["inverter"], p.Bypass["fridge"], p.Bypass["lights"] = true, true, true }, reading: "monitor_moves", want: "no"},
	{name: "one load past the shunt", change: func(p *Plant) { p.Bypass["fridge"] = true }, reading: "monitor_moves", want: "yes"},
	{name: "zero drift", change: func(p *Plant) { p.Monitor.ZeroA = -0.3 }, reading: "percent_pattern", want: "drifts-when-idle"},
	{name: "zero drift over weeks", change: func(p *Plant) { p.Monitor.ZeroA, p.Monitor.Idle, p.Monitor.Weeks = -0.2, true, 4 }, reading: "percent_pattern", want: "wrong-after-storage"},
	{name: "lead's exponent on lithium", change: func(p *Plant) { p.Monitor.Peukert = 1.3 }, reading: "percent_pattern", want: "none-of-these"},
	{name: "cell wire loose", change: func(p *Plant) { p.Monitor.Source, p.Battery.Cell = "battery-app", "jumps-without-current" }, reading: "percent_pattern", want: "nonsense-at-times"},
	{name: "app reads volts low", change: func(p *Plant) { p.Monitor.Source, p.Battery.BMSOff = "battery-app", -0.2 }, reading: "percent_pattern", want: "never-100"},

	{name: "spanner across the posts", change: func(p *Plant) { p.Event.Tool = "post" }, reading: "spark_kind", want: "tool-slipped"},
	{name: "spanner to the frame", change: func(p *Plant) { p.Event.Tool = "frame" }, reading: "spark_kind", want: "live-metal-touched-frame"},
	{name: "small capacitors", chem: "agm", change: func(p *Plant) { p.Event.Joining = "inverter" }, reading: "spark_kind", want: "one-snap"},
	{name: "rush trips the protection", change: func(p *Plant) { p.Event.Joining, p.Inverter.Farad, p.Battery.TripA = "inverter", 0.06, 60 }, reading: "spark_kind", want: "battery-went-dead"},
	{name: "filled first", change: func(p *Plant) {
		p.Event.Joining, p.Event.Precharged, p.Inverter.Farad, p.Battery.TripA = "inverter", true, 0.06, 60
	}, reading: "spark_kind", want: "one-snap"},
	{name: "load left on", chem: "agm", change: func(p *Plant) { p.Event.Joining, p.LeftOn["fridge"] = "system", 60 }, reading: "spark_kind", want: "every-touch"},
	{name: "fuse went", change: func(p *Plant) { p.Event = Event{Joining: "inverter", Reversed: true, FuseBlew: true} }, reading: "spark_kind", want: "fuse-blew"},
	{name: "shorted inverter on lead", chem: "agm", change: func(p *Plant) { p.Event.Joining, p.Inverter.Shorted, p.Inverter.Ohm = "inverter", true, 0.001 }, reading: "spark_kind", want: "fuse-blew"},
	{name: "shorted inverter on lithium", change: func(p *Plant) { p.Event.Joining, p.Inverter.Shorted, p.Inverter.Ohm = "inverter", true, 0.001 }, reading: "spark_kind", want: "battery-went-dead"},
	{name: "lead lifted in the sun", change: func(p *Plant) { p.Event = Event{Joining: "system", Parting: true} }, reading: "spark_kind", want: "on-lifting"},
	{name: "solar plug pulled", change: func(p *Plant) { p.Event = Event{Joining: "device", Parting: true, PVPlug: true} }, reading: "spark_kind", want: "at-pv-plug"},
	{name: "unlevel batteries", chem: "agm", change: func(p *Plant) { p.Event = Event{Joining: "battery", OtherV: 12, OtherOhm: 0.004} }, reading: "spark_kind", want: "every-touch"},

	{name: "lamp fills capacitors", change: func(p *Plant) { p.Event.Joining, p.Inverter.Farad = "inverter", 0.02 }, reading: "gap_lamp", want: "flash-then-dark"},
	{name: "lamp on small capacitors", change: func(p *Plant) { p.Event.Joining, p.Inverter.Farad = "inverter", 0.001 }, reading: "gap_lamp", want: "stays-dark"},
	{name: "lamp with a load on", change: func(p *Plant) { p.Event.Joining, p.LeftOn["fridge"] = "system", 60 }, reading: "gap_lamp", want: "bright-until-loads-off"},
	{name: "lamp on a shorted inverter", change: func(p *Plant) { p.Event.Joining, p.Inverter.Shorted, p.Inverter.Ohm = "inverter", true, 0.1 }, reading: "gap_lamp", want: "always-bright"},
	{name: "lamp behind a blown fuse", change: func(p *Plant) {
		p.Event.Joining, p.Inverter.Shorted, p.Inverter.Ohm = "inverter", true, 0.1
		p.Parts["main-fuse"].Blown = true
	}, reading: "gap_lamp", want: "stays-dark"},
	{name: "a blown fuse behind the gap", change: func(p *Plant) { p.Event.Joining, p.Parts["main-fuse"].Blown = "inverter", true }, reading: "gap_closed", want: "no"},
	{name: "lamp between reversed batteries", change: func(p *Plant) { p.Event = Event{Joining: "battery", Reversed: true, OtherV: 13, OtherOhm: 0.004} }, reading: "gap_lamp", want: "always-bright"},
	{name: "leads exchanged", change: func(p *Plant) { p.Event = Event{Joining: "inverter", Reversed: true} }, reading: "reverse_sign", want: "colours-crossed"},
	{name: "batteries of two kinds", change: func(p *Plant) { p.Event = Event{Joining: "battery", OtherV: 13, Unlike: true} }, reading: "pair_alike", want: "no"},

	{name: "worn holder, cooked", focus: "fridge-fuse", change: func(p *Plant) { p.Parts["fridge-fuse"].Browned = true }, reading: "fuse_look", want: "whole-holder-melted"},
	{name: "bridged", focus: "fridge-fuse", change: func(p *Plant) { p.Parts["fridge-fuse"].FuseA = 100 }, reading: "fuse_look", want: "bridged-or-oversize"},
	{name: "short behind the fuse", focus: "fridge-fuse", change: func(p *Plant) { p.Parts["fridge-fuse"].Blown, p.Shorts["fridge"] = true, 0.1 }, reading: "fuse_look", want: "black-splash"},
	{name: "overloaded and blown", focus: "fridge-fuse", change: func(p *Plant) { p.Parts["fridge-fuse"].Blown = true }, reading: "fuse_look", want: "clean-break"},
	{name: "film", focus: "main-fuse-bat", change: func(p *Plant) { p.Parts["main-fuse-bat"].FaceOhm = 5e-4 }, reading: "joint_look", want: "dull-film"},
	{name: "loose crimp", focus: "main-fuse-bat", change: func(p *Plant) { p.Parts["main-fuse-bat"].BarrelOhm = 5e-4 }, reading: "joint_look", want: "barrel-loose"},
	{name: "washer", focus: "main-fuse-bat", change: func(p *Plant) { p.Parts["main-fuse-bat"].Look = "washer-under-lug" }, reading: "joint_look", want: "washer-under-lug"},
	{name: "the stud of a holder", focus: "main-fuse", change: func(p *Plant) { p.Parts["main-fuse-bat"].Look = "green-or-white" }, reading: "joint_look", want: "green-or-white"},
	{name: "loose lug jumps", focus: "main-fuse-bat", change: func(p *Plant) { p.Parts["main-fuse-bat"].Jumps = true }, reading: "drop_jumps", want: "yes"},
	{name: "plus splice crusted", change: func(p *Plant) { p.Parts["ctl-pos-splice"].FaceOhm = 8 }, reading: "plus_splice_look", want: "crust"},
	{name: "plus splice and minus look", change: func(p *Plant) { p.Parts["ctl-pos-splice"].FaceOhm = 8 }, reading: "minus_splice_look", want: "sound"},
	{name: "minus wire out", change: func(p *Plant) { p.Parts["ctl-neg-splice"].Broken = true }, reading: "minus_splice_look", want: "wire-out"},
	{name: "browned part", focus: "fridge-plug", change: func(p *Plant) { p.Parts["fridge-plug"].Browned = true }, reading: "browned", want: "yes"},
	{name: "only warm", focus: "fridge-plug", reading: "browned", want: "no"},
	{name: "plug", focus: "fridge-plug", reading: "trouble_spot", want: "plug-or-socket"},
	{name: "kind of plug", focus: "fridge-plug", reading: "plug_kind", want: "socket"},
	{name: "kind of switch", focus: "main-isolator", reading: "switch_kind", want: "isolator"},
	{name: "post", focus: "post-neg", reading: "trouble_spot", want: "battery-post"},
	{name: "cable", focus: "fridge", reading: "trouble_spot", want: "cable-along"},
	{name: "pole of a joint", focus: "post-neg", reading: "joint_pole", want: "minus"},
	{name: "wire in a wall", focus: "fridge", change: func(p *Plant) { p.Parts["fridge"].Lay = "in-insulation" }, reading: "wire_run", want: "in-insulation"},

	{name: "plant's own danger", change: func(p *Plant) { p.Danger = "battery-swollen" }, reading: "danger_what", want: "battery-swollen"},
	{name: "hot battery", change: func(p *Plant) { p.Battery.CellC = 58 }, reading: "danger_what", want: "battery-hot"},
	{name: "frozen battery", chem: "agm", change: func(p *Plant) { p.Battery.CellC, p.Battery.Charge = -20, 5 }, reading: "danger_what", want: "battery-frozen"},
	{name: "full battery does not freeze", chem: "agm", change: func(p *Plant) { p.Battery.CellC, p.Battery.Charge = -20, 100 }, reading: "danger_now", want: "no"},
	{name: "a bad joint is cold with the loads off", focus: "fridge-plug", change: func(p *Plant) { p.Parts["fridge-plug"].FaceOhm = 0.5 }, reading: "danger_now", want: "no"},
	{name: "smoke goes on", change: func(p *Plant) { p.Danger = "flames-or-smoke" }, reading: "made_safe", want: "no"},
	{name: "off and cold", focus: "main-fuse", change: func(p *Plant) { p.Parts["main-fuse"].Browned = true }, reading: "made_safe", want: "yes"},
	{name: "welded shut", focus: "main-isolator", change: func(p *Plant) { p.Parts["main-isolator"].Welded = true }, reading: "made_safe", want: "no"},
}

func TestWhatIsSeen(t *testing.T) {
	for _, c := range seenCases {
		t.Run(c.name, func(t *testing.T) {
			s := observed(t, hut(max(c.volts, 12), either(c.chem, "lfp"), either(c.kind, "mppt")), c.change)
			s.focus = c.focus
			got := look(t, s, c.reading, "")
			if c.want == "?" {
				if got.Known {
					t.Errorf("%s is %q, want that it can't be told", c.reading, got.Choice)
				}
				return
			}
			if got.Choice != c.want {
				t.Errorf("%s is %q (%s), want %q", c.reading, got.Choice, got.Reason, c.want)
			}
		})
	}
}

func either(word, other string) string {
	if word == "" {
		return other
	}
	return word
}

// figureCases are figures on displays and labels.
var figureCases = []struct {
	name    string
	change  func(p *Plant)
	reading string
	focus   string
	lo, hi  float64
}{
	{name: "settings of the monitor", reading: "monitor_capacity_ah", lo: 200, hi: 200},
	{name: "charge set", reading: "absorb_set_v", lo: 14.2, hi: 14.2},
	{name: "no limit set stands at the rating", reading: "charge_limit_set_a", lo: 10, hi: 100},
	{name: "a limit", change: func(p *Plant) { p.Controller.LimitA = 0.4 }, reading: "charge_limit_set_a", lo: 0.4, hi: 0.4},
	{name: "open sensor", change: func(p *Plant) { p.Controller.SensorDead = true }, reading: "controller_shown_batt_c", lo: -40, hi: -40},
	{name: "sensor off", change: func(p *Plant) { p.Controller.SensorOff = -25 }, reading: "controller_shown_batt_c", lo: -5, hi: -5},
	{name: "cells", reading: "cell_temp_c", lo: 20, hi: 20},
	{name: "solar volts", reading: "controller_shown_pv_v", lo: 25, hi: 60},
	{name: "reversed array shows none", change: func(p *Plant) { p.Array.Reversed = true }, reading: "controller_shown_pv_v", lo: 0, hi: 0},
	{name: "believed volts", change: func(p *Plant) { p.Controller.SystemV = 24 }, reading: "controller_system_v", lo: 24, hi: 24},
	{name: "charger at the top", reading: "charger_shown_v", lo: 14.1, hi: 14.25},
	{name: "app at the top", change: func(p *Plant) { p.Battery.BMSOff = -0.3 }, reading: "bms_shown_v", lo: 13.7, hi: 13.9},
	{name: "meters agree", reading: "meter_difference_v", lo: 0, hi: 0},
	{name: "meter that reads too much", change: func(p *Plant) { p.Meter.HandGain = 0.03 }, reading: "meter_difference_v", lo: 0.35, hi: 0.45},
	{name: "discharge has a minus", reading: "monitor_a", lo: -120, hi: -5},
	{name: "reversed has a plus", change: func(p *Plant) { p.Monitor.Reversed = true }, reading: "monitor_a", lo: 5, hi: 120},
	{name: "charge has a plus", reading: "monitor_charge_a", lo: 3, hi: 60},
	{name: "charge past the shunt", change: func(p *Plant) { p.Bypass["controller"] = true }, reading: "monitor_charge_a", lo: -3, hi: 0.2},
	{name: "zero", change: func(p *Plant) { p.Monitor.ZeroA = 0.17 }, reading: "monitor_zero_a", lo: 0.17, hi: 0.17},
	{name: "percentage of a true display", reading: "monitor_percent", lo: 66, hi: 74},
	{name: "percentage of too few amp-hours set", change: func(p *Plant) { p.Monitor.Ah = 160 }, reading: "monitor_percent", lo: 58, hi: 66},
	{name: "percentage of a monitor that never syncs", change: func(p *Plant) { p.Monitor.FullV, p.Monitor.Efficiency, p.Monitor.Weeks = 15, 95, 4 }, reading: "monitor_percent", lo: 0, hi: 60},
	{name: "mark on the sheath", focus: "fridge", reading: "wire_mark_c", lo: 70, hi: 70},
}

func TestFiguresShown(t *testing.T) {
	for _, c := range figureCases {
		t.Run(c.name, func(t *testing.T) {
			s := observed(t, hut(12, "lfp", "mppt"), c.change)
			s.focus = c.focus
			got := look(t, s, c.reading, "")
			if !got.Known || got.Value < c.lo-1e-9 || got.Value > c.hi+1e-9 {
				t.Errorf("%s is %g (%s), want %g to %g", c.reading, got.Value, got.Reason, c.lo, c.hi)
			}
		})
	}
}

// A gauge of volts falls by more than ten per cent under half a minute of load, a
// monitor that counts by less than one.
func TestPercentUnderLoad(t *testing.T) {
	for _, c := range []struct {
		source string
		fall   func(float64) bool
	}{
		{"volts-only", func(x float64) bool { return x > 10 }},
		{"shunt-monitor", func(x float64) bool { return x < 1 }},
	} {
		s := observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Monitor.Source, p.Battery.Charge, p.Sky.Full = c.source, 60, 0 })
		before := look(t, s, "monitor_percent", "").Value
		s.done = append(s.done, "load-half-a-minute")
		after := look(t, s, "monitor_percent", "").Value
		if !c.fall(before - after) {
			t.Errorf("%s: from %g to %g under load", c.source, before, after)
		}
	}
}

// A joint that is cold with the loads off gets too hot in the test of a minute,
// and then there is danger.
func TestDangerInATest(t *testing.T) {
	s := observed(t, hut(12, "lfp", "mppt"), func(p *Plant) { p.Parts["fridge-plug"].FaceOhm = 1.5 })
	s.focus = "fridge-plug"
	if got := look(t, s, "danger_now", ""); got.Choice != "no" {
		t.Fatalf("with the loads off danger_now is %q", got.Choice)
	}
	s.Do("load-on-one-minute")
	if got := look(t, s, "danger_now", ""); got.Choice != "yes" {
		c, _ := s.hotAt(s.plant.Parts["fridge-plug"], s.SituationFor([]string{"loads-on"}, "fridge-plug"))
		t.Errorf("a minute into the test danger_now is %q; it settles at %g °C", got.Choice, c)
	}
}

func TestStoryAndWords(t *testing.T) {
	for _, symptom := range []string{"no-charge", "spark-on-connecting", "percentage-wrong", "never-reads-full", "volts-percent-disagree", "hot-joint", "melted-plug"} {
		s := observed(t, hut(12, "lfp", "mppt"), func(p *Plant) {
			p.Monitor.FullV, p.Event.Joining = 15, "inverter"
			p.Parts["fridge-plug"].Browned = true
			p.Parts["ctl-neg-splice"].Broken = true
		})
		s.symptom, s.focus = symptom, "fridge-plug"
		if s.Story() == "" || s.Words() == "" || s.Words() == symptom {
			t.Errorf("%s: story %q, words %q", symptom, s.Story(), s.Words())
		}
	}
}

// Every part of a rig is a place at which a person can say what they see.
func TestEveryPartCanBeLookedAt(t *testing.T) {
	sys := hut(12, "lfp", "mppt")
	s := observed(t, sys, nil)
	for _, p := range sys.Parts {
		for _, id := range []string{"trouble_spot", "browned", "joint_look", "joint_pole", "drop_jumps", "wire_run", "made_safe"} {
			if got := look(t, s, id, p.ID); !got.Known {
				t.Errorf("%s at %s: %s", id, p.ID, got.Reason)
			}
		}
		if got := look(t, s, "joint_look", p.ID); got.Choice != "bright" {
			t.Errorf("%s of a sound rig looks %q", p.ID, got.Choice)
		}
		if p.Kind == rig.Fuse {
			if got := look(t, s, "fuse_look", p.ID); got.Choice != "whole" {
				t.Errorf("%s of a sound rig looks %q", p.ID, got.Choice)
			}
		}
	}
}
