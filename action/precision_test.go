package action_test

import (
	"flag"
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// points is how many random points each function is held to. DEVELOPERS.md has
// the figures of 100,000.
var points = flag.Int("points", 5_000, "random points for each function")

// A num is a number of 57 digits.
type num = *big.Float

func wide[T ~float64](x T) num { return new(big.Float).SetPrec(192).SetFloat64(float64(x)) }
func plus(x, y num) num        { return wide(0.).Add(x, y) }
func less(x, y num) num        { return wide(0.).Sub(x, y) }
func times(x, y num) num       { return wide(0.).Mul(x, y) }
func over(x, y num) num        { return wide(0.).Quo(x, y) }
func larger(x, y num) num {
	if x.Cmp(y) < 0 {
		return y
	}
	return x
}

func smaller(x, y num) num { return less(plus(x, y), larger(x, y)) }

// worst is the largest error of a function, in units of the last place of what
// it ought to be, or of a term that is larger.
type worst float64

func (w *worst) see(got units.Length, want num, term units.Length) {
	x, _ := want.Float64()
	x = max(math.Abs(x), math.Abs(float64(term)))
	off, _ := less(wide(got), want).Float64()
	*w = max(*w, worst(math.Abs(off)/(math.Nextafter(x, math.Inf(1))-x)))
}

func (w worst) within(t *testing.T, name string, most worst) {
	t.Helper()
	t.Logf("%s: worst error %.2f units in the last place", name, w)
	if !(w <= most) {
		t.Errorf("%s: got %.2f units in the last place, want at most %v", name, w, most)
	}
}

func decades(rnd *rand.Rand, low, high float64) float64 {
	return math.Exp2(math.Log2(low) + rnd.Float64()*(math.Log2(high)-math.Log2(low)))
}

// dropOf is how far a neck lies below the line from end to end of its bow.
func dropOf(r action.Relief, from num) num {
	long := less(wide(r.Far), wide(r.Near))
	u := over(less(from, wide(r.Near)), long)
	v := less(wide(1.), u)
	four := times(wide(4.), wide(r.Bow))
	switch {
	case u.Sign() < 0:
		return times(four, u)
	case v.Sign() < 0:
		return times(four, v)
	}
	return times(four, times(u, v))
}

// Anywhere along a neck and beyond the ends of its bow, and readings of every way
// that there is.
func TestReliefPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(1))
	var drop, reads, saddle worst
	for range *points {
		scale := units.Length(decades(rnd, 200, 1500))
		r := action.Relief{Bow: units.Length(decades(rnd, 1e-6, 2)), Near: scale * units.Length(0.1*rnd.Float64())}
		r.Far = r.Near + scale*units.Length(0.2+0.6*rnd.Float64())
		from := scale * units.Length(rnd.Float64())
		if rnd.Intn(2) == 0 { // near an end
			from = r.Far - scale*units.Length(decades(rnd, 1e-12, 0.1))
		}
		drop.see(r.Drop(from), dropOf(r, wide(from)), 0)

		d, err := fret.Equal(units.Octave, 12, 24)
		if err != nil {
			t.Fatal(err)
		}
		w := action.Way{Near: rnd.Intn(10)}
		w.At = w.Near + 1 + rnd.Intn(7)
		w.Far = w.At + 1 + rnd.Intn(24-w.At)
		at := func(n int) num { return times(wide(scale), wide(d.Share(n))) }
		a, m, b := at(w.Near), at(w.At), at(w.Far)
		share := over(less(m, a), less(b, a))
		line := plus(dropOf(r, a), times(share, less(dropOf(r, b), dropOf(r, a))))
		reads.see(r.Reads(w, d, scale), less(dropOf(r, m), line), max(r.Bow, r.Drop(d.From(scale, w.Far)), -r.Drop(d.From(scale, w.Far))))

		change, part := units.Length(decades(rnd, 1e-9, 10)), decades(rnd, 1e-6, 1)
		saddle.see(action.AtSaddle(change, part), over(wide(change), wide(part)), 0)
	}
	drop.within(t, "Relief.Drop", 5)                                            // eight roundings
	reads.within(t, "Relief.Reads, of the bow or the drop at the far fret", 10) // three drops
	saddle.within(t, "AtSaddle", 1)
}

