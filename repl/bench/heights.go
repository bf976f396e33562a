package bench

import (
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// HeightRow is one string's height. NaN stands for what is not known.
type HeightRow struct {
	String   int
	Fret     int
	Wanted   units.Length
	Read     units.Length
	Stale    bool         // the reading is void
	AtSaddle units.Length // change of height at the saddle, up positive
	Saddle   int          // which saddle carries the string, from 1
	Treble   units.Turns  // of the saddle's treble height screw, raising positive; its only screw's where it has one
	Bass     units.Turns  // of its bass height screw
	TwoScrew bool
	Left     units.Length // what the screws cannot give this string, at the saddle
	Stack    leaves.Stack // to check the wanted height with
}

// HeightRows returns every string's wanted height, what was read, and what to
// change at its saddle.
func (r *Record) HeightRows() ([]HeightRow, error) {
	want, ok := r.wanted(Action)
	if !ok {
		return nil, noWanted
	}
	n := r.Count()
	if n == 0 {
		return nil, noStrings
	}
	wanted, err := r.wantedHeights(want, n)
	if err != nil {
		return nil, err
	}
	share := r.Division().Share(want.How.At)
	rows := make([]HeightRow, n)
	nan := units.Length(math.NaN())
	for i := range rows {
		h := HeightRow{String: i + 1, Fret: want.How.At, Wanted: wanted[i], Read: nan, AtSaddle: nan, Left: nan,
			Treble: units.Turns(math.NaN()), Bass: units.Turns(math.NaN())}
		for _, s := range r.newest(Action, i+1) {
			if s.How == want.How {
				h.Read, h.Stale = units.Length(s.Value), s.Stale
			}
		}
		if !h.Stale {
			h.AtSaddle = action.AtSaddle(h.Wanted-h.Read, share)
		}
		if len(r.Leaves) > 0 {
			// A height that no stack can make leaves the stack empty.
			h.Stack, _ = r.Leaves.Best(h.Wanted, leaves.Most, leaves.Within)
		}
		rows[i] = h
	}
	return rows, r.turnScrews(rows)
}

// wantedHeights spreads what was wanted over the strings.
func (r *Record) wantedHeights(want Entry, n int) ([]units.Length, error) {
	if len(want.Lengths) == n && n != 2 {
		return want.Lengths, nil
	}
	treble, bass := want.Lengths[0], want.Lengths[len(want.Lengths)-1]
	curve, ok := r.wanted(Curve)
	if !ok || curve.Lengths == nil {
		return action.Even(nil, n, treble, bass), nil
	}
	b, err := r.Board()
	if err != nil {
		return nil, err
	}
	return b.OnRadius(nil, r.Division().From(r.Scale, want.How.At), treble, bass, curve.Lengths[0])
}

// turnScrews turns changes at the saddle into turns of the height screws.
func (r *Record) turnScrews(rows []HeightRow) error {
	groups, _ := r.Groups()
	for i, group := range groups {
		changes := make([]units.Length, len(group))
		whole := true
		for j, s := range group {
			rows[s-1].Saddle = i + 1
			changes[j] = rows[s-1].AtSaddle
			whole = whole && !math.IsNaN(float64(changes[j]))
		}
		if r.HeightScrew == 0 || !whole {
			continue
		}
		var err error
		if r.ScrewGap != 0 {
			err = r.turnTwo(rows, group, changes)
		} else {
			r.turnOne(rows, group, changes)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// turnOne turns the one screw of a saddle half way between the most and the
// least that its strings ask for.
func (r *Record) turnOne(rows []HeightRow, group []int, changes []units.Length) {
	most, least := changes[0], changes[0]
	for _, c := range changes {
		most, least = max(most, c), min(least, c)
	}
	by := (most + least) / 2
	for j, s := range group {
		rows[s-1].Treble = r.HeightScrew.Turns(by)
		rows[s-1].Left = changes[j] - by
	}
}

// turnTwo turns the two screws of a saddle, which stand ScrewGap apart about
// the middle of its strings.
func (r *Record) turnTwo(rows []HeightRow, group []int, changes []units.Length) error {
	b := action.Board{Scale: r.Scale, NutSpread: r.NutSpread, SaddleSpread: r.SaddleSpread, Strings: len(rows)}
	if r.SaddleSpread == 0 && len(group) > 1 {
		return noSpread
	}
	offsets := make([]units.Length, len(group))
	var middle units.Length
	for j, s := range group {
		offsets[j] = b.Offset(s, b.Scale)
		middle += offsets[j] / units.Length(len(group))
	}
	screws, err := action.TwoScrews(changes, offsets, middle+r.ScrewGap/2, middle-r.ScrewGap/2)
	if err != nil {
		return err
	}
	for j, s := range group {
		h := &rows[s-1]
		h.TwoScrew = true
		h.Treble, h.Bass = r.HeightScrew.Turns(screws.Treble), r.HeightScrew.Turns(screws.Bass)
		h.Left = screws.Left[j]
	}
	return nil
}
