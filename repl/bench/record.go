// Package bench keeps the record of one instrument at the bench: what it is,
// what is wanted, how it came in, what was read and what was done; and works
// out from it what the bench needs to know.
//
// It has no terminal and no parser in it, so that other programs can keep
// records too. A Record is a plain value: fill it, Check it, ask it.
package bench

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"
	"time"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
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

// MostStrings is how many strings a record may have.
const MostStrings = 100

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
	Cores        []units.Length        // of wound strings, one a string; 0 or NaN where not told
	UnitWeights  []units.LinearDensity // as stated, one a string; 0 or NaN where not told
	AfterLengths []units.Length        // beyond nut and saddle, where strings slide; one for all or one a string
	NutHeights   []units.Length        // of the strings over the plane of the frets at the nut; likewise
	Finger       intonation.Finger
	A4           units.Frequency
	Saddles      [][]int        // the strings on each saddle
	Staggers     []units.Length // how much further back than its saddle each string breaks already; NaN or 0 for none
	Weights      []float64      // how much each string counts on its saddle; NaN or 0 for 1
	Slants       bool           // saddles stand aslant as they are set: their ends move on their own
	SaddleScrew  units.Thread   // moves a saddle back and forward
	HeightScrew  units.Thread
	ScrewGap     units.Length    // between the two height screws of one saddle
	PostGap      units.Length    // between the two posts that raise a whole bridge
	Stands       [2]units.Length // how tall a one-piece saddle stands under its treble and its bass string
	LeastStands  units.Length    // and how tall it must stay
	Centres      bool            // saddles carry strings by their centres, in grooves or on rollers
	Stock        []units.Length  // radii that saddles are to be had in
	HeightRoom   []units.Length  // how far the saddles can still go, down and up
	Heel         action.Heel     // the neck's seat in the body
	CrownHeight  units.Length    // of the frets over the board
	FallFrom     int             // the fret from which the crowns fall away
	FallBy       units.Length    // at the last fret
	Swing        action.Swing    // the room that a plucked string asks for
	Plan         NeckPlan        // what a maker states of the neck
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

// String names the mood as it is told, such as "want".
func (m Mood) String() string {
	if int(m) < len(moodNames) {
		return moodNames[m]
	}
	return fmt.Sprintf("mood %d", uint8(m))
}

var moodNames = [...]string{Want: "want", Was: "was", Read: "read", Did: "did"}

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
	Buzz                   // notes of one string that buzz
	Clean                  // notes of one string that ring clean
)

// String names the subject as it is told, such as "action".
func (s Subject) String() string {
	if int(s) < len(subjectNames) {
		return subjectNames[s]
	}
	return fmt.Sprintf("subject %d", uint8(s))
}

var subjectNames = [...]string{Relief: "relief", Gap: "gap", Action: "action", Cents: "cents", Saddle: "saddle", Curve: "curve", Strings: "strings",
	Rod: "rod", Shim: "shim", Slot: "slot", Height: "height", Nut: "nut", Crowns: "crowns", Pickup: "pickup", Room: "room", Buzz: "buzz", Clean: "clean"}

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
	Held     [2]int // frets held down, or under a straightedge; 0 for none
	Edge     bool   // a straightedge lay there: the same reading by other means
	Alone    bool   // the string was pressed down on the crown of the fret held, and free of the one before
	At       int    // the fret read, or the higher of a pair
	Low      int    // the lower of a pair; 0 is the open string
	Harmonic bool   // the low note was the open string's harmonic
	From     Datum  // of a saddle's place
}

// Entry is one told line. Values are one a string, or one a saddle for a place,
// in the order of On; NaN stands for one not read. Of what is wanted, one value
// stands for all, and two are the outer strings', treble first. Relief has one
// value, and On is empty or the string 0, which stands for the neck.
type Entry struct {
	Mood    Mood
	Of      Subject
	How     How
	On      []int // the strings, or the saddles for a place; none means the whole instrument, from 1 on
	Lengths []units.Length
	Cents   []units.Cents
	Gauges  []tension.String
	Frets   []int        // of notes that buzz or ring clean, 0 being open
	By      units.Length // of a saddle that was moved, back positive
	Note    string       // what was done, in words
	When    time.Time    // the day it was told, at midnight UTC; zero where not known
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
	noFrets   = &Missing{"number of frets", "frets: 21"}
	noStrings = &Missing{"strings", "strings: 10p 13p 17p 26w 36w 46w"}
	noTuning  = &Missing{"tuning", "tuning: E4 B3 G3 D3 A2 E2"}
	noRadius  = &Missing{"radius", "radius: 10in 14in"}
	noSpread  = &Missing{"spread", "spread: 36mm 52mm"}
	noWanted  = &Missing{"wanted action", "want action 12: 1.5mm 1.9mm"}
	noHeel    = &Missing{"heel", "heel: 390mm 465mm"}
	noCents   = &Missing{"readings of cents", "read cents 12: +5 +3 +9 -1 +2 +4"}
)

// Empty reports whether nothing was told.
func (r *Record) Empty() bool { return reflect.ValueOf(*r).IsZero() }

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
	case len(r.Strings) > 0:
		return len(r.Strings)
	case len(r.Tuning) > 0:
		return len(r.Tuning)
	}
	n := 0
	for _, group := range r.Saddles {
		n = max(n, last(group))
	}
	if n > 0 {
		return n
	}
	for i := range r.Entries {
		n = max(n, r.Entries[i].lastString())
	}
	return n
}

