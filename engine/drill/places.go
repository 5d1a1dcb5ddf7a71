package drill

import (
	"slices"
	"strings"

	"hotlug/engine/match"
	"hotlug/engine/pattern"
	"hotlug/engine/reading"
	"hotlug/engine/rig"
	"hotlug/engine/walk"
)

// place is something of the rig at which a reading can be taken.
type place struct {
	id, name, class string
}

// classes of the parts that are no places of the rig file.
var partClass = map[rig.PartKind]string{
	rig.Fuse: "fuse", rig.Joint: "joint", rig.Screw: "joint", rig.Splice: "joint", rig.Plug: "plug", rig.PVPlug: "plug",
	rig.Breaker: "switch", rig.Isolator: "switch",
}

// placesOf lists a rig's places and its other parts that have a name.
func placesOf(s *rig.System) []place {
	var out []place
	for _, p := range s.Places {
		if p.Class == "fuse" || p.Class == "joint" || p.Class == "plug" {
			out = append(out, place{p.ID, p.Name, p.Class})
		}
	}
	for _, p := range s.Parts {
		class := partClass[p.Kind]
		known := slices.ContainsFunc(out, func(x place) bool { return x.id == p.ID })
		if class != "" && p.Name != "" && !known {
			out = append(out, place{p.ID, p.Name, class})
		}
	}
	return out
}

func (d *Drill) placeNames(classes string) []string {
	var out []string
	for _, p := range d.places {
		if fits(p, classes) {
			out = append(out, p.name)
		}
	}
	return out
}

func fits(p place, classes string) bool {
	return classes == "" || slices.Contains(strings.Fields(classes), p.class)
}

// where a reading that is no reading of the whole rig is taken: classes of
// places. Readings over a class, and those between points of the part under test,
// are found by themselves.
var takenAt = map[string]string{
	"joint_look": "joint plug", "fuse_look": "fuse", "browned": "fuse joint plug switch", "joint_c": "fuse joint plug switch",
	"twin_c": "fuse joint plug switch", "load_a": "fuse joint", "full_load_a": "fuse joint", "fuse_rating_a": "fuse",
	"wire_mm2": "fuse joint", "wire_mark_c": "fuse joint", "wire_run": "fuse joint", "plug_kind": "plug", "switch_kind": "switch",
	"switch_drop_v": "switch", "plug_drop_v": "plug", "lug_barrel_drop_v": "joint", "branch_ohm": "fuse",
}

// classesOf says at which classes of places a reading is taken, "" for the whole
// rig.
func classesOf(r *reading.Reading) string {
	if r.Over != "" {
		return r.Over
	}
	return takenAt[r.ID]
}

// spot finds the places that words name, the best first; several mean that the
// words fit them alike.
func (d *Drill) spot(words, classes string) []place {
	var entries []match.Entry
	byID := map[string]place{}
	for _, p := range d.places {
		if fits(p, classes) {
			entries = append(entries, match.Entry{ID: p.id, Label: p.name})
			byID[p.id] = p
		}
	}
	if len(entries) == 1 {
		return []place{byID[entries[0].ID]}
	}
	hits := match.New(entries).Find(wireWords.ReplaceAllString(words, " "))
	var out []place
	for _, h := range hits {
		if h.Score > hits[0].Score/clearly {
			out = append(out, byID[h.ID])
		}
	}
	return out
}

// spots are the places of some classes that words name, all of them if they name
// none.
func (d *Drill) spots(words, classes string) []place {
	if spots := d.spot(words, classes); len(spots) > 0 {
		return spots
	}
	var all []place
	for _, p := range d.places {
		if fits(p, classes) {
			all = append(all, p)
		}
	}
	return all
}

// ends are readings from one end to the other of the part at whose place they are
// taken, by the class of the place.
var ends = map[string]string{"holder_drop_v": "fuse", "switch_drop_v": "switch"}

// across is the place over whose whole length a reading is taken whatever the
// place that is named with it, nil if there is none: the main fuse for the volts
// across the main fuse.
func (d *Drill) across(r *reading.Reading) *place {
	if r.From == "" || r.To == "" || ends[r.ID] != "" {
		return nil
	}
	for i, p := range d.places {
		part, _ := d.c.Sys.Part(p.id)
		named := strings.HasPrefix(r.From, p.id+"-") && strings.HasPrefix(r.To, p.id+"-")
		if named || part.A == r.From && part.B == r.To || part.A == r.To && part.B == r.From {
			return &d.places[i]
		}
	}
	return nil
}

// twin is the reading at a place that is the same as one of the whole rig: the
// same two points, kind and states. nil if there is none.
func (d *Drill) twin(r *reading.Reading) *reading.Reading {
	p := d.across(r)
	if p == nil {
		return nil
	}
	for id, class := range ends {
		if q := d.g.Readings[id]; q != nil && class == p.class && q.Kind == r.Kind && slices.Equal(q.State, r.State) {
			return q
		}
	}
	return nil
}

// same is a key by which readings that are one are known: that at a place, if
// there is such a one.
func (d *Drill) same(k walk.Key) walk.Key {
	if r := d.g.Readings[k.Reading]; r != nil {
		if q := d.twin(r); q != nil {
			return walk.Key{Reading: q.ID, Place: d.across(r).id}
		}
	}
	return k
}

// wireWords name no place by themselves.
var wireWords = pattern.Of(`(?i)\b(wires?|cables?|leads?|clamp on|current|amps)\b`)

// clearly is how much better one thing must fit the words than the next.
const clearly = 1.12

func (d *Drill) placeName(id string) string {
	for _, p := range d.places {
		if p.id == id {
			return p.name
		}
	}
	return id
}
