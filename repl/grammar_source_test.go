package repl

import (
	"go/ast"
	goparser "go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/exp/ebnf"
)

// production is where one begins, in a line of a comment or of the grammar.
var production = regexp.MustCompile(`^\s*(\w+)\s+= `)

// productions are the productions in lines, without what parts their words.
func productions(lines []string) map[string]string {
	out := map[string]string{}
	name := ""
	for _, line := range lines {
		if m := production.FindStringSubmatch(line); m != nil {
			name = m[1]
		}
		if name == "" {
			continue
		}
		out[name] = strings.TrimSpace(out[name] + " " + strings.Join(strings.Fields(line), " "))
		if strings.HasSuffix(line, " .") {
			name = ""
		}
	}
	return out
}

// Each production stands above the function that parses it, and no other does.
func TestGrammarStandsAboveItsParsers(t *testing.T) {
	b, err := os.ReadFile("grammar.ebnf")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, line := range strings.Split(string(b), "\n") {
		if !strings.HasPrefix(line, "//") {
			lines = append(lines, line)
		}
	}
	want := productions(lines)
	if got := len(grammar(t)); len(want) != got {
		t.Fatalf("got %d productions of %d", len(want), got)
	}
	found := map[string]bool{}
	for fn, doc := range functionDocs(t) {
		for name, text := range productions(strings.Split(doc, "\n")) {
			switch {
			case want[name] == "":
				t.Errorf("%s: the comment has %q, which the grammar has not", fn, text)
			case text != want[name]:
				t.Errorf("%s: the comment has\n%s\nthe grammar\n%s", fn, text, want[name])
			case found[name]:
				t.Errorf("%s: the comment has %s, as another has", fn, name)
			}
			found[name] = true
		}
	}
	for name := range want {
		if !found[name] {
			t.Errorf("%s stands above no function", name)
		}
	}
}

// functionDocs returns the comments above the functions of this package.
func functionDocs(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := goparser.ParseFile(token.NewFileSet(), name, nil, goparser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok {
				out[name+": "+fn.Name.Name] = fn.Doc.Text()
			}
		}
	}
	return out
}

// Every line of a transcript that is not refused derives from the grammar.
func TestTranscriptsDerive(t *testing.T) {
	g := grammar(t)
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	derived, refused := 0, 0
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range accepted(string(b)) {
			derived++
			if !derives(g, line) {
				t.Errorf("%s: %q does not derive", file, line)
			}
		}
	}
	for _, w := range newVocabulary().list {
		if !derives(g, w.example) {
			t.Errorf("the example %q does not derive", w.example)
		}
		if w.class == classField && !derives(g, w.name) {
			t.Errorf("the name alone, %q, does not derive", w.name)
		}
	}
	for _, line := range []string{"scale 648mm", "scale: 648", "fret(12", "1 +", "read cents: +5", "2mm 3mm", "save six", "date: 1.2.2026", "did saddle 1: up 1mm"} {
		if derives(g, line) {
			t.Errorf("%q derives", line)
		}
		refused++
	}
	t.Logf("%d lines derive, %d do not", derived, refused)
	if derived < 250 {
		t.Errorf("got %d lines, want 250 at least", derived)
	}
}

var (
	caretLine  = regexp.MustCompile(`^\t *\^$`)
	errorPlace = regexp.MustCompile(`^\t-:(\d+):\d+: `)
)

// accepted are the input lines of a transcript that were not refused, nor
// followed one that ended its batch.
func accepted(transcript string) []string {
	var out []string
	lines := strings.Split(transcript, "\n")
	batch := strings.Contains(lines[0], "# batch")
	from := 0 // of the batch, in out
	for i, line := range lines {
		m := errorPlace.FindStringSubmatch(line)
		switch {
		case batch && line == "":
			from = len(out)
		case batch && m != nil:
			out = out[:from+wholeNumber(m[1])-1]
		case strings.HasPrefix(line, "\t"), i+1 < len(lines) && caretLine.MatchString(lines[i+1]):
		default:
			out = append(out, line)
		}
	}
	return out
}

// derives reports whether a line derives from the grammar.
func derives(g ebnf.Grammar, line string) bool {
	r := &recogniser{grammar: g, line: strings.Trim(line, " \t"), memo: map[spot]ends{}}
	return slices.Contains(r.name("Line", 0), len(r.line))
}

// recogniser finds where the productions of a grammar may end in a line.
type recogniser struct {
	grammar ebnf.Grammar
	line    string
	memo    map[spot]ends
}

type spot struct {
	name string
	at   int
}

// ends are bytes of the line.
type ends []int

func (e *ends) add(more ...int) {
	for _, n := range more {
		if !slices.Contains(*e, n) {
			*e = append(*e, n)
		}
	}
}

func (r *recogniser) name(name string, at int) ends {
	key := spot{name, at}
	if out, ok := r.memo[key]; ok {
		return out
	}
	r.memo[key] = nil // no production here leads back to itself without a token
	out := r.match(r.grammar[name].Expr, at, unicode.IsUpper(rune(name[0])))
	r.memo[key] = out
	return out
}

// match returns where e may end that begins at a byte; spaced says that blanks
// may part its parts.
func (r *recogniser) match(e ebnf.Expression, at int, spaced bool) (out ends) {
	if spaced {
		at += blanks(r.line[at:])
	}
	switch e := e.(type) {
	case ebnf.Alternative:
		for _, x := range e {
			out.add(r.match(x, at, spaced)...)
		}
	case ebnf.Sequence:
		out = ends{at}
		for _, x := range e {
			var next ends
			for _, from := range out {
				next.add(r.match(x, from, spaced)...)
			}
			out = next
		}
	case *ebnf.Group:
		return r.match(e.Body, at, spaced)
	case *ebnf.Option:
		out = ends{at}
		out.add(r.match(e.Body, at, spaced)...)
	case *ebnf.Repetition:
		out = ends{at}
		for i := 0; i < len(out); i++ {
			out.add(r.match(e.Body, out[i], spaced)...)
		}
	case *ebnf.Name:
		return r.name(e.String, at)
	case *ebnf.Token:
		if strings.HasPrefix(r.line[at:], e.String) {
			out = ends{at + len(e.String)}
		}
	case *ebnf.Range:
		c, n := utf8.DecodeRuneInString(r.line[at:])
		from, _ := utf8.DecodeRuneInString(e.Begin.String)
		to, _ := utf8.DecodeRuneInString(e.End.String)
		if n > 0 && from <= c && c <= to {
			out = ends{at + n}
		}
	}
	return out
}
