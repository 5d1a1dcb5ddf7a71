package electric

import "hotlug/engine/formula"

// Chemistry is the kind of a battery.
type Chemistry int

// The chemistries, in the order of the words in Chemistries.
const (
	LFP Chemistry = iota
	Flooded
	AGM
	Gel
	OtherLithium
)

var chemistries = []string{"lfp", "flooded", "agm", "gel", "other-lithium"}

// Chemistries lists the words for Chemistry in order.
func Chemistries() []string { return append([]string(nil), chemistries...) }

// known refuses kinds of battery of which no general figures hold.
func known(fn string, chem Chemistry) error {
	if err := chosen(fn, "kind of battery", int(chem), len(chemistries)); err != nil {
		return err
	}
	if chem == OtherLithium {
		return formula.Outside(fn, "no general figures hold for other kinds of lithium battery: take those on its sheet")
	}
	return nil
}
