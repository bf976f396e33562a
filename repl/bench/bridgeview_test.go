package bench_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// bridgeSaddle is what a picture of a bridge should show of one saddle: its strings
// from the treble, how far back each breaks and should, and its words.
type bridgeSaddle struct {
	group    string
	strings  []int
	is, best []float64
	words    string
}

// bridgePicture is a picture of a bridge in the bridge's own millimetres.
type bridgePicture struct {
	by        float64
	across    []float64 // every string, from the centre line towards the treble
	near, far float64   // the ends of the strings
	edge      float64   // of the picture, across
	from      string
	saddles   []bridgeSaddle
	says      string
}

// check holds a page against the picture: each layer has those lines and no more,
// and each word stands where it should.
func (b bridgePicture) check(t *testing.T, r *bench.Record) {
	t.Helper()
	p := ok(r.BridgeView(b.by))(t)
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	at := func(x, y float64) fret.Point { return pt(mm(b.by*x), mm(2*y)) }
	lines := map[string]map[string][]fret.Point{
		"marks": {}, "as it is": {}, "wanted": {},
		"limits": {b.from: {at(0, -b.edge), at(0, b.edge)}},
	}
	left, right := mm(b.by*b.near), mm(b.by*b.far)
	top := mm(2 * b.edge)
	says := map[string]draw.Word{
		"to the nut":  {At: pt(left-15, top)},
		"to the tail": {At: pt(right+3, top)},
		fmt.Sprintf("magnified %v times along the strings, 2 times across; %s; dotted, %s", b.by, b.says, b.from): {At: pt(left-15, -top-8)},
		"back is away from the nut; string 1 is the treble edge":                                                  {At: pt(left-15, -top-13)},
	}
	for i, y := range b.across {
		lines["marks"][fmt.Sprintf("string %d", i+1)] = []fret.Point{at(b.near, y), at(b.far, y)}
		says[fmt.Sprintf("s%d", i+1)] = draw.Word{At: pt(left-4, mm(2*y-1)), Anchor: draw.Middle}
	}
	for _, s := range b.saddles {
		treble, bass := b.across[s.strings[0]-1], b.across[s.strings[len(s.strings)-1]-1]
		says[s.words] = draw.Word{At: pt(right+3, mm(treble+bass-1))}
		for name, places := range map[string][]float64{"as it is": s.is, "wanted": s.best} {
			if places == nil {
				continue
			}
			points := []fret.Point{at(places[0], treble+2.5)}
			for j, str := range s.strings {
				points = append(points, at(places[j], b.across[str-1]))
			}
			lines[name][map[string]string{"as it is": "saddle ", "wanted": "best for "}[name]+s.group] = append(points, at(places[len(places)-1], bass-2.5))
		}
	}
	gotLines, gotWords := map[string]map[string][]fret.Point{"marks": {}, "as it is": {}, "wanted": {}, "limits": {}}, map[string]draw.Word{}
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			gotLines[l.Name][line.Name] = line.Points
		}
		for _, w := range l.Words {
			if l.Name == "words" {
				gotWords[w.Text] = draw.Word{At: w.At, Anchor: w.Anchor}
			}
		}
	}
	diff(t, "lines", lines, gotLines)
	diff(t, "words", says, gotWords)
}

const (
	bothSay = "solid is where a saddle stands, dashed where it should"
	bestSay = "dashed is where a saddle should stand"
)

// three is an instrument of three strings, 10 mm apart at the bridge, on two saddles.
func three(t testing.TB, entries ...bench.Entry) *bench.Record {
	return &bench.Record{
		Scale: 640, Frets: 19, NutSpread: 14, SaddleSpread: 20,
		Strings: set(t, "11p", "14p", "28w"), Tuning: tones(t, "D4", "A3", "C3"),
		Saddles: [][]int{{1, 2}, {3}}, Entries: entries,
	}
}

