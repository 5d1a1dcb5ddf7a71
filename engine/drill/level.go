package drill

import (
	"cmp"
	"errors"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"hotlug/engine/graph"
	"hotlug/engine/rig"
	"hotlug/engine/simrig"
)

// Level says how hard a drill is.
type Level struct {
	N      int
	Say    string
	Faults int    // how many
	Gross  bool   // each well developed
	Plain  bool   // the knowledge's own questions find it
	Meters string // class of the meters
	Stands bool   // the drill brings the rig into the state that a reading needs
	All    bool   // no fault at all, and stop-work, come up too
	Lies   bool   // the meter in hand lies; another one lies in the bag
	Hints  int    // how many hints can be had
}

// Levels are all levels, easiest first.
var Levels = []Level{
	{N: 1, Say: "one plain, well developed fault; the meter is exact", Faults: 1, Gross: true, Plain: true, Meters: "exact", Stands: true, Hints: 5},
	{N: 2, Say: "one plain fault; you operate the rig yourself", Faults: 1, Gross: true, Plain: true, Meters: "exact", Hints: 4},
	{N: 3, Say: "one fault of any size; a good meter with its error", Faults: 1, Plain: true, Meters: "good", Hints: 3},
	{N: 4, Say: "one fault or none, danger too; an everyday meter", Faults: 1, Meters: "hand", All: true, Hints: 2},
	{N: 5, Say: "two faults, and a meter that lies", Faults: 2, Meters: "cheap", All: true, Lies: true, Hints: 1},
}

// LevelOf gives level n, 1 to 5.
func LevelOf(n int) (Level, error) {
	if n < 1 || n > len(Levels) {
		return Level{}, fmt.Errorf("there is no level %d; the levels are 1 to %d", n, len(Levels))
	}
	return Levels[n-1], nil
}

// ErrNoFault says that nothing fits what was asked for.
var ErrNoFault = errors.New("no fault of this level fits this rig")

// Wish is what a case must be.
type Wish struct {
	Level Level
	Fault string   // this one, "" for any
	Due   []string // faults that are to come back, the most urgent first
}

// drawsEach is how often a fault's size and site are drawn before another fault is
// tried: some bring no complaint on some rigs.
const drawsEach = 4

// Pick draws what is wrong with a rig and which complaint it brings. The same
// seed gives the same case, and goes on doing so when the catalogue grows, but for
// the few seeds whose fault is a new one. A case must be found, if that is given.
func Pick(seed uint64, g *graph.Graph, sys *rig.System, faults []*simrig.Fault, w Wish, makes Make, found func([]simrig.Set, string) bool) (sets []simrig.Set, symptom string, err error) {
	pool := ranked(seed, poolOf(g, sys, faults, w))
	pool = urgent(seed, pool, w.Due)
	usual, err := usually(makes)
	if err != nil {
		return nil, "", err
	}
	for _, first := range pool {
		chance := rand.New(rand.NewPCG(seed, rank(seed, first.ID)))
		for range drawsEach {
			sets = []simrig.Set{draw(chance, sys, first, w.Level.Gross)}
			if w.Level.Faults > 1 {
				other, ok := second(chance, ranked(seed, poolOf(g, sys, faults, Wish{Level: w.Level})), first, g, sys, usual, makes)
				if !ok {
					continue
				}
				sets = append(sets, other)
			}
			r, err := makes(sets, w.Level.Meters)
			if err != nil {
				continue // a rig that can't be solved so is no rig to practise on
			}
			for _, s := range r.Symptoms() {
				if g.Symptoms[s] == nil || !shown(faults, sets, s) {
					continue
				}
				r.Complain(s)
				own := !slices.Contains(usual, s) || r.Focus() != "" && r.Focus() == sets[0].At
				if own && (found == nil || found(sets, s)) {
					return sets, s, nil
				}
			}
			if first.NoFault && len(first.Shown) > 0 && g.Symptoms[first.Shown[0]] != nil {
				return sets, first.Shown[0], nil
			}
		}
	}
	return nil, "", ErrNoFault
}

// second draws a fault beside the first: one that somebody complains of once the
// first is mended, so that it can be found. A moment's mishap is none.
func second(chance *rand.Rand, pool []*simrig.Fault, first *simrig.Fault, g *graph.Graph, sys *rig.System, usual []string, makes Make) (simrig.Set, bool) {
	if first.NoFault {
		return simrig.Set{}, false
	}
	for _, f := range pool {
		if clash(g, f, first) || slices.Contains(f.Shown, "spark-on-connecting") {
			continue
		}
		s := draw(chance, sys, f, false)
		r, err := makes([]simrig.Set{s}, "exact")
		if err != nil {
			continue
		}
		if next := nextComplaint(g, r, usual); slices.Contains(f.Shown, next) {
			return s, true
		}
	}
	return simrig.Set{}, false
}

// nextComplaint is what somebody would ring for on a rig as it stands, "" for
// nothing: what would be noticed on the sound rig too does not count.
func nextComplaint(g *graph.Graph, r Rig, usual []string) string {
	for _, s := range r.Symptoms() {
		if g.Symptoms[s] != nil && !slices.Contains(usual, s) {
			return s
		}
	}
	return ""
}

