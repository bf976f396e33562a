package bench_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// fanned is an instrument of two scales, 600 mm and 640 mm.
func fanned(t testing.TB, entries ...bench.Entry) *bench.Record {
	r := six(t, entries...)
	r.Scale, r.Saddles = 0, nil
	r.Plan.Scales, r.Plan.Edge = [2]units.Length{600, 640}, 3
	return r
}

// Steps of any interval, lists of degrees, and frets left out.
func TestDivisions(t *testing.T) {
	r := &bench.Record{Frets: 13}
	cents := func() (out []units.Cents) {
		d := r.Division()
		for n := 1; n <= d.Frets(); n++ {
			out = append(out, d.Cents(n))
		}
		return out
	}
	r.Plan.Of, r.Plan.By = units.Cents(1200*math.Log2(3)), 13
	diff(t, "the twelfth by 13", units.Cents(1200*math.Log2(3)), cents()[12])
	r.Plan = bench.NeckPlan{Degrees: []units.Cents{204, 386, 1200}}
	r.Frets = 4
	diff(t, "degrees", []units.Cents{204, 386, 1200, 1404}, cents())
	r.Plan = bench.NeckPlan{Keep: []int{2, 4, 5, 7}}
	diff(t, "kept", []units.Cents{200, 400, 500, 700}, cents())
	rows := ok(with(r, func(r *bench.Record) { r.Scale = 600 }).FretRows())(t)
	diff(t, "the octave of the fifth's fret", units.Length(600*(1-math.Exp2(-7.0/12))), rows[3].FromNut)
	r.Frets = 5
	wantError(t, r.Check(), "got 5 frets, and 4 steps that have one, want as many")
}

// What a plan may not be.
func TestCheckPlan(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Scale = 640 }, "got a scale of 640mm, and scales of 600mm and 640mm, want one or two"},
		{func(r *bench.Record) { r.Plan.Scales[1] = -1 }, "got a scale of the bass string of -1mm, want more than 0"},
		{func(r *bench.Record) { r.Plan.Square = math.NaN() }, "got a square fret of NaN, want -1000 to 1000"},
		{func(r *bench.Record) { r.Plan.Nut = []units.Length{1} }, "got 1 compensations of the nut, want one for each of 6 strings"},
		{func(r *bench.Record) { r.Plan.Nut = make([]units.Length, 6); r.Plan.Nut[2] = units.Length(math.Inf(1)) }, "got compensations of the nut of +Infmm for string 3, want lengths"},
		{func(r *bench.Record) { r.Plan.Setback = []units.Length{1, 2} }, "got 2 setbacks, want one for each of 6 strings"},
		{func(r *bench.Record) { r.Plan.Kerf = -0.6 }, "got a kerf of -0.6mm, want more than 0"},
		{func(r *bench.Record) { r.Plan.Drill = unread }, "got a drill line NaNmm behind the saddles, want a length"},
		{func(r *bench.Record) { r.Plan.Temper.Degrees = []units.Cents{-1} }, "degrees: got fret 1 at -1c, want it above 0c"},
	} {
		r := fanned(t)
		row.change(r)
		wantError(t, r.Check(), row.want)
	}
	if err := fanned(t).Check(); err != nil {
		t.Error(err)
	}
}

// Each string pulls and moves by its own scale, which run in even steps between
// the outer two where strings are parted alike at both ends.
func TestTwoScales(t *testing.T) {
	r := fanned(t, heard(at12, 7, 0, 0, 0, 0, 7))
	alone := six(t, heard(at12, 7, 0, 0, 0, 0, 7))
	alone.Saddles = nil
	for s, scale := range map[int]units.Length{1: 600, 6: 640} {
		alone.Scale = scale
		got, want := ok(r.PullRows())(t)[s-1], ok(alone.PullRows())(t)[s-1]
		diff(t, "pull", want.Pull, got.Pull)
		diff(t, "move", ok(alone.MoveRows())(t)[s-1].Move, ok(r.MoveRows())(t)[s-1].Move)
	}
	third := ok(r.PullRows())(t)[2]
	b, _, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	alone.Scale = b.Scale(3)
	diff(t, "string 3", ok(alone.PullRows())(t)[2].Pull, third.Pull)
	if s := b.Scale(3); !(s > 610 && s < 620) {
		t.Errorf("got string 3 of %v between 600 and 640mm", s)
	}
	ok(r.CompareRows())(t)

	const two = "got two scales, want one for this"
	_, err = r.FretRows()
	wantError(t, err, two)
	_, err = with(r, func(r *bench.Record) { r.Entries = append(r.Entries, read(bench.Action, at12, 2, 2, 2, 2, 2, 2)) }).Side()
	wantError(t, err, two)
	r.Saddles = [][]int{{1, 2}, {3}, {4}, {5}, {6}}
	_, err = r.MoveRows()
	wantError(t, err, "saddle 1+2: got strings 1 2 of two scales on one saddle, want a saddle a string there")
	r.Plan.Scales = [2]units.Length{}
	_, err = r.MoveRows()
	wantError(t, err, "got no scale, want that told first, as in scale: 648mm")
}

