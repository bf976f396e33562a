package tension_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Source: wound_string_derived.csv, rows of round core: steel core of 7850 kg/m3,
// wrap of 8000, mpmath.
func TestWoundDerived(t *testing.T) {
	for _, row := range []struct {
		core, wrap                                units.Length
		overall, coreMu, wrapMu, mu, packing, rho string
	}{
		{0.3556, 0.1524, "0.6604", "7.796201e-04", "1.535146e-03", "2.314766e-03", "0.788971", "6757.8"},
		{0.3556, 0.254, "0.8636", "7.796201e-04", "3.083152e-03", "3.862772e-03", "0.792276", "6594.5"},
		{0.4064, 0.381, "1.1684", "1.018279e-03", "5.991578e-03", "7.009858e-03", "0.794659", "6537.9"},
		{0.4572, 0.4191, "1.2954", "1.288760e-03", "7.332892e-03", "8.621652e-03", "0.794447", "6541.7"},
		{0.508, 0.762, "2.0320", "1.591061e-03", "1.944769e-02", "2.103875e-02", "0.799594", "6487.6"},
	} {
		gauge := row.core + 2*row.wrap
		s, err := tension.Wound(gauge, row.core, of(7850), of(8000))
		if err != nil {
			t.Fatal(err)
		}
		core := float64(plain(t, row.core, 7850).UnitWeight)
		ring := float64(plain(t, gauge, 8000).UnitWeight - plain(t, row.core, 8000).UnitWeight)
		what := fmt.Sprintf("%v on %v", row.wrap, row.core)
		check(t, what+": overall", float64(s.Gauge), row.overall)
		check(t, what+": core", core, row.coreMu)
		check(t, what+": wrap", float64(s.UnitWeight)-core, row.wrapMu)
		check(t, what+": both", float64(s.UnitWeight), row.mu)
		check(t, what+": packing", (float64(s.UnitWeight)-core)/ring, row.packing)
		check(t, what+": effective density", float64(s.UnitWeight/plain(t, gauge, 1).UnitWeight), row.rho)
	}
}

// The wrap turn by turn: a metre holds 1/w turns, each the hypotenuse of its
// circle and its advance.
func TestWoundTurnByTurn(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 1000 {
		core, w := 0.2+0.5*rnd.Float64(), 0.05+rnd.Float64() // mm
		turn := math.Sqrt(math.Pow(math.Pi*(core+w), 2) + w*w)
		volume := 1000 / w * turn * math.Pi * w * w / 4 // mm3 in a metre
		want := (volume*8900 + math.Pi*core*core/4*1000*7800) * 1e-9
		s, err := tension.Wound(units.Length(core+2*w), units.Length(core), of(7800), of(8900))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "unit weight", float64(s.UnitWeight), want, 1e-14)
	}
}

// Source: testdata/steel_strings_wright2020.csv: M. C. M. Wright, open dataset of
// steel strings (2020), gauges and pulls; scale read as 25.5 in. What the
// estimate of a wound string is worth stands in the doc comment of Wound, to
// the digits checked here.
func TestWright(t *testing.T) {
	var sum, count float64
	errors := map[string][]float64{}
	for _, row := range rows(t, "steel_strings_wright2020.csv") {
		what := row["set"] + " " + row["note"]
		gauge := units.Length(number(t, row["gauge_0.001in"])) * units.Thou
		pull := units.Force(number(t, row["tension_kgf"])) * units.KilogramForce
		mu := tension.UnitWeight(pull, hertz(t, row["note"]), scale)
		rho := float64(mu / plain(t, gauge, 1).UnitWeight)
		check(t, what+": unit weight", float64(mu), row["calc_mu_kg_per_m"])
		check(t, what+": density", rho, row["calc_effective_density_kg_m3"])

		if row["kind_inferred"] == "plain" {
			sum, count = sum+rho, count+1
			near(t, what+": density", rho, 7814, 0.0011)
			near(t, what+": gauge", float64(tension.Gauge(mu, 7814)), float64(gauge), 0.0011/2)
			continue
		}
		s, err := tension.WoundGauge(gauge, 0)
		if err != nil {
			t.Fatal(err)
		}
		kind := "round"
		if strings.Contains(row["set"], "flat") {
			kind = "flat"
		}
		errors[kind] = append(errors[kind], 100*(float64(s.UnitWeight/mu)-1))
	}
	check(t, "plain rows", count, "18")
	check(t, "mean density of plain rows", sum/count, "7815") // 7814.6
	for _, row := range []struct {
		kind, rows, least, most, mean string
	}{
		{"round", "16", "-2.2", "20.1", "5.2"},
		{"flat", "8", "-8.1", "-0.6", "-4.6"},
	} {
		least, most, mean := math.Inf(1), math.Inf(-1), 0.0
		e := errors[row.kind]
		for _, x := range e {
			least, most, mean = min(least, x), max(most, x), mean+x/float64(len(e))
		}
		t.Logf("%s wound, %d rows: from %.2f %% to %.2f %%, mean %.2f %%", row.kind, len(e), least, most, mean)
		check(t, row.kind+" wound, rows", float64(len(e)), row.rows)
		check(t, row.kind+" wound, least", least, row.least)
		check(t, row.kind+" wound, most", most, row.most)
		check(t, row.kind+" wound, mean", mean, row.mean)
	}
}

