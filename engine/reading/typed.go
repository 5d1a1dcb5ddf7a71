package reading

import (
	"fmt"
	"slices"
	"strings"

	"hotlug/engine/pattern"
	"hotlug/engine/quantity"
)

// Given is an answer to a reading as somebody wrote it.
type Given struct {
	Value  float64 // in the unit of the reading's kind
	Digit  float64 // worth of the last digit written
	About  bool
	Choice string // id of an option, or "yes" or "no"
}

// bare is a number without a unit, other than nought.
var bare = pattern.Of(`^\s*[-+−]?[0-9.,]*[1-9][0-9.,]*\s*$`)

// eitherUnit asks back which unit is meant where the meter shows another one
// than the reading is kept in: 180 beside a meter on millivolts is no 180 V.
func eitherUnit(r *Reading, text string) error {
	small, large := text+" "+r.Shows, text+" "+r.Kind.Unit.Symbol()
	return &quantity.AskBack{Text: text, Say: fmt.Sprintf("Is that %s or %s? Type it with its unit.", small, large), Suggest: []string{small, large}}
}

// Typed reads text as an answer to r: a number with its unit, yes or no, or the
// id, label or other word of a choice. The error says in a sentence what is
// wrong; for a number it is a *quantity.AskBack.
func Typed(r *Reading, text string) (Given, error) {
	word := strings.ToLower(strings.TrimSpace(text))
	switch r.Answer {
	case YesNo:
		switch word {
		case "yes", "y", "true":
			return Given{Choice: "yes"}, nil
		case "no", "n", "false":
			return Given{Choice: "no"}, nil
		}
		return Given{}, fmt.Errorf("%q is neither yes nor no", text)
	case Choice:
		var ids []string
		for _, o := range r.Options {
			same := func(s string) bool { return strings.ToLower(s) == word }
			if same(o.ID) || same(o.Label) || slices.ContainsFunc(o.Says, same) {
				return Given{Choice: o.ID}, nil
			}
			ids = append(ids, o.ID)
		}
		return Given{}, fmt.Errorf("%q is none of the answers: %s", text, strings.Join(ids, ", "))
	}
	t, err := quantity.Read(text, r.Kind)
	if err != nil {
		return Given{}, err
	}
	if r.Shows != "" && bare.MatchString(text) {
		return Given{}, eitherUnit(r, strings.TrimSpace(text))
	}
	return Given{Value: t.Value, Digit: t.Digit, About: t.About}, nil
}
