package circuit

import (
	"fmt"
	"math"

	"hotlug/engine/electric"
)

// Array is strings of equal modules, by the one-diode model of engine/electric,
// with a bypass diode over each group of cells (a "third" where there are three).
type Array struct {
	Module   electric.PVModule
	Diodes   int     // groups of a module, each with its diode
	Series   int     // modules in a string
	Parallel int     // strings
	Sun      float64 // W/m² on the array, 0 to 1400
	Temp     float64 // °C of the cells
	Blocking bool    // a diode in series with every string
	Odd      []Odd   // groups that are not as the rest
	Out      []int   // strings that are not connected, from 0
}

// Odd is a group of cells that is not as the rest. All count from 0.
type Odd struct {
	String, Module, Group int
	Shade                 float64 // part of the sun that is kept off, 0 to 1
	Part                  float64 // part of the group's cells that is shaded so; 0 is all
	Shorted               bool    // its diode conducts both ways
	Broken                bool    // its ribbon is broken: only the diode carries
	NoDiode               bool    // its diode is open
}

const (
	bypassVolts = 0.45 // V over a bypass diode at bypassAmps, 0.35 to 0.55 typical
	bypassAmps  = 8.0
	bypassSteep = 0.03 // V, ideality 1.15 at 30 °C
	dry         = 1e-8 // S beside every group, so that its curve falls everywhere
	shortedOhm  = 5e-3 // of a diode that has failed short
)

// Curve is an Array with its curve tabulated: a Pole that takes current from plus,
// so that what it gives is below zero.
type Curve struct {
	strings []table
	humps   int
	open    float64
	short   float64
}

// leaf is cells of one light, and light what they are in, as a key.
type leaf struct{ share, light, area float64 }

type builder struct {
	a      Array
	amps   float64 // of a module in full sun, against which a miss counts
	leaves map[leaf]table
	groups map[string]table
}

// Curve tabulates the array. Errors: counts and values out of range, with what is
// right.
func (a Array) Curve() (*Curve, error) {
	if err := a.check(); err != nil {
		return nil, err
	}
	b := builder{a: a, amps: a.Module.In(1000, 25).AmpsAt(0), leaves: map[leaf]table{}, groups: map[string]table{}}
	c := &Curve{}
	same := 0
	for k := range a.Parallel {
		switch odd := a.oddOf(k); {
		case a.isOut(k):
		case len(odd) == 0:
			same++
		default:
			c.strings = append(c.strings, b.row(odd))
		}
	}
	if same > 0 {
		c.strings = append(c.strings, b.row(nil).times(1, float64(same)))
	}
	c.measure()
	return c, nil
}

func (a Array) check() error {
	switch {
	case a.Diodes < 1 || a.Series < 1 || a.Parallel < 1:
		return fmt.Errorf("an array of %d strings of %d modules with %d diodes each; there must be 1 of each at least", a.Parallel, a.Series, a.Diodes)
	case !(a.Sun >= 0 && a.Sun <= 1400):
		return fmt.Errorf("the sun on an array is %g W/m²; it must be 0 to 1400", a.Sun)
	case !(a.Temp >= -40 && a.Temp <= 100):
		return fmt.Errorf("the cells of an array are at %g °C; it must be -40 to 100", a.Temp)
	case !(a.Module.In(1000, 25).Open() > 0):
		return fmt.Errorf("the module of an array gives no volts in full sun; fit it to its label with electric.FitPV")
	}
	for _, o := range a.Odd {
		if o.String < 0 || o.String >= a.Parallel || o.Module < 0 || o.Module >= a.Series || o.Group < 0 || o.Group >= a.Diodes {
			return fmt.Errorf("string %d, module %d, group %d is not in an array of %d strings of %d modules with %d groups, counted from 0", o.String, o.Module, o.Group, a.Parallel, a.Series, a.Diodes)
		}
		if !(o.Shade >= 0 && o.Shade <= 1 && o.Part >= 0 && o.Part <= 1) {
			return fmt.Errorf("a shade of %g over %g of a group; both must be 0 to 1", o.Shade, o.Part)
		}
	}
	return nil
}

func (a Array) oddOf(k int) []Odd {
	var out []Odd
	for _, o := range a.Odd {
		if o.String == k {
			out = append(out, o)
		}
	}
	return out
}

func (a Array) isOut(k int) bool {
	for _, o := range a.Out {
		if o == k {
			return true
		}
	}
	return false
}

// row is one string: the groups that are as all, and the odd ones.
func (b *builder) row(odd []Odd) table {
	var parts []table
	if even := b.a.Series*b.a.Diodes - len(odd); even > 0 {
		parts = append(parts, b.group(Odd{}).times(float64(even), 1))
	}
	for _, o := range odd {
		parts = append(parts, b.group(o))
	}
	if b.a.Blocking {
		parts = append(parts, b.diode())
	}
	return inSeries(parts)
}

