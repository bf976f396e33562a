package bench_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// endSeen is what an end view should show, worked out from centres of circles. Lists
// have one number a string, in mm over the crown of a fret; NaN is one not read.
type endSeen struct {
	r          *bench.Record
	at         int
	is, wanted []float64
}

// across is how far a string stands from the centre line so far along the scale.
func (e endSeen) across(s int, part float64) float64 {
	n := len(e.is)
	if n == 1 {
		return 0
	}
	spread := float64(e.r.NutSpread)*(1-part) + float64(e.r.SaddleSpread)*part
	return spread/2 - spread*float64(s-1)/float64(n-1)
}

// board is the level of the board, whose radius grows evenly from the nut to the
// last fret and beyond; NaN beyond its edge.
func (e endSeen) board(part, y float64) float64 {
	if e.r.Radius[0] == fret.Flat {
		return 0
	}
	grown := part / share(e.r.Frets)
	radius := float64(e.r.Radius[0])*(1-grown) + float64(e.r.Radius[1])*grown
	return math.Sqrt(radius*radius-y*y) - radius
}

func (e endSeen) gauge(s int) float64 {
	if len(e.r.Strings) == 0 {
		return 0.3 // where none is told, about a treble's (common practice, no source)
	}
	return float64(e.r.Strings[s-1].Gauge)
}

// levels are the strings' at the saddles, over the lower outer one, each 0.5 mm over
// the board at the nut.
func (e endSeen) levels() []float64 {
	part, out := share(e.at), []float64{}
	for i, h := range e.wanted {
		nut := e.board(0, e.across(i+1, 0)) + 0.5
		here := e.board(part, e.across(i+1, part)) + h
		out = append(out, nut+(here-nut)/part)
	}
	low := min(out[0], out[len(out)-1])
	for i := range out {
		out[i] -= low
	}
	return out
}

func plainPt(x, y float64) fret.Point { return pt(units.Length(x), units.Length(y)) }

// overFret compares what stands over the fret.
func (e endSeen) overFret(t *testing.T, p *draw.Page, by float64) {
	t.Helper()
	part := share(e.at)
	highest := 0.0 // of the crown and of the words over it
	for i, is := range e.is {
		s := i + 1
		y, gauge := e.across(s, part), e.gauge(s)
		centre := func(h float64) fret.Point { return plainPt(by*y, by*(e.board(part, y)+h+gauge/2)) }
		radius := units.Length(max(by*gauge/2, 0.05)) // so that it is seen
		name, figures, top := fmt.Sprintf("string %d", s), fmt.Sprintf("%.2f to %.2f", is, e.wanted[i]), max(is, e.wanted[i])
		diff(t, "wanted", draw.Circle{Name: name + " wanted", Centre: centre(e.wanted[i]), Radius: radius}, circleOf(t, p, "wanted strings", name+" wanted"))
		if math.IsNaN(is) {
			figures, top = fmt.Sprintf("to %.2f", e.wanted[i]), e.wanted[i]
		} else {
			diff(t, "as it is", draw.Circle{Name: name, Centre: centre(is), Radius: radius}, circleOf(t, p, "as it is", name))
		}
		top = by * (e.board(part, y) + top + gauge)
		highest = max(highest, top+8)
		diff(t, figures, plainPt(by*y, top+2), wordOf(t, p, figures).At)
		diff(t, "number", plainPt(by*y, top+5.5), wordOf(t, p, fmt.Sprintf("s%d", s)).At)
	}
	says := wordOf(t, p, fmt.Sprintf("over fret %d: how high each string stands, to what is wanted, in mm", e.at))
	diff(t, "words", plainPt(by*(e.across(len(e.is), 1)-4), highest+6), says.At)
}

