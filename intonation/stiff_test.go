package intonation_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// exact is how far bending raises partial n of a string, B = sqrt(EI/T)/l, by
// bisection of the stiff string's own equation, B^2 y”” - y” = w^2 y: with
// a^2 = b^2 + 1/B^2, y is made of sin and cos of b x and sinh and cosh of a x,
// and what the ends ask of it leaves an equation for b. fixity is 0 with both
// ends pinned, 1 with one clamped, 2 with both.
func exact(b0 float64, fixity, n int) float64 {
	left := func(b float64) float64 {
		a := math.Hypot(b, 1/b0)
		switch fixity {
		case 0:
			return math.Sin(b)
		case 1:
			return a*math.Sin(b) - b*math.Tanh(a)*math.Cos(b)
		}
		return 2*a*b*(1/math.Cosh(a)-math.Cos(b)) + (a*a-b*b)*math.Tanh(a)*math.Sin(b)
	}
	// Clamping raises b from n pi, by less than half of pi.
	low, high := (float64(n)-0.01)*math.Pi, (float64(n)+0.5)*math.Pi
	rising := left(high) > left(low)
	for range 200 {
		mid := (low + high) / 2
		if left(mid) > 0 == rising {
			high = mid
		} else {
			low = mid
		}
	}
	b := (low + high) / 2
	return b * math.Hypot(1, b0*b) / (float64(n) * math.Pi)
}

// The twin agrees with the 40-digit table (papers.md, ST-2).
func TestExactStiffString(t *testing.T) {
	rows := table(t, "stiff_string_exact")
	for _, r := range rows {
		got := exact(r.number(t, "B0=sqrt(EI/TL^2)"), fixities[r["boundary_saddle-fret"]], int(r.number(t, "partial")))
		near(t, r["boundary_saddle-fret"], got, r.number(t, "exact f/(q*f_flexible)"), 1e-12)
	}
	if len(rows) < 190 {
		t.Errorf("got %d rows", len(rows))
	}
}

var fixities = map[string]int{"pinned-pinned": 0, "clamped-pinned": 1, "clamped-clamped": 2}

// stiff is a neck of one string that sounds at f where its pull is 70 N.
func stiff(t *testing.T, b0 float64, fixity int, above float64) *intonation.Model {
	const pull, weight, metres = 70, 0.0004, 0.65
	flexible := math.Sqrt(pull/weight) / (2 * metres)
	return model(t, intonation.Neck{Division: frets(t, 1), Scale: metres * 1000, Courses: []intonation.Course{{
		UnitWeight: weight, Bend: b0 * b0 * pull * metres * metres, Open: units.Frequency(flexible * above), Fixity: float64(fixity),
	}}})
}

// The series, by the pull and the partials of a string tuned to the exact root:
// to 0.005 cents up to B = 0.005, which is what papers.md states (ST-2).
func TestSeries(t *testing.T) {
	var first, tenth, further float64
	check := func(b0 float64, fixity, n int, first0, cents float64) {
		m := stiff(t, b0, fixity, first0)
		pull := 600 * math.Log2(float64(m.Taut(1).Pull)/70)
		off := pull + 1200*math.Log2(first0) + float64(m.Partial(1, n)) - cents
		switch {
		case n == 1 && b0 <= 0.005:
			first = max(first, math.Abs(pull))
		case n == 1 && b0 <= 0.01:
			further = max(further, math.Abs(pull))
		case n == 10 && b0 <= 0.002:
			tenth = max(tenth, math.Abs(off))
		}
	}
	for _, r := range table(t, "stiff_string_exact") {
		b0, fixity, n := r.number(t, "B0=sqrt(EI/TL^2)"), fixities[r["boundary_saddle-fret"]], int(r.number(t, "partial"))
		check(b0, fixity, n, exact(b0, fixity, 1), r.number(t, "exact_cents_above_flexible"))
	}
	for b0 := 0.0001; b0 <= 0.01; b0 += 0.0001 {
		for fixity := range 3 {
			for _, n := range []int{1, 10} {
				check(b0, fixity, n, exact(b0, fixity, 1), 1200*math.Log2(exact(b0, fixity, n)))
			}
		}
	}
	t.Logf("first to B 0.005: %.5f cents; to 0.01: %.5f; tenth to 0.002: %.5f", first, further, tenth)
	near(t, "the first partial", first, 0, 0.005)
	near(t, "the first partial, further", further, 0, 0.04)
	near(t, "the tenth partial", tenth, 0, 0.02)
}

// Strings with both ends clamped a little: the fixity between is the series', for
// which there is no exact root; it rises steadily.
func TestFixityRises(t *testing.T) {
	last := math.Inf(1)
	for q := 0.0; q <= 2; q += 0.125 {
		n := neck(t)
		n.Courses = n.Courses[:1]
		n.Courses[0].Fixity = q
		pull := float64(model(t, n).Taut(1).Pull)
		if !(pull < last) {
			t.Errorf("got a pull of %v at fixity %v, want less than %v", pull, q, last)
		}
		last = pull
	}
}

// Piano strings (papers.md, CH-1): the pull that brings each to its printed
// pitch, ends pinned, E 202 GPa, against the printed pull, in cents of pitch.
func TestPianoStrings(t *testing.T) {
	worst := 0.0
	for _, r := range table(t, "piano_strings_chabassier") {
		d := r.number(t, "core_diameter_mm") / 1000
		m := open(t, intonation.Course{
			UnitWeight: units.LinearDensity(r.number(t, "effective_density_kg_m3") * math.Pi / 4 * d * d),
			Bend:       202e9 * math.Pi / 64 * d * d * d * d,
			Open:       units.Frequency(r.number(t, "pub_f0_Hz")),
		}, 1000*r.number(t, "L_m"))
		off := 600 * math.Log2(r.number(t, "tension_N")/float64(m.Taut(1).Pull))
		near(t, r["set"]+" "+r["note"], off, 0, r.number(t, "cents_from_L_print_rounding")+0.11)
		worst = max(worst, math.Abs(off)-r.number(t, "cents_from_L_print_rounding"))
	}
	t.Logf("%.3f cents beyond the rounding of the length at worst", worst)
}

// Nylon strings (papers.md, WH-1): printed pull and weight against the pitch, to
// 6.5 cents, where the rounding of what is printed allows 11.
func TestNylonStrings(t *testing.T) {
	worst := 0.0
	for _, r := range table(t, "woodhouse2004_nylon_strings") {
		m := open(t, intonation.Course{
			UnitWeight: units.LinearDensity(r.number(t, "mu_g_per_m") / 1000),
			Bend:       r.number(t, "EI_1e-6_N_m2") * 1e-6,
			Open:       units.Frequency(r.number(t, "f_12TET_Hz")),
		}, 1000*r.number(t, "L_m"))
		off := 600 * math.Log2(r.number(t, "tension_N")/float64(m.Taut(1).Pull))
		near(t, r["note"], off, 0, 6.5)
		near(t, r["note"]+" B0", m.Taut(1).B0, r.number(t, "calc_B0=sqrt(EI/TL^2)"), 0.00002)
		worst = max(worst, math.Abs(off))
	}
	t.Logf("%.2f cents at worst", worst)
}

// open is one string with nothing under it.
func open(t *testing.T, c intonation.Course, scale float64) *intonation.Model {
	t.Helper()
	return model(t, intonation.Neck{Division: frets(t, 1), Scale: units.Length(scale), Courses: []intonation.Course{c}})
}
