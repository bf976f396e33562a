package bench

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/units"
)

// near is how close a height or a relief must be to count as right: what a leaf
// can tell apart on the bench (our judgement).
const near = 0.05 * units.Millimetre

// Step is one thing to do next.
type Step struct {
	Do      string
	Why     string
	Stale   []Subject // the readings to take again after it
	Caution string    // or empty
	Of      Subject
	On      []int // the strings; none for the whole instrument
	Reads   bool  // it only reads
}

// Names of the readings, as they are told.
var subjectNames = map[Subject]string{Relief: "relief", Gap: "gap", Action: "action", Cents: "cents", Saddle: "saddle"}

// String names the subject of a reading as it is told, such as "action".
func (s Subject) String() string { return subjectNames[s] }

// Next returns the steps that the record asks for, in the order the trade
// teaches most: relief, heights, nut, saddles. It refuses nothing: later steps
// stand in the list too, and say where they rest on readings that an earlier one
// voids. It never offers the rod for the sake of action.
func (r *Record) Next() []Step {
	var steps []Step
	for _, more := range [][]Step{r.nextRelief(), r.nextHeights(), r.nextGap(), r.nextCents()} {
		steps = append(steps, more...)
	}
	for i := range steps {
		if n := r.doubtedBy(steps[i], steps[:i]); n > 0 {
			steps[i].Why += fmt.Sprintf("; step %d voids this reading: take it again first", n)
		}
	}
	if len(steps) == 0 && r.judged() {
		steps = append(steps, Step{Do: "play every fret of every string; let it settle; read everything once more", Why: "all that was read is as wanted", Reads: true})
	}
	return steps
}

// judged reports whether anything read could be held against what is wanted.
func (r *Record) judged() bool {
	moves, err := r.MoveRows()
	for _, m := range moves {
		if err == nil && m.Known() {
			return true
		}
	}
	heights, err := r.HeightRows()
	for _, h := range heights {
		if err == nil && !math.IsNaN(float64(h.Read)) {
			return true
		}
	}
	_, wanted := r.wanted(Relief)
	return wanted && len(r.newest(Relief, 0)) > 0
}

// basis is the reading that a thing done rests on.
var basis = map[Subject]Subject{Rod: Relief, Height: Action, Slot: Gap, Saddle: Cents}

// doubtedBy returns the number, from 1, of the first earlier step that voids the
// reading a step rests on, or 0.
func (r *Record) doubtedBy(step Step, earlier []Step) int {
	of, rests := basis[step.Of]
	if step.Reads || !rests {
		return 0
	}
	for n, e := range earlier {
		if e.Reads {
			continue
		}
		for _, s := range step.On {
			if r.voids(Entry{Of: e.Of, On: e.On}, of, s) {
				return n + 1
			}
		}
		if step.On == nil && r.voids(Entry{Of: e.Of, On: e.On}, of, 0) {
			return n + 1
		}
	}
	return 0
}

// voidedBy lists the readings that doing a thing voids, and that this record
// keeps.
func (r *Record) voidedBy(done Subject) []Subject {
	e := effects[done]
	var out []Subject
	for _, x := range []struct {
		of Subject
		is effect
	}{{Relief, e.relief}, {Gap, e.gap}, {Action, e.action}, {Cents, e.cents}} {
		if x.is == void && r.keeps(x.of) {
			out = append(out, x.of)
		}
	}
	return out
}

func (r *Record) keeps(of Subject) bool {
	for _, e := range r.Entries {
		if e.Of == of && e.Mood != Did {
			return true
		}
	}
	return false
}

func (r *Record) nextRelief() []Step {
	want, ok := r.wanted(Relief)
	if !ok {
		return nil
	}
	way := fmt.Sprintf("relief, %v", want.How.relief())
	now := unread
	other := false
	// Relief belongs to the whole neck, kept as string 0.
	for _, s := range r.newest(Relief, 0) {
		if s.How == want.How {
			now = s
		} else {
			other = true
		}
	}
	switch {
	case math.IsNaN(now.Value) && other:
		return []Step{{Do: "read " + way, Why: "it was read another way, and ways do not compare", Reads: true, Of: Relief}}
	case math.IsNaN(now.Value):
		return []Step{{Do: "read " + way, Why: "not read yet", Reads: true, Of: Relief}}
	case now.Stale:
		return []Step{{Do: "read " + way, Why: "something done since voids it", Reads: true, Of: Relief}}
	}
	by := units.Length(now.Value) - want.Lengths[0]
	if by >= -near && by <= near {
		return nil
	}
	do := "tighten the rod, an eighth of a turn at a time"
	if by < 0 {
		do = "loosen the rod, an eighth of a turn at a time"
	}
	return []Step{{
		Do:      do,
		Why:     fmt.Sprintf("relief reads %.2f, %.2f wanted", units.Length(now.Value), want.Lengths[0]),
		Stale:   r.voidedBy(Rod),
		Caution: CautionRod,
		Of:      Rod,
	}}
}

// relief says how a relief is read.
func (h How) relief() string {
	s := "no fret held"
	switch {
	case h.Held[1] != 0:
		s = fmt.Sprintf("frets %d and %d held", h.Held[0], h.Held[1])
	case h.Held[0] != 0:
		s = fmt.Sprintf("fret %d held", h.Held[0])
	}
	return fmt.Sprintf("%s, at fret %d", s, h.At)
}

