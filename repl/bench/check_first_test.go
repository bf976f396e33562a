package bench_test

import (
	"math"
	"slices"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// What cannot be is refused, each thing alone; and of several the first in this
// order, so that mending what is named brings out the next.
func TestCheckFirst(t *testing.T) {
	wrong := []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Frets = -1 }, "got -1 frets, want 1 to 60"},
		{func(r *bench.Record) { r.Leaves = leaves.Set{0.1, 0} }, "got leaf 2 of 0mm, want more than 0"},
		{func(r *bench.Record) { r.Scale = -640 }, "got a scale of -640mm, want more than 0"},
		{func(r *bench.Record) { r.NutSpread = -1 }, "got a spread at the nut of -1mm, want more than 0"},
		{func(r *bench.Record) { r.SaddleSpread = unread }, "got a spread at the saddle of NaNmm, want more than 0"},
		{func(r *bench.Record) { r.A4 = -440 }, "got a frequency of A4 of -440Hz, want more than 0"},
		{func(r *bench.Record) { r.SaddleScrew = -1 }, "got a thread of the saddle screw of -1mm, want more than 0"},
		{func(r *bench.Record) { r.HeightScrew = units.Thread(nan) }, "got a thread of the height screw of NaNmm, want more than 0"},
		{func(r *bench.Record) { r.ScrewGap = -14 }, "got a gap between screws of -14mm, want more than 0"},
		{func(r *bench.Record) { r.PostGap = -1 }, "got a gap between posts of -1mm, want more than 0"},
		{func(r *bench.Record) { r.Tuner = -1 }, "got a tuner's error of -1c, want more than 0"},
		{func(r *bench.Record) { r.CrownHeight = -1 }, "got a height of the crowns of -1mm, want more than 0"},
		{func(r *bench.Record) { r.LeastStands = unread }, "got a least height of the saddle of NaNmm, want more than 0"},
		{func(r *bench.Record) { r.Stands[1] = -1 }, "got height of the saddle 2 of -1mm, want at least 0"},
		{func(r *bench.Record) { r.HeightRoom = []units.Length{-1, 1, 1} }, "got room of the saddles 1 of -1mm, want at least 0"},
		{func(r *bench.Record) { r.HeightRoom = []units.Length{1, 1, 1} }, "got 3 rooms of the saddles, want down and up"},
		{func(r *bench.Record) { r.Stock = []units.Length{300, 0} }, "got a radius of 0mm to be had, want more than 0"},
		{func(r *bench.Record) { r.Swing.Depth = 0.5 }, "got a swing of 0.5mm plucked 0mm from the saddle, want more than 0 and at most 20mm, plucked more than 0 from it"},
		{func(r *bench.Record) { r.Heel = action.Heel{Near: 400, Far: 400} }, "got a heel from 400mm to 400mm, want the end nearer the nut first"},
		{func(r *bench.Record) { r.FallFrom = 60; r.FallBy = -0.2 }, "got crowns that fall away from fret 60, want a fret before the last"},
		{func(r *bench.Record) { r.FallFrom = 15; r.FallBy = -0.2 }, "got crowns that fall away by -0.2mm, want 0 to 3mm"},
		{func(r *bench.Record) { r.Tuning = r.Tuning[:5] }, "got gauges for 6 strings and notes for 5, want as many; record: 1 starts afresh"},
		{func(r *bench.Record) { r.Strings[2].Gauge, r.Strings[2].UnitWeight = 0, 0.001 }, "got string 3 of 0mm and 0.001kg/m, want both more than 0"},
		{func(r *bench.Record) { r.Tuning[1].Hertz = -1 }, "got string 2 tuned to -1Hz, want more than 0"},
		{func(r *bench.Record) { r.Cores = []units.Length{0.4} }, "got 1 cores, want one for each of 6 strings"},
		{func(r *bench.Record) { r.Cores = []units.Length{0, 0, 0, 0.3, 0, -1} }, "got core 6 of -1mm, want at least 0"},
		{func(r *bench.Record) { r.UnitWeights = []units.LinearDensity{0, 0, 0, -1, 0, 0} }, "got unit weight 4 of -1kg/m, want at least 0"},
		{func(r *bench.Record) { r.AfterLengths = []units.Length{-60} }, "got after-length 1 of -60mm, want at least 0"},
		{func(r *bench.Record) { r.NutHeights = []units.Length{-1} }, "got height at the nut 1 of -1mm, want at least 0"},
		{func(r *bench.Record) { r.Weights = []float64{1, 1, 1, 1, 1, -2} }, "got a weight of -2 for string 6, want more than 0"},
		{func(r *bench.Record) { r.Saddles[1] = nil }, "got a saddle with no strings, want at least one on each"},
		{func(r *bench.Record) { r.Travel[1] = -1 }, "got travel from 0mm to -1mm, want the smallest reading first"},
		{func(r *bench.Record) { r.Plan.Square = nan }, "got a square fret of NaN, want -1000 to 1000"},
		{func(r *bench.Record) { r.Entries = []bench.Entry{heard(bench.How{}, 7)} }, "got cents at fret 0, want a fret from 1"},
		{func(r *bench.Record) { r.Radius = r.Radius[:1] }, "got 1 radii, want one at the nut and one at the last fret"},
	}
	for i, row := range wrong {
		r := six(t)
		row.change(r)
		wantError(t, r.Check(), row.want)
		r = six(t)
		for j := len(wrong) - 1; j >= i; j-- { // of two that touch one field, the earlier stays
			wrong[j].change(r)
		}
		wantError(t, r.Check(), row.want)
	}
}

