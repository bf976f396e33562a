package fret_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// near checks a computed figure against another computation.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.15g, want %.15g within %g", what, got, want, within)
	}
}

// Source: testdata/cents_intervals.csv; recomputed with mpmath at 50 digits.
func TestRatios(t *testing.T) {
	for _, row := range rows(t, "cents_intervals.csv") {
		r := fret.Ratio{Num: int64(number(t, row["ratio_num"])), Den: int64(number(t, row["ratio_den"]))}
		if want := row["ratio_num"] + "/" + row["ratio_den"]; r.String() != want {
			t.Errorf("got %s, want %s", r, want)
		}
		all, err := fret.Ratios(r)
		if err != nil {
			t.Fatal(err)
		}
		got, what := float64(all[0]), row["interval"]
		want := number(t, row["recomputed_cents_15dp"])
		near(t, what, got, want, 5e-16*want)
		check(t, what, got, row["gnu_units_2_22_musicalcent"])
		switch {
		case row["check"] != "ok":
		case what == "ET convergent": // its last digit is finer than a float64 of 100 has
			near(t, what, got, number(t, row["published_cents"]), 1e-13)
		default:
			check(t, what, got, row["published_cents"])
		}
	}
	// A unison but for one part in 2^62, and the widest.
	near(t, "near the unison", float64(fret.Ratio{Num: 1<<62 + 1, Den: 1 << 62}.Cents()), 1200/math.Ln2*0x1p-62, 1e-31)
	for k := range 63 { // octaves are whole
		near(t, "octaves up", float64(fret.Ratio{Num: 1 << k, Den: 1}.Cents()), 1200*float64(k), 0)
		near(t, "octaves down", float64(fret.Ratio{Num: 1, Den: 1 << k}.Cents()), -1200*float64(k), 0)
	}
	near(t, "below the unison", float64(fret.Ratio{Num: 2, Den: 3}.Cents()), -701.955000865387418, 5e-13)
	near(t, "two fifths", float64(fret.Ratio{Num: 9, Den: 4}.Cents()), 2*701.955000865387418, 1e-12)
	near(t, "30 twelfths down", float64(fret.Ratio{Num: 1, Den: 205891132094649}.Cents()), -30*1901.955000865387418, 1e-10)
	for _, r := range []fret.Ratio{{}, {0, 1}, {1, 0}, {-3, 2}, {3, -2}, {-3, -2}, {math.MinInt64, math.MinInt64}} {
		if got := r.Cents(); !math.IsNaN(float64(got)) {
			t.Errorf("%v: got %v, want NaN", r, got)
		}
	}
}

func TestRatiosErrors(t *testing.T) {
	for _, row := range []struct {
		r    fret.Ratio
		text string
	}{
		{fret.Ratio{1, 1}, "1/1"}, {fret.Ratio{2, 3}, "2/3"}, {fret.Ratio{3, 0}, "3/0"}, {fret.Ratio{}, "0/0"},
		{fret.Ratio{-3, -2}, "-3/-2"}, {fret.Ratio{3, math.MinInt64}, "3/-9223372036854775808"},
	} {
		got, err := fret.Ratios(fret.Ratio{9, 8}, row.r)
		wantError(t, err, "got ratio 2 as "+row.text+", want two whole numbers, the first above the second")
		if got != nil {
			t.Errorf("got %v beside an error, want nothing", got)
		}
	}
}

