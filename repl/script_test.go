package repl_test

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"testing"

	"example.org/saddlepoint/repl"
)

// lineSource makes the lines of a long script as they are read.
type lineSource struct {
	lines, made int
	rest        string
	each        func(n int) string
}

func (l *lineSource) Read(p []byte) (int, error) {
	for l.rest == "" {
		if l.made == l.lines {
			return 0, io.EOF
		}
		l.made++
		l.rest = l.each(l.made) + "\n"
	}
	n := copy(p, l.rest)
	l.rest = l.rest[n:]
	return n, nil
}

// A long script takes no more memory than a short one, and an error at its end
// has its line.
func TestLongScript(t *testing.T) {
	const lines = 200_000
	var before, now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	most := uint64(0)
	source := &lineSource{lines: lines, each: func(n int) string {
		if n%20_000 == 0 {
			runtime.GC()
			runtime.ReadMemStats(&now)
			most = max(most, now.HeapAlloc)
		}
		if n == lines {
			return "fret(12, 648)"
		}
		return []string{"fret(12, 648mm)", "rise = 3mm", "rise / 2", "1", "", "# a comment", "E4 + 7c", "10p", "2", "3", "4"}[n%11]
	}}
	err := repl.New().Run(context.Background(), "long", source, io.Discard, repl.Words)
	if want := "long:200000:10: got 648 with no unit, want a length, the scale, as in fret(n, scale) (write 648mm)"; fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if most > before.HeapAlloc+1<<20 {
		t.Errorf("got %d bytes in use, want no more than 1 MiB over the %d before", most, before.HeapAlloc)
	}
}