func (r *Record) nextHeights() []Step {
	rows, err := r.HeightRows()
	if err != nil {
		return nil // nothing wanted, or not enough told: the report says so
	}
	var missing, old, off []int
	for _, h := range rows {
		switch {
		case math.IsNaN(float64(h.Read)):
			missing = append(missing, h.String)
		case h.Stale:
			old = append(old, h.String)
		case h.Wanted-h.Read > near || h.Wanted-h.Read < -near:
			off = append(off, h.String)
		}
	}
	steps := readSteps(Action, fmt.Sprintf("action at fret %d", rows[0].Fret), "", missing, old)
	if len(off) > 0 {
		steps = append(steps, Step{
			Do:      "set the heights of " + stringList(off) + " at the saddle",
			Why:     "more than 0.05mm from what is wanted",
			Stale:   r.voidedBy(Height),
			Caution: CautionHeights,
			Of:      Height,
			On:      off,
		})
	}
	return steps
}

// readSteps asks for readings never taken, and for those that are void.
func readSteps(of Subject, what, caution string, missing, old []int) []Step {
	var steps []Step
	add := func(on []int, why string) {
		if len(on) > 0 {
			steps = append(steps, Step{Do: "read " + what + " on " + stringList(on), Why: why, Caution: caution, Reads: true, Of: of, On: on})
			caution = ""
		}
	}
	add(missing, "not read yet")
	add(old, "something done since voids it")
	return steps
}

func (r *Record) nextGap() []Step {
	if !r.keeps(Gap) {
		return nil
	}
	want, wanted := r.wanted(Gap)
	var missing, old, high []int
	for s := 1; s <= r.Count(); s++ {
		now, ok := r.gap(s, want, wanted)
		switch {
		case !ok:
			missing = append(missing, s)
		case now.Stale:
			old = append(old, s)
		case wanted && units.Length(now.Value)-want.at(s) > near:
			high = append(high, s)
		}
	}
	steps := readSteps(Gap, "the gap at the first fret", "", missing, old)
	if len(high) > 0 {
		steps = append(steps, Step{
			Do:      "lower the nut slots of " + stringList(high) + ", stopping early",
			Why:     "the gap at the first fret is more than 0.05mm over what is wanted",
			Stale:   r.voidedBy(Slot),
			Caution: CautionSlot,
			Of:      Slot,
			On:      high,
		})
	}
	return steps
}

// gap returns the newest first-fret gap of a string, read as it is wanted where
// it is.
func (r *Record) gap(s int, want Entry, wanted bool) (now Sample, ok bool) {
	for _, x := range r.newest(Gap, s) {
		if !wanted || x.How == want.How {
			now, ok = x, true
		}
	}
	return now, ok
}

// at returns the length wanted of string s, where one value stands for all.
func (e Entry) at(s int) units.Length {
	if s-1 < len(e.Lengths) {
		return e.Lengths[s-1]
	}
	return e.Lengths[len(e.Lengths)-1]
}

func (r *Record) nextCents() []Step {
	rows, err := r.MoveRows()
	if err != nil {
		return nil
	}
	var missing, old []int
	var moves []Step
	for _, m := range rows {
		for _, s := range m.Unread {
			if len(r.newest(Cents, s)) == 0 {
				missing = append(missing, s)
			} else {
				old = append(old, s)
			}
		}
		if m.Known() && !m.Inside() {
			moves = append(moves, Step{
				Do:      fmt.Sprintf("move saddle %s %s, retune, read again", Group(m.Strings), m.Amount()),
				Why:     "its strings are out of tune",
				Stale:   r.voidedBy(Saddle),
				Caution: CautionSaddle,
				Of:      Saddle,
				On:      m.Strings,
			})
		}
	}
	steps := readSteps(Cents, "cents "+r.pair(), CautionPickup, missing, old)
	return append(steps, moves...)
}

// pair says which notes the record reads cents of: those of its newest reading,
// or the usual ones.
func (r *Record) pair() string {
	h := How{At: 12}
	for _, e := range r.Entries {
		if e.Of == Cents && e.Mood == Read {
			h = e.How
		}
	}
	return h.cents()
}

// cents says which notes were read.
func (h How) cents() string {
	low := fmt.Sprintf("fret %d", h.Low)
	switch {
	case h.Harmonic:
		low = "the harmonic"
	case h.Low == 0:
		low = "the open string"
	}
	return fmt.Sprintf("at fret %d against %s", h.At, low)
}

// Group writes the strings on a saddle as they are told: 1+2.
func Group(on []int) string {
	var b strings.Builder
	for i, s := range on {
		if i > 0 {
			b.WriteByte('+')
		}
		fmt.Fprint(&b, s)
	}
	return b.String()
}

func stringList(on []int) string {
	s := "string"
	if len(on) > 1 {
		s += "s"
	}
	for _, n := range on {
		s += fmt.Sprintf(" %d", n)
	}
	return s
}

// Amount gives the move as the bench can make it: no finer than its band, with
// the way to go.
func (m MoveRow) Amount() string {
	way, by := "back", m.Move
	if by < 0 {
		way, by = "forward", -by
	}
	return way + " " + Rounded(by, m.Band)
}

// Rounded gives a length in millimetres to the first digit of its band, and no
// finer than 0.01 mm.
func Rounded(l, band units.Length) string {
	digits := 2
	if band > 0 {
		digits = min(2, max(0, int(-math.Floor(math.Log10(float64(band))))))
	}
	return fmt.Sprintf("%.*f", digits, l)
}
