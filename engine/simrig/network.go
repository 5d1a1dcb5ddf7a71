package simrig

import (
	"slices"

	"hotlug/engine/circuit"
	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

const (
	ghostOhm  = 5e6  // behind which a bank that has let go still shows volts
	heldOhm   = 1e6  // what is left of the way in of a charger that does not work
	lampWatts = 21.0 // of one 12 V lamp
	runVolts  = 1.0  // array above battery that a tracking controller needs
	pulseOhm  = 5e-3
	ctlMinus  = 1e-4 // between the two minus screws inside a controller
	lowest    = 0.6  // of nominal volts: below, electronics draw less and less
	tailShare = 0.5  // of the tail limit that a sound full bank still takes
	fullFrom  = 97.0 // per cent of charge from which a bank takes less and less
)

// state is one situation, solved.
type state struct {
	z       Situation
	sol     *circuit.Solution
	err     error
	invOn   bool // inverter gives its output
	tripped bool // protection let go because of too much current
	blocked bool // protection keeps the charge out that the charger would give
	taking  bool // bank takes charge at its top

	sated bool // bank has more volts by itself than the controller is set to

	gaveUp bool // the inverter has stopped for low volts
	held   bool // and is given no more than it bears, so that it just runs

	cut []string // circuits that are open somewhere
}

// dead says whether a circuit hangs on nothing but what leaks over something
// open.
func (st *state) dead(circuit string) bool {
	return slices.Contains(st.cut, circuit) || slices.Contains(st.cut, "battery")
}

// swings is how often a state may change what is on and off before it is taken
// as it is; a rig that hunts has no state of rest.
const swings = 6

// at is the rig in a situation.
func (s *Sim) at(z Situation) *state {
	if st, ok := s.solved[z]; ok {
		return st
	}
	st := s.settle(z)
	s.solved[z] = st
	if st.err == nil {
		s.last = st
	}
	return st
}

// settle solves a situation and switches off what would switch itself off in it.
func (s *Sim) settle(z Situation) *state {
	p := s.plant
	st := &state{z: z, invOn: s.inverterMay() && !z.InvOff}
	st.taking = z.Chargers && (z.Top || p.Battery.Full || p.Battery.Charge >= fullFrom)
	var from *circuit.Solution
	if s.last != nil {
		from = s.last.sol
	}
	for range swings {
		n := s.build(st)
		st.sol, st.err = n.Solve(from)
		if st.err != nil && from != nil {
			st.sol, st.err = n.Solve(nil)
		}
		if st.err != nil || !s.swing(st) {
			return st
		}
		from = st.sol
	}
	return st
}

// swing changes what does not stay as it is at the volts and amps found, and says
// whether something did.
func (s *Sim) swing(st *state) bool {
	b := s.plant.Battery
	out := -s.bankAmps(st) // of the bank
	switch v := st.sol.Across(rig.InvPos, rig.InvNeg); {
	case st.invOn && !st.held && s.outside(v):
		st.invOn, st.gaveUp = false, v < s.lowCut()
	case st.gaveUp && !st.held && st.z.Hold && v > holdOver*s.lowCut():
		st.invOn, st.held = true, true
	case s.sys.Battery.BMS && b.TripA > 0 && !st.tripped && !st.z.Starting && out > b.TripA:
		st.tripped = true
	case b.NoCharge && !st.blocked && out < -0.01:
		st.blocked = true
	case st.taking && out > 0.05:
		st.taking = false
	default:
		return false
	}
	return true
}

// bankAmps is the current into the bank, below zero where it gives.
func (s *Sim) bankAmps(st *state) float64 {
	sum := 0.0
	for _, name := range s.gridOf().bank {
		sum += st.sol.Amps(name)
	}
	return sum
}

// build lays the network of a state.
func (s *Sim) build(st *state) *circuit.Network {
	n := circuit.New()
	g := s.gridOf()
	node := func(name string) circuit.Node {
		if name == rig.PostNeg {
			return circuit.Ground
		}
		return n.Node(name)
	}
	gap := ""
	if st.z.Gap {
		gap = s.gapPart()
	}
	st.cut = st.cut[:0]
	for i := range g.wires {
		w := &g.wires[i]
		ohm := w.ohm
		if w.opens && (open(w.part) || s.opened(w.part, st.z) || w.part.ID == gap) {
			ohm = max(ohm, openOhm)
			if (w.part.ID != gap || !st.z.Pre) && w.part.Style != "link" {
				st.cut = append(st.cut, w.part.Circuit)
			}
		}
		n.Resistor(w.name, node(w.a), node(w.b), ohm)
	}
	s.bank(n, node, st)
	s.controller(n, node, st)
	s.inverter(n, node, st)
	s.loads(n, node, st)
	if st.z.Pre && gap != "" {
		a, b := s.gapEnds()
		n.Resistor("pre-charge", node(a), node(b), s.preOhm())
	}
	return n
}

// open says whether a part is open by itself.
func open(p *Part) bool { return p.Open || p.Missing || p.Blown || p.Broken }

// opened says whether the person has opened it.
func (s *Sim) opened(p *Part, z Situation) bool {
	if p.Welded {
		return false
	}
	return z.MainOff && p.ID == "main-isolator" || z.PVOff && p.ID == "pv-isolator"
}

// restVolts is the rest voltage of the bank by its charge.
func (s *Sim) restVolts() float64 {
	charge := max(0, min(100, s.plant.Battery.Charge))
	return figure(s.sys.Volts)(electric.RestVolts(charge, s.sys.Volts, chem(s.sys)))
}

// gone says whether the bank has let go, so that only ghost volts are left.
func (s *Sim) gone(st *state) bool { return s.plant.Battery.Off || st.tripped }

// draw is a consumer of constant watts, down to least volts. Behind ghost volts it
// can be nothing but the resistance that it is below those.
func (s *Sim) draw(st *state, way string, watts, least float64) circuit.Pole {
	if s.gone(st) || st.dead(way) {
		return resistance{watts / (least * least)}
	}
	return circuit.Watts{P: watts, Least: least}
}

// resistance is a two-pole of siemens.
type resistance struct{ siemens float64 }

func (r resistance) At(volts float64) (amps, siemens float64) { return r.siemens * volts, r.siemens }

// bankVolts is the bank's own volts and resistance in a state. At its top it
// takes less and less: so much at the right absorption volts as a full bank still
// takes, and none at its own rest volts.
func (s *Sim) bankVolts(st *state) (volts, ohm float64) {
	b := s.plant.Battery
	volts, ohm = s.restVolts(), b.Ohm
	if b.TopV > 0 && !st.z.Rested {
		volts = b.TopV
	}
	switch {
	case s.gone(st):
		return volts, ghostOhm
	case st.blocked:
		return volts, heldOhm
	case st.taking:
		full := figure(volts)(electric.RestVolts(100, s.sys.Volts, chem(s.sys)))
		top := figure(1.1 * full)(electric.AbsorbTarget(chem(s.sys), s.sys.Volts, max(-10, min(50, b.CellC))))
		tail := b.TailA
		if tail == 0 {
			tail = tailShare * figure(0.02*b.Ah)(electric.TailLimit(chem(s.sys), max(1, b.Ah)))
		}
		return full, max(b.Ohm, (top-full)/tail)
	}
	return volts, ohm
}

func (s *Sim) bank(n *circuit.Network, node func(string) circuit.Node, st *state) {
	g := s.gridOf()
	volts, ohm := s.bankVolts(st)
	count := max(1, s.sys.Battery.Parallel)
	g.bank = g.bank[:0]
	for i, x := range s.plant.lines() {
		name := bankNames[min(i, len(bankNames)-1)]
		plus, minus := s.sys.StringEnds(i)
		own := ohm * float64(count) * x.times
		if x.gone {
			own = ghostOhm
		}
		n.Source(name, node(plus), node(minus), volts-x.volts, own)
		g.bank = append(g.bank, name)
	}
	if amps := s.testLoad(st); amps > 0 {
		n.Resistor("test-load", node("post-pos.conductor"), node("post-neg.conductor"), s.sys.Volts/amps)
	}
	if st.z.Lamp {
		lamps := s.sys.Volts / 12
		n.Resistor("lamp", node(rig.PostPos), node(rig.PostNeg), 12*12/lampWatts*lamps)
	}
}

var bankNames = []string{"battery", "battery-2", "battery-3", "battery-4", "battery-5", "battery-6", "battery-7", "battery-8"}

// working says whether the controller may charge in a situation, as far as that
// does not depend on volts.
func (s *Sim) working(z Situation) bool {
	c := s.plant.Controller
	if !z.Chargers || c.Dead || c.Hung || c.DeadOut || c.Disabled || c.Held || c.TooHot || c.Error != "" || s.coldBlock() {
		return false
	}
	return !c.PVShort && !s.plant.Array.Reversed && s.array(z.Sun).open <= s.sys.Controller.PVLimitV
}

// setVolts is what the controller holds its battery screws at in a situation, by
// its settings and what it takes the bank's volts and warmth for.
func (s *Sim) setVolts(z Situation) float64 {
	c := s.plant.Controller
	v := c.AbsorbV
	if s.plant.Battery.Full && !z.Top {
		v = c.FloatV
	}
	if s.sys.Controller.Sensor && !s.sys.Battery.Lithium() && !c.SensorDead {
		temp := max(-10, min(50, s.plant.Battery.CellC+s.plant.Battery.WarmK+c.SensorOff))
		warm := figure(0)(electric.AbsorbTarget(chem(s.sys), s.sys.Volts, temp))
		v += warm - figure(warm)(electric.AbsorbTarget(chem(s.sys), s.sys.Volts, 25))
	}
	if z.Top {
		v -= c.ShortV
	}
	return v*c.SystemV/s.sys.Volts - c.VoltsOff
}

func (s *Sim) controller(n *circuit.Network, node func(string) circuit.Node, st *state) {
	sys, c, z := s.sys.Controller, s.plant.Controller, st.z
	if x := s.array(z.Sun); x.curve != nil {
		var p circuit.Pole = x.curve
		if s.plant.Array.Reversed {
			p = reversed{p}
		}
		n.Pole("array", node(rig.ArrayPos), node(rig.ArrayNeg), p)
	} else {
		n.Resistor("array", node(rig.ArrayPos), node(rig.ArrayNeg), heldOhm)
	}
	if ohm := s.plant.Array.LeakOhm; ohm > 0 {
		n.Resistor("array.leak", node(rig.PVIsoArray), node(rig.PVReturn), ohm)
	}
	pvPos, pvNeg, plus, minus := node(rig.CtlPVPos), node(rig.CtlPVNeg), node(rig.CtlBatPos), node(rig.CtlBatNeg)
	n.Resistor("controller.minus", pvNeg, minus, ctlMinus)
	volts, _ := s.bankVolts(st)
	st.sated = s.working(z) && volts >= s.setVolts(z)
	if !s.working(z) || st.sated || s.gone(st) || st.dead("controller") {
		held := heldOhm
		if c.PVShort {
			held = pulseOhm
		}
		n.Resistor("controller.pv", pvPos, pvNeg, held)
		if !c.Dead && sys.OwnW > 0 {
			n.Pole("controller.own", plus, minus, s.draw(st, "controller", sys.OwnW, lowest*s.sys.Volts))
		}
		return
	}
	// What measures the solar volts drains the screws a little: behind something
	// open they show next to none.
	n.Resistor("controller.pv-sense", pvPos, pvNeg, heldOhm)
	if st.blocked {
		s.holding(n, pvPos, pvNeg, plus, minus, st)
		return
	}
	amps := sys.RatedA
	if c.LimitA > 0 {
		amps = min(amps, c.LimitA)
	}
	if slow := s.plant.Harvest.SlowedA; slow > 0 {
		amps = min(amps, slow)
	}
	if c.StageA > 0 {
		amps = min(amps, c.StageA)
	}
	scale := c.SystemV / s.sys.Volts
	set := s.setVolts(z)
	if sys.Type == "pwm" {
		n.Pulse("controller", pvPos, pvNeg, plus, minus, circuit.Pulse{Ohm: pulseOhm, Own: sys.OwnW, MaxA: amps, SetV: set, StartV: sys.StartV * scale})
		return
	}
	n.Tracker("controller", pvPos, pvNeg, plus, minus, circuit.Tracker{
		Eta: sys.Eta, Own: sys.OwnW, MaxA: amps, SetV: set, StartV: sys.StartV * scale, Margin: sys.MarginV, Run: min(runVolts, sys.MarginV),
	})
}

// holding is a controller whose bank takes no charge: it stands at its set volts
// and feeds what is on. A charger without a bank to push against has no point of
// its own to come to rest at, so it is a source here. Its nodes are given so that
// its amps are, as a charger's, what leaves its battery plus.
func (s *Sim) holding(n *circuit.Network, pvPos, pvNeg, plus, minus circuit.Node, st *state) {
	n.Source("controller", minus, plus, -s.setVolts(st.z), pulseOhm)
	ac, dc := s.demand(st.z)
	watts := s.sys.Controller.OwnW
	if st.invOn {
		watts += s.sys.Inverter.IdleW + ac/s.sys.Inverter.Eta
	}
	for _, l := range s.sys.Loads {
		if !l.AC {
			watts += dc(l)
		}
	}
	least := max(1, lowest*s.array(st.z.Sun).open)
	n.Pole("controller.pv", pvPos, pvNeg, circuit.Watts{P: watts / s.sys.Controller.Eta, Least: least})
	n.Pole("controller.own", plus, minus, circuit.Watts{P: s.sys.Controller.OwnW, Least: lowest * s.sys.Volts})
}

// modeOf is how the controller is found in a state: a mode of circuit, "" where it
// does nothing.
func (s *Sim) modeOf(st *state) string {
	if st.blocked || st.sated && !s.gone(st) && !st.dead("controller") {
		return circuit.AtVolts
	}
	if m := st.sol.Mode("controller"); m != circuit.Off {
		return m
	}
	return ""
}

func (s *Sim) inverter(n *circuit.Network, node func(string) circuit.Node, st *state) {
	inv := s.sys.Inverter
	if inv.Watts == 0 {
		return
	}
	plus, minus := node(rig.InvPos), node(rig.InvNeg)
	switch {
	case s.plant.Inverter.Shorted:
		n.Resistor("inverter", plus, minus, max(1e-4, s.plant.Inverter.Ohm))
	case st.held:
		n.Source("inverter", plus, minus, holdAt*s.lowCut(), holdOhm)
	case st.invOn:
		ac, _ := s.demand(st.z)
		n.Pole("inverter", plus, minus, s.draw(st, "inverter", inv.IdleW+ac/inv.Eta, max(0.8*s.lowCut(), lowest*s.sys.Volts)))
	default:
		n.Resistor("inverter", plus, minus, bleedOhm)
	}
}

func (s *Sim) loads(n *circuit.Network, node func(string) circuit.Node, st *state) {
	_, dc := s.demand(st.z)
	for _, l := range s.sys.Loads {
		if l.AC {
			continue
		}
		plus, minus := node(rig.LoadPos(l.ID)), node(rig.LoadNeg(l.ID))
		if w := dc(l); w > 0 && !s.idle(l.ID) {
			n.Pole(l.ID+".load", plus, minus, s.draw(st, l.ID, w, lowest*s.sys.Volts))
		} else {
			n.Resistor(l.ID+".load", plus, minus, heldOhm)
		}
		if ohm := s.plant.Shorts[l.ID]; ohm > 0 {
			n.Resistor(l.ID+".short", plus, minus, ohm)
		}
	}
	for id, w := range s.plant.LeftOn {
		if _, known := s.sys.Load(id); known || w <= 0 {
			continue
		}
		back := rig.BusNeg
		if s.plant.Bypass[id] {
			back = rig.PostNeg
		}
		n.Pole(id+".load", node(rig.BusPos), node(back), s.draw(st, "", w, lowest*s.sys.Volts))
	}
}
