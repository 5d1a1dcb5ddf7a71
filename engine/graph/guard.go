package graph

import (
	"slices"
	"strings"

	"hotlug/engine/shape"
)

// What an overlay may reword. A text that keeps somebody from harm is added to and
// not replaced: it may be read by the one person who needed the line that went.
// What names the metal that a probe touches is not reworded at all. And whatever an
// overlay leads elsewhere still has to lead to all stop-work that it led to before.

// below are the nodes of the layers under the last one that has the entry.
func (e *entry) below() []*shape.Node { return e.nodes[:max(1, len(e.nodes)-1)] }

// guards says that a node names a hazard or a caution.
func guards(n *shape.Node) bool {
	return n.Get("hazard").Text() != "" || len(listOf(n.Get("cautions"))) > 0
}

// guarded says that an entry names a hazard or a caution below its last layer.
func (e *entry) guarded() bool { return slices.ContainsFunc(e.below(), guards) }

// stopsBelow says that work stops at a finding below its last layer.
func (e *entry) stopsBelow() bool {
	return slices.ContainsFunc(e.below(), func(n *shape.Node) bool { return n.Get("stop") != nil })
}

// add is a text with the words of an overlay behind it.
func add(text, more string) string {
	switch {
	case text == "" || text == more:
		return more
	case more == "" || strings.HasSuffix(text, more):
		return text
	case strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?"):
		return text + " " + more
	}
	return text + "; " + more
}

// saidOver is a text over all layers, each adding its own words behind what the
// entry has from elsewhere, unless the entry's first layer gives it anew.
func (e *entry) saidOver(from, field string) string {
	if e.nodes[0].Get(field) != nil {
		from = ""
	}
	for _, n := range e.all(field) {
		from = add(from, n.Text())
	}
	return from
}

// linesOver is a list of lines over all layers, in the same way.
func (e *entry) linesOver(from []string, field string) []string {
	if e.nodes[0].Get(field) != nil {
		from = nil
	}
	return join(from, texts(e.joined(field)))
}

// stopsBehind lists the stop-work findings that a target of a sheet leads to, over
// whatever steps.
func (l *loader) stopsBehind(target, sheet string) []string {
	var out []string
	seen := map[string]bool{}
	var visit func(target, sheet string)
	visit = func(target, sheet string) {
		step := target
		if !strings.Contains(target, "/") {
			step = sheet + "/" + target
		}
		e := l.steps.byID[step]
		if e == nil {
			if l.stops(target) && !slices.Contains(out, target) {
				out = append(out, target)
			}
			return
		}
		if seen[step] {
			return
		}
		seen[step] = true
		for _, n := range e.nodes {
			for _, b := range listOf(n.Get("then")) {
				visit(b.Get("go").Text(), e.sheet)
			}
			for _, a := range listOf(n.Get("also")) {
				visit(a.Get("finding").Text(), e.sheet)
			}
			if u := n.Get("unknown"); u != nil {
				visit(u.Text(), e.sheet)
			}
		}
	}
	visit(target, sheet)
	return out
}

// lostStop is a stop-work finding that one target leads to and the other does not; ""
// if there is none.
func (l *loader) lostStop(from, to, sheet string) string {
	if from == to {
		return ""
	}
	have := l.stopsBehind(to, sheet)
	for _, s := range l.stopsBehind(from, sheet) {
		if !slices.Contains(have, s) {
			return s
		}
	}
	return ""
}

// leads is a target that an overlay may change only for one that leads to the same
// stop-work.
func (l *loader) leads(e *entry, field string) *shape.Node {
	var v *shape.Node
	for _, n := range e.nodes {
		to := n.Get(field)
		if to == nil {
			continue
		}
		if v != nil {
			if s := l.lostStop(v.Text(), to.Text(), e.sheet); s != "" {
				l.losesStop(to, e, v.Text(), s)
				continue
			}
		}
		v = to
	}
	return v
}

func (l *loader) losesStop(n *shape.Node, e *entry, from, stop string) {
	l.lowers(n, "lead to "+from+", or to a step of your own that leads there", "%s leads to the stop-work %s by way of %s, and an overlay can't lead it past that", e.id, stop, from)
}
