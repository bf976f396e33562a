package fret_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Source: public wiki, "fret positioning": distance from nut = factor * scale,
// six decimals (its dropped trailing zeros are put back). Beside it, mpmath at 50
// digits. Three rows of the print are wrong: fret 4, and the last digits of 5
// and 22.
func TestFactors(t *testing.T) {
	d := equal(t, 12, 24)
	for i, row := range []struct{ published, recomputed string }{
		{"0.056126", "0.056125687318"},
		{"0.109101", "0.109101281860"},
		{"0.159104", "0.159103584746"},
		{"0.206291", "0.206299474016"},
		{"0.250847", "0.250846461562"},
		{"0.292893", "0.292893218813"},
		{"0.332580", "0.332580072915"},
		{"0.370039", "0.370039475053"},
		{"0.405396", "0.405396442499"},
		{"0.438769", "0.438768975845"},
		{"0.470268", "0.470268452820"},
		{"0.500000", "0.500000000000"},
		{"0.528063", "0.528062843659"},
		{"0.554551", "0.554550640930"},
		{"0.579552", "0.579551792373"},
		{"0.603150", "0.603149737008"},
		{"0.625423", "0.625423230781"},
		{"0.646447", "0.646446609407"},
		{"0.666290", "0.666290036457"},
		{"0.685020", "0.685019737526"},
		{"0.702698", "0.702698221249"},
		{"0.719385", "0.719384487923"},
		{"0.735134", "0.735134226410"},
		{"0.750000", "0.750000000000"},
	} {
		n := i + 1
		what := fmt.Sprintf("fret %d", n)
		check(t, what, d.Share(n), row.recomputed)
		switch n {
		case 4, 5, 22:
			differs(t, what, d.Share(n), row.published)
		default:
			check(t, what, d.Share(n), row.published)
		}
	}
}

// Source: personal web page, 2006: fret to bridge on a 25 in scale.
func TestToBridge(t *testing.T) {
	const scale = 25 * units.Inch
	d := equal(t, 12, 10)
	for n, row := range []struct{ in, mm string }{
		{"25.000", "635.000"}, {"23.597", "599.360"}, {"22.272", "565.721"}, {"21.022", "533.969"},
		{"19.843", "504.000"}, {"18.729", "475.712"}, {"17.678", "449.013"}, {"16.685", "423.812"},
		{"15.749", "400.025"}, {"14.865", "377.573"}, {"14.031", "356.382"},
	} {
		what := fmt.Sprintf("fret %d", n)
		check(t, what, d.Remaining(scale, n).Inches(), row.in)
		check(t, what, float64(d.Remaining(scale, n)), row.mm)
	}
}

// Source: testdata/fret_tables_recomputed.csv, mpmath at 50 digits, ten scales.
func TestTables(t *testing.T) {
	d := equal(t, 12, 24)
	n := 0
	for _, row := range rows(t, "fret_tables_recomputed.csv") {
		if row["fret"] == "0" {
			n = 0
		}
		scale, what := length(t, row["scale"]), row["scale"]+" fret "+row["fret"]
		if fmt.Sprint(n) != row["fret"] {
			t.Fatalf("%s: got it out of order", what)
		}
		check(t, what, float64(d.From(scale, n)), row["nut_to_fret_mm"])
		check(t, what, d.From(scale, n).Inches(), row["nut_to_fret_in"])
		check(t, what, float64(d.Remaining(scale, n)), row["fret_to_bridge_mm"])
		if n > 0 {
			check(t, what, float64(d.Gap(scale, n)), row["from_previous_fret_mm"])
		}
		n++
	}
}

