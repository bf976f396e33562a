package bench

import (
	"math"
	"slices"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
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
	if err := r.Check(); err != nil {
		return nil, err
	}
	if _, ok := r.wanted(Action); !ok {
		return nil, noWanted
	}
	if r.Count() == 0 {
		return nil, noStrings
	}
	wishes, err := r.wishes(Action)
	if err != nil {
		return nil, err
	}
	d := r.Division()
	rows := make([]HeightRow, len(wishes))
	for i, w := range wishes {
		rows[i] = r.heightRow(i+1, w, d)
	}
	if err := r.turnScrews(rows); err != nil {
		return nil, err
	}
	return rows, nil
}

func (r *Record) heightRow(s int, w wish, d fret.Division) HeightRow {
	nan := math.NaN()
	h := HeightRow{String: s, Fret: w.how.At, Wanted: w.value, Read: units.Length(nan), AtSaddle: units.Length(nan),
		Left: units.Length(nan), Treble: units.Turns(nan), Bass: units.Turns(nan)}
	if x, ok := taken(r.newest(Action, s), w.how); ok {
		h.Read, h.Stale = units.Length(x.Value), x.Stale
	}
	if !h.Stale {
		h.AtSaddle = action.AtSaddle(h.Wanted-h.Read, d.Share(h.Fret))
	}
	if len(r.Leaves) > 0 {
		// A height that no stack can make leaves the stack empty.
		h.Stack, _ = r.Leaves.Best(h.Wanted, leaves.Most, leaves.Within)
	}
	return h
}

// taken returns the sample that was read so.
func taken(samples []Sample, how How) (Sample, bool) {
	for _, s := range samples {
		if s.How == how {
			return s, true
		}
	}
	return Sample{}, false
}

// wish is what is wanted of one string. Where nothing was told of it, value is
// NaN, and how is that of the others.
type wish struct {
	how   How
	value units.Length
	told  bool
}

// wishes returns what is wanted of every string. What was told last counts.
func (r *Record) wishes(of Subject) ([]wish, error) {
	last, _ := r.wanted(of)
	out := slices.Repeat([]wish{{how: last.How, value: units.Length(math.NaN())}}, r.Count())
	for _, e := range r.Entries {
		if e.Mood != Want || e.Of != of {
			continue
		}
		values, err := r.perString(e)
		if err != nil {
			return nil, err
		}
		for i, v := range values {
			s := i + 1
			if len(e.On) > 0 {
				s = e.On[i]
			}
			if s <= len(out) {
				out[s-1] = wish{e.How, v, true}
			}
		}
	}
	return out, nil
}

// perString gives every string that an entry speaks of its wanted value: one
// stands for all, and of heights two are the outer strings'.
func (r *Record) perString(e Entry) ([]units.Length, error) {
	n := len(e.Lengths)
	switch treble, bass := e.Lengths[0], e.Lengths[n-1]; {
	case len(e.On) == 0 && n <= 2 && e.Of == Action:
		return r.curved(e, treble, bass)
	case len(e.On) == 0 && n == 1:
		return slices.Repeat(e.Lengths, r.Count()), nil
	case n == 1:
		return slices.Repeat(e.Lengths, len(e.On)), nil
	}
	return e.Lengths, nil
}

// curved gives every string its height between those of the outer two, on the
// curve that is wanted.
func (r *Record) curved(e Entry, treble, bass units.Length) ([]units.Length, error) {
	curve, ok := r.wanted(Curve)
	if !ok || len(curve.Lengths) == 0 {
		return action.Even(nil, r.Count(), treble, bass), nil
	}
	b, err := r.Board()
	if err != nil {
		return nil, err
	}
	return b.OnRadius(nil, r.Division().From(r.Scale, e.How.At), treble, bass, curve.Lengths[0])
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
		switch {
		case r.HeightScrew == 0 || !whole:
		case r.ScrewGap == 0:
			r.turnOne(rows, group, changes)
		default:
			if err := r.turnTwo(rows, group, changes); err != nil {
				return err
			}
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
	if r.SaddleSpread == 0 && len(group) > 1 {
		return noSpread
	}
	offsets := make([]units.Length, len(group))
	var middle units.Length
	for j, s := range group {
		offsets[j] = r.offset(s)
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
