package intonation_test

import (
	"fmt"
	"log"
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// rig is a saddle, and the notes read on it, worked out afresh.
type rig struct {
	saddle intonation.Saddle
	notes  []intonation.Note
	scale  units.Length
	heard  []instrument
	across []float64
}

// newRig reads the saddle's strings by themselves: each breaks its stagger behind
// the datum.
func newRig(s intonation.Saddle, notes []intonation.Note, d fret.Division, l units.Length) rig {
	e := rig{saddle: s, notes: notes, scale: l}
	for _, n := range notes {
		for _, r := range s.Rests {
			if r.String == n.String {
				n.Setback += r.Stagger
				e.across = append(e.across, float64(r.Across))
			}
		}
		e.heard = append(e.heard, newInstrument(n.Reading, d, l))
	}
	return e
}

// anyRig is a saddle that a bench might see: one to six strings, each at one to
// three pairs of frets, with staggers, weights and targets.
func anyRig(rnd *rand.Rand, d fret.Division, strs int) rig {
	var s intonation.Saddle
	var notes []intonation.Note
	datum := units.Length(8 * rnd.Float64())
	for i := range strs {
		s.Rests = append(s.Rests, intonation.Rest{
			String: i + 1, Across: units.Length(26 - 10.5*float64(i) + rnd.Float64()), Stagger: units.Length(6*rnd.Float64() - 3),
		})
		for range 1 + rnd.Intn(3) {
			r := anyReading(rnd, d)
			r.String, r.Setback = i+1, datum
			notes = append(notes, intonation.Note{Reading: r, Weight: float64(rnd.Intn(4)), Target: units.Cents(4*rnd.Float64() - 2)})
		}
	}
	rnd.Shuffle(len(notes), func(i, j int) { notes[i], notes[j] = notes[j], notes[i] })
	return newRig(s, notes, d, units.Length(330+534*rnd.Float64()))
}

func (e rig) weight(i int) float64 {
	if e.notes[i].Weight == 0 {
		return 1
	}
	return e.notes[i].Weight
}

// left is what a note reads above its target.
func (e rig) left(i int, move, slope float64) float64 {
	return e.heard[i].reads(move+slope*e.across[i]) - float64(e.notes[i].Target)
}

// size is what an objective makes small.
func (e rig) size(by intonation.Objective, move, slope float64) float64 {
	sum, worst := 0.0, 0.0
	for i := range e.notes {
		c := e.left(i, move, slope)
		sum += e.weight(i) * c * c
		worst = max(worst, e.weight(i)*math.Abs(c))
	}
	if by == intonation.LeastSquares {
		return sum
	}
	return worst
}

func (e rig) place(t *testing.T, by intonation.Objective, d fret.Division) intonation.Set {
	t.Helper()
	s, err := e.saddle.Place(e.notes, by, d, e.scale)
	if err != nil {
		t.Fatalf("%+v: %v", e, err)
	}
	return s
}

var objectives = []intonation.Objective{intonation.LeastWorst, intonation.LeastSquares}

func tangent(a units.Angle) float64 { return math.Tan(a.Radians()) }

// The best place is within 0.005 mm of the one that a walk over a grid of
// 0.001 mm finds, working every note out afresh (acceptance of issue 4).
func TestPlaceIsTheGridsBest(t *testing.T) {
	const step = 0.001 // mm
	rnd := rand.New(rand.NewSource(1))
	d := frets(t, 22)
	for range 12 {
		e := anyRig(rnd, d, 1+rnd.Intn(6))
		for _, by := range objectives {
			got := e.place(t, by, d)
			best, least := 0.0, math.Inf(1)
			for at := -30.0; at <= 40; at += step {
				if size := e.size(by, at, 0); size < least {
					best, least = at, size
				}
			}
			if !(math.Abs(float64(got.Move)-best) <= step) || got.Slant != 0 || got.Short != 0 {
				t.Errorf("%d, %+v: got %v, %v, short %v, want %v", by, e, got.Move, got.Slant, got.Short, best)
			}
			if size := e.size(by, float64(got.Move), 0); !(size <= least) {
				t.Errorf("%d, %+v: got %v, want no more than the grid's %v", by, e, size, least)
			}
		}
	}
}

// What a Set says of itself is so: what is left, its summary, every string's
// share and the solver's condition.
func TestSetIsConsistent(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	d := frets(t, 22)
	calls := 0
	for n := range 400 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		e.saddle.Slants = n%2 == 0
		for _, by := range objectives {
			got := e.place(t, by, d)
			slope := tangent(got.Slant)
			sum, weight, worst := 0.0, 0.0, 0.0
			for i := range e.notes {
				want := e.left(i, float64(got.Move), slope)
				near(t, "left", float64(got.Left[i]), want, 1e-9)
				sum, weight = sum+e.weight(i)*want*want, weight+e.weight(i)
				worst = max(worst, e.weight(i)*math.Abs(want))
			}
			near(t, "root of the mean of squares", float64(got.RMS), math.Sqrt(sum/weight), 1e-9)
			// The two furthest out balance: the one given first is called the worst.
			for i, c := range got.Left {
				if size := e.weight(i) * math.Abs(float64(c)); size > worst-1e-5 {
					near(t, "worst", float64(got.Worst), float64(c), 0)
					break
				}
			}
			if !(math.Abs(got.Residual) < 1e-6) {
				t.Errorf("%d, %+v: got a residual of %v, want next to none", by, e, got.Residual)
			}
			if got.Calls < 1 && len(e.notes) > 1 {
				t.Errorf("%d, %+v: got %d calls", by, e, got.Calls)
			}
			if !e.saddle.Slants {
				calls = max(calls, got.Calls)
			}
			e.checkRests(t, got, by, d)
		}
	}
	t.Logf("a saddle that does not slant takes %d looks at most", calls)
	if calls > 40 { // halving 70 mm to 1e-12 takes 46
		t.Errorf("got %d calls, want at most 40", calls)
	}
}