// crown compares the fret, drawn 3 mm wider than its strings or as far as the board
// is curved, and returns its bass end.
func (e endSeen) crown(t *testing.T, p *draw.Page, by float64) fret.Point {
	t.Helper()
	part := share(e.at)
	half := e.across(1, part) + 3
	var want []fret.Point
	for i := -30; i <= 30; i++ {
		y := half / 30 * float64(i)
		if z := e.board(part, y); !math.IsNaN(z) {
			want = append(want, plainPt(by*y, by*z))
		}
	}
	diff(t, "crown", want, lineOf(t, p, "as it is", fmt.Sprintf("crown of fret %d", e.at)).Points)
	last := len(want) - 1
	diff(t, "treble", draw.Word{Text: "treble", At: pt(want[last].X+2, want[last].Y-1), Size: 2.8}, wordOf(t, p, "treble"))
	diff(t, "bass", draw.Word{Text: "bass", At: pt(want[0].X-2, want[0].Y-1), Anchor: draw.End, Size: 2.8}, wordOf(t, p, "bass"))
	return want[0]
}

// overSaddles compares the crosses, 18 mm under the bass end of the crown, the curve
// through the outer two, and what is said below.
func (e endSeen) overSaddles(t *testing.T, p *draw.Page, by float64, bass fret.Point) {
	t.Helper()
	levels := e.levels()
	high, low := levels[0], levels[0]
	for _, z := range levels {
		high, low = max(high, z), min(low, z)
	}
	down := float64(bass.Y) - 18 - by*high
	circle := e.circle(t, levels)
	for i, z := range levels {
		x, y := by*e.across(i+1, 1), by*z+down
		name := fmt.Sprintf("string %d at the saddle", i+1)
		diff(t, name, []fret.Point{plainPt(x-2, y), plainPt(x+2, y)}, lineOf(t, p, "wanted strings", name).Points)
		diff(t, name, []fret.Point{plainPt(x, y-1.2), plainPt(x, y+1.2)}, lineOf(t, p, "wanted strings", name+", upright").Points)
		on := by*circle(e.across(i+1, 1)) + down
		wordStands(t, p, fmt.Sprintf("%.2f", z), plainPt(x, max(y, on)+2))
		if miss := z - circle(e.across(i+1, 1)); math.Abs(miss) > 0.005 {
			wordStands(t, p, fmt.Sprintf("%+.2f", miss), plainPt(x, min(y, on)-4.5))
		}
	}
	left := by * (e.across(len(e.is), 1) - 4)
	says := wordOf(t, p, "over the saddles: crosses, where the wanted heights put the strings, in mm over the lower outer one")
	diff(t, "words", draw.Word{Text: says.Text, At: plainPt(left, by*low+down-12), Size: 3}, says)
	under := units.Length(5) // the words of the magnification, and of the curve
	if len(levels) > 1 {
		under = 10
	}
	all := words(p, "words")
	last := slices.IndexFunc(all, func(text string) bool { return strings.HasPrefix(text, "magnified ") })
	diff(t, "words of the magnification", pt(says.At.X, says.At.Y-under), wordOf(t, p, all[last]).At)
	assumed := []string{}
	for i, a := range ok(e.r.Side())(t).Assumed {
		assumed = append(assumed, "assumed: "+a.String())
		diff(t, "assumed", pt(says.At.X, says.At.Y-under-5*units.Length(i+1)), wordOf(t, p, assumed[i]).At)
	}
	diff(t, "last words", assumed, all[last+1:])
	if len(levels) == 1 {
		diff(t, "curves", []string(nil), drawnOn(p, "wanted"))
		return
	}
	var curve []fret.Point
	for i := 20; i >= -20; i-- {
		y := e.across(1, 1) / 20 * float64(i)
		curve = append(curve, plainPt(by*y, by*circle(y)+down))
	}
	diff(t, "curve", curve, lineOf(t, p, "wanted", "curve of the tops").Points)
}

// circle is the circle of the best radius through the outer two levels, bulging up.
func (e endSeen) circle(t *testing.T, levels []float64) func(y float64) float64 {
	t.Helper()
	radius := float64(ok(e.r.Tops())(t).Best.Radius)
	n := len(levels)
	half, middle, up := e.across(1, 1), (levels[0]+levels[n-1])/2, (levels[0]-levels[n-1])/2
	if n == 1 || math.IsInf(radius, 1) {
		return func(y float64) float64 { return middle + up*y/max(half, 1) }
	}
	long := math.Hypot(half, up)
	deep := math.Sqrt(radius*radius - long*long)
	return func(y float64) float64 {
		return middle - deep*half/long + math.Sqrt(math.Pow(radius, 2)-math.Pow(y-deep*up/long, 2))
	}
}