// Source: testdata/cents_intervals.csv.
func TestJust(t *testing.T) {
	named := make(map[string]string)
	for _, row := range rows(t, "cents_intervals.csv") {
		named[row["ratio_num"]+"/"+row["ratio_den"]] = row["recomputed_cents_15dp"]
	}
	degrees := fret.Just()
	if len(degrees) != 12 || !slices.IsSorted(degrees) {
		t.Fatalf("got %v, want twelve rising degrees", degrees)
	}
	for degree, ratio := range map[int]string{1: "16/15", 2: "9/8", 3: "6/5", 4: "5/4", 5: "4/3", 7: "3/2", 8: "8/5", 9: "5/3", 12: "2/1"} {
		near(t, ratio, float64(degrees[degree-1]), number(t, named[ratio]), 3e-13)
	}
	for degree, ratio := range map[int]float64{6: 45. / 32, 10: 9. / 5, 11: 15. / 8} {
		near(t, "degree", float64(degrees[degree-1]), float64(centsOf(ratio)), 3e-13)
	}
}

// Source: testdata/temperaments_12.csv, quarter comma and Pythagorean, Eb to G#
// about C; the head of the file gives the fifth, the wolf and the shortfall.
func TestMeantone(t *testing.T) {
	quarter, pythagorean := meantone(t, 0.25, 3), meantone(t, 0, 3)
	check(t, "fifth", float64(quarter[6]), "696.578428466")
	check(t, "fifth", float64(quarter[6]), "696.578")
	near(t, "fifth", quarter[6].Ratio(), math.Sqrt(math.Sqrt(5)), 1e-15)
	wolf := units.Octave + quarter[2] - quarter[7]
	check(t, "wolf", float64(wolf), "737.637287")
	differs(t, "wolf", float64(wolf), "737") // cut off, not rounded
	check(t, "twelve fifths short", float64(7*units.Octave-12*quarter[6]), "41.059")
	for degree, row := range rows(t, "temperaments_12.csv") {
		if degree == 0 {
			continue // the root, which is no degree of ours
		}
		what, c := row["note_from_C"], float64(quarter[degree-1])
		check(t, what, c, row["recomputed_qc_meantone_cents"])
		check(t, what, float64(pythagorean[degree-1]), row["recomputed_pythagorean_cents"])
		check(t, what, c-100*float64(degree), row["qc_minus_et_cents"])
		switch printed := row["published_qc_meantone_cents_rounded"]; {
		case printed == "":
		case what == "A": // cut off, not rounded
			differs(t, what, c, printed)
			check(t, what, math.Floor(c), printed)
		default:
			check(t, what, c, printed)
		}
	}
}

func meantone(t *testing.T, comma float64, flats int) []units.Cents {
	t.Helper()
	degrees, err := fret.Meantone(comma, flats)
	if err != nil {
		t.Fatal(err)
	}
	return degrees
}

// Shares of the comma by what each makes pure: a quarter the major third, a
// third the minor third, two sevenths the chromatic semitone of 25/24; an
// eleventh comes within a thousandth of a cent of equal temperament.
func TestMeantonePure(t *testing.T) {
	near(t, "1/4", float64(meantone(t, 1./4, 0)[3]), float64(fret.Ratio{5, 4}.Cents()), 1e-12)
	near(t, "1/3", float64(meantone(t, 1./3, 3)[2]), float64(fret.Ratio{6, 5}.Cents()), 1e-12)
	near(t, "2/7", float64(meantone(t, 2./7, 4)[0]), float64(fret.Ratio{25, 24}.Cents()), 1e-12)
	for n, c := range meantone(t, 1./11, 5) {
		near(t, "1/11", float64(c), 100*float64(n+1), 0.001)
	}
	// However the chain lies about the root, its fifths are alike but for the wolf.
	for flats := range 12 {
		degrees := append([]units.Cents{0}, meantone(t, 0.2, flats)...)
		alike := 0
		for d := range 12 {
			up := degrees[(d+7)%12] - degrees[d]
			if up < 0 {
				up += units.Octave
			}
			if math.Abs(float64(up-degrees[7])) < 1e-9 {
				alike++
			}
		}
		if want := 11; alike != want && flats < 11 { // with 11 flats the fifth above the root is the wolf
			t.Errorf("%d flats: got %d fifths as that over the root, want %d", flats, alike, want)
		}
	}
}