// The residual is what is left of the condition, worked out afresh from what is
// left of the notes; heavy weights lift it above its own rounding.
func TestResidual(t *testing.T) {
	rnd := rand.New(rand.NewSource(13))
	d := frets(t, 22)
	var most [2]float64
	for range 200 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		for i := range e.notes {
			e.notes[i].Weight = 1e12 * (1 + rnd.Float64())
		}
		for by, objective := range objectives {
			got := e.place(t, objective, d)
			sharpest, flattest, slope := math.Inf(-1), math.Inf(1), 0.0
			for i, h := range e.heard {
				c := e.notes[i].Weight * float64(got.Left[i])
				sharpest, flattest = max(sharpest, c), min(flattest, c)
				low, high := h.low+float64(got.Move), h.high+float64(got.Move)
				slope += 2 * c * 1200 / math.Ln2 * (high - low) / (low * high)
			}
			want := []float64{sharpest + flattest, slope}[by]
			near(t, "residual", got.Residual, want, []float64{1e-3, 5}[by])
			most[by] = max(most[by], math.Abs(want))
		}
	}
	t.Logf("at most %.3g and %.3g", most[0], most[1])
	if !(most[0] > 1 && most[1] > 100) {
		t.Errorf("got %v at most, want a test that tells", most)
	}
}

// checkRests checks every string's share, and that the stagger it ought to have
// puts each at its own place.
func (e rig) checkRests(t *testing.T, got intonation.Set, by intonation.Objective, d fret.Division) {
	t.Helper()
	first := e.saddle.Rests[0].Stagger + got.Rests[0].Own
	for i, r := range e.saddle.Rests {
		mine := rig{saddle: intonation.Saddle{Rests: []intonation.Rest{r}}, scale: e.scale}
		worst := 0.0
		for j, n := range e.notes {
			if n.String == r.String {
				mine.notes = append(mine.notes, n)
				worst = max(worst, e.weight(j)*math.Abs(float64(got.Left[j])))
			}
		}
		alone := mine.place(t, by, d)
		share := got.Rests[i]
		if share.String != r.String {
			t.Fatalf("%+v: got string %d, want %d", e, share.String, r.String)
		}
		near(t, "own", float64(share.Own), float64(alone.Move), 1e-9)
		near(t, "move of the break point", float64(share.Move), float64(got.Move)+tangent(got.Slant)*float64(r.Across), 1e-9)
		near(t, "stagger", float64(share.Stagger), float64(r.Stagger+alone.Move-first), 1e-9)
		for j, n := range e.notes { // of two as far out the one given first
			if n.String == r.String && e.weight(j)*math.Abs(float64(got.Left[j])) > worst-1e-6 {
				near(t, "worst of the string", float64(share.Worst), float64(got.Left[j]), 0)
				break
			}
		}
	}
}

