package bench_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// pair is one reading in plain numbers: speaking lengths at the two notes, and
// how many cents sharp the upper one is.
type pair struct{ low, high, cents float64 }

func pairAt(scale, setback float64, low, high int, cents float64) pair {
	at := func(n int) float64 { return scale*math.Exp2(-float64(n)/12) + setback }
	return pair{at(low), at(high), cents}
}

// move is l_a l_b (X - 1)/(l_a - X l_b), X = 2^(e/1200).
func (p pair) move() float64 {
	x := math.Exp2(p.cents / 1200)
	return p.low * p.high * (x - 1) / (p.low - x*p.high)
}

// after is what the pair reads with the saddle further back and the low note
// retuned: pitch goes as one over length.
func (p pair) after(by float64) float64 {
	return p.cents + 1200*math.Log2((p.low+by)/p.low*p.high/(p.high+by))
}

// band is half of how far the move shifts when every reading is out by sqrt(2)
// times the tuner's error either way.
func band(tuner float64, ps ...pair) float64 {
	up, down := slices.Clone(ps), slices.Clone(ps)
	for i := range ps {
		up[i].cents += math.Sqrt2 * tuner
		down[i].cents -= math.Sqrt2 * tuner
	}
	return (together(up...) - together(down...)) / 2
}

// together halves the interval that holds the place where sharpest and flattest
// are equally far out.
func together(ps ...pair) float64 {
	near, far := -50.0, 50.0
	for range 100 {
		mid := (near + far) / 2
		low, high := math.Inf(1), math.Inf(-1)
		for _, p := range ps {
			low, high = math.Min(low, p.after(mid)), math.Max(high, p.after(mid))
		}
		if low+high > 0 {
			near = mid
		} else {
			far = mid
		}
	}
	return near
}

func mm(x float64) units.Length { return units.Length(x) }

// One string: the move, its band, the turns of the screw and what the calliper
// must read, against the formula written out here.
func TestMoveAlone(t *testing.T) {
	// 25.5 in, 7 cents sharp at the 12th: 2.635 mm back, and with 4 mm of setback
	// 2.684 (worked in 50 digits, design notes, section 5).
	for _, row := range []struct {
		setback, want units.Length
	}{{0, 2.635}, {4, 2.684}} {
		r := &bench.Record{Scale: 25.5 * units.Inch, Entries: []bench.Entry{
			read(bench.Saddle, bench.How{From: bench.FromNut}, 25.5*units.Inch+row.setback), heard(at12, 7)}}
		if got := ok(r.MoveRows())(t)[0].Move; math.Abs(float64(got-row.want)) > 0.0005 {
			t.Errorf("7 cents at 25.5 in, setback %v: got %v, want %v", row.setback, got, row.want)
		}
	}
	for _, row := range []struct {
		low, high      int
		cents, setback float64
		tuner          float64 // 0 is not told
	}{
		{0, 12, 7, 0, 0}, {0, 12, -7, 0, 0.1}, {0, 12, 7, 3, 2}, {2, 14, 2.5, 0, 0.5}, {0, 19, -4, -1, 1}, {0, 12, 0, 0, 1},
		{0, 12, 2.4, 0, 2.5}, {0, 12, 2.6, 0, 2.5}, // within the tuner's error, and not
	} {
		const scale, place, pitch = 640, 12.5, 0.5
		how := bench.How{Low: row.low, At: row.high}
		from, at := bench.How{}, mm(place)
		if row.setback != 0 { // known only where it is measured from the nut
			from, at = bench.How{From: bench.FromNut}, mm(scale+row.setback)
		}
		r := &bench.Record{Scale: scale, SaddleScrew: pitch, Tuner: units.Cents(row.tuner), Entries: []bench.Entry{
			heard(how, units.Cents(row.cents)), read(bench.Saddle, from, at)}}
		p := pairAt(scale, row.setback, row.low, row.high, row.cents)
		tuner := row.tuner
		if tuner == 0 {
			tuner = 1 // assumed
		}
		calliper := at - mm(p.move())
		if row.setback != 0 {
			calliper = at + mm(p.move())
		}
		left := []units.Cents{0}
		if math.Abs(p.move()) <= band(tuner, p)/math.Sqrt2 { // it stays as it is
			calliper, left[0] = at, units.Cents(row.cents)
		}
		got := ok(r.MoveRows())(t)
		diff(t, fmt.Sprint(row), []bench.MoveRow{{
			Saddle: 1, Strings: []int{1}, Move: mm(p.move()), Band: mm(band(tuner, p)), Within: mm(band(tuner, p) / math.Sqrt2), Pairs: []bench.How{how},
			Slant: units.Angle(nan), Places: []units.Length{mm(p.move())}, Slopes: []float64{nan}, Wanted: []units.Cents{0}, Turns: units.Turns(math.Abs(p.move()) / pitch), Calliper: calliper,
			Left: left, Stagger: []units.Length{0}, Angle: units.Angle(nan),
		}}, got)
		if inside := math.Abs(p.move()) <= band(tuner, p)/math.Sqrt2; got[0].Inside() != inside || !got[0].Known() {
			t.Errorf("%v: got inside %v and known %v, want %v and true", row, got[0].Inside(), got[0].Known(), inside)
		}
	}
}

