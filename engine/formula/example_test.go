package formula_test

import (
	"fmt"
	"strings"

	"hotlug/engine/formula"
	"hotlug/engine/quantity"
)

func scope() *formula.Scope {
	s := formula.NewScope(nil)
	s.Reading("holder_drop_v", formula.Type{Class: formula.ClassNumber, Unit: quantity.MustUnit("V"), Hi: 70})
	s.Reading("load_a", formula.Type{Class: formula.ClassNumber, Unit: quantity.MustUnit("A"), Hi: 500})
	s.Reading("chemistry", formula.Type{Class: formula.ClassChoice, Options: []string{"lfp", "agm"}})
	return s
}

func ExampleFormula_Decide() {
	f, _ := formula.Compile("holder_drop_v > 0.1", scope(), formula.WantYesNo())
	for _, v := range []formula.Val{
		formula.Measured(0.180, 0.005, 0.0005, "hand"),
		formula.Measured(0.1002, 0.005, 0.0005, "hand"),
		f.RefType(0).Anything(),
	} {
		d := f.Decide([]formula.Val{v})
		fmt.Println(d.Verdict, d.Causes)
	}
	// Output:
	// certainly true []
	// too close to call [holder_drop_v]
	// not settled [holder_drop_v]
}

func ExampleFormula_Working() {
	f, _ := formula.Compile("holder_drop_v / load_a", scope(), formula.WantNumber(quantity.MustUnit("ohm")))
	w := f.Working("holder_r", "resistance of the holder", []formula.Val{
		formula.Measured(0.180, 0.005, 0.0005, "hand"),
		formula.Measured(42, 0.02, 0.3, "clamp"),
	}, formula.Shower{})
	fmt.Println(w.Label, "=", w.Formula, "=", w.Numbers, "=", w.Result)
	// Output:
	// resistance of the holder = holder_drop_v / load_a = 180 mV / 42 A = 4.29 ± 0.16 mΩ
}

func ExampleFormula_Because() {
	f, _ := formula.Compile("chemistry == 'lfp' and holder_drop_v / load_a > 0.002", scope(), formula.WantYesNo())
	names := map[string]string{"holder_drop_v": "volts across the fuse holder", "load_a": "amps in the wire", "chemistry": "the kind of battery"}
	show := formula.Shower{Name: func(id string) string { return names[id] }}
	for _, r := range f.Because([]formula.Val{formula.Choice(0), formula.Exact(0.18), formula.Exact(42)}, show) {
		fmt.Println(r.Text)
	}
	// Output:
	// the kind of battery: lfp
	// volts across the fuse holder divided by amps in the wire (4.3 mΩ) is above 2 mΩ
}

func ExampleCompile_problems() {
	src := "holder_drop_v + load_a > 3 and chemistry == 'lfo'"
	_, problems := formula.Compile(src, scope(), formula.WantYesNo())
	fmt.Println(src)
	for _, p := range problems {
		fmt.Println(strings.Repeat(" ", p.From)+strings.Repeat("^", p.To-p.From), p.Error())
	}
	// Output:
	// holder_drop_v + load_a > 3 and chemistry == 'lfo'
	//               ^ the two sides of + have unlike units: V and A
	//                                             ^^^^^ chemistry can't be 'lfo'; did you mean lfp?
}
