package graph

import (
	"math"
	"strings"
	"testing"

	"hotlug/engine/reading"
)

const fewOdds = "format: 1\n# counted\nreading rest_v 11.9 12.2\n - 334\n flat 910\nreading seen\n - 19\n"

func TestOdds(t *testing.T) {
	o, err := ReadOdds([]byte(fewOdds))
	if err != nil {
		t.Fatal(err)
	}
	volts := &reading.Reading{ID: "rest_v", Answer: reading.Number}
	for _, c := range []struct {
		name    string
		reading string
		finding string
		bucket  int
		want    float64
		ok      bool
	}{
		// 9 parts of 10 of its own, and a tenth of 3 parts of 10.
		{"its own", "rest_v", "flat", o.Bucket(volts, 11.5, 0), 0.9*0.9 + 0.1*0.3, true},
		{"on a cut", "rest_v", "flat", o.Bucket(volts, 11.9, 0), 0.9*0.9 + 0.1*0.3, true},
		{"what it never shows", "rest_v", "flat", o.Bucket(volts, 13, 0), 0.04, true},
		{"a finding like all others", "rest_v", "full", o.Bucket(volts, 13, 0), 0.4, true},
		{"a choice", "seen", "flat", 1, 0.9, true},
		{"a choice that is new", "seen", "flat", 2, 0, false},
		{"a reading that nobody counted", "heard", "flat", 0, 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if p, ok := o.Likely(c.reading, c.finding, c.bucket); ok != c.ok || math.Abs(p-c.want) > 1e-9 {
				t.Errorf("%v, %v; want %v, %v", p, ok, c.want, c.ok)
			}
		})
	}
	if !o.Knows("flat") || o.Knows("full") || o.Buckets("rest_v") != 3 || o.Buckets("heard") != 0 {
		t.Errorf("knows flat %v and full %v, %d buckets of rest_v", o.Knows("flat"), o.Knows("full"), o.Buckets("rest_v"))
	}
	var none *Odds
	if _, ok := none.Likely("rest_v", "flat", 0); ok || none.Knows("flat") || none.Buckets("seen") != 0 {
		t.Error("no odds say something")
	}
}

func TestReadOddsRefuses(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a finding before its reading", "flat 91", "line 1: a reading"},
		{"a cut that is none", "reading rest_v twelve", `the cut "twelve" is no number`},
		{"digits that are none", "reading seen\n - 1x", "no digit"},
		{"nothing counted", "reading seen\n - 00", "no share"},
		{"another number of buckets", "reading seen\n - 19\n flat 199", "flat has 3 buckets, and seen has 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := ReadOdds([]byte(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}
