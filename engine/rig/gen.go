package rig

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"hotlug/engine/electric"
)

// Ranges are what random rigs are drawn from. Two sets are kept apart: the
// knowledge is improved on rigs of [Tuning], and its figures are quoted on rigs of
// [Release], which nobody has tuned anything to.
type Ranges struct {
	Name     string
	Volts    []float64 // each as likely as it stands in the list
	Capacity [2]float64
	Modules  []Array // by their labels; Series and Parallel are drawn
	Air      [2]float64
	Coldest  [2]float64
	Charge   [2]float64 // per cent
	Stretch  [2]float64 // of the usual lengths of wires
	Drift    float64    // how far labels and settings lie off the usual, as a part
	Inverter [2]float64 // watts for each volt of the bank
	Loads    []Load     // for 12 V, watts as they are
}

// Tuning are everyday rigs: sizes that shops sell, usual lengths, mild weather.
var Tuning = Ranges{
	Name: "tuning", Volts: []float64{12, 12, 12, 12, 24, 24, 24, 48}, Capacity: [2]float64{100, 600},
	Modules: []Array{
		{Voc: 22.5, Isc: 5.75, Vmp: 18.6, Imp: 5.38, Cells: 36},
		{Voc: 23, Isc: 11.05, Vmp: 19.3, Imp: 10.37, Cells: 36},
		{Voc: 38.3, Isc: 9.25, Vmp: 31.3, Imp: 8.63, Cells: 60},
	},
	Air: [2]float64{10, 32}, Coldest: [2]float64{-15, 0}, Charge: [2]float64{45, 80}, Stretch: [2]float64{0.7, 1.4}, Drift: 0.02,
	Inverter: [2]float64{25, 80},
	Loads: []Load{
		{ID: "fridge", Name: "the fridge", Watts: 55, Plug: "socket"},
		{ID: "lights", Name: "the lights", Watts: 30, Switch: true},
		{ID: "pump", Name: "the water pump", Watts: 60, Switch: true},
		{ID: "fan", Name: "the roof fan", Watts: 40, Switch: true},
		{ID: "chargers", Name: "the chargers of the instruments", Watts: 45, Plug: "socket"},
		{ID: "heater", Name: "the air heater", Watts: 36},
	},
}

// Release are rigs at the edges: small and large banks, other modules and odd
// sizes, long wires, frost and heat, other loads.
var Release = Ranges{
	Name: "release", Volts: []float64{12, 12, 12, 12, 24, 24, 24, 48}, Capacity: [2]float64{50, 800},
	Modules: []Array{
		{Voc: 21.6, Isc: 3.4, Vmp: 17.6, Imp: 3.15, Cells: 36},
		{Voc: 24.1, Isc: 9.6, Vmp: 20.2, Imp: 9.05, Cells: 36},
		{Voc: 37.1, Isc: 13.75, Vmp: 31.1, Imp: 12.87, Cells: 54},
		{Voc: 46.2, Isc: 9.3, Vmp: 37.8, Imp: 8.74, Cells: 72},
	},
	Air: [2]float64{4, 38}, Coldest: [2]float64{-25, 5}, Charge: [2]float64{35, 85}, Stretch: [2]float64{0.5, 1.8}, Drift: 0.04,
	Inverter: [2]float64{18, 95},
	Loads: []Load{
		{ID: "freezer", Name: "the sample freezer", Watts: 75, Plug: "heavy"},
		{ID: "lamps", Name: "the ceiling lamps", Watts: 22, Switch: true},
		{ID: "bilge-pump", Name: "the drain pump", Watts: 84, Switch: true},
		{ID: "blower", Name: "the blower", Watts: 28, Switch: true},
		{ID: "sockets", Name: "the sockets at the bench", Watts: 66, Plug: "socket"},
		{ID: "logger", Name: "the data logger", Watts: 9, Plug: "small"},
		{ID: "radio", Name: "the radio", Watts: 48},
	},
}

// Random is a sensible rig: the bank carries what runs, the array fits the bank
// and stays inside the controller's limits on the coldest morning, settings fit
// the chemistry, wires carry and fuses guard. The same chance gives the same rig.
func Random(chance *rand.Rand, r Ranges) *System {
	d := draw{chance, r}
	// A few draws end in a corner where no array fits; then another is drawn.
	for {
		if s, ok := d.system(); ok {
			return s
		}
	}
}

type draw struct {
	*rand.Rand
	r Ranges
}

func (d draw) in(x [2]float64) float64 { return x[0] + (x[1]-x[0])*d.Float64() }

