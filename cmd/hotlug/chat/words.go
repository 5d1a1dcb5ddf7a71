package chat

import (
	"slices"
	"strings"

	"hotlug/engine/pattern"
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
	yesWords = []string{"yes", "y", "yep", "yeah", "yea", "aye", "it is", "it does", "so it is", "correct", "true", "right"}
	noWords  = []string{"no", "n", "nope", "nah", "not now", "it is not", "it isn't", "it's not", "it does not", "it doesn't", "none", "false",
		"not any more", "not anymore", "no longer", "nothing"}
	notKnown = []string{"don't know", "dont know", "do not know", "i don't know", "i dont know", "not known", "unknown", "no idea", "no clue",
		"dunno", "idk", "can't", "cant", "can't tell", "cannot", "can't say", "can't see", "can't be had", "skip", "no meter", "i have no meter",
		"pass", "not sure", "unsure", "i'm not sure", "im not sure", "not certain"}
	unsureWords = []string{"maybe", "perhaps", "could be", "possibly", "i think so", "i don't think so", "a little"}
	doneWords   = []string{"done", "it's done", "its done", "it is done", "ok done", "all done", "that's done", "i did", "did it", "ready", "finished"}
	laterWords  = []string{"later", "not done", "not yet", "not today", "tomorrow", "it can't be done", "can't be done"}
	commands    = map[string][]string{
		"why":    {"why", "why?"},
		"how":    {"how", "how?", "how do i"},
		"where":  {"where", "where?", "probes"},
		"back":   {"back", "undo", "go back"},
		"change": {"change"},
		"note":   {"note"},
		"photo":  {"photo"},
		"so far": {"so far", "sofar", "status"},
		"help":   {"help", "commands", "?", "help me"},
		"list":   {"list"},
		"stop":   {"stop"},
		"quit":   {"quit", "exit", "bye", "leave"},
		"again":  {"again", "repeat"},
	}
	// withWords are commands that take words after them.
	withWords = []string{"change", "note", "photo"}
)

// Words that may follow a yes or a no without turning it round.
var (
	trailing = []string{"thanks", "thank", "you", "please", "sir", "ok", "okay", "it", "is", "it's", "does", "do", "did", "that", "they", "are",
		"there", "i", "we", "have", "all", "of", "now", "well"}
	afterYes = []string{"correct", "right", "sure", "definitely", "course", "still", "both", "a", "bit", "indeed", "fine"}
	afterNo  = []string{"not", "isn't", "isnt", "doesn't", "doesnt", "don't", "dont", "aren't", "arent", "didn't", "nothing", "none", "at", "any",
		"more", "anymore", "longer", "fine", "good", "those", "these", "them", "sign", "such", "thing", "never"}
)

// yesNo reads a line as yes or no. The first word may be followed by words that
// do not turn it round ("yes it is", "no thanks"), and by no others.
func yesNo(text string) (yes, ok bool) {
	p := plain(text)
	if slices.Contains(yesWords, p) {
		return true, true
	}
	if slices.Contains(noWords, p) {
		return false, true
	}
	words := strings.Fields(strings.Map(func(r rune) rune {
		if strings.ContainsRune(",;:.-", r) {
			return ' '
		}
		return r
	}, p))
	if len(words) < 2 {
		return false, false
	}
	after := afterNo
	switch words[0] {
	case "yes", "yep", "yeah":
		yes, after = true, afterYes
	case "no", "nope", "nah":
	default:
		return false, false
	}
	for _, w := range words[1:] {
		if !slices.Contains(trailing, w) && !slices.Contains(after, w) {
			return false, false
		}
	}
	return yes, true
}

// saysYesAtAll takes any yes that nothing takes back for one: at the danger
// question a yes is the safe side.
func saysYesAtAll(text string) bool {
	words := strings.FieldsFunc(plain(text), func(r rune) bool { return strings.ContainsRune(" ,;:.-", r) })
	if len(words) == 0 || !slices.Contains([]string{"yes", "yep", "yeah"}, words[0]) {
		return false
	}
	return !slices.ContainsFunc(words, func(w string) bool {
		return slices.Contains([]string{"no", "not", "but", "was", "were", "unless", "never"}, w) || strings.HasSuffix(w, "n't")
	})
}

// cannot is "I can't read it", "don't have a meter", "couldn't find one".
var cannot = pattern.Of(`^(i )?((can't|cant|cannot|can not|couldn't|could not) (tell|say|see|read|find|measure|get|reach|remember)|(don't|dont|do not) (know|remember|have))( [\pL']+){0,5}$`)

func isYes(s string) bool { yes, ok := yesNo(s); return ok && yes }
func isNo(s string) bool  { yes, ok := yesNo(s); return ok && !yes }
func isNotKnown(s string) bool {
	return slices.Contains(notKnown, plain(s)) || cannot.MatchString(plain(s))
}
func isUnsure(s string) bool { return slices.Contains(unsureWords, plain(s)) || isNotKnown(s) }
func isDone(s string) bool   { return slices.Contains(doneWords, plain(s)) || isYes(s) }
func isLater(s string) bool  { return slices.Contains(laterWords, plain(s)) || isNo(s) || isNotKnown(s) }

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

// IsCommand says whether a line is one of the chat's commands: those may stand in
// a history, where a reading would come back as a wrong one.
func IsCommand(line string) bool {
	return isCommand(strings.TrimPrefix(strings.TrimSpace(line), ":"), false)
}

// Reserved lists the words that the knowledge may not use for answers, because
// the chat takes them for itself.
func Reserved() []string {
	var out []string
	for _, words := range commands {
		out = append(out, words...)
	}
	return append(out, "done", "later", "sure", "go on", "better", "don't know", measureWord)
}