// wordStands wants a word at a place, where another may say the same elsewhere.
func wordStands(t *testing.T, p *draw.Page, text string, at fret.Point) {
	t.Helper()
	var places []fret.Point
	for _, l := range p.Layers {
		for _, w := range l.Words {
			if off := w.At; w.Text == text {
				if places = append(places, off); math.Hypot(float64(off.X-at.X), float64(off.Y-at.Y)) < 1e-6 {
					return
				}
			}
		}
	}
	t.Errorf("got %q at %v, want it at %v", text, places, at)
}

// whole compares the picture.
func (e endSeen) whole(t *testing.T, by float64) {
	t.Helper()
	p := ok(e.r.EndView(by))(t)
	if err := p.Check(); err != nil {
		t.Error(err)
	}
	e.overFret(t, p, by)
	e.overSaddles(t, p, by, e.crown(t, p, by))
}

func TestEndViewWhole(t *testing.T) {
	action := func(fret int, is, wanted []float64) (entries []bench.Entry) {
		var w []units.Length
		for i := range wanted {
			w = append(w, units.Length(wanted[i]))
			if !math.IsNaN(is[i]) {
				entries = append(entries, on(read(bench.Action, bench.How{At: fret}, units.Length(is[i])), i+1))
			}
		}
		return append(entries, want(bench.Action, bench.How{At: fret}, w...))
	}
	for name, e := range map[string]endSeen{
		"curved":       {at: 14, is: []float64{1.9, 1.52, 2.11, 1.84, 2.43, 2.27}, wanted: []float64{1.41, 1.63, 1.74, 1.95, 1.86, 2.02}},
		"flat":         {at: 12, is: []float64{1.9, 1.52, 2.11, 1.84, 2.43, 2.27}, wanted: []float64{2.31, 1.93, 2.04, 1.65, 1.76, 1.87}},
		"some read":    {at: 12, is: []float64{1.9, nan, 2.11, 1.84, nan, nan}, wanted: []float64{1.41, 1.63, 1.74, 1.95, 1.86, 2.02}},
		"none read":    {at: 17, is: []float64{nan, nan}, wanted: []float64{2.02, 1.41}},
		"one string":   {at: 12, is: []float64{1.9}, wanted: []float64{2.4}},
		"no set":       {at: 12, is: []float64{1.9, 2.1, 2.3}, wanted: []float64{1.41, 1.86, 1.73}},
		"tight radius": {at: 12, is: []float64{1.9, 2.1}, wanted: []float64{1.41, 1.86}},
		"near the nut": {at: 5, is: []float64{1.22, 1.36, 1.5}, wanted: []float64{1.02, 1.11, 1.39}},
	} {
		t.Run(name, func(t *testing.T) {
			n := len(e.is)
			e.r = six(t, action(e.at, e.is, e.wanted)...)
			e.r.Strings, e.r.Tuning, e.r.Saddles = e.r.Strings[:n], e.r.Tuning[:n], nil
			switch name {
			case "flat":
				e.r.Radius = []units.Length{fret.Flat, fret.Flat}
			case "no set":
				e.r.Strings = nil
			case "tight radius": // less than 3 mm more than half the spread
				e.r.Radius = []units.Length{26, 26}
			}
			for _, by := range []float64{0.1, 1, 2.5, 50} {
				e.whole(t, by)
			}
			// However the neck bends, heights are over the crown, and strings fall with it alike.
			e.r.FallFrom, e.r.FallBy = 9, 0.3
			e.r.Entries = append(e.r.Entries, read(bench.Relief, edge, 0.2))
			e.whole(t, 3)
		})
	}
}

