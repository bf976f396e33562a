package bench_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// within compares one kind of quantity; NaN equals NaN.
func within[T ~float64](tolerance float64) cmp.Option {
	return cmp.Comparer(func(a, b T) bool {
		x, y := float64(a), float64(b)
		return x == y || math.IsNaN(x) && math.IsNaN(y) || math.Abs(x-y) <= tolerance
	})
}

// closely compares values worked out in two ways: lengths to 1 nm.
var closely = cmp.Options{
	within[units.Length](1e-6), within[units.Cents](1e-6), within[units.Turns](1e-6), within[units.Angle](1e-6),
	within[units.Force](1e-6), within[float64](1e-9),
}

func diff(t *testing.T, what string, want, got any) {
	t.Helper()
	if d := cmp.Diff(want, got, closely); d != "" {
		t.Errorf("%s (-want +got):\n%s", what, d)
	}
}

func ok[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error  %v\nwant error %s", err, want)
	}
}

func wantPrefix(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("got error  %v\nwant error %s...", err, want)
	}
}

var (
	nan    = math.NaN()
	unread = units.Length(nan)
	silent = units.Cents(nan)
)

// all is the numbers from 1 to n.
func all(n int) []int {
	var out []int
	for i := 1; i <= n; i++ {
		out = append(out, i)
	}
	return out
}

// The ways of reading that the tests use.
var (
	relief1to14 = bench.How{Held: [2]int{1, 14}, At: 7}
	gapHeld     = bench.How{Held: [2]int{3}, At: 1}
	gapOpen     = bench.How{At: 1}
	at12        = bench.How{At: 12}
)

func lengths(mood bench.Mood, of bench.Subject, how bench.How, ls ...units.Length) bench.Entry {
	e := bench.Entry{Mood: mood, Of: of, How: how, Lengths: ls}
	if mood != bench.Want && of != bench.Relief {
		e.On = all(len(ls))
	}
	return e
}

func read(of bench.Subject, how bench.How, ls ...units.Length) bench.Entry {
	return lengths(bench.Read, of, how, ls...)
}

func want(of bench.Subject, how bench.How, ls ...units.Length) bench.Entry {
	return lengths(bench.Want, of, how, ls...)
}

func heard(how bench.How, cs ...units.Cents) bench.Entry {
	return bench.Entry{Mood: bench.Read, Of: bench.Cents, How: how, Cents: cs, On: all(len(cs))}
}

func on(e bench.Entry, strings ...int) bench.Entry {
	e.On = strings
	return e
}

func did(of bench.Subject, strings ...int) bench.Entry {
	return bench.Entry{Mood: bench.Did, Of: of, On: strings}
}

// moved is a saddle that was moved, back positive.
func moved(by units.Length, strings ...int) bench.Entry {
	return bench.Entry{Mood: bench.Did, Of: bench.Saddle, On: strings, By: by}
}

func set(t testing.TB, texts ...string) []tension.String {
	var out []tension.String
	for _, text := range texts {
		s, err := tension.ParseString(text)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

func tones(t testing.TB, notes ...string) []bench.Tone {
	var out []bench.Tone
	for _, n := range notes {
		p, err := units.ParsePitch(n)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, bench.Tone{Pitch: p})
	}
	return out
}

// six is an instrument of six strings on three saddles, with nothing wanted or
// read yet.
func six(t testing.TB, entries ...bench.Entry) *bench.Record {
	return &bench.Record{
		Scale: 640, Frets: 22, Radius: []units.Length{254, 355.6}, NutSpread: 35, SaddleSpread: 50,
		Strings: set(t, "11p", "14p", "18p", "28w", "38w", "49w"),
		Tuning:  tones(t, "D4", "A3", "F3", "C3", "G2", "D2"),
		Saddles: [][]int{{1, 2}, {3, 4}, {5, 6}},
		Entries: entries,
	}
}

// with returns the record with more told of it.
func with(r *bench.Record, change func(*bench.Record)) *bench.Record {
	change(r)
	return r
}
