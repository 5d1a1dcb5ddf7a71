package chat

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"hotlug/engine/match"
	"hotlug/engine/walk"
)

func TestYesAndNo(t *testing.T) {
	for _, k := range []struct {
		text    string
		yes, ok bool
	}{
		{"yes", true, true}, {"Y", true, true}, {"yes.", true, true}, {"yes it is", true, true}, {"Yes, it does", true, true},
		{"yep", true, true}, {"yes of course", true, true}, {"yes a bit", true, true}, {"it is", true, true},
		{"no", false, true}, {"n", false, true}, {"no thanks", false, true}, {"no, it isn't", false, true}, {"no it’s not", false, true},
		{"nope", false, true}, {"no, nothing", false, true}, {"not any more", false, true}, {"no not at all", false, true},
		{"no longer", false, true}, {"none of those", false, false},
		{"yes and no", false, false}, {"no but it did", false, false}, {"yes but I turned it off", false, false},
		{"no it is hot", false, false}, {"yes no", false, false}, {"not sure", false, false}, {"", false, false},
		{"no idea", false, false}, {"no way to tell", false, false}, {"noon", false, false}, {"yesterday", false, false},
		{"it was but ive turned it off", false, false},
	} {
		t.Run(k.text, func(t *testing.T) {
			if yes, ok := yesNo(k.text); yes && ok != (k.yes && k.ok) || ok != k.ok {
				t.Errorf("yes %v, taken %v", yes, ok)
			}
		})
	}
}

func TestNotKnown(t *testing.T) {
	for text, want := range map[string]bool{
		"don't know": true, "Dont know": true, "I don’t know": true, "no idea": true, "can't read it": true, "i can't tell": true,
		"couldn't find it": true, "don't have a meter": true, "skip": true, "not sure": true, "can't reach the roof from here": true,
		"don't": false, "can't be right": false, "don't see any": false, "no": false, "12": false, "?": false, "maybe": false,
	} {
		if isNotKnown(text) != want {
			t.Errorf("%q is taken for not known: %v", text, !want)
		}
	}
}

func TestCommandOf(t *testing.T) {
	for _, k := range []struct{ line, name, rest string }{
		{"why", "why", ""}, {"Why?", "why", ""}, {" HELP ", "help", ""}, {"?", "help", ""}, {"so far", "so far", ""}, {"go back", "back", ""},
		{"note the isolator is stiff", "note", "the isolator is stiff"}, {"note: hut 2", "note", "hut 2"}, {"Change fuse", "change", "fuse"},
		{"change", "change", ""}, {"exit", "quit", ""},
		{"why not", "", ""}, {"h", "", ""}, {"back to front", "", ""}, {"help me please", "", ""}, {"notes", "", ""}, {"list them", "", ""},
	} {
		t.Run(k.line, func(t *testing.T) {
			name, rest, _ := commandOf(k.line)
			if name != k.name || rest != k.rest {
				t.Errorf("%q with %q", name, rest)
			}
		})
	}
}

