package diagram

import (
	"strings"
	"unicode"

	"github.com/rivo/uniseg"

	"hotlug/engine/rig"
)

// mostName is more than any name needs that can be read on a drawing.
const mostName = 80

// clean makes a name fit to be drawn: letters, marks and plain spaces only, on one
// line, not longer than can be read. What is hidden or turns the direction of
// writing shows as a replacement.
func clean(s string) string {
	s = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r):
			return ' '
		case !unicode.IsGraphic(r):
			return unicode.ReplacementChar
		}
		return r
	}, s)), " ")
	if r := []rune(s); len(r) > mostName {
		s = string(r[:mostName-2]) + ".."
	}
	return s
}

// columns is how many columns of a terminal a text takes.
func columns(s string) int { return uniseg.StringWidth(s) }

// short is a name without the words that its place in the drawing says already:
// the article, and the rung that it belongs to.
func short(name, rung string) string {
	name, rung = clean(name), strings.TrimPrefix(clean(rung), "the ")
	name = strings.TrimPrefix(name, "the ")
	for _, of := range []string{" of the " + rung, " of " + rung, " to the " + rung, " to " + rung} {
		if rung != "" && strings.HasSuffix(name, of) && len(name) > len(of) {
			name = strings.TrimSuffix(name, of)
			break
		}
	}
	if rung != "" {
		name = strings.ReplaceAll(strings.TrimPrefix(name, rung+"'s "), "the "+rung+"'s ", "its ")
	}
	return name
}

// beside is a part's name without what the parts above and below it say: a wire
// need not tell where it begins and ends, nor a stud of which fuse it is.
func beside(name string, k rig.PartKind, links []link, i int) string {
	head, rest := name, ""
	switch k {
	case rig.Wire:
		head, _, _ = strings.Cut(name, " from ")
		head, _, _ = strings.Cut(head, " between ")
	case rig.Splice:
		head, _, _ = strings.Cut(name, " in ")
	case rig.Joint:
		for _, j := range []int{i - 1, i + 1} {
			if j < 0 || j >= len(links) {
				continue
			}
			for _, of := range strings.Split(name, " of the ")[1:] {
				of, where, found := strings.Cut(of, " on ")
				if found && strings.Contains(links[j].part.Name, of) {
					head, _, _ = strings.Cut(name, " of the ")
					rest = " on " + where
				}
			}
		}
	}
	return head + rest
}

// wrap breaks a text at spaces into lines of at most so many columns; a word that
// no line holds is broken between characters. It gives at least one line.
func wrap(s string, width int) []string {
	width = max(width, 4)
	var lines []string
	line := ""
	for _, w := range strings.Fields(s) {
		for columns(w) > width {
			if line != "" {
				lines, line = append(lines, line), ""
			}
			var head string
			head, w = cut(w, width)
			lines = append(lines, head)
		}
		switch {
		case w == "":
		case line == "":
			line = w
		case columns(line)+1+columns(w) <= width:
			line += " " + w
		default:
			lines, line = append(lines, line), w
		}
	}
	if line != "" || len(lines) == 0 {
		lines = append(lines, line)
	}
	return lines
}

// cut parts a text after as many whole characters as a width holds, one at least.
func cut(s string, width int) (head, rest string) {
	state := -1
	at := 0
	for rest = s; rest != ""; {
		c, next, w, st := uniseg.FirstGraphemeClusterInString(rest, state)
		if head != "" && at+w > width {
			break
		}
		head, rest, state = head+c, next, st
		at += w
	}
	return head, rest
}

// clip is a text on one line of a width, its end left out where it is longer.
func clip(s string, width int) string {
	if columns(s) <= width {
		return s
	}
	head, _ := cut(s, max(1, width-2))
	return strings.TrimRight(head, " ") + ".."
}

// list joins names as one says them: "a, b and c".
func list(names []string) string {
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}