// What is told of an entry is refused in this order.
func TestCheckEntryFirst(t *testing.T) {
	bad := bench.Entry{Mood: bench.Want, Of: bench.Cents, On: []int{7, 1}, Cents: []units.Cents{1, silent, 1}}
	for _, row := range []struct {
		change func(*bench.Entry)
		want   string
	}{
		{func(e *bench.Entry) { e.Mood = 9 }, "got mood 9 cents, want what can be told so"},
		{func(e *bench.Entry) { e.Mood = bench.Want }, "got cents at fret 0, want a fret from 1"},
		{func(e *bench.Entry) { e.How.At = 12 }, "got string 7, want 1 to 6"},
		{func(e *bench.Entry) { e.On[0] = 2 }, "got 3 values, want 2"},
		{func(e *bench.Entry) { e.Cents = e.Cents[:2] }, "got no value, want what is wanted for every string"},
	} {
		row.change(&bad)
		wantError(t, six(t).CheckEntry(bad), row.want)
	}
	bad.Cents[1] = 0
	if err := six(t).CheckEntry(bad); err != nil {
		t.Error(err)
	}
	move := moved(unread, 1, 7)
	wantError(t, six(t).CheckEntry(move), "got a saddle moved by NaNmm, want at most 100mm")
	move.By = 1
	wantError(t, six(t).CheckEntry(move), "got string 7, want 1 to 6")
	move.On[1] = 3
	wantError(t, six(t).CheckEntry(move), "got a saddle moved under strings 1 3, want all of 1+2")
}

