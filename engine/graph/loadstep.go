package graph

import (
	"maps"
	"slices"
	"strings"

	"hotlug/engine/shape"
)

// target reads where a branch goes: a step of this sheet, sheet/step, or a
// finding.
func (l *loader) target(n *shape.Node, sheet string) (Target, bool) {
	if n.Kind() != shape.Scalar {
		return Target{}, false // told by its shape
	}
	t := n.Text()
	if t == carryOn {
		if sheet != "danger" {
			l.bad("unknown-target", n, carryOn+" leads back from the danger question, and is for the danger sheet only", "name a step or a finding")
			return Target{}, false
		}
		return Target{CarryOn: true}, true
	}
	step := t
	if !strings.Contains(t, "/") {
		step = sheet + "/" + t
	}
	isStep, isFinding := l.steps.byID[step] != nil, l.findings.byID[t] != nil
	switch {
	case isStep && isFinding:
		p := shape.NewProblem("two-targets", n, t+" is both a step of this sheet and a finding", "rename one, or write "+step+" for the step")
		k := l.findings.byID[t].key
		p.Notes = append(p.Notes, shape.Note{At: k.Place(), Text: "the finding is defined here", Source: k.Source()})
		l.problem(p)
		return Target{}, false
	case isStep:
		return Target{Step: step}, true
	case isFinding:
		return Target{Finding: t}, true
	}
	p := shape.NewProblem("unknown-target", n, t+" is no step and no finding", "name a step of this sheet, sheet/step for one of another, or a finding")
	if e, as := l.meant(t, sheet); e != nil {
		p.Hint = "did you mean " + as + "?"
		p.Notes = append(p.Notes, shape.Note{At: e.key.Place(), Text: as + " is defined here", Source: e.key.Source()})
	}
	l.problem(p)
	return Target{}, false
}

// meant is the entry that a target which is none was likely meant for, and how
// it is written in this sheet.
func (l *loader) meant(target, sheet string) (*entry, string) {
	if len(l.problems) > mostSuggestions {
		return nil, ""
	}
	as := map[string]*entry{}
	for _, e := range l.findings.all() {
		as[e.id] = e
	}
	for _, e := range l.steps.all() {
		as[e.id] = e
		name := strings.TrimPrefix(e.id, e.sheet+"/")
		if name == target {
			return e, e.id
		}
		if e.sheet == sheet {
			as[name] = e
		}
	}
	near := shape.DidYouMean(target, slices.Collect(maps.Keys(as)))
	return as[near], near
}

func (l *loader) buildSteps() {
	for _, e := range l.steps.all() {
		l.g.Steps[e.id] = l.step(e)
		l.g.StepOrder = append(l.g.StepOrder, e.id)
	}
}

func (l *loader) step(e *entry) *Step {
	s := &Step{ID: e.id, Sheet: e.sheet, Why: e.text("why"), Order: e.text("order"), Part: e.text("part"), Which: e.text("which"), Each: e.text("each"), At: e.top().Place()}
	for _, n := range e.all("danger") {
		b, _ := n.Bool()
		s.Danger = s.Danger || b
	}
	s.Needs = l.allOf(e.all("needs"))
	s.Until = l.condition(e.get("until"))
	if s.Danger {
		s.Why = e.said("why")
	}
	for _, field := range []string{"which", "each", "until"} {
		l.stays(e, field, "")
	}
	l.placeClass(e.get("which"))
	l.placeClass(e.get("each"))
	l.keepDanger(e)
	l.stays(e, "do", "")
	if n := e.get("do"); n != nil && l.known("action", n, l.actions) {
		s.Do = n.Text()
	}
	s.Ask = l.ids("reading", listOf(e.get("ask")), l.readings)
	if n := l.leads(e, "unknown"); n != nil {
		if t, ok := l.target(n, e.sheet); ok {
			s.Unknown = &t
		}
	}
	l.branches(e, s)
	l.betterForAll(e, s)
	for _, layer := range e.all("also") { // second faults of all layers are looked for
		for _, n := range listOf(layer) {
			l.also(n, s)
		}
	}
	if s.Until != nil && e.get("each") == nil {
		l.bad("until-without-each", e.get("until"), "until ends a walk over places, and this step has none", "add each: with a class of places, or drop until")
	}
	return s
}

func (l *loader) also(n *shape.Node, s *Step) {
	f := n.Get("finding")
	if f == nil || !l.known("finding", f, l.findings) {
		return
	}
	c := l.condition(n.Get("if"))
	if n.Get("if") != nil && c == nil {
		return
	}
	s.Also = append(s.Also, Also{If: c, Finding: f.Text(), At: n.Place()})
}

