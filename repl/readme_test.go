package repl_test

import (
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/repl"
)

// The session that the README shows is what a session prints.
func TestReadmeSession(t *testing.T) {
	want := block(t, "```text\n")
	s := repl.New()
	var got strings.Builder
	for _, line := range strings.Split(want, "\n") {
		if input, ok := strings.CutPrefix(line, "> "); ok {
			got.WriteString(line + "\n")
			out := runLine(s, input, repl.Words)
			if strings.HasSuffix(strings.SplitN(out, "\n", 2)[0], "^") {
				out = "  " + out // the width of the prompt
			}
			got.WriteString(out)
		}
	}
	if diff := cmp.Diff(want, got.String()); diff != "" {
		t.Errorf("README.md (-shown +printed):\n%s", diff)
	}
}

// The program that the README shows is the one in examples.
func TestReadmeProgram(t *testing.T) {
	b, err := os.ReadFile("../examples/embed/main.go")
	if err != nil {
		t.Fatal(err)
	}
	_, program, _ := strings.Cut(string(b), "\npackage main")
	if diff := cmp.Diff("package main"+program, block(t, "```go\n")); diff != "" {
		t.Errorf("README.md (-example +shown):\n%s", diff)
	}
}

// block is what stands in the README between a fence and its end.
func block(t *testing.T, fence string) string {
	t.Helper()
	b, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(b), fence)
	text, _, ok := strings.Cut(rest, "```")
	if !ok || text == "" {
		t.Fatalf("got no block that begins with %q", fence)
	}
	return text
}
