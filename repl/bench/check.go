package bench

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Check reports the first thing in the record that cannot be, or nil. What is
// merely unlikely it leaves to Questions. No method panics on a record, checked
// or not.
func (r *Record) Check() error {
	if r.Frets < 0 || r.Frets > MostFrets {
		return fmt.Errorf("got %d frets, want 1 to %d", r.Frets, MostFrets)
	}
	if err := cmp.Or(r.checkSizes(), r.checkSet(), r.checkStated(), r.checkSaddles(), r.checkTravel(), r.checkPlan()); err != nil {
		return err
	}
	size := r.extent()
	for i := range r.Entries {
		if err := r.checkEntry(&r.Entries[i], size); err != nil {
			return err
		}
	}
	return r.checkBoard()
}

// checkSizes refuses what is told and not above 0 and finite.
func (r *Record) checkSizes() error {
	for i, l := range r.Leaves {
		if !positive(l) {
			return fmt.Errorf("got leaf %d of %v, want more than 0", i+1, l)
		}
	}
	return cmp.Or(size("scale", r.Scale), size("spread at the nut", r.NutSpread), size("spread at the saddle", r.SaddleSpread),
		size("frequency of A4", r.A4), size("thread of the saddle screw", r.SaddleScrew), size("thread of the height screw", r.HeightScrew),
		size("gap between screws", r.ScrewGap), size("gap between posts", r.PostGap), size("tuner's error", r.Tuner), size("height of the crowns", r.CrownHeight),
		size("least height of the saddle", r.LeastStands), stated("height of the saddle", r.Stands[:]), stated("room of the saddles", r.HeightRoom), r.checkSide())
}

// checkSide looks at what the side view rests on.
func (r *Record) checkSide() error {
	if n := len(r.HeightRoom); n != 0 && n != 2 {
		return fmt.Errorf("got %d rooms of the saddles, want down and up", n)
	}
	for _, l := range r.Stock {
		if !(l > 0) {
			return fmt.Errorf("got a radius of %v to be had, want more than 0", l)
		}
	}
	if w := r.Swing; w != (action.Swing{}) && !(w.Depth > 0 && w.Depth <= 20 && positive(w.Pluck)) {
		return fmt.Errorf("got a swing of %v plucked %v from the saddle, want more than 0 and at most 20mm, plucked more than 0 from it", w.Depth, w.Pluck)
	}
	if h := r.Heel; h != (action.Heel{}) && !(h.Near >= 0 && h.Far > h.Near && h.Far <= math.MaxFloat64) {
		return fmt.Errorf("got a heel from %v to %v, want the end nearer the nut first", h.Near, h.Far)
	}
	if r.FallFrom < 0 || r.FallFrom >= MostFrets || r.Frets != 0 && r.FallFrom >= r.Frets {
		return fmt.Errorf("got crowns that fall away from fret %d, want a fret before the last", r.FallFrom)
	}
	if !(r.FallBy >= 0 && r.FallBy <= 3) {
		return fmt.Errorf("got crowns that fall away by %v, want 0 to 3mm", r.FallBy)
	}
	return nil
}

// size refuses a value that was told, since it is not 0, and cannot be.
func size[T ~float64](what string, x T) error {
	if x == 0 || positive(x) {
		return nil
	}
	return fmt.Errorf("got a %s of %v, want more than 0", what, x)
}

func positive[T ~float64](x T) bool { return x > 0 && x <= math.MaxFloat64 }

// checkSet looks at the strings and at what they are tuned to.
func (r *Record) checkSet() error {
	n, notes := len(r.Strings), len(r.Tuning)
	switch {
	case max(n, notes) > MostStrings:
		return fmt.Errorf("got %d strings, want at most %d", max(n, notes), MostStrings)
	case n > 0 && notes > 0 && n != notes:
		return fmt.Errorf("got gauges for %s and notes for %d, want as many; record: 1 starts afresh", plural(n, "string"), notes)
	}
	if err := checkGauges(r.Strings); err != nil {
		return err
	}
	a4, _ := r.Concert()
	for i, tone := range r.Tuning {
		if f := tone.Frequency(a4); !positive(f) {
			return fmt.Errorf("got string %d tuned to %v, want more than 0", i+1, f)
		}
	}
	return nil
}

func checkGauges(set []tension.String) error {
	for i, s := range set {
		if !positive(s.Gauge) || !positive(s.UnitWeight) {
			return fmt.Errorf("got string %d of %v and %v, want both more than 0", i+1, s.Gauge, s.UnitWeight)
		}
	}
	return nil
}

