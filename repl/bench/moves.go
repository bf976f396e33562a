package bench

import (
	"fmt"
	"math"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// MoveRow is what to do to one saddle. NaN stands for what is not known.
type MoveRow struct {
	Saddle   int // from 1, from the treble edge
	Strings  []int
	Move     units.Length // back positive
	Band     units.Length // plus or minus, from the tuner's error
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
			return nil, fmt.Errorf("saddle %d: %w", i+1, err)
		}
		rows[i] = m
	}
	return rows, nil
}

func (r *Record) moveRow(saddle int, group []int) (MoveRow, error) {
	nan := math.NaN()
	m := MoveRow{Saddle: saddle, Strings: group, Move: units.Length(nan), Band: units.Length(nan),
		Turns: units.Turns(nan), Calliper: units.Length(nan), Angle: units.Angle(nan)}
	readings := r.readings(saddle, group)
	for _, s := range group {
		read := false
		for _, x := range readings {
			read = read || x.String == s
		}
		if !read {
			m.Unread = append(m.Unread, s)
		}
	}
	for range group {
		m.Left = append(m.Left, units.Cents(nan))
		m.Stagger = append(m.Stagger, units.Length(nan))
	}
	if len(readings) == 0 {
		return m, nil
	}
	d := r.Division()
	best, err := intonation.Share(readings, d, r.Scale)
	if err != nil {
		return m, err
	}
	m.Move, m.Band = best.Move, 0
	tuner, _ := r.TunerError()
	for _, x := range readings {
		b, err := intonation.Band(x, d, r.Scale, tuner)
		if err != nil {
			return m, err
		}
		m.Band = max(m.Band, b)
	}
	for _, own := range best.Strings {
		for j, s := range group {
			if s == own.String {
				m.Left[j], m.Stagger[j] = own.Left, own.Stagger
			}
		}
	}
	r.hardware(&m)
	return m, nil
}

// hardware fills in what the bridge makes of a move.
func (r *Record) hardware(m *MoveRow) {
	if r.SaddleScrew != 0 {
		m.Turns = r.SaddleScrew.Turns(max(m.Move, -m.Move))
	}
	if len(m.Strings) == 2 && len(m.Unread) == 0 && r.SaddleSpread != 0 {
		gap := r.SaddleSpread / units.Length(r.Count()-1) * units.Length(m.Strings[1]-m.Strings[0])
		m.Angle = units.Slope(m.Stagger[1], gap)
	}
	at, from, ok := r.place(m.Saddle)
	if !ok {
		return
	}
	m.Calliper = at + m.Move
	if from == FromTail {
		m.Calliper = at - m.Move
	}
	if r.Travel[1] != 0 {
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
			for i, s := range e.On {
				if s == saddle && !math.IsNaN(e.value(i)) {
					at, from, ok = e.Lengths[i], e.How.From, true
				}
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

func overlaps(a, b []int) bool {
	for _, x := range a {
		for _, y := range b {
			if x == y {
				return true
			}
		}
	}
	return false
}

// readings gathers the readings of cents that stand for the strings of a
// saddle. Where the saddle's place was measured from the nut, they know its
// setback.
func (r *Record) readings(saddle int, group []int) []intonation.Reading {
	var setback units.Length
	if at, from, ok := r.place(saddle); ok && from == FromNut {
		setback = at - r.Scale
	}
	var out []intonation.Reading
	for _, s := range group {
		for _, x := range r.newest(Cents, s) {
			if !x.Stale {
				out = append(out, intonation.Reading{String: s, Low: x.How.Low, High: x.How.At, Cents: units.Cents(x.Value), Setback: setback})
			}
		}
	}
	return out
}
