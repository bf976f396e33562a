package intonation_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// row is a line of a table, by column.
type row map[string]string

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s of %v: %v", column, r, err)
	}
	return x
}

// table reads a table of testdata; its first line says where it is from.
func table(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	first, err := r.Read()
	if err != nil || !strings.HasPrefix(first[0], "# ") {
		t.Fatalf("%s: got no source above it, %v", name, err)
	}
	r.FieldsPerRecord = 0
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatalf("%s: got %d lines, %v", name, len(lines), err)
	}
	var out []row
	for _, line := range lines[1:] {
		if len(line) != len(lines[0]) {
			t.Fatalf("%s: got %d columns, want %d", name, len(line), len(lines[0]))
		}
		r := row{}
		for i, column := range lines[0] {
			r[column] = line[i]
		}
		out = append(out, r)
	}
	return out
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: got %.7g, want %.7g within %g", what, got, want, within)
	}
}

func model(t testing.TB, n intonation.Neck) *intonation.Model {
	t.Helper()
	m, err := intonation.NewModel(n)
	if err != nil {
		t.Fatalf("%+v: %v", n.Courses, err)
	}
	return m
}

// paper is the neck of the paper: 650 mm, 12 frets, the string 1 mm over them at
// the nut, the saddle 4 mm higher, the fret clamped and the saddle pinned.
func paper(t testing.TB, held intonation.Held, ds, dn float64) intonation.Neck {
	return intonation.Neck{Division: frets(t, 12), Scale: 650, Courses: []intonation.Course{{
		NutHeight: 1, Rise: 4, Setback: units.Length(ds), NutSetback: units.Length(dn), Fixity: 1, Held: held,
	}}}
}

// over13 is the paper's RMS: it counts the open string as one of 13 notes.
func over13(rms units.Cents) float64 { return float64(rms) * math.Sqrt(12./13) }

