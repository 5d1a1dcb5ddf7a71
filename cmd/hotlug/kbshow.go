package main

import (
	"fmt"
	"io"
	"strings"

	"hotlug/engine/graph"
	"hotlug/engine/reading"
)

// names lists every id that `kb show` knows.
func names(g *graph.Graph) []string {
	var out []string
	out = append(out, g.SymptomOrder...)
	out = append(out, g.StepOrder...)
	out = append(out, g.FindingOrder...)
	out = append(out, g.ReadingOrder...)
	out = append(out, g.ValueOrder...)
	for _, f := range g.Scope.Funcs() {
		out = append(out, f.Name)
	}
	return out
}

// field prints a labelled line, if there is something to print.
func field(w io.Writer, name, text string) {
	if text != "" {
		fmt.Fprintf(w, "  %-10s %s\n", name, text)
	}
}

// show prints what has the id, and says whether there is any.
func show(w io.Writer, g *graph.Graph, id string) bool {
	found := false
	if s := g.Symptoms[id]; s != nil {
		found = true
		fmt.Fprintf(w, "symptom %s\n", id)
		field(w, "says", s.Label)
		field(w, "starts at", s.Start)
		field(w, "also as", strings.Join(s.Says, "; "))
	}
	if s := g.Steps[id]; s != nil {
		found = true
		showStep(w, g, s)
	}
	if f := g.Findings[id]; f != nil {
		found = true
		showFinding(w, g, f)
	}
	if r := g.Readings[id]; r != nil {
		found = true
		showReading(w, g, r)
	}
	if v := g.Values[id]; v != nil {
		found = true
		fmt.Fprintf(w, "worked value %s\n", id)
		field(w, "is", v.Label)
		field(w, "formula", v.Text)
		field(w, "unit", v.Unit)
	}
	if f, ok := g.Scope.Func(id); ok {
		found = true
		fmt.Fprintf(w, "function %s\n", id)
		field(w, "is", f.Title)
		for _, p := range f.Params {
			field(w, "takes", fmt.Sprintf("%s, %s %s", p.Name, p.Doc, unitOf(p.Unit.String(), p.Choices)))
		}
		field(w, "gives", f.Result.String())
		field(w, "formula", f.Text)
		field(w, "holds for", f.Domain)
		field(w, "source", f.Source)
	}
	return found
}

func unitOf(unit string, choices []string) string {
	if len(choices) > 0 {
		return "(" + strings.Join(choices, ", ") + ")"
	}
	return "(" + unit + ")"
}

func showStep(w io.Writer, g *graph.Graph, s *graph.Step) {
	fmt.Fprintf(w, "step %s\n", s.ID)
	field(w, "from", strings.Join(leadsTo(g, s.ID), ", "))
	if s.Danger {
		field(w, "first", "the danger question")
	}
	if s.Needs != nil {
		field(w, "needs", s.Needs.Text)
	}
	field(w, "do", s.Do)
	field(w, "each", s.Each)
	field(w, "ask", strings.Join(s.Ask, ", "))
	for _, b := range s.Then {
		cond := "else"
		if b.If != nil {
			cond = "if " + b.If.Text
		}
		field(w, "then", cond+" > "+b.To.String())
	}
	if s.Unknown != nil {
		field(w, "unknown", s.Unknown.String())
	}
	for _, x := range s.Also {
		field(w, "also", "if "+x.If.Text+": "+x.Finding)
	}
	field(w, "why", s.Why)
}

func showFinding(w io.Writer, g *graph.Graph, f *graph.Finding) {
	fmt.Fprintf(w, "finding %s (%s)\n", f.ID, f.Sheet)
	field(w, "cause", f.Cause)
	field(w, "from", strings.Join(leadsTo(g, f.ID), ", "))
	field(w, "often", string(f.Often))
	if f.Stop != graph.NoStop {
		field(w, "stop", string(f.Stop))
	}
	for _, id := range f.Working {
		v := g.Values[id]
		field(w, "working", v.Label+" = "+v.Text)
	}
	for _, l := range f.Fix {
		say := ""
		if a := g.Actions[l.Action]; a != nil {
			say = a.Say
		} else {
			for _, p := range l.Say.Parts {
				switch {
				case p.Place:
					say += "{place}"
				case p.Name != "":
					say += "{" + p.Name + "}"
				default:
					say += p.Literal
				}
			}
		}
		field(w, "do", say+" ("+string(l.Who)+")")
	}
	for _, c := range g.Precedence(f.Cautions) {
		field(w, "caution", c.Say)
	}
	if f.Prove != nil {
		field(w, "proof", strings.Join(f.Prove.Ask, ", ")+": "+f.Prove.If.Text)
	}
	if f.IfNot != nil {
		field(w, "if not", f.IfNot.String())
	}
	if f.Next != nil {
		field(w, "then", f.Next.String())
	}
	field(w, "hand to", f.HandTo)
	field(w, "lesson", f.Lesson)
	for _, id := range f.Sources {
		field(w, "source", g.Sources[id].Text)
	}
}

func showReading(w io.Writer, g *graph.Graph, r *reading.Reading) {
	fmt.Fprintf(w, "reading %s (%s)\n", r.ID, r.Class)
	field(w, "name", r.Name)
	field(w, "asks", r.Ask)
	field(w, "why", r.Why)
	switch r.Answer {
	case reading.Number:
		field(w, "answer", r.Kind.Name)
	case reading.YesNo:
		field(w, "answer", "yes or no")
	default:
		for _, o := range r.Options {
			field(w, "answer", o.ID+": "+o.Label)
		}
	}
	if a, b := g.Points[r.From], g.Points[r.To]; a != nil && b != nil {
		field(w, "probes", "red on "+a.Name+", black on "+b.Name)
	}
	field(w, "state", strings.Join(r.State, ", "))
	for i, h := range r.How {
		field(w, fmt.Sprintf("how %d", i+1), h)
	}
	for _, c := range g.Precedence(r.Cautions) {
		field(w, "caution", c.Say)
	}
	var by []string
	for _, id := range g.StepOrder {
		for _, x := range g.Steps[id].Ask {
			if x == r.ID {
				by = append(by, id)
			}
		}
	}
	field(w, "asked by", strings.Join(by, ", "))
}

// leadsTo lists the symptoms, steps and findings that lead to a step or finding.
func leadsTo(g *graph.Graph, id string) []string {
	var out []string
	is := func(t graph.Target) bool { return t.Step == id || t.Finding == id }
	for _, s := range g.SymptomOrder {
		if g.Symptoms[s].Start == id {
			out = append(out, "symptom "+s)
		}
	}
	for _, sid := range g.StepOrder {
		s := g.Steps[sid]
		hit := false
		for _, t := range s.Targets() {
			hit = hit || is(t)
		}
		for _, a := range s.Also {
			hit = hit || a.Finding == id
		}
		if hit {
			out = append(out, sid)
		}
	}
	for _, fid := range g.FindingOrder {
		f := g.Findings[fid]
		if f.IfNot != nil && is(*f.IfNot) {
			out = append(out, "failed proof of "+fid)
		}
		if f.Next != nil && is(*f.Next) {
			out = append(out, "proof of "+fid)
		}
	}
	return out
}
