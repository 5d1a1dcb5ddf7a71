package walk

import (
	"fmt"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/graph"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
)

// taken is the answer e to reading r as a take, not filed yet.
func (n *State) taken(g *graph.Graph, r *reading.Reading, e Event) *Take {
	t := &Take{Reading: r.ID, Known: true, Value: *e.Value, Digit: e.Step, About: e.About, Meter: e.Meter}
	if t.Meter == "" {
		t.Meter = meterOf(g, r)
	}
	return t
}

// broken is the first law that an answer breaks with what stands beside it, at
// every point of the meters' limits; nil if there is none. Laws of which another
// reading is not known say nothing.
func (n *State) broken(g *graph.Graph, r *reading.Reading, t *Take) *graph.Law {
	for _, l := range g.LawsOf(r) {
		if v, ok := n.lawValues(g, l, r, t); ok && l.Holds.F.Decide(v).Verdict == formula.CertainlyFalse {
			return l
		}
	}
	return nil
}

// lawValues are the values of a law with t in the place of what stands for r.
func (n *State) lawValues(g *graph.Graph, l *graph.Law, r *reading.Reading, t *Take) ([]formula.Val, bool) {
	k := n.key(r, n.cur.place)
	refs := l.Holds.F.Refs()
	v := make([]formula.Val, len(refs))
	for i, ref := range refs {
		o := g.Readings[ref.Name]
		at := n.key(o, n.cur.place)
		if at == k {
			v[i] = n.measured(o, t)
			continue
		}
		j, ok := n.now.get(at)
		if !ok || !n.takes[j].Known {
			return nil, false
		}
		v[i] = n.measured(o, n.takes[j])
	}
	return v, true
}

// oddSays says in one sentence why a value is asked back.
func (n *State) oddSays(g *graph.Graph, r *reading.Reading, t *Take, l *graph.Law) string {
	if l == nil {
		rg := n.limitsOf(g, r)
		return fmt.Sprintf("%s is unusual for %s: %s to %s would be usual.",
			n.show(r, t.Value), r.Name, n.show(r, rg.PlausibleLo), n.show(r, rg.PlausibleHi))
	}
	k := n.key(r, n.cur.place)
	var parts []string
	for _, name := range l.Names {
		o := g.Readings[name]
		at := n.key(o, n.cur.place)
		x := t
		if at != k {
			j, _ := n.now.get(at)
			x = n.takes[j]
		}
		shown := *x
		shown.Reading, shown.Known = o.ID, true
		parts = append(parts, fmt.Sprintf("%s (%s)", o.Name, n.Shown(g, shown)))
	}
	because := strings.ToLower(l.Because[:1]) + l.Because[1:]
	if len(parts) == 1 {
		return upperFirst(parts[0]) + " can't be right: " + because
	}
	return upperFirst(strings.Join(parts[:len(parts)-1], ", ")) + " and " + parts[len(parts)-1] + " do not fit together: " + because
}

func upperFirst(s string) string {
	return strings.ToUpper(s[:min(1, len(s))]) + s[min(1, len(s)):]
}

// meantBy lists what was likely meant by an odd answer, best first: what fits the
// usual range and every law.
func (n *State) meantBy(g *graph.Graph, r *reading.Reading, t *Take) []float64 {
	return quantity.SlipsThat(t.Value, r.Kind, n.limitsOf(g, r), func(v float64) bool {
		c := *t
		c.Value = v
		return n.broken(g, r, &c) == nil
	})
}

// otherSlip looks among the other readings of a broken law for one that was
// likely mistyped: a value for it that makes everything fit.
func (n *State) otherSlip(g *graph.Graph, r *reading.Reading, t *Take, l *graph.Law) *Slip {
	as := *n
	as.takes = append(as.takes[:len(as.takes):len(as.takes)], t)
	as.now = as.now.with(n.key(r, n.cur.place), len(as.takes)-1)
	for _, name := range l.Names {
		o := g.Readings[name]
		j, ok := n.now.get(n.key(o, n.cur.place))
		if !ok || o.Answer != reading.Number || graph.Base(o) == graph.Base(r) || n.takes[j].Origin == File || n.takes[j].Sure {
			continue
		}
		if meant := as.meantBy(g, o, n.takes[j]); len(meant) > 0 {
			return &Slip{Reading: o, Place: n.takes[j].Place, Value: n.takes[j].Value, Meant: meant[0]}
		}
	}
	return nil
}
