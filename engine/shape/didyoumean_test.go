package shape

import "testing"

func TestDidYouMean(t *testing.T) {
	for _, c := range []struct {
		name, word string
		among      []string
		want       string
	}{
		{"a letter left out", "thn", []string{"then", "ask"}, "then"},
		{"a letter too many", "thenn", []string{"then", "ask"}, "then"},
		{"a letter changed", "tben", []string{"then", "ask"}, "then"},
		{"neighbours swapped", "thne", []string{"then", "ask"}, "then"},
		{"two faults", "holdr_drp_v", []string{"holder_drop_v"}, "holder_drop_v"},
		{"three faults", "hldr_drp_v", []string{"holder_drop_v"}, ""},
		{"dashes for underscores", "holder-drop-now-v", []string{"holder_drop_now_v"}, "holder_drop_now_v"},
		{"capitals", "THEN", []string{"then"}, "then"},
		{"nearest of several", "fuse_drop_v", []string{"fuse_drops_vv", "fuse_drop_a"}, "fuse_drop_a"},
		{"equally near, by the alphabet", "load_x", []string{"load_w", "load_a"}, "load_a"},
		{"equally near, other order", "load_x", []string{"load_a", "load_w"}, "load_a"},
		{"short words with nothing in common", "if", []string{"do"}, ""},
		{"short word", "ge", []string{"go", "do"}, "go"},
		{"a single letter", "x", []string{"y"}, ""},
		{"letters of several bytes", "grösse", []string{"größe"}, "größe"},
		{"nothing to choose from", "a", nil, ""},
		{"no word", "", []string{"ab", "a"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := DidYouMean(c.word, c.among); got != c.want {
				t.Errorf("%q among %q gives %q, want %q", c.word, c.among, got, c.want)
			}
		})
	}
}
