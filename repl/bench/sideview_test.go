package bench_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// sideString is what a side view should show of one string, in the neck's own
// millimetres: levels over the plane that the board's crest lies in.
type sideString struct {
	number      int
	nut, saddle float64
	crown       func(from float64) float64
}

// level is that of the string, straight from end to end.
func (s sideString) level(from, scale float64) float64 {
	return s.nut + (s.saddle-s.nut)*from/scale
}

// swing is how low a string of a scale, plucked so far from its saddle and so deep,
// comes on its way: a triangle on the pluck, and one on the place as far from the
// nut, whichever is deeper.
func swing(from, scale, pluck, depth float64) float64 {
	on := func(corner float64) float64 {
		if from < corner {
			return depth * from / corner
		}
		return depth * (scale - from) / (scale - corner)
	}
	return max(on(pluck), on(scale-pluck))
}

// panel is where one string is drawn: its line from where its title stands down.
type panel struct {
	lines map[string][]fret.Point
	words map[string][]draw.Word
	low   units.Length // of its crowns
}

func drawSide(s sideString, scale, pluck, depth, by float64, frets int, figures []int, base units.Length) panel {
	down := base - 8 - mm(by*max(s.nut, s.saddle))
	at := func(x, z float64) fret.Point { return pt(mm(0.4*x), down+mm(by*z)) }
	p := panel{lines: map[string][]fret.Point{}, words: map[string][]draw.Word{}}
	add := func(text string, x float64, y units.Length, by draw.Anchor) {
		p.words[text] = append(p.words[text], draw.Word{At: pt(mm(0.4*x), y), Anchor: by})
	}
	crowns := []fret.Point{at(0, s.crown(0))}
	for f := 1; f <= frets; f++ {
		x := scale * share(f)
		on := at(x, s.crown(x))
		crowns = append(crowns, on)
		p.lines[fmt.Sprintf("crown %d", f)] = []fret.Point{on, pt(on.X, on.Y-3)}
	}
	for _, f := range figures {
		x := scale * share(f)
		add(fmt.Sprint(f), x, at(x, s.crown(x)).Y-7, draw.Middle)
		add(fmt.Sprintf("%.2f", s.level(x, scale)-s.crown(x)), x, at(x, s.level(x, scale)).Y+1.5, draw.Middle)
	}
	var low []fret.Point
	for i := 0; i <= 100; i++ {
		x := scale * float64(i) / 100
		low = append(low, at(x, s.level(x, scale)-swing(x, scale, pluck, depth)))
	}
	foot := crowns[0].Y - 3
	p.lines[fmt.Sprintf("string %d", s.number)] = []fret.Point{at(0, s.nut), at(scale, s.saddle)}
	p.lines["nut"] = []fret.Point{at(0, s.nut), pt(0, foot)}
	p.lines["scale line"] = []fret.Point{at(scale, s.saddle), pt(mm(0.4*scale), foot)}
	p.lines["crowns"], p.lines["swing"] = crowns, low
	add("nut", 0, foot-4, draw.Start)
	add("scale line", scale, foot-4, draw.End)
	add(fmt.Sprintf("string %d", s.number), 0, base, draw.Start)
	p.low = crowns[0].Y
	for _, c := range crowns {
		p.low = min(p.low, c.Y)
	}
	return p
}

