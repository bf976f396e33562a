package fret

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Flat is the radius of a flat board, the one quantity that may be infinite.
var Flat = units.Length(math.Inf(1))

// Camber returns how far the top of a board of the given radius has fallen at
// an offset from its centre line: R - sqrt(R^2 - y^2), in the form that keeps
// its digits when the fall is small. The radius is more than the offset's
// magnitude; Flat gives 0.
func Camber(radius, offset units.Length) (units.Length, error) {
	r, y := float64(radius), math.Abs(float64(offset))
	if !(r > y) {
		return 0, fmt.Errorf("got a radius of %v, want more than the offset of %v", radius, units.Length(y))
	}
	if radius == Flat {
		return 0, nil
	}
	// The radius is brought near 1, so that no square overflows. Its own square is
	// kept whole, in two parts: then every step rises or falls with the offset, and
	// the fall of a board never shrinks outwards by a rounding.
	r, scale := math.Frexp(r)
	y = math.Ldexp(y, -scale)
	square := float64(r * r)
	rest := math.FMA(r, r, -square)
	root := math.Sqrt(math.FMA(-y, y, square) + rest)
	return units.Length(math.Ldexp(y*(y/(r+root)), scale)), nil
}

// RadiusFromCamber returns the radius of the board that falls by camber at an
// offset from its centre line, (y^2 + s^2)/(2 s): a way to measure a board with
// a straightedge. The offset is above 0 and finite; the camber is from 0, which
// gives Flat, to less than the offset, where the board would stand upright.
func RadiusFromCamber(camber, offset units.Length) (units.Length, error) {
	s, y := float64(camber), float64(offset)
	if !(y > 0 && finite(offset)) {
		return 0, fmt.Errorf("got an offset of %v, want more than 0", offset)
	}
	if !(s >= 0 && s < y) {
		return 0, fmt.Errorf("got a camber of %v, want at least 0 and less than the offset of %v", camber, offset)
	}
	return units.Length(y*(y/s)/2 + s/2), nil
}

// Surface is the curve of a board's top: a cylinder where Nut equals End, flat
// where both are Flat, else a compound radius that changes in a straight line
// along the neck. Span is the distance from nut to where End was measured,
// usually the last fret; the line is carried on beyond it, to the saddles.
type Surface struct {
	Nut, End units.Length // radii, more than 0
	Span     units.Length // more than 0 where the radii differ
}

// Check reports why the surface cannot be, or nil.
func (s Surface) Check() error {
	switch {
	case !(s.Nut > 0):
		return fmt.Errorf("got a radius of %v at the nut, want more than 0", s.Nut)
	case !(s.End > 0):
		return fmt.Errorf("got a radius of %v at the last fret, want more than 0", s.End)
	case s.Nut == s.End:
		return nil
	case s.Nut == Flat || s.End == Flat:
		return fmt.Errorf("got radii of %v and %v, want both flat or neither", s.Nut, s.End)
	case !(s.Span > 0 && finite(s.Span)):
		return fmt.Errorf("got %v from nut to last fret, want more than 0", s.Span)
	}
	return nil
}

// Radius returns the radius at a distance from the nut: Nut + (End - Nut) x/Span.
// On a board whose radius shrinks it may come out at 0 or less far behind the
// last fret, which Camber refuses.
func (s Surface) Radius(from units.Length) units.Length {
	if s.Nut == s.End && from == from {
		return s.Nut
	}
	return s.Nut + units.Length(float64(s.End-s.Nut)*(float64(from)/float64(s.Span)))
}

// Camber returns how far the board has fallen at an offset from its centre
// line, at a distance from the nut.
func (s Surface) Camber(from, offset units.Length) (units.Length, error) {
	if err := s.Check(); err != nil {
		return 0, err
	}
	return Camber(s.Radius(from), offset)
}
