package chat

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/quantity"
)

// spoken is all that an interview says to some lines.
func spoken(v *Interview, lines ...string) string {
	var b strings.Builder
	for _, l := range lines {
		for _, bl := range v.Hear(l) {
			b.WriteString(strings.Join(bl.Lines, "\n") + "\n")
		}
	}
	return b.String()
}

// answered are the answers, by their keys.
func answered(v *Interview) map[string]string {
	out := map[string]string{}
	for _, a := range v.Answers() {
		out[a.Key] = v.shown(a)
	}
	return out
}

func TestInterviewAnswers(t *testing.T) {
	g := knowledge(t)
	for _, c := range []struct {
		name  string
		lines []string
		key   string // whose answer is looked at
		want  string // "" for none
		says  string
	}{
		{"a figure with its unit", []string{"x", "hut", "24 V"}, "battery.system_v", "24 V", ""},
		{"a bare figure", []string{"x", "hut", "24"}, "battery.system_v", "24 V", "24 V."},
		{"words for a choice", []string{"x", "camper"}, "kind", "van", "Van."},
		{"the number of a choice", []string{"x", "4"}, "kind", "trailer", ""},
		{"not known is left out", []string{"x", "hut", "don't know"}, "battery.system_v", "", "Left out."},
		{"another kind of figure", []string{"x", "hut", "24 A"}, "battery.system_v", "", "amps"},
		{"impossible", []string{"x", "hut", "230 V"}, "battery.system_v", "", "230 V can't be: it lies between 12 V and 48 V."},
		{"unusual", []string{"x", "hut", "12", "lfp", "3000 Ah"}, "battery.capacity", "", "is unusual"},
		{"unusual and sure", []string{"x", "hut", "12", "lfp", "3000 Ah", "sure"}, "battery.capacity", "3000 Ah", ""},
		{"unusual and again", []string{"x", "hut", "12", "lfp", "3000 Ah", "3000 Ah"}, "battery.capacity", "3000 Ah", ""},
		{"unusual and set right", []string{"x", "hut", "12", "lfp", "3000 Ah", "300 Ah"}, "battery.capacity", "300 Ah", ""},
		{"back", []string{"x", "hut", "12", "back", "24"}, "battery.system_v", "24 V", "Taken back."},
		{"back at the beginning", []string{"back"}, "about", "", "This is the first question."},
		{"no lead battery has a limit", []string{"x", "hut", "12", "agm", "100 Ah", "single", "yes"}, "array", "yes", "solar panels"},
		{"why", []string{"x", "hut", "why"}, "battery.system_v", "", "Most limits for volts grow with it"},
		{"how", []string{"x", "hut", "12", "lfp", "how"}, "battery.capacity", "", "Batteries side by side add up."},
		{"so far", []string{"x", "hut", "24", "so far"}, "battery.system_v", "24 V", "the nominal volts of the battery bank: 24 V"},
		{"help", []string{"help"}, "about", "", "`quit` leaves it for later"},
		{"an empty line asks again", []string{""}, "about", "", "What is it, in one line?"},
		{"danger goes first", []string{"the fuse is smoking"}, "about", "", "get away from it and call for help"},
		{"danger, and the same again", []string{"the fuse smoked last year", "the fuse smoked last year"}, "about", "the fuse smoked last year", ""},
		{"control characters", []string{"\x1b[31mred\u202e"}, "about", "\ufffd[31mred\ufffd", ""},
		{"too long", []string{strings.Repeat("x", 500)}, "about", "", "too long for the file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := NewInterview(g, quantity.Style{}, "hut-51", nil)
			said := spoken(v, c.lines...)
			if got := answered(v)[c.key]; got != c.want {
				t.Errorf("%s is %q, want %q\n%s", c.key, got, c.want, said)
			}
			if !strings.Contains(said, c.says) {
				t.Errorf("%q is not said:\n%s", c.says, said)
			}
		})
	}
}

// throughTo answers whatever is asked until a question holds a word.
func throughTo(t *testing.T, v *Interview, word string) {
	t.Helper()
	for range 200 {
		q := v.next()
		if q.key == "" || strings.Contains(q.reading.Ask, word) {
			return
		}
		v.Hear("don't know")
	}
	t.Fatalf("nothing asks for %q", word)
}

