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

var endless = units.Length(math.Inf(1))

// Every length of a plan is more than 0, or not told.
func TestPlanSizes(t *testing.T) {
	for what, of := range map[string]func(*bench.NeckPlan) *units.Length{
		"scale of the treble string":      func(p *bench.NeckPlan) *units.Length { return &p.Scales[0] },
		"scale of the bass string":        func(p *bench.NeckPlan) *units.Length { return &p.Scales[1] },
		"width of the board at the nut":   func(p *bench.NeckPlan) *units.Length { return &p.Widths[0] },
		"width of the board at its end":   func(p *bench.NeckPlan) *units.Length { return &p.Widths[1] },
		"margin beyond the outer strings": func(p *bench.NeckPlan) *units.Length { return &p.Edge },
		"length beyond the last fret":     func(p *bench.NeckPlan) *units.Length { return &p.Beyond },
		"kerf":                            func(p *bench.NeckPlan) *units.Length { return &p.Kerf },
		"tang":                            func(p *bench.NeckPlan) *units.Length { return &p.Tang },
		"blind end of slots":              func(p *bench.NeckPlan) *units.Length { return &p.Blind },
	} {
		r := fanned(t)
		for _, l := range []units.Length{-1, unread, endless} {
			*of(&r.Plan) = l
			wantError(t, r.Check(), fmt.Sprintf("got a %s of %v, want more than 0", what, l))
		}
		if *of(&r.Plan) = 1; r.Check() != nil {
			t.Errorf("%s: got %v of 1mm, want none", what, r.Check())
		}
	}
}

// What else a plan may be, and may not.
func TestPlanLimits(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string // or none
	}{
		{func(r *bench.Record) { r.Plan.Square = 1000 }, ""},
		{func(r *bench.Record) { r.Plan.Square = -1000 }, ""},
		{func(r *bench.Record) { r.Plan.Square = 1000.5 }, "got a square fret of 1000.5, want -1000 to 1000"},
		{func(r *bench.Record) { r.Plan.Square = math.Inf(-1) }, "got a square fret of -Inf, want -1000 to 1000"},
		{func(r *bench.Record) { r.Plan.Drill = -12 }, ""}, // before the saddles
		{func(r *bench.Record) { r.Plan.Drill = endless }, "got a drill line +Infmm behind the saddles, want a length"},
		{func(r *bench.Record) { r.Plan.Nut = []units.Length{1, unread, -1, 0, 0, 0} }, ""},
		{func(r *bench.Record) { r.Plan.Setback = make([]units.Length, 7) }, "got 7 setbacks, want one for each of 6 strings"},
		{func(r *bench.Record) { r.Plan.Setback = []units.Length{0, 0, 0, 0, 0, -endless} }, "got setbacks of -Infmm for string 6, want lengths"},
		{func(r *bench.Record) { r.Strings, r.Tuning, r.Plan.Nut = nil, nil, []units.Length{1, 2} }, ""}, // of how many strings is not told yet
		{func(r *bench.Record) { r.Strings, r.Tuning, r.Plan.Nut = r.Strings[:1], nil, []units.Length{1, 2} }, "got 2 compensations of the nut, want one for each of 1 string"},
		{func(r *bench.Record) { r.Frets, r.Plan.Keep = 2, []int{7} }, "got 2 frets, and 1 steps that have one, want as many"},
		{func(r *bench.Record) { r.Frets, r.Plan.Keep = 2, []int{7, 5} }, "got fret 7 to keep after fret 0, want it above that and at most 5"},
		{func(r *bench.Record) { r.Plan.Degrees = []units.Cents{500, 400} }, "degrees: got fret 2 at 400c, want it above 500c"},
		{func(r *bench.Record) { r.Frets, r.Plan.Keep, r.Plan.Degrees = 2, []int{1, 3}, []units.Cents{500, 400} }, "degrees: got fret 2 at 400c, want it above 500c"},
		{func(r *bench.Record) { r.Frets, r.Plan.Degrees = 0, []units.Cents{500, 400} }, ""}, // nothing to divide yet
		{func(r *bench.Record) { r.Plan.Of, r.Plan.By = 1200, -3 }, "got a division by -3, want at least 1"},
	} {
		r := fanned(t)
		row.change(r)
		if err := r.Check(); row.want != "" {
			wantError(t, err, row.want)
		} else if err != nil {
			t.Error(err)
		}
	}
}

