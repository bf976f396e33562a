package tension_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// agrees reports whether got is the number that a source printed, to half its
// last printed digit.
func agrees(got float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	mantissa, exponent, _ := strings.Cut(printed, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	tens, _ := strconv.Atoi(exponent)
	half := 0.5 * math.Pow10(tens-len(decimals))
	return err == nil && math.Abs(got-want) <= half*(1+1e-9)
}

func check(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	if !agrees(got, printed) {
		t.Errorf("%s: got %.10g, want %s", what, got, printed)
	}
}

// differs checks that what a source prints wrongly is not what we compute.
func differs(t *testing.T, what string, got float64, misprint string) {
	t.Helper()
	if agrees(got, misprint) {
		t.Errorf("%s: got %.10g, want it off the misprint %s", what, got, misprint)
	}
}

// near checks a law, to a relative error.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// rows reads a table of testdata, each row by the names of its columns.
func rows(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, cells := range all[1:] {
		row := make(map[string]string)
		for i, column := range all[0] {
			row[column] = cells[i]
		}
		out = append(out, row)
	}
	if len(out) == 0 {
		t.Fatalf("%s: got no rows", name)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// hertz is a note's frequency at A4 = 440 Hz.
func hertz(t *testing.T, note string) units.Frequency {
	t.Helper()
	n, err := units.ParseNote(note)
	if err != nil {
		t.Fatal(err)
	}
	return n.Frequency(440)
}

func plain(t *testing.T, d units.Length, rho units.Density) tension.String {
	t.Helper()
	s, err := tension.Plain(d, of(rho))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// of is a material of a density, as stiff as steel.
func of(rho units.Density) tension.Material {
	return tension.Material{Density: rho, Young: tension.Steel.Young}
}

// wantError checks an error's whole text.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error  %v\nwant error %s", err, want)
	}
}