// What comes of a line, in the order in which lines are read.
func TestHear(t *testing.T) {
	for _, k := range []struct {
		name, rig, lines string
		kind             walk.PromptKind
		asks             string
		said             string // among what is said last
	}{
		{"a whole-line answer goes before its danger words", "hut-01", "it isn't charging; no; melted screw", walk.WantFix, "", "LIKELY"},
		{"which danger, in own words", "", "hot fuse; not sure; it is smoking", walk.Ended, "", "STOP. Something burns or smokes"},
		{"a danger word in a longer line rings", "", "hot fuse; no; the holder is smoking", walk.WantAnswer, "danger_now", `You said: "the holder is smoking". Is that so right now?`},
		{"a danger word in a note rings", "", "hot fuse; no; note smoke from the box", walk.WantAnswer, "danger_now", `You said: "note smoke from the box".`},
		{"a colon makes it a command", "", "hot fuse; no; :note smoke from the box", walk.WantAnswer, "trouble_spot", "Noted."},
		{"a colon before a number is no answer", "", "hot fuse; no; :1", walk.WantAnswer, "trouble_spot", "`1` is no command."},
		{"don't know by a colon", "", "hot fuse; no; :don't know", walk.WantAnswer, "browned", "Not known."},
		{"a number of the list", "", "hot fuse; no; 4", walk.WantAnswer, "joint_look", "A screw terminal."},
		{"a number off the list", "", "hot fuse; no; 24", walk.WantAnswer, "trouble_spot", "none of these"},
		{"one letter that fits one", "hut-01", "it isn't charging; no; don't know; w", walk.WantAnswer, "controller_stage", "Water marks."},
		{"one letter that fits several", "", "hot fuse; no; s", walk.WantAnswer, "trouble_spot", "Type the number"},
		{"one letter is no command", "", "hot fuse; no; fuse holder; 7; h", walk.WantAnswer, "browned", "yes or no"},
		{"words that fit two", "hut-01", "it isn't charging; no; a fuse", walk.WantAnswer, "switches_seen", "more than one"},
		{"a sentence at the danger question", "", "hot fuse; it was but ive turned it off", walk.WantAnswer, "danger_now", "Is it so now?"},
		{"no with a danger word behind it", "", "hot fuse; no it stopped smoking", walk.WantAnswer, "danger_now", "Is it so now?"},
		{"yes with words behind it", "", "hot fuse; yes lots of it", walk.WantAnswer, "danger_what", "Which of these"},
		{"yes taken back in one breath", "", "hot fuse; yes but not now", walk.WantAnswer, "danger_now", "Is it so now?"},
		{"maybe is not sure", "", "hot fuse; maybe", walk.WantAnswer, "danger_what", "Which of these"},
		{"danger before any complaint", "", "my battery is swollen", walk.WantAnswer, "danger_now", "Before anything else."},
		{"danger before any complaint, yes", "", "my battery is swollen; yes", walk.Ended, "", "STOP."},
		{"danger before any complaint, no", "", "my battery is swollen; no", walk.WantComplaint, "", "What is wrong?"},
		{"then the complaint, not asked twice", "", "my battery is swollen; no; hot fuse holder", walk.WantAnswer, "trouble_spot", "Where is the heat"},
		{"danger words among several complaints", "", "battery is on fire", walk.WantAnswer, "danger_now", "Before anything else."},
		{"danger words in the complaint name the stop", "", "my fuse thing is melting; yes", walk.Ended, "", "STOP. A part is burning up."},
		{"a command at the complaint", "", "list", walk.WantComplaint, "", "Nothing charges the battery."},
		{"no command in a complaint", "", "where the cable joins it gets hot", walk.WantAnswer, "danger_now", "I take it as"},
		{"nothing known of it", "", "my bicycle is pink", walk.WantComplaint, "", "I can't match that."},
		{"nothing known of it, again", "", "my bicycle is pink; the cat as well", walk.WantComplaint, "", "either"},
		{"a number of the complaints", "", "list; 6", walk.WantAnswer, "danger_now", "hot"},
		{"a yes at an odd value with two", "", "hot fuse; no; fuse holder; 7; no; 0.2; yes", walk.WantSure, "full_load_a", "sure"},
		{"another value at an odd one", "", "hot fuse; no; fuse holder; 7; no; 0.2; 20", walk.WantAnswer, "wire_mm2", "20 A."},
		{"words at a number", "", "hot fuse; no; fuse holder; 7; no; quite a lot", walk.WantAnswer, "full_load_a", "A number is asked for"},
		{"yes at a close call is no answer", "hut-01", "screw terminal is hot; no; screw terminal; bright; no; no; done; 10.2 mV; 40; 20; 50; yes", walk.WantCloseCall, "", "`again`"},
		{"change right after the complaint", "", "hot fuse; change", walk.WantComplaint, "", "What is wrong?"},
		{"change right after the danger question", "hut-01", "hot fuse; no; change", walk.WantComplaint, "", "What is wrong?"},
		{"change of the complaint later", "", "hot fuse; no; lug; change complaint", walk.WantComplaint, "", "What is wrong?"},
		{"change lists what was said", "", "hot fuse; no; lug; change", walk.WantAnswer, "joint_look", "a lug or stud"},
		{"change by words", "", "hot fuse; no; lug; no; change where the heat is", walk.WantAnswer, "trouble_spot", "Where is the heat"},
		{"change of what was never said", "", "hot fuse; no; lug; change the moon", walk.WantAnswer, "joint_look", "So far you said"},
		{"back at the start", "", "back", walk.WantComplaint, "", "nothing to go back to"},
		{"an empty note", "", "hot fuse; no; note", walk.WantAnswer, "trouble_spot", "what is to be written down"},
		{"an empty line says it again", "", "hot fuse; no; ", walk.WantAnswer, "trouble_spot", "Where is the heat"},
		{"done in other words", "hut-01", "it isn't charging; no; solar switch off; it's done", walk.WantAnswer, "controller_stage", "To prove it"},
		{"not done", "hut-01", "hot fuse; no; fuse holder; 2; 7; no; no; no", walk.WantAnswer, "", "Not done."},
		{"stop, and something is wrong", "", "hot fuse; no; stop; wrong", walk.WantAnswer, "danger_now", "That comes first."},
		{"stop, and a danger word", "", "hot fuse; no; stop; it smokes", walk.WantAnswer, "danger_now", `You said: "it smokes".`},
		{"a danger word typed long and strangely", "", "hot fuse; no; \x1b[0m smoke\u202e \"out\"   of the locker behind the seat where the two batteries stand, I think", walk.WantAnswer, "danger_now",
			"You said: \"\ufffd[0m smoke\ufffd 'out' of the locker behind the seat where the ...\". Is that so right now?"},
		{"danger before any complaint is repeated", "", "my battery is swollen", walk.WantAnswer, "danger_now", `You said: "my battery is swollen".`},
		{"wet as a state of things", "", "hot fuse; no; the panel is wet", walk.WantAnswer, "danger_now", "You said"},
		{"water inside", "", "hot fuse; no; water in the box", walk.WantAnswer, "danger_now", "You said"},
		{"damp", "", "hot fuse; no; it is damp inside", walk.WantAnswer, "danger_now", "You said"},
		{"flooded", "", "hot fuse; no; flooded", walk.WantAnswer, "danger_now", "You said"},
		{"the box of flooded batteries is a box", "", "hot fuse; no; the battery box flooded", walk.WantAnswer, "danger_now", "You said"},
		{"a flooded battery box", "", "hot fuse; no; it is in the flooded battery box", walk.WantAnswer, "danger_now", "You said"},
		{"a flooded battery is a kind", "", "hot fuse; no; we have flooded batteries", walk.WantAnswer, "trouble_spot", ""},
		{"flooded lead acid is a kind", "", "hot fuse; no; flooded lead-acid bank", walk.WantAnswer, "trouble_spot", ""},
		{"a wet cell is a kind", "", "hot fuse; no; wet cells", walk.WantAnswer, "trouble_spot", ""},
		{"wet, where the kind of battery is asked", "", "it sparked when I connected the inverter; no; 9; 1; 2; wet", walk.WantAnswer, "reverse_sign", "Flooded lead acid"},
		{"wet ones, where the kind of battery is asked", "", "it sparked when I connected the inverter; no; 9; 1; 2; ours are the wet ones", walk.WantAnswer, "reverse_sign", "Flooded lead acid"},
		{"a wet battery, where the kind of battery is asked", "", "it sparked when I connected the inverter; no; 9; 1; 2; a wet battery", walk.WantAnswer, "reverse_sign", "Flooded lead acid"},
		{"another thing wet, where the kind of battery is asked", "", "it sparked when I connected the inverter; no; 9; 1; 2; the panel is wet", walk.WantAnswer, "danger_now", "You said"},
		{"not wet, where the kind of battery is asked", "", "it sparked when I connected the inverter; no; 9; 1; 2; not wet any more", walk.WantAnswer, "danger_now", "You said"},
	} {
		t.Run(k.name, func(t *testing.T) {
			lines := split(k.lines)
			c, l, _ := talk(t, k.rig, lines...)
			p := c.state.Prompt()
			if p.Kind != k.kind || k.asks != "" && c.asked() != k.asks {
				t.Errorf("the prompt is %s %s", p.Kind, c.asked())
			}
			if last := l.after(len(lines) - 1); !strings.Contains(strings.Join(strings.Fields(last), " "), k.said) {
				t.Errorf("%q is not among:\n%s", k.said, last)
			}
		})
	}
}

