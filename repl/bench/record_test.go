package bench_test

import (
	"math"
	"reflect"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// Every field told makes a record not empty.
func TestEmpty(t *testing.T) {
	full := reflect.ValueOf(*six(t))
	for i := range full.NumField() {
		r := &bench.Record{}
		field := reflect.ValueOf(r).Elem().Field(i)
		switch field.Kind() {
		case reflect.Float64:
			field.SetFloat(1)
		case reflect.Int:
			field.SetInt(1)
		case reflect.Bool:
			field.SetBool(true)
		case reflect.String:
			field.SetString("x")
		case reflect.Slice:
			field.Set(reflect.MakeSlice(field.Type(), 1, 1))
		case reflect.Array:
			field.Index(0).SetFloat(1)
		case reflect.Struct:
			field.Field(0).SetFloat(1)
		default:
			t.Fatalf("field %s: a kind of %v is not looked at", full.Type().Field(i).Name, field.Kind())
		}
		if r.Empty() {
			t.Errorf("%s told: got an empty record", full.Type().Field(i).Name)
		}
	}
	if !new(bench.Record).Empty() {
		t.Error("got the zero record not empty")
	}
}

// The number of strings, and the saddles, from whatever tells them.
func TestCount(t *testing.T) {
	for _, row := range []struct {
		r       *bench.Record
		count   int
		groups  [][]int
		assumed bool
	}{
		{&bench.Record{}, 0, nil, true},
		{six(t), 6, [][]int{{1, 2}, {3, 4}, {5, 6}}, false},
		{&bench.Record{Tuning: tones(t, "E4", "B3")}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Strings: set(t, "10p"), Saddles: [][]int{{1, 2}}}, 1, [][]int{{1, 2}}, false},
		{&bench.Record{Saddles: [][]int{{1, 4}, {3}}}, 4, [][]int{{1, 4}, {3}}, false},
		{&bench.Record{Entries: []bench.Entry{heard(at12, 1, 2), on(heard(at12, 1), 3)}}, 3, [][]int{{1}, {2}, {3}}, true},
		{&bench.Record{Entries: []bench.Entry{on(heard(at12, 1, 2))}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Entries: []bench.Entry{did(bench.Slot, 2)}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Entries: []bench.Entry{moved(1, 2)}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Entries: []bench.Entry{on(want(bench.Action, at12, 1), 2)}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Entries: []bench.Entry{on(lengths(bench.Was, bench.Gap, gapHeld, 1, 2, 3))}}, 3, [][]int{{1}, {2}, {3}}, true},
		{&bench.Record{Entries: []bench.Entry{on(bench.Entry{Mood: bench.Read, Of: bench.Buzz, Frets: []int{3, 4, 5}}, 2)}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Entries: []bench.Entry{{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "10p", "13p")}}}, 2, [][]int{{1}, {2}}, true},
		{&bench.Record{Tuning: tones(t, "E4"), Saddles: [][]int{{1, 2}}}, 1, [][]int{{1, 2}}, false},
		{&bench.Record{Saddles: [][]int{{1}}, Entries: []bench.Entry{heard(at12, 1, 2)}}, 1, [][]int{{1}}, false},
		{&bench.Record{Saddles: [][]int{{100, 2}}}, 100, [][]int{{100, 2}}, false},
		{&bench.Record{Saddles: [][]int{{101, 2}}}, 2, [][]int{{101, 2}}, false}, // which Check refuses
		// These say nothing of it.
		{&bench.Record{Entries: []bench.Entry{{Mood: bench.Read, Of: bench.Buzz, Frets: []int{3}}, {Mood: bench.Read, Of: bench.Clean, Frets: []int{3, 4}}, on(read(bench.Relief, relief1to14, 0.2), 0)}}, 0, nil, true},
		{&bench.Record{Entries: []bench.Entry{read(bench.Saddle, bench.How{}, 12, 12), read(bench.Relief, relief1to14, 0.2), want(bench.Action, at12, 1, 2), did(bench.Rod)}}, 0, nil, true},
		{&bench.Record{Entries: []bench.Entry{did(bench.Slot, 1<<30)}}, 0, nil, true},
	} {
		groups, assumed := row.r.Groups()
		if got := row.r.Count(); got != row.count || assumed != row.assumed {
			t.Errorf("%+v: got %d strings, saddles assumed %v, want %d, %v", row.r, got, assumed, row.count, row.assumed)
		}
		diff(t, "saddles", row.groups, groups)
	}
}

