package simrig

import (
	"math"
	"slices"

	"hotlug/engine/electric"
)

// counter is a counting monitor over typical days: how it is set and joined, the
// bank it watches, and what goes in and out of that bank.
type counter struct {
	ah, fit float64 // Ah really there; amp-hours set

	gain           float64 // amps shown for each that flows through the shunt, sign and setting in it
	zero           float64 // A shown at nothing
	useSeen        float64 // part of the use that passes the shunt
	chargeSeen     float64 // part of the charge that does
	efficiency     float64 // as set, 0 to 1
	trueEfficiency float64
	peukert        float64 // as set
	truePeukert    float64
	fullV, tailA   float64 // at which it says full

	rest    func(charge float64) float64 // V of the bank at rest
	ohm     float64
	topV    float64 // V at the monitor at the end of a charge
	endA    float64 // A that still flow into the bank then
	chargeA float64 // A into the bank in full sun
	use     float64 // Ah that a day takes
	idleA   float64 // A that flow out with everything off
	standA  float64 // A of what is always on, while the sun charges
	days    int
	idle    float64 // weeks of rest after those days
	charge  float64 // per cent, true, at which it is looked at
}

// course is what the monitor did over the days and what it shows now.
type course struct {
	shown float64 // per cent, at the true charge
	top   float64 // per cent, at the end of the last charge

	synced  bool    // it has said full in the last days
	early   bool    // and did so far from full
	quits   float64 // per cent shown as the bank was empty, 0 if it never was
	pace    float64 // its fall over the true one, of the last night
	climb   float64 // its rise over the true one, of the last day's charge up to 90 per cent
	least   float64 // of the last days
	most    float64
	fell    float64 // lowest true charge of the last days, per cent
	drift   float64 // per cent that it moves in a day with everything off
	astray  float64 // per cent beside the truth after the weeks of rest
	reached bool    // the bank itself has got full
}

// A day in steps: it is used from dusk to morning, in the evening heavily, and
// charged by a sun that rises and falls.
const (
	dayStep   = 0.25 // h
	dawn      = 8.0
	dusk      = 17.0
	evening   = 2.0  // h of heavy use, which take half of the day's amp-hours
	heavyPart = 0.5  // of the day's use
	rampHours = 2.0  // until the sun is at its height, and as long from it
	nearTop   = 0.97 // of the charge from which lithium takes less and less
	leadTop   = 0.85
	trulyFull = 93 // per cent from which "full" is no mistake
	lastDays  = 3
)

// run follows the count through its days, from a full bank rightly counted.
func (c counter) run(lithium bool) course {
	d := day{counter: c, q: c.ah, n: 100, knee: leadTop}
	if lithium {
		d.knee = nearTop
	}
	out := course{least: math.Inf(1), fell: 100}
	for k := range c.days {
		d.watch = nil
		if k >= c.days-lastDays {
			d.watch = &out
		}
		d.night()
		d.sun()
	}
	out.top = d.n
	// Out of the last charge down to the charge it is looked at with.
	d.watch = nil
	startN, startQ := d.n, d.percent()
	slow, none := d.flow(0.1*c.ah), d.flow(0)
	for d.percent() > c.charge+0.05 {
		d.out(slow, none, max(1e-3, min(dayStep, (d.percent()-c.charge)/100*c.ah/max(slow.ah, 1e-6))))
	}
	out.shown = d.n
	if fall := startQ - d.percent(); out.pace == 0 && fall > 5 {
		out.pace = (startN - d.n) / fall
	}
	out.drift = 24 * (c.zero - c.gain*c.useSeen*c.idleA) / c.fit * 100
	if c.idle > 0 {
		n := d.n + 7*c.idle*out.drift
		out.shown = min(100, max(0, n))
		out.astray = math.Abs(n - (d.percent() - 7*24*c.idle*c.idleA/c.ah*100))
	}
	return out
}

// day is the state of a count in the course of its days.
type day struct {
	counter
	q, n  float64 // Ah in the bank; per cent shown
	knee  float64 // part of the charge from which the bank takes less and less
	left  bool    // the charger has ended its charge today
	watch *course
}

