package electric

import (
	"fmt"
	"math"

	"hotlug/engine/formula"
	"hotlug/engine/quantity"
)

// Table names every function of the package for formulas, in the order in which
// the documents list them. Each call builds the list anew.
func Table() []*formula.Func {
	var all []*formula.Func
	for _, part := range [][]*formula.Func{
		wireTable(), allowTable(), fuseTable(), shortTable(),
		jointTable(), heatTable(), infraredTable(), torqueTable(),
		inrushTable(), prechargeTable(), joinTable(),
		restTable(), sourceTable(), countTable(), storeTable(),
		chargeTable(), gasTable(),
		pvTable(), sunTable(), pvBranchTable(), pvModuleTable(), pvShadeTable(), pvLimitTable(),
		gaugeTable(), metalTable(), interruptTable(), shareTable(), loadTable(), meterTable(),
		inverterTable(), idleTable(),
	} {
		all = append(all, part...)
	}
	for _, f := range all {
		if f.Example == "" {
			f.Example = examples[f.Name]
		}
		f.Do = guarded(f)
		if f.Limits == nil && needsLimits(f) {
			f.Limits = atCorners(f)
		}
	}
	return all
}

// guarded puts in front of a function what every one needs: as many numbers as
// it has parameters, a word that there is, and an error instead of a result too
// large for a number.
func guarded(f *formula.Func) func([]float64) (float64, error) {
	do, name, params := f.Do, f.Name, f.Params
	return func(args []float64) (float64, error) {
		if len(args) != len(params) {
			return 0, formula.Outside(name, fmt.Sprintf("it takes %d values, and got %d", len(params), len(args)))
		}
		for i, p := range params {
			if n := len(p.Choices); n > 0 && !(args[i] >= 0 && args[i] < float64(n)) {
				return 0, formula.Outside(name, fmt.Sprintf("%s has no such option; take one of %v", p.Name, p.Choices))
			}
		}
		y, err := do(args)
		if err != nil {
			return 0, err
		}
		if math.IsNaN(y) || math.IsInf(y, 0) {
			return 0, formula.Outside(name, "the result is too large to work with: check the numbers put in")
		}
		return y, nil
	}
}

// in describes a number parameter.
func in(name, symbol string, dir formula.Dir, doc string) formula.Param {
	return formula.Param{Name: name, Unit: unit(symbol), Dir: dir, Doc: doc}
}

// oneOf describes a parameter that takes a word.
func oneOf(name, doc string, words []string) formula.Param {
	return formula.Param{Name: name, Unit: quantity.One, Choices: words, Doc: doc}
}

// usually names what a call by name takes when the parameter is left out.
func usually(p formula.Param, text string) formula.Param {
	p.Usual = text
	return p
}

func unit(symbol string) quantity.Unit { return quantity.MustUnit(symbol) }

const (
	grows = formula.Grows
	falls = formula.Falls
	mixed = formula.Mixed
)
