package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Heel is the seat of a neck in its body: how far its near and far ends lie from
// the nut.
type Heel struct{ Near, Far units.Length }

// Shim is what tips a neck on its seat.
type Shim struct {
	Thickness units.Length // at its thick end; it tapers to nothing at the other end of the seat
	AtFar     bool         // the thick end is the far one, towards the saddles
	Angle     units.Angle  // of the neck, positive where its head goes back
}

// Shim returns what changes the height of the strings at the saddle over the
// plane of the frets, with the saddles left as they are. A change down (less
// than 0) takes a shim at the far end of the seat, which tips the head back and
// lifts that plane under the saddles; a change up takes one at the near end. The
// neck turns about the seat's other end. The sum is of first order in the angle,
// for a straight seat along the plane of the frets: it leaves out half the square
// of the angle times the depth of the seat below the strings, by which they come
// lower either way, 0.001 mm for a change of 1.5 mm at a usual heel.
func (h Heel) Shim(change, scale units.Length) (Shim, error) {
	if !(h.Near >= 0 && h.Far > h.Near && scale > h.Far && finite(scale)) {
		return Shim{}, fmt.Errorf("got a heel from %v to %v on a scale of %v, want the nearer end first, and the far one before the saddles", h.Near, h.Far, scale)
	}
	if !(math.Abs(float64(change)) <= float64(scale)/10) {
		return Shim{}, fmt.Errorf("got a change of %v at the saddle, want at most %v, a tenth of the scale", change, scale/10)
	}
	pivot := h.Near
	if change > 0 {
		pivot = h.Far
	}
	thick := (h.Far - h.Near) * units.Length(math.Abs(change.Over(scale-pivot)))
	return Shim{thick, change < 0, units.Slope(0-change, scale-pivot)}, nil
}
