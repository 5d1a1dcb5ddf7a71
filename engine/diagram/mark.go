package diagram

import "strconv"

// Verdict is how a reading stands. It is told by a word and by a shape.
type Verdict int

// The verdicts.
const (
	NoVerdict Verdict = iota // nothing was decided by it
	InOrder                  // as it should be; a circle
	AtFault                  // not as it should be; a triangle
	Close                    // too close to call, or doubtful; a diamond
)

// verdicts are the words for a verdict, and its shape in letters.
var verdicts = [...]struct{ word, shape string }{
	NoVerdict: {"", ""}, InOrder: {"in order", "(ok)"}, AtFault: {"at fault", "/!\\"}, Close: {"too close to call", "<?>"},
}

// String is the verdict's word, "" for none.
func (v Verdict) String() string { return verdicts[v].word }

// Mark is one reading on the drawing. A measurement has two points, From for the
// red probe and To for the black one; what is read of a part itself (its heat, its
// look) has none and stands at the part that At names.
type Mark struct {
	From, To string // points of the vocabulary
	At       string // the place or part at which it was read; "" where it has none
	Label    string // what was read: "volts across the holder"
	Value    string // as shown: "180 mV"
	Verdict  Verdict
	Word     string // says the verdict in other words; "" for its own
}

// says is what a mark says: value, shape and word of the verdict, and the label.
func (m Mark) says() (head, label string) {
	head = clean(m.Value)
	word := clean(m.Word)
	if word == "" {
		word = m.Verdict.String()
	}
	for _, x := range []string{verdicts[m.Verdict].shape, word} {
		if x != "" {
			head += " " + x
		}
	}
	return head, clean(m.Label)
}

// number is what a mark is called on the drawing.
func number(i int) string { return strconv.Itoa(i + 1) }
