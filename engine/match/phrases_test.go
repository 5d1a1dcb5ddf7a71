package match_test

import (
	"slices"
	"strings"
	"testing"

	"hotlug/engine/match"
)

var danger = []string{"fire", "flames", "smoke", "burning now", "arcing", "sizzling", "crackling", "swollen", "bulged", "hissing",
	"leaking", "rotten eggs", "sweet smell", "too hot to touch", "melting", "glowing", "burnt smell", "gas smell", "electric shock"}

func TestPhrasesIn(t *testing.T) {
	p := match.NewPhrases(danger)
	for _, c := range []struct{ line, want string }{
		{"it's smoking", "smoke"},
		{"it’s smoking", "smoke"},
		{"there was smoke", "smoke"},
		{"SMOKE!!!", "smoke"},
		{"smoky in here", "smoke"},
		{"it is smokng", "smoke"},
		{"no smoke without fire", "smoke"},
		{"12.6 but it smokes", "smoke"},
		{"melting plastic", "melting"},
		{"the holder has melted", "melting"},
		{"meltign", "melting"},
		{"smells of burning", "burnt smell"},
		{"a smell as if something burnt", "burnt smell"},
		{"burning smell from the locker", "burnt smell"},
		{"smells a bit of burning", "burnt smell"},
		{"it is on fire", "fire"},
		{"caught fire", "fire"},
		{"it was arcing", "arcing"},
		{"it arcs", "arcing"},
		{"the battery has swollen up", "swollen"},
		{"case is swelling", "swollen"},
		{"bulging a little", "bulged"},
		{"it's hissing at me", "hissing"},
		{"hot to touch", "too hot to touch"},
		{"way too hot for me to touch it", "too hot to touch"},
		{"smell of rotten eggs", "rotten eggs"},
		{"I smell gas", "gas smell"},
		{"gave me an electric shock", "electric shock"},
		{"is it burning?", "burning now"},
	} {
		t.Run(c.line, func(t *testing.T) {
			if got := p.In(c.line); !slices.Contains(got, c.want) {
				t.Errorf("got %q, want %q among them", got, c.want)
			}
		})
	}
}

func TestPhrasesNotIn(t *testing.T) {
	p := match.NewPhrases(append(danger, "", "the", "  ", "of a"))
	for _, line := range []string{
		"", "12.6", "12,6 V", "180 mV", "yes", "no", "don't know", "not sure", "fuse holder", "the frame", "chassis frames", "spoke to him",
		"change the fuse", "why", "firm", "the meter shows 13.2", "it stays dark", "eggs", "sweet",
		"a hot day", "missing", "running", "flat", "charging", "setting is gel", "42 A at the clamp", "gas strut", "touch the terminal",
		strings.Repeat("a", 100000), strings.Repeat("the ", 10000), "\x00\xff\xfe",
	} {
		if got := p.In(line); len(got) != 0 {
			t.Errorf("%.40q holds %q, want nothing", line, got)
		}
	}
}

// A word that only names a kind of thing is no danger; in another order, or with
// what the thing stands in behind it, it is one.
func TestPhrasesOfKinds(t *testing.T) {
	p := match.NewPhrases([]string{"wet", "flooded", "water", "smoke"})
	for _, c := range []struct{ line, want string }{
		{"flooded lead acid", ""}, {"Flooded lead-acid batteries", ""}, {"it has flooded cells", ""}, {"a flooded battery bank", ""}, {"wet cell", ""},
		{"the water pump is off", ""}, {"topped it up with distilled water", ""}, {"the water level is low", ""},
		{"the battery is flooded", "flooded"}, {"the flooded battery box", "flooded"}, {"flooded", "flooded"}, {"the hut flooded and the battery", "flooded"}, {"it flooded, battery dead", "flooded"}, {"it flooded - battery dead", "flooded"},
		{"wet", "wet"}, {"the cells are wet", "wet"}, {"the panel is wet", "wet"}, {"the flooded battery is wet", "wet"}, {"water in the box", "water"},
		{"the flooded battery smokes", "smoke"},
	} {
		t.Run(c.line, func(t *testing.T) {
			if got := strings.Join(p.In(c.line), " "); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestPhrasesGivenInTheirOrder(t *testing.T) {
	got := match.NewPhrases([]string{"smoke", "fire", "smoke"}).In("fire and smoke")
	if !slices.Equal(got, []string{"smoke", "fire"}) {
		t.Errorf("got %q, want smoke then fire, each once", got)
	}
}

func FuzzPhrases(f *testing.F) {
	p := match.NewPhrases(danger)
	f.Add("smells of burning")
	f.Add("'’`%°\xff0a0")
	f.Fuzz(func(t *testing.T, line string) {
		p.In(line)
		if len(line) < 200 && !slices.Contains(p.In("fire. "+line), "fire") {
			t.Errorf("fire in front of %q is not found", line)
		}
	})
}

func BenchmarkPhrases(b *testing.B) {
	p := match.NewPhrases(danger)
	for b.Loop() {
		p.In("it was smoking a bit when I came in but I have turned it off")
	}
}
