package term

import (
	"os"
	"runtime"
	"strings"
)

// Drawings says whether text that only makes sense to the eye may be printed. It
// is left out with --plain and on a dumb terminal, where a screen reader or a
// program may be listening.
func Drawings(plain bool) bool { return !plain && os.Getenv("TERM") != "dumb" }

// BoxDrawing says whether an output shows the lines of Unicode: a terminal that
// does more than plain lines, in a locale of UTF-8. Elsewhere drawings are ASCII.
func BoxDrawing(out *os.File, plain bool) bool {
	return boxes(isTerminal(out), plain, runtime.GOOS, os.Getenv)
}

func boxes(terminal, plain bool, system string, env func(string) string) bool {
	if !terminal || !able(plain, env) {
		return false
	}
	if system == "windows" { // there is no locale to ask; the newer terminal says who it is
		return env("WT_SESSION") != ""
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} { // the first that is set counts
		if v := strings.ToLower(env(name)); v != "" {
			return strings.HasSuffix(v, "utf-8") || strings.HasSuffix(v, "utf8")
		}
	}
	return false
}