// The ends of what may be told, and what lies just beyond.
func TestCheckLimits(t *testing.T) {
	const most = math.MaxFloat64
	inf := units.Length(math.Inf(1))
	falls := func(frets, from int, by units.Length) func(*bench.Record) {
		return func(r *bench.Record) { r.Frets, r.FallFrom, r.FallBy = frets, from, by }
	}
	heel := func(near, far units.Length) func(*bench.Record) {
		return func(r *bench.Record) { r.Heel = action.Heel{Near: near, Far: far} }
	}
	swing := func(depth, pluck units.Length) func(*bench.Record) {
		return func(r *bench.Record) { r.Swing = action.Swing{Depth: depth, Pluck: pluck} }
	}
	const badSwing = ", want more than 0 and at most 20mm, plucked more than 0 from it"
	for _, row := range []struct {
		change func(*bench.Record)
		want   string // empty where it is right
	}{
		{func(r *bench.Record) { r.Tuner = most }, ""},
		{func(r *bench.Record) { r.Tuner = units.Cents(inf) }, "got a tuner's error of +Infc, want more than 0"},
		{func(r *bench.Record) { r.AfterLengths = []units.Length{most} }, ""},
		{func(r *bench.Record) { r.AfterLengths = []units.Length{inf} }, "got after-length 1 of +Infmm, want at least 0"},
		{func(r *bench.Record) { r.AfterLengths = []units.Length{0, unread, 0, 0, 0, 0} }, ""},
		{func(r *bench.Record) { r.HeightRoom = []units.Length{0} }, "got 1 rooms of the saddles, want down and up"},
		{func(r *bench.Record) { r.HeightRoom = []units.Length{0, 0} }, ""},
		{swing(20, 0.001), ""},
		{swing(20.5, 120), "got a swing of 20.5mm plucked 120mm from the saddle" + badSwing},
		{swing(0, 120), "got a swing of 0mm plucked 120mm from the saddle" + badSwing},
		{swing(0.001, inf), "got a swing of 0.001mm plucked +Infmm from the saddle" + badSwing},
		{heel(0, 65), ""},
		{heel(-0.5, 65), "got a heel from -0.5mm to 65mm, want the end nearer the nut first"},
		{heel(390, most), ""},
		{heel(390, inf), "got a heel from 390mm to +Infmm, want the end nearer the nut first"},
		{falls(22, 21, 3), ""},
		{falls(22, 22, 3), "got crowns that fall away from fret 22, want a fret before the last"},
		{falls(22, 0, 0.1), ""},
		{falls(22, -1, 0.1), "got crowns that fall away from fret -1, want a fret before the last"},
		{falls(22, -1, 0), "got crowns that fall away from fret -1, want a fret before the last"},
		{falls(0, 59, 0.1), ""},
		{falls(0, 60, 0.1), "got crowns that fall away from fret 60, want a fret before the last"},
		{falls(1, 1, 0.1), "got crowns that fall away from fret 1, want a fret before the last"},
		{falls(22, 15, 0), ""},
		{falls(22, 15, 3.001), "got crowns that fall away by 3.001mm, want 0 to 3mm"},
		{func(r *bench.Record) { r.Radius = []units.Length{0, 254}; r.Scale = 0 }, "got a radius of 0mm, want more than 0"},
		{func(r *bench.Record) { r.Radius = []units.Length{0.5, 0.5}; r.Scale = 0 }, ""},
		{func(r *bench.Record) { r.Stock = []units.Length{0.5, inf} }, ""},
		{func(r *bench.Record) { r.Entries = []bench.Entry{want(bench.Curve, bench.How{}, 0.5)} }, ""},
		{func(r *bench.Record) { r.Entries = []bench.Entry{want(bench.Curve, bench.How{}, 0)} }, "got a curve of 0mm, want more than 0"},
		{func(r *bench.Record) { r.Entries = []bench.Entry{want(bench.Curve, bench.How{}, -0.5)} }, "got a curve of -0.5mm, want more than 0"},
		{func(r *bench.Record) { r.Strings, r.Tuning = r.Strings[:2], r.Tuning[:1] }, "got gauges for 2 strings and notes for 1, want as many; record: 1 starts afresh"},
		{func(r *bench.Record) {
			*r = bench.Record{Strings: slices.Repeat(r.Strings[:1], 100)}
			r.Saddles = [][]int{all(100)}
		}, ""},
		{func(r *bench.Record) { r.Saddles[0] = []int{2} }, "got no saddle for string 1, want every string on one, as in 1+2 3+4"},
		{func(r *bench.Record) { r.Weights = []float64{0, nan, 1, most, 3, 0.1} }, ""},
		{func(r *bench.Record) { r.Weights = []float64{1, 1, math.Inf(1), 1, 1, 1} }, "got a weight of +Inf for string 3, want more than 0"},
		{func(r *bench.Record) { r.Travel = [2]units.Length{-2, -1} }, ""},
		{func(r *bench.Record) { r.Travel = [2]units.Length{-most / 2, most / 2} }, ""},
		{func(r *bench.Record) { r.Travel = [2]units.Length{-most, most} }, "got travel from -1.7976931348623157e+308mm to 1.7976931348623157e+308mm, want the smallest reading first"},
	} {
		r := six(t)
		row.change(r)
		if err := r.Check(); row.want != "" {
			wantError(t, err, row.want)
		} else if err != nil {
			t.Errorf("got %v, want it right", err)
		}
	}
}

// Lists of the strings are one each; of some, one value stands for all. They may
// be told before the strings are.
func TestCheckLists(t *testing.T) {
	for _, row := range []struct {
		what string
		tell func(*bench.Record, int)
		one  bool
	}{
		{"cores", func(r *bench.Record, n int) { r.Cores = make([]units.Length, n) }, false},
		{"unit weights", func(r *bench.Record, n int) { r.UnitWeights = make([]units.LinearDensity, n) }, false},
		{"staggers", func(r *bench.Record, n int) { r.Staggers = make([]units.Length, n) }, false},
		{"weights", func(r *bench.Record, n int) { r.Weights = make([]float64, n) }, false},
		{"after-lengths", func(r *bench.Record, n int) { r.AfterLengths = make([]units.Length, n) }, true},
		{"heights at the nut", func(r *bench.Record, n int) { r.NutHeights = make([]units.Length, n) }, true},
	} {
		for _, strings := range []int{0, 1, 3} {
			for n := range 5 {
				r := &bench.Record{Strings: set(t, "10p", "13p", "17p")[:strings]}
				row.tell(r, n)
				switch err := r.Check(); {
				case n == 0 || strings == 0 || n == strings || row.one && n == 1:
					if err != nil {
						t.Errorf("%d %s for %d strings: got %v, want it right", n, row.what, strings, err)
					}
				case strings == 1:
					wantError(t, err, "got "+string(rune('0'+n))+" "+row.what+", want one for each of 1 string")
				default:
					wantError(t, err, "got "+string(rune('0'+n))+" "+row.what+", want one for each of 3 strings")
				}
			}
		}
	}
}
