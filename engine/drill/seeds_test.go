package drill

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/rig"
	"hotlug/kb"
)

// trial is what a trainee types who knows nothing.
const trial = "any danger; look round; battery volts; loads on; volts across the main fuse; compare two meters; loads off; solar off; hint; isolate; so far; call: worn fuse holder; fix; end; give up"

func composed(t *testing.T, n int, seed uint64) Case {
	t.Helper()
	level, err := LevelOf(n)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Compose(Order{Graph: knowledge(), Seed: seed, Wish: Wish{Level: level}})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// whole is all that a drill says to some lines.
func whole(t *testing.T, n int, seed uint64, lines string) (string, *Drill) {
	t.Helper()
	level, err := LevelOf(n)
	if err != nil {
		t.Fatal(err)
	}
	d, err := New(Options{Graph: knowledge(), Case: composed(t, n, seed), Level: level})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	show := func(blocks []Block) {
		for _, x := range blocks {
			fmt.Fprintln(&b, x.Role, x.Hang, strings.Join(x.Lines, " "))
		}
	}
	show(d.Begin())
	for l := range strings.SplitSeq(lines, ";") {
		if !d.Ended() {
			show(d.Hear(strings.TrimSpace(l)))
		}
	}
	return b.String(), d
}

// The same seed gives the same drill, word for word and with the same score; and
// nothing that is said before the end names what is hidden.
func TestSameSeed(t *testing.T) {
	for n := 1; n <= len(Levels); n++ {
		for _, seed := range []uint64{7, 4711} {
			t.Run(fmt.Sprintf("level %d, seed %d", n, seed), func(t *testing.T) {
				first, d := whole(t, n, seed, trial)
				second, e := whole(t, n, seed, trial)
				if first != second {
					t.Errorf("first\n%s\nthen\n%s", first, second)
				}
				if a, b := fmt.Sprint(d.Score("2026-05-04", seed)), fmt.Sprint(e.Score("2026-05-04", seed)); a != b {
					t.Errorf("the scores are %s and %s", a, b)
				}
				before, _, _ := strings.Cut(first, "What was hidden")
				for _, s := range d.c.Sets {
					if f := faultByID(d.c.Faults, s.Fault); strings.Contains(before, f.Name) || strings.Contains(before, s.Fault) {
						t.Errorf("%s is named before the end\n%s", s.Fault, before)
					}
				}
				if !strings.Contains(first, "What was hidden") || strings.Contains(first, "%!") {
					t.Errorf("it says\n%s", first)
				}
			})
		}
	}
}

// At the highest level two faults are hidden, both to be complained of one after
// the other, and the meter lies until another one is taken.
func TestTwoFaultsAndALie(t *testing.T) {
	for seed := range uint64(4) {
		c := composed(t, 5, seed)
		r, err := c.rig()
		if err != nil {
			t.Fatal(err)
		}
		usual, err := usually(c.Make)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.Sets) != 2 || c.Sets[0].Fault == c.Sets[1].Fault {
			t.Fatalf("seed %d hides %v", seed, c.Sets)
		}
		if !slices.Contains(r.Symptoms(), c.Symptom) {
			t.Errorf("seed %d: nobody would complain of %s", seed, c.Symptom)
		}
		l := r.(liar)
		if lie := math.Abs(l.Lie()); lie != 0 && (lie < leastLie || lie > mostLie) {
			t.Errorf("seed %d: the meter is %g off", seed, lie)
		}
		r.Repair(c.Sets[0].Fault)
		if next := nextComplaint(knowledge(), r, usual); next == "" {
			t.Errorf("seed %d: with %s mended nobody complains of %s", seed, c.Sets[0].Fault, c.Sets[1].Fault)
		}
		before := r.Take("battery_now_v", "")
		lie := l.Lie()
		l.OtherMeter()
		after := r.Take("battery_now_v", "")
		if off := before.Value/after.Value - 1 - lie; after.Known && after.Value > 1 && math.Abs(off) > 0.02 {
			t.Errorf("seed %d: %g V before and %g V after, with a lie of %g", seed, before.Value, after.Value, lie)
		}
	}
}

// What is read as things are is read as the rig was left.
func TestReadAsItIsLeft(t *testing.T) {
	src, err := fs.ReadFile(kb.Files, "rigs/hut-01.yaml")
	if err != nil {
		t.Fatal(err)
	}
	hut, _ := rig.Read("hut-01", src)
	c, err := Compose(Order{Graph: knowledge(), Rigs: []*rig.Rig{hut}, Seed: 7, Wish: Wish{Level: Levels[0]}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := c.Make(nil, "exact")
	if err != nil {
		t.Fatal(err)
	}
	h := r.(stander)
	idle := r.Take("battery_now_v", "").Value
	h.Stand([]string{"loads-on"})
	loaded := r.Take("battery_now_v", "").Value
	h.Stand(nil)
	again := r.Take("battery_now_v", "").Value
	if loaded >= idle || again != idle {
		t.Errorf("%g V as found, %g V under load, %g V after it", idle, loaded, again)
	}
	if s := knowledge().Readings["battery_now_v"].State; len(s) > 0 {
		t.Errorf("the knowledge itself now asks for %v", s)
	}
}
