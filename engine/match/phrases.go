package match

import (
	"slices"
	"strings"

	"hotlug/engine/pattern"
)

// loose is how many other words may stand among those of a phrase: "smells a bit
// of burning" holds "burning smell".
const loose = 3

// fillers are the words of a phrase that need not be there: "hot to touch" is
// as good as "too hot to touch", and "it is on fire" as "fire".
var fillers = stems("a", "an", "the", "to", "too", "of", "is", "it", "its", "in", "on", "at", "and", "now", "there", "that", "very", "so", "my", "was", "are", "has", "up", "like")

// harmless are words that sound like those of danger and mean nothing of the sort;
// they are never taken for a slip.
var harmless = stems("frame", "frames", "spoke", "stroke", "spare", "spares", "shark", "flare", "meeting", "setting", "shelf", "smile", "battling",
	"growing", "leaving", "leaning", "leasing", "flakes", "stoke", "turning", "running", "charging", "switching", "missing", "kissing", "belting", "burger", "bring", "buying")

// Phrases finds set phrases in a line, word by word and stem by stem, in any
// order, a few other words among them. It never changes once made.
type Phrases struct {
	all   []sought
	kinds [][]string
}

type sought struct {
	text  string
	words []wanted
}

// wanted is a word of a phrase with the forms that a slip may be a slip of.
type wanted struct {
	word
	forms []string
}

func forms(w word) []string {
	if len(w.raw) < slipLength {
		return nil
	}
	base := strings.TrimSuffix(w.stem, "e")
	return []string{w.raw, base + "ing", base + "ed", base + "es"}
}

// NewPhrases makes a finder of phrases. One that is made of nothing but fillers,
// or of nothing, is never found.
func NewPhrases(phrases []string) *Phrases {
	p := &Phrases{}
	for _, k := range kinds {
		var s []string
		for _, w := range cut(k) {
			s = append(s, w.stem)
		}
		p.kinds = append(p.kinds, s)
	}
	for _, t := range phrases {
		s := sought{text: t}
		for _, w := range cut(t) {
			if !fillers[w.stem] {
				s.words = append(s.words, wanted{w, forms(w)})
			}
		}
		if len(s.words) > 0 {
			p.all = append(p.all, s)
		}
	}
	return p
}

// kinds name a kind of thing with the words of a danger: a flooded battery is one
// with liquid acid, and no battery under water. They count in this order only, one
// word right behind the other.
var kinds = []string{
	"flooded lead acid", "flooded lead", "flooded acid", "flooded battery", "flooded cell", "flooded type", "flooded kind", "wet cell", "wet lead", "wet lead acid", "wet acid",
	"water pump", "water level", "water heater", "water boiler", "drinking water", "distilled water", "deionised water",
	"deionized water", "purified water", "battery water", "water bottle", "topped up with water", "top up with water", "water filter",
}

// rooms are what a kind stands in: "the flooded battery box" is a box under water.
var rooms = stems("box", "compartment", "bay", "locker", "hold", "case", "room", "cupboard", "shed", "tray")

// clauses end at a stop or a comma that no figure goes on behind: "it flooded,
// battery dead" names no kind.
var clauses = pattern.Of(`[;:!?()\n]|[.,]+(\s|$)|\s-+\s|[–—]`)

// withoutKinds is a line without the words that only name a kind.
func (p *Phrases) withoutKinds(line []word) []word {
	var out []word
	for i := 0; i < len(line); {
		n := 0
		for _, k := range p.kinds {
			if len(k) > n && begins(line[i:], k) && (i+len(k) == len(line) || !rooms[line[i+len(k)].stem]) {
				n = len(k)
			}
		}
		if n == 0 {
			out = append(out, line[i])
			n = 1
		}
		i += n
	}
	return out
}

func begins(line []word, stems []string) bool {
	if len(line) < len(stems) {
		return false
	}
	for i, s := range stems {
		if line[i].stem != s {
			return false
		}
	}
	return true
}

// In gives the phrases that a line holds, as NewPhrases was given them and in
// that order. A denied word is found too: whoever uses this asks, and does not
// conclude. A word that only names a kind of thing is not found.
func (p *Phrases) In(line string) []string {
	if len(line) > MaxText {
		line = strings.ToValidUTF8(line[:MaxText], "")
	}
	var ws []word
	for _, clause := range clauses.Split(line, -1) {
		ws = append(ws, p.withoutKinds(cut(clause))...)
	}
	ws = slices.DeleteFunc(ws[:min(len(ws), MaxWords)], func(w word) bool { return fillers[w.stem] })
	var out []string
	for _, s := range p.all {
		if holds(ws, s.words) && !slices.Contains(out, s.text) {
			out = append(out, s.text)
		}
	}
	return out
}

// holds says whether all words of a phrase stand within reach of each other.
func holds(line []word, phrase []wanted) bool {
	for i := range line {
		if !anyOf(line[i], phrase) {
			continue
		}
		window := line[i:min(len(line), i+len(phrase)+loose)]
		if len(phrase) == 1 {
			window = line[i : i+1]
		}
		all := true
		for _, w := range phrase {
			if !slices.ContainsFunc(window, func(l word) bool { return alike(l, w) }) {
				all = false
				break
			}
		}
		if all {
			return true
		}
	}
	return false
}

func anyOf(w word, of []wanted) bool {
	return slices.ContainsFunc(of, func(o wanted) bool { return alike(w, o) })
}

// alike says whether a typed word is a word of a phrase: same stem, or one slip
// away if it is long and no word of the trade by itself.
func alike(typed word, want wanted) bool {
	if typed.stem == want.stem {
		return true
	}
	if len(typed.raw) < slipLength || harmless[typed.stem] || trade().plain[typed.raw] || stopWords[typed.stem] {
		return false
	}
	if _, ok := trade().group[typed.stem]; ok {
		return false
	}
	return slices.ContainsFunc(want.forms, func(f string) bool { return near(typed.raw, f) })
}
