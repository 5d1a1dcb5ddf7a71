package diagram

// lane is one of the two lines that a rung consists of.
type lane int

const (
	plusLane  lane = 0 // left
	minusLane lane = 1 // right
)

// kind says what a row of the ladder shows.
type kind int

const (
	titleRow kind = iota // the name of a rung, with its feeds from the bars
	partRow              // a part in its lane
	pointRow             // a point in a lane; drawn where it is marked
	unitsRow             // batteries or panels in a row, across both lanes
	boxRow               // what gives or takes current, across both lanes
	leaveRow             // back to the bars
	noteRow              // words
)

// symbol is how a part is drawn.
type symbol string

const (
	symWire     symbol = "wire"
	symJoint    symbol = "joint"
	symFuse     symbol = "fuse"
	symSwitch   symbol = "switch"
	symIsolator symbol = "isolator"
	symBreaker  symbol = "breaker"
	symPlug     symbol = "plug"
	symShunt    symbol = "shunt"
	symEarth    symbol = "earth"
	symGap      symbol = "gap"
	symBattery  symbol = "battery"
	symModule   symbol = "module"
)

// row is one step down the ladder. Rows stand in their order; what a row takes in
// height is the drawing's to say.
type row struct {
	kind kind
	lane lane
	sym  symbol
	id   string // of the part; "" for what the plan does not list
	name string // what is written beside it, cleaned
	said string // a part's name as it is spoken of, in full
	more []string

	up, down [2]bool // lanes whose line comes in from above, and goes on below
	bars     [2]bool // a title's or a leave's lines to the bars

	a, b  string // a part's upper and lower point, or the left and right one of units
	point string

	// ends are the points that a box joins: plus and minus above it, plus and
	// minus below it, "" for none.
	ends [4]string

	units []string // names of the units, from left to right

	// with, when set, is a point: the row is drawn only where that is marked. So
	// the crimp of a lug shows when somebody measures across it, and not before.
	with string
	tags []tag // of a pointRow or partRow, once marks are laid over the layout
}

// tag is one end of a mark on a row.
type tag struct {
	text string // "1+", "red"
	sign int    // 1 for the red probe, -1 for the black one, 0 for a mark without probes
	mark int    // index of the mark
	full bool   // the mark's value and words stand here
}

// rung is some rows that belong together.
type rung struct {
	title string
	rows  []row
	// free is a rung that does not hang between the rig's bars: the engine side, or
	// a stretch drawn in general.
	free bool
}

// halves parts rungs so that the two halves are about equally tall.
func halves(rungs []rung, tall func(rung) float64) (left, right []rung) {
	sum := func(of []rung) float64 {
		n := 0.0
		for _, g := range of {
			n += tall(g)
		}
		return n
	}
	best, at := -1.0, 0
	for i := range len(rungs) + 1 {
		if n := max(sum(rungs[:i]), sum(rungs[i:])); best < 0 || n < best {
			best, at = n, i
		}
	}
	return rungs[:at], rungs[at:]
}