// group is the cells under one diode, with the diode.
func (b *builder) group(o Odd) table {
	o.String, o.Module, o.Group = 0, 0, 0
	key := fmt.Sprint(o)
	t, known := b.groups[key]
	if known {
		return t
	}
	share := 1 / float64(b.a.Diodes)
	switch {
	case o.Shorted:
		t = line(1 / shortedOhm)
	case o.Broken:
		t = line(dry)
	case o.Part == 0 || o.Part == 1:
		t = b.cells(leaf{share, 1 - o.Shade, 1})
	default:
		t = inSeries([]table{b.cells(leaf{share * (1 - o.Part), 1, 1}), b.cells(leaf{share * o.Part, 1 - o.Shade, 1})})
	}
	if !o.NoDiode && !o.Shorted {
		t = beside(t, b.diode())
	}
	b.groups[key] = t
	return t
}

func line(siemens float64) table {
	return table{[]float64{-1, 1}, []float64{siemens, -siemens}, []float64{-siemens, -siemens}}
}

// diode conducts where the volts over it are below zero, up to 3000 A.
func (b *builder) diode() table {
	key := leaf{area: -1}
	t, known := b.leaves[key]
	if !known {
		is := bypassAmps / math.Expm1(bypassVolts/bypassSteep)
		t = sample(func(v float64) (i, s float64) {
			return is*math.Expm1(-v/bypassSteep) - dry*v, -is/bypassSteep*math.Exp(-v/bypassSteep) - dry
		}, -bypassSteep*math.Log(3000/is), 10*bypassSteep, 1e-3)
		b.leaves[key] = t
	}
	return t
}

// cells tabulates a share of the module's cells in one light.
func (b *builder) cells(l leaf) table {
	t, known := b.leaves[l]
	if known {
		return t
	}
	c := b.a.Module.In(b.a.Sun*l.light, b.a.Temp)
	high := c.VoltsAt(-b.amps)
	h := 1e-5 * high
	t = sample(func(v float64) (i, s float64) {
		return c.AmpsAt(v) - dry*v, (c.AmpsAt(v+h)-c.AmpsAt(v-h))/(2*h) - dry
	}, -0.1*high, high, max(1e-3, b.a.Sun*l.light/1000)*b.amps).times(l.share, l.area)
	b.leaves[l] = t
	return t
}

// At is the current taken, below zero where the array gives, and its slope.
func (c *Curve) At(volts float64) (amps, siemens float64) {
	for k := range c.strings {
		i, s := c.strings[k].amps(volts)
		amps -= i
		siemens -= s
	}
	return amps, siemens
}

// Open is the volts with nothing connected, Short the amps into a short.
func (c *Curve) Open() float64 { return c.open }

// Short is the current into a short.
func (c *Curve) Short() float64 { return c.short }

// Best is the highest point of the power: volts and amps.
func (c *Curve) Best() (volts, amps float64) {
	const points = 400
	watts := func(v float64) float64 { i, _ := c.At(v); return -v * i }
	best, most := 0, 0.0
	for k := range points {
		if p := watts(c.open * float64(k) / points); p > most {
			best, most = k, p
		}
	}
	low, high := c.open*float64(best-1)/points, c.open*float64(best+1)/points
	for range 60 {
		a, b := low+(high-low)/3, high-(high-low)/3
		if watts(a) < watts(b) {
			low = a
		} else {
			high = b
		}
	}
	i, _ := c.At(low)
	return low, -i
}

// measure finds open volts, short-circuit amps and the number of humps.
func (c *Curve) measure() {
	c.humps = 1
	if len(c.strings) == 0 {
		return
	}
	i, _ := c.At(0)
	c.short = -i
	low, high := 0.0, 1.0
	for range 60 {
		if i, _ := c.At(high); i >= 0 {
			break
		}
		low, high = high, 2*high
	}
	for range 200 {
		m := (low + high) / 2
		if i, _ := c.At(m); i < 0 {
			low = m
		} else {
			high = m
		}
	}
	c.open = low
	const points = 200
	humps, rising, top, dip := 0, true, 0.0, 0.0
	for k := range points {
		v := c.open * float64(k+1) / points
		i, _ := c.At(v)
		p := -v * i
		// Ripples of less than a thousandth are no humps.
		switch {
		case rising && p < top*0.999:
			humps, rising, dip = humps+1, false, p
		case !rising && p > dip*1.001+1e-9:
			rising, top = true, p
		}
		top, dip = max(top, p), min(dip, p)
	}
	c.humps = max(1, humps)
}
