package tension_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Source: testdata/music_wire_a228_tensile.csv: ASTM A228 as printed on a public
// page; break loads recomputed. Every row, and half way to the next.
func TestStrength(t *testing.T) {
	table := rows(t, "music_wire_a228_tensile.csv")
	ksi := func(inches float64) float64 {
		s, err := tension.Strength(units.Length(inches) * units.Inch)
		if err != nil {
			t.Error(err)
		}
		return float64(s) / float64(units.KSI)
	}
	for i, row := range table {
		d, published := number(t, row["dia_in"]), number(t, row["published_min_ksi"])
		what := row["dia_in"] + " in"
		near(t, what, ksi(d), published, 1e-13)
		check(t, what, ksi(d)*float64(units.KSI/units.Megapascal), row["recomputed_min_MPa"])
		least, err := tension.Breaking(units.Length(d) * units.Inch)
		if err != nil {
			t.Fatal(err)
		}
		check(t, what, least.PoundsForce(), row["recomputed_min_break_lbf"])
		if i+1 < len(table) {
			next := table[i+1]
			half := (d + number(t, next["dia_in"])) / 2
			near(t, what+" and half way on", ksi(half), (published+number(t, next["published_min_ksi"]))/2, 1e-13)
		}
	}
	if len(table) != 58 {
		t.Errorf("got %d rows, want 58", len(table))
	}
}

// Thicker wire is weaker for its area, and stronger.
func TestBreakingRises(t *testing.T) {
	lastStrength, lastPull := units.Stress(math.Inf(1)), units.Force(0)
	for d := 4.0; d <= 250; d += 0.25 {
		s, err := tension.Strength(units.Length(d) * units.Thou)
		if err != nil {
			t.Fatal(err)
		}
		pull, err := tension.Breaking(units.Length(d) * units.Thou)
		if err != nil {
			t.Fatal(err)
		}
		if !(s < lastStrength && pull > lastPull) {
			t.Errorf("%v thou: got %v and %v after %v and %v", d, s, pull, lastStrength, lastPull)
		}
		lastStrength, lastPull = s, pull
	}
}

func TestStrengthRefuses(t *testing.T) {
	for _, row := range []struct {
		d    units.Length
		want string
	}{
		{3.9 * units.Thou, "got wire of 0.09906mm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
		{6.36, "got wire of 6.36mm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
		{0, "got wire of 0mm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
		{-1, "got wire of -1mm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
		{units.Length(math.NaN()), "got wire of NaNmm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
		{units.Length(math.Inf(1)), "got wire of +Infmm, want 0.1016mm to 6.35mm, the range of the ASTM A228 table"},
	} {
		strength, err := tension.Strength(row.d)
		wantError(t, err, row.want)
		pull, err := tension.Breaking(row.d)
		wantError(t, err, row.want)
		s := tension.String{Gauge: row.d, UnitWeight: 1e-3, Of: tension.Steel}
		pitch, err := s.BreakingPitch(650)
		wantError(t, err, row.want)
		share, err := tension.Strung{String: s, Pitch: 440, Length: 650}.BreakingShare()
		wantError(t, err, row.want)
		if strength != 0 || pull != 0 || pitch != 0 || share != 0 {
			t.Errorf("%v: got %v, %v, %v, %v beside errors, want 0", row.d, strength, pull, pitch, share)
		}
	}
	// The ends of the table, however they are told, belong to it.
	for _, d := range []units.Length{0.1016, 0.004 * units.Inch, 4 * units.Thou, 6.35, 0.25 * units.Inch, 250 * units.Thou,
		units.Length(math.Nextafter(0.1016, 0)), units.Length(math.Nextafter(6.35, 7))} {
		if _, err := tension.Strength(d); err != nil {
			t.Error(err)
		}
	}
}

// At the pitch where a string breaks it pulls its least breaking pull, whatever
// its length; a wound string's is that of its core.
func TestBreakingPitch(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 500 {
		gauge := units.Length(0.3 + 2*rnd.Float64())
		core := gauge * units.Length(0.35+0.3*rnd.Float64())
		wound, err := tension.Wound(gauge, core, tension.Steel, tension.Steel)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range []struct {
			s    tension.String
			wire units.Length
		}{{plain(t, gauge, tension.Steel.Density), gauge}, {wound, core}} {
			length := units.Length(300 + 600*rnd.Float64())
			f, err := row.s.BreakingPitch(length)
			if err != nil {
				t.Fatal(err)
			}
			least, err := tension.Breaking(row.wire)
			if err != nil {
				t.Fatal(err)
			}
			strung := tension.Strung{String: row.s, Pitch: f, Length: length}
			near(t, "pull at breaking", float64(strung.Pull()), float64(least), 1e-14)
			for octaves, want := range []float64{1, 0.25, 0.0625} {
				strung.Pitch = f.Shift(units.Cents(-octaves) * units.Octave)
				share, err := strung.BreakingShare()
				if err != nil {
					t.Fatal(err)
				}
				near(t, "share of breaking", share, want, 1e-14)
			}
		}
	}
	// Sources: A228 row 0.010, 30.39 lbf, and issue 2's 16.30 lbf for it at E4.
	share, err := tension.Strung{String: plain(t, 10*units.Thou, tension.Steel.Density), Pitch: hertz(t, "E4"), Length: scale}.BreakingShare()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share of .010 at E4", share, 16.30/30.39, 0.005/16.30+0.005/30.39)
}
