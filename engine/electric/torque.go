package electric

import (
	"fmt"

	"hotlug/engine/formula"
)

var threads = []string{"M3.5", "M4", "M5", "M6", "M8", "M10", "M12"}

// Threads lists the thread words that Torque takes, in order.
func Threads() []string { return append([]string(nil), threads...) }

// Torque of a terminal screw or stud with a lug, N·m, the list of IEC 60947-1.
var terminalTorque = []float64{0.8, 1.2, 2.0, 2.5, 6.0, 10, 14}

var torqueSeats = []string{"battery-insert", "battery-stud", "terminal", "strip-fuse", "copper-bar"}

// Lowest and highest torque by seat and thread, N·m; zero where no figure is at hand.
var torqueRange = [][][2]float64{
	{{}, {}, {5, 5}, {4.5, 7.9}, {8, 10.7}, {13, 16}, {}},
	{{}, {}, {}, {4.5, 6.3}, {6.6, 8.5}, {10.4, 13}, {}},
	{{0.8, 0.8}, {1.2, 1.2}, {2, 2}, {2.5, 2.5}, {6, 6}, {10, 10}, {14, 14}},
	{{}, {}, {2, 3}, {}, {7, 9}, {}, {}},
	{{}, {}, {3, 5}, {6, 6.5}, {13, 17}, {25, 37.5}, {50, 70}},
}

// Torque is the tightening torque in N·m of a terminal screw or stud with a lug,
// for thread index i of Threads. The maker's figure always goes first.
func Torque(thread int) (float64, error) {
	if err := chosen("torque", "thread", thread, len(threads)); err != nil {
		return 0, err
	}
	return terminalTorque[thread], nil
}

// TorqueLow is the lowest usual torque in N·m for a thread and a seat
// (battery-insert, battery-stud, terminal, strip-fuse, copper-bar).
// Errors: a pair of which no figure is at hand.
func TorqueLow(thread, seat int) (float64, error) { return torqueOf("torque_low", thread, seat, 0) }

// TorqueHigh is the highest usual torque in N·m for a thread and a seat.
func TorqueHigh(thread, seat int) (float64, error) { return torqueOf("torque_high", thread, seat, 1) }

func torqueOf(fn string, thread, seat, end int) (float64, error) {
	if err := first(chosen(fn, "thread", thread, len(threads)), chosen(fn, "seat", seat, len(torqueSeats))); err != nil {
		return 0, err
	}
	t := torqueRange[seat][thread][end]
	if t == 0 {
		return 0, formula.Outside(fn, fmt.Sprintf("there is no general torque for %s on %s: take the maker's", threads[thread], torqueSeats[seat]))
	}
	return t, nil
}

func torqueTable() []*formula.Func {
	thread := oneOf("thread", "thread of the screw or stud", threads)
	seat := oneOf("seat", "what it is screwed to", torqueSeats)
	const care = "dry thread, torque wrench; the maker's figure goes first"
	return []*formula.Func{
		{
			Name: "torque", Area: "joint", Title: "Torque of a terminal with a lug",
			Params: []formula.Param{thread}, Result: unit("Nm"), Text: "table", Source: "IEC 60947-1 list [standard]", Domain: care,
			Do: func(a []float64) (float64, error) { return Torque(int(a[0])) },
		},
		{
			Name: "torque_low", Area: "joint", Title: "Lowest usual torque",
			Params: []formula.Param{thread, seat}, Result: unit("Nm"), Text: "table", Source: "typical makers' data; IEC 60947-1", Domain: care,
			Do: func(a []float64) (float64, error) { return TorqueLow(int(a[0]), int(a[1])) },
		},
		{
			Name: "torque_high", Area: "joint", Title: "Highest usual torque",
			Params: []formula.Param{thread, seat}, Result: unit("Nm"), Text: "table", Source: "typical makers' data; IEC 60947-1", Domain: care,
			Do: func(a []float64) (float64, error) { return TorqueHigh(int(a[0]), int(a[1])) },
		},
	}
}
