package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"hotlug/engine/prove"
)

func TestKBProveRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		code int
		says string
	}{
		{"no rigs", []string{"--rigs", "0"}, exitUsage, "--rigs is at least 1"},
		{"a fault of nobody", []string{"--fault", "gremlin"}, exitBadInput, `there is no fault called "gremlin"`},
		{"a symptom of nobody", []string{"--symptom", "sulks"}, exitBadInput, `there is no symptom called "sulks"`},
		{"a case without a number", []string{"--show", "healthy"}, exitUsage, "--show takes a fault and a number"},
		{"a case of nobody", []string{"--show", "gremlin/1"}, exitBadInput, `there is no fault called "gremlin"`},
		{"a trial of nobody", []string{"--trial", "luck"}, exitBadInput, `there is no trial called "luck"; there are: meters, slips`},
		{"a word too many", []string{"all"}, exitUsage, "too much"},
	} {
		t.Run(c.name, func(t *testing.T) {
			code, _, errOut := within(t, append([]string{"kb", "prove"}, c.args...)...)
			if code != c.code || !strings.Contains(errOut, c.says) {
				t.Errorf("exit code %d, %q; want %d, %q", code, errOut, c.code, c.says)
			}
		})
	}
}

func TestKBProveJSON(t *testing.T) {
	id := prove.FaultIDs()[0]
	code, out, errOut := within(t, "kb", "prove", "--rigs", "2", "--fault", id, "--json")
	if code != exitDone && code != exitKnowledge {
		t.Fatalf("exit code %d: %s", code, errOut)
	}
	var rep prove.Report
	if err := json.Unmarshal([]byte(out), &rep); err != nil {
		t.Fatal(err)
	}
	if rep.Rigs != 2 || len(rep.Faults) != 1 || rep.Faults[0].Fault != id || rep.Met() != (code == exitDone) {
		t.Errorf("exit code %d with %d rigs, faults %v, targets %v", code, rep.Rigs, rep.Faults, rep.Targets)
	}
	if strings.Contains(errOut, "\r") {
		t.Error("progress is shown although nobody looks on")
	}
}

func TestKBProveShow(t *testing.T) {
	id := prove.FaultIDs()[0]
	code, out, errOut := within(t, "kb", "prove", "--rigs", "2", "--show", id+"/1")
	if code != exitDone {
		t.Fatalf("exit code %d: %s", code, errOut)
	}
	for _, want := range []string{id + "/1, rig ", "fault: " + id, "complaint: ", "verdict: ", " questions, "} {
		if !strings.Contains(out, want) {
			t.Errorf("the outline has no %q:\n%s", want, out)
		}
	}
}

// A report of everything stays within 80 columns.
func TestProofTextIs80Columns(t *testing.T) {
	long := "something_long_v is to be probed by hand although the battery of this rig stands at far more volts than that"
	rep := &prove.Report{
		Walks: 12345, Rigs: 60, Seed: 18446744073709551615, Release: true,
		Targets: []prove.Target{{Name: "right cause first or in its group", Want: 0.97, Got: 1, Unit: "%", Met: true, Note: "mean over faults"},
			{Name: "questions against the greedy reference", Want: 1.25, Got: 10.31, Most: true, Unit: "x"}},
		Faults:       []prove.FaultScore{{Fault: "battery-minus-lead-off-the-post", Kind: prove.Unlisted, Verdicts: map[prove.Verdict]int{prove.Right: 1234}}},
		Symptoms:     []prove.Priced{{Symptom: "zero-volts-after-connecting", Cases: 1234, Questions: 12.34, Best: 10.21, Least: 9.87, Minutes: 123.4, GreedyMinutes: 99.9}},
		UnsafeAs:     []prove.Count{{What: long, N: 1234, Case: "battery-minus-lead-off/59"}},
		Dear:         []prove.DearStep{{Step: "charge-reading/by-volts-after", Lost: 1234, Visits: 12345, Asked: 12345, Bits: 12.34, Best: 12.34, Instead: long, After: "zero-volts-after-connecting"}, {Step: "charge-reading/by-volts-after", Order: long}},
		Groups:       &prove.Groups{All: [][]string{strings.Fields(long)}},
		Right:        prove.Part{Of: 12345, Share: 1, Lo: 1, Hi: 1},
		HealthyNamed: prove.Part{Of: 12345, Share: 1, Lo: 1, Hi: 1},
		Never:        strings.Fields(long),
	}
	text := proofText(rep)
	for i, l := range strings.Split(text, "\n") {
		if len(l) > 80 {
			t.Errorf("line %d has %d columns: %s", i+1, len(l), l)
		}
		if strings.HasSuffix(l, " ") {
			t.Errorf("line %d ends in a space: %q", i+1, l)
		}
	}
	for _, want := range []string{"met     right cause first", "MISSED  questions against", "release ranges", "Not to be told apart by any question"} {
		if !strings.Contains(text, want) {
			t.Errorf("the report has no %q:\n%s", want, text)
		}
	}
}

// Each trial prints its targets, and its exit code says whether they are met.
func TestKBProveTrials(t *testing.T) {
	for _, trial := range prove.Trials() {
		t.Run(string(trial), func(t *testing.T) {
			args := []string{"kb", "prove", "--trial", string(trial), "--rigs", "1"}
			if trial != prove.Two { // which takes any two
				args = append(args, "--fault", "pv-isolator-off", "--fault", "fuse-missing")
			}
			code, out, errOut := within(t, args...)
			if met := !strings.Contains(out, "MISSED"); met != (code == exitDone) || !strings.Contains(out, "Targets") {
				t.Errorf("exit code %d: %s\n%s", code, errOut, out)
			}
			for i, l := range strings.Split(out, "\n") {
				if len(l) > 80 {
					t.Errorf("line %d has %d columns: %s", i+1, len(l), l)
				}
			}
		})
	}
}

func TestNoProgressInAFile(t *testing.T) {
	f, err := os.Create(t.TempDir() + "/log")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if progressOn(f) != nil {
		t.Error("progress goes into a file")
	}
}
