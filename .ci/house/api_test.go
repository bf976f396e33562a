package house

import (
	"flag"
	"fmt"
	"go/constant"
	"go/types"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const apiFile = root + "/.ci/api.txt"

var update = flag.Bool("update", false, "rewrite api.txt")

// The exported names of the packages that others can import are those of api.txt, one a line: package, name,
// signature.
func TestAPI(t *testing.T) {
	var got []string
	for _, p := range packages(t) {
		if p.isLibrary() {
			got = append(got, exported(p.types)...)
		}
	}
	slices.Sort(got)
	if *update {
		if err := os.WriteFile(apiFile, []byte(strings.Join(got, "\n")+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	text, err := os.ReadFile(apiFile)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	for i, line := range want {
		if !slices.Contains(got, line) {
			t.Errorf(".ci/api.txt:%d: removed: %s", i+1, line)
		}
	}
	for _, line := range got {
		if !slices.Contains(want, line) {
			t.Errorf(".ci/api.txt:1: added: %s", line)
		}
	}
	if t.Failed() {
		t.Log("want no difference; where it is meant: go -C .ci/house test -count=1 -update")
	}
}

// exported returns the lines of one package.
func exported(p *types.Package) []string {
	var lines []string
	add := func(name, format string, args ...any) {
		lines = append(lines, p.Path()+" "+name+" "+fmt.Sprintf(format, args...))
	}
	str := func(t types.Type) string {
		return types.TypeString(t, func(other *types.Package) string {
			if other == p {
				return ""
			}
			return other.Name()
		})
	}
	for _, name := range p.Scope().Names() {
		obj := p.Scope().Lookup(name)
		if !obj.Exported() {
			continue
		}
		switch obj := obj.(type) {
		case *types.Const:
			add(name, "const %s = %s", str(obj.Type()), value(obj.Val()))
		case *types.Var:
			add(name, "var %s", str(obj.Type()))
		case *types.Func:
			add(name, "%s", str(obj.Type()))
		case *types.TypeName:
			addType(obj, str, add)
		}
	}
	return lines
}

// value writes a constant; String of package constant leaves out digits.
func value(v constant.Value) string {
	if v.Kind() == constant.Float {
		f, _ := constant.Float64Val(v)
		return strconv.FormatFloat(f, 'g', -1, 64)
	}
	return v.ExactString()
}

// addType adds the line of a type, and those of its exported fields and methods.
func addType(obj *types.TypeName, str func(types.Type) string, add func(name, format string, args ...any)) {
	named, ok := obj.Type().(*types.Named)
	if !ok {
		add(obj.Name(), "type = %s", str(types.Unalias(obj.Type())))
		return
	}
	params := strings.TrimPrefix(str(named), obj.Name())
	if s, ok := named.Underlying().(*types.Struct); ok {
		add(obj.Name(), "type%s struct", params)
		for f := range s.NumFields() {
			if f := s.Field(f); f.Exported() {
				add(obj.Name()+"."+f.Name(), "field %s", str(f.Type()))
			}
		}
	} else {
		add(obj.Name(), "type%s %s", params, str(named.Underlying()))
	}
	for m := range named.NumMethods() {
		m := named.Method(m)
		receiver := obj.Name()
		if _, pointer := types.Unalias(m.Signature().Recv().Type()).(*types.Pointer); pointer {
			receiver = "(*" + receiver + ")"
		}
		if m.Exported() {
			add(receiver+"."+m.Name(), "method %s", str(m.Type()))
		}
	}
}
