package electric

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"hotlug/engine/formula"
)

// row is one worked number: a function, its arguments as people write them
// (numbers, words), the result, and where the number comes from. Tol is the
// fraction by which it may differ; 0 means four figures.
type row struct {
	fn   string
	args []any
	want float64
	tol  float64
	from string
}

func list(args ...any) []any { return args }

// numbers turns words into their index in the function's choices.
func numbers(f *formula.Func, args []any) ([]float64, error) {
	if len(args) != len(f.Params) {
		return nil, fmt.Errorf("%s takes %d values, the row has %d", f.Name, len(f.Params), len(args))
	}
	out := make([]float64, len(args))
	for i, a := range args {
		switch x := a.(type) {
		case int:
			out[i] = float64(x)
		case float64:
			out[i] = x
		case string:
			out[i] = -1
			for w, c := range f.Params[i].Choices {
				if c == x {
					out[i] = float64(w)
				}
			}
		}
	}
	return out, nil
}

func byName(t *testing.T, name string) *formula.Func {
	t.Helper()
	for _, f := range Table() {
		if f.Name == name {
			return f
		}
	}
	t.Fatalf("the table has no function %s", name)
	return nil
}

func check(t *testing.T, rows []row) {
	t.Helper()
	table := map[string]*formula.Func{}
	for _, f := range Table() {
		table[f.Name] = f
	}
	for _, r := range rows {
		name := strings.ReplaceAll(fmt.Sprintf("%s%v", r.fn, r.args), " ", ",")
		t.Run(name, func(t *testing.T) {
			f := table[r.fn]
			if f == nil {
				t.Fatalf("the table has no function %s", r.fn)
			}
			args, err := numbers(f, r.args)
			if err != nil {
				t.Fatal(err)
			}
			got, err := f.Do(args)
			if err != nil {
				t.Fatalf("%v (expected %g: %s)", err, r.want, r.from)
			}
			tol := r.tol
			if tol == 0 {
				tol = 6e-4
			}
			if math.Abs(got-r.want) > tol*math.Abs(r.want)+1e-12 {
				t.Errorf("got %.6g, want %.6g within %.2g (%s)", got, r.want, tol, r.from)
			}
		})
	}
}

// refused is a question outside a function's domain and words of its answer.
type refused struct {
	fn   string
	args []any
	says string
}

func checkRefused(t *testing.T, rows []refused) {
	t.Helper()
	for _, r := range rows {
		t.Run(strings.ReplaceAll(fmt.Sprintf("%s%v", r.fn, r.args), " ", ","), func(t *testing.T) {
			f := byName(t, r.fn)
			args, err := numbers(f, r.args)
			if err != nil {
				t.Fatal(err)
			}
			y, err := f.Do(args)
			var outside *formula.DomainError
			if !errors.As(err, &outside) {
				t.Fatalf("answers %g, err %v", y, err)
			}
			if !strings.Contains(outside.Reason, r.says) {
				t.Errorf("says %q, which does not name %q", outside.Reason, r.says)
			}
		})
	}
}
