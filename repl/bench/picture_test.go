package bench_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// lineOf is the line or circle of a name on a layer.
func lineOf(t *testing.T, p *draw.Page, layer, name string) draw.Line {
	t.Helper()
	for _, l := range p.Layers {
		if l.Name != layer {
			continue
		}
		for _, line := range l.Lines {
			if line.Name == name {
				return line
			}
		}
	}
	t.Fatalf("no line %q on layer %q", name, layer)
	return draw.Line{}
}

func circleOf(t *testing.T, p *draw.Page, layer, name string) draw.Circle {
	t.Helper()
	for _, l := range p.Layers {
		if l.Name != layer {
			continue
		}
		for _, c := range l.Circles {
			if c.Name == name {
				return c
			}
		}
	}
	t.Fatalf("no circle %q on layer %q", name, layer)
	return draw.Circle{}
}

func said(p *draw.Page, part string) bool {
	for _, l := range p.Layers {
		for _, w := range l.Words {
			if strings.Contains(w.Text, part) {
				return true
			}
		}
	}
	return false
}

// wordOf is the only word of a text.
func wordOf(t *testing.T, p *draw.Page, text string) draw.Word {
	t.Helper()
	var found []draw.Word
	for _, l := range p.Layers {
		for _, w := range l.Words {
			if w.Text == text {
				found = append(found, w)
			}
		}
	}
	if len(found) != 1 {
		t.Fatalf("got %d words %q, want one", len(found), text)
	}
	return found[0]
}

// words are the texts on a layer, in order.
func words(p *draw.Page, layer string) (texts []string) {
	for _, l := range p.Layers {
		for _, w := range l.Words {
			if l.Name == layer {
				texts = append(texts, w.Text)
			}
		}
	}
	return texts
}

// drawnOn are the names of a layer's lines, in order.
func drawnOn(p *draw.Page, layer string) (names []string) {
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			if l.Name == layer {
				names = append(names, line.Name)
			}
		}
	}
	return names
}

func pt(x, y units.Length) fret.Point { return fret.Point{X: x, Y: y} }

// On a flat board strings stand where their heights and gauges put them, four
// times their size; at the saddle half as high again and again.
func TestEndView(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0))
	p := ok(r.EndView(4))(t)
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	// The spread at the 12th is half way between 35 and 50 mm; string 1 is .011 in.
	gauge := units.Length(0.011 * 25.4)
	diff(t, "string 1", draw.Circle{Name: "string 1", Centre: pt(4*42.5/2, 4*(2+gauge/2)), Radius: 4 * gauge / 2}, circleOf(t, p, "as it is", "string 1"))
	diff(t, "wanted", pt(4*42.5/2, 4*(1.5+gauge/2)), circleOf(t, p, "wanted strings", "string 1 wanted").Centre)
	curve := lineOf(t, p, "wanted", "curve of the tops").Points
	// 1.5 and 2 mm over the 12th are 1 mm apart at the saddle, on a straight line.
	first, last := curve[0], curve[len(curve)-1]
	diff(t, "tops", []units.Length{200, 4, first.Y + 2}, []units.Length{first.X - last.X, last.Y - first.Y, curve[len(curve)/2].Y})
	// The board is drawn 3 mm wider than its strings; the words stand 2 mm off it.
	for text, at := range map[string]units.Length{"treble": 4*(42.5/2+3) + 2, "bass": -4*(42.5/2+3) - 2} {
		diff(t, text, pt(at, -1), wordOf(t, p, text).At)
	}
	diff(t, "words", []string{
		"treble", "bass", "2.00 to 1.50", "s1", "2.00 to 1.60", "s2", "2.00 to 1.70", "s3", "2.00 to 1.80", "s4", "2.00 to 1.90", "s5", "2.00 to 2.00", "s6",
		"over fret 12: how high each string stands, to what is wanted, in mm", "0.00", "0.20", "0.40", "0.60", "0.80", "1.00",
		"over the saddles: crosses, where the wanted heights put the strings, in mm over the lower outer one", "dashed: a straight line",
		"magnified 4 times, across and in height; a broad ring is a string as it stands, a thin one as it is wanted",
		"assumed: strings 0.50mm over the plane of the frets at the nut, where no slot was told or read",
	}, words(p, "words"))
	for _, by := range []float64{0, -1, 51, math.NaN(), math.Inf(1)} {
		_, err := r.EndView(by)
		wantError(t, err, fmt.Sprintf("got a magnification of %v, want 0.1 to 50", by))
	}
	_, err := six(t).EndView(4)
	wantError(t, err, "got no wanted action, want that told first, as in want action 12: 1.5mm 1.9mm")
}

