package units_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/units"
)

// Source: inch_fractions_mm.csv (an online chart; some ties rounded down, some
// to even). The exact column is met to the last bit.
func TestInchFractions(t *testing.T) {
	for _, row := range rows(t, "inch_fractions_mm.csv", 64) {
		exact := units.Length(number(t, row["exact_mm"]))
		for _, in := range []string{
			row["sixty_fourths"] + "in", row["reduced"] + "in", row["reduced"] + `"`,
			row["sixty_fourths"][:len(row["sixty_fourths"])-len("/64")] + " 64ths",
		} {
			if got, err := units.ParseLength(in); err != nil || got != exact {
				t.Errorf("%s: got %v, %v, want %v", in, got, err, exact)
			}
		}
		check(t, row["reduced"]+"in", float64(exact), row["published_mm_4dp"])
		check(t, row["reduced"]+"in in inches", exact.Inches(), row["published_inch_6dp"])
		want := row["reduced"] + "in"
		if want == "1/1in" {
			want = "1in"
		}
		if got := exact.InchFraction(64); got != want {
			t.Errorf("%v: got %s, want %s", exact, got, want)
		}
	}
}

// Source: thousandths_mm.csv, exact products.
func TestThousandths(t *testing.T) {
	for _, row := range rows(t, "thousandths_mm.csv", 100) {
		exact := number(t, row["exact_mm"])
		got, err := units.ParseLength(row["thou"] + "thou")
		if err != nil || float64(got) != exact {
			t.Errorf("%s thou: got %v, %v, want %v", row["thou"], got, err, exact)
		}
		// The decimal inches are rounded once before they are converted, and
		// their product and quotient once each.
		got, err = units.ParseLength(row["inch"] + "in")
		if err != nil {
			t.Error(err)
		}
		near(t, row["inch"]+"in", float64(got), exact, 2)
		thou := number(t, row["thou"])
		near(t, row["thou"]+" * Thou", float64(units.Length(thou)*units.Thou), exact, 2)
		near(t, row["exact_mm"]+" in thou", units.Length(exact).Thou(), thou, 2)
		near(t, row["exact_mm"]+" in inches", units.Length(exact).Inches(), number(t, row["inch"]), 2)
	}
}

func TestLengthViews(t *testing.T) {
	l := 2 * units.Metre
	for _, row := range []struct {
		what      string
		got, want float64
	}{
		{"metres", l.Metres(), 2},
		{"centimetres", l.Over(units.Centimetre), 200},
		{"inches", (25.5 * units.Inch).Inches(), 25.5},
		{"thou", units.Inch.Thou(), 1000},
		{"ratio", l.Over(-4 * units.Metre), -0.5},
	} {
		near(t, row.what, row.got, row.want, 1)
	}
}

func TestInchFraction(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct {
		l           units.Length
		denominator int
		want        string
	}{
		{647.7, 64, "25 1/2in"},
		{647.7, 2, "25 1/2in"},
		{647.7, 1, "26in"}, // halves go away from 0
		{-647.7, 64, "-25 1/2in"},
		{628, 64, "24 23/32in"}, // 24.7244: 46.4 sixty-fourths
		{628, 16, "24 3/4in"},
		{25.4, 128, "1in"},
		{25.4 / 128, 128, "1/128in"},
		{25.4 * 127 / 128, 64, "1in"},
		{-25.4 * 3 / 8, 8, "-3/8in"},
		{0, 64, "0in"},
		{0.1, 64, "0in"},
		{-0.1, 64, "0in"},
		// No power of two from 1 to 128: decimal inches.
		{635, 0, "25in"},
		{647.7, -2, "25.5in"},
		{647.7, 3, "25.5in"},
		{647.7, 256, "25.5in"},
		{1e15, 64, "39370078740157.48in"}, // too long for whole sixty-fourths
		{-25.4 * (1e12 - 0.5), 64, "-999999999999 1/2in"},
		{25.4 * (1e12 + 0.5), 64, "1000000000000.5in"},
		{nan, 64, "NaNin"},
		{inf, 64, "+Infin"},
	} {
		if got := row.l.InchFraction(row.denominator); got != row.want {
			t.Errorf("%v in parts of %d: got %s, want %s", row.l, row.denominator, got, row.want)
		}
	}
}

// What InchFraction gives reads back as the nearest fraction.
func TestInchFractionReadsBack(t *testing.T) {
	for l := units.Length(-30); l < 700; l += 0.37 {
		for d := 1; d <= 128; d *= 2 {
			back, err := units.ParseLength(l.InchFraction(d))
			if err != nil {
				t.Fatal(err)
			}
			if half := units.Inch / 2 / units.Length(d); math.Abs(float64(back-l)) > float64(half)*(1+1e-12) {
				t.Fatalf("%v in parts of %d: got %v back, want it within %v", l, d, back, half)
			}
		}
	}
}