// Source: fret_divisors.csv: each fret is the remaining length over a divisor.
// The divisors are widely printed; the errors are mpmath at 50 digits.
func TestDivisors(t *testing.T) {
	et := equal(t, 12, 24)
	check(t, "the exact divisor", 1/et.Share(1), "17.81715374510577")
	for _, row := range []struct{ divisor, cents, at12, at24, on650, on648 string }{
		{"17.817154", "99.999999", "-0.000018", "-0.000035", "0.0000", "0.0000"},
		{"17.8171", "100.000311", "0.003726", "0.007453", "0.0007", "0.0001"},
		{"17.817", "100.000888", "0.010660", "0.021320", "0.0020", "0.0003"},
		{"17.82", "99.983558", "-0.197310", "-0.394620", "-0.0370", "-0.0058"},
		{"17.835", "99.896994", "-1.236077", "-2.472154", "-0.2321", "-0.0364"},
		{"18", "98.954592", "-12.544893", "-25.089786", "-2.3636", "-0.3694"},
	} {
		x := number(t, row.divisor)
		cents := make([]units.Cents, 24)
		for i := range cents {
			cents[i] = units.Cents(i+1) * centsOf(x/(x-1))
		}
		d := divide(t, cents...)
		check(t, row.divisor+": a fret", float64(d.Cents(1)), row.cents)
		check(t, row.divisor+": cents at 12", float64(d.Cents(12)-et.Cents(12)), row.at12)
		check(t, row.divisor+": cents at 24", float64(d.Cents(24)-et.Cents(24)), row.at24)
		check(t, row.divisor+": 12th", float64(d.From(650, 12)-et.From(650, 12)), row.on650)
		check(t, row.divisor+": 1st", float64(d.From(648, 1)-et.From(648, 1)), row.on648)

		remaining := 650.0 // walked fret by fret, as the rule was used
		for n := 1; n <= 24; n++ {
			remaining -= remaining / x
			if got := float64(d.Remaining(650, n)); math.Abs(got-remaining) > 1e-10 {
				t.Errorf("%s: fret %d: got %v remaining, want %v", row.divisor, n, got, remaining)
			}
		}
	}
}

// Source: testdata/fret_rule_of_18.csv: V. Galilei, 1581, a semitone of 18:17;
// mpmath at 50 digits. It is no equal division: every fret lies elsewhere.
func TestRuleOf18(t *testing.T) {
	et := equal(t, 12, 24)
	cents := make([]units.Cents, 24)
	for i := range cents {
		cents[i] = units.Cents(i+1) * centsOf(18./17)
	}
	d := divide(t, cents...)
	for n, row := range rows(t, "fret_rule_of_18.csv") {
		what := "fret " + row["fret"]
		check(t, what, d.Share(n), row["fraction_from_nut"])
		check(t, what, float64(d.Cents(n)), row["cents"])
		check(t, what, float64(d.Cents(n)-et.Cents(n)), row["error_cents_vs_et"])
		check(t, what, float64(d.From(650, n)), row["x_mm_on_650"])
		check(t, what, float64(et.From(650, n)), row["et_x_mm_on_650"])
		if n > 0 {
			differs(t, what, float64(et.From(650, n)), row["x_mm_on_650"])
			differs(t, what, et.Share(n), row["fraction_from_nut"])
		}
	}
}

// Source: J. Dowland's fretting, in R. Dowland, Varietie of Lute-Lessons (1610),
// as ratios and semitones in a tuning-list post of 1998; fractions and cents
// from equal temperament recomputed with mpmath.
func TestDowland(t *testing.T) {
	table := []struct {
		over, under                        int64
		published, semitones, share, minus string
	}{
		{33, 31, "1.08", "1.0824", "0.060606", "8.237"},
		{9, 8, "2.04", "2.0391", "0.111111", "3.910"},
		{33, 28, "2.84", "2.8445", "0.151515", "-15.553"},
		{264, 211, "3.88", "3.8795", "0.200758", "-12.046"},
		{4, 3, "4.98", "4.9804", "0.250000", "-1.955"},
		{24, 17, "5.97", "5.9700", "0.291667", "-3.000"},
		{3, 2, "7.02", "7.0196", "0.333333", "1.955"},
		{99, 62, "8.10", "8.1019", "0.373737", "10.192"},
		{27, 16, "9.06", "9.0587", "0.407407", "5.865"},
		{99, 56, "9.86", "9.8640", "0.434343", "-13.598"},
	}
	var ratios []fret.Ratio
	for _, row := range table {
		ratios = append(ratios, fret.Ratio{Num: row.over, Den: row.under})
	}
	cents, err := fret.Ratios(ratios...)
	if err != nil {
		t.Fatal(err)
	}
	d, et := divide(t, cents...), equal(t, 12, 10)
	for i, row := range table {
		n, what := i+1, fmt.Sprintf("fret %d", i+1)
		check(t, what, float64(d.Cents(n)/units.Semitone), row.published)
		check(t, what, float64(d.Cents(n)/units.Semitone), row.semitones)
		check(t, what, float64(d.Cents(n)-et.Cents(n)), row.minus)
		check(t, what, d.Share(n), row.share)
		if want := float64(row.over-row.under) / float64(row.over); math.Abs(d.Share(n)-want) > 1e-15 {
			t.Errorf("%s: got share %v, want %v", what, d.Share(n), want)
		}
	}
}

