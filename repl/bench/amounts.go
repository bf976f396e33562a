package bench

import (
	"fmt"
	"math"
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
	sep, sands := ": ", false
	for _, s := range on {
		for _, row := range rows {
			if row.String != s || math.IsNaN(float64(row.AtSaddle)) {
				continue
			}
			way, by := "up ", row.AtSaddle
			if by < 0 {
				way, by = "down ", -by
			}
			sands = sands || r.HeightScrew == 0 && way == "down " && by > sandMargin
			t.add(sep, only(on, s), way, by)
			sep = ", "
		}
	}
	if sands {
		t.add("; sanding, stop ", sandMargin, " short, string up and read again")
	}
	return t
}

// lowerSlots says which gap to stop at.
func (r *Record) lowerSlots(on []int) Text {
	t := textOf("lower the nut slots of " + stringList(on) + ", stopping early")
	wishes, err := r.wishes(Gap)
	if err != nil {
		return t
	}
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
		if r.SaddleScrew == 0 {
			return "a calliper, the tuner"
		}
		return "the saddle screw's own key, a calliper, the tuner"
	case Height:
		if r.HeightScrew == 0 {
			return "abrasive on a flat plate, feeler leaves"
		}
		return "the height screws' own key, feeler leaves"
	}
	return ""
}
