package units_test

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"testing"

	"example.org/saddlepoint/units"
)

// Source: conversion_factors.csv, from NIST SP 811 appendix B (some by way of an
// older copy) and, for force in pounds from kilograms, a public table to 4
// decimals. The exact fractions follow from the definitions.
func TestConversionFactors(t *testing.T) {
	for _, row := range []struct {
		what      string
		got       float64
		published string
		exact     string
	}{
		{"inch to mm", float64(units.Inch), "25.4", "127/5"},
		{"mil to m", units.Thou.Metres(), "2.54E-05", "127/5000000"},
		{"foot to m", (12 * units.Inch).Metres(), "3.048E-01", "381/1250"},
		{"kgf to N", float64(units.KilogramForce), "9.806 65", "196133/20000"},
		{"lbf to N", float64(units.PoundForce), "4.448 222", "8896443230521/2000000000000"},
		{"lb/in to kg/m", float64(units.PoundPerInch), "1.785 797E+01", "45359237/2540000"},
		{"lb/ft to kg/m", float64(units.PoundPerInch) / 12, "1.488 164", "45359237/30480000"},
		{"lb/in3 to kg/m3", float64(units.PoundPerCubicInch), "2.767 990E+04", "56699046250/2048383"},
		{"psi to Pa", float64(units.KSI) / 1000, "6.894 757E+03", "8896443230521/1290320000"},
		{"lbf to kgf", units.PoundForce.KilogramsForce(), "0.45359237", "45359237/100000000"},
		{"kgf to lbf", units.KilogramForce.PoundsForce(), "2.2046", "100000000/45359237"},
		{"g/cm3 to lb/in3", float64(units.GramPerCubicCentimetre) / float64(units.PoundPerCubicInch), "3.61273E-02", "8193532/226796185"},

		{"1in", base(t, "1in"), "25.4", "127/5"},
		{"1thou", base(t, "1thou") / 1000, "2.54E-05", "127/5000000"},
		{"1kgf", base(t, "1kgf"), "9.806 65", "196133/20000"},
		{"1lbf", base(t, "1lbf"), "4.448 222", "8896443230521/2000000000000"},
		{"1lb/in", base(t, "1lb/in"), "1.785 797E+01", "45359237/2540000"},
		{"1lb/in3", base(t, "1lb/in3"), "2.767 990E+04", "56699046250/2048383"},
		{"1psi", base(t, "1psi"), "6.894 757E+03", "8896443230521/1290320000"},
		{"1ksi", base(t, "1ksi") / 1000, "6.894 757E+03", "8896443230521/1290320000"},
		{"1g/cm3", base(t, "1g/cm3") / base(t, "1lb/in3"), "3.61273E-02", "8193532/226796185"},
	} {
		check(t, row.what, row.got, row.published)
		exact, ok := new(big.Rat).SetString(row.exact)
		if !ok {
			t.Fatal(row.exact)
		}
		want, _ := exact.Float64()
		near(t, row.what, row.got, want, 1)
	}
	// What is twice as much is so in every unit but threads per inch.
	for _, u := range units.Table() {
		twice := 2.0
		if u.Kind == units.KindThread {
			twice = 0.5
		}
		// From 1 up a gauge is in thousandths.
		one, two := base(t, "1 "+u.Symbol), base(t, "2 "+u.Symbol)
		near(t, "2 "+u.Symbol, two, twice*one, 1)
	}
}

