package term

import "testing"

func TestBoxDrawing(t *testing.T) {
	for _, c := range []struct {
		name            string
		terminal, plain bool
		system          string
		env             map[string]string
		want            bool
	}{
		{"a terminal in UTF-8", true, false, "linux", map[string]string{"TERM": "xterm", "LANG": "en_GB.UTF-8"}, true},
		{"another spelling", true, false, "linux", map[string]string{"TERM": "xterm", "LANG": "en_GB.utf8"}, true},
		{"a pipe", false, false, "linux", map[string]string{"TERM": "xterm", "LANG": "en_GB.UTF-8"}, false},
		{"plain", true, true, "linux", map[string]string{"TERM": "xterm", "LANG": "en_GB.UTF-8"}, false},
		{"a dumb terminal", true, false, "linux", map[string]string{"TERM": "dumb", "LANG": "en_GB.UTF-8"}, false},
		{"another encoding", true, false, "linux", map[string]string{"TERM": "xterm", "LANG": "de_DE.ISO-8859-1"}, false},
		{"no locale", true, false, "linux", map[string]string{"TERM": "xterm"}, false},
		{"the stronger one counts", true, false, "linux", map[string]string{"TERM": "xterm", "LC_ALL": "C", "LANG": "en_GB.UTF-8"}, false},
		{"a new console of Windows", true, false, "windows", map[string]string{"TERM": "xterm", "WT_SESSION": "1"}, true},
		{"an old one", true, false, "windows", map[string]string{"TERM": "xterm"}, false},
	} {
		if got := boxes(c.terminal, c.plain, c.system, func(n string) string { return c.env[n] }); got != c.want {
			t.Errorf("%s: box drawing is %v", c.name, got)
		}
	}
}
