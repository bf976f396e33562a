package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"example.org/saddlepoint/repl"
)

// The test program is the program itself where asked to be, and may say how much
// memory it took.
func TestMain(m *testing.M) {
	as := os.Getenv("RUN_SADDLEPOINT")
	if as == "" {
		os.Exit(m.Run())
	}
	status := program()
	if as == "peak" {
		text, err := os.ReadFile("/proc/self/status")
		fmt.Fprintln(os.Stderr, string(text), err)
	}
	os.Exit(status)
}

// run runs the program, and returns what it printed and its exit status.
func run(t *testing.T, stdin string, args ...string) (out, errs string, status int) {
	t.Helper()
	return runAs(t, "1", stdin, args...)
}

func runAs(t *testing.T, as, stdin string, args ...string) (out, errs string, status int) {
	t.Helper()
	cmd := exec.Command(os.Args[0], args...)
	cmd.Env = append(os.Environ(), "RUN_SADDLEPOINT="+as)
	cmd.Stdin = strings.NewReader(stdin)
	var o, e bytes.Buffer
	cmd.Stdout, cmd.Stderr = &o, &e
	var exit *exec.ExitError
	if err := cmd.Run(); errors.As(err, &exit) {
		status = exit.ExitCode()
	} else if err != nil {
		t.Fatal(err)
	}
	return o.String(), e.String(), status
}

func TestBatch(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		return path
	}
	told, asks, bad, empty := file("told", "scale: 640mm\n"), file("asks", "fret(12)\n"), file("bad", "1mm\n\nfret(12, 648)\n2mm\n"), file("empty", "")
	const half = "320.000mm   # 12.5984in; 320.000mm on to the scale line\n"
	for _, c := range []struct {
		name, stdin string
		args        []string
		out, errs   string
		status      int
	}{
		{"standard input", "1mm\n", nil, "1.000mm   # 0.0394in\n", "", 0},
		{"files in one session", "", []string{told, asks}, half, "", 0},
		{"a dash", "fret(12)\n", []string{told, "-"}, half, "", 0},
		{"json", "1mm\n", []string{"-json"}, `{"value":1,"unit":"mm","also":["0.0394in"]}` + "\n", "", 0},
		{"an error", "", []string{bad}, "1.000mm   # 0.0394in\n",
			bad + ":3:10: got 648 with no unit, want a length, the scale, as in fret(n, scale) (write 648mm)\n", 1},
		{"csv", "1mm\nscale: 1m\n1/0\n", []string{"-csv"}, "value,unit\n1,mm\n\n", "-:3:2: got a division by 0, want another number\n", 1},
		{"json and csv", "1mm\n", []string{"-csv", "-json"}, "", "got -json and -csv, want one of them\n", 2},
		{"an error in json", "1/0\n", []string{"-json", "-"}, `{"error":"got a division by 0, want another number","file":"-","line":1,"column":2}` + "\n",
			"-:1:2: got a division by 0, want another number\n", 1},
		{"an empty file", "", []string{empty}, "", empty + ":1:1: got nothing told or asked, want a record or a question\n", 1},
		{"empty input", "", nil, "", "-:1:1: got nothing told or asked, want a record or a question\n", 1},
		{"no file", "", []string{filepath.Join(dir, "none")}, "", filepath.Join(dir, "none") + ":1:1: open " + filepath.Join(dir, "none") + ": no such file or directory\n", 1},
		{"a folder", "", []string{dir}, "", dir + ":1:1: read " + dir + ": is a directory\n", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, errs, status := run(t, c.stdin, c.args...)
			if out != c.out || errs != c.errs || status != c.status {
				t.Errorf("got status %d\n%s%s\nwant %d\n%s%s", status, out, errs, c.status, c.out, c.errs)
			}
		})
	}
}

// A run that asks nothing ends with the sheet.
func TestSheetAtTheEnd(t *testing.T) {
	sheet, errs, status := run(t, "", "../../examples/heron.record")
	if errs != "" || status != 0 {
		t.Fatal(errs, status)
	}
	asked, _, _ := run(t, "sheet\n", "../../examples/heron.record", "-")
	if sheet != asked || len(sheet) < 1000 {
		t.Errorf("got\n%s\nwant\n%s", sheet, asked)
	}
	if piped, _, _ := run(t, "scale: 640mm\n"); !strings.Contains(piped, "scale 640mm") {
		t.Errorf("got %q of what is piped, want a sheet", piped)
	}
}

func TestLocale(t *testing.T) {
	for _, c := range []struct {
		all, ctype, lang string
		want             bool
	}{
		{"", "", "", false},
		{"", "", "en_GB.UTF-8", true},
		{"", "", "C.utf8", true},
		{"C", "", "en_GB.UTF-8", false},
		{"", "POSIX", "en_GB.UTF-8", false},
		{"", "en_GB.UTF-8", "C", true},
		{"en_GB.UTF-8", "C", "C", true},
		{"", "", "en_GB.ISO-8859-1", false},
	} {
		env := map[string]string{"LC_ALL": c.all, "LC_CTYPE": c.ctype, "LANG": c.lang}
		if got := speaksUTF8(func(name string) string { return env[name] }); got != c.want {
			t.Errorf("%v: got %v, want %v", env, got, c.want)
		}
	}
}

// The hint is three lines that fit the narrowest terminal, and what it shows runs.
func TestHint(t *testing.T) {
	lines := strings.Split(hint, "\n")
	if len(lines) != 3 {
		t.Fatalf("got %d lines, want 3", len(lines))
	}
	s := repl.New()
	for i, line := range lines {
		if utf8.RuneCountInString(line) > minWidth {
			t.Errorf("got %q, want %d characters at most", line, minWidth)
		}
		_, shown, _ := strings.Cut(line, ": ")
		asks := []string{shown}
		if i > 0 {
			asks = strings.Split(shown, ", ")
		}
		for _, ask := range asks {
			if _, err := s.Line(context.Background(), ask); err != nil {
				t.Errorf("%s: %v", ask, err)
			}
		}
		if i == 0 {
			if _, err := s.Line(context.Background(), "scale: 648mm"); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func TestCaret(t *testing.T) {
	for _, c := range []struct {
		line   string
		column int
		want   string
	}{
		{"1/0", 2, "   ^"},
		{"é/0", 2, "   ^"},
		{"", 1, "  ^"},
		{"1", 99, "   ^"},
	} {
		got := caret(c.line, &repl.Error{Column: c.column, Err: errors.New("got that")}, 0)
		if want := c.want + "\ngot that"; got != want {
			t.Errorf("%q: got %q, want %q", c.line, got, want)
		}
	}
}
