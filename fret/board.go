package fret

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Plan is what a maker states of a board. Lengths are seen from above, in plan;
// widths and spreads are square to the centre line. Strings count from the
// treble edge; a list with a value for each string may be left out, for zeros.
type Plan struct {
	// What is cut. Marks may stand alone (a fretless board) or beside frets.
	Division Division   // frets straight across all strings, or
	Own      []Division // each string's own short frets
	Marks    Division   // places across all strings that are marked, not slotted
	ZeroFret bool       // a fret at the nut line, the nut standing behind it

	// One scale, measured on the centre line, where frets are marked out; or two,
	// each measured along its own outer string's line.
	Scale        units.Length
	Treble, Bass units.Length
	// Straight is the fret that is square to the centre line where there are two
	// scales: 0 the nut, 7.5 half way in cents from the 7th to the 8th. Under 0 it
	// lies behind the nut, in steps of the first fret's cents; above the last fret it
	// goes on in steps of the last. With frets of their own it counts on the first
	// string that has any.
	Straight float64

	// Where the strings cross the nut line and the scale line: places across from
	// the centre line, the treble string's first, as EqualCentres and EqualGaps give
	// them. A saddle's spread is told at the scale line, though setbacks put the
	// saddle a little behind it.
	AtNut, AtScale []units.Length

	// The edges: the width where the nut line and the end cross the centre line,
	// or a margin, the same along the whole board, beyond the outer strings.
	NutWidth, EndWidth units.Length
	Margin             units.Length
	Behind             units.Length // how far the board runs behind the nut line, to the head
	Beyond             units.Length // and beyond its last fret or mark, to the bridge
	Blind              units.Length // how far slots stop short of the edges; 0 cuts them through

	// The curve of the top. Where radii differ and Span is 0, End is at the last
	// fret or mark; where all is 0, the board is flat.
	Surface Surface

	NutCompensation []units.Length // how far each string's break point stands forward of the nut line
	Setback         []units.Length // how far each string's break point stands behind the scale line
}

// Board is a neck laid out: where strings, frets and edges lie.
//
// The datum is where the nut line crosses the board's centre line. X runs along
// the centre line from there, Y across it to the treble edge. The outer strings
// are straight lines from their places at the nut to their places on the scale
// line, as long as the stated scales. The nut line and the scale line are
// straight through the outer strings' ends, and every string between runs
// straight from its place on the one to its place on the other; its scale is its
// length between them. A string of a board of one scale is so a little longer
// than the centre line.
//
// A fret stands at its division's share of each outer string, and is straight
// between. Where the strings part the nut line and the scale line in the same
// ratios, or where there is one scale, it stands at that share of every string
// exactly: the points at one share of lines that join two evenly parted lines lie
// on a line. Otherwise (equal gaps at the nut of a board of two scales) the
// strings between are a little out, and Off says by how much.
//
// The zero Board has no strings, and its places are NaN.
type Board struct {
	plan    Plan
	strings []path
	ladder  ladder
	edges   [2]path // treble, bass
	outline [4]Point
	slots   []Slot
	marks   []Slot
}

// path is a straight line along the board: a string's, or an edge.
type path struct{ nut, scale Point }

func (p path) direction() Point { return Point{p.scale.X - p.nut.X, p.scale.Y - p.nut.Y} }

// aside returns the line moved across the board, square to the centre line.
func (p path) aside(by units.Length) path {
	p.nut.Y, p.scale.Y = p.nut.Y+by, p.scale.Y+by
	return p
}