// Saddles stand where they were read from the nut, strings that stand further back
// by that, and should where the textbook puts them. Strings are drawn from 1 mm
// before the foremost place to 2 mm behind the hindmost.
func TestBridgeViewFromTheScaleLine(t *testing.T) {
	r := three(t, heard(at12, 7, 3, 0.5), read(bench.Saddle, bench.How{From: bench.FromNut}, 642, 636.5))
	r.Staggers = []units.Length{unread, 0.3, unread}
	back := together(pairAt(640, 2, 0, 12, 7), pairAt(640, 2.3, 0, 12, 3))
	b := bridgePicture{by: 10, across: []float64{10, 0, -10}, near: -3.5 - 1, far: 2.3 + back + 2, edge: 13, from: "the scale line", says: bothSay, saddles: []bridgeSaddle{
		{"1+2", []int{1, 2}, []float64{2, 2.3}, []float64{2 + back, 2.3 + back}, fmt.Sprintf("saddle 1+2: back %.1fmm", back)},
		{"3", []int{3}, []float64{-3.5}, []float64{-3.5}, "saddle 3: leave it"}, // half a cent is within the tuner's
	}}
	b.check(t, r)
	b.by = 2.5
	b.check(t, r)

	// Without the place of one, all are drawn from where each stands.
	r.Entries[1] = on(read(bench.Saddle, bench.How{From: bench.FromNut}, 642), 1)
	b.from, b.near = "where each saddle stands", -2
	b.far = 0.3 + back + 2
	b.saddles[0].is, b.saddles[0].best = []float64{0, 0.3}, []float64{back, 0.3 + back}
	b.saddles[1].is, b.saddles[1].best = []float64{0}, []float64{0}
	b.check(t, r)
}

// Of a saddle that was not heard, only where it stands is drawn.
func TestBridgeViewNotHeard(t *testing.T) {
	r := three(t, on(heard(at12, -6), 3))
	forward := pairAt(640, 0, 0, 12, -6).move()
	bridgePicture{by: 10, across: []float64{10, 0, -10}, near: forward - 1, far: 4, edge: 13, from: "where each saddle stands", says: bothSay, saddles: []bridgeSaddle{
		{"1+2", []int{1, 2}, []float64{0, 0}, nil, "saddle 1+2: not read"},
		{"3", []int{3}, []float64{0}, []float64{forward}, fmt.Sprintf("saddle 3: forward %.1fmm", -forward)},
	}}.check(t, r)
}

// One string needs no spread.
func TestBridgeViewOfOneString(t *testing.T) {
	r := &bench.Record{Scale: 600, Strings: set(t, "11p"), Entries: []bench.Entry{heard(at12, 5)}}
	back := pairAt(600, 0, 0, 12, 5).move()
	bridgePicture{by: 50, across: []float64{0}, near: -2, far: 4, edge: 3, from: "where each saddle stands", says: bothSay, saddles: []bridgeSaddle{
		{"1", []int{1}, []float64{0}, []float64{back}, fmt.Sprintf("saddle 1: back %.1fmm", back)},
	}}.check(t, r)
}

// Strings lie across a saddle as they cross the bridge, in whatever order they were
// told, and with gaps that are equal where they are so; one that slants lies through
// its strings' own places.
func TestBridgeViewAcross(t *testing.T) {
	r := three(t, heard(at12, 9, 6, 2))
	r.Saddles, r.Plan.Gaps = [][]int{{2, 3, 1}}, true
	g := []float64{.011 * 25.4, .014 * 25.4, .028 * 25.4}
	second := 10 - ((20-g[0]/2-g[1]-g[2]/2)/2 + (g[0]+g[1])/2)
	across := []float64{10, second, -10}
	back := together(pairAt(640, 0, 0, 12, 9), pairAt(640, 0, 0, 12, 2))
	b := bridgePicture{by: 10, across: across, near: -2, far: back + 2, edge: 13, from: "where each saddle stands", says: bothSay, saddles: []bridgeSaddle{
		{"2+3+1", []int{1, 2, 3}, []float64{0, 0, 0}, []float64{back, back, back}, fmt.Sprintf("saddle 2+3+1: back %.1fmm", back)},
	}}
	b.check(t, r)

	// Two of them slant to their own places, and the third lies on that line.
	r.Slants = true
	r.Entries[0] = heard(at12, 9, silent, 2)
	one, three := pairAt(640, 0, 0, 12, 9).move(), pairAt(640, 0, 0, 12, 2).move()
	two := one + (three-one)*(10-second)/20
	b.far = one + 2
	b.saddles[0].best = []float64{one, two, three}
	b.saddles[0].words = fmt.Sprintf("saddle 2+3+1: back %.1fmm", one+(three-one)*(10-second/3)/20) // of the strings' middle
	b.check(t, r)
}

