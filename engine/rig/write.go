package rig

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/quantity"
)

// YAML writes a system as a rig file. Read back with [Read] and [SystemOf], it
// gives the same system, if [Plan] has laid it.
func (s *System) YAML() []byte {
	var w bytes.Buffer
	w.WriteString("format: 1\n")
	for _, x := range []struct{ key, text string }{{"name", s.Name}, {"about", s.About}, {"story", s.Story}, {"kind", s.Kind}, {"earthing", s.Earth}} {
		if x.text != "" {
			w.WriteString(x.key + ": " + quoted(x.text) + "\n")
		}
	}
	s.writeSections(&w)
	s.writeLoads(&w)
	s.writePlaces(&w)
	s.writeParts(&w)
	return w.Bytes()
}

// writeSections writes the figures, a section a line.
func (s *System) writeSections(w *bytes.Buffer) {
	open := ""
	for _, f := range fields {
		section, name, _ := strings.Cut(f.path, ".")
		if section == "inverter" && s.Inverter.Watts == 0 || section == "monitor" && s.Monitor.Shunt == "" {
			continue
		}
		text := shown(f.at(s), f.kind, f.unit(), f.kind == "celsius")
		if text == "" {
			continue
		}
		if open == section {
			w.WriteString(", ")
		} else {
			if open != "" {
				w.WriteString("}\n")
			}
			w.WriteString(section + ": {")
			open = section
		}
		w.WriteString(name + ": " + text)
	}
	if open != "" {
		w.WriteString("}\n")
	}
}

func (s *System) writeLoads(w *bytes.Buffer) {
	if len(s.Loads) == 0 {
		w.WriteString("loads: []\n")
		return
	}
	w.WriteString("loads:\n")
	for _, l := range s.Loads {
		w.WriteString("  - {id: " + l.ID + ", name: " + quoted(l.Name) + ", watts: " + figure(l.Watts) + " W")
		if l.Plug != "" {
			w.WriteString(", plug: " + l.Plug)
		}
		for _, x := range []struct {
			key string
			is  bool
		}{{"switch", l.Switch}, {"ac", l.AC}} {
			if x.is {
				w.WriteString(", " + x.key + ": yes")
			}
		}
		w.WriteString("}\n")
	}
}

func (s *System) writePlaces(w *bytes.Buffer) {
	if len(s.Places) == 0 {
		return
	}
	w.WriteString("places:\n")
	for _, p := range s.Places {
		w.WriteString("  - {id: " + p.ID + ", class: " + p.Class + ", name: " + quoted(p.Name))
		if p.Like != "" {
			w.WriteString(", like: " + p.Like)
		}
		if x, ok := s.Part(p.ID); ok {
			for _, f := range placeFields {
				if text := shown(f.at(&x), f.kind, 1, false); f.asked && text != "" {
					w.WriteString(", " + f.name + ": " + text)
				}
			}
		}
		w.WriteString("}\n")
	}
}

// writeParts writes what the plan would lay otherwise.
func (s *System) writeParts(w *bytes.Buffer) {
	list := s.unplanned()
	if len(list) == 0 {
		return
	}
	w.WriteString("parts:\n")
	for _, p := range list {
		w.WriteString("  - {id: " + p.ID)
		for _, x := range []struct{ key, text string }{{"name", p.Name}, {"kind", string(p.Kind)}, {"from", p.A}, {"to", p.B}, {"circuit", p.Circuit}} {
			switch {
			case x.text == "":
			case x.key == "name":
				w.WriteString(", name: " + quoted(x.text))
			default:
				w.WriteString(", " + x.key + ": " + x.text)
			}
		}
		if p.Minus {
			w.WriteString(", side: minus")
		}
		for _, f := range placeFields {
			if text := shown(f.at(&p), f.kind, 1, false); text != "" {
				w.WriteString(", " + f.name + ": " + text)
			}
		}
		w.WriteString("}\n")
	}
}