func TestWoundGauge(t *testing.T) {
	s, err := tension.WoundGauge(46*units.Thou, 0)
	if err != nil {
		t.Fatal(err)
	}
	if s.Core != tension.CoreShare*s.Gauge || !s.CoreEstimated || !s.Wound() || s.Stressed() != s.Core {
		t.Errorf("got %+v, want the core estimated as %v of the gauge, and under stress", s, tension.CoreShare)
	}
	p := plain(t, 10*units.Thou, tension.Steel.Density)
	if p.Wound() || p.CoreEstimated || p.Stressed() != p.Gauge {
		t.Errorf("got %+v, want a plain string under stress over its gauge", p)
	}
}

func TestStringErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	nanRho, infRho := units.Density(math.NaN()), units.Density(math.Inf(1))
	const ok units.Density = 7850
	for _, row := range []struct {
		d, core          units.Length // core 0: plain
		coreRho, wrapRho units.Density
		want             string
	}{
		{0, 0, ok, 0, "got a string of 0mm, want more than 0 and at most 20mm"},
		{-1, 0, ok, 0, "got a string of -1mm, want more than 0 and at most 20mm"},
		{20.5, 0, ok, 0, "got a string of 20.5mm, want more than 0 and at most 20mm"},
		{nan, 0, ok, 0, "got a string of NaNmm, want more than 0 and at most 20mm"},
		{inf, 0, ok, 0, "got a string of +Infmm, want more than 0 and at most 20mm"},
		{1, 0, 0, 0, "got a density of 0kg/m3, want more than 0"},
		{1, 0, -1, 0, "got a density of -1kg/m3, want more than 0"},
		{1, 0, nanRho, 0, "got a density of NaNkg/m3, want more than 0"},
		{1, 0, infRho, 0, "got a density of +Infkg/m3, want more than 0"},
		{30, 1, ok, ok, "got a string of 30mm, want more than 0 and at most 20mm"},
		{1, 0.4, -1, ok, "got a density of -1kg/m3, want more than 0"},
		{1, 0.4, ok, 0, "got a density of 0kg/m3, want more than 0"},
		{1, 0.4, ok, nanRho, "got a density of NaNkg/m3, want more than 0"},
		{1, 0.4, ok, infRho, "got a density of +Infkg/m3, want more than 0"},
		{1, 1, ok, ok, "got a core of 1mm, want more than 0 and less than the gauge of 1mm"},
		{1, 1.5, ok, ok, "got a core of 1.5mm, want more than 0 and less than the gauge of 1mm"},
		{1, -1, ok, ok, "got a core of -1mm, want more than 0 and less than the gauge of 1mm"},
		{1, nan, ok, ok, "got a core of NaNmm, want more than 0 and less than the gauge of 1mm"},
	} {
		s, err := tension.Plain(row.d, of(row.coreRho))
		if row.core != 0 {
			s, err = tension.Wound(row.d, row.core, of(row.coreRho), of(row.wrapRho))
		}
		wantError(t, err, row.want)
		if s != (tension.String{}) {
			t.Errorf("got %+v beside an error, want no string", s)
		}
	}
	if _, err := tension.Wound(20, 8, of(0.5), of(0.5)); err != nil { // the thickest, of next to nothing
		t.Error(err)
	}
	for _, row := range []struct {
		young units.Stress
		want  string
	}{
		{-0.5, "got a stiffness of -0.5Pa, want at least 0"},
		{units.Stress(nan), "got a stiffness of NaNPa, want at least 0"},
		{units.Stress(inf), "got a stiffness of +InfPa, want at least 0"},
	} {
		s, err := tension.Plain(1, tension.Material{Density: ok, Young: row.young})
		wantError(t, err, row.want)
		if s != (tension.String{}) {
			t.Errorf("got %+v beside an error, want no string", s)
		}
	}
	if limp, err := tension.Plain(1, tension.Material{Density: ok}); err != nil || limp.Stretch != 0 || limp.Bend != 0 {
		t.Errorf("got %+v, %v, want a string that does not resist", limp, err)
	}
	_, err := tension.Wound(1, 0, of(ok), of(ok))
	wantError(t, err, "got a core of 0mm, want more than 0 and less than the gauge of 1mm")
	s, err := tension.WoundGauge(-1, 0)
	wantError(t, err, "got a string of -1mm, want more than 0 and at most 20mm")
	if s != (tension.String{}) {
		t.Errorf("got %+v beside an error, want no string", s)
	}
	_, err = tension.ByUnit(1, units.KindLength)
	wantError(t, err, "got a length, want a plain or a wound string")
}
