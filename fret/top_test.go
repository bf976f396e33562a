package fret_test

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Source: compound_radius.csv, 10 in at the nut to 16 in at fret 22, recomputed:
// the span to the last fret need not be stated.
func TestBoardRadius(t *testing.T) {
	p := onescale(t)
	p.Scale = 25.5 * units.Inch
	p.Surface = fret.Surface{Nut: 10 * units.Inch, End: 16 * units.Inch}
	s := board(t, p).Plan().Surface
	for share, radius := range map[float64]string{0: "10.0000", 0.25: "12.0851", 0.5: "14.1702", 0.719385: "16.0000", 1: "18.3405"} {
		check(t, fmt.Sprintf("at %v of the scale", share), s.Radius(units.Length(share)*p.Scale).Inches(), radius)
	}
	if flat := board(t, onescale(t)).Plan().Surface; flat.Nut != fret.Flat || flat.End != fret.Flat {
		t.Errorf("got %v for no surface, want it flat", flat)
	}
	p.Surface.Span = 400
	if got := board(t, p).Plan().Surface.Span; got != 400 {
		t.Errorf("got a span of %v, want the stated 400mm", got)
	}
}

// Places on top lie on the circle about the neck's axis there, found by distance.
func TestOn(t *testing.T) {
	b := board(t, twoscale(t))
	s := b.Plan().Surface
	for _, slot := range b.Slots() {
		for _, p := range []fret.Point{slot.Treble, slot.Bass, {X: slot.Treble.X}} {
			at := b.On(p)
			r := float64(s.Radius(p.X))
			if at.X != p.X || at.Y != p.Y {
				t.Errorf("got %v over %v", at, p)
			}
			near(t, "from the axis", math.Hypot(float64(at.Y), float64(at.Z)+r), r, 1e-11)
			if z := float64(at.Z); !(z <= 0) || (p.Y == 0) != (z == 0) || math.Signbit(z) != (z < 0) {
				t.Errorf("got a height of %v at %v across", at.Z, p.Y)
			}
		}
	}
	if z := b.On(fret.Point{X: 100, Y: 500}).Z; !math.IsNaN(float64(z)) {
		t.Errorf("got a height of %v beyond the radius, want NaN", z)
	}
}

// polyline sums a line over the top in many short chords, and takes the error of
// chords, which falls with the square of their number, out of two sums.
func polyline(b *fret.Board, l fret.Line) float64 {
	sum := func(steps int) float64 {
		long, before := 0.0, fret.Place{}
		for i := range steps + 1 {
			k := units.Length(i) / units.Length(steps)
			at := b.On(fret.Point{X: l.Treble.X + (l.Bass.X-l.Treble.X)*k, Y: l.Treble.Y + (l.Bass.Y-l.Treble.Y)*k})
			if i > 0 {
				dx, dy, dz := float64(at.X-before.X), float64(at.Y-before.Y), float64(at.Z-before.Z)
				long += math.Sqrt(dx*dx + dy*dy + dz*dz)
			}
			before = at
		}
		return long
	}
	return (4*sum(4000) - sum(2000)) / 3
}

func TestOverTop(t *testing.T) {
	// Square across a cylinder it is the arc, R times the angle.
	p := onescale(t)
	p.Surface = fret.Surface{Nut: 184, End: 184}
	b := board(t, p)
	for _, s := range b.Slots() {
		want := 184 * (math.Asin(float64(s.Treble.Y)/184) - math.Asin(float64(s.Bass.Y)/184))
		near(t, "arc", float64(b.OverTop(s.Line)), want, 1e-11)
	}
	// Edges that lean by 45 degrees.
	p.Surface = fret.Surface{Nut: 39, End: 39}
	b = board(t, p)
	s := b.Slots()[21]
	near(t, "a steep arc", float64(b.OverTop(s.Line)), 39*2*math.Asin(float64(s.Treble.Y)/39), 1e-9)

	// Slanting over a cone, and flat.
	p = twoscale(t)
	p.Surface = fret.Surface{Nut: 180, End: 300}
	b = board(t, p)
	for _, s := range b.Slots() {
		near(t, "over a cone", float64(b.OverTop(s.Line)), polyline(b, s.Line), 1e-9)
	}
	p.Surface = fret.Surface{}
	b = board(t, p)
	for _, s := range b.Slots() {
		near(t, "flat", float64(b.OverTop(s.Line)), float64(s.Length()), 1e-12)
	}
}

