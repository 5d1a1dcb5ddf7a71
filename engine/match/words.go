package match

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/kljensen/snowball/english"
)

// Caps on what is looked at. A complaint is a sentence or three; whatever is
// longer is a pasted page, and its start says as much as its whole.
const (
	MaxText  = 2000 // bytes of a line
	MaxWords = 80   // words of a line
	maxWord  = 40   // bytes of a word: longer ones are no words
)

// word is one word of a line: as folded, and its stem.
type word struct {
	raw, stem string
}

// cut makes words of a text: lower case, no apostrophes, cut at whatever is no
// letter or digit. Figures lose themselves and keep their unit, since a complaint
// is about volts and not about 12.6 of them; 0 and 100 are words of their own.
func cut(text string) []word {
	if len(text) > MaxText {
		text = strings.ToValidUTF8(text[:MaxText], "")
	}
	text = strings.ToLower(text)
	var out []word
	for _, f := range strings.FieldsFunc(apart(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}) {
		if len(out) == MaxWords {
			break
		}
		if len(f) > maxWord {
			continue
		}
		if w, ok := figures[f]; ok {
			f = w
		}
		if isNumber(f) {
			continue
		}
		out = append(out, word{f, stem(f)})
	}
	return out
}

// figures are the numbers and signs that say something by themselves.
var figures = map[string]string{"0": "zero", "100": "hundred", "v": "volts", "w": "watts"}

// apart joins what an apostrophe or a decimal point splits, parts a figure from
// its unit, and gives the percent sign and the degree sign their names.
func apart(s string) string {
	var b strings.Builder
	b.Grow(len(s) + 16)
	var last rune
	for i, r := range s {
		switch r {
		case '\'', '’', '‘', '`':
			continue
		case '.', ',':
			next, _ := utf8.DecodeRuneInString(s[i+1:])
			if unicode.IsDigit(last) && unicode.IsDigit(next) {
				r = '1' // a decimal figure stays one figure, whatever its digits
			}
		case '%':
			b.WriteString(" percent ")
			last = ' '
			continue
		case '°':
			b.WriteString(" degrees ")
			last = ' '
			continue
		}
		if unicode.IsDigit(last) && unicode.IsLetter(r) || unicode.IsLetter(last) && unicode.IsDigit(r) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

func isNumber(s string) bool {
	for _, r := range s {
		if !unicode.IsDigit(r) {
			return false
		}
	}
	return true
}

// irregular are forms that no rule leads back to their word.
var irregular = map[string]string{
	"burnt": "burn", "molten": "melt", "swollen": "swell", "swelled": "swell",
	"smelt": "smell", "smelly": "smell", "smoky": "smoke", "smokey": "smoke",
	"blew": "blow", "blown": "blow", "died": "die", "dying": "die",
	"froze": "freeze", "frozen": "freeze", "leccy": "electric", "lecky": "electric",
	"fiery": "fire", "smouldering": "smoulder", "smoldering": "smoulder",
	"stank": "stink", "stunk": "stink", "lying": "lie", "lies": "lie",
	"arcing": "arc", "arcking": "arc", "arched": "arc", "stuck": "stick",
	"flashes": "flash", "batts": "battery", "batt": "battery", "bulgy": "bulge",
	"charring": "char", "charred": "char", "singe": "burn", "singes": "burn", "singed": "burn", "singeing": "burn", "hottest": "hot", "hotter": "hot",
	"cant": "cannot", "spat": "spit", "shook": "shake", "fell": "fall", "rose": "rise", "went": "go", "gone": "go",
	"got": "get", "gave": "give", "lost": "lose", "kept": "keep", "lit": "light", "bought": "buy",
}

// stem is the stem of a folded word.
func stem(w string) string {
	if v, ok := irregular[w]; ok {
		w = v
	}
	return english.Stem(w, true)
}

// negations turn an answer round. They are words like others to an Index, and
// a bar to a loose choice.
var negations = stems("no", "not", "none", "never", "nothing", "without", "nil", "neither", "nor",
	"isnt", "doesnt", "dont", "wont", "didnt", "wasnt", "arent", "hasnt", "havent", "cannot", "couldnt", "wouldnt", "aint", "werent")

func stems(words ...string) map[string]bool {
	m := make(map[string]bool, len(words))
	for _, w := range words {
		m[stem(w)] = true
	}
	return m
}

// stopWords say nothing about a fault.
var stopWords = stems(strings.Fields(`
	a about above across actually also am an and another any anyone anything are around
	as ask at away be because become been being bit but by came can come comes coming could
	did do does doing done either ever exactly for get gets getting give gives go goes going
	got had has have having he hello help her here hey hi him his how however i if im in inside is it
	its ive just kind lately later least let like likely look looks lot made make makes may maybe me
	mean might mine moment must my near need needs next of often ok onto or
	our past people per perhaps please probably put really right said saw say says see seem seems seen she
	should show shows side since so someone somehow such sure take takes tell than thanks that
	the their them there these they theyre thing things think this those though till to today told
	took try trying upon us use used using usually very via want was way we
	were what whats when where which who whole why will with within would yes yesterday you your
	three four five six seven eight nine ten twelve twenty thirty forty fifty eighty ninety amid thou
	sort problem problems issue issues trouble wonder anymore properly completely totally
	house van hut camper boat caravan truck cabin system setup rig box unit kit stuff gear mate bloody damn`)...)

// weakWords say little by themselves and much beside others: "one panel is off",
// "the new battery is no better".
var weakWords = stems(strings.Fields(`
	after again all almost along already always before below between both day days down during each early else every few first from
	good half happen happens hours into itself keep keeps last late less little lots many more most much no not nothing now
	off old on once one only other out over own quite same second some something sometimes soon start starts started still then third
	through time times together too turn turned turns two under until up week weeks well while without year years yet`)...)
