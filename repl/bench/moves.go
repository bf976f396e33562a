package bench

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// MoveRow is what to do to one saddle. NaN stands for what is not known.
type MoveRow struct {
	Saddle   int // from 1, from the treble edge
	Strings  []int
	Move     units.Length   // of its middle, back positive: to the best place, or to the limit of the travel before it
	Slant    units.Angle    // how far to turn a saddle that slants, its treble end back positive
	Places   []units.Length // how far back the place of each string goes then
	Band     units.Length   // plus or minus, from the tuner's error in every reading
	Within   units.Length   // the move that the tuner's error amounts to: a smaller one is not worth making
	Pairs    []How          // the pairs of frets that it was reckoned from, each once
	Turns    units.Turns    // of the saddle screw, over the distance; which way it turns is for the eye
	Calliper units.Length   // what the saddle's place must read after the move
	Past     units.Length   // how far the best place lies beyond the saddle's travel; 0 within it
	Left     []units.Cents  // one a string, less what is wanted: after the move, or as read where it is not worth making
	Stagger  []units.Length // how much further back each string's break point should stand than the first's
	Angle    units.Angle    // of the saddle top that gives two strings their stagger
	Slopes   []float64      // how much of the textbook's change each string has shown; NaN where it showed none yet
	Wanted   []units.Cents  // what each string should read; 0 where nothing is wanted
	Unread   []int          // strings with no reading that still stands
	Unsteady []int          // strings with readings of one setting that differ by more than the tuner's error
}

// Known reports whether there is a reading to move by.
func (m MoveRow) Known() bool { return !math.IsNaN(float64(m.Move)) }

// Inside reports whether the best move is within the tuner's error: nothing to
// do.
func (m MoveRow) Inside() bool {
	far := max(m.Move, -m.Move)
	for _, place := range m.Places { // of a saddle that slants, not all alike
		far = max(far, place, -place)
	}
	if m.Past > 0 {
		return far < m.Band/20 // at its limit already: the move would print as 0
	}
	return far <= m.Within
}

// MoveRows returns the move for every saddle from the readings that stand.
func (r *Record) MoveRows() ([]MoveRow, error) {
	if err := r.Check(); err != nil {
		return nil, err
	}
	if r.Scale == 0 && r.Plan.Scales == [2]units.Length{} {
		return nil, noScale
	}
	groups, _ := r.Groups()
	if len(groups) == 0 {
		return nil, noCents
	}
	rows := make([]MoveRow, len(groups))
	for i, group := range groups {
		m, err := r.moveRow(i+1, group)
		if err != nil {
			return nil, fmt.Errorf("saddle %s: %w", Group(group), err)
		}
		rows[i] = m
	}
	return rows, nil
}

// blankRow is the row of a saddle of which nothing is known yet.
func blankRow(saddle int, group []int) MoveRow {
	nan := math.NaN()
	m := MoveRow{Saddle: saddle, Strings: group, Move: units.Length(nan), Band: units.Length(nan), Within: units.Length(nan),
		Slant: units.Angle(nan), Turns: units.Turns(nan), Calliper: units.Length(nan), Angle: units.Angle(nan)}
	for range group {
		m.Places = append(m.Places, units.Length(nan))
		m.Left = append(m.Left, units.Cents(nan))
		m.Stagger = append(m.Stagger, units.Length(nan))
		m.Slopes = append(m.Slopes, nan)
		m.Wanted = append(m.Wanted, 0)
	}
	return m
}

func (r *Record) moveRow(saddle int, group []int) (MoveRow, error) {
	m := blankRow(saddle, group)
	notes, err := r.standing(&m)
	if len(notes) == 0 {
		return m, err
	}
	s := r.saddle(m)
	d := r.Division()
	scale, err := r.scaleOn(group...)
	if err != nil {
		return m, err
	}
	best, err := s.Place(notes, intonation.LeastWorst, d, scale)
	if err != nil {
		return m, err
	}
	m.Move, m.Past = best.Move, max(best.Short, -best.Short)
	if s.Slants {
		m.Slant = best.Slant
	}
	if m.Band, err = r.band(s, notes, d, scale); err != nil {
		return m, err
	}
	m.Within = m.Band / math.Sqrt2
	for j, rest := range best.Rests {
		m.Places[j] = rest.Move
		if !slices.Contains(m.Unread, rest.String) {
			m.Left[j] = rest.Worst * units.Cents(m.slope(j))
		}
		if !slices.Contains(m.Unread, group[0]) {
			// Otherwise staggers would be told from another string.
			m.Stagger[j] = rest.Stagger
		}
	}
	if m.Inside() {
		m.stay(notes)
	}
	r.hardware(&m)
	return m, nil
}