// reach is the least and the greatest move of a note's break point at which it is
// no further out than worst, weighted: halving on the note worked out afresh.
func (e rig) reach(i int, worst float64) (low, high float64) {
	cut := func(want float64) float64 {
		a, b := -e.heard[i].high, 1e4
		for range 80 {
			mid := (a + b) / 2
			if e.heard[i].reads(mid)-float64(e.notes[i].Target) > want {
				a = mid
			} else {
				b = mid
			}
		}
		return (a + b) / 2
	}
	return cut(worst / e.weight(i)), cut(-worst / e.weight(i))
}

// slopes are all slopes at which every note can be no further out than allowed:
// the line passes between low and high of every note, so every two notes bound
// the slope. It is the exact feasibility of the linear programme.
func (e rig) slopes(allowed []float64) (least, most float64, ok bool) {
	lows, highs := make([]float64, len(e.notes)), make([]float64, len(e.notes))
	for i := range e.notes {
		lows[i], highs[i] = e.reach(i, allowed[i])
	}
	least, most = math.Inf(-1), math.Inf(1)
	for i := range lows {
		for j := range highs {
			rise, run := lows[i]-highs[j], e.across[i]-e.across[j] // rise <= slope run
			switch {
			case run > 0:
				least = max(least, rise/run)
			case run < 0:
				most = min(most, rise/run)
			case rise > 1e-11:
				return 0, 0, false
			}
		}
	}
	return least, most, least <= most+1e-11
}

// narrow finds by halving the least that may be allowed the notes for which
// fixed is NaN.
func (e rig) narrow(fixed []float64) (worst, slope float64, allowed []float64) {
	low, high := 0.0, 2000.0
	allow := func(c float64) []float64 {
		a := append([]float64(nil), fixed...)
		for i := range a {
			if math.IsNaN(a[i]) {
				a[i] = c
			}
		}
		return a
	}
	for range 60 {
		mid := (low + high) / 2
		if _, _, ok := e.slopes(allow(mid)); ok {
			high = mid
		} else {
			low = mid
		}
	}
	least, most, _ := e.slopes(allow(high))
	return high, (least + most) / 2, allow(high)
}

// A slant that is least-worst is a true minimax line: the least worst note that a
// linear programme in move and slope allows. Where that leaves the slope free,
// because the two furthest out are one string's, it makes the next string's worst
// note least.
func TestSlantIsTheMinimaxLine(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	d := frets(t, 22)
	free, tied := 0, 0
	for range 250 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		e.saddle.Slants = true
		got := e.place(t, intonation.LeastWorst, d)
		open := make([]float64, len(e.notes))
		for i := range open {
			open[i] = math.NaN()
		}
		worst, slope, allowed := e.narrow(open)
		near(t, "worst", e.size(intonation.LeastWorst, float64(got.Move), tangent(got.Slant)), worst, 1e-7)
		if least, most, _ := e.slopes(allowed); most-least > 1e-6 {
			free++
			pivot := e.pivot(allowed)
			for i := range open {
				if e.across[i] == pivot {
					open[i] = worst
				}
			}
			_, slope, _ = e.narrow(open)
		} else {
			tied++
		}
		// 0.05 degree is asked for; a slope of 1e-6 is 6e-5 degree.
		near(t, "slope", tangent(got.Slant), slope, 1e-6)
	}
	t.Logf("slope free %d times, tied %d times", free, tied)
	if free < 20 || tied < 20 {
		t.Errorf("got %d free and %d tied slopes, want both tried", free, tied)
	}
}

// pivot is the place across where the notes leave the line no room.
func (e rig) pivot(allowed []float64) float64 {
	pivot, least := math.NaN(), math.Inf(1)
	for i := range e.notes {
		for j := range e.notes {
			if e.across[i] == e.across[j] {
				low, _ := e.reach(i, allowed[i])
				_, high := e.reach(j, allowed[j])
				if high-low < least {
					pivot, least = e.across[i], high-low
				}
			}
		}
	}
	return pivot
}