// One degree goes on and on, and so does one interval by so many steps; of steps,
// one may be left.
func TestDivisionsOfOne(t *testing.T) {
	for _, row := range []struct {
		frets int
		plan  bench.NeckPlan
		want  []units.Cents
	}{
		{3, bench.NeckPlan{Degrees: []units.Cents{150}}, []units.Cents{150, 300, 450}},
		{1, bench.NeckPlan{Keep: []int{7}}, []units.Cents{700}},
		{2, bench.NeckPlan{Degrees: []units.Cents{200, 500}, Keep: []int{2, 3}}, []units.Cents{500, 700}},
		{2, bench.NeckPlan{Of: 1200, By: 24, Keep: []int{1, 5}}, []units.Cents{50, 250}},
		{2, bench.NeckPlan{Of: 700, By: 1}, []units.Cents{700, 1400}},
		{2, bench.NeckPlan{Of: 720}, []units.Cents{60, 120}}, // by 12 until told
		{2, bench.NeckPlan{By: 24}, []units.Cents{50, 100}},  // and the octave
	} {
		r := &bench.Record{Frets: row.frets, Plan: row.plan}
		d := r.Division()
		var got []units.Cents
		for n := 1; n <= d.Frets(); n++ {
			got = append(got, d.Cents(n))
		}
		diff(t, fmt.Sprintf("%+v", row.plan), row.want, got)
	}
}

// What the frets of a tuning cannot be worked out of.
func TestTemperErrors(t *testing.T) {
	degrees, err := fret.Meantone(0.25, 3)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Plan.Kerf = -1 }, "got a kerf of -1mm, want more than 0"},
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.Tuning = nil }, "got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2"},
	} {
		r := six(t)
		r.Plan.Temper, r.Plan.Edge = bench.Temper{Degrees: degrees, Root: 62}, 3
		row.change(r)
		asked, cost, err := r.Tempered()
		wantError(t, err, row.want)
		if asked != nil || cost != nil {
			t.Errorf("got frets with %v, want none", err)
		}
		_, _, err = r.FretBoard()
		wantError(t, err, row.want)
	}
	// From an open D, the root, to the next is the small semitone, seven fifths less four
	// octaves; from A to A sharp too.
	r := six(t)
	r.Plan.Temper, r.Plan.Edge = bench.Temper{Degrees: degrees, Root: 62}, 3
	asked, _, err := r.Tempered()
	if err != nil {
		t.Fatal(err)
	}
	for i := range 2 {
		if got := asked[i].Cents(1); math.Abs(float64(got)-(7*696.578-4800)) > 0.01 {
			t.Errorf("string %d: got its first fret at %v, want 76.05c", i+1, got)
		}
	}
	// One step that is kept is the seventh of twelve.
	r.Frets, r.Plan.Keep = 1, []int{7}
	asked, _, err = r.Tempered()
	if err != nil || asked[0].Frets() != 1 || math.Abs(float64(asked[0].Cents(1))-696.578) > 0.001 {
		t.Errorf("got %v, %v, want a fret at a fifth of 696.578c", asked, err)
	}
	// Its board has each string's own frets, and a fretless one lines straight across.
	r.Frets, r.Plan.Keep = 12, nil
	b, _, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	// String 1 is a D, the root itself: the meantone's fifth, and its second, two fifths
	// less an octave.
	own := b.Plan().Own[0]
	diff(t, "own", []units.Cents{2*own.Cents(7) - 1200, own.Cents(7)}, []units.Cents{own.Cents(2), asked[0].Cents(1)})
	diff(t, "short frets", 6*12, len(b.Slots()))
	_, rows, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if row.String == 0 || row.Cents != 0 {
			t.Fatalf("got %+v, want a string's own fret, right on it", row)
		}
	}
	r.Plan.Lines = true
	if b, _, err = r.FretBoard(); err != nil || len(b.Slots()) != 0 || len(b.Marks()) != 12 || b.Plan().Own != nil {
		t.Errorf("fretless: got %d slots, %d lines, %v, want 12 lines", len(b.Slots()), len(b.Marks()), err)
	}
}

