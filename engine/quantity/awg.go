package quantity

import (
	"math"
	"strconv"
	"strings"
)

// The gauges 1/0 to 4/0 are counted on below 1: 1/0 is 0, 2/0 is -1, 4/0 is -3.
const (
	thickestGauge = -3
	thinnestGauge = 40
)

// kcmil is a thousand circular mils, in mm²: the area of a circle one mil
// (0.0254 mm) across, times 1000.
const kcmil = 1000 * math.Pi / 4 * 0.0254 * 0.0254

// AWGArea is the copper area of a gauge in mm², from the diameter that ASTM B258
// defines: 0.127 mm × 92^((36-n)/39). Gauges 1/0, 2/0, 3/0 and 4/0 are 0, -1, -2
// and -3.
func AWGArea(n int) float64 {
	d := 0.127 * math.Pow(92, float64(36-n)/39)
	return math.Pi / 4 * d * d
}

// AWGName is the gauge as it is printed on a wire: "10", "2/0".
func AWGName(n int) string {
	if n <= 0 {
		return strconv.Itoa(1-n) + "/0"
	}
	return strconv.Itoa(n)
}

// AWGByName finds a gauge by its name: "10", "2/0", and also "0", "00", "000",
// "0000". It knows 4/0 to 40.
func AWGByName(name string) (n int, ok bool) {
	if head, found := strings.CutSuffix(name, "/0"); found {
		if len(head) == 1 && head[0] >= '1' && head[0] <= '4' {
			return 1 - int(head[0]-'0'), true
		}
		return 0, false
	}
	if name != "" && len(name) <= 4 && strings.Trim(name, "0") == "" {
		return 1 - len(name), true
	}
	n, err := strconv.Atoi(name)
	if err != nil || n < 1 || n > thinnestGauge || name[0] == '+' || name[0] == '0' {
		return 0, false
	}
	return n, true
}

// soldGauges are the gauges that shops keep, thin to thick.
var soldGauges = []int{20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3}

// AWGAtLeast is the thinnest gauge kept by shops that has the area (mm²), or
// not ok if none has. A tenth of a per cent of rounding is forgiven.
func AWGAtLeast(mm2 float64) (n int, ok bool) {
	for _, n := range soldGauges {
		if AWGArea(n) >= mm2*0.999 {
			return n, true
		}
	}
	return 0, false
}

// awgExact is the gauge whose area is mm2 within one per cent.
func awgExact(mm2 float64) (n int, ok bool) {
	for n := thickestGauge; n <= thinnestGauge; n++ {
		if math.Abs(AWGArea(n)-mm2) <= 0.01*mm2 {
			return n, true
		}
	}
	return 0, false
}

var iecSizes = []float64{0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630}

// WireSizes lists the standard copper areas in mm² (IEC 60228), thin to thick.
func WireSizes() []float64 { return append([]float64(nil), iecSizes...) }

// WireSizeAtLeast is the smallest standard area (IEC 60228, mm²) of at least
// mm2, or not ok if there is none.
func WireSizeAtLeast(mm2 float64) (size float64, ok bool) {
	for _, s := range iecSizes {
		if s >= mm2*(1-1e-9) {
			return s, true
		}
	}
	return 0, false
}
