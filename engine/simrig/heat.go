package simrig

import (
	"math"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

const (
	bodyMetres  = 0.06 // of wire's length that a part counts for, as heat walks
	smallest    = 1.5  // mm², of the table of joints
	largest     = 120.0
	hottestC    = 400.0 // above, nothing is left to be measured
	breakerRth  = 0.5   // of a joint's: a breaker's body is large
	boltedRth   = 0.6   // likewise a bolted holder with its two studs and lugs
	bundleWires = 3     // wires in a bundle, as the knowledge takes it
)

// heatOf is the air, what the part's wire warms itself, and the heat of the part
// and of its neighbours on the same wire, which fades along the copper.
func (s *Sim) heatOf(st *state, p *Part) float64 {
	rise := s.ownRise(st, p)
	x, ok := s.place(p)
	for _, q := range s.chainOf(p) {
		watts := s.watts(st, q)
		if watts <= 0 {
			continue
		}
		fade := 1.0
		if q != p {
			if !ok {
				continue
			}
			y, _ := s.place(q)
			fade = math.Exp(-math.Abs(x-y) / fadeMetres(p.MM2))
		}
		rise += watts * rth(q) * fade
	}
	return math.Min(hottestC, s.airAt(p)+rise+p.WarmedK)
}

// rth is the kelvin that a part rises per watt over its wire.
func rth(p *Part) float64 {
	r := figure(10)(electric.JointRth(max(smallest, min(largest, p.MM2)), electric.TwoCables))
	switch {
	case p.Kind == rig.Breaker:
		r *= breakerRth
	case p.Kind == rig.Fuse && p.Style == "bolted-holder":
		r *= boltedRth
	}
	return r
}

// fadeMetres is the length of wire over which a rise falls to 1/e: a cable as a
// cooling fin, fitted to the joint sheet's table (0.06 m at 1.5 mm², 0.12 at 10,
// 0.20 at 50, 0.27 at 120).
func fadeMetres(mm2 float64) float64 {
	return 0.0525 * math.Pow(max(smallest, min(largest, mm2)), 0.344)
}

// ownRise is what the current warms the wire that a part sits on, far from it. At
// the size of wire that was fitted, but a wire's own with the copper it has.
func (s *Sim) ownRise(st *state, p *Part) float64 {
	w := p
	if p.Kind != rig.Wire {
		if x := s.wireOf(p); x != nil {
			w = x
		}
	}
	if p.MM2 <= 0 && w.TrueMM2 <= 0 {
		return 0
	}
	size, lay := w.TrueMM2, electric.Free
	if size <= 0 {
		size = p.MM2
	}
	if p.Kind == rig.Wire {
		for i, word := range electric.Lays() {
			if word == p.Lay {
				lay = electric.Lay(i)
			}
		}
	}
	air := s.airAt(p)
	allow := figure(0)(electric.WireAllow(max(0.75, min(largest, size)), 105, max(-40, min(90, air)), lay, bundleWires))
	if allow <= 0 {
		return 0
	}
	x := math.Abs(s.amps(st, p.ID)) / allow
	return (105 - max(30, air)) * x * x
}

// watts is the heat of a part's contacts and element, without wire: that is in
// its own rise.
func (s *Sim) watts(st *state, p *Part) float64 {
	switch p.Kind {
	case rig.Wire:
		if p.FaceOhm > 0 { // a bad spot in it
			a := s.amps(st, p.ID)
			return a * a * p.FaceOhm
		}
		return 0
	case rig.Joint:
		return heatOfPiece(st, p.ID) + heatOfPiece(st, p.ID+".barrel")
	case rig.Fuse:
		return heatOfPiece(st, p.ID) + heatOfPiece(st, p.ID+".clip-in") + heatOfPiece(st, p.ID+".clip-out")
	}
	return heatOfPiece(st, p.ID)
}

func heatOfPiece(st *state, name string) float64 {
	w := st.sol.Watts(name)
	if math.IsNaN(w) {
		return 0
	}
	return w
}

// chainOf lists the parts on the same wire as p, with p: of its circuit and side,
// in the order of the current.
func (s *Sim) chainOf(p *Part) []*Part {
	s.chained()
	return s.grid.chains[chainKey{p.Circuit, p.Minus}]
}

// place is where along its chain a part sits, in metres.
func (s *Sim) place(p *Part) (float64, bool) {
	s.chained()
	x, ok := s.grid.along[p.ID]
	return x, ok
}

type chainKey struct {
	circuit string
	minus   bool
}

// chained lays out the chains once for a plant.
func (s *Sim) chained() {
	g := s.gridOf()
	if g.chains != nil {
		return
	}
	g.chains, g.along = map[chainKey][]*Part{}, make(map[string]float64, len(s.sys.Parts))
	at := map[chainKey]float64{}
	for p := range s.inOrder {
		k := chainKey{p.Circuit, p.Minus}
		long := bodyMetres
		if p.Kind == rig.Wire {
			long = p.Metres
		}
		g.along[p.ID] = at[k] + long/2
		at[k] += long
		g.chains[k] = append(g.chains[k], p)
	}
}

// warmestBeside is the warmest of the parts next to one on the same wire, and its
// temperature; the air where there is none.
func (s *Sim) warmestBeside(st *state, p *Part) (*Part, float64) {
	var most *Part
	top := s.airAt(p)
	before, passed := (*Part)(nil), false
	see := func(q *Part) {
		if q == nil {
			return
		}
		if c := s.heatOf(st, q); most == nil || c > top {
			most, top = q, c
		}
	}
	for _, q := range s.chainOf(p) {
		if q == p {
			see(before)
			passed = true
			continue
		}
		if q.Kind == rig.Wire {
			continue
		}
		if passed {
			see(q)
			break
		}
		before = q
	}
	return most, top
}