// No line of a grid in move and slope does better.
func TestSlantBeatsTheGrid(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	d := frets(t, 22)
	for range 8 {
		e := anyRig(rnd, d, 3+rnd.Intn(4))
		e.saddle.Slants = true
		for _, by := range objectives {
			got := e.place(t, by, d)
			slope := tangent(got.Slant)
			least := e.size(by, float64(got.Move), slope)
			for move := -20.0; move <= 30; move += 0.25 {
				for s := -1.0; s <= 1; s += 0.02 {
					if size := e.size(by, move, s); size < least {
						t.Fatalf("%d, %+v: got %v at %v, %v, want no more than %v at %v, %v", by, e, least, got.Move, slope, size, move, s)
					}
				}
			}
			for move := -0.1; move <= 0.1; move += 0.002 {
				for s := -0.01; s <= 0.01; s += 0.0002 {
					if size := e.size(by, float64(got.Move)+move, slope+s); size < least-1e-7 {
						t.Fatalf("%d, %+v: got %v at %v, %v, want no more than %v, %v and %v on", by, e, least, got.Move, slope, size, move, s)
					}
				}
			}
		}
	}
}

// Least squares with a slant against a slow search that only ever compares.
func TestLeastSquaresSlant(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	d := frets(t, 22)
	for range 60 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		e.saddle.Slants = true
		got := e.place(t, intonation.LeastSquares, d)
		move, slope := least(func(m, s float64) float64 {
			return e.size(intonation.LeastSquares, m, s/30)
		}, 0, 0, true)
		near(t, "move", float64(got.Move), move, 1e-4)
		near(t, "slope", tangent(got.Slant), slope/30, 1e-5)
	}
}

// Two strings on a saddle that slants both stand at their own places, however
// many frets were read on each.
func TestSlantClearsTwoStrings(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	d := frets(t, 22)
	for range 200 {
		e := anyRig(rnd, d, 2)
		e.saddle.Slants = true
		for _, by := range objectives {
			for _, r := range e.place(t, by, d).Rests {
				near(t, "move of the break point", float64(r.Move), float64(r.Own), 1e-8)
			}
		}
	}
}

// With the stagger that it ought to have, every string of the saddle stands at its
// own place, and it ought to have the same again.
func TestStaggerClears(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	d := frets(t, 22)
	for range 200 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		for _, by := range objectives {
			old := e.place(t, by, d)
			shaped := rig{scale: e.scale}
			shaped.saddle.Rests = append(shaped.saddle.Rests, e.saddle.Rests...)
			for i := range shaped.saddle.Rests {
				shaped.saddle.Rests[i].Stagger = old.Rests[i].Stagger
			}
			for _, n := range e.notes {
				// Filed, the string breaks that much further back, and reads so.
				was := e.saddle.Rests[n.String-1].Stagger
				r := n.Reading
				r.Setback += was
				n.Cents = units.Cents(after(t, r, d, e.scale, old.Rests[n.String-1].Stagger-was))
				shaped.notes = append(shaped.notes, n)
			}
			for i, r := range shaped.place(t, by, d).Rests {
				near(t, "own place", float64(r.Own), float64(r.Move), 1e-8)
				near(t, "stagger", float64(r.Stagger), float64(old.Rests[i].Stagger), 1e-8)
			}
		}
	}
}

// Source: bench_rules.md row 29: two strings on one saddle, a and b cents: each
// keeps |a-b|/2; |a-b| L ln2/1200 of stagger clears it, at an angle whose
// tangent is that over the spacing. First order, so near for a few cents.
func TestPlaceTwoStrings(t *testing.T) {
	d := frets(t, 12)
	const spacing = 10.5
	s := intonation.Saddle{Rests: []intonation.Rest{{String: 1, Across: 3 + spacing}, {String: 2, Across: 3}}}
	for _, c := range [][2]float64{{5, 3}, {9, -1}, {-4, 2}, {0.5, -0.5}} {
		notes := []intonation.Note{
			{Reading: intonation.Reading{String: 1, High: 12, Cents: units.Cents(c[0])}},
			{Reading: intonation.Reading{String: 2, High: 12, Cents: units.Cents(c[1])}},
		}
		apart := c[0] - c[1]
		stagger := apart * float64(scale) * math.Ln2 / 1200
		e := newRig(s, notes, d, scale)
		for _, by := range objectives {
			got := e.place(t, by, d)
			near(t, "left", float64(got.Left[0]), apart/2, 0.005*math.Abs(apart))
			near(t, "left", float64(got.Left[1]), -apart/2, 0.005*math.Abs(apart))
			near(t, "stagger", float64(got.Rests[1].Stagger), -stagger, 0.01*math.Abs(stagger))
			e.saddle.Slants = true
			got = e.place(t, by, d)
			e.saddle.Slants = false
			near(t, "tangent", tangent(got.Slant), stagger/spacing, 0.01*math.Abs(stagger/spacing))
			near(t, "worst", float64(got.Worst), 0, 1e-8)
			near(t, "stagger", float64(got.Rests[1].Stagger), -stagger, 0.01*math.Abs(stagger))
		}
	}
}

