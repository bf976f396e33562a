package bench

import (
	"errors"
	"fmt"
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// Side is the side view of every string, as the record has it.
type Side struct {
	Neck    action.Neck
	Lines   []action.Line // one a string
	Told    []bool        // the string's slot was told or read, not assumed
	Assumed []Text        // what was taken for granted, a line each
}

// Side gathers the side view: from the newest readings that stand, else from
// what is wanted or was assumed.
func (r *Record) Side() (*Side, error) {
	switch {
	case r.Count() == 0:
		return nil, noStrings
	case r.Scale == 0:
		return nil, r.scaleMissing()
	case r.Frets == 0:
		return nil, noFrets
	}
	if err := r.Check(); err != nil {
		return nil, err
	}
	v := &Side{}
	d := r.Division()
	bow, read := r.relief()
	v.Neck = action.Neck{Board: r.boardOrFlat(v), Division: d, Relief: bow,
		FallAway: action.FallAway{From: d.From(r.Scale, r.FallFrom), To: d.From(r.Scale, r.Frets), By: r.FallBy}}
	if !read {
		v.Assumed = append(v.Assumed, textOf("a straight neck: no relief read that shows its bow"))
	} else if r.Plan.divides() {
		v.Assumed = append(v.Assumed, textOf(fmt.Sprintf("a bow from the nut to fret %d, straight beyond", action.BowEnd(d))))
	}
	wanted, _ := r.HeightRows() // where nothing is wanted, what was read must do
	assumedSlot := false
	var unread []int
	for s := 1; s <= r.Count(); s++ {
		h, at, read, err := r.height(s, wanted)
		if err != nil {
			return nil, err
		}
		if !read {
			unread = append(unread, s)
		}
		line, told := r.line(v.Neck, s, h, at)
		if !told {
			line, assumedSlot = v.Neck.Through(s, AssumedNutHeight, at, h), true
		}
		v.Lines, v.Told = append(v.Lines, line), append(v.Told, told)
	}
	if unread != nil {
		v.Assumed = append(v.Assumed, textOf(stringList(unread)+" as high as wanted: no reading stands"))
	}
	if assumedSlot {
		v.Assumed = append(v.Assumed, textOf("strings ", AssumedNutHeight, " over the plane of the frets at the nut, where no slot was told or read"))
	}
	return v, v.Neck.Check()
}

// boardOrFlat returns the board as told, or one that is flat where too little
// was told: heights over it are then those of a straight fret.
func (r *Record) boardOrFlat(v *Side) action.Board {
	b, err := r.Board()
	var untold *Missing
	if errors.As(err, &untold) {
		v.Assumed = append(v.Assumed, textOf("a flat board: no "+untold.What+" told"))
		return action.Board{Surface: fret.Surface{Nut: fret.Flat, End: fret.Flat}, Scale: r.Scale, NutSpread: 1, SaddleSpread: 1, Strings: r.Count()}
	}
	return b
}

// line returns the line of a string that stands at a height over a fret, its
// slot as its newest first gap shows it, or else as it was told; and whether
// either was.
func (r *Record) line(n action.Neck, s int, h units.Length, at int) (action.Line, bool) {
	samples := r.newest(Gap, s)
	for i := len(samples) - 1; i >= 0; i-- {
		x := samples[i]
		way, ok := x.How.gapWay()
		switch gap := units.Length(x.Value); {
		case x.Stale || !ok:
		case way == action.Open && at > 1:
			return n.ThroughTwo(s, 1, gap, at, h), true
		case way != action.Open:
			return n.Through(s, n.SlotFromGap(s, gap, way, 0), at, h), true
		}
	}
	if slot, ok := each(r.NutHeights, s-1); ok {
		return n.Through(s, slot, at, h), true
	}
	return action.Line{}, false
}

// plain returns a string's height at the nut and its rise to the saddle over
// crowns that run as if under the middle of the board, as the model of
// intonation takes them: the string is as high over the 12th as it is here.
func (v *Side) plain(s int) (slot, rise units.Length) {
	l, n := v.Lines[s-1], v.Neck
	at := octave(n.Division)
	slot = n.Slot(s, l)
	drop := n.Relief.Drop(n.Division.From(n.Scale, at))
	return slot, action.AtSaddle(n.Height(s, l, at)-slot-drop, n.Division.Share(at))
}

// Octave is the fret of the octave, the 12th of most necks.
func (r *Record) Octave() int { return octave(r.Division()) }

// octave is the fret of the octave, the 12th of most necks; on one without, the
// last before it.
func octave(d fret.Division) int {
	at := 1
	for d.Cents(at+1) <= units.Octave+0.5 { // NaN past the last
		at++
	}
	return at
}

// gapWay is the way of reading a first gap that action knows, if it does.
func (h How) gapWay() (action.GapWay, bool) {
	switch {
	case h.Held == [2]int{}:
		return action.Open, true
	case h.Held == [2]int{3, 0} && h.Alone:
		return action.OnCrown, true
	case h.Held == [2]int{3, 0}:
		return action.Held, true
	}
	return 0, false
}

// way is the way of reading relief with two frets held or under a straightedge, as
// action takes it; action refuses any other.
func (h How) way() action.Way { return action.Way{Near: h.Held[0], Far: h.Held[1], At: h.At} }

// relief returns the bow of the neck from its newest reading that shows it, and
// whether there was one.
func (r *Record) relief() (action.Relief, bool) {
	d := r.Division()
	samples := r.newest(Relief, 0)
	for i := len(samples) - 1; i >= 0; i-- {
		x := samples[i]
		if bow, err := action.Usual(d, r.Scale).Reading(units.Length(x.Value), x.How.way(), d, r.Scale); err == nil && !x.Stale {
			return bow, true
		}
	}
	return action.Usual(d, r.Scale), false
}

// ReliefAs returns what the relief that was read last would read in another way,
// by the curve that action takes a neck to have. It is false where no reading
// stands that shows the bow, or that way does not.
func (r *Record) ReliefAs(how How) (units.Length, bool) {
	bow, ok := r.relief()
	if !ok || how.way().Check(r.Division().Frets()) != nil {
		return 0, false
	}
	return bow.Reads(how.way(), r.Division(), r.Scale), true
}

// NutMargin is by how much more than wanted a first gap should read when cutting
// stops: the last strokes are taken string up, reading again (our judgement).
const NutMargin = 0.05 * units.Millimetre

// NutRow is one slot of the nut. NaN stands for what is not known.
type NutRow struct {
	String int
	How    How          // how Gap was read
	Gap    units.Length // at the first fret, as read last
	Stale  bool
	Slot   units.Length // height over the plane of the frets, as it is
	Wanted units.Length // and as it should be
	Cut    action.Cut   // until the gap reads NutMargin more than wanted; Stop is NaN where the crowns' height is not told
	Stack  leaves.Stack // for Stop
}

// NutRows returns every slot of the nut, what is wanted of it, and how far to
// cut.
func (r *Record) NutRows() ([]NutRow, []Text, error) {
	v, err := r.Side()
	if err != nil {
		return nil, nil, err
	}
	wanted, stop := r.wantedSlots(v, 0), r.wantedSlots(v, NutMargin)
	nan := units.Length(math.NaN())
	crowns := nan
	if r.CrownHeight != 0 {
		crowns = r.CrownHeight
	}
	var rows []NutRow
	for i, l := range v.Lines {
		s := i + 1
		row := NutRow{String: s, Gap: nan, Slot: nan, Wanted: wanted[i]}
		if samples := r.newest(Gap, s); len(samples) > 0 {
			x := samples[len(samples)-1]
			row.How, row.Gap, row.Stale = x.How, units.Length(x.Value), x.Stale
		}
		if v.Told[i] {
			row.Slot = v.Neck.Slot(s, l)
		}
		row.Cut = action.Deepen(row.Slot, row.Wanted, stop[i]-row.Wanted, crowns)
		row.Stack = r.stackOf(row.Cut.Stop)
		rows = append(rows, row)
	}
	return rows, v.Assumed, nil
}

// wantedSlots returns how high every slot should stand over the plane of the
// frets for first gaps of so much more than is wanted, NaN where nothing is.
func (r *Record) wantedSlots(v *Side, more units.Length) []units.Length {
	wishes, _ := r.wishes(Gap)
	out := make([]units.Length, len(v.Lines))
	heights, _ := r.wishes(Action) // without, the saddles stay
	for i, l := range v.Lines {
		s, w := i+1, wishes[i]
		way, ok := w.how.gapWay()
		if !ok {
			out[i] = units.Length(math.NaN())
			continue
		}
		// An open gap is that of a string that stands at its wanted height; others know no saddle.
		if i < len(heights) && heights[i].told && heights[i].how.At > 1 {
			l = v.Neck.ThroughTwo(s, 1, w.value+more, heights[i].how.At, heights[i].value)
		}
		out[i] = v.Neck.SlotFromGap(s, w.value+more, way, l.Saddle)
	}
	return out
}
