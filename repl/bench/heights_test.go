package bench_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

func wantedOf(rows []bench.HeightRow) (out []units.Length) {
	for _, h := range rows {
		out = append(out, h.Wanted)
	}
	return out
}

// How what is wanted is spread over the strings.
func TestWanted(t *testing.T) {
	for _, row := range []struct {
		what  string
		wants []bench.Entry
		want  []units.Length
	}{
		{"one for all", []bench.Entry{want(bench.Action, at12, 1.6)}, []units.Length{1.6, 1.6, 1.6, 1.6, 1.6, 1.6}},
		{"treble and bass", []bench.Entry{want(bench.Action, at12, 1.5, 2.0)}, []units.Length{1.5, 1.6, 1.7, 1.8, 1.9, 2.0}},
		{"one each", []bench.Entry{want(bench.Action, at12, 1, 2, 3, 4, 5, 6)}, []units.Length{1, 2, 3, 4, 5, 6}},
		{"even", []bench.Entry{want(bench.Action, at12, 1.5, 2.0), want(bench.Curve, bench.How{})}, []units.Length{1.5, 1.6, 1.7, 1.8, 1.9, 2.0}},
		{"one each, whatever the curve", []bench.Entry{want(bench.Curve, bench.How{}, 304.8), want(bench.Action, at12, 1, 2, 3, 4, 5, 6)}, []units.Length{1, 2, 3, 4, 5, 6}},
		{"the last told", []bench.Entry{want(bench.Action, at12, 1.6), want(bench.Action, at12, 1.5, 2.0)}, []units.Length{1.5, 1.6, 1.7, 1.8, 1.9, 2.0}},
		{"and one for a string", []bench.Entry{want(bench.Action, at12, 1.5, 2.0), on(want(bench.Action, at12, 9), 3)}, []units.Length{1.5, 1.6, 9, 1.8, 1.9, 2.0}},
		{"and two", []bench.Entry{want(bench.Action, at12, 1.5, 2.0), on(want(bench.Action, at12, 8, 9), 6, 3), on(want(bench.Action, at12, 7), 1, 2)}, []units.Length{7, 7, 9, 1.8, 1.9, 8}},
		{"of one string alone", []bench.Entry{on(want(bench.Action, at12, 9), 3)}, []units.Length{unread, unread, 9, unread, unread, unread}},
	} {
		diff(t, row.what, row.want, wantedOf(ok(six(t, row.wants...).HeightRows())(t)))
	}
	two := &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5, 2.0), read(bench.Action, at12, 1.5, 2)}}
	diff(t, "two strings", []units.Length{1.5, 2}, wantedOf(ok(two.HeightRows())(t)))
	three := &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5, 1.9, 1.6), read(bench.Action, at12, 1.5, 2, 2)}}
	diff(t, "three strings, one each", []units.Length{1.5, 1.9, 1.6}, wantedOf(ok(three.HeightRows())(t)))
	// Gaps of two strings are their own, not the outer ones'; of one string, all.
	for _, gaps := range [][]units.Length{{0.2, 0.3}, {0.2}} {
		r := &bench.Record{Tuning: tones(t, "E4", "B3"), Entries: []bench.Entry{want(bench.Gap, gapHeld, gaps...), read(bench.Gap, gapHeld, 0.4, 0.4)}}
		want := "lower the nut slots of strings 1 2, stopping early: string 1 stop where the gap reads 0.25mm, string 2 stop where the gap reads 0.35mm"
		if len(gaps) == 1 {
			want = "lower the nut slots of strings 1 2, stopping early: stop where the gap reads 0.25mm"
		}
		diff(t, "gaps", want, r.Next()[0].Do.String())
	}
	one := &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5), read(bench.Action, at12, 1.5)}}
	diff(t, "one string", []units.Length{1.5}, wantedOf(ok(one.HeightRows())(t)))
}