// Strings that are wanted 0.1 mm over the straight line through the outer two, and
// 0.12 mm under it, at the 12th stand 0.2 mm over it and 0.24 mm under it at the
// saddle: the lower would ask for a hollow, so that the line is the best.
func TestEndViewMisses(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 1.6, 1.8, 1.68, 1.9, 2.0))
	p := ok(r.EndView(4))(t)
	wordOf(t, p, "dashed: a straight line, and under each cross how far it misses, + where the cross is higher")
	low := lineOf(t, p, "wanted", "curve of the tops").Points[0].Y
	// Strings cross the saddles 10 mm apart, the third and the fourth 5 mm from the
	// centre line, where the line has risen by 0.4 and 0.6 mm of 1 mm. Figures stand
	// 2 mm over the higher of line and cross, and 4.5 mm under the lower.
	for _, row := range []struct {
		str         int
		across      units.Length
		level       units.Length
		over, under fret.Point
		miss        string
	}{
		{3, 4 * 5, 0.6, pt(4*5, low+4*0.6+2), pt(4*5, low+4*0.4-4.5), "+0.20"},
		{4, 4 * -5, 0.36, pt(4*-5, low+4*0.6+2), pt(4*-5, low+4*0.36-4.5), "-0.24"},
	} {
		name := fmt.Sprintf("string %d at the saddle", row.str)
		at := low + 4*row.level
		diff(t, name, []fret.Point{pt(row.across-2, at), pt(row.across+2, at)}, lineOf(t, p, "wanted strings", name).Points)
		diff(t, name+", upright", []fret.Point{pt(row.across, at-1.2), pt(row.across, at+1.2)}, lineOf(t, p, "wanted strings", name+", upright").Points)
		diff(t, "level", row.over, wordOf(t, p, fmt.Sprintf("%.2f", float64(row.level))).At)
		diff(t, "miss", row.under, wordOf(t, p, row.miss).At)
	}
}

// A height that is wanted over another fret is drawn over this one where the string
// passes that stands so.
func TestEndViewMixedFrets(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0), on(want(bench.Action, bench.How{At: 14}, 2.4), 6))
	p := ok(r.EndView(4))(t)
	// From a slot of 0.5 mm, 1.9 mm up at the 14th, and half way along: 2.213 mm.
	over12 := 0.5 + units.Length(0.5*1.9/share(14))
	gauge := units.Length(0.049 * 25.4)
	diff(t, "wanted", pt(-4*42.5/2, 4*(over12+gauge/2)), circleOf(t, p, "wanted strings", "string 6 wanted").Centre)
	wordOf(t, p, "2.00 to 2.21")
	wordOf(t, p, "over fret 12: how high each string stands, to what is wanted, in mm; what is wanted over another fret, by the string's line")
}

// The circle over the saddles in the picture is the circle that was worked out: it
// goes through the outer two, and has the radius in between.
func TestEndViewCurve(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0), want(bench.Curve, bench.How{}, 304.8))
	p := ok(r.EndView(1))(t)
	radius := ok(r.Tops())(t).Best.Radius
	curve := lineOf(t, p, "wanted", "curve of the tops").Points
	a, b, c := curve[0], curve[len(curve)/3], curve[len(curve)-1]
	long := func(a, b fret.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }
	area := math.Abs((float64(b.X-a.X)*float64(c.Y-a.Y) - float64(c.X-a.X)*float64(b.Y-a.Y)) / 2)
	if got := long(a, b) * long(b, c) * long(c, a) / (4 * area); math.Abs(got-float64(radius)) > 1e-3 {
		t.Errorf("got a circle of %v, want %v", got, radius)
	}
}