// However many values there are, a record has so many strings at most.
func TestMostStrings(t *testing.T) {
	r := &bench.Record{Entries: []bench.Entry{on(heard(at12, make([]units.Cents, 101)...))}}
	if got := r.Count(); got != 100 {
		t.Errorf("got %d strings, want 100", got)
	}
}

// Frets before they are told are as many as may be; what may not be has none.
func TestDivisionOfFrets(t *testing.T) {
	for frets, want := range map[int]int{0: 60, 1: 1, 22: 22, 60: 60, -1: 0} {
		if got := (&bench.Record{Frets: frets}).Division().Frets(); got != want {
			t.Errorf("%d told: got %d frets, want %d", frets, got, want)
		}
	}
}

func TestAssumed(t *testing.T) {
	r := &bench.Record{}
	if a4, assumed := r.Concert(); a4 != 440 || !assumed {
		t.Errorf("got A4 %v, assumed %v, want 440Hz, true", a4, assumed)
	}
	if c, assumed := r.TunerError(); c != 1 || !assumed {
		t.Errorf("got a tuner's error of %v, assumed %v, want 1c, true", c, assumed)
	}
	r.A4, r.Tuner = 442, 0.1
	if a4, assumed := r.Concert(); a4 != 442 || assumed {
		t.Errorf("got A4 %v, assumed %v, want 442Hz, false", a4, assumed)
	}
	if c, assumed := r.TunerError(); c != 0.1 || assumed {
		t.Errorf("got a tuner's error of %v, assumed %v, want 0.1c, false", c, assumed)
	}
}

func TestTone(t *testing.T) {
	b3 := tones(t, "B3+3c")[0]
	for _, row := range []struct {
		tone bench.Tone
		hz   float64
		text string
	}{
		{b3, 432 * math.Exp2(-10.0/12+3.0/1200), "B3+3c"},
		{bench.Tone{Hertz: 196}, 196, "196Hz"},
		{bench.Tone{Pitch: b3.Pitch, Hertz: 196}, 196, "196Hz"},
	} {
		if got := float64(row.tone.Frequency(432)); math.Abs(got-row.hz) > 1e-9 {
			t.Errorf("%v: got %v Hz, want %v", row.tone, got, row.hz)
		}
		if got := row.tone.String(); got != row.text {
			t.Errorf("got %q, want %q", got, row.text)
		}
	}
}

// The board, as far as it is told; a compound radius is spread over the frets.
func TestBoard(t *testing.T) {
	span := units.Length(640 * (1 - math.Exp2(-22.0/12)))
	b := ok(six(t).Board())(t)
	diff(t, "board", action.Board{Surface: fret.Surface{Nut: 254, End: 355.6, Span: span}, Scale: 640, NutSpread: 35, SaddleSpread: 50, Strings: 6}, b)
	for _, row := range []struct {
		change func(*bench.Record)
		lacks  string // empty for nothing
	}{
		{func(r *bench.Record) { r.Radius = nil }, "radius"},
		{func(r *bench.Record) { r.Radius = []units.Length{} }, "radius"},
		{func(r *bench.Record) { r.Scale = 0 }, "scale"},
		{func(r *bench.Record) { r.Radius[1] = 254; r.Scale = 0 }, "scale"},
		{func(r *bench.Record) { r.Frets = 0 }, "number of frets"},
		{func(r *bench.Record) { r.Radius[1] = 254; r.Frets = 0 }, ""},
		{func(r *bench.Record) { r.Radius = r.Radius[:1]; r.Frets = 0 }, ""}, // which Check refuses
		{func(r *bench.Record) { r.NutSpread = 0 }, "spread"},
		{func(r *bench.Record) { r.SaddleSpread = 0 }, "spread"},
		{func(r *bench.Record) { r.Strings, r.Tuning, r.Saddles = nil, nil, nil }, "strings"},
		{func(r *bench.Record) { r.Strings, r.Tuning, r.Saddles, r.NutSpread = r.Strings[:2], nil, nil, 0 }, "spread"},
		{func(r *bench.Record) {
			r.Strings, r.Tuning, r.Saddles, r.NutSpread, r.SaddleSpread = r.Strings[:1], nil, nil, 0, 0
		}, ""},
	} {
		_, err := with(six(t), row.change).Board()
		missing, _ := err.(*bench.Missing)
		switch {
		case row.lacks == "" && err != nil:
			t.Errorf("got %v, want it right", err)
		case row.lacks != "" && (missing == nil || missing.What != row.lacks):
			t.Errorf("got %v, want no %s", err, row.lacks)
		}
	}
}