// A plan reaches the board whole.
func TestFretBoard(t *testing.T) {
	r := fanned(t)
	r.Plan.Square, r.Plan.Zero, r.Plan.Beyond, r.Plan.Nut = 7, true, 9, []units.Length{0.4, unread, 0, 0, 0, 0.5}
	b, says, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	p := b.Plan()
	diff(t, "plan", []any{units.Length(600), units.Length(640), 7.0, units.Length(3), units.Length(9), true, units.Length(254), units.Length(355.6)},
		[]any{p.Treble, p.Bass, p.Straight, p.Margin, p.Beyond, p.ZeroFret, p.Surface.Nut, p.Surface.End})
	diff(t, "nut", []units.Length{0.4, 0, 0, 0, 0, 0.5}, p.NutCompensation)
	diff(t, "across", []units.Length{17.5, 10.5, 3.5, -3.5, -10.5, -17.5}, p.AtNut)
	diff(t, "says", "saddles at the scale line where they were not read: got two scales, want one for this", says)

	// Equal gaps: (35 - what lies inside of .011, .014, .018, .028, .038, .049)/5, from
	// centre to centre half a gauge more on each side.
	r.Plan.Gaps = true
	b, _, err = r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	g := []float64{.011, .014, .018, .028, .038, .049}
	gap := (35 - 25.4*(g[0]/2+g[1]+g[2]+g[3]+g[4]+g[5]/2)) / 5
	at := b.Plan().AtNut
	for i := 1; i < 6; i++ {
		diff(t, "gap", units.Length(gap+25.4*(g[i-1]+g[i])/2), at[i-1]-at[i])
	}

	r.Plan.Edge = 0
	_, _, err = r.FretBoard()
	wantError(t, err, "got no widths of the board, want that told first, as in widths: 43mm 56mm")
	r.Plan.Widths = [2]units.Length{42, 60}
	b, _, err = r.FretBoard()
	if err != nil || b.Plan().NutWidth != 42 || b.Plan().EndWidth != 60 {
		t.Errorf("widths: got %+v, %v", b.Plan(), err)
	}
}

// A fretless neck has lines where frets would be; blind slots stop short.
func TestLinesAndBlindSlots(t *testing.T) {
	r := six(t)
	r.Plan.Edge, r.Plan.Blind = 6, 2
	_, blind, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	r.Plan.Blind = 0
	_, whole, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "blind", []units.Length{2, -2}, []units.Length{whole[11].Treble.Y - blind[11].Treble.Y, whole[11].Bass.Y - blind[11].Bass.Y})
	r.Plan.Lines = true
	b, lines, _, err := r.SlotRows()
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) != 22 || len(b.Slots()) != 0 {
		t.Errorf("got %d lines and %d slots, want 22 and none", len(lines), len(b.Slots()))
	}
	diff(t, "where the frets would be", whole[11].Line, lines[11].Line)
	ok(r.NeckView())(t)
}

// Saddles are drawn where they were read, else where they should start.
func TestSetbacks(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0))
	r.Plan.Edge = 3
	b, says, err := r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	places, _, err := r.PlaceRows()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "start", []units.Length{places[0].Setback, places[0].Setback, places[2].Setback}, []units.Length{b.Plan().Setback[0], b.Plan().Setback[1], b.Plan().Setback[5]})
	diff(t, "says", "saddles where they should start, predicted", says)
	r.Entries = append(r.Entries, read(bench.Saddle, bench.How{From: bench.FromNut}, 641, 642, 643))
	r.Staggers = []units.Length{0, 0.5, 0, 0, 0, 0}
	b, says, err = r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "read", []units.Length{1, 1.5, 2, 2, 3, 3}, b.Plan().Setback)
	diff(t, "says", "saddles as they were read", says)
	r.Entries = append(r.Entries, bench.Entry{Mood: bench.Was, Of: bench.Saddle, How: bench.How{From: bench.FromNut}, On: []int{2}, Lengths: []units.Length{700}})
	r.Entries[len(r.Entries)-2].Lengths[1] = unread // the middle saddle
	b, says, err = r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "read in part", []units.Length{1, 1.5, places[1].Setback, places[1].Setback, 3, 3}, b.Plan().Setback)
	diff(t, "says", "saddles as they were read, the others where they should start, predicted", says)
	r.Plan.Setback = []units.Length{1, 2, 3, unread, 5, 6}
	b, says, err = r.FretBoard()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "planned", []units.Length{1, 2, 3, 0, 5, 6}, b.Plan().Setback)
	diff(t, "says", "saddles as planned", says)
}

