package main

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// savings is a batch without end that saves one record over another.
type savings struct{ batch, rest string }

func (s *savings) Read(p []byte) (int, error) {
	if s.rest == "" {
		s.rest = s.batch
	}
	n := copy(p, s.rest)
	s.rest = s.rest[n:]
	return n, nil
}

const (
	saveA = "load \"a\" replace\nsave \"out\" replace\n"
	saveB = "load \"b\" replace\nsave \"out\" replace\n"
)

// However a save is killed, the old file is there whole, or the new one.
func TestKilledWhileSaving(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a kill there waits for the write")
	}
	const kills = 200
	dir := t.TempDir()
	var records [2][]byte
	for i, name := range []string{"a", "b"} {
		records[i] = []byte("record: 1\n" + strings.Repeat(fmt.Sprintf("# %s%s\n", name, strings.Repeat("-", 4000)), 60))
		records[i] = append(records[i], "scale: 640mm\n"...)
		if err := os.WriteFile(filepath.Join(dir, name), records[i], 0o666); err != nil {
			t.Fatal(err)
		}
	}
	out := filepath.Join(dir, "out")
	if err := os.WriteFile(out, records[0], 0o666); err != nil {
		t.Fatal(err)
	}
	seen, cut := [2]int{}, 0
	random := rand.New(rand.NewPCG(1, 2))
	for i := 0; i < kills; i++ {
		batch := saveA + saveB
		if i%2 == 1 {
			batch = saveB + saveA
		}
		killWhileSaving(t, dir, batch, time.Duration(random.Int64N(5e6)))
		b, err := os.ReadFile(out)
		switch {
		case err == nil && bytes.Equal(b, records[0]):
			seen[0]++
		case err == nil && bytes.Equal(b, records[1]):
			seen[1]++
		default:
			t.Fatalf("kill %d: got %d bytes, %v, want either record whole", i, len(b), err)
		}
		parts, err := filepath.Glob(filepath.Join(dir, ".out.*.part"))
		if err != nil {
			t.Fatal(err)
		}
		cut += len(parts)
		for _, part := range parts {
			os.Remove(part)
		}
	}
	t.Logf("%d kills left %d files of one record, %d of the other, %d while one was being written", kills, seen[0], seen[1], cut)
	if seen[0] == 0 || seen[1] == 0 || cut == 0 {
		t.Errorf("got %v files of the two records and %d cut short, want some of each", seen, cut)
	}
}

// killWhileSaving runs a batch over and over, and kills it some time after its
// first save.
func killWhileSaving(t *testing.T, dir, batch string, after time.Duration) {
	t.Helper()
	out := filepath.Join(dir, "out")
	before, err := os.Stat(out)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(os.Args[0])
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "RUN_SADDLEPOINT=1")
	stdin, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	fed := make(chan bool)
	go func() {
		io.Copy(stdin, &savings{batch: batch}) // until it is killed
		close(fed)
	}()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(100 * time.Microsecond) {
		if now, err := os.Stat(out); err == nil && !os.SameFile(before, now) {
			break
		}
	}
	time.Sleep(after)
	if err := cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	cmd.Wait()
	stdin.Close()
	<-fed
}