// Strings that share saddles: one string of each of the ways a saddle can be
// read.
func TestMoveShared(t *testing.T) {
	r := six(t, heard(at12, 6, 9, -1, 4, 2, silent), on(heard(bench.How{Low: 2, At: 14}, -3), 3),
		read(bench.Saddle, bench.How{}, 12.6, 12.1, 11.8), on(heard(at12, silent, 5), 1, 2))
	r.Saddles = [][]int{{2, 1}, {3, 5, 4}, {6}}
	r.Travel = [2]units.Length{11, 16}
	at := func(cents float64) pair { return pairAt(640, 0, 0, 12, cents) }
	low := pairAt(640, 0, 2, 14, -3)

	// Strings 2 and 1 of the first saddle: string 1 wants to stand further back.
	one, two := at(6), at(5)
	both := together(one, two)
	const limit = 12.6 - 11 // of the travel, before the best place
	if both < limit {
		t.Fatalf("got the best place at %v, want it past the travel", both)
	}
	stagger := one.move() - two.move()
	// Of three strings, one is read at two pairs: its own place is between them.
	all := []pair{at(-1), low, at(2), at(4)}
	three := together(all...)
	third := together(at(-1), low)
	lowPair := bench.How{Low: 2, At: 14}
	noTurns, noAngle := units.Turns(nan), units.Angle(nan)
	diff(t, "three saddles", []bench.MoveRow{
		{Saddle: 1, Strings: []int{2, 1}, Move: mm(limit), Band: mm(band(1, one, two)), Within: mm(band(1, one, two) / math.Sqrt2), Pairs: []bench.How{at12},
			Slant: noAngle, Places: []units.Length{mm(limit), mm(limit)}, Slopes: []float64{nan, nan}, Wanted: []units.Cents{0, 0}, Turns: noTurns, Calliper: 11, Past: mm(both - limit),
			Left: []units.Cents{units.Cents(two.after(limit)), units.Cents(one.after(limit))}, Stagger: []units.Length{0, mm(stagger)},
			// The strings cross the saddles 10 mm apart; the first listed is nearer the bass.
			Angle: units.Angle(math.Atan(stagger/-10) * 180 / math.Pi), Unsteady: []int{2}}, // it read 9, and then 5
		{Saddle: 2, Strings: []int{3, 5, 4}, Move: mm(three), Band: mm(band(1, all...)), Within: mm(band(1, all...) / math.Sqrt2), Pairs: []bench.How{at12, lowPair},
			Slant: noAngle, Places: []units.Length{mm(three), mm(three), mm(three)}, Slopes: []float64{nan, nan, nan}, Wanted: []units.Cents{0, 0, 0}, Turns: noTurns, Calliper: 12.1, Angle: noAngle,
			Left:    []units.Cents{-3, 2, 4}, // the move is not worth making
			Stagger: []units.Length{0, mm(at(2).move() - third), mm(at(4).move() - third)}},
		{Saddle: 3, Strings: []int{6}, Move: unread, Band: unread, Within: unread, Slant: noAngle, Places: []units.Length{unread}, Slopes: []float64{nan}, Wanted: []units.Cents{0}, Turns: noTurns, Calliper: unread, Angle: noAngle,
			Left: []units.Cents{silent}, Stagger: []units.Length{unread}, Unread: []int{6}},
	}, ok(r.MoveRows())(t))
}

