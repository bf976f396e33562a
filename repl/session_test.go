package repl_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/repl"
)

const heron = "../examples/heron.record"

// Example keeps a record in a session and asks what follows.
func Example() {
	s := repl.New()
	for _, line := range []string{"scale: 640mm", "saddles: 1+2 3", "read cents 12: +6 +2 -3", "moves", "fret(12)"} {
		a, err := s.Line(context.Background(), line)
		if err != nil {
			fmt.Println(err)
			return
		}
		if a.Told() {
			continue
		}
		if err := a.Write(os.Stdout, repl.Words); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// saddle  move            turns  give or take  calliper then  left
	// 1+2     +1.5mm back         -         0.5mm              -  +2.0c -2.0c
	// 3       -1.1mm forward      -         0.5mm              -  0.0c
	// back is away from the nut: longer, lowers the fretted note against the open one
	// forward is towards the nut: shorter, raises the fretted note against the open
	//   one
	// saddle 1+2: to clear what is left, string 2 should stand 1.5mm further forward
	//   than string 1
	// give or take: for a tuner good to 1c, assumed
	// 320.000mm   # 12.5984in; 320.000mm on to the scale line
}

// What a batch stops at: each a line of standard error.
func TestBatchErrors(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"long line", strings.Repeat("1", 1e6), "-:1:1: got a line of more than 65536 bytes, want a shorter one"},
		{"long second line", "1mm\n" + strings.Repeat(" ", 1e6) + "\n", "-:2:1: got a line of more than 65536 bytes, want a shorter one"},
		{"brackets", strings.Repeat("(", 1e4), "-:1:101: got more than 100 brackets or signs in one another, want fewer"},
		{"signs", strings.Repeat("-", 1e4) + "1", "-:1:101: got more than 100 brackets or signs in one another, want fewer"},
		{"powers", strings.Repeat("2^", 1e4) + "1", "-:1:202: got more than 100 brackets or signs in one another, want fewer"},
		{"calls", strings.Repeat("hz(", 1e4), "-:1:303: got more than 100 brackets or signs in one another, want fewer"},
		{"zero bytes", strings.Repeat("\x00", 100), `-:1:1: got the control character '\x00', want text`},
		{"zeros", "0\n0\nscale: 0\n", `-:3:9: got "0", want a unit of length: mm, cm, m, in, thou, 64ths (such as 0mm)`},
		{"no text", "name: \xff\xfe", "-:1:7: got bytes that are no UTF-8, want text"},
		{"empty", "", "-:1:1: got nothing told or asked, want a record or a question"},
		{"blank", "\n \t\n# nothing\n", "-:1:1: got nothing told or asked, want a record or a question"},
		{"column in characters", "name: \"é\" x", `-:1:10: got " x", want nothing more (a quote inside a text is written "")`},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			err := repl.New().Run(context.Background(), "-", strings.NewReader(c.in), &out, repl.Words)
			if got := fmt.Sprint(err); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

func TestLineEndings(t *testing.T) {
	for _, in := range []string{"1mm\r\n2mm\n3mm", "\ufeff1mm\n2mm\r\n3mm\r\n", "1mm\n\n\r\n2mm\n3mm\n"} {
		var out strings.Builder
		if err := repl.New().Run(context.Background(), "-", iotest.OneByteReader(strings.NewReader(in)), &out, repl.Words); err != nil {
			t.Errorf("%q: %v", in, err)
		}
		if got := strings.Count(out.String(), "\n"); got != 3 {
			t.Errorf("%q: got %d lines, want 3:\n%s", in, got, out.String())
		}
	}
	for in, want := range map[string]string{
		"1mm\r2mm\r":         `-:1:4: got the control character '\r', want text`,
		"1mm\n\ufeff2mm\n":   `-:2:1: got "\ufeff2mm", want a value: a number, a note, a name, a function or a bracket`,
		"\ufeff\ufeff1mm\n":  `-:1:1: got "\ufeff1mm", want a value: a number, a note, a name, a function or a bracket`,
		"\xff\xfe1\x00m\x00": "-:1:4: got the control character '\\x00', want text",
		"\ufeff":             "-:1:1: got nothing told or asked, want a record or a question",
	} {
		if err := repl.New().Run(context.Background(), "-", strings.NewReader(in), io.Discard, repl.Words); fmt.Sprint(err) != want {
			t.Errorf("%q: got %v, want %s", in, err, want)
		}
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error)  { return 0, f.err }
func (f failing) Write([]byte) (int, error) { return 0, f.err }

func TestBrokenPipes(t *testing.T) {
	broken := errors.New("broken pipe")
	for _, line := range []string{"1mm\n", "help\n", "scale: 1mm\nframe(1)\n"} {
		for _, form := range []repl.Form{repl.Words, repl.JSON, repl.CSV} {
			err := repl.New().Run(context.Background(), "-", strings.NewReader(line), failing{broken}, form)
			if wrote := form == repl.JSON || !strings.Contains(line, "frame"); wrote && !errors.Is(err, broken) {
				t.Errorf("%q: got %v, want %v", line, err, broken)
			}
		}
	}
	var fault *repl.Error
	if err := repl.New().Run(context.Background(), "-", failing{broken}, io.Discard, repl.Words); !errors.Is(err, broken) || !errors.As(err, &fault) {
		t.Errorf("got %v, want %v with its place", err, broken)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := repl.New().Line(ctx, "1mm"); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want %v", err, context.Canceled)
	}
}

// A line with a fault leaves the record as it was.
func TestNothingLost(t *testing.T) {
	s := repl.New()
	loadRecord(t, s, heron)
	before := fmt.Sprintf("%+v", s.Record())
	for _, line := range []string{
		"scale: -1mm", "strings: 10p 11p", "saddles: 1+1", "radius: 1mm", "read cents 12: 1 2 3", "did saddle 1+3: back 1mm",
		"leaves: 0mm", "want action 12: 1 2 3 mm", "travel: 9mm 8mm", "record: 2", "read action 30: 1 1 1 1 1 1 mm", "tuning: E4",
	} {
		if _, err := s.Line(context.Background(), line); err == nil {
			t.Errorf("%s: got no error", line)
		}
		if after := fmt.Sprintf("%+v", s.Record()); after != before {
			t.Fatalf("%s: the record changed:\n%s\n%s", line, before, after)
		}
	}
}

// inputs gathers the lines of every transcript.
func inputs(t testing.TB) []string {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || files == nil {
		t.Fatalf("got no transcripts, %v", err)
	}
	var lines []string
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(string(b), "\n") {
			if !strings.HasPrefix(line, "\t") {
				lines = append(lines, line)
			}
		}
	}
	return lines
}

// An answer can be typed back in, and comes to the same.
func TestAnswersTypeBackIn(t *testing.T) {
	typed := 0
	for _, show := range []string{"show: mm", "show: in", "digits: 9"} {
		s := repl.New()
		loadRecord(t, s, heron)
		for _, line := range append([]string{show}, inputs(t)...) {
			if strings.HasPrefix(line, "show") && line != show || strings.HasPrefix(line, "digits") && line != show || strings.HasPrefix(line, "record") ||
				line == "M3-M3" { // a thread, always in mm
				continue
			}
			text, isValue := valueOf(s, line)
			if !isValue || strings.Contains(text, ": ") { // a line that was told
				continue
			}
			typed++
			if back, _ := valueOf(s, text); back != text && !strings.Contains(text, " + ") && !strings.HasPrefix(text, "plain(0.0") {
				t.Errorf("%s: %s typed back in comes to %s", line, text, back)
			}
		}
	}
	if typed < 100 {
		t.Errorf("got %d answers, want 100 at least", typed)
	}
}

// valueOf is what stands before the # of a line's answer, of a value.
func valueOf(s *repl.Session, line string) (text string, ok bool) {
	a, err := s.Line(context.Background(), line)
	if err != nil || a.Told() {
		return "", false
	}
	var words, object bytes.Buffer
	if a.Write(&words, repl.Words) != nil || a.Write(&object, repl.JSON) != nil {
		return "", false
	}
	var keys map[string]any
	if json.Unmarshal(object.Bytes(), &keys) != nil || strings.Count(words.String(), "\n") != 1 || keys["report"] != nil {
		return "", false
	}
	text, _, _ = strings.Cut(words.String(), " #")
	return strings.TrimSpace(text), true
}

// Every answer, and the error that ends a batch, is one JSON object a line.
func TestJSONLines(t *testing.T) {
	var out bytes.Buffer
	s := repl.New()
	loadRecord(t, s, heron)
	err := s.Run(context.Background(), "-", strings.NewReader("sheet\nfrets\n3mm\n10p\nhelp\n1/0\n"), &out, repl.JSON)
	if err == nil {
		t.Fatal("got no error of 1/0")
	}
	lines := bytes.Split(bytes.TrimSuffix(out.Bytes(), []byte("\n")), []byte("\n"))
	if len(lines) != 6 {
		t.Fatalf("got %d lines, want 6:\n%s", len(lines), out.String())
	}
	for _, line := range lines {
		if err := json.Unmarshal(line, &map[string]any{}); err != nil {
			t.Errorf("%s: %v", line, err)
		}
	}
	var last struct {
		Error, File  string
		Line, Column int
	}
	if err := json.Unmarshal(lines[5], &last); err != nil {
		t.Fatal(err)
	}
	want := last
	want.Error, want.File, want.Line, want.Column = "got a division by 0, want another number", "-", 6, 2
	if diff := cmp.Diff(want, last); diff != "" {
		t.Error(diff)
	}
}

// The rows of the reports hold at least these keys.
func TestRowKeys(t *testing.T) {
	s := repl.New()
	loadRecord(t, s, heron)
	for report, keys := range map[string]string{
		"frets":    "fret cents from_nut_mm gap_mm",
		"tensions": "string pitch gauge_mm unit_weight_g_per_m pull_N breaking_share",
		"heights":  "string fret wanted_mm read_mm saddle_change_mm turns_treble turns_bass leaves_mm",
		"moves":    "saddle strings move_mm direction turns band_mm calliper_mm left_cents",
		"next":     "step why stale",
	} {
		a, err := s.Line(context.Background(), report)
		if err != nil {
			t.Fatal(err)
		}
		var out bytes.Buffer
		if err := a.Write(&out, repl.JSON); err != nil {
			t.Fatal(err)
		}
		var got struct{ Rows []map[string]any }
		if err := json.Unmarshal(out.Bytes(), &got); err != nil || len(got.Rows) == 0 {
			t.Fatalf("%s: %v: %s", report, err, out.String())
		}
		for i, row := range got.Rows {
			for _, key := range strings.Fields(keys) {
				if _, ok := row[key]; !ok {
					t.Errorf("%s: row %d: no %s", report, i, key)
				}
			}
		}
	}
}

func TestComplete(t *testing.T) {
	s := repl.New()
	for _, line := range []string{"rise = 1mm"} {
		if _, err := s.Line(context.Background(), line); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		line string
		pos  int
		from int
		want []string
	}{
		{"fre", 3, 0, []string{"fret(", "fretless", "frets"}},
		{"saddle s", 8, 7, []string{"screw", "shared(", "shim(", "stack(", "stagger(", "stands", "stops("}},
		{"2mm + fre", 9, 6, []string{"fret("}},
		{"ri", 2, 0, []string{"rise"}},
		{"fret(12, ri", 11, 9, []string{"rise"}},
		{"3 tu", 4, 2, []string{"turns"}},
		{"fret", 2, 0, []string{"frets", "fret("}},
		{"read re", 7, 5, []string{"relief"}},
		{"read cents 12 from h", 20, 19, []string{"harmonic", "held"}},
		{"draw ", 5, 5, []string{"bridge", "end", "map", "neck", "side"}},
		{"draw m", 6, 5, []string{"map"}},
		{"slant: f", 8, 7, []string{"fixed", "free"}},
		{"zero fret: ", 11, 11, []string{"no", "yes"}},
		{"tempered me", 11, 9, []string{"meantone"}},
		{"temper: just f", 14, 13, []string{"from"}},
		{"scale: 6", 8, 7, nil},
		{"zz", 2, 0, nil},
		{"", 99, 0, nil},
		{"ab", -5, 0, nil},
	} {
		from, words := s.Complete(c.line, c.pos)
		if c.line == "fret" || c.pos < 0 || c.pos > len(c.line) {
			if from > len(c.line) || len(words) < 2 {
				t.Errorf("%q at %d: got %d, %q", c.line, c.pos, from, words)
			}
			continue
		}
		if diff := cmp.Diff(c.want, words); from != c.from || diff != "" {
			t.Errorf("%q at %d: got %d, %s", c.line, c.pos, from, diff)
		}
	}
}

// No line panics, harms the record, or makes an error of more than a line.
func FuzzLine(f *testing.F) {
	for _, line := range inputs(f) {
		f.Add(line, line)
	}
	f.Fuzz(func(t *testing.T, first, second string) {
		s := repl.New()
		for _, line := range []string{"scale: 640mm", "strings: 10p 46w", first, second, "sheet"} {
			a, err := s.Line(context.Background(), line)
			var fault *repl.Error
			if errors.As(err, &fault) {
				if strings.Contains(err.Error(), "\n") || fault.Column < 1 || fault.Column > utf8.RuneCountInString(line)+1 {
					t.Errorf("%q: got an error of %q at %d", line, err, fault.Column)
				}
			}
			for _, form := range []repl.Form{repl.Words, repl.JSON, repl.CSV} {
				if err := a.Write(io.Discard, form); err != nil {
					t.Errorf("%q: %v", line, err)
				}
			}
			r := s.Record()
			if err := r.Check(); err != nil {
				t.Errorf("%q left a record that is refused: %v", line, err)
			}
		}
	})
}