// Lengths are at 2 to 5, heights magnified: the crowns of a straight neck lie
// level, the string runs straight over them.
func TestSideView(t *testing.T) {
	p := ok(flat(t).SideView(10))(t)
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	s := lineOf(t, p, "as it is", "string 1").Points
	diff(t, "string", []units.Length{0, 0.4 * 640, 10 * 3}, []units.Length{s[0].X, s[1].X, s[1].Y - s[0].Y}) // 0.5 to 3.5 mm
	crown := lineOf(t, p, "as it is", "crown 12").Points[0]
	diff(t, "crown", []units.Length{0.4 * 320, 10 * 0.5}, []units.Length{crown.X, s[0].Y - crown.Y})
	// The swing is 0.4 mm deep at the pluck, 120 mm from the saddle, where the string
	// has risen by 2.4375 mm; no point of it stands just there.
	low := math.Inf(1)
	for _, at := range lineOf(t, p, "limits", "swing").Points {
		if d := math.Hypot(float64(at.X-0.4*520), float64(at.Y-s[0].Y)-10*(3*520.0/640-0.4)); d < low {
			low = d
		}
	}
	if low > 1.5 {
		t.Errorf("got the swing %v mm off its corner", low)
	}
	if !said(p, "heights magnified 10 times") || !said(p, "assumed") {
		t.Error("got no word of the magnification, or of what was assumed")
	}
	r := flat(t)
	r.NutSpread, r.SaddleSpread, r.Tuning, r.Strings, r.Saddles = 0, 0, r.Tuning[:1], r.Strings[:1], nil
	r.Entries[1] = read(bench.Action, at12, 2)
	p = ok(r.SideView(10))(t)
	foot := lineOf(t, p, "as it is", "crown 12").Points[1].Y // under a level crown
	diff(t, "nut", []fret.Point{pt(0, foot-4), pt(0, foot)}, []fret.Point{wordOf(t, p, "nut").At, lineOf(t, p, "marks", "nut").Points[1]})
	diff(t, "scale line", []fret.Point{pt(256, foot-4), pt(256, foot)}, []fret.Point{wordOf(t, p, "scale line").At, lineOf(t, p, "marks", "scale line").Points[1]})
}

// Figures are 7 mm apart: those of the last fret and the octave stand always.
func TestSideViewFigures(t *testing.T) {
	for _, test := range []struct {
		scale units.Length
		frets int
		want  string
	}{
		// Of 640 mm, 256 on the picture: 15 to 17 are 11.7 mm, 17 to 19 10.5, 19 to 20 4.8,
		// 19 to 21 9.3, 21 to 22 4.3, 19 to 22 13.6.
		{640, 19, "1 3 5 7 9 12 15 17 19"},
		{640, 20, "1 3 5 7 9 12 15 17 20"},
		{640, 21, "1 3 5 7 9 12 15 17 19 21"},
		{640, 22, "1 3 5 7 9 12 15 17 19 22"},
		// Of 350 mm, 140: the nut to 1 is 7.9 mm, 15 to 17 6.4, 17 to 19 5.7, 12 to 13 3.9.
		{350, 19, "1 3 5 7 9 12 15 19"},
		{350, 13, "1 3 5 7 9 12 13"},
		{350, 12, "1 3 5 7 9 12"},
		// Of 300 mm, 120: the nut to 1 is 6.7 mm.
		{300, 9, "3 5 7 9"},
	} {
		r := flat(t)
		r.Scale, r.Frets = test.scale, test.frets
		if test.frets < 12 {
			r.Entries[1] = read(bench.Action, bench.How{At: 7}, 2, 2, 2, 2, 2, 2)
		}
		r.Entries = r.Entries[1:]
		p := ok(r.SideView(10))(t)
		got := map[string]draw.Word{}
		for _, l := range p.Layers {
			for _, w := range l.Words {
				if len(w.Text) <= 2 {
					got[w.Text] = w
				}
			}
		}
		var shown []string
		for f := 1; f <= test.frets; f++ {
			if _, ok := got[fmt.Sprint(f)]; ok {
				shown = append(shown, fmt.Sprint(f))
			}
		}
		if s := strings.Join(shown, " "); s != test.want {
			t.Errorf("%v, %d frets: got figures at %s, want %s", test.scale, test.frets, s, test.want)
		}
		apart := test.scale == 350 && test.frets == 13
		if turned := got["12"].Anchor == draw.End && got["13"].Anchor == draw.Start; turned != apart {
			t.Errorf("%v, %d frets: got the octave's figure turned %v, want %v", test.scale, test.frets, turned, apart)
		}
	}
}

// A bar stands as high as its cents, and is broad beyond what counts as in tune.
func TestMapView(t *testing.T) {
	r := flat(t, heard(at12, 12, 0, 0, 0, 0, 0))
	p := ok(r.MapView())(t)
	if err := p.Check(); err != nil {
		t.Fatal(err)
	}
	pre := ok(r.Predict())(t)
	worst := 0.0
	for _, notes := range pre.Notes {
		for _, n := range notes {
			worst = max(worst, math.Abs(float64(n.Cents)))
		}
	}
	for s, notes := range pre.Notes {
		for f, n := range notes {
			layer := "as it is"
			if n.Cents > bench.InTune || n.Cents < -bench.InTune {
				layer = "out of tune"
			}
			bar := lineOf(t, p, layer, fmt.Sprintf("string %d fret %d", s+1, f+1)).Points
			diff(t, "bar", []units.Length{units.Length(10 * (f + 1)), units.Length(7.5 * float64(n.Cents) / worst)}, []units.Length{bar[1].X, bar[1].Y - bar[0].Y})
		}
	}
}

