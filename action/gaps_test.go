package action_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Strings with equal gaps stand where fret.EqualGaps puts them at either end, and
// in a straight line between.
func TestUnevenPlaces(t *testing.T) {
	gauges := []units.Length{0.25, 0.33, 0.43, 0.66, 0.91, 1.17}
	b := action.Board{Surface: fret.Surface{Nut: 254, End: 254}, Scale: 640, NutSpread: 36, SaddleSpread: 52, Strings: 6}
	for _, end := range []struct {
		spread units.Length
		at     *[]units.Length
	}{{36, &b.AtNut}, {52, &b.AtSaddle}} {
		at, err := fret.EqualGaps(end.spread, gauges...)
		if err != nil {
			t.Fatal(err)
		}
		*end.at = at
	}
	if err := b.Check(); err != nil {
		t.Fatal(err)
	}
	for s := 1; s <= 6; s++ {
		near(t, "at the nut", b.Offset(s, 0), b.AtNut[s-1], 1e-15)
		near(t, "at the saddle", b.Offset(s, 640), b.AtSaddle[s-1], 1e-15)
		near(t, "half way", b.Offset(s, 320), (b.AtNut[s-1]+b.AtSaddle[s-1])/2, 1e-14)
	}
	// The undersides still lie on the circle that was asked for.
	heights, err := b.OnRadius(nil, 320, 1.5, 1.9, 400)
	if err != nil {
		t.Fatal(err)
	}
	n := action.Neck{Board: b, Division: equal(t, 22)}
	levels := make([]units.Length, 6)
	for i, h := range heights {
		levels[i] = n.Through(i+1, 0.5, 12, h).Saddle
	}
	c, err := b.BestCurve(levels)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "radius", c.Radius, 400, 1e-4)
	near(t, "misses", c.Worst, 0, 1e-9)

	for _, row := range []struct {
		change func(*action.Board)
		want   string
	}{
		{func(b *action.Board) { b.AtNut = nil }, "got places of 0 strings at the nut and 6 at the saddle, want both or neither"},
		{func(b *action.Board) { b.AtNut = b.AtNut[:5] }, "got places of 5 strings across, want 6, at least 2"},
		{func(b *action.Board) { b.NutSpread = 37 }, "got outer strings at 18mm and -18mm, want them half the spread of 37mm from the centre line"},
		{func(b *action.Board) { b.AtNut = []units.Length{18, 5, 7, 0, -5, -18} }, "got strings 2 and 3 at 5mm and 7mm, want them in order from the treble"},
		{func(b *action.Board) { b.AtNut = []units.Length{18, 5, 5, 0, -5, -18} }, "got strings 2 and 3 at 5mm and 5mm, want them in order from the treble"},
		{func(b *action.Board) { b.AtNut = []units.Length{18, 5, 3, 0, -19, -18} }, "got strings 5 and 6 at -19mm and -18mm, want them in order from the treble"},
		{func(b *action.Board) { b.AtNut = []units.Length{17, 5, 3, 0, -5, -18} }, "got outer strings at 17mm and -18mm, want them half the spread of 36mm from the centre line"},
		{func(b *action.Board) { b.AtNut = []units.Length{18, 5, 3, 0, -5, -17} }, "got outer strings at 18mm and -17mm, want them half the spread of 36mm from the centre line"},
		{func(b *action.Board) { b.Strings, b.AtNut, b.NutSpread = 1, []units.Length{0}, 0 }, "got places of 1 strings across, want 1, at least 2"},
	} {
		odd := b
		row.change(&odd)
		wantError(t, odd.Check(), row.want)
	}
	two := b
	two.Strings, two.AtNut, two.AtSaddle = 2, []units.Length{18, -18}, []units.Length{26, -26}
	if err := two.Check(); err != nil {
		t.Errorf("two strings in their places: got %v", err)
	}
	// Without places for a string at both ends it goes by the spreads.
	half, even := b, b
	half.AtSaddle, even.AtNut, even.AtSaddle = nil, nil, nil
	for s := 1; s <= 6; s++ {
		near(t, "places at one end", half.Offset(s, 320), even.Offset(s, 320), 0)
	}
	for _, s := range []int{-1, 0, 7} {
		if got := []units.Length{b.Offset(s, 320), even.Offset(s, 320)}; !math.IsNaN(float64(got[0])) || !math.IsNaN(float64(got[1])) {
			t.Errorf("no such string %d: got %v, want NaN", s, got)
		}
	}
}
