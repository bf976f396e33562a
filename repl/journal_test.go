package repl

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.org/saddlepoint/repl/bench"
)

// mapFiles is a disk in memory.
type mapFiles map[string]string

func (m mapFiles) Open(name string) (io.ReadCloser, error) {
	text, ok := m[name]
	if !ok {
		return nil, fs.ErrNotExist
	}
	return io.NopCloser(strings.NewReader(text)), nil
}

func (m mapFiles) List(folder string) ([]string, error) {
	var names []string
	for name := range m {
		if rest, ok := strings.CutPrefix(name, folder); ok {
			if i := strings.IndexByte(rest, '/'); i >= 0 {
				rest = rest[:i+1]
			}
			if !slices.Contains(names, rest) {
				names = append(names, rest)
			}
		}
	}
	if names == nil {
		return nil, fs.ErrNotExist
	}
	return names, nil
}

func (m mapFiles) Write(name string, over bool, write func(io.Writer) error) error {
	if _, ok := m[name]; ok && !over {
		return fs.ErrExist
	}
	var b bytes.Buffer
	err := write(&b)
	if err == nil {
		m[name] = b.String()
	}
	return err
}

// say gives a session lines, and returns what it said to the last.
func say(t *testing.T, s *Session, lines ...string) string {
	t.Helper()
	last := ""
	for _, line := range lines {
		a, err := s.Line(context.Background(), line)
		var b strings.Builder
		if err != nil {
			b.WriteString(errors.Unwrap(err).Error())
		} else if err := a.Write(&b, Words); err != nil {
			t.Fatal(err)
		}
		last = strings.TrimSuffix(b.String(), "\n")
	}
	return last
}

// What is saved reads as it was typed, comments and all, and loads back.
func TestSaveKeepsWhatWasTyped(t *testing.T) {
	heron, err := os.ReadFile("../examples/heron.record")
	if err != nil {
		t.Fatal(err)
	}
	files := mapFiles{"heron": string(heron)}
	s := New()
	s.Files = files
	for _, c := range []struct{ line, want string }{
		{`load "heron"`, "loaded heron"},
		{`save "copy"`, "saved copy"},
		{`save "copy"`, "file already exists"},
		{`save "heron" replace`, "saved heron"},
		{`save`, "saved heron"},
	} {
		if got := say(t, s, c.line); got != c.want {
			t.Errorf("%s: got %s, want %s", c.line, got, c.want)
		}
	}
	for name, text := range files {
		if diff := cmp.Diff(string(heron), text); diff != "" {
			t.Errorf("%s (-read +saved):\n%s", name, diff)
		}
	}
	if s.Unsaved() {
		t.Error("got an unsaved record after a save")
	}
}

