package transcripts_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"hotlug/engine/walk"
	"hotlug/session/ticket"
)

// Every case that proves a system ends in a sheet to sign: a pass only where the
// finding that passes is proven, else what is open, part by part.
func TestSheetToSign(t *testing.T) {
	g := builtIn(t)
	results := map[string]int{}
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			if c.symptom != "prove-system" {
				continue
			}
			t.Run(f.name+"/"+c.name, func(t *testing.T) {
				s := walkCase(t, g, c, false)
				x := ticket.Make(g, s, ticket.About{Program: "test"})
				p := x.Proving
				if p == nil {
					t.Fatal("no sheet")
				}
				results[p.Result]++
				passed := slices.ContainsFunc(s.Told(), func(f walk.Told) bool { return f.Finding.Passes && f.Status == walk.IsProven })
				if p.Result == ticket.Passed && !passed || p.Result != ticket.Passed && len(p.Open) == 0 {
					t.Errorf("%s with %v open, told %v", p.Result, p.Open, toldIDs(s))
				}
				if passed && p.Result != ticket.Passed {
					t.Errorf("the walk passed it, and the sheet says %s: %v", p.Result, p.Open)
				}
				for _, part := range p.Parts {
					switch part.Result {
					case ticket.InOrder, ticket.NotDone:
					case ticket.Mended, ticket.FaultOpen, ticket.LeftOpen, ticket.NotNeeded:
						if part.Say == "" {
							t.Errorf("%s is %s and does not say why", part.Name, part.Result)
						}
					default:
						t.Errorf("%s is %q", part.Name, part.Result)
					}
				}
				var b bytes.Buffer
				if err := ticket.Markdown(&b, x); err != nil {
					t.Fatal(err)
				}
				for _, want := range []string{"## Sheet to sign", "| Signs | Name | Date | Signature |", "| helper, ", "| licensed person, "} {
					if !strings.Contains(b.String(), want) {
						t.Errorf("the sheet has no %q", want)
					}
				}
			})
		}
	}
	for _, want := range []string{ticket.Passed, ticket.NotPassed} {
		if results[want] == 0 {
			t.Errorf("no case is %s: %v", want, results)
		}
	}
	t.Log(results)
}

// A hunt is no proving, and has nothing to sign.
func TestNoSheetForAHunt(t *testing.T) {
	g := builtIn(t)
	for _, f := range caseFiles(t) {
		for _, c := range f.cases {
			if c.symptom == "prove-system" {
				continue
			}
			if x := ticket.Make(g, walkCase(t, g, c, false), ticket.About{}); x.Proving != nil {
				t.Errorf("%s/%s has a sheet to sign", f.name, c.name)
			}
		}
	}
}
