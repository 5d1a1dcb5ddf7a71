package prove

import (
	"fmt"
	"strings"
)

// Outline is a walk in lines, for the authors of the knowledge: what was asked,
// what the rig answered, which way that led, what was told. It is empty unless
// [Options] asked for outlines.
func (r *Run) Outline() []string {
	if len(r.lines) == 0 {
		return nil
	}
	head := []string{r.Name() + ", rig " + fmt.Sprint(r.Rig)}
	for _, s := range r.Sets {
		head = append(head, strings.TrimRight(fmt.Sprintf("fault: %s at %q, severity %.4g, chance %.2f", s.Fault, s.At, s.Severity, s.Chance), " "))
	}
	out := append(head, r.lines...)
	for _, u := range r.Unsafe {
		out = append(out, "UNSAFE: "+u)
	}
	return append(out, fmt.Sprintf("%d questions, %d of them with a meter, %.0f min, %d not known",
		r.Questions, r.Measurements, r.Minutes, r.NotKnown))
}