// stay makes what is left what was read: the move is not worth making.
func (m *MoveRow) stay(notes []intonation.Note) {
	for j, s := range m.Strings {
		m.Left[j] = units.Cents(math.NaN())
		for _, n := range notes {
			if c := (n.Cents - n.Target) * units.Cents(m.slope(j)); n.String == s && !(math.Abs(float64(c)) <= math.Abs(float64(m.Left[j]))) {
				m.Left[j] = c
			}
		}
	}
}

// slope is how much of the textbook's change a string of the saddle shows.
func (m MoveRow) slope(j int) float64 {
	if math.IsNaN(m.Slopes[j]) {
		return 1
	}
	return m.Slopes[j]
}

// shows is what a tuner reads on a string of the saddle where the textbook has c.
func (m MoveRow) shows(s int, c units.Cents) units.Cents {
	return c * units.Cents(m.slope(slices.Index(m.Strings, s)))
}

// saddle is a saddle of the record, and how far it can go. One string read alone
// says nothing of a slant.
func (r *Record) saddle(m MoveRow) intonation.Saddle {
	group := m.Strings
	s := intonation.Saddle{Slants: r.Slants && len(group)-len(m.Unread) > 1}
	var middle units.Length // a saddle that slants is told by its middle
	for _, str := range group {
		middle += r.offset(str) / units.Length(len(group))
	}
	for _, str := range group {
		s.Rests = append(s.Rests, intonation.Rest{String: str, Across: r.offset(str) - middle, Stagger: r.stagger(str)})
	}
	at, from, ok := r.place(m.Saddle)
	if !ok || s.Slants || !(r.Travel[0] < r.Travel[1]) {
		return s
	}
	s.Least, s.Most = r.Travel[0]-at, r.Travel[1]-at
	if from == FromTail {
		s.Least, s.Most = at-r.Travel[1], at-r.Travel[0]
	}
	return s
}

// band is how uncertain the move for some notes is, plus or minus: what it comes
// to with all of them sharper, or all flatter, by the tuner's error. A reading is
// a difference of two notes, so it carries the square root of 2 of that. Readings
// that say little of the saddle, at low frets, so add little.
func (r *Record) band(s intonation.Saddle, notes []intonation.Note, d fret.Division, scale units.Length) (units.Length, error) {
	tuner, _ := r.TunerError()
	s.Least, s.Most = 0, 0
	var ends [2]units.Length
	for i, by := range []units.Cents{-math.Sqrt2 * tuner, math.Sqrt2 * tuner} {
		shifted := slices.Clone(notes)
		for j := range shifted {
			shifted[j].Cents += by
		}
		best, err := s.Place(shifted, intonation.LeastWorst, d, scale)
		if err != nil {
			return 0, fmt.Errorf("with a tuner good to %v: %w", tuner, err)
		}
		ends[i] = best.Move
	}
	return (ends[1] - ends[0]) / 2, nil
}

// hardware fills in what the bridge makes of a move.
func (r *Record) hardware(m *MoveRow) {
	if r.SaddleScrew != 0 {
		m.Turns = r.SaddleScrew.Turns(max(m.Move, -m.Move))
	}
	if len(m.Strings) == 2 && r.SaddleSpread != 0 {
		m.Angle = units.Slope(m.Stagger[1], r.offset(m.Strings[0])-r.offset(m.Strings[1]))
	}
	at, from, ok := r.place(m.Saddle)
	if !ok {
		return
	}
	switch {
	case m.Inside():
		m.Calliper = at
	case from == FromTail:
		m.Calliper = at - m.Move
	default:
		m.Calliper = at + m.Move
	}
}

// place returns where a saddle stands now, from the datum that it was read from
// last: that reading, carried on by what it was moved since.
func (r *Record) place(saddle int) (at units.Length, from Datum, ok bool) {
	for _, e := range r.Entries {
		if e.Mood == Read && e.Of == Saddle && !math.IsNaN(e.value(saddle)) {
			from = e.How.From
		}
	}
	at, ok = r.placeFrom(saddle, from)
	return at, from, ok
}

// placeFrom returns where a saddle stands now from one datum.
func (r *Record) placeFrom(saddle int, from Datum) (at units.Length, ok bool) {
	groups, _ := r.Groups()
	for _, e := range r.Entries {
		switch {
		case e.Of != Saddle:
		case e.Mood == Read && e.How.From == from:
			if v := e.value(saddle); !math.IsNaN(v) {
				at, ok = units.Length(v), true
			}
		case e.Mood == Did && overlaps(e.On, groups[saddle-1]):
			if from == FromTail {
				at -= e.By
			} else {
				at += e.By
			}
		}
	}
	return at, ok
}

