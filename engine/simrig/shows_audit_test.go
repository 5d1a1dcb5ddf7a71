package simrig

// What the proving of a whole system tells is walked by TestProvingASystem of
// engine/prove: it starts at no complaint. What meters and the load output of a
// controller can bring is no state of the simulated network.
func init() {
	for _, id := range []string{
		"lug-turned",
		"visual-faults",
		"fuse-missing",
		"fuse-over-wire",
		"breaker-turned",
		"fuse-type-wrong",
		"pair-reversed",
		"damp-to-frame",
		"setting-differs",
		"isolator-missing",
		"precharge-missing",
		"draws-when-off",
		"test-too-small",
		"holder-fails-test",
		"joint-fails-test",
		"not-all-seen",
		"charge-unseen",
		"system-proved",
	} {
		notSimulated[id] = "it is found by the procedure that proves a system, which no complaint leads to"
	}
	for id, why := range map[string]string{
		"meter-set-wrong":               "the meter of a simulated rig is set right or answers nothing",
		"meter-battery-low":             "a spent meter is the fault meter-battery-spent, met by comparing two meters",
		"amp-meter-misused":             "what a hand does wrong with a clamp is no state of a circuit",
		"infrared-on-bare-metal":        "the simulated person has tape on the part",
		"amps-at-wrong-volts":           "what a person takes for the battery's amps is no state of a circuit",
		"ghost-volts":                   "contacts of the simulated rigs are ohmic: none carries a meter and not a lamp",
		"no-current-no-drop":            "the simulated person switches the load on that a reading wants",
		"average-meter-on-stepped-wave": "nothing is read on the mains side",
		"across-negatives-normal":       "the simulated controllers share their minus",
		"charger-hides-open-lead":       "the simulated person switches the chargers off for a reading that wants it",
		"odd-but-true":                  "nothing is wrong",
		"stray-light-at-night":          "no lamp shines on the simulated arrays",
		"controller-wet":                "water in a box is no state of a circuit",
		"battery-open-under-charge":     "it shows as no charge on the simulated rigs, which have no load that suffers",
		"common-positive-bonded":        "the simulated controllers share their minus",
		"battery-warm":                  "a warm battery of the simulated rigs has a cause with a name of its own",
		"regulation-failed-high":        "the simulated controllers regulate or are dead",
		"controller-lit-again":          "nothing is wrong",
		"load-output-sound":             "nothing is wrong",
		"volts-in-order":                "nothing is wrong",
		"load-mode-wrong":               "the loads of the simulated rigs hang on the bar",
		"cut-off-set-wrong":             "the loads of the simulated rigs hang on the bar",
		"low-volt-cut-normal":           "the loads of the simulated rigs hang on the bar",
		"load-output-overload":          "the loads of the simulated rigs hang on the bar",
	} {
		notSimulated[id] = why
	}
}
