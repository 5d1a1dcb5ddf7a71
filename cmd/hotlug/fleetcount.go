package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hotlug/engine/graph"
	"hotlug/engine/walk"
	"hotlug/session"
)

// passFinding is what a rig has come to that has passed the test of a whole
// system; its proof is the last reading of the test.
const passFinding = "system-proved"

// What a report holds at most: beyond it things are counted only.
const (
	mostOpen    = 10_000
	mostDamaged = 1_000
)

// These are what `fleet --json` prints.
type (
	fleetReport struct {
		Today        string       `json:"today"`
		Every        int          `json:"every_days"`
		Sessions     int          `json:"sessions"`
		Unfinished   int          `json:"unfinished"`
		Rigs         []fleetRig   `json:"rigs"`
		Open         []openRow    `json:"open"`
		OpenMore     int          `json:"open_more,omitempty"` // beyond those listed
		Causes       []causeRow   `json:"causes"`
		Trainees     []traineeRow `json:"trainees"`
		Damaged      []damagedRow `json:"damaged"`
		DamagedCount int          `json:"damaged_count"`
	}
	fleetRig struct {
		Name     string `json:"name"`
		About    string `json:"about,omitempty"`
		Sessions int    `json:"sessions"`
		Open     int    `json:"open"`
		Last     string `json:"last_session,omitempty"` // day of its latest session
		Passed   string `json:"passed,omitempty"`       // day of its latest pass
		Days     int    `json:"days,omitempty"`         // since then
		Overdue  bool   `json:"overdue"`
		Problem  string `json:"problem,omitempty"` // of its file
		NoFile   bool   `json:"no_file,omitempty"` // known from sessions only
	}
	openRow struct {
		Rig     string `json:"rig,omitempty"`
		Session string `json:"session"`
		Finding string `json:"finding"`
		Cause   string `json:"cause"`
		Status  string `json:"status"`
		Since   string `json:"since"` // day
		Days    int    `json:"days"`
		Stop    bool   `json:"stop,omitempty"`         // it stops work
		Passed  bool   `json:"passed_since,omitempty"` // the rig has passed its test since
	}
	causeRow struct {
		Finding string `json:"finding"`
		Cause   string `json:"cause"`
		Count   int    `json:"count"`
		Proven  int    `json:"proven"`
	}
	damagedRow struct {
		ID      string `json:"id"`
		Problem string `json:"problem"`
	}
)

// fleetCount adds up sessions, newest first, without holding them: what it holds
// grows with rigs and with kinds of findings.
type fleetCount struct {
	g     *graph.Graph
	now   time.Time
	out   fleetReport
	rigs  map[string]*fleetRig
	seen  map[[2]string]bool // rig and finding: the newest session has said how it stands
	cause map[string]*causeRow
}

func newFleetCount(g *graph.Graph, now time.Time, every int) *fleetCount {
	return &fleetCount{
		g: g, now: now, rigs: map[string]*fleetRig{}, seen: map[[2]string]bool{}, cause: map[string]*causeRow{},
		out: fleetReport{Today: now.Format(time.DateOnly), Every: every, Open: []openRow{}, Damaged: []damagedRow{}},
	}
}

// rig takes in a rig of the folder.
func (c *fleetCount) rig(r rigRow) {
	if !r.Begun {
		c.rigs[r.Name] = &fleetRig{Name: r.Name, About: r.About, Problem: r.Problem}
	}
}

// session takes in a session. It never fails: one that can't be used is counted.
func (c *fleetCount) session(s session.Summary) error {
	c.out.Sessions++
	if s.Err != nil {
		c.out.DamagedCount++
		if len(c.out.Damaged) < mostDamaged {
			c.out.Damaged = append(c.out.Damaged, damagedRow{s.ID, s.Err.Error()})
		}
		return nil
	}
	if s.Outcome == "" {
		c.out.Unfinished++
	}
	r := c.rigOf(s)
	for _, f := range s.Findings {
		c.finding(s, r, f)
	}
	return nil
}

func (c *fleetCount) rigOf(s session.Summary) *fleetRig {
	name := strings.ToLower(s.Rig)
	if name == "" {
		return nil
	}
	r := c.rigs[name]
	if r == nil {
		r = &fleetRig{Name: name, NoFile: true}
		c.rigs[name] = r
	}
	r.Sessions++
	r.Last = max(r.Last, dayOf(latest(s)))
	return r
}

