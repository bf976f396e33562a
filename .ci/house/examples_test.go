package house

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"path"
	"slices"
	"strings"
	"testing"
)

// Every package that others can import has an example that runs: one that says what it prints.
func TestExamples(t *testing.T) {
	for _, p := range packages(t) {
		if !p.isLibrary() {
			continue
		}
		var tests []*ast.File
		for _, name := range slices.Concat(p.TestGoFiles, p.XTestGoFiles) {
			f, err := parser.ParseFile(p.fset, path.Join(p.dir(), name), nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			tests = append(tests, f)
		}
		runs := func(e *doc.Example) bool { return e.Output != "" || e.EmptyOutput }
		if !slices.ContainsFunc(doc.Examples(tests...), runs) {
			t.Errorf("%s: got package %s without an example that runs, want one", p.where(p.files[0]), strings.TrimPrefix(p.ImportPath, module+"/"))
		}
	}
}
