package drill

import (
	"slices"
	"testing"
)

func TestOperations(t *testing.T) {
	for _, c := range []struct {
		line string
		ops  []operation
		rest string
	}{
		{"loads on", []operation{opLoadsOn}, ""},
		{"switch the loads on", []operation{opLoadsOn}, ""},
		{"turn off all loads", []operation{opLoadsOff}, ""},
		{"open the solar switch", []operation{opPVOff}, ""},
		{"solar off", []operation{opPVOff}, ""},
		{"PV isolator off, battery isolator off", []operation{opPVOff, opMainOff}, ""},
		{"solar off and battery isolator off", []operation{opPVOff, opMainOff}, ""},
		{"close the solar switch", []operation{opPVOn}, ""},
		{"close the battery isolator", []operation{opMainOn}, ""},
		{"isolator off", []operation{opMainOff}, ""},
		{"isolate", []operation{opIsolate}, ""},
		{"prove it dead", []operation{opIsolate}, ""},
		{"switch everything off", []operation{opIsolate}, ""},
		{"put it together", []operation{opTogether}, ""},
		{"cover the panels", []operation{opCover}, ""},
		{"take the cover off", []operation{opUncover}, ""},
		{"inverter off", []operation{opInvOff}, ""},
		{"pre-charge the inverter", []operation{opFill}, ""},
		{"reset the breaker", []operation{opReset}, ""},
		{"restart the controller", []operation{opRestart}, ""},
		{"let it rest for hours", []operation{opRest}, ""},
		{"volts across the controller's fuse, sun on", []operation{opSun}, "volts across the controller's fuse"},
		{"battery volts under load", []operation{opLoadsOn}, "battery volts"},
		{"battery volts with the loads on", []operation{opLoadsOn}, "battery volts"},
		{"PV volts in full sun with the solar switch off", []operation{opSun, opPVOff}, "pv volts"},
		{"volts across the closed solar switch", nil, "volts across the closed solar switch"},
		{"look at the battery isolator", nil, "look at the battery isolator"},
		{"amps in the solar lead, then battery volts", nil, "amps in the solar lead battery volts"},
		{"", nil, ""},
	} {
		t.Run(c.line, func(t *testing.T) {
			d := &Drill{}
			ops, rest := d.operations(c.line)
			if !slices.Equal(ops, c.ops) || rest != c.rest {
				t.Errorf("got %q and %q, want %q and %q", ops, rest, c.ops, c.rest)
			}
		})
	}
}
