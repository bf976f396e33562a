package units_test

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/units"
)

// Source: pitch_et_table.csv: three published tables of equal temperament at
// A4 = 440 Hz, and mpmath at 50 digits.
func TestPitchTable(t *testing.T) {
	for _, row := range rows(t, "pitch_et_table.csv", 108) {
		n, err := units.ParseNote(row["note"])
		if err != nil || strconv.Itoa(int(n)) != row["midi"] || n.String() != row["note"] {
			t.Errorf("%s: got %v, number %d, %v, want number %s", row["note"], n, int(n), err, row["midi"])
		}
		f := n.Frequency(440)
		for _, column := range []string{"published_mtu_hz", "published_4sig_hz", "published_crc_hz", "recomputed_hz_6dp"} {
			if row[column] != "" {
				check(t, row["note"]+" "+column, float64(f), row[column])
			}
		}
		if p := units.Nearest(f, 440); p.Note != n || math.Abs(float64(p.Off)) > 1e-12 {
			t.Errorf("%v: got %v, want %v", f, p, n)
		}
	}
}

// Source: pitch_open_strings.csv: tunings are common practice, no source; A4 =
// 440 Hz, mpmath.
func TestOpenStrings(t *testing.T) {
	for _, row := range rows(t, "pitch_open_strings.csv", 63) {
		what := row["tuning"] + " " + row["string_no_from_treble"]
		p, err := units.ParsePitch(row["note"])
		if err != nil || strconv.Itoa(int(p.Note)) != row["midi"] {
			t.Errorf("%s: got number %d, %v, want %s", what, int(p.Note), err, row["midi"])
		}
		check(t, what, float64(p.Frequency(440)), row["recomputed_hz_4dp"])
	}
}

// Source: mts_examples.csv: the MIDI Tuning Standard's own examples, of which
// seven are misprinted, an independent test suite's, and mpmath at 50 digits.
func TestTuningStandard(t *testing.T) {
	misprints := 0
	for _, row := range rows(t, "mts_examples.csv", 14) {
		what := row["hex_xx_yy_zz"]
		hex, err := strconv.ParseUint(what, 16, 24)
		if err != nil {
			t.Fatal(err)
		}
		fraction := hex>>8&0x7f<<7 | hex&0x7f
		f := float64(units.Pitch{Note: units.Note(hex >> 16), Off: units.Cents(fraction) * 100 / 16384}.Frequency(440))
		check(t, what, f, row["recomputed_hz_6dp"])
		check(t, what, f, row["published_testsuite_hz"])
		if row["verdict"] == "ok to 4 dp" {
			check(t, what, f, row["published_spec_hz"])
		} else {
			differs(t, what, f, row["published_spec_hz"])
			misprints++
		}
	}
	if misprints != 7 {
		t.Errorf("got %d misprints, want 7", misprints)
	}
}

// Source: cents_intervals.csv: intervals of the literature by their ratios, and
// mpmath at 50 digits.
func TestIntervals(t *testing.T) {
	for _, row := range rows(t, "cents_intervals.csv", 28) {
		from, to := units.Frequency(number(t, row["ratio_den"])), units.Frequency(number(t, row["ratio_num"]))
		exact := number(t, row["recomputed_cents_15dp"])
		near(t, row["interval"], float64(units.Interval(from, to)), exact, 3)
		near(t, row["interval"]+" down", float64(units.Interval(to, from)), -exact, 3)
		near(t, row["interval"]+" ratio", units.Cents(exact).Ratio(), float64(to/from), 3)
		if row["published_cents"] == "" {
			continue
		}
		digits := 0.5
		switch {
		case strings.HasPrefix(row["check"], "last 1-2 digits differ"):
			digits = 10 // a table of float64s, gone wrong in its last places
		case strings.Contains(row["source"], "13 dp"):
			digits = 0.9 // a float64 of this size moves by 0.14 of the last digit
		}
		if !agreesTo(float64(units.Interval(from, to)), row["published_cents"], digits) {
			t.Errorf("%s: got %.15g, want %s", row["interval"], units.Interval(from, to), row["published_cents"])
		}
	}
}

