package simrig

import (
	"math"

	"hotlug/engine/rig"
)

// The symptoms for which the person stands at the bank, in no wire in particular.
const (
	cutsOff    = "battery-cuts-off"
	zeroVolts  = "zero-volts-after-connecting"
	hotBattery = "hot-battery"
	newBattery = "new-battery-no-better"
	uneven     = "batteries-uneven"

	flatMornings = "flat-every-morning"
	flatStored   = "flat-after-storage"
)

// atBank says whether the complaint is about the bank itself, so that a load is
// one for its sake and amps are all that it gives.
func (s *Sim) atBank() bool {
	if s.focus != "" {
		return false
	}
	switch s.symptom {
	case cutsOff, zeroVolts, hotBattery, newBattery, uneven, flatMornings, flatStored:
		return true
	}
	return false
}

// bankTest is the part of its amp-hours, in amps, that a person loads a bank with
// to judge it: a fifth. testVolts is what the load needs at least.
const bankTest = 0.2

// testLoad is the amps that a load on the lugs of the posts adds to what runs, so
// that a fifth of the amp-hours flow; less where the protection would not bear it.
func (s *Sim) testLoad(st *state) float64 {
	if !st.z.Bank {
		return 0
	}
	want := bankTest * s.sys.Battery.Ah
	if trip := s.plant.Battery.TripA; trip > 0 {
		want = min(want, testShare*trip)
	}
	return want - s.loadAmps(st)
}

// loadAmps is about what the loads that are on draw.
func (s *Sim) loadAmps(st *state) float64 {
	ac, dc := s.demand(st.z)
	watts := 0.0
	if st.invOn {
		watts = ac/s.sys.Inverter.Eta + s.sys.Inverter.IdleW
	}
	for _, l := range s.sys.Loads {
		if !l.AC {
			watts += dc(l)
		}
	}
	return watts / s.sys.Volts
}

// bankLooks are what is seen and measured of several batteries.
var bankLooks = map[string]func(*Sim, string) Answer{
	"bank_layout": func(s *Sim, _ string) Answer { return Pick(s.sys.Battery.Layout()) },
	"battery_limit_a": func(s *Sim, _ string) Answer {
		if a := limitAmps(s.sys); a > 0 {
			return printed(a)
		}
		return Refuse("its label names no limit")
	},
	"bank_look": func(s *Sim, _ string) Answer { return Pick(s.bankLook()) },
	"part_open": func(s *Sim, _ string) Answer { return Pick(s.partOpen()) },
	"block_high_a": func(s *Sim, place string) Answer {
		return s.blockAmps("block_high_a", place, func(lo, hi float64) float64 { return hi })
	},
	"block_low_a": func(s *Sim, place string) Answer {
		return s.blockAmps("block_low_a", place, func(lo, hi float64) float64 { return lo })
	},
	"block_high_v": func(s *Sim, _ string) Answer { return s.blockVolts("block_high_v", true) },
	"block_low_v":  func(s *Sim, _ string) Answer { return s.blockVolts("block_low_v", false) },
	"block_charge_spread_v": func(s *Sim, _ string) Answer {
		if s.sys.Battery.Series < 2 {
			return Refuse("no batteries of this rig stand one after the other")
		}
		return s.read(s.readings["block_charge_spread_v"], s.plant.apart(Block.lag))
	},
	"link_drop_v": func(s *Sim, place string) Answer {
		st := s.at(s.SituationFor(s.readings["link_drop_v"].State, place))
		switch {
		case st.err != nil:
			return Refuse(noState)
		case s.sys.Battery.Parallel < 2:
			return Refuse("there are no links: no batteries stand side by side")
		}
		return s.read(s.readings["link_drop_v"], s.worstLink(st))
	},
	"post_drop_v": func(s *Sim, place string) Answer {
		st := s.at(s.SituationFor(s.readings["post_drop_v"].State, place))
		if st.err != nil {
			return Refuse(noState)
		}
		worst := 0.0
		for _, id := range []string{"post-pos", "post-neg"} {
			if p := s.plant.Parts[id]; p != nil {
				worst = max(worst, math.Abs(s.amps(st, id))*p.FaceOhm)
			}
		}
		return s.read(s.readings["post_drop_v"], worst)
	},
}

