package bench_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

var (
	gapOn3 = bench.How{Held: [2]int{3}, At: 1, Alone: true}
	edge   = bench.How{Held: [2]int{0, 14}, At: 7, Edge: true}
)

// flat is an instrument whose sums can be worked by hand: a flat board, a
// straight neck, every string 2 mm over the 12th fret.
func flat(t testing.TB, entries ...bench.Entry) *bench.Record {
	r := six(t, append([]bench.Entry{read(bench.Relief, edge, 0), read(bench.Action, at12, 2, 2, 2, 2, 2, 2)}, entries...)...)
	r.Radius = []units.Length{fret.Flat, fret.Flat}
	return r
}

// texts are what a list says.
func texts(list []bench.Text) (out []string) {
	for _, t := range list {
		out = append(out, t.String())
	}
	return out
}

// share is that of a fret, from the nut.
func share(n int) float64 { return 1 - math.Exp2(-float64(n)/12) }

// The slot comes from what was told, else from the newest first gap that stands,
// by the way it was read; a gap read otherwise says nothing.
func TestSlots(t *testing.T) {
	const slot = 0.5
	held, on3 := slot*(1-share(1)/share(2)), slot*(1-share(1)/share(3))
	open := slot*(1-share(1)) + (2/0.5-slot)*share(1) // 2 mm half way is 4 mm less the slot at the saddle
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		change  func(*bench.Record)
		want    float64
		told    bool
	}{
		{"held between 2 and 3", []bench.Entry{on(read(bench.Gap, gapHeld, units.Length(held)), 1)}, nil, slot, true},
		{"on crown 3 alone", []bench.Entry{on(read(bench.Gap, gapOn3, units.Length(on3)), 1)}, nil, slot, true},
		{"open", []bench.Entry{on(read(bench.Gap, gapOpen, units.Length(open)), 1)}, nil, slot, true},
		{"the newest", []bench.Entry{on(read(bench.Gap, gapHeld, 0.4), 1), on(read(bench.Gap, gapOn3, units.Length(on3)), 1)}, nil, slot, true},
		{"the newest that says something", []bench.Entry{on(read(bench.Gap, gapHeld, units.Length(held)), 1), on(read(bench.Gap, bench.How{Held: [2]int{5}, At: 1}, 0.4), 1)}, nil, slot, true},
		{"void", []bench.Entry{on(read(bench.Gap, gapHeld, 0.4), 1), did(bench.Slot, 1), want(bench.Action, at12, 2)}, nil, float64(bench.AssumedNutHeight), false},
		{"held at 2", []bench.Entry{on(read(bench.Gap, bench.How{Held: [2]int{2}, At: 1}, 0.4), 1)}, nil, float64(bench.AssumedNutHeight), false},
		{"on crown 2 alone", []bench.Entry{on(read(bench.Gap, bench.How{Held: [2]int{2}, At: 1, Alone: true}, 0.4), 1)}, nil, float64(bench.AssumedNutHeight), false},
		{"not read", nil, nil, float64(bench.AssumedNutHeight), false},
		{"told", nil, func(r *bench.Record) { r.NutHeights = []units.Length{slot} }, slot, true},
		{"told, and read", []bench.Entry{on(read(bench.Gap, gapHeld, units.Length(held)), 1)}, func(r *bench.Record) { r.NutHeights = []units.Length{0.9} }, slot, true},
		{"told, and what was read is void", []bench.Entry{on(read(bench.Gap, gapHeld, 0.4), 1), did(bench.Slot, 1), want(bench.Action, at12, 2)}, func(r *bench.Record) { r.NutHeights = []units.Length{slot} }, slot, true},
	} {
		r := flat(t, row.entries...)
		if row.change != nil {
			row.change(r)
		}
		v := ok(r.Side())(t)
		got := v.Neck.Slot(1, v.Lines[0])
		if math.Abs(float64(got)-row.want) > 1e-9 || v.Told[0] != row.told {
			t.Errorf("%s: got a slot of %v, told %v, want %v, %v", row.what, got, v.Told[0], row.want, row.told)
		}
		if h := v.Neck.Height(1, v.Lines[0], 12); math.Abs(float64(h)-2) > 1e-9 {
			t.Errorf("%s: got the string %v over the 12th, want 2mm as read", row.what, h)
		}
	}
}

