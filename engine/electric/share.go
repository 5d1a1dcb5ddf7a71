package electric

import (
	"math"

	"hotlug/engine/formula"
)

func shareChecks(fn string, count, link float64) error {
	if err := first(span(fn, "batteries", count, 1, 50, ""), span(fn, "links over battery", link, 0, 1000, "")); err != nil {
		return err
	}
	if math.Abs(count-math.Round(count)) > 1e-9 {
		return formula.Outside(fn, "batteries come in whole numbers")
	}
	return nil
}

// SharesFromEnd are the parts of a bank's current that count equal batteries
// carry when all are wired from one end, the one at the take-off first; link is
// one step of links, both poles, over one battery's resistance. They go as
// cosh((n - k + ½)·t) with 2·cosh(t) = 2 + link.
// Errors: as ShareFirst.
func SharesFromEnd(count int, link float64) ([]float64, error) {
	return shares("share_from_end", count, link, func(k int) float64 { return float64(count-k) + 0.5 })
}

// SharesDiagonal are the same with plus taken from the first and minus from the
// last battery, links alike: cosh((k - (n + 1)/2)·t).
func SharesDiagonal(count int, link float64) ([]float64, error) {
	return shares("share_diagonal", count, link, func(k int) float64 { return math.Abs(float64(k) - float64(count+1)/2) })
}

func shares(fn string, count int, link float64, place func(k int) float64) ([]float64, error) {
	if err := shareChecks(fn, float64(count), link); err != nil {
		return nil, err
	}
	t := math.Acosh(1 + link/2)
	most := 0.0
	for k := 1; k <= count; k++ {
		most = max(most, place(k)*t)
	}
	sum, all := 0.0, make([]float64, count)
	for k := range all {
		p := place(k+1) * t
		all[k] = math.Exp(p-most) + math.Exp(-p-most) // 2·cosh, brought under the largest number
		sum += all[k]
	}
	for k := range all {
		all[k] /= sum
	}
	return all, nil
}

// shareAt picks one battery of a list of shares, 1 the first.
func shareAt(fn string, list func(int, float64) ([]float64, error)) func(count, place, link float64) (float64, error) {
	return func(count, place, link float64) (float64, error) {
		if err := first(shareChecks(fn, count, link), span(fn, "the place of the battery", place, 1, count, "")); err != nil {
			return 0, err
		}
		if math.Abs(place-math.Round(place)) > 1e-9 {
			return 0, formula.Outside(fn, "places come in whole numbers, 1 at the take-off")
		}
		all, err := list(int(math.Round(count)), link)
		if err != nil {
			return 0, renamed(fn, err)
		}
		return all[int(math.Round(place))-1], nil
	}
}

// ShareAt is the part of the current of battery place of count, wired from one end.
func ShareAt(count, place, link float64) (float64, error) {
	return shareAt("share_at", SharesFromEnd)(count, place, link)
}

// ShareDiagonalAt is the same with a diagonal take-off.
func ShareDiagonalAt(count, place, link float64) (float64, error) {
	return shareAt("share_diagonal_at", SharesDiagonal)(count, place, link)
}

// BankAmpsAtTrip is the current of a bank at which its most loaded battery reaches
// its BMS limit: limit/share.
func BankAmpsAtTrip(limit, share float64) (float64, error) {
	const fn = "bank_amps_at_trip"
	if err := first(notNegative(fn, "the limit of one BMS", limit, "A"), span(fn, "the share", share, 1e-6, 1, "")); err != nil {
		return 0, err
	}
	return limit / share, nil
}

// SharesUneven says that batteries side by side share badly: the most loaded
// above 1.25 times the mean, or the least under 0.75 of it.
func SharesUneven(most, least, mean float64) (float64, error) {
	const fn = "shares_uneven"
	if err := first(notNegative(fn, "the largest current", most, "A"), notNegative(fn, "the least current", least, "A"), positive(fn, "the mean current", mean, "A")); err != nil {
		return 0, err
	}
	return yes(most > 1.25*mean || least < 0.75*mean), nil
}