// limitAmps is what one battery allows without a break, by its label: a protection
// trips some way above it (typical data of several makers).
func limitAmps(sys *rig.System) float64 {
	if b := sys.Battery; b.TripA > 0 {
		return math.Floor(b.TripA / tripsAbove / float64(max(1, b.Parallel)))
	}
	return 0
}

const tripsAbove = 1.3

// thinLink is the part of the main leads' copper below which links look thin.
const thinLink = 0.6

// bankLook is what strikes first about the batteries and their cables.
func (s *Sim) bankLook() string {
	b := s.plant.Battery
	if b.Look != "" {
		return b.Look
	}
	main := s.plant.Parts["bat-pos"]
	for p := range s.inOrder {
		if main != nil && p.Kind == rig.Wire && isLink(p.Part) && p.TrueMM2 < thinLink*main.TrueMM2 {
			return "thin-links"
		}
	}
	if b.OneEnd {
		return "both-leads-on-one-end"
	}
	return "alike"
}

// partOpen is the first battery of a bank that stands apart for all to see.
func (s *Sim) partOpen() string {
	for _, x := range s.plant.Battery.Blocks {
		if x.Off {
			return "breaker-off"
		}
	}
	for p := range s.inOrder {
		if isLink(p.Part) && p.Missing {
			return "lead-off"
		}
	}
	return "all-on"
}

// shares is what the string gives that gives least, and the one that gives most.
func (s *Sim) shares(st *state) (lo, hi float64) {
	for i, name := range s.gridOf().bank {
		a := max(0, -s.amps(st, name))
		if i == 0 {
			lo, hi = a, a
		}
		lo, hi = min(lo, a), max(hi, a)
	}
	return lo, hi
}

func (s *Sim) blockAmps(id, place string, which func(lo, hi float64) float64) Answer {
	st := s.at(s.SituationFor(s.readings[id].State, place))
	switch {
	case st.err != nil:
		return Refuse(noState)
	case s.sys.Battery.Parallel < 2:
		return Refuse("no batteries of this rig stand side by side")
	}
	lo, hi := s.shares(st)
	return s.read(s.readings[id], which(lo, hi))
}

// blockVolts is the highest or lowest battery, each charged by itself and rested.
func (s *Sim) blockVolts(id string, high bool) Answer {
	b := s.sys.Battery
	if b.Series < 2 && b.Parallel < 2 {
		return Refuse("there is a single battery")
	}
	each := figure(s.sys.Volts)(restFull(s.sys)) / float64(max(1, b.Series))
	lack := func(x Block) float64 { return float64(x.Dead)*leadCellV + x.Low }
	if blocks := s.plant.Battery.Blocks; len(blocks) > 0 {
		least, most := lack(blocks[0]), lack(blocks[0])
		for _, x := range blocks {
			least, most = min(least, lack(x)), max(most, lack(x))
		}
		if high {
			each -= least
		} else {
			each -= most
		}
	}
	return s.read(s.readings[id], max(0, each))
}

// worstLink is the most that is lost in a link, from post to post.
func (s *Sim) worstLink(st *state) float64 {
	worst := 0.0
	for i := range s.sys.Battery.Parallel - 1 {
		nearPos, nearNeg := s.sys.StringEnds(i)
		farPos, farNeg := s.sys.StringEnds(i + 1)
		for _, ends := range [][2]string{{farPos, nearPos}, {farNeg, nearNeg}} {
			worst = max(worst, math.Abs(orNought(st.sol.Across(nodeName(ends[0]), nodeName(ends[1])))))
		}
	}
	return worst
}