// An open gap tells the slot beside a height at another fret; beside one wanted at
// the first fret it is the same height twice, and tells nothing. It takes no third
// fret.
func TestSlotFromOpenGap(t *testing.T) {
	for _, row := range []struct {
		frets, at int
		told      bool
	}{{22, 1, false}, {22, 2, true}, {2, 2, true}, {1, 1, false}} {
		r := six(t, want(bench.Action, bench.How{At: row.at}, 0.8), read(bench.Gap, gapOpen, 0.6, 0.6, 0.6, 0.6, 0.6, 0.6), want(bench.Gap, gapOpen, 0.3))
		r.Radius, r.Frets = []units.Length{fret.Flat, fret.Flat}, row.frets
		v := ok(r.Side())(t)
		slot := float64(bench.AssumedNutHeight)
		if row.told { // on from 0.8 by 0.6
			slot = 0.8 - 0.2*share(row.at)/(share(row.at)-share(1))
		}
		got := v.Neck.Slot(2, v.Lines[1])
		diff(t, fmt.Sprint(row), []any{mm(slot), mm(0.8), row.told}, []any{got, v.Neck.Height(2, v.Lines[1], row.at), v.Told[1]})
		rows, _, err := r.NutRows()
		if err != nil {
			t.Fatal(err)
		}
		wanted := (0.3 - float64(v.Lines[1].Saddle)*share(1)) / (1 - share(1)) // the saddle as it is
		if row.told {                                                          // or for 0.8 at the fret
			wanted = 0.8 - 0.5*share(row.at)/(share(row.at)-share(1))
		}
		diff(t, fmt.Sprint(row), mm(wanted), rows[1].Wanted)
	}
}

// An open gap is wanted of a string that stands as high as wanted; where nothing is
// wanted of its height, or what is cannot be worked out, its saddle stays.
func TestOpenGapWanted(t *testing.T) {
	nut := func(saddle float64) units.Length { return mm((0.6 - saddle*share(1)) / (1 - share(1))) }
	stays := nut(4 - 0.5)                               // 2 mm half way, and half a millimetre at the nut
	low := mm(1.5 - (1.5-0.6)/(share(12)-share(1))*0.5) // the line over 0.6 and 1.5 mm
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		want    [2]units.Length // of strings 1 and 2
	}{
		{"nothing", nil, [2]units.Length{stays, stays}},
		{"of both", []bench.Entry{want(bench.Action, at12, 1.5)}, [2]units.Length{low, low}},
		{"of the second", []bench.Entry{on(want(bench.Action, at12, 1.5), 2)}, [2]units.Length{stays, low}},
		{"at the first fret", []bench.Entry{want(bench.Action, bench.How{At: 1}, 1.5)}, [2]units.Length{stays, stays}},
		{"on a curve that cannot be", []bench.Entry{want(bench.Action, at12, 1.5), want(bench.Curve, bench.How{}, 20)}, [2]units.Length{stays, stays}},
	} {
		rows, _, err := flat(t, append(row.entries, want(bench.Gap, gapOpen, 0.6))...).NutRows()
		if err != nil {
			t.Fatal(err)
		}
		diff(t, row.what, row.want, [2]units.Length{rows[0].Wanted, rows[1].Wanted})
	}
	// A gap wanted in a way that shows no slot wants none.
	rows, _, err := flat(t, want(bench.Gap, gapOpen, 0.6), on(want(bench.Gap, bench.How{Held: [2]int{5}, At: 1}, 0.2), 1)).NutRows()
	if err != nil || !math.IsNaN(float64(rows[0].Wanted)) || !math.IsNaN(float64(rows[0].Cut.Off)) {
		t.Errorf("held at 5: got %+v, %v, want no slot", rows[0], err)
	}
	diff(t, "the second", stays, rows[1].Wanted)
}

