package main

import (
	"testing"

	"hotlug/engine/pattern"
)

// This package links all others, so that all their patterns are known here.
func TestEveryPatternParses(t *testing.T) {
	all := pattern.All()
	if len(all) < 50 {
		t.Fatalf("only %d patterns are known here", len(all))
	}
	for _, p := range all {
		func() {
			defer func() {
				if r := recover(); r != nil {
					t.Errorf("%s: %v", p, r)
				}
			}()
			p.MatchString("12.6 V")
		}()
	}
}
