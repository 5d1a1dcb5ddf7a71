package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"hotlug/engine/calc"
	"hotlug/engine/electric"
)

// calculated runs hotlug calc on a command line.
func calculated(args ...string) (code int, out, errOut string) {
	var o, e bytes.Buffer
	code = run(append([]string{"calc"}, args...), nil, &o, &e)
	return code, o.String(), e.String()
}

func TestCalcCommand(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		code int
		says string // on the stream of the code
	}{
		{"the list", nil, exitDone, "Drop over a round trip (V): amps run size [temp]"},
		{"an area", []string{"fuse"}, exitDone, "fuse-next"},
		{"a function explained", []string{"wire-drop"}, exitDone, "example    calc wire-drop amps=80A run=3m size=25mm2"},
		{"a call", []string{"wire-drop", "amps=80", "run=3m", "size=25mm2"}, exitDone, "result     419 mV"},
		{"a call in other units", []string{"wire-drop", "amps=80", "run=10ft", "size=2/0awg", "temp=122F"}, exitDone, "result     158 mV"},
		{"a value in quotes", []string{"wire-drop", "amps=80", "run=9 ft 10 in", "size=25 mm2"}, exitDone, "result     418 mV"},
		{"US style", []string{"longest-run", "amps=8", "size=2.5mm2", "volts=0.36", "--units", "us"}, exitDone, "8 ft 3 in"},
		{"arithmetic", []string{"= 0.180 V / 42.0 A"}, exitDone, "0.180 V / 42.0 A = 4.29 mΩ"},
		{"arithmetic in words of a shell", []string{"=", "0.180", "V", "/", "42.0", "A"}, exitDone, "4.29 mΩ"},
		{"a class of meter", []string{"= 0.180 V / 42.0 A", "--meter", "clamp"}, exitDone, "±"},
		{"a value that can't be used", []string{"fuse-next", "amps=900"}, exitBadInput, "fuse-next: no single fuse of the list"},
		{"a value that can't be read", []string{"fuse-next", "amps=lots"}, exitBadInput, "amps: I can't read"},
		{"nothing by zero", []string{"= 1 V / 0"}, exitBadInput, "nothing can be divided by 0"},
		{"a value left out", []string{"wire-drop", "amps=80"}, exitUsage, "wire-drop: it needs run and size"},
		{"an unknown function", []string{"wire-drup"}, exitUsage, "did you mean wire-drop?"},
		{"an unknown meter", []string{"fuse-next", "amps=9", "--meter", "golden"}, exitUsage, "--meter is one of hand"},
		{"unknown units", []string{"fuse-next", "amps=9", "--units", "old"}, exitUsage, "is metric or us, and not"},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, out, errOut := calculated(c.args...)
			said, silent := out, errOut
			if c.code != exitDone {
				said, silent = errOut, out
			}
			if code != c.code || !strings.Contains(said, c.says) || silent != "" {
				t.Errorf("code %d, want %d; want %q in\n%s\nand the other stream empty: %q", code, c.code, c.says, said, silent)
			}
			for _, l := range strings.Split(said, "\n") {
				if c.code == exitDone && len([]rune(l)) > calcWidth {
					t.Errorf("wider than %d: %s", calcWidth, l)
				}
			}
		})
	}
}

func TestCalcJSON(t *testing.T) {
	_, out, _ := calculated("wire-drop", "amps=80", "run=3m", "size=25mm2", "--json")
	var r calc.Result
	if err := json.Unmarshal([]byte(out), &r); err != nil || r.Result != "419 mV" || r.Unit != "V" || len(r.Inputs) != 4 || !r.Inputs[3].Usual {
		t.Errorf("%v: %+v", err, r)
	}
	_, out, _ = calculated("--json")
	var all []calc.Entry
	if err := json.Unmarshal([]byte(out), &all); err != nil || len(all) != len(calc.List(electric.Table())) {
		t.Errorf("%v: %d functions", err, len(all))
	}
}

func TestCalcCompletion(t *testing.T) {
	for _, c := range []struct {
		name, typed string
		args        []string
		has, hasNot string
	}{
		{"functions", "", nil, "wire-drop\tDrop over a round trip", "amps="},
		{"areas", "", nil, "fuse\tfunctions of this area", "amps="},
		{"parameters", "", []string{"wire-drop"}, "run=\tlength one way", "wire-drop"},
		{"parameters that are left", "", []string{"wire_drop", "amps=8"}, "run=\tlength one way", "amps="},
		{"words of a choice", "lay=", []string{"wire-allow"}, "lay=engine-space", "size="},
		{"nothing of an unknown function", "", []string{"nothing"}, "", "="},
	} {
		t.Run(c.name, func(t *testing.T) {
			list, _ := completeCalc(nil, c.args, c.typed)
			got := strings.Join(list, "\n")
			if !strings.Contains(got, c.has) || strings.Contains(got, c.hasNot) {
				t.Errorf("%q has to be there, %q not:\n%s", c.has, c.hasNot, got)
			}
		})
	}
}
