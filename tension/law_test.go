package tension_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

const (
	scale    = 25.5 * units.Inch
	handbook = 0.284 * units.PoundPerCubicInch // ASTM A228's density
)

// Source: tension_worked_examples.csv: OpenStax University Physics 1, 16.3, and a
// lab's answer page. A wave's speed is that of the pitch over half a metre.
func TestWorkedExamples(t *testing.T) {
	const half = 0.5 * units.Metre
	speed := float64(tension.Pitch(3.09e-4, 56.40, half))
	check(t, "speed on the high E", speed, "427.23")
	check(t, "speed on the high E", speed, "427.2286")
	check(t, "pull of the low E", float64(tension.Pull(5.78e-3, 427.23, half)), "1054.997")
	check(t, "pull of the low E", float64(tension.Pull(5.78e-3, units.Frequency(speed), half)), "1054.990")

	// T = 4 m L f^2 with the whole string's mass.
	pull := tension.Pull(1.25e-4/0.33, 640, 0.33*units.Metre)
	check(t, "4 m L f^2", float64(pull), "68")
	check(t, "4 m L f^2", float64(pull), "67.584")
	check(t, "4 m L f^2, lbf", pull.PoundsForce(), "15")
	check(t, "4 m L f^2, lbf", pull.PoundsForce(), "15.193")

	// A raise of 1 Hz at A440; the print is cut off, not rounded.
	ratio := tension.Pull(1e-3, 441, half).Over(tension.Pull(1e-3, 440, half))
	check(t, "1 Hz at A440", ratio, "1.00455062")
	differs(t, "1 Hz at A440", ratio, "1.0045505")
}

// Source: tension_worked_examples.csv: (f L d)^2/20000 in hertz, centimetres and
// pounds-force is a rule for wound strings; plain steel has its own constants.
func TestRuleOfThumb(t *testing.T) {
	const f, cm, d = 174.61, 82.2, 0.178
	pull := func(rho units.Density) float64 {
		s := plain(t, d*units.Centimetre, rho)
		return tension.Pull(s.UnitWeight, f, cm*units.Centimetre).PoundsForce()
	}
	square := f * cm * d * f * cm * d
	check(t, "constant at 7.85 g/cm3", square/pull(7850), "18037.11")
	check(t, "constant at 0.284 lb/in3", square/pull(handbook), "18011.65")
	differs(t, "F3 by the rule", pull(7850), "326.36")

	// T[lbf] = (f L[in] d[thou]/K)^2.
	inches := func(rho units.Density) float64 { return f * (cm / 2.54) * (d / 2.54e-3) / math.Sqrt(pull(rho)) }
	check(t, "K at 0.284 lb/in3", inches(handbook), "20802.21")
	check(t, "K at 0.28316 lb/in3", inches(0.28316*units.PoundPerCubicInch), "20833")
	differs(t, "K at 0.284 lb/in3", inches(handbook), "20833")
}

// Source: tension_worked_examples.csv, "BAD EXAMPLE" (tuning list archive, 2005):
// the whole string's 8 g taken for its 20 g a metre gave 990 N.
func TestBadExample(t *testing.T) {
	const l = 0.4 * units.Metre
	right := tension.Pull(20*units.GramPerMetre, 440, l)
	check(t, "20 g/m", float64(right), "2478.1")
	differs(t, "20 g/m", float64(right), "990")
	wire := plain(t, 1, 7850)
	check(t, "1 mm of steel", wire.UnitWeight.GramsPerMetre(), "6.1654")
	check(t, "1 mm of steel", float64(tension.Pull(wire.UnitWeight, 440, l)), "763.9")
}

