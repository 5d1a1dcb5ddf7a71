package match

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Numbered is a list to choose from by number, in one column.
func Numbered(items []string) []string {
	out := make([]string, len(items))
	wide := len(strconv.Itoa(len(items)))
	for i, it := range items {
		out[i] = fmt.Sprintf("%*d  %s", wide, i+1, it)
	}
	return out
}

// Choices finds the option that a typed line names. It never changes once made.
type Choices struct {
	all []option
}

type option struct {
	id     string
	forms  []string          // folded id, label and sayings
	bags   []map[string]bool // the stems of each form
	denies []bool            // whether each form holds a negation
}

// NewChoices makes a finder of options.
func NewChoices(options []Entry) *Choices {
	c := &Choices{}
	for _, e := range options {
		o := option{id: e.ID}
		for _, text := range append([]string{e.Label, e.ID}, e.Says...) {
			f := fold(text)
			if f == "" || slices.Contains(o.forms, f) {
				continue
			}
			bag, denies := bagOf(text)
			o.forms = append(o.forms, f)
			o.bags = append(o.bags, bag)
			o.denies = append(o.denies, denies)
		}
		c.all = append(c.all, o)
	}
	return c
}

// Exactly gives the ids of the options whose id, label or saying the whole line
// is, case and punctuation apart. One id is an answer; several are to be asked
// back.
func (c *Choices) Exactly(text string) []string {
	t := fold(text)
	return c.ids(func(o *option) bool { return t != "" && slices.Contains(o.forms, t) })
}

// Loosely gives the ids that fit by the first of these that fits at all: the
// whole line; the beginning of an id, label or saying (one letter only of the
// label or id); the same words in other forms; a saying inside a longer line. A
// negation on one side only is never overlooked.
func (c *Choices) Loosely(text string) []string {
	if ids := c.Exactly(text); len(ids) > 0 {
		return ids
	}
	t := fold(text)
	if t == "" {
		return nil
	}
	if utf8.RuneCountInString(t) == 1 {
		return c.ids(func(o *option) bool { return len(o.forms) > 0 && strings.HasPrefix(o.forms[0], t) })
	}
	if ids := c.ids(func(o *option) bool {
		return slices.ContainsFunc(o.forms, func(f string) bool { return strings.HasPrefix(f, t) })
	}); len(ids) > 0 {
		return ids
	}
	bag, denies := bagOf(text)
	if len(bag) == 0 {
		return nil
	}
	if ids := c.byBag(denies, func(form map[string]bool) bool { return len(form) == len(bag) && within(form, bag) }); len(ids) > 0 {
		return ids
	}
	return c.byBag(denies, func(form map[string]bool) bool { return within(form, bag) })
}

// besides are words that stand beside the name of a kind and add nothing to it:
// "ours are flooded batteries", "the wet kind".
var besides = stems("they", "they're", "these", "those", "we", "i", "have", "got", "ours", "mine", "our", "think", "just", "normal", "ordinary", "plain", "old", "type", "kind", "sort",
	"one", "ones", "battery", "batteries", "cell", "cells", "bank", "be", "were", "with", "say", "says", "label")

// Only says whether a line holds nothing but words of the options, and such as add
// nothing to them: then it names one, and tells of nothing else.
func (c *Choices) Only(text string) bool {
	own := map[string]bool{}
	for i := range c.all {
		for _, b := range c.all[i].bags {
			for w := range b {
				own[w] = true
			}
		}
	}
	bag, denies := bagOf(text)
	for w := range bag {
		if !own[w] && !besides[w] {
			return false
		}
	}
	return len(bag) > 0 && !denies
}

// Choose gives the one option that a line names, exactly or loosely, and whether
// there is just one.
func Choose(options []Entry, text string, loosely bool) (id string, ok bool) {
	c := NewChoices(options)
	ids := c.Exactly(text)
	if loosely {
		ids = c.Loosely(text)
	}
	if len(ids) != 1 {
		return "", false
	}
	return ids[0], true
}

func (c *Choices) ids(fits func(*option) bool) []string {
	var out []string
	for i := range c.all {
		if fits(&c.all[i]) {
			out = append(out, c.all[i].id)
		}
	}
	return out
}

func (c *Choices) byBag(denies bool, fits func(map[string]bool) bool) []string {
	return c.ids(func(o *option) bool {
		for i, b := range o.bags {
			if len(b) > 0 && o.denies[i] == denies && fits(b) {
				return true
			}
		}
		return false
	})
}

// within says whether every word of a is in b.
func within(a, b map[string]bool) bool {
	for w := range a {
		if !b[w] {
			return false
		}
	}
	return true
}

// fold makes two ways of writing the same words equal: case, apostrophes, signs,
// spaces, and the article in front.
func fold(text string) string {
	if len(text) > MaxText {
		return ""
	}
	f := strings.Fields(unitApart(strings.Map(func(r rune) rune {
		switch {
		case r == '\'' || r == '’' || r == '‘' || r == '`':
			return -1
		case strings.ContainsRune(" -_/,;:!()\"\t", r):
			return ' '
		}
		return r
	}, strings.ToLower(text))))
	for i := range f {
		f[i] = strings.TrimRight(f[i], ".?")
	}
	f = slices.DeleteFunc(f, func(s string) bool { return s == "" })
	if len(f) > 1 && (f[0] == "the" || f[0] == "a" || f[0] == "an") {
		f = f[1:]
	}
	return strings.Join(f, " ")
}

// bagOf is the set of a text's stems without those that say nothing, and whether
// one of its words is a negation.
func bagOf(text string) (bag map[string]bool, denies bool) {
	bag = map[string]bool{}
	for _, w := range cut(text) {
		if negations[w.stem] {
			denies = true
			continue
		}
		if !fillers[w.stem] {
			bag[w.stem] = true
		}
	}
	return bag, denies
}

// unitApart puts a space between a figure and the letters that touch it.
func unitApart(s string) string {
	var b strings.Builder
	var last rune
	for _, r := range s {
		if unicode.IsDigit(last) && unicode.IsLetter(r) || unicode.IsLetter(last) && unicode.IsDigit(r) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}