// A note's twelfth power is that of A4 times a whole power of two: against 60
// digits, at several tunings.
func TestNoteFrequency(t *testing.T) {
	twelfth := func(x float64) *big.Float {
		q := new(big.Float).SetPrec(200).SetFloat64(x)
		q.Mul(q, q)
		q.Mul(q, new(big.Float).Mul(q, q)) // the sixth
		return q.Mul(q, q)
	}
	for _, a4 := range []float64{415, 440, 442.5} {
		for n := units.Note(-200); n <= 300; n++ {
			want := twelfth(a4)
			want.SetMantExp(want, int(n-units.A4))
			got := twelfth(float64(n.Frequency(units.Frequency(a4))))
			off, _ := got.Sub(got.Quo(got, want), big.NewFloat(1)).Float64()
			if !(math.Abs(off)/12 <= 0x1p-52) {
				t.Errorf("%v at %v: got it off by %v of itself, want two roundings at most", n, a4, off/12)
			}
		}
	}
	if got := units.A4.Frequency(442); got != 442 {
		t.Errorf("got A4 at %v, want 442Hz", got)
	}
}

func TestInterval(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	for _, row := range []struct{ from, to, want float64 }{
		{440, 440, 0},
		{440, 880, 1200},
		{880, 440, -1200},
		{440, 440 * (1 + 0x1p-40), 0x1p-40 * 1200 / math.Ln2}, // log(1 + x) is x
		{440 * (1 + 0x1p-40), 440, -0x1p-40 * 1200 / math.Ln2},
		{0.5, 0.5 * (1 + 0x1p-40), 0x1p-40 * 1200 / math.Ln2},
		{0x1p-1000, 0x1p1000, 2000 * 1200}, // the quotient overflows
		{0x1p1000, 0x1p-1000, -2000 * 1200},
		{0, 440, inf},
		{440, 0, -inf},
		{440, inf, inf},
		{-440, 440, nan},
		{440, -440, nan},
		{-440, -441, nan},
		{-0.5, -0.5 * (1 + 0x1p-40), nan},
		{0, 0, nan},
		{nan, 440, nan},
		{440, nan, nan},
	} {
		got := float64(units.Interval(units.Frequency(row.from), units.Frequency(row.to)))
		if got == row.want || math.IsNaN(got) && math.IsNaN(row.want) {
			continue
		}
		if !(math.Abs(got-row.want) <= 1e-11*math.Abs(row.want)) {
			t.Errorf("from %v to %v: got %v, want %v", row.from, row.to, got, row.want)
		}
	}
}

func TestCents(t *testing.T) {
	for _, row := range []struct {
		c     units.Cents
		ratio float64
	}{{0, 1}, {units.Octave, 2}, {-units.Octave, 0.5}, {3 * units.Octave, 8}, {6 * units.Semitone, math.Sqrt2}, {50 * units.Cent, math.Pow(2, 1./24)}} {
		near(t, row.c.String(), row.c.Ratio(), row.ratio, 1)
		near(t, row.c.String()+" less 1", 1+row.c.Excess(), row.ratio, 1)
		near(t, row.c.String()+" from 440Hz", float64((440 * units.Hertz).Shift(row.c)), 440*row.ratio, 2)
	}
	const tiny = 1e-12
	near(t, "a tiny interval less 1", units.Cents(tiny).Excess(), tiny*math.Ln2/1200, 2)
	nan := units.Cents(math.NaN())
	if x := float64(units.Frequency(440).Shift(nan)); !math.IsNaN(x) || !math.IsNaN(nan.Excess()) {
		t.Errorf("got %v and %v from NaN, want NaN", x, nan.Excess())
	}
}

func TestParseNote(t *testing.T) {
	for _, row := range []struct {
		in   string
		want units.Note
		out  string // if not in
	}{
		{"A4", 69, ""}, {"C4", 60, ""}, {"E2", 40, ""}, {"G9", 127, ""}, {"E10", 136, ""},
		{"F#3", 54, ""}, {"F♯3", 54, "F#3"}, {"Bb2", 46, "A#2"}, {"B♭2", 46, "A#2"},
		{"Cb4", 59, "B3"}, {"B#3", 60, "C4"}, {"E#4", 65, "F4"}, {"Fb4", 64, "E4"}, {"Ab4", 68, "G#4"}, {"Db-1", 1, "C#-1"},
		{"C-1", 0, ""}, {"C#-1", 1, ""}, {"B-2", -1, ""}, {"C-99", -1176, ""}, {"B99", 1211, ""}, {"A04", 69, "A4"},
	} {
		got, err := units.ParseNote(row.in)
		if err != nil || got != row.want {
			t.Errorf("%s: got %d, %v, want %d", row.in, int(got), err, int(row.want))
		}
		out := row.out
		if out == "" {
			out = row.in
		}
		if got.String() != out {
			t.Errorf("%s: got text %v, want %s", row.in, got, out)
		}
	}
}

