package bench

import "example.org/saddlepoint/units"

// Setback returns how far behind the scale line a saddle stands, from 1, and
// whether the record knows: its place was read from the nut.
func (r *Record) Setback(saddle int) (units.Length, bool) {
	groups, _ := r.Groups()
	if saddle < 1 || saddle > len(groups) || r.Scale == 0 {
		return 0, false
	}
	at, ok := r.placeFrom(saddle, FromNut)
	if !ok {
		return 0, false
	}
	return at - r.Scale, true
}
