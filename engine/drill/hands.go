package drill

import (
	"math"
	"math/rand/v2"

	"hotlug/engine/reading"
	"hotlug/engine/simrig"
)

// hands is a simulated rig with a person at it, who reads off no more digits of a
// display than people do, and whose meter may lie.
type hands struct {
	*simrig.Sim
	readings map[string]*reading.Reading // the Sim's own
	asItIs   map[string]*reading.Reading // those of them that are taken as things are

	lie float64 // part by which the meter in hand shows too much volts, 0 for none
}

// newHands puts a person at a rig. readings are those that the rig was made with,
// and become this person's.
func newHands(s *simrig.Sim, readings map[string]*reading.Reading) *hands {
	h := &hands{Sim: s, readings: readings, asItIs: map[string]*reading.Reading{}}
	for id, r := range readings {
		if r.Class == reading.Measurement && len(r.State) == 0 {
			h.asItIs[id] = r
		}
	}
	return h
}

// Take is the Sim's, with the digits that a person reads off.
func (h *hands) Take(id, at string) simrig.Answer {
	a := h.Sim.Take(id, at)
	r := h.Reading(id)
	if r == nil || r.Class != reading.Measurement || !a.Known || a.Value == 0 {
		return a
	}
	digits := 3.0
	if v := math.Abs(a.Value); v >= 10 && v < 100 {
		digits = 4
	}
	digit := math.Pow(10, math.Floor(math.Log10(math.Abs(a.Value)))-digits+1)
	least := finest[r.Kind.Unit.Symbol()]
	if r.Meter == "dcv" || r.Meter == "dcv600" {
		least = finestVolts
	}
	if a.Digit = max(a.Digit, digit, least); a.Digit > 0 {
		a.Value = math.Round(a.Value/a.Digit) * a.Digit
	}
	return a
}

// finest is the last digit that a person tells of a good meter, by unit; of volts
// on a range for volts it is a thousandth.
var finest = map[string]float64{"V": 1e-4, "A": 0.01, "ohm": 0.1, "Ω": 0.1, "degC": 0.1}

const finestVolts = 1e-3

// Repair mends a fault. A meter that lies goes on lying.
func (h *hands) Repair(fault string) {
	h.Sim.Repair(fault)
	h.lies()
}

func (h *hands) lies() {
	if h.lie != 0 {
		h.Plant().Meter.HandGain = h.lie
	}
}

// OtherMeter puts a meter into the person's hands that does not lie.
func (h *hands) OtherMeter() {
	h.lie = 0
	h.Plant().Meter.HandGain = 0
	h.Do("") // what was read before is read anew
}

// Stand leaves the rig in states of the knowledge, for the readings that are taken
// as things are.
func (h *hands) Stand(states []string) {
	for id, r := range h.asItIs {
		left := *r
		left.State = states
		h.readings[id] = &left
	}
	h.Do("") // what was read before is read anew
}

// Lie is by which part the meter in hand shows too much volts.
func (h *hands) Lie() float64 { return h.lie }

// liar is a rig whose meter can lie.
type liar interface {
	Lie() float64
	OtherMeter()
}

// How far a meter lies at least and at most, as a part of the reading. Source:
// practice, with a meter whose own battery is going.
const (
	leastLie = 0.03
	mostLie  = 0.08
)

// lieOf draws how the meter of a seed lies.
func lieOf(seed uint64) float64 {
	chance := rand.New(rand.NewPCG(seed, streamLie))
	lie := leastLie + (mostLie-leastLie)*chance.Float64()
	if chance.Float64() < 0.5 {
		return -lie
	}
	return lie
}
