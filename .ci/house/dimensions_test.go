package house

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"testing"
)

// Go gives a product or a quotient of two Lengths the type Length, which neither is. So of two operands of
// one quantity type one must be a plain number: a product has at least one, a quotient divides by one. A
// quotient is also right when it is converted to a number on the spot: float64(a / b).
//
// A plain number is a constant that is not of a quantity type (3, math.Pi), such a number converted
// (Length(n)), or signs, sums and products of those. Whatever else has a quantity type has the quantity.
func TestDimensions(t *testing.T) {
	quantities := 0
	for _, p := range packages(t) {
		for _, fault := range dimensionFaults(p) {
			t.Error(fault)
		}
		for _, name := range p.types.Scope().Names() {
			if obj, ok := p.types.Scope().Lookup(name).(*types.TypeName); ok && isQuantity(obj.Type()) {
				quantities++
			}
		}
	}
	if quantities == 0 {
		t.Error("units/:1: got no exported float type, want the quantities")
	}
}

func dimensionFaults(p *pkg) []string {
	var faults []string
	converted := make(map[ast.Expr]bool) // quotients that become plain numbers on the spot
	visit := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.CallExpr:
			if fun := p.info.Types[n.Fun]; fun.IsType() && !isQuantity(fun.Type) {
				_, number := fun.Type.Underlying().(*types.Basic)
				converted[ast.Unparen(n.Args[0])] = number
			}
		case *ast.BinaryExpr:
			if n.Op != token.QUO || !converted[n] {
				faults = append(faults, p.dimensions(n, n.X, n.Op, n.Y)...)
			}
		case *ast.AssignStmt:
			switch n.Tok {
			case token.MUL_ASSIGN:
				faults = append(faults, p.dimensions(n, n.Lhs[0], token.MUL, n.Rhs[0])...)
			case token.QUO_ASSIGN:
				faults = append(faults, p.dimensions(n, n.Lhs[0], token.QUO, n.Rhs[0])...)
			}
		}
		return true
	}
	for _, f := range p.files {
		ast.Inspect(f, visit)
	}
	return faults
}

// dimensions returns the fault in x op y, the whole of which is at n, or nothing.
func (p *pkg) dimensions(n ast.Node, x ast.Expr, op token.Token, y ast.Expr) []string {
	typ := p.info.TypeOf(x)
	if !isQuantity(typ) || p.isPlain(y) || op == token.MUL && p.isPlain(x) || op != token.MUL && op != token.QUO {
		return nil
	}
	return []string{fmt.Sprintf("%s: got %s %s %s of type %s, want float64(x) %[3]s float64(y)",
		p.where(n), types.ExprString(x), op, types.ExprString(y), typ)}
}

// isPlain reports whether e, of a quantity type, is a number that only took that type.
func (p *pkg) isPlain(e ast.Expr) bool {
	switch e := ast.Unparen(e).(type) {
	case *ast.BasicLit:
		return true
	case *ast.Ident:
		obj, ok := p.info.Uses[e].(*types.Const)
		return ok && !isQuantity(obj.Type())
	case *ast.SelectorExpr:
		return p.isPlain(e.Sel)
	case *ast.UnaryExpr:
		return p.isPlain(e.X)
	case *ast.BinaryExpr:
		return p.isPlain(e.X) && p.isPlain(e.Y)
	case *ast.CallExpr:
		return p.info.Types[e.Fun].IsType() && (!isQuantity(p.info.TypeOf(e.Args[0])) || p.isPlain(e.Args[0]))
	}
	return false
}

// isQuantity reports whether t is an exported defined float type of package units.
func isQuantity(t types.Type) bool {
	named, ok := types.Unalias(t).(*types.Named)
	if !ok || !named.Obj().Exported() || named.Obj().Pkg() == nil || named.Obj().Pkg().Path() != module+"/units" {
		return false
	}
	basic, ok := named.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsFloat != 0
}
