package graph

import (
	"slices"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// nameFindings makes the findings known before the steps that lead to them.
func (l *loader) nameFindings() {
	for _, e := range l.findings.all() {
		l.g.Findings[e.id] = &Finding{ID: e.id, Sheet: e.sheet, At: e.top().Place()}
		l.g.FindingOrder = append(l.g.FindingOrder, e.id)
	}
}

func (l *loader) buildFindings() {
	for _, e := range l.findings.all() {
		l.finding(e, l.g.Findings[e.id])
	}
}

func (l *loader) finding(e *entry, f *Finding) {
	f.Cause, f.Often = e.text("cause"), Often(e.text("often"))
	f.Lesson, f.HandTo = e.text("lesson"), e.text("hand_to")
	f.Because = l.textOf(e.get("because"), e.get("because_or"))
	f.Working = l.ids("worked value", listOf(e.get("working")), l.values)
	f.Cautions = l.ids("caution", e.joined("cautions"), l.cautions)
	f.Alike = l.ids("finding", listOf(e.get("alike")), l.findings)
	f.Shows = texts(listOf(e.get("shows")))
	f.Sources = l.ids("source", e.joined("sources"), l.sources)
	f.Formerly = texts(e.joined("formerly"))
	f.Says = texts(e.joined("says"))
	for _, n := range e.all("stop") { // an overlay can make a stop stricter, never lift it
		if s := Stop(n.Text()); s == StopWalk || f.Stop == NoStop {
			f.Stop = s
		}
	}
	for _, n := range e.all("unsafe") {
		if u, ok := n.Int(); ok {
			f.Unsafe = max(f.Unsafe, u)
		}
	}
	if n := e.get("no_fault"); n != nil {
		f.NoFault, _ = n.Bool()
	}
	for _, w := range f.Says {
		l.g.DangerWords = append(l.g.DangerWords, DangerWord{Words: strings.ToLower(w), Stop: f.ID})
	}
	l.fix(e, f)
	l.sets(e, f)
	l.proof(e, f)
	if n := e.get("if_not"); n != nil {
		if t, ok := l.target(n, e.sheet); ok {
			f.IfNot = &t
		}
	}
}

// fix reads the lines of a fix. Where an overlay writes its own, none of them
// may be for less than the strictest below.
func (l *loader) fix(e *entry, f *Finding) {
	all := e.all("fix")
	if len(all) == 0 {
		return
	}
	least := Who("")
	for _, lower := range all[:len(all)-1] {
		for _, n := range listOf(lower) {
			if w := n.Get("who"); w != nil {
				least = Stricter(least, Who(w.Text()))
			}
		}
	}
	for _, n := range listOf(all[len(all)-1]) {
		line := FixLine{Who: Helper, At: n.Place()}
		if w := n.Get("who"); w != nil {
			line.Who = Who(w.Text())
		}
		line.Who = Stricter(line.Who, least)
		do, say := n.Get("do"), n.Get("say")
		switch {
		case do != nil && say != nil || do == nil && say == nil:
			l.bad("fix-line", n, "a line of a fix has either do: or say:", "name an action with do:, or write the line with say:")
		case do != nil:
			if l.known("action", do, l.actions) {
				line.Action = do.Text()
			}
		default:
			line.Say = l.textOf(say, n.Get("or"))
		}
		f.Fix = append(f.Fix, line)
	}
}

func (l *loader) sets(e *entry, f *Finding) {
	n := e.get("sets")
	if n == nil {
		return
	}
	for _, p := range n.Pairs() {
		if !l.known("reading", p.Key, l.readings) {
			continue
		}
		r := l.g.Readings[p.Key.Text()]
		if r.Class == reading.Measurement {
			l.bad("sets-measurement", p.Key, "a fix sets facts and settings, and "+r.ID+" is measured", "let the proof read it instead")
			continue
		}
		want := formula.WantAny()
		if r.Answer == reading.Number {
			want = formula.WantNumber(r.Kind.Unit)
		}
		if v := l.formula(p.Value, want); v != nil {
			f.Sets = append(f.Sets, Set{Fact: r.ID, To: p.Value.Text(), F: v})
		}
	}
}

func (l *loader) proof(e *entry, f *Finding) {
	n := e.get("prove")
	if n == nil {
		return
	}
	p := &Proof{Ask: l.ids("reading", listOf(n.Get("ask")), l.readings), If: l.condition(n.Get("if")), At: n.Place()}
	if s := n.Get("say"); s != nil {
		p.Say = s.Text()
	}
	if p.If == nil {
		return
	}
	for _, ref := range p.If.F.Refs() {
		r := l.g.Readings[ref.Name]
		if r != nil && r.Class != reading.Fact && ref.Form == formula.Here && !slices.Contains(p.Ask, ref.Name) {
			c := n.Get("if")
			l.problem(shape.NewProblem("not-asked", c, "the proof uses "+ref.Name+" and does not ask for it", "add it to ask"))
		}
	}
	f.Prove = p
}
