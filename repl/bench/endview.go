package bench

import (
	"fmt"
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// EndView draws the board and the strings from the end, magnified alike across
// and in height: over the fret that heights are wanted at, and over the saddles,
// where the tops want their curve. Solid is how the strings stand, dashed what is
// wanted.
func (r *Record) EndView(by float64) (*draw.Page, error) {
	if err := magnified(by); err != nil {
		return nil, err
	}
	b, err := r.Board()
	if err != nil {
		return nil, err
	}
	rows, err := r.HeightRows()
	if err != nil {
		return nil, err
	}
	v, err := r.Side()
	if err != nil {
		return nil, err
	}
	tops, err := r.Tops()
	if err != nil {
		return nil, err
	}
	e := endView{newPicture(), b, r, v, by}
	left := e.place(b.Offset(b.Strings, b.Scale)-4, 0).X
	low := e.overFret(rows, left)
	low = e.overSaddles(tops, left, low)
	e.said(left, low, fmt.Sprintf("magnified %s times, across and in height; solid is how it is, dashed what is wanted", times(by)))
	return e.page(r.title("end view")), nil
}

// endView is one being drawn.
type endView struct {
	*picture
	board  action.Board
	record *Record
	side   *Side
	by     float64
}

// place is where a place across the board, and over it, is drawn.
func (e endView) place(y, z units.Length) fret.Point {
	return fret.Point{X: units.Length(e.by * float64(y)), Y: units.Length(e.by * float64(z))}
}

// overFret draws the strings over the fret of their heights, and returns where to
// go on below.
func (e endView) overFret(rows []HeightRow, left units.Length) units.Length {
	n, at := e.side.Neck, rows[0].Fret
	from := n.Division.From(n.Scale, at)
	bow := n.Relief.Drop(from) + n.FallAway.Drop(from)
	half := max(e.board.Offset(1, from), 0) + 3
	var crown []fret.Point
	for i := -30; i <= 30; i++ {
		y := half * units.Length(float64(i)/30)
		camber, err := e.board.Surface.Camber(from, y)
		if err == nil { // a board is a little wider than its strings, if it is curved so far
			crown = append(crown, e.place(y, -camber))
		}
	}
	line(&e.is, fmt.Sprintf("crown of fret %d", at), crown...)
	high := units.Length(0)
	for i, h := range rows {
		y, crown, now := e.board.Offset(h.String, from), n.Crown(h.String, at)+bow, n.Height(h.String, e.side.Lines[i], at)
		radius := units.Length(0.15)
		if i < len(e.record.Strings) {
			radius = e.record.Strings[i].Gauge / 2
		}
		drawn := e.place(radius, 0).X
		circle(&e.is, fmt.Sprintf("string %d", h.String), e.place(y, crown+now+radius), drawn)
		label, top := plainMM(now), now
		if !math.IsNaN(float64(h.Wanted)) {
			circle(&e.wanted, fmt.Sprintf("string %d wanted", h.String), e.place(y, crown+h.Wanted+radius), drawn)
			label, top = label+" to "+plainMM(h.Wanted), max(now, h.Wanted)
		}
		over := e.place(y, crown+top+2*radius)
		e.word(label, over.X, over.Y+2)
		e.word(fmt.Sprintf("s%d", h.String), over.X, over.Y+5.5)
		high = max(high, over.Y+11)
	}
	e.word("treble", -left, high)
	e.word("bass", left, high)
	e.said(left, high+6, fmt.Sprintf("over fret %d: how high each string stands, to what is wanted, in mm", at))
	return crown[0].Y - 10
}

// overSaddles draws where the wanted heights put the strings over the saddles, and
// the curve of the tops.
func (e endView) overSaddles(tops *Tops, left, under units.Length) units.Length {
	b, last := e.board, len(tops.Levels)-1
	y1, yn := b.Offset(1, b.Scale), b.Offset(last+1, b.Scale)
	top := units.Length(0)
	for _, z := range tops.Levels {
		top = max(top, z)
	}
	down := under - 8 - e.place(0, top).Y
	at := func(y, z units.Length) fret.Point {
		p := e.place(y, z)
		return fret.Point{X: p.X, Y: p.Y + down}
	}
	var arc []fret.Point
	for i := range 41 {
		y := y1 + (yn-y1)*units.Length(float64(i)/40)
		arc = append(arc, at(y, arcLevel(tops.Best.Radius, y, y1, tops.Levels[0], yn, tops.Levels[last])))
	}
	if last > 0 {
		line(&e.wanted, "curve of the tops", arc...)
	}
	for i, z := range tops.Levels {
		p := at(b.Offset(i+1, b.Scale), z)
		line(&e.is, fmt.Sprintf("string %d at the saddle", i+1), fret.Point{X: p.X - 2, Y: p.Y}, fret.Point{X: p.X + 2, Y: p.Y})
		e.word(plainMM(z), p.X, p.Y+2)
		if miss := tops.Best.Misses[i]; miss >= 0.005 || miss <= -0.005 {
			e.word(fmt.Sprintf("%+.2f", float64(miss)), p.X, p.Y-4.5)
		}
	}
	curve := "a straight line"
	if !math.IsInf(float64(tops.Best.Radius), 0) {
		curve = fmt.Sprintf("a radius of %.0f, and how far it misses", tops.Best.Radius)
	}
	return e.said(left, down-10, "over the saddles: where the wanted heights put the strings, in mm over the lower outer one; dashed, "+curve)
}

// arcLevel is the level at y of the circle of a radius through two places, bulging
// up between them.
func arcLevel(radius, y, y1, z1, y2, z2 units.Length) units.Length {
	slope := (z2 - z1).Over(y2 - y1)
	straight := z1 + units.Length(slope*float64(y-y1))
	if math.IsInf(float64(radius), 1) || y1 == y2 {
		return straight
	}
	// The centre lies under the chord's middle, square to it.
	half := math.Hypot(float64(y2-y1), float64(z2-z1)) / 2
	deep := math.Sqrt(max(0, float64(radius)*float64(radius)-half*half))
	sin, cos := slope/math.Hypot(1, slope), 1/math.Hypot(1, slope)
	cy, cz := float64(y1+y2)/2+deep*sin, float64(z1+z2)/2-deep*cos
	across := float64(y) - cy
	return units.Length(cz + math.Sqrt(max(0, float64(radius)*float64(radius)-across*across)))
}
