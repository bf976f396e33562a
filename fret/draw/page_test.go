package draw_test

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"regexp"
	"strconv"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

const within = 0.001 // mm: what a drawing may differ from its page

// sample is a page with all that a page can hold, at odd places.
func sample() *draw.Page {
	r := rand.New(rand.NewPCG(7, 700))
	at := func() fret.Point {
		return fret.Point{X: units.Length(r.Float64()*700 - 30), Y: units.Length(r.Float64()*150 - 75)}
	}
	p := &draw.Page{Title: `Plan <6> & "7"`, Width: 745, Height: 171.25, Origin: fret.Point{X: 40.125, Y: 85.5}}
	for i, name := range []string{"fret slots", "Board edge", "centre", "s5"} {
		l := draw.Layer{Name: name, Ink: draw.Ink(i + 1), Style: draw.Style(i), Weight: units.Length(i) / 8}
		for j := range 12 {
			line := draw.Line{Name: fmt.Sprint(name, " ", j), Closed: j%3 == 1}
			for range 2 + j%3 {
				line.Points = append(line.Points, at())
			}
			l.Lines = append(l.Lines, line)
		}
		for j := range 4 {
			l.Circles = append(l.Circles, draw.Circle{Centre: at(), Radius: 0.5 + units.Length(j)/7})
			l.Words = append(l.Words, draw.Word{Text: fmt.Sprintf("word (%d)", j), At: at(), Anchor: draw.Anchor(j % 3), Size: units.Length(j), Angle: units.Angle(35 * j)})
		}
		p.Layers = append(p.Layers, l)
	}
	return p
}

// writers are all four, by the name of what they write.
func writers(p *draw.Page) map[string]func(io.Writer) error {
	return map[string]func(io.Writer) error{
		"SVG": p.SVG, "exchange": p.Exchange, "CSV": p.CSV,
		"PDF": func(w io.Writer) error { return p.PDF(w, draw.A4) },
	}
}

