package house

import (
	"go/parser"
	"go/token"
	"path"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The packages below repl, which programs embed.
const sums = "units units/leaves fret fret/draw tension action intonation"

// mayImport says which packages of ours each package of ours may import, tests included. Every package has a
// row, but for those under examples: they may import all of ours, and none imports them.
var mayImport = map[string]string{
	"units":                     "",
	"units/leaves":              "units",
	"fret":                      "units",
	"fret/draw":                 "units fret",
	"tension":                   "units",
	"action":                    "units fret",
	"intonation/internal/solve": "",
	"intonation":                "units fret tension action intonation/internal/solve",
	"repl/bench":                sums,
	"repl":                      sums + " repl/bench",
	"repl/saddlepoint":          sums + " repl/bench repl",
}

// others are the modules that are not ours, who may import them, and whether only tests may.
var others = []struct {
	module, under string
	tests         bool
}{
	{"github.com/chzyer/readline", "repl/saddlepoint", false},
	{"github.com/google/go-cmp", "repl", true},
	{"golang.org/x/exp/ebnf", "repl", true},
}

// The imports are read from every file, whatever system it is built for.
func TestArrows(t *testing.T) {
	fset := token.NewFileSet()
	for _, file := range files(t) {
		if path.Ext(file) != ".go" || strings.HasPrefix(file, ".ci/") || strings.Contains(file, "testdata/") {
			continue
		}
		f, err := parser.ParseFile(fset, path.Join(root, file), nil, parser.ImportsOnly)
		if err != nil {
			t.Error(err)
			continue
		}
		for _, spec := range f.Imports {
			imported, _ := strconv.Unquote(spec.Path.Value)
			if want := refusal(file, imported); want != "" {
				t.Errorf("%s:%d: got import of %s, want %s", file, fset.Position(spec.Pos()).Line, imported, want)
			}
		}
	}
}

// refusal returns what is wanted instead of an import, or "" when the file may have it.
func refusal(file, imported string) string {
	dir := path.Dir(file)
	if below, ours := strings.CutPrefix(imported, module+"/"); ours {
		return refusalOfOurs(dir, below)
	}
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return "" // the standard library
	}
	for _, o := range others {
		switch {
		case !within(imported, o.module):
		case !within(dir, o.under):
			return "it only under " + o.under
		case o.tests && !strings.HasSuffix(file, "_test.go"):
			return "it only in tests"
		default:
			return ""
		}
	}
	return "only the standard library and " + module
}

func refusalOfOurs(dir, imported string) string {
	if within(imported, "examples") {
		return "nothing to import an example"
	}
	if within(dir, "examples") || imported == dir { // a test of a package from outside imports it
		return ""
	}
	may, known := mayImport[dir]
	switch {
	case !known:
		return "a row for " + dir + " in the table of arrows"
	case !slices.Contains(strings.Fields(may), imported):
		return "of ours only [" + may + "] in " + dir
	}
	return ""
}

// within reports whether path is dir or below it.
func within(path, dir string) bool { return path == dir || strings.HasPrefix(path, dir+"/") }
