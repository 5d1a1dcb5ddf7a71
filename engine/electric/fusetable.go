package electric

import (
	"math"

	"hotlug/engine/formula"
)

// breakerLimits gives the limits of BreakerDropLimit, which falls within each
// step of the standard's losses and jumps up from one step to the next.
func breakerLimits(args []formula.Val) formula.Val {
	amps, rating := args[0], args[1]
	ends := []float64{rating.Lo, rating.Hi}
	for _, a := range poleAmps {
		if a >= rating.Lo && a < rating.Hi {
			ends = append(ends, a, math.Nextafter(a, math.Inf(1)))
		}
	}
	lo, hi, ok := math.Inf(1), math.Inf(-1), true
	for _, e := range ends {
		a, err := BreakerDropLimit(amps.Lo, e)
		b, err2 := BreakerDropLimit(amps.Hi, e)
		ok = ok && err == nil && err2 == nil
		lo, hi = min(lo, a), max(hi, b)
	}
	return limits(lo, hi, ok)
}

func fuseTable() []*formula.Func {
	const chart = "typical drop charts [from memory, ±15 %]; model [derived]"
	const cont = "NEC 210.20 / 215.3 [standard], practice"
	amps := in("amps", "A", grows, "current at the moment")
	load := in("amps", "A", grows, "continuous current")
	rating := in("rating", "A", falls, "amps printed on the fuse")
	full := in("full_amps", "A", falls, "largest current of this path")
	hot := in("ambient", "degC", grows, "air around the fuse")
	return []*formula.Func{
		{
			Name: "fuse_next", Area: "fuse", Title: "Next standard fuse rating",
			Params: []formula.Param{in("amps", "A", grows, "amps it must be rated for")}, Result: unit("A"),
			Standard: true, Act: grows, Text: "smallest standard rating >= I", Source: "ISO 8820-3, -5 ratings [standard]",
			Domain: "above 0 to 600 A",
			Do:     func(a []float64) (float64, error) { return FuseNext(a[0]) },
		},
		{
			Name: "fuse_for_load", Area: "fuse", Title: "Fuse for a continuous load",
			Params: []formula.Param{load, hot}, Result: unit("A"), Standard: true, Act: grows,
			Text: "next standard >= 1.25·I/(1 - 0.002·(T - 25))", Source: cont,
			Domain: "fast fuses, -40 to 125 °C; never above what the wire may carry",
			Do:     func(a []float64) (float64, error) { return FuseForLoad(a[0], a[1]) },
		},
		{
			Name: "slow_fuse_for_load", Area: "fuse", Title: "Slow fuse or thermal breaker for a continuous load",
			Params: []formula.Param{load, hot}, Result: unit("A"), Standard: true, Act: grows,
			Text: "next standard >= 1.25·I/(1 - 0.005·(T - 25))", Source: cont,
			Domain: "slow fuses, -40 to 125 °C; never above what the wire may carry",
			Do:     func(a []float64) (float64, error) { return SlowFuseForLoad(a[0], a[1]) },
		},
		{
			Name: "fuse_temp_factor", Area: "fuse", Title: "What heat leaves of a fuse's rating",
			Params: []formula.Param{in("ambient", "degC", falls, "air around the fuse"), oneOf("speed", "kind of element", fuseSpeeds)},
			Result: unit("1"), Act: falls, Text: "f = 1 - c·(T - 25), c 0.002 fast, 0.005 slow",
			Source: "typical data, two sources", Domain: "-40 to 125 °C",
			Do: func(a []float64) (float64, error) { return FuseTempFactor(a[0], FuseSpeed(a[1])) },
		},
		{
			Name: "fuse_load", Area: "fuse", Title: "Load of a fuse as a part of what it carries",
			Params: []formula.Param{amps, rating, hot}, Result: unit("1"), Act: grows,
			Text: "I/(In·f(T))", Source: cont, Domain: "fast fuses, -40 to 125 °C; above 0.8 it ages",
			Do: func(a []float64) (float64, error) { return FuseLoad(a[0], a[1], a[2]) },
		},
		{
			Name: "fuse_cold_ohm", Area: "fuse", Title: "Cold resistance of a fuse",
			Params: []formula.Param{rating}, Result: unit("ohm"), Act: grows,
			Text: "blade chart to 40 A; 0.063/In above", Source: chart, Domain: "0.5 to 630 A",
			Do: func(a []float64) (float64, error) { return FuseColdOhm(a[0]) },
		},
		{
			Name: "fuse_drop", Area: "fuse", Title: "Drop of a sound fuse, tab to tab",
			Params: []formula.Param{amps, rating}, Result: unit("V"), Act: grows,
			Text: "U = R_cold·I·(1 + 0.42·(I/In)²)", Source: chart,
			Domain: "0.5 to 630 A, up to twice the rating",
			Do:     func(a []float64) (float64, error) { return FuseDrop(a[0], a[1]) },
		},
		{
			Name: "clip_drop_limit", Area: "fuse", Title: "Most that a fuse with its holder may drop",
			Params: []formula.Param{amps, rating, full}, Result: unit("V"), Act: grows,
			Text: "fuse_drop + 80 mV·I/I_full", Source: "practice; " + chart,
			Domain: "wire to wire across the holder; up to twice the rating",
			Do:     func(a []float64) (float64, error) { return ClipDropLimit(a[0], a[1], a[2]) },
		},
		{
			Name: "holder_good_limit", Area: "fuse", Title: "What a good fuse and holder stay under",
			Params: []formula.Param{amps, rating, full}, Result: unit("V"), Act: falls,
			Text: "fuse_drop + 40 mV·I/I_full", Source: "practice; " + chart,
			Domain: "wire to wire across the holder; up to twice the rating",
			Do:     func(a []float64) (float64, error) { return HolderGoodLimit(a[0], a[1], a[2]) },
		},
		{
			Name: "breaker_drop_limit", Area: "fuse", Title: "Most that one closed breaker pole may drop",
			Params: []formula.Param{amps, in("rating", "A", mixed, "amps printed on the breaker")},
			Result: unit("V"), Act: grows, Text: "U = P/In·(I/In), P by rating",
			Source: "IEC 60898-1 loss limits [standard, from memory]; NEMA AB 4: an indicator, not sole proof",
			Domain: "1 to 125 A, one pole of a rail-mounted breaker; between two ratings the larger's loss",
			Do:     func(a []float64) (float64, error) { return BreakerDropLimit(a[0], a[1]) },
			Limits: breakerLimits,
		},
	}
}