func written(t *testing.T, write func(io.Writer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func near(t *testing.T, what string, got, want fret.Point) {
	t.Helper()
	if !(math.Hypot(float64(got.X-want.X), float64(got.Y-want.Y)) <= within) {
		t.Errorf("%s: got %v, want %v", what, got, want)
	}
}

func parsed(t *testing.T, s string) units.Length {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return units.Length(x)
}

type full struct{ room int }

var errFull = errors.New("no room left")

func (f *full) Write(b []byte) (int, error) {
	if len(b) <= f.room {
		f.room -= len(b)
		return len(b), nil
	}
	return f.room, errFull
}

func TestWritersReturnErrors(t *testing.T) {
	for name, write := range writers(sample()) {
		for _, room := range []int{0, 1, 500} {
			if err := write(&full{room}); !errors.Is(err, errFull) {
				t.Errorf("%s, room for %d bytes: got %v, want %v", name, room, err, errFull)
			}
		}
	}
}

func TestWritersAreDeterministic(t *testing.T) {
	once, again := writers(sample()), writers(sample())
	for name := range once {
		if !bytes.Equal(written(t, once[name]), written(t, again[name])) {
			t.Errorf("%s: got two files of one page, want the same", name)
		}
	}
}

// What rounds to 0 from below is 0.
func TestNoMinusZero(t *testing.T) {
	const tiny = -0.00004
	p := &draw.Page{Width: 100, Height: 100, Layers: []draw.Layer{{
		Name:    "a",
		Lines:   []draw.Line{{Points: []fret.Point{{X: tiny, Y: tiny}, {X: tiny, Y: 100 - tiny}, {X: 100, Y: tiny}}}},
		Circles: []draw.Circle{{Centre: fret.Point{X: 50, Y: 50}, Radius: 3}},
		Words:   []draw.Word{{Text: "w", At: fret.Point{X: tiny, Y: tiny}, Angle: tiny}},
	}}}
	minus := regexp.MustCompile(`-0(\.0*)?([^.0-9]|$)`)
	for name, write := range writers(p) {
		if bad := minus.Find(written(t, write)); bad != nil {
			t.Errorf("%s: got %q, want no minus zero", name, bad)
		}
	}
}

func TestCSV(t *testing.T) {
	p := sample()
	rows, err := csv.NewReader(bytes.NewReader(written(t, p.CSV))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprint(rows[0]), "[layer name from_x_mm from_y_mm to_x_mm to_y_mm radius_mm]"; got != want {
		t.Errorf("got heads %s, want %s", got, want)
	}
	rows = rows[1:]
	next := func(layer, name string, from, to fret.Point, radius string) {
		t.Helper()
		if len(rows) == 0 {
			t.Fatal("got too few rows, want one a piece")
		}
		row := rows[0]
		rows = rows[1:]
		if row[0] != layer || row[1] != name || row[6] != radius {
			t.Errorf("got %q, want %q, %q and radius %q", row, layer, name, radius)
		}
		near(t, name, fret.Point{X: parsed(t, row[2]), Y: parsed(t, row[3])}, from)
		near(t, name, fret.Point{X: parsed(t, row[4]), Y: parsed(t, row[5])}, to)
	}
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			pts := line.Points
			for i := range pts[1:] {
				next(l.Name, line.Name, pts[i], pts[i+1], "")
			}
			if line.Closed {
				next(l.Name, line.Name, pts[len(pts)-1], pts[0], "")
			}
		}
		for i, c := range l.Circles {
			next(l.Name, "", c.Centre, c.Centre, []string{"0.5", "0.6429", "0.7857", "0.9286"}[i])
		}
	}
	if len(rows) != 0 {
		t.Errorf("got %d rows more, want none", len(rows))
	}
}

func TestCheckBars(t *testing.T) {
	bars := draw.CheckBars(fret.Point{X: 7, Y: 3})
	for i, want := range []struct {
		text    string
		long, y units.Length
	}{{"100 mm", 100, 10}, {"4 in", 101.6, 5}} {
		lines := bars.Lines[3*i:][:3]
		bar := lines[0].Points
		if got := bar[1].X - bar[0].X; math.Abs(float64(got-want.long)) > 1e-9 || bar[0].X != 7 || bar[0].Y != want.y || bar[1].Y != want.y {
			t.Errorf("got a bar from %v to %v, want %v long from 7, %v", bar[0], bar[1], want.long, want.y)
		}
		for j, tick := range lines[1:] {
			if a, b := tick.Points[0], tick.Points[1]; a.X != bar[j].X || b.X != bar[j].X || a.Y != bar[j].Y-1 || b.Y != bar[j].Y+1 {
				t.Errorf("got a tick from %v to %v, want it across the end at %v", a, b, bar[j])
			}
		}
		// The words stand clear of the longer bar.
		if got := bars.Words[i]; got.Text != want.text || got.At.X < 7+101.6+1 || got.At.Y != want.y-1 {
			t.Errorf("got %+v, want %q to the right of its bar", got, want.text)
		}
	}
	p := &draw.Page{Layers: []draw.Layer{bars}}
	if p.Fit(0); p.Width > 115 || p.Height > 9 {
		t.Errorf("got %v by %v, want at most 115 by 9", p.Width, p.Height)
	}
}

func TestFit(t *testing.T) {
	p := sample()
	p.Layers = append(p.Layers, draw.Layer{Name: "long word", Words: []draw.Word{
		{Text: "0000000000", Size: 100, At: fret.Point{X: 5, Y: -80}, Anchor: draw.End}, // 556 mm long, from X -551
		{Text: "0000000000", Size: 10, At: fret.Point{X: 0.5, Y: 75}, Angle: 90},        // up to Y 130.6
	}})
	p.Fit(10)
	if want := (fret.Point{X: 561, Y: 115}); p.Origin != want { // descenders reach to -105
		t.Errorf("got the origin at %v, want %v", p.Origin, want)
	}
	if want := units.Length(115 + 141); p.Height != want {
		t.Errorf("got a height of %v, want %v", p.Height, want)
	}
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	right := 0.0
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			for _, at := range line.Points {
				right = max(right, float64(at.X))
			}
		}
	}
	if room := float64(p.Width-p.Origin.X) - right; !(room >= 10 && room < 30) {
		t.Errorf("got %v of room at the right, want 10 and what circles and words take", room)
	}
	var empty draw.Page
	if empty.Fit(5); empty.Width != 10 || empty.Height != 10 {
		t.Errorf("got an empty page of %v by %v, want 10 by 10", empty.Width, empty.Height)
	}
}