// The top of the board needs a scale and frets only where its radius changes.
func TestSurface(t *testing.T) {
	r := &bench.Record{Radius: []units.Length{254, 254}}
	diff(t, "one radius", fret.Surface{Nut: 254, End: 254}, ok(r.Surface())(t))
	r.Radius[1] = 300
	_, err := r.Surface()
	wantError(t, err, "got no scale, want that told first, as in scale: 648mm")
	r.Scale = 640
	_, err = r.Surface()
	wantError(t, err, "got no number of frets, want that told first, as in frets: 21")
	r.Frets = 12
	diff(t, "two", fret.Surface{Nut: 254, End: 300, Span: 320}, ok(r.Surface())(t))
}

// With equal gaps between the strings, thick ones must find room at either end: of 158 thou
// of strings all but half the outer two, 128.
func TestBoardGaps(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) {}, ""},
		{func(r *bench.Record) { r.NutSpread = 3 }, "got a spread of 3mm, want more than the 3.251mm that the strings take"},
		{func(r *bench.Record) { r.SaddleSpread = 2.5 }, "got a spread of 2.5mm, want more than the 3.251mm that the strings take"},
		{func(r *bench.Record) { r.Strings = nil }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) {
			r.Strings, r.Tuning, r.Saddles, r.NutSpread, r.SaddleSpread = r.Strings[:1], nil, nil, 0, 0
		}, ""},
	} {
		r := six(t)
		r.Plan.Gaps = true
		row.change(r)
		if _, err := r.Board(); row.want != "" {
			wantError(t, err, row.want)
		} else if err != nil {
			t.Errorf("got %v, want it right", err)
		}
	}
}

// Between two strings there is one gap, and either stands half the spread out.
func TestBoardOfTwo(t *testing.T) {
	r := six(t)
	r.Strings, r.Tuning, r.Saddles, r.Plan.Gaps = r.Strings[:2], nil, nil, true
	b := ok(r.Board())(t)
	diff(t, "across", [][]units.Length{{17.5, -17.5}, {25, -25}}, [][]units.Length{b.AtNut, b.AtSaddle})
}

// How far apart two strings cross the saddles shows in the angle that gives them
// their stagger: with equal centres, with equal gaps, and with those where the
// gauges are not told yet.
func TestAcross(t *testing.T) {
	sum := 0.0
	gauges := []float64{11, 14, 18, 28, 38, 49}
	for i, g := range gauges {
		gauges[i] = g * 0.0254
		sum += gauges[i]
	}
	gap := (50 - sum + (gauges[0]+gauges[5])/2) / 5
	for _, row := range []struct {
		change func(*bench.Record)
		apart  [3]float64
	}{
		{func(r *bench.Record) {}, [3]float64{10, 10, 10}},
		{func(r *bench.Record) { r.Plan.Gaps = true }, [3]float64{gap + (gauges[0]+gauges[1])/2, gap + (gauges[2]+gauges[3])/2, gap + (gauges[4]+gauges[5])/2}},
		{func(r *bench.Record) { r.Plan.Gaps, r.Strings = true, nil }, [3]float64{10, 10, 10}},
	} {
		r := six(t, heard(at12, 6, 9, 6, 9, 6, 9))
		row.change(r)
		stagger := pairAt(640, 0, 0, 12, 9).move() - pairAt(640, 0, 0, 12, 6).move()
		for i, m := range ok(r.MoveRows())(t) {
			diff(t, "angle", units.Angle(math.Atan(stagger/row.apart[i])*180/math.Pi), m.Angle)
		}
	}
	// One string alone stands half way between the posts.
	r := &bench.Record{Scale: 640, Strings: set(t, "10p"), SaddleSpread: 50, HeightScrew: 0.5, PostGap: 74,
		Entries: []bench.Entry{want(bench.Action, at12, 2), read(bench.Action, at12, 1.8)}}
	h := ok(r.HeightRows())(t)[0]
	diff(t, "posts", []units.Turns{0.8, 0.8}, []units.Turns{h.Treble, h.Bass}) // 0.4 mm at the saddle
}

