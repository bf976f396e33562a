package intonation

import "example.org/saddlepoint/units"

// End is the end of an instrument that a saddle's place is measured from.
type End uint8

// From the tail, a saddle that goes back reads less; from the nut, or from a fret
// such as the 12th, more.
const (
	Tail End = iota
	Nut
)

// RoughIn returns where a new saddle reads when its string breaks where it broke
// on the old one, and then further back by move. old is what the old saddle read;
// both offsets are how far each saddle's break point stands in front of the face
// that was measured to, towards the nut.
func RoughIn(from End, old, oldOffset, newOffset, move units.Length) units.Length {
	if from == Nut {
		return old - oldOffset + newOffset + move
	}
	return old + oldOffset - newOffset - move
}
