package fret_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// agrees reports whether got is the number that a source printed, to half its
// last printed digit.
func agrees(got float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	_, decimals, _ := strings.Cut(printed, ".")
	half := 0.5 * math.Pow10(-len(decimals))
	return err == nil && math.Abs(got-want) <= half*(1+1e-9)
}

func check(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	if !agrees(got, printed) {
		t.Errorf("%s: got %.9f, want %s", what, got, printed)
	}
}

// differs checks that what a source prints wrongly is not what we compute.
func differs(t *testing.T, what string, got float64, misprint string) {
	t.Helper()
	if agrees(got, misprint) {
		t.Errorf("%s: got %.9f, want it off the misprint %s", what, got, misprint)
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

func length(t *testing.T, s string) units.Length {
	t.Helper()
	l, err := units.ParseLength(s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func equal(t testing.TB, by, frets int) fret.Division {
	t.Helper()
	d, err := fret.Equal(units.Octave, by, frets)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func divide(t testing.TB, cents ...units.Cents) fret.Division {
	t.Helper()
	d, err := fret.Divide(cents...)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// centsOf returns a ratio of frequencies in cents.
func centsOf(ratio float64) units.Cents { return units.Cents(1200 * math.Log2(ratio)) }

// wantError checks an error's whole text.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error %v, want %s", err, want)
	}
}
