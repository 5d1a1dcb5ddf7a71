package quantity

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// MaxTyped is the longest text that Read looks at, in bytes. No reading needs
// more.
const MaxTyped = 64

var swaps = strings.NewReplacer(
	"\u2212", "-", "\u2013", "-", "\u2014", "-", "\u2010", "-", "\u2011", "-", // minus, dashes
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2007", " ", "\t", " ", // spaces
	"µ", "u", "μ", "u", "Ω", "ohm", "Ω", "ohm", "²", "2", "℃", "°C", "℉", "°F", "º", "°",
	"’", "'", "′", "'", "‘", "'", "”", "\"", "″", "\"", "“", "\"",
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⁄", "/",
	"≈", "~", "≥", ">", "≤", "<",
)

// areaSigns are written as one word before figures are looked for, as they
// carry a figure of their own.
var areaSigns = []string{"mm^2", "mm2"}

// plainText brings typed text to plain spaces, minus signs and letters, or says
// why it can't be read.
func plainText(text string) (s, say string) {
	if len(text) > MaxTyped {
		return "", "That is longer than a reading. Type the figure and its unit only."
	}
	if !utf8.ValidString(text) {
		return "", "I can't read some of those letters. Type the figure and its unit again."
	}
	s = strings.TrimSpace(text)
	for _, r := range s {
		if unicode.IsControl(r) && r != '\t' {
			return "", "There is a key in it that is no letter or figure. Type it again."
		}
	}
	s = swaps.Replace(s)
	for _, sign := range areaSigns {
		s = replaceSign(s, sign, "sqmm")
	}
	return strings.Join(strings.Fields(s), " "), ""
}

// replaceSign swaps a sign in any case, except where a figure goes on.
func replaceSign(s, sign, by string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		j := i + len(sign)
		if j <= len(s) && strings.EqualFold(s[i:j], sign) && (j == len(s) || !isDigit(s[j])) {
			b.WriteString(by)
			i = j
			continue
		}
		b.WriteByte(s[i])
		i++
	}
	return b.String()
}

// words before and after a figure that add nothing, that make it rough, or that
// make it a bound.
var (
	fillers = []string{"it is", "it's", "its", "that is", "that's", "i read", "i get", "i got", "i see", "i have", "i measured",
		"reading is", "reading", "reads", "read", "shows", "showing", "says", "got", "get", "the meter", "meter", "the", "it", "is", "was", "now", "still",
		"only", "just", "exactly", "measured", "a", "=", ":"}
	roughly = []string{"about", "approximately", "approx.", "approx", "roughly", "around", "circa", "ca.", "ca", "~", "maybe", "perhaps",
		"probably", "nearly", "almost", "close to", "near", "i think", "say", "some"}
	roughAfter = []string{"or so", "-ish", "ish", "or thereabouts", "approximately", "approx", "roughly", "about", "i think", "maybe", "more or less", "give or take"}
	idleAfter  = []string{"now", "exactly", "on the meter", "steady", "!", "."}
	bounds     = []string{"less than", "more than", "no more than", "over", "under", "above", "below", "at least", "at most", "up to", "max", "maximum", "between", "<", ">"}
)

// stripWords takes the idle words off and tells whether the figure is rough.
func stripWords(s string) (rest string, about bool) {
	for {
		before := s
		if t, ok := cutLead(s, fillers); ok {
			s = t
		} else if t, ok := cutLead(s, roughly); ok {
			s, about = t, true
		}
		if t, ok := cutTail(s, roughAfter); ok {
			s, about = t, true
		} else if t, ok := cutTail(s, idleAfter); ok {
			s = t
		}
		if s == before {
			return s, about
		}
	}
}

func cutLead(s string, words []string) (string, bool) {
	for _, w := range words {
		if len(s) < len(w) || !strings.EqualFold(s[:len(w)], w) {
			continue
		}
		rest := s[len(w):]
		last := rune(w[len(w)-1])
		if unicode.IsLetter(last) && rest != "" && startsWithLetter(rest) {
			continue // "almostly"
		}
		if w == "a" && !strings.HasPrefix(rest, " ") {
			continue // "A=4"
		}
		return strings.TrimLeft(rest, " "), true
	}
	return s, false
}

func cutTail(s string, words []string) (string, bool) {
	for _, w := range words {
		if len(s) <= len(w) || !strings.EqualFold(s[len(s)-len(w):], w) {
			continue
		}
		rest := s[:len(s)-len(w)]
		if unicode.IsLetter(rune(w[0])) && w != "ish" && !strings.HasSuffix(rest, " ") {
			continue
		}
		return strings.TrimRight(rest, " "), true
	}
	return s, false
}

func startsWithLetter(s string) bool {
	r, _ := utf8.DecodeRuneInString(s)
	return unicode.IsLetter(r)
}

func hasBound(s string) bool {
	_, ok := cutLead(s, bounds)
	return ok
}

var numberWords = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// spellDigits writes a number word at the start as figures: "two hours".
func spellDigits(s string) string {
	for i, w := range numberWords {
		if t, ok := cutLead(s, []string{w}); ok && (t == "" || startsWithLetter(t)) && strings.ToLower(firstWord(t)) != "point" {
			return strings.TrimSpace(itoa(i) + " " + t)
		}
	}
	for _, w := range []struct{ from, to string }{{"half an ", "0.5 "}, {"half a ", "0.5 "}, {"an hour", "1 hour"}} {
		if len(s) >= len(w.from) && strings.EqualFold(s[:len(w.from)], w.from) {
			return w.to + s[len(w.from):]
		}
	}
	return s
}

func firstWord(s string) string {
	w, _, _ := strings.Cut(s, " ")
	return w
}
