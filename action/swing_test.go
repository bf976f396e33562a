package action_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// plucked is an ideal string of a length, pulled aside by depth at a distance from
// its stop and let go at rest: two waves of half its first shape that run apart,
// each turned over at the ends (d'Alembert 1747).
type plucked struct{ length, at, depth float64 }

func (p plucked) shape(u float64) float64 {
	u = math.Mod(u, 2*p.length)
	if u < 0 {
		u += 2 * p.length
	}
	side := 1.0
	if u > p.length {
		u, side = 2*p.length-u, -1
	}
	if u < p.at {
		return side * p.depth * u / p.at
	}
	return side * p.depth * (p.length - u) / (p.length - p.at)
}

// lowest is the lowest place at u over a whole period: at one of many moments, or
// when a corner of either wave passes, since between those it moves evenly.
func (p plucked) lowest(u float64) float64 {
	low := math.Inf(1)
	at := func(way float64) { low = math.Min(low, (p.shape(u-way)+p.shape(u+way))/2) }
	for k := range 500 {
		at(2 * p.length * float64(k) / 500)
	}
	for _, corner := range []float64{p.at, -p.at, 2*p.length - p.at, 2*p.length + p.at} {
		at(math.Abs(corner - u))
		at(math.Abs(corner + u))
	}
	return low
}

// The envelope is the lowest that the string comes, pulled up or down by the same
// force; by how far that force pulls it aside is found from the balance of both
// halves' pull, by halving.
func TestSwingAgainstWaves(t *testing.T) {
	const tolerance = 1e-6
	rnd := rand.New(rand.NewSource(61))
	aside := func(length, fromSaddle, force float64) float64 { // at a tension of 1
		low, high := 0.0, length
		for range 200 {
			if d := (low + high) / 2; d/fromSaddle+d/(length-fromSaddle) < force {
				low = d
			} else {
				high = d
			}
		}
		return low
	}
	for range 400 {
		open := 300 + 600*rnd.Float64()
		w := action.Swing{Depth: units.Length(open / 50 * rnd.Float64()), Pluck: units.Length(open * (0.02 + 0.48*rnd.Float64()))}
		sounding := open * (0.05 + 0.95*rnd.Float64())
		if rnd.Intn(4) == 0 {
			sounding = open
		}
		pluck := math.Min(float64(w.Pluck), sounding/2)
		force := float64(w.Depth)/float64(w.Pluck) + float64(w.Depth)/(open-float64(w.Pluck))
		depth := aside(sounding, pluck, force)
		for range 10 {
			u := sounding * rnd.Float64()
			down := plucked{sounding, sounding - pluck, -depth}.lowest(u)
			up := plucked{sounding, sounding - pluck, depth}.lowest(u)
			got := float64(w.At(units.Length(open), units.Length(sounding), units.Length(u)))
			if !(math.Abs(got+math.Min(down, up)) <= tolerance*depth) {
				t.Fatalf("%+v, %v of %v sounds, at %v: got %v, want %v down or %v up", w, sounding, open, u, got, down, up)
			}
		}
	}
}

// Worked by hand: 600 mm pulled 0.4 mm aside 100 mm from the saddle.
func TestSwingAt(t *testing.T) {
	w := action.Swing{Depth: 0.4, Pluck: 100}
	for _, row := range []struct{ sounding, from, want units.Length }{
		{600, 500, 0.4}, {600, 100, 0.4}, {600, 300, 0.24}, {600, 50, 0.2}, {600, 550, 0.2}, {600, 0, 0}, {600, 600, 0},
		{300, 200, 0.32}, // 100 x 200/300 is 0.8 of 100 x 500/600
		{300, 100, 0.32},
		{120, 60, 0.144}, // in the middle: 60 x 60/120 is 0.36 of it
	} {
		near(t, "swing", w.At(600, row.sounding, row.from), row.want, 1e-15)
	}
	nan := units.Length(math.NaN())
	for _, got := range []units.Length{w.At(nan, 300, 100), w.At(600, nan, 100), w.At(600, 300, nan),
		action.Swing{Depth: nan, Pluck: 100}.At(600, 300, 100), action.Swing{Depth: 1, Pluck: nan}.At(600, 300, 100)} {
		if got == got {
			t.Errorf("got %v, want NaN", got)
		}
	}
}

