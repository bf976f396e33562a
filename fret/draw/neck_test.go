package draw_test

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

func equal(t *testing.T, frets int) fret.Division {
	t.Helper()
	d, err := fret.Equal(units.Octave, 12, frets)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// plans are boards of each kind.
func plans(t *testing.T) map[string]fret.Plan {
	t.Helper()
	own, err := fret.PerString(14, []units.Cents{76, 193, 310, 386, 503, 580, 697, 773, 890, 1007, 1083, 1200}, 7, 2, 9, 5)
	if err != nil {
		t.Fatal(err)
	}
	marks, err := fret.Divide(350, 1050)
	if err != nil {
		t.Fatal(err)
	}
	pair, err := fret.Divide(500, 503.5, 900) // two frets 1 mm apart
	if err != nil {
		t.Fatal(err)
	}
	return map[string]fret.Plan{
		"close pair": {Division: pair, Scale: 650, AtNut: []units.Length{12, -12}, AtScale: []units.Length{14, -14}, Margin: 5},
		"one scale": {
			Division: equal(t, 22), Scale: 650, AtNut: []units.Length{18, 11, 3, -4, -11, -18}, AtScale: []units.Length{26, 15.6, 5.2, -5.2, -15.6, -26},
			Margin: 3.5, Behind: 6, Beyond: 10, NutCompensation: []units.Length{.2, .3, .5, .1, .2, .3}, Setback: []units.Length{1.2, 1.6, 2, 1.4, 2.2, 3},
		},
		"two scales": {
			Division: equal(t, 24), Marks: marks, Treble: 25.5 * units.Inch, Bass: 28 * units.Inch, Straight: 7, ZeroFret: true,
			AtNut: []units.Length{23, 8, -8, -23}, AtScale: []units.Length{36, 12, -12, -36}, NutWidth: 54, EndWidth: 72, Beyond: 8,
		},
		"short frets": {
			Own: own, Scale: 600, AtNut: []units.Length{18, 6, -6, -18}, AtScale: []units.Length{24, 8, -8, -24}, Margin: 4,
			NutCompensation: []units.Length{}, Setback: []units.Length{}, // as good as none
		},
		"fretless":   {Marks: equal(t, 20), Scale: 864, AtNut: []units.Length{16, 0, -16}, AtScale: []units.Length{28, 0, -28}, Margin: 4, Beyond: 12},
		"one string": {Division: equal(t, 9), Scale: 300, AtNut: []units.Length{0}, AtScale: []units.Length{0}, Margin: 15, Beyond: 200, Setback: []units.Length{1}},
		"uneven, fanned": {
			Own: []fret.Division{marks, equal(t, 30), equal(t, 2)}, Marks: equal(t, 40), Treble: 400, Bass: 450, Straight: 3,
			AtNut: []units.Length{12, 0, -12}, AtScale: []units.Length{14, 0, -14}, Margin: 5, NutCompensation: []units.Length{1, 2, 3}, Setback: []units.Length{2, -3, 4},
		},
	}
}

func board(t *testing.T, p fret.Plan) *fret.Board {
	t.Helper()
	b, err := fret.NewBoard(p)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// drawn is a line as it should come back out of a file.
type drawn struct {
	layer, name string
	points      []fret.Point
	closed      bool
}

// asked is what a drawing of the board must hold, by the board alone; of a break
// point, the middle.
func asked(b *fret.Board) (out []drawn) {
	add := func(layer, name string, points ...fret.Point) {
		out = append(out, drawn{layer, name, points, len(points) > 2})
	}
	corners := b.Outline()
	add("board edge", "board edge", corners[:]...)
	for _, s := range b.Slots() {
		name := fmt.Sprintf("fret %d", s.Fret)
		if s.String > 0 {
			name = fmt.Sprintf("fret %d of string %d", s.Fret, s.String)
		}
		add("fret slots", name, s.Treble, s.Bass)
	}
	for _, s := range b.Marks() {
		add("marks", fmt.Sprintf("mark %d", s.Fret), s.Treble, s.Bass)
	}
	head, end := min(corners[0].X, corners[3].X), max(corners[1].X, corners[2].X)
	for i := 1; i <= b.Strings(); i++ {
		add("strings", fmt.Sprintf("string %d", i), b.Nut(i), b.Saddle(i))
		end = max(end, b.Saddle(i).X)
	}
	add("centre line", "centre line", fret.Point{X: head}, fret.Point{X: end})
	add("nut line", "nut line", b.NutLine().Treble, b.NutLine().Bass)
	scale := b.ScaleLine()
	if b.Strings() == 1 { // as wide as a break point
		scale.Treble.Y, scale.Bass.Y = scale.Treble.Y+1.5, scale.Bass.Y-1.5
	}
	add("scale line", "scale line", scale.Treble, scale.Bass)
	if len(b.Plan().Setback) > 0 && b.Strings() > 1 {
		l := b.SaddleLine(0)
		add("saddle line", "saddle line", l.Treble, l.Bass)
	}
	for i := 1; i <= b.Strings(); i++ {
		add("break points", fmt.Sprintf("nut of string %d", i), b.Nut(i))
		add("break points", fmt.Sprintf("saddle of string %d", i), b.Saddle(i))
	}
	return out
}

// agrees compares the lines read back with those asked, in order; what comes
// after them are so many of check bars.
func agrees(t *testing.T, b *fret.Board, got []drawn, bars int) {
	t.Helper()
	want := asked(b)
	if len(got) != len(want)+bars {
		t.Fatalf("got %d lines, want %d and %d of the check bars", len(got), len(want), bars)
	}
	for i, w := range want {
		g := got[i]
		if g.layer != w.layer || g.name != w.name || g.closed != w.closed {
			t.Fatalf("got %s on %s, closed %v, want %s on %s, %v", g.name, g.layer, g.closed, w.name, w.layer, w.closed)
		}
		if w.layer == "break points" {
			var str int
			if _, err := fmt.Sscanf(w.name[strings.Index(w.name, "string"):], "string %d", &str); err != nil {
				t.Fatal(err)
			}
			g.points = []fret.Point{middle(t, b, str, g)}
		}
		if len(g.points) != len(w.points) {
			t.Fatalf("%s: got %d points, want %d", w.name, len(g.points), len(w.points))
		}
		for j := range w.points {
			near(t, w.name, g.points[j], w.points[j])
		}
	}
	low := units.Length(math.Inf(1))
	for _, c := range b.Outline() {
		low = min(low, c.Y)
	}
	for _, g := range got[len(want):] {
		for _, at := range g.points {
			if at.Y > low-5 {
				t.Errorf("got a check bar at %v, want it off the board, whose lowest corner is at %v", at, low)
			}
		}
	}
}

// middle of a tick, which is 3 mm long and square to its string.
func middle(t *testing.T, b *fret.Board, str int, tick drawn) fret.Point {
	t.Helper()
	from, to := b.Along(str, 0), b.Along(str, b.Scale(str))
	x, y := float64(to.X-from.X), float64(to.Y-from.Y)
	dx, dy := float64(tick.points[1].X-tick.points[0].X), float64(tick.points[1].Y-tick.points[0].Y)
	if along := (x*dx + y*dy) / math.Hypot(x, y); math.Abs(along) > within || math.Abs(math.Hypot(dx, dy)-3) > within {
		t.Errorf("%s: got a tick of %v, %v, want 3 mm square to the string", tick.name, dx, dy)
	}
	return fret.Point{X: (tick.points[0].X + tick.points[1].X) / 2, Y: (tick.points[0].Y + tick.points[1].Y) / 2}
}

func TestNeckReadBack(t *testing.T) {
	for name, plan := range plans(t) {
		t.Run(name, func(t *testing.T) {
			b := board(t, plan)
			p := draw.Neck(b)
			names := make(map[string]string)
			var order []string
			for _, l := range p.Layers {
				names[strings.ReplaceAll(l.Name, " ", "_")] = l.Name
				for _, line := range l.Lines {
					order = append(order, l.Name+"/"+line.Name)
				}
			}
			t.Run("SVG", func(t *testing.T) { agrees(t, b, fromSVG(t, p, names), 6) })
			t.Run("exchange", func(t *testing.T) { agrees(t, b, fromExchange(t, p, names, order), 6) })
			t.Run("PDF", func(t *testing.T) { agrees(t, b, fromPDF(t, p, order), 0) }) // each sheet has its own
		})
	}
}

func fromSVG(t *testing.T, p *draw.Page, names map[string]string) (out []drawn) {
	t.Helper()
	for _, g := range readSVG(t, written(t, p.SVG)).Groups {
		for _, shape := range append(g.Closed, g.Open...) {
			d := drawn{layer: names[g.ID], name: shape.Title}
			for _, at := range strings.Fields(shape.Points) {
				x, y, _ := strings.Cut(at, ",")
				d.points = append(d.points, fret.Point{X: parsed(t, x) - p.Origin.X, Y: p.Height - parsed(t, y) - p.Origin.Y})
			}
			d.closed = len(g.Closed) > 0
			out = append(out, d)
		}
	}
	return out
}

func fromExchange(t *testing.T, p *draw.Page, names map[string]string, order []string) (out []drawn) {
	t.Helper()
	for _, r := range readDXF(t, written(t, p.Exchange)).shapes {
		layer := names[strings.ToLower(r.values[8])]
		switch r.kind {
		case "LINE", "POLYLINE":
			d := drawn{layer: layer, closed: r.values[70] == "1"}
			_, d.name, _ = strings.Cut(order[len(out)], "/")
			if r.kind == "LINE" {
				d.points = []fret.Point{r.at(t, 10), r.at(t, 11)}
			}
			out = append(out, d)
		case "VERTEX":
			last := &out[len(out)-1]
			last.points = append(last.points, r.at(t, 10))
		}
	}
	return out
}

func fromPDF(t *testing.T, p *draw.Page, order []string) (out []drawn) {
	t.Helper()
	f := readPDF(t, written(t, func(w io.Writer) error { return p.PDF(w, draw.Letter) }))
	if slices.Contains(f.drawing.texts, "100 mm") {
		t.Error("got the page's own check bars in the drawing, want those of the sheets alone")
	}
	for i, points := range f.drawing.lines {
		d := drawn{points: points, closed: f.drawing.closed[i]}
		d.layer, d.name, _ = strings.Cut(order[i], "/")
		out = append(out, d)
	}
	return out
}

// told are the words of a layer, by their text.
func told(p *draw.Page, layer string) map[string]draw.Word {
	out := make(map[string]draw.Word)
	for _, l := range p.Layers {
		if l.Name == layer {
			for _, w := range l.Words {
				out[w.Text] = w
			}
		}
	}
	return out
}

func texts(p *draw.Page, layer string) string {
	var out []string
	for _, l := range p.Layers {
		if l.Name == layer {
			for _, w := range l.Words {
				out = append(out, w.Text)
			}
		}
	}
	return strings.Join(out, "|")
}

func TestNeckWords(t *testing.T) {
	p := plans(t)
	for _, test := range []struct{ name, layer, want string }{
		{"one scale", "fret slots", "1|2|3|4|5|6|7|8|9|10|11|12|13|14|15|16|17|18|19|20|21|22"},
		{"one scale", "strings", "1|2|3|4|5|6"},
		{"one scale", "nut line", "nut"},
		{"one scale", "scale line", "scale 650.00mm"},
		{"one scale", "break points", "0.20mm|1.20mm|0.30mm|1.60mm|0.50mm|2.00mm|0.10mm|1.40mm|0.20mm|2.20mm|0.30mm|3.00mm"},
		{"two scales", "fret slots", "0|1|2|3|4|5|6|7|8|9|10|11|12|13|14|15|16|17|18|19|20|21|22|23|24"},
		{"two scales", "marks", "1|2"},
		// Along the board the bass string is sqrt(711.2^2 - 13^2) - sqrt(647.7^2 - 13^2)
		// = 63.51 mm longer. The 7th fret is square at a share of 0.3326, so that the nut
		// line leans by 21.12 mm over 46, the scale line by 42.39 over 72.
		{"two scales", "nut line", "nut, -24.7deg from square"},
		{"two scales", "scale line", "scale 647.70mm|scale 711.20mm, +30.5deg from square"},
		{"two scales", "break points", ""},
		{"fretless", "fret slots", ""},
		{"fretless", "marks", "1|2|3|4|5|6|7|8|9|10|11|12|13|14|15|16|17|18|19|20"},
		{"one string", "scale line", "scale 300.00mm"},
		{"one scale", "legend", "solid: board edge, fret slots, strings (grey), nut line (vermilion), break points (green); dashed: scale line (vermilion); dotted: saddle line (green); long and short dashes: centre line (grey)"},
		{"fretless", "legend", "solid: board edge, strings (grey), nut line (vermilion), break points (green); dashed: marks (blue), scale line (vermilion); long and short dashes: centre line (grey)"},
	} {
		if got := texts(draw.Neck(board(t, p[test.name])), test.layer); got != test.want {
			t.Errorf("%s, %s: got %s, want %s", test.name, test.layer, got, test.want)
		}
	}
	if got, want := texts(draw.Neck(board(t, p["one string"]), "1", "2", "", "3½"), "fret slots"), "1|2||3½|5|6|7|8|9"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// Numbers stand off the board, each over or under its own line, and do not touch.
func TestNeckNumbers(t *testing.T) {
	fine, err := fret.Equal(units.Octave, 12, 40)
	if err != nil {
		t.Fatal(err)
	}
	plan := plans(t)["fretless"]
	plan.Division, plan.Scale = fine, 350 // down to gaps of 2.1 mm
	b := board(t, plan)
	p := draw.Neck(b)
	for _, row := range []struct {
		slots []fret.Slot
		layer string
		end   func(l fret.Line) fret.Point
		side  units.Length
	}{
		{b.Slots(), "fret slots", func(l fret.Line) fret.Point { return l.Treble }, 1},
		{b.Marks(), "marks", func(l fret.Line) fret.Point { return l.Bass }, -1},
	} {
		words := told(p, row.layer)
		before := units.Length(math.Inf(-1))
		for _, s := range row.slots {
			w := words[fmt.Sprint(s.Fret)]
			end := row.end(s.Line)
			size := w.Size
			if size == 0 {
				size = 3
			}
			// The foot of the number above the board, its head below it.
			room := (w.At.Y - end.Y) * row.side
			if row.side < 0 {
				room -= 0.7 * size
			}
			if w.At.X != end.X || w.Anchor != draw.Middle || room < 1 || room > 3 {
				t.Errorf("%s %d: got its number at %v, want it 1 to 3 mm off %v", row.layer, s.Fret, w.At, end)
			}
			half := size * 0.278 * units.Length(len(w.Text)) // figures are 0.556 of the size
			if w.At.X-half < before {
				t.Errorf("%s %d: got its number from %v, want it past the one before at %v", row.layer, s.Fret, w.At.X-half, before)
			}
			before = w.At.X + half
		}
	}
}

// box is the corners of a word, its letters taken as wide as figures: lower left and
// upper right.
func box(w draw.Word) [2]fret.Point {
	size := w.Size
	if size == 0 {
		size = 3
	}
	wide := size * 0.556 * units.Length(len([]rune(w.Text)))
	left := w.At.X - wide*units.Length(w.Anchor)/2
	return [2]fret.Point{{X: left, Y: w.At.Y}, {X: left + wide, Y: w.At.Y + 0.7*size}}
}

// No word touches another, and only those of short frets and of break points stand
// on the board.
func TestNeckWordsKeepOff(t *testing.T) {
	for name, plan := range plans(t) {
		b := board(t, plan)
		o := b.Outline()
		on := func(at fret.Point) bool { // inside all four sides
			for i, from := range o {
				to := o[(i+1)%4]
				if (to.X-from.X).Over(1)*(at.Y-from.Y).Over(1) > (to.Y-from.Y).Over(1)*(at.X-from.X).Over(1) {
					return false
				}
			}
			return true
		}
		var boxes [][2]fret.Point
		var texts []string
		for _, l := range draw.Neck(b).Layers {
			for _, w := range l.Words {
				at := box(w)
				for i, other := range boxes {
					if at[0].X < other[1].X && other[0].X < at[1].X && at[0].Y < other[1].Y && other[0].Y < at[1].Y {
						t.Errorf("%s: got %q of %s at %v on %q at %v, want them apart", name, w.Text, l.Name, at, texts[i], other)
					}
				}
				boxes, texts = append(boxes, at), append(texts, w.Text)
				short := l.Name == "fret slots" && plan.Own != nil || l.Name == "break points" || l.Name == "scale line" && on(b.ScaleLine().Treble)
				for _, corner := range []fret.Point{at[0], at[1], {X: at[0].X, Y: at[1].Y}, {X: at[1].X, Y: at[0].Y}} {
					if on(corner) && !short {
						t.Errorf("%s: got %q of %s on the board at %v, want it off", name, w.Text, l.Name, corner)
					}
				}
			}
		}
	}
}

// What is told of a line stands at it.
func TestNeckWordsStandAt(t *testing.T) {
	for name, plan := range plans(t) {
		b := board(t, plan)
		p := draw.Neck(b)
		check := func(what string, at, by fret.Point, up, down units.Length) {
			t.Helper()
			if math.Abs(float64(at.X-by.X)) > 1.5 || at.Y > by.Y+up || at.Y < by.Y-down {
				t.Errorf("%s, %s: got its words at %v, want them at %v", name, what, at, by)
			}
		}
		for _, l := range p.Layers {
			switch l.Name {
			case "nut line":
				check(l.Name, l.Words[0].At, b.NutLine().Bass, -2, 5)
			case "scale line":
				check(l.Name, l.Words[0].At, b.ScaleLine().Treble, 6, -2)
				for _, w := range l.Words[1:] {
					check(l.Name, w.At, b.ScaleLine().Bass, -2, 6)
				}
			case "strings":
				for i, w := range l.Words {
					head := b.Along(i+1, -plan.Behind)
					check(l.Name, fret.Point{X: box(w)[1].X + 4, Y: (box(w)[0].Y + box(w)[1].Y) / 2}, head, 0.5, 0.5)
				}
			case "break points":
				if len(l.Words) != min(1, len(plan.NutCompensation))*b.Strings()+min(1, len(plan.Setback))*b.Strings() {
					t.Errorf("%s: got %d words at break points, want one for each that is stated", name, len(l.Words))
				}
				for i, w := range l.Words {
					str, at := i+1, b.Nut
					lines := []fret.Line{b.NutLine()}
					if len(plan.NutCompensation) > 0 { // nut and saddle in turn
						str = i/2 + 1
					}
					if len(plan.NutCompensation) == 0 || i%2 == 1 {
						at, lines = b.Saddle, []fret.Line{b.ScaleLine(), b.SaddleLine(0)}
					}
					// Behind the tick and the lines that pass there, and over the string's end.
					behind := at(str).X
					for _, line := range lines {
						for _, on := range along(line) {
							if on.Y >= w.At.Y && on.Y <= w.At.Y+0.7*w.Size {
								behind = max(behind, on.X)
							}
						}
					}
					if x, y := w.At.X-behind, w.At.Y-at(str).Y; x < 0.9 || x > 1.1 || y < 0.4 || y > 0.6 {
						t.Errorf("%s: got %q at %v, want it 1 mm behind %v and 0.5 over %v", name, w.Text, w.At, behind, at(str).Y)
					}
				}
			}
		}
	}
}

// along are places on a line, close together.
func along(l fret.Line) (points []fret.Point) {
	for i := range 2001 {
		t := units.Length(float64(i) / 2000)
		points = append(points, fret.Point{X: l.Treble.X + t*(l.Bass.X-l.Treble.X), Y: l.Treble.Y + t*(l.Bass.Y-l.Treble.Y)})
	}
	return points
}

// No line that is not a string passes through what is told at a break point.
func TestBreakPointWordsAreClear(t *testing.T) {
	for name, plan := range plans(t) {
		b := board(t, plan)
		lines := []fret.Line{b.NutLine(), b.ScaleLine()}
		if len(plan.Setback) > 0 {
			lines = append(lines, b.SaddleLine(0))
		}
		for text, w := range told(draw.Neck(b), "break points") {
			at := box(w)
			for _, line := range lines {
				for _, on := range along(line) {
					if on.X > at[0].X && on.X < at[1].X && on.Y > at[0].Y && on.Y < at[1].Y {
						t.Fatalf("%s: got %q at %v on the line through %v, want it clear", name, text, at, on)
					}
				}
			}
		}
	}
}

// The legend stands under everything but the bars, clear of both.
func TestNeckLegend(t *testing.T) {
	for name, plan := range plans(t) {
		low, legend, bars := units.Length(math.Inf(1)), units.Length(0), units.Length(math.Inf(-1))
		for _, l := range draw.Neck(board(t, plan)).Layers {
			for _, line := range l.Lines {
				for _, at := range line.Points {
					if l.Name == "check bars" {
						bars = max(bars, at.Y)
					} else {
						low = min(low, at.Y)
					}
				}
			}
			if l.Name == "legend" {
				legend = l.Words[0].At.Y
			} else if l.Name != "check bars" {
				for _, w := range l.Words {
					low = min(low, w.At.Y)
				}
			}
		}
		if !(legend+0.7*3 < low-1 && bars < legend-5) { // room for a line of words over the bars
			t.Errorf("%s: got the legend at %v, what is over it down to %v, the bars up to %v, want them apart", name, legend, low, bars)
		}
	}
}

// Short frets have their numbers between their own ends.
func TestNeckShortFrets(t *testing.T) {
	b := board(t, plans(t)["short frets"])
	for _, l := range draw.Neck(b).Layers {
		if l.Name != "fret slots" {
			continue
		}
		for i, s := range b.Slots() {
			w, on := l.Words[i], b.Crossing(s.String, s.Fret)
			middle := fret.Point{X: (on.X + s.Treble.X) / 2, Y: (on.Y + s.Treble.Y) / 2}
			if w.Text != fmt.Sprint(s.Fret) || math.Abs(float64(w.At.Y+0.35*w.Size-middle.Y)) > 1e-9 || w.At.X < middle.X+0.3 || w.At.X > middle.X+0.5 {
				t.Errorf("got %q at %v, want %d beside %v", w.Text, w.At, s.Fret, middle)
			}
		}
	}
}

// What a kerf takes out, corner by corner, a blind slot's too.
func TestKerfs(t *testing.T) {
	plan := plans(t)["two scales"]
	plan.Blind = 2
	b := board(t, plan)
	l := draw.Kerfs(b, 0.6)
	slots := b.Slots()
	if l.Name != "kerfs" || len(l.Lines) != len(slots) || len(l.Words) != 0 {
		t.Fatalf("got %d lines on %s, want %d on kerfs", len(l.Lines), l.Name, len(slots))
	}
	for i, s := range slots {
		line := l.Lines[i]
		if want := fmt.Sprintf("fret %d", s.Fret); line.Name != want || !line.Closed || len(line.Points) != 4 {
			t.Fatalf("got %+v, want four corners of %s", line, want)
		}
		before, past := b.Kerf(s, 0.6)
		for j, want := range []fret.Point{before.Treble, past.Treble, past.Bass, before.Bass} {
			near(t, line.Name, line.Points[j], want)
		}
	}
	p := draw.Neck(b)
	p.Layers = append(p.Layers, l)
	if err := p.Check(); err != nil {
		t.Error(err)
	}
}

// What cannot be drawn says so when it is written.
func TestNeckRefused(t *testing.T) {
	p := draw.Neck(&fret.Board{})
	const want = `layer "nut line", line 1 "nut line", point 1: got NaNmm, NaNmm, want a place on the page of 162mm by 38mm`
	if err := p.Check(); err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	for _, test := range []struct {
		kerf units.Length
		want string
	}{
		{units.Length(math.NaN()), `layer "kerfs", line 1 "fret 1", point 1: got NaNmm, NaNmm, want a place on the page of 344mm by 77mm`},
		{1000, `layer "kerfs", line 1 "fret 1", point 1: got -469.16229380450807mm, 65mm, want a place on the page of 344mm by 77mm`},
	} {
		b := board(t, plans(t)["one string"])
		p := draw.Neck(b)
		p.Layers = append(p.Layers, draw.Kerfs(b, test.kerf))
		if err := p.Check(); err == nil || err.Error() != test.want {
			t.Errorf("kerf %v: got %v, want %s", test.kerf, err, test.want)
		}
	}
}
