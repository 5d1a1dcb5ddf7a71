package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
)

// fuseFamily is what a family of fuses or breakers is made for: ratings, the
// most DC volts, and what it can break at those volts. Where a family breaks more
// at less volts the list says so, by rising volts.
type fuseFamily struct {
	word    string
	ratings []float64
	volts   []float64 // DC volts up to which
	breaks  []float64 // it can break these amps
}

// Families of the trade by their open standards. Breaking amps are typical; what
// is printed on the part goes first.
var families = []fuseFamily{
	{"blade", []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}, []float64{32}, []float64{1000}},
	{"large-blade", []float64{20, 30, 40, 50, 60, 70, 80, 100}, []float64{32}, []float64{1000}},
	{"blade-58V", []float64{1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}, []float64{58}, []float64{1000}},
	{"strip", []float64{30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500}, []float64{32}, []float64{2000}},
	{"strip-58V", []float64{30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500}, []float64{58}, []float64{2000}},
	{"strip-80V", []float64{30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500}, []float64{80}, []float64{2000}},
	{"cube", []float64{30, 40, 50, 60, 70, 75, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300}, []float64{14, 32, 58}, []float64{10000, 5000, 2000}},
	{"slotted-link", []float64{35, 40, 50, 60, 80, 100, 125, 130, 150, 175, 200, 225, 250, 275, 300, 325, 350, 400, 500, 600, 750}, []float64{32, 80}, []float64{6000, 2500}},
	{"class-t", []float64{110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600}, []float64{125}, []float64{20000}},
	{"knife", []float64{16, 20, 25, 32, 35, 40, 50, 63, 80, 100, 125, 160, 200, 224, 250, 315, 355, 400, 500, 630}, []float64{80}, []float64{25000}},
	{"glass", []float64{0.5, 1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30}, []float64{32}, []float64{35}},
	{"pv-string", stringFuses, []float64{600}, []float64{10000}},
	{"rail-breaker", []float64{1, 2, 3, 4, 6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125}, []float64{60}, []float64{6000}},
	{"hydraulic-breaker", []float64{1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 60, 80, 100, 125, 150, 175, 200, 250}, []float64{65}, []float64{3000}},
	{"surface-breaker", []float64{25, 30, 40, 50, 60, 70, 80, 100, 120, 135, 150, 175, 200}, []float64{14}, []float64{1500}},
}

// FuseFamilies lists the words for families in order.
func FuseFamilies() []string {
	words := make([]string, len(families))
	for i, f := range families {
		words[i] = f.word
	}
	return words
}

func familyOf(fn string, family int) (fuseFamily, error) {
	if err := chosen(fn, "family", family, len(families)); err != nil {
		return fuseFamily{}, err
	}
	return families[family], nil
}

// FamilyNext is the smallest rating in amps of a family that is not below amps.
// Errors: nothing to carry; the family ends lower.
func FamilyNext(amps float64, family int) (float64, error) {
	const fn = "family_next"
	f, err := familyOf(fn, family)
	if err = first(err, positive(fn, "a current", amps, "A")); err != nil {
		return 0, err
	}
	if r, ok := next(f.ratings, amps); ok {
		return r, nil
	}
	return 0, formula.Outside(fn, fmt.Sprintf("the largest %s is %.4g A, which is under %.4g A: take another family", f.word, f.ratings[len(f.ratings)-1], amps))
}

// FuseDCVolts is the most DC volts that a family breaks, in V. A part without DC
// volts printed on it has none.
func FuseDCVolts(family int) (float64, error) {
	f, err := familyOf("fuse_dc_volts", family)
	if err != nil {
		return 0, err
	}
	return f.volts[len(f.volts)-1], nil
}

// BreakingAmps is what a family can break at volts, in A. A larger short
// vaporises the element and the arc carries on.
// Errors: more volts than the family is made for.
func BreakingAmps(family int, volts float64) (float64, error) {
	return breaking("breaking_amps", family, volts)
}

func breaking(fn string, family int, volts float64) (float64, error) {
	f, err := familyOf(fn, family)
	if err = first(err, notNegative(fn, "the highest volts of the bank", volts, "V")); err != nil {
		return 0, err
	}
	for i, v := range f.volts {
		if volts <= v {
			return f.breaks[i], nil
		}
	}
	return 0, formula.Outside(fn, fmt.Sprintf("%s fuses or breakers are made for up to %.4g V DC, and the bank comes to %.4g V: take one made for it", f.word, f.volts[len(f.volts)-1], volts))
}

