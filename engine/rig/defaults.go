package rig

import (
	"math"

	"hotlug/engine/electric"
)

// What is taken for a rig whose file says nothing of it, °C.
const (
	usualAmbient = 20
	usualColdest = -10
)

// fill gives everything that a rig file may leave out a sensible figure, so that
// three lines about a rig are enough to simulate it. What is given stands.
func (s *System) fill() {
	or(&s.Kind, "hut")
	or(&s.Volts, 12)
	s.fillBattery()
	s.fillArray()
	s.fillController()
	s.fillInverter()
	s.fillMonitor()
	for i := range s.Loads {
		or(&s.Loads[i].Name, "the "+s.Loads[i].ID)
		or(&s.Loads[i].Watts, 4*s.Volts)
	}
}

// or sets what is not given.
func or[T comparable](v *T, to T) {
	var none T
	if *v == none {
		*v = to
	}
}

// twelves is how many times the volts of a 12 V bank.
func (s *System) twelves() float64 { return s.Volts / 12 }

// Lithium says whether the bank is of lithium cells.
func (b Battery) Lithium() bool { return b.Chemistry == "lfp" || b.Chemistry == "other-lithium" }

// chemistry is the bank's kind for the trade's tables. Another kind of lithium
// has no general figures; a rig with one is filled as if it were the usual kind,
// and its own settings are given in its file.
func (b Battery) chemistry() electric.Chemistry {
	for i, word := range electric.Chemistries() {
		if word == b.Chemistry && word != "other-lithium" {
			return electric.Chemistry(i)
		}
	}
	return electric.LFP
}

func (s *System) fillBattery() {
	b := &s.Battery
	or(&b.Chemistry, "lfp")
	or(&b.Ah, 100)
	if b.Series == 0 {
		// Lithium is bought at the system's volts, lead in blocks of 12 V.
		b.Series = 1
		if !b.Lithium() {
			b.Series = max(1, int(math.Round(s.twelves())))
		}
	}
	or(&b.Parallel, 1)
	or(&b.Charge, 70)
	b.BMS = b.BMS || b.Lithium() || b.TripA > 0
	if b.BMS {
		if b.TripA == 0 {
			// Protections let through about the bank's hourly amps; who wants more
			// buys one that does.
			b.TripA = tidy(max(b.Ah, 1.3*s.loadAmps()))
		}
		or(&b.TripS, 5)
	}
}

func (s *System) fillArray() {
	a := &s.Array
	or(&a.Series, max(1, int(math.Round(s.twelves()))))
	or(&a.Parallel, 1)
	or(&a.Voc, 22.5)
	or(&a.Isc, 6.1)
	// The usual form of a label: best point at 0.83 of the open volts and 0.935 of
	// the short-circuit amps (practice).
	or(&a.Vmp, tidy3(0.83*a.Voc))
	or(&a.Imp, tidy3(0.935*a.Isc))
	if a.Cells == 0 {
		switch perCell := a.Voc / 0.63; {
		case perCell < 45:
			a.Cells = 36
		case perCell < 66:
			a.Cells = 60
		default:
			a.Cells = 72
		}
	}
	if a.Bypass == 0 {
		a.Bypass = 3
		if a.Cells == 36 {
			a.Bypass = 2
		}
	}
}

// Watts is the power of the array by its labels.
func (a Array) Watts() float64 {
	return a.Vmp * a.Imp * float64(a.Series*a.Parallel)
}

func (s *System) fillController() {
	c := &s.Controller
	or(&c.Type, "mppt")
	if c.RatedA == 0 {
		c.RatedA = next([]float64{10, 15, 20, 30, 40, 50, 60, 80, 100}, 1.1*s.harvestAmps())
	}
	if c.PVLimitV == 0 {
		c.PVLimitV = next([]float64{50, 75, 100, 150, 250, 450}, s.ColdVolts()/0.95)
	}
	chem := s.Battery.chemistry()
	if v, err := electric.AbsorbTarget(chem, s.Volts, 25); err == nil {
		or(&c.AbsorbV, tidy3(v))
	}
	if v, err := electric.FloatTarget(chem, s.Volts, 25); err == nil {
		or(&c.FloatV, tidy3(v))
	}
	or(&c.OwnW, 1)
	or(&c.StartV, 9*s.twelves())
	if c.Type == "pwm" {
		or(&c.Eta, 0.98)
		or(&c.MarginV, 0.5)
	}
	or(&c.Eta, 0.96)
	or(&c.MarginV, 5)
}

