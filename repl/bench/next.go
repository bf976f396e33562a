package bench

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/saddlepoint/units"
)

// Near is how close a height or a relief must be to count as right: what a leaf
// can tell apart on the bench (our judgement).
const Near = 0.05 * units.Millimetre

// Step is one thing to do next.
type Step struct {
	Do      Text
	Why     Text
	Tool    string    // or empty
	Stale   []Subject // the readings to take again after it
	Caution string    // or empty
	Of      Subject
	On      []int // the strings; none for the whole instrument
	Reads   bool  // it only reads
}

// Next returns the steps that the record asks for, in the order the trade
// teaches most: relief, heights, nut, saddles. It refuses nothing: later steps
// stand in the list too, and say where they rest on readings that an earlier one
// voids. It never offers the rod for the sake of action.
func (r *Record) Next() []Step {
	if err := r.Check(); err != nil {
		return []Step{{Do: textOf("correct the record"), Why: textOf(err.Error()), Reads: true}}
	}
	steps := slices.Concat(r.nextRelief(), r.nextHeights(), r.nextGap(), r.nextCents())
	doubtLater(steps)
	if len(steps) == 0 && r.judged() {
		steps = append(steps, Step{Do: textOf("play every fret of every string; let it settle; read everything once more"), Why: textOf("all that was read is as wanted"), Reads: true})
	}
	return steps
}

// judged reports whether a record that asks for no step was held against what
// is wanted: what is wanted and not read asks for one.
func (r *Record) judged() bool {
	n := r.Count()
	return slices.ContainsFunc(r.Entries, func(e Entry) bool {
		return e.Mood == Want && (e.Of == Relief || e.Of != Curve && n > 0) || e.Of == Cents
	})
}

// doubtLater says, on every step that rests on readings, which earlier step will
// void one of them.
func doubtLater(steps []Step) {
	basis := map[Subject]Subject{Rod: Relief, Height: Action, Slot: Gap, Saddle: Cents}
	for i, step := range steps {
		if step.Reads {
			continue
		}
		voids := func(s Step) bool {
			return slices.Contains(s.Stale, basis[step.Of]) && overlaps(s.On, step.On)
		}
		if j := slices.IndexFunc(steps[:i], voids); j >= 0 {
			steps[i].Why.add(fmt.Sprintf("; step %d will spoil this reading: read it again first", j+1))
		}
	}
}

// voidedBy lists the readings that doing a thing voids, and that this record
// keeps.
func (r *Record) voidedBy(done Subject) []Subject {
	var out []Subject
	for _, of := range []Subject{Relief, Gap, Action, Cents} {
		if slices.ContainsFunc(r.Entries, func(e Entry) bool { return e.Of == of && voids(done, of, e.How) }) {
			out = append(out, of)
		}
	}
	return out
}

func (r *Record) keeps(of Subject) bool {
	return slices.ContainsFunc(r.Entries, func(e Entry) bool { return e.Of == of })
}

// lastStrokes is how far over what is wanted a first gap may stay (our judgement).
const lastStrokes = 0.03*units.Millimetre + rounding

// rounding is what a difference of two lengths may be off.
const rounding = 1e-9 * units.Millimetre

// Why a reading has to be taken.
const (
	unread  = "not read yet"
	another = "it was read another way, and ways do not compare"
	voided  = "something done since voids it"
)

// current returns what a subject reads in a way, by its newest reading: taken so,
// or turned into that way by as, which may be nil. Else it says why there is none
// to go by.
func current(samples []Sample, how How, as func() (units.Length, bool)) (read units.Length, turned bool, why string) {
	if len(samples) == 0 {
		return 0, false, unread
	}
	if last := samples[len(samples)-1]; last.How != how && !last.Stale && as != nil {
		if read, ok := as(); ok {
			return read, true, ""
		}
	}
	switch s, ok := taken(samples, how); {
	case s.Stale:
		return 0, false, voided
	case ok:
		return units.Length(s.Value), false, ""
	}
	return 0, false, another
}

func (r *Record) nextRelief() []Step {
	want, wanted := r.wanted(Relief)
	how := want.How
	if !wanted {
		last, ok := r.lastTold(Read, Relief)
		if !ok {
			return nil
		}
		how = last.How
	}
	read, turned, why := current(r.newest(Relief, 0), how, func() (units.Length, bool) { return r.ReliefAs(how) })
	if why != "" {
		return []Step{{Do: textOf("read relief, " + how.relief()), Why: textOf(why), Tool: r.toolOf(Relief), Reads: true, Of: Relief}}
	}
	from := ""
	if turned {
		from = ", worked out from another way of reading it"
	}
	if !wanted || !apart(read, want.Lengths[0]) {
		return nil
	}
	do := "tighten the rod, an eighth of a turn at a time"
	if read < want.Lengths[0] {
		do = "loosen the rod, an eighth of a turn at a time"
	}
	return []Step{{
		Do:      textOf(do),
		Why:     textOf("relief reads ", read, from+", ", want.Lengths[0], " wanted"),
		Tool:    r.toolOf(Rod),
		Stale:   r.voidedBy(Rod),
		Caution: CautionRod,
		Of:      Rod,
	}}
}

