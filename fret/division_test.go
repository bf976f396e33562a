package fret_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

func TestLaws(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 2000 {
		by := 1 + rnd.Intn(72)
		d := equal(t, by, 1+rnd.Intn(4*by))
		in := 1 + 50*rnd.Float64()
		scale := units.Length(in) * units.Inch
		for n := 1; n <= d.Frets(); n++ {
			from, left := d.From(scale, n), d.Remaining(scale, n)
			if n > 1 && !(d.Gap(scale, n) < d.Gap(scale, n-1)) {
				t.Fatalf("%d to the octave on %v: gap %d is no smaller than the one before", by, scale, n)
			}
			if n == by && (from != scale/2 || d.Cents(n) != units.Octave) {
				t.Fatalf("%d to the octave on %v: got %v at %v, want half the scale at the octave", by, scale, from, d.Cents(n))
			}
			// Each is rounded on its own: TestDivisionPrecision holds them to 4 units of
			// their own last places, which for one of the two is half the scale's.
			if off := math.Abs(float64(from + left - scale)); off > 3*float64(ulp(scale)) {
				t.Fatalf("%v: fret %d and what remains miss the scale by %v", scale, n, off)
			}
			// Five roundings lie between the two, each of 1.1e-16 at most.
			if got, want := from.Inches(), in*d.Share(n); math.Abs(got-want) > 6e-16*want {
				t.Fatalf("fret %d: got %v in, want %v in", n, got, want)
			}
			// It is the difference of two distances that is rounded so much.
			if off := d.Gap(scale, n) - (from - d.From(scale, n-1)); math.Abs(float64(off)) > 4*float64(ulp(scale)) {
				t.Fatalf("%v: gap %d is not the difference of its frets, off by %v", scale, n, off)
			}
		}
	}
}

func ulp(l units.Length) units.Length {
	return units.Length(math.Nextafter(float64(l), math.Inf(1))) - l
}

// Any interval may be divided; the last of its steps is the interval.
func TestEqualOf(t *testing.T) {
	for _, of := range []units.Cents{units.Octave, 2 * units.Octave, centsOf(3), centsOf(1.5), 100, 0.5} {
		for by := 1; by <= 60; by++ {
			d, err := fret.Equal(of, by, 2*by)
			if err != nil {
				t.Fatal(err)
			}
			for n := 1; n <= 2*by; n++ {
				want := float64(of) * (float64(n) / float64(by))
				if got := float64(d.Cents(n)); math.Abs(got-want) > 4e-16*want {
					t.Errorf("%v by %d: fret %d: got %v, want %v", of, by, n, got, want)
				}
			}
		}
	}
}

// An equal division and the same list of cents are one thing.
func TestDivideTakesTheList(t *testing.T) {
	list := []units.Cents{100, 200, 300}
	d := divide(t, list...)
	list[1] = 250 // the division keeps its own copy
	e := equal(t, 12, 3)
	for n := 0; n <= 3; n++ {
		if d.Cents(n) != e.Cents(n) || d.Share(n) != e.Share(n) {
			t.Errorf("fret %d: got %v at %v, want %v at %v", n, d.Cents(n), d.Share(n), e.Cents(n), e.Share(n))
		}
	}
}

// Known shares: 1 - 2^-x is x ln 2 for a tiny interval, 1/2 at the octave.
func TestShare(t *testing.T) {
	for _, row := range []struct {
		c    units.Cents
		want float64
	}{
		{0, 0}, {1e-300, 1e-300 * math.Ln2 / 1200},
		{1200, 0.5}, {2400, 0.75}, {3600, 0.875}, {600, 1 - math.Sqrt2/2}, {-1200, -1},
		{units.Cents(math.Inf(1)), 1},
	} {
		if got := fret.Share(row.c); math.Abs(got-row.want) > 3e-16*math.Abs(row.want)+0x1p-1074 {
			t.Errorf("Share(%v): got %v, want %v", row.c, got, row.want)
		}
	}
	for k := range 30 {
		if got, want := fret.Share(units.Cents(k)*units.Octave), 1-math.Ldexp(1, -k); got != want {
			t.Errorf("%d octaves: got %v, want %v", k, got, want)
		}
	}
}

