package action_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// hostile are lengths that no bench has seen.
var hostile = []units.Length{units.Length(math.NaN()), units.Length(math.Inf(1)), units.Length(math.Inf(-1)), 0, units.Length(math.Copysign(0, -1)),
	-1, 1, 5e-324, -5e-324, 1e-150, 1e150, math.MaxFloat64, -math.MaxFloat64}

// finite refuses a solver's success with anything in it that is no number.
func finite(t *testing.T, what string, err error, values ...units.Length) {
	t.Helper()
	if err != nil {
		return
	}
	for _, v := range values {
		if v-v != 0 {
			t.Errorf("%s: got %v and no error, want finite lengths", what, values)
			return
		}
	}
}

// Whatever a formula is given it ends, and what a solver gives without an error is
// finite.
func TestHostileLengths(t *testing.T) {
	usual := usual(t)
	ints := []int{math.MinInt, -1, 0, 1, 2, 6, 12, 22, 23, math.MaxInt}
	for _, x := range hostile {
		for _, y := range hostile {
			l := action.Line{Nut: x, Saddle: y}
			n := usual
			for _, k := range ints {
				n.Crown(k, 12)
				n.Slot(k, l)
				n.Height(k, l, k)
				n.Through(k, x, k, y)
				n.ThroughTwo(1, k, x, k/2, y)
				n.Over(k, l, k, 12)
				n.Clearances(nil, 1, l, k)
				n.Gap(k, l, action.GapWay(k&3))
				n.SlotFromGap(k, x, action.GapWay(k&3), y)
				n.Spare(k, l, k, action.Swing{Depth: x, Pluck: y})
				(action.Relief{Bow: x, Far: y}).Reads(action.Way{Near: k, Far: k / 2, At: k / 3}, n.Division, x)
			}
			_ = action.FallAway{From: x, To: y, By: x}.Drop(y)
			_ = action.Relief{Bow: x, Near: y, Far: x}.Drop(y)
			action.Swing{Depth: x, Pluck: y}.At(x, y, x)
			action.Deepen(x, y, x, y)
			action.Usual(n.Division, x)

			r, err := action.Relief{Near: x, Far: y}.Reading(0.2, action.Way{Near: 1, Far: 14, At: 7}, n.Division, 648)
			finite(t, "reading", err, r.Bow, r.Near, r.Far)
			r, err = action.Usual(n.Division, 648).Reading(x, action.Way{Near: 1, Far: 14, At: 7}, n.Division, y)
			finite(t, "reading", err, r.Bow)
			s, err := action.Heel{Near: x, Far: y}.Shim(-1, 648)
			finite(t, "shim", err, s.Thickness, units.Length(s.Angle))
			s, err = action.Heel{Near: 400, Far: 450}.Shim(x, y)
			finite(t, "shim", err, s.Thickness, units.Length(s.Angle))

			n.Scale, n.SaddleSpread = x, y
			for _, levels := range [][]units.Length{{1, 2, 3, 3, 2, 1}, {x, y, x, y, x, y}} {
				c, err := n.BestCurve(levels)
				finite(t, "best curve", err, append(c.Misses, c.Worst)...)
				if !(c.Radius > 0) && err == nil {
					t.Errorf("best curve: got a radius of %v", c.Radius)
				}
				c, err = n.Curve(levels, x)
				finite(t, "curve", err, append(c.Misses, c.Worst)...)
			}
			d, err := action.Sand([]units.Length{x, y, x}, []units.Length{20, 0, -20}, x, y)
			finite(t, "sand", err, append(d.Left, d.Treble, d.Bass)...)
			d, err = action.Sand([]units.Length{-1, -2, -1}, []units.Length{x, 0, y}, 1, 1)
			finite(t, "sand", err, append(d.Left, d.Treble, d.Bass)...)
			w, err := action.TwoScrews([]units.Length{x, y}, []units.Length{y, x}, x, y)
			finite(t, "two screws", err, w.Treble, w.Bass, units.Length(w.Tilt))
			action.OneScrew([]units.Length{x, y})
			action.Centres(nil, []units.Length{x, y}, []units.Length{y})

			for _, change := range []func(n *action.Neck){
				func(n *action.Neck) { n.Scale = x },
				func(n *action.Neck) { n.Surface = fret.Surface{Nut: x, End: y, Span: 400} },
				func(n *action.Neck) { n.Relief = action.Relief{Bow: x, Far: y} },
				func(n *action.Neck) { n.FallAway = action.FallAway{From: x, To: y, By: 0.1} },
			} {
				n := usual
				change(&n)
				low, err := n.Lowest(1, 0.4, action.Swing{Depth: 0.5, Pluck: 100})
				finite(t, "lowest", err, low.Line.Nut, low.Line.Saddle, low.Slot)
				list, err := n.Suspects(1, action.Line{Nut: 0.4, Saddle: 5}, action.Swing{Depth: 0.5, Pluck: 100}, []int{3}, nil)
				if err == nil && len(list) == 0 {
					t.Error("got no suspects and no error")
				}
			}
			low, err := usual.Lowest(1, x, action.Swing{Depth: y, Pluck: 100})
			finite(t, "lowest", err, low.Line.Nut, low.Line.Saddle, low.Slot)
			usual.Suspects(1, l, action.Swing{Depth: 0.5, Pluck: x}, []int{3}, nil)
		}
	}
}

// As many frets as there may be, and long lists.
func TestHostileSizes(t *testing.T) {
	n := usual(t)
	d, err := fret.Equal(units.Octave, 500, 1000)
	if err != nil {
		t.Fatal(err)
	}
	n.Division = d
	low, err := n.Lowest(1, 0.4, action.Swing{Depth: 0.5, Pluck: 100})
	if err != nil {
		t.Fatal(err)
	}
	if got := len(n.Clearances(nil, 1, low.Line, 0)); got != 1000 {
		t.Errorf("got %d clearances, want 1000", got)
	}
	const many = 1_000_000
	changes, offsets := make([]units.Length, many), make([]units.Length, many)
	for i := range offsets {
		changes[i], offsets[i] = -0.5, units.Length(-i)
	}
	s, err := action.Sand(changes, offsets, 1, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a million strings", s.Bass, 0.5, 1e-9)
	if by, left := action.OneScrew(changes); by != -0.5 || len(left) != many {
		t.Errorf("got %v and %d left", by, len(left))
	}
	// A board's own strings are as many as it is told, so they have a limit.
	for _, n.Strings = range []int{101, many, math.MaxInt} {
		_, err := n.BestCurve(make([]units.Length, many))
		wantError(t, err, fmt.Sprintf("got %d strings, want at most 100", n.Strings))
		if _, err = n.OnRadius(nil, 100, 1, 1, 300); err == nil {
			t.Errorf("got heights of %d strings, want an error", n.Strings)
		}
	}
	n.Strings = 100
	if c, err := n.BestCurve(make([]units.Length, 100)); err != nil || c.Worst != 0 {
		t.Errorf("a hundred strings: got %v, %v", c.Worst, err)
	}
	if got := len(action.Even(nil, math.MaxInt, 1, 2)); got != 100 {
		t.Errorf("got %d even heights, want 100", got)
	}
}
