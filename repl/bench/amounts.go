package bench

import (
	"fmt"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
)

// Margins are kept back on what cannot be put back, and read as right: a slot is
// cut to within NutMargin of its gap, and what is off at a saddle is half off at the
// 12th fret, so twice as much is kept back there (our judgement).
const (
	slotMargin = NutMargin
	sandMargin = 2 * Near
)

// setHeights says how far each string has to go at its saddle, and where nothing
// but sanding lowers it, to stop short.
func (r *Record) setHeights(on []int) Text {
	t := textOf("set the heights of " + stringList(on) + " at the saddle")
	rows, err := r.HeightRows()
	if err != nil {
		return t // what is missing stands in heights
	}
	if cut, sanded, _ := r.Sanding(rows); sanded {
		return sandHeights(cut)
	}
	sep := ": "
	for _, s := range on {
		way, by := "up ", rows[s-1].AtSaddle
		if by < 0 {
			way, by = "down ", -by
		}
		t.add(sep, only(on, s), way, by)
		sep = ", "
	}
	return t
}

// sandHeights says what to take off beneath a one-piece saddle, how far short to
// stop, and what that cannot give.
func sandHeights(cut action.Sanding) Text {
	t := textOf("take the saddle down from beneath: ", cut.Treble, " under string 1, ", cut.Bass, fmt.Sprintf(" under string %d", len(cut.Left)))
	if cut.Treble == 0 && cut.Bass == 0 {
		t = textOf("fit a taller saddle, or a shim beneath it")
	} else if max(cut.Treble, cut.Bass) > sandMargin+rounding {
		t.add("; stop ", sandMargin, " short, string up and read again")
	}
	var high, low []int
	var above, below units.Length
	for i, left := range cut.Left {
		switch {
		case over(left, 0):
			high, above = append(high, i+1), max(above, left)
		case over(0, left):
			low, below = append(low, i+1), max(below, -left)
		}
	}
	if high != nil {
		t.add("; left too high there, "+stringList(high)+", by up to ", above, ": the saddle has no more to spare, or a neighbour no more to give")
	}
	if low != nil {
		t.add("; too low there, "+stringList(low)+", by up to ", below)
	}
	return t
}

// screwed reports whether screws raise the saddles, or the bridge.
func (r *Record) screwed() bool { return r.HeightScrew != 0 || r.ScrewGap != 0 || r.PostGap != 0 }

// onePiece reports whether the bridge has a saddle in one piece, which is sanded
// and shaped, and does not move.
func (r *Record) onePiece() bool { return r.Stands != [2]units.Length{} }

// lowerSlots says which gap to stop at.
func (r *Record) lowerSlots(on []int) Text {
	t := textOf("lower the nut slots of " + stringList(on) + ", stopping early")
	wishes, _ := r.wishes(Gap)
	same := true
	for _, s := range on {
		same = same && wishes[s-1].value == wishes[on[0]-1].value
	}
	if same {
		on = on[:1]
	}
	sep := ": "
	for _, s := range on {
		t.add(sep, only(on, s), "stop where the gap reads ", wishes[s-1].value+slotMargin)
		sep = ", "
	}
	return t
}

// only names a string, but where it is the only one.
func only(on []int, s int) string {
	if len(on) == 1 {
		return ""
	}
	return fmt.Sprintf("string %d ", s)
}

// toolOf names what is used on a subject (common practice, no source).
func (r *Record) toolOf(of Subject) string {
	switch of {
	case Relief, Gap, Action:
		return "feeler leaves"
	case Cents:
		return "the tuner"
	case Rod:
		return "the rod's own key, feeler leaves"
	case Slot:
		return "a nut file as wide as the string; a stack of leaves before the nut as its stop"
	case Saddle:
		if r.onePiece() {
			return "a fine file, the tuner"
		}
		if r.SaddleScrew == 0 {
			return "a calliper, the tuner"
		}
		return "the saddle screw's own key, a calliper, the tuner"
	case Height:
		switch {
		case r.screwed():
			return "the height screws' own key, feeler leaves"
		case r.onePiece():
			return "abrasive on a flat plate, feeler leaves"
		}
		return "feeler leaves"
	}
	return ""
}
