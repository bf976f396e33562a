// Package draw draws at true scale: a page of lines and words in millimetres on
// named layers, written as SVG, as a drawing exchange file for cutters, as a PDF
// tiled over sheets, or as CSV.
package draw

import (
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Page is a drawing. Places on it have X to the right and Y up, which shows the
// plan of a board as seen from the front, nut at the left. Any package may fill
// one; the writers check it before they write.
type Page struct {
	Title         string
	Width, Height units.Length // 0.001 mm to 10 m
	// Origin is where the drawing's own 0, 0 stands, from the page's lower left
	// corner. The exchange file and CSV keep the drawing's own places: for a board,
	// the nut's middle stays the datum.
	Origin fret.Point
	Layers []Layer
}

// Layer is a part of the drawing that can be shown, or cut, on its own. The
// writers keep its words apart from its lines, so that a cutter can leave them.
type Layer struct {
	// Name is 1 to 24 ASCII letters, digits and single blanks, a letter first. No
	// two layers of a page have one name, capitals or not.
	Name    string
	Ink     Ink
	Style   Style
	Weight  units.Length // width of its lines; 0 stands for 0.1 mm
	Lines   []Line
	Circles []Circle
	Words   []Word
}

// Line is a run of straight pieces from point to point, at least two, and back
// to the first where it is closed. Its name, which may be empty, tells what it is.
type Line struct {
	Name   string
	Points []fret.Point
	Closed bool
}

// Circle is a hole to drill, or a dot. Its radius is at least 0.001 mm.
type Circle struct {
	Name   string
	Centre fret.Point
	Radius units.Length
}

// Word is text in one line, its baseline starting, centred or ending at a place.
type Word struct {
	Text   string
	At     fret.Point
	Anchor Anchor
	Size   units.Length // of the type, its capitals being 0.7 of it, at least 0.001 mm; 0 stands for 3 mm
	Angle  units.Angle  // turned about At, anticlockwise
}

// Anchor is which part of a word stands at its place.
type Anchor uint8

// The anchors.
const (
	Start Anchor = iota
	Middle
	End
)

const (
	hairline = 0.1 * units.Millimetre
	typeSize = 3 * units.Millimetre
	least    = 0.001 * units.Millimetre // of what would be nothing when rounded to 0.0001
	most     = 10 * units.Metre
)

func (l *Layer) weight() units.Length {
	if l.Weight == 0 {
		return hairline
	}
	return l.Weight
}

func (w *Word) size() units.Length {
	if w.Size == 0 {
		return typeSize
	}
	return w.Size
}

// Fit makes the page as large as what is on it, with a margin all round, up to
// whole millimetres. It takes words at the width they have in PDF.
func (p *Page) Fit(margin units.Length) {
	low, high := fret.Point{}, fret.Point{}
	first := true
	add := func(at fret.Point, round units.Length) {
		if !finite(at.X, at.Y, round) {
			return // Check will name it
		}
		if first {
			low, high, first = at, at, false
		}
		low = fret.Point{X: min(low.X, at.X-round), Y: min(low.Y, at.Y-round)}
		high = fret.Point{X: max(high.X, at.X+round), Y: max(high.Y, at.Y+round)}
	}
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			for _, at := range line.Points {
				add(at, 0)
			}
		}
		for _, c := range l.Circles {
			add(c.Centre, c.Radius)
		}
		for i := range l.Words {
			for _, at := range l.Words[i].corners() {
				add(at, 0)
			}
		}
	}
	floor := func(x units.Length) units.Length { return units.Length(math.Floor(float64(x))) }
	p.Origin = fret.Point{X: -floor(low.X - margin), Y: -floor(low.Y - margin)}
	p.Width, p.Height = p.Origin.X-floor(-high.X-margin), p.Origin.Y-floor(-high.Y-margin)
}
