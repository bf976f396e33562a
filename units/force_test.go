package units_test

import (
	"testing"

	"example.org/saddlepoint/units"
)

// The factors are checked in TestConversionFactors; here, which way they go.
func TestForceViews(t *testing.T) {
	for _, row := range []struct {
		what      string
		got, want float64
	}{
		{"pounds-force", (16 * units.PoundForce).PoundsForce(), 16},
		{"kilograms-force", (7 * units.KilogramForce).KilogramsForce(), 7},
		{"ratio", (72 * units.Newton).Over(-36), -2},
		{"grams a metre", (3 * units.GramPerMetre).GramsPerMetre(), 3},
		{"grams in a kilogram", units.KilogramPerMetre.GramsPerMetre(), 1000},
		{"pounds an inch", (2 * units.PoundPerInch).PoundsPerInch(), 2},
	} {
		near(t, row.what, row.got, row.want, 1)
	}
}