// Wanted on a curve: the undersides at the saddles, found by running straight
// from equal slots at the nut over what is wanted at the fret, lie on one circle
// of that radius, the board being a cone between two radii.
func TestWantedOnCurve(t *testing.T) {
	fall := func(radius, y float64) float64 { return radius - math.Sqrt(radius*radius-y*y) }
	const scale, nut, end, nutSpread, saddleSpread = 640, 254, 355.6, 35, 50
	for _, row := range []struct {
		fret   int
		radius float64 // 0 for flat
	}{{12, 304.8}, {12, 508}, {7, 304.8}, {12, 0}} {
		curve := mm(row.radius)
		if row.radius == 0 {
			curve = fret.Flat
		}
		rows := ok(six(t, want(bench.Action, bench.How{At: row.fret}, 1.5, 2.0), want(bench.Curve, bench.How{}, curve)).HeightRows())(t)
		diff(t, "the outer two", []units.Length{1.5, 2}, []units.Length{rows[0].Wanted, rows[5].Wanted})
		from := scale * (1 - math.Exp2(-float64(row.fret)/12))
		here := nut + (end-nut)*from/(scale*(1-math.Exp2(-22.0/12)))
		var y, z [6]float64 // where the underside of each string is, at the saddle
		for i, h := range rows {
			share := 0.5 - float64(i)/5
			low := -fall(nut, nutSpread*share) // slots stand equally high over the board
			at := (nutSpread + (saddleSpread-nutSpread)*from/scale) * share
			high := float64(h.Wanted) - fall(here, at)
			y[i], z[i] = saddleSpread*share, low+(high-low)*scale/from
		}
		for i := 1; i < 5; i++ {
			// The circle through three points, a b c/(4 area), plus where it bulges up.
			a, b, c := math.Hypot(y[0]-y[i], z[0]-z[i]), math.Hypot(y[i]-y[5], z[i]-z[5]), math.Hypot(y[0]-y[5], z[0]-z[5])
			area := ((y[5]-y[i])*(z[0]-z[i]) - (y[0]-y[i])*(z[5]-z[i])) / 2
			if got := a * b * c / (4 * area); row.radius != 0 && math.Abs(got-row.radius) > 1e-6*row.radius {
				t.Errorf("%v: got string %d on a radius of %v, want %v", row, i+1, got, row.radius)
			}
			if row.radius == 0 && math.Abs(area) > 1e-9 {
				t.Errorf("%v: got string %d off the straight line", row, i+1)
			}
		}
	}
}

// What to change at the saddle: the change at the fret over the fret's share of
// the scale, and turns for it.
func TestHeightRows(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5, 2.0), read(bench.Action, at12, 1.8, 1.6, 1.9, 2.0, unread, 2.2),
		on(read(bench.Action, bench.How{At: 7}, 9), 5), did(bench.Height, 6))
	r.HeightScrew = 0.5
	base := func(s int, wanted, got, change units.Length) bench.HeightRow {
		return bench.HeightRow{String: s, Fret: 12, Wanted: wanted, Read: got, AtSaddle: change, Saddle: (s + 1) / 2,
			Treble: units.Turns(nan), Bass: units.Turns(nan), Left: unread}
	}
	rows := func() []bench.HeightRow {
		out := []bench.HeightRow{
			base(1, 1.5, 1.8, -0.6), base(2, 1.6, 1.6, 0), base(3, 1.7, 1.9, -0.4), base(4, 1.8, 2.0, -0.4), base(5, 1.9, unread, unread), base(6, 2.0, 2.2, unread),
		}
		out[5].Stale = true
		return out
	}

	// One screw: half way between the most and the least. Saddle 1 goes down by 0.3.
	one := rows()
	one[0].Treble, one[0].Left = -0.6, -0.3
	one[1].Treble, one[1].Left = -0.6, 0.3
	one[2].Treble, one[2].Left = -0.8, 0
	one[3].Treble, one[3].Left = -0.8, 0
	diff(t, "one screw", one, ok(r.HeightRows())(t))

	// Two screws 14 mm apart about the middle of strings 10 mm apart: the line
	// through -0.6 at +5 and 0 at -5 stands at -0.72 at +7 and 0.12 at -7.
	r.ScrewGap = 14
	two := rows()
	for i, turns := range [][2]units.Turns{{-0.72 / 0.5, 0.12 / 0.5}, {-0.72 / 0.5, 0.12 / 0.5}, {-0.8, -0.8}, {-0.8, -0.8}} {
		two[i].TwoScrew, two[i].Treble, two[i].Bass, two[i].Left = true, turns[0], turns[1], 0
	}
	two[0].Tilt = units.Angle(-math.Atan(0.06) * 180 / math.Pi) // down by 0.84 in 14
	two[1].Tilt = two[0].Tilt
	diff(t, "two screws", two, ok(r.HeightRows())(t))

	// Neither the scale nor the board is needed for that, only how far the strings
	// stand apart at the saddle.
	r.Scale, r.Radius, r.NutSpread = 0, nil, 0
	diff(t, "no scale told", two, ok(r.HeightRows())(t))
	r.SaddleSpread = 0
	_, err := r.HeightRows()
	wantError(t, err, "got no spread, want that told first, as in spread: 36mm 52mm")

	// Every string on a saddle of its own, of two screws: both turn alike.
	r.Saddles = nil
	own := rows()
	for i, change := range []units.Length{-0.6, 0, -0.4, -0.4} {
		own[i].TwoScrew, own[i].Treble, own[i].Bass, own[i].Left = true, units.Turns(change/0.5), units.Turns(change/0.5), 0
	}
	for i := range own {
		own[i].Saddle = i + 1
	}
	diff(t, "saddles of their own", own, ok(r.HeightRows())(t))

	r.HeightScrew = 0
	none := rows()
	for i := range none {
		none[i].Saddle = i + 1
	}
	diff(t, "no screw", none, ok(r.HeightRows())(t))
}

