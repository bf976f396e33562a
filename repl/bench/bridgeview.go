package bench

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// BridgeView draws the bridge from above, magnified along the strings and at twice
// its size across them, the nut where X is least: every string, and every saddle where it stands and, dashed,
// where it should. Places are from the scale line where the record knows them so,
// else from where each saddle stands.
func (r *Record) BridgeView(by float64) (*draw.Page, error) {
	if err := magnified(by); err != nil {
		return nil, err
	}
	if r.SaddleSpread == 0 && r.Count() > 1 {
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
		for i := range b.strings {
			near, far = min(near, b.is[i]-1, b.best[i]-1), max(far, b.is[i]+2, b.best[i]+2)
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
		y := r.offset(b.strings[len(b.strings)/2])
		if len(b.strings) > 1 {
			y = (r.offset(b.strings[0]) + r.offset(b.strings[len(b.strings)-1])) / 2
		}
		end := at(far, y)
		p.words.Words = append(p.words.Words, draw.Word{Text: b.words, At: fret.Point{X: end.X + 3, Y: end.Y - 1}, Size: 3})
	}
	low := at(near, -half)
	p.said(low.X-6, low.Y-8, fmt.Sprintf("magnified %s times along the strings, 2 times across; solid is where a saddle stands, dashed where it should; dotted, %s", times(by), from), "back, away from the nut, is where X grows; string 1 is the treble edge")
	return p.page(r.title("bridge from above")), nil
}

// bridgePlace is one saddle: where each of its strings breaks, and should.
type bridgePlace struct {
	strings  []int
	is, best []units.Length
	words    string
}

// draw draws a saddle across its strings.
func (b bridgePlace) draw(p *picture, r *Record, at func(x, y units.Length) fret.Point) {
	for i, l := range []*draw.Layer{&p.is, &p.wanted} {
		places := [][]units.Length{b.is, b.best}[i]
		name := []string{"saddle ", "best for "}[i] + Group(b.strings)
		var points []fret.Point
		for j, s := range b.strings {
			y := r.offset(s)
			over := units.Length(0)
			if j == 0 || j == len(b.strings)-1 {
				over = 2.5
			}
			if j == 0 {
				points = append(points, at(places[j], y+over))
			}
			points = append(points, at(places[j], y))
			if j == len(b.strings)-1 {
				points = append(points, at(places[j], y-over))
			}
		}
		line(l, name, points...)
	}
}

// bridgePlaces returns every saddle's present and best place, and what they are
// reckoned from.
func (r *Record) bridgePlaces() ([]bridgePlace, string, error) {
	moves, err := r.MoveRows()
	if err != nil || !slices.ContainsFunc(moves, MoveRow.Known) {
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
		b := bridgePlace{strings: m.Strings, words: "saddle " + Group(m.Strings) + ": " + m.Amount()}
		start := units.Length(0)
		if from == "the scale line" {
			start, _ = r.Setback(i + 1)
		}
		for j, s := range m.Strings {
			is := start + r.stagger(s)
			b.is = append(b.is, is)
			b.best = append(b.best, is+m.Place(j))
		}
		out = append(out, b)
	}
	return out, from, nil
}

// Place is how far back the place of the jth string of a saddle goes; 0 where it is
// not known or not worth moving.
func (m MoveRow) Place(j int) units.Length {
	if !m.Known() || m.Inside() {
		return 0
	}
	if math.IsNaN(float64(m.Ends[0])) || len(m.Strings) < 2 {
		return m.Move
	}
	return m.Ends[0] + (m.Ends[1]-m.Ends[0])*units.Length(float64(j)/float64(len(m.Strings)-1))
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
			best := row.Setback + r.stagger(s)
			b.best = append(b.best, best)
			if !known {
				b.is = append(b.is, best)
			} else {
				b.is = append(b.is, start+r.stagger(s))
			}
		}
		out = append(out, b)
	}
	return out, "the scale line", nil
}