func (d *day) percent() float64 { return 100 * d.q / d.ah }

// flow is a steady current of use: what it takes out of the bank, and by how many
// per cent in an hour the display moves.
type flow struct{ ah, pct float64 }

func (c counter) flow(amps float64) flow {
	return flow{eff(amps, c.ah, c.truePeukert), c.rate(-amps * c.useSeen)}
}

// out lets a current of use flow for some hours; an empty bank gives none.
func (d *day) out(f, none flow, hours float64) {
	if d.q <= 0 {
		f = none
	}
	d.q = max(0, d.q-hours*f.ah)
	d.n = min(100, max(0, d.n+hours*f.pct))
}

// count adds what the monitor sees of amps into the bank.
func (d *day) count(amps, hours float64) {
	d.n = min(100, max(0, d.n+hours*d.rate(amps)))
}

// rate is by how many per cent in an hour the display moves with amps through
// the shunt, into the bank plus.
func (c counter) rate(amps float64) float64 {
	i := c.gain*amps + c.zero
	if i < 0 {
		i = -eff(-i, c.fit, c.peukert)
	} else {
		i *= c.efficiency
	}
	return 100 * i / c.fit
}

// eff is the current that counts by Peukert's law at the rate of 20 hours.
func eff(amps, ah, k float64) float64 {
	if amps <= 0 || k <= 1 {
		return amps
	}
	return amps * math.Pow(amps*20/ah, k-1)
}

func (d *day) night() {
	startQ, startN := d.percent(), d.n
	quit := false
	none, heavy := d.flow(0), d.flow(heavyPart*d.use/evening)
	light := d.flow((1 - heavyPart) * d.use / (24 - dusk + dawn - evening))
	for t := 0.0; t < 24-dusk+dawn; t += dayStep {
		if t < evening {
			d.out(heavy, none, dayStep)
		} else {
			d.out(light, none, dayStep)
		}
		if d.watch != nil && d.q <= 0.01*d.ah && !quit {
			quit = true
			d.watch.quits = d.n
		}
	}
	if d.watch == nil {
		return
	}
	d.watch.fell = min(d.watch.fell, d.percent())
	d.watch.least, d.watch.most = min(d.watch.least, d.n), max(d.watch.most, startN)
	if fall := startQ - d.percent(); fall > 5 {
		d.watch.pace = (startN - d.n) / fall
	}
}

// sun charges the bank for a day and lets the monitor say full where it would.
func (d *day) sun() {
	d.left = false
	startQ, startN := d.percent(), d.n
	lastQ, lastN := startQ, startN
	for t := dawn; t < dusk; t += dayStep {
		height := min(1, (t-dawn+dayStep)/rampHours, (dusk-t)/rampHours)
		amps := d.chargeA * height
		end := d.taper()
		atTop := amps >= end
		if atTop {
			amps = end
		}
		if d.left {
			amps = 0
		}
		hours := dayStep
		if in := amps * d.trueEfficiency; in > 0 { // no longer than it takes
			hours = min(hours, max(0, d.ah-d.q)/in)
		}
		d.q = min(d.ah, d.q+amps*d.trueEfficiency*hours)
		d.count(amps*d.chargeSeen, hours)
		d.count(0, dayStep-hours)
		if d.percent() < 90 {
			lastQ, lastN = d.percent(), d.n
		}
		d.mark(atTop, amps)
		if atTop && d.percent() > 99.9 {
			d.left = true
			d.mark(true, d.endA)
			if d.watch != nil {
				d.watch.reached = true
			}
		}
	}
	if d.watch == nil {
		return
	}
	d.watch.most = max(d.watch.most, d.n)
	if rise := lastQ - startQ; rise > 10 {
		d.watch.climb = (lastN - startN) / rise
	}
}

