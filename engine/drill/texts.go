package drill

import (
	"fmt"
	"math"
	"strings"
)

// Every fixed text of a drill that is said in more than one place, or long.
const (
	practiceOnly = "This is practice on a simulated rig. Nothing here is real."
	whatNow      = "What do you do?"
	typeHelp     = "Ask for a reading in your own words, operate the rig, or `call:` the cause. `help` shows how."
	waitFor      = "Say what for: `wait for sun`, `let it rest` or `wait for the top of the charge`."
	callFirst    = "Call the cause first, as in `call: worn fuse holder`. Or `give up`."
	leftOpen     = "Left before the end, so it counts as not found."
	leftAtOnce   = "Left before anything was done. It does not count."
	nothingYet   = "Nothing has been done yet."
	noReading    = "I can't tell which reading you mean. Name what you measure and where, as in `volts across the main fuse holder`."
	whichReading = "Which of these do you mean?"
	whichPlace   = "Where?"
	wherePlace   = "Where? Name the part as well."
	listPlaces   = "`places` lists what this rig has."
	typeNumber   = "Type the number, or say it in other words."
	typeYes      = "`yes`, or say it in other words."
	noCause      = "I can't match that with a cause I know. Say it in other words."
	manyCauses   = "Many causes are about that. Say what is wrong with it, as in `call: worn fuse holder`."
	whichCause   = "Which of these do you call?"
	called       = "You call: %s"
	afterCall    = "Type `fix` to have it mended and proved, `end` to hear how it went, or call another cause."
	moreCalls    = "There may be another fault. Call it as well, or type `fix` or `end`."
	notIt        = "So that was not it. Call another cause, or `end`."
	nothingMends = "It is done, and nothing has changed."
	noHints      = "There are no more hints at this level."
	hintCosts    = "A hint costs 5 minutes."
)

var helpLines = []string{
	"volts across the controller's fuse, sun on    a reading, by its name or place",
	"look at the lug on the plus post              what can be seen or felt",
	"ask when it cuts off                          what the customer knows",
	"loads on, solar switch off                    operate the rig",
	"cover the panels; isolate; put it together    more of that",
	"tighten the lug on the plus post              a repair, at your own cost",
	"call: worn fuse holder                        name the cause",
	"fix, end                                      after the call",
	"so far, story, places                         what you have",
	"hint                                          costs 5 minutes",
	"give up, quit                                 end it",
}

func helpBlocks() []Block {
	return []Block{say("Say what you do. For example:"), where(helpLines...)}
}

// plain folds a line for comparing.
func plain(s string) string {
	s = strings.ToLower(strings.NewReplacer("’", "'", "‘", "'").Replace(s))
	return strings.TrimRight(strings.Join(strings.Fields(s), " "), ".!?")
}

func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if len(s) > 1 && (s[1] == ' ' || s[1] >= 'a' && s[1] <= 'z') {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func minutes(m float64) string { return count(int(math.Round(m)), "minute") }
