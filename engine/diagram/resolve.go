package diagram

import (
	"slices"
	"strings"

	"hotlug/engine/rig"
)

// resolve is the point of the drawing that a point of the vocabulary means at a
// place: "joint-a" is another metal at each joint. Where the rig does not say which
// is meant, it is the vocabulary's own, which is drawn in general.
func (l *Layout) resolve(point, at string) string {
	p, known := l.sys.Part(at)
	circuit := at
	if known {
		circuit = p.Circuit
	}
	switch point {
	case "main-fuse-bat", "main-fuse-bus", "main-isolator-bat", "main-isolator-bus":
		return point + ".palm"
	case "joint-a", "joint-b", "lug-palm", "lug-conductor":
		if known && p.Kind != rig.Wire {
			return jointPoint(point, p)
		}
		if point == "joint-a" { // of a joint in general, its lug is drawn
			return "lug-conductor"
		}
	case "holder-in", "holder-out", "fuse-tab-in", "fuse-tab-out", "way-in", "way-out":
		if f, ok := l.near(at, circuit, rig.Fuse); ok {
			switch point {
			case "holder-in", "way-in":
				return f.A
			case "holder-out", "way-out":
				return f.B
			case "fuse-tab-in":
				return f.ID + ".tab-in"
			}
			return f.ID + ".tab-out"
		}
	case "switch-in", "switch-out":
		if w, ok := l.near(at, circuit, rig.Breaker, rig.Isolator, rig.Switch); ok {
			return [2]string{w.A, w.B}[index(point == "switch-out")]
		}
	case "pv-plug-a", "pv-plug-b":
		if known && p.Kind == rig.PVPlug {
			return [2]string{p.A, p.B}[index(point == "pv-plug-b")]
		}
	case "wire-near", "wire-far":
		if w, ok := l.wireAt(p, known, circuit); ok {
			return [2]string{w.A, w.B}[index(point == "wire-far")]
		}
	case "load-pos", "load-neg", "chassis":
		x, ok := l.sys.Load(circuit)
		switch {
		case !ok || x.AC:
		case point == "load-pos":
			return rig.LoadPos(x.ID)
		case point == "load-neg":
			return rig.LoadNeg(x.ID)
		default:
			return frameAt(x.ID)
		}
	}
	return point
}

func index(second bool) int {
	if second {
		return 1
	}
	return 0
}

// jointPoint is a point of a joint: of the whole of it, or of its lug.
func jointPoint(point string, p rig.Part) string {
	wire := p.ID + ".conductor"
	first, second := p.A, p.B
	if p.Kind == rig.Joint && p.B == wire {
		first, second = p.B, p.A
	}
	switch point {
	case "joint-b":
		return second
	case "lug-palm":
		if p.Kind == rig.Joint {
			return p.ID + ".palm"
		}
	}
	return first
}

// near is the part at a place if it is of one of the kinds, else the first such
// part in the same circuit on the same side.
func (l *Layout) near(at, circuit string, kinds ...rig.PartKind) (rig.Part, bool) {
	if p, ok := l.sys.Part(at); ok && slices.Contains(kinds, p.Kind) {
		return p, true
	}
	if at == "" {
		return rig.Part{}, false
	}
	for _, p := range l.sys.Parts {
		if p.Circuit == circuit && slices.Contains(kinds, p.Kind) {
			return p, true
		}
	}
	return rig.Part{}, false
}

// wireAt is the wire that a place is about: itself, the one in its lug, or the plus
// wire of its circuit.
func (l *Layout) wireAt(p rig.Part, known bool, circuit string) (rig.Part, bool) {
	if known && p.Kind == rig.Wire {
		return p, true
	}
	for _, w := range l.sys.Parts {
		if w.Kind != rig.Wire || circuit == "" {
			continue
		}
		inLug := known && p.Kind == rig.Joint && (w.A == p.ID+".conductor" || w.B == p.ID+".conductor")
		if inLug || (!known || p.Kind != rig.Joint) && w.Circuit == circuit && !w.Minus && (!known || p.Minus == w.Minus) {
			return w, true
		}
	}
	return rig.Part{}, false
}

// ends are the points that a mark's two ends have on the drawing. A lug without a
// place is the one at the mark's other end, if that is a post.
func (l *Layout) ends(from, to, at string) (string, string) {
	a, b := l.resolve(from, at), l.resolve(to, at)
	lug := func(x, other string) string {
		if !strings.HasPrefix(x, "lug-") && !strings.HasPrefix(x, "joint-") {
			return x
		}
		for _, p := range l.sys.Parts {
			if p.Kind == rig.Joint && (p.A == other || p.B == other) {
				return jointPoint(x, p)
			}
		}
		return x
	}
	return lug(a, b), lug(b, a)
}
