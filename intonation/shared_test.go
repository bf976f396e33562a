package intonation_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

func share(t *testing.T, rs []intonation.Reading, d fret.Division, l units.Length) intonation.Shared {
	t.Helper()
	s, err := intonation.Share(rs, d, l)
	if err != nil {
		t.Fatalf("%+v: %v", rs, err)
	}
	return s
}

// anySaddle is what a bench might read of a saddle's strings, some of them at
// several pairs of frets, their break points staggered already.
func anySaddle(rnd *rand.Rand, d fret.Division) []intonation.Reading {
	var rs []intonation.Reading
	for s := range 1 + rnd.Intn(6) {
		setback := units.Length(14*rnd.Float64() - 2)
		for range 1 + rnd.Intn(3) {
			r := anyReading(rnd, d)
			r.String, r.Setback = s+1, setback
			rs = append(rs, r)
		}
	}
	rnd.Shuffle(len(rs), func(i, j int) { rs[i], rs[j] = rs[j], rs[i] })
	return rs
}

// The best place is the one that a walk over a fine grid finds, working every
// note out afresh.
func TestShareIsTheGridsBest(t *testing.T) {
	const step = 0.004 // mm
	rnd := rand.New(rand.NewSource(1))
	for range 60 {
		d, l := frets(t, 22), units.Length(400+500*rnd.Float64())
		rs := anySaddle(rnd, d)
		s := share(t, rs, d, l)

		var strings []instrument
		for _, r := range rs {
			strings = append(strings, newInstrument(r, d, l))
		}
		best, least := 0.0, math.Inf(1)
		for at := -30.0; at <= 40; at += step {
			worst := 0.0
			for _, i := range strings {
				worst = max(worst, math.Abs(i.reads(at)))
			}
			if worst < least {
				best, least = at, worst
			}
		}
		if !(math.Abs(float64(s.Move)-best) <= step) {
			t.Errorf("%+v on %v: got %v, want %v", rs, l, s.Move, best)
		}
		worst := 0.0
		for i, left := range s.Left {
			worst = max(worst, math.Abs(float64(left)))
			if want := strings[i].reads(float64(s.Move)); !(math.Abs(float64(left)-want) < 1e-9) {
				t.Errorf("%+v: got %v left, want %v", rs[i], left, want)
			}
		}
		if !(worst <= least+1e-9) {
			t.Errorf("%+v on %v: got %v left at worst, want no more than the grid's %v", rs, l, worst, least)
		}
	}
}

// What is left of the sharpest and of the flattest is equal and opposite.
func TestShareBalances(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	calls := 0
	for range 3000 {
		d := frets(t, 22)
		rs := anySaddle(rnd, d)
		s := share(t, rs, d, scale)
		sharpest, flattest := s.Left[0], s.Left[0]
		for _, c := range s.Left {
			sharpest, flattest = max(sharpest, c), min(flattest, c)
		}
		if !(math.Abs(float64(sharpest+flattest)) < 1e-6) {
			t.Fatalf("%+v: got %v and %v left, want them equal and opposite", rs, sharpest, flattest)
		}
		if len(rs) > 1 && !(sharpest > 0) {
			t.Fatalf("%+v: got %v left of the sharpest, want some", rs, sharpest)
		}
		calls = max(calls, s.Calls)
		checkOwn(t, rs, s, d)
	}
	t.Logf("the solver looked %d times at most", calls)
	if calls > 30 { // halving alone would take 36
		t.Errorf("got %d looks, want at most 30", calls)
	}
}

// checkOwn checks each string's share, and that the stagger clears it.
func checkOwn(t *testing.T, rs []intonation.Reading, s intonation.Shared, d fret.Division) {
	t.Helper()
	var order []int
	of := map[int][]intonation.Reading{}
	left := map[int]units.Cents{}
	for i, r := range rs {
		if of[r.String] == nil {
			order = append(order, r.String)
		}
		of[r.String] = append(of[r.String], r)
		if math.Abs(float64(s.Left[i])) > math.Abs(float64(left[r.String])) {
			left[r.String] = s.Left[i]
		}
	}
	if len(s.Strings) != len(order) {
		t.Fatalf("%+v: got %d strings, want %d", rs, len(s.Strings), len(order))
	}
	// With the first string's break point where it is best, the others follow by
	// their stagger.
	first := rs[0].Setback + s.Strings[0].Move
	for i, own := range s.Strings {
		mine := of[own.String]
		if own.String != order[i] || own.Left != left[own.String] {
			t.Fatalf("%+v: got string %d with %v left, want string %d with %v", rs, own.String, own.Left, order[i], left[own.String])
		}
		alone := share(t, mine, d, scale)
		if own.Move != alone.Move {
			t.Errorf("%+v: got %v for string %d alone, want %v", rs, own.Move, own.String, alone.Move)
		}
		by := first + own.Stagger - mine[0].Setback
		sharpest, flattest := math.Inf(-1), math.Inf(1)
		for _, r := range mine {
			c := after(t, r, d, scale, by)
			sharpest, flattest = max(sharpest, c), min(flattest, c)
		}
		// One reading is cleared; of several the worst two are balanced.
		if !(math.Abs(sharpest+flattest) < 1e-6) || len(mine) == 1 && !(math.Abs(sharpest) < 1e-6) {
			t.Errorf("%+v: string %d staggered reads %v to %v, want it cleared", rs, own.String, flattest, sharpest)
		}
	}
}

