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
	Move     units.Length // back positive
	Band     units.Length // plus or minus, from the tuner's error in every reading
	Fret     int          // the fret that the move brings into tune: that of the first pair
	Pairs    []How        // the pairs of frets that it was reckoned from, each once
	Turns    units.Turns  // of the saddle screw, over the distance; which way it turns is for the eye
	Calliper units.Length // what the saddle's place must read after the move
	Past     units.Length // how far that lies beyond the saddle's travel; 0 within it
	Left     []units.Cents
	Stagger  []units.Length // how much further back each string's break point should stand than the first's
	Angle    units.Angle    // of the saddle top that gives two strings their stagger
	Unread   []int          // strings with no reading that still stands
}

// Known reports whether there is a reading to move by.
func (m MoveRow) Known() bool { return !math.IsNaN(float64(m.Move)) }

// Inside reports whether the move is within the tuner's error: nothing to do.
func (m MoveRow) Inside() bool { return math.Abs(float64(m.Move)) <= float64(m.Band) }

// MoveRows returns the move for every saddle from the readings that stand.
func (r *Record) MoveRows() ([]MoveRow, error) {
	if err := r.Check(); err != nil {
		return nil, err
	}
	if r.Scale == 0 {
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

func (r *Record) moveRow(saddle int, group []int) (MoveRow, error) {
	nan := math.NaN()
	m := MoveRow{Saddle: saddle, Strings: group, Move: units.Length(nan), Band: units.Length(nan),
		Turns: units.Turns(nan), Calliper: units.Length(nan), Angle: units.Angle(nan)}
	for range group {
		m.Left = append(m.Left, units.Cents(nan))
		m.Stagger = append(m.Stagger, units.Length(nan))
	}
	readings := r.standing(&m)
	if len(readings) == 0 {
		return m, nil
	}
	d := r.Division()
	best, err := intonation.Share(readings, d, r.Scale)
	if err != nil {
		return m, err
	}
	m.Move, m.Fret = best.Move, m.Pairs[0].At
	if m.Band, err = r.band(readings, d); err != nil {
		return m, err
	}
	for _, own := range best.Strings {
		j := slices.Index(group, own.String)
		m.Left[j], m.Stagger[j] = own.Left, own.Stagger
	}
	if slices.Contains(m.Unread, group[0]) {
		// Staggers are told from the first string, which says nothing.
		for j := range m.Stagger {
			m.Stagger[j] = units.Length(nan)
		}
	}
	r.hardware(&m)
	return m, nil
}

// band is how uncertain the move for some readings is, plus or minus: what it
// comes to with all of them sharper, or all flatter, by the tuner's error. A
// reading is a difference of two notes, so it carries the square root of 2 of
// that. Readings that say little of the saddle, at low frets, so add little.
func (r *Record) band(readings []intonation.Reading, d fret.Division) (units.Length, error) {
	tuner, _ := r.TunerError()
	var ends [2]units.Length
	for i, by := range []units.Cents{-math.Sqrt2 * tuner, math.Sqrt2 * tuner} {
		shifted := slices.Clone(readings)
		for j := range shifted {
			shifted[j].Cents += by
		}
		s, err := intonation.Share(shifted, d, r.Scale)
		if err != nil {
			return 0, fmt.Errorf("with a tuner good to %v: %w", tuner, err)
		}
		ends[i] = s.Move
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
	m.Calliper = at + m.Move
	if from == FromTail {
		m.Calliper = at - m.Move
	}
	if r.Travel[0] < r.Travel[1] {
		m.Past = max(m.Calliper-r.Travel[1], r.Travel[0]-m.Calliper, 0)
	}
}

// place returns where a saddle stands now: its newest reading, carried on by
// what it was moved since.
func (r *Record) place(saddle int) (at units.Length, from Datum, ok bool) {
	groups, _ := r.Groups()
	for _, e := range r.Entries {
		switch {
		case e.Of != Saddle:
		case e.Mood == Read:
			if v := e.value(saddle); !math.IsNaN(v) {
				at, from, ok = units.Length(v), e.How.From, true
			}
		case e.Mood == Did && overlaps(e.On, groups[saddle-1]):
			if from == FromTail {
				at -= e.By
			} else {
				at += e.By
			}
		}
	}
	return at, from, ok
}

// overlaps reports whether what was done to some strings, none meaning all, was
// done to one of a group.
func overlaps(on, group []int) bool {
	return len(on) == 0 || slices.ContainsFunc(on, func(s int) bool { return slices.Contains(group, s) })
}

// standing gathers the readings of cents that stand for the strings of a saddle,
// and notes in the row their pairs of frets and the strings that have none. Where
// the saddle's place was measured from the nut, they know its setback.
func (r *Record) standing(m *MoveRow) []intonation.Reading {
	setback, _ := r.Setback(m.Saddle)
	var out []intonation.Reading
	for _, s := range m.Strings {
		n := len(out)
		for _, x := range r.newest(Cents, s) {
			if x.Stale {
				continue
			}
			out = append(out, intonation.Reading{String: s, Low: x.How.Low, High: x.How.At, Cents: units.Cents(x.Value), Setback: setback})
			if !slices.Contains(m.Pairs, x.How) {
				m.Pairs = append(m.Pairs, x.How)
			}
		}
		if len(out) == n {
			m.Unread = append(m.Unread, s)
		}
	}
	return out
}
