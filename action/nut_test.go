package action_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

var gapWays = []action.GapWay{action.Open, action.Held, action.OnCrown}

// Source: bench_rules.md row 23 (common practice, recomputed), on a straight neck:
// shares of the slot's height and of the saddle's, and what it costs to take one
// way of reading for another.
func TestGapBenchRules(t *testing.T) {
	n := usual(t)
	n.Surface = flat
	for _, row := range []struct {
		way          action.GapWay
		slot, saddle string
	}{{action.Held, "0.486", "0.000"}, {action.OnCrown, "0.647", "0.000"}, {action.Open, "0.944", "0.056"}} {
		check(t, "row 23, slot", float64(n.Gap(3, action.Line{Nut: 1}, row.way)), row.slot)
		check(t, "row 23, saddle", float64(n.Gap(3, action.Line{Nut: 1, Saddle: 1}, row.way)-n.Gap(3, action.Line{Nut: 1}, row.way)), row.saddle)
	}
	slot := units.Length(0.28)
	wrong := n.SlotFromGap(3, n.Gap(3, action.Line{Nut: slot}, action.Held), action.OnCrown, 0)
	check(t, "row 23, cut too deep", float64(slot-wrong), "0.07")
}

// A gap gives back the slot that shows it, on bent necks too.
func TestSlotFromGap(t *testing.T) {
	rnd := rand.New(rand.NewSource(41))
	shown := 0
	for range 2000 {
		n := anyNeck(t, rnd)
		s := 1 + rnd.Intn(n.Strings)
		slot := units.Length(0.8*rnd.Float64() + 0.02)
		l := n.Through(s, slot, 12, units.Length(1+rnd.Float64()))
		for _, w := range gapWays {
			gap := n.Gap(s, l, w)
			back := n.SlotFromGap(s, gap, w, l.Saddle)
			if gap > 0 {
				shown++
				near(t, "slot", back, slot, 1e-11)
			} else if !(back >= slot-1e-11) {
				t.Fatalf("way %v: got %v for no gap, want the highest slot with none, at least %v", w, back, slot)
			}
			if w != action.Open {
				near(t, "slot, whatever the saddle", n.SlotFromGap(s, gap, w, 99), back, 0)
			}
		}
	}
	if shown < 5000 {
		t.Errorf("got only %d gaps of 6000", shown)
	}
}

// On a neck that bends back far enough crown 2 stands in the way of a string
// pressed down on crown 3, and holds it up; the gap is then the one that is held.
func TestGapOverCrownInTheWay(t *testing.T) {
	n := bowed(usual(t), -0.3)
	body := solid{n}
	for _, row := range []struct {
		slot float64
		held bool
	}{{0.04, true}, {0.3, false}} {
		a, b := body.ends(2, body.top(0, body.across(2, 0))+row.slot, 5)
		l := action.Line{Nut: units.Length(a.z), Saddle: units.Length(b.z)}
		if in := body.over(a, body.crown(2, 3), 2) < 0; in != row.held {
			t.Fatalf("slot %v: got crown 2 in the way: %v", row.slot, in)
		}
		gap, held := n.Gap(2, l, action.OnCrown), n.Gap(2, l, action.Held)
		alone := units.Length(body.over(a, body.crown(2, 3), 1))
		if (gap == held) != row.held || !(gap > 0) || row.held && !(gap > alone+0.001) {
			t.Errorf("slot %v: got a gap of %v, held %v, on crown 3 alone %v", row.slot, gap, held, alone)
		}
		near(t, "back", n.SlotFromGap(2, gap, action.OnCrown, 0), units.Length(row.slot), 1e-12)
	}
}

func TestGapNowhere(t *testing.T) {
	nan := units.Length(math.NaN())
	n := usual(t)
	l := n.Through(1, 0.4, 12, 1.6)
	low := n.Through(1, -0.2, 12, 1.6)
	for _, w := range gapWays {
		if got := n.Gap(1, low, w); got != 0 || math.Signbit(float64(got)) {
			t.Errorf("way %v: got a gap of %v under a string on the crown", w, got)
		}
		for name, got := range map[string]units.Length{
			"no string": n.Gap(7, l, w), "a line of NaN": n.Gap(1, action.Line{Nut: nan, Saddle: nan}, w),
			"slot, no string": n.SlotFromGap(0, 0.2, w, 5), "slot, a gap of NaN": n.SlotFromGap(1, nan, w, 5),
		} {
			if got == got {
				t.Errorf("way %v, %s: got %v, want NaN", w, name, got)
			}
		}
	}
	if got := n.SlotFromGap(1, 0.2, action.Open, nan); got == got {
		t.Errorf("open, a saddle of NaN: got %v, want NaN", got)
	}
	n.Division = equal(t, 2)
	if got, want := n.Gap(1, l, action.OnCrown), n.SlotFromGap(1, 0.2, action.OnCrown, 5); got == got || want == want {
		t.Errorf("two frets: got %v and %v, want NaN", got, want)
	}
	n.Division = fret.Division{}
	for _, w := range append(gapWays, 3, 255) {
		if w > action.OnCrown {
			n.Division = equal(t, 22)
		}
		if got, slot := n.Gap(1, l, w), n.SlotFromGap(1, 0.2, w, 5); got == got || slot == slot {
			t.Errorf("way %v: got %v and %v, want NaN", w, got, slot)
		}
	}
}

func TestDeepen(t *testing.T) {
	for _, row := range []struct{ slot, wanted, margin, crowns, off, stop units.Length }{
		{0.75, 0.5, 0.0625, 1, 0.1875, 1.5625},
		{0.5, 0.5, 0.0625, 1, 0, 1.5625},     // within the margin
		{0.25, 0.5, 0.0625, 1.25, 0, 1.8125}, // too deep already
		{0.75, 0.5, 0, 1, 0.25, 1.5},
	} {
		got := action.Deepen(row.slot, row.wanted, row.margin, row.crowns)
		if got != (action.Cut{Off: row.off, Stop: row.stop}) {
			t.Errorf("%+v: got %+v", row, got)
		}
		// Cut so far, the slot stands the margin over what is wanted, and on the leaves.
		if got.Off > 0 && (row.slot-got.Off != row.wanted+row.margin || got.Stop != row.crowns+row.slot-got.Off) {
			t.Errorf("%+v: got %+v, want the margin left", row, got)
		}
	}
	nan := units.Length(math.NaN())
	if got := action.Deepen(nan, 0.5, 0.05, 1); got.Off == got.Off || got.Stop != 1.55 {
		t.Errorf("a slot of NaN: got %+v", got)
	}
	if got := action.Deepen(0.7, nan, 0.05, 1); got.Off == got.Off || got.Stop == got.Stop {
		t.Errorf("NaN wanted: got %+v", got)
	}
}
