package draw_test

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

type svg struct {
	XMLName xml.Name `xml:"http://www.w3.org/2000/svg svg"`
	Width   string   `xml:"width,attr"`
	Height  string   `xml:"height,attr"`
	ViewBox string   `xml:"viewBox,attr"`
	Title   string   `xml:"title"`
	Groups  []struct {
		ID     string     `xml:"id,attr"`
		Fill   string     `xml:"fill,attr"`
		Stroke string     `xml:"stroke,attr"`
		Weight string     `xml:"stroke-width,attr"`
		Dashes string     `xml:"stroke-dasharray,attr"`
		Open   []svgShape `xml:"polyline"`
		Closed []svgShape `xml:"polygon"`
		Round  []svgShape `xml:"circle"`
		Texts  []svgShape `xml:"text"`
	} `xml:"g"`
}

type svgShape struct {
	Title     string `xml:"title"`
	Points    string `xml:"points,attr"`
	CX        string `xml:"cx,attr"`
	CY        string `xml:"cy,attr"`
	R         string `xml:"r,attr"`
	X         string `xml:"x,attr"`
	Y         string `xml:"y,attr"`
	Size      string `xml:"font-size,attr"`
	Anchor    string `xml:"text-anchor,attr"`
	Transform string `xml:"transform,attr"`
	Text      string `xml:",chardata"`
}

func readSVG(t *testing.T, file []byte) svg {
	t.Helper()
	var s svg
	if err := xml.Unmarshal(file, &s); err != nil {
		t.Fatalf("%v in\n%s", err, file)
	}
	return s
}

// The drawing is X right and Y up from the origin; the picture Y down from the top.
func TestSVG(t *testing.T) {
	p := sample()
	s := readSVG(t, written(t, p.SVG))
	if got, want := s.Width+" "+s.Height+" "+s.ViewBox+" "+s.Title, `745mm 171.25mm 0 0 745 171.25 Plan <6> & "7"`; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	back := func(x, y string) fret.Point {
		return fret.Point{X: parsed(t, x) - p.Origin.X, Y: p.Height - parsed(t, y) - p.Origin.Y}
	}
	if len(s.Groups) != 2*len(p.Layers) {
		t.Fatalf("got %d groups, want two a layer", len(s.Groups))
	}
	ids := []string{"fret_slots", "board_edge", "centre", "s5"}
	for i, l := range p.Layers {
		lines, words := s.Groups[2*i], s.Groups[2*i+1]
		got := strings.Join([]string{lines.ID, lines.Fill, lines.Stroke, lines.Weight, lines.Dashes, words.ID, words.Fill}, ";")
		want := strings.Join([]string{
			ids[i], "none",
			[]string{"#767676;0.1;", "#0072b2;0.125;3 1.5", "#d55e00;0.25;0.4 1", "#009e73;0.375;8 1.5 1.5 1.5"}[i],
			ids[i] + "-words", []string{"#767676", "#0072b2", "#d55e00", "#009e73"}[i],
		}, ";")
		if got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		for _, line := range l.Lines {
			from := &lines.Open
			if line.Closed {
				from = &lines.Closed
			}
			shape := (*from)[0]
			*from = (*from)[1:]
			points := strings.Fields(shape.Points)
			if len(points) != len(line.Points) || shape.Title != line.Name {
				t.Fatalf("got %q of %d points, want %q of %d", shape.Title, len(points), line.Name, len(line.Points))
			}
			for j, at := range points {
				x, y, _ := strings.Cut(at, ",")
				near(t, line.Name, back(x, y), line.Points[j])
			}
		}
		for j, c := range l.Circles {
			got := lines.Round[j]
			near(t, "circle", back(got.CX, got.CY), c.Centre)
			near(t, "radius", fret.Point{X: parsed(t, got.R)}, fret.Point{X: c.Radius})
		}
		if len(lines.Open)+len(lines.Closed) != 0 || len(lines.Round) != len(l.Circles) || len(words.Texts) != len(l.Words) {
			t.Errorf("%s: got more shapes than the page has, want the same", l.Name)
		}
		for j, word := range l.Words {
			got := words.Texts[j]
			near(t, word.Text, back(got.X, got.Y), word.At)
			size := []string{"3", "1", "2", "3"}[j] // nothing asked is 3 mm
			turn := ""
			if j > 0 {
				turn = fmt.Sprintf("rotate(%d %s %s)", -35*j, got.X, got.Y) // SVG turns clockwise
			}
			if anchor := []string{"start", "middle", "end"}[word.Anchor]; got.Text != word.Text || got.Size != size || got.Anchor != anchor || got.Transform != turn {
				t.Errorf("got %+v, want %q, size %s, %s, %q", got, word.Text, size, anchor, turn)
			}
		}
	}
}

// Every ink stands out from white paper by at least 3 to 1, as WCAG 2.1, 1.4.11,
// asks of graphics (relative luminance as defined there), so that it does in grey.
func TestInksInGrey(t *testing.T) {
	for ink := draw.Dark; ink <= draw.Green; ink++ {
		p := &draw.Page{Width: 1, Height: 1, Layers: []draw.Layer{{Name: "a", Ink: ink}}}
		rgb, err := strconv.ParseUint(readSVG(t, written(t, p.SVG)).Groups[0].Stroke[1:], 16, 32)
		if err != nil {
			t.Fatal(err)
		}
		light := 0.0
		for i, share := range []float64{0.0722, 0.7152, 0.2126} {
			c := float64(rgb>>(8*i)&0xFF) / 255
			if c > 0.03928 {
				c = math.Pow((c+0.055)/1.055, 2.4)
			} else {
				c /= 12.92
			}
			light += share * c
		}
		if contrast := 1.05 / (light + 0.05); contrast < 3 {
			t.Errorf("ink %d: got a contrast of %.2f, want at least 3", ink, contrast)
		}
	}
}

// A page without words or title has no empty groups of them.
func TestSVGOfLittle(t *testing.T) {
	p := &draw.Page{Width: units.Inch, Height: 2, Layers: []draw.Layer{{Name: "a", Lines: []draw.Line{{Points: []fret.Point{{X: 1, Y: 0.5}, {X: 2.00004, Y: 0.5}}}}}}}
	want := `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="25.4mm" height="2mm" viewBox="0 0 25.4 2">
<g id="a" fill="none" stroke="#222222" stroke-width="0.1">
<polyline points="1,1.5 2,1.5"/>
</g>
</svg>
`
	if got := string(written(t, p.SVG)); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}