// Staggers are against the first string of the saddle: where that is not read,
// they are not known.
func TestStaggerUnread(t *testing.T) {
	r := six(t, heard(at12, 6, 9, silent, 4, 2, 1))
	r.Saddles = [][]int{{1}, {2}, {3, 4, 5}, {6}}
	m := ok(r.MoveRows())(t)[2]
	best := together(pairAt(640, 0, 0, 12, 4), pairAt(640, 0, 0, 12, 2))
	diff(t, "move", mm(best), m.Move)
	diff(t, "stagger", []units.Length{unread, unread, unread}, m.Stagger)
	diff(t, "unread", []int{3}, m.Unread)
	r.Saddles = [][]int{{1, 2}, {3, 4}, {5, 6}}
	if m := ok(r.MoveRows())(t)[1]; !math.IsNaN(float64(m.Angle)) {
		t.Errorf("got an angle of %v for a pair of which one is read, want none", m.Angle)
	}
}

// A reading at a low fret says little of the saddle: it does not widen the band
// of a good one to its own, 4 mm, and so stop the move.
func TestBandLowFret(t *testing.T) {
	both := []pair{pairAt(640, 0, 0, 12, 7), pairAt(640, 0, 0, 2, 0)}
	r := &bench.Record{Scale: 640, Entries: []bench.Entry{heard(at12, 7), heard(bench.How{At: 2}, 0)}}
	m := ok(r.MoveRows())(t)[0]
	diff(t, "move and band", []units.Length{mm(together(both...)), mm(band(1, both...))}, []units.Length{m.Move, m.Band})
	// By slopes: 2.70 and 0.33 cents a millimetre, so 7/3.03 and 2 sqrt(2)/3.03.
	if m.Inside() || math.Abs(float64(m.Move)-2.31) > 0.02 || math.Abs(float64(m.Band)-0.93) > 0.02 {
		t.Errorf("got a move of %v within %v, want 2.31 within 0.93", m.Move, m.Band)
	}
}

// How far a move lies past the travel, either way: 10 cents at the 12th of 640 mm
// is 3.729 mm back, 640 x 320 (X - 1)/(640 - 320 X), X = 2^(10/1200), and flat by
// as much 3.665 mm forward. It goes to the limit then.
func TestTravel(t *testing.T) {
	const back, forward = 3.7290847, 3.6650198
	for _, row := range []struct {
		from       bench.Datum
		at         units.Length
		travel     [2]units.Length
		cents      units.Cents
		move, past units.Length
	}{
		{bench.FromTail, 12, [2]units.Length{8, 16}, 10, back, 0},
		{bench.FromTail, 12, [2]units.Length{9, 16}, 10, 3, back - 3},
		{bench.FromTail, 30, [2]units.Length{9, 16}, 10, 14, 14 - back}, // it stands outside its travel
		{bench.FromNut, 640, [2]units.Length{630, 643}, 10, 3, back - 3},
		{bench.FromNut, 640, [2]units.Length{630, 645}, 10, back, 0},
		{bench.FromTail, 2, [2]units.Length{}, 10, back, 0},
		{bench.FromTail, 0, [2]units.Length{-1, 0}, 10, 1, back - 1},
		{bench.FromTail, 12, [2]units.Length{8, 16}, -10, -forward, 0},
		{bench.FromTail, 12, [2]units.Length{8, 14}, -10, -2, forward - 2},
		{bench.FromNut, 640, [2]units.Length{638, 650}, -10, -2, forward - 2},
		{bench.FromNut, 640, [2]units.Length{635, 640}, -10, -forward, 0},
	} {
		r := &bench.Record{Scale: 640, Travel: row.travel, Entries: []bench.Entry{heard(at12, row.cents), read(bench.Saddle, bench.How{From: row.from}, row.at)}}
		m := ok(r.MoveRows())(t)[0]
		calliper := row.at - row.move
		if row.from == bench.FromNut {
			calliper = row.at + row.move
		}
		diff(t, fmt.Sprint(row), []units.Length{row.move, row.past, calliper}, []units.Length{m.Move, m.Past, m.Calliper})
	}
	// Without a reading of its place nothing limits it, nor one that slants.
	r := six(t, heard(at12, 10, 12, 10, silent, 0, 0), read(bench.Saddle, bench.How{}, 12, 12, unread))
	r.Travel, r.Slants = [2]units.Length{11, 16}, true
	rows := ok(r.MoveRows())(t)
	two := pairAt(640, 0, 0, 12, 12).move()
	diff(t, "slanting", []units.Length{mm((back + two) / 2), 0}, []units.Length{rows[0].Move, rows[0].Past})
	diff(t, "one string of two read", []units.Length{1, back - 1}, []units.Length{rows[1].Move, rows[1].Past})
	r.Entries = []bench.Entry{heard(at12, 10, 10, 0, 0, 0, 0)}
	diff(t, "not read", []units.Length{back, 0}, []units.Length{ok(r.MoveRows())(t)[0].Move, ok(r.MoveRows())(t)[0].Past})
}