// log draws evenly over the logarithm.
func (d draw) log(x [2]float64) float64 {
	return x[0] * math.Pow(x[1]/x[0], d.Float64())
}

func (d draw) one(of ...string) string { return of[d.IntN(len(of))] }

func (d draw) chanceOf(p float64) bool { return d.Float64() < p }

// near is about v.
func (d draw) near(v float64) float64 { return tidy3(v * (1 + d.r.Drift*(2*d.Float64()-1))) }

func (d draw) system() (*System, bool) {
	s := &System{Volts: d.r.Volts[d.IntN(len(d.r.Volts))], Kind: d.one(rigKinds...)}
	s.AmbientC = math.Round(d.in(d.r.Air))
	s.ColdestC = math.Round(min(d.in(d.r.Coldest), s.AmbientC-4))
	s.Name = d.r.Name + "-" + strconv.Itoa(1000+d.IntN(9000))
	s.About = "A " + figure(s.Volts) + " V " + s.Kind + " drawn by chance."
	d.battery(s)
	d.loads(s)
	if !d.array(s) {
		return nil, false
	}
	d.settings(s)
	d.monitor(s)
	d.lengths(s)
	Plan(s)
	return s, true
}

func (d draw) battery(s *System) {
	b := &s.Battery
	b.Chemistry = d.one("lfp", "lfp", "lfp", "agm", "flooded", "gel")
	if s.Volts == 48 {
		b.Chemistry = d.one("lfp", "lfp", "lfp", "agm")
	}
	b.Parallel = 1
	if d.chanceOf(0.3) {
		b.Parallel = 2
	}
	// Watt-hours rather than amp-hours make a rig large: banks of more volts
	// have fewer of these.
	each := d.log(d.r.Capacity) / math.Sqrt(s.twelves()) / float64(b.Parallel)
	b.Ah = float64(b.Parallel) * max(50/float64(b.Parallel), 10*math.Round(each/10))
	b.Charge = math.Round(d.in(d.r.Charge))
	b.CellC = s.AmbientC
	if b.Lithium() {
		b.App = d.chanceOf(0.8)
		b.TripS = []float64{1, 3, 5, 10}[d.IntN(4)]
	}
}

// loads draws the inverter and two to five consumers, as much as the bank bears.
func (d draw) loads(s *System) {
	most := s.bankAmps()
	if d.chanceOf(0.7) {
		w := d.log(d.r.Inverter) * s.Volts
		w = min(w, 0.75*most*s.Volts*0.9)
		if w = 100 * math.Floor(w/100); w >= 200 {
			s.Inverter.Watts = w
			s.Inverter.Eta = d.near(0.9)
			s.Inverter.Fused = d.chanceOf(0.3)
		}
	}
	list := slices.Clone(d.r.Loads)
	d.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	for _, l := range list[:2+d.IntN(4)] {
		l.Watts = d.near(l.Watts * math.Sqrt(s.twelves()))
		if l.Watts/s.Volts+s.loadAmps() > 0.95*most && len(s.Loads) >= 2 {
			continue
		}
		s.Loads = append(s.Loads, l)
	}
	if s.Inverter.Watts > 0 && d.chanceOf(0.6) {
		s.Loads = append(s.Loads, Load{ID: "bench", Name: "the tools at the bench", Watts: tidy(s.Inverter.Watts * (0.2 + 0.4*d.Float64())), AC: true})
	}
	if s.Battery.Lithium() {
		s.Battery.TripA = tidy(max(s.Battery.Ah, 1.35*s.loadAmps()) * (1 + 0.3*d.Float64()))
	}
}

// bankAmps is what may run together from a bank: lithium its hourly amps, lead
// about a third, gel a quarter (practice).
func (s *System) bankAmps() float64 {
	part := map[string]float64{"lfp": 0.9, "agm": 0.4, "flooded": 0.3, "gel": 0.3}[s.Battery.Chemistry]
	return max(part*s.Battery.Ah, 20)
}

