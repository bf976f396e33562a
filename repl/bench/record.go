// Package bench keeps the record of one instrument at the bench: what it is,
// what is wanted, how it came in, what was read and what was done; and works
// out from it what the bench needs to know.
//
// It has no terminal and no parser in it, so that other programs can keep
// records too. A Record is a plain value: fill it, Check it, ask it.
package bench

import (
	"fmt"
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// What is assumed of an instrument until it is told, and shown as assumed.
const (
	AssumedA4    = 440 * units.Hertz
	AssumedTuner = 1 * units.Cent
)

// MostFrets is the largest number of frets a record may state.
const MostFrets = 60

// Record is one instrument. A zero field is one not told. Lists of strings run
// from the treble edge of the board, whatever the pitch.
type Record struct {
	Name         string
	Scale        units.Length   // of the fret grid
	Frets        int            // up to MostFrets
	Radius       []units.Length // nut and last fret; fret.Flat for a flat board
	NutSpread    units.Length   // between the centres of the outer strings
	SaddleSpread units.Length
	Strings      []tension.String
	Tuning       []Tone
	A4           units.Frequency
	Saddles      [][]int      // the strings on each saddle
	SaddleScrew  units.Thread // moves a saddle back and forward
	HeightScrew  units.Thread
	ScrewGap     units.Length    // between the two height screws of one saddle
	Travel       [2]units.Length // smallest and largest reading of a saddle's place
	Leaves       leaves.Set
	Tuner        units.Cents // error of one note
	Entries      []Entry     // in the order told
}

// Tone is what a string is tuned to: a pitch, or a frequency stated outright.
type Tone struct {
	Pitch units.Pitch
	Hertz units.Frequency // used instead of Pitch when not 0
}

// Frequency returns the tone's frequency for a stated A4.
func (t Tone) Frequency(a4 units.Frequency) units.Frequency {
	if t.Hertz != 0 {
		return t.Hertz
	}
	return t.Pitch.Frequency(a4)
}

// String gives the tone as told.
func (t Tone) String() string {
	if t.Hertz != 0 {
		return t.Hertz.String()
	}
	return t.Pitch.String()
}

// Mood is what telling something means.
type Mood uint8

// What an entry tells: what is wanted, how it came in, what was read, what was
// done.
const (
	Want Mood = iota
	Was
	Read
	Did
)

// Subject is what an entry is about.
type Subject uint8

// What can be wanted and read, and what can be done.
const (
	Relief  Subject = iota // of the neck, by a stated way
	Gap                    // under each string at the first fret
	Action                 // height of each string at a fret
	Cents                  // of each string at a pair of frets
	Saddle                 // place of each saddle from a datum
	Curve                  // of the strings' undersides at the saddles
	Strings                // the set
	Rod                    // the neck's rod
	Shim                   // the neck's angle
	Slot                   // depth of the nut's slots
	Height                 // of the saddles
	Nut                    // the nut's place
	Crowns                 // frets levelled or dressed
	Pickup                 // its height
	Room                   // warmth or damp
)

// Datum is where the place of a saddle is measured from.
type Datum uint8

// The ends a saddle's place is measured from. From the tail, a saddle that goes
// back reads less; from the nut, more.
const (
	FromTail Datum = iota
	FromNut
)

// How is the way something was read. Readings are compared only where it is the
// same.
type How struct {
	Held     [2]int // frets held down; 0 for none
	At       int    // the fret read, or the higher of a pair
	Low      int    // the lower of a pair; 0 is the open string
	Harmonic bool   // the low note was the open string's harmonic
	From     Datum  // of a saddle's place
}

// Entry is one told line. Values are one a string, or one a saddle for a place,
// in the order of On; NaN stands for one not read.
type Entry struct {
	Mood    Mood
	Of      Subject
	How     How
	On      []int // the strings, or the saddles for a place; none means the whole instrument
	Lengths []units.Length
	Cents   []units.Cents
	Gauges  []tension.String
	By      units.Length // of a saddle that was moved, back positive
	Note    string       // what was done, in words
}

// Missing says that something has to be told first.
type Missing struct {
	What string // such as "scale"
	Tell string // an example of the line that tells it
}

// Error gives the reason in one line.
func (m *Missing) Error() string {
	return "got no " + m.What + ", want that told first, as in " + m.Tell
}

var (
	noScale   = &Missing{"scale", "scale: 648mm"}
	noStrings = &Missing{"strings", "strings: 10p 13p 17p 26w 36w 46w"}
	noTuning  = &Missing{"tuning", "tuning: E4 B3 G3 D3 A2 E2"}
	noRadius  = &Missing{"radius", "radius: 10in 14in"}
	noSpread  = &Missing{"spread", "spread: 36mm 52mm"}
	noWanted  = &Missing{"wanted action", "want action 12: 1.5mm 1.9mm"}
	noCents   = &Missing{"readings of cents", "read cents 12: +5 +3 +9 -1 +2 +4"}
)

// Empty reports whether nothing was told.
func (r *Record) Empty() bool {
	return r.Name == "" && r.Scale == 0 && r.Frets == 0 && r.Radius == nil && r.NutSpread == 0 && r.Strings == nil &&
		r.Tuning == nil && r.A4 == 0 && r.Saddles == nil && r.SaddleScrew == 0 && r.HeightScrew == 0 && r.ScrewGap == 0 &&
		r.Travel == [2]units.Length{} && r.Leaves == nil && r.Tuner == 0 && r.Entries == nil
}

// Concert returns the frequency of A4, and whether it was assumed.
func (r *Record) Concert() (a4 units.Frequency, assumed bool) {
	if r.A4 == 0 {
		return AssumedA4, true
	}
	return r.A4, false
}

// TunerError returns the error of one note, and whether it was assumed.
func (r *Record) TunerError() (c units.Cents, assumed bool) {
	if r.Tuner == 0 {
		return AssumedTuner, true
	}
	return r.Tuner, false
}

// Count returns the number of strings, from whatever tells it, or 0.
func (r *Record) Count() int {
	switch {
	case r.Strings != nil:
		return len(r.Strings)
	case r.Tuning != nil:
		return len(r.Tuning)
	}
	n := 0
	for _, group := range r.Saddles {
		for _, s := range group {
			n = max(n, s)
		}
	}
	if n > 0 {
		return n
	}
	for _, e := range r.Entries {
		if e.Of != Saddle || e.Mood == Did {
			for _, s := range e.On {
				n = max(n, s)
			}
		}
	}
	return n
}

// Groups returns the strings on each saddle, and whether one saddle a string
// was assumed.
func (r *Record) Groups() (groups [][]int, assumed bool) {
	if r.Saddles != nil {
		return r.Saddles, false
	}
	for s := 1; s <= r.Count(); s++ {
		groups = append(groups, []int{s})
	}
	return groups, true
}

// Division returns the neck's frets: twelve equal steps to the octave.
func (r *Record) Division() fret.Division {
	n := r.Frets
	if n == 0 {
		n = MostFrets
	}
	d, err := fret.Equal(units.Octave, 12, n)
	if err != nil {
		// Check keeps Frets within what Equal takes; an unchecked record gets no frets.
		return fret.Division{}
	}
	return d
}

// Surface returns the top of the board.
func (r *Record) Surface() (fret.Surface, error) {
	switch {
	case r.Radius == nil:
		return fret.Surface{}, noRadius
	case r.Radius[0] == r.Radius[1]:
		return fret.Surface{Nut: r.Radius[0], End: r.Radius[1]}, nil
	case r.Scale == 0:
		return fret.Surface{}, noScale
	case r.Frets == 0:
		return fret.Surface{}, &Missing{"number of frets", "frets: 21"}
	}
	return fret.Surface{Nut: r.Radius[0], End: r.Radius[1], Span: r.Division().From(r.Scale, r.Frets)}, nil
}

// Board returns what heights need to know of the neck.
func (r *Record) Board() (action.Board, error) {
	surface, err := r.Surface()
	switch {
	case err != nil:
		return action.Board{}, err
	case r.Scale == 0:
		return action.Board{}, noScale
	case r.SaddleSpread == 0:
		return action.Board{}, noSpread
	case r.Count() == 0:
		return action.Board{}, noStrings
	}
	b := action.Board{Surface: surface, Scale: r.Scale, NutSpread: r.NutSpread, SaddleSpread: r.SaddleSpread, Strings: r.Count()}
	return b, b.Check()
}

// count writes a number of things.
func count(n int, of string) string {
	if n != 1 {
		of += "s"
	}
	return fmt.Sprint(n, " ", of)
}

// MostStrings is how many strings a record may have.
const MostStrings = 100

// Check reports the first thing in the record that cannot be, or nil. What is
// merely unlikely it leaves to Questions. A record that passes makes no method
// panic.
func (r *Record) Check() error {
	if err := r.checkBare(); err != nil {
		return err
	}
	for _, e := range r.Entries {
		if err := r.CheckEntry(e); err != nil {
			return err
		}
	}
	return nil
}

// checkBare checks all but the entries.
func (r *Record) checkBare() error {
	if r.Frets < 0 || r.Frets > MostFrets {
		return fmt.Errorf("got %d frets, want 1 to %d", r.Frets, MostFrets)
	}
	if r.Strings != nil && r.Tuning != nil && len(r.Strings) != len(r.Tuning) {
		return fmt.Errorf("got gauges for %s and notes for %d, want as many", count(len(r.Strings), "string"), len(r.Tuning))
	}
	if n := r.Count(); n > MostStrings {
		return fmt.Errorf("got %d strings, want at most %d", n, MostStrings)
	}
	if r.Radius != nil && len(r.Radius) != 2 {
		return fmt.Errorf("got %d radii, want one at the nut and one at the last fret", len(r.Radius))
	}
	if err := r.checkSaddles(); err != nil {
		return err
	}
	if r.Travel[1] != 0 && !(r.Travel[0] < r.Travel[1]) {
		return fmt.Errorf("got travel from %v to %v, want the smallest reading first", r.Travel[0], r.Travel[1])
	}
	if _, err := r.Board(); err != nil {
		if _, untold := err.(*Missing); !untold {
			return err
		}
	}
	return nil
}

func (r *Record) checkSaddles() error {
	on := map[int]bool{}
	for _, group := range r.Saddles {
		if len(group) == 0 {
			return fmt.Errorf("got a saddle with no string, want one at least")
		}
		for _, s := range group {
			if s < 1 || s > MostStrings {
				return fmt.Errorf("got string %d on a saddle, want 1 to %d", s, MostStrings)
			}
			if on[s] {
				return fmt.Errorf("got string %d on two saddles or twice on one, want it once", s)
			}
			on[s] = true
		}
	}
	if r.Saddles == nil {
		return nil
	}
	for s := 1; s <= r.Count(); s++ {
		if !on[s] {
			return fmt.Errorf("got no saddle for string %d, want every string on one", s)
		}
	}
	if len(on) > r.Count() {
		return fmt.Errorf("got %d strings on saddles, want %d", len(on), r.Count())
	}
	return nil
}

// CheckEntry reports why the record cannot keep an entry, or nil.
func (r *Record) CheckEntry(e Entry) error {
	if err := r.checkOn(e); err != nil {
		return err
	}
	n := max(len(e.Lengths), len(e.Cents), len(e.Gauges))
	switch {
	case e.Mood != Want && n != 0 && n != len(e.On):
		return fmt.Errorf("got %s, want %d", count(n, "value"), len(e.On))
	case e.Mood == Want && n == 0 && e.Of != Curve:
		return fmt.Errorf("got no value, want what is wanted")
	case e.Of == Action && e.Mood == Want && n > 2 && n != r.Count():
		return fmt.Errorf("got %d wanted heights, want treble and bass, or one for each of %s", n, count(r.Count(), "string"))
	case e.Of == Gap && e.Mood == Want && n > 1 && n != r.Count():
		return fmt.Errorf("got %d wanted gaps, want one for all, or one for each of %s", n, count(r.Count(), "string"))
	case e.Of == Action && e.How.At < 1:
		return fmt.Errorf("got a height at fret %d, want 1 or more", e.How.At)
	}
	for _, l := range e.Lengths {
		if e.Mood == Want && math.IsNaN(float64(l)) {
			return fmt.Errorf("got no value, want what is wanted for every string")
		}
	}
	last := MostFrets
	if r.Frets != 0 {
		last = r.Frets
	}
	for _, f := range []int{e.How.Held[0], e.How.Held[1], e.How.At, e.How.Low} {
		if f < 0 || f > last {
			return fmt.Errorf("got fret %d, want at most %d, the last", f, last)
		}
	}
	return nil
}

// checkOn checks which strings or saddles an entry is about. Relief is the whole
// neck's, kept as that of string 0.
func (r *Record) checkOn(e Entry) error {
	most, what, least := r.Count(), "string", 1
	switch {
	case e.Of == Relief:
		least = 0
	case e.Of == Saddle && e.Mood != Did:
		groups, _ := r.Groups()
		most, what = len(groups), "saddle"
	case e.Of == Strings && e.Mood == Was:
		most = MostStrings // another set may have had another number
	}
	for _, s := range e.On {
		if s < least || s > most {
			return fmt.Errorf("got %s %d, want %d to %d", what, s, least, most)
		}
	}
	return nil
}

// Sample is the newest reading of one thing.
type Sample struct {
	How   How
	Value float64 // millimetres or cents; NaN when not read
	Stale bool    // something was done since that voids it
}

var unread = Sample{Value: math.NaN()}

// newest returns the newest readings of a subject on one string or saddle, one
// for each way of reading it, in the order first read.
func (r *Record) newest(of Subject, on int) []Sample {
	var out []Sample
	for _, e := range r.Entries {
		if e.Mood == Did {
			for i := range out {
				out[i].Stale = out[i].Stale || r.voids(e, of, on)
			}
			continue
		}
		if e.Mood != Read || e.Of != of {
			continue
		}
		for i, s := range e.On {
			v := e.value(i)
			if s != on || math.IsNaN(v) {
				continue
			}
			out = put(out, Sample{How: e.How, Value: v})
		}
	}
	return out
}

func (e Entry) value(i int) float64 {
	switch {
	case i < len(e.Lengths):
		return float64(e.Lengths[i])
	case i < len(e.Cents):
		return float64(e.Cents[i])
	}
	return math.NaN()
}

// put replaces the sample read the same way, or adds one.
func put(list []Sample, s Sample) []Sample {
	for i := range list {
		if list[i].How == s.How {
			list[i] = s
			return list
		}
	}
	return append(list, s)
}

// wanted returns the last entry that says what is wanted of a subject.
func (r *Record) wanted(of Subject) (Entry, bool) {
	for i := len(r.Entries) - 1; i >= 0; i-- {
		if e := r.Entries[i]; e.Mood == Want && e.Of == of {
			return e, true
		}
	}
	return Entry{}, false
}
