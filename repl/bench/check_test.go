package bench_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

func TestCheck(t *testing.T) {
	inf := math.Inf(1)
	add := func(es ...bench.Entry) func(*bench.Record) {
		return func(r *bench.Record) { r.Entries = append(r.Entries, es...) }
	}
	list := func(ls ...float64) (out []units.Length) {
		for _, l := range ls {
			out = append(out, units.Length(l))
		}
		return out
	}
	notes := func(frets ...int) bench.Entry {
		return bench.Entry{Mood: bench.Read, Of: bench.Buzz, On: []int{2}, Frets: frets}
	}
	entry := func(m bench.Mood, of bench.Subject) bench.Entry { return bench.Entry{Mood: m, Of: of} }
	for _, row := range []struct {
		change func(*bench.Record)
		want   string // empty where it is right
	}{
		{func(r *bench.Record) {}, ""},
		{func(r *bench.Record) { *r = bench.Record{} }, ""},
		{func(r *bench.Record) { r.Strings, r.Tuning, r.Saddles = []tension.String{}, []bench.Tone{}, [][]int{} }, ""},

		{func(r *bench.Record) { r.Frets = 60 }, ""},
		{func(r *bench.Record) { r.Frets = 61 }, "got 61 frets, want 1 to 60"},
		{func(r *bench.Record) { r.Scale = unread }, "got a scale of NaNmm, want more than 0"},
		{func(r *bench.Record) { r.Scale = units.Length(inf) }, "got a scale of +Infmm, want more than 0"},
		{func(r *bench.Record) { r.Stock = list(300, inf) }, ""},
		{add(bench.Entry{Mood: bench.Read, Of: bench.Buzz, On: []int{2}, Frets: []int{0, 21}}), ""},
		{add(bench.Entry{Mood: bench.Read, Of: bench.Buzz, On: []int{2}, Frets: []int{23}}), "got a note at fret 23, want one before the last, 22: no crown stands beyond that"},
		{add(bench.Entry{Mood: bench.Read, Of: bench.Clean, On: []int{2}, Frets: []int{-1}}), "got a note at fret -1, want 0 to 60"},
		{add(bench.Entry{Mood: bench.Read, Of: bench.Clean, On: []int{2}}), "got no clean, want a value"},
		{add(bench.Entry{Mood: bench.Read, Of: bench.Buzz, Frets: []int{3}}), "got notes of 0 strings, want those of one string"},
		{add(bench.Entry{Mood: bench.Want, Of: bench.Buzz, On: []int{2}, Frets: []int{3}}), "got want buzz, want what can be told so"},
		{add(read(bench.Relief, bench.How{Held: [2]int{0, 14}, At: 7, Edge: true}, 0.2)), ""},
		{add(read(bench.Relief, bench.How{Held: [2]int{0, 14}, At: 7}, 0.2)), "got frets 0 and 14 held, want the lower first, from 1"},

		{func(r *bench.Record) { r.Strings, r.Saddles = r.Strings[:1], nil }, "got gauges for 1 string and notes for 6, want as many; record: 1 starts afresh"},
		{func(r *bench.Record) { *r = bench.Record{Strings: make([]tension.String, 101)} }, "got 101 strings, want at most 100"},
		{func(r *bench.Record) { *r = bench.Record{Tuning: make([]bench.Tone, 101)} }, "got 101 strings, want at most 100"},
		{func(r *bench.Record) { r.Strings[2] = tension.String{} }, "got string 3 of 0mm and 0kg/m, want both more than 0"},
		{func(r *bench.Record) { r.Strings[2].UnitWeight = units.LinearDensity(nan) }, "got string 3 of 0.4572mm and NaNkg/m, want both more than 0"},
		{func(r *bench.Record) { r.Tuning[1].Pitch.Note = 1 << 30 }, "got string 2 tuned to +InfHz, want more than 0"},

		{func(r *bench.Record) { r.Cores = list(nan, nan, nan, 0.4, 0, 0.5) }, ""},
		{func(r *bench.Record) { r.Cores = list(0.1, 0, 0, 0, 0, 0) }, "got a core of 0.1mm for string 1, which is plain, want a dot"},
		{func(r *bench.Record) { r.AfterLengths = list(-60) }, "got after-length 1 of -60mm, want at least 0"},
		{func(r *bench.Record) { r.NutHeights = list(inf) }, "got height at the nut 1 of +Infmm, want at least 0"},
		{func(r *bench.Record) {
			r.UnitWeights = make([]units.LinearDensity, 6)
			r.UnitWeights[3] = units.LinearDensity(inf)
		}, "got unit weight 4 of +Infkg/m, want at least 0"},

		{func(r *bench.Record) { r.Saddles = [][]int{{1, 2, 3}, {}, {4, 5, 6}} }, "got a saddle with no strings, want at least one on each"},
		{func(r *bench.Record) { r.Saddles[0][0] = 0 }, "got string 0 on a saddle, want 1 to 100"},
		{func(r *bench.Record) { r.Saddles[0][0] = -3 }, "got string -3 on a saddle, want 1 to 100"},
		{func(r *bench.Record) { r.Saddles[0][0] = 101 }, "got string 101 on a saddle, want 1 to 100"},
		{func(r *bench.Record) { r.Saddles[0][0] = 2 }, "got string 2 on two saddles or twice on one, want it once"},
		{func(r *bench.Record) { r.Saddles[2][1] = 7 }, "got no saddle for string 6, want every string on one, as in 1+2 3+4"},
		{func(r *bench.Record) { r.Saddles = append(r.Saddles, []int{7}) }, "got 7 strings on saddles, want 6"},

		{func(r *bench.Record) { r.Travel = [2]units.Length{8, 8} }, "got travel from 8mm to 8mm, want the smallest reading first"},
		{func(r *bench.Record) { r.Travel = [2]units.Length{8, 0} }, "got travel from 8mm to 0mm, want the smallest reading first"},
		{func(r *bench.Record) { r.Travel = [2]units.Length{0, 8} }, ""},
		{func(r *bench.Record) { r.Travel = [2]units.Length{0, unread} }, "got travel from 0mm to NaNmm, want the smallest reading first"},
		{func(r *bench.Record) { r.Travel = [2]units.Length{0, units.Length(inf)} }, "got travel from 0mm to +Infmm, want the smallest reading first"},

		{func(r *bench.Record) { r.Radius = []units.Length{254, 254, 254} }, "got 3 radii, want one at the nut and one at the last fret"},
		{func(r *bench.Record) { r.Radius = []units.Length{fret.Flat, fret.Flat} }, ""},
		{func(r *bench.Record) { r.Radius = []units.Length{254, unread}; r.Scale = 0 }, "got a radius of NaNmm, want more than 0"},
		{func(r *bench.Record) { r.Radius = []units.Length{-254, 254}; r.Scale = 0 }, "got a radius of -254mm, want more than 0"},
		{func(r *bench.Record) { r.Radius = []units.Length{254, fret.Flat} }, "got radii of 254mm and +Infmm, want both flat or neither"},
		{func(r *bench.Record) { r.Radius[1], r.SaddleSpread = 254, 1000 }, "got a board radius of 254mm, want more than 500mm, half the spread of its strings there"},

		{add(entry(bench.Want, bench.Saddle)), "got want saddle, want what can be told so"},
		{add(entry(bench.Was, bench.Rod)), "got was rod, want what can be told so"},
		{add(entry(bench.Read, bench.Strings)), "got read strings, want what can be told so"},
		{add(entry(bench.Did, bench.Relief)), "got did relief, want what can be told so"},
		{add(entry(bench.Read, 99)), "got read subject 99, want what can be told so"},
		{add(entry(99, bench.Relief)), "got mood 99 relief, want what can be told so"},
		{add(moved(unread, 1, 2)), "got a saddle moved by NaNmm, want at most 100mm"},
		{add(moved(-100.1, 1, 2)), "got a saddle moved by -100.1mm, want at most 100mm"},
		{add(moved(units.Length(-inf), 1, 2)), "got a saddle moved by -Infmm, want at most 100mm"},
		{add(moved(1, 0)), "got string 0, want 1 to 6"},
		{add(did(bench.Rod, 7)), "got string 7, want 1 to 6"},

		{add(read(bench.Action, bench.How{At: 23}, 1, 1, 1, 1, 1, 1)), "got fret 23, want at most 22, the last"},
		{func(r *bench.Record) { r.Frets = 0; add(heard(bench.How{At: 61}, 1, 1, 1, 1, 1, 1))(r) }, "got fret 61, want at most 60, the last"},
		{add(read(bench.Relief, bench.How{Held: [2]int{1, 44}, At: 7}, 1)), "got fret 44, want at most 22, the last"},
		{add(read(bench.Relief, bench.How{Held: [2]int{-1, 14}, At: 7}, 1)), "got fret -1, want at least 0"},
		{add(read(bench.Relief, bench.How{Held: [2]int{14, 14}, At: 7}, 1)), "got frets 14 and 14 held, want the lower first, from 1"},
		{add(read(bench.Relief, bench.How{Held: [2]int{14, 1}, At: 7}, 1)), "got frets 14 and 1 held, want the lower first, from 1"},
		{add(read(bench.Relief, bench.How{Held: [2]int{0, 14}, At: 7}, 1)), "got frets 0 and 14 held, want the lower first, from 1"},
		{add(read(bench.Relief, bench.How{Held: [2]int{1, 14}}, 1)), "got relief at fret 0, want a fret from 1"},
		{add(want(bench.Action, bench.How{}, 1)), "got action at fret 0, want a fret from 1"},
		{add(heard(bench.How{}, 1, 1, 1, 1, 1, 1)), "got cents at fret 0, want a fret from 1"},
		{add(heard(bench.How{Low: 12, At: 12}, 1, 1, 1, 1, 1, 1)), "got fret 12 from fret 12, want the higher fret first"},
		{add(heard(bench.How{Low: 12, At: 7}, 1, 1, 1, 1, 1, 1)), "got fret 7 from fret 12, want the higher fret first"},
		{add(heard(bench.How{Low: -2, At: 12}, 1, 1, 1, 1, 1, 1)), "got fret -2, want at least 0"},

		{add(on(heard(at12, 1, 2), 1, 7)), "got string 7, want 1 to 6"},
		{add(on(heard(at12, 1, 2), 1, -7)), "got string -7, want 1 to 6"},
		{add(on(read(bench.Saddle, bench.How{}, 9), 4)), "got saddle 4, want 1 to 3"},
		{add(on(read(bench.Saddle, bench.How{}, 9), 0)), "got saddle 0, want 1 to 3"},
		{add(on(read(bench.Relief, relief1to14, 9), 1)), "got relief of string 1, want it of the whole neck"},
		{add(read(bench.Relief, relief1to14, 0.1), on(read(bench.Relief, relief1to14, 0.1), 0)), ""},

		{add(on(heard(at12, 1, 2), 1)), "got 2 values, want 1"},
		{add(on(heard(at12, 1), 1, 2)), "got 1 value, want 2"},
		{add(on(heard(at12, 1, 2))), "got 2 values, want 6"},
		{add(on(read(bench.Saddle, bench.How{}, 9, 9))), "got 2 values, want 3"},
		{add(on(heard(at12, 1, 2, 3, 4, 5, 6))), ""},
		{add(heard(at12)), "got no cents, want a value"},
		{add(read(bench.Relief, relief1to14)), "got no relief, want a value"},
		{add(read(bench.Relief, relief1to14, 1, 2)), "got 2 values of relief, want one"},
		{add(want(bench.Action, at12)), "got no action, want a value"},
		{add(want(bench.Action, at12, 1, 2, 3)), "got 3 wanted heights, want treble and bass, or one for each of 6 strings"},
		{add(want(bench.Gap, gapHeld, 1, 2)), "got 2 wanted values of gap, want one for all, or one for each of 6 strings"},
		{add(want(bench.Gap, gapHeld, 1), want(bench.Gap, gapHeld, 1, 2, 3, 4, 5, 6), want(bench.Action, at12, 1, 2)), ""},
		{add(on(want(bench.Action, at12, 1, 2), 1, 2, 3)), "got 2 values, want 3"},
		{add(on(want(bench.Action, at12, 1), 1, 2, 3)), ""},
		{add(want(bench.Action, at12, 1, unread, 1, 1, 1, 1)), "got no value, want what is wanted for every string"},
		{add(read(bench.Action, at12, 1, unread, 1, 1, 1, units.Length(inf))), "got action of +Infmm, want a number"},
		{add(read(bench.Action, at12, 1, unread, 1, 1, 1, 1)), ""},
		{add(heard(at12, 1, units.Cents(-inf), 1, 1, 1, 1)), "got cents of -Infc, want a number"},
		{add(want(bench.Curve, bench.How{}, 300, 300)), "got 2 radii of the curve, want one"},
		{add(want(bench.Curve, bench.How{}, unread)), "got a curve of NaNmm, want more than 0"},
		{add(want(bench.Curve, bench.How{}, fret.Flat), want(bench.Curve, bench.How{})), ""},
		{add(bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "9p", "9p", "9p"), On: []int{1, 2, 7}}), ""},
		{add(bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: make([]tension.String, 1)}), "got string 1 of 0mm and 0kg/m, want both more than 0"},
		// A set of another number came in; none is put on a string that is not there.
		{add(on(bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "9p")}, 101)), "got string 101, want 1 to 100"},
		{add(bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "9p", "9p")}), ""},
		{add(on(lengths(bench.Was, bench.Action, at12, 2), 7)), "got string 7, want 1 to 6"},
		{add(did(bench.Strings, 7)), "got string 7, want 1 to 6"},
		{add(did(bench.Rod, 6, 5, 6)), "got string 6 twice, want it once"},
		{add(bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: []tension.String{{Gauge: 0.2}}}), "got string 1 of 0.2mm and 0kg/m, want both more than 0"},
		// Some of the strings on a saddle that was moved, or all of those on several.
		{add(moved(1, 2)), "got a saddle moved under string 2, want all of 1+2"},
		{add(moved(1, 1, 2, 3)), "got a saddle moved under strings 1 2 3, want all of 3+4"},
		{add(moved(1, 4, 2, 1, 3), moved(1), did(bench.Height, 3)), ""},
		// Notes that buzz, before the number of frets is told and after.
		{func(r *bench.Record) { r.Frets = 0; add(notes(60))(r) }, ""},
		{func(r *bench.Record) { r.Frets = 0; add(notes(3, 61))(r) }, "got a note at fret 61, want 0 to 60"},
		{add(notes(0, 21)), ""},
		{add(notes(22)), "got a note at fret 22, want one before the last, 22: no crown stands beyond that"},
		{add(on(notes(3), 1, 2)), "got notes of 2 strings, want those of one string"},
		// Before the strings are told.
		{func(r *bench.Record) { *r = bench.Record{}; add(want(bench.Gap, gapHeld, 1, 2, 3, 4))(r) }, ""},
		{func(r *bench.Record) { *r = bench.Record{}; add(did(bench.Rod, 100))(r) }, ""},
		{func(r *bench.Record) { *r = bench.Record{}; add(did(bench.Rod, 101))(r) }, "got string 101, want 1 to 100"},
		{func(r *bench.Record) { r.Saddles = nil; add(read(bench.Saddle, bench.How{}, 9, 9, 9))(r) }, ""},
		{func(r *bench.Record) { r.Saddles = nil; add(on(read(bench.Saddle, bench.How{}, 9, 9, 9)))(r) }, ""},
		// Places read before anything says how many saddles there are.
		{func(r *bench.Record) { *r = bench.Record{}; add(read(bench.Saddle, bench.How{}, 9, 9))(r) }, ""},
	} {
		r := six(t)
		row.change(r)
		err := r.Check()
		if row.want != "" {
			wantError(t, err, row.want)
		} else if err != nil {
			t.Errorf("%+v: got %v, want it right", r, err)
		}
	}
	// One entry alone; of a record that has none it says how many strings there are.
	if err := (&bench.Record{}).CheckEntry(on(heard(at12, 1, 2, 3))); err != nil {
		t.Error(err)
	}
	wantError(t, six(t).CheckEntry(on(heard(at12, 1), 7)), "got string 7, want 1 to 6")
	if err := six(t).CheckEntry(on(heard(at12, 1), 6)); err != nil {
		t.Error(err)
	}
}