func TestMeantoneErrors(t *testing.T) {
	nan := math.NaN()
	for _, row := range []struct {
		comma float64
		flats int
		want  string
	}{
		{0.8, 3, "got 0.8 of the comma, fifths of 684.75c, want fifths between 685.71c and 720.00c"},
		{-0.9, 3, "got -0.9 of the comma, fifths of 721.31c, want fifths between 685.71c and 720.00c"},
		{nan, 3, "got NaN of the comma, fifths of NaNc, want fifths between 685.71c and 720.00c"},
		{math.Inf(1), 3, "got +Inf of the comma, fifths of -Infc, want fifths between 685.71c and 720.00c"},
		{0.25, -1, "got -1 fifths below the root, want 0 to 11"},
		{0.25, 12, "got 12 fifths below the root, want 0 to 11"},
	} {
		got, err := fret.Meantone(row.comma, row.flats)
		wantError(t, err, row.want)
		if got != nil {
			t.Errorf("got %v beside an error, want nothing", got)
		}
	}
	// A fifth of 4/7 of the octave leaves no chromatic semitone, and one of 3/5 no
	// diatonic one: refused on the spot, and not a hair inside.
	for _, row := range []struct {
		fifth, inside float64
		text          string
	}{{1200. * 4 / 7, 1e-9, "685.71c"}, {720, -1e-9, "720.00c"}} {
		comma := func(fifth float64) float64 {
			return (float64(fret.Ratio{3, 2}.Cents()) - fifth) / float64(fret.Ratio{81, 80}.Cents())
		}
		_, err := fret.Meantone(comma(row.fifth), 3)
		wantError(t, err, fmt.Sprintf("got %v of the comma, fifths of %s, want fifths between 685.71c and 720.00c", comma(row.fifth), row.text))
		meantone(t, comma(row.fifth+row.inside), 3)
	}
}

// guitar is a usual tuning as degrees above C4.
var guitar = []int{4, -1, -5, -10, -15, -20}

// Each string's frets sound the notes of the table, and equal frets cost what
// the table says quarter comma notes lie from equal ones.
func TestPerString(t *testing.T) {
	table := rows(t, "temperaments_12.csv")
	const frets = 19
	asked, err := fret.PerString(frets, meantone(t, 0.25, 3), guitar...)
	if err != nil {
		t.Fatal(err)
	}
	cost := equal(t, 12, frets).Against(asked...)
	for i, open := range guitar {
		low := (open + 24) % 12
		for n := 0; n <= frets; n++ {
			column := func(name string) float64 {
				return number(t, table[(low+n)%12][name]) - number(t, table[low][name])
			}
			octaves := 1200 * float64((low+n)/12)
			near(t, "fret", float64(asked[i].Cents(n)), column("recomputed_qc_meantone_cents")+octaves, 1.01e-6)
			near(t, "cost", float64(cost[i][n]), -column("qc_minus_et_cents"), 1.01e-6)
		}
	}
	if got := equal(t, 12, 20).Against(asked...)[5]; len(got) != 21 || !math.IsNaN(float64(got[20])) || got[0] != 0 {
		t.Errorf("got %v, want 0 at the nut and NaN at fret 20, which was not asked", got)
	}
}

// Whatever string it is found on, a note of a tuning is one pitch.
func TestPerStringAgrees(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for range 200 {
		degrees := make([]units.Cents, 1+rnd.Intn(30))
		for i := range degrees {
			degrees[i] = units.Cents(rnd.Float64() * 60)
			if i > 0 {
				degrees[i] += degrees[i-1]
			}
		}
		period := degrees[len(degrees)-1]
		open := []int{rnd.Intn(200) - 100, rnd.Intn(200) - 100}
		got, err := fret.PerString(60, degrees, open...)
		if err != nil {
			t.Fatal(err)
		}
		pitch := func(i, n int) float64 { // of a note, by walking up from the root
			c, o := 0.0, open[i]
			for ; o < 0; o += len(degrees) {
				c -= float64(period)
			}
			for ; o >= len(degrees); o -= len(degrees) {
				c += float64(period)
			}
			if o > 0 {
				c += float64(degrees[o-1])
			}
			return c + float64(got[i].Cents(n))
		}
		for n := range 60 {
			if m := open[0] + n - open[1]; m >= 0 && m <= 60 {
				near(t, "one note on two strings", pitch(0, n), pitch(1, m), 1e-9)
			}
		}
	}
}

