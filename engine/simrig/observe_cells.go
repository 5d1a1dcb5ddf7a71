package simrig

import (
	"math"
	"slices"

	"hotlug/engine/electric"
	"hotlug/engine/rig"
)

// restFull is the rest volts of the bank when it is full.
func restFull(sys *rig.System) (float64, error) { return restOf(sys, 100) }

func restOf(sys *rig.System, charge float64) (float64, error) {
	return electric.RestVolts(charge, sys.Volts, chem(sys))
}

// testHours is how long amp-hours are counted out of a battery as a rule.
const testHours = 5

// insides are what is known of the inside of a battery: its cells in the app, its
// acid, what it holds, where it is warm.
var insides = map[string]func(*Sim, string) Answer{
	"cell_high_v":        app(func(s *Sim) Answer { return cellShown(s.cellNow() + 0.1*s.cellsApart()) }),
	"cell_low_v":         app(func(s *Sim) Answer { return cellShown(s.cellNow() - 0.9*s.cellsApart()) }),
	"cell_charge_high_v": app(func(s *Sim) Answer { hi, _ := s.cellsOnCharge(); return cellShown(hi) }),
	"cell_charge_low_v":  app(func(s *Sim) Answer { _, lo := s.cellsOnCharge(); return cellShown(lo) }),
	"battery_alive_after_wake": func(s *Sim, _ string) Answer {
		return yesNo(!s.plant.Battery.Dies)
	},
	"ah_to_cutoff": func(s *Sim, _ string) Answer {
		// What draws inside draws during the test as well.
		return Shown(s.plant.holds()-testHours*s.plant.Drain.InsideA, 1)
	},
	"daily_use_wh": func(s *Sim, _ string) Answer { return Shown(s.usedWh(), 10) },
	"water_level": func(s *Sim, _ string) Answer {
		switch {
		case s.sys.Battery.Chemistry != "flooded":
			return Pick("sealed")
		case s.plant.Battery.Dry:
			return Pick("low")
		}
		return Pick("covered")
	},
	"sg_high":            acid(func(s *Sim) float64 { return s.density() }),
	"sg_low":             acid(func(s *Sim) float64 { return s.density() - s.acidApart() }),
	"absorb_reached":     func(s *Sim, _ string) Answer { return Pick(s.absorbReached()) },
	"heat_where":         func(s *Sim, _ string) Answer { return Pick(s.heatWhere()) },
	"controller_profile": lit(func(s *Sim) Answer { return Pick(s.profile()) }),
	"still_wrong": func(s *Sim, _ string) Answer {
		if what := s.stillWrong(); what != "" {
			return Pick(what)
		}
		return Pick("flat-by-morning") // so they feel, whatever a meter says
	},
}

func cellShown(v float64) Answer { return Shown(max(0, v), 0.001) }

// How far apart sound cells of lithium are, in volts, and where cells stand near
// the top of a charge (practice; IEC 62619 for the limit).
const (
	cellsAlike    = 0.006
	cellsAlikeTop = 0.03
	cellTopV      = 3.65
	cellMostV     = 3.75
)

// lithiumCells is how many cells stand one after the other in a lithium bank.
func (s *Sim) lithiumCells() float64 { return 4 * s.twelves() }

// cellNow is the volts of most cells as things are.
func (s *Sim) cellNow() float64 {
	volts := s.restVolts()
	if st := s.at(s.AsFound()); st.err == nil && !s.gone(st) {
		volts = orNought(st.sol.Across(rig.PostPos, nodeName(rig.PostNeg)))
	}
	return volts / s.lithiumCells()
}

func (s *Sim) cellsApart() float64 { return max(cellsAlike, s.plant.Battery.Cells.Apart) }

// cellsOnCharge is the highest and the lowest cell near the top of a charge: where
// one is far above, it stops the charge before the rest are there.
func (s *Sim) cellsOnCharge() (hi, lo float64) {
	apart := max(cellsAlikeTop, s.plant.Battery.Cells.TopApart)
	mean := s.setVolts(s.top()) / s.lithiumCells()
	hi = min(mean+0.75*apart, cellMostV)
	if apart > 2*cellsAlikeTop {
		hi = max(hi, cellTopV)
	}
	return hi, hi - apart
}

// acid lets only a battery with caps answer.
func acid(f func(*Sim) float64) func(*Sim, string) Answer {
	return func(s *Sim, _ string) Answer {
		if s.sys.Battery.Chemistry != "flooded" {
			return Refuse("its acid can't be reached")
		}
		v := round(f(s), 0.005)
		return Answer{Known: true, Value: v, True: v, Digit: 0.005}
	}
}