// FuseBreaks says (1 or 0) that a family can break a short of amps at the highest
// volts of the bank. A family that is not made for the volts breaks nothing.
func FuseBreaks(family int, volts, short float64) (float64, error) {
	const fn = "fuse_breaks"
	f, err := familyOf(fn, family)
	if err = first(err, notNegative(fn, "the highest volts of the bank", volts, "V"), notNegative(fn, "the short", short, "A")); err != nil {
		return 0, err
	}
	if volts > f.volts[len(f.volts)-1] {
		return 0, nil
	}
	can, err := breaking(fn, family, volts)
	return yes(short <= can), err
}

// bankMost is the highest volts of a bank per 12 V: lithium at the trip of its
// BMS, flooded on equalise, AGM and gel on a cold charge.
var bankMost = map[Chemistry]float64{LFP: 15.6, Flooded: 16, AGM: 15.9, Gel: 15.6}

// BankVoltsMost is the highest volts that a bank of system volts can come to, and
// at which its fuse may have to break: 15.6 V lithium (BMS trip), 16 V flooded
// (equalise), 15.9 V AGM and 15.6 V gel (charged in the cold), per 12 V.
func BankVoltsMost(chem Chemistry, system float64) (float64, error) {
	const fn = "bank_volts_most"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	return k * bankMost[chem], err
}

// FuseVoltsNeeded is the DC volts that a fuse on a bank must be marked with at
// least: the highest volts of the bank. On 48 V that leaves out 58 V parts (62.4
// V at a BMS trip, 64 V on equalise): 70 or 80 V. On 24 V flooded (32.0 V) it
// leaves 32 V parts with nothing to spare: the 58 V class is the rule there, so
// flooded banks ask for a hundredth more than the highest volts.
func FuseVoltsNeeded(chem Chemistry, system float64) (float64, error) {
	const fn = "fuse_volts_needed"
	if err := known(fn, chem); err != nil {
		return 0, err
	}
	k, err := twelves(fn, system)
	v := k * bankMost[chem]
	if chem == Flooded {
		v *= 1.01
	}
	return v, err
}

// FuseVoltsEnough says that a part marked with rated volts DC may stand in a bank.
func FuseVoltsEnough(rated float64, chem Chemistry, system float64) (float64, error) {
	const fn = "fuse_volts_ok"
	need, err := FuseVoltsNeeded(chem, system)
	if err != nil {
		return 0, renamed(fn, err)
	}
	return yes(rated >= need), notNegative(fn, "the volts printed", rated, "V")
}

// renamed puts an error of another function of this package under the name of
// the one that was asked.
func renamed(fn string, err error) error {
	if d, ok := err.(*formula.DomainError); ok {
		return formula.Outside(fn, d.Reason)
	}
	return err
}

// FuseGuardsWire says that a fuse of a rating protects a wire that may carry
// allow amps: rating <= allow. The rule for vans, huts, caravans and buildings.
func FuseGuardsWire(rating, allow float64) (float64, error) {
	const fn = "fuse_guards_wire"
	return yes(rating <= allow), first(positive(fn, "a rating", rating, "A"), positive(fn, "the amps of the wire", allow, "A"))
}

// FuseGuardsBoatWire is the boat rule: up to 1.5 times what the wire may carry,
// not for motors and inverter mains. Between once and 1.5 times it is a warning.
func FuseGuardsBoatWire(rating, allow float64) (float64, error) {
	const fn = "fuse_guards_boat_wire"
	return yes(rating <= 1.5*allow), first(positive(fn, "a rating", rating, "A"), positive(fn, "the amps of the wire", allow, "A"))
}

// Places of the first fuse and the longest unprotected wire in metres: the
// shortest of all rules.
var fusePlaces = []string{"battery-post", "charger-sheathed", "trailer"}
var fusePlaceMost = []float64{0.200, 1.0, 0.450}

