package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"regexp"
	"strings"
)

// An edit is one small fault planted in a file.
type edit struct {
	id       int
	file     *source
	home     ast.Node // the function or the value of a variable that it stands in, or nil
	from, to int      // bytes of the file
	with     string   // in their place
}

// swaps holds what an operator is mistaken for.
var swaps = map[token.Token][]token.Token{
	token.LSS: {token.LEQ, token.GEQ}, token.LEQ: {token.LSS, token.GTR},
	token.GTR: {token.GEQ, token.LEQ}, token.GEQ: {token.GTR, token.LSS},
	token.EQL: {token.NEQ}, token.NEQ: {token.EQL},
	token.LAND: {token.LOR}, token.LOR: {token.LAND},
	token.ADD: {token.SUB}, token.SUB: {token.ADD}, token.MUL: {token.QUO}, token.QUO: {token.MUL}, token.REM: {token.MUL},
	token.AND: {token.OR}, token.OR: {token.AND}, token.SHL: {token.SHR}, token.SHR: {token.SHL},
	token.ADD_ASSIGN: {token.SUB_ASSIGN}, token.SUB_ASSIGN: {token.ADD_ASSIGN},
	token.MUL_ASSIGN: {token.QUO_ASSIGN}, token.QUO_ASSIGN: {token.MUL_ASSIGN},
	token.INC: {token.DEC}, token.DEC: {token.INC},
	token.BREAK: {token.CONTINUE}, token.CONTINUE: {token.BREAK},
}

// commutes matches calls to which the order of arguments is nothing.
var commutes = regexp.MustCompile(`^(min|max|math\.(Min|Max|Hypot))$`)

// edits returns every edit of a file, in the order of its syntax tree.
func (f *source) edits() []edit {
	e := &editor{file: f}
	for _, d := range f.tree.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if e.home = d; d.Body != nil {
				e.walk(d.Body, d.Type)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				e.spec(s, d.Tok)
			}
		}
	}
	return e.made
}

// editor gathers the edits of one file.
type editor struct {
	file *source
	home ast.Node
	made []edit
}

func (e *editor) spec(s ast.Spec, kind token.Token) {
	e.home = nil
	v, _ := s.(*ast.ValueSpec)
	switch {
	case kind == token.IMPORT:
	case kind == token.VAR && len(v.Values) == len(v.Names):
		for _, value := range v.Values {
			e.home = value
			e.walk(value, nil)
		}
	default:
		e.walk(s, nil)
	}
}

func (e *editor) put(from, to token.Pos, with string) {
	e.made = append(e.made, edit{file: e.file, home: e.home, from: e.file.offset(from), to: e.file.offset(to), with: with})
}

// swap puts what the operator at pos is mistaken for.
func (e *editor) swap(pos token.Pos, op token.Token) {
	for _, with := range swaps[op] {
		e.put(pos, pos+token.Pos(len(op.String())), with.String())
	}
}

// never puts a condition that does not hold, and leaves in use what it uses.
func (e *editor) never(cond ast.Expr) {
	e.put(cond.Pos(), cond.End(), "false && ("+e.file.slice(cond.Pos(), cond.End())+")")
}

// walk edits all of n, which stands in a function of type in.
func (e *editor) walk(n ast.Node, in *ast.FuncType) {
	ast.Inspect(n, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			e.walk(n.Body, n.Type)
			return false
		case ast.Expr:
			e.expression(n)
		case ast.Stmt:
			e.statement(n, in)
		}
		return true
	})
}

func (e *editor) expression(n ast.Expr) {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		e.swap(n.OpPos, n.Op)
		if n.Op == token.LAND || n.Op == token.LOR {
			e.put(n.Pos(), n.Y.Pos(), "")
			e.put(n.X.End(), n.End(), "")
		}
	case *ast.UnaryExpr:
		if n.Op == token.SUB || n.Op == token.NOT {
			e.put(n.Pos(), n.X.Pos(), "")
		}
	case *ast.BasicLit:
		if n.Kind == token.INT || n.Kind == token.FLOAT {
			for _, with := range []string{"(" + n.Value + "+1)", "(" + n.Value + "-1)", "0"} {
				if !(n.Value == "1" && with == "(1-1)" || n.Value == with) {
					e.put(n.Pos(), n.End(), with)
				}
			}
		}
	case *ast.Ident:
		switch n.Name {
		case "true":
			e.put(n.Pos(), n.End(), "false")
		case "false":
			e.put(n.Pos(), n.End(), "true")
		}
	case *ast.CallExpr:
		e.call(n)
	}
}

func (e *editor) call(n *ast.CallExpr) {
	name := e.file.slice(n.Fun.Pos(), n.Fun.End())
	swapped := strings.NewReplacer("min", "max", "max", "min", "Min", "Max", "Max", "Min").Replace(name)
	if commutes.MatchString(name) {
		if swapped != name {
			e.put(n.Fun.Pos(), n.Fun.End(), swapped)
		}
		return
	}
	for i := 1; i < len(n.Args); i++ {
		a, b := n.Args[i-1], n.Args[i]
		first, second := e.file.slice(a.Pos(), a.End()), e.file.slice(b.Pos(), b.End())
		if first != second {
			e.put(a.Pos(), b.End(), second+", "+first)
		}
	}
}

func (e *editor) statement(n ast.Stmt, in *ast.FuncType) {
	switch n := n.(type) {
	case *ast.IfStmt:
		e.never(n.Cond)
		if _, ok := n.Cond.(*ast.BinaryExpr); !ok {
			e.put(n.Cond.Pos(), n.Cond.Pos(), "!")
		}
	case *ast.SwitchStmt:
		for _, c := range n.Body.List {
			c := c.(*ast.CaseClause)
			if n.Tag == nil {
				for _, cond := range c.List {
					e.never(cond)
				}
			}
			if (n.Tag != nil || c.List == nil) && c.Body != nil {
				e.put(c.Colon+1, c.End(), "")
			}
		}
	case *ast.AssignStmt:
		e.swap(n.TokPos, n.Tok)
		if n.Tok != token.DEFINE {
			e.put(n.Pos(), n.End(), "")
		}
	case *ast.IncDecStmt:
		e.swap(n.TokPos, n.Tok)
		e.put(n.Pos(), n.End(), "")
	case *ast.BranchStmt:
		e.swap(n.TokPos, n.Tok)
		e.put(n.Pos(), n.End(), "")
	case *ast.ExprStmt, *ast.DeferStmt, *ast.GoStmt:
		e.put(n.Pos(), n.End(), "")
	case *ast.ReturnStmt:
		if last := len(n.Results) - 1; last >= 0 && in.Results != nil && last == in.Results.NumFields()-1 {
			want := in.Results.List[len(in.Results.List)-1].Type
			got := n.Results[last]
			if is, ok := want.(*ast.Ident); ok && is.Name == "error" && e.file.slice(got.Pos(), got.End()) != "nil" {
				e.put(got.Pos(), got.End(), "nil")
			}
		}
	}
}

// String shows the lines of an edit before and after, as one line.
func (m edit) String() string {
	text := m.file.text
	from := strings.LastIndexByte(text[:m.from], '\n') + 1
	to := m.to + strings.IndexByte(text[m.to:], '\n')
	where := "-"
	if fn, ok := m.home.(*ast.FuncDecl); ok {
		where = fn.Name.Name
	}
	squeeze := func(s string) string { return strings.Join(strings.Fields(s), " ") }
	return fmt.Sprintf("%s %s: %s => %s", m.file.name, where, squeeze(text[from:to]), squeeze(text[from:m.from]+m.with+text[m.to:to]))
}
