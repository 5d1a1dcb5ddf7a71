package chat

import (
	"fmt"
	"strings"

	"hotlug/cmd/hotlug/term"
)

// heardDanger repeats what was typed that brings the danger question.
func heardDanger(words string) string {
	if w := repeated(words); w != "" {
		return fmt.Sprintf(dangerHeard, w)
	}
	return dangerMaybe
}

// longestRepeated is how much of a sentence is repeated, in letters: enough for what
// somebody says of a danger, and less than a line.
const longestRepeated = 60

// repeated is what was typed, fit to be printed in quotes: one line, no more of
// it than needed, cut between words.
func repeated(text string) string {
	words := strings.Fields(strings.ReplaceAll(term.SafeLine(text), "\"", "'"))
	line := strings.Join(words, " ")
	r := []rune(line)
	if len(r) <= longestRepeated {
		return line
	}
	cut := string(r[:longestRepeated])
	if i := strings.LastIndexByte(cut, ' '); i > 0 {
		cut = cut[:i]
	}
	return cut + " ..."
}
