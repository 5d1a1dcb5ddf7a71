package simrig

import (
	"math"

	"hotlug/engine/circuit"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// Take is what a person answers to a reading at a place ("" where the reading has
// none): from the rig's papers, by looking, or with a meter. The rig is brought
// into the state that the reading needs. The same reading gives the same answer
// until something is done to the rig. What can't be had has a Reason.
func (s *Sim) Take(id, place string) Answer {
	key := take{id, place}
	if place != "" {
		s.stood = place
	}
	if a, ok := s.seen[key]; ok {
		return a
	}
	a := s.answer(id, place)
	s.seen[key] = a
	return a
}

func (s *Sim) answer(id, place string) Answer {
	if id == "fuse_rating_a" && s.otherFuse(place) {
		return s.label(s.readings[id], place)
	}
	for _, at := range []string{place, s.focus} {
		if a, ok := s.facts[fact{id, at}]; ok {
			return a
		}
	}
	if a, ok := s.facts[fact{id, ""}]; ok {
		return a
	}
	if f := observe[id]; f != nil {
		return f(s, place)
	}
	r := s.readings[id]
	switch {
	case r == nil:
		return Refuse("there is no reading " + id)
	case r.Class == reading.Fact:
		return s.label(r, place)
	case r.Class != reading.Measurement:
		return Refuse("nobody can tell")
	}
	switch id {
	case "gap_v":
		return s.gapVolts(r)
	case "precharge_v":
		return s.prechargeVolts(r)
	case "lead_polarity_v":
		return s.polarity(r)
	case "ripple_v":
		return s.ripple(r, place)
	case "frame_ohm":
		return s.read(r, s.frameOhm(place))
	}
	if a, ok := s.without(r, place); ok {
		return a
	}
	from, why := s.point(r.From, place)
	if why != "" {
		return Refuse(why)
	}
	to, why := s.point(r.To, place)
	if why != "" {
		return Refuse(why)
	}
	z := s.SituationFor(r.State, place)
	z.Lamp = id == "battery_lamp_v"
	return s.volts(r, z, from, to, 1)
}

// otherFuse says whether there is another fuse at a place than the rig's papers
// tell: its own print is read.
func (s *Sim) otherFuse(place string) bool {
	p := s.partAt(place)
	if p == nil || p.Kind != rig.Fuse {
		return false
	}
	built, ok := s.sys.Part(p.ID)
	return ok && built.RatedA != p.RatedA
}

// volts is what a meter of the person's shows between two points in a situation,
// red on from, of part of the volts there.
func (s *Sim) volts(r *reading.Reading, z Situation, from, to string, part float64) Answer {
	st := s.at(z)
	if st.err != nil {
		return Refuse("the rig comes to no rest")
	}
	v := st.sol.Read(nodeName(from), nodeName(to), meterOhm)
	if math.IsNaN(v) {
		return Refuse("this rig has no such point")
	}
	return s.read(r, part*v)
}

// nodeName is the name of a point in the network: the minus post is its ground.
func nodeName(point string) string {
	if point == rig.PostNeg {
		return "gnd"
	}
	return point
}

// point is the metal that a point of the knowledge means at a place, or why there
// is none.
func (s *Sim) point(name, place string) (at, why string) {
	p := s.partAt(place)
	switch name {
	case "joint-a", "joint-b", "lug-palm", "lug-conductor":
		if p == nil {
			return "", "nobody knows which joint is meant"
		}
		if p.Kind != rig.Joint && (name == "lug-palm" || name == "lug-conductor") {
			return "", "there is no lug at " + p.Name
		}
		return s.jointPoint(name, p), ""
	case "holder-in", "holder-out", "fuse-tab-in", "fuse-tab-out", "way-out":
		f := s.kindAt(place, rig.Fuse)
		if f == nil {
			return "", "there is no fuse in this wire"
		}
		switch name {
		case "holder-in":
			return f.A, ""
		case "fuse-tab-in":
			return tabIn(f.ID), ""
		case "fuse-tab-out":
			return tabOut(f.ID), ""
		}
		return f.B, ""
	case "switch-in", "switch-out":
		w := s.kindAt(place, rig.Breaker, rig.Isolator, rig.Switch)
		if w == nil {
			return "", "there is no switch in this wire"
		}
		if name == "switch-in" {
			return w.A, ""
		}
		return w.B, ""
	case "wire-near", "wire-far":
		w := s.wireAt(place)
		switch {
		case w == nil:
			return "", "nobody knows which wire is meant"
		case name == "wire-near":
			return w.A, ""
		}
		return w.B, ""
	case "main-fuse-bat", "main-fuse-bus", "main-isolator-bat", "main-isolator-bus":
		if s.plant.Parts[name] == nil {
			return "", "this rig has no such lug"
		}
		return palm(name), ""
	case "way-in", "load-pos", "load-neg", "chassis":
		return s.loadPoint(name, place)
	case rig.InvPos, rig.InvNeg:
		if s.sys.Inverter.Watts == 0 {
			return "", "this rig has no inverter"
		}
	}
	return name, ""
}

// jointPoint is a point of a joint: across the whole of it, or of its crimp.
func (s *Sim) jointPoint(name string, p *Part) string {
	if p.Kind != rig.Joint {
		if name == "joint-a" {
			return p.A
		}
		return p.B
	}
	wire, other := conductor(p)
	switch name {
	case "joint-a", "lug-conductor":
		return wire
	case "lug-palm":
		return palm(p.ID)
	}
	return other
}

// label reads a fact that no paper tells off the part itself.
func (s *Sim) label(r *reading.Reading, place string) Answer {
	p := s.partAt(place)
	if p == nil && s.atBank() { // the wire that all the bank's current goes through
		place = "bat-pos"
		p = s.plant.Parts[place]
	}
	if p == nil && s.onItsWay() {
		p = s.wireInQuestion()
	}
	if p == nil {
		return Refuse("it stands nowhere")
	}
	v := 0.0
	switch r.ID {
	case "full_load_a":
		v = p.FullA
	case "fuse_rating_a":
		if f := s.kindAt(place, rig.Fuse, rig.Breaker); f != nil {
			v = f.RatedA
		}
	case "wire_mm2":
		v = p.MM2
	case "wire_m":
		if w := s.wireOf(p); w != nil {
			v = w.Metres
		}
	}
	if v == 0 {
		return Refuse("it stands nowhere")
	}
	return printed(v)
}

// Netlist is the network of a situation as it is built, for another program to
// check.
func (s *Sim) Netlist(z Situation) (*circuit.Network, error) {
	st := s.at(z)
	if st.err != nil {
		return nil, st.err
	}
	return s.build(st), nil
}
