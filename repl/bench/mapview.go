package bench

import (
	"fmt"
	"math"
	"strconv"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// InTune is how far out a note may be and count as in tune: the width of the
// usual check at the 12th fret (common practice, no source), and about the least
// that trained ears hear (from memory).
const InTune = 3 * units.Cent

// MapView draws every note of the neck as it is predicted: a line a string, and on
// it a bar a fret, up where the note is sharp. Dotted lines show InTune; the bar of
// a note beyond it is a broad one.
func (r *Record) MapView() (*draw.Page, error) {
	pre, err := r.Predict()
	if err != nil {
		return nil, err
	}
	worst := float64(InTune)
	for _, notes := range pre.Notes {
		for _, n := range notes {
			worst = max(worst, math.Abs(float64(n.Cents)))
		}
	}
	// Of the tallest bar, from fret to fret, and from string to string: six strings of
	// 24 frets fill a sheet of A4 lying.
	const tall, wide, apart = 7.5, 10, 22
	up := func(c units.Cents) units.Length { return units.Length(tall * float64(c) / worst) }
	p := newPicture()
	for s, notes := range pre.Notes {
		y := units.Length(-apart * s)
		end := units.Length(wide * (len(notes) + 1))
		line(&p.marks, fmt.Sprintf("string %d", s+1), fret.Point{X: 0, Y: y}, fret.Point{X: end, Y: y})
		for _, c := range []units.Cents{-InTune, InTune} {
			line(&p.limits, "in tune", fret.Point{X: 0, Y: y + up(c)}, fret.Point{X: end, Y: y + up(c)})
		}
		p.anchored(draw.Start, fmt.Sprintf("s%d", s+1), -8, y-1)
		for f, n := range notes {
			x := units.Length(wide * (f + 1))
			at := y + up(n.Cents)
			bars := &p.is
			if n.Cents > InTune || n.Cents < -InTune {
				bars = &p.broad
			}
			line(bars, fmt.Sprintf("string %d fret %d", s+1, f+1), fret.Point{X: x, Y: y}, fret.Point{X: x, Y: at})
			figure := max(at, y+up(InTune)) + 1 // clear of the dotted lines
			if n.Cents < 0 {
				figure = min(at, y-up(InTune)) - 3
			}
			p.word(signedCents(n.Cents), x, figure)
		}
	}
	top := units.Length(tall + 5.5)
	for f := range pre.Notes[0] {
		p.word(fmt.Sprint(f+1), units.Length(wide*(f+1)), top)
	}
	p.anchored(draw.Start, "fret", -8, top)
	notes := []string{fmt.Sprintf("cents that each note is predicted to stand out against the open string, up is sharp; dotted, %v either way; a broad bar, beyond it", InTune)}
	for _, a := range pre.Assumed {
		notes = append(notes, "assumed: "+a.String())
	}
	p.said(-8, -apart*units.Length(len(pre.Notes)-1)-tall-8, notes...)
	return p.page(r.title("map of cents")), nil
}

// signedCents writes cents for a picture: +4.1.
func signedCents(c units.Cents) string {
	s := strconv.FormatFloat(math.Round(float64(c)*10)/10+0, 'f', 1, 64)
	if c > 0 && s != "0.0" {
		s = "+" + s
	}
	return s
}
