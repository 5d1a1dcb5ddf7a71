package quantity_test

import (
	"errors"
	"fmt"

	"hotlug/engine/quantity"
)

func ExampleRead() {
	volts, _ := quantity.KindByID("volts")
	for _, text := range []string{"180mv", "about 12,6 V", "1,260"} {
		v, err := quantity.Read(text, volts)
		var ask *quantity.AskBack
		if errors.As(err, &ask) {
			fmt.Println(ask.Say, ask.Suggest)
			continue
		}
		fmt.Println(quantity.ShowTyped(v.Value, v.Digit, volts.Unit, quantity.Style{}), v.About)
	}
	// Output:
	// 180 mV false
	// 12.6 V true
	// In "1,260" the comma could part thousands or be a decimal sign. Type it again. [1260 V 1.260 V]
}

func ExampleSlips() {
	volts, _ := quantity.KindByID("volts")
	battery := quantity.Limits{PossibleLo: 0, PossibleHi: 80, PlausibleLo: 9, PlausibleHi: 16}
	fmt.Println(battery.Judge(126), quantity.Slips(126, volts, battery))
	// Output: impossible [12.6]
}

func ExampleShowWithin() {
	ohm := quantity.MustUnit("ohm")
	fmt.Println(quantity.ShowWithin(0.18/42, 0.0002, ohm, quantity.Style{}))
	fmt.Println(quantity.ShowWithin(0.18/42, 0.0002, ohm, quantity.Style{ASCII: true}))
	// Output:
	// 4.3 ± 0.2 mΩ
	// 4.3 +/- 0.2 mohm
}

func ExampleMeter_Error() {
	hand, _ := quantity.MeterByID("hand")
	volts, _ := quantity.KindByID("volts")
	gain, abs := hand.Error(volts, 12.60, 0.01)
	fmt.Printf("%.3f of the reading and %.3f V\n", gain, abs)
	// Output: 0.005 of the reading and 0.035 V
}