// Source: bench_rules.md row 29: two strings on one saddle, a and b cents: each
// keeps |a-b|/2; |a-b| L ln2/1200 of stagger clears it, at an angle whose
// tangent is that over the spacing. First order, so near for a few cents.
func TestTwoStrings(t *testing.T) {
	d := frets(t, 12)
	for _, c := range [][2]float64{{5, 3}, {9, -1}, {-4, 2}, {6, 6}, {0.5, -0.5}} {
		s := share(t, []intonation.Reading{
			{String: 1, High: 12, Cents: units.Cents(c[0])},
			{String: 2, High: 12, Cents: units.Cents(c[1])},
		}, d, scale)
		apart := c[0] - c[1]
		for i, want := range []float64{apart / 2, -apart / 2} {
			for _, got := range []units.Cents{s.Left[i], s.Strings[i].Left} {
				if !(math.Abs(float64(got)-want) <= 0.01*math.Abs(want)+1e-12) {
					t.Errorf("%v: got %v left, want about %v", c, got, want)
				}
			}
		}
		stagger := float64(s.Strings[1].Stagger)
		want := -apart * float64(scale) * math.Ln2 / 1200
		if !(math.Abs(stagger-want) <= 0.01*math.Abs(want)+1e-12) || s.Strings[0].Stagger != 0 {
			t.Errorf("%v: got staggers of %v and %v, want 0 and about %v", c, s.Strings[0].Stagger, stagger, want)
		}
		angle := units.Slope(s.Strings[1].Stagger, 10.5).Radians()
		if !(math.Abs(math.Tan(angle)*10.5-stagger) < 1e-12) {
			t.Errorf("%v: got an angle of %v, want its tangent %v over 10.5", c, angle, stagger)
		}
	}
}

// One reading is its own move; equal ones need no search.
func TestShareOfOne(t *testing.T) {
	d := frets(t, 22)
	r := intonation.Reading{String: 4, Low: 2, High: 14, Cents: -3, Setback: 2}
	s := share(t, []intonation.Reading{r}, d, scale)
	if float64(s.Move) != move(t, r, d, scale) || s.Calls != 0 || len(s.Strings) != 1 || s.Strings[0].String != 4 || s.Strings[0].Move != s.Move {
		t.Errorf("got %+v, want the move of the one reading, %v", s, move(t, r, d, scale))
	}
	twice := share(t, []intonation.Reading{r, r}, d, scale)
	if twice.Move != s.Move || len(twice.Left) != 2 || len(twice.Strings) != 1 {
		t.Errorf("got %+v from the same reading twice, want %+v", twice, s)
	}
}

// A string so flat that its own place would lie before another's fret still
// leaves a place behind it.
func TestShareStaysBehindTheFrets(t *testing.T) {
	d := frets(t, 24)
	rs := []intonation.Reading{{String: 1, High: 1, Cents: -80}, {String: 2, High: 24}}
	s := share(t, rs, d, scale)
	if own := s.Strings[0].Move; !(own < -d.Remaining(scale, 24)) {
		t.Fatalf("got %v for the flat string alone, want it before fret 24", own)
	}
	if !(s.Move > -d.Remaining(scale, 24)) || !(math.Abs(float64(s.Left[0]+s.Left[1])) < 1e-6) {
		t.Errorf("got a move of %v that leaves %v, want it behind fret 24 and balanced", s.Move, s.Left)
	}
}

func TestShareErrors(t *testing.T) {
	d := frets(t, 12)
	_, err := intonation.Share(nil, d, scale)
	wantError(t, err, "got no readings, want at least one")
	_, err = intonation.Share([]intonation.Reading{{String: 3, High: 12}, {String: 2, High: 13}}, d, scale)
	wantError(t, err, "string 2: got frets 0 and 13, want a lower and a higher one up to 12")
	s, err := intonation.Share([]intonation.Reading{
		{String: 3, High: 12, Setback: 1}, {String: 5, High: 12, Setback: 4}, {String: 3, High: 7, Setback: 2},
	}, d, scale)
	wantError(t, err, "string 3: got readings at setbacks of 1mm and 2mm, want them at one")
	if s.Left != nil || s.Strings != nil || s.Move != 0 {
		t.Errorf("got %+v beside an error, want nothing", s)
	}
}

// BenchmarkShared places three saddles of two strings each, least-worst.
func BenchmarkShared(b *testing.B) {
	d := frets(b, 22)
	cents := [6]units.Cents{5, 3, 9, -1, 2, 4}
	var saddles [3][]intonation.Reading
	for i, c := range cents {
		saddles[i/2] = append(saddles[i/2], intonation.Reading{String: i + 1, High: 12, Cents: c})
	}
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		for _, rs := range saddles {
			s, err := intonation.Share(rs, d, scale)
			if err != nil || len(s.Left) != 2 {
				b.Fatal(s, err)
			}
		}
	}
}
