package fret

import (
	"math"

	"example.org/saddlepoint/units"
)

// Place is a point of space: X and Y as those of Point, and Z up from the top of
// the board at its centre line, so 0 or less on the board.
type Place struct{ X, Y, Z units.Length }

// On returns the place on the board's curved top over a point of the plan; the
// curve is carried on to the saddles. Where its radius is no more than the offset
// there is no top, and Z is NaN.
func (b *Board) On(p Point) Place {
	fall, err := b.plan.Surface.Camber(p.X, p.Y)
	if err != nil {
		fall = nowhere.X
	}
	return Place{p.X, p.Y, 0 - fall}
}

// OverTop returns the length of a line laid on the curved top, end to end: what
// fret wire or a flexible rule measures across. Where there is no top it is NaN.
//
// It is summed by Boole's rule over 256 steps: within 1e-9 mm where the line
// leans by less than 45 degrees at its ends.
func (b *Board) OverTop(l Line) units.Length {
	const steps = 256
	sum := 0.0
	for i := 0; i <= steps; i++ {
		weight := [...]float64{14, 32, 12, 32}[i%4]
		if i == 0 || i == steps {
			weight = 7
		}
		sum += weight * b.rate(l, float64(i)/steps)
	}
	return units.Length(sum / (22.5 * steps))
}

// rate returns how fast the length over the top grows with the share of the way
// along the line, in mm.
func (b *Board) rate(l Line, share float64) float64 {
	s := b.plan.Surface
	p := b.On(l.Treble.between(l.Bass, share))
	dx, dy := float64(l.Bass.X-l.Treble.X), float64(l.Bass.Y-l.Treble.Y)
	r, y := float64(s.Radius(p.X)), float64(p.Y)
	widens := 0.0
	if s.Nut != s.End {
		widens = (s.End - s.Nut).Over(s.Span) * dx
	}
	// Of z = sqrt(R^2 - y^2) - R; at the root, -z/root is R/root - 1.
	root := math.Sqrt(r-y) * math.Sqrt(r+y)
	dz := (widens*-float64(p.Z) - y*dy) / root
	return math.Hypot(math.Hypot(dx, dy), dz)
}

// Cut is the depth of a slot with a flat bottom, square down from the top of the
// board at the slot.
type Cut struct {
	Floor        units.Length // Z of the floor, so below 0
	Treble, Bass units.Length // depth at the ends
	Deepest      units.Length // where the slot crosses the crown, else at its higher end
}

// FlatCut returns the slot that lets a tang of the given depth seat along the
// whole line, cut by a saw or a mill that goes straight through at one height of
// Z: the tang's depth at the lower end, more where the board stands higher. A saw
// that follows the curve cuts the tang's depth everywhere instead, to Z less the
// depth of On. Room under the tang is added to it by whoever asks. Where there
// is no top the depths are NaN.
func (b *Board) FlatCut(l Line, tang units.Length) Cut {
	treble, bass := b.On(l.Treble).Z, b.On(l.Bass).Z
	top := max(treble, bass)
	if l.Treble.Y >= 0 && l.Bass.Y <= 0 {
		top = 0
	}
	floor := min(treble, bass) - tang
	return Cut{floor, treble - floor, bass - floor, top - floor}
}
