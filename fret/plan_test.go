package fret_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Every plan that cannot be is refused, with what to change.
func TestPlanErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	const crossing = "want scales nearer to each other, a straight fret nearer to these, or a narrower board"
	short := make([]units.Length, 5)
	for _, row := range []struct {
		two    bool // of two scales
		change func(*fret.Plan)
		want   string
	}{
		{false, func(p *fret.Plan) { p.AtNut = nil }, "got 0 strings at the nut, want 1 to 100"},
		{false, func(p *fret.Plan) { p.AtNut = make([]units.Length, 101) }, "got 101 strings at the nut, want 1 to 100"},
		{false, func(p *fret.Plan) { p.AtScale = short }, "got 5 strings at the scale line, want the 6 of the nut"},
		{false, func(p *fret.Plan) { p.AtNut[2] = 18 }, "got string 3 at 18mm across at the nut, want places that fall from treble to bass"},
		{false, func(p *fret.Plan) { p.AtNut[1] = 18 }, "got string 2 at 18mm across at the nut, want places that fall from treble to bass"},
		{false, func(p *fret.Plan) { p.AtScale[0] = nan }, "got string 1 at NaNmm across at the scale line, want places that fall from treble to bass"},
		{false, func(p *fret.Plan) { p.AtNut[0] = inf }, "got string 1 at +Infmm across at the nut, want places that fall from treble to bass"},
		{false, func(p *fret.Plan) { p.AtNut[5] = -inf }, "got string 6 at -Infmm across at the nut, want places that fall from treble to bass"},
		{false, func(p *fret.Plan) { p.Setback = short }, "got 5 values of setback, want none or one for each of 6 strings"},
		{false, func(p *fret.Plan) { p.NutCompensation = short }, "got 5 values of nut compensation, want none or one for each of 6 strings"},
		{false, func(p *fret.Plan) { p.Setback = []units.Length{0, 0, 0, nan, 0, 0} }, "got a setback of NaNmm on string 4, want a finite length"},

		{false, func(p *fret.Plan) { p.Division = fret.Division{} }, "got no frets and no marks, want a Division, Own or Marks"},
		{false, func(p *fret.Plan) { p.Own = make([]fret.Division, 6) }, "got frets straight across and frets of the strings' own, want Division or Own"},
		{false, func(p *fret.Plan) { p.Division, p.Own = divide(t, 100), make([]fret.Division, 6) }, "got frets straight across and frets of the strings' own, want Division or Own"},
		{false, func(p *fret.Plan) { p.Division, p.Own = fret.Division{}, make([]fret.Division, 6) }, "got no frets and no marks, want a Division, Own or Marks"},
		{false, func(p *fret.Plan) { p.Division, p.Own = fret.Division{}, []fret.Division{p.Division} }, "got frets of their own for 1 strings, want them for all 6"},
		// As many marks as frets, and as many as all strings have of their own.
		{false, func(p *fret.Plan) { p.Marks = p.Division }, ""},
		{false, func(p *fret.Plan) { owned(p, divide(t, 100)); p.Marks = equal(t, 12, 6) }, ""},

		{false, func(p *fret.Plan) { p.Scale, p.Beyond = 0.5, 0 }, ""},
		{false, func(p *fret.Plan) { p.Scale = 0 }, "got a scale of 0mm, want more than 0"},
		{false, func(p *fret.Plan) { p.Scale = -650 }, "got a scale of -650mm, want more than 0"},
		{false, func(p *fret.Plan) { p.Scale = nan }, "got a scale of NaNmm, want more than 0"},
		{false, func(p *fret.Plan) { p.Scale = inf }, "got a scale of +Infmm, want more than 0"},
		{false, func(p *fret.Plan) { p.Treble = 640 }, "got scales of 650mm, and 640mm and 0mm, want one Scale or Treble and Bass"},
		{true, func(p *fret.Plan) { p.Treble = 0 }, "got a treble scale of 0mm, want more than the 13mm that its string moves across"},
		{true, func(p *fret.Plan) { p.Bass = 0 }, "got a bass scale of 0mm, want more than the 13mm that its string moves across"},
		{true, func(p *fret.Plan) { p.Treble = 13 }, "got a treble scale of 13mm, want more than the 13mm that its string moves across"},
		{true, func(p *fret.Plan) { p.Treble = nan }, "got a treble scale of NaNmm, want more than the 13mm that its string moves across"},
		{true, func(p *fret.Plan) { p.Bass = inf }, "got a bass scale of +Infmm, want more than the 13mm that its string moves across"},
		{true, func(p *fret.Plan) { p.AtNut, p.AtScale = p.AtNut[:1], p.AtScale[:1] }, "got two scales for one string, want one Scale"},
		{true, func(p *fret.Plan) { p.Straight = math.NaN() }, "got the straight fret at NaN, want a fret number"},
		{true, func(p *fret.Plan) { p.Straight = math.Inf(1) }, "got the straight fret at +Inf, want a fret number"},
		{true, func(p *fret.Plan) { p.Straight = math.Inf(-1) }, "got the straight fret at -Inf, want a fret number"},

		{false, func(p *fret.Plan) { p.Behind = -1 }, "got a board that runs -1mm behind the nut line, want at least 0"},
		{false, func(p *fret.Plan) { p.Behind = inf }, "got a board that runs +Infmm behind the nut line, want at least 0"},
		{false, func(p *fret.Plan) { p.Beyond = -0.5 }, "got a board that runs -0.5mm beyond its last fret, want at least 0"},
		{false, func(p *fret.Plan) { p.Beyond = inf }, "got a board that runs +Infmm beyond its last fret, want at least 0"},
		{false, func(p *fret.Plan) { p.Beyond = nan }, "got a board that runs NaNmm beyond its last fret, want at least 0"},
		{false, func(p *fret.Plan) { p.NutWidth, p.EndWidth, p.Margin = 0, 0, -1 }, "got an edge margin of -1mm, want at least 0"},
		{false, func(p *fret.Plan) { p.NutWidth, p.EndWidth, p.Margin = 0, 0, inf }, "got an edge margin of +Infmm, want at least 0"},
		{false, func(p *fret.Plan) { p.NutWidth, p.EndWidth, p.Margin = 0, 0, 0 }, ""}, // the outer strings run along the edges
		{false, func(p *fret.Plan) { p.Margin = 3 }, "got widths of 43mm and 56mm and a margin of 3mm, want NutWidth and EndWidth or a Margin"},
		{false, func(p *fret.Plan) { p.NutWidth = 0 }, "got a width of 0mm at the nut, want more than 0"},
		{false, func(p *fret.Plan) { p.NutWidth = inf }, "got a width of +Infmm at the nut, want more than 0"},
		{false, func(p *fret.Plan) { p.EndWidth = 0 }, "got a width of 0mm at the end, want more than 0"},
		{false, func(p *fret.Plan) { p.EndWidth = inf }, "got a width of +Infmm at the end, want more than 0"},
		{false, func(p *fret.Plan) { p.NutWidth = 35 }, "got string 1 off the board by 0.500mm at the nut, want a wider board there or strings nearer together"},
		{false, func(p *fret.Plan) { p.AtNut[5] = -22 }, "got string 6 off the board by 0.500mm at the nut, want a wider board there or strings nearer together"},
		{false, func(p *fret.Plan) { p.NutWidth = 0.5 }, "got string 1 off the board by 17.750mm at the nut, want a wider board there or strings nearer together"},
		// At the end the strings are 36 + 16 (467.600 + 8)/650 = 47.707 mm apart; where
		// the bass string runs 22 mm outwards on the way, it ends at -34.097 mm.
		{false, func(p *fret.Plan) { p.EndWidth = 0.5 }, "got string 1 off the board by 23.604mm at the end, want a wider board there or strings nearer together"},
		{false, func(p *fret.Plan) { p.AtScale[5] = -40 }, "got string 6 off the board by 6.097mm at the end, want a wider board there or strings nearer together"},
		{false, func(p *fret.Plan) { p.EndWidth = 47 }, "got string 1 off the board by 0.354mm at the end, want a wider board there or strings nearer together"},

		{false, func(p *fret.Plan) { p.Blind = -1 }, "got slots that stop -1mm short of the edge, want at least 0"},
		{false, func(p *fret.Plan) { p.Blind = nan }, "got slots that stop NaNmm short of the edge, want at least 0"},
		{false, func(p *fret.Plan) { p.Blind = inf }, "got slots that stop +Infmm short of the edge, want at least 0"},
		{false, func(p *fret.Plan) { p.Blind = 3.5 }, "got slots that stop 3.5mm short of the edge, want less than the 3.500mm from there to string 1 at the nut"},
		{false, func(p *fret.Plan) { p.Blind, p.EndWidth = 3.4, 54.5 }, "got slots that stop 3.4mm short of the edge, want less than the 3.396mm from there to string 1 at the end"},
		{false, func(p *fret.Plan) { p.Blind, p.NutWidth = 0.75, 37 }, "got slots that stop 0.75mm short of the edge, want less than the 0.500mm from there to string 1 at the nut"},
		{false, func(p *fret.Plan) { p.Blind = 3.4 }, ""},

		// 650 (2^(-(n-1)/12) - 2^(-n/12)) is under 1e-9 mm from n = 423 on.
		{false, func(p *fret.Plan) { p.Division = equal(t, 12, 1000) }, "got frets 422 and 423 in one place, want fewer frets"},
		{false, func(p *fret.Plan) { p.Marks = equal(t, 12, 1000) }, "got frets 422 and 423 in one place, want fewer frets"},
		{false, func(p *fret.Plan) { owned(p, equal(t, 12, 1000)) }, "got frets 422 and 423 in one place, want fewer frets"},
		{true, func(p *fret.Plan) { widely(p, 600) }, "got fret 1 behind the nut line at its treble end, " + crossing},
		{true, func(p *fret.Plan) { widely(p, 600); p.Treble, p.Bass = p.Bass, p.Treble }, "got fret 1 behind the nut line at its bass end, " + crossing},
		// The nut wider than the scale line: frets close in on each other further on.
		{true, func(p *fret.Plan) { widely(p, 500); p.AtNut, p.AtScale = p.AtScale, p.AtNut }, "got frets 16 and 17 crossing at their treble ends, " + crossing},
		{true, func(p *fret.Plan) { p.Straight = 1e300 }, ""},
		{true, func(p *fret.Plan) { p.Straight = -1e300 }, "got an end of the board that runs along its edges, want ends nearer to square: scales nearer to each other, or another straight fret"},

		{false, func(p *fret.Plan) { p.Surface.Nut = -1 }, "got a radius of -1mm at the nut, want more than 0"},
		{false, func(p *fret.Plan) { p.Surface = fret.Surface{Nut: 21, End: 400} }, "got a radius of 21mm, want more than the offset of 21.5mm"},
		{false, func(p *fret.Plan) { p.Surface = fret.Surface{Nut: nan, End: 400} }, "got a radius of NaNmm at the nut, want more than 0"},

		// Fret 1 is 36.482 mm from the nut on the centre line, 36.484 on string 6, which
		// moves 8 mm across; 182.400 mm remain of the 650, 182.405 on string 2, 4.8 mm,
		// and 182.414 on string 1.
		{false, func(p *fret.Plan) { p.NutCompensation = []units.Length{0, 0, 0, 0, 0, 37} }, "got the nut of string 6 37mm forward, want less than the 36.484mm to its first fret or mark"},
		{false, func(p *fret.Plan) { p.Setback = []units.Length{0, -183, 0, 0, 0, 0} }, "got the saddle of string 2 set back by -183mm, want more than -182.405mm, where its last fret or mark stands"},
		// The last string that has frets, though others have none.
		{false, func(p *fret.Plan) {
			owned(p, p.Division)
			p.Own[0], p.Own[2], p.NutCompensation = fret.Division{}, fret.Division{}, []units.Length{50, 0, 50, 0, 0, 37}
		}, "got the nut of string 6 37mm forward, want less than the 36.484mm to its first fret or mark"},
		// Just at the first and at the last fret, on strings that do not part.
		{false, func(p *fret.Plan) {
			p.AtScale, p.NutCompensation = p.AtNut, make([]units.Length, 6)
			p.Division = divide(t, 1200)
			p.NutCompensation[2] = 325
		}, "got the nut of string 3 325mm forward, want less than the 325.000mm to its first fret or mark"},
		{false, func(p *fret.Plan) {
			p.AtScale, p.Setback = p.AtNut, make([]units.Length, 6)
			p.Division = divide(t, 2400)
			p.Setback[2] = -162.5
		}, "got the saddle of string 3 set back by -162.5mm, want more than -162.500mm, where its last fret or mark stands"},
		{false, func(p *fret.Plan) {
			p.Division, p.Marks, p.Setback = fret.Division{}, p.Division, []units.Length{-183, 0, 0, 0, 0, 0}
		}, "got the saddle of string 1 set back by -183mm, want more than -182.414mm, where its last fret or mark stands"},
	} {
		p := onescale(t)
		if row.two {
			p = twoscale(t)
		}
		row.change(&p)
		b, err := fret.NewBoard(p)
		if row.want == "" {
			if err != nil {
				t.Errorf("got %v, want a board", err)
			}
			continue
		}
		wantError(t, err, row.want)
		if b != nil {
			t.Errorf("got a board beside the error %v, want none", err)
		}
	}
	_, err := fret.NewBoard(fret.Plan{})
	wantError(t, err, "got 0 strings at the nut, want 1 to 100")
}