func latest(s session.Summary) time.Time {
	if s.Last.After(s.Created) {
		return s.Last
	}
	return s.Created
}

func dayOf(t time.Time) string { return t.Local().Format(time.DateOnly) }

func (c *fleetCount) days(t time.Time) int { return max(0, int(c.now.Sub(t).Hours()/24)) }

func (c *fleetCount) finding(s session.Summary, r *fleetRig, f session.Concluded) {
	at := f.At
	if at.IsZero() {
		at = latest(s)
	}
	known := c.g.Findings[f.Finding]
	if f.Finding == passFinding && f.Status == string(walk.IsProven) && r != nil && dayOf(at) > r.Passed {
		r.Passed, r.Days = dayOf(at), c.days(at)
	}
	if known != nil && known.NoFault || f.Status == string(walk.IsRefuted) {
		c.stands(r, f.Finding)
		return
	}
	k := c.cause[f.Finding]
	if k == nil {
		k = &causeRow{Finding: f.Finding, Cause: causeOf(c.g, f.Finding)}
		c.cause[f.Finding] = k
	}
	k.Count++
	proven := f.Status == string(walk.IsProven)
	if proven {
		k.Proven++
	}
	if c.stands(r, f.Finding) || proven {
		return
	}
	if r != nil {
		r.Open++
	}
	if len(c.out.Open) == mostOpen {
		c.out.OpenMore++
		return
	}
	row := openRow{Session: s.ID, Finding: f.Finding, Cause: k.Cause, Status: f.Status, Since: dayOf(at), Days: c.days(at), Stop: known != nil && known.Stop == graph.StopWalk}
	if r != nil {
		row.Rig, row.Passed = r.Name, r.Passed > row.Since
	}
	c.out.Open = append(c.out.Open, row)
}

// stands says whether a newer session of the rig has said how a finding stands,
// and takes note that one has. Sessions without a rig can't be told apart by it.
func (c *fleetCount) stands(r *fleetRig, finding string) bool {
	if r == nil {
		return false
	}
	k := [2]string{r.Name, finding}
	was := c.seen[k]
	c.seen[k] = true
	return was
}

// report puts all in order.
func (c *fleetCount) report() fleetReport {
	out := c.out
	out.Rigs = []fleetRig{}
	for _, r := range c.rigs {
		r.Overdue = r.Passed == "" || r.Days > out.Every
		out.Rigs = append(out.Rigs, *r)
	}
	slices.SortFunc(out.Rigs, func(a, b fleetRig) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortStableFunc(out.Open, func(a, b openRow) int {
		if a.Stop != b.Stop {
			return map[bool]int{true: -1, false: 1}[a.Stop]
		}
		return cmp.Or(cmp.Compare(a.Since, b.Since), cmp.Compare(a.Rig, b.Rig), cmp.Compare(a.Finding, b.Finding))
	})
	out.Causes = []causeRow{}
	for _, k := range c.cause {
		out.Causes = append(out.Causes, *k)
	}
	slices.SortFunc(out.Causes, func(a, b causeRow) int {
		return cmp.Or(-cmp.Compare(a.Count, b.Count), cmp.Compare(a.Finding, b.Finding))
	})
	return out
}

// overdue are the rigs that have not passed for too long, the longest first, those
// that never have before all others.
func (r fleetReport) overdue() []fleetRig {
	var out []fleetRig
	for _, x := range r.Rigs {
		if x.Overdue {
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b fleetRig) int { return cmp.Compare(a.Passed, b.Passed) })
	return out
}

func (o openRow) say() string {
	rig := o.Rig
	if rig == "" {
		rig = "no rig named"
	}
	say := fmt.Sprintf("%s, since %s: %s (%s, %s)", rig, o.Since, strings.TrimSuffix(o.Cause, "."), o.Status, o.Session)
	if o.Stop {
		say = "STOP " + say
	}
	if o.Passed {
		say += "; it has passed its test since"
	}
	return say
}

func (r fleetRig) say() string {
	if r.Passed == "" {
		return r.Name + ": never passed"
	}
	return fmt.Sprintf("%s: passed on %s, %d days ago", r.Name, r.Passed, r.Days)
}

func (k causeRow) say() string {
	return fmt.Sprintf("%d times: %s (%d proven)", k.Count, strings.TrimSuffix(k.Cause, "."), k.Proven)
}