// overlaps reports whether what was done to some strings, none meaning all, was
// done to one of a group.
func overlaps(on, group []int) bool {
	return len(on) == 0 || slices.ContainsFunc(on, func(s int) bool { return slices.Contains(group, s) })
}

// standing gathers the readings of cents that stand for the strings of a saddle,
// and notes in the row their pairs of frets and the strings that have none. Where
// the saddle's place was measured from the nut, they know its setback. A string
// that has shown more or less than the textbook's change reads so many cents of
// the textbook's.
func (r *Record) standing(m *MoveRow) ([]intonation.Note, error) {
	setback, _ := r.Setback(m.Saddle)
	wanted := r.targets()
	var out []intonation.Note
	for j, s := range m.Strings {
		n, courses := len(out), r.courses(s)
		for _, x := range r.newest(Cents, s) {
			if x.Stale {
				continue
			}
			// A reading that stands has a course: what voids the one voids the other.
			c := courses[slices.IndexFunc(courses, func(c course) bool { return c.how == x.How })]
			learned, err := r.learned(c)
			if err != nil {
				return nil, fmt.Errorf("string %d: %w", s, err)
			}
			if c.moved > 0 && math.IsNaN(m.Slopes[j]) {
				m.Slopes[j] = learned.Slope
			}
			if learned.Suspect && !slices.Contains(m.Unsteady, s) {
				m.Unsteady = append(m.Unsteady, s)
			}
			note := intonation.Note{Reading: intonation.Reading{String: s, Low: x.How.Low, High: x.How.At, Setback: setback}}
			note.Cents = units.Cents(x.Value / m.slope(j))
			m.Wanted[j] = target(wanted, s, x.How)
			note.Target = m.Wanted[j] / units.Cents(m.slope(j))
			if s <= len(r.Weights) && r.Weights[s-1] > 0 {
				note.Weight = r.Weights[s-1]
			}
			out = append(out, note)
			if !slices.Contains(m.Pairs, x.How) {
				m.Pairs = append(m.Pairs, x.How)
			}
		}
		if len(out) == n {
			m.Unread = append(m.Unread, s)
		}
	}
	return out, nil
}

// targets are what is wanted of cents, what was told last first.
func (r *Record) targets() []Entry {
	var out []Entry
	for i := len(r.Entries) - 1; i >= 0; i-- {
		if e := &r.Entries[i]; e.Mood == Want && e.Of == Cents {
			out = append(out, *e)
		}
	}
	return out
}

// target is what a string should read at a pair of frets: what is wanted, or 0.
func target(wanted []Entry, s int, how How) units.Cents {
	for _, e := range wanted {
		if e.How != how || len(e.On) > 0 && !slices.Contains(e.On, s) {
			continue
		}
		if len(e.Cents) == 1 {
			return e.Cents[0]
		}
		return units.Cents(e.value(s))
	}
	return 0
}

// course is what a string was read at a pair of frets, from the last time that
// anything but its saddle was changed.
type course struct {
	how    How
	first  intonation.Reading
	rounds []intonation.Round
	since  units.Length // what its saddle was moved by since the last of them
	moved  int          // rounds in which it was moved
}

// courses follows a string at every pair of frets that it was read at.
func (r *Record) courses(s int) []course {
	var out []course
	for i := range r.Entries {
		switch e := &r.Entries[i]; {
		case e.Mood == Did && e.Of == Saddle:
			for i := range out {
				if overlaps(e.On, []int{s}) {
					out[i].since += e.By
				}
			}
		case e.Mood == Did:
			out = slices.DeleteFunc(out, func(c course) bool { return e.voids(Cents, c.how, s) })
		case e.Mood == Read && e.Of == Cents:
			if v := e.value(s); !math.IsNaN(v) {
				out = follow(out, e.How, s, units.Cents(v))
			}
		}
	}
	return out
}

// follow puts a reading of a string into its course, or begins one.
func follow(list []course, how How, s int, cents units.Cents) []course {
	i := slices.IndexFunc(list, func(c course) bool { return c.how == how })
	if i < 0 {
		return append(list, course{how: how, first: intonation.Reading{String: s, Low: how.Low, High: how.At, Cents: cents}})
	}
	c := &list[i]
	if c.since != 0 {
		c.moved++
	}
	c.rounds = append(c.rounds, intonation.Round{Moved: c.since, Cents: cents})
	c.since = 0
	return list
}

// learned is what a string's rounds at a pair of frets have shown.
func (r *Record) learned(c course) (intonation.Learned, error) {
	if len(c.rounds) == 0 {
		return intonation.Learned{}, nil
	}
	tuner, _ := r.TunerError()
	scale, err := r.scaleOn(c.first.String)
	if err != nil {
		return intonation.Learned{}, err
	}
	return intonation.Learn(c.first, c.rounds, r.Division(), scale, tuner)
}