// A saddle that must go past a limit is set to it, and says by how much it is
// short and what is left there.
func TestTravel(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	d := frets(t, 22)
	inf := units.Length(math.Inf(1))
	for range 100 {
		e := anyRig(rnd, d, 1+rnd.Intn(6))
		for _, by := range objectives {
			free := e.place(t, by, d)
			m := free.Move
			for _, row := range []struct{ least, most, move, short units.Length }{
				{m - 1, m + 1, m, 0},
				{-inf, m, m, 0},
				{m - 3, m - 0.6, m - 0.6, 0.6},
				{m + 0.6, m + 3, m + 0.6, -0.6},
				{-inf, m - 2, m - 2, 2},
				{m + 0.25, inf, m + 0.25, -0.25},
				{m + 0.5, m + 0.5, m + 0.5, -0.5}, // it cannot move any more
			} {
				e.saddle.Least, e.saddle.Most = row.least, row.most
				got := e.place(t, by, d)
				near(t, "move", float64(got.Move), float64(row.move), 1e-12)
				near(t, "short", float64(got.Short), float64(row.short), 1e-12)
				for i := range e.notes {
					near(t, "left", float64(got.Left[i]), e.left(i, float64(row.move), 0), 1e-9)
				}
				if !(math.Abs(got.Residual) < 1e-6) {
					t.Errorf("got a residual of %v, want that of the best place", got.Residual)
				}
				for i, r := range got.Rests {
					near(t, "move of the break point", float64(r.Move), float64(row.move), 1e-12)
					near(t, "own", float64(r.Own), float64(free.Rests[i].Own), 1e-12)
				}
				// Of all places that it can reach none does better.
				for _, at := range []float64{float64(got.Move) - 0.01, float64(got.Move) + 0.01} {
					if at > float64(row.least) && at < float64(row.most) && e.size(by, at, 0) < e.size(by, float64(got.Move), 0) {
						t.Errorf("%+v: got %v, want what is less at %v", e, got.Move, at)
					}
				}
			}
			e.saddle.Least, e.saddle.Most = 0, 0
		}
	}
}

// Shared saddles, judged on readings at several frets: never worse on the worst
// note than at the mean of the strings' own places or than where any one string
// is favoured, for all 1,000 (acceptance of issue 4).
func TestSharedIsNeverWorse(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	d := frets(t, 22)
	better := 0
	for n := range 1000 {
		e := anyRig(rnd, d, 2+rnd.Intn(5))
		for i := range e.notes {
			e.notes[i].Weight, e.notes[i].Target = 0, 0
		}
		got := e.place(t, intonation.LeastWorst, d)
		worst := e.size(intonation.LeastWorst, float64(got.Move), 0)
		near(t, "worst", math.Abs(float64(got.Worst)), worst, 1e-9)
		var mean float64
		for _, r := range got.Rests {
			mean += float64(r.Own) / float64(len(got.Rests))
			if at := e.size(intonation.LeastWorst, float64(r.Own), 0); worst > at+1e-9 {
				t.Errorf("%d: got %v at worst, want no more than %v with string %d favoured", n, worst, at, r.String)
			}
		}
		at := e.size(intonation.LeastWorst, mean, 0)
		if worst > at+1e-9 {
			t.Errorf("%d: got %v at worst, want no more than %v at the mean of the own places", n, worst, at)
		}
		if worst < at-0.1 {
			better++
		}
	}
	t.Logf("better than the mean by more than 0.1 cent: %d of 1000", better)
	if better < 100 {
		t.Errorf("got only %d of 1000 better than the mean, want a test that tells", better)
	}
}

