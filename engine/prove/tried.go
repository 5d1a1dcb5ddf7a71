package prove

import (
	"fmt"
	"slices"
)

// tally counts the walks of a trial by row, in the order in which rows came up.
func (r *TrialReport) tally(all []result) {
	by := map[string][]result{}
	var order []string
	causes, unsafe := counter{}, counter{}
	for _, x := range all {
		if by[x.row] == nil {
			order = append(order, x.row)
		}
		by[x.row] = append(by[x.row], x)
		if x.cause != "" {
			causes.add(x.cause, x.name)
		}
		for _, u := range x.unsafe {
			unsafe.add(u, x.name)
		}
	}
	for _, name := range order {
		list := by[name]
		t := Tried{Name: name, Walks: len(list)}
		part := func(is func(result) bool) Part {
			n := 0
			for _, x := range list {
				if is(x) {
					n++
				}
			}
			return wilson(n, len(list))
		}
		t.Right = part(func(x result) bool { return x.right })
		t.Top3 = part(func(x result) bool { return x.top3 })
		t.Wrong = part(func(x result) bool { return x.wrong })
		t.First = part(func(x result) bool { return x.first })
		t.Changed = part(func(x result) bool { return x.changed })
		for _, x := range list {
			t.Odd += float64(x.odd) / float64(len(list))
			t.Questions += float64(x.asked) / float64(len(list))
			for is, n := range map[*int]bool{&t.Within: x.within, &t.DeadEnds: x.dead, &t.Erred: x.erred} {
				if n {
					*is++
				}
			}
		}
		r.Rows = append(r.Rows, t)
	}
	r.Causes, r.Unsafe = causes.list(), unsafe.list()
}

// Bars of the trials.
const (
	mostChanged  = 0.01 // of walks with a good meter, another end
	mostDropped  = 0.03 // right or among three, below where all is known, at 20 % not known
	leastNarrow  = 0.95 // right or among three when a reading is not to be had
	leastOfTwo   = 0.90 // one of two faults right
	mostOfTwo    = 0.02 // a wrong one firmly
	mostBelieved = 0.05 // a wrong cause firmly, for a wrong belief
)

var slipBars = map[string][2]float64{"2 % of numbers": {0.01, 0.95}, "5 % of numbers": {0.02, 0.90}}

// aim sets the targets of the trial beside what was reached.
func (r *TrialReport) aim() {
	add := func(name string, got, want float64, most bool, unit, note string) {
		met := got >= want
		if most {
			met = got <= want
		}
		r.Targets = append(r.Targets, Target{name, want, got, most, unit, met, note})
	}
	base := r.Rows[0]
	for _, row := range r.Rows {
		switch r.Trial {
		case Meters:
			if row.Name == "a good meter, moved" {
				add("another end, "+row.Name, row.Changed.Share, mostChanged, true, "%", "")
			}
			if row.Name != base.Name {
				add("firm within the error, "+row.Name, float64(row.Within), 0, true, "", "")
			}
		case Slips:
			if bar, ok := slipBars[row.Name]; ok {
				add("wrong cause firmly, "+row.Name, row.Wrong.Share, bar[0], true, "%", fmt.Sprintf("told first, before its proof: %.1f %%", 100*row.First.Share))
				add("right, "+row.Name, row.Right.Share, bar[1], false, "%", "")
			}
		case Unanswerable:
			if row.Name != base.Name {
				add("right, or among the first three", row.Top3.Share, leastNarrow, false, "%", "")
				add("dead ends", float64(row.DeadEnds), 0, true, "", "")
			}
		case Unknowns:
			if row.Name == "20 % not known" {
				add("points lost at 20 % not known", base.Top3.Share-row.Top3.Share, mostDropped, true, "%", "right, or among the first three")
			}
		case Two:
			add("one of two right", row.Right.Share, leastOfTwo, false, "%", "")
			add("a wrong cause firmly", row.Wrong.Share, mostOfTwo, true, "%", "")
		case Beliefs:
			if row.Name != base.Name {
				add("wrong cause firmly, "+row.Name, row.Wrong.Share, mostBelieved, true, "%", "")
			}
		}
	}
	if n := len(r.Unsafe); n > 0 || slices.Contains([]Trial{Unanswerable, Unknowns, Slips, Beliefs}, r.Trial) {
		sum := 0
		for _, u := range r.Unsafe {
			sum += u.N
		}
		add("unsafe acts", float64(sum), 0, true, "", "")
	}
}
