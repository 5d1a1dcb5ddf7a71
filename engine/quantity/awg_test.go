package quantity

import (
	"math"
	"testing"
)

// Diameters in inches as ASTM B258 tabulates them.
func TestAWGAgainstTheStandard(t *testing.T) {
	for _, c := range []struct {
		name string
		n    int
		inch float64
		mm2  float64
	}{
		{"4/0", -3, 0.4600, 107.2}, {"3/0", -2, 0.4096, 85.03}, {"2/0", -1, 0.3648, 67.43}, {"1/0", 0, 0.3249, 53.49},
		{"1", 1, 0.2893, 42.41}, {"2", 2, 0.2576, 33.63}, {"4", 4, 0.2043, 21.15}, {"6", 6, 0.1620, 13.30}, {"8", 8, 0.1285, 8.37},
		{"10", 10, 0.1019, 5.261}, {"12", 12, 0.0808, 3.31}, {"14", 14, 0.0641, 2.08}, {"16", 16, 0.0508, 1.31}, {"18", 18, 0.0403, 0.823},
		{"20", 20, 0.0320, 0.518}, {"36", 36, 0.0050, 0.01267},
	} {
		d := 2 * math.Sqrt(AWGArea(c.n)/math.Pi) / 25.4
		if math.Abs(d-c.inch) > 0.00005+1e-9 {
			t.Errorf("%s AWG is %v in across, want %v", c.name, d, c.inch)
		}
		if math.Abs(AWGArea(c.n)-c.mm2) > 0.002*c.mm2 {
			t.Errorf("%s AWG is %v mm², want %v", c.name, AWGArea(c.n), c.mm2)
		}
		if AWGName(c.n) != c.name {
			t.Errorf("gauge %d is called %q, want %q", c.n, AWGName(c.n), c.name)
		}
		if n, found := AWGByName(c.name); !found || n != c.n {
			t.Errorf("%q is gauge %d (%v), want %d", c.name, n, found, c.n)
		}
	}
}

func TestAWGByName(t *testing.T) {
	for name, want := range map[string]int{"0": 0, "00": -1, "000": -2, "0000": -3, "40": 40} {
		if n, found := AWGByName(name); !found || n != want {
			t.Errorf("%q is %d (%v), want %d", name, n, found, want)
		}
	}
	for _, name := range []string{"", "5/0", "0/0", "/0", "41", "-1", "+10", "010", "00000", "1.5", "ten", "12/0"} {
		if n, found := AWGByName(name); found {
			t.Errorf("%q was taken as gauge %d", name, n)
		}
	}
}

func TestSizesAtLeast(t *testing.T) {
	for _, c := range []struct{ need, iec float64 }{{0.1, 0.5}, {2.5, 2.5}, {2.51, 4}, {33.6, 35}, {630, 630}} {
		if s, found := WireSizeAtLeast(c.need); !found || s != c.iec {
			t.Errorf("at least %v mm² is %v (%v), want %v", c.need, s, found, c.iec)
		}
	}
	if s, found := WireSizeAtLeast(631); found {
		t.Errorf("631 mm² was met by %v", s)
	}
	for _, c := range []struct {
		need float64
		awg  int
	}{{31, 2}, {33.63, 2}, {33.7, 1}, {0.1, 20}, {107, -3}, {21.2, 2}} {
		if n, found := AWGAtLeast(c.need); !found || n != c.awg {
			t.Errorf("at least %v mm² is gauge %d (%v), want %d", c.need, n, found, c.awg)
		}
	}
	if n, found := AWGAtLeast(108); found {
		t.Errorf("108 mm² was met by gauge %d", n)
	}
	sizes := WireSizes()
	for i := 1; i < len(sizes); i++ {
		if sizes[i] <= sizes[i-1] {
			t.Errorf("size %v does not follow %v", sizes[i], sizes[i-1])
		}
	}
}