// Figures stand clear of the dotted lines, and of the next string's; six strings of 24
// frets, and all that can be assumed of them, fit one sheet of A4 lying: 277 by 190 mm
// between its margins, less 11 mm for its foot.
func TestMapViewFits(t *testing.T) {
	for _, cents := range [][]units.Cents{{12, 0, -12, 12, 0, -12}, {1, -1, 0, 0, 1, -1}} {
		r := six(t, read(bench.Action, at12, 2, 2, 2, 2, 2, 2), heard(at12, cents...))
		r.Frets = 24
		p := ok(r.MapView())(t)
		if p.Width > 277 || p.Height > 179 {
			t.Errorf("got a map of %v by %v, want one sheet", p.Width, p.Height)
		}
		worst := float64(bench.InTune)
		pre := ok(r.Predict())(t)
		for _, notes := range pre.Notes {
			for _, n := range notes {
				worst = max(worst, math.Abs(float64(n.Cents)))
			}
		}
		band := units.Length(7.5 * float64(bench.InTune) / worst)
		figures := 0
		for _, l := range p.Layers {
			for _, w := range l.Words {
				if !strings.Contains(w.Text, ".") || w.Anchor != draw.Middle {
					continue
				}
				figures++
				// From the middle line of the string that the figure is nearest to.
				off := w.At.Y - 22*units.Length(math.Round(float64(w.At.Y)/22))
				if head := off + 0.7*w.Size; !(off >= band+0.9 || head <= -band-0.9) || off < -11 || head > 11 {
					t.Errorf("%v: got %q from %v to %v, want it between %v and half way to the next string", cents, w.Text, off, head, band)
				}
			}
		}
		if figures != 6*24 {
			t.Errorf("got %d figures, want one a note", figures)
		}
	}
}

// Every picture says what it is of, over all else.
func TestTitles(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0), heard(at12, 7, 7, 0, 0, -5, -5))
	r.Name, r.Plan.Edge = "Heron no. 6", 3.5
	for title, page := range map[string]*draw.Page{
		"Heron no. 6: end view":          ok(r.EndView(4))(t),
		"Heron no. 6: side view":         ok(r.SideView(10))(t),
		"Heron no. 6: map of cents":      ok(r.MapView())(t),
		"Heron no. 6: bridge from above": ok(r.BridgeView(10))(t),
		"Heron no. 6: neck":              ok(r.NeckView())(t),
	} {
		at := wordOf(t, page, title).At
		if page.Title != title {
			t.Errorf("got the title %q, want %q", page.Title, title)
		}
		if err := page.Check(); err != nil {
			t.Error(err)
		}
		for _, l := range page.Layers {
			for _, line := range l.Lines {
				for _, on := range line.Points {
					if on.Y > at.Y-1 {
						t.Errorf("%s: got %q of %s up to %v, want it under the title at %v", title, line.Name, l.Name, on.Y, at.Y)
					}
				}
			}
			for _, w := range l.Words {
				if w.Text != title && w.At.Y+0.7*w.Size > at.Y-1 {
					t.Errorf("%s: got %q at %v, want it under the title at %v", title, w.Text, w.At.Y, at.Y)
				}
			}
		}
	}
}

// A name longer than a sheet is cut.
func TestTitleOfALongName(t *testing.T) {
	r := flat(t)
	r.Name = strings.Repeat("é", 5000)
	p := ok(r.SideView(10))(t)
	wordOf(t, p, strings.Repeat("é", 60)+"...: side view")
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	r.Name = ""
	wordOf(t, ok(r.SideView(10))(t), "side view")
}

