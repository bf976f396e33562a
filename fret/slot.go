package fret

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/units"
)

// Slot is the middle line of a slot or of a mark in plan, from end to end.
type Slot struct {
	Fret   int // counted from the nut; 0 is the zero fret
	String int // whose own short fret it is; 0 where it lies across all
	Line
}

// Slots returns every slot of the board, the zero fret first if there is one:
// fret by fret, or with frets of their own string by string. One that lies across
// all strings ends at the board's edges, or as far short of them, square to the
// centre line, as the plan has them blind. A short one ends half way to the next
// strings, at lines that part the nut line and the scale line there; it runs as
// a fret across all strings would at its share of the scale.
func (b *Board) Slots() []Slot { return slices.Clone(b.slots) }

// Kerf returns the two edges that a kerf leaves of one of the board's slots, as
// Edges does, each carried on or cut to the line that the slot ends on: where a
// slot comes out at the board's edge aslant, it does so over its whole width. A
// string that is not there gives NaN.
func (b *Board) Kerf(s Slot, kerf units.Length) (near, far Line) {
	if s.String != 0 && !b.has(s.String) {
		return Line{nowhere, nowhere}, Line{nowhere, nowhere}
	}
	near, far = s.Edges(kerf)
	lane := b.lane(s.String)
	return b.trim(near, lane), b.trim(far, lane)
}

// Marks returns the lines that are marked and not slotted, from edge to edge.
func (b *Board) Marks() []Slot { return slices.Clone(b.marks) }

// Crossing returns where fret n crosses a string's line, 0 being the nut line. A
// fret or a string that is not there gives NaN.
func (b *Board) Crossing(str, n int) Point {
	if !b.has(str) {
		return nowhere
	}
	return b.crossing(str, b.Frets(str).Share(n))
}

func (b *Board) crossing(str int, share float64) Point {
	s := b.strings[str-1]
	if b.plan.Own != nil {
		return s.nut.between(s.scale, share)
	}
	l := b.ladder.line(share)
	return meet(s.nut, s.direction(), l.Treble, b.ladder.direction(l))
}

// Off returns how far sharp fret n is of its division on a string, by the
// string's own scale, because frets are straight: 0 on outer strings, and to
// rounding on all others where Board says so. A fret or a string that is not
// there gives NaN.
func (b *Board) Off(str, n int) units.Cents {
	at := b.Crossing(str, n)
	if !b.has(str) {
		return units.Cents(at.X)
	}
	share := b.Frets(str).Share(n)
	s := b.strings[str-1]
	reached := float64(s.nut.to(at)) / float64(b.Scale(str))
	return units.Cents(-1200 / math.Ln2 * math.Log1p(-(reached-share)/(1-share)))
}

// across returns the line at a share of the scales, from edge to edge.
func (b *Board) across(share float64) Line {
	return b.trim(b.ladder.line(share), b.edges)
}

// trim carries a line of the ladder on to both sides of a lane, or cuts it there.
func (b *Board) trim(l Line, lane [2]path) Line {
	d := b.ladder.direction(l)
	return Line{
		meet(l.Treble, d, lane[0].nut, lane[0].direction()),
		meet(l.Bass, d, lane[1].nut, lane[1].direction()),
	}
}

// lane returns the two lines between which a string's own frets lie, or with 0
// those that lie across all.
func (b *Board) lane(str int) [2]path {
	between := func(s, t path) path { return path{s.nut.between(t.nut, 0.5), s.scale.between(t.scale, 0.5)} }
	lane := [2]path{b.edges[0].aside(-b.plan.Blind), b.edges[1].aside(b.plan.Blind)}
	if str > 1 {
		lane[0] = between(b.strings[str-2], b.strings[str-1])
	}
	if str > 0 && str < len(b.strings) {
		lane[1] = between(b.strings[str-1], b.strings[str])
	}
	return lane
}

// cut lays out the slots and the marks, and refuses those that cross.
func (b *Board) cut() error {
	if b.plan.ZeroFret {
		b.slots = append(b.slots, Slot{Line: b.trim(b.ladder.line(0), b.lane(0))})
	}
	var err error
	if b.slots, err = b.rungs(b.slots, b.plan.Division, 0, b.lane(0)); err != nil {
		return err
	}
	for i, own := range b.plan.Own {
		if b.slots, err = b.rungs(b.slots, own, i+1, b.lane(i+1)); err != nil {
			return err
		}
	}
	b.marks, err = b.rungs(nil, b.plan.Marks, 0, b.edges)
	return err
}

// rungs appends the lines of a division in a lane.
func (b *Board) rungs(dst []Slot, d Division, str int, lane [2]path) ([]Slot, error) {
	before := b.trim(b.ladder.line(0), lane)
	for n := 1; n <= d.Frets(); n++ {
		if d.Gap(b.ladder.mean, n) < tiny {
			return nil, fmt.Errorf("got frets %d and %d in one place, want fewer frets", n-1, n)
		}
		l := b.ladder.line(d.Share(n))
		if str > 0 {
			// Through the string's own point, whatever the ladder's line misses it by.
			at, on := b.crossing(str, d.Share(n)), b.Meet(str, l)
			dx, dy := at.X-on.X, at.Y-on.Y
			l = Line{Point{l.Treble.X + dx, l.Treble.Y + dy}, Point{l.Bass.X + dx, l.Bass.Y + dy}}
		}
		l = b.trim(l, lane)
		for _, end := range []struct {
			side  string
			x, on units.Length
		}{{"treble", l.Treble.X, before.Treble.X}, {"bass", l.Bass.X, before.Bass.X}} {
			if !(end.x > end.on && finite(end.x)) {
				return nil, crossed(n, end.side)
			}
		}
		dst, before = append(dst, Slot{n, str, l}), l
	}
	return dst, nil
}

func crossed(n int, side string) error {
	const want = "want scales nearer to each other, a straight fret nearer to these, or a narrower board"
	if n == 1 {
		return fmt.Errorf("got fret 1 behind the nut line at its %s end, %s", side, want)
	}
	return fmt.Errorf("got frets %d and %d crossing at their %s ends, %s", n-1, n, side, want)
}