func (s *System) fillInverter() {
	i := &s.Inverter
	if i.Watts == 0 {
		*i = Inverter{}
		return
	}
	or(&i.IdleW, tidy(max(5, 0.012*i.Watts)))
	or(&i.Eta, 0.9)
	or(&i.LowV, 10.5*s.twelves())
	or(&i.HighV, 16*s.twelves())
	if f, err := electric.InputFarad(i.Watts, s.Volts); err == nil {
		or(&i.Farad, tidy(1e6*f)/1e6)
	}
}

func (s *System) fillMonitor() {
	m := &s.Monitor
	if m.Shunt == "" {
		*m = Monitor{}
		return
	}
	or(&m.Ah, s.Battery.Ah)
	if s.Battery.Lithium() {
		or(&m.FullV, tidy3(s.Controller.AbsorbV-0.2*s.twelves()))
		or(&m.TailPct, 4)
		or(&m.Efficiency, 99)
		or(&m.Peukert, 1.05)
		return
	}
	// In warm weather a lead bank is charged to less than the figure set.
	or(&m.FullV, tidy3(s.Controller.AbsorbV-0.4*s.twelves()))
	or(&m.TailPct, 2)
	or(&m.Efficiency, 90)
	or(&m.Peukert, 1.25)
}

// ColdVolts is the array's open volts on the coldest morning, with the
// temperature coefficient of older modules.
func (s *System) ColdVolts() float64 {
	return s.Array.Voc * float64(s.Array.Series) * (1 + coldBeta/100*(s.ColdestC-25))
}

// coldBeta is the change of open volts in per cent per kelvin that a string is
// sized with.
const coldBeta = -0.32

// harvestAmps is the most that the controller gives to the battery in full sun.
func (s *System) harvestAmps() float64 {
	if s.Controller.Type == "pwm" {
		return s.Array.Isc * float64(s.Array.Parallel)
	}
	return 0.96 * s.Array.Watts() / s.Volts
}

// ChargeAmps is the largest steady amps of the controller: what the array gives,
// its limit or its rating.
func (s *System) ChargeAmps() float64 {
	most := s.Controller.RatedA
	if l := s.Controller.LimitA; l > 0 {
		most = min(most, l)
	}
	return min(most, s.harvestAmps())
}

// InverterAmps is what the inverter draws at its rated watts from a bank at its
// nominal volts.
func (s *System) InverterAmps() float64 {
	if s.Inverter.Watts == 0 {
		return 0
	}
	return s.Inverter.Watts / (s.Inverter.Eta * s.Volts)
}

// Amps is what a load draws from the bank at its nominal volts; a load on AC
// through the inverter.
func (s *System) Amps(l Load) float64 {
	if l.AC {
		if s.Inverter.Watts == 0 {
			return 0
		}
		return l.Watts / (s.Inverter.Eta * s.Volts)
	}
	return l.Watts / s.Volts
}

// loadAmps is what all that runs together draws from the bank.
func (s *System) loadAmps() float64 {
	sum := 0.0
	if s.Inverter.Watts > 0 {
		eta := s.Inverter.Eta
		or(&eta, 0.9)
		sum = s.Inverter.Watts / (eta * s.Volts)
	}
	for _, l := range s.Loads {
		if !l.AC {
			sum += l.Watts / s.Volts
		}
	}
	return sum
}

// next is the first of the sizes that is not below v, or the last.
func next(sizes []float64, v float64) float64 {
	for _, x := range sizes {
		if x >= v {
			return x
		}
	}
	return sizes[len(sizes)-1]
}

// tidy rounds to two figures, as sizes are printed; tidy3 to three.
func tidy(v float64) float64  { return round(v, 2) }
func tidy3(v float64) float64 { return round(v, 3) }

func round(v float64, figures int) float64 {
	if v == 0 {
		return 0
	}
	digits := figures - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	if digits < 0 {
		k := math.Pow(10, float64(-digits))
		return math.Round(v/k) * k
	}
	k := math.Pow(10, float64(digits))
	return math.Round(v*k) / k
}