func TestNoSuchFret(t *testing.T) {
	isNaN := func(what string, n int, x float64) {
		if !math.IsNaN(x) {
			t.Errorf("%s of fret %d: got %v, want NaN", what, n, x)
		}
	}
	for _, d := range []fret.Division{{}, equal(t, 12, 22)} {
		for _, n := range []int{-1, math.MinInt, d.Frets() + 1, math.MaxInt} {
			isNaN("Cents", n, float64(d.Cents(n)))
			isNaN("Share", n, d.Share(n))
			isNaN("From", n, float64(d.From(650, n)))
			isNaN("Remaining", n, float64(d.Remaining(650, n)))
			isNaN("Gap", n, float64(d.Gap(650, n)))
			near, far := d.SlotEdges(650, n, 0.6)
			isNaN("near edge", n, float64(near))
			isNaN("far edge", n, float64(far))
		}
		isNaN("Gap", 0, float64(d.Gap(650, 0)))
		if d.Cents(0) != 0 || d.Share(0) != 0 || d.From(650, 0) != 0 || d.Remaining(650, 0) != 650 {
			t.Errorf("got the nut at %v, %v from it, want 0", d.Cents(0), d.From(650, 0))
		}
	}
	if got := len((fret.Division{}).Positions(nil, 650)); got != 0 {
		t.Errorf("got %d positions of no frets, want 0", got)
	}
}

func TestPositions(t *testing.T) {
	d := equal(t, 12, 24)
	got := d.Positions([]units.Length{-1}, 650)
	if len(got) != 25 || got[0] != -1 {
		t.Fatalf("got %v, want 24 positions after what was there", got)
	}
	for n := 1; n <= 24; n++ {
		if got[n] != d.From(650, n) {
			t.Errorf("fret %d: got %v, want %v", n, got[n], d.From(650, n))
		}
	}
	if !slices.IsSorted(got) {
		t.Errorf("got %v, want them rising", got)
	}
}

func TestSlotEdges(t *testing.T) {
	d := equal(t, 12, 22)
	for n := 0; n <= 22; n++ {
		at := d.From(650, n)
		near, far := d.SlotEdges(650, n, 0.6)
		if !(near < at && at < far) {
			t.Errorf("fret %d: got edges %v and %v, want %v between them", n, near, far, at)
		}
		// Half of 0.6 mm either side, to a rounding of the distance.
		if math.Abs(float64(at-near)-0.3) > 2e-13 || math.Abs(float64(far-at)-0.3) > 2e-13 {
			t.Errorf("fret %d: got edges %v before and %v behind, want 0.3mm", n, at-near, far-at)
		}
	}
}

func TestDivisionErrors(t *testing.T) {
	nan, inf := units.Cents(math.NaN()), units.Cents(math.Inf(1))
	for _, row := range []struct {
		of        units.Cents
		by, frets int
		want      string
	}{
		{0, 12, 22, "got an interval of 0c to divide, want more than 0"},
		{-1200, 12, 22, "got an interval of -1200c to divide, want more than 0"},
		{nan, 12, 22, "got an interval of NaNc to divide, want more than 0"},
		{inf, 12, 22, "got an interval of +Infc to divide, want more than 0"},
		{1200, 0, 22, "got a division by 0, want at least 1"},
		{1200, -12, 22, "got a division by -12, want at least 1"},
		{1200, 12, 0, "got 0 frets, want 1 to 1000"},
		{1200, 12, -1, "got -1 frets, want 1 to 1000"},
		{1200, 12, 1001, "got 1001 frets, want 1 to 1000"},
		{math.MaxFloat64, 1, 2, "got fret 2 at +Infc, want it above 1.7976931348623157e+308c"},
	} {
		d, err := fret.Equal(row.of, row.by, row.frets)
		wantError(t, err, row.want)
		if d.Frets() != 0 {
			t.Errorf("got %d frets beside an error, want 0", d.Frets())
		}
	}
	for _, row := range []struct {
		cents []units.Cents
		want  string
	}{
		{nil, "got 0 frets, want 1 to 1000"},
		{make([]units.Cents, 1001), "got 1001 frets, want 1 to 1000"},
		{[]units.Cents{0}, "got fret 1 at 0c, want it above 0c"},
		{[]units.Cents{-100}, "got fret 1 at -100c, want it above 0c"},
		{[]units.Cents{100, 100}, "got fret 2 at 100c, want it above 100c"},
		{[]units.Cents{100, 300, 200}, "got fret 3 at 200c, want it above 300c"},
		{[]units.Cents{100, nan}, "got fret 2 at NaNc, want it above 100c"},
		{[]units.Cents{inf}, "got fret 1 at +Infc, want it above 0c"},
	} {
		_, err := fret.Divide(row.cents...)
		wantError(t, err, row.want)
	}
	if d := equal(t, 12, 1000); d.Frets() != 1000 {
		t.Errorf("got %d frets, want 1000", d.Frets())
	}
}
