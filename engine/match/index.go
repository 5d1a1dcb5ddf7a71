package match

import (
	"cmp"
	"math"
	"slices"
)

// Entry is one thing that words can mean: a symptom, a reading, an option.
type Entry struct {
	ID    string   // its id in the knowledge
	Label string   // what it is called on screen
	Says  []string // how people say it
}

// Hit is an entry that fits, with how well. A Score is above 0 and grows with the
// fit; only its order and its ratios mean something.
type Hit struct {
	ID, Label string
	Score     float64
	Hint      bool // it rests on one word among others that nobody knows: not to be taken without asking
}

// How much a word of the line is worth to an entry, by the way it was found.
const (
	exactly = 1.0
	samely  = 0.9 // another word of its group
	slipped = 0.8 // one slip away
	kinly   = 0.4 // a neighbouring thing
	weakly  = 0.4 // one of the words that say little by themselves
)

// strange is the weight of a word that nobody knows, as a share of the heaviest
// known one. People tell stories: a word from elsewhere tells little against an
// entry, many of them tell that the line is about something else.
const strange = 0.35

// Below these an entry does not fit: the share of the line explained, and the
// weight that is explained at all, as a share of the heaviest word.
const (
	leastShare  = 0.2
	leastWeight = 0.45
	mostlyAll   = 0.6 // of the line: then its weight does not matter
)

// mostStrange is how many words from elsewhere a line may hold for each that an
// entry explains.
const mostStrange = 2

// wholly is added to the score of an entry one of whose sayings the line is, word
// for word.
const wholly = 1.0

// Index finds entries by words. It never changes once made and may be used by
// several goroutines at a time.
type Index struct {
	lex     *lexicon
	entries []indexed
	idf     map[string]float64 // concept -> weight
	heavy   float64            // the heaviest weight there can be
	known   map[string]string  // plain word -> stem, for slips
}

type indexed struct {
	Entry
	stems   map[string]bool    // every stem in it
	concept map[string]float64 // every concept in it; 1 in its label or id, less if only said
	phrases []phrase
	forms   map[string]bool // folded label, id and sayings
}

// phrase is one saying, as a set of concepts with its length as a vector.
type phrase struct {
	has  map[string]bool
	norm float64
}

// New makes an index of entries. Further groups of words that mean the same may
// be given; one that begins with a word of the built-in table adds to that word's
// group.
func New(entries []Entry, synonyms ...[]string) *Index {
	x := &Index{lex: trade(), idf: map[string]float64{}, known: map[string]string{}}
	if len(synonyms) > 0 {
		x.lex = makeLexicon(synonyms)
	}
	for w := range x.lex.plain {
		x.known[w] = stem(w)
	}
	frequency := map[string]int{}
	for _, e := range entries {
		in := indexed{Entry: e, stems: map[string]bool{}, concept: map[string]float64{}, forms: map[string]bool{}}
		for i, text := range append([]string{e.Label, e.ID}, e.Says...) {
			in.forms[fold(text)] = true
			p := phrase{has: map[string]bool{}}
			for _, w := range x.lex.joined(cut(text)) {
				if stopWords[w.stem] {
					continue
				}
				x.known[w.raw] = w.stem
				in.stems[w.stem] = true
				c := x.lex.concept(w.stem)
				p.has[c] = true
				worth := 0.85
				if i < 2 {
					worth = 1
				}
				in.concept[c] = max(in.concept[c], worth)
			}
			if len(p.has) > 0 {
				in.phrases = append(in.phrases, p)
			}
		}
		for c := range in.concept {
			frequency[c]++
		}
		x.entries = append(x.entries, in)
	}
	n := float64(len(entries))
	x.heavy = math.Log(1 + n)
	for c, f := range frequency {
		x.idf[c] = math.Log(1 + n/float64(f))
		if weakWords[c] {
			x.idf[c] *= weakly
		}
	}
	for i := range x.entries {
		for j := range x.entries[i].phrases {
			p := &x.entries[i].phrases[j]
			sum := 0.0
			for _, c := range sorted(p.has) { // sorted, so that the sum is the same at every run
				sum += x.idf[c] * x.idf[c]
			}
			p.norm = math.Sqrt(sum)
		}
	}
	return x
}

func sorted(m map[string]bool) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// asked is one concept of the line, with the stem it came from.
type asked struct {
	stem, concept string
	weight        float64
	slip          bool
}

