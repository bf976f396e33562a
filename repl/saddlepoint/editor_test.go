package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

var long = flag.Bool("long", false, "type 600 runs of 3,000 random keys")

// patience is how long a test waits for the editor before it calls it stuck.
const patience = 30 * time.Second

// A screen keeps what is written to it.
type screen struct {
	mu  sync.Mutex
	buf bytes.Buffer
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.buf.Write(p)
}

func (s *screen) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.buf.String()
}

// A desk is an editor with someone typing at it.
type desk struct {
	*editor
	t        *testing.T
	in       *io.PipeWriter
	out, err screen
	keys     chan string
	pressed  atomic.Int32 // strings of keys
	taken    atomic.Int32 // of these, read by the editor
}

// sit opens an editor on pipes. Options left out get a wide screen and no words.
func sit(t *testing.T, o editorOptions) *desk {
	t.Helper()
	d := &desk{t: t, keys: make(chan string, 4096)}
	r, w := io.Pipe()
	o.Stdin, d.in = r, w
	o.Stdout, o.Stderr = &d.out, &d.err
	if o.width == nil {
		o.width = func() int { return 80 }
	}
	if o.Complete == nil {
		o.Complete = offer()
	}
	var err error
	if d.editor, err = newEditor(o); err != nil {
		t.Fatal(err)
	}
	done := make(chan bool)
	go func() {
		for {
			select {
			case k := <-d.keys:
				if _, err := io.WriteString(w, k); err != nil {
					return
				}
				d.taken.Add(1)
			case <-done:
				return
			}
		}
	}()
	t.Cleanup(func() {
		r.Close()
		close(done)
	})
	return d
}

// press types keys, each string as one read of the terminal.
func (d *desk) press(keys ...string) {
	d.pressed.Add(int32(len(keys)))
	for _, k := range keys {
		d.keys <- k
	}
}

// read types keys and returns the next line.
func (d *desk) read(keys ...string) (string, error) {
	d.t.Helper()
	d.press(keys...)
	type result struct {
		line string
		err  error
	}
	c := make(chan result, 1)
	go func() {
		line, err := d.ReadLine("> ")
		c <- result{line, err}
	}()
	select {
	case r := <-c:
		return r.line, r.err
	case <-time.After(patience):
		d.t.Fatalf("after %.99q the editor is stuck", keys)
		return "", nil
	}
}

// want checks that keys make one line.
func (d *desk) want(line string, keys ...string) {
	d.t.Helper()
	got, err := d.read(keys...)
	if err != nil || got != line {
		d.t.Errorf("keys %q: got %q, %v, want %q", keys, got, err, line)
	}
}

// wantWaiting checks that the editor reads nothing before it is asked for the
// next line, which is then "z".
func (d *desk) wantWaiting() {
	d.t.Helper()
	for end := time.Now().Add(patience); d.taken.Load() < d.pressed.Load(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			d.t.Fatal("the line ended before its last key")
		}
	}
	d.press("z")
	time.Sleep(50 * time.Millisecond)
	if d.taken.Load() == d.pressed.Load() {
		d.t.Error("the editor reads keys between lines")
	}
	d.want("z", "\r")
}

// apart runs f in a process of its own, because without the guard that it
// tests the whole process would die.
func apart(t *testing.T, f func(t *testing.T)) {
	t.Helper()
	const mark = "SADDLEPOINT_TEST_APART"
	if os.Getenv(mark) != "" {
		f(t)
		return
	}
	name := "^" + strings.ReplaceAll(t.Name(), "/", "$/^") + "$"
	cmd := exec.Command(os.Args[0], "-test.run="+name, "-test.v")
	cmd.Env = append(os.Environ(), mark+"=1", "GORACE=atexit_sleep_ms=0")
	out, err := cmd.CombinedOutput()
	if err != nil || !bytes.Contains(out, []byte("--- PASS: "+t.Name())) {
		t.Errorf("%v\n%.2000s", err, out)
	}
}

// offer completes the last run of letters, as the language does.
func offer(words ...string) func(string, int) (int, []string) {
	return func(line string, pos int) (from int, fit []string) {
		from = strings.LastIndexAny(line[:pos], " (+") + 1
		for _, w := range words {
			if strings.HasPrefix(w, line[from:pos]) {
				fit = append(fit, w)
			}
		}
		return from, fit
	}
}