func TestSwingCheck(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct {
		w      action.Swing
		length units.Length
		want   string // none where empty
	}{
		{action.Swing{Depth: 0.5, Pluck: 100}, 600, ""},
		{action.Swing{Depth: 0, Pluck: 300}, 600, ""},
		{action.Swing{Depth: 12, Pluck: 0.001}, 600, ""},
		{action.Swing{Depth: 12.1, Pluck: 100}, 600, "got a swing of 12.1mm, want 0 to 12mm, a fiftieth of the string"},
		{action.Swing{Depth: -0.5, Pluck: 100}, 600, "got a swing of -0.5mm, want 0 to 12mm, a fiftieth of the string"},
		{action.Swing{Depth: nan, Pluck: 100}, 600, "got a swing of NaNmm, want 0 to 12mm, a fiftieth of the string"},
		{action.Swing{Depth: 0.5}, 600, "got a pluck 0mm from the saddle, want more than 0 and at most 300mm, half the string"},
		{action.Swing{Depth: 0.5, Pluck: 300.5}, 600, "got a pluck 300.5mm from the saddle, want more than 0 and at most 300mm, half the string"},
		{action.Swing{Depth: 0.5, Pluck: nan}, 600, "got a pluck NaNmm from the saddle, want more than 0 and at most 300mm, half the string"},
		{action.Swing{Depth: 0.5, Pluck: inf}, 600, "got a pluck +Infmm from the saddle, want more than 0 and at most 300mm, half the string"},
		{action.Swing{Depth: 0.5, Pluck: 100}, nan, "got a swing of 0.5mm, want 0 to NaNmm, a fiftieth of the string"},
	} {
		if err := row.w.Check(row.length); row.want != "" {
			wantError(t, err, row.want)
		} else if err != nil {
			t.Errorf("%+v: got %v", row.w, err)
		}
	}
}

func TestSpare(t *testing.T) {
	rnd := rand.New(rand.NewSource(62))
	for range 300 {
		n := anyNeck(t, rnd)
		last := n.Division.Frets()
		s := 1 + rnd.Intn(n.Strings)
		l := n.Through(s, units.Length(0.6*rnd.Float64()), 12, units.Length(0.5+2*rnd.Float64()))
		w := action.Swing{Depth: units.Length(rnd.Float64()), Pluck: n.Scale * units.Length(0.05+0.4*rnd.Float64())}
		for f := 0; f < last; f++ {
			got := n.Spare(s, l, f, w)
			least, at := math.Inf(1), 0
			for over := f + 1; over <= last; over++ {
				from := n.Division.From(n.Scale, f)
				swing := w.At(n.Scale, n.Scale-from, n.Division.From(n.Scale, over)-from)
				if by := float64(n.Over(s, l, f, over) - swing); by < least {
					least, at = by, over
				}
			}
			if got.Fretted != f || got.Over != at || !(math.Abs(float64(got.By)-least) <= 1e-12) {
				t.Fatalf("fretted at %d: got %+v, want %v over %d", f, got, least, at)
			}
		}
	}
	n := usual(t)
	l, w := n.Through(1, 0.4, 12, 1.6), action.Swing{Depth: 0.5, Pluck: 100}
	if got := n.Spare(1, l, 22, w); got != (action.Spare{Fretted: 22, By: units.Length(math.Inf(1))}) {
		t.Errorf("the last fret: got %+v, want room without end", got)
	}
	for _, f := range []int{math.MinInt, -1, 23, math.MaxInt} {
		if got := n.Spare(1, l, f, w); got.By == got.By || got.Fretted != f || got.Over != 0 {
			t.Errorf("fret %d: got %+v, want NaN", f, got)
		}
	}
	level := usual(t) // equally high over every crown: the first of them is named
	level.Surface = flat
	if got := level.Spare(1, action.Line{Nut: 1, Saddle: 1}, 0, action.Swing{Pluck: 100}); got != (action.Spare{Over: 1, By: 1}) {
		t.Errorf("a string along the board: got %+v", got)
	}
	if got := n.Spare(7, l, 1, w); got.By == got.By || got.Over != 2 {
		t.Errorf("no such string: got %+v, want NaN over crown 2", got)
	}
	// A crown in the midst that cannot be is not passed over.
	n.Surface = fret.Surface{Nut: 200, End: 1, Span: 300}
	if a, b, got := n.Crown(1, 3), n.Crown(1, 12), n.Spare(1, l, 1, w); a != a || b == b || got.By == got.By {
		t.Errorf("crowns at %v and %v: got %+v, want NaN", a, b, got)
	}
}

