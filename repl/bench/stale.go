package bench

import "slices"

// effect is what doing something does to a reading: nothing, little, or enough
// to void it.
type effect uint8

const (
	none effect = iota
	slight
	void
)

// effects is the table of what each thing done does to each reading (common
// practice, no source). "Slight" is what the trade calls slightly, maybe, or
// only in some case; it voids nothing. Low is for cents at frets 1 to 3. A new
// set may be of other gauges, so it voids what they would.
var effects = map[Subject]struct{ relief, gap, action, cents, low, buzz effect }{
	Strings: {void, void, void, void, void, void},
	Rod:     {void, void, void, void, void, void},
	Shim:    {slight, slight, void, void, slight, void},
	Slot:    {none, void, void, slight, void, slight},
	Height:  {slight, slight, void, void, slight, void},
	Saddle:  {none, none, slight, void, slight, none}, // its place is carried on by what was moved
	Nut:     {none, none, none, void, void, none},
	Crowns:  {void, void, void, void, void, void},
	Pickup:  {none, none, none, slight, slight, none},
	Room:    {void, slight, void, slight, slight, slight},
}

// voids reports whether doing a thing voids readings of a subject taken so.
func voids(done, of Subject, how How) bool {
	e := effects[done]
	switch of {
	case Relief:
		return e.relief == void
	case Gap:
		return e.gap == void
	case Action:
		return e.action == void
	case Buzz, Clean:
		return e.buzz == void
	case Cents:
		// A move reckoned from a reading rests on where the saddle stood, so a low
		// fret keeps no reading that a high one loses.
		low := how.At <= lowFrets || how.Low >= 1 && how.Low <= lowFrets
		return e.cents == void || low && e.low == void
	}
	return false
}

// lowFrets is the last fret whose cents follow the nut.
const lowFrets = 3

// voids reports whether what was done voids a reading on a string. Relief is the
// whole neck's.
func (e Entry) voids(of Subject, how How, on int) bool {
	return (len(e.On) == 0 || of == Relief || slices.Contains(e.On, on)) && voids(e.Of, of, how)
}