// Find gives the entries that fit the words, best first; equal ones in the order
// in which New was given them. It gives nothing for nonsense.
func (x *Index) Find(words string) []Hit {
	line, total, strangers := x.ask(words)
	norm := 0.0
	for _, a := range line {
		norm += a.weight * a.weight
	}
	norm = math.Sqrt(norm)
	whole := fold(words)
	var hits []Hit
	for i := range x.entries {
		e := &x.entries[i]
		score, explained := x.score(e, line, norm, total, strangers)
		if whole != "" && e.forms[whole] {
			score += wholly
		}
		if score > 0 {
			hits = append(hits, Hit{ID: e.ID, Label: e.Label, Score: score, Hint: explained < 2 && strangers > 0})
		}
	}
	slices.SortStableFunc(hits, func(a, b Hit) int { return cmp.Compare(b.Score, a.Score) })
	return hits
}

// score is how well an entry fits a line, 0 if not well enough, and how many
// telling words of the line it explains.
func (x *Index) score(e *indexed, line []asked, norm, total float64, strangers int) (score float64, explained int) {
	got := 0.0
	for _, a := range line {
		w := x.worth(e, a)
		got += a.weight * w
		if w > 0 && !weakWords[a.stem] {
			explained++
		}
	}
	if explained == 0 || strangers > mostStrange*explained || got < leastWeight*x.heavy && got < mostlyAll*total || got < leastShare*total {
		return 0, explained
	}
	best := 0.0
	for _, p := range e.phrases {
		best = max(best, x.fit(line, norm, p))
	}
	return got / total * (0.5 + best), explained
}

// ask makes the line's concepts, each once; the weight of the whole line, words
// that nobody knows included; and how many of those there are.
func (x *Index) ask(words string) (line []asked, total float64, strangers int) {
	seen := map[string]bool{}
	for _, w := range x.setRight(x.lex.joined(cut(words))) {
		c := x.lex.concept(w.stem)
		if stopWords[w.stem] || seen[c] {
			continue
		}
		seen[c] = true
		weight := x.weight(c)
		if weight == 0 && weakWords[c] {
			continue
		}
		if weight == 0 {
			total += strange * x.heavy
			strangers++
			continue
		}
		total += weight
		line = append(line, asked{w.stem, c, weight, w.slip})
	}
	return line, total, strangers
}

// weight of a concept: its own, or half that of its heaviest kin, or 0 if no
// entry has anything to do with it.
func (x *Index) weight(c string) float64 {
	if w, ok := x.idf[c]; ok {
		return w
	}
	w := 0.0
	for k := range x.lex.kin[c] {
		w = max(w, x.idf[k])
	}
	return w
}

// worth is how far an entry answers a concept of the line, 0 to 1.
func (x *Index) worth(e *indexed, a asked) float64 {
	if w, ok := e.concept[a.concept]; ok {
		switch {
		case a.slip:
			return w * slipped
		case e.stems[a.stem]:
			return w * exactly
		}
		return w * samely
	}
	for k := range x.lex.kin[a.concept] {
		if _, ok := e.concept[k]; ok {
			return kinly
		}
	}
	return 0
}

// fit is the cosine of the line and one saying.
func (x *Index) fit(line []asked, norm float64, p phrase) float64 {
	dot := 0.0
	for _, a := range line {
		if p.has[a.concept] {
			dot += a.weight * x.idf[a.concept]
		}
	}
	if dot == 0 {
		return 0
	}
	return dot / (norm * p.norm)
}

// guessed is a word of the line after slips have been set right.
type guessed struct {
	word
	slip bool
}

// setRight sets slips right and takes unknown words apart that are two known ones
// written together ("fuseholder").
func (x *Index) setRight(ws []word) []guessed {
	out := make([]guessed, 0, len(ws))
	for _, w := range ws {
		if _, ok := x.known[w.raw]; ok || x.has(w.stem) || stopWords[w.stem] || len(w.raw) < slipLength {
			out = append(out, guessed{w, false})
			continue
		}
		if a, b, ok := x.split(w.raw); ok {
			out = append(out, guessed{word{a, x.known[a]}, false}, guessed{word{b, x.known[b]}, false})
			continue
		}
		if to, ok := x.slip(w.raw); ok {
			out = append(out, guessed{word{to, x.known[to]}, true})
			continue
		}
		out = append(out, guessed{w, false})
	}
	return out
}

func (x *Index) has(stem string) bool {
	if _, ok := x.lex.group[stem]; ok {
		return true
	}
	_, ok := x.idf[stem]
	return ok
}

// slip is the known word one slip away; of several the first by the alphabet, so
// that the answer is the same at every run.
func (x *Index) slip(raw string) (string, bool) {
	best := ""
	for w := range x.known {
		if len(w) >= slipLength-1 && near(raw, w) && (best == "" || w < best) {
			best = w
		}
	}
	return best, best != ""
}

func (x *Index) split(raw string) (a, b string, ok bool) {
	for i := 3; i <= len(raw)-3; i++ {
		_, l := x.known[raw[:i]]
		_, r := x.known[raw[i:]]
		if l && r {
			return raw[:i], raw[i:], true
		}
	}
	return "", "", false
}