// What the side view takes for granted, in words.
func TestSideAssumes(t *testing.T) {
	const (
		straight = "a straight neck: no relief read that shows its bow"
		slots    = "strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"
	)
	bow := read(bench.Relief, relief1to14, 0.2)
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		change  func(*bench.Record)
		want    []string
	}{
		{"nothing", []bench.Entry{bow}, func(r *bench.Record) { r.NutHeights = []units.Length{0.6} }, nil},
		{"relief not read", nil, nil, []string{straight, slots}},
		{"relief void", []bench.Entry{bow, did(bench.Rod), read(bench.Action, at12, 2, 2, 2, 2, 2, 2)}, nil, []string{straight, slots}},
		{"a way that shows nothing", []bench.Entry{read(bench.Relief, bench.How{Held: [2]int{15, 22}, At: 18}, 0.2)}, nil, []string{straight, slots}},
		{"one fret held", []bench.Entry{read(bench.Relief, bench.How{Held: [2]int{1}, At: 7}, 0.2)}, nil, []string{straight, slots}},
		{"no neck bends so far", []bench.Entry{read(bench.Relief, relief1to14, 5)}, nil, []string{straight, slots}},
		{"an older way shows it", []bench.Entry{bow, read(bench.Relief, bench.How{Held: [2]int{1}, At: 7}, 0.2)}, nil, []string{slots}},
		// 22 steps of 1200/19 cents come nearest to 14 semitones.
		{"other frets", []bench.Entry{bow}, func(r *bench.Record) { r.Plan.Of, r.Plan.By, r.Frets = 1200, 19, 30 }, []string{"a bow from the nut to fret 22, straight beyond", slots}},
		{"other frets, straight", nil, func(r *bench.Record) { r.Plan.Of, r.Plan.By, r.Frets = 1200, 19, 30 }, []string{straight, slots}},
		{"slots of some strings", []bench.Entry{bow}, func(r *bench.Record) { r.NutHeights = []units.Length{0.6, unread, 0.6, 0.6, 0.6, 0.6} }, []string{slots}},
		{"no radius", []bench.Entry{bow}, func(r *bench.Record) { r.Radius = nil }, []string{"a flat board: no radius told", slots}},
		{"no spread", []bench.Entry{bow}, func(r *bench.Record) { r.NutSpread = 0 }, []string{"a flat board: no spread told", slots}},
		{"some heights", []bench.Entry{bow, did(bench.Height, 2, 5), want(bench.Action, at12, 1.8)}, nil, []string{"strings 2 5 as high as wanted: no reading stands", slots}},
		{"one height", []bench.Entry{bow, did(bench.Height, 3), want(bench.Action, at12, 1.8)}, nil, []string{"string 3 as high as wanted: no reading stands", slots}},
	} {
		r := six(t, append([]bench.Entry{read(bench.Action, at12, 2, 2, 2, 2, 2, 2)}, row.entries...)...)
		if row.change != nil {
			row.change(r)
		}
		diff(t, row.what, row.want, texts(ok(r.Side())(t).Assumed))
	}
}

// A board of which too little was told is flat: the strings' heights are over
// straight frets, whatever else was told.
func TestFlatUntilTold(t *testing.T) {
	r := six(t, read(bench.Action, at12, 2, 2, 2, 2, 2, 2))
	r.Radius, r.NutHeights = nil, []units.Length{0.6}
	v := ok(r.Side())(t)
	for s := 1; s <= 6; s++ {
		diff(t, fmt.Sprint("string ", s), []any{action.Line{Nut: 0.6, Saddle: 0.6 + 2*(2-0.6)}, units.Length(0)}, []any{v.Lines[s-1], v.Neck.Crown(s, 22)})
	}
}

// Slots are told one for all, or each its own.
func TestSlotsTold(t *testing.T) {
	r := flat(t)
	for _, told := range [][]units.Length{{0.3, 0.4, 0.5, 0.6, 0.7, 0.8}, {0.6}} {
		r.NutHeights = told
		v := ok(r.Side())(t)
		for i, l := range v.Lines {
			diff(t, fmt.Sprint("string ", i+1), told[i%len(told)], v.Neck.Slot(i+1, l))
		}
	}
}

