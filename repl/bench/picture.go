package bench

import (
	"fmt"
	"strconv"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// picture is a page being drawn. Solid lines are how it is, dashed ones what is
// wanted or best, dotted ones limits. Rings are thin, not dashed, where they are
// wanted: a dash is longer than a small one is round.
type picture struct{ is, broad, wanted, rings, limits, marks, words draw.Layer }

func newPicture() *picture {
	return &picture{
		is:     draw.Layer{Name: "as it is", Weight: 0.35},
		broad:  draw.Layer{Name: "out of tune", Weight: 1.6},
		wanted: draw.Layer{Name: "wanted", Ink: draw.Blue, Style: draw.Dashed, Weight: 0.35},
		rings:  draw.Layer{Name: "wanted strings", Ink: draw.Blue, Weight: 0.15},
		limits: draw.Layer{Name: "limits", Ink: draw.Grey, Style: draw.Dotted, Weight: 0.2},
		marks:  draw.Layer{Name: "marks", Ink: draw.Grey, Weight: 0.15},
		words:  draw.Layer{Name: "words"},
	}
}

// page puts the layers on a page as large as what is on them, under their title.
func (p *picture) page(title string) *draw.Page {
	page := &draw.Page{Title: title}
	for _, l := range []draw.Layer{p.marks, p.limits, p.is, p.broad, p.wanted, p.rings, p.words} {
		if len(l.Lines)+len(l.Circles)+len(l.Words) > 0 {
			page.Layers = append(page.Layers, l)
		}
	}
	headed(page)
	return page
}

// headed writes the page's title over what is on it, and makes the page as large as
// all that.
func headed(page *draw.Page) {
	page.Fit(0)
	over := fret.Point{X: -page.Origin.X, Y: page.Height - page.Origin.Y + 4}
	page.Layers = append(page.Layers, draw.Layer{Name: "title", Words: []draw.Word{{Text: page.Title, At: over, Size: 4}}})
	page.Fit(8)
}

func line(l *draw.Layer, name string, points ...fret.Point) {
	l.Lines = append(l.Lines, draw.Line{Name: name, Points: points})
}

func circle(l *draw.Layer, name string, at fret.Point, radius units.Length) {
	l.Circles = append(l.Circles, draw.Circle{Name: name, Centre: at, Radius: max(radius, 0.05)})
}

// word writes a text in the middle over a place.
func (p *picture) word(text string, x, y units.Length) { p.anchored(draw.Middle, text, x, y) }

// anchored writes a text at a place.
func (p *picture) anchored(by draw.Anchor, text string, x, y units.Length) {
	p.words.Words = append(p.words.Words, draw.Word{Text: text, At: fret.Point{X: x, Y: y}, Anchor: by, Size: 2.8})
}

// said writes lines of text from a place down, and returns where the next would
// stand.
func (p *picture) said(x, y units.Length, lines ...string) units.Length {
	for _, text := range lines {
		p.words.Words = append(p.words.Words, draw.Word{Text: text, At: fret.Point{X: x, Y: y}, Size: 3})
		y -= 5
	}
	return y
}

// title is the instrument's name, as much as fits on a sheet, before what a picture
// shows.
func (r *Record) title(of string) string {
	const most = 60
	name := r.Name
	if letters := []rune(name); len(letters) > most {
		name = string(letters[:most]) + "..."
	}
	if name == "" {
		return of
	}
	return name + ": " + of
}

// plainMM writes a length for a picture: 1.62; what is next to nothing has no sign.
func plainMM(l units.Length) string {
	s := strconv.FormatFloat(float64(l), 'f', 2, 64)
	if s == "-0.00" {
		return "0.00"
	}
	return s
}

// times writes a magnification: 4, or 2.5.
func times(x float64) string { return strconv.FormatFloat(x, 'g', 4, 64) }

// magnified refuses a magnification that no page could hold.
func magnified(by float64) error {
	if !(by >= 0.1 && by <= 50) {
		return fmt.Errorf("got a magnification of %v, want 0.1 to 50", by)
	}
	return nil
}

// Usual magnifications of pictures: an end view that fills a sheet, and heights
// in a side view and places on a bridge that can be told apart.
const (
	EndMagnified    = 4
	SideMagnified   = 10
	BridgeMagnified = 10
)
