package ticket

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hotlug/engine/electric"
	"hotlug/engine/quantity"
	"hotlug/engine/reading"
	"hotlug/engine/walk"
)

// charts are the pictures that a walk's readings make. A walk without the readings
// for one has none of it.
func (m maker) charts() []Chart {
	var out []Chart
	for _, make := range []func() (Chart, bool){m.dropChart, m.heatChart, m.prechargeChart, m.restChart} {
		if c, ok := make(); ok {
			out = append(out, c)
		}
	}
	return out
}

// ChartReadings lists the readings and worked values of the knowledge that charts
// go by, for a test that they are there.
func ChartReadings() []string {
	return []string{"joint_drop_v", "main_lead_a", "full_load_a", "ambient_c", "precharge_v", "precharge_r", "inv_farad_most", "battery_now_v",
		"top_charge_v", "battery_rest_v", "system_v", "battery_chemistry", "holder_drop_v", "clip_limit_v", "fuse_drop_all_v", "test_clip_limit_v"}
}

// lasting lists the newest take of each reading and place that is known, in order.
func (m maker) lasting() []walk.Take {
	takes := m.s.Takes()
	var out []walk.Take
	for i, k := range takes {
		later := slices.ContainsFunc(takes[i+1:], func(o walk.Take) bool { return o.Known && o.Reading == k.Reading && o.Place == k.Place })
		if k.Known && !later {
			out = append(out, k)
		}
	}
	return out
}

func (m maker) last(id string) (float64, bool) {
	for _, k := range m.lasting() {
		if k.Reading == id {
			return k.Value, true
		}
	}
	return 0, false
}

// dropLimits names the worked value of the knowledge that is the most a sound part
// may lose.
var dropLimits = map[string]string{"holder_drop_v": "clip_limit_v", "fuse_drop_all_v": "test_clip_limit_v"}

// jointFullV is what a sound joint may lose at its largest current; less in
// proportion at less.
const jointFullV = 0.015

// isDrop says whether a reading is volts lost along a part that carries current.
func isDrop(r *reading.Reading) bool {
	return r != nil && r.Answer == reading.Number && r.Kind.Unit.String() == "V" &&
		(strings.HasSuffix(r.ID, "_drop_v") || strings.HasSuffix(r.ID, "_drop_all_v") || strings.HasSuffix(r.ID, "_leg_v"))
}

// dropChart shows where the volts go: each part with what it loses against what it
// may.
func (m maker) dropChart() (Chart, bool) {
	c := Chart{ID: "chart-drops", Title: "Where the volts go", Unit: "V"}
	over, limits := 0, 0
	for _, k := range m.lasting() {
		r := m.g.Readings[k.Reading]
		if !isDrop(r) {
			continue
		}
		b := Bar{Name: orElse(m.placeName(k.Place), r.Name), Value: math.Abs(k.Value), Shown: m.s.Shown(m.g, k)}
		if lim, ok := m.dropLimit(k); ok {
			limits++
			b.Limit, b.LimitIs = &lim, "limit "+m.volts(lim)
			b.Verdict = "within its limit"
			if b.Value > lim {
				over++
				b.Over, b.Verdict = true, "over its limit"
			}
		}
		c.Bars = append(c.Bars, b)
	}
	if len(c.Bars) < 2 && limits == 0 {
		return c, false
	}
	c.Say = fmt.Sprintf("Volts lost in each part, as last read. The upright mark is the most that a sound part may lose at that current: %d of %d have one; %d over it (triangle).", limits, len(c.Bars), over)
	return c, true
}

// dropLimit is the most that a part may lose at the current that flowed.
func (m maker) dropLimit(k walk.Take) (float64, bool) {
	if id := dropLimits[k.Reading]; id != "" {
		v, ok := m.s.Worked(m.g, id, k.Place)
		return v.Mid, ok && v.Mid > 0
	}
	amps, flows := m.last("main_lead_a")
	full, ok := m.s.Stands("full_load_a", k.Place)
	if k.Reading != "joint_drop_v" || !flows || !ok || !full.Known || full.Value <= 0 || amps <= 0 {
		return 0, false
	}
	return jointFullV * amps / full.Value, true
}

func (m maker) volts(v float64) string {
	return quantity.Show(v, quantity.MustUnit("V"), quantity.Style{})
}

// hotter is how many kelvins above its like a joint is found out by.
const hotter = 15

// heatChart compares the joints: each with its like ones, and all with the air.
func (m maker) heatChart() (Chart, bool) {
	c := Chart{ID: "chart-heat", Title: "Temperature over the joints", Unit: "°C"}
	var takes []walk.Take
	like := map[string]string{}
	for _, p := range m.s.Places() {
		like[p.ID] = p.Class + " " + p.Like
	}
	for _, k := range m.lasting() {
		if r := m.g.Readings[k.Reading]; k.Place != "" && r != nil && r.Over != "" && r.Answer == reading.Number && r.Kind.ID == "celsius" {
			takes = append(takes, k)
		}
	}
	if len(takes) < 2 {
		return c, false
	}
	hot := 0
	for _, k := range takes {
		sum, n := 0.0, 0
		for _, o := range takes {
			if o.Place != k.Place && like[o.Place] == like[k.Place] {
				sum, n = sum+o.Value, n+1
			}
		}
		b := Bar{Name: m.placeName(k.Place), Value: k.Value, Shown: m.s.Shown(m.g, k)}
		if n > 0 {
			mean := sum / float64(n)
			b.Limit, b.LimitIs, b.Verdict = &mean, fmt.Sprintf("its like, %.0f °C", mean), "as its like"
			if k.Value-mean > hotter {
				hot++
				b.Over, b.Verdict = true, fmt.Sprintf("%.0f K above its like", k.Value-mean)
			}
		}
		c.Bars = append(c.Bars, b)
	}
	c.Say = fmt.Sprintf("Each joint as last read; the upright mark is the mean of its like ones. %d of %d are more than %d K above it (triangle).", hot, len(takes), hotter)
	if air, ok := m.last("ambient_c"); ok {
		c.Base, c.BaseIs = &air, fmt.Sprintf("air, %.0f °C", air)
		c.Say += fmt.Sprintf(" The air is at %.0f °C.", air)
	}
	return c, true
}

