package prove

import (
	"maps"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/simrig"
	"hotlug/engine/walk"
)

// fix is what happens when a finding is told. If it explains a fault, the fix is
// first said to be done and is not: the proof must fail. Then the fault is
// repaired, and the proof must hold. If it explains none, the person has mended
// what was sound: the proof must fail, and the walk goes on.
func (w *walker) fix() {
	p := w.s.Prompt()
	t := *p.Finding
	w.told(t)
	done := walk.Event{Kind: walk.EvDone, Finding: t.Finding.ID}
	fault := w.explains(t)
	if fault == "" {
		if w.feed(done) && w.prove(t) == Passed {
			w.say("  proof passed although nothing was mended")
			if !t.Finding.NoFault && !w.mendedWith(t) {
				w.run.False = append(w.run.False, t.Finding.ID)
			}
		}
		return
	}
	// Where nothing is wrong and nothing is to be mended, the rig reads the same
	// before and after: then the proof can only hold.
	if t.Finding.Prove != nil && !w.judge.fault(fault).Stays && !w.cured() {
		before, steps, heard := w.s, w.steps, maps.Clone(w.heard)
		if w.feed(done) {
			out := w.prove(t)
			w.say("  not mended: proof %s", out)
			if w.run.Unmended == NoProof {
				w.run.Unmended = out
			}
		}
		w.s, w.steps, w.heard, w.done = before, steps, heard, len(before.Told())
		w.run.trailed = len(before.Trail(w.g))
	}
	w.rig.Repair(fault)
	w.acts++
	w.guard.truth = w.rig.Truth()
	w.left = slices.DeleteFunc(w.left, func(f string) bool { return f == fault })
	w.say("  repaired: %s", fault)
	if !w.feed(done) || t.Finding.Prove == nil {
		return
	}
	out := w.prove(t)
	w.say("  mended: proof %s", out)
	// With another fault left that somebody would still complain of, this is no
	// repaired rig, and a proof that fails is right.
	if w.run.Repaired == NoProof && (len(w.left) == 0 || w.cured()) {
		w.run.Repaired = out
	}
	if out == Passed && w.run.Proven == nil {
		w.run.Proven = &Named{t.Finding.ID, t.Place.ID, walk.IsProven}
	}
}

// cured says that nobody would complain any more: an action of the walk itself, a
// reset or a switch that was closed, has done what the fix would do.
func (w *walker) cured() bool {
	return !slices.Contains(w.rig.Symptoms(w.run.Symptom), w.run.Symptom)
}

// prove answers the proof's readings and says how it came out.
func (w *walker) prove(t walk.Told) Proof {
	for w.s.Outcome() == walk.Running && w.s.Prompt().Proof && w.run.Err == "" {
		w.answer()
	}
	out := NotRead
	for _, x := range w.s.Told() {
		if x.Finding != t.Finding || x.Place.ID != t.Place.ID {
			continue
		}
		switch {
		case t.Finding.Prove == nil:
			out = NoProof
		case x.Status == walk.IsProven:
			out = Passed
		case x.Status == walk.IsRefuted:
			out = Failed
		case x.Pending:
			out = NotRead
		case x.Status == walk.IsClose:
			out = TooClose
		}
	}
	return out
}

// explains gives the fault, not repaired yet, that a finding told at its place is
// about.
func (w *walker) explains(t walk.Told) string {
	for _, f := range w.left {
		if slices.Contains(t.Finding.Shows, f) && !w.elsewhere(f, t.Place.ID) {
			return f
		}
	}
	return ""
}

// mendedWith says that a finding is about a fault that went with the fix of another
// one that shows it as well.
func (w *walker) mendedWith(t walk.Told) bool {
	return slices.ContainsFunc(w.run.Sets, func(s simrig.Set) bool {
		return slices.Contains(t.Finding.Shows, s.Fault) && !slices.Contains(w.left, s.Fault) && !w.elsewhere(s.Fault, t.Place.ID)
	})
}

// firm notes the findings that stand firmly at the end, and are about no fault of
// the rig.
func (w *walker) firm() {
	for _, t := range w.s.Told() {
		firm := t.Status == walk.IsLikely || t.Status == walk.IsProven
		if !firm || t.Second || t.Finding.Stop != graph.NoStop || w.isSo(t) {
			continue
		}
		w.run.Firmly = append(w.run.Firmly, t.Finding.ID)
	}
}

// isSo says that a finding is about one of the case's faults, at its place.
func (w *walker) isSo(t walk.Told) bool {
	if len(w.run.Sets) == 0 || w.run.Kind == Unlisted {
		return t.Finding.NoFault
	}
	return slices.ContainsFunc(w.run.Sets, func(s simrig.Set) bool {
		right := slices.Contains(w.judge.shown[s.Fault], t.Finding.ID) && !w.elsewhere(s.Fault, t.Place.ID)
		return right || slices.Contains(w.judge.alike[s.Fault], t.Finding.ID)
	})
}

// elsewhere says that a fault sits at one of the rig's places, and the finding
// names another of the same kind.
func (w *walker) elsewhere(fault, place string) bool {
	for _, s := range w.run.Sets {
		if s.Fault != fault || place == "" || s.At == place {
			continue
		}
		if c := w.run.classes[s.At]; c != "" && c == w.run.classes[place] {
			return true
		}
	}
	return false
}
