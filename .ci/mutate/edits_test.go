package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"slices"
	"testing"
)

// parse reads a file of a package.
func parse(t *testing.T, text string) *source {
	t.Helper()
	f := &source{name: "a/a.go", text: text, fset: token.NewFileSet()}
	tree, err := parser.ParseFile(f.fset, "a.go", text, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	f.tree = tree
	return f
}

// What becomes of one statement.
func TestEdits(t *testing.T) {
	for statement, want := range map[string][]string{
		"x := a < b":              {"x := a <= b", "x := a >= b"},
		"x := a != b":             {"x := a == b"},
		"x := a && !b":            {"x := a || !b", "x := !b", "x := a", "x := a && b"},
		"x := a - b":              {"x := a + b"},
		"x := -a":                 {"x := a"},
		"x := 7":                  {"x := (7+1)", "x := (7-1)", "x := 0"},
		"x := 1":                  {"x := (1+1)", "x := 0"},
		"x := 0":                  {"x := (0+1)", "x := (0-1)"},
		"x := 'a'":                nil,
		"x := true":               {"x := false"},
		"x := f(a, b)":            {"x := f(b, a)"},
		"x := f(a, a)":            nil,
		"x := min(a, b)":          {"x := max(a, b)"},
		"x := math.Max(a, b)":     {"x := math.Min(a, b)"},
		"x := math.Hypot(a, b)":   nil,
		"if a {}":                 {"if false && (a) {}", "if !a {}"},
		"if a == b {}":            {"if false && (a == b) {}", "if a != b {}"},
		"a += b":                  {"a -= b", ""},
		"a = b":                   {""},
		"a++":                     {"a--", ""},
		"for { break }":           {"for { continue }", "for {  }"},
		"f()":                     {""},
		"return a, f":             {"return a, nil"},
		"return a, nil":           nil,
		"return f()":              nil,
		"switch { case a: b() }":  {"switch { case false && (a): b() }", "switch { case a:  }"},
		"switch a { case b: }":    nil,
		"switch a { default: c }": {"switch a { default: }", "switch a { default:  }"},
		"_ = func() { f() }":      {"", "_ = func() {  }"},
	} {
		const before, after = "package a; func g() (int, error) { ", " }"
		f := parse(t, before+statement+after+"\n")
		var got []string
		for _, m := range f.edits() {
			all := m.in(f.tree.FileStart, f.tree.FileEnd)
			got = append(got, all[len(before):len(all)-len(after)-1])
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: got %q, want %q", statement, got, want)
		}
	}
}

// Every fault has a copy of its own, of a function or of a variable's value; those of a constant cannot.
func TestCopies(t *testing.T) {
	f := parse(t, `package a

const c = 1

var v int = 1

func (r T) f(x ...int) int { return x[0] }

func g(_ int) { h(1) }
`)
	var inside []edit
	var outside []string
	for i, m := range f.edits() {
		if m.id = i; m.inside() {
			inside = append(inside, m)
		} else {
			outside = append(outside, m.String())
		}
	}
	want := []string{"a/a.go -: const c = 1 => const c = (1+1)", "a/a.go -: const c = 1 => const c = 0",
		"a/a.go g: func g(_ int) { h(1) } => func g(_ int) { }",
		"a/a.go g: func g(_ int) { h(1) } => func g(_ int) { h((1+1)) }", "a/a.go g: func g(_ int) { h(1) } => func g(_ int) { h(0) }"}
	if !slices.Equal(outside, want) {
		t.Errorf("got outside %q, want %q", outside, want)
	}
	const copies = `package a

const c = 1

var v int = oneOf[int]([]int{0,2,3,},
1,
//line m2:1
(1+1),
//line m3:1
0,
)

func (r T) f(x ...int) int {
switch awake {
case 4: return r.f_4(x...,)
case 5: return r.f_5(x...,)
}
 return x[0] }

func g(_ int) { h(1) }

//line m4:1
func (r T) f_4(x ...int) int { return x[(0+1)] }
//line m5:1
func (r T) f_5(x ...int) int { return x[(0-1)] }
`
	if got := f.copies(inside); got != copies {
		t.Errorf("got %s, want %s", got, copies)
	}
	if call, ok := forward(parse(t, "package a; func f[K, V any](k K, v V)").tree.Decls[0].(*ast.FuncDecl)); call != "[K,V,](k,v,)" || !ok {
		t.Errorf("got %s, %v, want the types handed on", call, ok)
	}
}