// A saddle that slants goes by its middle, between its strings as they cross it:
// strings 1, 2 and 5 at 25, 15 and -15 mm have theirs at 25/3. Two that were read
// are both served, and the tuner's error moves both ends.
func TestSlantOfThree(t *testing.T) {
	r := six(t, heard(at12, 12, silent, 1, 1, 4, 1))
	r.Saddles, r.Slants = [][]int{{1, 2, 5}, {3, 4, 6}}, true
	m := ok(r.MoveRows())(t)[0]
	line := func(one, five float64) float64 { return five + (one-five)*(25.0/3+15)/40 }
	at := func(by float64) float64 {
		return line(pairAt(640, 0, 0, 12, 12+by).move(), pairAt(640, 0, 0, 12, 4+by).move())
	}
	one, five := pairAt(640, 0, 0, 12, 12).move(), pairAt(640, 0, 0, 12, 4).move()
	b := (at(math.Sqrt2) - at(-math.Sqrt2)) / 2
	diff(t, "move", []units.Length{mm(at(0)), mm(one), mm(five), mm(b), mm(b / math.Sqrt2)}, []units.Length{m.Move, m.Places[0], m.Places[2], m.Band, m.Within})
	diff(t, "slant", units.Angle(math.Atan((one-five)/40)*180/math.Pi), m.Slant)
	diff(t, "left", []units.Cents{0, silent, 0}, m.Left)
	diff(t, "unread", []int{2}, m.Unread)
}

// Whether a move is worth making goes by the end that moves most of a saddle that
// slants; at a limit it goes by whether it would print.
func TestInside(t *testing.T) {
	for _, row := range []struct {
		m    bench.MoveRow
		want bool
	}{
		{bench.MoveRow{Move: 0.5, Slant: units.Angle(nan)}, true},
		{bench.MoveRow{Move: -0.5, Slant: units.Angle(nan)}, true},
		{bench.MoveRow{Move: 0.51, Slant: units.Angle(nan)}, false},
		{bench.MoveRow{Move: -0.51, Slant: units.Angle(nan)}, false},
		{bench.MoveRow{Move: 0, Slant: 2, Places: []units.Length{0.5, -0.5}}, true},
		{bench.MoveRow{Move: 0, Slant: 2, Places: []units.Length{0.51, -0.4}}, false},
		{bench.MoveRow{Move: 0, Slant: 2, Places: []units.Length{-0.51, 0.4}}, false},
		{bench.MoveRow{Move: 0, Slant: -2, Places: []units.Length{0.4, -0.51}}, false},
		{bench.MoveRow{Move: 0, Slant: -2, Places: []units.Length{-0.4, 0.51}}, false},
		{bench.MoveRow{Move: 0.04, Past: 1, Slant: units.Angle(nan)}, true}, // a twentieth of 1 mm
		{bench.MoveRow{Move: 0.049, Past: 1, Slant: units.Angle(nan)}, true},
		{bench.MoveRow{Move: -0.04, Past: 1, Slant: units.Angle(nan)}, true},
		{bench.MoveRow{Move: 0.05, Past: 1, Slant: units.Angle(nan)}, false},
		{bench.MoveRow{Move: 0.06, Past: 0.1, Slant: units.Angle(nan)}, false},
	} {
		row.m.Band, row.m.Within = 1, 0.5
		if got := row.m.Inside(); got != row.want {
			t.Errorf("%+v: got %v, want %v", row.m, got, row.want)
		}
	}
}

// On a neck of two scales every string goes by its own; outer strings have the
// scales as told.
func TestMoveOnTwoScales(t *testing.T) {
	r := six(t, heard(at12, 10, 0, 0, 0, 0, 10))
	r.Scale, r.Plan.Scales, r.Saddles = 0, [2]units.Length{620, 660}, nil
	rows := ok(r.MoveRows())(t)
	diff(t, "moves", []units.Length{mm(pairAt(620, 0, 0, 12, 10).move()), mm(pairAt(660, 0, 0, 12, 10).move())}, []units.Length{rows[0].Move, rows[5].Move})
}

