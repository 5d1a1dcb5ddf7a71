package formula

import (
	"math"
	"strings"

	"hotlug/engine/quantity"
)

// Shower says how numbers are printed and what things are called. Without Name
// or Word the ids are used.
type Shower struct {
	Style quantity.Style
	// Name is what a reading or a worked value is called inside a sentence:
	// "volts across the fuse holder".
	Name func(id string) string
	// Word is the label of an option of a reading.
	Word func(reading, option string) string
}

func (s Shower) number(v float64, u quantity.Unit) string { return quantity.Show(v, u, s.Style) }

// within is a number with how far off it may be, rounded to what that allows.
func (s Shower) within(v Val, u quantity.Unit) string {
	half := max(v.Hi-v.Mid, v.Mid-v.Lo)
	if !(half > 0) || math.IsInf(half, 0) {
		return s.number(v.Mid, u)
	}
	return quantity.ShowWithin(v.Mid, half, u, s.Style)
}

// standard is a standard size or rating, which is never rounded.
func (s Shower) standard(v float64, u quantity.Unit) string {
	return quantity.ShowExact(v, u, s.Style)
}

func (s Shower) id(name string) string {
	if s.Name != nil {
		if n := s.Name(name); n != "" {
			return n
		}
	}
	return name
}

func (s Shower) ref(r Ref) string {
	n := s.id(r.Name)
	switch r.Form {
	case Was:
		return n + " before"
	case Mean:
		return "the mean of " + n + " over like places"
	case Highest:
		return "the highest of " + n + " over like places"
	case Others:
		return "the mean of " + n + " at the other places"
	}
	return n
}

func (s Shower) option(reading string, option string) string {
	if s.Word != nil {
		if w := s.Word(reading, option); w != "" {
			return w
		}
	}
	return option
}

func (s Shower) options(r Ref, t Type, words uint64) string {
	var list []string
	for i, o := range t.Options {
		if words>>uint(i)&1 == 1 {
			list = append(list, s.option(r.Name, o))
		}
	}
	return listWords(list)
}

// lowerFirst makes a title fit inside a sentence; what begins with two capitals
// is an abbreviation and stays.
func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'A' && s[1] <= 'Z' {
		return s
	}
	return strings.ToLower(s[:min(1, len(s))]) + s[min(1, len(s)):]
}
