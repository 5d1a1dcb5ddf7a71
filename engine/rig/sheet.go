package rig

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"hotlug/engine/reading"
)

// Sheet is a rig file while somebody fills it in: only what they said, where
// [System.YAML] writes all that a circuit needs.
type Sheet struct {
	Name, About, Kind, Earthing string

	Facts  []SheetFact
	Places []reading.PlaceOnRig
}

// SheetFact is one line of a sheet.
type SheetFact struct {
	Reading *reading.Reading // its Rig says where it stands
	Place   string
	reading.Given
}

// YAML writes the sheet as a rig file: one fact a line, one place a line, always
// in the same order, so that a change is a small difference. Read back with
// [Read], it gives the same facts.
func (s Sheet) YAML() []byte {
	var w bytes.Buffer
	w.WriteString("format: 1\n")
	for _, x := range []struct{ key, text string }{{"name", s.Name}, {"about", s.About}, {"kind", s.Kind}, {"earthing", s.Earthing}} {
		if x.text != "" {
			w.WriteString(x.key + ": " + quoted(x.text) + "\n")
		}
	}
	for _, section := range sections {
		open := false
		for _, f := range s.Facts {
			name, ok := strings.CutPrefix(f.Reading.Rig, section+".")
			if !ok || f.Place != "" {
				continue
			}
			if !open {
				w.WriteString(section + ":\n")
				open = true
			}
			w.WriteString("  " + name + ": " + f.text() + "\n")
		}
	}
	if len(s.Places) > 0 {
		w.WriteString("places:\n")
	}
	for _, p := range s.Places {
		w.WriteString("  - {id: " + p.ID + ", class: " + p.Class + ", name: " + quoted(p.Name))
		if p.Like != "" {
			w.WriteString(", like: " + p.Like)
		}
		var written []string
		for _, f := range s.Facts {
			name, ok := strings.CutPrefix(f.Reading.Rig, "place.")
			if ok && f.Place == p.ID && !slices.Contains(written, name) {
				written = append(written, name)
				w.WriteString(", " + name + ": " + f.text())
			}
		}
		w.WriteString("}\n")
	}
	return w.Bytes()
}

// text is the fact as it is typed. A figure keeps six digits: of a gauge in mm²
// nobody knows more.
func (f SheetFact) text() string {
	if f.Reading.Answer != reading.Number {
		return f.Choice
	}
	v, err := strconv.ParseFloat(strconv.FormatFloat(f.Value, 'g', 6, 64), 64)
	if err != nil {
		v = f.Value
	}
	text := strings.TrimSpace(figure(v) + " " + symbols[f.Reading.Kind.ID])
	if f.About {
		text = "about " + text
	}
	return text
}