// Source: testdata/tension_plain_steel_recomputed.csv: 0.284 lb/in3, A4 = 440 Hz,
// mpmath at 50 digits. Division by 386.4, a rounding of gravity, is not ours.
func TestPlainSteel(t *testing.T) {
	for _, row := range rows(t, "tension_plain_steel_recomputed.csv") {
		what := row["dia_in"] + " in"
		s := plain(t, units.Length(number(t, row["dia_in"]))*units.Inch, handbook)
		f := hertz(t, row["note"])
		pull := tension.Pull(s.UnitWeight, f, units.Length(number(t, row["scale_in"]))*units.Inch)
		check(t, what, float64(f), row["freq_hz"])
		check(t, what, s.UnitWeight.PoundsPerInch(), row["uw_lb_per_in"])
		check(t, what, float64(s.UnitWeight), row["mu_kg_per_m"])
		check(t, what, pull.PoundsForce(), row["T_lbf_standard_g"])
		check(t, what, float64(pull), row["T_newton"])
		differs(t, what, pull.PoundsForce(), row["T_lbf_g386_4"])
	}
}

// Source: tension_constants.csv: T[lbf] = UW[lb/in] (2 L[in] f)^2/g for the
// gravities in use, and how far each is from ours (NIST SP 811), mpmath.
func TestConstants(t *testing.T) {
	const uw, inches = 2.2305308e-5, 25.5
	f := hertz(t, "E4")
	mu := units.LinearDensity(uw) * units.PoundPerInch
	v := 2 * inches * float64(f)
	for _, row := range []struct {
		g          float64
		ppm, cents string
	}{
		{386.088582677165, "0.00", "0.00000"},
		{32.174 * 12, "1.51", "-0.00131"},
		{386.09, "-3.67", "0.00318"},
		{386.1, "-29.57", "0.02560"},
		{386.16, "-184.94", "0.16010"},
		{386.4, "-805.95", "0.69792"},
		{386.07083476378, "45.97", "-0.03979"},
	} {
		theirs := uw * v * v / row.g
		ours := tension.Pull(mu, f, inches*units.Inch).PoundsForce()
		check(t, "pull", 1e6*(theirs/ours-1), row.ppm)
		solved := units.Frequency(math.Sqrt(ours*row.g/uw) / (2 * inches))
		pitch := tension.Pitch(mu, units.Force(ours)*units.PoundForce, inches*units.Inch)
		check(t, "pitch", float64(units.Interval(pitch, solved)), row.cents)
	}
}

// Source: bench_rules.md rows 16 to 20 (common practice, recomputed), and the
// acceptance of issue 2.
func TestBenchRules(t *testing.T) {
	at := func(thou, inches float64, note string) units.Force {
		s := plain(t, units.Length(thou)*units.Thou, tension.Steel.Density)
		return tension.Strung{String: s, Pitch: hertz(t, note), Length: units.Length(inches) * units.Inch}.Pull()
	}
	// 16: ".010 at 24.75 in about equals .009 at 25.5 in" is wrong.
	ratio := at(10, 24.75, "E4").Over(at(9, 25.5, "E4"))
	check(t, "row 16", ratio, "1.163")
	differs(t, "row 16", ratio, "1.0")
	// 17: .010 tuned down equals .009 at pitch, a whole step down, not a semitone.
	check(t, "row 17, a semitone", at(10, 25.5, "D#4").Over(at(9, 25.5, "E4")), "1.10")
	check(t, "row 17, two", at(10, 25.5, "D4").Over(at(9, 25.5, "E4")), "0.98")
	// 18: two semitones down is 0.794 of its own pull, not 26 % less.
	drop := at(46, 25.5, "D2").Over(at(46, 25.5, "E2"))
	check(t, "row 18", drop, "0.794")
	differs(t, "row 18", drop, "0.74")
	// 20: .009 and .010 at E4; the last is also issue 2's tension(10p, E4, 25.5in).
	check(t, "row 20, .009", at(9, 25.5, "E4").PoundsForce(), "13.2")
	check(t, "row 20, .009", float64(at(9, 25.5, "E4")), "58.7")
	check(t, "row 20, .010", at(10, 25.5, "E4").PoundsForce(), "16.30")
	check(t, "row 20, .010", float64(at(10, 25.5, "E4")), "72.52")

	// 19: one set by scale. The page cuts 156.7 off to 156.
	var set []tension.Strung
	for _, s := range []struct{ text, note string }{
		{"12p", "E4"}, {"16p", "B3"}, {"24w", "G3"}, {"32w", "D3"}, {"42w", "A2"}, {"53w", "E2"},
	} {
		str, err := tension.ParseString(s.text)
		if err != nil {
			t.Fatal(err)
		}
		set = append(set, tension.Strung{String: str, Pitch: hertz(t, s.note), Length: 25.4 * units.Inch})
	}
	base := tension.Total(set)
	var sum units.Force
	for _, s := range set {
		sum += s.Pull()
	}
	near(t, "total", float64(base), float64(sum), 1e-15)
	for _, row := range []struct {
		inches          float64
		published, sums string
	}{{25.875, "171", "171.2"}, {25.4, "165", "165.0"}, {25, "160", "159.8"}, {24.75, "", "156.7"}, {24, "147", "147.3"}} {
		for i := range set {
			set[i].Length = units.Length(row.inches) * units.Inch
		}
		lbf := 165 * tension.Total(set).Over(base)
		check(t, "row 19", lbf, row.sums)
		if row.published == "" {
			differs(t, "row 19", lbf, "156")
		} else {
			check(t, "row 19", lbf, row.published)
		}
	}
	if got := tension.Total(nil); got != 0 {
		t.Errorf("got a pull of %v for no strings, want 0", got)
	}
}

