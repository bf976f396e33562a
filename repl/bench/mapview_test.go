package bench_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
)

// mapSeen is what a map of cents should show: strings 22 mm apart, frets 10 mm, the
// note that is furthest out 7.5 mm from its string.
type mapSeen struct {
	strung, limits, bars, broad []draw.Line
	words                       []draw.Word
}

// seenOf is the map of a prediction, the only string's frets numbered over the first.
func seenOf(pre *bench.Prediction) (m mapSeen) {
	worst := 3.0 // the limits are shown in any case
	for _, notes := range pre.Notes {
		for _, n := range notes {
			worst = max(worst, math.Abs(float64(n.Cents)))
		}
	}
	for s, notes := range pre.Notes {
		y, dotted := -22*float64(s), 7.5*3/worst
		end := 10*float64(len(notes)) + 10
		m.strung = append(m.strung, straight(fmt.Sprintf("string %d", s+1), 0, y, end, y))
		m.limits = append(m.limits, straight("in tune", 0, y-dotted, end, y-dotted), straight("in tune", 0, y+dotted, end, y+dotted))
		m.word(fmt.Sprintf("s%d", s+1), -8, y-1, draw.Start)
		for f, n := range notes {
			m.note(s+1, f+1, float64(n.Cents), 7.5/worst, dotted)
		}
	}
	for f := range pre.Notes[0] {
		m.word(fmt.Sprint(f+1), 10*float64(f+1), 13, draw.Middle)
	}
	m.word("fret", -8, 13, draw.Start)
	says := []string{"cents that each note is predicted to stand out against the open string, up is sharp; dotted, 3c either way; a broad bar, beyond it"}
	for _, a := range pre.Assumed {
		says = append(says, "assumed: "+a.String())
	}
	for i, text := range says {
		below := -22*float64(len(pre.Notes)-1) - 7.5 - 8 - 5*float64(i)
		m.words = append(m.words, draw.Word{Text: text, At: plainPt(-8, below), Size: 3})
	}
	return m
}

// note adds a bar, and its figure clear of the dotted lines.
func (m *mapSeen) note(s, f int, cents, scale, dotted float64) {
	x, y := 10*float64(f), -22*float64(s-1)
	bar := straight(fmt.Sprintf("string %d fret %d", s, f), x, y, x, y+scale*cents)
	if math.Abs(cents) > 3 {
		m.broad = append(m.broad, bar)
	} else {
		m.bars = append(m.bars, bar)
	}
	figure := y + max(scale*cents, dotted) + 1
	if cents < 0 {
		figure = y + min(scale*cents, -dotted) - 3
	}
	m.word(signedTenths(cents), x, figure, draw.Middle)
}

func (m *mapSeen) word(text string, x, y float64, anchor draw.Anchor) {
	m.words = append(m.words, draw.Word{Text: text, At: plainPt(x, y), Anchor: anchor, Size: 2.8})
}

func straight(name string, x1, y1, x2, y2 float64) draw.Line {
	return draw.Line{Name: name, Points: []fret.Point{plainPt(x1, y1), plainPt(x2, y2)}}
}

// signedTenths writes cents to a tenth, halves away from 0: +4.1, 0.0, -0.3.
func signedTenths(cents float64) string {
	n := int(math.Floor(10*math.Abs(cents) + 0.5))
	sign := map[bool]string{true: "-", false: "+"}[cents < 0]
	if n == 0 {
		sign = ""
	}
	return fmt.Sprintf("%s%d.%d", sign, n/10, n%10)
}

// layerNamed is the layer of a name, an empty one where the page has none.
func layerNamed(p *draw.Page, name string) (found draw.Layer) {
	for _, l := range p.Layers {
		if l.Name == name {
			found = l
		}
	}
	return found
}

func TestMapViewWhole(t *testing.T) {
	next := map[bool]int{} // notes next to 0, by whether they are flat
	for name, r := range map[string]*bench.Record{
		"sharp more than flat": flat(t, heard(at12, 12, 2, 0, -1, -5, 8)),
		"flat more than sharp": flat(t, heard(at12, -12, -2, 0, 1, 3, -8)),
		"in tune":              with(flat(t, heard(at12, 0, 0.2, -0.2, 0.5, 0, 0)), func(r *bench.Record) { r.Frets = 14 }),
		"nothing heard":        flat(t, read(bench.Gap, gapHeld, 0.15, 0.15, 0.15, 0.2, 0.2, 0.2)),
		"one string": with(flat(t), func(r *bench.Record) {
			r.Frets, r.Strings, r.Tuning, r.Saddles = 9, r.Strings[:1], r.Tuning[:1], nil
			r.Entries = []bench.Entry{read(bench.Action, bench.How{At: 7}, 1.6), heard(bench.How{At: 7}, -2)}
		}),
	} {
		p, pre := ok(r.MapView())(t), ok(r.Predict())(t)
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		want := seenOf(pre)
		diff(t, name+": strings", want.strung, layerNamed(p, "marks").Lines)
		diff(t, name+": limits", want.limits, layerNamed(p, "limits").Lines)
		diff(t, name+": bars", want.bars, layerNamed(p, "as it is").Lines)
		diff(t, name+": broad bars", want.broad, layerNamed(p, "out of tune").Lines)
		diff(t, name+": words", want.words, layerNamed(p, "words").Words)
		for _, notes := range pre.Notes {
			for _, n := range notes {
				if n.Cents != 0 && n.Cents > -0.05 && n.Cents < 0.05 {
					next[n.Cents < 0]++
				}
			}
		}
	}
	if next[true] == 0 || next[false] == 0 {
		t.Errorf("got %d flat notes and %d sharp ones next to 0, want some of both: they show no sign", next[true], next[false])
	}
}

// A map lacks what a prediction lacks.
func TestMapViewErrors(t *testing.T) {
	for want, change := range map[string]func(*bench.Record){
		"got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2": func(r *bench.Record) { r.Tuning = nil },
		"got no number of frets, want that told first, as in frets: 21":        func(r *bench.Record) { r.Frets = 0 },
	} {
		p, err := with(flat(t), change).MapView()
		wantError(t, err, want)
		if p != nil {
			t.Errorf("%s: got a page, want none", want)
		}
	}
}