// FusePlaceMost is the longest wire in metres between a source and its first
// fuse: 0.2 m at every battery post, 1.0 m sheathed at a charger that can feed a
// fault, 0.45 m where a supply joins a trailer's circuits.
func FusePlaceMost(place int) (float64, error) {
	if err := chosen("fuse_place_max", "place", place, len(fusePlaces)); err != nil {
		return 0, err
	}
	return fusePlaceMost[place], nil
}

// FusePlaced says that the first fuse sits near enough to its source.
func FusePlaced(metres float64, place int) (float64, error) {
	const fn = "fuse_placed"
	if err := first(chosen(fn, "place", place, len(fusePlaces)), notNegative(fn, "the wire before the fuse", metres, "m")); err != nil {
		return 0, err
	}
	return yes(metres <= fusePlaceMost[place]+1e-9), nil
}

// HolderRating is the amps that a fuse with its holder must be rated for so that
// the clips stay cool under a continuous load: I/0.70 blades, I/0.80 bolted.
func HolderRating(amps float64, seat int) (float64, error) {
	const fn = "holder_rating"
	if err := first(notNegative(fn, "a current", amps, "A"), chosen(fn, "seat", seat, 2)); err != nil {
		return 0, err
	}
	return amps / []float64{0.70, 0.80}[seat], nil
}

// InverterFuse is the standard fuse in amps of an inverter: 1.25 times its
// current at its own low cut-off, where it is largest, next size up. The wire
// must carry at least the fuse. The current at 12.0 V is not taken: the power is
// constant, so a bank that sags draws more than that.
func InverterFuse(watts, off, eff float64) (float64, error) {
	const fn = "inverter_fuse"
	if err := first(positive(fn, "the load", watts, "W"), positive(fn, "the cut-off", off, "V"), efficiency(fn, eff)); err != nil {
		return 0, err
	}
	return fuseNext(fn, 1.25*watts/(off*eff))
}

// Breaker factors by ambient, thermal types calibrated at 40 °C.
var breakerAir, breakerKeeps = []float64{20, 30, 40, 50, 60}, []float64{1.20, 1.10, 1.00, 0.90, 0.83}

// BreakerLoad is the load of a thermal breaker calibrated at 40 °C as a part of
// what it carries at ambient °C: I/(In·k). Above 1 it is overloaded, above 0.8
// for hours it ages. Hydraulic types do not lose to heat.
func BreakerLoad(amps, rating, ambient float64) (float64, error) {
	const fn = "breaker_load"
	if err := first(notNegative(fn, "a current", amps, "A"), positive(fn, "a rating", rating, "A"), span(fn, "surroundings of a breaker", ambient, 20, 60, "°C")); err != nil {
		return 0, err
	}
	return amps / (rating * along(breakerAir, breakerKeeps, ambient)), nil
}

var boatBanks = []string{"main", "branch"}

// BoatBreaking is what a main or branch breaker of a 12 or 24 V boat must break,
// in amps, by the cold cranking amps of the bank: 1500/750, 3000/1500 from 651,
// 5000/2500 from 1101. Errors: above 2200, or lithium, where the short-circuit
// figure of the batteries counts (fault_amps, short_ohm) and 20 kA is the rule.
func BoatBreaking(cca float64, device int) (float64, error) {
	const fn = "boat_breaking"
	if err := first(positive(fn, "the cold cranking amps", cca, "A"), chosen(fn, "device", device, 2)); err != nil {
		return 0, err
	}
	if cca > 2200 {
		return 0, formula.Outside(fn, "above 2200 A of cold cranking the batteries' own short-circuit figure counts: take fault_amps, and 20 kA where it is above 10 kA")
	}
	need := 1500.0
	if cca > 650 {
		need = 3000
	}
	if cca > 1100 {
		need = 5000
	}
	return need / math.Pow(2, float64(device)), nil
}

// FuseBlowsInrush says whether the inrush of capacitors can be what blew a fuse:
// its heat is at least half of what melts the fuse. If not, suspect reversed
// polarity or a short.
func FuseBlowsInrush(i2t, melt float64) (float64, error) {
	const fn = "inrush_blows"
	return yes(i2t >= 0.5*melt), first(notNegative(fn, "the heat of the inrush", i2t, "A²s"), positive(fn, "the heat that melts the fuse", melt, "A²s"))
}