// unplanned gives the parts that [Plan] would lay otherwise from the rest of the
// file, each with what it would lay otherwise only.
func (s *System) unplanned() []Part {
	var out []Part
	// A wish for one part changes others of its run, so what is still different is
	// looked for again, until nothing is; three rounds are the most seen.
	for range 8 {
		again := *s
		again.Loads = slices.Clone(s.Loads)
		again.Parts = s.placed(out)
		Plan(&again)
		more := false
		for _, p := range s.Parts {
			q, _ := again.Part(p.ID)
			d := different(p, q)
			if d == (Part{ID: p.ID}) {
				continue
			}
			more = true
			if i := slices.IndexFunc(out, func(x Part) bool { return x.ID == p.ID }); i >= 0 {
				out[i] = joined(out[i], d)
			} else {
				out = append(out, d)
			}
		}
		if !more {
			break
		}
	}
	return out
}

// placed are wishes as the file's places give them, with the wishes of a list.
func (s *System) placed(list []Part) []Part {
	var out []Part
	for _, p := range s.Places {
		x, _ := s.Part(p.ID)
		w := Part{ID: p.ID, Name: p.Name, RatedA: x.RatedA, MM2: x.MM2, FullA: x.FullA}
		if slices.Contains(styles, p.Like) {
			w.Style = p.Like
		}
		out = append(out, w)
	}
	for _, w := range list {
		if i := slices.IndexFunc(out, func(x Part) bool { return x.ID == w.ID }); i >= 0 {
			out[i] = joined(out[i], w)
		} else {
			out = append(out, w)
		}
	}
	return out
}

// different is p with only what it has otherwise than q.
func different(p, q Part) Part {
	d := p
	unless := func(same bool, v *string) {
		if same {
			*v = ""
		}
	}
	if p.Kind == q.Kind {
		d.Kind = ""
	}
	unless(p.Name == q.Name, &d.Name)
	unless(p.A == q.A, &d.A)
	unless(p.B == q.B, &d.B)
	unless(p.Circuit == q.Circuit, &d.Circuit)
	d.Minus = p.Minus && !q.Minus
	for _, f := range placeFields {
		switch v := f.at(&d).(type) {
		case *float64:
			if *v == *f.at(&q).(*float64) {
				*v = 0
			}
		case *string:
			unless(*v == *f.at(&q).(*string), v)
		}
	}
	return d
}

// joined is a part with what another says of it.
func joined(p, more Part) Part {
	take(&p.Name, more.Name)
	take(&p.Kind, more.Kind)
	take(&p.A, more.A)
	take(&p.B, more.B)
	take(&p.Circuit, more.Circuit)
	take(&p.Minus, more.Minus)
	for _, f := range placeFields {
		switch v := f.at(&p).(type) {
		case *float64:
			take(v, *f.at(&more).(*float64))
		case *string:
			take(v, *f.at(&more).(*string))
		}
	}
	return p
}

// shown writes a figure as a file has it; "" for what need not be said. nought
// says that 0 is a figure and not left out.
func shown(at any, kind string, per float64, nought bool) string {
	switch v := at.(type) {
	case *float64:
		if *v == 0 && !nought {
			return ""
		}
		k, _ := quantity.KindByID(kind)
		return strings.TrimSpace(figure(scaled(*v, per)) + " " + symbols[k.ID])
	case *int:
		return strconv.Itoa(*v)
	case *bool:
		if *v {
			return "yes"
		}
	case *string:
		return *v
	}
	return ""
}

// symbols are units as they are typed.
var symbols = map[string]string{
	"celsius": "C", "volts": "V", "amps": "A", "amp-hours": "Ah", "watts": "W", "farads": "F", "percent": "%", "seconds": "s", "area": "mm2", "metres": "m",
}

// scaled is v in another unit, without the dust that binary fractions leave.
func scaled(v, per float64) float64 {
	if per == 1 {
		return v
	}
	x, err := strconv.ParseFloat(strconv.FormatFloat(v*per, 'g', 14, 64), 64)
	if err != nil {
		return v * per
	}
	return x
}

// figure writes a number so that it reads back the same.
func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// quoted writes a text so that nothing in it is taken for YAML.
func quoted(text string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\t", `\t`).Replace(text) + `"`
}