func TestSideErrors(t *testing.T) {
	high := read(bench.Action, at12, 2, 2, 2, 2, 2, 2)
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { *r = bench.Record{Scale: 640, Frets: 22} }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) { r.Scale = 0 }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Scale, r.Plan.Scales = 0, [2]units.Length{620, 640} }, "got two scales, want one for this"},
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.Tuner = -1 }, "got a tuner's error of -1c, want more than 0"},
		{func(r *bench.Record) { r.Entries = r.Entries[:0] }, "got no height of string 1, want that told first, as in read action 12 s1: 1.9mm"},
		{func(r *bench.Record) { r.Entries = []bench.Entry{on(high, 2, 3, 4, 5, 6, 1), did(bench.Height, 4)} }, "got no height of string 4, want that told first, as in read action 12 s4: 1.9mm"},
		// A height at the first fret says little of the saddle.
		{func(r *bench.Record) { r.Entries[0].How.At = 1 }, "got no height of string 1, want that told first, as in read action 12 s1: 1.9mm"},
	} {
		r := with(six(t, high), row.change)
		v, err := r.Side()
		wantError(t, err, row.want)
		rows, assumed, err := r.NutRows()
		wantError(t, err, row.want)
		buzz, _, err := r.BuzzRows()
		wantError(t, err, row.want)
		clear, _, err := r.ClearRows()
		wantError(t, err, row.want)
		if v != nil || rows != nil || assumed != nil || buzz != nil || clear != nil {
			t.Errorf("%s: got %v, %v, %v, %v and %v beside the error", row.want, v, rows, assumed, buzz, clear)
		}
	}
	// 21 and 22 are 640 (2^(-21/12) - 2^(-22/12)) = 10.68 mm apart.
	r := with(six(t, high), func(r *bench.Record) { r.FallFrom, r.FallBy = 21, 3 })
	_, err := r.Side()
	wantPrefix(t, err, "got crowns that fall away by 3mm, want 0 to 1.0679")
}

// The octave is the 12th of twelve to it, and on other necks the last fret up to
// it, by half a cent.
func TestOctave(t *testing.T) {
	for _, row := range []struct {
		frets int
		plan  bench.NeckPlan
		want  int
	}{
		{22, bench.NeckPlan{}, 12},
		{12, bench.NeckPlan{}, 12},
		{11, bench.NeckPlan{}, 11},
		{0, bench.NeckPlan{}, 12},
		{30, bench.NeckPlan{Of: 1200, By: 19}, 19},
		{20, bench.NeckPlan{Of: 1200.4, By: 12}, 12},
		{20, bench.NeckPlan{Of: 1200.6, By: 12}, 11},
		{20, bench.NeckPlan{Of: 1902, By: 13}, 8},
		{2, bench.NeckPlan{Of: 2400, By: 1}, 1},
		{8, bench.NeckPlan{Keep: []int{2, 4, 5, 7, 9, 11, 12, 14}}, 7},
	} {
		if got := (&bench.Record{Frets: row.frets, Plan: row.plan}).Octave(); got != row.want {
			t.Errorf("%d frets, %+v: got the octave at fret %d, want %d", row.frets, row.plan, got, row.want)
		}
	}
}

// Where heights are not read they are as wanted; where neither is, it says so.
func TestSideNeedsHeights(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.6, 2.0), on(read(bench.Action, at12, 3), 2))
	v := ok(r.Side())(t)
	for s, wanted := range []units.Length{1.6, 3, 1.76, 1.84, 1.92, 2.0} {
		if got := v.Neck.Height(s+1, v.Lines[s], 12); math.Abs(float64(got-wanted)) > 1e-9 {
			t.Errorf("string %d: got %v over the 12th, want %v", s+1, got, wanted)
		}
	}
	_, err := six(t).Side()
	wantError(t, err, "got no height of string 1, want that told first, as in read action 12 s1: 1.9mm")
	_, err = new(bench.Record).Side()
	wantError(t, err, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w")
	bare := six(t, read(bench.Action, at12, 2, 2, 2, 2, 2, 2))
	bare.Radius = nil
	diff(t, "no radius", "a flat board: no radius told", ok(bare.Side())(t).Assumed[0].String())
}

// Relief converts between ways as bench_rules.md, row 22, has them (22 frets; a
// parabola from nut to 14th, straight beyond): 0.64, 0.72, 0.81, 0.80, 1.26.
func TestReliefAs(t *testing.T) {
	way := func(a, b, at int) bench.How { return bench.How{Held: [2]int{a, b}, At: at} }
	r := six(t, read(bench.Relief, way(1, 12, 6), 0.32))
	for _, row := range []struct {
		how  bench.How
		want float64
	}{{way(1, 13, 6), 0.72}, {way(1, 14, 6), 0.81}, {way(1, 14, 7), 0.80}, {way(1, 22, 8), 1.26}} {
		got, shows := r.ReliefAs(row.how)
		if !shows || math.Abs(float64(got)-row.want*0.5) > 0.005 { // both ways are printed to two digits
			t.Errorf("%v: got %v, %v, want %.2f of 0.5mm", row.how, got, shows, row.want)
		}
	}
	for _, how := range []bench.How{{Held: [2]int{3}, At: 1}, way(1, 24, 8), {At: 7}} {
		if got, shows := r.ReliefAs(how); shows || got != 0 {
			t.Errorf("%v: got %v, %v, want no such reading", how, got, shows)
		}
	}
	r.Entries = append(r.Entries, did(bench.Rod))
	if got, shows := r.ReliefAs(way(1, 14, 7)); shows {
		t.Errorf("after the rod: got %v, want nothing", got)
	}
}

