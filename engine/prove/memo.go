package prove

import (
	"slices"
	"strings"

	"hotlug/engine/simrig"
)

// memory is a rig that remembers what it has answered, so that many walks of one
// case solve it once. A walk that does to the rig what another has done before is
// answered from memory as well.
type memory struct {
	make    func() (Rig, error)
	symptom string
	past    map[string]*moment // by what was done
	live    Rig                // nil until it is needed
	lived   []string           // what was done to live
	done    []string           // in the walk at hand
	now     *moment
	err     error
}

// moment is what is known of the rig after some things were done to it.
type moment struct {
	takes    map[[2]string]simrig.Answer
	symptoms map[string][]string
	which    map[string]string
	lives    map[[2]string]bool
	truth    *Truth
}

func remember(make func() (Rig, error)) *memory {
	m := &memory{make: make, past: map[string]*moment{}}
	m.again()
	return m
}

// again begins another walk: nothing has been done to the rig.
func (m *memory) again() {
	m.done = nil
	m.turn()
}

func (m *memory) turn() {
	k := strings.Join(m.done, "|")
	if m.now = m.past[k]; m.now == nil {
		m.now = &moment{takes: map[[2]string]simrig.Answer{}, symptoms: map[string][]string{}, which: map[string]string{}, lives: map[[2]string]bool{}}
		m.past[k] = m.now
	}
}

// rig is the real one, brought to where the walk at hand stands.
func (m *memory) rig() Rig {
	n := len(m.lived)
	if m.live == nil || n > len(m.done) || !slices.Equal(m.lived, m.done[:n]) {
		x, err := m.make()
		if err != nil {
			m.err = err
			return nothing{}
		}
		if m.symptom != "" {
			x.Complain(m.symptom)
		}
		m.live, m.lived, n = x, nil, 0
	}
	for _, d := range m.done[n:] {
		if what, fault, ok := strings.Cut(d, ":"); ok && what == "repair" {
			m.live.Repair(fault)
		} else {
			m.live.Do(d)
		}
	}
	m.lived = slices.Clone(m.done)
	return m.live
}

func (m *memory) Take(reading, place string) simrig.Answer {
	k := [2]string{reading, place}
	a, ok := m.now.takes[k]
	if !ok {
		a = m.rig().Take(reading, place)
		m.now.takes[k] = a
	}
	return a
}

func (m *memory) Do(action string) {
	m.done = append(m.done, action)
	m.turn()
}

func (m *memory) Repair(fault string) {
	m.done = append(m.done, "repair:"+fault)
	m.turn()
}

// Complain forgets what was answered after another complaint.
func (m *memory) Complain(symptom string) {
	if m.symptom == symptom {
		return
	}
	m.symptom, m.live, m.past = symptom, nil, map[string]*moment{}
	m.turn()
}

func (m *memory) Symptoms(among ...string) []string {
	k := strings.Join(among, "|")
	s, ok := m.now.symptoms[k]
	if !ok {
		s = m.rig().Symptoms(among...)
		m.now.symptoms[k] = s
	}
	return s
}

func (m *memory) Focus() string { return m.rig().Focus() }

func (m *memory) Which(ids []string) string {
	k := strings.Join(ids, "|")
	w, ok := m.now.which[k]
	if !ok {
		w = m.rig().Which(ids)
		m.now.which[k] = w
	}
	return w
}

func (m *memory) Truth() Truth {
	if m.now.truth == nil {
		t := m.rig().Truth()
		m.now.truth = &t
	}
	return *m.now.truth
}

func (m *memory) Live(from, to string) bool {
	k := [2]string{from, to}
	l, ok := m.now.lives[k]
	if !ok {
		l = m.rig().Live(from, to)
		m.now.lives[k] = l
	}
	return l
}

// nothing is the rig that could not be made.
type nothing struct{}

func (nothing) Take(string, string) simrig.Answer { return simrig.Refuse("there is no rig") }
func (nothing) Do(string)                         {}
func (nothing) Repair(string)                     {}
func (nothing) Complain(string)                   {}
func (nothing) Symptoms(...string) []string       { return nil }
func (nothing) Focus() string                     { return "" }
func (nothing) Which([]string) string             { return "" }
func (nothing) Truth() Truth                      { return Truth{} }
func (nothing) Live(string, string) bool          { return false }
