package prove

import (
	"cmp"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"

	"hotlug/engine/simrig"
)

// Kind says what a case is for.
type Kind string

// Kinds of case.
const (
	Listed   Kind = "listed"   // one fault that the knowledge has a finding for
	Healthy  Kind = "healthy"  // no fault, and the person complains anyway
	Unlisted Kind = "unlisted" // a fault that the knowledge has no finding for
	Double   Kind = "double"   // two faults at once
)

// Case is one rig with its faults, as a walk will meet it.
type Case struct {
	Kind  Kind         `json:"kind"`
	Fault string       `json:"fault,omitempty"` // "" for a healthy rig; of two, the first
	N     int          `json:"n"`               // number of the case among those of its fault and kind
	Rig   int          `json:"rig"`             // number of the rig in the population
	Sets  []simrig.Set `json:"sets,omitempty"`
	Seed  uint64       `json:"-"`
}

// Name is how the case is called: "worn-holder/3".
func (c Case) Name() string {
	f := c.Fault
	switch {
	case c.Kind == Healthy:
		f = "healthy"
	case c.Kind == Double:
		f = c.Sets[0].Fault + "+" + c.Sets[1].Fault
	}
	return fmt.Sprintf("%s/%d", f, c.N)
}

// Plan says which cases there are.
type Plan struct {
	Seed   uint64
	Rigs   int      // cases of each fault
	Faults []string // only these; nil for all, and then healthy rigs and two faults as well
}

// population draws the cases. pool are the rigs, of which several faults use the
// same; a fault that none of them can have is listed in never.
func population(faults []*simrig.Fault, pool []*Base, p Plan) (cases []Case, never []string) {
	for _, f := range faults {
		if len(p.Faults) > 0 && !slices.Contains(p.Faults, f.ID) {
			continue
		}
		kind := Listed
		if f.Unlisted {
			kind = Unlisted
		}
		at := int(seedOf(p.Seed, "rigs of "+f.ID, 0) % uint64(len(pool)))
		n := 0
		for i := 0; n < p.Rigs && i < 4*len(pool)+4*p.Rigs; i++ {
			r := (at + i) % len(pool)
			if n == 0 && i == len(pool) {
				break // none of them can have it
			}
			seed := seedOf(p.Seed, f.ID, i)
			set, ok := draw(f, pool[r], n, p.Rigs, rand.New(rand.NewPCG(seed, 1)))
			if !ok {
				continue
			}
			cases = append(cases, Case{Kind: kind, Fault: f.ID, N: n, Rig: r, Sets: []simrig.Set{set}, Seed: seed})
			n++
		}
		if n == 0 {
			never = append(never, f.ID)
		}
	}
	if len(p.Faults) > 0 {
		return cases, never
	}
	for n := range 2 * p.Rigs {
		cases = append(cases, Case{Kind: Healthy, N: n, Rig: n % len(pool), Seed: seedOf(p.Seed, "healthy", n)})
	}
	return append(cases, doubles(faults, pool, p)...), never
}

// doubles are cases of two faults that one rig can have both.
func doubles(faults []*simrig.Fault, pool []*Base, p Plan) []Case {
	var out []Case
	listed := slices.DeleteFunc(slices.Clone(faults), func(f *simrig.Fault) bool { return f.Unlisted || f.NoFault })
	if len(listed) < 2 {
		return nil
	}
	want := max(1, len(listed)*p.Rigs/15)
	for i := 0; len(out) < want && i < 20*want; i++ {
		seed := seedOf(p.Seed, "double", i)
		chance := rand.New(rand.NewPCG(seed, 1))
		r := chance.IntN(len(pool))
		a := listed[chance.IntN(len(listed))]
		b := listed[chance.IntN(len(listed))]
		sa, ok := draw(a, pool[r], 0, 1, chance)
		sb, ok2 := draw(b, pool[r], 0, 1, chance)
		if a == b || !ok || !ok2 || sa.At != "" && sa.At == sb.At {
			continue
		}
		out = append(out, Case{Kind: Double, Fault: a.ID, N: len(out), Rig: r, Sets: []simrig.Set{sa, sb}, Seed: seed})
	}
	return out
}

// draw makes a fault as case n of total has it on a rig, or says that the rig
// can't have it. Severities go evenly over their range, so that mild and gross
// ones both occur.
func draw(f *simrig.Fault, b *Base, n, total int, chance *rand.Rand) (simrig.Set, bool) {
	set := simrig.Set{Fault: f.ID}
	if f.Sites != nil {
		sites := f.Sites(b.Sys)
		if len(sites) == 0 {
			return set, false
		}
		set.At = sites[chance.IntN(len(sites))]
	}
	// The n-th of the golden-ratio sequence: any stretch of it is spread evenly.
	_, part := math.Modf((float64(n) + chance.Float64()/float64(max(1, total))) * 0.6180339887498949)
	if f.Log && f.Lo > 0 {
		set.Severity = f.Lo * math.Pow(f.Hi/f.Lo, part)
	} else {
		set.Severity = f.Lo + part*(f.Hi-f.Lo)
	}
	set.Chance = chance.Float64()
	return set, true
}

// seedOf mixes a seed with what it is for.
func seedOf(seed uint64, what string, n int) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%d|%s|%d", seed, what, n)
	return h.Sum64()
}

// possible are the symptoms that somebody can complain of on a rig: nobody
// complains of what it does not have.
func possible(b *Base, all []string) []string {
	if b.Sys == nil {
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(s string) bool { return !simrig.Has(b.Sys, s) })
}

// complaint chooses what the person complains of: something that they notice and
// that the fault is known to bring, the stronger the likelier. only keeps to one
// symptom. ok is false if nobody would complain.
func complaint(c Case, f *simrig.Fault, notices func(among ...string) []string, all []string, only string) (symptom string, ok bool) {
	chance := rand.New(rand.NewPCG(c.Seed, 2))
	if only != "" {
		all = slices.DeleteFunc(slices.Clone(all), func(s string) bool { return s != only })
	}
	if f == nil { // a healthy rig: whatever somebody worries about
		if len(all) == 0 {
			return "", false
		}
		return all[chance.IntN(len(all))], true
	}
	var among []string
	if len(f.Shown) > 0 {
		among = notices(f.Shown...)
	}
	if len(among) == 0 {
		among = notices()
	} else {
		slices.SortStableFunc(among, func(a, b string) int {
			return cmp.Compare(slices.Index(f.Shown, a), slices.Index(f.Shown, b))
		})
	}
	among = slices.DeleteFunc(slices.Clone(among), func(s string) bool { return !slices.Contains(all, s) })
	if len(among) == 0 {
		return "", false
	}
	for _, s := range among[:len(among)-1] { // each half as likely as the one before
		if chance.IntN(2) == 0 {
			return s, true
		}
	}
	return among[len(among)-1], true
}
