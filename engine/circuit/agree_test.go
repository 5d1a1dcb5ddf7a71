package circuit

import (
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// simulator is a program to ask for the expected values again, see doc.go.
var (
	simulator = flag.String("simulator", "", "path of a general-purpose circuit simulator to compare with")
	rewrite   = flag.Bool("rewrite", false, "with -simulator: write what it says into testdata")
)

const agrees = 1e-3 // part by which two programs may differ

// kept is a file of testdata: a netlist and what the simulator printed for it.
type kept struct {
	what, made, netlist string
	values              map[string]float64
	order               []string
}

func readKept(t *testing.T, name string) kept {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	head, rest, ok := strings.Cut(string(text), "netlist:\n")
	netlist, expected, ok2 := strings.Cut(rest, "expected:\n")
	if !ok || !ok2 {
		t.Fatalf("%s has no netlist and expected values", name)
	}
	k := kept{netlist: netlist}
	for _, line := range strings.Split(head, "\n") {
		if s, ok := strings.CutPrefix(line, "what: "); ok {
			k.what = s
		}
		if s, ok := strings.CutPrefix(line, "made: "); ok {
			k.made = s
		}
	}
	k.values, k.order = printed(t, expected)
	return k
}

// printed reads lines "v(1) = 1.5", "a = 1.5" and "v1#branch = 1.5".
func printed(t *testing.T, text string) (map[string]float64, []string) {
	t.Helper()
	out, order := map[string]float64{}, []string(nil)
	for _, line := range strings.Split(text, "\n") {
		name, value, ok := strings.Cut(line, " = ")
		x, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
		if !ok || err != nil || strings.Contains(name, " ") {
			continue
		}
		if !strings.HasPrefix(name, "v(") && !strings.HasSuffix(name, "#branch") {
			name = "v(" + name + ")"
		}
		out[name] = x
		order = append(order, name)
	}
	return out, order
}

// ask has the simulator solve a netlist.
func ask(t *testing.T, netlist string) (map[string]float64, []string) {
	t.Helper()
	body := strings.TrimSuffix(strings.TrimSpace(netlist), ".end")
	body = strings.TrimSuffix(strings.TrimSpace(body), ".op")
	deck := "* asked by a test\n" + body + `
.options temp=25 tnom=25 reltol=1e-9 vntol=1e-11 abstol=1e-14 gmin=1e-12 itl1=1000
.control
set numdgt=12
op
print all
.endc
.end
`
	file := filepath.Join(t.TempDir(), "deck")
	if err := os.WriteFile(file, []byte(deck), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(*simulator, "-b", file).CombinedOutput()
	values, order := printed(t, string(out))
	if len(values) == 0 {
		t.Fatalf("the simulator gave no values (%v):\n%s", err, out)
	}
	return values, order
}

// compare holds a solution against values by the simulator's names: v(node), and
// v1#branch for what flows in a voltage source.
func compare(t *testing.T, want map[string]float64, volts, amps func(name string) (float64, bool)) {
	t.Helper()
	seen := 0
	for name, x := range want {
		var got float64
		var ok bool
		if s, isNode := strings.CutPrefix(name, "v("); isNode {
			got, ok = volts(strings.TrimSuffix(s, ")"))
		} else {
			got, ok = amps(strings.TrimSuffix(name, "#branch"))
		}
		if !ok {
			continue
		}
		seen++
		if !(math.Abs(got-x) <= agrees*math.Abs(x)+1e-9) {
			t.Errorf("%s: got %.9g, the simulator has %.9g", name, got, x)
		}
	}
	if seen < 2 {
		t.Errorf("only %d values were compared", seen)
	}
}

func compareNetlist(t *testing.T, netlist string, want map[string]float64) {
	t.Helper()
	n := readNetlist(t, netlist)
	s, err := n.Solve(nil)
	if err != nil {
		t.Fatal(err)
	}
	balanced(t, s)
	compare(t, want,
		func(name string) (float64, bool) { return s.Volts(name), n.Has(name) },
		func(name string) (float64, bool) { return s.Amps(name), n.HasElement(name) })
}

// TestAgreement: the networks of testdata, built anew by our own functions, have
// the volts and currents that an independent simulator has.
func TestAgreement(t *testing.T) {
	files, err := filepath.Glob("testdata/*.net")
	if err != nil || len(files) < 20 {
		t.Fatalf("%d netlists (%v), there should be 20 at least", len(files), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".net"), func(t *testing.T) {
			k := readKept(t, f)
			if k.what == "" || k.made == "" {
				t.Error("the file does not say what it is and how it was made")
			}
			compareNetlist(t, k.netlist, k.values)
		})
	}
}

// TestAgreementOfRigs: whole rigs with arrays and chargers, written by Netlist.
func TestAgreementOfRigs(t *testing.T) {
	for _, r := range rigs(t) {
		t.Run(r.name, func(t *testing.T) {
			k := readKept(t, "testdata/"+r.name+".rig")
			s := solved(t, r.n)
			if got := s.Mode(r.charger); got != r.mode {
				t.Errorf("the charger is %q, want %q", got, r.mode)
			}
			compareRig(t, r.n, s, k.values)
		})
	}
}

func compareRig(t *testing.T, n *Network, s *Solution, want map[string]float64) {
	t.Helper()
	compare(t, want, func(name string) (float64, bool) {
		k, err := strconv.Atoi(strings.TrimPrefix(name, "n"))
		return s.V(Node(k)), err == nil
	}, func(name string) (float64, bool) {
		k, err := strconv.Atoi(strings.TrimPrefix(name, "v"))
		if err != nil || k < 1 || k > len(n.elements) || n.elements[k-1].kind == pole {
			return 0, false
		}
		return s.AmpsIn(n.elements[k-1].name), true
	})
}

// TestSimulator asks the simulator itself about everything, when it is given.
func TestSimulator(t *testing.T) {
	if *simulator == "" {
		return
	}
	files, _ := filepath.Glob("testdata/*.net")
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".net"), func(t *testing.T) {
			k := readKept(t, f)
			values, order := ask(t, k.netlist)
			k.values, k.order = values, order
			k.save(t, f)
			compareNetlist(t, k.netlist, values)
		})
	}
	for _, r := range rigs(t) {
		t.Run(r.name, func(t *testing.T) {
			s := solved(t, r.n)
			netlist := Netlist(r.n, s)
			values, order := ask(t, netlist)
			made := "an independent general-purpose circuit simulator (Debian's package), batch mode, operating point, 25 °C; the netlist is Netlist's"
			kept{r.what, made, netlist, values, order}.save(t, "testdata/"+r.name+".rig")
			compareRig(t, r.n, s, values)
		})
	}
}

func (k kept) save(t *testing.T, name string) {
	t.Helper()
	if !*rewrite {
		return
	}
	var b strings.Builder
	fmt.Fprintf(&b, "what: %s\nmade: %s\nnetlist:\n%sexpected:\n", k.what, k.made, k.netlist)
	for _, x := range k.order {
		fmt.Fprintf(&b, "%s = %.10g\n", x, k.values[x])
	}
	if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func balanced(t testing.TB, s *Solution) {
	t.Helper()
	if amps, energy := s.Balance(); !(amps <= 1e-6 && energy <= 1e-6) {
		t.Errorf("out of balance: %.3g of the largest current, %.3g of the energy", amps, energy)
	}
}

func solved(t testing.TB, n *Network) *Solution {
	t.Helper()
	s, err := n.Solve(nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
