package tension_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Source: M. B. Anderson and R. G. Beausoleil, J. Acoust. Soc. Am. 156(1), 683
// (2024), string tables: diameter and unit weight to radius, weight and pull at
// 650 mm, to the print's rounding (AB-1).
func TestPaperStrings(t *testing.T) {
	for _, row := range rows(t, "ab2024_string_specs.csv") {
		what := row["set"] + " " + row["string"]
		gauge := units.Length(number(t, row["diameter_in"])) * units.Inch
		mu := units.LinearDensity(number(t, row["unit_weight_lb_per_in"])) * units.PoundPerInch
		pull := tension.Pull(mu, hertz(t, row["note"]), 650)
		check(t, what+": radius", float64(gauge)/2, row["calc_radius_mm"])
		check(t, what+": weight", mu.GramsPerMetre(), row["calc_mu_mg_per_mm"])
		check(t, what+": pull", float64(pull), row["calc_T0_N"])
		check(t, what+": printed weight", mu.GramsPerMetre(), row["pub_mu_mg_per_mm"])
		check(t, what+": printed pull", float64(pull), row["pub_T0_N_at_650mm"])
	}
}

// Source: the same paper's stretch readings, to R with its error, kappa, B0 and
// effective stiffness (AB-2). Its lengths are those of a mark at the first fret,
// so the length that R goes by is 650 mm over the semitone.
func TestPaperStretch(t *testing.T) {
	readings := map[string][]tension.Stretched{}
	for _, row := range rows(t, "ab2024_stretch_raw.csv") {
		s := tension.Stretched{By: units.Length(number(t, row["dx_mm_at_fret1"])), Pitch: units.Frequency(number(t, row["f_Hz"]))}
		if row["sigma_f_Hz"] != "" {
			s.Doubt = units.Frequency(number(t, row["sigma_f_Hz"]))
		}
		readings[row["set"]+row["string"]] = append(readings[row["set"]+row["string"]], s)
	}
	specs := map[string]map[string]string{}
	for _, row := range rows(t, "ab2024_string_specs.csv") {
		specs[row["set"]+row["string"]] = row
	}
	length := units.Length(650 / units.Semitone.Ratio())
	for _, row := range rows(t, "ab2024_props.csv") {
		what := row["set"] + " " + row["string"]
		spec := specs[row["set"]+row["string"]]
		f := hertz(t, row["note"])
		r, doubt, err := tension.FitR(readings[row["set"]+row["string"]], length, f)
		if err != nil {
			t.Fatal(err)
		}
		check(t, what+": R", r, row["calc_R"])
		check(t, what+": its error", doubt, row["calc_sigma_R"])
		check(t, what+": printed R", r, row["pub_R"])

		// A solid round string of that kappa: E A = kappa T, E I = E A r^2/4.
		radius := number(t, spec["diameter_in"]) * 25.4 / 2 / 1000
		mu := units.LinearDensity(number(t, spec["unit_weight_lb_per_in"])) * units.PoundPerInch
		s := tension.String{UnitWeight: mu}
		s.Stretch = units.Force(2*r+1) * tension.Pull(mu, f, 650)
		s.Bend = float64(s.Stretch) * radius * radius / 4
		strung := tension.Strung{String: s, Pitch: f, Length: 650}
		near(t, what+": R back", strung.R(), r, 1e-12)
		check(t, what+": kappa", strung.Kappa(), row["calc_kappa"])
		check(t, what+": B0", strung.B0(), row["calc_B0"])
		check(t, what+": E", float64(s.Stretch)/(math.Pi*radius*radius)/1e9, row["calc_Eeff_GPa"])
	}
}

// Worked by hand: the line through 300, 310 and 321 Hz at 0, 1 and 2 mm rises by
// 10.5 a millimetre and misses them by 1/6, -1/3 and 1/6, so that its slope is out by
// the root of (1/6)/2; times 600/300. Doubts that are all alike change nothing.
func TestFitRByHand(t *testing.T) {
	for _, doubt := range []units.Frequency{0, 1, 0.05, 20} {
		r, off, err := tension.FitR([]tension.Stretched{{0, 300, doubt}, {1, 310, doubt}, {2, 321, doubt}}, 600, 300)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "R", r, 21, 1e-12)
		near(t, "its error", off, 2/math.Sqrt(12), 1e-12)
	}
	// 305 Hz of twice the doubt counts a quarter of 300 Hz, 301 together; from there to
	// 311 at 2 mm is 5 a millimetre.
	r, _, err := tension.FitR([]tension.Stretched{{0, 305, 2}, {0, 300, 1}, {2, 311, 1}}, 600, 300)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "R of two doubts", r, 10, 1e-12)
}