func TestSaveAddsTheVersion(t *testing.T) {
	files := mapFiles{}
	s := New()
	s.Files = files
	say(t, s, "# mine", "scale: 640mm  # long", "", "fret(12)", "frets: 21", `save "a"`)
	if got, want := files["a"], "record: 1\n# mine\nscale: 640mm  # long\nfrets: 21\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// In a batch, what stands above a question is the script's, not the record's.
func TestBatchKeepsTheRecordsComments(t *testing.T) {
	files := mapFiles{}
	s := New()
	s.Files = files
	batch := "# a script\nfret(12, 1m)\n# mine\n\nscale: 640mm\n# asked\nfret(12)\nfrets: 21\n# end\nsave \"a\"\n"
	if err := s.Run(context.Background(), "-", strings.NewReader(batch), io.Discard, Words); err != nil {
		t.Fatal(err)
	}
	if got, want := files["a"], "record: 1\n# mine\n\nscale: 640mm\nfrets: 21\n# end\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	again := "load \"a\"\nfret(12)\nfrets: 22\n# end\nundo\nfret(12)\nsave \"b\"\n"
	if err := s.Run(context.Background(), "-", strings.NewReader(again), io.Discard, Words); err != nil {
		t.Fatal(err)
	}
	if got, want := files["b"], files["a"]+"# end\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Loading is whole or not at all, and drops nothing unasked.
func TestLoad(t *testing.T) {
	files := mapFiles{
		"good": "record: 1\nscale: 1m\n", "newer": "record: 2\nscale: 2m\n", "asks": "scale: 2m\nfret(1)\n", "acts": "load \"acts\"\n",
		"wrong": "scale: 2m\nscale: 3\n", "empty": "# nothing\n",
		"bom": "\ufeffrecord: 1\r\nscale: 1m\r\n",
	}
	s := New()
	s.Files = files
	for _, c := range []struct{ line, want string }{
		{`load "none"`, "file does not exist"},
		{"scale: 640mm", "scale: 640mm"},
		{`load "good"`, "got lines told that are not saved, want them saved first, or replace after the name"},
		{`load "newer" replace`, "newer:1:9: got a record of version 2, want 1 at most: it was written by a newer program"},
		{`load "asks" replace`, "asks:2:1: got a line that asks or acts, want a record: lines that tell"},
		{`load "acts" replace`, "acts:1:1: got a line that asks or acts, want a record: lines that tell"},
		{`load "wrong" replace`, "wrong:2:9: got \"3\", want a unit of length: mm, cm, m, in, thou, 64ths (such as 3mm)"},
		{`load "empty" replace`, "got nothing told in empty, want a record"},
		{"fret(12)", "320.000mm   # 12.5984in; 320.000mm on to the scale line"},
		{`load "good" replace`, "loaded good"},
		{"fret(12)", "500.000mm   # 19.6850in; 500.000mm on to the scale line"},
		{`load "good"`, "loaded good"},
		{`load "bom"`, "loaded bom"},
		{`save "unmarked"`, "saved unmarked"},
		{"load", `got nothing, want a file's name, as in load "six.record"`},
		{"load good", `got "good", want the file's name in quotes, as in "six.record"`},
		{`load "good" again`, `got "again", want replace, or the end of the line`},
		{`load ""`, "got a name of nothing, want a file's"},
		{"undo it", `got "it", want the end of the line`},
	} {
		if got := say(t, s, c.line); got != c.want {
			t.Errorf("%s: got %s, want %s", c.line, got, c.want)
		}
	}
	if got, want := files["unmarked"], "record: 1\nscale: 1m\n"; got != want {
		t.Errorf("got %q, want %q: lines end as here", got, want)
	}
}

func TestUndo(t *testing.T) {
	s := New()
	say(t, s, "scale: 640mm", "# between", "frets: 21", "scale: 1m", "rise = 3mm")
	for _, c := range []struct{ line, want string }{
		{"undo", "took back: scale: 1m"},
		{"fret(12)", "320.000mm   # 12.5984in; 320.000mm on to the scale line"},
		{"history", "  1  scale: 640mm\n  2  frets: 21"},
		{"rise", "3.000mm   # 0.1181in"},
		{"undo", "took back: frets: 21"},
		{"undo", "took back: scale: 640mm"},
		{"undo", "got nothing told, want a line to take back"},
		{"history", "nothing told yet"},
		{"save", "got no files here, want a session that has them"},
	} {
		if got := say(t, s, c.line); got != c.want {
			t.Errorf("%s: got %s, want %s", c.line, got, c.want)
		}
	}
}

func TestMostTold(t *testing.T) {
	s := New()
	batch := strings.Repeat("scale: 640mm\n", MostTold)
	if err := s.Run(context.Background(), "-", strings.NewReader(batch), io.Discard, Words); err != nil {
		t.Fatal(err)
	}
	err := s.Run(context.Background(), "-", strings.NewReader("scale: 1m"), io.Discard, Words)
	if want := "-:1:1: got more than 100000 lines told, want a record of its own for the rest"; fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// A record keeps to a size, comments and all, and names of one's own to a number.
func TestMostText(t *testing.T) {
	s := New()
	comment := "# " + strings.Repeat("x", 60_000)
	told := "name: x " + comment
	for range mostText / (len(told) + 1) {
		if _, err := s.Line(context.Background(), told); err != nil {
			t.Fatal(err)
		}
	}
	for _, line := range []string{comment, told} {
		_, err := s.Line(context.Background(), line)
		if want := "-:1:1: got a record of more than 5242880 bytes, comments and all, want one of its own for the rest"; fmt.Sprint(err) != want {
			t.Errorf("got %v, want %s", err, want)
		}
	}
	err := New().Run(context.Background(), "-", strings.NewReader(strings.Repeat("\n", 200_001)), io.Discard, Words)
	if want := "-:200001:1: got a record of more than 200000 lines, comments and all, want one of its own for the rest"; fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
	s = New()
	for i := range mostNames {
		if _, err := s.Line(context.Background(), fmt.Sprintf("my%d = 1mm", i)); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := say(t, s, "one = 1mm"), "got more than 1000 names of your own, want fewer"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got := say(t, s, "my1 = 2mm"); got != "2.000mm   # 0.0787in" {
		t.Errorf("a name given again: got %s", got)
	}
}

// A line works with so many values, and a name has so many letters, and no more.
func TestMostOfALine(t *testing.T) {
	ones := "1" + strings.Repeat("+1", mostOperands-1)
	name := strings.Repeat("n", mostName)
	for _, c := range []struct{ line, want string }{
		{ones, "1000"},
		{ones + " + 1", "got more than 1000 values in a line, want fewer"},
		{name + " = 1mm", "1.000mm   # 0.0394in"},
		{"n" + name + " = 1mm", "got a name of 101 bytes, want at most 100"},
	} {
		if got := say(t, New(), c.line); got != c.want {
			t.Errorf("%.20s: got %s, want %s", c.line, got, c.want)
		}
	}
}

// The way back over a fresh start is kept while both records have room.
func TestWayBackIsForgotten(t *testing.T) {
	long := "name: x # " + strings.Repeat("x", 60_000)
	for _, c := range []struct {
		lines int
		want  string
	}{
		{20, "scale: 640mm"},
		{60, "got nothing told of scale, want a line with a colon that tells it, as in scale: 648mm"},
	} {
		s := New()
		for range c.lines {
			say(t, s, long)
		}
		say(t, s, "scale: 640mm", "record: 1")
		for range c.lines {
			say(t, s, long)
		}
		for range c.lines + 1 {
			say(t, s, "undo")
		}
		if got := say(t, s, "scale"); got != c.want {
			t.Errorf("%d lines: got %s, want %s", c.lines, got, c.want)
		}
	}
}

func TestLoadBesideALongRecord(t *testing.T) {
	s := New()
	s.Files = mapFiles{"a": strings.Repeat("scale: 1m\n", 2000), "b": strings.Repeat("scale: 1m\n", MostTold)}
	told := strings.Repeat("scale: 640mm\n", MostTold-500)
	if err := s.Run(context.Background(), "-", strings.NewReader(told), io.Discard, Words); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ line, want string }{
		{`load "a" replace`, "a:1501:1: got more lines than can be held beside the 99500 told here, want record: 1 told first"},
		{"scale", "scale: 640mm"},
		{`record: 1`, "record: 1"},
		{`load "b" replace`, "loaded b"},
		{"scale", "scale: 1m"},
	} {
		if got := say(t, s, c.line); got != c.want {
			t.Errorf("%s: got %s, want %s", c.line, got, c.want)
		}
	}
}

// A line taken back leaves the record as it was before, however many are, and what
// is told then stands in its place alone.
func TestUndoAll(t *testing.T) {
	s, twin := New(), New()
	was := []bench.Record{twin.Record()}
	for i := range 2 * mostPast {
		line := fmt.Sprintf("read cents 12: +%d +2 +3", i)
		if i%3 == 0 {
			line = fmt.Sprintf("scale: %dmm", 600+i)
		}
		say(t, s, line)
		if i > mostPast && i%2 == 0 { // and one told in vain
			say(t, s, "undo", "frets: 21", "undo", line)
		}
		say(t, twin, line)
		was = append(was, twin.Record())
	}
	for i := len(was) - 1; i >= 0; i-- {
		if diff := cmp.Diff(was[i], s.Record(), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("after %d lines (-told +told and taken back):\n%s", i, diff)
		}
		say(t, s, "undo")
	}
}

// Of a record that was loaded, nothing is counted that was told before.
func TestLoadCountsAnew(t *testing.T) {
	s := New()
	s.Files = mapFiles{"a": "scale: 1m\nread cents 12: +1 +2 +3\nread cents 12: +1 +2 +3\n"}
	answer := say(t, s, "scale: 1m", "read cents 12: +1 +2 +3 +4", "read cents 12: +1 +2 +3 +4", `load "a" replace`, "read cents 12: . . +1")
	got, _, _ := strings.Cut(answer, "\n")
	if want := "read cents 12: . . +1c"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestDisk(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a")
	text := func(s string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
	}
	if err := (Disk{}).Write(name, false, text("one")); err != nil {
		t.Fatal(err)
	}
	if err := (Disk{}).Write(name, false, text("two")); err == nil {
		t.Error("got no error of a file that is there")
	}
	broken := errors.New("broken")
	if err := (Disk{}).Write(name, true, func(io.Writer) error { return broken }); !errors.Is(err, broken) {
		t.Errorf("got %v, want %v", err, broken)
	}
	read := func() string {
		f, err := Disk{}.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		b, err := io.ReadAll(f)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if got := read(); got != "one" {
		t.Errorf("got %q after writes that failed, want one", got)
	}
	if err := os.Chmod(name, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := (Disk{}).Write(name, true, text("three")); err != nil {
		t.Fatal(err)
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o600 || read() != "three" {
		t.Errorf("got %v, %v, %q, want the mode kept and three", info.Mode(), err, read())
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(name, link); err != nil {
		t.Skip(err)
	}
	if err := (Disk{}).Write(link, true, text("four")); err == nil || read() != "three" {
		t.Errorf("got %v and %q, want a link refused", err, read())
	}
	if err := (Disk{}).Write(dir, true, text("four")); err == nil {
		t.Error("got no error of a folder")
	}
	if _, err := (Disk{}).Open(dir); err == nil {
		t.Error("got no error of a folder to read")
	}
	none := filepath.Join(dir, "none", "a")
	if err, want := (Disk{}).Write(none, false, text("five")), "write "+none+": no such file or directory"; runtime.GOOS == "linux" && fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
	taken := filepath.Join(dir, "taken")
	err := (Disk{}).Write(taken, false, func(w io.Writer) error {
		// Another program takes the name meanwhile.
		return os.WriteFile(taken, []byte("six"), 0o666)
	})
	if want := "got " + taken + ", which is there already, want another name, or replace after it"; fmt.Sprint(err) != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if left, err := filepath.Glob(filepath.Join(dir, ".*")); err != nil || left != nil {
		t.Errorf("got %q, %v left over", left, err)
	}
}
