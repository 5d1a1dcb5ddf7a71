package simrig

// leadFaults are the open and poor places between controller and battery that
// the eye passes over. A poor splice must be poor enough that nothing worth
// naming gets through: then its missing volts stand across it.
func leadFaults() []*Fault {
	open := func(look ...string) func(*Plant, string, float64, float64) {
		return on(func(_ *Plant, x *Part, _, chance float64) { x.Broken, x.Look = true, oneOf(chance, look...) })
	}
	poor := on(func(p *Plant, x *Part, severity, chance float64) {
		x.FaceOhm, x.Look = severity*twelves(p.Sys), oneOf(chance, "crust", "crust", "twist-on", "browned")
		x.Browned = x.Look == "browned"
	})
	return []*Fault{
		{
			ID: "plus-splice-open", Name: "a wire has left the splice in the controller's plus lead",
			Sites: named("ctl-pos-splice"), Apply: open("wire-out", "wire-out", "twist-on"),
			Repair: "The splice is cut out and crimped anew.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "plus-splice-high", Name: "the splice in the controller's plus lead is corroded",
			Sites: named("ctl-pos-splice"), Lo: 8, Hi: 80, Log: true, Unit: "ohm", Apply: poor,
			Seen:   "Green dust comes out of the tape around a splice.",
			Repair: "The splice is cut back to bright strands and crimped anew.",
			Shown:  []string{noCharge}, Source: "practice; Holm: a film carries next to nothing",
		},
		{
			ID: "plus-wire-broken", Name: "the controller's plus wire is broken inside its sheath",
			Sites: named("ctl-pos", "ctl-pos-bus"),
			Apply: on(func(_ *Plant, x *Part, _, chance float64) {
				x.Broken, x.Look = true, oneOf(chance, "crust", "sound")
			}),
			Repair: "The length of wire is renewed.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "minus-splice-open", Name: "a wire has left the splice in the controller's minus lead",
			Sites: named("ctl-neg-splice"), Apply: open("wire-out", "wire-out", "twist-on"),
			Repair: "The splice is taken out, and each wire gets a lug on a bar.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "minus-splice-high", Name: "the splice in the controller's minus lead is corroded",
			Sites: named("ctl-neg-splice"), Lo: 8, Hi: 80, Log: true, Unit: "ohm", Apply: poor,
			Seen:   "A twisted joint in the minus lead is green.",
			Repair: "The splice is taken out, and each wire gets a lug on a bar.",
			Shown:  []string{noCharge}, Source: "practice; Holm: a film carries next to nothing",
		},
		{
			ID: "minus-wire-broken", Name: "the controller's minus wire is broken inside its sheath",
			Sites: named("ctl-neg"),
			Apply: on(func(_ *Plant, x *Part, _, chance float64) {
				x.Broken, x.Look = true, oneOf(chance, "crust", "sound")
			}),
			Repair: "The length of wire is renewed.",
			Shown:  []string{noCharge}, Source: "practice",
		},
		{
			ID: "controller-screw-burnt", Name: "a screw of the controller has burnt off its wire",
			Sites: named("ctl-pos", "ctl-neg", "pv-pos-ctl", "pv-neg-ctl"),
			Apply: on(func(p *Plant, x *Part, _, _ float64) {
				x.Broken, x.Browned = true, true
				p.Controller.Look = "terminal-burnt"
			}),
			Seen: "A terminal of the controller is brown and sunk.", Smelt: "It smelt of hot plastic last week.",
			Repair: "The wire is cut back and the terminal renewed.",
			Shown:  []string{noCharge}, Source: "practice; IEC 60947-1",
		},
	}
}