// Each solution of the law gives back what went in, over many decades.
func TestInverses(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	decades := func(low, high float64) float64 { return math.Pow(10, low+(high-low)*rnd.Float64()) }
	for range 5000 {
		mu := units.LinearDensity(decades(-8, 1))
		f := units.Frequency(decades(0, 5))
		l := units.Length(decades(0, 5))
		pull := tension.Pull(mu, f, l)
		near(t, "Pitch", float64(tension.Pitch(mu, pull, l)), float64(f), 2e-15)
		near(t, "UnitWeight", float64(tension.UnitWeight(pull, f, l)), float64(mu), 2e-15)
		near(t, "Length", float64(tension.Length(mu, pull, f)), float64(l), 2e-15)

		d, rho := units.Length(decades(-3, 1)), units.Density(decades(2, 5))
		near(t, "Gauge", float64(tension.Gauge(plain(t, d, rho).UnitWeight, rho)), float64(d), 2e-15)
	}
}

func TestNaNInNaNOut(t *testing.T) {
	nan := math.NaN()
	for _, got := range []float64{
		float64(tension.Pull(units.LinearDensity(nan), 440, 650)), float64(tension.Pull(1e-3, units.Frequency(nan), 650)), float64(tension.Pull(1e-3, 440, units.Length(nan))),
		float64(tension.Pitch(units.LinearDensity(nan), 70, 650)), float64(tension.Pitch(1e-3, units.Force(nan), 650)), float64(tension.Pitch(1e-3, 70, units.Length(nan))),
		float64(tension.UnitWeight(units.Force(nan), 440, 650)), float64(tension.UnitWeight(70, units.Frequency(nan), 650)), float64(tension.UnitWeight(70, 440, units.Length(nan))),
		float64(tension.Length(units.LinearDensity(nan), 70, 440)), float64(tension.Length(1e-3, units.Force(nan), 440)), float64(tension.Length(1e-3, 70, units.Frequency(nan))),
		float64(tension.Gauge(units.LinearDensity(nan), 7850)), float64(tension.Gauge(1e-3, units.Density(nan))),
		float64(tension.Strung{Pitch: 440, Length: units.Length(nan)}.Pull()),
	} {
		if !math.IsNaN(got) {
			t.Errorf("got %v from a NaN, want NaN", got)
		}
	}
}