// A slot is cut to what is wanted and the margin over it; the leaves that stop
// the file stand on the board, crowns' height under the plane.
func TestNutRows(t *testing.T) {
	held := 1 - share(1)/share(2)
	r := flat(t, read(bench.Gap, gapHeld, units.Length(0.5*held), units.Length(0.35*held), unread, unread, unread, unread), want(bench.Gap, gapHeld, units.Length(0.2*held)))
	r.CrownHeight, r.Leaves = 1.1, []units.Length{1, 0.3, 0.1}
	rows, assumed, err := r.NutRows()
	if err != nil {
		t.Fatal(err)
	}
	margin := units.Length(float64(bench.NutMargin) / held) // of the slot, where the gap is 0.05 mm over
	stack := r.Leaves
	for i, row := range []bench.NutRow{
		{String: 1, How: gapHeld, Gap: units.Length(0.5 * held), Slot: 0.5, Wanted: 0.2, Cut: action.Cut{Off: 0.3 - margin, Stop: 1.3 + margin}},
		{String: 2, How: gapHeld, Gap: units.Length(0.35 * held), Slot: 0.35, Wanted: 0.2, Cut: action.Cut{Off: 0.15 - margin, Stop: 1.3 + margin}},
		{String: 3, Gap: unread, Slot: unread, Wanted: 0.2, Cut: action.Cut{Off: unread, Stop: 1.3 + margin}},
	} {
		row.Stack.Leaves, row.Stack.Miss = stack, 1.4-(1.3+margin)
		diff(t, "slot", row, rows[i])
	}
	diff(t, "assumed", []string{"strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"}, texts(assumed))
	r.CrownHeight = 0
	rows, _, err = r.NutRows()
	if err != nil || !math.IsNaN(float64(rows[0].Cut.Stop)) || rows[0].Stack.Leaves != nil {
		t.Errorf("crowns not told: got %+v, %v, want no stop", rows[0], err)
	}
	// A slot that is low already is not to be cut.
	r = flat(t, read(bench.Gap, gapHeld, 0.05, 0.05, 0.05, 0.05, 0.05, 0.05), want(bench.Gap, gapHeld, 0.15))
	rows, _, err = r.NutRows()
	if err != nil || rows[0].Cut.Off != 0 {
		t.Errorf("a low slot: got %v to take off, %v, want none", rows[0].Cut.Off, err)
	}
}

// A bridge on two posts: all strings on one straight line.
func TestPosts(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 1.9))
	r.PostGap, r.HeightScrew = 74, 0.5
	rows := ok(r.HeightRows())(t)
	// At the saddle -1.0 to -0.2 over 50 mm: 0.016 a mm to the bass, -0.6 in the middle.
	for _, h := range rows {
		diff(t, "posts", []any{units.Turns((-0.6 - 0.016*37) / 0.5), units.Turns((-0.6 + 0.016*37) / 0.5), units.Length(0), true, units.Angle(-math.Atan(0.016) * 180 / math.Pi)},
			[]any{h.Treble, h.Bass, h.Left, h.TwoScrew, h.Tilt})
	}
	diff(t, "saddles", []int{1, 1, 2, 2, 3, 3}, []int{rows[0].Saddle, rows[1].Saddle, rows[2].Saddle, rows[3].Saddle, rows[4].Saddle, rows[5].Saddle})
}

