package simrig

// labels are what is printed on parts and stands in no rig file, and how wires
// lie. Papers go first; these answer where they say nothing.
var labels = map[string]func(*Sim, string) Answer{
	"wire_mark_c": func(s *Sim, place string) Answer {
		if w := s.wireOf(s.partAt(place)); w != nil && w.MarkC > 0 {
			return printed(w.MarkC)
		}
		return Refuse("nothing can be read on the sheath")
	},
	"wire_run": func(s *Sim, place string) Answer {
		w := s.wireOf(s.partAt(place))
		if w == nil {
			return Refuse("it is not clear which wire is meant")
		}
		for _, lay := range []string{w.Lay, w.Part.Lay} {
			if lay != "" {
				return Pick(lay)
			}
		}
		return Pick("free")
	},
	"shunt_label": func(s *Sim, _ string) Answer {
		if s.sys.Monitor.Shunt == "" {
			return Refuse("there is no shunt")
		}
		return Pick(s.sys.Monitor.Shunt)
	},
}
