package repl

import (
	"bytes"
	"context"
	"errors"
	"math/rand"
	"os"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/exp/ebnf"
)

func grammar(t *testing.T) ebnf.Grammar {
	t.Helper()
	b, err := os.ReadFile("grammar.ebnf")
	if err != nil {
		t.Fatal(err)
	}
	g, err := ebnf.Parse("grammar.ebnf", bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func TestGrammarVerifies(t *testing.T) {
	if err := ebnf.Verify(grammar(t), "Line"); err != nil {
		t.Error(err)
	}
}

// Every word of the table stands in the grammar.
func TestGrammarHasEveryWord(t *testing.T) {
	tokens := map[string]bool{}
	for _, p := range grammar(t) {
		collect(p.Expr, tokens)
	}
	for _, w := range newVocabulary().list {
		for _, part := range strings.Fields(w.name) {
			if !tokens[part] && !tokens[part+"("] {
				t.Errorf("%s: no token %q in the grammar", w.name, part)
			}
		}
	}
}

func collect(e ebnf.Expression, tokens map[string]bool) {
	switch e := e.(type) {
	case ebnf.Alternative:
		for _, x := range e {
			collect(x, tokens)
		}
	case ebnf.Sequence:
		for _, x := range e {
			collect(x, tokens)
		}
	case *ebnf.Group:
		collect(e.Body, tokens)
	case *ebnf.Option:
		collect(e.Body, tokens)
	case *ebnf.Repetition:
		collect(e.Body, tokens)
	case *ebnf.Token:
		tokens[e.String] = true
	}
}

// Random sentences of the grammar are never faults of syntax; what their values
// come to is another matter.
func TestRandomSentences(t *testing.T) {
	const sentences = 20000
	g := &generator{grammar: grammar(t), rand: rand.New(rand.NewSource(1))}
	fine := 0
	for i := 0; i < sentences; i++ {
		g.budget = 60
		line := strings.TrimSpace(g.make(g.grammar["Line"].Expr, true))
		_, _, err := New().read(context.Background(), line)
		var f *fault
		switch {
		case err == nil:
			fine++
		case !errors.As(err, &f) || f.syntax:
			t.Fatalf("sentence %d, %q: %v", i, line, err)
		}
	}
	t.Logf("%d of %d sentences had values that fit", fine, sentences)
	if fine < sentences/4 {
		t.Errorf("got %d of %d sentences with values that fit, want a quarter at least", fine, sentences)
	}
}

// generator makes random sentences, smaller as its budget of nodes runs out.
type generator struct {
	grammar ebnf.Grammar
	rand    *rand.Rand
	budget  int
}

// make writes a random sentence of e; spaced says that blanks part its parts.
func (g *generator) make(e ebnf.Expression, spaced bool) string {
	g.budget--
	switch e := e.(type) {
	case ebnf.Alternative:
		if g.budget < 0 {
			return g.make(g.smallest(e), spaced)
		}
		return g.make(e[g.rand.Intn(len(e))], spaced)
	case ebnf.Sequence:
		parts := make([]string, len(e))
		for i, x := range e {
			parts[i] = g.make(x, spaced)
		}
		return g.join(parts, spaced)
	case *ebnf.Group:
		return g.make(e.Body, spaced)
	case *ebnf.Option:
		if g.budget < 0 || g.rand.Intn(2) == 0 {
			return ""
		}
		return g.make(e.Body, spaced)
	case *ebnf.Repetition:
		var parts []string
		for n := g.rand.Intn(3); n > 0 && g.budget > 0; n-- {
			parts = append(parts, g.make(e.Body, spaced))
		}
		return g.join(parts, spaced)
	case *ebnf.Name:
		if e.String == "fraction" { // R2: below 1, which no grammar can say
			return "3/" + string(rune('4'+g.rand.Intn(6)))
		}
		return g.make(g.grammar[e.String].Expr, unicode.IsUpper(rune(e.String[0])))
	case *ebnf.Token:
		return e.String
	case *ebnf.Range:
		return g.within(e)
	}
	return ""
}

func (g *generator) join(parts []string, spaced bool) string {
	if !spaced {
		return strings.Join(parts, "")
	}
	s := ""
	for _, p := range parts {
		if s != "" && p != "" {
			s += []string{" ", "  ", "\t"}[g.rand.Intn(3)]
		}
		s += p
	}
	return s
}

func (g *generator) within(e *ebnf.Range) string {
	from, _ := utf8.DecodeRuneInString(e.Begin.String)
	to, _ := utf8.DecodeRuneInString(e.End.String)
	for {
		if r := from + rune(g.rand.Intn(int(to-from)+1)); utf8.ValidRune(r) {
			return string(r)
		}
	}
}

// smallest is an alternative that ends soon: a token if there is one, else one
// that does not lead back to Sum.
func (g *generator) smallest(e ebnf.Alternative) ebnf.Expression {
	for _, x := range e {
		if n, ok := x.(*ebnf.Name); ok && unicode.IsLower(rune(n.String[0])) {
			return x
		}
	}
	return e[len(e)-1]
}
