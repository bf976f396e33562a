package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Neck draws the plan of a board at true scale, its datum at 0, 0, so that the
// exchange file and CSV keep the board's own places. What a maker cuts, marks or
// only looks at has a layer each: board edge, fret slots, marks, strings (from
// break point to break point), centre line, nut line, scale line, saddle line
// (straight through the outer strings' break points, where setbacks are stated)
// and break points. Under it, off the board, stand a legend, a line of words that
// tells how the lines of each look, and check bars.
//
// Frets are numbered above the treble edge, marks under the bass edge, short frets
// at the fret. Names, where there are any, stand in place of the numbers from 1
// on: those of a diatonic neck, say. Scales are told at the scale line, setbacks
// and nut compensation at the break points, as behind and forward of their lines.
//
// A board without strings gives a page that Check refuses.
func Neck(b *fret.Board, names ...string) *Page {
	n := neck{b, b.Plan(), names}
	p := &Page{Title: "Neck"}
	for _, l := range []Layer{n.edge(), n.slots(), n.marks(), n.strings(), n.centre(), n.nut(), n.scale(), n.saddle(), n.breaks()} {
		if len(l.Lines) > 0 {
			p.Layers = append(p.Layers, l)
		}
	}
	p.Fit(0)
	p.Layers = append(p.Layers, legend(p.Layers, fret.Point{X: -p.Origin.X, Y: -p.Origin.Y - aside - typeSize}))
	p.Fit(0)
	const under = 16 // of the bars' place: their height, and room for a line of words
	p.Layers = append(p.Layers, CheckBars(fret.Point{X: -p.Origin.X, Y: -p.Origin.Y - under}))
	p.Fit(8)
	return p
}

// Kerfs returns a layer of what the saw takes out: round every slot of a board
// half a kerf either side of its middle line, to where Board.Kerf ends.
func Kerfs(b *fret.Board, kerf units.Length) Layer {
	l := Layer{Name: "kerfs"}
	for _, s := range b.Slots() {
		near, far := b.Kerf(s, kerf)
		l.Lines = append(l.Lines, Line{slotName(s), []fret.Point{near.Treble, far.Treble, far.Bass, near.Bass}, true})
	}
	return l
}

// legend tells in one line of words how the lines of layers look: each under its
// style, since colours may be lost, with its ink where that is not the dark one.
func legend(layers []Layer, at fret.Point) Layer {
	var says []string
	for style := range styles {
		var drawn []string
		for _, l := range layers {
			switch {
			case int(l.Style) != style || len(l.Lines) == 0:
			case l.Ink == Dark:
				drawn = append(drawn, l.Name)
			default:
				drawn = append(drawn, l.Name+" ("+inks[l.Ink].name+")")
			}
		}
		if len(drawn) > 0 {
			says = append(says, styles[style].words+": "+strings.Join(drawn, ", "))
		}
	}
	return Layer{Name: "legend", Words: []Word{{Text: strings.Join(says, "; "), At: at}}}
}

// neck is a board being drawn.
type neck struct {
	*fret.Board
	plan  fret.Plan
	names []string
}

const (
	aside = 1.5 * units.Millimetre // from a line's end to its words
	small = 1.8 * units.Millimetre // type that fits between strings
)

// above and below are words beyond the treble and the bass end of a line.
func above(at fret.Point, text string) Word {
	return Word{Text: text, At: fret.Point{X: at.X, Y: at.Y + aside}, Anchor: Middle}
}

func below(at fret.Point, text string) Word {
	return Word{Text: text, At: fret.Point{X: at.X, Y: at.Y - aside - capitals*typeSize}, Anchor: Middle}
}

func (n neck) edge() Layer {
	corners := n.Outline()
	return Layer{Name: "board edge", Weight: 0.25, Lines: []Line{{"board edge", corners[:], true}}}
}

func (n neck) slots() Layer {
	l := Layer{Name: "fret slots"}
	slots := n.Slots()
	for i, s := range slots {
		l.Lines = append(l.Lines, piece(slotName(s), s.Line))
		word := above(s.Treble, n.called(s.Fret))
		word.Size = room(slots, i, typeSize)
		if s.String > 0 {
			// Beside the fret, between its string and its treble end.
			on := n.Crossing(s.String, s.Fret)
			word.Size, word.Anchor = room(slots, i, small), Start
			word.At = fret.Point{X: (s.Treble.X+on.X)/2 + 0.4, Y: (s.Treble.Y+on.Y)/2 - capitals/2*word.Size}
		}
		l.Words = append(l.Words, word)
	}
	return l
}

// room is the size of type for the number of a slot or mark, less than the usual
// where its neighbours leave no room for two figures.
func room(slots []fret.Slot, i int, usual units.Length) units.Length {
	apart := func(a, b fret.Point) units.Length { return 0.8 * max(a.X-b.X, b.X-a.X) }
	for _, j := range []int{i - 1, i + 1} {
		if j >= 0 && j < len(slots) && slots[j].String == slots[i].String {
			usual = min(usual, apart(slots[i].Treble, slots[j].Treble), apart(slots[i].Bass, slots[j].Bass))
		}
	}
	return max(usual, least)
}

func (n neck) marks() Layer {
	l := Layer{Name: "marks", Ink: Blue, Style: Dashed}
	marks := n.Marks()
	for i, s := range marks {
		l.Lines = append(l.Lines, piece("mark "+strconv.Itoa(s.Fret), s.Line))
		word := below(s.Bass, strconv.Itoa(s.Fret))
		word.Size = room(marks, i, typeSize)
		l.Words = append(l.Words, word)
	}
	return l
}

