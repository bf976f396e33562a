package intonation_test

import (
	"math"
	"math/rand"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

const scale = 25.5 * units.Inch

// agrees reports whether got is the number that a source printed, to half its
// last printed digit.
func agrees(got float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	_, decimals, _ := strings.Cut(printed, ".")
	half := 0.5 * math.Pow10(-len(decimals))
	return err == nil && math.Abs(got-want) <= half*(1+1e-9)
}

func check(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	if !agrees(got, printed) {
		t.Errorf("%s: got %.6f, want %s", what, got, printed)
	}
}

func differs(t *testing.T, what string, got float64, wrong string) {
	t.Helper()
	if agrees(got, wrong) {
		t.Errorf("%s: got %.6f, want it off %s", what, got, wrong)
	}
}

// wantError checks an error's whole text.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error  %v\nwant error %s", err, want)
	}
}

func frets(t testing.TB, n int) fret.Division {
	t.Helper()
	d, err := fret.Equal(units.Octave, 12, n)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func move(t *testing.T, r intonation.Reading, d fret.Division, l units.Length) float64 {
	t.Helper()
	by, err := intonation.Move(r, d, l)
	if err != nil {
		t.Fatalf("%+v: %v", r, err)
	}
	return float64(by)
}

func after(t *testing.T, r intonation.Reading, d fret.Division, l, by units.Length) float64 {
	t.Helper()
	c, err := intonation.After(r, d, l, by)
	if err != nil {
		t.Fatalf("%+v: %v", r, err)
	}
	return float64(c)
}

// slope is the cents that a pair of frets loses a millimetre back.
func slope(t *testing.T, low, high int, l units.Length) float64 {
	t.Helper()
	const small = 1e-4
	return -after(t, intonation.Reading{Low: low, High: high}, frets(t, 24), l, small) / small
}

// Source: DESIGN, section 5, and the acceptance of issue 2.
func TestMove(t *testing.T) {
	d := frets(t, 22)
	open := intonation.Reading{High: 12, Cents: 7}
	check(t, "7 cents at the 12th", move(t, open, d, scale), "2.635")
	first := move(t, intonation.Reading{High: 12, Cents: 1e-6}, d, scale) * 7e6
	check(t, "7 cents, first order", first, "2.619")
	back := open
	back.Setback = 4
	check(t, "7 cents with 4 mm of setback", move(t, back, d, scale), "2.684")
	check(t, "7 cents, frets 2 and 14", move(t, intonation.Reading{Low: 2, High: 14, Cents: 7}, d, scale), "2.347")
}

// Source: bench_rules.md rows 1 and 2 (common practice, recomputed). 0.014 in is
// what a saddle moves for a cent; 0.007 in is what a fret would, the trap.
func TestCentAtThe12th(t *testing.T) {
	d := frets(t, 12)
	one := move(t, intonation.Reading{High: 12, Cents: 1e-6}, d, scale) * 1e6
	check(t, "row 1, mm a cent", one, "0.374")
	check(t, "row 1, inches a cent", one/25.4, "0.01473")
	differs(t, "row 1, inches a cent", one/25.4, "0.007")

	const trap = 0.007 * units.Inch
	fretMoved := units.Interval(units.Frequency(scale/2-trap), units.Frequency(scale/2))
	check(t, "row 2, the fret moved", float64(fretMoved), "0.95")
	saddleMoved := -after(t, intonation.Reading{High: 12}, d, scale, trap)
	check(t, "row 2, the saddle moved as far", 2*saddleMoved, "0.95")
	differs(t, "row 2, the saddle moved as far", saddleMoved, "0.95")
}

// Source: bench_rules.md rows 7, 8 and 10: cents a millimetre back, to first order
// K (1/l_high - 1/l_low), K = 1731.234. Two of its sums were rounded twice: 24.562
// in is 2.77497 and not 2.78, fret 4 is 0.69474 and not 0.70.
func TestSlopes(t *testing.T) {
	for _, row := range []struct {
		low, high int
		scale     units.Length
		want      string
	}{
		{0, 12, scale, "2.67"}, {2, 14, scale, "3.00"}, {3, 15, scale, "3.18"}, {5, 17, scale, "3.57"}, {0, 19, scale, "5.34"},
		{0, 12, 13.875 * units.Inch, "4.91"}, {0, 12, 17 * units.Inch, "4.01"}, {0, 12, 24.562 * units.Inch, "2.77497"},
		{0, 12, 650, "2.66"}, {0, 12, 27 * units.Inch, "2.52"}, {0, 12, 30 * units.Inch, "2.27"}, {0, 12, 34 * units.Inch, "2.00"},
		{0, 1, scale, "0.16"}, {0, 4, scale, "0.69474"},
	} {
		check(t, "frets "+strconv.Itoa(row.low)+" and "+strconv.Itoa(row.high)+" on "+row.scale.String(), slope(t, row.low, row.high, row.scale), row.want)
	}
	differs(t, "frets 0 and 12 on 24.562 in", slope(t, 0, 12, 24.562*units.Inch), "2.78")
	differs(t, "frets 0 and 4", slope(t, 0, 4, scale), "0.70")
}

// Source: bench_rules.md rows 6, 9, 14 and 26, recomputed.
func TestBenchRules(t *testing.T) {
	d := frets(t, 12)
	in := intonation.Reading{High: 12} // in tune at the 12th

	// 6: turns of a saddle screw for a cent.
	one := units.Length(move(t, intonation.Reading{High: 12, Cents: 1}, d, scale))
	for _, row := range []struct{ thread, turns string }{{"40tpi", "0.59"}, {"48tpi", "0.71"}, {"32tpi", "0.47"}, {"M3", "0.75"}} {
		thread, err := units.ParseThread(row.thread)
		if err != nil {
			t.Fatal(err)
		}
		check(t, "row 6, "+row.thread, float64(thread.Turns(one)), row.turns)
	}

	// 9: exact, and within 0.3 % of the straight line a millimetre.
	check(t, "row 9, 1 mm", after(t, in, d, scale, 1), "-2.667")
	check(t, "row 9, 3 mm", after(t, in, d, scale, 3), "-7.963")
	for _, mm := range []float64{1, 3, 6} {
		line := -slope(t, 0, 12, scale) * mm
		if off := after(t, in, d, scale, units.Length(mm))/line - 1; !(math.Abs(off) < 0.003*mm) || off == 0 {
			t.Errorf("row 9, %v mm: got %.3f %% off the straight line, want some, below %.1f %%", mm, 100*off, 0.3*mm)
		}
	}

	// 14: a bridge placed for 24.75 in on a neck that was cut shorter.
	for _, row := range []struct {
		cut           float64
		exact, linear string
	}{{24.562, "-13.1", "13.3"}, {24.625, "-8.7", "8.8"}} {
		cut := units.Length(row.cut) * units.Inch
		back := 24.75*units.Inch - cut
		check(t, "row 14", after(t, in, d, cut, back), row.exact)
		check(t, "row 14, first order", slope(t, 0, 12, cut)*float64(back), row.linear)
	}

	// 26: a tuner of 1 cent leaves 0.37 mm a note, and a reading is two notes.
	band, err := intonation.Band(in, d, scale, 1)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "row 26", float64(band)/math.Sqrt2, "0.37")
	differs(t, "row 26", float64(band), "0.37")
}