// A one-piece saddle is sanded, never below what it must keep at either end.
func TestSanding(t *testing.T) {
	r := flat(t, want(bench.Action, at12, 1.5, 1.9))
	if _, is, err := r.Sanding(ok(r.HeightRows())(t)); is || err != nil {
		t.Errorf("not told to be one piece: got %v, %v", is, err)
	}
	for _, row := range []struct {
		stands             [2]units.Length
		least              units.Length
		treble, bass, left units.Length
	}{
		{[2]units.Length{3, 3}, 2, 1, 0.2, 0},
		{[2]units.Length{3, 3}, 2.5, 0.5, 0.2, 0.5},
		{[2]units.Length{2.7, 3}, 2.5, 0.2, 0.2, 0.8},
		{[2]units.Length{3, 2.1}, 2, 1, 0.1, 0},
		{[2]units.Length{1, 3}, 2, 0, 0.2, 1}, // it stands too low already
		{[2]units.Length{3, 1}, 2, 1, 0, 0},
		{[2]units.Length{0, 3}, 0, 0, 0.2, 1},
	} {
		r.Stands, r.LeastStands = row.stands, row.least
		s, is, err := r.Sanding(ok(r.HeightRows())(t))
		if !is || err != nil {
			t.Fatal(row, is, err)
		}
		diff(t, fmt.Sprint(row), []units.Length{row.treble, row.bass, row.left}, []units.Length{s.Treble, s.Bass, s.Left[0]})
	}
	r.Stands = [2]units.Length{3, 3}
	rows := ok(r.HeightRows())(t)
	for _, few := range [][]bench.HeightRow{nil, rows[:1]} {
		if _, is, err := r.Sanding(few); is || err != nil {
			t.Errorf("%d strings: got %v, %v, want no saddle to sand", len(few), is, err)
		}
	}
	if _, is, err := r.Sanding(rows[:2]); !is || err != nil {
		t.Errorf("two strings: got %v, %v", is, err)
	}
	rows[3].AtSaddle = unread
	if _, is, err := r.Sanding(rows); is || err != nil {
		t.Errorf("a change not known: got %v, %v", is, err)
	}
	rows[3].AtSaddle = units.Length(math.Inf(1))
	_, is, err := r.Sanding(rows)
	wantError(t, err, "got a change or an offset that is not finite, want numbers")
	r.SaddleSpread = 0
	_, too, err := r.Sanding(rows)
	wantError(t, err, "got no spread, want that told first, as in spread: 36mm 52mm")
	if is || too {
		t.Error("got a saddle to sand beside an error")
	}
}

// The tops go by the slots that are wanted, else by those that there are, at
// whichever fret heights are wanted: straight on from slot and height.
func TestTopsOverCrowns(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 10))
	for range 10 {
		c, strings := strung(rnd)
		r := measured(t, rnd, c, strings)
		r.Stock = []units.Length{20, 300}
		var levels []units.Length
		for i, x := range strings {
			height, slot := 1.6+0.1*rnd.Float64(), x.slot()
			r.Entries = append(r.Entries, on(want(bench.Action, bench.How{At: 7 + i}, mm(height)), x.s))
			if i%2 == 0 {
				slot = 0.4 + 0.1*rnd.Float64()
				y := x
				y.nut = x.level(x.s, 0) + slot
				r.Entries = append(r.Entries, on(want(bench.Gap, gapHeld, mm(y.gap(gapHeld))), x.s))
			}
			nut := x.level(x.s, 0) + slot
			levels = append(levels, mm(nut+(x.level(x.s, 7+i)+height-nut)/share(7+i)))
		}
		low := min(levels[0], levels[5])
		for i := range levels {
			levels[i] -= low
		}
		tops := ok(r.Tops())(t)
		diff(t, "levels", levels, tops.Levels)
		b := ok(r.Board())(t)
		diff(t, "best", ok(b.BestCurve(levels))(t).Radius, tops.Best.Radius)
		diff(t, "stock", []units.Length{20, unread, 300, ok(b.Curve(levels, 300))(t).Worst}, []units.Length{tops.Stock[0].Radius, tops.Stock[0].Worst, tops.Stock[1].Radius, tops.Stock[1].Worst})
	}
}

func TestTopsErrors(t *testing.T) {
	const noAction = "got no wanted action, want that told first, as in want action 12: 1.5mm 1.9mm"
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Radius = nil }, "got no radius, want that told first, as in radius: 10in 14in"},
		{func(r *bench.Record) { r.Entries = nil }, noAction},
		{func(r *bench.Record) {
			r.Entries = []bench.Entry{on(want(bench.Action, at12, 1.5), 1), read(bench.Action, at12, 2, 2, 2, 2, 2, 2)}
		}, noAction},
		{func(r *bench.Record) { r.Radius, r.Frets = []units.Length{300, 300}, 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.Strings, r.Centres = nil, true }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) { r.Entries[0].Lengths = []units.Length{1, 1, 1, 1, 1, 90} }, "got levels of 0mm and 178mm for the outer strings, want them no further apart than across, 50mm"},
	} {
		r := with(six(t, want(bench.Action, at12, 1.5)), row.change)
		tops, err := r.Tops()
		if wantError(t, err, row.want); tops != nil {
			t.Errorf("%s: got %v beside the error", row.want, tops)
		}
	}
}