// The outer strings of a bowed neck under a cylinder, its last crowns dressed lower,
// against the same drawn from its geometry.
func TestSideViewWhole(t *testing.T) {
	const scale, frets, radius, bow = 640, 21, 300, 0.2
	r := six(t, read(bench.Relief, edge, bow), read(bench.Action, at12, 1.6, 1.7, 1.8, 2.0, 2.1, 2.3), on(read(bench.Gap, gapHeld, 0.08), 1))
	r.Radius, r.Frets, r.FallFrom, r.FallBy = []units.Length{radius, radius}, frets, 15, 0.3
	r.Swing = action.Swing{Depth: 0.55, Pluck: 90}
	// The bow is read at the 7th with a straightedge from the nut to the 14th: a
	// parabola there, straight beyond.
	x7, x14, x15, x21 := scale*share(7), scale*share(14), scale*share(15), scale*share(21)
	most := bow / (x7 * (x14 - x7))
	crown := func(half func(float64) float64) func(float64) float64 {
		return func(x float64) float64 {
			drop := most * x * (x14 - x)
			if x > x14 {
				drop = -most * x14 * (x - x14)
			}
			fall := 0.3 * max(0, (x-x15)/(x21-x15))
			return -(radius - math.Sqrt(radius*radius-half(x)*half(x))) - drop - fall
		}
	}
	half := func(x float64) float64 { return (35 + 15*x/scale) / 2 } // strings run from 35 mm apart to 50
	var want [2]sideString
	for i, s := range []struct {
		number int
		height float64 // over the 12th
	}{{1, 1.6}, {6, 2.3}} {
		c := crown(half)
		nut := c(0) + 0.5 // assumed
		if s.number == 1 {
			// Held between 2 and 3 it lies on the crown of 2, and is 0.08 mm over that of 1.
			x1, x2 := scale*share(1), scale*share(2)
			nut = c(x2) + (c(x1)+0.08-c(x2))*x2/(x2-x1)
		}
		want[i] = sideString{s.number, nut, nut + 2*(c(scale/2)+s.height-nut), c}
	}
	for _, by := range []float64{10, 2.5} {
		p := ok(r.SideView(by))(t)
		if err := p.Check(); err != nil {
			t.Error(err)
		}
		figures := []int{1, 3, 5, 7, 9, 12, 15, 17, 19, 21}
		one := drawSide(want[0], scale, 90, 0.55, by, frets, figures, 0)
		six := drawSide(want[1], scale, 90, 0.55, by, frets, figures, one.low-20)
		lines, words := map[string][][]fret.Point{}, one.words
		for _, panel := range []panel{one, six} {
			for name, points := range panel.lines {
				lines[name] = append(lines[name], points)
			}
		}
		for text, ws := range six.words {
			words[text] = append(words[text], ws...)
		}
		for i, text := range []string{
			fmt.Sprintf("lengths at 2 to 5, heights magnified %v times; figures: how far the open string clears the crown, in mm", by),
			"dotted: the swing of the open string, 0.55mm deep, plucked 90mm from the saddle",
			"assumed: strings 0.50mm over the plane of the frets at the nut, where no slot was told or read",
		} {
			words[text] = []draw.Word{{At: pt(0, six.low-20-mm(5*float64(i)))}}
		}
		gotLines, gotWords := map[string][][]fret.Point{}, map[string][]draw.Word{}
		for _, l := range p.Layers {
			for _, line := range l.Lines {
				gotLines[line.Name] = append(gotLines[line.Name], line.Points)
			}
			for _, w := range l.Words {
				if l.Name == "words" {
					gotWords[w.Text] = append(gotWords[w.Text], draw.Word{At: w.At, Anchor: w.Anchor})
				}
			}
		}
		diff(t, "lines", lines, gotLines)
		diff(t, "words", words, gotWords)
		for layer, names := range map[string][]string{"limits": {"swing", "swing"}, "marks": {"nut", "scale line", "crowns", "nut", "scale line", "crowns"}} {
			diff(t, layer, names, drawnOn(p, layer))
		}
	}
}

