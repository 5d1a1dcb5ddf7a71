package electric

import "hotlug/engine/formula"

// JoinAmps is the current in amps between two batteries joined side by side that
// stand volts apart at rest, with ohms a and b of their own and lead ohms
// between: dV/(Ra + Rb + Rl).
func JoinAmps(apart, a, b, lead float64) (float64, error) {
	const fn = "join_amps"
	if err := joinChecks(fn, a, b, lead); err != nil {
		return 0, err
	}
	return apart / (a + b + lead), notNegative(fn, "the difference", apart, "V")
}

// JoinVoltsMost is how far apart in volts two batteries may stand when joining
// them may draw amps. The rule of practice is stricter: 0.05 V (lithium) or
// 0.10 V (lead) per 12 V, both charged full and rested.
func JoinVoltsMost(amps, a, b, lead float64) (float64, error) {
	const fn = "join_volts_max"
	if err := first(joinChecks(fn, a, b, lead), notNegative(fn, "the current allowed", amps, "A")); err != nil {
		return 0, err
	}
	return amps * (a + b + lead), nil
}

func joinChecks(fn string, a, b, lead float64) error {
	return first(
		notNegative(fn, "the first battery", a, "ohm"), notNegative(fn, "the second battery", b, "ohm"),
		notNegative(fn, "the leads", lead, "ohm"), positive(fn, "batteries and leads together", a+b+lead, "ohm"),
	)
}

// JoinRuleVolts is the most volts apart at rest by the rule of practice for
// joining batteries side by side: 0.05 V lithium, 0.10 V lead, per 12 V.
func JoinRuleVolts(chem Chemistry, system float64) (float64, error) {
	const fn = "join_rule_volts"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	if chem == LFP {
		return 0.05 * k, err
	}
	return 0.10 * k, err
}

// ShareFirst is the part of a bank's current that the battery at the take-off
// carries when count equal batteries are wired from one end and link is the
// resistance of one step of links, both poles, over that of one battery.
// Errors: count is not a whole number of 1 to 50; a negative link.
func ShareFirst(count, link float64) (float64, error) {
	const fn = "share_first"
	if err := first(span(fn, "batteries", count, 1, 50, ""), span(fn, "links over battery", link, 0, 1000, "")); err != nil {
		return 0, err
	}
	if count != float64(int(count)) {
		return 0, formula.Outside(fn, "batteries come in whole numbers")
	}
	i, sum := 1.0, 1.0
	for range int(count) - 1 {
		i += link * sum
		sum += i
	}
	return i / sum, nil
}

func joinTable() []*formula.Func {
	apart := in("volts_apart", "V", grows, "difference of the two at rest")
	ohm := func(name, doc string, dir formula.Dir) formula.Param { return in(name, "ohm", dir, doc) }
	return []*formula.Func{
		{
			Name: "join_amps", Area: "battery", Title: "Current as two batteries are joined",
			Params: []formula.Param{apart, ohm("ohm_a", "first battery", falls), ohm("ohm_b", "second battery", falls), ohm("ohm_lead", "leads and joints", falls)},
			Result: unit("A"), Act: grows, Text: "I = dV/(Ra + Rb + Rl)", Source: "textbook", Domain: "any",
			Do: func(a []float64) (float64, error) { return JoinAmps(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "join_volts_max", Area: "battery", Title: "Most volts apart for a joining current",
			Params: []formula.Param{in("amps", "A", grows, "current allowed"), ohm("ohm_a", "first battery", grows), ohm("ohm_b", "second battery", grows), ohm("ohm_lead", "leads and joints", grows)},
			Result: unit("V"), Act: falls, Text: "dV = I·(Ra + Rb + Rl)", Source: "textbook", Domain: "any; the rule of practice is stricter",
			Do: func(a []float64) (float64, error) { return JoinVoltsMost(a[0], a[1], a[2], a[3]) },
		},
		{
			Name: "join_rule_volts", Area: "battery", Title: "Most volts apart by the rule of practice",
			Params: []formula.Param{oneOf("chemistry", "kind of battery", chemistries), in("system", "V", grows, "nominal volts of the bank")},
			Result: unit("V"), Act: falls, Text: "0.05 V lithium, 0.10 V lead, per 12 V", Source: "practice", Domain: "both charged full and rested",
			Do: func(a []float64) (float64, error) { return JoinRuleVolts(Chemistry(a[0]), a[1]) },
		},
		{
			Name: "share_first", Area: "battery", Title: "Share of the battery at the take-off",
			Params: []formula.Param{in("count", "1", falls, "batteries side by side"), in("link", "1", grows, "ohms of one step of links over ohms of one battery")},
			Result: unit("1"), Act: grows, Text: "i(k) - i(k+1) = r·sum of the currents behind", Source: "derived",
			Domain: "equal batteries, all wired from one end; whole numbers",
			Do:     func(a []float64) (float64, error) { return ShareFirst(a[0], a[1]) },
		},
	}
}
