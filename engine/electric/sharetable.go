package electric

import (
	"math"

	"hotlug/engine/formula"
)

// bmsTripLimits compares the limits of the time above the trip with the delay.
func bmsTripLimits(*formula.Func) func([]formula.Val) formula.Val {
	return func(a []formula.Val) formula.Val {
		t := bmsLimits(a[:4])
		if math.IsNaN(t.Lo) || math.IsNaN(t.Hi) || a[4].Lo < 0 {
			return formula.Val{Lo: math.NaN(), Hi: math.NaN()}
		}
		return formula.Val{CanTrue: t.Hi > a[4].Lo, CanFalse: t.Lo <= a[4].Hi}
	}
}

func shareTable() []*formula.Func {
	count := in("count", "1", falls, "batteries side by side")
	link := func(d formula.Dir) formula.Param {
		return in("link", "1", d, "ohms of one step of links, both poles, over ohms of one battery")
	}
	place := func(d formula.Dir) formula.Param { return in("place", "1", d, "1 at the take-off") }
	const sharing = "derived: ladder of equal batteries and links"
	return []*formula.Func{
		{
			Name: "share_at", Area: "battery", Title: "Share of one battery wired from one end",
			Params: []formula.Param{count, place(falls), link(mixed)}, Result: unit("1"), Text: "cosh((n - k + 0.5)·t)/sum, 2·cosh(t) = 2 + link", Source: sharing,
			Domain: "equal batteries and links, up to 50; whole numbers", Example: "count=4 place=1 link=0.065", Do: of3(ShareAt),
			Limits: shareLimits(ShareAt),
		},
		{
			Name: "share_diagonal_at", Area: "battery", Title: "Share of one battery with a diagonal take-off",
			Params: []formula.Param{count, place(mixed), link(mixed)}, Result: unit("1"), Text: "cosh((k - (n + 1)/2)·t)/sum, 2·cosh(t) = 2 + link", Source: sharing,
			Domain: "equal batteries and links, up to 50; whole numbers", Example: "count=4 place=1 link=0.065", Do: of3(ShareDiagonalAt),
			Limits: shareLimits(ShareDiagonalAt),
		},
		{
			Name: "bank_amps_at_trip", Area: "battery", Title: "Bank current that trips the most loaded battery",
			Params: []formula.Param{in("limit", "A", grows, "limit of one BMS"), in("share", "1", falls, "share of the most loaded: share_first")}, Result: unit("A"), Act: falls,
			Text: "I = limit/share", Source: "derived", Domain: "any", Example: "limit=100A share=0.302", Do: of2(BankAmpsAtTrip),
		},
		withLimits(unevenLimits, &formula.Func{
			Name: "shares_uneven", Area: "battery", Title: "Do the batteries side by side share badly?",
			Params: []formula.Param{in("most", "A", grows, "largest current of one"), in("least", "A", falls, "least current of one"), in("mean", "A", mixed, "mean of all")},
			Text:   "most > 1.25·mean or least < 0.75·mean", Source: "practice", Domain: "at a tenth of the bank's amp-hours or more", Example: "most=30A least=21A mean=25A", Do: of3(SharesUneven),
		}),
		{
			Name: "join_moves", Area: "battery", Title: "Amp-hours that flow over as two batteries are joined",
			Params: []formula.Param{in("ah", "Ah", grows, "amp-hours of each"), in("charge_a", "%", mixed, "charge of the first"), in("charge_b", "%", mixed, "charge of the second")},
			Result: unit("Ah"), Text: "C·|a - b|/200", Source: "derived", Domain: "equal batteries", Example: "ah=100Ah charge-a=90% charge-b=10%", Do: of3(JoinMoves),
			Limits: joinMovesLimits,
		},
		{
			Name: "block_spread", Area: "battery", Title: "How far apart two blocks of a string stand",
			Params: []formula.Param{in("top", "V", mixed, "upper block"), in("bottom", "V", mixed, "lower block")}, Result: unit("%"), Act: grows,
			Text: "100·|Vt - Vb|/(Vt + Vb)", Source: "makers' data, three", Domain: "both read at the same moment", Example: "top=14.9V bottom=13.5V", Do: of2(BlockSpread),
			Limits: blockSpreadLimits,
		},
		{
			Name: "block_high", Area: "battery", Title: "Volts of the higher of two blocks",
			Params: []formula.Param{in("volts", "V", grows, "the string"), in("spread", "%", grows, "how far apart they stand")}, Result: unit("V"),
			Text: "V/2·(1 + d/100)", Source: "derived", Domain: "two blocks in series", Example: "volts=28.8V spread=2%", Do: of2(BlockHigh),
		},
		{
			Name: "block_volts_most", Area: "battery", Title: "Most volts apart of blocks in series",
			Params: []formula.Param{oneOf("chemistry", "kind of battery", chemistries), oneOf("state", "rested and full, or in absorption", blockStates), in("string", "V", mixed, "volts of the string")}, Result: unit("V"), Act: falls,
			Text: "0.3 V; lead in absorption 2 % of 24 V, 1 % of 48 V", Source: "practice, makers' data, three", Domain: "24 and 48 V strings of 12 V blocks", Example: "chemistry=agm state=rest-full string=25.4V",
			Do:     func(a []float64) (float64, error) { return BlockVoltsMost(Chemistry(a[0]), int(a[1]), a[2]) },
			Limits: blockVoltsLimits,
		},
		{
			Name: "runner_volts", Area: "battery", Title: "Pack volts with one odd cell",
			Params: []formula.Param{in("cells", "1", grows, "cells in series"), in("volts", "V", grows, "the other cells"), in("odd", "V", grows, "the odd cell")}, Result: unit("V"),
			Text: "(n - 1)·V + V_odd", Source: "derived", Domain: "any", Example: "cells=4 volts=3.42V odd=3.75V", Do: of3(RunnerVolts),
		},
		{
			Name: "balance_hours", Area: "battery", Title: "Time that a balancer needs",
			Params: []formula.Param{in("spread", "%", grows, "imbalance of the cells"), in("ah", "Ah", grows, "amp-hours"), in("amps", "A", falls, "current of the balancer")}, Result: unit("h"), Act: grows,
			Text: "d·C/(100·I)", Source: "derived", Domain: "only while the pack stands at the top", Example: "spread=2% ah=100Ah amps=0.05A", Do: of3(BalanceHours),
		},
		withLimits(bmsTripLimits, &formula.Func{
			Name: "bms_trips", Area: "inrush", Title: "Does the inrush trip the BMS?",
			Params: []formula.Param{in("volts", "V", grows, "volts of the battery"), in("loop_ohm", "ohm", mixed, "battery, wires, fuse, joints, capacitors"), in("farad", "F", grows, "capacitors of the inverter"), in("trip_amps", "A", falls, "short-circuit trip of the BMS"), in("delay", "s", falls, "its delay, 0.1 to 0.4 ms")},
			Text:   "R·C·ln(V/(R·I)) > delay", Source: "derived; delays typical", Domain: "no pre-charge", Example: "volts=13.2V loop-ohm=20mohm farad=20000uF trip-amps=300A delay=0.0002s", Do: of5(BMSTrips),
		}),
	}
}