// What a board cannot be laid out of; one string needs no spreads.
func TestBoardErrors(t *testing.T) {
	const spread = "got no spread, want that told first, as in spread: 36mm 52mm"
	const takes = "got a spread of 1mm, want more than the 3.251mm that the strings take" // half of .011, .014 to .038, half of .049
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Plan.Kerf = -1 }, "got a kerf of -1mm, want more than 0"},
		{func(r *bench.Record) { r.Plan.Edge = 0 }, "got no widths of the board, want that told first, as in widths: 43mm 56mm"},
		{func(r *bench.Record) { r.Strings, r.Tuning = nil, nil }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) { r.Plan.Scales = [2]units.Length{} }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.NutSpread = 0 }, spread},
		{func(r *bench.Record) { r.SaddleSpread = 0 }, spread},
		{func(r *bench.Record) { r.Strings, r.Plan.Gaps = nil, true }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) { r.NutSpread, r.Plan.Gaps = 1, true }, takes},
		{func(r *bench.Record) { r.SaddleSpread, r.Plan.Gaps = 1, true }, takes},
	} {
		r := fanned(t)
		row.change(r)
		_, _, err := r.FretBoard()
		wantError(t, err, row.want)
		if _, _, _, again := r.SlotRows(); fmt.Sprint(again) != fmt.Sprint(err) {
			t.Errorf("slots: got error %v, want %v", again, err)
		}
		if _, again := r.NeckView(); fmt.Sprint(again) != fmt.Sprint(err) {
			t.Errorf("neck: got error %v, want %v", again, err)
		}
	}
	r := fanned(t)
	r.Strings, r.Tuning, r.NutSpread, r.SaddleSpread, r.Plan.Scales, r.Scale = r.Strings[:1], nil, 0, 0, [2]units.Length{}, 600
	b, _, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "one string", []units.Length{0}, b.Plan().AtNut)
	r.Strings, r.Tuning, r.Plan.Gaps, r.NutSpread = nil, tones(t, "D4"), true, 35 // no gaps to be equal, and no spread of one
	if b, _, err = r.FretBoard(); err != nil || len(b.Plan().AtNut) != 1 || b.Plan().AtNut[0] != 0 {
		t.Fatalf("one string of a tuning: got %v, %v, want it on the centre line", b, err)
	}
	r.Plan.Setback = []units.Length{3}
	if b, _, err = r.FretBoard(); err != nil || b.Plan().Setback[0] != 3 {
		t.Errorf("one setback planned: got %v, %v, want 3mm", b.Plan().Setback, err)
	}
	r = three(t)
	r.Strings, r.Tuning, r.Saddles, r.Plan.Edge = r.Strings[:2], nil, nil, 3
	b, _, err = r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "two strings", [][]units.Length{{7, -7}, {10, -10}}, [][]units.Length{b.Plan().AtNut, b.Plan().AtScale})
	r.NutSpread = 0
	_, _, err = r.FretBoard()
	wantError(t, err, spread)
}

// A straight fret is sharp or flat on an inner string where the scales of the strings
// do not lie evenly: its row has the worst of them. The nut line has none.
func TestSlotCents(t *testing.T) {
	r := fanned(t)
	r.Plan.Gaps, r.Plan.Zero = true, true
	b, rows, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 23 || rows[0].Fret != 0 || rows[0].Cents != 0 {
		t.Fatalf("got %d slots, the first %+v, want 23, the first at the nut", len(rows), rows[0])
	}
	for _, row := range rows[1:] {
		// How far along its own line a string is when it meets the fret, of its scale.
		worst := 0.0
		for s := 1; s <= 6; s++ {
			on, nut := b.Crossing(s, row.Fret), b.Crossing(s, 0)
			whole := float64(b.Scale(s))
			rest := 1 - math.Hypot(float64(on.X-nut.X), float64(on.Y-nut.Y))/whole
			if off := -1200*math.Log2(rest) - 100*float64(row.Fret); math.Abs(off) > math.Abs(worst) {
				worst = off
			}
		}
		if math.Abs(float64(row.Cents)-worst) > 1e-6 || math.Abs(worst) < 1e-3 {
			t.Errorf("fret %d: got %v off, want %.6fc, and some", row.Fret, row.Cents, worst)
		}
		// Plus where the bass end stands further from the nut.
		diff(t, "angle", units.Angle(math.Atan2(float64(row.Line.Bass.X-row.Line.Treble.X), float64(row.Line.Treble.Y-row.Line.Bass.Y))*180/math.Pi), row.Angle)
	}
}

// A saw that goes straight through seats a tang at the lower end of its slot, and is
// deeper at the crown by what the board rises there.
func TestSlotCuts(t *testing.T) {
	r := six(t)
	r.Radius, r.Plan.Edge, r.Plan.Tang = []units.Length{300, 300}, 4, 1.5
	_, rows, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		half := float64(row.Line.Treble.Y)
		camber := 300 - math.Sqrt(300*300-half*half)
		diff(t, "cut", fret.Cut{Floor: mm(-camber - 1.5), Treble: 1.5, Bass: 1.5, Deepest: mm(camber + 1.5)}, row.Cut)
	}
}

