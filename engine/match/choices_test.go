package match_test

import (
	"slices"
	"testing"

	"hotlug/engine/match"
)

var heat = []match.Entry{
	{ID: "fuse-holder", Label: "fuse holder", Says: []string{"holder", "the fuse thing"}},
	{ID: "lug", Label: "lug or terminal", Says: []string{"lug", "terminal", "post"}},
	{ID: "plug", Label: "plug", Says: []string{"connector", "socket"}},
	{ID: "along", Label: "all along the cable", Says: []string{"whole cable", "wire"}},
	{ID: "fuse", Label: "the fuse itself", Says: []string{"fuse"}},
}

var looks = []match.Entry{
	{ID: "burnt", Label: "brown or burnt", Says: []string{"burnt", "burned"}},
	{ID: "not-burnt", Label: "not burnt", Says: []string{"fine", "nothing to see"}},
	{ID: "swollen", Label: "swollen", Says: []string{"puffed up"}},
}

var volts = []match.Entry{{ID: "12", Label: "12 V"}, {ID: "24", Label: "24 V"}, {ID: "48", Label: "48 V"}}

func TestChoose(t *testing.T) {
	for _, c := range []struct {
		name    string
		options []match.Entry
		text    string
		loosely bool
		want    string // "" = none or several
	}{
		{"label", heat, "fuse holder", false, "fuse-holder"},
		{"id", heat, "fuse-holder", false, "fuse-holder"},
		{"case, spaces and stop", heat, "  Fuse   HOLDER. ", false, "fuse-holder"},
		{"saying", heat, "socket", false, "plug"},
		{"article", heat, "the plug", false, "plug"},
		{"article in the label", heat, "fuse itself", false, "fuse"},
		{"exact beats a longer label", heat, "fuse", true, "fuse"},
		{"a beginning is not exact", heat, "conn", false, ""},
		{"a beginning", heat, "conn", true, "plug"},
		{"a beginning of several", heat, "fuse ", true, "fuse"},
		{"two begin so", heat, "fus", true, ""},
		{"one letter", heat, "l", true, "lug"},
		{"one letter, not strictly", heat, "l", false, ""},
		{"one letter that nobody has", heat, "z", true, ""},
		{"one letter of a label with an article", heat, "f", true, ""},
		{"other words around it", heat, "it is the connector I think", true, "plug"},
		{"two named", heat, "the plug and the lug", true, ""},
		{"other form", looks, "its swelling", true, "swollen"},
		{"denied", looks, "it isn't burnt", true, "not-burnt"},
		{"denied with no such option", looks, "not swollen", true, ""},
		{"not denied", looks, "burnt", true, "burnt"},
		{"figure", volts, "24", false, "24"},
		{"figure with unit", volts, "24 v", false, "24"},
		{"figure and unit together", volts, "24v", true, "24"},
		{"beginning of a figure", volts, "4", true, "48"},
		{"empty", heat, "", true, ""},
		{"signs only", heat, " .?! ", true, ""},
		{"nonsense", heat, "purple", true, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := match.Choose(c.options, c.text, c.loosely)
			if got != c.want || ok != (c.want != "") {
				t.Errorf("%q: got %q (%v), want %q", c.text, got, ok, c.want)
			}
		})
	}
}

func TestChoicesNamesAllThatFit(t *testing.T) {
	got := match.NewChoices(heat).Loosely("fus")
	if !slices.Equal(got, []string{"fuse-holder", "fuse"}) {
		t.Errorf("got %q, want both that begin so", got)
	}
}

func FuzzChoose(f *testing.F) {
	f.Add("fuse")
	f.Add("it isn’t\xff 12v")
	f.Fuzz(func(t *testing.T, text string) {
		strict, ok := match.Choose(heat, text, false)
		if loose, _ := match.Choose(heat, text, true); ok && loose != strict {
			t.Errorf("%q is exactly %q and loosely %q", text, strict, loose)
		}
	})
}