// relief says how a relief is read.
func (h How) relief() string {
	s := "no fret held"
	switch {
	case h.Edge:
		s = fmt.Sprintf("straightedge from fret %d to %d", h.Held[0], h.Held[1])
	case h.Held[1] != 0:
		s = fmt.Sprintf("frets %d and %d held", h.Held[0], h.Held[1])
	case h.Held[0] != 0:
		s = fmt.Sprintf("fret %d held", h.Held[0])
	}
	return fmt.Sprintf("%s, at fret %d", s, h.At)
}

// gap says how a gap at the first fret is read.
func (h How) gap() string {
	if h.Held[0] == 0 {
		return "the gap at the first fret, string open,"
	}
	if h.Alone {
		return fmt.Sprintf("the gap at the first fret, pressed on crown %d alone,", h.Held[0])
	}
	return fmt.Sprintf("the gap at the first fret, held at %d,", h.Held[0])
}

// action says where an action is read.
func (h How) action() string { return fmt.Sprintf("action at fret %d", h.At) }

// pair says which notes a reading of cents compares.
func (h How) pair() string {
	low := "the open string"
	switch {
	case h.Harmonic:
		low = "the open string's harmonic"
	case h.Low > 0:
		low = fmt.Sprintf("fret %d", h.Low)
	}
	return fmt.Sprintf("fret %d against %s", h.At, low)
}

// task is something to read on some strings.
type task struct {
	what, why string
	on        []int
}

type tasks []task

func (t *tasks) add(what, why string, s int) {
	for i, old := range *t {
		if old.what == what && old.why == why {
			(*t)[i].on = append(old.on, s)
			return
		}
	}
	*t = append(*t, task{what, why, []int{s}})
}

// readings makes steps of tasks; a caution stands on the first.
func (r *Record) readings(of Subject, t tasks, caution string) []Step {
	var out []Step
	for _, x := range t {
		out = append(out, Step{Do: textOf("read " + x.what + " on " + stringList(x.on)), Why: textOf(x.why), Tool: r.toolOf(of), Caution: caution, Reads: true, Of: of, On: x.on})
		caution = ""
	}
	return out
}

// stuck says what keeps something from being worked out.
func stuck(of Subject, err error) []Step {
	step := Step{Do: textOf("correct the record"), Why: textOf(err.Error()), Reads: true, Of: of}
	var untold *Missing
	if errors.As(err, &untold) {
		step.Do, step.Why = textOf("tell the "+untold.What+", as in "+untold.Tell), textOf("nothing can be worked out from "+of.String()+" without it")
	}
	return []Step{step}
}

// nextOn looks at a subject that is read on every string: it gives the readings
// to take, in the way wanted or else as it was read last, and what stands of the
// strings that were read. as turns the newest reading of a string into another
// way; it may be nil.
func (r *Record) nextOn(of Subject, name func(How) string, as func(s int, how How) (units.Length, bool)) (reads tasks, stands []standing, err error) {
	last, kept := r.lastTold(Read, of)
	wishes, err := r.wishes(of)
	for i, w := range wishes {
		s := i + 1
		switch {
		case w.told:
		case kept:
			w.how = last.How
		default:
			continue
		}
		var turn func() (units.Length, bool)
		if as != nil {
			turn = func() (units.Length, bool) { return as(s, w.how) }
		}
		read, _, why := current(r.newest(of, s), w.how, turn)
		if why != "" {
			reads.add(name(w.how), why, s)
			continue
		}
		stands = append(stands, standing{s, read, w.value})
	}
	return reads, stands, err
}

// standing is a reading to go by, beside what is wanted; NaN where nothing is.
type standing struct {
	on           int
	read, wanted units.Length
}

// which lists the strings of those that are off in a way.
func which(list []standing, off func(read, wanted units.Length) bool) []int {
	var out []int
	for _, s := range list {
		if off(s.read, s.wanted) {
			out = append(out, s.on)
		}
	}
	return out
}

// apart reports whether two lengths differ by more than near, and not by
// rounding. NaN differs from nothing.
func apart(a, b units.Length) bool { return over(a, b) || over(b, a) }

func over(read, wanted units.Length) bool {
	return read-wanted > Near+rounding
}

func (r *Record) nextHeights() []Step {
	reads, stands, err := r.nextOn(Action, How.action, nil)
	if err != nil {
		return stuck(Action, err)
	}
	off := which(stands, apart)
	steps := r.readings(Action, reads, "")
	caution := CautionHeights
	if r.screwed() {
		caution = "" // screws can be turned back
	}
	if len(off) > 0 {
		steps = append(steps, Step{
			Do:      r.setHeights(off),
			Why:     textOf("more than ", Near, " from what is wanted"),
			Tool:    r.toolOf(Height),
			Stale:   r.voidedBy(Height),
			Caution: caution,
			Of:      Height,
			On:      off,
		})
	}
	return steps
}