// However the crowns lie and however much they are magnified, one string's picture
// ends over the next one's title, and both over the notes.
func TestSideViewPanelsApart(t *testing.T) {
	for _, row := range []struct {
		bow    units.Length
		radius []units.Length
		fall   units.Length
	}{{0.8, nil, 0}, {-0.5, nil, 0}, {0, []units.Length{180, 180}, 0}, {0, []units.Length{150, 400}, 0}, {0, nil, 1}} {
		r := six(t, read(bench.Relief, edge, row.bow), read(bench.Action, at12, 2, 2, 2, 2, 2, 2))
		r.Radius, r.FallFrom, r.FallBy = row.radius, 14, row.fall
		for _, by := range []float64{1, bench.SideMagnified, 50} {
			p := ok(r.SideView(by))(t)
			titles := []units.Length{wordOf(t, p, "string 1").At.Y, wordOf(t, p, "string 6").At.Y}
			for _, l := range p.Layers {
				if l.Name == "title" {
					continue
				}
				ends := map[string]int{} // the second of a name is string 6's
				for _, line := range l.Lines {
					of := ends[line.Name]
					if ends[line.Name]++; line.Name == "string 6" {
						of = 1
					}
					for _, on := range line.Points {
						if on.Y > titles[of] || of == 0 && on.Y < titles[1]+3 {
							t.Errorf("%+v, %v times: got %q of string %d at %v, want it under %v and over the next title at %v", row, by, line.Name, 1+5*of, on.Y, titles[of], titles[1])
						}
					}
				}
			}
			for _, w := range p.Layers[len(p.Layers)-2].Words {
				for _, title := range titles {
					if w.At.Y != title && w.At.Y < title+3 && w.At.Y > title-3 {
						t.Errorf("%+v, %v times: got %q at %v, want it clear of the title at %v", row, by, w.Text, w.At.Y, title)
					}
				}
			}
		}
	}
}

// One string has one picture; what was assumed is said.
func TestSideViewOfOneString(t *testing.T) {
	r := &bench.Record{Scale: 640, Frets: 12, Strings: set(t, "11p"), Entries: []bench.Entry{on(read(bench.Action, at12, 2), 1)}}
	p := ok(r.SideView(10))(t)
	diff(t, "strings", []string{"nut", "scale line", "crowns"}, drawnOn(p, "marks"))
	said := words(p, "words")
	diff(t, "says", []string{
		"lengths at 2 to 5, heights magnified 10 times; figures: how far the open string clears the crown, in mm",
		"dotted: the swing of the open string, 0.40mm deep, plucked 120mm from the saddle, assumed",
		"assumed: a flat board: no radius told",
		"assumed: a straight neck: no relief read that shows its bow",
		"assumed: strings 0.50mm over the plane of the frets at the nut, where no slot was told or read",
	}, said[len(said)-5:])
	for _, by := range []float64{0, 0.09, -1, 50.1, nan, math.Inf(1)} {
		_, err := r.SideView(by)
		wantError(t, err, fmt.Sprintf("got a magnification of %v, want 0.1 to 50", by))
	}
	r.Frets = 0
	_, err := r.SideView(10)
	wantError(t, err, "got no number of frets, want that told first, as in frets: 21")
}

// On necks divided otherwise the octave has its figure where it is, and on all the
// frets that usually have a dot.
func TestSideViewFiguresOfOtherNecks(t *testing.T) {
	for _, row := range []struct {
		by, frets int
		want      []int
	}{
		{12, 24, []int{1, 3, 5, 7, 9, 12, 15, 17, 19, 21, 24}},     // 21 to 24 are 12.1 mm on the picture
		{19, 19, []int{1, 3, 5, 7, 9, 12, 15, 17, 19}},             // 17 to 19 are 9.7 mm
		{24, 30, []int{1, 3, 5, 7, 9, 12, 15, 17, 19, 21, 24, 30}}, // the nut to 1 is 7.3 mm, 19 to 21 8.3, 21 to the octave 11.6
	} {
		r := flat(t)
		r.Frets, r.Plan.By = row.frets, row.by
		p := ok(r.SideView(10))(t)
		figures := map[string]bool{}
		for _, text := range words(p, "words") {
			figures[text] = true
		}
		var got []int
		for f := 1; f <= row.frets; f++ {
			if figures[fmt.Sprint(f)] {
				got = append(got, f)
			}
		}
		diff(t, fmt.Sprintf("%d to the octave, %d frets", row.by, row.frets), row.want, got)
	}
}