// A height that a step has voided is no longer shown: the rod moves every string, a
// saddle its own.
func TestEndViewStale(t *testing.T) {
	for _, row := range []struct {
		did  bench.Entry
		want string
	}{
		{did(bench.Rod), "to 1.50, to 1.60, to 1.70, to 1.80, to 1.90, to 2.00"},
		{did(bench.Height, 3, 4), "2.00 to 1.50, 2.00 to 1.60, to 1.70, to 1.80, 2.00 to 1.90, 2.00 to 2.00"},
	} {
		p := ok(flat(t, row.did, want(bench.Action, at12, 1.5, 2.0)).EndView(4))(t)
		var figures []string
		for _, text := range words(p, "words") {
			if strings.Trim(text, ".0123456789 ") == "to" {
				figures = append(figures, text)
			}
		}
		diff(t, "figures", row.want, strings.Join(figures, ", "))
		if got, want := len(layerNamed(p, "as it is").Circles), strings.Count(row.want, "2.00 to"); got != want {
			t.Errorf("got %d strings as they stand, want %d", got, want)
		}
	}
}

// What a picture lacks is said as for the heights, and for the curve of the tops.
func TestEndViewErrors(t *testing.T) {
	for want, change := range map[string]func(*bench.Record){
		"got no radius, want that told first, as in radius: 10in 14in":                    func(r *bench.Record) { r.Radius = nil },
		"got no spread, want that told first, as in spread: 36mm 52mm":                    func(r *bench.Record) { r.NutSpread = 0 },
		"got no number of frets, want that told first, as in frets: 21":                   func(r *bench.Record) { r.Frets = 0 },
		"got a scale of -1mm, want more than 0":                                           func(r *bench.Record) { r.Scale = -1 },
		"got no wanted action, want that told first, as in want action 12: 1.5mm 1.9mm":   func(r *bench.Record) { r.Entries[2] = on(r.Entries[2], 1, 2) },
		"got no height of string 3, want that told first, as in read action 12 s3: 1.9mm": func(r *bench.Record) { r.Entries = []bench.Entry{on(r.Entries[2], 1, 2)} },
		"got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w":    func(r *bench.Record) { r.Strings, r.Tuning, r.Saddles, r.Entries = nil, nil, nil, r.Entries[2:] },
	} {
		p, err := with(flat(t, lengths(bench.Want, bench.Action, at12, 1.5, 2.0)), change).EndView(4)
		wantError(t, err, want)
		if p != nil {
			t.Errorf("%s: got a page, want none", want)
		}
	}
}

// What is said of the curve: its radius, and what misses it by a hundredth or more.
func TestEndViewSaysOfTheCurve(t *testing.T) {
	const missing = ", and under each cross how far it misses, + where the cross is higher"
	// Undersides on a circle of 300 mm through strings 10 mm apart at the saddle: over
	// the outer two by 25^2/600 mm less 15^2/600 or 5^2/600, nearly.
	circle := func(y float64) float64 { return math.Sqrt(300*300-y*y) - math.Sqrt(300*300-25*25) }
	round := []float64{0, circle(15), circle(5), circle(5), circle(15), 0}
	for _, row := range []struct {
		levels  []float64
		want    string
		figures string
	}{
		{round, "dashed: a radius of 300mm", "0.00 0.67 1.00 1.00 0.67 0.00"},
		{[]float64{0, 0.006, 0, 0, -0.006, 0}, "dashed: a straight line" + missing, "0.00 0.01 +0.01 0.00 0.00 -0.01 -0.01 0.00"},
		{[]float64{0, 0.004, 0, 0, -0.004, 0}, "dashed: a straight line", "0.00 0.00 0.00 0.00 0.00 0.00"},
		{[]float64{0, 0, -0.04, 0, 0, 0}, "dashed: a straight line" + missing, "0.00 0.00 -0.04 -0.04 0.00 0.00 0.00"},
		{[]float64{0, 0.1, 0.1, -0.2, 0.2, 0}, "dashed: a straight line" + missing, "0.00 0.10 +0.10 0.10 +0.10 -0.20 -0.20 0.20 +0.20 0.00"},
	} {
		var heights []units.Length // half way along, over slots of one height
		for _, z := range row.levels {
			heights = append(heights, units.Length(1.5+z/2))
		}
		p := ok(flat(t, want(bench.Action, at12, heights...)).EndView(4))(t)
		wordOf(t, p, row.want)
		var figures []string
		for _, text := range words(p, "words") {
			if strings.Trim(text, "+-.0123456789") == "" {
				figures = append(figures, text)
			}
		}
		diff(t, row.want, row.figures, strings.Join(figures, " "))
	}
}