// The paper's table of setbacks, in the convention of its program, from its
// printed kappa and B0: 0.0073 mm, 0.0048 mm and 0.0006 cents is how well they
// reproduce (papers.md, AB-3).
func TestPublishedSetbacks(t *testing.T) {
	props := table(t, "ab2024_props")
	for i, want := range table(t, "ab2024_setbacks") {
		p := props[i]
		name := want["set"] + " " + want["string"]
		if p["set"] != want["set"] || p["string"] != want["string"] {
			t.Fatalf("%s: got the properties of %s %s", name, p["set"], p["string"])
		}
		held := intonation.Held{Kappa: p.number(t, "pub_kappa"), B0: p.number(t, "pub_B0"), Published: true}
		got, err := model(t, paper(t, held, 0, 0)).LeastSquaresNut(1, intonation.Aim{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" dS", float64(got.Setback), want.number(t, "pub_dS_mm"), 0.0073)
		near(t, name+" dN", float64(got.NutSetback), want.number(t, "pub_dN_mm"), 0.0048)
		near(t, name+" RMS", over13(got.RMS), want.number(t, "pub_rms_cents"), 0.0006)
		// The same, recomputed from the same inputs: to their last digit, and to what
		// the search stops at.
		near(t, name+" dS", float64(got.Setback), want.number(t, "calc_dS_from_printed_inputs"), 0.00016)
		near(t, name+" dN", float64(got.NutSetback), want.number(t, "calc_dN_from_printed_inputs"), 0.00016)
		near(t, name+" RMS", over13(got.RMS), want.number(t, "calc_rms13_from_printed_inputs"), 0.00006)
	}
}

// The physical form, in which the pull of the fretted string counts in its
// stiffness, against the recomputed columns, from kappa and B0 in full.
func TestPhysicalSetbacks(t *testing.T) {
	props := table(t, "ab2024_props")
	var apart float64
	for i, want := range table(t, "ab2024_setbacks") {
		p, name := props[i], want["set"]+" "+want["string"]
		held := intonation.Held{Kappa: p.number(t, "calc_kappa"), B0: p.number(t, "calc_B0")}
		got, err := model(t, paper(t, held, 0, 0)).LeastSquaresNut(1, intonation.Aim{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" dS", float64(got.Setback), want.number(t, "physical_Bn_dS"), 0.00002)
		near(t, name+" dN", float64(got.NutSetback), want.number(t, "physical_Bn_dN"), 0.00002)
		near(t, name+" RMS", float64(got.RMS), want.number(t, "physical_Bn_rms12"), 0.00001)
		held.Published = true
		got, err = model(t, paper(t, held, 0, 0)).LeastSquaresNut(1, intonation.Aim{})
		if err != nil {
			t.Fatal(err)
		}
		near(t, name+" published dS", float64(got.Setback), want.number(t, "calc_dS_full_precision"), 0.00002)
		near(t, name+" published dN", float64(got.NutSetback), want.number(t, "calc_dN_full_precision"), 0.00002)
		near(t, name+" published RMS", float64(got.RMS), want.number(t, "calc_rms12_full_precision"), 0.00001)
		apart = max(apart, math.Abs(float64(got.Setback)-want.number(t, "physical_Bn_dS")))
	}
	// What the doc comment of Held.Published says.
	near(t, "the conventions in dS", apart, 0.046, 0.003)
}

// The paper's summary of every set (papers.md, AB-4), to its print: the root of
// the mean square over all strings and 13 notes, bare, with every string's own
// setbacks, and with the set's mean setbacks.
func TestPublishedSets(t *testing.T) {
	props := table(t, "ab2024_props")
	for _, want := range table(t, "ab2024_set_summary") {
		var set []intonation.Held
		for _, p := range props {
			if p["set"] == want["set"] {
				set = append(set, intonation.Held{Kappa: p.number(t, "calc_kappa"), B0: p.number(t, "calc_B0"), Published: true})
			}
		}
		if len(set) != 6 {
			t.Fatalf("%s: got %d strings, want 6", want["set"], len(set))
		}
		var ds, dn, bare, own, mean float64
		for _, held := range set {
			p, err := model(t, paper(t, held, 0, 0)).LeastSquaresNut(1, intonation.Aim{})
			if err != nil {
				t.Fatal(err)
			}
			ds, dn = ds+float64(p.Setback)/6, dn+float64(p.NutSetback)/6
			own += float64(p.RMS*p.RMS) * 12 / (6 * 13)
		}
		for _, held := range set {
			for _, c := range model(t, paper(t, held, 0, 0)).Map(nil) {
				bare += float64(c*c) / (6 * 13)
			}
			for _, c := range model(t, paper(t, held, ds, dn)).Map(nil) {
				mean += float64(c*c) / (6 * 13)
			}
		}
		for column, got := range map[string]float64{
			"pub_rms_uncompensated": math.Sqrt(bare), "pub_mean_dS_mm": ds, "pub_mean_dN_mm": dn,
			"pub_rms_full_comp": math.Sqrt(own), "pub_rms_mean_comp": math.Sqrt(mean),
		} {
			text := want[column]
			if _, decimals, _ := strings.Cut(text, "."); len(decimals) < 2 {
				text += "0" // the table has lost its last zero
			}
			if !agrees(got, text) {
				t.Errorf("%s %s: got %.4f, want %s", want["set"], column, got, text)
			}
		}
	}
}

// The curves of the prototype string (papers.md, AB-6). Its kappa is 51: the
// curves of the tension term fit that to 0.0005 cents. B0 is not printed with
// them; a radius of 0.43 mm gives sqrt(51) 0.43/1300 = 0.00236. The curves want
// 0.00237, a radius of 0.431, which stays within 0.017 cents of every one, where
// 0.43 is 0.021 off the last note of one.
func TestPrototypeCurves(t *testing.T) {
	held := intonation.Held{Kappa: 51, B0: 0.00237}
	published := held
	published.Published = true
	curves, worst, other := 0, 0.0, 0.0
	for _, r := range table(t, "ab2024_prototype_curves") {
		figure, curve := r["figure"], r["curve"]
		fret, want := int(r.number(t, "fret")), r.number(t, "cents_read_from_vector_figure")
		if strings.HasPrefix(curve, "approx") || fret == 0 {
			continue // the paper's own approximations are not ours
		}
		var ds, dn float64
		total := false
		switch kind, _, _ := strings.Cut(figure, " "); kind {
		case "uncompensated":
			total = true
		case "saddle":
			total, ds = true, millimetres(t, curve, "dS=")
		case "nut":
			total, dn = true, millimetres(t, curve, "dN=")
		case "tension", "stiffness":
			ds, dn = 1.8, -0.38
		default:
			t.Fatalf("got a figure %q", figure)
		}
		at := func(held intonation.Held) *intonation.Model {
			n := paper(t, held, ds, dn)
			if strings.HasSuffix(curve, "d=10mm") {
				n.Finger.Carry = 10
			}
			return model(t, n)
		}
		name := figure + ", " + curve + ", fret " + r["fret"]
		m := at(held)
		switch {
		case total:
			got := float64(m.Cents(1, fret))
			near(t, name, got, want, 0.02)
			worst = max(worst, math.Abs(got-want))
			other = max(other, math.Abs(float64(at(published).Cents(1, fret))-want))
		case strings.HasPrefix(figure, "stiffness"):
			near(t, name, float64(m.Why(1, fret).Stiffness), want, 0.02)
		default:
			// The paper's tension term leaves out that the string thins by its strain,
			// which is as much as 1 more on kappa.
			near(t, name, float64(m.Why(1, fret).Stretch)*51/52, want, 0.001)
		}
		curves++
	}
	t.Logf("%d points, totals %.4f cents off at worst; in the published convention %.4f", curves, worst, other)
	if curves != 12*(2+4+4+1+1)+11 {
		t.Errorf("got %d points", curves)
	}
	if !(other > 0.03) {
		t.Errorf("got the published convention within %v too, want it told from the physical", other)
	}
}

func millimetres(t *testing.T, curve, label string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(curve, label), " mm"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
