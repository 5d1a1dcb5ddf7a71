package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/prove"
)

// showWalk prints one walk of the population in outline.
func (a *app) showWalk(ctx context.Context, g *graph.Graph, f proofFlags, o prove.Options) error {
	fault, n, err := splitCase(f.show)
	if err != nil {
		return err
	}
	o.Outline, o.Table = true, 0
	known := slices.Contains(prove.FaultIDs(), fault)
	switch {
	case known:
		o.Faults = []string{fault}
	case fault != "healthy" && !strings.Contains(fault, "+"):
		return badInputf("there is no fault called %s", quote(fault))
	}
	rep, err := prove.Prove(ctx, g, prove.Simulated(g, f.seed, f.release), o)
	if err != nil {
		return provingFailed(ctx, err)
	}
	for _, r := range rep.Runs {
		if r.Name() != fmt.Sprintf("%s/%d", fault, n) {
			continue
		}
		if r.Silent {
			return badInputf("%s brings no complaint", r.Name())
		}
		for _, l := range r.Outline() {
			fmt.Fprintln(a.out, l)
		}
		return nil
	}
	return badInputf("there is no case %s among %s; --rigs takes more", f.show, plural(f.rigs, "rig"))
}
