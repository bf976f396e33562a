package action_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
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
		{action.Relief{Bow: 4.03, Far: 400}, "got a bow of 4.030mm, want at most 4.000mm, a hundredth of its length: no neck bends so far"},
		{action.Relief{Bow: 3.64, Near: 36, Far: 400}, ""},
		{action.Relief{Bow: 3.7, Near: 36, Far: 400}, "got a bow of 3.700mm, want at most 3.640mm, a hundredth of its length: no neck bends so far"},
		{action.Relief{Bow: -4.1, Far: 400}, "got a bow of -4.100mm, want at most 4.000mm, a hundredth of its length: no neck bends so far"},
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

// Source: bench_rules.md row 22, recomputed: what five ways of the trade read of
// one bow, on 22 frets.
func TestReads(t *testing.T) {
	n := bowed(usual(t), 0.3)
	for _, row := range []struct {
		way   action.Way
		share string
	}{
		{action.Way{Near: 1, Far: 12, At: 6}, "0.64"},
		{action.Way{Near: 1, Far: 13, At: 6}, "0.72"},
		{action.Way{Near: 1, Far: 14, At: 6}, "0.81"},
		{action.Way{Near: 1, Far: 14, At: 7}, "0.80"},
		{action.Way{Near: 1, Far: 22, At: 8}, "1.26"},
	} {
		check(t, fmt.Sprintf("row 22, %+v", row.way), n.Relief.Reads(row.way, n.Division, n.Scale).Over(n.Relief.Bow), row.share)
	}
	// Beyond the bow the neck is straight, and reads so.
	near(t, "15, 20 at 17", n.Relief.Reads(action.Way{Near: 15, Far: 20, At: 17}, n.Division, n.Scale), 0, 1e-15)
	if got := n.Relief.Reads(action.Way{Near: 1, Far: 30, At: 8}, n.Division, n.Scale); got == got {
		t.Errorf("held at a fret that is not there: got %v, want NaN", got)
	}
}

// A reading is the gap under a straight string laid on two crowns of the neck in
// space, along the centre line.
func TestReadsInSpace(t *testing.T) {
	rnd := rand.New(rand.NewSource(21))
	for range 500 {
		n := anyNeck(t, rnd)
		n.FallAway = action.FallAway{}
		n.Strings = 1
		body := solid{n}
		a := rnd.Intn(5)
		b := a + 2 + rnd.Intn(n.Division.Frets()-a-1)
		at := a + 1 + rnd.Intn(b-a-1)
		on := func(f int) place { return place{body.fret(f), 0, body.top(body.fret(f), 0)} }
		want := body.over(on(a), on(b), at)
		near(t, "reading", n.Relief.Reads(action.Way{Near: a, Far: b, At: at}, n.Division, n.Scale), units.Length(want), 1e-9)
	}
}

// Read in one way, told in another, and back.
func TestReading(t *testing.T) {
	n := usual(t)
	ways := []action.Way{{Near: 1, Far: 12, At: 6}, {Near: 1, Far: 14, At: 7}, {Near: 1, Far: 22, At: 8}, {Near: 0, Far: 14, At: 7}, {Near: 3, Far: 17, At: 9}}
	for _, reading := range []units.Length{0.2, 0, -0.15, 1} {
		for _, w := range ways {
			for _, stretch := range []action.Relief{action.Usual(n.Division, n.Scale), {Bow: 0.7, Near: 30, Far: 400}} {
				r, err := stretch.Reading(reading, w, n.Division, n.Scale)
				if err != nil {
					t.Fatal(err)
				}
				if r.Near != stretch.Near || r.Far != stretch.Far {
					t.Errorf("got a bow from %v to %v, want it where it was", r.Near, r.Far)
				}
				near(t, "read again", r.Reads(w, n.Division, n.Scale), reading, 1e-15)
				for _, v := range ways {
					back, err := stretch.Reading(r.Reads(v, n.Division, n.Scale), v, n.Division, n.Scale)
					if err != nil {
						t.Fatal(err)
					}
					near(t, "by another way", back.Bow, r.Bow, 1e-14)
				}
			}
		}
	}
	// The same on a neck a thousandth as long.
	small, err := action.Usual(n.Division, 0.648).Reading(0.0002, ways[1], n.Division, 0.648)
	if err != nil {
		t.Fatal(err)
	}
	large, err := action.Usual(n.Division, 648).Reading(0.2, ways[1], n.Division, 648)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a small neck", 1000*small.Bow, large.Bow, 1e-12)
	// 0.35 mm held at 1 and 14 over 7 is 0.35/0.798 of bow; at 1 and last over 8 it
	// reads 1.259 of that. Both shares are those of row 22, to its digits.
	r, err := action.Usual(n.Division, n.Scale).Reading(0.35, ways[1], n.Division, n.Scale)
	if err != nil {
		t.Fatal(err)
	}
	if got := r.Reads(ways[2], n.Division, n.Scale); !(got > 0.35*1.255/0.805 && got < 0.35*1.265/0.795) {
		t.Errorf("got %v held at 1 and 22, want 0.35 mm by 1.26/0.80", got)
	}
}

func TestReadingErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	n := usual(t)
	whole, way := action.Relief{Far: 360}, action.Way{Near: 1, Far: 14, At: 7}
	for _, row := range []struct {
		r              action.Relief
		reading, scale units.Length
		w              action.Way
		want           string
	}{
		{whole, 0.2, 648, action.Way{Near: -1, Far: 14, At: 7}, "got a relief held at -1 and 14 and read at 7, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{Near: 1, Far: 23, At: 7}, "got a relief held at 1 and 23 and read at 7, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{Near: 1, Far: 14, At: 14}, "got a relief held at 1 and 14 and read at 14, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{Near: 1, Far: 14, At: 1}, "got a relief held at 1 and 14 and read at 1, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{Near: 14, Far: 1, At: 7}, "got a relief held at 14 and 1 and read at 7, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{}, "got a relief held at 0 and 0 and read at 0, want the fret read between the two, and both among 22 frets"},
		{whole, 0.2, 648, action.Way{Near: 15, Far: 21, At: 18}, "got a relief held at 15 and 21 and read at 18, want a way that sees some of the bow"},
		{whole, 0.2, 648, action.Way{Near: 1, Far: 3, At: 2}, "got a relief held at 1 and 3 and read at 2, want a way that sees some of the bow"},
		{whole, nan, 648, way, "got a bow of NaNmm, want a finite one"},
		{whole, inf, 648, way, "got a bow of +Infmm, want a finite one"},
		{whole, 0.2, 0, way, "got a scale of 0mm, want more than 0"},
		{whole, 0.2, nan, way, "got a scale of NaNmm, want more than 0"},
		{whole, 0.2, inf, way, "got a scale of +Infmm, want more than 0"},
		{action.Relief{}, 0.2, 648, way, "got a bow from 0mm to 0mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Near: -1, Far: 300}, 0.2, 648, way, "got a bow from -1mm to 300mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Near: nan, Far: 300}, 0.2, 648, way, "got a bow from NaNmm to 300mm, want the nearer end first, and neither before the nut"},
		{action.Relief{Far: inf}, 0.2, 648, way, "got a bow from 0mm to +Infmm, want the nearer end first, and neither before the nut"},
	} {
		got, err := row.r.Reading(row.reading, row.w, n.Division, row.scale)
		wantError(t, err, row.want)
		if got != (action.Relief{}) {
			t.Errorf("got %+v beside an error, want nothing", got)
		}
	}
}

// A bow of b over c reads 4 b p q/c^2 where p and q are the distances, all within
// it, from the fret read to those held: here 500 and 250 on a scale of 1000. A way
// sees a bow from a tenth of it on, and no neck bends by more than its hundredth.
func TestReadingBounds(t *testing.T) {
	d, err := fret.Divide(1200, 2400)
	if err != nil {
		t.Fatal(err)
	}
	w := action.Way{Near: 0, Far: 2, At: 1}
	r, err := action.Relief{Far: 2236}.Reading(0.1, w, d, 1000)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "seen just", r.Bow, 0.1*2236*2236/500000, 1e-12)
	_, err = action.Relief{Far: 2237}.Reading(0.1, w, d, 1000)
	wantError(t, err, "got a relief held at 0 and 2 and read at 1, want a way that sees some of the bow")
	r, err = action.Relief{Far: 1000}.Reading(10, w, d, 1000)
	wantError(t, err, "got a bow of 20.000mm, want at most 10.000mm, a hundredth of its length: no neck bends so far")
	if r != (action.Relief{}) {
		t.Errorf("got %+v beside an error, want nothing", r)
	}
}

