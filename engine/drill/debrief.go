package drill

import (
	"fmt"
	"math"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// hintMinutes is what a hint costs.
const hintMinutes = 5

// hint says which reading the knowledge's own path would take next.
func (d *Drill) hint() []Block {
	if d.hints >= d.level.Hints {
		return []Block{say(noHints)}
	}
	p, err := PathOf(d.g, d.c, walk.Setup{Style: d.style})
	if err != nil {
		return []Block{say(noHints)}
	}
	d.hints++
	d.done(Act{Say: "A hint", Minutes: hintMinutes})
	for i, k := range p.Asked {
		if !d.has(k) {
			next := "I would look here next: "
			if d.g.Readings[k.Reading].Meter == "ear" {
				next = "I would ask the customer next: "
			}
			return []Block{say(next + lower(p.Steps[i]) + "."), hint(hintCosts)}
		}
	}
	if len(p.Found) > 0 {
		return []Block{say("You have all the readings that I would take. Compare them, and call the cause."), hint(hintCosts)}
	}
	return []Block{say("I know no better reading here. Call what fits best."), hint(hintCosts)}
}

// has says whether the trainee has taken a reading, anywhere if it has no place.
func (d *Drill) has(k walk.Key) bool {
	k = d.same(k)
	return slices.ContainsFunc(d.acts, func(a Act) bool {
		return a.Reading == k.Reading && (k.Place == "" || a.Place == "" || a.Place == k.Place)
	})
}

// Right says whether the calls name all that is hidden. A call whose finding the
// knowledge itself can't tell from the right one counts.
func (d *Drill) Right() bool {
	for _, s := range d.c.Sets {
		if !slices.ContainsFunc(d.calls, func(f *graph.Finding) bool { return d.names(f, s) }) {
			return false
		}
	}
	return !d.gaveUp && len(d.calls) > 0
}

// names says whether a call names a hidden fault, or one that looks just like it.
func (d *Drill) names(f *graph.Finding, s simrig.Set) bool {
	if covers(f, s.Fault) {
		return true
	}
	t := findingOf(d.g, s.Fault)
	return t != nil && slices.Contains(f.Alike, t.ID) && slices.Contains(t.Alike, f.ID)
}

// Score is how the drill went, for the trainee's file.
func (d *Drill) Score(date string, seed uint64) Score {
	s := Score{Date: date, Seed: seed, Level: d.level.N, Rig: d.c.Sys.Name, Symptom: d.c.Symptom, Right: d.Right(), GaveUp: d.gaveUp,
		Readings: d.Readings(), Minutes: d.Minutes(), InVain: d.vain, Hints: d.hints}
	for _, x := range d.c.Sets {
		s.Faults = append(s.Faults, x.Fault)
	}
	for _, f := range d.calls {
		s.Called = append(s.Called, f.ID)
	}
	for _, u := range d.unsafe {
		s.Unsafe = append(s.Unsafe, u.Rule.ID)
	}
	if p, err := PathOf(d.g, d.c, walk.Setup{Style: d.style}); err == nil && p.Right {
		s.Own = p.Minutes
	}
	return s
}

// end tells how it went.
func (d *Drill) end() []Block {
	d.ended = true
	out := []Block{d.verdict()}
	var lines []string
	for _, s := range d.c.Sets {
		lines = append(lines, hidden(d.c, s))
	}
	out = append(out, Block{Role: "detail", Lines: lines})
	out = append(out, d.lookAlike()...)
	out = append(out, gap(), Block{Role: "detail", Hang: "Your way", Lines: []string{d.spent()}})
	all := d.suspects()
	own, err := PathOf(d.g, d.c, walk.Setup{Style: d.style})
	if err == nil {
		out = append(out, d.ownWay(own)...)
		out = append(out, d.shortWay(own, all)...)
	}
	if told := d.toldNothing(d.worth(all), own); len(told) > 0 {
		out = append(out, gap(), Block{Role: "detail", Hang: "No news", Lines: told})
	}
	if m := d.ownMeter(); len(m) > 0 {
		out = append(out, gap(), Block{Role: "detail", Hang: "Meter", Lines: m})
	}
	if d.vain > 0 {
		out = append(out, gap(), Block{Role: "detail", Hang: "In vain", Lines: []string{
			fmt.Sprintf("%s that mended nothing. Prove the cause before a part is changed.", count(d.vain, "repair"))}})
	}
	if len(d.unsafe) > 0 {
		var u []string
		for _, s := range d.unsafe {
			u = append(u, upper(s.What)+". "+s.Rule.Safe)
		}
		out = append(out, gap(), Block{Role: "detail", Hang: "Unsafe", Lines: u})
	} else {
		out = append(out, gap(), Block{Role: "detail", Hang: "Safety", Lines: []string{"Nothing unsafe was done."}})
	}
	var learn []string
	for _, s := range d.c.Sets {
		if f := findingOf(d.g, s.Fault); f != nil && f.Lesson != "" {
			learn = append(learn, f.Lesson)
		}
	}
	if len(learn) > 0 {
		out = append(out, gap(), Block{Role: "detail", Hang: "Remember", Lines: learn})
	}
	return out
}

func (d *Drill) verdict() Block {
	switch {
	case d.gaveUp:
		return result("GIVEN UP.")
	case d.Right():
		return result("RIGHT.")
	}
	hits := 0
	for _, s := range d.c.Sets {
		if slices.ContainsFunc(d.calls, func(f *graph.Finding) bool { return d.names(f, s) }) {
			hits++
		}
	}
	if hits > 0 {
		return result("HALF RIGHT: there was another fault besides.")
	}
	return result("NOT IT.")
}

// ownMeter tells how the meter lied, and whether the trainee has noticed.
func (d *Drill) ownMeter() []string {
	l, ok := d.rig.(liar)
	if !ok || !d.level.Lies || d.lie == 0 {
		return nil
	}
	way := "much"
	if d.lie < 0 {
		way = "little"
	}
	text := fmt.Sprintf("Your meter showed %.0f per cent too %s on volts.", 100*math.Abs(d.lie), way)
	compared := slices.ContainsFunc(d.acts, func(a Act) bool { return a.Reading == "meter_difference_v" })
	switch {
	case l.Lie() == 0:
		return []string{text + " You took the other one."}
	case compared:
		return []string{text + " You had it beside another one. Then take that other one."}
	}
	return []string{text, "Ask for `how far apart two meters are` before volts decide, and then `take the other meter`."}
}

// lookAlike says where a call was counted though the finding is another.
func (d *Drill) lookAlike() []Block {
	for _, s := range d.c.Sets {
		for _, f := range d.calls {
			if d.names(f, s) && !covers(f, s.Fault) {
				return []Block{{Role: "detail", Lines: []string{"No reading tells it from what you called, so that counts."}}}
			}
		}
	}
	return nil
}

// told are the steps of a path, with where the customer rings again.
func (p Path) told() []string {
	var out []string
	for i, s := range p.Steps {
		if slices.Contains(p.again, i) {
			out = append(out, "That is mended, and the customer rings again:")
		}
		out = append(out, s)
	}
	return out
}

func (d *Drill) ownWay(p Path) []Block {
	if !p.Right {
		lines := []string{fmt.Sprintf("%s, %s, and I don't find it here by myself.", count(p.Readings, "reading"), minutes(p.Minutes))}
		if n := len(p.Found); n > 0 && !slices.ContainsFunc(d.c.Sets, func(s simrig.Set) bool { return covers(p.Found[n-1], s.Fault) }) {
			lines = append(lines, "I end at this: "+lower(p.Found[n-1].Cause))
		}
		return []Block{{Role: "detail", Hang: "My way", Lines: append(lines, p.told()...)}}
	}
	lines := append([]string{fmt.Sprintf("%s, %s.", count(p.Readings, "reading"), minutes(p.Minutes))}, p.told()...)
	return []Block{{Role: "detail", Hang: "My way", Lines: lines}}
}