// A neck's picture has a kerf and a drill line where they were told, each on a layer
// of its own, and says so at the left under all else but the check bars.
func TestNeckViewAdds(t *testing.T) {
	const kerf, drill = "solid, round the slots: kerfs of 0.6mm", "long and short dashes, dark: drill line, 12mm behind the saddles; saddles as planned"
	for _, row := range []struct {
		kerf, drill units.Length
		layers      []string
		says        string
	}{
		{0, 0, nil, ""},
		{0.6, 0, []string{"kerfs"}, kerf},
		{0, 12, []string{"drill line"}, drill},
		{0.6, 12, []string{"kerfs", "drill line"}, kerf + "; " + drill},
	} {
		r := six(t)
		r.Plan.Edge, r.Plan.Setback = 3.5, []units.Length{2, 2, 2, 3, 3, 3}
		r.Plan.Kerf, r.Plan.Drill = row.kerf, row.drill
		p := ok(r.NeckView())(t)
		var layers []string
		low, left := endless, endless
		var at *fret.Point
		for _, l := range p.Layers {
			switch l.Name {
			case "kerfs", "drill line":
				layers = append(layers, l.Name)
			case "words":
				if len(l.Words) != 1 || l.Words[0].Text != row.says {
					t.Errorf("%+v: got words %+v, want %q", row, l.Words, row.says)
				}
				at = &l.Words[0].At
				continue
			case "check bars", "title":
				continue
			}
			if l.Name == "drill line" && (l.Style != draw.Centre || l.Lines[0].Points[0].X-l.Lines[0].Points[1].X >= 0) {
				t.Errorf("got a drill line %+v, want it in long and short dashes, further back at the bass", l)
			}
			for _, line := range l.Lines {
				for _, on := range line.Points {
					low, left = min(low, on.Y), min(left, on.X)
				}
			}
			for _, w := range l.Words {
				if w.Angle != 0 {
					t.Fatalf("got %+v, want words that lie level", w)
				}
				size := w.Size
				if size == 0 {
					size = 3
				}
				low, left = min(low, w.At.Y-size/4), min(left, w.At.X) // tails hang a quarter under the line
			}
		}
		diff(t, "layers", row.layers, layers)
		if (at != nil) != (row.says != "") {
			t.Errorf("%+v: got words %v, want %q", row, at, row.says)
		}
		if at == nil {
			continue
		}
		if at.Y != mm(math.Floor(float64(low)))-4 || at.X > left || at.X < left-3 {
			t.Errorf("%+v: got words at %v, want them 4 mm under %v, and not behind %v", row, *at, low, left)
		}
	}
	r := six(t)
	r.Plan.Edge, r.Scale = 3.5, 20*units.Metre
	p, err := r.NeckView()
	wantError(t, err, fmt.Sprintf("got a page of %v by %v, want 0.001mm to 10000mm each way", p.Width, p.Height))
}

// Where a saddle was read and the others were not, it says so, and for how many does
// not count.
func TestSetbacksOfOneRead(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0), on(read(bench.Saddle, bench.How{From: bench.FromNut}, 642), 2))
	r.Plan.Edge = 3
	places, _, err := r.PlaceRows()
	if err != nil {
		t.Fatal(err)
	}
	b, says, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	one, three := places[0].Setback, places[2].Setback
	diff(t, "setbacks", []units.Length{one, one, 2, 2, three, three}, b.Plan().Setback)
	diff(t, "says", "saddles as they were read, the others where they should start, predicted", says)
}

// What a bow is taken to reach is said of a neck that is not divided as most.
func TestBowOfOtherDivisions(t *testing.T) {
	for _, row := range []struct {
		plan bench.NeckPlan
		want []string
	}{
		{bench.NeckPlan{}, nil},
		{bench.NeckPlan{Of: 1440}, []string{"a bow from the nut to fret 12, straight beyond"}}, // steps of 120 cents: 1,440 or 1,320, and 1,400 is wanted
		{bench.NeckPlan{By: 24}, []string{"a bow from the nut to fret 22, straight beyond"}},   // the last of 22, short of the 28th
		{bench.NeckPlan{Degrees: []units.Cents{140}}, []string{"a bow from the nut to fret 10, straight beyond"}},
		{bench.NeckPlan{Degrees: []units.Cents{140, 280}}, []string{"a bow from the nut to fret 10, straight beyond"}},
		{bench.NeckPlan{Keep: []int{1, 2, 4, 5, 7, 9, 10, 12, 14, 16, 17, 19, 21, 22, 24, 26, 28, 29, 31, 33, 34, 36}}, []string{"a bow from the nut to fret 9, straight beyond"}},
	} {
		r := flat(t)
		r.Plan, r.NutHeights = row.plan, []units.Length{0.5}
		r.Entries = []bench.Entry{read(bench.Relief, bench.How{Held: [2]int{0, 9}, At: 4, Edge: true}, 0), read(bench.Action, bench.How{At: 8}, 2, 2, 2, 2, 2, 2)}
		diff(t, fmt.Sprintf("%+v", row.plan), row.want, texts(ok(r.Side())(t).Assumed))
	}
}

// Strings of two scales that no board can be laid out of have no moves.
func TestMovesOfNoBoard(t *testing.T) {
	r := fanned(t, heard(at12, 7, 0, 0, 0, 0, 7))
	r.NutSpread = 0
	_, err := r.MoveRows()
	wantError(t, err, "saddle 1: got no spread, want that told first, as in spread: 36mm 52mm")
}