// askAll asks a record everything.
func askAll(r *bench.Record) {
	r.Empty()
	r.Concert()
	r.TunerError()
	r.Groups()
	r.Surface()
	r.Board()
	r.FretRows()
	r.PullRows()
	if rows, err := r.HeightRows(); err == nil {
		r.Sanding(rows)
	}
	r.Side()
	r.NutRows()
	r.BuzzRows()
	r.ClearRows()
	r.Tops()
	r.Shim(1)
	r.SlotRows()
	r.Tempered()
	r.NeckView()
	r.EndView(4)
	r.SideView(10)
	r.MapView()
	r.BridgeView(10)
	r.ReliefAs(bench.How{Held: [2]int{1, 14}, At: 7})
	r.Questions()
	r.Cautions()
	if moves, err := r.MoveRows(); err == nil {
		for _, m := range moves {
			m.Amount()
		}
	}
	r.Predict()
	r.PlaceRows()
	for s := -1; s < 4; s++ {
		r.Setback(s)
	}
	r.Next()
}

// No record that another program may fill makes a method panic, whether Check
// takes it or not.
func TestNoPanic(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	taken := 0
	for i := range 20000 {
		r := oddRecord(rnd)
		func() {
			defer func() {
				if p := recover(); p != nil {
					t.Fatalf("record %d: %+v: panic: %v", i, r, p)
				}
			}()
			if r.Check() == nil {
				taken++
			}
			askAll(r)
		}()
	}
	t.Logf("%d of 20000 records passed Check", taken)
	if taken < 1000 || taken > 19000 {
		t.Errorf("got %d of 20000 records past Check, want a good part of either kind", taken)
	}
}