// array draws modules and a controller that go together. Most arrays stay under
// 60 V on the coldest morning, as hand-held probes do.
func (d draw) array(s *System) bool {
	m := d.r.Modules[d.IntN(len(d.r.Modules))]
	m.Voc, m.Isc, m.Vmp, m.Imp = d.near(m.Voc), d.near(m.Isc), d.near(m.Vmp), d.near(m.Imp)
	m.Imp = min(m.Imp, tidy3(0.97*m.Isc))
	if !fits(m) {
		return false // no module has these figures together
	}
	m.Bypass = 3
	if m.Cells == 36 && d.chanceOf(0.5) {
		m.Bypass = 2
	}
	m.Breaker = d.chanceOf(0.3)
	m.Series, m.Parallel = 1, 1
	s.Array = m
	c := &s.Controller
	c.Type = "mppt"
	// A pulse-width controller wants modules made for the bank's volts.
	if m.Cells == 36 && s.Volts <= 24 && d.chanceOf(0.4) {
		c.Type = "pwm"
		s.Array.Series = int(s.twelves())
	} else {
		s.Array.Series = s.seriesLeast() + map[bool]int{true: 1, false: 0}[d.chanceOf(0.25)]
	}
	if v := s.ColdVolts(); v > 60 && s.Volts < 48 && d.chanceOf(0.93) || v > 240 {
		return false
	}
	// Charge amps of a tenth to a third of the bank's amp-hours.
	want := s.Battery.Ah * (0.08 + 0.2*d.Float64())
	s.Array.Parallel = max(1, int(math.Round(want/s.harvestAmps())))
	if s.Array.Parallel > 6 || s.harvestAmps() > 0.5*s.Battery.Ah || s.harvestAmps() > 95 {
		return false
	}
	c.Eta = d.near(map[string]float64{"pwm": 0.96, "mppt": 0.95}[c.Type])
	// Lead wants its charge volts by its warmth; lithium mostly guards itself.
	c.Sensor = d.chanceOf(map[bool]float64{true: 0.4, false: 0.6}[s.Battery.Lithium()])
	c.AutoV = s.Volts < 48 && d.chanceOf(0.3)
	c.OwnW = tidy(0.3 + 2*d.Float64())
	return true
}

// fits says whether a module can have the figures of a label, with the usual change
// of crystalline cells with temperature in % per K.
func fits(m Array) bool {
	_, err := electric.FitPV("array", electric.PVLabel{Open: m.Voc, Short: m.Isc, Volts: m.Vmp, Amps: m.Imp, Alpha: 0.05, Beta: -0.30})
	return err == nil
}

// seriesLeast is the fewest modules in a row that charge a full bank when hot.
func (s *System) seriesLeast() int {
	const hot = 1 - 0.0045*40 // best-point volts of cells at 65 °C
	top := 14.6 * s.twelves()
	return int(math.Ceil(max((top+5)/(s.Array.Voc*hot), (top+1)/(s.Array.Vmp*hot)) - 1e-9))
}

// settings draws charge volts that makers of such batteries ask for.
func (d draw) settings(s *System) {
	chem := s.Battery.chemistry()
	lo, err1 := electric.AbsorbLow(chem, s.Volts, 25)
	hi, err2 := electric.AbsorbHigh(chem, s.Volts, 25)
	mid, err3 := electric.AbsorbTarget(chem, s.Volts, 25)
	if err1 == nil && err2 == nil && err3 == nil {
		v := mid + d.r.Drift*10*(d.Float64()-0.5)*min(mid-lo, hi-mid)
		s.Controller.AbsorbV = math.Round(10*v) / 10
	}
	if d.chanceOf(0.15) {
		// A limit that the battery's maker asks for, far above what the sun gives.
		s.Controller.LimitA = math.Ceil(1.1 * s.harvestAmps())
	}
}

func (d draw) monitor(s *System) {
	if !d.chanceOf(0.8) {
		return
	}
	amps := max(s.loadAmps(), s.harvestAmps())
	for _, x := range []struct {
		label string
		amps  float64
	}{{"50A-75mV", 50}, {"100A-75mV", 100}, {"200A-75mV", 200}, {"300A-75mV", 300}, {"500A-50mV", 500}} {
		if x.amps >= 1.25*amps {
			s.Monitor.Shunt = x.label
			break
		}
	}
	if d.chanceOf(0.4) && amps < 400 {
		s.Monitor.Shunt = "500A-50mV"
	}
}

// lengths draws how long the wires are.
func (d draw) lengths(s *System) {
	wish := func(id string, usual float64) {
		s.Parts = append(s.Parts, Part{ID: id, Metres: max(0.1, math.Round(10*usual*d.in(d.r.Stretch))/10)})
	}
	long := (&planner{s: s}).span()
	wish("bat-neg", long.main)
	wish("ctl-pos", long.controller)
	wish("pv-pos", long.pv)
	if s.Inverter.Watts > 0 {
		wish("inv-pos", long.inverter)
	}
	for _, l := range s.Loads {
		if !l.AC {
			wish(l.ID, long.load)
		}
	}
}
