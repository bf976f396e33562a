//go:build !race

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/saddlepoint/repl"
)

// mostMemory is what a batch may take at most, in KiB.
const mostMemory = 64 << 10

// A batch keeps within its memory, however it tries to fill it.
func TestMemory(t *testing.T) {
	dir := t.TempDir()
	// The longest record that is let in: as many lines, and nearly as many bytes.
	told := "strings: 10p 13p 17p 26w 36w 46w 10p 13p 17p 26w 36w 46w\n" +
		strings.Repeat("read cents 12: +1 +2 +3 +4 +5 +6 +7 +8 +9 +8 +7 +6\n", repl.MostTold-4)
	full := filepath.Join(dir, "full")
	if err := os.WriteFile(full, []byte(told), 0o666); err != nil {
		t.Fatal(err)
	}
	load := fmt.Sprintf("load %q replace\n", full)
	sum := "1" + strings.Repeat("+1", 32_000) + "\n"
	var names strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&names, "n%s%d = 1mm # %s\n", strings.Repeat("x", 90), i, strings.Repeat("x", 60_000))
	}
	for _, c := range []struct {
		name, batch string
		status      int
	}{
		{"history", load + "history\n", 0},
		{"undo", load + "undo\nundo\n", 0},
		{"another beside it", load + load, 1},
		{"blank lines", strings.Repeat("\n", 3_000_000), 1},
		{"comments", strings.Repeat("# "+strings.Repeat("x", 60_000)+"\n", 1000), 1},
		{"names", names.String() + sum, 1},
		{"a long sum", sum, 1},
		{"a long sum beside a record", load + sum, 1},
		{"one line", strings.Repeat("(", 10_000_000), 1},
	} {
		out, errs, status := runAs(t, "peak", c.batch, "-json")
		peak := 0
		if n, err := fmt.Sscanf(errs[strings.LastIndex(errs, "VmHWM:")+len("VmHWM:"):], "%d kB", &peak); n != 1 {
			t.Fatalf("%s: no peak in %q: %v", c.name, errs, err)
		}
		t.Logf("%s: %d KiB, %d bytes said", c.name, peak, len(out))
		if status != c.status || peak == 0 || peak > mostMemory {
			t.Errorf("%s: got status %d, %d KiB, %.200s; want %d, at most %d", c.name, status, peak, errs, c.status, mostMemory)
		}
	}
}
