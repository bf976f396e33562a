package bench

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// EndView draws the board and the strings from the end, magnified alike across
// and in height: over the fret that heights are wanted at, and over the saddles,
// where the tops want their curve. Strings are broad rings where they were read to
// stand and thin ones where they are wanted.
func (r *Record) EndView(by float64) (*draw.Page, error) {
	if err := magnified(by); err != nil {
		return nil, err
	}
	tops, err := r.Tops()
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
	e := endView{newPicture(), r, v, by}
	left := e.drawn(v.Neck.Offset(v.Neck.Strings, r.Scale) - 4)
	low := e.overFret(rows, left)
	low = e.overSaddles(tops, left, low)
	notes := []string{fmt.Sprintf("magnified %s times, across and in height; a broad ring is a string as it stands, a thin one as it is wanted", times(by))}
	for _, a := range v.Assumed {
		notes = append(notes, "assumed: "+a.String())
	}
	e.said(left, low, notes...)
	return e.page(r.title("end view")), nil
}

// endView is one being drawn.
type endView struct {
	*picture
	record *Record
	side   *Side
	by     float64
}

// drawn is how long a length is drawn.
func (e endView) drawn(l units.Length) units.Length { return units.Length(e.by * float64(l)) }

// place is where a place across the board, and over it, is drawn.
func (e endView) place(y, z units.Length) fret.Point { return fret.Point{X: e.drawn(y), Y: e.drawn(z)} }

// overFret draws the strings over the fret of their heights, and returns where to
// go on below.
func (e endView) overFret(rows []HeightRow, left units.Length) units.Length {
	at := rows[0].Fret
	crown := e.crown(at)
	line(&e.is, fmt.Sprintf("crown of fret %d", at), crown...)
	bass, treble := crown[0], crown[len(crown)-1]
	e.anchored(draw.Start, "treble", treble.X+2, treble.Y-1)
	e.anchored(draw.End, "bass", bass.X-2, bass.Y-1)
	high := units.Length(0)
	for _, h := range rows {
		high = max(high, e.stringOver(at, h))
	}
	says := fmt.Sprintf("over fret %d: how high each string stands, to what is wanted, in mm", at)
	if slices.ContainsFunc(rows, func(h HeightRow) bool { return h.Fret != at }) {
		says += "; what is wanted over another fret, by the string's line"
	}
	e.said(left, high+6, says)
	return bass.Y - 10
}

// crown is the crown of a fret, a little wider than its strings if the board is
// curved so far.
func (e endView) crown(at int) (points []fret.Point) {
	n := e.side.Neck
	from := n.Division.From(n.Scale, at)
	half := n.Offset(1, from) + 3
	for i := -30; i <= 30; i++ {
		y := half * units.Length(float64(i)/30)
		if camber, err := n.Surface.Camber(from, y); err == nil {
			points = append(points, e.place(y, -camber))
		}
	}
	return points
}

// stringOver draws a string over a fret, as it is and as wanted, and returns how
// high its words reach.
func (e endView) stringOver(at int, h HeightRow) units.Length {
	n, l := e.side.Neck, e.side.Lines[h.String-1]
	from := n.Division.From(n.Scale, at)
	y, now, wanted := n.Offset(h.String, from), n.Height(h.String, l, at), h.Wanted
	camber, _ := n.Surface.Camber(from, y) // the board was checked to reach so far out
	radius := units.Length(0.15)
	if h.String <= len(e.record.Strings) {
		radius = e.record.Strings[h.String-1].Gauge / 2
	}
	ring := e.drawn(radius)
	if h.Fret != at {
		wanted = n.Height(h.String, n.Through(h.String, n.Slot(h.String, l), h.Fret, wanted), at)
	}
	circle(&e.rings, fmt.Sprintf("string %d wanted", h.String), e.place(y, wanted+radius-camber), ring)
	label, top := "to "+plainMM(wanted), wanted
	if _, _, read, _ := e.record.height(h.String, nil); read { // else it would stand as wanted
		circle(&e.is, fmt.Sprintf("string %d", h.String), e.place(y, now+radius-camber), ring)
		label, top = plainMM(now)+" "+label, max(now, wanted)
	}
	over := e.place(y, top+2*radius-camber)
	e.word(label, over.X, over.Y+2)
	e.word(fmt.Sprintf("s%d", h.String), over.X, over.Y+5.5)
	return over.Y + 8
}

// overSaddles draws where the wanted heights put the strings over the saddles, and
// the curve of the tops.
func (e endView) overSaddles(tops *Tops, left, under units.Length) units.Length {
	n := e.side.Neck
	top, low := slices.Max(tops.Levels), slices.Min(tops.Levels)
	down := under - 8 - e.drawn(top)
	at := func(y, z units.Length) fret.Point {
		p := e.place(y, z)
		return fret.Point{X: p.X, Y: p.Y + down}
	}
	misses := false
	for i, z := range tops.Levels {
		y := n.Offset(i+1, n.Scale)
		p, on := at(y, z), at(y, tops.Best.Level(y))
		name := fmt.Sprintf("string %d at the saddle", i+1)
		line(&e.rings, name, fret.Point{X: p.X - 2, Y: p.Y}, fret.Point{X: p.X + 2, Y: p.Y})
		line(&e.rings, name+", upright", fret.Point{X: p.X, Y: p.Y - 1.2}, fret.Point{X: p.X, Y: p.Y + 1.2})
		e.word(plainMM(z), p.X, max(p.Y, on.Y)+2)
		if miss := tops.Best.Misses[i]; miss >= 0.005 || miss <= -0.005 {
			e.word(fmt.Sprintf("%+.2f", float64(miss)), p.X, min(p.Y, on.Y)-4.5)
			misses = true
		}
	}
	says := []string{"over the saddles: crosses, where the wanted heights put the strings, in mm over the lower outer one"}
	if n.Strings > 1 {
		var arc []fret.Point
		for i := range 41 {
			y := n.SaddleSpread * units.Length(0.5-float64(i)/40)
			arc = append(arc, at(y, tops.Best.Level(y)))
		}
		line(&e.wanted, "curve of the tops", arc...)
		curve := "dashed: a straight line"
		if !math.IsInf(float64(tops.Best.Radius), 0) {
			curve = fmt.Sprintf("dashed: a radius of %.0f", tops.Best.Radius)
		}
		if misses {
			curve += ", and under each cross how far it misses, + where the cross is higher"
		}
		says = append(says, curve)
	}
	return e.said(left, e.drawn(low)+down-12, says...)
}