// checkStated looks at what is stated of the strings beside their gauges.
func (r *Record) checkStated() error {
	n := r.Count()
	for _, list := range []struct {
		what string
		n    int
		one  bool // one value may stand for all
	}{
		{"cores", len(r.Cores), false}, {"unit weights", len(r.UnitWeights), false},
		{"staggers", len(r.Staggers), false}, {"weights", len(r.Weights), false}, {"after-lengths", len(r.AfterLengths), true}, {"heights at the nut", len(r.NutHeights), true},
	} {
		if list.n != 0 && n != 0 && list.n != n && !(list.one && list.n == 1) {
			return fmt.Errorf("got %d %s, want one for each of %s", list.n, list.what, plural(n, "string"))
		}
	}
	if err := cmp.Or(stated("core", r.Cores), stated("unit weight", r.UnitWeights), stated("after-length", r.AfterLengths),
		stated("height at the nut", r.NutHeights)); err != nil {
		return err
	}
	for i, w := range r.Weights {
		if w != 0 && !positive(w) && !math.IsNaN(w) {
			return fmt.Errorf("got a weight of %v for string %d, want more than 0", w, i+1)
		}
	}
	_, err := r.Set()
	return err
}

// stated refuses values below 0 and infinite ones; NaN is one not told.
func stated[T ~float64](what string, list []T) error {
	for i, x := range list {
		if x < 0 || x > math.MaxFloat64 {
			return fmt.Errorf("got %s %d of %v, want at least 0", what, i+1, x)
		}
	}
	return nil
}

