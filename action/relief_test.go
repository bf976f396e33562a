package action_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
)

// A bow of 0.3 mm over 400 mm: a parabola through three stated points, and its
// tangents beyond them.
func TestReliefDrop(t *testing.T) {
	r := action.Relief{Bow: 0.3, Near: 20, Far: 420}
	for _, row := range []struct{ from, want units.Length }{
		{20, 0}, {220, 0.3}, {420, 0},
		{120, 0.225}, {320, 0.225}, // three quarters of it half way to the middle
		{0, -0.06}, {440, -0.06}, // four bows over the length is the slope at its ends
		{620, -0.6},
	} {
		if got := r.Drop(row.from); !(math.Abs(float64(got-row.want)) < 1e-12) {
			t.Errorf("at %v: got %v, want %v", row.from, got, row.want)
		}
	}
	back := action.Relief{Bow: -0.3, Near: 20, Far: 420}
	for from := units.Length(-10); from < 700; from += 7 {
		if got, want := back.Drop(from), -r.Drop(from); got != want {
			t.Errorf("bent back, at %v: got %v, want %v", from, got, want)
		}
	}
}

// The slope goes on unbroken at both ends: a neck has no kink.
func TestReliefHasNoKink(t *testing.T) {
	const h = 1e-4
	r := action.Relief{Bow: 0.25, Near: 35, Far: 390}
	for _, at := range []units.Length{r.Near, r.Far} {
		before, after := (r.Drop(at)-r.Drop(at-h))/h, (r.Drop(at+h)-r.Drop(at))/h
		if !(math.Abs(float64(before-after)) < 1e-8) {
			t.Errorf("at %v: got slopes of %v and %v", at, float64(before), float64(after))
		}
	}
}

func TestReliefNone(t *testing.T) {
	nan := units.Length(math.NaN())
	if got := (action.Relief{}).Drop(300); got != 0 {
		t.Errorf("a straight neck: got %v", got)
	}
	if got := (action.Relief{}).Drop(nan); got == got {
		t.Errorf("a straight neck at NaN: got %v", got)
	}
	if got := (action.Relief{Bow: 0.2, Far: 400}).Drop(nan); got == got {
		t.Errorf("at NaN: got %v", got)
	}
}

func TestReliefCheck(t *testing.T) {
	inf, nan := units.Length(math.Inf(1)), units.Length(math.NaN())
	for _, row := range []struct {
		r    action.Relief
		want string // none where empty
	}{
		{action.Relief{}, ""},
		{action.Relief{Bow: 0.3, Far: 400}, ""},
		{action.Relief{Bow: -0.3, Near: 36, Far: 400}, ""},
		{action.Relief{Bow: 4, Far: 400}, ""},
		{action.Relief{Bow: nan, Far: 400}, "got a bow of NaNmm, want a finite one"},
		{action.Relief{Bow: inf, Far: 400}, "got a bow of +Infmm, want a finite one"},
		{action.Relief{Bow: 0.3}, "got a bow from 0mm to 0mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Bow: 0.3, Near: 400, Far: 36}, "got a bow from 400mm to 36mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Bow: 0.3, Near: -1, Far: 36}, "got a bow from -1mm to 36mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Bow: 0.3, Near: nan, Far: 36}, "got a bow from NaNmm to 36mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Bow: 0.3, Far: inf}, "got a bow from 0mm to +Infmm, want the nearer end first, and neither before the nut"},
		{action.Relief{Bow: 4.1, Far: 400}, "got a bow of 4.1mm, want at most 4mm, a hundredth of its length: no neck bends so far"},
		{action.Relief{Bow: -4.1, Far: 400}, "got a bow of -4.1mm, want at most 4mm, a hundredth of its length: no neck bends so far"},
	} {
		got := ""
		if err := row.r.Check(); err != nil {
			got = err.Error()
		}
		if got != row.want {
			t.Errorf("%+v: got %q, want %q", row.r, got, row.want)
		}
	}
}
