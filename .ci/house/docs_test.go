package house

import (
	"go/ast"
	"go/types"
	"slices"
	"strings"
	"testing"
)

// Every package has a comment, and so has every exported name of a library: constant, variable, type, function
// and method. A comment above a group covers all of it. Fields may be covered by the comment of their type.
func TestDocs(t *testing.T) {
	for _, p := range packages(t) {
		if !slices.ContainsFunc(p.files, func(f *ast.File) bool { return f.Doc.Text() != "" }) {
			t.Errorf("%s: got package %s without a comment, want one", p.where(p.files[0]), p.ImportPath)
		}
		if p.Name == "main" {
			continue
		}
		for _, f := range p.files {
			for _, decl := range f.Decls {
				for _, name := range undocumented(decl) {
					t.Errorf("%s: got %s without a comment, want one", p.where(name), name.Name)
				}
			}
		}
	}
}

// undocumented returns the exported names of a declaration that have no comment.
func undocumented(decl ast.Decl) (names []*ast.Ident) {
	add := func(doc string, more ...*ast.Ident) {
		for _, name := range more {
			if name.IsExported() && doc == "" {
				names = append(names, name)
			}
		}
	}
	switch decl := decl.(type) {
	case *ast.FuncDecl:
		if decl.Recv == nil || ast.IsExported(strings.TrimLeft(types.ExprString(decl.Recv.List[0].Type), "*(")) {
			add(decl.Doc.Text(), decl.Name)
		}
	case *ast.GenDecl:
		for _, spec := range decl.Specs {
			switch spec := spec.(type) {
			case *ast.TypeSpec:
				add(decl.Doc.Text()+spec.Doc.Text(), spec.Name)
			case *ast.ValueSpec:
				add(decl.Doc.Text()+spec.Doc.Text()+spec.Comment.Text(), spec.Names...)
			}
		}
	}
	return names
}
