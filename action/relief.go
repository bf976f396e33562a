package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Relief is the bow of a neck: how far its crowns lie below the straight line
// from Near to Far, distances from the nut on the plane of the frets. Between
// the two it is a parabola, Bow deep in the middle; beyond Far the neck goes on
// straight along its tangent, and before Near likewise (our model; a bow of its
// own shape is read, not computed). The zero Relief is a straight neck. A
// negative Bow is a neck that bends back.
type Relief struct {
	Bow       units.Length
	Near, Far units.Length
}

// Check reports why the relief cannot be, or nil.
func (r Relief) Check() error {
	switch {
	case r == Relief{}:
		return nil
	case math.IsNaN(float64(r.Bow)) || math.IsInf(float64(r.Bow), 0):
		return fmt.Errorf("got a bow of %v, want a finite one", r.Bow)
	case !(r.Near >= 0 && r.Far > r.Near) || math.IsInf(float64(r.Far), 0):
		return fmt.Errorf("got a bow from %v to %v, want the nearer end first, and neither before the nut", r.Near, r.Far)
	case math.Abs(float64(r.Bow)) > float64(r.Far-r.Near)/100:
		return fmt.Errorf("got a bow of %v, want at most %v, a hundredth of its length: no neck bends so far", r.Bow, (r.Far-r.Near)/100)
	}
	return nil
}

// Drop returns how far the neck lies below the line at a distance from the nut,
// negative above it, as it is beyond both ends of a neck with relief. NaN in,
// NaN out.
func (r Relief) Drop(from units.Length) units.Length {
	if r == (Relief{}) {
		return 0 * from
	}
	u := float64(from-r.Near) / float64(r.Far-r.Near)
	switch {
	case u < 0:
		return 4 * r.Bow * units.Length(u)
	case u > 1:
		return 4 * r.Bow * units.Length(1-u)
	}
	return 4 * r.Bow * units.Length(u*(1-u))
}