// The quantities to multiply by are what the table says of their units.
func TestMultipliers(t *testing.T) {
	for _, row := range []struct {
		in  string
		got float64
	}{
		{"1mm", float64(units.Millimetre)}, {"1cm", float64(units.Centimetre)}, {"1m", float64(units.Metre)},
		{"1in", float64(units.Inch)}, {"1deg", float64(units.Degree)}, {"1N", float64(units.Newton)},
		{"1Pa", float64(units.Pascal)}, {"1MPa", float64(units.Megapascal)}, {"1GPa", float64(units.Gigapascal)},
		{"1ksi", float64(units.KSI)}, {"1kg/m3", float64(units.KilogramPerCubicMetre)}, {"1g/cm3", float64(units.GramPerCubicCentimetre)},
		{"1lb/in3", float64(units.PoundPerCubicInch)}, {"1kg/m", float64(units.KilogramPerMetre)}, {"1g/m", float64(units.GramPerMetre)},
		{"1lb/in", float64(units.PoundPerInch)}, {"1Hz", float64(units.Hertz)}, {"1c", float64(units.Cent)}, {"1turn", float64(units.Turn)},
	} {
		if want := base(t, row.in); row.got != want {
			t.Errorf("%s: got %v, want %v", row.in, row.got, want)
		}
	}
}

