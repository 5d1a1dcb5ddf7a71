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
	f.Cause, f.Often = l.plainText(e.get("cause")), Often(e.text("often"))
	f.Lesson, f.HandTo = l.plainText(e.get("lesson")), l.plainText(e.get("hand_to"))
	if e.stopsBelow() {
		for _, field := range []string{"cause", "because", "because_or"} {
			l.stays(e, field, "")
		}
		f.Lesson, f.HandTo = e.said("lesson"), e.said("hand_to")
	}
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
	for i, n := range e.nodes {
		x := n.Get("no_fault")
		if x == nil {
			continue
		}
		yes, _ := x.Bool()
		if i > 0 && yes && !f.NoFault && (f.Unsafe > 0 || f.Stop != NoStop) {
			l.lowers(x, "leave it out", "%s is unsafe, and an overlay can't say that it is no fault", e.id)
			continue
		}
		f.NoFault = yes
	}
	for i, n := range e.nodes {
		x := n.Get("passes")
		if x == nil {
			continue
		}
		yes, _ := x.Bool()
		if i > 0 && yes && !f.Passes {
			l.lowers(x, "leave it out, or write a finding of your own", "%s is no pass, and an overlay can't make it one", e.id)
			continue
		}
		f.Passes = yes
	}
	for _, w := range f.Says {
		l.g.DangerWords = append(l.g.DangerWords, DangerWord{Words: strings.ToLower(w), Stop: f.ID})
	}
	l.fix(e, f)
	l.sets(e, f)
	l.proof(e, f)
	for key, to := range map[string]**Target{"if_not": &f.IfNot, "next": &f.Next} {
		if n := l.leads(e, key); n != nil {
			if t, ok := l.target(n, e.sheet); ok {
				*to = &t
			}
		}
	}
}

// burns is how unsafe a finding is from which somebody is burnt or shocked.
const burns = 2

// fix reads the lines of a fix. Where an overlay writes its own, the actions of
// the layers below stay and stay first, of stop-work and of what burns or shocks
// all lines do; and none of its own may be for less than the strictest below.
func (l *loader) fix(e *entry, f *Finding) {
	all := e.all("fix")
	if len(all) == 0 {
		return
	}
	own := slices.Clone(listOf(all[len(all)-1]))
	least := Who("")
	for _, lower := range all[:len(all)-1] {
		for _, n := range listOf(lower) {
			if w := n.Get("who"); w != nil {
				least = Stricter(least, Who(w.Text()))
			}
			if n.Get("do") == nil && f.Stop == NoStop && f.Unsafe < burns {
				continue
			}
			l.fixLine(n, f, "")
			own = slices.DeleteFunc(own, func(o *shape.Node) bool {
				return o.Get("do").Text() == n.Get("do").Text() && o.Get("say").Text() == n.Get("say").Text()
			})
		}
	}
	for _, n := range own {
		l.fixLine(n, f, least)
	}
}

func (l *loader) fixLine(n *shape.Node, f *Finding, least Who) {
	line := FixLine{Who: Stricter(Helper, least), At: n.Place()}
	if w := n.Get("who"); w != nil {
		line.Who = Stricter(line.Who, Who(w.Text()))
	}
	if do := n.Get("do"); do != nil {
		if l.known("action", do, l.actions) {
			line.Action = do.Text()
		}
	} else {
		line.Say = l.textOf(n.Get("say"), n.Get("or"))
	}
	f.Fix = append(f.Fix, line)
}

func (l *loader) sets(e *entry, f *Finding) {
	var pairs []shape.Pair
	for _, n := range e.all("sets") { // an overlay adds facts, and sets none to something else
		for _, p := range n.Pairs() {
			i := slices.IndexFunc(pairs, func(o shape.Pair) bool { return o.Key.Text() == p.Key.Text() })
			switch {
			case i < 0:
				pairs = append(pairs, p)
			case pairs[i].Value.Text() != p.Value.Text():
				l.lowers(p.Value, "leave it out here", "%s sets %s to %s, and an overlay can't change that", e.id, p.Key.Text(), pairs[i].Value.Text())
			}
		}
	}
	for _, p := range pairs {
		if !l.known("reading", p.Key, l.readings) {
			continue
		}
		r := l.g.Readings[p.Key.Text()]
		if r.Class == reading.Measurement {
			l.bad("sets-measurement", p.Key, "a fix sets facts and settings, and "+r.ID+" is measured", "let the proof read it instead")
			continue
		}
		want := formula.WantAny()
		switch r.Answer {
		case reading.Number:
			want = formula.WantNumber(r.Kind.Unit)
		case reading.YesNo:
			want = formula.WantYesNo()
		}
		v := l.formula(p.Value, want)
		switch {
		case v == nil:
		case r.Answer == reading.Choice && v.Type().Class != formula.ClassChoice:
			l.bad("sets-no-choice", p.Value, r.ID+" is one of a few words, and "+p.Value.Text()+" is not", "take the answer of a reading with the same choices")
		default:
			f.Sets = append(f.Sets, Set{Fact: r.ID, To: p.Value.Text(), F: v})
		}
	}
}

// proof reads how a fix is proved. An overlay adds to what has to hold.
func (l *loader) proof(e *entry, f *Finding) {
	all := e.all("prove")
	if len(all) == 0 {
		return
	}
	p := &Proof{At: all[len(all)-1].Place()}
	var conds []*shape.Node
	for _, n := range all {
		p.Ask = join(p.Ask, l.ids("reading", listOf(n.Get("ask")), l.readings))
		if c := n.Get("if"); c != nil {
			conds = append(conds, c)
		}
		if s := n.Get("say"); s != nil {
			p.Say = add(p.Say, l.plainText(s))
		}
		if b := n.Get("better"); b != nil {
			p.Better = l.better(b)
		}
	}
	if p.If = l.allOf(conds); p.If == nil {
		return
	}
	for _, ref := range p.If.F.Refs() {
		r := l.g.Readings[ref.Name]
		if r != nil && r.Class != reading.Fact && ref.Form == formula.Here && !slices.Contains(p.Ask, ref.Name) {
			l.bad("not-asked", conds[len(conds)-1], "the proof uses "+ref.Name+" and does not ask for it", "add it to ask")
		}
	}
	f.Prove = p
}
