package simrig

import (
	"math"
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
)

// meterOhm is the input of a hand meter on volts.
const meterOhm = 1e7

// overload is what a meter on ohms shows at most before it says that it is too
// much; taken as the reading, so that "no contact" is a large number.
const overload = 6e7

// lean is how a meter of the person's is off, as a part of what its class allows
// at most: its gain, and what does not grow with the reading. It stays the same
// for all that is read with it.
type lean struct{ gain, abs float64 }

// classOf is the class of meter for a setting of the knowledge.
func (s *Sim) classOf(setting string) string {
	switch setting {
	case "dcv", "dcv600", "dcmv", "acmv", "ohm":
		if s.opt.Meters == "" || s.opt.Meters == "exact" {
			return "hand"
		}
		return s.opt.Meters
	case "clamp", "clamp-all":
		return "clamp-zeroed" // every such reading begins with zeroing it
	case "ir", "therm":
		return "infrared"
	}
	return ""
}

// last is the worth of a display's last digit on the range for a value: counts of
// the display, and full scale of its finest range, by class (those of
// quantity.MeterByID). 0.1 on temperatures.
func last(class, unit string, value float64) float64 {
	counts, full := 6000.0, 0.6
	switch {
	case unit == "degC":
		return 0.1
	case strings.HasPrefix(class, "clamp"):
		full = 600
	case class == "cheap":
		counts, full = 2000, 0.2
	case class == "good":
		counts = 60000
	}
	if unit == "ohm" {
		full *= 1000
	}
	for math.Abs(value) >= full && full < 1e9 {
		full *= 10
	}
	// The range steps by tens, the digit with it.
	return math.Pow(10, math.Ceil(math.Log10(full/counts)-1e-9))
}

func round(v, digit float64) float64 {
	if digit <= 0 {
		return v
	}
	n := math.Round(v / digit)
	if per := math.Round(1 / digit); per > 1 && math.Abs(per*digit-1) < 1e-9 {
		return n / per // a tenth has no exact binary figure, ten has
	}
	return n * digit
}

// leaning is how the meter of a class is off, drawn when it is first used. The
// order of readings does not matter: each class has been drawn at the start.
func (s *Sim) leaning(class string) lean { return s.meters[class] }

// drawMeters draws how the person's meters are off.
func (s *Sim) drawMeters() {
	s.meters = map[string]lean{}
	if s.opt.Chance == nil || s.opt.Meters == "" || s.opt.Meters == "exact" {
		return
	}
	even := func() float64 { return 2*s.opt.Chance.Float64() - 1 }
	for _, class := range []string{s.opt.Meters, "clamp-zeroed", "infrared"} {
		s.meters[class] = lean{even(), even()}
	}
}

// read is what the meter of a reading shows of a value.
func (s *Sim) read(r *reading.Reading, value float64) Answer {
	a := Answer{Known: true, True: value, Value: value, Digit: 1e-6}
	class := s.classOf(r.Meter)
	if class == "" {
		return a
	}
	if volts := strings.HasPrefix(r.Meter, "dc"); volts {
		a.Value *= 1 + s.plant.Meter.HandGain
	}
	if s.opt.Meters != "" && s.opt.Meters != "exact" {
		m, _ := quantity.MeterByID(class)
		gain, abs := m.Error(r.Kind, a.Value, 0)
		off := s.leaning(class)
		a.Value += off.gain*gain*math.Abs(a.Value) + off.abs*abs
		a.Digit = last(class, r.Kind.Unit.Symbol(), a.Value)
	}
	if unsigned(r) {
		a.Value, a.True = math.Abs(a.Value), math.Abs(a.True)
	}
	a.Value = round(a.Value, a.Digit)
	return a
}

// unsigned says whether a reading is typed without its sign.
func unsigned(r *reading.Reading) bool {
	return r.Possible.Set && r.Possible.Lo == 0
}

// amps is what a clamp around a part reads in a situation, A to B of it.
func (s *Sim) amps(st *state, part string) float64 {
	a := st.sol.Amps(part)
	if math.IsNaN(a) {
		return 0
	}
	return a
}