// Rows that were made up may name strings that are not there: they cross as far
// on, so that changes in a straight line leave nothing over.
func TestAcrossMadeUp(t *testing.T) {
	r := six(t)
	r.Saddles, r.Stands = [][]int{all(6)}, [2]units.Length{3, 4}
	at := func(s int) bench.HeightRow { // 10 mm from string to string, 0.01 mm of height over 10 mm
		return bench.HeightRow{String: s, AtSaddle: units.Length(-0.3 - 0.001*(35-10*float64(s)))}
	}
	s, whole, err := r.Sanding([]bench.HeightRow{at(0), at(1), at(7)})
	if err != nil || !whole {
		t.Fatalf("got %v, %v, want a sanding", whole, err)
	}
	diff(t, "sanding", action.Sanding{Treble: 0.335, Bass: 0.265, Left: make([]units.Length, 3)}, s)
}

// A setback is known where a saddle's place was read from the nut, whatever was
// read from the tail since.
func TestSetback(t *testing.T) {
	r := six(t, read(bench.Saddle, bench.How{From: bench.FromNut}, 641, 642, unread), moved(0.5, 1, 2), on(read(bench.Saddle, bench.How{}, 9), 2))
	for _, row := range []struct {
		saddle int
		want   units.Length
		known  bool
	}{{1, 1.5, true}, {2, 2, true}, {3, 0, false}, {0, 0, false}, {4, 0, false}} {
		if got, known := r.Setback(row.saddle); math.Abs(float64(got-row.want)) > 1e-9 || known != row.known {
			t.Errorf("saddle %d: got %v, %v, want %v, %v", row.saddle, got, known, row.want, row.known)
		}
	}
	// Of saddles that no one counted yet, only the first two were read.
	some := six(t, on(read(bench.Saddle, bench.How{From: bench.FromNut}, 641, 642)))
	some.Saddles = nil
	if got, known := some.Setback(2); got != 2 || !known {
		t.Errorf("got %v, %v of the second saddle, want 2mm, true", got, known)
	}
	if _, known := some.Setback(3); known {
		t.Error("got a setback of the third saddle, want none")
	}
	r.Scale = 0
	if _, known := r.Setback(1); known {
		t.Error("no scale told: got a setback")
	}
}

func TestNames(t *testing.T) {
	for i, want := range []string{"relief", "gap", "action", "cents", "saddle", "curve", "strings", "rod", "shim", "slot", "height", "nut", "crowns", "pickup", "room", "buzz", "clean", "subject 17"} {
		if got := bench.Subject(i).String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
	for i, want := range []string{"want", "was", "read", "did", "mood 4"} {
		if got := bench.Mood(i).String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A record of ten thousand readings, all of one pair of frets or of every pair
// that there is, a saddle moved now and then: each string's history is gone
// through once, and the readings of one setting are not held against each other
// one by one. Either would take seconds here.
func TestManyReadings(t *testing.T) {
	for _, pairs := range []bool{false, true} {
		r := &bench.Record{Scale: 648, Frets: 22}
		for i := range 10_000 {
			e := bench.Entry{Mood: bench.Read, Of: bench.Cents, How: bench.How{At: 12}, Cents: make([]units.Cents, 6)}
			if pairs {
				e.How.At = 2 + i%21
				e.How.Low = i / 21 % e.How.At
			}
			for s := range e.Cents {
				e.Cents[s] = units.Cents((7*i+3*s)%11) / 10
			}
			r.Entries = append(r.Entries, e)
			if i%100 == 99 {
				r.Entries = append(r.Entries, bench.Entry{Mood: bench.Did, Of: bench.Saddle, By: 0.1 * units.Millimetre})
			}
		}
		last := len(r.Entries) - 1
		r.Entries = r.Entries[:last] // the last move
		rows, err := r.MoveRows()
		if err != nil || len(rows) != 6 || !rows[0].Known() {
			t.Fatalf("got %+v, %v, want moves of six saddles", rows, err)
		}
		if steps := r.Next(); len(steps) == 0 {
			t.Errorf("got no step, want one")
		}
	}
}