// mark lets the monitor say full where current and volts are such: those of the
// top, or of the bank on its way there.
func (d *day) mark(atTop bool, amps float64) {
	shown := d.gain*(amps*d.chargeSeen-d.standA*d.useSeen) + d.zero
	if amps <= 0 || shown < 0 || shown > d.tailA {
		return
	}
	volts := d.topV
	if !atTop {
		volts = d.rest(d.percent()) + amps*d.ohm
	}
	if volts < d.fullV {
		return
	}
	if d.watch != nil {
		d.watch.synced = true
		if d.percent() < trulyFull && d.n < trulyFull+5 {
			d.watch.early = true
		}
	}
	d.n = 100
}

// taper is the most that the bank takes at its top volts: less and less from its
// knee on, down to what flows at the end.
func (d *day) taper() float64 {
	missing := 1 - d.q/d.ah
	if missing >= 1-d.knee {
		return math.Inf(1)
	}
	return d.endA + missing*d.ah/0.4
}

// trueFactors are the charge efficiency and the exponent of a kind of battery
// (battery textbook).
func trueFactors(kind electric.Chemistry) (efficiency, peukert float64) {
	switch kind {
	case electric.Flooded:
		return 0.85, 1.25
	case electric.AGM:
		return 0.93, 1.12
	case electric.Gel:
		return 0.90, 1.15
	}
	return 0.99, 1.05
}

// prudent is by how much a monitor's charge efficiency is set below the battery's:
// a count that never says full loses a few per cent in weeks (practice).
const prudent = 0.005

// trueFactors are the charge efficiency and the exponent that the battery really
// has. A rig as it was built is set right for its own.
func (s *Sim) trueFactors() (efficiency, peukert float64) {
	efficiency, peukert = trueFactors(chem(s.sys))
	if m := s.sys.Monitor; m.Efficiency > 0 {
		efficiency = m.Efficiency / 100
	}
	if m := s.sys.Monitor; m.Peukert >= 1 {
		peukert = m.Peukert
	}
	return min(1, efficiency+prudent), peukert
}

// Days that are typical of a rig.
const (
	usePart   = 0.4  // of the label's amp-hours
	sunHours  = 6.0  // of the full charge amps in a day
	usualDays = 10   // since the last count that was true, where nothing else is known
	mostDays  = 28   // beyond which nothing new comes
	lately    = 0.2  // of the usual charge, below which it has failed
	appTail   = 0.06 // of the amp-hours, under which a battery's app says full
	appUnder  = 0.06 // V per 12 V under the charger's right top volts, likewise
)

// counter is the monitor of this rig, as it is set, joined and used; none where
// nothing counts or the rig comes to no state.
func (s *Sim) counter() (counter, bool) {
	p, m := s.plant, s.plant.Monitor
	if m.Source == "volts-only" || s.sys.Monitor.Shunt == "" && !s.sys.Battery.App {
		return counter{}, false
	}
	sunny, ok := s.view(s.sunny())
	top, ok2 := s.view(s.top())
	still, ok3 := s.view(s.SituationFor([]string{"loads-off", "chargers-off", "inv-off"}, ""))
	if !ok || !ok2 || !ok3 {
		return counter{}, false
	}
	kind := chem(s.sys)
	c := counter{
		ah: max(1, p.Battery.Ah), fit: max(1, m.Ah), gain: 1, useSeen: 1, chargeSeen: 1,
		fullV: m.FullV, tailA: m.TailPct / 100 * m.Ah,
		efficiency: m.Efficiency / 100, peukert: max(1, m.Peukert),
		rest: func(charge float64) float64 {
			return figure(s.sys.Volts)(electric.RestVolts(max(0, min(100, charge)), s.sys.Volts, kind))
		},
		ohm: p.Battery.Ohm, topV: top.posts(), endA: max(0.1, top.battery()),
		chargeA: max(0, sunny.battery()), days: usualDays, charge: max(0, min(100, p.Battery.Charge)),
	}
	c.trueEfficiency, c.truePeukert = s.trueFactors()
	// A bank that is full now says nothing of what a day brings; the array does.
	if p.Battery.Full || p.Battery.Charge > 90 {
		c.chargeA = max(c.chargeA, s.sys.ChargeAmps())
	}
	// A charge that has failed has failed lately: before, the days were as usual.
	if usual := s.sys.ChargeAmps(); c.chargeA < lately*usual {
		c.chargeA = usual
		c.topV = p.Controller.AbsorbV - p.Controller.VoltsOff
		c.endA = tailShare * figure(0.02*c.ah)(electric.TailLimit(kind, c.ah))
	}
	c.use = usePart * s.sys.Battery.Ah
	if c.chargeA > 0 {
		c.use = min(c.use, 0.85*sunHours*c.chargeA*c.trueEfficiency)
	}
	if m.Weeks > 0 && !m.Idle {
		c.days = min(mostDays, int(7*m.Weeks))
	}
	if m.Source == "battery-app" || s.sys.Monitor.Shunt == "" {
		c.fit, c.efficiency, c.peukert = c.ah, c.trueEfficiency-prudent, c.truePeukert
		c.tailA = appTail * c.ah
		right := figure(c.topV)(electric.AbsorbTarget(kind, s.sys.Volts, 25))
		c.fullV = min(right, s.sys.Controller.AbsorbV) - appUnder*s.twelves() - p.Battery.BMSOff
		return c, true
	}
	c.gain, c.zero = s.gain(), m.ZeroA
	c.useSeen = s.seenShare()
	if p.Bypass["controller"] {
		c.chargeSeen = 0
	}
	c.idleA, c.standA = max(0, -still.battery()-standing), min(standing, 0.002*c.ah)
	if m.Idle {
		c.idle = max(m.Weeks, 2)
	}
	return c, true
}