func (r *Record) nextGap() []Step {
	v, _ := r.Side() // where there is none, a gap read another way stays so
	reads, stands, _ := r.nextOn(Gap, How.gap, v.gapAs)
	steps := r.readings(Gap, reads, "")
	high := which(stands, over)
	if len(high) > 0 {
		steps = append(steps, Step{
			Do:      r.lowerSlots(high),
			Why:     textOf("the gap at the first fret is more than ", Near, " over what is wanted"),
			Tool:    r.toolOf(Slot),
			Stale:   r.voidedBy(Slot),
			Caution: CautionSlot,
			Of:      Slot,
			On:      high,
		})
	}
	last := which(stands, func(read, wanted units.Length) bool { return !over(read, wanted) && read-wanted > lastStrokes })
	if len(last) > 0 {
		steps = append(steps, Step{
			Do:      textOf("finish the nut slots of " + stringList(last) + " by single strokes, string up, reading after each"),
			Why:     textOf("the gap at the first fret is still more than ", lastStrokes, " over what is wanted"),
			Tool:    r.toolOf(Slot),
			Stale:   r.voidedBy(Slot),
			Caution: CautionSlot,
			Of:      Slot,
			On:      last,
		})
	}
	return steps
}

// gapAs is what the first gap of a string, whichever way it was read, would read in
// another way.
func (v *Side) gapAs(s int, how How) (units.Length, bool) {
	way, ok := how.gapWay()
	if v == nil || !ok || !v.Told[s-1] {
		return 0, false
	}
	gap := v.Neck.Gap(s, v.Lines[s-1], way)
	return gap, !math.IsNaN(float64(gap))
}

func (r *Record) nextCents() []Step {
	rows, err := r.MoveRows()
	if err != nil && r.keeps(Cents) {
		return stuck(Cents, err)
	}
	var reads tasks
	var moves []Step
	for _, m := range rows {
		for _, s := range m.Unread {
			r.readCents(&reads, s)
		}
		if m.Past > 0 && m.Inside() {
			moves = append(moves, Step{Do: textOf(fmt.Sprintf("saddle %s stands at its limit: it needs another way, as moves lists", Group(m.Strings))), Why: m.why(), Of: Saddle, On: m.Strings})
		}
		if m.Known() && !m.Inside() {
			do, caution := "move saddle ", CautionSaddle
			if r.onePiece() {
				do, caution = "shape the top of the saddle under string "+strings.ReplaceAll(Group(m.Strings), "+", " ")+", to break ", CautionShape
			} else {
				do += Group(m.Strings) + " "
			}
			moves = append(moves, Step{
				Do:      textOf(do, m.amount(), ", retune, read again"),
				Why:     m.why(),
				Tool:    r.toolOf(Saddle),
				Stale:   r.voidedBy(Saddle),
				Caution: caution,
				Of:      Saddle,
				On:      m.Strings,
			})
		}
	}
	return append(r.readings(Cents, reads, CautionPickup), moves...)
}

// usual is the pair of notes that goes without saying.
var usual = How{At: 12}

// readCents asks for a string's cents: again as they were read, or else as those
// of other strings were read last, or else at the 12th fret.
func (r *Record) readCents(reads *tasks, s int) {
	samples := r.newest(Cents, s)
	for _, old := range samples {
		reads.add("cents at "+old.How.pair(), voided, s)
	}
	if len(samples) > 0 {
		return
	}
	how := usual
	if r.Frets != 0 {
		how.At = min(how.At, r.Frets)
	}
	if last, ok := r.lastTold(Read, Cents); ok {
		how = last.How
	}
	reads.add("cents at "+how.pair(), unread, s)
}

// why says what a move that is known rests on, and what stands in its way.
func (m MoveRow) why() Text {
	why := textOf("its strings are out of tune")
	if len(m.Pairs) > 1 || m.Pairs[0] != usual {
		pairs := make([]string, len(m.Pairs))
		for i, p := range m.Pairs {
			pairs[i] = p.pair()
		}
		why.add(" at " + strings.Join(pairs, ", and at "))
	}
	if len(m.Unsteady) > 0 {
		why.add("; " + stringList(m.Unsteady) + " read differently at one setting: suspect the string or the finger")
	}
	if len(m.Unread) > 0 {
		why.add("; " + stringList(m.Unread) + " on the same saddle not read")
	}
	if m.Past > 0 {
		why.add("; its best place lies ", rough{m.Past, m.Band}, " past its travel")
	}
	return why
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
// the way to go, or "stop" where it lies within the band.
func (m MoveRow) Amount() string { return m.amount().String() }

func (m MoveRow) amount() Text {
	switch {
	case !m.Known():
		return textOf("not read")
	case m.Inside():
		return textOf("stop")
	case m.Move < 0:
		return textOf("forward ", rough{-m.Move, m.Band})
	}
	return textOf("back ", rough{m.Move, m.Band})
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
