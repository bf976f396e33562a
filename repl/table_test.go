package repl

import (
	"context"
	"os"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// No answer runs wider than it is told to, and none is coloured.
func TestWidth(t *testing.T) {
	record, err := os.Open("../examples/heron.record")
	if err != nil {
		t.Fatal(err)
	}
	defer record.Close()
	s := New()
	if err := s.Run(context.Background(), "heron", record, new(strings.Builder), Words); err != nil {
		t.Fatal(err)
	}
	asks := []string{"help", "help field", "help function", "help report", "help act", "history"}
	for _, w := range s.words.list {
		switch {
		case w.class == classReport && w.act != nil:
			asks = append(asks, w.example)
		case w.class == classReport:
			asks = append(asks, w.name)
		}
	}
	for _, width := range []int{40, 41, 60, 80, 132} {
		s.Width = width
		for _, ask := range asks {
			if strings.HasPrefix(ask, "why") {
				continue // its answer is a value, on one line
			}
			for _, line := range strings.Split(say(t, s, ask), "\n") {
				if utf8.RuneCountInString(line) > width || strings.Contains(line, "\x1b") {
					t.Errorf("%s in %d: got %q", ask, width, line)
				}
			}
		}
	}
	for width, want := range map[int]int{0: 80, -1: 40, 1: 40, 39: 40, 40: 40, 200: 200} {
		s.Width = width
		if got := s.width(); got != want {
			t.Errorf("%d: got %d, want %d", width, got, want)
		}
	}
}

func TestTable(t *testing.T) {
	row := func(a, b, c, d string) []cell {
		return []cell{text("n", a), text("long head", b), text(other, c), text("words", d), {key: "unseen", val: 1}}
	}
	rows := [][]cell{row("1", "1.5mm", "0.06in", "a b"), row("20", "-", "12in", "cd")}
	for width, want := range map[int]string{
		80: " n  long head     and  words\n 1      1.5mm  0.06in  a b\n20          -    12in  cd",
		26: " n long head    and words\n 1     1.5mm 0.06in a b\n20         -   12in cd",
		24: " n  long head     and\n 1      1.5mm  0.06in\n20          -    12in\n\n n  words\n 1  a b\n20  cd",
		9:  " n  long head\n 1      1.5mm\n20          -\n\n n     and\n 1  0.06in\n20    12in\n\n n  words\n 1  a b\n20  cd",
	} {
		if diff := cmp.Diff(want, strings.Join(table(rows, width), "\n")); diff != "" {
			t.Errorf("%d:\n%s", width, diff)
		}
	}
	if got := table(nil, 80); got != nil {
		t.Errorf("got %q of no rows", got)
	}
	if got := table([][]cell{{text("alone in its row", "x")}}, 5); len(got) != 2 {
		t.Errorf("got %q of a wide column alone", got)
	}
	wide := table([][]cell{{text("what", "as it stands"), text("worst", "+9.0c")}, {text("what", "best"), text("worst", "-")}}, 17)
	if diff := cmp.Diff("   what\n1  as it stands\n2  best\n\n   worst\n1  +9.0c\n2      -", strings.Join(wide, "\n")); diff != "" {
		t.Error(diff)
	}
}