// without answers the measurements that are not volts between two points.
func (s *Sim) without(r *reading.Reading, place string) (Answer, bool) {
	var part *Part
	switch r.ID {
	case "load_a", "joint_c", "twin_c", "plug_twin_c":
		if part = s.partAt(place); part == nil && r.ID == "load_a" && s.onItsWay() {
			part = s.wireInQuestion()
		}
		if part == nil && (r.ID != "load_a" || !s.atBank()) {
			return Refuse("nobody knows which part is meant"), true
		}
	case "ambient_c":
		if s.onItsWay() && s.partAt(place) == nil {
			return s.read(r, s.inverterAir()), true
		}
		return s.read(r, s.airAt(s.partAt(place))), true
	case "battery_c":
		return s.read(r, s.plant.Battery.CellC+s.plant.Battery.WarmK), true
	case "inv_input_ohm":
		if s.sys.Inverter.Watts == 0 {
			return Refuse("this rig has no inverter"), true
		}
		ohm := bleedOhm
		if s.plant.Inverter.Shorted {
			ohm = max(1e-4, s.plant.Inverter.Ohm)
		}
		return s.read(r, ohm), true
	case "branch_ohm":
		ohm, ok := s.branchOhm(place)
		if !ok {
			return Refuse("there is no such wire on this rig"), true
		}
		return s.read(r, ohm), true
	case "battery_a", "battery_out_a", "tail_a", "ctl_charge_a", "pv_a":
	default:
		return Answer{}, false
	}
	st := s.at(s.SituationFor(r.State, place))
	if st.err != nil {
		return Refuse("the rig comes to no rest"), true
	}
	switch r.ID {
	case "load_a":
		if part == nil { // at the battery all that it gives is meant
			return s.read(r, s.bankAmps(st)), true
		}
		return s.read(r, s.amps(st, part.ID)), true
	case "joint_c":
		return s.read(r, s.heatOf(st, part)), true
	case "twin_c":
		_, c := s.warmestBeside(st, part)
		return s.read(r, c), true
	case "plug_twin_c":
		twin := s.twinPlug(part)
		if twin == nil {
			return Refuse("there is no like plug"), true
		}
		return s.read(r, s.heatOf(st, twin)), true
	case "battery_a", "battery_out_a", "tail_a":
		return s.read(r, s.bankAmps(st)), true
	case "ctl_charge_a":
		return s.read(r, -s.amps(st, "ctl-pos")), true
	}
	return s.read(r, s.amps(st, "pv-pos")), true
}

// twinPlug is the like plug of a solar plug, which carries the same current: that
// of the other pole. nil for what is no solar plug.
func (s *Sim) twinPlug(p *Part) *Part {
	if p.Kind != rig.PVPlug {
		return nil
	}
	for q := range s.inOrder {
		if q.Kind == rig.PVPlug && q != p && q.Circuit == p.Circuit {
			return q
		}
	}
	return nil
}

// branchOhm is what a meter on ohms shows from the load side of a fuse to the
// minus bar, with the fuse out and the load switched off.
func (s *Sim) branchOhm(place string) (float64, bool) {
	circuit := s.circuitAt(place)
	if _, ok := s.sys.Load(circuit); !ok {
		circuit = s.branchInQuestion()
	}
	if circuit == "" {
		return 0, false
	}
	siemens := 1 / heldOhm
	if ohm := s.plant.Shorts[circuit]; ohm > 0 {
		siemens += 1 / ohm
	}
	if w := s.plant.LeftOn[circuit]; w > 0 {
		siemens += w / (s.sys.Volts * s.sys.Volts)
	}
	sum := 1 / siemens
	for i := range s.gridOf().wires {
		w := &s.grid.wires[i]
		if w.part.Circuit != circuit || w.part.Kind == rig.Fuse {
			continue
		}
		if w.opens && open(w.part) {
			sum += openOhm
		}
		sum += w.ohm
	}
	return min(sum, overload), true
}