// The tops of the saddles lie on the curve that was wanted, whatever the slots
// read; on centres, thick strings want theirs higher by half their gauge.
func TestTops(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0), want(bench.Curve, bench.How{}, 304.8), want(bench.Gap, gapHeld, 0.15), read(bench.Gap, gapHeld, .1, .2, .3, .1, .2, .3))
	r.Stock = []units.Length{254, 304.8}
	tops := ok(r.Tops())(t)
	// Equal gaps at the nut over a cone are slots that differ by a few hundredths
	// of a millimetre at the saddle.
	if math.Abs(float64(tops.Best.Radius)-304.8) > 3 || tops.Best.Worst > 0.005 {
		t.Errorf("got a radius of %v, missing by %v, want 304.8mm", tops.Best.Radius, tops.Best.Worst)
	}
	// From 304.8 to 254 mm, over 25 mm either side: a bulge of 1.0 mm grows to 1.2;
	// at 5 mm from the middle it has 0.96 of that.
	bulge := func(r, y float64) float64 { return math.Sqrt(r*r-y*y) - math.Sqrt(r*r-25*25) }
	diff(t, "stock", []bool{true, true}, []bool{math.Abs(float64(tops.Stock[0].Worst)-(bulge(254, 5)-bulge(304.8, 5))) < 0.006, tops.Stock[1].Worst < 0.006})
	under := tops.Levels
	r.Centres = true
	over := ok(r.Tops())(t).Levels
	for i := range over {
		want := under[i] + (r.Strings[i].Gauge-r.Strings[0].Gauge)/2 // from string 1, the lower of the outer two
		diff(t, "centres", want, over[i])
	}
}

// What was heard counts until something done voids it; a slot speaks for the open
// string alone.
func TestHeardBuzz(t *testing.T) {
	buzz := func(of bench.Subject, frets ...int) bench.Entry {
		return bench.Entry{Mood: bench.Read, Of: of, On: []int{5}, Frets: frets}
	}
	for _, row := range []struct {
		what         string
		then         []bench.Entry
		rattle, ring []int
	}{
		{"as told", nil, []int{0, 3, 4}, []int{7}},
		{"told again", []bench.Entry{buzz(bench.Clean, 15, 4, 12, 9, 10)}, []int{0, 3}, []int{4, 7, 9, 10, 12, 15}},
		{"another string raised", []bench.Entry{did(bench.Height, 1)}, []int{0, 3, 4}, []int{7}},
		{"raised", []bench.Entry{did(bench.Height, 5)}, nil, nil},
		{"all raised, and told", []bench.Entry{did(bench.Height), buzz(bench.Buzz, 2)}, []int{2}, nil},
		{"slot cut", []bench.Entry{did(bench.Slot, 5)}, []int{3, 4}, []int{7}},
		{"another slot cut", []bench.Entry{did(bench.Slot, 4)}, []int{0, 3, 4}, []int{7}},
		{"saddle moved", []bench.Entry{moved(1, 5, 6)}, []int{0, 3, 4}, []int{7}},
		{"the set that it came with", []bench.Entry{{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "10p")}}, []int{0, 3, 4}, []int{7}},
		{"how it is wanted", []bench.Entry{want(bench.Gap, gapHeld, 0.2)}, []int{0, 3, 4}, []int{7}},
	} {
		r := flat(t, append([]bench.Entry{buzz(bench.Buzz, 4, 0, 3), buzz(bench.Clean, 7), want(bench.Action, at12, 1.9)}, row.then...)...)
		rows, _, err := r.BuzzRows()
		if err != nil {
			t.Fatal(err)
		}
		diff(t, row.what, [][]int{row.rattle, row.ring}, [][]int{rows[4].Buzzing, rows[4].Clean})
		if (rows[4].Suspects == nil) != (row.rattle == nil) || rows[0].Suspects != nil {
			t.Errorf("%s: got suspects %v, and %v of string 1", row.what, rows[4].Suspects, rows[0].Suspects)
		}
	}
}