// JoinMoves is the amp-hours that flow over between two batteries of ah each with
// charges in per cent until they are equal: C·|a - b|/2.
func JoinMoves(ah, a, b float64) (float64, error) {
	const fn = "join_moves"
	if err := first(notNegative(fn, "the capacity", ah, "Ah"), span(fn, "the first charge", a, 0, 100, "%"), span(fn, "the second charge", b, 0, 100, "%")); err != nil {
		return 0, err
	}
	return ah * math.Abs(a-b) / 200, nil
}

// BlockSpread is how far apart in per cent of the whole two halves of a series
// string stand: 100·|Vt - Vb|/(Vt + Vb).
func BlockSpread(top, bottom float64) (float64, error) {
	const fn = "block_spread"
	if err := first(notNegative(fn, "the upper block", top, "V"), notNegative(fn, "the lower block", bottom, "V"), positive(fn, "both together", top+bottom, "V")); err != nil {
		return 0, err
	}
	return 100 * math.Abs(top-bottom) / (top + bottom), nil
}

// BlockHigh is the volts of the higher of two blocks that stand spread per cent
// apart in a string of volts; the lower has the rest.
func BlockHigh(volts, spread float64) (float64, error) {
	const fn = "block_high"
	return volts / 2 * (1 + spread/100), first(notNegative(fn, "the string", volts, "V"), span(fn, "the spread", spread, 0, 100, "%"))
}

var blockStates = []string{"rest-full", "absorption"}

// BlockVoltsMost is how far apart in volts two 12 V blocks of a series string may
// stand: lithium 0.3 V in absorption; lead 0.3 V at rest when full, in absorption
// 2 % of a 24 V and 1 % of a 48 V string. Two sheets give 0.3 V and 2 % as if they
// were the same; 2 % of 28.8 V is 0.58 V, so each keeps to its own state.
// Errors: lithium at rest, where the flat curve hides everything.
func BlockVoltsMost(chem Chemistry, state int, string float64) (float64, error) {
	const fn = "block_volts_most"
	if err := first(known(fn, chem), chosen(fn, "state", state, 2), span(fn, "the string", string, 22, 66, "V")); err != nil {
		return 0, err
	}
	switch {
	case chem == LFP && state == 0:
		return 0, formula.Outside(fn, "lithium blocks at rest look alike at any charge: compare them in absorption")
	case chem == LFP || state == 0:
		return 0.3, nil
	case string > 40:
		return string * 0.01, nil
	}
	return string * 0.02, nil
}

// RunnerVolts is the volts of a pack of cells that all stand at volts but one,
// which stands at odd: what a pack shows when its BMS trips on one cell.
func RunnerVolts(cells, volts, odd float64) (float64, error) {
	const fn = "runner_volts"
	if err := first(span(fn, "cells in series", cells, 1, 32, ""), notNegative(fn, "the other cells", volts, "V"), notNegative(fn, "the odd cell", odd, "V")); err != nil {
		return 0, err
	}
	return (cells-1)*volts + odd, nil
}

// BalanceHours is how long a balancer of amps takes for an imbalance in per cent
// of ah amp-hours, at the top only.
func BalanceHours(spread, ah, amps float64) (float64, error) {
	const fn = "balance_hours"
	if err := first(span(fn, "the imbalance", spread, 0, 100, "%"), positive(fn, "the capacity", ah, "Ah"), positive(fn, "the balancer", amps, "A")); err != nil {
		return 0, err
	}
	return spread / 100 * ah / amps, nil
}

// BMSTrips says that an inrush trips a BMS: it stays above trip amps longer than
// the delay of its short-circuit stage, 0.1 to 0.4 ms.
func BMSTrips(volts, loop, farad, trip, delay float64) (float64, error) {
	const fn = "bms_trips"
	t, err := BMSAboveSeconds(volts, loop, farad, trip)
	if err != nil {
		return 0, renamed(fn, err)
	}
	return yes(t > delay), notNegative(fn, "the delay", delay, "s")
}