// Density of the acid: a cell rests at so much more volts than its density, and
// what sulphate takes of it (battery textbook). sgApart is what sound cells are
// apart, and a dead one.
const (
	cellOverAcid = 0.845
	acidInPlates = 0.20
	sgApart      = 0.010
	sgDead       = 0.090
	sgLeast      = 1.05
)

// density is that of the best cell.
func (s *Sim) density() float64 {
	return max(sgLeast, s.restVolts()/(leadCells*s.twelves())-cellOverAcid-acidInPlates*s.plant.Battery.Sulphate)
}

// acidApart is the best cell less the worst.
func (s *Sim) acidApart() float64 {
	apart := sgApart
	if s.plant.deadCells() > 0 {
		apart = sgDead
	}
	return min(apart, s.density()-1)
}

// quickFrom is the part of the acid in the plates from which a bank is at its top
// volts within minutes.
const quickFrom = 0.15

func (s *Sim) absorbReached() string {
	switch b := s.plant.Battery; {
	case s.plant.deadCells() > 0:
		return "never-and-one-warm"
	case b.Sulphate >= quickFrom:
		return "quickly-with-few-amps"
	}
	return "normally"
}

// heatWhere is where the warmth of the bank is felt: at a post that is warmer than
// its battery, at one battery, or all over.
func (s *Sim) heatWhere() string {
	b := s.plant.Battery
	for _, id := range []string{"post-pos", "post-neg"} {
		p := s.plant.Parts[id]
		if p == nil {
			continue
		}
		if c, ok := s.hotAt(p, s.Loaded(id)); ok && s.notable(p) && c > b.CellC+b.WarmK {
			return "post"
		}
	}
	if s.plant.deadCells() > 0 || slices.ContainsFunc(b.Blocks, func(x Block) bool { return x.Warm }) {
		return "one-battery"
	}
	return "all"
}

// profile is the battery type that is set in the controller.
func (s *Sim) profile() string {
	switch kind := s.sys.Battery.Chemistry; {
	case s.plant.Controller.Profile != "":
		return s.plant.Controller.Profile
	case kind == "other-lithium":
		return "own-values"
	default:
		return kind
	}
}

// usedWh is the watt-hours of a day. Nobody runs a rig for long on more than its
// bank may give and its array brings.
func (s *Sim) usedWh() float64 {
	if wh := s.plant.Battery.UseWh; wh > 0 {
		return wh
	}
	watts := s.sys.Inverter.Watts * inverterDuty
	for _, l := range s.sys.Loads {
		if !l.AC {
			watts += l.Watts * loadDuty
		}
	}
	// What goes through the bank has to be brought with its loss.
	kept, _ := trueFactors(chem(s.sys))
	return min(24*watts, comfort*usableWh(s.sys)/nightShare, comfort*kept*s.harvestWh())
}

// Shares of what is used between dusk and dawn, of a bank that may be used every
// day, and of that which people are content with (practice).
const (
	emptyPct   = 15 // per cent of charge with which nobody runs anything
	nightShare = 0.6
	comfort    = 0.8
)

// usableWh is what a bank may give every day.
func usableWh(sys *rig.System) float64 {
	share := 0.5
	if lithium(sys) {
		share = 0.8
	}
	return share * sys.Battery.Ah * sys.Volts
}

// emptyByDawn says whether the bank does not carry a night.
func (s *Sim) emptyByDawn() bool {
	part := s.plant.holds() / s.sys.Battery.Ah
	return nightShare*s.usedWh() > usableWh(s.sys)*min(1, part/0.8)
}

// stillWrong is what a person would say of a rig that does not do what it should,
// "" for nothing.
func (s *Sim) stillWrong() string {
	b := s.plant.Battery
	switch {
	case b.Off || b.Dies || s.cutWhen() != "":
		return "cuts-off"
	case s.chargesNothing():
		return "never-charges"
	case s.failsUnderLoad(), b.Charge < emptyPct:
		return "dies-under-load"
	case s.emptyByDawn():
		return "flat-by-morning"
	}
	return ""
}

// failsUnderLoad says whether the volts give way when all runs: the inverter stops,
// or they fall so far that lights dim.
func (s *Sim) failsUnderLoad() bool {
	st := s.at(s.evening())
	if st.err != nil {
		return true
	}
	sound := s.plant.Inverter.Switch && !s.plant.Inverter.Shorted && s.sys.Inverter.Watts > 0
	return sound && !st.invOn && !s.gone(st) ||
		math.Abs(orNought(st.sol.Across(rig.PostPos, nodeName(rig.PostNeg)))) < dimPerV*s.twelves()
}

// evening is the dark with all on that may run together.
func (s *Sim) evening() Situation { return Situation{Loads: LoadsFull} }

const dimPerV = 11.0 // V per 12 V at the posts at which lights dim