// prechargeChart is how the inverter's volts rise through the chosen resistor.
func (m maker) prechargeChart() (Chart, bool) {
	c := Chart{ID: "chart-precharge", Title: "Pre-charge through the chosen resistor", Unit: "V", XName: "time", XUnit: "s", YName: "volts at the inverter"}
	_, asked := m.last("precharge_v")
	told := slices.ContainsFunc(m.s.Told(), func(t walk.Told) bool { return slices.Contains(t.Finding.Working, "precharge_r") })
	r, ok1 := m.s.Worked(m.g, "precharge_r", "")
	f, ok2 := m.s.Worked(m.g, "inv_farad_most", "")
	v, ok3 := m.last("battery_now_v")
	if !ok3 {
		var top, ok = m.s.Worked(m.g, "top_charge_v", "")
		v, ok3 = top.Mid, ok
	}
	if !(asked || told) || !(ok1 && ok2 && ok3) || !(r.Mid > 0 && f.Hi > 0 && v > 0) {
		return c, false
	}
	tau := r.Mid * f.Mid
	end := max(5*tau, 1)
	const steps = 48
	rises, wanted := ChartLine{Name: "volts at the inverter"}, ChartLine{Name: "95 % of the battery"}
	for i := range steps + 1 {
		t := end * float64(i) / steps
		rises.Points = append(rises.Points, ChartPoint{t, v * (1 - math.Exp(-t/tau))})
		wanted.Points = append(wanted.Points, ChartPoint{t, 0.95 * v})
	}
	c.Lines = []ChartLine{rises, wanted}
	at := 3 * tau
	c.Points = []ChartMark{{Name: fmt.Sprintf("95 %% after %.2g s", at), X: at, XTo: at, Y: 0.95 * v, YTo: 0.95 * v}}
	c.Say = fmt.Sprintf("Through %s the inverter's capacitors, %.3g mF at most, come to 95 %% of %s in %.2g s. What stays far below after ten seconds has a load on, or no pre-charge.",
		quantity.Show(r.Mid, quantity.MustUnit("ohm"), quantity.Style{}), 1000*f.Mid, m.volts(v), at)
	return c, true
}

// chemistries are the answers of the knowledge in the order of the computations.
var chemistries = []electric.Chemistry{electric.LFP, electric.Flooded, electric.AGM, electric.Gel}

// restChart is what rest volts say of the charge, with the reading in it: why volts
// can't tell a lithium battery's charge.
func (m maker) restChart() (Chart, bool) {
	c := Chart{ID: "chart-rest", Title: "What rest volts say of the charge", Unit: "%", XName: "volts at rest", XUnit: "V", YName: "charge"}
	v, ok := m.last("battery_rest_v")
	system, known := m.last("system_v")
	chem, told := m.s.Stands("battery_chemistry", "")
	if !ok || !known || !told || !chem.Known || chem.Choice >= len(chemistries) {
		return c, false
	}
	low, err := electric.ChargeLowPct(0.993*v, system, chemistries[chem.Choice])
	high, err2 := electric.ChargeHighPct(1.007*v, system, chemistries[chem.Choice])
	if err != nil || err2 != nil {
		return c, false // the volts are no rest volts
	}
	least, most := ChartLine{Name: "least charge"}, ChartLine{Name: "most charge"}
	const steps = 60
	from, to := 11.4, 13.4
	if chemistries[chem.Choice] == electric.LFP {
		from, to = 11.8, 13.8
	}
	for i := range steps + 1 {
		x := (from + (to-from)*float64(i)/steps) * system / 12
		a, err := electric.ChargeLowPct(x, system, chemistries[chem.Choice])
		b, err2 := electric.ChargeHighPct(x, system, chemistries[chem.Choice])
		if err == nil && err2 == nil {
			least.Points, most.Points = append(least.Points, ChartPoint{x, a}), append(most.Points, ChartPoint{x, b})
		}
	}
	if len(least.Points) < 2 {
		return c, false
	}
	c.Lines = []ChartLine{most, least}
	c.Points = []ChartMark{{Name: fmt.Sprintf("%s: %.0f to %.0f %%", m.volts(v), low, high), X: 0.993 * v, XTo: 1.007 * v, Y: low, YTo: high}}
	c.Say = fmt.Sprintf("Between the two lines lies every charge that a battery resting at these volts can have. %s allow from %.0f to %.0f %%.", m.volts(v), low, high)
	if chemistries[chem.Choice] == electric.LFP {
		c.Say += " A lithium battery rests at nearly the same volts from half to nearly full, so volts can't tell its charge."
	}
	return c, true
}