// Before anything was heard, saddles are drawn where they should start, and where
// they stand as far as that is known.
func TestBridgeViewStarts(t *testing.T) {
	r := three(t, read(bench.Action, at12, 1.8, 1.9, 2.2))
	r.Staggers = []units.Length{unread, 0.4, unread}
	places, _, err := r.PlaceRows()
	if err != nil {
		t.Fatal(err)
	}
	one, two := float64(places[0].Setback), float64(places[1].Setback)
	if !(one > 2 && one < two && two < 3) {
		t.Fatalf("got starts of %v and %v, want them between 2 and 3 mm, as the picture below", one, two)
	}
	b := bridgePicture{by: 10, across: []float64{10, 0, -10}, near: -2, far: max(one+0.4, two) + 2, edge: 13, from: "the scale line", says: bestSay, saddles: []bridgeSaddle{
		{"1+2", []int{1, 2}, nil, []float64{one, one + 0.4}, fmt.Sprintf("saddle 1+2: starts %.1fmm behind the scale line", one)},
		{"3", []int{3}, nil, []float64{two}, fmt.Sprintf("saddle 3: starts %.1fmm behind the scale line", two)},
	}}
	b.check(t, r)
	r.Entries = append(r.Entries, on(read(bench.Saddle, bench.How{From: bench.FromNut}, 645), 1))
	b.far, b.says = 5.4+2, bothSay
	b.saddles[0].is = []float64{5, 5.4}
	b.check(t, r)
}

// What a picture of a bridge cannot be drawn of.
func TestBridgeViewErrors(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) {
			r.SaddleSpread = 0
			r.Saddles, r.Strings, r.Tuning = nil, r.Strings[:2], nil
			r.Entries = nil
		}, "got no spread, want that told first, as in spread: 36mm 52mm"},
		{func(r *bench.Record) { r.SaddleSpread = 0 }, "got no spread, want that told first, as in spread: 36mm 52mm"},
		{func(r *bench.Record) { r.Scale = 0 }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Entries, r.Tuning = nil, nil }, "got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2"},
		{func(r *bench.Record) { r.Entries = nil }, "got no height of string 1, want that told first, as in read action 12 s1: 1.9mm"},
		{func(r *bench.Record) { r.Saddles = r.Saddles[:1] }, "got no saddle for string 3, want every string on one, as in 1+2 3+4"},
		{func(r *bench.Record) { r.Entries = []bench.Entry{heard(at12, 1200, 3, 0.5)} }, "saddle 1+2: string 1: got 1200c at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{func(r *bench.Record) { *r = bench.Record{} }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
	} {
		r := three(t, heard(at12, 7, 3, 0.5))
		row.change(r)
		_, err := r.BridgeView(10)
		wantError(t, err, row.want)
	}
	for _, by := range []float64{0, 0.09, -1, 50.1, nan, math.Inf(1)} {
		_, err := three(t, heard(at12, 7, 3, 0.5)).BridgeView(by)
		wantError(t, err, fmt.Sprintf("got a magnification of %v, want 0.1 to 50", by))
	}
}

// The place of a string that is not on the saddle, or of which nothing is known,
// does not move.
func TestPlaceOfNoString(t *testing.T) {
	m := ok(three(t, heard(at12, 7, 3, silent)).MoveRows())(t)
	back := mm(together(pairAt(640, 0, 0, 12, 7), pairAt(640, 0, 0, 12, 3)))
	diff(t, "places", []units.Length{0, back, back, 0, 0}, []units.Length{m[0].Place(-1), m[0].Place(0), m[0].Place(1), m[0].Place(2), m[1].Place(0)})
}