// A string favoured keeps less, one forgiven more; a target is what it should
// read.
func TestFavouredAndForgiven(t *testing.T) {
	d := frets(t, 12)
	s := intonation.Saddle{Rests: []intonation.Rest{{String: 3}, {String: 4}}}
	notes := []intonation.Note{
		{Reading: intonation.Reading{String: 3, High: 12, Cents: 9}, Weight: 3},
		{Reading: intonation.Reading{String: 4, High: 12, Cents: -1}},
	}
	got := newRig(s, notes, d, scale).place(t, intonation.LeastWorst, d)
	// Of 10 cents between them a weight of 3 to 1 leaves a quarter and the rest.
	near(t, "favoured", float64(got.Left[0]), 2.5, 0.01)
	near(t, "forgiven", float64(got.Left[1]), -7.5, 0.01)
	near(t, "the one called worst", float64(got.Worst), 2.5, 0.01)
	notes[0].Target = 10
	got = newRig(s, notes, d, scale).place(t, intonation.LeastWorst, d)
	near(t, "move", float64(got.Move), move(t, intonation.Reading{High: 12, Cents: -1}, d, scale), 1e-12)
	near(t, "left", float64(got.Left[0]), 0, 1e-9)
}

// One note needs no search; equal ones and heavy weights are no trouble.
func TestPlaceOfOne(t *testing.T) {
	d := frets(t, 22)
	r := intonation.Reading{String: 4, Low: 2, High: 14, Cents: -3, Setback: 2}
	want := move(t, r, d, scale)
	for _, slants := range []bool{false, true} {
		s := intonation.Saddle{Rests: []intonation.Rest{{String: 4, Across: 5}, {String: 5, Across: -5}}, Slants: slants}
		one := intonation.Note{Reading: r}
		other := one
		other.String = 5
		for _, by := range objectives {
			for _, weight := range []float64{0, 1e-6, 1e6} {
				one.Weight = weight
				got := newRig(s, []intonation.Note{one, one, other, other}, d, scale).place(t, by, d)
				near(t, "move", float64(got.Move), want, 1e-8)
				near(t, "slope", tangent(got.Slant), 0, 1e-9)
			}
		}
	}
	// A string that was not read has no share.
	s := intonation.Saddle{Rests: []intonation.Rest{{String: 7, Stagger: 3}, {String: 4, Stagger: 1}}}
	got := newRig(s, []intonation.Note{{Reading: r}}, d, scale).place(t, intonation.LeastWorst, d)
	silent, read := got.Rests[0], got.Rests[1]
	if got.Calls != 0 || !math.IsNaN(float64(silent.Own)) || !math.IsNaN(float64(silent.Stagger)) || silent.Move != got.Move || read.Stagger != 0 {
		t.Errorf("got %+v, want no own place of string 7 and string 4 counted from itself", got)
	}
}

// Two notes whose own places differ by a rounding, or by less than any bench
// sees, have that place between, though one weighs a million times what another does.
func TestPlaceOfNearlyEqual(t *testing.T) {
	d := frets(t, 22)
	rnd := rand.New(rand.NewSource(11))
	for n := range 3000 {
		e := anyRig(rnd, d, 2)
		e.saddle.Slants = n%2 == 0
		want := 6*rnd.Float64() - 3
		for i := range e.notes {
			note := &e.notes[i]
			note.Weight = math.Pow(10, 6*rnd.Float64()-3)
			note.Target = 0
			r := note.Reading
			r.Setback += e.saddle.Rests[r.String-1].Stagger
			r.Cents = 0
			// What it reads so that its own place is want.
			r.Setback += units.Length(want)
			note.Cents = units.Cents(after(t, r, d, e.scale, units.Length(-want)) + 1e-12*rnd.Float64())
		}
		for _, by := range objectives {
			got, err := e.saddle.Place(e.notes, by, d, e.scale)
			if err != nil || !(math.Abs(float64(got.Move)-want) < 1e-6) {
				t.Fatalf("%d: got %v, %v, want %v: %+v", by, got.Move, err, want, e)
			}
		}
	}
}

