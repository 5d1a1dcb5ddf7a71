package circuit

import (
	"fmt"
	"strings"
)

// String is the network with all values, a line an element.
func (n *Network) String() string {
	var b strings.Builder
	for i := range n.elements {
		e := &n.elements[i]
		fmt.Fprintf(&b, "  %s: %s to %s, ", e.name, n.names[e.a], n.names[e.b])
		switch e.kind {
		case resistor:
			fmt.Fprintf(&b, "%.6g ohm", e.ohm)
		case source:
			fmt.Fprintf(&b, "%.6g V behind %.6g ohm", e.volts, e.ohm)
		case current:
			fmt.Fprintf(&b, "pushes %.6g A", e.volts)
		case pole:
			if c, ok := e.pole.(*Curve); ok {
				fmt.Fprintf(&b, "array of %.6g V open, %.6g A short", c.Open(), c.Short())
			} else {
				fmt.Fprintf(&b, "%T%+v", e.pole, e.pole)
			}
		case tracker:
			fmt.Fprintf(&b, "charger to %s and %s, %+v", n.names[e.c], n.names[e.d], e.track)
		case pulse:
			fmt.Fprintf(&b, "pulse-width charger to %s and %s, %+v", n.names[e.c], n.names[e.d], e.pulse)
		}
		b.WriteByte('\n')
	}
	return b.String()
}
