package graph

import (
	"path"
	"slices"

	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// buildWords builds what other entries refer to by id and that refers to little
// itself: cautions, sources, states, meter settings, points.
func (l *loader) buildWords() {
	for i, e := range l.cautions.all() {
		l.g.Cautions[e.id] = &Caution{ID: e.id, Say: e.said("say"), Rank: i, At: e.top().Place()}
		l.g.CautionOrder = append(l.g.CautionOrder, e.id)
	}
	for _, e := range l.sources.all() {
		l.g.Sources[e.id] = &Source{ID: e.id, Text: e.text("say"), At: e.top().Place()}
	}
	for _, e := range l.states.all() {
		name, say := e.text("name"), e.text("say")
		if e.guarded() {
			name, say = l.stays(e, "name", ""), e.said("say")
		}
		l.g.States[e.id] = &reading.State{
			ID: e.id, Name: name, Say: say, Hazard: l.stays(e, "hazard", ""),
			Excludes: l.ids("state", e.joined("excludes"), l.states),
			Cautions: l.ids("caution", e.joined("cautions"), l.cautions), At: e.top().Place(),
		}
	}
	for _, e := range l.meters.all() {
		l.g.Meters[e.id] = &reading.MeterSetting{ID: e.id, Say: e.said("say"), Class: l.stays(e, "class", ""), Unit: l.stays(e, "unit", ""), At: e.top().Place()}
	}
	for _, e := range l.points.all() {
		l.g.Points[e.id] = &reading.Point{ID: e.id, Name: l.stays(e, "name", ""), At: e.top().Place()}
	}
}

func (l *loader) buildPath() {
	places, problems := reading.PlacesFrom(l.standardPath)
	l.g.StandardPath = places
	l.problems = append(l.problems, problems...)
}

func (l *loader) buildActions() {
	for _, e := range l.actions.all() {
		a := &Action{
			ID: e.id, Say: e.text("say"), How: texts(listOf(e.get("how"))), Hazard: l.stays(e, "hazard", ""),
			Needs:    l.allOf(e.all("needs")),
			Cautions: l.ids("caution", e.joined("cautions"), l.cautions),
			Touches:  texts(e.joined("touches")), Who: Helper, At: e.top().Place(),
		}
		if e.guarded() {
			a.Say, a.How = e.said("say"), e.linesOver(nil, "how")
		}
		for _, n := range e.all("who") {
			a.Who = Stricter(a.Who, Who(n.Text()))
		}
		l.g.Actions[e.id] = a
	}
}

func (e *entry) symptom() *Symptom {
	return &Symptom{ID: e.id, Label: e.text("label"), Says: texts(e.joined("says")), At: e.top().Place()}
}

func (l *loader) buildSymptoms() {
	for _, e := range l.symptoms.all() {
		s := e.symptom()
		if n := l.leads(e, "start"); n != nil && l.known("step", n, l.steps) {
			s.Start = n.Text()
		}
		l.g.Symptoms[e.id] = s
		l.g.SymptomOrder = append(l.g.SymptomOrder, e.id)
	}
}

// checkDanger sees to it that every walk can begin with the danger question.
func (l *loader) checkDanger() {
	const code = "no-danger-question"
	first := ""
	if len(l.g.Layers) > 0 {
		first = l.g.Layers[0].Name
	}
	s, r := l.g.Steps[dangerStep], l.g.Readings[dangerReading]
	if s == nil {
		l.problem(shape.FileProblem(code, path.Join(first, dangerFile), "there is no step "+dangerStep+", with which every walk begins",
			"write it in "+dangerFile))
	}
	if r == nil {
		l.problem(shape.FileProblem(code, path.Join(first, "readings.yaml"), "there is no reading "+dangerReading+", which every walk asks first",
			"write it in readings.yaml"))
	}
	if s == nil || r == nil {
		return
	}
	if r.Answer != reading.YesNo {
		l.bad(code, l.readings.byID[dangerReading].key, dangerReading+" is not answered by yes or no", "write yes_no: true")
	}
	at := l.steps.byID[dangerStep].key
	if !slices.Contains(s.Ask, dangerReading) {
		l.bad(code, at, dangerStep+" does not ask "+dangerReading, "write ask: ["+dangerReading+"]")
	}
	if n := len(s.Then); n < 2 || !s.Then[n-1].To.CarryOn || s.Then[0].To.CarryOn {
		l.bad(code, at, dangerStep+" must lead away when there is danger, and carry on when there is none",
			"write then: [{if: "+dangerReading+", go: ...}, {go: "+carryOn+"}]")
	}
}