// Quarter comma meantone from D on strings of E and D: the open E is its degree 2.
func TestTempered(t *testing.T) {
	r := &bench.Record{Frets: 12, Tuning: tones(t, "E4", "D4"), Scale: 600}
	if _, _, err := r.Tempered(); err == nil || err.Error() != "got no temper, want that told first, as in temper: meantone from D" {
		t.Errorf("got error %v", err)
	}
	degrees, err := fret.Meantone(0.25, 3)
	if err != nil {
		t.Fatal(err)
	}
	r.Plan.Temper = bench.Temper{Name: "meantone from D", Degrees: degrees, Root: 62}
	asked, cost, err := r.Tempered()
	if err != nil {
		t.Fatal(err)
	}
	// D to its fifth, and E to its own: both a fifth narrowed by a quarter of
	// 21.506 cents.
	fifth := units.Cents(1200*math.Log2(1.5) - 1200*math.Log2(81.0/80)/4)
	diff(t, "fifths", []units.Cents{fifth, fifth, 700 - fifth}, []units.Cents{asked[0].Cents(7), asked[1].Cents(7), cost[0][7]})
	// E to F natural is the scale's large semitone, D to D sharp, or Eb, the small or large one by the chain.
	diff(t, "E to F", degrees[2]-degrees[1], asked[0].Cents(1))
	r.Plan.Keep, r.Frets = []int{7, 12}, 2
	asked, cost, err = r.Tempered()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "kept", []units.Cents{fifth, 1200, 700 - fifth}, []units.Cents{asked[0].Cents(1), asked[0].Cents(2), cost[0][1]})
	r.Tuning[1] = bench.Tone{Hertz: 293}
	_, _, err = r.Tempered()
	wantError(t, err, "got string 2 tuned to 293Hz, want a note to count degrees from")
}

// Every slot has its row, its depth once a tang is told; the drawing has what is
// cut, and the line to drill on.
func TestSlotRows(t *testing.T) {
	r := fanned(t)
	b, rows, _, err := r.SlotRows()
	if err != nil || len(rows) != 22 {
		t.Fatalf("got %d slots, %v, want 22", len(rows), err)
	}
	for i, row := range rows {
		diff(t, "slot", b.Slots()[i], row.Slot)
		if !math.IsNaN(float64(row.Cut.Deepest)) {
			t.Errorf("slot %d: got %v deep, want nothing without a tang", i, row.Cut.Deepest)
		}
	}
	r.Plan.Tang, r.Plan.Kerf, r.Plan.Drill = 1.8, 0.6, 12
	_, rows, _, err = r.SlotRows()
	if err != nil || !(rows[3].Cut.Deepest > 1.8) {
		t.Errorf("got %+v, %v", rows[3].Cut, err)
	}
	page := ok(r.NeckView())(t)
	count := map[string]int{}
	for _, l := range page.Layers {
		count[l.Name] = len(l.Lines)
	}
	if count["kerfs"] != 22 || count["drill line"] != 1 {
		t.Errorf("got layers %v", count)
	}
	line := func(name string) draw.Line {
		for _, l := range page.Layers {
			if l.Name == name {
				return l.Lines[0]
			}
		}
		t.Fatalf("no layer %q", name)
		return draw.Line{}
	}
	drill := line("drill line").Points
	saddles := b.SaddleLine(12)
	diff(t, "drill", []fret.Point{saddles.Treble, saddles.Bass}, drill)
}

// Equal gaps move the inner strings at the bridge too.
func TestGapsAtTheBridge(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0))
	r.Plan.Gaps = true
	b := ok(r.Board())(t)
	places, err := fret.EqualGaps(50, 0.011*25.4, 0.014*25.4, 0.018*25.4, 0.028*25.4, 0.038*25.4, 0.049*25.4)
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "board", places, b.AtSaddle)
	r.Entries = append(r.Entries, read(bench.Action, at12, 2, 2, 2, 2, 2, 2))
	r.Saddles, r.HeightScrew, r.ScrewGap = [][]int{{1, 2, 3, 4, 5, 6}}, 1, 50
	rows := ok(r.HeightRows())(t)
	// Even steps of 0.2 mm at the saddle, on strings that do not stand evenly: no
	// straight line has them all.
	if rows[2].Left == 0 || math.Abs(float64(rows[2].Left)) > 0.1 {
		t.Errorf("got %v left on string 3, want a little", rows[2].Left)
	}
}
