package graph

import (
	"bufio"
	"bytes"
	"fmt"
	"io/fs"
	"slices"
	"sort"
	"strconv"
	"strings"

	"hotlug/engine/reading"
)

// OddsFile is the file of a layer that says how often each finding shows which
// answers, counted on simulated rigs. It orders what is still possible, and is
// read when that is first asked for.
const OddsFile = "odds.txt"

// Odds says how likely an answer is where a finding is the cause. Answers are
// counted in buckets: the options of a choice, the ranges between the cuts of a
// number.
type Odds struct {
	cuts map[string][]float64 // by reading
	all  map[string][]float64 // share of each bucket over all findings
	of   map[string]map[string][]float64

	known map[string]bool // findings
}

// Parts of a likelihood: how much a finding's own count weighs beside that of all,
// and what no answer falls below, so that one slip never rules a cause out.
const (
	ownPart  = 0.9
	leastOdd = 0.01
)

// Bucket is the one that an answer falls into: the index of its choice, or for a
// number (in volts of a 12 V system if the reading scales) the number of cuts
// below it.
func (o *Odds) Bucket(r *reading.Reading, value float64, choice int) int {
	if r.Answer != reading.Number {
		return choice
	}
	return sort.SearchFloat64s(o.cuts[r.ID], value)
}

// Likely is how likely an answer is where a finding is the cause, from 0.01 to 1.
// ok is false if nothing was counted for the reading.
func (o *Odds) Likely(reading, finding string, bucket int) (p float64, ok bool) {
	if o == nil {
		return 0, false
	}
	all := o.all[reading]
	if bucket < 0 || bucket >= len(all) {
		return 0, false
	}
	p = all[bucket]
	if own := o.of[reading][finding]; own != nil {
		p = ownPart*own[bucket] + (1-ownPart)*p
	}
	return max(leastOdd, p), true
}

// Knows says whether anything was counted for a finding.
func (o *Odds) Knows(finding string) bool { return o != nil && o.known[finding] }

// Buckets is how many there are of a reading, 0 if it was not counted.
func (o *Odds) Buckets(reading string) int {
	if o == nil {
		return 0
	}
	return len(o.all[reading])
}

// ReadOdds reads a file of odds:
//
//	format: 1
//	reading battery_rest_v 11.9 12.2
//	 - 144
//	 battery-sound 018
//
// after a reading its cuts; then for all findings together (-), and for each that
// differs, a digit for each bucket in proportion to its share.
func ReadOdds(b []byte) (*Odds, error) {
	o := &Odds{cuts: map[string][]float64{}, all: map[string][]float64{}, of: map[string]map[string][]float64{}, known: map[string]bool{}}
	lines := bufio.NewScanner(bytes.NewReader(b))
	lines.Buffer(nil, 1<<20)
	id := ""
	for n := 1; lines.Scan(); n++ {
		f := strings.Fields(lines.Text())
		switch {
		case len(f) == 0 || f[0] == "#" || n == 1 && lines.Text() == "format: 1":
		case f[0] == "reading" && len(f) > 1:
			id = f[1]
			o.of[id] = map[string][]float64{}
			for _, c := range f[2:] {
				x, err := strconv.ParseFloat(c, 64)
				if err != nil {
					return nil, fmt.Errorf("%s, line %d: the cut %q is no number", OddsFile, n, c)
				}
				o.cuts[id] = append(o.cuts[id], x)
			}
		case len(f) == 2 && id != "":
			p, err := shares(f[1])
			if err != nil {
				return nil, fmt.Errorf("%s, line %d: %w", OddsFile, n, err)
			}
			if all := o.all[id]; f[0] != "-" && len(p) != len(all) {
				return nil, fmt.Errorf("%s, line %d: %s has %d buckets, and %s has %d", OddsFile, n, f[0], len(p), id, len(all))
			}
			if f[0] == "-" {
				o.all[id] = p
			} else {
				o.of[id][f[0]], o.known[f[0]] = p, true
			}
		default:
			return nil, fmt.Errorf("%s, line %d: a reading with its cuts or a finding with its digits belongs here", OddsFile, n)
		}
	}
	return o, lines.Err()
}

// shares reads digits as parts of one.
func shares(digits string) ([]float64, error) {
	out, sum := make([]float64, len(digits)), 0.0
	for i, d := range digits {
		if d < '0' || d > '9' {
			return nil, fmt.Errorf("%q has something that is no digit", digits)
		}
		out[i] = float64(d - '0')
		sum += out[i]
	}
	if sum == 0 {
		return nil, fmt.Errorf("%q has no share at all", digits)
	}
	for i := range out {
		out[i] /= sum
	}
	return out, nil
}

// oddsOf reads the odds of the first layer that has any. A file that can't be read
// is as good as none: what is possible is then ordered without.
func oddsOf(layers []Layer) *Odds {
	for _, l := range slices.Backward(layers) {
		b, err := fs.ReadFile(l.FS, OddsFile)
		if err != nil {
			continue
		}
		if o, err := ReadOdds(b); err == nil {
			return o
		}
	}
	return nil
}

// Odds are those of the knowledge, nil if it has none. They are read when they are
// first asked for.
func (g *Graph) Odds() *Odds {
	if g.odds == nil {
		return nil
	}
	return g.odds()
}