// The lowest action leaves the closest note no room to spare, and one relief on
// the list is the neck's.
func TestBuzzRows(t *testing.T) {
	r := flat(t)
	r.Swing = action.Swing{Depth: 0.5, Pluck: 120}
	rows, assumed, err := r.BuzzRows()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "assumed", []string{"strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"}, texts(assumed))
	v := ok(r.Side())(t)
	for _, b := range rows {
		// Stand it there: the slot stays, and the note that binds just touches.
		l := v.Neck.Through(b.String, bench.AssumedNutHeight, 12, b.Lowest)
		if got := v.Neck.Spare(b.String, l, b.Bound.Fretted, r.Swing); math.Abs(float64(got.By)) > 1e-9 || got.Over != b.Bound.Over {
			t.Errorf("string %d: got %+v at the lowest action, want no room over %d", b.String, got, b.Bound.Over)
		}
		now := 0
		for _, x := range b.Bows {
			if x.Now {
				now++
				diff(t, "now", []units.Length{0, b.Lowest}, []units.Length{x.Bow, x.Lowest})
			}
		}
		if now != 1 || len(b.Bows) != 6 {
			t.Errorf("string %d: got %d reliefs, %d of them the neck's", b.String, len(b.Bows), now)
		}
	}
	r.Swing = action.Swing{}
	if _, assumed, _ = r.BuzzRows(); len(assumed) != 2 {
		t.Errorf("got %q assumed, want the swing too", assumed)
	}
}

// Every string over every crown, against straight lines drawn here.
func TestClearRows(t *testing.T) {
	r := flat(t)
	rows, assumed, err := r.ClearRows()
	diff(t, "assumed", []string{"strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"}, texts(assumed))
	if err != nil || len(rows) != 6*22 {
		t.Fatalf("got %d rows, %v, want 132", len(rows), err)
	}
	for _, c := range rows {
		stop := 0.0
		if c.Fretted == 0 {
			stop = float64(bench.AssumedNutHeight)
		}
		saddle := 2/0.5 - float64(bench.AssumedNutHeight)
		for i, got := range c.Over {
			a, m := share(c.Fretted), share(c.Fretted+1+i)
			diff(t, "over", units.Length(stop+(saddle-stop)*(m-a)/(1-a)), got)
		}
		v := ok(r.Side())(t)
		diff(t, "closest", v.Neck.Spare(c.String, v.Lines[c.String-1], c.Fretted, bench.AssumedSwing), c.Closest)
	}
}

func TestShim(t *testing.T) {
	r := flat(t)
	_, room, told, err := r.Shim(-1)
	wantError(t, err, "got no heel, want that told first, as in heel: 390mm 465mm")
	if room || told {
		t.Errorf("no heel: got room %v, told %v", room, told)
	}
	r.Heel = action.Heel{Near: 400, Far: 475}
	_, _, _, err = r.Shim(65)
	wantError(t, err, "got a change of 65mm at the saddle, want at most 64mm, a tenth of the scale")
	_, room, told, err = with(flat(t), func(r *bench.Record) { r.Scale, r.Plan.Scales = 0, [2]units.Length{620, 640} }).Shim(1)
	wantError(t, err, "got two scales, want one for this")
	if room || told {
		t.Errorf("two scales: got room %v, told %v", room, told)
	}
	for _, row := range []struct {
		change, down, up units.Length
		thick            float64
		far, room, told  bool
	}{
		{-1, 0, 0, 75.0 / 240, true, false, false},
		{-1, 0.5, 2, 75.0 / 240, true, false, true},
		{-0.5, 0.5, 2, 75.0 / 480, true, true, true},
		{1, 0.5, 2, 75.0 / 165, false, true, true},
		{2, 0.5, 2, 2 * 75.0 / 165, false, true, true},
		{2.5, 0.5, 2, 2.5 * 75.0 / 165, false, false, true},
		{-1, 0, 0, 75.0 / 240, true, false, true},
	} {
		if r.HeightRoom = nil; row.told {
			r.HeightRoom = []units.Length{row.down, row.up}
		}
		s, room, told, err := r.Shim(row.change)
		if err != nil {
			t.Fatal(err)
		}
		diff(t, "shim", []any{units.Length(row.thick), row.far, row.room, row.told}, []any{s.Thickness, s.AtFar, room, told})
	}
}