// Any string plucked anywhere in its saddle's half, any part of it sounding, at
// any place.
func TestSwingPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(2))
	var w worst
	for range *points {
		open := units.Length(decades(rnd, 200, 1500))
		sounding := open * units.Length(decades(rnd, 0.05, 1))
		s := action.Swing{Depth: units.Length(decades(rnd, 1e-3, 4)), Pluck: open * units.Length(decades(rnd, 1e-3, 0.5))}
		from := sounding * units.Length(decades(rnd, 1e-6, 0.999999))
		l, u := wide(sounding), wide(from)
		p := smaller(wide(s.Pluck), over(l, wide(2.)))
		lean := func(p, l num) num { return over(times(p, less(l, p)), l) }
		triangle := func(u num) num { return smaller(over(u, less(l, p)), over(less(l, u), p)) }
		want := over(times(times(wide(s.Depth), lean(p, l)), larger(triangle(u), triangle(less(l, u)))), lean(wide(s.Pluck), wide(open)))
		w.see(s.At(open, sounding, from), want, 0)
	}
	w.within(t, "Swing.At", 8)
}

// Every string of a neck with a compound radius and relief. A slot is a difference
// of levels, so it is as good as the largest of them.
func TestSlotPrecision(t *testing.T) {
	t.Parallel()
	rnd := rand.New(rand.NewSource(3))
	var slots worst
	for range *points {
		d, err := fret.Equal(units.Octave, 12, 22)
		if err != nil {
			t.Fatal(err)
		}
		mm := func(low, high float64) units.Length { return units.Length(low + (high-low)*rnd.Float64()) }
		n := action.Neck{Division: d, Board: action.Board{Scale: mm(300, 900), NutSpread: mm(20, 50), Strings: 6}}
		n.SaddleSpread = n.NutSpread + mm(0, 25)
		n.Surface = fret.Surface{Nut: mm(150, 400), Span: d.From(n.Scale, 22)}
		n.Surface.End = n.Surface.Nut + mm(1, 200)
		n.Relief = action.Relief{Bow: mm(0, 0.5), Far: d.From(n.Scale, 14)}
		str, gap, saddle := 1+rnd.Intn(6), mm(0, 1), mm(0, 8)

		level := func(fret int) (x, z num) { // of a crown
			x = times(wide(n.Scale), wide(d.Share(fret)))
			spread := plus(wide(n.NutSpread), over(times(less(wide(n.SaddleSpread), wide(n.NutSpread)), x), wide(n.Scale)))
			y := times(spread, less(wide(0.5), over(wide(float64(str-1)), wide(5.))))
			radius := plus(wide(n.Surface.Nut), over(times(less(wide(n.Surface.End), wide(n.Surface.Nut)), x), wide(n.Surface.Span)))
			root := wide(0.).Sqrt(less(times(radius, radius), times(y, y)))
			return x, less(root, plus(radius, dropOf(n.Relief, x)))
		}
		x, z := level(1)
		_, nut := level(0)
		for _, way := range []action.GapWay{action.Open, action.Held, action.OnCrown} {
			back := func(restX, restZ num) num {
				rise := over(less(plus(z, wide(gap)), restZ), less(restX, x))
				return less(plus(restZ, times(rise, restX)), nut)
			}
			want, largest := back(wide(n.Scale), wide(saddle)), saddle
			if way != action.Open {
				want, largest = back(level(2)), 0
			}
			if way == action.OnCrown {
				want = smaller(want, back(level(3)))
			}
			for _, z := range []num{nut, z} {
				low, _ := z.Float64()
				largest = max(largest, gap, units.Length(-low))
			}
			slots.see(n.SlotFromGap(str, gap, way, saddle), want, largest)
		}
	}
	slots.within(t, "Neck.SlotFromGap, of the largest level", 16)
}