func TestReadLine(t *testing.T) {
	d := sit(t, editorOptions{})
	d.want("fret(12)", "f", "r", "e", "t", "(12)", "\r")
	d.want("±3c at 2½ \u00a0mm", "±3c at 2½ \u00a0mm\r")
	d.want("", "\r")
	if line, err := d.read("half", "\x03"); line != "" || !errors.Is(err, errInterrupt) {
		t.Errorf("Ctrl-C: got %q, %v, want no line, %v", line, err, errInterrupt)
	}
	d.want("on", "on\r")
	if line, err := d.read("\x04"); line != "" || err != io.EOF {
		t.Errorf("Ctrl-D: got %q, %v, want no line, EOF", line, err)
	}
	d.want("ac", "abc", "\x02", "\x02", "\x04", "\r") // with text, Ctrl-D deletes
	d.wantWaiting()
	if s := d.out.String(); !strings.Contains(s, "> fret(12)") {
		t.Errorf("got %q, want the prompt and the line", s)
	}
	if s := d.err.String(); s != "" {
		t.Errorf("standard error: got %q, want nothing", s)
	}
}

func TestPasteOfLines(t *testing.T) {
	d := sit(t, editorOptions{})
	d.want("name: six", "name: six\rscale:\t628mm\r\rfrets: 21")
	d.want("scale: 628mm")
	d.want("")
	d.want("frets: 21", "\r")
}

// A line too long is refused, and does not take minutes to draw.
func TestLongLine(t *testing.T) {
	d := sit(t, editorOptions{})
	most := strings.Repeat("é", mostTyped)
	d.want(most, most+"\r")
	d.press(strings.Repeat("é", 33_000)+"\r", "é", "\x1b[A", "\x15", "\x19", "\x19", strings.Repeat("\x19", 400)+"\r")
	d.want("next", "next\r")
	if n := len(d.out.String()); n > 20e6 {
		t.Errorf("got %d bytes drawn, want no line that grows by Ctrl-Y for ever", n)
	}
	if s := d.err.String(); strings.Count(s, "got a line of more than 1000 characters, want") != 2 {
		t.Errorf("got %q on standard error, want two lines refused", s)
	}
}

func TestEndOfInput(t *testing.T) {
	d := sit(t, editorOptions{})
	d.want("whole", "whole\r")
	d.in.Close()
	if line, err := d.read(); line != "" || err != io.EOF {
		t.Errorf("got %q, %v, want no line, EOF", line, err)
	}
}

func TestClose(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	d := sit(t, editorOptions{HistoryFile: path})
	d.want("one", "one\r")
	closed := make(chan error, 1)
	go func() { closed <- d.Close() }()
	select {
	case err := <-closed:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(patience):
		t.Fatal("Close is stuck")
	}
	if err := d.rl.SaveHistory("two"); !errors.Is(err, os.ErrClosed) {
		t.Errorf("a line saved after Close: got %v, want %v", err, os.ErrClosed)
	}
}

func TestWidth(t *testing.T) {
	for _, tt := range []struct{ screen, want int }{{-1, 40}, {0, 40}, {5, 40}, {39, 40}, {40, 40}, {132, 132}} {
		d := sit(t, editorOptions{width: func() int { return tt.screen }})
		if got := d.rl.Config.FuncGetWidth(); got != tt.want {
			t.Errorf("screen of %d: got width %d, want %d", tt.screen, got, tt.want)
		}
	}
}

// The library draws for the width that the terminal has when the key comes.
func TestWidthChanged(t *testing.T) {
	var width atomic.Int32
	width.Store(100)
	d := sit(t, editorOptions{width: func() int { return int(width.Load()) }})
	line := strings.Repeat("1", 60)
	d.want(line, line, "\r")
	if s := d.out.String(); strings.Contains(s, "\x1b[A") {
		t.Errorf("got %q, want a line of 60 in one row of 100", s)
	}
	width.Store(40)
	d.want(line, line, "\r")
	if s := d.out.String(); !strings.Contains(s, "\x1b[A") {
		t.Errorf("got %q, want the cursor to go up a row of 40", s)
	}
}