func TestParsePitch(t *testing.T) {
	for _, row := range []struct {
		in, out string
		want    units.Pitch
	}{
		{"E4", "E4", units.Pitch{Note: 64}},
		{"E4+7c", "E4+7c", units.Pitch{Note: 64, Off: 7}},
		{"Bb2-3.5 cents", "A#2-3.5c", units.Pitch{Note: 46, Off: -3.5}},
		{"C-1-1c", "C-1-1c", units.Pitch{Note: 0, Off: -1}},
		{"A4+0c", "A4", units.Pitch{Note: 69}},
		{"B♭2+.5c", "A#2+0.5c", units.Pitch{Note: 46, Off: 0.5}},
	} {
		got, err := units.ParsePitch(row.in)
		if err != nil || got != row.want || got.String() != row.out {
			t.Errorf("%s: got %v, %v, want %v as %s", row.in, got, err, row.want, row.out)
		}
	}
	// 1 Hz above A440 is 3.93 cents.
	if got := units.Nearest(441, 440); got.Note != units.A4 || !agrees(float64(got.Off), "3.9302") {
		t.Errorf("got 441Hz as %v, want A4+3.9302c", got)
	}
}

func TestPitchString(t *testing.T) {
	for _, row := range []struct {
		off  float64
		want string
	}{
		{7, "A4+7c"}, {-3.5, "A4-3.5c"}, {1e-9, "A4+1e-09c"}, {-1e20, "A4-1e+20c"}, {0, "A4"}, {math.Copysign(0, -1), "A4"},
		{math.Inf(1), "A4+Infc"}, {math.Inf(-1), "A4-Infc"}, {math.NaN(), "A4+NaNc"},
	} {
		if got := (units.Pitch{Note: units.A4, Off: units.Cents(row.off)}).String(); got != row.want {
			t.Errorf("off by %v: got %s, want %s", row.off, got, row.want)
		}
	}
}

