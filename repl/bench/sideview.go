package bench

import (
	"cmp"
	"fmt"
	"math"
	"slices"

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
	nut, scale := at(0, l.Nut), at(n.Scale, l.Saddle)
	line(&p.is, fmt.Sprintf("string %d", s), nut, scale)
	crowns := []fret.Point{at(0, n.Crown(s, 0))}
	var swing []fret.Point
	for i := range 101 {
		x := n.Scale * units.Length(float64(i)/100)
		swing = append(swing, at(x, n.Level(l, x)-w.At(n.Scale, n.Scale, x)))
	}
	shown := figured(n)
	for f := 1; f <= frets; f++ {
		x := n.Division.From(n.Scale, f)
		z := n.Crown(s, f)
		crowns = append(crowns, at(x, z))
		line(&p.is, fmt.Sprintf("crown %d", f), at(x, z), fret.Point{X: at(x, z).X, Y: at(x, z).Y - 3})
		if anchor, ok := shown[f]; ok {
			p.anchored(anchor, fmt.Sprint(f), at(x, z).X, at(x, z).Y-7)
			p.anchored(anchor, plainMM(n.Height(s, l, f)), at(x, z).X, at(x, n.Level(l, x)).Y+1.5)
		}
	}
	foot := crowns[0].Y - 3
	line(&p.marks, "nut", nut, fret.Point{X: nut.X, Y: foot})
	line(&p.marks, "scale line", scale, fret.Point{X: scale.X, Y: foot})
	p.anchored(draw.Start, "nut", nut.X, foot-4)
	p.anchored(draw.End, "scale line", scale.X, foot-4)
	line(&p.marks, "crowns", crowns...)
	line(&p.limits, "swing", swing...)
	p.said(0, base, fmt.Sprintf("string %d", s))
	return slices.MinFunc(crowns, func(a, b fret.Point) int { return cmp.Compare(a.Y, b.Y) }).Y - 20
}

// figured are the frets that have their figures, and how these stand at them: the
// last, the octave, and of those that usually have a dot each that has room beside
// the others and the nut. The first two turn away from each other where they are
// close.
func figured(n action.Neck) map[int]draw.Anchor {
	const room = 7 // for a figure and a gap
	d, last := n.Division, n.Division.Frets()
	shown := map[int]draw.Anchor{0: draw.Start, last: draw.Middle}
	fits := func(f int) bool {
		for other := range shown {
			if math.Abs(float64(along*(d.From(n.Scale, f)-d.From(n.Scale, other)))) < room {
				return false
			}
		}
		return true
	}
	for f := range last {
		if octave := math.Abs(d.Share(f)-0.5) < 1e-6; octave && !fits(f) {
			shown[f], shown[last] = draw.End, draw.Start
		} else if octave {
			shown[f] = draw.Middle
		}
	}
	for _, f := range []int{12, 1, 3, 5, 7, 9, 15, 17, 19, 21} {
		if f <= last && fits(f) {
			shown[f] = draw.Middle
		}
	}
	return shown
}
