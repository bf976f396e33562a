package bench

import (
	"fmt"
	"slices"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
)

// AssumedSwing is the room that a string is taken to ask for until it is told: a
// firm stroke over the sounding board (our judgement).
var AssumedSwing = action.Swing{Depth: 0.4 * units.Millimetre, Pluck: 120 * units.Millimetre}

// swing returns the room that a plucked string asks for, and whether it was
// assumed. A pluck that a short scale has no room for stands in its middle.
func (r *Record) swing() (w action.Swing, assumed bool) {
	if r.Swing != (action.Swing{}) {
		return r.Swing, false
	}
	w = AssumedSwing
	w.Pluck = min(w.Pluck, r.Scale/2)
	w.Depth = min(w.Depth, r.Scale/50)
	return w, true
}

// heard returns the notes of a string that were told to buzz and to ring clean,
// each as it was told last, unless something done since voids it.
func (r *Record) heard(s int) (buzzing, clean []int) {
	last := map[int]Subject{}
	for _, e := range r.Entries {
		switch {
		case e.Mood == Did && e.voids(Buzz, How{}, s):
			clear(last)
		case e.Of == Slot && e.voids(Gap, How{}, s):
			delete(last, 0) // a slot speaks for the open string alone
		case (e.Of == Buzz || e.Of == Clean) && slices.Contains(e.On, s):
			for _, f := range e.Frets {
				last[f] = e.Of
			}
		}
	}
	for f, of := range last {
		if of == Buzz {
			buzzing = append(buzzing, f)
		} else {
			clean = append(clean, f)
		}
	}
	slices.Sort(buzzing)
	slices.Sort(clean)
	return buzzing, clean
}

// BuzzRow is one string over its crowns: where it comes closest, how low it could
// stand, and what may make it buzz.
type BuzzRow struct {
	String   int
	Action   units.Length // at fret At, as it stands
	At       int
	Closest  action.Spare // the fretted note with least room beyond its swing
	Open     action.Spare // the same of the open string
	Lowest   units.Length // action at fret At with just room for the swing
	Bound    action.Spare // the note that binds it then
	Buzzing  []int
	Clean    []int
	Suspects []action.Suspect // none where nothing was told to buzz
	Bows     []Bow            // what relief does to Lowest
}

// Bow is the lowest action of a string at one relief.
type Bow struct {
	Bow    units.Length
	Lowest units.Length // at fret At of the row
	Now    bool         // the neck has this relief
}

// BuzzRows returns every string over its crowns, and what was assumed.
func (r *Record) BuzzRows() ([]BuzzRow, []Text, error) {
	v, err := r.Side()
	if err != nil {
		return nil, nil, err
	}
	w, assumed := r.swing()
	notes := v.Assumed
	if assumed {
		notes = append(notes, textOf("a swing of ", w.Depth, ", plucked ", w.Pluck, " from the saddle: tell swing for yours"))
	}
	var rows []BuzzRow
	for i, l := range v.Lines {
		row, err := r.buzzRow(v.Neck, i+1, l, w)
		if err != nil {
			return nil, nil, fmt.Errorf("string %d: %w", i+1, err)
		}
		rows = append(rows, row)
	}
	return rows, notes, nil
}

func (r *Record) buzzRow(n action.Neck, s int, l action.Line, w action.Swing) (BuzzRow, error) {
	row := BuzzRow{String: s, At: octave(n.Division), Open: n.Spare(s, l, 0, w)}
	row.Action = n.Height(s, l, row.At)
	row.Closest = n.Spare(s, l, 1, w)
	for f := 2; f < r.Frets; f++ {
		if x := n.Spare(s, l, f, w); x.By < row.Closest.By {
			row.Closest = x
		}
	}
	low, err := n.Lowest(s, n.Slot(s, l), w)
	if err != nil {
		return row, err
	}
	row.Lowest, row.Bound = n.Height(s, low.Line, row.At), low.Note
	row.Buzzing, row.Clean = r.heard(s)
	if len(row.Buzzing) > 0 {
		if row.Suspects, err = n.Suspects(s, l, w, row.Buzzing, row.Clean, r.measured(s)...); err != nil {
			return row, err
		}
	}
	row.Bows, err = bows(n, s, n.Slot(s, l), row.At, w)
	return row, err
}

// measured lists the faults of what a reading that stands has shown, so that they
// can be no larger than it may be off.
func (r *Record) measured(s int) []action.Fault {
	var out []action.Fault
	if _, read := r.relief(); read {
		out = append(out, action.BowSmall, action.BowLarge)
	}
	stands := func(of Subject) bool {
		return slices.ContainsFunc(r.newest(of, s), func(x Sample) bool { return !x.Stale })
	}
	if stands(Gap) {
		out = append(out, action.SlotLow)
	}
	if stands(Action) {
		out = append(out, action.SaddleLow)
	}
	return out
}

// bows lays reliefs under a string: some usual ones, and what the neck has, in
// place of one that is the same to a hundredth of a millimetre.
func bows(n action.Neck, s int, slot units.Length, at int, w action.Swing) ([]Bow, error) {
	now := n.Relief.Bow
	list := slices.DeleteFunc([]units.Length{0, 0.1, 0.2, 0.3, 0.4, 0.5}, func(bow units.Length) bool { return max(bow-now, now-bow) < 0.005 })
	list = append(list, now)
	slices.Sort(list)
	var out []Bow
	for _, bow := range list {
		n.Relief.Bow = bow
		low, err := n.Lowest(s, slot, w)
		if err != nil {
			return nil, err
		}
		out = append(out, Bow{bow, n.Height(s, low.Line, at), bow == now})
	}
	return out, nil
}

// ClearRow is one string pressed down at one fret, or open.
type ClearRow struct {
	String  int
	Fretted int            // 0 is open
	Over    []units.Length // how far it clears every higher crown, up to the last
	Closest action.Spare   // the crown where it has least room beyond its swing
}

// ClearRows returns how far every string clears every crown, open and pressed
// down at every fret but the last, and what was assumed.
func (r *Record) ClearRows() ([]ClearRow, []Text, error) {
	v, err := r.Side()
	if err != nil {
		return nil, nil, err
	}
	w, _ := r.swing()
	var rows []ClearRow
	for i, l := range v.Lines {
		for f := range r.Frets {
			rows = append(rows, ClearRow{String: i + 1, Fretted: f, Over: v.Neck.Clearances(nil, i+1, l, f), Closest: v.Neck.Spare(i+1, l, f, w)})
		}
	}
	return rows, v.Assumed, nil
}

// Shim returns the shim that changes the height of the strings at the saddles
// with the saddles left as they are, and whether the saddles' own room would do
// instead; told says whether that room was.
func (r *Record) Shim(change units.Length) (shim action.Shim, room, told bool, err error) {
	switch {
	case r.Scale == 0:
		return shim, false, false, r.scaleMissing()
	case r.Heel == action.Heel{}:
		return shim, false, false, noHeel
	}
	shim, err = r.Heel.Shim(change, r.Scale)
	return shim, r.inRoom(change), len(r.HeightRoom) > 0, err
}

// inRoom reports whether the saddles' own travel was told, and reaches so far.
func (r *Record) inRoom(change units.Length) bool {
	return len(r.HeightRoom) == 2 && -change <= r.HeightRoom[0] && change <= r.HeightRoom[1]
}