// Yes to "did you mean" is yes to that value, if only one was named.
func TestYesToAGuess(t *testing.T) {
	c, _, _ := talk(t, "", "hot fuse", "no", "fuse holder", "7", "no", "0.2")
	p := c.state.Prompt()
	odd := *p.Odd
	odd.Suggest = []float64{20}
	p.Odd = &odd
	e, ok := c.answer(p, "yes", false)
	if !ok || e.Kind != walk.EvAnswer || e.Value == nil || *e.Value != 20 {
		t.Errorf("taken as %+v, %v", e, ok)
	}
}

// The knowledge gives no answer a word that the chat takes for itself: it could
// never be typed, or would never be reached.
func TestNoAnswerIsACommand(t *testing.T) {
	g := knowledge(t)
	for _, id := range g.ReadingOrder {
		for _, o := range g.Readings[id].Options {
			for _, w := range append([]string{o.ID, o.Label}, o.Says...) {
				if isCommand(w, true) || slices.Contains(Reserved(), plain(w)) {
					t.Errorf("%s: %q is a command", id, w)
				}
			}
		}
	}
}

// Numbers of the list mean nothing where an answer is itself a number.
func TestNumericChoices(t *testing.T) {
	volts := []match.Entry{{ID: "12", Label: "12 V", Says: []string{"12"}}, {ID: "24", Label: "24 V"}}
	if !numeric(volts) {
		t.Error("12 is a number")
	}
	if numeric([]match.Entry{{ID: "12v", Label: "12 V system"}, {ID: "a", Label: "A"}}) {
		t.Error("none of these is a number by itself")
	}
}

