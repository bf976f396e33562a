package bench

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// BridgeView draws the bridge from above, magnified along the strings and at twice
// its size across them, the nut to the left: every string, and every saddle where
// it stands and, dashed, where it should, as far as either is known. Places are from
// the scale line where the record knows them so, else from where each saddle stands.
func (r *Record) BridgeView(by float64) (*draw.Page, error) {
	if err := magnified(by); err != nil {
		return nil, err
	}
	switch n := r.Count(); {
	case n == 0:
		return nil, noStrings
	case n > 1 && r.SaddleSpread == 0:
		return nil, noSpread
	}
	places, from, err := r.bridgePlaces()
	if err != nil {
		return nil, err
	}
	p := newPicture()
	at := func(x, y units.Length) fret.Point {
		return fret.Point{X: units.Length(by * float64(x)), Y: 2 * y}
	}
	near, far := units.Length(-2), units.Length(4)
	for _, b := range places {
		for _, x := range slices.Concat(b.is, b.best) {
			near, far = min(near, x-1), max(far, x+2)
		}
	}
	half := r.SaddleSpread/2 + 3
	line(&p.limits, from, at(0, -half), at(0, half))
	for s := 1; s <= r.Count(); s++ {
		y := r.offset(s)
		line(&p.marks, fmt.Sprintf("string %d", s), at(near, y), at(far, y))
		p.word(fmt.Sprintf("s%d", s), at(near, y).X-4, at(near, y).Y-1)
	}
	for _, b := range places {
		b.draw(p, r, at)
		end := at(far, (r.offset(slices.Min(b.strings))+r.offset(slices.Max(b.strings)))/2)
		p.said(end.X+3, end.Y-1, b.words)
	}
	nut, tail := at(near, half), at(far, half)
	p.anchored(draw.Start, "to the nut", nut.X-15, nut.Y)
	p.anchored(draw.Start, "to the tail", tail.X+3, tail.Y)
	says := "dashed is where a saddle should stand"
	if len(p.is.Lines) > 0 {
		says = "solid is where a saddle stands, dashed where it should"
	}
	p.said(nut.X-15, -nut.Y-8, fmt.Sprintf("magnified %s times along the strings, 2 times across; %s; dotted, %s", times(by), says, from),
		"back is away from the nut; string 1 is the treble edge")
	return p.page(r.title("bridge from above")), nil
}

// bridgePlace is one saddle: where each of its strings breaks, and should, nil where
// that is not known.
type bridgePlace struct {
	strings  []int
	is, best []units.Length
	words    string
}

// draw draws a saddle across its strings, from the treble to the bass and a little
// beyond.
func (b bridgePlace) draw(p *picture, r *Record, at func(x, y units.Length) fret.Point) {
	const beside = 5
	for i, l := range []*draw.Layer{&p.is, &p.wanted} {
		places := [][]units.Length{b.is, b.best}[i]
		if places == nil {
			continue
		}
		name := []string{"saddle ", "best for "}[i] + Group(b.strings)
		var points []fret.Point
		for j, s := range b.strings {
			points = append(points, at(places[j], r.offset(s)))
		}
		slices.SortFunc(points, func(a, b fret.Point) int { return cmp.Compare(b.Y, a.Y) })
		treble, bass := points[0], points[len(points)-1]
		treble.Y, bass.Y = treble.Y+beside, bass.Y-beside
		line(l, name, slices.Concat([]fret.Point{treble}, points, []fret.Point{bass})...)
	}
}

// bridgePlaces returns every saddle's present and best place, and what they are
// reckoned from.
func (r *Record) bridgePlaces() ([]bridgePlace, string, error) {
	moves, err := r.MoveRows()
	if err != nil {
		return nil, "", err
	}
	if !slices.ContainsFunc(moves, MoveRow.Known) {
		return r.bridgeStarts()
	}
	groups, _ := r.Groups()
	from := "the scale line"
	for i := range groups {
		if _, known := r.Setback(i + 1); !known {
			from = "where each saddle stands"
		}
	}
	var out []bridgePlace
	for i, m := range moves {
		says := m.Amount()
		if m.Inside() {
			says = "leave it"
		}
		b := bridgePlace{strings: m.Strings, words: "saddle " + Group(m.Strings) + ": " + says}
		start := units.Length(0)
		if from == "the scale line" {
			start, _ = r.Setback(i + 1)
		}
		for j, s := range m.Strings {
			is := start + r.stagger(s)
			b.is = append(b.is, is)
			if m.Known() {
				b.best = append(b.best, is+m.Place(j))
			}
		}
		out = append(out, b)
	}
	return out, from, nil
}

// Place is how far back the place of the jth string of a saddle goes; 0 where it is
// not known or not worth moving, or has no such string.
func (m MoveRow) Place(j int) units.Length {
	if !m.Known() || m.Inside() || j < 0 || j >= len(m.Places) {
		return 0
	}
	return m.Places[j]
}

// bridgeStarts places saddles before anything was read.
func (r *Record) bridgeStarts() ([]bridgePlace, string, error) {
	rows, _, err := r.PlaceRows()
	if err != nil {
		return nil, "", err
	}
	var out []bridgePlace
	for i, row := range rows {
		b := bridgePlace{strings: row.Strings, words: fmt.Sprintf("saddle %s: starts %.1f behind the scale line", Group(row.Strings), row.Setback)}
		start, known := r.Setback(i + 1)
		for _, s := range row.Strings {
			b.best = append(b.best, row.Setback+r.stagger(s))
			if known {
				b.is = append(b.is, start+r.stagger(s))
			}
		}
		out = append(out, b)
	}
	return out, "the scale line", nil
}
