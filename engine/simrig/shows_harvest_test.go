package simrig

// Findings about a charge that is too little, and about engine and mains, that no
// fault of the catalogue stands for.
func init() {
	const (
		noEngine = "the simulated rigs have no engine that charges them"
		noMains  = "the simulated rigs have no mains charger"
	)
	for id, reason := range map[string]string{
		"charge-sound":         "it is what is told on a sound rig",
		"controllers-disagree": "the simulated rigs have one charge controller",
		"controller-too-small": "which panels a rig has is what it is, and no fault that is put into it",
		"pwm-high-volt-module": "which panels a rig has is what it is, and no fault that is put into it",
		"module-reversed":      "the circuit has no panel the wrong way round in a string",
		"mixed-modules":        "all panels of a simulated array are alike",

		"belt-or-pulley-slips":  noEngine,
		"relay-cycles":          noEngine,
		"relay-coil-no-feed":    noEngine,
		"split-relay-open":      noEngine,
		"alternator-volts-high": noEngine,
		"alternator-dead":       noEngine,
		"engine-lead-drop":      noEngine,
		"diode-splitter-drop":   noEngine,
		"dcdc-no-signal":        noEngine,
		"dcdc-input-sags":       noEngine,
		"tow-line-not-through":  noEngine,
		"engine-charges":        noEngine,
		"engine-charger-rests":  noEngine,
		"charger-failed":        noMains,
		"charger-stuck-high":    noMains,
		"charger-lead-open":     noMains,
		"loads-outrun-charger":  noMains,
		"shore-not-arriving":    noMains,
		"shore-plug-burnt":      noMains,
		"shore-cord-drop":       noMains,
	} {
		notSimulated[id] = reason
	}
}