// shareLimits tries every whole count and place within limits, and both ends of
// the link and points between: a share of a middle battery turns once.
func shareLimits(f func(count, place, link float64) (float64, error)) func([]formula.Val) formula.Val {
	return func(a []formula.Val) formula.Val {
		lo, hi, any := math.Inf(1), math.Inf(-1), false
		for n := math.Ceil(a[0].Lo); n <= a[0].Hi && n <= 50; n++ {
			for k := math.Ceil(a[1].Lo); k <= a[1].Hi; k++ {
				last, step := math.NaN(), 0.0
				for i := range 33 {
					y, err := f(n, k, a[2].Lo+(a[2].Hi-a[2].Lo)*float64(i)/32)
					if err != nil {
						return limits(0, 0, false)
					}
					any = true
					if i > 0 {
						step = max(step, math.Abs(y-last))
					}
					last, lo, hi = y, min(lo, y), max(hi, y)
				}
				lo, hi = max(0, lo-step/2), min(1, hi+step/2)
			}
		}
		return limits(lo, hi, any)
	}
}

// joinMovesLimits: nothing flows where the two charges may be equal.
func joinMovesLimits(a []formula.Val) formula.Val {
	apart := math.Max(a[1].Hi-a[2].Lo, a[2].Hi-a[1].Lo)
	least := math.Max(0, math.Max(a[1].Lo-a[2].Hi, a[2].Lo-a[1].Hi))
	inside := a[0].Lo >= 0 && min(a[1].Lo, a[2].Lo) >= 0 && max(a[1].Hi, a[2].Hi) <= 100
	return limits(a[0].Lo*least/200, a[0].Hi*apart/200, inside)
}

// blockSpreadLimits: the spread goes by the ratio of the two, and is none where
// they may be equal.
func blockSpreadLimits(a []formula.Val) formula.Val {
	t, b := a[0], a[1]
	if t.Lo < 0 || b.Lo < 0 || t.Lo+b.Lo <= 0 {
		return limits(0, 0, false)
	}
	d := func(x, y float64) float64 { return 100 * (x - y) / (x + y) }
	return limits(max(0, d(t.Lo, b.Hi), d(b.Lo, t.Hi)), max(d(t.Hi, b.Lo), d(b.Hi, t.Lo)), true)
}

// blockVoltsLimits tries both sides of the step at 40 V.
func blockVoltsLimits(a []formula.Val) formula.Val {
	ends := []float64{a[2].Lo, a[2].Hi}
	if a[2].Lo <= 40 && a[2].Hi > 40 {
		ends = append(ends, 40, math.Nextafter(40, 41))
	}
	lo, hi, ok := math.Inf(1), math.Inf(-1), true
	for c := range chemistries {
		for s := range blockStates {
			if a[0].Words&(1<<uint(c)) == 0 || a[1].Words&(1<<uint(s)) == 0 {
				continue
			}
			for _, e := range ends {
				y, err := BlockVoltsMost(Chemistry(c), s, e)
				ok = ok && err == nil
				lo, hi = min(lo, y), max(hi, y)
			}
		}
	}
	return limits(lo, hi, ok && lo <= hi)
}

// unevenLimits: the share is even in a window of means, so both corners may be
// uneven and the middle not.
func unevenLimits(f *formula.Func) func([]formula.Val) formula.Val {
	return func(a []formula.Val) formula.Val {
		_, okLow := extreme(f, corners(f, a, false), math.Min)
		hi, okHigh := extreme(f, corners(f, a, true), math.Max)
		if !okLow || !okHigh {
			return formula.Val{Lo: math.NaN(), Hi: math.NaN()}
		}
		from, to := a[0].Lo/1.25, a[1].Hi/0.75
		return formula.Val{CanTrue: hi > 0.5, CanFalse: max(from, a[2].Lo) <= min(to, a[2].Hi)}
	}
}