// standing is the current in A of what is always on (controller, displays), which
// is part of a day and no surprise.
const standing = 1.0

// gain is the amps shown for each that flows through the shunt.
func (s *Sim) gain() float64 {
	m := s.plant.Monitor
	all := electric.Shunts()
	g := 1.0
	if fitted, set := slices.Index(all, s.sys.Monitor.Shunt), slices.Index(all, m.ShuntSet); fitted >= 0 && set >= 0 {
		g = figure(1)(electric.ShuntFactor(fitted, set))
	}
	if m.ShuntTimes > 0 {
		g *= m.ShuntTimes
	}
	switch m.Wire {
	case "loose-plug", "joined-or-damaged": // no millivolts arrive
		g = 0
	}
	if m.Reversed {
		g = -g
	}
	return g
}

// seenShare is the part of a day's use whose minus passes the shunt.
func (s *Sim) seenShare() float64 {
	all, seen := 0.0, 0.0
	add := func(circuit string, watts float64) {
		all += watts
		if !s.plant.Bypass[circuit] {
			seen += watts
		}
	}
	for _, l := range s.sys.Loads {
		if !l.AC {
			add(l.ID, l.Watts*loadDuty)
		}
	}
	if w := s.sys.Inverter.Watts; w > 0 {
		add("inverter", w*inverterDuty)
	}
	if all == 0 {
		return 1
	}
	return seen / all
}

// Part of the day for which loads run, and part of its watts that an inverter
// gives over a day (practice).
const (
	loadDuty     = 0.3
	inverterDuty = 0.06
)

// tally keeps a course for as long as the plant stays as it is.
type tally struct {
	of     *grid
	course course
	known  bool
}

// counted is what the monitor has come to, worked out once for a plant.
func (s *Sim) counted() (course, bool) {
	if g := s.gridOf(); s.tally.of != g {
		s.tally = tally{of: g}
		if c, ok := s.counter(); ok {
			s.tally.course, s.tally.known = c.run(s.sys.Battery.Lithium()), true
		}
	}
	return s.tally.course, s.tally.known
}

// minusOn is the current in A that a monitor with long untwisted wires adds while
// an inverter works beside them.
const minusOn = 3.0

// monitorAmps is what the monitor shows in a situation.
func (s *Sim) monitorAmps(z Situation) (float64, bool) {
	v, ok := s.view(z)
	if !ok || s.sys.Monitor.Shunt == "" {
		return 0, false
	}
	a := s.gain()*v.shunt() + s.plant.Monitor.ZeroA
	if s.plant.Monitor.Wire == "long-untwisted-sense-leads" && v.st.invOn {
		a += minusOn
	}
	return a, true
}
