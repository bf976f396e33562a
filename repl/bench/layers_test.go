package bench_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// Pictures share their layers: dark and solid as it is, blue and dashed as it is
// wanted, grey and dotted as far as it may go. Those over others come later, and a layer
// with nothing on it is left out.
func TestLayers(t *testing.T) {
	var (
		marks  = draw.Layer{Name: "marks", Ink: draw.Grey, Weight: 0.15}
		limits = draw.Layer{Name: "limits", Ink: draw.Grey, Style: draw.Dotted, Weight: 0.2}
		is     = draw.Layer{Name: "as it is", Weight: 0.35}
		broad  = draw.Layer{Name: "out of tune", Weight: 1.6}
		wanted = draw.Layer{Name: "wanted", Ink: draw.Blue, Style: draw.Dashed, Weight: 0.35}
		rings  = draw.Layer{Name: "wanted strings", Ink: draw.Blue, Weight: 0.15}
		words  = draw.Layer{Name: "words"}
		title  = draw.Layer{Name: "title"}
	)
	r := flat(t, want(bench.Action, at12, 1.5, 2.0), heard(at12, 7, 7, 0, 0, -5, -5))
	for _, row := range []struct {
		page *draw.Page
		want []draw.Layer
	}{
		{ok(r.EndView(4))(t), []draw.Layer{is, wanted, rings, words, title}},
		{ok(r.SideView(10))(t), []draw.Layer{marks, limits, is, words, title}},
		{ok(r.MapView())(t), []draw.Layer{marks, limits, is, broad, words, title}},
		{ok(flat(t, heard(at12, 0, 0, 0, 0, 0, 0)).BridgeView(10))(t), []draw.Layer{marks, limits, is, wanted, words, title}},
	} {
		var got []draw.Layer
		for _, l := range row.page.Layers {
			l.Lines, l.Circles, l.Words = nil, nil, nil
			got = append(got, l)
		}
		diff(t, row.page.Title, row.want, got)
	}
}

// A page has a margin of 8 mm all round, and its title 4 mm over all else, at its left
// edge; both to a whole millimetre.
func TestMargins(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0), heard(at12, 12, 12, 0, 0, -12, -12))
	for _, p := range []*draw.Page{ok(r.EndView(4))(t), ok(r.SideView(10))(t), ok(r.MapView())(t), ok(r.BridgeView(10))(t)} {
		all, below := *p, draw.Page{Layers: p.Layers[:len(p.Layers)-1]}
		below.Fit(0)
		diff(t, p.Title, draw.Word{Text: p.Title, At: pt(-below.Origin.X, below.Height-below.Origin.Y+4), Size: 4}, wordOf(t, p, p.Title))
		all.Fit(0)
		diff(t, p.Title, []any{all.Width + 16, all.Height + 16, pt(all.Origin.X+8, all.Origin.Y+8)}, []any{p.Width, p.Height, p.Origin})
	}
}

// Sixty letters of a name fit over a picture; of a longer one the sixty are shown.
func TestTitleOfSixtyLetters(t *testing.T) {
	for name, title := range map[string]string{
		strings.Repeat("é", 60):        strings.Repeat("é", 60) + ": end view",
		strings.Repeat("é", 59) + "no": strings.Repeat("é", 59) + "n...: end view",
		"":                             "end view",
	} {
		r := flat(t, want(bench.Action, at12, 1.5, 2.0))
		r.Name = name
		p := ok(r.EndView(4))(t)
		diff(t, "title", title, p.Title)
		wordOf(t, p, title)
	}
}

// Magnifications from a tenth to fifty, to four digits.
func TestMagnifications(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0))
	for by, says := range map[float64]string{0.1: "0.1", 1: "1", 2.5: "2.5", 12.3456: "12.35", 50: "50"} {
		wordOf(t, ok(r.EndView(by))(t), "magnified "+says+" times, across and in height; a broad ring is a string as it stands, a thin one as it is wanted")
	}
	for _, by := range []float64{0.099, 50.001, -4} {
		for _, view := range []func(float64) (*draw.Page, error){r.EndView, r.SideView, r.BridgeView} {
			_, err := view(by)
			wantError(t, err, fmt.Sprintf("got a magnification of %v, want 0.1 to 50", by))
		}
	}
}

// The usual end view of six strings fills a sheet of A4 lying, 277 mm wide between its
// margins; a rule laid on the usual heights of a side view, or along the strings on a
// bridge, shows a tenth of a millimetre as a whole one.
func TestUsualMagnifications(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 2.0), read(bench.Saddle, bench.How{From: bench.FromNut}, 642, 643, 644))
	if p := ok(r.EndView(bench.EndMagnified))(t); p.Width > 277 || p.Width < 0.75*277 {
		t.Errorf("got an end view %v wide, want 208 to 277", p.Width)
	}
	side := ok(r.SideView(bench.SideMagnified))(t)
	string1 := lineOf(t, side, "as it is", "string 1").Points // from 0.5 mm to 3.5 mm over the frets
	diff(t, "side view", units.Length(30), string1[1].Y-string1[0].Y)
	bridge := ok(r.BridgeView(bench.BridgeMagnified))(t)
	var places []units.Length
	for _, saddle := range []string{"saddle 1+2", "saddle 3+4", "saddle 5+6"} {
		places = append(places, lineOf(t, bridge, "as it is", saddle).Points[0].X)
	}
	diff(t, "bridge", []units.Length{20, 30, 40}, places)
}