// last is the largest of some numbers of strings; one that Check refuses counts
// for nothing.
func last(strings []int) int {
	n := 0
	for _, s := range strings {
		if s <= MostStrings {
			n = max(n, s)
		}
	}
	return n
}

// lastString is the last string that an entry speaks of, or 0.
func (e *Entry) lastString() int {
	switch {
	case e.Of == Saddle && e.Mood != Did: // it counts saddles
		return 0
	case len(e.On) == 0 && e.Of != Relief && e.Of != Buzz && e.Of != Clean && (e.Mood == Read || e.Mood == Was):
		return min(e.count(), MostStrings)
	}
	return last(e.On)
}

// Groups returns the strings on each saddle, and whether one saddle a string
// was assumed.
func (r *Record) Groups() (groups [][]int, assumed bool) {
	if len(r.Saddles) > 0 {
		return r.Saddles, false
	}
	for s := range r.Count() {
		groups = append(groups, []int{s + 1})
	}
	return groups, true
}

// Division returns the neck's frets, straight across: twelve equal steps to the
// octave, until told otherwise.
func (r *Record) Division() fret.Division {
	n := r.Frets
	if n == 0 {
		n = MostFrets
	}
	// Check keeps Frets within what fret takes; an unchecked record gets no frets.
	d, _ := r.dividedBy(n)
	return d
}

// Surface returns the top of the board.
func (r *Record) Surface() (fret.Surface, error) {
	if len(r.Radius) == 0 {
		return fret.Surface{}, noRadius
	}
	s := fret.Surface{Nut: r.Radius[0], End: r.Radius[len(r.Radius)-1]}
	switch {
	case s.Nut == s.End:
		return s, nil
	case r.Scale == 0:
		return fret.Surface{}, r.scaleMissing()
	case r.Frets == 0:
		return fret.Surface{}, noFrets
	}
	s.Span = r.Division().From(r.Scale, r.Frets)
	return s, nil
}

// Board returns what heights need to know of the neck.
func (r *Record) Board() (action.Board, error) {
	surface, err := r.Surface()
	switch n := r.Count(); {
	case err != nil:
		return action.Board{}, err
	case r.Scale == 0:
		return action.Board{}, r.scaleMissing()
	case n == 0:
		return action.Board{}, noStrings
	case n > 1 && (r.NutSpread == 0 || r.SaddleSpread == 0):
		return action.Board{}, noSpread
	}
	b := action.Board{Surface: surface, Scale: r.Scale, NutSpread: r.NutSpread, SaddleSpread: r.SaddleSpread, Strings: r.Count()}
	if r.Plan.Gaps && r.Count() > 1 {
		var err error
		if b.AtNut, err = r.across(r.NutSpread); err != nil {
			return b, err
		}
		if b.AtSaddle, err = r.across(r.SaddleSpread); err != nil {
			return b, err
		}
	}
	return b, b.Check()
}

// offset is how far string s crosses the saddles from the board's centre line,
// towards the treble.
func (r *Record) offset(s int) units.Length {
	if at, err := r.across(r.SaddleSpread); err == nil && s >= 1 && s <= len(at) {
		return at[s-1]
	}
	// No gauges to leave equal gaps between, no room for them, or no such string.
	return r.SaddleSpread * units.Length(0.5-float64(s-1)/float64(r.Count()-1))
}

// Sample is the newest reading of one thing.
type Sample struct {
	How   How
	Value float64 // millimetres or cents; NaN when not read
	Stale bool    // something was done since that voids it
}

// newest returns the newest readings of a subject on one string, one for each
// way of reading it, the newest last. The neck's relief is on any.
func (r *Record) newest(of Subject, on int) []Sample {
	var out []Sample
	var told []int // which entry each comes from
	place := map[How]int{}
	for i := range r.Entries {
		switch e := &r.Entries[i]; {
		case e.Mood == Did:
			for i, s := range out {
				out[i].Stale = s.Stale || e.voids(of, s.How, on)
			}
		case e.Mood == Read && e.Of == of:
			v := e.value(on)
			if math.IsNaN(v) {
				continue
			}
			at, ok := place[e.How]
			if !ok {
				at = len(out)
				place[e.How] = at
				out, told = append(out, Sample{}), append(told, 0)
			}
			out[at], told[at] = Sample{How: e.How, Value: v}, i
		}
	}
	slices.SortFunc(out, func(a, b Sample) int { return cmp.Compare(told[place[a.How]], told[place[b.How]]) })
	return out
}

// value returns what an entry says of one string or saddle, NaN where nothing.
func (e *Entry) value(on int) float64 {
	i := on - 1
	switch {
	case e.Of == Relief:
		i = 0
	case len(e.On) > 0:
		i = slices.Index(e.On, on)
	}
	switch {
	case i < 0:
	case e.Of == Cents && i < len(e.Cents):
		return float64(e.Cents[i])
	case e.Of != Cents && i < len(e.Lengths):
		return float64(e.Lengths[i])
	}
	return math.NaN()
}

// count is the number of an entry's values.
func (e *Entry) count() int {
	switch e.Of {
	case Cents:
		return len(e.Cents)
	case Strings:
		return len(e.Gauges)
	case Buzz, Clean:
		return len(e.Frets)
	}
	return len(e.Lengths)
}

// wanted returns the last entry that says what is wanted of a subject.
func (r *Record) wanted(of Subject) (Entry, bool) { return r.lastTold(Want, of) }

func (r *Record) lastTold(mood Mood, of Subject) (Entry, bool) {
	for i := len(r.Entries) - 1; i >= 0; i-- {
		if e := r.Entries[i]; e.Mood == mood && e.Of == of {
			return e, true
		}
	}
	return Entry{}, false
}