func TestFitRRefuses(t *testing.T) {
	const few = ", want three at least, length and pitch more than 0"
	const some = ", want one above 0 of every reading or of none"
	const flat = "got stretch readings at one length or not finite, want two lengths at least"
	fine := []tension.Stretched{{By: 0, Pitch: 300}, {By: 1, Pitch: 310}, {By: 2, Pitch: 321}}
	if _, _, err := tension.FitR(fine, 600, 300); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		readings []tension.Stretched
		length   units.Length
		f        units.Frequency
		want     string
	}{
		{fine[:2], 600, 300, "got 2 stretch readings of 600mm at 300Hz" + few},
		{nil, 600, 300, "got 0 stretch readings of 600mm at 300Hz" + few},
		{fine, 0, 300, "got 3 stretch readings of 0mm at 300Hz" + few},
		{fine, 600, 0, "got 3 stretch readings of 600mm at 0Hz" + few},
		{fine, 600, -300, "got 3 stretch readings of 600mm at -300Hz" + few},
		{[]tension.Stretched{{1, 300, 0}, {1, 310, 0}, {1, 320, 0}}, 600, 300, flat},
		{[]tension.Stretched{{0, 300, 0}, {1, units.Frequency(math.NaN()), 0}, {2, 320, 0}}, 600, 300, flat},
		{[]tension.Stretched{{0, 0, 0}, {1, 1e10, 0}, {2, 2e10, 0}}, 1e300, 1e-3, flat}, // on one line, but too steep
		{[]tension.Stretched{{0, 300, 1}, {1, 310, 0}, {2, 320, 1}}, 600, 300, "got stretch reading 2 with a doubt of 0Hz" + some},
		{[]tension.Stretched{{0, 300, 0}, {1, 310, 0}, {2, 320, 1}}, 600, 300, "got stretch reading 3 with a doubt of 1Hz" + some},
		{[]tension.Stretched{{0, 300, -1}, {1, 310, 1}, {2, 320, 1}}, 600, 300, "got stretch reading 1 with a doubt of -1Hz" + some},
		// A slope that fits, of readings whose scatter does not.
		{[]tension.Stretched{{0, 0, 0}, {1, 1e200, 0}, {2, 1e200, 0}}, 600, 300, flat},
	} {
		r, doubt, err := tension.FitR(c.readings, c.length, c.f)
		wantError(t, err, c.want)
		if r != 0 || doubt != 0 {
			t.Errorf("%v: got %v, %v beside an error, want 0", c, r, doubt)
		}
	}
	// More than 0 is enough.
	if _, _, err := tension.FitR(fine, 0.01, 0.01); err != nil {
		t.Error(err)
	}
}

// Sources: E A = E pi d^2/4 and E I = E pi d^4/64 of a round rod, any handbook;
// E of steel 30 million psi.
func TestRods(t *testing.T) {
	const e = 30e6 * 6894.757293168361 // Pa, NIST SP 811
	s := plain(t, 0.5, tension.Steel.Density)
	near(t, "E A", float64(s.Stretch), e*math.Pi*0.5e-3*0.5e-3/4, 1e-13)
	near(t, "E I", s.Bend, e*math.Pi*math.Pow(0.5e-3, 4)/64, 1e-13)
	w, err := tension.Wound(1.2, 0.5, tension.Steel, tension.Material{Density: 8900, Young: 1e11})
	if err != nil {
		t.Fatal(err)
	}
	if w.Stretch != s.Stretch || w.Bend != s.Bend {
		t.Errorf("got %v and %v of a wound string, want those of its core, %v and %v", w.Stretch, w.Bend, s.Stretch, s.Bend)
	}
	if n, err := tension.Plain(0.7, tension.Nylon); err != nil || n.Stretch.Over(s.Stretch) > 0.1 {
		t.Errorf("got %v, %v of nylon, want far less than of steel", n.Stretch, err)
	}
}