// branches reads `then`. Where an overlay gives other branches, those of the layers
// below that lead to stop-work, at once or over steps, stay and stay first, with
// what they ask for.
func (l *loader) branches(e *entry, s *Step) {
	all := e.all("then")
	if len(all) == 0 {
		l.bad("no-branch", e.top(), e.id+" leads nowhere", "add then: with at least a last branch {go: ...}")
		return
	}
	items := listOf(all[len(all)-1])
	var kept []*shape.Node
	for _, lower := range all[:len(all)-1] {
		for _, n := range listOf(lower) {
			if l.keepStop(e, n, items) {
				kept = append(kept, n)
				l.branch(n, e.sheet, s)
			}
		}
	}
	if len(kept) > 0 {
		s.Ask = join(s.Ask, l.ids("reading", e.joined("ask"), l.readings))
	}
	for i, n := range items {
		if !slices.ContainsFunc(kept, func(k *shape.Node) bool { return sameBranch(k, n) }) {
			l.branch(n, e.sheet, s)
		}
		switch hasIf := n.Get("if") != nil; {
		case i < len(items)-1 && !hasIf:
			l.bad("branch-hidden", n, "this branch has no condition, so those after it are never taken", "put it last")
		case i == len(items)-1 && hasIf:
			l.bad("no-last-branch", n, "the last branch has a condition: when it is false, the step leads nowhere", "add a last branch {go: ...} without if")
		}
	}
	if len(kept) > 0 { // an overlay's own stop-work goes before steps that were kept
		slices.SortStableFunc(s.Then, func(a, b Branch) int { return l.standing(a) - l.standing(b) })
	}
	// Stop-work stands first, so that doubt stops rather than passes.
	for i, b := range s.Then {
		if i > 0 && l.stopTarget(b.To) && b.If != nil && slices.ContainsFunc(s.Then[:i], func(o Branch) bool { return !l.stopTarget(o.To) }) {
			l.problem(shape.Problem{Code: "stop-not-first", Text: "a branch into stop-work stands after one that is not",
				Hint: "put it first: it is then taken unless it is certainly false", At: b.At, Width: 1})
		}
	}
}

func (l *loader) branch(n *shape.Node, sheet string, s *Step) {
	g := n.Get("go")
	if g == nil {
		return
	}
	t, ok := l.target(g, sheet)
	c := l.condition(n.Get("if"))
	if !ok || n.Get("if") != nil && c == nil {
		return
	}
	s.Then = append(s.Then, Branch{If: c, To: t, Better: l.better(n.Get("better")), At: n.Place()})
}

// better reads what settles a close call.
func (l *loader) better(n *shape.Node) *Better {
	if n == nil {
		return nil
	}
	b := &Better{Say: l.plainText(n.Get("say")), Ask: l.ids("reading", listOf(n.Get("ask")), l.readings), If: l.condition(n.Get("if")), At: n.Place()}
	if m := n.Get("meter"); m != nil && l.known("meter setting", m, l.meters) {
		b.Meter = m.Text()
	}
	return b
}

// betterForAll gives the step's better reading to the branches that can be close
// and have none of their own. Stop-work is never too close to call.
func (l *loader) betterForAll(e *entry, s *Step) {
	whole := l.better(e.get("better"))
	for i := range s.Then {
		switch b := &s.Then[i]; {
		case b.If == nil || l.stopTarget(b.To):
			if b.Better != nil {
				l.problem(shape.Problem{Code: "better-unused", Text: "this branch is never too close to call, so its better reading is never asked for",
					Hint: "leave better out here", At: b.Better.At, Width: 1})
			}
		case b.Better == nil:
			b.Better = whole
		}
	}
}

// standing is where a branch stands: into stop-work, any other, the last.
func (l *loader) standing(b Branch) int {
	switch {
	case b.If == nil:
		return 2
	case l.stopTarget(b.To):
		return 0
	}
	return 1
}

func sameBranch(a, b *shape.Node) bool {
	return a.Get("go").Text() == b.Get("go").Text() && a.Get("if").Text() == b.Get("if").Text()
}

// keepStop says whether a branch of a layer below stays because it leads to
// stop-work. Of one without a condition, the overlay's last has to take the place.
func (l *loader) keepStop(e *entry, lower *shape.Node, items []*shape.Node) bool {
	to := lower.Get("go").Text()
	if lower.Get("if") != nil {
		return len(l.stopsBehind(to, e.sheet)) > 0
	}
	if len(items) == 0 {
		return false
	}
	last := items[len(items)-1]
	if stop := l.lostStop(to, last.Get("go").Text(), e.sheet); stop != "" {
		l.losesStop(last, e, to, stop)
	}
	return false
}

func (l *loader) stops(finding string) bool {
	e := l.findings.byID[finding]
	return e != nil && len(e.all("stop")) > 0
}

func (l *loader) stopTarget(t Target) bool { return t.Finding != "" && l.stops(t.Finding) }

// noCycle reports circles of go, unknown and if_not-free targets, and says
// whether there are none.
func (l *loader) noCycle() bool {
	state := map[string]int{}
	var trail []string
	ok := true
	var walk func(id string)
	walk = func(id string) {
		state[id] = 1
		trail = append(trail, id)
		for _, t := range l.g.Steps[id].Targets() {
			if t.Step == "" || l.g.Steps[t.Step] == nil {
				continue
			}
			switch state[t.Step] {
			case 0:
				walk(t.Step)
			case 1:
				ok = false
				i := slices.Index(trail, t.Step)
				e := l.steps.byID[id]
				p := shape.NewProblem("cycle", e.key, "the steps lead in a circle: "+strings.Join(append(slices.Clone(trail[i:]), t.Step), " > "),
					"let one of them lead to a finding or to a later step")
				k := l.steps.byID[t.Step].key
				p.Notes = append(p.Notes, shape.Note{At: k.Place(), Text: "the circle comes back here", Source: k.Source()})
				l.problem(p)
			}
		}
		trail = trail[:len(trail)-1]
		state[id] = 2
	}
	for _, id := range l.g.StepOrder {
		if state[id] == 0 {
			walk(id)
		}
	}
	return ok
}