// Three strings on one saddle, listed in any order: one screw takes the middle of
// the extremes, two the line of least squares. At +10, 0 and -10 mm the changes
// 0.6, -0.2 and 0.2 have the mean 0.2 and the slope 10 (0.6 - 0.2)/200 = 0.02 a
// millimetre: 0.36 and 0.04 at +-8, leaving 0.2, -0.4 and 0.2.
func TestHeightsOfThree(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, 9, 9, 1.2, 1.6, 1.4, 9))
	r.Saddles, r.HeightScrew = [][]int{{1, 2}, {4, 3, 5}, {6}}, 1
	// Strings 3, 4 and 5 cross the saddle at +5, -5 and -15; their middle is -5.
	for i, left := range []units.Length{0.4, -0.4, 0} {
		h := ok(r.HeightRows())(t)[2+i]
		diff(t, "one screw", []any{units.Turns(0.2), left, 2, false}, []any{h.Treble, h.Left, h.Saddle, h.TwoScrew})
	}
	r.ScrewGap = 16
	for i, left := range []units.Length{0.2, -0.4, 0.2} {
		h := ok(r.HeightRows())(t)[2+i]
		diff(t, "two screws", []any{units.Turns(0.36), units.Turns(0.04), left, 2, true}, []any{h.Treble, h.Bass, h.Left, h.Saddle, h.TwoScrew})
	}
}

// A height at another fret: fret 7's share of the scale is 1 - 2^(-7/12).
func TestHeightsAtFret(t *testing.T) {
	r := six(t, want(bench.Action, bench.How{At: 7}, 1.5), read(bench.Action, bench.How{At: 7}, 1.6, 1.6, 1.6, 1.6, 1.6, 1.6), read(bench.Action, at12, 2, 2, 2, 2, 2, 2))
	for _, h := range ok(r.HeightRows())(t) {
		diff(t, "change at the saddle", mm(-0.1/(1-math.Exp2(-7.0/12))), h.AtSaddle)
	}
}

// Leaves stack for the wanted height.
func TestHeightStack(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.85, 1.5, 0.02, 99, 1.5, 1.5))
	r.Leaves = leaves.Set{0.05, 0.10, 0.30, 0.50, 0.80, 1.00}
	for i, want := range []leaves.Stack{
		{Leaves: []units.Length{1.00, 0.80, 0.05}},
		{Leaves: []units.Length{1.00, 0.50}},
		{Leaves: []units.Length{0.05}, Miss: 0.03},
		{Leaves: []units.Length{1.00, 0.80, 0.50, 0.30}, Miss: 2.6 - 99},
	} {
		diff(t, fmt.Sprint("string ", i+1), want, ok(r.HeightRows())(t)[i].Stack)
	}
	r.Leaves = nil
	diff(t, "no leaves", leaves.Stack{}, ok(r.HeightRows())(t)[0].Stack)
}

