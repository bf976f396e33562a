package fret

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Ratio is an exact ratio of frequencies, such as {3, 2}, the fifth. An interval
// upwards is above 1.
type Ratio struct{ Num, Den int64 }

// Cents returns the ratio as an interval, 1200 log2(Num/Den), accurate also near
// the unison. A ratio that is not of two positive numbers gives NaN.
func (r Ratio) Cents() units.Cents {
	if r.Num <= 0 || r.Den <= 0 {
		return units.Cents(math.NaN())
	}
	num, den := float64(r.Num), float64(r.Den)
	if q := num / den; q > 0.5 && q < 2 {
		// The difference is taken of whole numbers, so nothing cancels.
		return units.Cents(1200 / math.Ln2 * math.Log1p(float64(r.Num-r.Den)/den))
	}
	return units.Cents(1200 * math.Log2(num/den))
}

// String writes the ratio as given, 33/31.
func (r Ratio) String() string { return fmt.Sprintf("%d/%d", r.Num, r.Den) }

// Ratios returns ratios above 1 as cents: for Divide, Repeat or PerString.
func Ratios(ratios ...Ratio) ([]units.Cents, error) {
	cents := make([]units.Cents, len(ratios))
	for i, r := range ratios {
		if r.Den < 1 || r.Num <= r.Den {
			return nil, fmt.Errorf("got ratio %d as %v, want two whole numbers, the first above the second", i+1, r)
		}
		cents[i] = r.Cents()
	}
	return cents, nil
}
