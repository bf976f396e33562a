package action_test

import (
	"math"
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
		t.Errorf("%s: got %.6f, want %s", what, got, printed)
	}
}

// differs checks that what a source has wrong is not what we compute.
func differs(t *testing.T, what string, got float64, wrong string) {
	t.Helper()
	if agrees(got, wrong) {
		t.Errorf("%s: got %.6f, want it off %s", what, got, wrong)
	}
}

// near checks a law, to a tolerance in millimetres.
func near(t *testing.T, what string, got, want units.Length, tolerance float64) {
	t.Helper()
	if !(math.Abs(float64(got-want)) <= tolerance) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

// wantError checks an error's whole text.
func wantError(t *testing.T, err error, want string) {
	t.Helper()
	if err == nil || err.Error() != want {
		t.Errorf("got error  %v\nwant error %s", err, want)
	}
}

// share is a fret's share of the scale, in twelve to the octave.
func share(n int) float64 { return fret.Share(units.Cents(n) * units.Semitone) }
