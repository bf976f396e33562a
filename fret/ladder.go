package fret

import (
	"math"

	"example.org/saddlepoint/units"
)

// ladder is the lines that cut both outer strings at one share of their scales:
// the nut line at 0, the scale line at 1, frets between.
type ladder struct {
	straight   float64      // the share whose line is square to the centre line
	mean       units.Length // along the centre line, from nut line to scale line
	apart      units.Length // how much more of that the bass string has than the treble
	weight     float64      // of the bass string in the mean
	nut, scale [2]units.Length
}

// ladder works out the lines of a plan that has been checked.
func (p Plan) ladder() ladder {
	last := len(p.AtNut) - 1
	l := ladder{
		straight: p.straight(),
		nut:      [2]units.Length{p.AtNut[0], p.AtNut[last]},
		scale:    [2]units.Length{p.AtScale[0], p.AtScale[last]},
		mean:     p.Scale,
	}
	if p.Scale == 0 {
		l.weight = float64(l.nut[0]) / float64(l.nut[0]-l.nut[1])
		treble, bass := leg(p.Treble, l.nut[0]-l.scale[0]), leg(p.Bass, l.nut[1]-l.scale[1])
		l.apart = bass - treble
		l.mean = treble + l.apart*units.Length(l.weight)
	}
	return l
}

// leg returns the other leg of a right triangle, NaN where there is none.
func leg(long, side units.Length) units.Length {
	return units.Length(math.Sqrt(float64(long-side)) * math.Sqrt(float64(long+side)))
}

// line returns the line at a share, from outer string to outer string. Its two
// ends differ along the board by a product that is 0 at the straight share, so
// that line is square to the last bit; the weight keeps the nut line's crossing
// of the centre line at 0.
func (l ladder) line(share float64) Line {
	x := l.mean * units.Length(share)
	slant := l.apart * units.Length(l.straight-share)
	across := func(i int) units.Length {
		return l.nut[i]*units.Length(1-share) + l.scale[i]*units.Length(share)
	}
	return Line{
		Point{x + slant*units.Length(l.weight), across(0)},
		Point{x - slant*units.Length(1-l.weight), across(1)},
	}
}

// direction returns which way a line of the ladder runs; with one string, square
// across.
func (l ladder) direction(line Line) Point {
	d := Point{line.Bass.X - line.Treble.X, line.Bass.Y - line.Treble.Y}
	if d == (Point{}) {
		return squareAcross
	}
	return d
}

// stringPath returns the line of a string by its places across at both ends.
func (l ladder) stringPath(atNut, atScale units.Length) path {
	place := func(y units.Length, share float64) Point {
		line := l.line(share)
		if line.Treble.X == line.Bass.X {
			return Point{line.Treble.X, y}
		}
		p := line.Treble.between(line.Bass, float64(line.Treble.Y-y)/float64(line.Treble.Y-line.Bass.Y))
		return Point{p.X, y}
	}
	return path{place(atNut, 0), place(atScale, 1)}
}
