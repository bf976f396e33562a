package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestHistory(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	d := sit(t, editorOptions{HistoryFile: path})
	d.want("fret(1)", "fret(1)\r")
	d.want("  fret(2) ", "  fret(2) \r")
	d.want("   ", "   \r")
	if _, err := d.read("fret(3", "\x03"); err != errInterrupt {
		t.Errorf("got %v, want %v", err, errInterrupt)
	}
	d.want("fret(1)", "\x1b[A", "\x1b[A", "\r")
	d.Close()

	d = sit(t, editorOptions{HistoryFile: path})
	d.want("fret(1)", "\x1b[A", "\r")
	d.want("fret(2)", "\x1b[A", "\x1b[A", "\r")
	d.want("new", "\x1b[A", "\x1b[B", "new\r")
	d.Close()

	got, err := os.ReadFile(path)
	if want := "fret(1)\nfret(2)\nfret(1)\nfret(2)\nnew\n"; err != nil || string(got) != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
	if s := d.err.String(); s != "" {
		t.Errorf("standard error: got %q, want nothing", s)
	}
}

// The library makes the file readable by all, and again when it trims it.
func TestHistoryMode(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such modes")
	}
	path := filepath.Join(t.TempDir(), "history")
	for _, before := range []string{"", "a\n", strings.Repeat("a\nb\n", 400)} {
		os.Remove(path)
		if before != "" {
			if err := os.WriteFile(path, []byte(before), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		d := sit(t, editorOptions{HistoryFile: path})
		d.want("one", "one\r")
		d.Close()
		fi, err := os.Stat(path)
		if err != nil || fi.Mode().Perm() != 0o600 {
			t.Errorf("%d bytes before: got mode %v, %v, want 0600", len(before), fi.Mode(), err)
		}
		got, err := os.ReadFile(path)
		if err != nil || !strings.HasSuffix(string(got), "one\n") {
			t.Errorf("%d bytes before: got %q, %v, want the line at the end", len(before), got, err)
		}
	}
}

func TestHistoryUnwritable(t *testing.T) {
	dir := t.TempDir()
	for _, path := range []string{filepath.Join(dir, "missing", "history"), dir} {
		d := sit(t, editorOptions{HistoryFile: path})
		d.want("a", "a\r")
		d.want("a", "\x1b[A", "\r") // this session's own lines are there
		got := d.err.String()
		if !strings.HasPrefix(got, "no history: ") || !strings.Contains(got, path) || strings.Count(got, "\n") != 1 {
			t.Errorf("%s: got %q on standard error, want one line that says so", path, got)
		}
	}
}

func TestHistoryPath(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("other folders elsewhere")
	}
	home := t.TempDir()
	config := filepath.Join(home, "config")
	open := filepath.Join(config, "saddlepoint")
	if err := os.MkdirAll(open, 0o755); err != nil {
		t.Fatal(err)
	}
	t.Setenv("HOME", home)
	for _, tt := range []struct{ xdg, want string }{
		{config, filepath.Join(open, "history")},
		{"", filepath.Join(home, ".config/saddlepoint/history")},
	} {
		t.Setenv("XDG_CONFIG_HOME", tt.xdg)
		got, err := historyPath()
		if err != nil || got != tt.want {
			t.Errorf("XDG_CONFIG_HOME=%q: got %q, %v, want %q", tt.xdg, got, err, tt.want)
			continue
		}
		if fi, err := os.Stat(filepath.Dir(got)); err != nil || fi.Mode().Perm() != 0o700 {
			t.Errorf("XDG_CONFIG_HOME=%q: got folder %v, %v, want mode 0700", tt.xdg, fi.Mode(), err)
		}
	}
	file := filepath.Join(home, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Setenv("XDG_CONFIG_HOME", file)
	if got, err := historyPath(); err == nil {
		t.Errorf("a file for a folder: got %q, want an error", got)
	}
	t.Setenv("XDG_CONFIG_HOME", "")
	t.Setenv("HOME", "")
	if got, err := historyPath(); err == nil {
		t.Errorf("no home: got %q, want an error", got)
	}
}

// Two sessions at once keep the lines of both, each whole, and neither has the
// other's while it runs.
func TestHistoryOfTwo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	a, b := sit(t, editorOptions{HistoryFile: path}), sit(t, editorOptions{HistoryFile: path})
	want := ""
	for i := 0; i < 40; i++ {
		line := strings.Repeat("1+", i)
		a.want(line+"1", line+"1\r")
		b.want(line+"2", line+"2\r")
		want += line + "1\n" + line + "2\n"
	}
	a.want("3", "\x1b[A", "\x7f", "3", "\x01", strings.Repeat("\x04", 78), "\r")
	a.Close()
	b.Close()
	got, err := os.ReadFile(path)
	if want += "3\n"; err != nil || string(got) != want {
		t.Errorf("got %q, %v, want %q", got, err, want)
	}
}