// The lowest saddle at which every fretted note has room, found by halving with
// Spare; and the slot at which the open string just has.
func TestLowestAgainstHalving(t *testing.T) {
	rnd := rand.New(rand.NewSource(63))
	for range 200 {
		n := anyNeck(t, rnd)
		s := 1 + rnd.Intn(n.Strings)
		slot := units.Length(0.6 * rnd.Float64())
		w := action.Swing{Depth: units.Length(0.8 * rnd.Float64()), Pluck: n.Scale * units.Length(0.1+0.3*rnd.Float64())}
		got, err := n.Lowest(s, slot, w)
		if err != nil {
			t.Fatal(err)
		}
		room := func(saddle units.Length) units.Length {
			least := units.Length(math.Inf(1))
			for f := 1; f < n.Division.Frets(); f++ {
				least = min(least, n.Spare(s, action.Line{Nut: got.Line.Nut, Saddle: saddle}, f, w).By)
			}
			return least
		}
		low, high := units.Length(-100), units.Length(100)
		for range 100 {
			if mid := (low + high) / 2; room(mid) < 0 {
				low = mid
			} else {
				high = mid
			}
		}
		near(t, "saddle", got.Line.Saddle, high, 1e-10)
		near(t, "slot given", n.Slot(s, got.Line), slot, 1e-12)
		note := n.Spare(s, got.Line, got.Note.Fretted, w)
		near(t, "the note that comes closest", note.By, 0, 1e-12)
		if got.Note.By != 0 {
			t.Fatalf("got %+v, want it by 0", got.Note)
		}
		// It is that crown, or another as close, as crowns on one straight line are.
		stop := n.Division.From(n.Scale, got.Note.Fretted)
		over := n.Over(s, got.Line, got.Note.Fretted, got.Note.Over)
		near(t, "its crown", over, w.At(n.Scale, n.Scale-stop, n.Division.From(n.Scale, got.Note.Over)-stop), 1e-12)
		open := n.Spare(s, action.Line{Nut: n.Crown(s, 0) + got.Slot, Saddle: got.Line.Saddle}, 0, w)
		near(t, "open", open.By, 0, 1e-12)
		if w.Depth > 0.05 && open.Over != got.Opened {
			t.Fatalf("open: got crown %d, want %d", got.Opened, open.Over)
		}
	}
}

