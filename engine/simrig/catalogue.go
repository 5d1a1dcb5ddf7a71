package simrig

import "sync"

// Faults lists every fault in a stable order: the complaint "nothing charges"
// first, then sparks, the charge reading, heat, and last what the knowledge does
// not list. The faults are shared and must not be changed.
func Faults() []*Fault { return catalogue().list }

// FaultByID gives the fault with this id, and whether there is one.
func FaultByID(id string) (*Fault, bool) {
	f, ok := catalogue().byID[id]
	return f, ok
}

type faultBook struct {
	list []*Fault
	byID map[string]*Fault
}

var catalogue = sync.OnceValue(func() faultBook {
	b := faultBook{byID: map[string]*Fault{}}
	for _, group := range [][]*Fault{
		openFaults(), leadFaults(), arrayFaults(), controllerFaults(), batteryFaults(),
		sparkFaults(),
		countFaults(), fullFaults(), voltFaults(),
		jointFaults(), contactFaults(), fuseFaults(), cableFaults(),
		wearFaults(), cellFaults(), bankFaults(),
		inverterFaults(), feedFaults(), blowFaults(),
		loadFaults(), drainFaults(),
		harvestFaults(), chargeEndFaults(),
		unlistedFaults(),
	} {
		for _, f := range group {
			b.list = append(b.list, f)
			b.byID[f.ID] = f
		}
	}
	return b
})