func TestCheck(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	first := func(change func(*draw.Layer)) func(*draw.Page) {
		return func(p *draw.Page) { change(&p.Layers[0]) }
	}
	for _, test := range []struct {
		change func(*draw.Page)
		want   string
	}{
		{func(p *draw.Page) { p.Width = nan }, "got a page of NaNmm by 171.25mm, want 0.001mm to 10000mm each way"},
		{func(p *draw.Page) { p.Height = 0 }, "got a page of 745mm by 0mm, want 0.001mm to 10000mm each way"},
		{func(p *draw.Page) { p.Height = -1 }, "got a page of 745mm by -1mm, want 0.001mm to 10000mm each way"},
		{func(p *draw.Page) { p.Width = 10001 }, "got a page of 10001mm by 171.25mm, want 0.001mm to 10000mm each way"},
		{func(p *draw.Page) { p.Origin.Y = nan }, "got an origin at 40.125mm, NaNmm, want it within 10000mm"},
		{func(p *draw.Page) { p.Origin.X = -10001 }, "got an origin at -10001mm, 85.5mm, want it within 10000mm"},
		{func(p *draw.Page) { p.Layers[1].Name = "" }, `layer 2: got the name "", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "a  b" }, `layer 2: got the name "a  b", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "0" }, `layer 2: got the name "0", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "é" }, `layer 2: got the name "é", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "a " }, `layer 2: got the name "a ", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "a_b" }, `layer 2: got the name "a_b", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "abcdefghijklmnopqrstuvwxy" }, `layer 2: got the name "abcdefghijklmnopqrstuvwxy", want 1 to 24 ASCII letters, digits and single blanks, a letter first`},
		{func(p *draw.Page) { p.Layers[1].Name = "FRET slots" }, `layer 2: got the name "FRET slots" a second time, want one of its own`},
		{first(func(l *draw.Layer) { l.Ink = 5 }), `layer "fret slots": got ink 5, want one of 0 to 4`},
		{first(func(l *draw.Layer) { l.Style = 4 }), `layer "fret slots": got style 4, want one of 0 to 3`},
		{first(func(l *draw.Layer) { l.Weight = nan }), `layer "fret slots": got a weight of NaNmm, want 0 to 10000mm`},
		{first(func(l *draw.Layer) { l.Weight = -1 }), `layer "fret slots": got a weight of -1mm, want 0 to 10000mm`},
		{first(func(l *draw.Layer) { l.Lines[2].Points[1].X = nan }), `layer "fret slots", line 3 "fret slots 2", point 2: got NaNmm, ` +
			fmt.Sprint(sample().Layers[0].Lines[2].Points[1].Y+85.5) + `, want a place on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) { l.Lines[0].Points[0] = fret.Point{X: 705, Y: 2} }), `layer "fret slots", line 1 "fret slots 0", point 1: got 745.125mm, 87.5mm, want a place on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) { l.Lines[0].Points[0] = fret.Point{X: 5, Y: -86} }), `layer "fret slots", line 1 "fret slots 0", point 1: got 45.125mm, -0.5mm, want a place on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) { l.Lines[0].Points[0] = fret.Point{X: inf, Y: -inf} }), `layer "fret slots", line 1 "fret slots 0", point 1: got +Infmm, -Infmm, want a place on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) { l.Lines[4].Points = nil }), `layer "fret slots", line 5 "fret slots 4": got 0 points, want at least 3`},
		{first(func(l *draw.Layer) { l.Lines[0] = draw.Line{Points: make([]fret.Point, 1)} }), `layer "fret slots", line 1: got 1 points, want at least 2`},
		{first(func(l *draw.Layer) { l.Circles[1].Radius = 0 }), `layer "fret slots", circle 2: got a radius of 0mm, want at least 0.001mm`},
		{first(func(l *draw.Layer) { l.Circles[1].Radius = nan }), `layer "fret slots", circle 2: got a radius of NaNmm, want at least 0.001mm`},
		{first(func(l *draw.Layer) { l.Circles[0] = draw.Circle{Name: "peg", Radius: 86} }), `layer "fret slots", circle 1 "peg": got a radius of 86mm at 40.125mm, 85.5mm, want it on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) { l.Circles[0].Radius = inf; l.Circles[0].Centre = fret.Point{} }), `layer "fret slots", circle 1: got a radius of +Infmm at 40.125mm, 85.5mm, want it on the page of 745mm by 171.25mm`},
		{first(func(l *draw.Layer) {
			l.Circles[0] = draw.Circle{Name: "more than forty letters of a name are cut off", Radius: 0.00099}
		}), `layer "fret slots", circle 1 "more than forty letters of a name are cu": got a radius of 0.00099mm, want at least 0.001mm`},
		{first(func(l *draw.Layer) { l.Words[0].Anchor = 3 }), `layer "fret slots", word 1 "word (0)": got anchor 3, want one of 0 to 2`},
		{first(func(l *draw.Layer) { l.Words[0].Size = -1 }), `layer "fret slots", word 1 "word (0)": got a size of -1mm, want 0 or 0.001mm to 10000mm`},
		{first(func(l *draw.Layer) { l.Words[0].Size = nan }), `layer "fret slots", word 1 "word (0)": got a size of NaNmm, want 0 or 0.001mm to 10000mm`},
		{first(func(l *draw.Layer) { l.Words[0].Angle = units.Angle(nan) }), `layer "fret slots", word 1 "word (0)": got an angle of NaNdeg, want -360 to 360`},
		{first(func(l *draw.Layer) { l.Words[0].At = fret.Point{Y: 86} }), `layer "fret slots", word 1 "word (0)": got 40.125mm, 171.5mm, want a place on the page of 745mm by 171.25mm`},
	} {
		p := sample()
		test.change(p)
		for name, write := range writers(p) {
			var b bytes.Buffer
			if err := write(&b); err == nil || err.Error() != test.want {
				t.Errorf("%s: got %v\nwant %s", name, err, test.want)
			}
			if b.Len() > 0 {
				t.Errorf("%s, %s: got %d bytes written, want none", name, test.want, b.Len())
			}
		}
	}
	// The least and the most that there may be.
	p := &draw.Page{Width: 10000, Height: 0.001, Origin: fret.Point{X: 10000, Y: -10000}}
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	p.Width, p.Height = 0.001, 10000
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	edge := fret.Point{X: 7, Y: 5}
	p = &draw.Page{Width: 7, Height: 5, Layers: []draw.Layer{{
		Name: "Abz AZ abcdefghijkl 0129", Ink: draw.Green, Style: draw.Centre, Weight: 10000,
		Lines:   []draw.Line{{Points: []fret.Point{{}, edge}}, {Points: []fret.Point{{}, edge, edge}, Closed: true}},
		Circles: []draw.Circle{{Centre: fret.Point{X: 3.5, Y: 2.5}, Radius: 2.5}, {Centre: fret.Point{X: 1, Y: 1}, Radius: 0.001}},
		Words:   []draw.Word{{At: edge, Anchor: draw.End, Size: 0.001, Angle: 360}, {Size: 10000, Angle: -360}},
	}}}
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	// Fit leaves what is not finite to Check.
	p = sample()
	p.Layers[0].Lines[0].Points[0] = fret.Point{X: nan, Y: inf}
	p.Fit(10)
	want := `layer "fret slots", line 1 "fret slots 0", point 1: got NaNmm, +Infmm, want a place on the page of ` + fmt.Sprintf("%v by %v", p.Width, p.Height)
	if err := p.Check(); err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}
