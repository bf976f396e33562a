package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Neck is what the side view of every string needs: the board, its frets, its
// bow, and where the last crowns fall away.
//
// Levels in the side view run up from one datum, the top of the board's crowns
// on its centre line at the nut, the neck being straight. Every fret is a
// straight line across; a string runs straight from nut to saddle, in plan and
// in height, so that the side view of a fanned string is exact.
type Neck struct {
	Board
	Division fret.Division
	Relief   Relief
	FallAway FallAway
}

// Check reports why the neck cannot be, or nil.
func (n Neck) Check() error {
	if err := n.Board.Check(); err != nil {
		return err
	}
	if n.Division.Frets() == 0 {
		return fmt.Errorf("got a neck without frets, want at least 1")
	}
	if err := n.Relief.Check(); err != nil {
		return err
	}
	return n.FallAway.Check()
}

// FallAway is how the last crowns are dressed lower: by nothing up to From, a
// distance from the nut, and from there in a straight line to By at To, and on.
// The zero FallAway is none.
type FallAway struct {
	From, To units.Length
	By       units.Length
}

// Check reports why the fall-away cannot be, or nil.
func (f FallAway) Check() error {
	switch {
	case f == FallAway{}:
		return nil
	case !(f.From >= 0 && f.To > f.From && finite(f.To)):
		return fmt.Errorf("got crowns that fall away from %v to %v, want the nearer first, and neither before the nut", f.From, f.To)
	case !(f.By >= 0 && f.By <= (f.To-f.From)/10):
		return fmt.Errorf("got crowns that fall away by %v, want 0 to %v, a tenth of the way", f.By, (f.To-f.From)/10)
	}
	return nil
}

// Drop returns how far a crown at a distance from the nut was taken down.
func (f FallAway) Drop(from units.Length) units.Length {
	if f.By == 0 || !(from > f.From) {
		return 0 * from
	}
	return f.By * units.Length((from - f.From).Over(f.To-f.From))
}

// Crown returns the level of the crown of a fret under a string; that of fret 0
// is where the plane of the frets meets the nut. It is NaN where there is no
// such fret, no such string, or no board so far out.
func (n Neck) Crown(str, fret int) units.Length {
	from := n.Division.From(n.Scale, fret)
	if str < 1 || str > n.Strings {
		return units.Length(math.NaN())
	}
	return -(n.fall(str, from) + n.Relief.Drop(from) + n.FallAway.Drop(from))
}

// Line is the underside of an open string: its levels at the nut and at the
// scale line, where a saddle with no setback stands.
type Line struct{ Nut, Saddle units.Length }

// Slot is the height of a nut's slot that a string with this line lies in: over
// the plane of the frets there.
func (n Neck) Slot(str int, l Line) units.Length { return l.Nut - n.Crown(str, 0) }

// Level returns the level of the string's underside at a distance from the nut.
func (n Neck) Level(l Line, from units.Length) units.Length {
	return l.Nut + (l.Saddle-l.Nut)*units.Length(from.Over(n.Scale))
}

// Height returns how high an open string stands over the crown of a fret,
// straight up. Square to a curved crown it would read a little less: 2 mm over a
// board of 254 mm, 26 mm off its centre line, 0.010 mm less.
func (n Neck) Height(str int, l Line, fret int) units.Length {
	return n.Level(l, n.Division.From(n.Scale, fret)) - n.Crown(str, fret)
}

// Through returns the line of a string that lies in a slot of a stated height
// over the plane of the frets, and stands at a stated height over the crown of a
// fret. A height at fret 0 says nothing of the saddle, and gives no finite one.
func (n Neck) Through(str int, slot units.Length, fret int, height units.Length) Line {
	nut := n.Crown(str, 0) + slot
	return Line{nut, nut + AtSaddle(n.Crown(str, fret)+height-nut, n.Division.Share(fret))}
}

// ThroughTwo returns the line of a string that stands at two heights over the
// crowns of two frets, the first nearer the nut: what two readings of height say
// of nut and saddle, the bow of the neck taken into account. Near the nut, or
// close to each other, small errors of reading weigh heavily; one fret twice
// gives no finite line.
func (n Neck) ThroughTwo(str, fret int, height units.Length, fret2 int, height2 units.Length) Line {
	a, b := n.Crown(str, fret)+height, n.Crown(str, fret2)+height2
	s, t := n.Division.Share(fret), n.Division.Share(fret2)
	rise := units.Length(float64(b-a) / (t - s))
	nut := a - rise*units.Length(s)
	return Line{nut, nut + rise}
}

// Over returns how far a string pressed down on the crown of a fret clears the
// crown of a higher one; fretted at 0, it is open. NaN where it cannot be.
func (n Neck) Over(str int, l Line, fretted, over int) units.Length {
	if fretted >= over {
		return units.Length(math.NaN())
	}
	return n.from(str, l, fretted).over(n.point(str, over))
}

// Clearances appends to dst how far a string pressed down on the crown of a
// fret, 0 being open, clears every higher one, up to the last; nothing for a fret
// that is not there.
func (n Neck) Clearances(dst []units.Length, str int, l Line, fretted int) []units.Length {
	if fretted < 0 || fretted > n.Division.Frets() {
		return dst
	}
	s := n.from(str, l, fretted)
	for over := fretted + 1; over <= n.Division.Frets(); over++ {
		dst = append(dst, s.over(n.point(str, over)))
	}
	return dst
}

// point is a place in the side view of one string.
type point struct{ x, z units.Length }

func (n Neck) point(str, fret int) point {
	return point{n.Division.From(n.Scale, fret), n.Crown(str, fret)}
}

// span is what sounds of a string in the side view, from where it is stopped to
// the saddle.
type span struct{ from, to point }

func (n Neck) from(str int, l Line, fretted int) span {
	s := span{n.point(str, fretted), point{n.Scale, l.Saddle}}
	if fretted == 0 {
		s.from.z = l.Nut
	}
	return s
}

func (s span) over(p point) units.Length {
	return s.from.z + (s.to.z-s.from.z)*units.Length((p.x-s.from.x).Over(s.to.x-s.from.x)) - p.z
}