// A string that does not swing may lie along a straight and level board; of notes
// and crowns that are equally close the first are named.
func TestLowestOfEquals(t *testing.T) {
	n := usual(t)
	n.Surface = flat
	got, err := n.Lowest(1, 0.5, action.Swing{Pluck: 100})
	if want := (action.Lowest{Line: action.Line{Nut: 0.5}, Note: action.Spare{Fretted: 1, Over: 2}, Opened: 1}); err != nil || got != want {
		t.Errorf("got %+v, %v, want %+v", got, err, want)
	}
	// The last crown is one of them: half way along, where the open string swings most.
	w := action.Swing{Depth: 1, Pluck: 324}
	if n.Division, err = fret.Divide(100, 1200); err != nil {
		t.Fatal(err)
	}
	if got, err = n.Lowest(1, 0, w); err != nil {
		t.Fatal(err)
	}
	open := n.Spare(1, action.Line{Nut: got.Slot, Saddle: got.Line.Saddle}, 0, w)
	near(t, "open over the last crown", open.By, 0, 1e-12)
	if got.Opened != 2 || open.Over != 2 {
		t.Errorf("got the open string closest to crown %d, by its slot to %d, want 2", got.Opened, open.Over)
	}
}

// A little relief lets a string of a usual swing stand lower than a straight neck
// does, and more of it asks for more again.
func TestLowestWithRelief(t *testing.T) {
	n := usual(t)
	w := action.Swing{Depth: 0.5, Pluck: 120}
	action12 := func(bow units.Length) float64 {
		n := bowed(n, bow)
		low, err := n.Lowest(6, 0.4, w)
		if err != nil {
			t.Fatal(err)
		}
		return float64(n.Height(6, low.Line, 12))
	}
	best, at := math.Inf(1), 0
	for k := 0; k <= 60; k++ {
		if h := action12(units.Length(k) / 100); h < best {
			best, at = h, k
		}
	}
	straight, much := action12(0), action12(0.6)
	t.Logf("the 12th at %.3f mm straight, %.3f with %.2f mm of bow, %.3f with 0.6", straight, best, float64(at)/100, much)
	if !(at > 0 && at < 60 && best < straight-0.01 && best < much-0.01) {
		t.Errorf("got the least at %v of bow, want it strictly inside", float64(at)/100)
	}
}

func TestLowestErrors(t *testing.T) {
	nan := units.Length(math.NaN())
	good := action.Swing{Depth: 0.5, Pluck: 100}
	divide := func(cents ...units.Cents) fret.Division {
		d, err := fret.Divide(cents...)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	same := units.Cents(100)
	for _, row := range []struct {
		division fret.Division
		str      int
		slot     units.Length
		w        action.Swing
		want     string
	}{
		{fret.Division{}, 1, 0.4, good, "got a neck without frets, want at least 1"},
		{equal(t, 22), 1, 0.4, action.Swing{}, "got a pluck 0mm from the saddle, want more than 0 and at most 324mm, half the string"},
		{equal(t, 22), 0, 0.4, good, "got string 0, want 1 to 6"},
		{equal(t, 22), 7, 0.4, good, "got string 7, want 1 to 6"},
		{equal(t, 22), 1, nan, good, "got a slot height of NaNmm, want at most the scale"},
		{equal(t, 22), 1, -649, good, "got a slot height of -649mm, want at most the scale"},
		{equal(t, 1), 1, 0.4, good, "got 1 fret, want at least 2"},
		{divide(1e5, 2e5), 1, 0.4, good, "got no finite line over the crowns, want frets apart from each other and from the saddles"},
		{divide(same, units.Cents(math.Nextafter(100, 200))), 1, 0.4, good, ""},
	} {
		n := usual(t)
		n.Division = row.division
		got, err := n.Lowest(row.str, row.slot, row.w)
		if row.want == "" { // one fret twice over, to a rounding: an error, or finite
			if sum := float64(got.Line.Saddle + got.Slot); err == nil && sum-sum != 0 {
				t.Errorf("got %+v, want it finite", got)
			}
			continue
		}
		wantError(t, err, row.want)
		if got != (action.Lowest{}) {
			t.Errorf("got %+v beside an error, want nothing", got)
		}
	}
	for _, slot := range []units.Length{-648, 648} {
		if got, err := usual(t).Lowest(1, slot, good); err != nil {
			t.Errorf("a slot of %v: got %+v, %v", slot, got, err)
		}
	}
}