// A string so flat that its own place would lie before another's fret still
// leaves a place behind it.
func TestPlaceStaysBehindTheFrets(t *testing.T) {
	d := frets(t, 24)
	s := intonation.Saddle{Rests: []intonation.Rest{{String: 1, Across: 5}, {String: 2, Across: -5}, {String: 3}}}
	notes := []intonation.Note{
		{Reading: intonation.Reading{String: 1, High: 1, Cents: -80}},
		{Reading: intonation.Reading{String: 2, High: 24}},
		{Reading: intonation.Reading{String: 3, High: 12}},
	}
	for _, s.Slants = range []bool{false, true} {
		e := newRig(s, notes, d, scale)
		got := e.place(t, intonation.LeastWorst, d)
		if own := got.Rests[0].Own; !(own < -d.Remaining(scale, 24)) {
			t.Fatalf("got %v for the flat string alone, want it before fret 24", own)
		}
		sharpest, flattest := got.Left[0], got.Left[0]
		for i, c := range got.Left {
			near(t, "left", float64(c), e.left(i, float64(got.Move), tangent(got.Slant)), 1e-6)
			sharpest, flattest = max(sharpest, c), min(flattest, c)
		}
		near(t, "balance", float64(sharpest+flattest), 0, 1e-6)
		if _, err := s.Place(notes, intonation.LeastSquares, d, scale); err != nil {
			t.Errorf("least squares: got %v, want a place", err)
		}
	}
}

func TestPlaceErrors(t *testing.T) {
	d := frets(t, 12)
	nan, inf := math.NaN(), math.Inf(1)
	reading := intonation.Reading{String: 1, High: 12}
	one := []intonation.Note{{Reading: reading}}
	rests := []intonation.Rest{{String: 1, Across: 5}, {String: 2, Across: -5}}
	heavy := []intonation.Note{
		{Reading: intonation.Reading{String: 1, High: 12, Cents: 30}, Weight: 1e308},
		{Reading: intonation.Reading{String: 2, High: 12, Cents: -30}, Weight: 1e308},
		{Reading: intonation.Reading{String: 1, High: 7, Cents: -30}, Weight: 1e308},
	}
	const noPlace = "got notes that no place of the saddle behind the frets serves, want smaller readings or weights nearer each other"
	for _, row := range []struct {
		saddle intonation.Saddle
		notes  []intonation.Note
		by     intonation.Objective
		want   string
	}{
		{intonation.Saddle{Rests: rests}, heavy, 0, noPlace},
		{intonation.Saddle{Rests: rests}, heavy, 1, noPlace},
		{intonation.Saddle{Rests: rests, Slants: true}, heavy, 0, noPlace},
		{intonation.Saddle{Rests: rests, Slants: true}, heavy, 1, noPlace},
		{intonation.Saddle{Rests: rests}, nil, 0, "got no notes, want one at least"},
		{intonation.Saddle{Rests: rests}, one, 2, "got objective 2, want least-worst or least-squares"},
		{intonation.Saddle{}, one, 0, "got a note of string 1, want one of a string on the saddle"},
		{intonation.Saddle{Rests: append(rests, rests[0])}, one, 0, "got string 1 twice on a saddle, want it once"},
		{intonation.Saddle{Rests: []intonation.Rest{{String: 1, Across: units.Length(nan)}}}, one, 0, "string 1: got NaNmm across and a stagger of 0mm, want finite ones"},
		{intonation.Saddle{Rests: []intonation.Rest{{String: 1, Stagger: units.Length(inf)}}}, one, 0, "string 1: got 0mm across and a stagger of +Infmm, want finite ones"},
		{intonation.Saddle{Rests: []intonation.Rest{{String: 1, Across: units.Length(inf), Stagger: units.Length(inf)}}}, one, 0, "string 1: got +Infmm across and a stagger of +Infmm, want finite ones"},
		{intonation.Saddle{Rests: rests, Slants: true, Least: -1}, one, 0, "got limits of a saddle that slants, want none"},
		{intonation.Saddle{Rests: rests, Slants: true, Most: 1}, one, 0, "got limits of a saddle that slants, want none"},
		{intonation.Saddle{Rests: rests, Least: 2, Most: 1}, one, 0, "got travel from 2mm to 1mm back, want the least first"},
		{intonation.Saddle{Rests: rests, Least: units.Length(nan), Most: 1}, one, 0, "got travel from NaNmm to 1mm back, want the least first"},
		{intonation.Saddle{Rests: rests, Least: units.Length(inf), Most: units.Length(inf)}, one, 0, "got notes that no place of the saddle behind the frets serves, want smaller readings or weights nearer each other"},
		{intonation.Saddle{Rests: rests, Least: -1000, Most: -900}, one, 0, "got notes that no place of the saddle behind the frets serves, want smaller readings or weights nearer each other"},
		{intonation.Saddle{Rests: rests, Slants: true}, append(one, one...), 0, "got notes at one place across a saddle that slants, want two strings apart"},
		{intonation.Saddle{Rests: rests, Slants: true}, append(one, one...), 1, "got notes at one place across a saddle that slants, want two strings apart"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: reading, Weight: -1}}, 0, "string 1: got a weight of -1, want more than 0"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: reading, Weight: -0.5}}, 0, "string 1: got a weight of -0.5, want more than 0"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: reading, Weight: nan}}, 0, "string 1: got a weight of NaN, want more than 0"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: reading, Weight: inf}}, 0, "string 1: got a weight of +Inf, want more than 0"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: reading, Target: units.Cents(nan)}}, 0, "string 1: got NaNc at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{{Reading: intonation.Reading{String: 2, High: 13}}}, 0, "string 2: got frets 0 and 13, want a lower and a higher one up to 12"},
		{intonation.Saddle{Rests: rests}, []intonation.Note{one[0], {Reading: intonation.Reading{String: 2, High: 12, Setback: 3}}}, 0, "got notes with the saddle at setbacks of 0mm and 3mm, want them at one"},
	} {
		got, err := row.saddle.Place(row.notes, row.by, d, scale)
		wantError(t, err, row.want)
		if got.Left != nil || got.Rests != nil || got.Move != 0 {
			t.Errorf("got %+v beside an error, want nothing", got)
		}
	}
}

