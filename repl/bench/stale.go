package bench

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
// only in some case; it voids nothing.
var effects = map[Subject]struct{ relief, gap, action, cents, place effect }{
	Strings: {void, void, void, void, none},
	Rod:     {void, void, void, void, none},
	Shim:    {slight, slight, void, void, none},
	Slot:    {none, void, void, slight, none},
	Height:  {slight, slight, void, void, none},
	Saddle:  {none, none, slight, void, none}, // its place is carried on by what was moved
	Nut:     {none, none, none, void, none},
	Crowns:  {void, void, void, void, none},
	Pickup:  {none, none, none, slight, none},
	Room:    {void, slight, void, slight, none},
}

// voids reports whether what was done voids a reading of a subject on a string.
func (r *Record) voids(done Entry, of Subject, on int) bool {
	e := effects[done.Of]
	x := map[Subject]effect{Relief: e.relief, Gap: e.gap, Action: e.action, Cents: e.cents, Saddle: e.place}[of]
	if x != void {
		return false
	}
	if len(done.On) == 0 || of == Relief {
		return true
	}
	for _, s := range done.On {
		if s == on {
			return true
		}
	}
	return false
}