// branchInQuestion is the load that a complaint about a wire is about, where the
// person stands at none: the one with a short, whose fuse has blown, with something
// left on, the first.
func (s *Sim) branchInQuestion() string {
	first := ""
	for _, l := range s.sys.Loads {
		switch {
		case l.AC:
		case s.plant.Shorts[l.ID] > 0, s.blewAt(l.ID):
			return l.ID
		case first == "" || s.plant.LeftOn[l.ID] > 0 && s.plant.LeftOn[first] == 0:
			first = l.ID
		}
	}
	return first
}

// blewAt says whether the fuse of a load's way is gone.
func (s *Sim) blewAt(load string) bool {
	x := s.plant.Parts[load+"-fuse"]
	return x != nil && x.Blown
}

// gapPart is the joint that is made last in what the Event tells of.
func (s *Sim) gapPart() string {
	switch s.plant.Event.Joining {
	case "inverter":
		if s.plant.Parts["inv-lug-pos"] != nil {
			return "inv-lug-pos"
		}
	case "device":
		if l := s.branchInQuestion(); l != "" {
			return l + "-screw"
		}
	}
	return "post-pos"
}

// gapEnds are the points of that gap: the lug or wire, and what it belongs on.
func (s *Sim) gapEnds() (lug, post string) {
	p := s.plant.Parts[s.gapPart()]
	if p == nil {
		return rig.BusPos, rig.BusNeg
	}
	if p.Kind == rig.Joint {
		return conductor(p)
	}
	return p.A, p.B
}

// preOhm is the pre-charge resistor: for three amps at first touch where nobody
// says otherwise.
func (s *Sim) preOhm() float64 {
	if ohm := s.plant.Event.PreOhm; ohm > 0 {
		return ohm
	}
	return figure(s.sys.Volts / 3)(electric.PrechargeOhm(s.sys.Volts, 3))
}

// gapVolts is the volts across the gap, red on the lug: what lies behind it, or
// the other battery, against the post.
func (s *Sim) gapVolts(r *reading.Reading) Answer {
	z := s.SituationFor(r.State, "")
	z.Gap = true
	if e := s.plant.Event; e.OtherV != 0 {
		st := s.at(s.SituationFor(r.State, ""))
		if st.err != nil {
			return Refuse("the rig comes to no rest")
		}
		bank := st.sol.Across(rig.PostPos, "gnd")
		if e.Reversed {
			return s.read(r, -e.OtherV-bank)
		}
		return s.read(r, e.OtherV-bank)
	}
	lug, post := s.gapEnds()
	return s.volts(r, z, lug, post, 1)
}

// prechargeVolts is what has come to the inverter's studs after ten seconds.
func (s *Sim) prechargeVolts(r *reading.Reading) Answer {
	if s.sys.Inverter.Watts == 0 {
		return Refuse("this rig has no inverter")
	}
	z := s.SituationFor(r.State, "")
	z.Gap, z.Pre = true, true
	filled := 1.0
	if farad := s.plant.Inverter.Farad; farad > 0 {
		filled = 1 - figure(0)(electric.PrechargeLeft(1, s.preOhm(), farad, 10))
	}
	return s.volts(r, z, rig.InvPos, rig.InvNeg, filled)
}

// polarity is the volts between two leads marked plus and minus: those of the array
// where a solar plug is meant, else of what is or would be joined to the battery.
func (s *Sim) polarity(r *reading.Reading) Answer {
	e := s.plant.Event
	if e.PVPlug {
		return s.volts(r, s.SituationFor([]string{"sun", "pv-off"}, ""), rig.PVIsoArray, rig.PVReturn, 1)
	}
	volts := s.restVolts()
	if e.OtherV != 0 {
		volts = e.OtherV
	}
	if s.plant.Battery.Off && e.OtherV == 0 {
		volts = figure(0)(electric.GhostVolts(volts, ghostOhm, meterOhm))
	}
	if e.Reversed {
		volts = -volts
	}
	return s.read(r, volts)
}
