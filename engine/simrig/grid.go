package simrig

import (
	"sync"

	"hotlug/engine/circuit"
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// openOhm is what is open: switched off, blown, broken or not there.
const openOhm = 1e9

// NOCT, °C: cells of a module on a roof, at 800 W/m² and 20 °C of air (practice).
const noct = 45

// Change of a crystalline module with temperature where no label says it, %/K.
const (
	usualAlpha = 0.05
	usualBeta  = -0.30
	bestVolts  = 0.817 // best point over open volts, and over short amps
	bestAmps   = 0.935
)

// grid is what the networks of all situations of a plant have in common.
type grid struct {
	wires []wire
	bank  []string // names of the battery strings' sources
	cells map[float64]pv

	chains map[chainKey][]*Part // parts on the same wire, in the order of current
	along  map[string]float64   // m, where along it each sits
}

// wire is a resistance of the network, of a part or a piece of one.
type wire struct {
	name, a, b string
	ohm        float64
	part       *Part
	opens      bool // its ohms are those of an opened contact where the part is opened
}

// pv is the array in a light.
type pv struct {
	curve *circuit.Curve // nil: it gives nothing
	open  float64        // V
	err   error
}

// Inner points and pieces of parts.
func palm(id string) string   { return id + ".palm" }
func tabIn(id string) string  { return id + ".tab-in" }
func tabOut(id string) string { return id + ".tab-out" }

// conductor tells the wire's side of a lug, and the other.
func conductor(p *Part) (wire, other string) {
	if p.B == p.ID+".conductor" {
		return p.B, p.A
	}
	return p.A, p.B
}

// gridOf lists the resistances of a plant.
func (s *Sim) gridOf() *grid {
	if s.grid != nil {
		return s.grid
	}
	g := &grid{wires: make([]wire, 0, 2*len(s.sys.Parts)), cells: map[float64]pv{}}
	for i := range s.sys.Parts {
		s.wiresOf(g, s.plant.Parts[s.sys.Parts[i].ID])
	}
	s.grid = g
	return g
}

// wiresOf adds the resistances of one part. A circuit that bypasses the shunt has
// the last of its minus on the battery's own post.
func (s *Sim) wiresOf(g *grid, p *Part) {
	a, b := p.A, p.B
	if p.Minus && s.plant.Bypass[p.Circuit] {
		if a == rig.BusNeg {
			a = rig.PostNeg
		}
		if b == rig.BusNeg {
			b = rig.PostNeg
		}
	}
	if p.ID == "post-neg" && s.plant.Battery.OneEnd {
		_, b = s.sys.StringEnds(0)
	}
	put := func(name, a, b string, ohm float64, opens bool) {
		g.wires = append(g.wires, wire{name, a, b, max(ohm, 1e-7), p, opens})
	}
	switch p.Kind {
	case rig.Wire:
		put(p.ID, a, b, s.wireOhm(p), true)
	case rig.Joint:
		end, other := a, b
		if p.B == p.ID+".conductor" {
			end, other = b, a
		}
		// Current keeps its direction from A to B in both pieces.
		if end == a {
			put(p.ID+".barrel", end, palm(p.ID), p.BarrelOhm, false)
			put(p.ID, palm(p.ID), other, p.FaceOhm, true)
			break
		}
		put(p.ID, other, palm(p.ID), p.FaceOhm, true)
		put(p.ID+".barrel", palm(p.ID), end, p.BarrelOhm, false)
	case rig.Fuse:
		put(p.ID+".clip-in", a, tabIn(p.ID), p.ClipOhm/2, false)
		put(p.ID, tabIn(p.ID), tabOut(p.ID), s.fuseOhm(p), true)
		put(p.ID+".clip-out", tabOut(p.ID), b, p.ClipOhm/2, false)
	default:
		put(p.ID, a, b, p.FaceOhm, true)
	}
}

// wireOhm is a wire's copper as it really is, warm by what it usually carries.
func (s *Sim) wireOhm(p *Part) float64 {
	size := p.TrueMM2
	if size <= 0 {
		size = max(p.MM2, 0.5)
	}
	temp := max(-50, min(120, s.airAt(p)+10))
	return p.FaceOhm + figure(openOhm)(electric.WireOhm(p.Metres, size, temp))
}

// fuseOhm is a fuse's element, warm by the current of a test.
func (s *Sim) fuseOhm(p *Part) float64 {
	rated := max(0.5, min(630, p.FuseA))
	amps := min(s.testAmps(p.Circuit), 1.5*rated)
	return figure(1e-3)(electric.FuseDrop(amps, rated)) / amps
}

// testAmps is about what flows in a circuit as it is tested.
func (s *Sim) testAmps(circuit string) float64 {
	v := s.sys.Volts
	if l, ok := s.sys.Load(circuit); ok {
		if a := s.carried(circuit, ""); a > 0 {
			return a
		}
		return max(0.01, l.Watts/v)
	}
	switch circuit {
	case "controller", "array":
		return max(0.01, 0.8*s.sys.ChargeAmps())
	}
	ac, dc := s.demand(Situation{Loads: LoadsSteady})
	sum := 0.0
	if s.sys.Inverter.Watts > 0 {
		sum = (ac/s.sys.Inverter.Eta + s.sys.Inverter.IdleW) / v
	}
	if circuit == "battery" {
		for _, l := range s.sys.Loads {
			if !l.AC {
				sum += dc(l) / v
			}
		}
	}
	return max(0.01, sum)
}

// airAt is the air around a part, in °C.
func (s *Sim) airAt(p *Part) float64 {
	if p != nil && p.AmbC != 0 {
		return p.AmbC
	}
	return s.sys.AmbientC
}

// cellC is the temperature of the array's cells in a light.
func (s *Sim) cellC(sun float64) float64 {
	c := figure(s.sys.AmbientC)(electric.CellTemp(s.sys.AmbientC, sun, noct))
	return max(-40, min(100, c+s.plant.Array.HotC*sun/1000))
}

// array is the array in a light.
func (s *Sim) array(sun float64) pv {
	g := s.gridOf()
	if x, ok := g.cells[sun]; ok {
		return x
	}
	x, known := pv{}, false
	key := even{s.sys.Array, s.plant.Array.WrongV, s.plant.Array.Dead, sun * (1 - s.plant.Array.Dirt), s.cellC(sun * (1 - s.plant.Array.Dirt))}
	if whole := len(s.plant.Array.Shade) == 0 && s.plant.Array.Shorted == 0 && s.plant.Array.Weak == 0 && s.plant.Array.OutParts == 0; whole {
		if x, known = evens.get(key); !known {
			x = s.arrayIn(sun)
			evens.put(key, x)
		}
	} else {
		x = s.arrayIn(sun)
	}
	g.cells[sun] = x
	return x
}

// even is an array without anything odd in a light, as a key.
type even struct {
	built       rig.Array
	wrong, dead int
	sun, cellC  float64
}

// evens keeps the curves of even arrays: rigs with many faults, one after the
// other, have the same array, and its curve is the dearest thing to work out.
var evens = curves{kept: map[even]pv{}}

type curves struct {
	lock sync.Mutex
	kept map[even]pv
}

const curvesKept = 128

func (c *curves) get(k even) (pv, bool) {
	c.lock.Lock()
	defer c.lock.Unlock()
	x, ok := c.kept[k]
	return x, ok
}

func (c *curves) put(k even, x pv) {
	c.lock.Lock()
	defer c.lock.Unlock()
	if len(c.kept) >= curvesKept {
		clear(c.kept)
	}
	c.kept[k] = x
}

func (s *Sim) arrayIn(sun float64) pv {
	a, p := s.sys.Array, s.plant.Array
	live := max(0, a.Parallel-p.Dead)
	sun *= 1 - p.Dirt
	if sun < 1 || live == 0 || a.Voc <= 0 {
		return pv{}
	}
	module, err := fitted(a)
	if err != nil {
		return pv{err: err}
	}
	series := a.Series
	if p.WrongV > 0 {
		series = p.WrongV
	}
	all := circuit.Array{Module: module, Diodes: max(1, a.Bypass), Series: max(1, series), Parallel: live, Sun: min(1400, sun), Temp: s.cellC(sun)}
	all.Odd = p.odd(all)
	curve, err := all.Curve()
	if err != nil {
		return pv{err: err}
	}
	return pv{curve: curve, open: curve.Open()}
}

// fitted is the module of a label. A label whose best point no curve meets, as
// labels are rounded and modules sorted, is taken by its open volts and short
// amps, with the usual best point of a crystalline module.
func fitted(a rig.Array) (electric.PVModule, error) {
	label := electric.PVLabel{Open: a.Voc, Short: a.Isc, Volts: a.Vmp, Amps: a.Imp, Alpha: usualAlpha, Beta: usualBeta}
	m, err := electric.FitPV("array", label)
	if err != nil {
		label.Volts, label.Amps = bestVolts*a.Voc, bestAmps*a.Isc
		m, err = electric.FitPV("array", label)
	}
	return m, err
}

// reversed is a two-pole the other way round.
type reversed struct{ of circuit.Pole }

func (r reversed) At(volts float64) (amps, siemens float64) {
	i, g := r.of.At(-volts)
	return -i, g
}