// Source: fret_textbook_examples.csv, answers found on homework pages and in a
// maker's blog, recomputed with mpmath.
func TestTextbook(t *testing.T) {
	d := equal(t, 12, 24)
	cm := func(l units.Length) float64 { return float64(l / units.Centimetre) }

	// 65 cm, first six frets; the method's 0.94387 a fret.
	for i, want := range []string{"3.65", "7.09", "10.34", "13.41", "16.31", "19.04"} {
		check(t, "65 cm", cm(d.From(650, i+1)), want)
	}
	check(t, "what a fret leaves", 1-d.Share(1), "0.94387")

	// 0.628 m, gaps 3-4 and 8-9.
	check(t, "gap 3-4", cm(d.Gap(628, 4)), "2.964")
	check(t, "gap 8-9", cm(d.Gap(628, 9)), "2.220")

	// 0.70 m, 330 Hz stopped to 415 Hz: as printed, and recomputed.
	stop := divide(t, units.Interval(330, 415))
	for _, want := range []string{"0.56", "0.5566"} {
		check(t, "stopped length", stop.Remaining(700, 1).Metres(), want)
	}
	for _, want := range []string{"0.14", "0.1434"} {
		check(t, "finger from the end", stop.From(700, 1).Metres(), want)
	}

	// 23 in scale, frets 1, 12 and 14 to a thirty-second.
	for _, row := range []struct {
		n                int
		fraction, inches string
	}{{1, "1 9/32in", "1.2909"}, {12, "11 1/2in", "11.5000"}, {14, "12 3/4in", "12.7547"}} {
		at := d.From(23*units.Inch, row.n)
		check(t, "23 in", at.Inches(), row.inches)
		if got := at.InchFraction(32); got != row.fraction {
			t.Errorf("23 in, fret %d: got %s, want %s", row.n, got, row.fraction)
		}
	}

	// Not golden: 75.0 cm, of which five are rounded up and the sixth is the
	// remaining length gone wrong.
	for i, row := range []struct{ published, recomputed string }{
		{"4.3", "4.21"}, {"8.3", "8.18"}, {"12.1", "11.93"}, {"15.7", "15.47"}, {"19.1", "18.81"}, {"52.7", "21.97"},
	} {
		got := cm(d.From(750, i+1))
		check(t, "75 cm", got, row.recomputed)
		differs(t, "75 cm", got, row.published)
	}
	check(t, "75 cm, remaining", cm(d.Remaining(750, 6)), "53.03")
	differs(t, "75 cm, remaining", cm(d.Remaining(750, 6)), "52.7")

	// Not golden: 24 in as 384 sixteenths, the first gap cut off to 21, or 1 1/3 in.
	gap := d.Gap(24*units.Inch, 1).Inches()
	check(t, "24 in", gap*16, "21.5523")
	check(t, "24 in", gap, "1.3470")
	differs(t, "24 in", gap*16, "21")
	differs(t, "24 in", gap, "1.3333")

	// Not golden, but for the octave: rough points at 1/5, 1/4, 1/3, 2/5, 1/2, and
	// how far from the fret they sound.
	for _, row := range []struct {
		n            int
		rough        string
		share, cents string
	}{
		{4, "0.200000", "0.206299", "-13.686"}, {5, "0.250000", "0.250846", "-1.955"},
		{7, "0.333333", "0.332580", "1.955"}, {9, "0.400000", "0.405396", "-15.641"},
		{12, "0.500000", "0.500000", "0.000"},
	} {
		what := fmt.Sprintf("fret %d", row.n)
		check(t, what, d.Share(row.n), row.share)
		if row.rough != row.share {
			differs(t, what, d.Share(row.n), row.rough)
		}
		check(t, what, fret.Share(d.Cents(row.n)+units.Cents(number(t, row.cents))), row.rough)
	}
}

// Source: bench_rules.md rows 13 and 15 (common practice, recomputed).
func TestBenchRules(t *testing.T) {
	d := equal(t, 12, 22)
	// 13: scale = 2.119 x (fret 1 to fret 13), which dodges nut compensation.
	between := d.From(1, 13) - d.From(1, 1)
	check(t, "scale over fret 1 to 13", units.Length(1).Over(between), "2.119")
	check(t, "scale over fret 1 to 13", units.Length(1).Over(between), "2.11893")
	// 15: half a .024 in kerf left out at the nut, on every fretted note at 25.5 in.
	const scale = 25.5 * units.Inch
	near, far := d.SlotEdges(scale, 0, 24*units.Thou)
	if near != -far {
		t.Errorf("got edges %v and %v at the nut, want them even about it", near, far)
	}
	sharp := units.Interval(units.Frequency(scale), units.Frequency(scale+far))
	check(t, "half a kerf", float64(sharp), "0.81")
}
