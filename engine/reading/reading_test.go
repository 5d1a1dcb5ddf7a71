package reading_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

func kind(t testing.TB, id string) quantity.Kind {
	t.Helper()
	k, ok := quantity.KindByID(id)
	if !ok {
		t.Fatalf("there is no kind %s", id)
	}
	return k
}

func TestTyped(t *testing.T) {
	volts := &reading.Reading{ID: "holder_drop_v", Kind: kind(t, "volts")}
	celsius := &reading.Reading{ID: "air_c", Kind: kind(t, "celsius")}
	area := &reading.Reading{ID: "wire_mm2", Kind: kind(t, "area")}
	yesNo := &reading.Reading{ID: "holder_hot", Answer: reading.YesNo}
	choice := &reading.Reading{ID: "shunt", Answer: reading.Choice, Options: []reading.Option{
		{ID: "500A-50mV", Label: "500 A, 50 mV", Says: []string{"five hundred"}},
		{ID: "none", Label: "no shunt"},
	}}
	yes, no := reading.Given{Choice: "yes"}, reading.Given{Choice: "no"}
	for _, c := range []struct {
		name string
		r    *reading.Reading
		text string
		want reading.Given
	}{
		{"a bare number is in the kind's unit", volts, "0.18", reading.Given{Value: 0.18, Digit: 0.01}},
		{"another scale", volts, "180 mV", reading.Given{Value: 0.18, Digit: 0.001}},
		{"about", volts, "about 12 V", reading.Given{Value: 12, Digit: 1, About: true}},
		{"minus", volts, "-0.2 V", reading.Given{Value: -0.2, Digit: 0.1}},
		{"spaces around", volts, "  12.6 V ", reading.Given{Value: 12.6, Digit: 0.1}},
		{"a point on a scale", celsius, "-10 C", reading.Given{Value: -10, Digit: 1}},
		{"an area", area, "2.5 mm2", reading.Given{Value: 2.5, Digit: 0.1}},
		{"yes", yesNo, "yes", yes},
		{"a letter", yesNo, "Y", yes},
		{"true, as YAML has it", yesNo, "true", yes},
		{"no", yesNo, " No ", no},
		{"false, as YAML has it", yesNo, "false", no},
		{"the id of an option", choice, "500A-50mV", reading.Given{Choice: "500A-50mV"}},
		{"the id in other letters", choice, "500a-50MV", reading.Given{Choice: "500A-50mV"}},
		{"the label", choice, "500 a, 50 mv", reading.Given{Choice: "500A-50mV"}},
		{"another word", choice, "Five Hundred", reading.Given{Choice: "500A-50mV"}},
		{"an option called none", choice, "none", reading.Given{Choice: "none"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := reading.Typed(c.r, c.text)
			if err != nil {
				t.Fatalf("%q: %v", c.text, err)
			}
			if d := got.Digit - c.want.Digit; d < -1e-12 || d > 1e-12 {
				t.Errorf("%q: the last digit is worth %g, want %g", c.text, got.Digit, c.want.Digit)
			}
			if v := got.Value - c.want.Value; v < -1e-12 || v > 1e-12 {
				t.Errorf("%q: the value is %g, want %g", c.text, got.Value, c.want.Value)
			}
			if got.Choice != c.want.Choice || got.About != c.want.About {
				t.Errorf("%q: got %+v, want %+v", c.text, got, c.want)
			}
		})
	}
	for _, c := range []struct {
		name string
		r    *reading.Reading
		text string
		says string
	}{
		{"another kind", volts, "12 A", "volts"},
		{"nothing", volts, "", "Nothing was typed"},
		{"a range", volts, "12 to 13 V", ""},
		{"neither yes nor no", yesNo, "maybe", `"maybe" is neither yes nor no`},
		{"nothing for yes or no", yesNo, "", "neither yes nor no"},
		{"no option", choice, "300A", "none of the answers: 500A-50mV, none"},
		{"a beginning of an option", choice, "500", "none of the answers"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := reading.Typed(c.r, c.text)
			if err == nil {
				t.Fatalf("%q is taken as %+v", c.text, got)
			}
			if got != (reading.Given{}) {
				t.Errorf("%q: beside the error it gives %+v", c.text, got)
			}
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("%q: the error is %q and does not say %q", c.text, err, c.says)
			}
			var ask *quantity.AskBack
			if isNumber := c.r.Answer == reading.Number; errors.As(err, &ask) != isNumber {
				t.Errorf("%q: the error is a %T", c.text, err)
			}
		})
	}
}

func TestRange(t *testing.T) {
	r := reading.Range{Lo: 10, Hi: 15, Set: true}
	for _, c := range []struct {
		name string
		r    reading.Range
		x    float64
		want bool
	}{
		{"lower end", r, 10, true}, {"upper end", r, 15, true}, {"below", r, 9.99, false}, {"above", r, 15.01, false},
		{"not set has all", reading.Range{}, 1e9, true},
		{"scaled", r.Times(4), 58, true}, {"scaled, what was inside", r.Times(4), 12, false},
	} {
		if got := c.r.Has(c.x); got != c.want {
			t.Errorf("%s: has %g is %v, want %v", c.name, c.x, got, c.want)
		}
	}
}

func TestOptionByID(t *testing.T) {
	r := &reading.Reading{Options: []reading.Option{{ID: "lfp"}, {ID: "agm"}}}
	for id, want := range map[string]int{"lfp": 0, "agm": 1, "AGM": -1, "": -1} {
		if got := r.OptionByID(id); got != want {
			t.Errorf("option %q is number %d, want %d", id, got, want)
		}
	}
}

func TestPlaces(t *testing.T) {
	n, problems := shape.Parse("places.yaml", []byte(`
- {id: main-fuse, class: fuse, name: the main fuse, like: bolted-holder, rating: 125 A}
- {id: post-pos, class: joint, name: the lug on the plus post}
- {id: main-fuse, class: joint, name: another}
`))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	got, problems := reading.PlacesFrom(n)
	want := []reading.PlaceOnRig{
		{ID: "main-fuse", Class: "fuse", Name: "the main fuse", Like: "bolted-holder"},
		{ID: "post-pos", Class: "joint", Name: "the lug on the plus post"},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if len(problems) != 1 || problems[0].Code != "defined-twice" || problems[0].At.Line != 4 {
		t.Errorf("want one problem, defined-twice in line 4, got %v", problems)
	}
	if got, problems := reading.PlacesFrom(nil); got != nil || problems != nil {
		t.Errorf("of no list: %v, %v", got, problems)
	}
}

// Every fact that a place may carry is a field of its shape, and what names it
// is none.
func TestPlaceFacts(t *testing.T) {
	for _, f := range reading.PlaceShape().Fields {
		named := slices.Contains([]string{"id", "class", "name", "like"}, f.Name)
		if reading.PlaceFact(f.Name) == named {
			t.Errorf("%s: a fact of a place is %v", f.Name, !named)
		}
	}
}
