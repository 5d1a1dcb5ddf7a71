package graph

import (
	"hotlug/engine/reading"
	"hotlug/engine/shape"
)

// buildWords builds what other entries refer to by id and that refers to little
// itself: cautions, sources, states, meter settings, points.
func (l *loader) buildWords() {
	for i, e := range l.cautions.all() {
		l.g.Cautions[e.id] = &Caution{ID: e.id, Say: e.text("say"), Rank: i, At: e.top().Place()}
		l.g.CautionOrder = append(l.g.CautionOrder, e.id)
	}
	for _, e := range l.sources.all() {
		l.g.Sources[e.id] = &Source{ID: e.id, Text: e.text("say"), At: e.top().Place()}
	}
	for _, e := range l.states.all() {
		l.g.States[e.id] = &reading.State{
			ID: e.id, Name: e.text("name"), Say: e.text("say"), Hazard: e.text("hazard"),
			Excludes: l.ids("state", listOf(e.get("excludes")), l.states),
			Cautions: l.ids("caution", e.joined("cautions"), l.cautions), At: e.top().Place(),
		}
	}
	for _, e := range l.meters.all() {
		l.g.Meters[e.id] = &reading.MeterSetting{ID: e.id, Say: e.text("say"), Class: e.text("class"), At: e.top().Place()}
	}
	for _, e := range l.points.all() {
		l.g.Points[e.id] = &reading.Point{ID: e.id, Name: e.text("name"), At: e.top().Place()}
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
			ID: e.id, Say: e.text("say"), How: texts(listOf(e.get("how"))), Hazard: e.text("hazard"),
			Needs:    l.allOf(e.all("needs")),
			Cautions: l.ids("caution", e.joined("cautions"), l.cautions),
			Touches:  texts(e.joined("touches")), Who: Helper, At: e.top().Place(),
		}
		for _, n := range e.all("who") {
			a.Who = Stricter(a.Who, Who(n.Text()))
		}
		l.g.Actions[e.id] = a
	}
}

func (l *loader) buildSymptoms() {
	for _, e := range l.symptoms.all() {
		s := &Symptom{ID: e.id, Label: e.text("label"), Says: texts(e.joined("says")), At: e.top().Place()}
		if n := e.get("start"); n != nil && l.known("step", n, l.steps) {
			s.Start = n.Text()
		}
		l.g.Symptoms[e.id] = s
		l.g.SymptomOrder = append(l.g.SymptomOrder, e.id)
	}
}

// checkDanger sees to it that every walk can begin with the danger question.
func (l *loader) checkDanger() {
	if l.g.Steps[dangerStep] == nil {
		l.problem(shape.Problem{Code: "no-danger-question", Text: "there is no step " + dangerStep + ", with which every walk begins",
			Hint: "write it in " + dangerFile, At: shape.Place{File: dangerFile}})
	}
	if l.g.Readings[dangerReading] == nil {
		l.problem(shape.Problem{Code: "no-danger-question", Text: "there is no reading " + dangerReading + ", which every walk asks first",
			Hint: "write it in readings.yaml", At: shape.Place{File: "readings.yaml"}})
	}
}