func (r *Record) checkSaddles() error {
	on := map[int]bool{}
	for _, group := range r.Saddles {
		if len(group) == 0 {
			return errors.New("got a saddle with no strings, want at least one on each")
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
	if len(r.Saddles) == 0 {
		return nil
	}
	for s := 1; s <= r.Count(); s++ {
		if !on[s] {
			return fmt.Errorf("got no saddle for string %d, want every string on one, as in 1+2 3+4", s)
		}
	}
	if len(on) > r.Count() {
		return fmt.Errorf("got %s on saddles, want %d", plural(len(on), "string"), r.Count())
	}
	return nil
}

func (r *Record) checkTravel() error {
	if r.Travel == [2]units.Length{} {
		return nil
	}
	if low, high := r.Travel[0], r.Travel[1]; !(low < high && high-low <= math.MaxFloat64) {
		return fmt.Errorf("got travel from %v to %v, want the smallest reading first", low, high)
	}
	return nil
}

// checkBoard looks at the board, as far as it was told.
func (r *Record) checkBoard() error {
	if n := len(r.Radius); n != 0 && n != 2 {
		return fmt.Errorf("got %d radii, want one at the nut and one at the last fret", n)
	}
	for _, l := range r.Radius {
		if !(l > 0) {
			return fmt.Errorf("got a radius of %v, want more than 0", l)
		}
	}
	_, err := r.Board()
	var untold *Missing
	if errors.As(err, &untold) || errors.Is(err, errTwoScales) {
		return nil
	}
	return err
}

// CheckEntry reports why the record cannot keep an entry, or nil.
func (r *Record) CheckEntry(e Entry) error { return r.checkEntry(&e, r.extent()) }

// extent is how many strings a record has, and on which saddles: where only its
// entries tell, that takes all of them to find.
type extent struct {
	strings int
	saddles [][]int
	assumed bool // one saddle a string
}

func (r *Record) extent() extent {
	groups, assumed := r.Groups()
	return extent{r.Count(), groups, assumed}
}

// mostMoved is how far a saddle may have been moved: no bridge has room for more.
const mostMoved = 100 * units.Millimetre

func (r *Record) checkEntry(e *Entry, size extent) error {
	if !e.tellable() {
		return fmt.Errorf("got %v %v, want what can be told so", e.Mood, e.Of)
	}
	if e.Mood == Did {
		if !(e.By >= -mostMoved && e.By <= mostMoved) {
			return fmt.Errorf("got a saddle moved by %v, want at most %v", e.By, mostMoved)
		}
		return cmp.Or(size.checkOn(e), size.checkMoved(e))
	}
	return cmp.Or(r.checkHow(e), size.checkOn(e), r.checkCount(e, size), e.checkValues())
}

// tellable reports whether a subject can be wanted, read or done.
func (e *Entry) tellable() bool {
	switch e.Mood {
	case Want:
		return e.Of == Relief || e.Of == Gap || e.Of == Action || e.Of == Cents || e.Of == Curve
	case Was:
		return e.Of <= Saddle || e.Of == Strings
	case Read:
		return e.Of <= Saddle || e.Of == Buzz || e.Of == Clean
	case Did:
		_, ok := effects[e.Of]
		return ok
	}
	return false
}

// checkHow looks at the frets that something is read at.
func (r *Record) checkHow(e *Entry) error {
	h := e.How
	most := r.Frets
	if most == 0 {
		most = MostFrets
	}
	for _, f := range []int{h.Held[0], h.Held[1], h.At, h.Low} {
		if f > most {
			return fmt.Errorf("got fret %d, want at most %d, the last", f, most)
		}
		if f < 0 {
			return fmt.Errorf("got fret %d, want at least 0", f)
		}
	}
	switch {
	case h.At == 0 && (e.Of == Relief || e.Of == Action || e.Of == Cents):
		return fmt.Errorf("got %v at fret 0, want a fret from 1", e.Of)
	case e.Of == Cents && h.Low >= h.At:
		return fmt.Errorf("got fret %d from fret %d, want the higher fret first", h.At, h.Low)
	case h.Held[1] != 0 && (h.Held[0] == 0 && !h.Edge || h.Held[0] >= h.Held[1]):
		return fmt.Errorf("got frets %d and %d held, want the lower first, from 1", h.Held[0], h.Held[1])
	}
	return nil
}

// most is the largest number that On of an entry may hold, 0 where nothing tells
// it yet, and what is numbered so.
func (x extent) most(e *Entry) (n int, what string) {
	if e.Of == Saddle && e.Mood != Did {
		if x.assumed { // one a string is no number told
			return 0, "saddle"
		}
		return len(x.saddles), "saddle"
	}
	return x.strings, "string"
}

// checkMoved refuses a saddle that was moved under some of its strings alone.
func (x extent) checkMoved(e *Entry) error {
	if e.Of != Saddle || len(e.On) == 0 {
		return nil
	}
	for _, g := range x.saddles {
		left := slices.ContainsFunc(g, func(s int) bool { return !slices.Contains(e.On, s) })
		if left && overlaps(e.On, g) {
			return fmt.Errorf("got a saddle moved under %s, want all of %s", stringList(e.On), Group(g))
		}
	}
	return nil
}

func (x extent) checkOn(e *Entry) error {
	most, what := x.most(e)
	if e.Of == Strings && e.Mood == Was || most == 0 {
		most = MostStrings // a set of another number may have come in
	}
	for i, s := range e.On {
		switch {
		case slices.Contains(e.On[:i], s):
			return fmt.Errorf("got %s %d twice, want it once", what, s)
		case e.Of == Relief:
			if s != 0 {
				return fmt.Errorf("got relief of string %d, want it of the whole neck", s)
			}
		case s < 1 || s > most:
			return fmt.Errorf("got %s %d, want 1 to %d", what, s, most)
		}
	}
	return nil
}

// checkCount looks at how many values there are.
func (r *Record) checkCount(e *Entry, size extent) error {
	n := e.count()
	switch {
	case e.Of == Curve:
		if n > 1 {
			return fmt.Errorf("got %d radii of the curve, want one", n)
		}
		return nil
	case n == 0:
		return fmt.Errorf("got no %v, want a value", e.Of)
	case e.Of == Buzz || e.Of == Clean:
		if len(e.On) != 1 {
			return fmt.Errorf("got notes of %s, want those of one string", plural(len(e.On), "string"))
		}
		return r.checkNotes(e)
	case e.Of == Relief:
		if n > 1 {
			return fmt.Errorf("got %d values of relief, want one", n)
		}
		return nil
	case e.Mood == Want && len(e.On) == 0:
		return size.checkWanted(e.Of, n)
	}
	want := len(e.On)
	switch {
	case want > 0:
		if n == 1 && e.Mood == Want {
			return nil // one for all of them
		}
	case e.Of == Strings:
		return nil
	default:
		want, _ = size.most(e)
	}
	if want > 0 && n != want {
		return fmt.Errorf("got %s, want %d", plural(n, "value"), want)
	}
	return nil
}

// checkNotes refuses notes that have no crown beyond them to touch.
func (r *Record) checkNotes(e *Entry) error {
	for _, f := range e.Frets {
		if r.Frets != 0 && f >= r.Frets {
			return fmt.Errorf("got a note at fret %d, want one before the last, %d: no crown stands beyond that", f, r.Frets)
		}
	}
	return nil
}

// checkWanted looks at how many values are wanted of all the strings.
func (x extent) checkWanted(of Subject, n int) error {
	count := x.strings
	switch {
	case n == 1 || n == count || n == 2 && of == Action || count == 0:
		return nil // the strings may be told later
	case of == Action:
		return fmt.Errorf("got %d wanted heights, want treble and bass, or one for each of %s", n, plural(count, "string"))
	}
	return fmt.Errorf("got %d wanted values of %v, want one for all, or one for each of %s", n, of, plural(count, "string"))
}

// plural writes a number of things.
func plural(n int, of string) string {
	if n != 1 {
		of += "s"
	}
	return fmt.Sprint(n, " ", of)
}

// checkValues refuses values that are no numbers, other than one not read.
func (e *Entry) checkValues() error {
	switch e.Of {
	case Curve:
		for _, l := range e.Lengths {
			if !(l > 0) { // it may be fret.Flat
				return fmt.Errorf("got a curve of %v, want more than 0", l)
			}
		}
		return nil
	case Strings:
		return checkGauges(e.Gauges)
	case Cents:
		return checkAll(e, e.Cents)
	case Buzz, Clean:
		for _, f := range e.Frets {
			if f < 0 || f > MostFrets {
				return fmt.Errorf("got a note at fret %d, want 0 to %d", f, MostFrets)
			}
		}
		return nil
	}
	return checkAll(e, e.Lengths)
}

func checkAll[T ~float64](e *Entry, values []T) error {
	for _, v := range values {
		switch x := float64(v); {
		case math.IsInf(x, 0):
			return fmt.Errorf("got %v of %v, want a number", e.Of, v)
		case math.IsNaN(x) && e.Mood == Want:
			return fmt.Errorf("got no value, want what is wanted for every string")
		}
	}
	return nil
}