// base reads a quantity of any kind in its base unit.
func base(t *testing.T, s string) float64 {
	t.Helper()
	x, u, n, err := units.Scan(s)
	if err != nil || n != len(s) {
		t.Fatalf("%s: got %d bytes read, %v", s, n, err)
	}
	v, err := u.Base(x)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// What the units of the table are by definition, where no source above says it.
func TestUnits(t *testing.T) {
	for _, row := range []struct {
		in   string
		kind units.Kind
		want float64
	}{
		{"3mm", units.KindLength, 3},
		{"3cm", units.KindLength, 30},
		{"0.65m", units.KindLength, 650},
		{`2"`, units.KindLength, 50.8},
		{"2inch", units.KindLength, 50.8},
		{"2inches", units.KindLength, 50.8},
		{"64 64ths", units.KindLength, 25.4},
		{"1.5deg", units.KindAngle, 1.5},
		{"1.5°", units.KindAngle, 1.5},
		{"72N", units.KindForce, 72},
		{"1lb", units.KindForce, 4.4482216152605},
		{"3Pa", units.KindStress, 3},
		{"3MPa", units.KindStress, 3e6},
		{"3GPa", units.KindStress, 3e9},
		{"7850kg/m3", units.KindDensity, 7850},
		{"7.85g/cm3", units.KindDensity, 7850},
		{"3kg/m", units.KindLinearDensity, 3},
		{"0.5g/m", units.KindLinearDensity, 0.0005},
		{"440Hz", units.KindFrequency, 440},
		{"0.44kHz", units.KindFrequency, 440},
		{"7c", units.KindCents, 7},
		{"7cent", units.KindCents, 7},
		{"7cents", units.KindCents, 7},
		{"2turns", units.KindTurns, 2},
		{"1turn", units.KindTurns, 1},
		{"40tpi", units.KindThread, 0.635},
		{"10p", units.KindPlainGauge, 0.254},
		{"1p", units.KindPlainGauge, 0.0254},
		{"46w", units.KindWoundGauge, 1.1684},
	} {
		x, u, n, err := units.Scan(row.in)
		if err != nil || n != len(row.in) || u.Kind != row.kind {
			t.Errorf("%s: got a %v in %d bytes, %v, want a %v in all", row.in, u.Kind, n, err, row.kind)
			continue
		}
		if got, err := u.Base(x); err != nil || got != row.want {
			t.Errorf("%s: got %v, %v, want %v", row.in, got, err, row.want)
		}
	}
}

// A gauge below 1 is in inches, and gives the very same string, at whole and half
// thousandths up to half an inch.
func TestGaugeInInches(t *testing.T) {
	for half := 2; half <= 1000; half++ {
		a := base(t, fmt.Sprintf(".%04dp", 5*half))
		if b := base(t, fmt.Sprint(float64(half)/2)+"p"); a != b {
			t.Errorf("got .%04dp as %v mm and its thousandths as %v mm, want one size", 5*half, a, b)
		}
	}
	for _, row := range [][2]string{{".046w", "46w"}, {".9w", "900w"}, {"1e-2p", "10p"}, {"0p", "0w"}} {
		if a, b := base(t, row[0]), base(t, row[1]); a != b {
			t.Errorf("got %s as %v mm and %s as %v mm, want one size", row[0], a, row[1], b)
		}
	}
}

func TestTable(t *testing.T) {
	seen := make(map[string]bool)
	for _, u := range units.Table() {
		if u.Help == "" {
			t.Errorf("%s: got no help, want a line", u.Symbol)
		}
		for _, s := range append([]string{u.Symbol}, u.Aliases...) {
			if seen[s] {
				t.Errorf("got %q twice, want each spelling once", s)
			}
			seen[s] = true
			ins := []string{"2 " + s, "2\t " + s, "2 " + s + ")", "2 " + s + ", 3"}
			if s[0] < '0' || s[0] > '9' { // 64ths touching a number would be more of it
				ins = append(ins, "2"+s, "2"+s+")", "2"+s+", 3")
			}
			for _, in := range ins {
				x, got, n, err := units.Scan(in)
				blank := in[1] == ' ' || in[1] == '\t'
				switch {
				case s == `"` && blank:
					if x != 2 || got.Kind != units.KindNumber || n != 1 || err != nil {
						t.Errorf("%q: got %v, %v, %d, %v, want a number alone", in, x, got, n, err)
					}
				case x != 2 || got.Symbol != u.Symbol || n < len("2"+s) || err != nil:
					t.Errorf("%q: got %v, %v, %d, %v, want 2 of %s", in, x, got, n, err, u.Symbol)
				}
			}
		}
	}
	// The copy is the caller's own.
	mine := units.Table()
	for i := range mine {
		mine[i].Symbol = "?"
		for j := range mine[i].Aliases {
			mine[i].Aliases[j] = "?"
		}
	}
	for _, u := range units.Table() {
		if u.Symbol == "?" {
			t.Fatal("got a table that a caller changed, want a copy")
		}
		for _, a := range u.Aliases {
			if a == "?" {
				t.Fatalf("%s: got aliases that a caller changed, want a copy", u.Symbol)
			}
		}
	}
}

func TestKindString(t *testing.T) {
	for k, want := range map[units.Kind]string{
		units.KindNumber:         "number",
		units.KindLength:         "length",
		units.KindAngle:          "angle",
		units.KindForce:          "force",
		units.KindStress:         "stress",
		units.KindDensity:        "density",
		units.KindLinearDensity:  "unit weight",
		units.KindFrequency:      "frequency",
		units.KindCents:          "number of cents",
		units.KindTurns:          "number of turns",
		units.KindThread:         "thread",
		units.KindPlainGauge:     "plain string",
		units.KindWoundGauge:     "wound string",
		units.KindWoundGauge + 1: "kind 13",
		255:                      "kind 255",
	} {
		if got := k.String(); got != want {
			t.Errorf("kind %d: got %s, want %s", uint8(k), got, want)
		}
	}
}

func TestBaseRefuses(t *testing.T) {
	bySymbol := make(map[string]units.Unit)
	for _, u := range units.Table() {
		bySymbol[u.Symbol] = u
	}
	for _, row := range []struct {
		x         float64
		symbol    string
		got, want string
	}{
		{0, "tpi", "0tpi", "more than 0"},
		{0, "", "0", "a number that fits"}, // no unit, no factor
		{1e-310, "tpi", "1e-310tpi", "a number that fits"},
		{1e308, "m", "1e+308m", "a number that fits"},
		{math.Inf(1), "mm", "+Infmm", "a number that fits"},
		{math.Inf(-1), "p", "-Infp", "a number that fits"},
		{math.NaN(), "mm", "NaNmm", "a number that fits"},
		{math.NaN(), "tpi", "NaNtpi", "a number that fits"},
		{math.NaN(), "w", "NaNw", "a number that fits"},
	} {
		v, err := bySymbol[row.symbol].Base(row.x)
		want := units.ParseError{Input: row.got, Got: row.got, Want: row.want}
		var got *units.ParseError
		if v != 0 || !errors.As(err, &got) || *got != want {
			t.Errorf("%v %s: got %v, %v, want %v", row.x, row.symbol, v, err, &want)
		}
	}
}