func TestRepeat(t *testing.T) {
	one, err := fret.Repeat(24, 100)
	if err != nil {
		t.Fatal(err)
	}
	scale := []units.Cents{200, 400, 500, 700, 900, 1000, 1200}
	seven, err := fret.Repeat(17, scale...)
	if err != nil {
		t.Fatal(err)
	}
	few, err := fret.Repeat(3, scale...)
	if err != nil {
		t.Fatal(err)
	}
	for n := 1; n <= 24; n++ {
		near(t, "a period of one step", float64(one.Cents(n)), float64(n)*100, 0)
	}
	for n := 1; n <= 17; n++ {
		near(t, "a scale", float64(seven.Cents(n)), 1200*float64((n-1)/7)+float64(scale[(n-1)%7]), 0)
	}
	if few.Frets() != 3 || few.Cents(3) != 500 {
		t.Errorf("got %d frets, the last at %v, want 3 and 500c", few.Frets(), few.Cents(3))
	}
}

func TestPerStringErrors(t *testing.T) {
	nan := units.Cents(math.NaN())
	for _, row := range []struct {
		frets   int
		degrees []units.Cents
		open    []int
		want    string
	}{
		{0, []units.Cents{1200}, []int{0}, "got 0 frets, want 1 to 1000"},
		{math.MaxInt, []units.Cents{1200}, []int{0}, fmt.Sprintf("got %d frets, want 1 to 1000", math.MaxInt)},
		{12, nil, []int{0}, "degrees: got 0 frets, want 1 to 1000"},
		{12, []units.Cents{1200, 700}, []int{0}, "degrees: got fret 2 at 700c, want it above 1200c"},
		{12, []units.Cents{nan}, []int{0}, "degrees: got fret 1 at NaNc, want it above 0c"},
		{12, []units.Cents{1200}, nil, "got 0 open strings, want 1 to 100"},
		{12, []units.Cents{1200}, make([]int, 101), "got 101 open strings, want 1 to 100"},
		{3, []units.Cents{1e308}, []int{0, 5}, "string 1: got fret 2 at +Infc, want it above 1e+308c"},
	} {
		got, err := fret.PerString(row.frets, row.degrees, row.open...)
		wantError(t, err, row.want)
		if got != nil {
			t.Errorf("got %v beside an error, want nothing", got)
		}
	}
	_, err := fret.Repeat(0, 1200)
	wantError(t, err, "got 0 frets, want 1 to 1000")
	// Any degree will do for an open string.
	for _, open := range []int{math.MinInt, math.MaxInt} {
		if _, err := fret.PerString(30, fret.Just(), open); err != nil {
			t.Errorf("open %d: got %v, want frets", open, err)
		}
	}
}

