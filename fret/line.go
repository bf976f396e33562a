package fret

import (
	"math"

	"example.org/saddlepoint/units"
)

// Line is a straight line across the plan of a board, from its treble end to its
// bass end: a fret, a nut, a saddle.
type Line struct{ Treble, Bass Point }

// Length returns the line's length in plan.
func (l Line) Length() units.Length { return l.Treble.to(l.Bass) }

// Angle returns how far the line is from square to the centre line, plus where
// its bass end stands further from the nut: what a mitre is set to.
func (l Line) Angle() units.Angle {
	return units.Slope(l.Bass.X-l.Treble.X, l.Treble.Y-l.Bass.Y)
}

// Back returns the line moved square to itself, away from the nut, or towards it
// where by is negative. A line of no length moves along the centre line.
func (l Line) Back(by units.Length) Line {
	dx, dy := float64(l.Bass.X-l.Treble.X), float64(l.Treble.Y-l.Bass.Y)
	long := math.Hypot(dx, dy)
	if long == 0 {
		dy, long = 1, 1
	}
	move := func(p Point) Point {
		return Point{p.X + by*units.Length(dy/long), p.Y + by*units.Length(dx/long)}
	}
	return Line{move(l.Treble), move(l.Bass)}
}

// Edges returns the two edges of a slot whose middle is the line, the near one
// on the nut's side: half a kerf either side, square to the slot.
func (l Line) Edges(kerf units.Length) (near, far Line) {
	return l.Back(-kerf / 2), l.Back(kerf / 2)
}

// to returns the distance from p to q.
func (p Point) to(q Point) units.Length {
	return units.Length(math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
}

// between returns the point at a share of the way from p to q.
func (p Point) between(q Point, share float64) Point {
	return Point{p.X + (q.X-p.X)*units.Length(share), p.Y + (q.Y-p.Y)*units.Length(share)}
}

// meet returns where the line through p in the direction of d meets the line
// through q in the direction of e, on p's line. Parallel lines give NaN or an
// infinity.
func meet(p, d, q, e Point) Point {
	t := cross(Point{q.X - p.X, q.Y - p.Y}, e) / cross(d, e)
	return Point{p.X + d.X*units.Length(t), p.Y + d.Y*units.Length(t)}
}

func cross(d, e Point) float64 {
	return float64(d.X)*float64(e.Y) - float64(d.Y)*float64(e.X)
}