// oddRecord fills a record with what is mostly right.
func oddRecord(rnd *rand.Rand) *bench.Record {
	odd := func() bool { return rnd.Intn(40) == 0 }
	length := func(usual float64) units.Length {
		if odd() {
			return units.Length([]float64{0, -1, nan, math.Inf(1), math.Inf(-1), 1e300, 1e-300, 5}[rnd.Intn(8)])
		}
		return units.Length(usual * (0.8 + 0.4*rnd.Float64()))
	}
	count := rnd.Intn(5)
	number := func(most int) int {
		if odd() {
			return []int{0, -1, 7, 61, 1 << 30, -1 << 30}[rnd.Intn(6)]
		}
		return 1 + rnd.Intn(max(1, most))
	}
	list := func(n int, usual float64) (out []units.Length) {
		if odd() {
			n = rnd.Intn(4)
		}
		for range n {
			out = append(out, length(usual))
		}
		return out
	}
	r := &bench.Record{}
	told := func() bool { return rnd.Intn(3) > 0 }
	if told() {
		r.Scale = length(640)
	}
	if told() {
		r.Frets = number(24)
	}
	if told() {
		r.Radius = list(2, 300)
	}
	if told() {
		r.NutSpread, r.SaddleSpread = length(36), length(52)
	}
	if told() {
		for range count {
			s, _ := tension.Plain(length(0.3), tension.Steel)
			r.Strings = append(r.Strings, s)
		}
	}
	if told() {
		for range count {
			r.Tuning = append(r.Tuning, bench.Tone{Hertz: units.Frequency(length(200)), Pitch: units.Pitch{Note: units.Note(rnd.Intn(100))}})
		}
	}
	if told() {
		for s := 1; s <= count; s++ {
			if g := len(r.Saddles); g > 0 && rnd.Intn(2) == 0 {
				r.Saddles[g-1] = append(r.Saddles[g-1], s)
			} else {
				r.Saddles = append(r.Saddles, []int{s})
			}
		}
		if odd() {
			r.Saddles = append(r.Saddles, []int{number(5)}, nil)
		}
	}
	if told() {
		r.SaddleScrew, r.HeightScrew, r.ScrewGap = units.Thread(length(0.5)), units.Thread(length(0.6)), length(14)
	}
	if told() {
		r.Travel = [2]units.Length{length(8), length(16)}
	}
	if told() {
		r.Leaves, r.Tuner = list(3, 0.5), units.Cents(length(1))
	}
	if rnd.Intn(4) == 0 {
		r.Cores, r.AfterLengths, r.NutHeights = list(count, 0.2), list(1, 50), list(count, 0.5)
		for _, l := range list(count, 0.001) {
			r.UnitWeights = append(r.UnitWeights, units.LinearDensity(l))
		}
	}
	if rnd.Intn(4) == 0 {
		r.PostGap, r.Stands, r.LeastStands = length(74), [2]units.Length{length(3), length(4)}, length(2)
		r.Stock, r.HeightRoom, r.CrownHeight = list(2, 300), []units.Length{length(1), length(3)}, length(1)
		r.Heel, r.Swing = action.Heel{Near: length(390), Far: length(460)}, action.Swing{Depth: length(0.4), Pluck: length(120)}
		r.FallFrom, r.FallBy, r.Centres = number(20), length(0.2), odd()
	}
	if rnd.Intn(4) == 0 {
		p := &r.Plan
		p.Of, p.By, p.Edge, p.Zero, p.Gaps = 1200*units.Cents(length(1)), number(30), length(3), odd(), odd()
		p.Beyond, p.Kerf, p.Tang, p.Drill, p.Nut = length(8), length(0.6), length(1.8), length(12), list(count, 0.3)
		if rnd.Intn(2) == 0 {
			p.Temper.Degrees = fret.Just()
		}
		if rnd.Intn(2) == 0 {
			p.Scales, p.Square, r.Scale = [2]units.Length{length(640), length(660)}, float64(length(7)), 0
		}
		if rnd.Intn(4) == 0 {
			p.Keep, r.Frets = []int{number(3), 3 + number(4), 9}, 3
		}
		if rnd.Intn(4) == 0 {
			p.Degrees = []units.Cents{units.Cents(length(200)), units.Cents(length(1200))}
		}
	}
	for range rnd.Intn(8) {
		r.Entries = append(r.Entries, oddEntry(rnd, count, number, length, list))
	}
	return r
}