// What the record adds to a neck is told in a line of its own, clear of the board's
// words over it and of the check bars under it.
func TestNeckViewWords(t *testing.T) {
	for _, scales := range [][2]units.Length{{640, 640}, {640, 700}, {640, 600}} {
		r := six(t)
		r.Plan.Edge, r.Plan.Drill, r.Plan.Kerf, r.Plan.Setback = 3.5, 12, 0.6, []units.Length{2, 2, 2, 2, 2, 2}
		if scales[0] != scales[1] {
			r.Scale, r.Plan.Scales = 0, scales
		}
		p := ok(r.NeckView())(t)
		at := wordOf(t, p, "solid, round the slots: kerfs of 0.6mm; long and short dashes, dark: drill line, 12mm behind the saddles; saddles as planned").At
		for _, l := range p.Layers {
			bars := l.Name == "check bars"
			for _, line := range l.Lines {
				for _, on := range line.Points {
					if !bars && on.Y < at.Y+3 || bars && on.Y > at.Y-1 {
						t.Errorf("%v: got %q of %s at %v, want it clear of the words at %v", scales, line.Name, l.Name, on.Y, at.Y)
					}
				}
			}
			for _, w := range l.Words {
				if w.At != at && (!bars && w.At.Y < at.Y+3 || bars && w.At.Y+2.1 > at.Y-1) {
					t.Errorf("%v: got %q of %s at %v, want it clear of the words at %v", scales, w.Text, l.Name, w.At.Y, at.Y)
				}
			}
		}
	}
}

// Saddles stand and should stand where the readings say, from the scale line once
// their places are known.
func TestBridgeView(t *testing.T) {
	r := six(t, heard(at12, 7, 7, 0, 0, -5, -5))
	p := ok(r.BridgeView(10))(t)
	moves := ok(r.MoveRows())(t)
	is, best := lineOf(t, p, "as it is", "saddle 1+2").Points, lineOf(t, p, "wanted", "best for 1+2").Points
	diff(t, "move", []units.Length{0, 10 * moves[0].Move, 2 * 25}, []units.Length{is[1].X, best[1].X, is[1].Y})
	diff(t, "words", []string{"s1", "s2", "s3", "s4", "s5", "s6", "saddle 1+2: back 2.6mm", "saddle 3+4: leave it", "saddle 5+6: forward 1.8mm", "to the nut", "to the tail",
		"magnified 10 times along the strings, 2 times across; solid is where a saddle stands, dashed where it should; dotted, where each saddle stands",
		"back is away from the nut; string 1 is the treble edge"}, words(p, "words"))
	if nut, strung, tail := wordOf(t, p, "to the nut").At, lineOf(t, p, "marks", "string 1").Points, wordOf(t, p, "to the tail").At; nut.X > strung[0].X || tail.X < strung[1].X || nut.Y < 2*25+3 || tail.Y != nut.Y {
		t.Errorf("got the nut's word at %v and the tail's at %v, want them over string 1, before and behind %v", nut, tail, strung)
	}
	r.Entries = append(r.Entries, read(bench.Saddle, bench.How{From: bench.FromNut}, 642, 643, 644))
	r.Staggers = []units.Length{0, 0.5, 0, 0, 0, 0}
	p = ok(r.BridgeView(10))(t)
	is = lineOf(t, p, "as it is", "saddle 1+2").Points
	diff(t, "from the scale line", []units.Length{20, 25}, []units.Length{is[1].X, is[2].X})
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	start := flat(t, want(bench.Action, at12, 1.5, 2.0)) // nothing heard: where to start
	p = ok(start.BridgeView(10))(t)
	rows, _, err := start.PlaceRows()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "start", 10*rows[2].Setback, lineOf(t, p, "wanted", "best for 5+6").Points[1].X)
	if names := drawnOn(p, "as it is"); len(names) > 0 {
		t.Errorf("got %q as they are, want none: no place is known", names)
	}
	if !said(p, "dashed is where a saddle should stand") || said(p, "solid") {
		t.Error("got words of solid lines, want only those of dashed ones")
	}
	start.Entries = append(start.Entries, on(read(bench.Saddle, bench.How{From: bench.FromNut}, 643), 3))
	p = ok(start.BridgeView(10))(t)
	diff(t, "the one known", []string{"saddle 5+6"}, drawnOn(p, "as it is")) // the third saddle
	diff(t, "its place", units.Length(10*3), lineOf(t, p, "as it is", "saddle 5+6").Points[1].X)
	some := six(t, heard(at12, 7, 7, 0, 0, silent, silent)) // where the last should stand is not known
	diff(t, "best", []string{"best for 1+2", "best for 3+4"}, drawnOn(ok(some.BridgeView(10))(t), "wanted"))
	start.SaddleSpread = 0
	_, err = start.BridgeView(10)
	wantError(t, err, "got no spread, want that told first, as in spread: 36mm 52mm")
}
