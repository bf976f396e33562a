package action

import (
	"math"

	"example.org/saddlepoint/units"
)

// GapWay is how the gap under a string over the first fret is read. Each way
// gives another number for one slot, so a gap without its way says nothing.
type GapWay uint8

// Ways of reading the first gap. With the slot at a height h over the plane of
// the frets on a straight neck of twelve to the octave, the gap is 0.486 h held
// at 3 with the string resting on crowns 2 and 3, 0.647 h pressed down on crown 3
// alone, and open 0.944 h and 0.056 of the saddle's height.
const (
	Open    GapWay = iota
	Held           // between frets 2 and 3, resting on both crowns
	OnCrown        // pressed down on the crown of fret 3, and free of crown 2
)

// Gap returns the gap of a string at the first fret, read in a way. It is never
// less than 0: a string that lies on the crown has none. NaN where the neck lacks
// a crown that the string rests on, and for a way that is none of these.
func (n Neck) Gap(str int, l Line, w GapWay) units.Length {
	over := func(rest point) units.Length {
		return max(0, span{point{0, l.Nut}, rest}.over(n.point(str, 1)))
	}
	switch w {
	case Open:
		return over(point{n.Scale, l.Saddle})
	case OnCrown: // a crown 2 that stands in the way holds the string up
		return max(over(n.point(str, 3)), over(n.point(str, 2)))
	case Held:
		return over(n.point(str, 2))
	}
	return units.Length(math.NaN())
}

// SlotFromGap returns the height of the slot, over the plane of the frets, that
// shows a gap at the first fret. saddle is the level of the string at the scale
// line (Line), and counts only where the string is open. A gap of 0 gives the
// highest slot that shows none. NaN as in Gap, and NaN in, NaN out.
func (n Neck) SlotFromGap(str int, gap units.Length, w GapWay, saddle units.Length) units.Length {
	first := n.point(str, 1)
	back := func(rest point) units.Length {
		first := point{first.x, first.z + gap}
		return rest.z + (first.z-rest.z)*units.Length(rest.x.Over(rest.x-first.x)) - n.Crown(str, 0)
	}
	switch w {
	case Open:
		return back(point{n.Scale, saddle})
	case OnCrown: // it rests on crown 2 as well where that stands in the way
		return min(back(n.point(str, 3)), back(n.point(str, 2)))
	case Held:
		return back(n.point(str, 2))
	}
	return units.Length(math.NaN())
}

// Cut is how far to deepen a nut's slot.
type Cut struct {
	Off  units.Length // to take off before reading again, margin left; 0 where there is none to take
	Stop units.Length // thickness of the leaves to lay on the board against the nut, for the file to stop on
}

// Deepen returns how far to cut a slot that stands at one height over the plane
// of the frets and is wanted at another, so that margin is left for the last
// strokes: a slot can be lowered, not raised. crowns is the height of the frets'
// crowns over the board, on which the leaves lie.
func Deepen(slot, wanted, margin, crowns units.Length) Cut {
	return Cut{max(0, slot-wanted-margin), crowns + wanted + margin}
}