func TestInterviewFuses(t *testing.T) {
	v := NewInterview(knowledge(t), quantity.Style{}, "hut-51", nil)
	throughTo(t, v, "fuses and breakers")
	said := spoken(v, "the main fuse", "125 A", "35 mm2", "95 A", "don't know",
		"main", "!!!", "../etc/passwd", "Fridge & Freezer", "15 A", "4 mm2", "6 A", "2 m", "no more", "yes", "yes")
	if !v.Over() {
		t.Fatalf("it is not over:\n%s", said)
	}
	var ids []string
	for _, p := range v.Places() {
		ids = append(ids, p.ID)
	}
	if ids[0] != "main-fuse" || slices.ContainsFunc(ids, func(id string) bool { return strings.ContainsAny(id, "./ &!") }) {
		t.Errorf("the places are %v", ids)
	}
	if n := strings.Count(said, "a name of its own"); n < 2 {
		t.Errorf("a name that is taken and one that is none are refused %d times:\n%s", n, said)
	}
	if !v.SameWire() {
		t.Errorf("the joints' wire is not that of the main fuse:\n%s", said)
	}
}

// The lines that were taken bring it back to where it stood, wherever it was cut
// off.
func TestInterviewGoesOn(t *testing.T) {
	c := New(Options{Graph: knowledge(t)})
	lines := []string{"a hut", "hut", "300 V", "12", "lifepo4", "3000 Ah", "sure", "back", "200", "skip", "skip", "no", "yes", "1 kW", "pure", "no", "no", "skip", "main", "125 A", "35 mm2", "95 A", "skip", "no more", "yes", "yes"}
	whole := newInterview(c, "hut-51", nil)
	spoken(whole, lines...)
	if !whole.Over() {
		t.Fatalf("it does not end; the question is %q", whole.next().key)
	}
	for cut := range lines {
		v := newInterview(c, "hut-51", nil)
		spoken(v, lines[:cut]...)
		again := newInterview(c, "hut-51", v.Said())
		if a, b := v.next().key, again.next().key; a != b {
			t.Fatalf("cut off after %d lines it asks for %q, and asked for %q", cut, b, a)
		}
		if again.Over() != v.Over() || fmt.Sprint(answered(again)) != fmt.Sprint(answered(v)) {
			t.Fatalf("cut off after %d lines it knows\n%v\nand knew\n%v", cut, answered(again), answered(v))
		}
	}
}

// FuzzInterview types anything: it never breaks, always asks something or is over,
// and what it has taken brings it back to where it stands.
func FuzzInterview(f *testing.F) {
	f.Add("a hut\nhut\n12\nlfp\n200 Ah\nsingle\n150 A\nyes\n22.5\n6.1\n1\n2\n-10\nmppt\n30\n100\nno\nno\nno\nx\nmain\n125\n35 mm2\n95\n1 m\nno more\nyes\nyes")
	f.Add("back\nback\nsure\n\x00\n..\n=1+1\nquit\nmore")
	f.Add("x\nhut\n12,6 V\nnan\n1e400 Ah\n−5\ndone\nx")
	f.Add(strings.Repeat("don't know\n", 20) + "fuse\nthe\n1st\nmain\nmain\nno more\nno")
	c := New(Options{Graph: knowledge(f)})
	f.Fuzz(func(t *testing.T, text string) {
		v := newInterview(c, "hut-51", nil)
		for i, line := range strings.Split(text, "\n") {
			if i == 60 || v.Over() {
				break
			}
			v.Hear(line)
			if !v.over && v.next().key != "" && len(v.ask()) == 0 {
				t.Fatalf("after %q it asks nothing", line)
			}
		}
		again := newInterview(c, "hut-51", v.Said())
		if again.next().key != v.next().key || fmt.Sprint(answered(again)) != fmt.Sprint(answered(v)) {
			t.Fatalf("of the lines %q it knows\n%v\nand knew\n%v", v.Said(), answered(again), answered(v))
		}
		for _, l := range v.Said() {
			if strings.ContainsAny(l, "\n\r") {
				t.Fatalf("a line of the draft is %q", l)
			}
		}
	})
}