func TestNoteErrors(t *testing.T) {
	const note, octave, spread = ", want a note such as E4, Bb2 or F#3", ", want an octave after the letter, as in ", ", want a note from C-99 to B99"
	for _, row := range []struct{ in, want string }{
		{"", `nothing: at byte 0: got nothing` + note},
		{"H4", `"H4": at byte 0: got "H4"` + note},
		{"e4", `"e4": at byte 0: got "e4"` + note},
		{"4", `"4": at byte 0: got "4"` + note},
		{"1E4", `"1E4": at byte 0: got "1E4"` + note},
		{"NaN", `"NaN": at byte 0: got "NaN"` + note},
		{" E4", `" E4": at byte 0: got " E4"` + note},
		{"E", `"E": at byte 1: got nothing` + octave + "E4"},
		{"Bb", `"Bb": at byte 2: got nothing` + octave + "Bb4"},
		{"B♭", `"B♭": at byte 4: got nothing` + octave + "B♭4"},
		{"E##4", `"E##4": at byte 2: got "#4"` + octave + "E#4"},
		{"Ebb4", `"Ebb4": at byte 2: got "b4"` + octave + "Eb4"},
		{"E#b4", `"E#b4": at byte 2: got "b4"` + octave + "E#4"},
		{"E 4", `"E 4": at byte 1: got " 4"` + octave + "E4"},
		{"E-", `"E-": at byte 1: got "-"` + octave + "E4"},
		{"C--1", `"C--1": at byte 1: got "--1"` + octave + "C4"},
		{"C+1", `"C+1": at byte 1: got "+1"` + octave + "C4"},
		{"C100", `"C100": at byte 0: got "C100"` + spread},
		{"C-100", `"C-100": at byte 0: got "C-100"` + spread},
		{"Cb-99", `"Cb-99": at byte 0: got "Cb-99"` + spread},
		{"B#99", `"B#99": at byte 0: got "B#99"` + spread},
		{"C99999999999999999999", `"C99999999999999999999": at byte 0: got "C99999999999999999999"` + spread},
	} {
		n, err := units.ParseNote(row.in)
		wantError(t, err, row.want)
		p, perr := units.ParsePitch(row.in)
		wantError(t, perr, row.want)
		if n != 0 || p != (units.Pitch{}) {
			t.Errorf("%q: got %v and %v beside an error, want 0", row.in, n, p)
		}
	}
	for _, in := range []string{"E4x", "E4.5", "E4+7c"} {
		n, err := units.ParseNote(in)
		wantError(t, err, strconv.Quote(in)+": at byte 2: got "+strconv.Quote(in[2:])+", want nothing more")
		if n != 0 {
			t.Errorf("%q: got %v beside an error, want 0", in, n)
		}
	}
	for _, row := range []struct{ in, want string }{
		{"E4 +7c", `"E4 +7c": at byte 2: got " +7c", want cents with their sign, such as +7c`},
		{"E47c", `"E47c": at byte 3: got "c", want cents with their sign, such as +7c`},
		{"E4+7", `"E4+7": at byte 4: got nothing, want a unit of cents: c (such as +7c)`},
		{"E4++7c", `"E4++7c": at byte 3: got "+7c", want a number`},
		{"E4+7mm", `"E4+7mm": at byte 3: got a length, want a number of cents in c`},
		{"E4+7c5", `"E4+7c5": at byte 4: got "c5", want a unit of cents: c`},
		{"E4+NaNc", `"E4+NaNc": at byte 3: got "NaNc", want a number`},
	} {
		p, err := units.ParsePitch(row.in)
		wantError(t, err, row.want)
		if p != (units.Pitch{}) {
			t.Errorf("%q: got %v beside an error, want none", row.in, p)
		}
	}
}

// What ParseNote and ParsePitch would refuse has no text to store.
func TestNoteText(t *testing.T) {
	for n := units.Note(-1200); n <= 1300; n++ {
		text, err := n.MarshalText()
		if (n < -1176 || n > 1211) != (err != nil) {
			t.Errorf("%d: got %s, %v, want text from C-99 to B99 alone", int(n), text, err)
		}
		var back units.Note
		if err == nil && (back.UnmarshalText(text) != nil || back != n || string(text) != n.String()) {
			t.Errorf("%d: got %d back from %s", int(n), int(back), text)
		}
	}
	_, err := units.Note(1212).MarshalText()
	wantError(t, err, "got C100, want a note from C-99 to B99")
	for _, p := range []units.Pitch{{1212, 0}, {69, units.Cents(math.NaN())}, {69, units.Cents(math.Inf(-1))}} {
		if text, err := p.MarshalText(); err == nil {
			t.Errorf("got %s, want an error", text)
		}
	}
	for _, off := range []units.Cents{0, 0.1, -0.1, 1e-9, -1e20, 1. / 3} {
		p := units.Pitch{Note: -7, Off: off}
		text, err := p.MarshalText()
		var back units.Pitch
		if err != nil || back.UnmarshalText(text) != nil || back != p {
			t.Errorf("%v: got %v back from %s, %v", p, back, text, err)
		}
	}
}

func TestNearest(t *testing.T) {
	for _, a4 := range []units.Frequency{415, 440, 466.2} {
		for f := units.Frequency(1); f < 20000; f *= 1.0003 {
			p := units.Nearest(f, a4)
			if !(math.Abs(float64(p.Off)) <= 50+1e-9) {
				t.Fatalf("%v at %v: got %v, want it at most 50 cents off", f, a4, p)
			}
			near(t, f.String(), float64(p.Frequency(a4)), float64(f), 8)
		}
	}
	for _, f := range []float64{0, -440, math.NaN(), math.Inf(1)} {
		for _, p := range []units.Pitch{units.Nearest(units.Frequency(f), 440), units.Nearest(440, units.Frequency(f))} {
			if p.Note != units.A4 || !math.IsNaN(float64(p.Off)) {
				t.Errorf("%v: got %v, want A4 off by NaN", f, p)
			}
		}
	}
}
