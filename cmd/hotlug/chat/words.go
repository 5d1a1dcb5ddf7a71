package chat

import (
	"slices"
	"strings"
)

// plain folds a line for comparing: lower case, straight apostrophes, single
// spaces, no full stop.
func plain(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	s = strings.NewReplacer("’", "'", "‘", "'").Replace(s)
	s = strings.TrimRight(s, ".!")
	return strings.Join(strings.Fields(s), " ")
}

var (
	yesWords    = []string{"yes", "y", "yep", "yeah", "yea", "aye", "it is", "it does", "yes it is", "yes it does", "so it is", "correct", "true"}
	noWords     = []string{"no", "n", "nope", "nah", "not now", "it is not", "it isn't", "it does not", "it doesn't", "no it isn't", "none", "false", "not any more", "no longer"}
	notKnown    = []string{"don't know", "dont know", "do not know", "i don't know", "i dont know", "not known", "unknown", "no idea", "dunno", "idk", "?", "can't", "cant", "can't tell", "cannot", "can't say", "skip", "no meter", "pass"}
	unsureWords = []string{"not sure", "unsure", "maybe", "perhaps", "don't know", "i'm not sure", "im not sure", "not certain", "could be", "possibly"}
	commands    = map[string][]string{
		"why":    {"why", "why?"},
		"how":    {"how", "how?", "how do i"},
		"where":  {"where", "where?", "probes"},
		"back":   {"back", "undo", "go back"},
		"change": {"change"},
		"note":   {"note"},
		"so far": {"so far", "sofar", "status"},
		"help":   {"help", "commands", "h", "help me"},
		"list":   {"list"},
		"stop":   {"stop"},
		"quit":   {"quit", "exit", "bye", "leave"},
		"again":  {"again", "repeat"},
	}
	// withWords are commands that take words after them.
	withWords = []string{"change", "note"}
)

func isYes(s string) bool      { return slices.Contains(yesWords, plain(s)) }
func isNo(s string) bool       { return slices.Contains(noWords, plain(s)) }
func isNotKnown(s string) bool { return slices.Contains(notKnown, plain(s)) }
func isUnsure(s string) bool   { return slices.Contains(unsureWords, plain(s)) || isNotKnown(s) }

// commandWords lists every word that is a command or an answer of the chat's
// own. The knowledge may not use them for choices.
func commandWords() []string {
	out := []string{"don't know", "done", "later", "sure", "go on"}
	for _, w := range commands {
		out = append(out, w[0])
	}
	slices.Sort(out)
	return out
}

// commandOf splits a line into a command and what follows it.
func commandOf(line string) (name, rest string, ok bool) {
	p := plain(line)
	for name, words := range commands {
		if slices.Contains(words, p) {
			return name, "", true
		}
	}
	first, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
	if n := strings.ToLower(strings.TrimSuffix(first, ":")); slices.Contains(withWords, n) {
		return n, strings.TrimSpace(rest), true
	}
	return "", "", false
}

// isCommand says whether a line is a command; exactly asks for one without
// words after it.
func isCommand(line string, exactly bool) bool {
	_, rest, ok := commandOf(line)
	return ok && (!exactly || rest == "")
}

// Reserved lists the words that the knowledge may not use for answers, because
// the chat takes them for itself.
func Reserved() []string {
	var out []string
	for _, words := range commands {
		out = append(out, words...)
	}
	return append(out, "done", "later", "sure", "go on", "don't know")
}