func TestComplete(t *testing.T) {
	words := []string{"Größe_ä", "Größe_b", "stack(", "stagger(", "tension(", "tensions"}
	d := sit(t, editorOptions{Complete: offer(words...)})
	d.want("camber(1", "camber(1", "\t", "\r") // nothing to offer
	d.want("stack( x", "stac", "\t", " x\r")   // the whole of one word
	d.want("1 + stagger( + 2", "1 + stag + 2", strings.Repeat("\x02", 4), "\t", "\r")
	d.want("Größe_ä", "Grö", "\t", "ä\r")  // what all have in common, counted in letters
	d.want("½ tension", "½ t", "\t", "\r") // after a letter of two bytes
	const list = "\x1b[Jstack("
	if s := d.out.String(); strings.Contains(s, list) {
		t.Errorf("got %q, want no list so far", s)
	}
	d.want("stack(", "sta", "\t", "c", "\t", "\r") // the list, then more of a word
	if s := d.out.String(); !strings.Contains(s, list) {
		t.Errorf("got %q, want a list of words", s)
	}
	d.wantWaiting()
}

// Enter under a list of words would draw the prompt after the line is entered.
func TestEnterUnderList(t *testing.T) {
	d := sit(t, editorOptions{Complete: offer("ab", "ac")})
	d.want("a", "a", "\t", "\r")
	d.wantWaiting()
	if s := d.out.String(); strings.HasSuffix(strings.Split(s, "> z")[0], "> ") {
		t.Errorf("got %q, want no prompt of its own", s)
	}
}

// Keys are typed at random, on screens that change their width; whatever they
// were, the editor must live, wait between lines, and still take a line.
func TestRandomKeys(t *testing.T) {
	runs, n := 20, 300
	if *long {
		runs, n = 600, 3000
	}
	for run := range runs {
		if !t.Run(fmt.Sprint(run), func(t *testing.T) { typeAtRandom(t, uint64(run), n) }) {
			return
		}
	}
}

// randomKeys leans to keys that open lists and histories, and then to all others.
func randomKeys(rnd *rand.Rand) string {
	const often = "\t\t\t\t\x12\x13\r\r\x7f\b\x0b\x14\x1a\x17\x19\x01\x05\x02\x06\x10\x0e\x10\x0e\x03\x04\x00\x1b\x07ab(sft s漢é "
	all := []rune(often)
	switch rnd.IntN(8) {
	case 0:
		return string(rune(rnd.IntN(0x100)))
	case 1:
		return string([]byte{byte(rnd.IntN(0x100))})
	case 2:
		return string([]rune{'\x1b', all[rnd.IntN(len(all))]})
	case 3:
		return "\x1b[" + string("0123456789;ABCDFHR~"[rnd.IntN(19)]) + "~"
	}
	return string(all[rnd.IntN(len(all))])
}

func typeAtRandom(t *testing.T, seed uint64, n int) {
	rnd := rand.New(rand.NewPCG(seed, 1))
	var width atomic.Int32
	width.Store(40)
	words := []string{"a" + strings.Repeat("b", 50), "a" + strings.Repeat("b", 51), "ab" + strings.Repeat("c", 34),
		"ab" + strings.Repeat("d", 34), "fret(", "frets", "stack(", "stagger(", "sé"}
	o := editorOptions{Complete: offer(words...), width: func() int { return int(width.Load()) }}
	if seed%2 == 0 {
		o.HistoryFile = filepath.Join(t.TempDir(), "history")
	}
	d := sit(t, o)

	go func() {
		for range n {
			d.press(randomKeys(rnd))
			if rnd.IntN(50) == 0 {
				width.Store(rnd.Int32N(120))
			}
		}
		// Out of any sequence begun, then a line that is known.
		d.press("\x1b[A", "\x05", "\x15", "known\r")
	}()
	for {
		line, err := d.read()
		if line == "known" {
			return
		}
		if err != nil && err != io.EOF && err != errInterrupt {
			t.Fatal(err)
		}
	}
}