// widely gives a flat board wide margins, where slanting frets run together.
func widely(p *fret.Plan, margin units.Length) {
	p.Surface, p.NutWidth, p.EndWidth, p.Margin = fret.Surface{}, 0, 0, margin
}

// owned gives each string the same frets, of its own.
func owned(p *fret.Plan, d fret.Division) {
	p.Division, p.Own = fret.Division{}, make([]fret.Division, len(p.AtNut))
	for i := range p.Own {
		p.Own[i] = d
	}
}

// The frets refused as crossing are those that the twin finds to.
func TestCrossingTwin(t *testing.T) {
	p := twoscale(t)
	widely(&p, 500)
	p.AtNut, p.AtScale = p.AtScale, p.AtNut
	w := newTwin(p)
	end := func(n int) float64 { return real(meets(w.line(shareAt(float64(n))), w.edge(0))) }
	n := 1
	for end(n) > end(n-1) {
		n++
	}
	_, err := fret.NewBoard(p)
	wantError(t, err, fmt.Sprintf("got frets %d and %d crossing at their treble ends, want scales nearer to each other, a straight fret nearer to these, or a narrower board", n-1, n))
}

// Whatever is stated, a board either is refused or is whole: its corners and slots
// are finite, and its frets rise along both edges.
func FuzzNewBoard(f *testing.F) {
	f.Add(650., 0., 0., 0., 36., 52., 43., 56., 0., 8., 300., 400., 6, 22)
	f.Add(0., 640., 700., 7.5, 46., 72., 0., 0., 3., 8., 0., 0., 8, 24)
	f.Add(0., 640., 700., -1e9, 46., 72., 0., 0., 3e9, 8., 1e-9, 1e300, 8, 24)
	f.Add(math.Inf(1), math.NaN(), -1., 1e308, 5e-324, 1e308, 1e308, 1e308, 0., 1e308, math.Inf(1), math.Inf(1), 2, 1000)
	f.Fuzz(func(t *testing.T, scale, treble, bass, straight, nut, end, nutWidth, endWidth, margin, beyond, r0, r1 float64, strings, frets int) {
		d, err := fret.Equal(units.Octave, 12, min(frets, 40))
		if err != nil {
			return
		}
		p := fret.Plan{
			Division: d, Scale: units.Length(scale), Treble: units.Length(treble), Bass: units.Length(bass), Straight: straight,
			NutWidth: units.Length(nutWidth), EndWidth: units.Length(endWidth), Margin: units.Length(margin), Beyond: units.Length(beyond),
			Surface: fret.Surface{Nut: units.Length(r0), End: units.Length(r1)},
		}
		p.AtNut, _ = fret.EqualCentres(units.Length(nut), strings)
		p.AtScale, _ = fret.EqualCentres(units.Length(end), strings)
		whole(t, p)
		p.Own = make([]fret.Division, len(p.AtNut))
		for i := range p.Own {
			p.Own[i] = d
		}
		p.Division, p.ZeroFret, p.Marks = fret.Division{}, true, d
		whole(t, p)
	})
}

func whole(t *testing.T, p fret.Plan) {
	b, err := fret.NewBoard(p)
	if err != nil {
		return
	}
	finite := func(p fret.Point) {
		if x := float64(p.X) + float64(p.Y); x-x != 0 {
			t.Errorf("%+v: got %v, want a place", b.Plan(), p)
		}
	}
	for _, c := range b.Outline() {
		finite(c)
		if z := float64(b.On(c).Z); !(z <= 0) {
			t.Errorf("%+v: got a corner at a height of %v, want at most 0", b.Plan(), z)
		}
	}
	before := fret.Slot{String: -1}
	for _, s := range append(b.Slots(), b.Marks()...) {
		finite(s.Treble)
		finite(s.Bass)
		if s.String == before.String && s.Fret > before.Fret && !(s.Treble.X > before.Treble.X && s.Bass.X > before.Bass.X) {
			t.Errorf("%+v: got slot %v after %v, want them rising", b.Plan(), s, before)
		}
		before = s
		b.OverTop(s.Line)
		b.FlatCut(s.Line, 1.5)
	}
	for str := range b.Strings() {
		b.Saddle(str + 1)
		b.Nut(str + 1)
		b.Off(str+1, 1)
	}
	b.SaddleLine(10)
}
