package quantity

// Kind is a kind of quantity that a reading can be: what people call it and the
// unit in which its values are kept everywhere inside.
type Kind struct {
	ID   string // as written in the knowledge: "volts"
	Unit Unit
	Name string // in a sentence: "volts"
}

var kinds = []Kind{
	{"volts", MustUnit("V"), "volts"},
	{"amps", MustUnit("A"), "amps"},
	{"ohms", MustUnit("ohm"), "ohms"},
	{"watts", MustUnit("W"), "watts"},
	{"watt-hours", MustUnit("Wh"), "watt-hours"},
	{"amp-hours", MustUnit("Ah"), "amp-hours"},
	{"celsius", MustUnit("degC"), "degrees Celsius"},
	{"kelvin", MustUnit("K"), "degrees of difference"},
	{"metres", MustUnit("m"), "metres"},
	{"area", MustUnit("mm2"), "mm² of copper"},
	{"seconds", MustUnit("s"), "seconds"},
	{"minutes", MustUnit("min"), "minutes"},
	{"hours", MustUnit("h"), "hours"},
	{"farads", MustUnit("F"), "farads"},
	{"percent", MustUnit("%"), "per cent"},
	{"newton-metres", MustUnit("Nm"), "newton-metres"},
	{"count", One, "a number"},
	{"ratio", One, "a plain number"},
}

// KindByID finds a kind by its id.
func KindByID(id string) (Kind, bool) {
	for _, k := range kinds {
		if k.ID == id {
			return k, true
		}
	}
	return Kind{}, false
}

// Kinds lists all kinds.
func Kinds() []Kind { return append([]Kind(nil), kinds...) }