func TestUsual(t *testing.T) {
	for _, row := range []struct{ frets, end int }{{22, 14}, {14, 14}, {12, 12}, {1, 1}} {
		got := action.Usual(equal(t, row.frets), 648)
		near(t, "far end", got.Far, units.Length(648*share(row.end)), 1e-12)
		if got.Bow != 0 || got.Near != 0 {
			t.Errorf("%d frets: got %+v, want a straight neck from the nut", row.frets, got)
		}
	}
	// The fret nearest to 1400 cents, of two the first; a single one, however high.
	divide := func(cents ...units.Cents) fret.Division {
		d, err := fret.Divide(cents...)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, row := range []struct {
		d    fret.Division
		want int
	}{
		{divide(500, 1300, 1500, 1600), 2}, {divide(500, 1200, 1500, 1600), 3}, {divide(1398, 1399, 1402), 2}, {divide(1300, 1500), 1}, {divide(3000), 1}, {fret.Division{}, 0},
	} {
		if got := action.BowEnd(row.d); got != row.want {
			t.Errorf("%d frets: got fret %d, want %d", row.d.Frets(), got, row.want)
		}
	}
	if got := action.Usual(fret.Division{}, 648); got != (action.Relief{}) {
		t.Errorf("no frets: got %+v", got)
	}
}

// The parabola against a circular arc through the same ends and of the same depth.
// Write z for the arc's drop and p for the parabola's, where c is the stretch and b
// the bow: of z^2 + z (c^2/4 - b^2)/b = (c^2/4) p/b follows z - p = 4 b z (b - z)/c^2,
// so the arc lies lower by 0 to b^3/c^2: at most a ten thousandth of the deepest
// bow that there is. The slopes at the ends are as 1 to 1 - 4 b^2/c^2.
func TestParabolaAgainstArc(t *testing.T) {
	for _, row := range []struct {
		name    string
		bow     float64
		stretch float64
	}{
		{"usual", 0.3, 360}, {"a bass", 0.5, 480}, {"too much by far", 0.8, 330}, {"a mandolin", 0.15, 190}, {"the deepest", 4, 400}, {"bent back", -0.3, 360},
	} {
		r := action.Relief{Bow: units.Length(row.bow), Far: units.Length(row.stretch)}
		b, c := math.Abs(row.bow), row.stretch
		radius := (c*c/4 + b*b) / (2 * b)
		bound := b * b * b / (c * c)
		worst := 0.0
		for i := range 1001 {
			x := c * float64(i) / 1000
			across := x - c/2
			// sqrt(R^2 - x^2) - (R - b), without the loss of digits.
			arc := b - across*across/(radius+math.Sqrt(radius*radius-across*across))
			p := math.Abs(float64(r.Drop(units.Length(x))))
			over := arc - p
			worst = math.Max(worst, over)
			if !(over >= -1e-13 && over <= bound+1e-13) {
				t.Errorf("%s: at %v got the arc %v below the parabola, want 0 to %v", row.name, x, over, bound)
			}
		}
		if !(worst > 0.99*bound-1e-13) {
			t.Errorf("%s: got the arc at most %v below the parabola, want nearly %v", row.name, worst, bound)
		}
		slope := math.Abs(float64(r.Drop(units.Length(c + 1))))
		arc := c / 2 / (radius - b)
		if ratio := slope / arc; !(math.Abs(ratio-(1-4*b*b/(c*c))) < 1e-10) {
			t.Errorf("%s: got slopes at the end as %v to 1", row.name, ratio)
		}
		t.Logf("%s: a bow of %v mm over %v mm: the arc is at most %.2g mm lower, and its ends %.2g steeper", row.name, row.bow, row.stretch, worst, arc/slope-1)
	}
}