// instrument is one string worked out afresh: a note is as high as one over the
// length behind its fret, times an error of the string's own at that fret.
type instrument struct {
	nominal   float64 // cents from the low fret to the high one
	low, high float64 // lengths with the saddle where it was read
	own       float64
}

func newInstrument(r intonation.Reading, d fret.Division, l units.Length) instrument {
	left := func(n int) float64 { return float64(l)*math.Pow(2, -float64(d.Cents(n))/1200) + float64(r.Setback) }
	i := instrument{float64(d.Cents(r.High) - d.Cents(r.Low)), left(r.Low), left(r.High), 1}
	i.own = math.Pow(2, float64(r.Cents)/1200) / math.Pow(2, i.reads(0)/1200)
	return i
}

// reads is what the tuner shows with the saddle moved back.
func (i instrument) reads(back float64) float64 {
	low, high := 1/(i.low+back), i.own/(i.high+back)
	return 1200*math.Log2(high/low) - i.nominal
}

// anyReading is one that a bench might see, of one string.
func anyReading(rnd *rand.Rand, d fret.Division) intonation.Reading {
	low := rnd.Intn(8)
	return intonation.Reading{
		String: 1, Low: low, High: low + 5 + rnd.Intn(d.Frets()-low-4),
		Cents:   units.Cents(60*rnd.Float64() - 30),
		Setback: units.Length(14*rnd.Float64() - 2),
	}
}

