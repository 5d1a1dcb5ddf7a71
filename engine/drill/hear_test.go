package drill

import (
	"slices"
	"testing"
)

// What people at a rig say all day is heard as they mean it: at once, or as a choice
// among what it can mean.
func TestOwnWords(t *testing.T) {
	d, _ := played(t, 1, nil)
	for _, c := range []struct {
		line string
		want []string
	}{
		{"is anything on fire", []string{"danger_now"}},
		{"any smoke?", []string{"danger_now"}},
		{"is it dangerous", []string{"danger_now"}},
		{"check the battery voltage", []string{"battery_now_v"}},
		{"voltage at the battery terminals", []string{"battery_now_v"}},
		{"measure the battery", []string{"battery_now_v", "battery_a"}},
		{"measure volts at controller battery terminals", []string{"ctl_bat_v"}},
		{"panel voltage", []string{"pv_loaded_v", "pv_open_v"}},
		{"open circuit voltage of the panels", []string{"pv_open_v"}},
		{"how much current comes from the panels", []string{"pv_a"}},
		{"clamp the battery negative", []string{"battery_a"}},
		{"clamp on the main fuse wire", []string{"load_a"}},
		{"charging current", []string{"ctl_charge_a"}},
		{"how many amps go into the battery", []string{"ctl_charge_a", "battery_a"}},
		{"is the controller on", []string{"controller_lit"}},
		{"any error on the controller", []string{"controller_error"}},
		{"what stage is the controller in", []string{"controller_stage"}},
		{"look at the panels", []string{"array_look"}},
		{"is it sunny", []string{"sun_now"}},
		{"are all the breakers on", []string{"switches_seen"}},
		{"check the fuses", []string{"switches_seen"}},
		{"is the fuse good", []string{"holder_drop_v", "fuse_look"}},
		{"is the controller fuse blown", []string{"ctl_fuse_drop_v", "fuse_look"}},
		{"look at the main fuse", []string{"fuse_look"}},
		{"volts across controller fuse", []string{"ctl_fuse_drop_v"}},
		{"voltage drop over the isolator", []string{"switch_drop_v"}},
		{"volts across the solar switch", []string{"pv_isolator_drop_v"}},
		{"mV across main fuse holder", []string{"holder_drop_v"}},
		{"drop across the plus post lug", []string{"joint_drop_v"}},
		{"volts from plus post to the controller plus", []string{"ctl_pos_leg_v"}},
		{"voltage drop on the negative cable", []string{"ctl_neg_leg_v", "neg_leg_drop_v"}},
		{"how hot is the main fuse", []string{"joint_c"}},
		{"temperature of the battery", []string{"battery_c"}},
		{"look at the lugs", []string{"joint_look"}},
		{"where does it get hot", []string{"trouble_spot"}},
		{"what fuse is in the main fuse holder", []string{"fuse_rating_a"}},
		{"what kind of battery", []string{"battery_chemistry"}},
		{"how big is the battery", []string{"battery_ah"}},
		{"state of charge", []string{"monitor_percent"}},
		{"what does the monitor say", []string{"monitor_percent", "monitor_a"}},
		{"is my meter ok", []string{"meter_difference_v"}},
		{"wiggle the wire", []string{"drop_jumps"}},
		{"resistance of the main fuse", []string{"branch_ohm"}},
		{"charge stage", []string{"controller_stage"}},
	} {
		t.Run(c.line, func(t *testing.T) {
			var ids []string
			for _, r := range d.meant(c.line) {
				ids = append(ids, r.ID)
			}
			if !slices.Equal(ids, c.want) {
				t.Errorf("it is heard as %v, want %v", ids, c.want)
			}
		})
	}
}

// Rules speak of readings that there are.
func TestRulesAreOfReadings(t *testing.T) {
	for _, rules := range [][]rule{acrossRules, voltRules, ampRules, ohmRules, tempRules, otherRules} {
		for _, r := range rules {
			for _, id := range r.want {
				if knowledge().Readings[id] == nil {
					t.Errorf("%s: there is no reading %s", r.re, id)
				}
			}
		}
	}
}

// A cause is called in more ways than one, and never a wrong one for certain where
// the words name only a thing.
func TestCalls(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"call: worn fuse holder", "worn-holder"},
		{"call it worn-holder", "worn-holder"},
		{"I think it is a worn fuse holder", "worn-holder"},
		{"it's a loose lug", "loose-lug"},
		{"the cause is: solar switch off", "pv-switch-off"},
		{"must be the controller fuse", "controller-fuse-open"},
		{"call: controller", ""},
		{"call: must be the inverter", ""},
		{"call: xyzzy", ""},
	} {
		t.Run(c.line, func(t *testing.T) {
			d, _ := played(t, 1, nil)
			said(d, c.line)
			got := ""
			if len(d.calls) > 0 {
				got = d.calls[0].ID
			}
			if got != c.want {
				t.Errorf("%q is called, want %q", got, c.want)
			}
		})
	}
}

// Words for the next step are no reading and no repair.
func TestHearCostsNothing(t *testing.T) {
	for _, line := range []string{"what now", "help me", "ok", "wait an hour", "what is wrong", "places", "so far", "call: xyzzy"} {
		d, _ := played(t, 1, nil)
		said(d, line)
		if len(d.acts) > 0 || d.vain > 0 {
			t.Errorf("%q did %v", line, d.acts)
		}
	}
}