func oddEntry(rnd *rand.Rand, count int, number func(int) int, length func(float64) units.Length, list func(int, float64) []units.Length) bench.Entry {
	e := bench.Entry{Mood: bench.Mood(rnd.Intn(4)), Of: bench.Subject(rnd.Intn(5)), By: length(1)}
	n := count
	switch {
	case e.Mood == bench.Read && rnd.Intn(4) == 0:
		return bench.Entry{Mood: bench.Read, Of: bench.Buzz + bench.Subject(rnd.Intn(2)), On: []int{number(count)}, Frets: []int{number(12) - 1, number(20) - 1}}
	case e.Mood == bench.Did:
		e.Of = bench.Subject(rnd.Intn(18))
	case e.Of == bench.Relief:
		n = 1
	case e.Mood == bench.Want:
		e.Of, n = []bench.Subject{bench.Gap, bench.Action, bench.Curve}[rnd.Intn(3)], 1+rnd.Intn(2)
	case rnd.Intn(2) == 0:
		for s := 1; s <= n; s++ {
			e.On = append(e.On, s)
		}
	}
	if rnd.Intn(8) == 0 {
		e.On = []int{number(count)}
	}
	e.How = bench.How{At: number(12)}
	if rnd.Intn(3) == 0 {
		e.How.Held = [2]int{number(3), number(14)}
		e.How.Edge, e.How.Alone = rnd.Intn(4) == 0, rnd.Intn(4) == 0
	}
	if e.Of == bench.Gap && rnd.Intn(2) == 0 {
		e.How.Held = [2]int{3, 0}
	}
	if e.Of == bench.Cents {
		e.How.Low = number(4) - 1
		for _, l := range list(n, 5) {
			e.Cents = append(e.Cents, units.Cents(l))
		}
		return e
	}
	e.Lengths = list(n, 1.5)
	return e
}
