package units_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// The tables of testdata are the columns that these tests need of the project's
// reference tables, with what those say of their sources.

// agrees reports whether got is the number that a source printed, such as 25.40
// or 2.767 990E+04, to half its last printed digit.
func agrees(got float64, printed string) bool { return agreesTo(got, printed, 0.5) }

// agreesTo is agrees to a number of units of the last printed digit.
func agreesTo(got float64, printed string, units float64) bool {
	printed = strings.ToLower(strings.ReplaceAll(printed, " ", ""))
	want, err := strconv.ParseFloat(printed, 64)
	mantissa, exponent, _ := strings.Cut(printed, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	tens, _ := strconv.Atoi(exponent)
	// 1e-9 of it for the rounding of the comparison itself: some tables print ties.
	return err == nil && math.Abs(got-want) <= units*math.Pow10(tens-len(decimals))*(1+1e-9)
}

func check(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	if !agrees(got, printed) {
		t.Errorf("%s: got %.15g, want %s", what, got, printed)
	}
}

// differs checks that what a source prints wrongly is not what we compute.
func differs(t *testing.T, what string, got float64, misprint string) {
	t.Helper()
	if agrees(got, misprint) {
		t.Errorf("%s: got %.15g, want it off the misprint %s", what, got, misprint)
	}
}

// near checks against a value known to every bit, to a number of units in its
// last place.
func near(t *testing.T, what string, got, want, ulps float64) {
	t.Helper()
	ulp := math.Nextafter(math.Abs(want), math.Inf(1)) - math.Abs(want)
	if !(math.Abs(got-want) <= ulps*ulp) {
		t.Errorf("%s: got %.17g, want %.17g to %v ULP", what, got, want, ulps)
	}
}

// number reads a cell.
func number(t *testing.T, cell string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(cell, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// rows reads a table of testdata, each row by the names of its columns. Lines at
// its top that begin with a number sign and a blank are comments; some names of
// threads begin with the sign alone.
func rows(t *testing.T, name string, want int) []map[string]string {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	table := string(text)
	for strings.HasPrefix(table, "# ") {
		_, table, _ = strings.Cut(table, "\n")
	}
	all, err := csv.NewReader(strings.NewReader(table)).ReadAll()
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
	if len(out) != want {
		t.Fatalf("%s: got %d rows, want %d", name, len(out), want)
	}
	return out
}

// wantError checks an error's whole text.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error  %v\nwant error %s", err, want)
	}
}