// The angle of a saddle's top needs to know how far its strings stand apart.
func TestAngleNeedsSpread(t *testing.T) {
	r := six(t, heard(at12, 6, 9, 0, 0, 0, 0))
	r.SaddleSpread = 0
	if m := ok(r.MoveRows())(t)[0]; !math.IsNaN(float64(m.Angle)) || math.IsNaN(float64(m.Stagger[1])) {
		t.Errorf("got a stagger of %v and an angle of %v, want no angle", m.Stagger, m.Angle)
	}
}

func TestMoveErrors(t *testing.T) {
	_, err := (&bench.Record{Entries: []bench.Entry{heard(at12, 3)}}).MoveRows()
	wantError(t, err, "got no scale, want that told first, as in scale: 648mm")
	_, err = (&bench.Record{Scale: 640}).MoveRows()
	wantError(t, err, "got no readings of cents, want that told first, as in read cents 12: +5 +3 +9 -1 +2 +4")
	_, err = (&bench.Record{Frets: -1}).MoveRows()
	wantError(t, err, "got -1 frets, want 1 to 60")
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) {}, "saddle 1+2: got strings 1 2 of two scales on one saddle, want a saddle a string there"},
		{func(r *bench.Record) { r.NutSpread = 0 }, "saddle 1+2: got no spread, want that told first, as in spread: 36mm 52mm"},
		{func(r *bench.Record) { r.NutSpread, r.Entries = 0, append(r.Entries, r.Entries...) }, "saddle 1+2: string 1: got no spread, want that told first, as in spread: 36mm 52mm"},
	} {
		r := six(t, heard(at12, 1, 2, 3, 4, 5, 6))
		r.Scale, r.Plan.Scales = 0, [2]units.Length{620, 660}
		row.change(r)
		rows, err := r.MoveRows()
		if wantError(t, err, row.want); rows != nil {
			t.Errorf("%s: got %v beside the error", row.want, rows)
		}
	}
	_, err = six(t, heard(at12, 1, 2, 3, 4, 5, 6), moved(-100, 3, 4), moved(-100, 3, 4), moved(-99, 3, 4), moved(-100, 3, 4), heard(at12, 1, 2, 3, 4, 5, 6)).MoveRows()
	wantError(t, err, "saddle 3+4: string 3: got a move of -399mm, want the saddle to stay behind fret 12")
	// What intonation refuses says which saddle and string.
	_, err = six(t, heard(at12, 0, 0, 0, 1200, 0, 0)).MoveRows()
	wantPrefix(t, err, "saddle 3+4: string 4: got 1200c at fret 12 against fret 0, want ")
	_, err = with(six(t, heard(bench.How{At: 1}, 0, 0, 0, 0, 0, 40)), func(r *bench.Record) { r.Tuner = 50 }).MoveRows()
	wantPrefix(t, err, "saddle 5+6: with a tuner good to 50c: string 6: got 110.7")
}

// A move is told no finer than its band, and stops within it.
func TestAmount(t *testing.T) {
	for _, row := range []struct {
		move, band units.Length
		want       string
	}{
		{2.6351, 0.53, "back 2.6mm"}, {-2.6351, 0.53, "forward 2.6mm"}, {-0.7, 0.53, "forward 0.7mm"}, {2.6351, 0.053, "back 2.64mm"}, {2.6351, 0.0053, "back 2.64mm"},
		{26.351, 5.3, "back 26mm"}, {263.51, 53, "back 264mm"}, {0.5, 0.53, "stop"}, {-0.5, 0.53, "stop"}, {0.5, 0.5, "stop"},
		{0.51, 0.5, "back 0.5mm"}, {unread, unread, "not read"}, {2.6351, 0, "back 2.64mm"}, {0, 0, "stop"}, {12.34, 1, "back 12mm"}, {12.34, 0.1, "back 12.3mm"},
	} {
		if got := (bench.MoveRow{Move: row.move, Band: row.band, Within: row.band}).Amount(); got != row.want {
			t.Errorf("%v within %v: got %q, want %q", row.move, row.band, got, row.want)
		}
	}
	for _, on := range []struct {
		strings []int
		want    string
	}{{nil, ""}, {[]int{3}, "3"}, {[]int{1, 2, 10}, "1+2+10"}} {
		if got := bench.Group(on.strings); got != on.want {
			t.Errorf("%v: got %q, want %q", on.strings, got, on.want)
		}
	}
}
