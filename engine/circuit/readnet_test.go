package circuit

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// readNetlist builds a network from lines of R, V, I, D with .model, and B as a
// load of constant power. A voltage source gets a nano-ohm.
func readNetlist(t *testing.T, text string) *Network {
	t.Helper()
	n := New()
	lines := strings.Split(strings.TrimSpace(text), "\n")
	models := map[string]Diode{}
	for _, l := range lines {
		if m := modelLine.FindStringSubmatch(l); m != nil {
			models[m[1]] = Diode{Is: num(t, m[2]), N: num(t, m[3]), Tk: simulatorK}
		}
	}
	for _, l := range lines {
		f := strings.Fields(l)
		if len(f) == 0 || strings.HasPrefix(l, ".") || strings.HasPrefix(l, "*") {
			continue
		}
		if len(f) < 4 {
			t.Fatalf("a line too short: %q", l)
		}
		name, a, b := strings.ToLower(f[0]), n.Node(ground(f[1])), n.Node(ground(f[2]))
		switch f[0][0] {
		case 'R':
			n.Resistor(name, a, b, num(t, f[3]))
		case 'V':
			n.Source(name, a, b, num(t, f[4]), 1e-9)
		case 'I':
			n.Current(name, a, b, num(t, f[4]))
		case 'D':
			d, ok := models[f[3]]
			if !ok {
				t.Fatalf("%q: no such model", l)
			}
			n.Pole(name, a, b, d)
		case 'B':
			m := powerLine.FindStringSubmatch(l)
			if m == nil {
				t.Fatalf("a line that is not understood: %q", l)
			}
			n.Pole(name, a, b, Watts{P: num(t, m[2]), Least: num(t, m[1])})
		default:
			t.Fatalf("a line that is not understood: %q", l)
		}
	}
	return n
}

var (
	modelLine = regexp.MustCompile(`^\.model (\S+) D\(IS=(\S+) N=(\S+)\)`)
	powerLine = regexp.MustCompile(`I=V\(\S+\) >= (\S+) \? ([^/]+)/V`)
)

func ground(name string) string {
	if name == "0" {
		return ""
	}
	return name
}

func num(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