// rank is a fault's place in the order of a seed.
func rank(seed uint64, id string) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%d %s", seed, id)
	x := h.Sum64() // its high bits hang little on the last letters, so they are stirred
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

func ranked(seed uint64, pool []*simrig.Fault) []*simrig.Fault {
	pool = slices.Clone(pool)
	slices.SortFunc(pool, func(a, b *simrig.Fault) int { return cmp.Compare(rank(seed, a.ID), rank(seed, b.ID)) })
	return pool
}

// urgent puts a fault that is due in front, three times of four.
func urgent(seed uint64, pool []*simrig.Fault, due []string) []*simrig.Fault {
	chance := rand.New(rand.NewPCG(seed, streamCase))
	for _, id := range due {
		i := slices.IndexFunc(pool, func(f *simrig.Fault) bool { return f.ID == id })
		if i >= 0 && chance.Float64() < 0.75 {
			return append([]*simrig.Fault{pool[i]}, slices.Delete(slices.Clone(pool), i, i+1)...)
		}
	}
	return pool
}

// usually lists what would be noticed on the same rig with nothing hidden in it.
func usually(makes Make) ([]string, error) {
	r, err := makes(nil, "exact")
	if err != nil {
		return nil, err
	}
	return r.Symptoms(), nil
}

// shown says whether a complaint is one that the first of the faults brings.
func shown(faults []*simrig.Fault, sets []simrig.Set, symptom string) bool {
	f := faultByID(faults, sets[0].Fault)
	return f != nil && slices.Contains(f.Shown, symptom)
}

// poolOf lists the faults that fit a wish on this rig.
func poolOf(g *graph.Graph, sys *rig.System, faults []*simrig.Fault, w Wish) []*simrig.Fault {
	var out []*simrig.Fault
	for _, f := range faults {
		found := findingOf(g, f.ID)
		switch {
		case f.Unlisted, found == nil, len(sitesOf(f, sys)) == 0:
		case w.Fault != "":
			if f.ID == w.Fault || found.ID == w.Fault {
				out = append(out, f)
			}
		case (f.NoFault || found.Stop != graph.NoStop) && !w.Level.All:
		case w.Level.N == 1 && found.Often != graph.Common:
		case w.Level.Faults > 1 && (f.NoFault || found.Stop != graph.NoStop): // it would end there
		default:
			out = append(out, f)
		}
	}
	return out
}

// clash says that two faults can't stand beside each other in a drill: the same
// finding, or one that is none.
func clash(g *graph.Graph, a, b *simrig.Fault) bool {
	fa, fb := findingOf(g, a.ID), findingOf(g, b.ID)
	return a.ID == b.ID || fa == fb || a.NoFault || fa.Stop != graph.NoStop
}

// findingOf is the finding that names a fault, nil if none does.
func findingOf(g *graph.Graph, fault string) *graph.Finding {
	for _, id := range g.FindingOrder {
		if covers(g.Findings[id], fault) {
			return g.Findings[id]
		}
	}
	return nil
}

// sitesOf lists where a fault can sit; "" is no part in particular.
func sitesOf(f *simrig.Fault, sys *rig.System) []string {
	if f.Sites == nil {
		return []string{""}
	}
	return f.Sites(sys)
}

// draw draws a fault's site, size and looks. The site is the one that ranks
// first, so that a rig with one more of its kind mostly keeps its case.
func draw(chance *rand.Rand, sys *rig.System, f *simrig.Fault, gross bool) simrig.Set {
	by := chance.Uint64()
	sites := slices.Clone(sitesOf(f, sys))
	slices.SortFunc(sites, func(a, b string) int { return cmp.Compare(rank(by, a), rank(by, b)) })
	s := simrig.Set{Fault: f.ID, At: sites[0], Chance: chance.Float64()}
	at := chance.Float64()
	if gross {
		at = 0.4 + 0.3*at // plain to see, and not yet cooked
	}
	s.Severity = severity(f, at)
	return s
}

// severity is a fault's severity at a part of its range, 0 to 1.
func severity(f *simrig.Fault, at float64) float64 {
	if f.Log && f.Lo > 0 {
		return f.Lo * math.Pow(f.Hi/f.Lo, at)
	}
	return f.Lo + (f.Hi-f.Lo)*at
}

// Listing is a fault as a list shows it.
type Listing struct {
	Fault, Finding, Name string
	Level                int // the lowest at which it comes up
}

// Listed lists the faults that can be drilled, in the order of the catalogue.
func Listed(g *graph.Graph, faults []*simrig.Fault) []Listing {
	var out []Listing
	for _, f := range faults {
		found := findingOf(g, f.ID)
		if f.Unlisted || found == nil {
			continue
		}
		l := Listing{Fault: f.ID, Finding: found.ID, Name: f.Name, Level: 2}
		switch {
		case f.NoFault, found.Stop != graph.NoStop:
			l.Level = 4
		case found.Often == graph.Common:
			l.Level = 1
		}
		out = append(out, l)
	}
	return out
}