// A saddle moved by Move reads nothing, and After is what an instrument does.
func TestMoveReadsNothing(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 5000 {
		d, l := frets(t, 15+rnd.Intn(10)), units.Length(300+700*rnd.Float64())
		r := anyReading(rnd, d)
		by := move(t, r, d, l)
		if left := after(t, r, d, l, units.Length(by)); !(math.Abs(left) < 1e-9) {
			t.Fatalf("%+v on %v: moved by %v it reads %v, want 0", r, l, by, left)
		}
		const k = 1. / (1 << 20) // an instrument so much smaller moves so much less
		tiny := r
		tiny.Setback *= k
		if small := move(t, tiny, d, k*l); small != k*by || after(t, tiny, d, k*l, units.Length(small)) != after(t, r, d, l, units.Length(by)) {
			t.Fatalf("%+v on %v: got %v on a scale of a millionth, want %v", r, l, small, k*by)
		}
		i := newInstrument(r, d, l)
		if left := i.reads(by); !(math.Abs(left) < 1e-9) {
			t.Fatalf("%+v on %v: moved by %v the instrument reads %v, want 0", r, l, by, left)
		}
		for _, back := range []float64{0, by / 2, 2 * by, -1, 5} {
			if got, want := after(t, r, d, l, units.Length(back)), i.reads(back); !(math.Abs(got-want) < 1e-9) {
				t.Fatalf("%+v on %v: moved by %v it reads %v, want %v", r, l, back, got, want)
			}
		}
	}
}

// Sharper goes further back, and what is in tune stays.
func TestMoveIsMonotone(t *testing.T) {
	d := frets(t, 22)
	for _, p := range [][2]int{{0, 12}, {2, 14}, {0, 1}, {0, 22}, {21, 22}} {
		last := math.Inf(-1)
		for c := -1200.0; c < 1200; c += 0.5 {
			r := intonation.Reading{Low: p[0], High: p[1], Cents: units.Cents(c), Setback: 3}
			by, err := intonation.Move(r, d, scale)
			if err != nil {
				break // as large as the interval
			}
			if !(float64(by) > last) {
				t.Errorf("frets %v, %v cents: got %v, no further back than %v", p, c, by, last)
			}
			if (c > 0) != (by > 0) || (c < 0) != (by < 0) {
				t.Errorf("frets %v, %v cents: got %v, want back when sharp", p, c, by)
			}
			last = float64(by)
		}
		if !(last > 10) {
			t.Errorf("frets %v: got no further than %v", p, last)
		}
	}
}

// A band is the move for the square root of 2 of the tuner's error either side.
func TestBand(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for range 1000 {
		d := frets(t, 22)
		r := anyReading(rnd, d)
		tuner := units.Cents(2 * rnd.Float64())
		band, err := intonation.Band(r, d, scale, tuner)
		if err != nil {
			t.Fatal(err)
		}
		up, down := r, r
		up.Cents += math.Sqrt2 * tuner
		down.Cents -= math.Sqrt2 * tuner
		if want := (move(t, up, d, scale) - move(t, down, d, scale)) / 2; !(math.Abs(float64(band)-want) < 1e-12) {
			t.Errorf("%+v, %v: got %v, want %v", r, tuner, band, want)
		}
		// To first order it is so many cents over the cents a millimetre, where the
		// saddle will stand.
		r.Setback += units.Length(move(t, r, d, scale))
		r.Cents = 0
		perMM := -after(t, r, d, scale, 1e-4) / 1e-4
		if want := math.Sqrt2 * float64(tuner) / perMM; !(math.Abs(float64(band)-want) <= 0.1*want) {
			t.Errorf("%+v, %v: got %v, want about %v", r, tuner, band, want)
		}
	}
	// A hundredth of a cent short of the octave between the frets there still is one:
	// half of what l_a l_b (X - 1)/(l_a - X l_b) gives for 1199.99 cents, less next to
	// nothing.
	high := intonation.Reading{High: 12, Cents: 7}
	x := math.Exp2(1199.99 / 1200)
	near := float64(scale) * (x - 1) / (2 - x) / 2
	wide, err := intonation.Band(high, frets(t, 12), scale, (1199.99-7)/math.Sqrt2)
	if err != nil || !(math.Abs(float64(wide)-near) < 0.001*near) {
		t.Errorf("got %v, %v next to the octave, want %v", wide, err, near)
	}
	none, err := intonation.Band(high, frets(t, 12), scale, 0)
	if none != 0 || err != nil {
		t.Errorf("got a band of %v, %v from a perfect tuner, want 0", none, err)
	}
}

func TestReadingErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	d := frets(t, 22)
	good := intonation.Reading{String: 1, High: 12, Cents: 7}
	with := func(change func(*intonation.Reading)) intonation.Reading {
		r := good
		change(&r)
		return r
	}
	for _, row := range []struct {
		r     intonation.Reading
		scale units.Length
		want  string
	}{
		{good, 0, "got a scale of 0mm, want more than 0"},
		{good, -650, "got a scale of -650mm, want more than 0"},
		{good, units.Length(nan), "got a scale of NaNmm, want more than 0"},
		{good, units.Length(inf), "got a scale of +Infmm, want more than 0"},
		{with(func(r *intonation.Reading) { r.High = 23 }), 650, "got frets 0 and 23, want a lower and a higher one up to 22"},
		{with(func(r *intonation.Reading) { r.Low = 12 }), 650, "got frets 12 and 12, want a lower and a higher one up to 22"},
		{with(func(r *intonation.Reading) { r.Low = 14 }), 650, "got frets 14 and 12, want a lower and a higher one up to 22"},
		{with(func(r *intonation.Reading) { r.Low = -1 }), 650, "got frets -1 and 12, want a lower and a higher one up to 22"},
		{with(func(r *intonation.Reading) { r.Setback = -325 }), 650, "got a setback of -325mm, want the saddle behind fret 12"},
		{with(func(r *intonation.Reading) { r.Setback = units.Length(nan) }), 650, "got a setback of NaNmm, want the saddle behind fret 12"},
		{with(func(r *intonation.Reading) { r.Setback = units.Length(inf) }), 650, "got a setback of +Infmm, want the saddle behind fret 12"},
		{with(func(r *intonation.Reading) { r.Cents = 1200 }), 650, "got 1200c at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{with(func(r *intonation.Reading) { r.High, r.Low, r.Cents = 13, 12, 101 }), 650, "got 101c at fret 13 against fret 12, want at least -1200c and less than the interval between them"},
		{with(func(r *intonation.Reading) { r.Cents = -1201 }), 650, "got -1201c at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{with(func(r *intonation.Reading) { r.Cents = units.Cents(nan) }), 650, "got NaNc at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{with(func(r *intonation.Reading) { r.Cents = units.Cents(inf) }), 650, "got +Infc at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{with(func(r *intonation.Reading) { r.Cents = units.Cents(-inf) }), 650, "got -Infc at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
	} {
		by, err := intonation.Move(row.r, d, row.scale)
		wantError(t, err, row.want)
		left, err := intonation.After(row.r, d, row.scale, 1)
		wantError(t, err, row.want)
		band, err := intonation.Band(row.r, d, row.scale, 1)
		wantError(t, err, row.want)
		if by != 0 || left != 0 || band != 0 {
			t.Errorf("%+v: got %v, %v and %v beside errors, want 0", row.r, by, left, band)
		}
	}
	_, err := intonation.Move(good, fret.Division{}, 650)
	wantError(t, err, "got frets 0 and 12, want a lower and a higher one up to 0")

	for _, row := range []struct {
		by   float64
		want string
	}{
		{-325, "got a move of -325mm, want the saddle to stay behind fret 12"},
		{nan, "got a move of NaNmm, want the saddle to stay behind fret 12"},
		{inf, "got a move of +Infmm, want the saddle to stay behind fret 12"},
		{-inf, "got a move of -Infmm, want the saddle to stay behind fret 12"},
	} {
		left, err := intonation.After(good, d, 650, units.Length(row.by))
		wantError(t, err, row.want)
		if left != 0 {
			t.Errorf("a move of %v: got %v beside an error, want 0", row.by, left)
		}
	}
	for _, row := range []struct {
		tuner float64
		want  string
	}{
		{-1, "got a tuner's error of -1c, want at least 0 and less than the interval between the frets"},
		{843.6, "got a tuner's error of 843.6c, want at least 0 and less than the interval between the frets"}, // 1200.03 cents with the reading
		{1000, "got a tuner's error of 1000c, want at least 0 and less than the interval between the frets"},
		{nan, "got a tuner's error of NaNc, want at least 0 and less than the interval between the frets"},
		{inf, "got a tuner's error of +Infc, want at least 0 and less than the interval between the frets"},
	} {
		band, err := intonation.Band(good, d, 650, units.Cents(row.tuner))
		wantError(t, err, row.want)
		if band != 0 {
			t.Errorf("a tuner's error of %v: got %v beside an error, want 0", row.tuner, band)
		}
	}
}
