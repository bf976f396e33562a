package bench

import (
	"fmt"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// SideView draws the outer strings from the side: lengths at 2 to 5, heights
// magnified. The crowns stand on the bow; under each open string a dotted line
// shows how low its swing may come.
func (r *Record) SideView(by float64) (*draw.Page, error) {
	if err := magnified(by); err != nil {
		return nil, err
	}
	v, err := r.Side()
	if err != nil {
		return nil, err
	}
	w, assumed := r.swing()
	p := newPicture()
	base := units.Length(0)
	outer := []int{1, v.Neck.Strings}
	if v.Neck.Strings == 1 {
		outer = outer[:1]
	}
	for _, s := range outer {
		base = r.sidePanel(p, v, s, by, base, w)
	}
	notes := []string{fmt.Sprintf("lengths at 2 to 5, heights magnified %s times; figures: how far the open string clears the crown, in mm", times(by))}
	swing := fmt.Sprintf("dotted: the swing of the open string, %.2f deep, plucked %.0f from the saddle", w.Depth, w.Pluck)
	if assumed {
		swing += ", assumed"
	}
	notes = append(notes, swing)
	for _, a := range v.Assumed {
		notes = append(notes, "assumed: "+a.String())
	}
	p.said(0, base, notes...)
	return p.page(r.title("side view")), nil
}

// along is the scale of lengths in a side view: a whole neck fits a sheet.
const along = 0.4

// sidePanel draws one string under base, and returns where the next begins.
func (r *Record) sidePanel(p *picture, v *Side, s int, by float64, base units.Length, w action.Swing) units.Length {
	n, l := v.Neck, v.Lines[s-1]
	frets := n.Division.Frets()
	top := max(l.Nut, l.Saddle)
	down := base - units.Length(by*float64(top)) - 8
	at := func(x, z units.Length) fret.Point {
		return fret.Point{X: along * x, Y: down + units.Length(by*float64(z))}
	}
	line(&p.is, fmt.Sprintf("string %d", s), at(0, l.Nut), at(n.Scale, l.Saddle))
	crowns := []fret.Point{at(0, n.Crown(s, 0))}
	var swing []fret.Point
	for i := range 101 {
		x := n.Scale * units.Length(float64(i)/100)
		swing = append(swing, at(x, n.Level(l, x)-w.At(n.Scale, n.Scale, x)))
	}
	shown := map[int]bool{1: true, 3: true, 5: true, 7: true, 9: true, 12: true, 15: true, 17: true, 19: true, frets: true}
	for f := 1; f <= frets; f++ {
		x := n.Division.From(n.Scale, f)
		z := n.Crown(s, f)
		crowns = append(crowns, at(x, z))
		line(&p.is, fmt.Sprintf("crown %d", f), at(x, z), fret.Point{X: at(x, z).X, Y: at(x, z).Y - 3})
		if shown[f] {
			p.word(fmt.Sprint(f), at(x, z).X, at(x, z).Y-7)
			p.word(plainMM(n.Height(s, l, f)), at(x, 0).X, at(0, n.Level(l, x)).Y+1.5)
		}
	}
	line(&p.marks, "crowns", crowns...)
	line(&p.limits, "swing", swing...)
	p.said(0, base, fmt.Sprintf("string %d, nut to scale line", s))
	return crowns[len(crowns)/2].Y - 20
}