// A line typed or pasted before the danger question stood there never answers
// it, at a terminal. From a pipe all lines are there before.
func TestTypedAhead(t *testing.T) {
	for _, k := range []struct {
		name     string
		terminal bool
		thinks   time.Duration
		asks     string
	}{
		{"pasted at a terminal", true, 5 * time.Millisecond, "danger_now"},
		{"typed at a terminal", true, 2 * time.Second, "trouble_spot"},
		{"from a pipe", false, time.Microsecond, "trouble_spot"},
	} {
		t.Run(k.name, func(t *testing.T) {
			at := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
			l := &typist{lines: []string{"hot fuse holder", "no"}, terminal: k.terminal}
			l.wait = func() { at = at.Add(k.thinks) }
			o := options(t, "")
			o.Line, o.Clock = l, func() time.Time { return at }
			c := run(t, o)
			if c.asked() != k.asks {
				t.Errorf("the chat asks for %q", c.asked())
			}
		})
	}
}

// What people, files and errors bring is never printed raw.
func TestUntrusted(t *testing.T) {
	evil := "\x1b]0;x\x07\u202e\x9b31m"
	o := options(t, "hut-02")
	o.About = []string{"Rig " + evil}
	o.Setup.Places = slices.Clone(o.Setup.Places)
	o.Setup.Places[1].Name = "holder " + evil
	l := &typist{lines: []string{"hot fuse " + evil, "no", evil, "fuse holder", "no", "2", ":" + evil, "note " + evil, "so far", "change " + evil, "no", "done", evil + " V"}}
	o.Line, o.Rec = l, &diary{fails: errors.New("disk " + evil)}
	run(t, o)
	for _, said := range l.shown {
		if i := strings.IndexAny(said, "\x1b\x07\u202e\u009b"); i >= 0 {
			t.Errorf("printed raw: %q", said[max(0, i-30):])
		}
	}
}

// An answer that can't be kept is told once, and the chat goes on.
func TestRecorderFails(t *testing.T) {
	l := &typist{lines: []string{"hot fuse holder", "no", "1"}}
	o := options(t, "")
	o.Line, o.Rec = l, &diary{fails: errors.New("the disk is full")}
	c := run(t, o)
	if c.asked() != "fuse_look" {
		t.Errorf("the chat asks for %q", c.asked())
	}
	if n := strings.Count(strings.Join(l.shown, ""), "the disk is full"); n != 1 {
		t.Errorf("it is told %d times", n)
	}
}

// Every event is kept before what comes of it is printed.
func TestKeptBeforeSaid(t *testing.T) {
	o := options(t, "")
	d := &diary{}
	l := &typist{lines: []string{"hot fuse holder", "no", "1", "7"}}
	l.wait = func() {
		if got, want := len(d.events), 4-len(l.lines); got != want {
			t.Errorf("%d events are kept as line %d is asked for", got, want+1)
		}
	}
	o.Line, o.Rec = l, d
	run(t, o)
}