func TestKeep(t *testing.T) {
	full := equal(t, 12, 12)
	kept, err := full.Keep(2, 4, 5, 7, 9, 10, 12)
	if err != nil {
		t.Fatal(err)
	}
	want := divide(t, 200, 400, 500, 700, 900, 1000, 1200)
	if kept.Frets() != 7 {
		t.Errorf("got %d frets, want 7", kept.Frets())
	}
	for n := range 8 {
		if kept.Cents(n) != want.Cents(n) || kept.Share(n) != want.Share(n) {
			t.Errorf("fret %d: got %v, want %v", n, kept.Cents(n), want.Cents(n))
		}
	}
	for _, row := range []struct {
		keep []int
		want string
	}{
		{nil, "got 0 frets, want 1 to 1000"},
		{make([]int, 1001), "got 1001 frets, want 1 to 1000"},
		{[]int{0}, "got fret 0 to keep after fret 0, want it above that and at most 12"},
		{[]int{-1}, "got fret -1 to keep after fret 0, want it above that and at most 12"},
		{[]int{5, 5}, "got fret 5 to keep after fret 5, want it above that and at most 12"},
		{[]int{5, 4}, "got fret 4 to keep after fret 5, want it above that and at most 12"},
		{[]int{13}, "got fret 13 to keep after fret 0, want it above that and at most 12"},
	} {
		_, err := full.Keep(row.keep...)
		wantError(t, err, row.want)
	}
}

// The length that sounds is measured before and after.
func TestMisplaced(t *testing.T) {
	d := equal(t, 12, 24)
	rnd := rand.New(rand.NewSource(5))
	for range 1000 {
		scale, n, by := 200+800*rnd.Float64(), rnd.Intn(25), 10*(rnd.Float64()-0.5)
		left := scale * math.Exp2(-float64(n)/12)
		want := 1200 * (math.Log2(left) - math.Log2(left-by))
		near(t, "misplaced", float64(d.Misplaced(units.Length(scale), n, units.Length(by))), want, 1e-10)
	}
	// 1200/(l ln 2), by hand.
	check(t, "a hundredth at the nut", float64(d.Misplaced(650, 0, 0.01)), "0.02663")
	check(t, "a hundredth at the 12th", float64(d.Misplaced(650, 12, 0.01)), "0.05327")
	if got := d.Misplaced(650, 12, 325); !math.IsInf(float64(got), 1) {
		t.Errorf("got %v on the saddle, want an infinity", got)
	}
	for _, row := range []struct {
		n  int
		by units.Length
	}{{12, 326}, {25, 0.1}, {-1, 0.1}, {12, units.Length(math.NaN())}} {
		if got := d.Misplaced(650, row.n, row.by); !math.IsNaN(float64(got)) {
			t.Errorf("fret %d by %v: got %v, want NaN", row.n, row.by, got)
		}
	}
}

// Whatever is asked, a tuning's frets rise and are finite, or it is refused.
func FuzzPerString(f *testing.F) {
	f.Add(int64(3), int64(2), int64(2), int64(1), 0.25, 3, 24, -20)
	f.Add(int64(math.MaxInt64), int64(1), int64(math.MinInt64), int64(0), math.NaN(), -1, 1000, math.MinInt)
	f.Add(int64(math.MaxInt64), int64(math.MaxInt64-1), int64(math.MaxInt64), int64(1), 1e300, 11, 1000, math.MaxInt)
	f.Fuzz(func(t *testing.T, num, den, num2, den2 int64, comma float64, flats, frets, open int) {
		for _, r := range []fret.Ratio{{num, den}, {num2, den2}} {
			if c := float64(r.Cents()); math.IsNaN(c) != (r.Num < 1 || r.Den < 1) || math.IsInf(c, 0) {
				t.Errorf("%v: got %v", r, c)
			}
		}
		degrees, err := fret.Ratios(fret.Ratio{num, den}, fret.Ratio{num2, den2})
		if err != nil {
			if degrees, err = fret.Meantone(comma, flats); err != nil {
				return
			}
		}
		strings, err := fret.PerString(frets, degrees, open, 0)
		if err != nil {
			return
		}
		for _, d := range strings {
			for n := 1; n <= frets; n++ {
				if !(d.Cents(n) > d.Cents(n-1)) || math.IsInf(float64(d.Cents(n)), 1) {
					t.Errorf("%v: got fret %d at %v after %v", degrees, n, d.Cents(n), d.Cents(n-1))
				}
			}
		}
	})
}
