package rig_test

import (
	"testing"

	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

func TestLayoutFromCounts(t *testing.T) {
	asked := []*reading.Reading{{ID: "layout", Rig: "battery.layout", Answer: reading.Choice, Options: []reading.Option{
		{ID: "single", Label: "a single battery"}, {ID: "parallel", Label: "side by side"},
		{ID: "series", Label: "one after the other"}, {ID: "series-parallel", Label: "strings side by side"},
	}}}
	for _, c := range []struct{ name, battery, want string }{
		{"one", "{series: 1, parallel: 1}", "single"},
		{"side by side", "{series: 1, parallel: 3}", "parallel"},
		{"a string", "{series: 2, parallel: 1}", "series"},
		{"strings", "{series: 2, parallel: 2}", "series-parallel"},
		{"the word goes first", "{series: 2, parallel: 2, layout: series}", "series"},
		{"one count is no layout", "{parallel: 2}", ""},
		{"no count", "{series: two, parallel: 2}", ""},
		{"nought", "{series: 0, parallel: 2}", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, problems := rig.Read("hut-09.yaml", []byte("format: 1\nname: hut-09\nbattery: "+c.battery+"\n"))
			if len(problems) > 0 {
				t.Fatal(shown(problems))
			}
			facts, _ := r.Facts(asked)
			got := ""
			for _, f := range facts {
				got += f.Choice
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
