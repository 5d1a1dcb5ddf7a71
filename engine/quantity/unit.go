package quantity

import (
	"fmt"
	"math"
	"strings"
)

// The bases that units are built on. Percent and newton are bases of their own
// on purpose: 80 % is not 0.8, and a torque (N·m) is not an energy (W·s).
const (
	volt = iota
	ampere
	second
	metre
	kelvin
	percent
	newton
	bases
)

var baseSymbols = [bases]string{"V", "A", "s", "m", "K", "%", "N"}

// Unit is a product of powers of the bases, times Scale. Point marks a place on
// the Celsius scale, as against a difference of temperature.
type Unit struct {
	Dim   [bases]int8
	Scale float64
	Point bool
}

// One is the unit of plain numbers: counts and ratios.
var One = Unit{Scale: 1}

func product(scale float64, powers ...int8) Unit {
	u := Unit{Scale: scale}
	copy(u.Dim[:], powers)
	return u
}

// units lists every unit that has a symbol. The order decides which symbol a
// unit prints with when two have the same meaning: the first one.
//
//	powers of:                 V  A  s  m  K  %  N
var units = []struct {
	symbol string
	unit   Unit
}{
	{"1", One},
	{"V", product(1, 1)},
	{"A", product(1, 0, 1)},
	{"ohm", product(1, 1, -1)},
	{"W", product(1, 1, 1)},
	{"J", product(1, 1, 1, 1)},
	{"Wh", product(3600, 1, 1, 1)},
	{"As", product(1, 0, 1, 1)},
	{"Ah", product(3600, 0, 1, 1)},
	{"s", product(1, 0, 0, 1)},
	{"min", product(60, 0, 0, 1)},
	{"h", product(3600, 0, 0, 1)},
	{"m", product(1, 0, 0, 0, 1)},
	{"mm2", product(1e-6, 0, 0, 0, 2)},
	{"K", product(1, 0, 0, 0, 0, 1)},
	{"degC", Unit{Dim: [bases]int8{kelvin: 1}, Scale: 1, Point: true}},
	{"%", product(1, 0, 0, 0, 0, 0, 1)},
	{"Nm", product(1, 0, 0, 0, 1, 0, 1)},
	{"F", product(1, -1, 1, 1)},
	{"H", product(1, 1, -1, 1)},
	{"A2s", product(1, 0, 2, 1)},
	{"V/K", product(1, 1, 0, 0, 0, -1)},
	{"K/W", product(1, -1, -1, 0, 0, 1)},
	{"ohm/m", product(1, 1, -1, 0, -1)},
	{"W/m2", product(1, 1, 1, 0, -2)},
	{"m3/h", product(1.0/3600, 0, 0, -1, 3)},
	{"%/h", product(1.0/3600, 0, 0, -1, 0, 0, 1)},
	{"%/K", product(1, 0, 0, 0, 0, -1, 1)},
}

// BySymbol finds a unit by the symbol used in the knowledge ("ohm", "degC").
func BySymbol(symbol string) (Unit, bool) {
	for _, u := range units {
		if u.symbol == symbol {
			return u.unit, true
		}
	}
	return Unit{}, false
}

// MustUnit is BySymbol for symbols written in Go; it panics on an unknown one.
func MustUnit(symbol string) Unit {
	u, ok := BySymbol(symbol)
	if !ok {
		panic("quantity: no unit " + symbol)
	}
	return u
}

// Symbols lists the symbols of all named units.
func Symbols() []string {
	s := make([]string, len(units))
	for i, u := range units {
		s[i] = u.symbol
	}
	return s
}

func nearly(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(math.Abs(a), math.Abs(b))
}

// Same says that values in u and v can be added as they are.
func (u Unit) Same(v Unit) bool {
	return u.Dim == v.Dim && nearly(u.Scale, v.Scale) && u.Point == v.Point
}

// Like says that u and v measure the same thing, perhaps on another scale.
func (u Unit) Like(v Unit) bool { return u.Dim == v.Dim && u.Point == v.Point }

// Plain says that u is the unit of counts and ratios.
func (u Unit) Plain() bool { return u.Same(One) }

// Difference is the unit of the difference of two values in u.
func (u Unit) Difference() Unit { u.Point = false; return u }

// Times is the unit of a product.
func (u Unit) Times(v Unit) Unit {
	r := Unit{Scale: u.Scale * v.Scale}
	for i := range r.Dim {
		r.Dim[i] = u.Dim[i] + v.Dim[i]
	}
	return r
}

// Over is the unit of a quotient.
func (u Unit) Over(v Unit) Unit {
	r := Unit{Scale: u.Scale / v.Scale}
	for i := range r.Dim {
		r.Dim[i] = u.Dim[i] - v.Dim[i]
	}
	return r
}

// Symbol is the unit's name if it has one, else "".
func (u Unit) Symbol() string {
	for _, n := range units {
		if n.unit.Same(u) {
			return n.symbol
		}
	}
	return ""
}

// String is the symbol, or the unit spelt out in its bases ("V2/m").
func (u Unit) String() string {
	if s := u.Symbol(); s != "" {
		return s
	}
	var over, under []string
	for i, e := range u.Dim {
		s := baseSymbols[i]
		if e > 1 || e < -1 {
			s = fmt.Sprintf("%s%d", s, max(e, -e))
		}
		switch {
		case e > 0:
			over = append(over, s)
		case e < 0:
			under = append(under, s)
		}
	}
	s := strings.Join(over, "·")
	if s == "" {
		s = "1"
	}
	if len(under) > 0 {
		s += "/" + strings.Join(under, "·")
	}
	if !nearly(u.Scale, 1) {
		s = fmt.Sprintf("%g %s", u.Scale, s)
	}
	return s
}