func (n neck) strings() Layer {
	l := Layer{Name: "strings", Ink: Grey}
	for str := 1; str <= n.Strings(); str++ {
		l.Lines = append(l.Lines, Line{Name: stringName(str), Points: []fret.Point{n.Nut(str), n.Saddle(str)}})
		at := n.Along(str, -n.plan.Behind-4)
		l.Words = append(l.Words, Word{Text: strconv.Itoa(str), At: fret.Point{X: at.X, Y: at.Y - 0.7}, Anchor: End, Size: small})
	}
	return l
}

func (n neck) centre() Layer {
	from, to := units.Length(0), units.Length(0)
	for _, at := range n.Outline() {
		from, to = min(from, at.X), max(to, at.X)
	}
	for str := 1; str <= n.Strings(); str++ {
		to = max(to, n.Saddle(str).X, n.Along(str, n.Scale(str)).X)
	}
	return Layer{Name: "centre line", Ink: Grey, Style: Centre, Lines: []Line{{Name: "centre line", Points: []fret.Point{{X: from}, {X: to}}}}}
}

func (n neck) nut() Layer {
	line := n.NutLine()
	return Layer{Name: "nut line", Ink: Vermilion, Weight: 0.25, Lines: []Line{piece("nut line", line)},
		Words: []Word{below(line.Bass, "nut"+n.lean(line))}}
}

func (n neck) scale() Layer {
	line := n.ScaleLine()
	l := Layer{Name: "scale line", Ink: Vermilion, Style: Dashed, Weight: 0.25, Lines: []Line{piece("scale line", line)}}
	if n.Strings() == 1 {
		l.Lines[0].Points = n.tick(1, line.Treble)
	}
	line.Treble.Y, line.Bass.Y = line.Treble.Y+2*aside, line.Bass.Y-aside // past the break points' words
	if n.fanned() {
		l.Words = []Word{above(line.Treble, fmt.Sprintf("scale %.2f", n.plan.Treble)), below(line.Bass, fmt.Sprintf("scale %.2f", n.plan.Bass)+n.lean(n.ScaleLine()))}
	} else {
		l.Words = []Word{above(line.Treble, fmt.Sprintf("scale %.2f", n.plan.Scale))}
	}
	return l
}

func (n neck) saddle() Layer {
	l := Layer{Name: "saddle line", Ink: Green, Style: Dotted, Weight: 0.25}
	if len(n.plan.Setback) > 0 && n.Strings() > 1 {
		l.Lines = []Line{piece("saddle line", n.SaddleLine(0))}
	}
	return l
}

func (n neck) breaks() Layer {
	l := Layer{Name: "break points", Ink: Green, Weight: 0.25}
	add := func(name string, str int, at fret.Point, from []units.Length, lines ...fret.Line) {
		l.Lines = append(l.Lines, Line{Name: name + " of " + stringName(str), Points: n.tick(str, at)})
		if len(from) > 0 && from[str-1] != 0 {
			foot := at.Y + 0.5
			for _, line := range lines {
				at.X = max(at.X, rearmost(line, foot, foot+capitals*small))
			}
			l.Words = append(l.Words, Word{Text: fmt.Sprintf("%.2f", from[str-1]), At: fret.Point{X: at.X + 1, Y: foot}, Size: small})
		}
	}
	for str := 1; str <= n.Strings(); str++ {
		add("nut", str, n.Nut(str), n.plan.NutCompensation, n.NutLine())
		add("saddle", str, n.Saddle(str), n.plan.Setback, n.ScaleLine(), n.SaddleLine(0))
	}
	return l
}

// rearmost is how far back a line reaches between two places across, -Inf where it
// does not come between them.
func rearmost(l fret.Line, low, high units.Length) units.Length {
	low, high = max(low, l.Bass.Y), min(high, l.Treble.Y)
	if !(low <= high) {
		return units.Length(math.Inf(-1))
	}
	at := func(y units.Length) units.Length {
		return l.Bass.X + (l.Treble.X-l.Bass.X)*units.Length((y-l.Bass.Y).Over(l.Treble.Y-l.Bass.Y))
	}
	return max(at(low), at(high))
}

// tick is a short line square across a string.
func (n neck) tick(str int, at fret.Point) []fret.Point {
	from, to := n.Along(str, 0), n.Along(str, n.Scale(str))
	sin, cos := math.Sincos(math.Atan2(float64(to.Y-from.Y), float64(to.X-from.X)))
	x, y := aside*units.Length(sin), aside*units.Length(cos)
	return []fret.Point{{X: at.X - x, Y: at.Y + y}, {X: at.X + x, Y: at.Y - y}}
}

func (n neck) fanned() bool { return n.plan.Treble != 0 }

// lean tells how far a line of a board of two scales is from square.
func (n neck) lean(line fret.Line) string {
	if !n.fanned() {
		return ""
	}
	return fmt.Sprintf(", %+.1f from square", line.Angle())
}

func (n neck) called(number int) string {
	if number > 0 && number <= len(n.names) {
		return n.names[number-1]
	}
	return strconv.Itoa(number)
}

func piece(name string, l fret.Line) Line {
	return Line{Name: name, Points: []fret.Point{l.Treble, l.Bass}}
}

func slotName(s fret.Slot) string {
	name := "fret " + strconv.Itoa(s.Fret)
	if s.String > 0 {
		name += " of " + stringName(s.String)
	}
	return name
}

func stringName(str int) string { return "string " + strconv.Itoa(str) }