// Whatever it is given, it answers with numbers or with one line.
func TestPlaceOfAnything(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	d := frets(t, 24)
	wild := func() float64 {
		switch rnd.Intn(12) {
		case 0:
			return []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e308, -1e308, 1e-308, 0}[rnd.Intn(7)]
		case 1, 2:
			return math.Exp(40*rnd.Float64()-20) * float64(1-2*rnd.Intn(2))
		}
		return 100*rnd.Float64() - 50
	}
	placed := 0
	for range 20000 {
		var s intonation.Saddle
		s.Slants = rnd.Intn(2) == 0
		if rnd.Intn(4) == 0 {
			s.Least, s.Most = units.Length(wild()), units.Length(wild())
		}
		var notes []intonation.Note
		setback := units.Length(wild())
		for i := range 1 + rnd.Intn(3) {
			s.Rests = append(s.Rests, intonation.Rest{String: i, Across: units.Length(wild()), Stagger: units.Length(wild())})
			for range 1 + rnd.Intn(2) {
				low := rnd.Intn(12)
				notes = append(notes, intonation.Note{
					Reading: intonation.Reading{String: i, Low: low, High: low + 1 + rnd.Intn(12), Cents: units.Cents(wild()), Setback: setback},
					Weight:  math.Abs(wild()), Target: units.Cents(wild()),
				})
			}
		}
		got, err := s.Place(notes, objectives[rnd.Intn(2)], d, scale)
		if err != nil {
			if text := err.Error(); strings.Contains(text, "\n") || !strings.Contains(text, "want") {
				t.Errorf("got error %q", text)
			}
			continue
		}
		placed++
		for _, x := range append(got.Left, got.Worst, got.RMS, units.Cents(got.Move), units.Cents(got.Slant), units.Cents(got.Short)) {
			if x-x != 0 {
				t.Fatalf("%+v, %+v: got %+v, want numbers", s, notes, got)
			}
		}
	}
	t.Logf("placed %d of 20000", placed)
	if placed < 2000 {
		t.Errorf("got %d of 20000 placed, want a test that tells", placed)
	}
}

// One straight saddle under three strings, free to stand aslant, each read at the
// 12th; the middle string goes without.
func ExampleSaddle_Place() {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	saddle := intonation.Saddle{Slants: true, Rests: []intonation.Rest{
		{String: 1, Across: 10}, {String: 2}, {String: 3, Across: -10},
	}}
	set, err := saddle.Place([]intonation.Note{
		{Reading: intonation.Reading{String: 1, High: 12, Cents: 2}},
		{Reading: intonation.Reading{String: 2, High: 12, Cents: 9}},
		{Reading: intonation.Reading{String: 3, High: 12, Cents: 6}},
	}, intonation.LeastWorst, d, 628*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%+.2f at the middle, %+.1f\n", set.Move, set.Slant)
	for i, r := range set.Rests {
		fmt.Printf("string %d: %+.2f, %+.1f left\n", r.String, r.Move, set.Left[i])
	}
	// Output:
	// +2.37mm at the middle, -4.2deg
	// string 1: +1.64mm, -2.5c left
	// string 2: +2.37mm, +2.5c left
	// string 3: +3.11mm, -2.5c left
}