// Source: bench_rules.md row 27, derived: .010 at E4 alone on a rigid frame, alpha
// 11.7e-6 and E 200 GPa, -1.4 cents a degree.
func TestPerDegree(t *testing.T) {
	s, err := tension.Plain(10*units.Thou, tension.Material{Density: 7850, Young: 200 * units.Gigapascal})
	if err != nil {
		t.Fatal(err)
	}
	strung := tension.Strung{String: s, Pitch: hertz(t, "E4"), Length: scale}
	check(t, "cents a degree", float64(strung.PerDegree(11.7e-6)), "-1.4")
	// Independently: the pull falls by E A alpha, the pitch as its root.
	pull := float64(strung.Pull())
	cooler := math.Sqrt((pull - float64(s.Stretch)*11.7e-6*1e-3) / pull)
	near(t, "a thousandth of a degree", float64(strung.PerDegree(11.7e-6)), 1200*math.Log2(cooler)*1000, 1e-4)
}

// Only the strength of steel is known.
func TestBreakingOfOthers(t *testing.T) {
	s, err := tension.Plain(0.7, tension.Nylon)
	if err != nil {
		t.Fatal(err)
	}
	const want = "got a string that is not of steel, want one: the strength of others is not known"
	pull, err := s.Breaking()
	wantError(t, err, want)
	pitch, err := s.BreakingPitch(650)
	wantError(t, err, want)
	share, err := tension.Strung{String: s, Pitch: 330, Length: 650}.BreakingShare()
	wantError(t, err, want)
	if pull != 0 || pitch != 0 || share != 0 {
		t.Errorf("got %v, %v, %v beside errors, want 0", pull, pitch, share)
	}
}

// Sources: densities from a handbook; stiffness from ab2024_props.csv, the means of
// the plain strings of the sets that the materials' comments tell of.
func TestOtherMaterials(t *testing.T) {
	check(t, "density of nylon", float64(tension.Nylon.Density), "1140")
	check(t, "density of fluorocarbon", float64(tension.Fluorocarbon.Density), "1770")
	stiffness := map[string][]float64{}
	for _, row := range rows(t, "ab2024_props.csv") {
		if row["string"] <= "3" {
			stiffness[row["set"]] = append(stiffness[row["set"]], number(t, row["calc_Eeff_GPa"]))
		}
	}
	mean := func(x []float64) float64 {
		sum := 0.0
		for _, e := range x {
			sum += e / float64(len(x))
		}
		return sum
	}
	nylon := append(stiffness["nylon-normal"], stiffness["nylon-hard"]...)
	near(t, "nylon", float64(tension.Nylon.Young/units.Gigapascal), mean(nylon), 0.05/5.7)
	near(t, "fluorocarbon", float64(tension.Fluorocarbon.Young/units.Gigapascal), mean(stiffness["carbon-normal"]), 0.05/9.2)
}

func TestOtherMaterialsInText(t *testing.T) {
	for text, m := range map[string]tension.Material{"nylon(0.7mm)": tension.Nylon, "fluorocarbon(0.61mm)": tension.Fluorocarbon} {
		s, err := tension.ParseString(text)
		if err != nil || s.Of != m || s.String() != text {
			t.Errorf("%s: got %v, %v", text, s, err)
		}
		if b, err := s.MarshalText(); err != nil || string(b) != text {
			t.Errorf("%s: got %s, %v", text, b, err)
		}
		s.UnitWeight *= 1.01
		if b, err := s.MarshalText(); err == nil {
			t.Errorf("%s of a stated weight: got %s, want an error", text, b)
		}
	}
}

// The share of the core is an input.
func TestCoreShare(t *testing.T) {
	for _, share := range []float64{0.3, 0.4, 0.55} {
		s, err := tension.WoundGauge(1, share)
		if err != nil || fmt.Sprintf("%.3f", s.Core) != fmt.Sprintf("%.3fmm", share) || !s.CoreEstimated {
			t.Errorf("%v: got %+v, %v", share, s, err)
		}
	}
	if _, err := tension.WoundGauge(1, 1.2); err == nil {
		t.Error("got no error of a core thicker than its string")
	}
}
