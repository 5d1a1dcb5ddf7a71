package shape

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hotlug/engine/pattern"
)

// quantityText is a number with or without a unit behind it; the unit itself is
// read by others.
var quantityText = pattern.Of(`^[-+]?([0-9]+(\.[0-9]+)?|\.[0-9]+)([eE][-+]?[0-9]{1,3})?( ?[^\s0-9.][^\s]*)?$`)

func (c *checker) scalar(n *Node, s *Shape, o owner) {
	if strings.TrimSpace(n.text) == "" {
		c.report("missing-value", n, o.what+" is an empty text.", "Give it "+s.wants()+".")
		return
	}
	if s.MaxLen > 0 && s.Form != FormID {
		if length := utf8.RuneCountInString(n.text); length > s.MaxLen {
			c.report("too-long", n, fmt.Sprintf("%s has %d characters; it may have %d.", o.what, length, s.MaxLen),
				"Say it shorter.")
			return
		}
	}
	switch s.Form {
	case FormText:
		c.text(n, s, o)
	case FormID:
		c.id(n, s.Pattern, s.MaxLen)
	case FormExpression:
		if !n.IsExpressionStyle() {
			c.report("expression-style", n, o.what+" is a formula over several lines or with escapes, in which errors could not be pointed at.",
				"Write it on one line, in single quotes if need be, or as a | block.")
		}
	case FormBool:
		if _, ok := n.Bool(); !ok {
			c.report("wrong-kind", n, fmt.Sprintf("%s must be true or false; here it is %s.", o.what, shown(n.text)),
				"Write true or false, without quotes.")
		}
	case FormInt:
		v, ok := n.Int()
		c.number(n, s, o, float64(v), ok, "a whole number")
	case FormNumber:
		v, ok := n.Float()
		c.number(n, s, o, v, ok, "a number")
	case FormQuantity:
		if !quantityText.MatchString(n.text) {
			c.report("not-a-quantity", n, fmt.Sprintf("%s must be a number with its unit; here it is %s.", o.what, shown(n.text)),
				"Write it as in: 12 V")
		}
	case FormWord:
		c.word(n, s, o)
	}
}

func (c *checker) text(n *Node, s *Shape, o owner) {
	if s.Loose || n.sense == isText {
		return
	}
	c.report("wrong-kind", n, fmt.Sprintf("%s must be a text; %s is taken for %s.", o.what, shown(n.text), n.sense),
		"Put it in quotes.")
}

func (c *checker) id(n *Node, p *Pattern, maxLen int) {
	if maxLen > 0 && utf8.RuneCountInString(n.text) > maxLen {
		c.report("too-long", n, fmt.Sprintf("%s is too long for a name; it may have %d characters.", shown(n.text), maxLen),
			"Shorten it.")
		return
	}
	if p == nil || p.re.MatchString(n.text) && n.sense == isText {
		return
	}
	c.report("bad-id", n, shown(n.text)+" does not have the form of a name here.", "The form is: "+p.Says+".")
}

func (c *checker) number(n *Node, s *Shape, o owner, v float64, ok bool, wanted string) {
	if !ok {
		hint := "Write plain digits, without quotes, unit, leading zero or _."
		c.report("wrong-kind", n, fmt.Sprintf("%s must be %s; here it is %s.", o.what, wanted, shown(n.text)), hint)
		return
	}
	if b := s.Bounds; b != nil && (v < b.Least || v > b.Most) {
		text := fmt.Sprintf("%s is %s; it must lie from %s to %s.", o.what, n.text, digits(b.Least), digits(b.Most))
		if b.Least == b.Most {
			text = fmt.Sprintf("%s is %s; it must be %s.", o.what, n.text, digits(b.Least))
		}
		c.report("out-of-range", n, text, "")
	}
}

func digits(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

func (c *checker) word(n *Node, s *Shape, o owner) {
	if slices.Contains(s.Words, n.text) {
		return
	}
	hint := "There are: " + strings.Join(s.Words, ", ") + "."
	if like := DidYouMean(n.text, s.Words); like != "" {
		hint = "Did you mean " + like + "? " + hint
	}
	c.report("not-a-choice", n, fmt.Sprintf("%s may not be %s.", o.what, shown(n.text)), hint)
}

// wants is what a shape asks for, as in "a list of ids".
func (s *Shape) wants() string {
	if s.Noun != "" {
		return s.Noun
	}
	switch s.Form {
	case FormID:
		return "a name"
	case FormExpression:
		return "a formula"
	case FormBool:
		return "true or false"
	case FormInt:
		return "a whole number"
	case FormNumber:
		return "a number"
	case FormQuantity:
		return "a number with its unit"
	case FormWord:
		return "one of " + strings.Join(s.Words, ", ")
	case FormList:
		return "a list"
	case FormTable:
		return "a map with a name for each entry"
	case FormMap:
		return "a map with the fields " + strings.Join(s.fieldNames(), ", ")
	case FormEither:
		var all []string
		for _, e := range s.flat(nil) {
			if w := e.wants(); !slices.Contains(all, w) {
				all = append(all, w)
			}
		}
		return strings.Join(all, " or ")
	}
	return "a text"
}