// A flat cut is as deep as the tang where it is least deep, and its stated depths
// are those found by looking along the whole slot.
func TestFlatCut(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	for range 50 {
		p := chance(t, rnd)
		p.Surface = fret.Surface{Nut: units.Length(180 + 100*rnd.Float64()), End: units.Length(180 + 300*rnd.Float64())}
		lines := board(t, p).Slots()
		own := p
		own.Division, own.Own = fret.Division{}, make([]fret.Division, len(p.AtNut))
		for i := range own.Own {
			own.Own[i] = p.Division
		}
		b := board(t, own)
		for _, s := range append(lines, b.Slots()...) {
			cut := b.FlatCut(s.Line, 1.5)
			least, most := math.Inf(1), 0.0
			const steps = 500
			for i := range steps + 1 {
				k := units.Length(i) / steps
				at := b.On(fret.Point{X: s.Treble.X + (s.Bass.X-s.Treble.X)*k, Y: s.Treble.Y + (s.Bass.Y-s.Treble.Y)*k})
				depth := float64(at.Z - cut.Floor)
				least, most = min(least, depth), max(most, depth)
			}
			near(t, "least", least, 1.5, 1e-12)
			near(t, "least end", float64(min(cut.Treble, cut.Bass)), 1.5, 1e-12)
			// A step off the crown falls by (60/500/2)^2/(2 180) at most.
			near(t, "deepest", float64(cut.Deepest), most, 2e-5)
			near(t, "treble", float64(cut.Treble), float64(b.On(s.Treble).Z-cut.Floor), 0)
			near(t, "bass", float64(cut.Bass), float64(b.On(s.Bass).Z-cut.Floor), 0)
			if !(float64(cut.Deepest) >= most-1e-14) { // two roundings of some 3 mm
				t.Errorf("got %v deepest, less than %v somewhere", cut.Deepest, most)
			}
		}
	}
	// By hand: 40 mm across a radius of 200 mm falls 200 - sqrt(200^2 - 20^2).
	p := onescale(t)
	p.NutWidth, p.EndWidth, p.Surface = 56, 56, fret.Surface{Nut: 200, End: 200}
	b := board(t, p)
	cut := b.FlatCut(fret.Line{Treble: fret.Point{X: 100, Y: 20}, Bass: fret.Point{X: 100, Y: -20}}, 2)
	near(t, "deepest", float64(cut.Deepest), 2+200-math.Sqrt(39600), 1e-13)
	near(t, "floor", float64(cut.Floor), -(2 + 200 - math.Sqrt(39600)), 1e-13)
	// A short one that just crosses the crown.
	cut = b.FlatCut(fret.Line{Treble: fret.Point{X: 100, Y: 0.5}, Bass: fret.Point{X: 100, Y: -20}}, 2)
	near(t, "deepest", float64(cut.Deepest), 2+200-math.Sqrt(39600), 1e-13)
	near(t, "treble", float64(cut.Treble), 2+math.Sqrt(40000-0.25)-math.Sqrt(39600), 1e-13)
	for _, bad := range []fret.Cut{
		b.FlatCut(fret.Line{Treble: fret.Point{Y: 300}, Bass: fret.Point{Y: -20}}, 2),
		b.FlatCut(fret.Line{Treble: fret.Point{Y: 20}, Bass: fret.Point{Y: -20}}, units.Length(math.NaN())),
	} {
		if !math.IsNaN(float64(bad.Floor)) || !math.IsNaN(float64(bad.Deepest)) {
			t.Errorf("got %v, want NaN", bad)
		}
	}
}

// A line moved back is parallel, at its distance, on the side away from the nut;
// its edges are half a kerf off.
func TestLine(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	for range 1000 {
		l := fret.Line{
			Treble: fret.Point{X: units.Length(600 * rnd.Float64()), Y: units.Length(1 + 40*rnd.Float64())},
			Bass:   fret.Point{X: units.Length(600 * rnd.Float64()), Y: -units.Length(1 + 40*rnd.Float64())},
		}
		by := units.Length(rnd.Float64() - 0.5)
		m := l.Back(by)
		d := point(l.Bass) - point(l.Treble)
		for _, p := range []fret.Point{m.Treble, m.Bass} {
			off := (point(p) - point(l.Treble)) / d // its imaginary part is the distance, over |d|
			near(t, "distance", imag(off)*cmplx.Abs(d), float64(by), 1e-10)
		}
		near(t, "length", float64(m.Length()), float64(l.Length()), 1e-10)
		near(t, "angle", float64(m.Angle()), float64(l.Angle()), 1e-9)
		rise := (l.Bass.X - l.Treble.X).Over(l.Treble.Y - l.Bass.Y)
		near(t, "angle", math.Tan(l.Angle().Radians()), rise, 1e-9*max(1, rise*rise))
		n, f := l.Edges(by)
		if n != l.Back(-by/2) || f != l.Back(by/2) {
			t.Errorf("got edges %v and %v, want half a kerf either side of %v", n, f, l)
		}
	}
	square := fret.Line{Treble: fret.Point{X: 100, Y: 25}, Bass: fret.Point{X: 100, Y: -25}}
	if n, f := square.Edges(0.6); n.Treble != (fret.Point{X: 99.7, Y: 25}) || f.Bass != (fret.Point{X: 100.3, Y: -25}) {
		t.Errorf("got edges %v and %v, want them at 99.7mm and 100.3mm", n, f)
	}
}