// A string whose reading is not known leaves its saddle's screws alone, and those of
// no other.
func TestHeightsNotAllRead(t *testing.T) {
	for _, missing := range []int{1, 2} {
		r := six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, 2, 2, 2, 2, 2, 2), did(bench.Height, missing))
		r.HeightScrew, r.ScrewGap = 0.5, 14
		for i, h := range ok(r.HeightRows())(t) {
			turns := units.Turns(-2) // 1 mm at the saddle
			if i < 2 {
				turns = units.Turns(nan)
			}
			diff(t, fmt.Sprint("string ", i+1), []any{turns, i+1 == missing}, []any{h.Treble, h.Stale})
		}
	}
}

// One string needs no spread, be it on two screws or between two posts; posts stand
// about the middle of the board, where a single string is.
func TestHeightsOfOneString(t *testing.T) {
	r := &bench.Record{HeightScrew: 0.5, ScrewGap: 14, Entries: []bench.Entry{want(bench.Action, at12, 1.5), read(bench.Action, at12, 2)}}
	diff(t, "two screws", []units.Turns{-2, -2}, []units.Turns{ok(r.HeightRows())(t)[0].Treble, ok(r.HeightRows())(t)[0].Bass})
	r.ScrewGap, r.PostGap = 0, 74
	diff(t, "two posts", []units.Turns{-2, -2}, []units.Turns{ok(r.HeightRows())(t)[0].Treble, ok(r.HeightRows())(t)[0].Bass})
}

// Strings with equal gaps between them cross the saddles at places of their own, and
// the turns go by those.
func TestHeightsOverEqualGaps(t *testing.T) {
	r := six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, 2, 1.9, 1.8, 1.7, 1.6, 1.5))
	r.Saddles, r.HeightScrew, r.PostGap, r.Plan.Gaps = nil, 0.5, 74, true
	// Centres are half the gauges and one gap apart; the outer two 50 mm.
	thou := []float64{11, 14, 18, 28, 38, 49}
	gap := 50.0
	for i := 1; i < 6; i++ {
		gap -= (thou[i-1] + thou[i]) / 2 * 0.0254 // all the way, less half of each neighbour
	}
	gap /= 5
	var y, c [6]float64
	y[0] = 25
	for i := range y {
		if i > 0 {
			y[i] = y[i-1] - gap - (thou[i-1]+thou[i])/2*0.0254
		}
		c[i] = -1 + 0.2*float64(i)
	}
	// The line of least squares, by its two equations.
	var n, sy, sc, syy, syc float64
	for i := range y {
		n, sy, sc, syy, syc = n+1, sy+y[i], sc+c[i], syy+y[i]*y[i], syc+y[i]*c[i]
	}
	slope := (n*syc - sy*sc) / (n*syy - sy*sy)
	mean := (sc - slope*sy) / n
	for i, h := range ok(r.HeightRows())(t) {
		diff(t, fmt.Sprint("string ", i+1), []any{units.Turns((mean + 37*slope) / 0.5), units.Turns((mean - 37*slope) / 0.5), mm(c[i] - mean - slope*y[i])}, []any{h.Treble, h.Bass, h.Left})
	}
	r.Strings = nil
	_, err := r.HeightRows()
	wantError(t, err, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w")
}

func TestHeightErrors(t *testing.T) {
	_, err := (&bench.Record{Frets: -1}).HeightRows()
	wantError(t, err, "got -1 frets, want 1 to 60")
	_, err = with(six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, 1.7e308, 2, 2, 2, 2, 2)), func(r *bench.Record) { r.HeightScrew, r.ScrewGap = 0.5, 14 }).HeightRows()
	wantError(t, err, "got a change or an offset that is not finite, want numbers")
	_, err = six(t, read(bench.Action, at12, 2, 2, 2, 2, 2, 2)).HeightRows()
	wantError(t, err, "got no wanted action, want that told first, as in want action 12: 1.5mm 1.9mm")
	_, err = (&bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5)}}).HeightRows()
	wantError(t, err, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w")
	curve := []bench.Entry{want(bench.Action, at12, 1.5), want(bench.Curve, bench.How{}, 24)}
	_, err = six(t, curve...).HeightRows()
	wantPrefix(t, err, "got a radius of 24mm at the saddles, want more than 25")
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Radius = nil }, "got no radius, want that told first, as in radius: 10in 14in"},
		{func(r *bench.Record) { r.Scale = 0 }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.NutSpread = 0 }, "got no spread, want that told first, as in spread: 36mm 52mm"},
	} {
		_, err := with(six(t, curve...), row.change).HeightRows()
		wantError(t, err, row.want)
	}
}