// NewBoard lays a plan out, or says what must change in it.
func NewBoard(p Plan) (*Board, error) {
	p = p.clone()
	if err := p.check(); err != nil {
		return nil, err
	}
	b := &Board{plan: p, ladder: p.ladder()}
	for i := range p.AtNut {
		b.strings = append(b.strings, b.ladder.stringPath(p.AtNut[i], p.AtScale[i]))
	}
	for _, step := range []func() error{b.shape, b.curve, b.cut, b.fit} {
		if err := step(); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// Strings returns the number of strings.
func (b *Board) Strings() int { return len(b.strings) }

// Plan returns what was stated, with the Surface made whole.
func (b *Board) Plan() Plan { return b.plan.clone() }

// Frets returns the frets of a string: its own, or those of all. A string that is
// not there has none.
func (b *Board) Frets(str int) Division {
	switch {
	case !b.has(str):
		return Division{}
	case b.plan.Own != nil:
		return b.plan.Own[str-1]
	}
	return b.plan.Division
}

// Scale returns a string's scale length, along its own line. A string that is
// not there gives NaN.
func (b *Board) Scale(str int) units.Length {
	if !b.has(str) {
		return nowhere.X
	}
	return b.strings[str-1].nut.to(b.strings[str-1].scale)
}

// Along returns the point on a string's line at a distance from the nut line;
// less than 0 or more than its scale lies beyond. A string that is not there
// gives NaN.
func (b *Board) Along(str int, from units.Length) Point {
	if !b.has(str) {
		return nowhere
	}
	s := b.strings[str-1]
	return s.nut.between(s.scale, from.Over(b.Scale(str)))
}

// Nut returns where a string breaks over the nut, its compensation taken.
func (b *Board) Nut(str int) Point { return b.Along(str, of(b.plan.NutCompensation, str)) }

// Saddle returns where a string breaks over its saddle: its scale and setback
// from the nut line, along its own line.
func (b *Board) Saddle(str int) Point {
	return b.Along(str, b.Scale(str)+of(b.plan.Setback, str))
}

// NutLine returns the nut line from edge to edge: the front of a nut that has no
// compensation, or the zero fret.
func (b *Board) NutLine() Line { return b.across(0) }

// ScaleLine returns the line through the ends of the outer strings' scales.
func (b *Board) ScaleLine() Line {
	if len(b.strings) == 0 {
		return Line{nowhere, nowhere}
	}
	return Line{b.strings[0].scale, b.strings[len(b.strings)-1].scale}
}

// SaddleLine returns the line through the outer strings' break points at the
// saddle, moved square to itself by a distance away from the nut (a drill line
// for pins or string holes) or, less than 0, towards it (a bridge's front). It
// ends where it meets the outer strings' lines. Meet says where each other
// string crosses it.
func (b *Board) SaddleLine(behind units.Length) Line {
	last := len(b.strings)
	l := Line{b.Saddle(1), b.Saddle(last)}.Back(behind)
	return Line{b.Meet(1, l), b.Meet(last, l)}
}

// Meet returns where a string's line, carried on both ways, meets the line l,
// likewise. A string that is not there gives NaN.
func (b *Board) Meet(str int, l Line) Point {
	if !b.has(str) {
		return nowhere
	}
	s, along := b.strings[str-1], Point{l.Bass.X - l.Treble.X, l.Bass.Y - l.Treble.Y}
	if along == (Point{}) { // of one string
		along = squareAcross
	}
	return meet(s.nut, s.direction(), l.Treble, along)
}

// Outline returns the corners of the board: treble at the nut, treble at the
// end, bass at the end, bass at the nut. The ends lie along the nut line and the
// last fret or mark.
func (b *Board) Outline() [4]Point { return b.outline }

// nowhere is a point that is not there.
var nowhere = Point{units.Length(math.NaN()), units.Length(math.NaN())}

func (b *Board) has(str int) bool { return str >= 1 && str <= len(b.strings) }

// of returns a string's value of a list that may be left out.
func of(list []units.Length, str int) units.Length {
	if str < 1 || str > len(list) {
		return 0
	}
	return list[str-1]
}

// shape finds the board's edges and corners.
func (b *Board) shape() error {
	p, treble, bass := b.plan, b.strings[0], b.strings[len(b.strings)-1]
	first, last := b.ladder.line(0), b.ladder.line(p.last())
	first.Treble.X, first.Bass.X = first.Treble.X-p.Behind, first.Bass.X-p.Behind
	last.Treble.X, last.Bass.X = last.Treble.X+p.Beyond, last.Bass.X+p.Beyond
	if p.NutWidth == 0 {
		b.edges = [2]path{treble.aside(p.Margin), bass.aside(-p.Margin)}
	} else {
		end := b.centre(last)
		b.edges = [2]path{
			{Point{0, p.NutWidth / 2}, Point{end, p.EndWidth / 2}},
			{Point{0, -p.NutWidth / 2}, Point{end, -p.EndWidth / 2}},
		}
	}
	head, end := b.trim(first, b.edges), b.trim(last, b.edges)
	b.outline = [4]Point{head.Treble, end.Treble, end.Bass, head.Bass}
	for _, c := range b.outline {
		if !finite(c.X) { // Y goes with it
			return fmt.Errorf("got an end of the board that runs along its edges, want ends nearer to square: scales nearer to each other, or another straight fret")
		}
	}
	return b.checkMargins()
}

// checkMargins refuses strings that run off the board, or off its slots.
func (b *Board) checkMargins() error {
	last := len(b.strings)
	for _, row := range []struct {
		str    int
		side   float64
		where  string
		corner Point
	}{
		{1, 1, "nut", b.across(0).Treble}, {1, 1, "end", b.outline[1]},
		{last, -1, "nut", b.across(0).Bass}, {last, -1, "end", b.outline[2]},
	} {
		s := b.strings[row.str-1]
		at := meet(s.nut, s.direction(), row.corner, squareAcross)
		off := (at.Y - row.corner.Y) * units.Length(row.side)
		if !(off <= tiny) {
			return fmt.Errorf("got string %d off the board by %.3f at the %s, want a wider board there or strings nearer together", row.str, off, row.where)
		}
		if blind := b.plan.Blind; blind > 0 && !(blind < -off) {
			return fmt.Errorf("got slots that stop %v short of the edge, want less than the %.3f from there to string %d at the %s", blind, -off, row.str, row.where)
		}
	}
	return nil
}

// tiny is a length that only rounding explains.
const tiny units.Length = 1e-9

// squareAcross is the direction across the board, treble to bass.
var squareAcross = Point{0, -1}

// centre returns where a line crosses the centre line.
func (b *Board) centre(l Line) units.Length {
	return meet(Point{0, 0}, Point{1, 0}, l.Treble, b.ladder.direction(l)).X
}

// curve makes the surface whole and checks it over the whole board. The radius
// and the edges' places change in straight lines, so the corners suffice.
func (b *Board) curve() error {
	s := &b.plan.Surface
	switch {
	case *s == Surface{}:
		*s = Surface{Nut: Flat, End: Flat}
	case s.Nut != s.End && s.Span == 0:
		s.Span = b.centre(b.ladder.line(b.plan.last()))
	}
	for _, c := range b.outline {
		if _, err := s.Camber(c.X, c.Y); err != nil {
			return err
		}
	}
	return nil
}

// fit checks that each string has its frets or marks between its break points.
func (b *Board) fit() error {
	for str := 1; str <= len(b.strings); str++ {
		frets := b.Frets(str)
		if frets.Frets() == 0 {
			frets = b.plan.Marks
		}
		if frets.Frets() == 0 {
			continue
		}
		scale := b.Scale(str)
		forward, back := of(b.plan.NutCompensation, str), of(b.plan.Setback, str)
		if first := frets.From(scale, 1); !(forward < first) {
			return fmt.Errorf("got the nut of string %d %v forward, want less than the %.3f to its first fret or mark", str, forward, first)
		}
		if left := frets.Remaining(scale, frets.Frets()); !(back > -left) {
			return fmt.Errorf("got the saddle of string %d set back by %v, want more than %.3f, where its last fret or mark stands", str, back, -left)
		}
	}
	return nil
}
