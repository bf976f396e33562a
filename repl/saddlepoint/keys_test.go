package main

import (
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/chzyer/readline"
)

func TestKeyReader(t *testing.T) {
	for _, tt := range []struct {
		name string
		in   []string // reads of the terminal
		want string
	}{
		{"text", []string{"1.6mm ± 2½\r"}, "1.6mm ± 2½\r"},
		{"letters cut by reads", []string{"\xc2", "\xb1"}, "±"},
		{"keys that the editor knows", []string{"\x1b[A\x1bOB", "\x1b[H", "\x1bb"}, "\x1b[A\x1bOB\x1b[H\x1bb"},
		{"Home and End", []string{"\x1b[1~", "\x1b[4~", "\x1b[7~\x1b[8~"}, "\x1b[H\x1b[F\x1b[H\x1b[F"},
		{"word left and right", []string{"\x1b[1;5D\x1b[1;5C"}, "\x1bb\x1bf"},
		{"Ctrl-D", []string{"a\x04"}, "a\x1b\x14\x04"},
		{"NUL", []string{"\x00", "a\x00b"}, "ab"},
		{"tab typed", []string{"st", "\t", "\t\t", "st\t"}, "st\t\t\tst\t"},
		{"tab pasted", []string{"1.8\t1.9\t\t2.0\r", "\tx", "x\t\r"}, "1.8 1.9  2.0\r xx \r"},
	} {
		var parts []io.Reader
		for _, s := range tt.in {
			parts = append(parts, strings.NewReader(s))
		}
		got, err := io.ReadAll(&keyReader{src: io.MultiReader(parts...)})
		if err != nil || string(got) != tt.want {
			t.Errorf("%s: %q: got %q, %v, want %q", tt.name, tt.in, got, err, tt.want)
		}
	}
}

func TestKeyReaderError(t *testing.T) {
	src := iotest.DataErrReader(io.MultiReader(strings.NewReader("ab"), iotest.ErrReader(io.ErrUnexpectedEOF)))
	got, err := io.ReadAll(iotest.OneByteReader(&keyReader{src: src}))
	if err != io.ErrUnexpectedEOF || string(got) != "ab" {
		t.Errorf("got %q, %v, want %q, %v", got, err, "ab", io.ErrUnexpectedEOF)
	}
}

// Each of these ends the process when its guard is missing.
func TestDeadlyKeys(t *testing.T) {
	wide := []string{"a" + strings.Repeat("b", 50), "a" + strings.Repeat("c", 50)}
	for _, tt := range []struct {
		name    string
		options editorOptions
		want    string
		keys    []string
	}{
		{"Ctrl-T after one character", editorOptions{}, "ab", []string{"a", "\x14", "b", "\r"}},
		{"Ctrl-K after three tabs", editorOptions{Complete: offer("ab", "ac")}, "ab",
			[]string{"a", "\t", "\t", "\t", "\x0b", "b", "\r"}},
		{"Backspace under a list", editorOptions{Complete: offer("ab", "ac")}, "xab",
			[]string{" b", "\x01", "a", "\t", "\x01", "\x7f", "\x0b", "xab\r"}},
		{"motions after three tabs, on a narrow screen",
			editorOptions{Complete: offer(wide...), width: func() int { return 5 }}, "a",
			[]string{"a", "\t", "\t", "\t", "\x1b[4~", "\x1b[1~", "\x1b[B", "\x1b[A", "\r"}},
		{"search called off", editorOptions{}, "a", []string{"\x12", "\x07", "a", "\r"}},
	} {
		t.Run(strings.ReplaceAll(tt.name, " ", "_"), func(t *testing.T) {
			apart(t, func(t *testing.T) {
				d := sit(t, tt.options)
				d.want(tt.want, tt.keys...)
				d.wantWaiting()
			})
		})
	}
}

// The library would end the session or act on what it should not.
func TestTamedKeys(t *testing.T) {
	for _, tt := range []struct {
		name string
		want string
		keys []string
	}{
		{"Ctrl-Space, the end of input to the library", "ab", []string{"\x00", "a", "\x00", "b\r"}},
		{"Delete on an empty line, Ctrl-D to the library", "a", []string{"\x1b[3~", "a\r"}},
		{"Delete on a line emptied by Ctrl-D", "b", []string{"a", "\x02", "\x04", "\x1b[3~", "b\r"}},
		{"Delete", "ac", []string{"abc", "\x1b[D", "\x1b[D", "\x1b[3~", "\r"}},
		{"Delete at the end", "ab", []string{"ab", "\x1b[3~", "\r"}},
		{"Ctrl-W", "one  ", []string{"one  two", "\x17", "\r"}},
		{"Ctrl-K, Ctrl-Y", "one one", []string{"one ", "\x01", "\x0b", "\x19", "\x19", "\x7f\r"}},
		{"word left", "one Xtwo", []string{"one two", "\x1b[1;5D", "X\r"}},
		{"word right", "one Xtwo", []string{"one two", "\x1b[1~", "\x1b[1;5C", "X\r"}},
		{"Home and End under tmux", "XaY", []string{"a", "\x1b[1~", "X", "\x1b[4~", "Y\r"}},
		{"control characters", "ab", []string{"a\x0f\x11\x12\x13\x14\x16\x18\x1c\x1d\x1e\x1f\u0080\u009bb\r"}},
		{"tab pasted", "read cents 12: +5 +3", []string{"read cents 12:\t+5\t+3\r"}},
	} {
		t.Run(strings.ReplaceAll(tt.name, " ", "_"), func(t *testing.T) {
			d := sit(t, editorOptions{Complete: offer("+5x", "12:x")})
			d.want(tt.want, tt.keys...)
			d.wantWaiting()
		})
	}
}

// Ctrl-Z would stop the parent process, so the filter alone is asked.
func TestSwallowedKeys(t *testing.T) {
	d := sit(t, editorOptions{})
	for r := rune(1); r < 0xa0; r++ {
		// The editor's keys, as its source lists them, less Ctrl-T, Ctrl-Z, the search, and Ctrl-D without its mark.
		want := readline.CharBell
		if strings.ContainsRune("\x01\x02\x03\x05\x06\x07\b\t\n\v\f\r\x0e\x10\x15\x17\x19\x7f", r) || r >= ' ' && r < 0x7f {
			want = int(r)
		}
		if got, ok := d.filterKey(r); int(got) != want || !ok {
			t.Errorf("%q: got %q, %v, want %q, true", r, got, ok, want)
		}
	}
}
