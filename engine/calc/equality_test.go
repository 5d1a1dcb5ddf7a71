package calc_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"go/types"
	"path/filepath"
	"strings"
	"testing"
)

// copies are the comparisons that may stand, by file: of a number with its own
// copy or its own whole part, of the two ends of limits, of an end with infinity.
// Constants need no place here: a 0 that nothing can be divided by, a 1 for yes.
var copies = map[string]int{
	"quantity/join.go": 1, "quantity/range.go": 1,
	"formula/binary.go": 2, "formula/call.go": 2, "formula/halve.go": 6, "formula/tight.go": 1, "formula/worked.go": 1,
	"electric/join.go": 1,
}

// source takes the packages of this project from their folders and leaves all
// others empty: what is looked for needs the types of our own numbers only.
type source struct {
	fset *token.FileSet
	done map[string]*types.Package
	info *types.Info
}

func (s *source) Import(path string) (*types.Package, error) {
	if p := s.done[path]; p != nil {
		return p, nil
	}
	p := types.NewPackage(path, path[strings.LastIndexByte(path, '/')+1:])
	if strings.HasPrefix(path, "hotlug/engine/") {
		p, _ = s.check(path) // with holes where other packages are used
	}
	p.MarkComplete()
	s.done[path] = p
	return p, nil
}

func (s *source) check(path string) (*types.Package, []*ast.File) {
	names, _ := filepath.Glob(filepath.Join("..", filepath.Base(path), "*.go"))
	var files []*ast.File
	for _, n := range names {
		if !strings.HasSuffix(n, "_test.go") {
			f, err := parser.ParseFile(s.fset, n, nil, 0)
			if err == nil {
				files = append(files, f)
			}
		}
	}
	conf := types.Config{Importer: s, Error: func(error) {}, FakeImportC: true}
	p, _ := conf.Check(path, s.fset, files, s.info)
	return p, files
}

func TestNoFloatIsComparedForEquality(t *testing.T) {
	found := map[string][]int{}
	for _, pkg := range []string{"quantity", "formula", "electric", "calc"} {
		s := &source{fset: token.NewFileSet(), done: map[string]*types.Package{}, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}}
		_, files := s.check("hotlug/engine/" + pkg)
		if len(files) < 4 {
			t.Fatalf("only %d files of %s were read", len(files), pkg)
		}
		float := func(e ast.Expr) bool {
			b, ok := s.info.Types[e].Type.(*types.Basic)
			return ok && b.Info()&types.IsFloat != 0
		}
		floats := 0
		for _, f := range files {
			ast.Inspect(f, func(n ast.Node) bool {
				b, ok := n.(*ast.BinaryExpr)
				if !ok || !float(b.X) && !float(b.Y) {
					return true
				}
				floats++
				constant := s.info.Types[b.X].Value != nil || s.info.Types[b.Y].Value != nil
				if (b.Op == token.EQL || b.Op == token.NEQ) && !constant {
					at := s.fset.Position(b.Pos())
					file := pkg + "/" + filepath.Base(at.Filename)
					found[file] = append(found[file], at.Line)
				}
				return true
			})
		}
		if floats == 0 {
			t.Fatalf("no arithmetic was seen in %s: the test sees nothing", pkg)
		}
	}
	for file, lines := range found {
		if len(lines) > copies[file] {
			t.Errorf("%s compares numbers with == or != in the lines %v: compare with a tolerance, or if one is a copy of the other, add it to the list", file, lines)
		}
	}
}
