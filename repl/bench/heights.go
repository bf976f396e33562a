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
	Tilt     units.Angle  // of the saddle, where two screws turn it, positive where its treble end goes up
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
	h.Stack = r.stackOf(h.Wanted)
	return h
}

// stackOf returns the leaves to stack for a height, none where there are none or
// no stack can make it.
func (r *Record) stackOf(height units.Length) leaves.Stack {
	s, _ := r.Leaves.Best(height, leaves.Most, leaves.Within)
	return s
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

// wishes returns what is wanted of every string. What was told last counts. It
// fails only where heights are wanted on a curve.
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

// lifted returns the strings that go up and down together: those on one saddle,
// or all of them on a bridge that two posts raise.
func (r *Record) lifted() [][]int {
	groups, _ := r.Groups()
	if r.PostGap == 0 {
		return groups
	}
	all := make([]int, r.Count())
	for i := range all {
		all[i] = i + 1
	}
	return [][]int{all}
}

// turnScrews turns changes at the saddle into turns of the height screws.
func (r *Record) turnScrews(rows []HeightRow) error {
	groups, _ := r.Groups()
	for i, group := range groups {
		for _, s := range group {
			rows[s-1].Saddle = i + 1
		}
	}
	if r.HeightScrew == 0 {
		return nil
	}
	for _, group := range r.lifted() {
		changes := make([]units.Length, len(group))
		whole := true
		for j, s := range group {
			changes[j] = rows[s-1].AtSaddle
			whole = whole && !math.IsNaN(float64(changes[j]))
		}
		if !whole {
			continue
		}
		if err := r.turn(rows, group, changes); err != nil {
			return err
		}
	}
	return nil
}

// turn turns the screws under some strings: one, half way between the most and
// the least that they ask for; two, which stand apart about the middle of the
// strings, or posts about the middle of the board.
func (r *Record) turn(rows []HeightRow, group []int, changes []units.Length) error {
	gap, middle := r.PostGap, units.Length(0)
	if gap == 0 {
		gap = r.ScrewGap
		for _, s := range group {
			middle += r.offset(s) / units.Length(len(group))
		}
	}
	if gap == 0 {
		by, left := action.OneScrew(changes)
		for j, s := range group {
			rows[s-1].Treble, rows[s-1].Left = r.HeightScrew.Turns(by), left[j]
		}
		return nil
	}
	if r.SaddleSpread == 0 && len(group) > 1 {
		return noSpread
	}
	if r.Plan.Gaps && len(r.Strings) != r.Count() {
		return noStrings
	}
	screws, err := action.TwoScrews(changes, r.offsets(group), middle+gap/2, middle-gap/2)
	if err != nil {
		return err
	}
	for j, s := range group {
		h := &rows[s-1]
		h.TwoScrew, h.Left, h.Tilt = true, screws.Left[j], screws.Tilt
		h.Treble, h.Bass = r.HeightScrew.Turns(screws.Treble), r.HeightScrew.Turns(screws.Bass)
	}
	return nil
}

func (r *Record) offsets(strs []int) []units.Length {
	out := make([]units.Length, len(strs))
	for i, s := range strs {
		out[i] = r.offset(s)
	}
	return out
}

// Sanding returns what to take off beneath a one-piece saddle for the changes
// that the rows ask for. It is false where the saddle is not told to be one, or
// a change is not known.
func (r *Record) Sanding(rows []HeightRow) (s action.Sanding, ok bool, err error) {
	if !r.onePiece() || len(rows) < 2 {
		return s, false, nil
	}
	if r.SaddleSpread == 0 {
		return s, false, noSpread
	}
	changes, strs := make([]units.Length, len(rows)), make([]int, len(rows))
	for i, h := range rows {
		if math.IsNaN(float64(h.AtSaddle)) {
			return s, false, nil
		}
		changes[i], strs[i] = h.AtSaddle, h.String
	}
	s, err = action.Sand(changes, r.offsets(strs), max(0, r.Stands[0]-r.LeastStands), max(0, r.Stands[1]-r.LeastStands))
	return s, err == nil, err
}

// Tops is the curve that the tops of the saddles need for the wanted heights.
type Tops struct {
	Levels []units.Length // of every string at the scale line, over the lower of the outer two
	Best   action.Curve   // the radius through the outer two that misses the others least
	Stock  []action.Curve // and how far the radii to be had miss; Worst is NaN for one too small to span the strings
}

// Tops returns the curve that the wanted heights ask for over the saddles: of the
// strings' undersides, or of their centres where the saddles carry those. The
// slots of the nut are as they are wanted, else as the side view has them.
func (r *Record) Tops() (*Tops, error) {
	b, err := r.Board()
	if err != nil {
		return nil, err
	}
	rows, err := r.HeightRows()
	if err != nil {
		return nil, err
	}
	v, err := r.Side()
	if err != nil {
		return nil, err
	}
	slots := r.wantedSlots(v, 0)
	t := &Tops{}
	var gauges []units.Length
	for i, h := range rows {
		if math.IsNaN(float64(h.Wanted)) {
			return nil, noWanted
		}
		slot := slots[i]
		if math.IsNaN(float64(slot)) {
			slot = v.Neck.Slot(h.String, v.Lines[i])
		}
		t.Levels = append(t.Levels, v.Neck.Through(h.String, slot, h.Fret, h.Wanted).Saddle)
		if i < len(r.Strings) {
			gauges = append(gauges, r.Strings[i].Gauge)
		}
	}
	if r.Centres {
		if len(gauges) != len(rows) {
			return nil, noStrings
		}
		t.Levels = action.Centres(nil, t.Levels, gauges)
	}
	low := min(t.Levels[0], t.Levels[len(t.Levels)-1])
	for i := range t.Levels {
		t.Levels[i] -= low
	}
	if t.Best, err = b.BestCurve(t.Levels); err != nil {
		return nil, err
	}
	for _, radius := range r.Stock {
		c, err := b.Curve(t.Levels, radius)
		if err != nil { // too small to span the strings
			c = action.Curve{Radius: radius, Worst: units.Length(math.NaN())}
		}
		t.Stock = append(t.Stock, c)
	}
	return t, nil
}
