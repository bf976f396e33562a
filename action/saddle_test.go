package action_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// circle is the level over y of the upper side of a circle through two points,
// found from its centre: square to the chord from its middle.
func circle(a, b point, r, y float64) float64 {
	if math.IsInf(r, 1) {
		return a.z + (b.z-a.z)*(y-a.y)/(b.y-a.y)
	}
	dy, dz := a.y-b.y, a.z-b.z // a is the treble one, so that the normal (-dz, dy) points up
	half := math.Hypot(dy, dz) / 2
	deep := math.Sqrt(r*r-half*half) / (2 * half)
	cy, cz := (a.y+b.y)/2+dz*deep, (a.z+b.z)/2-dy*deep
	return cz + math.Sqrt(r*r-(y-cy)*(y-cy))
}

// outer are the outer strings at the saddle.
func outer(b action.Board, levels []units.Length) (treble, bass point) {
	half := float64(b.SaddleSpread) / 2
	return point{half, float64(levels[0])}, point{-half, float64(levels[len(levels)-1])}
}

func anyLevels(rnd *rand.Rand, b action.Board, r float64) []units.Length {
	treble, bass := point{float64(b.SaddleSpread) / 2, 8 + 2*rnd.Float64()}, point{-float64(b.SaddleSpread) / 2, 8 + 2*rnd.Float64()}
	var out []units.Length
	for s := 1; s <= b.Strings; s++ {
		out = append(out, units.Length(circle(treble, bass, r, float64(b.Offset(s, b.Scale)))))
	}
	return out
}

func TestCurve(t *testing.T) {
	rnd := rand.New(rand.NewSource(31))
	for range 1000 {
		b := anyBoard(rnd)
		levels := anyLevels(rnd, b, 150+400*rnd.Float64())
		for i := range levels {
			levels[i] += units.Length(0.2*rnd.Float64() - 0.1)
		}
		for _, r := range []float64{100 + 400*rnd.Float64(), math.Inf(1)} {
			c, err := b.Curve(levels, units.Length(r))
			if err != nil {
				t.Fatal(err)
			}
			treble, bass := outer(b, levels)
			worst := 0.0
			for i, l := range levels {
				want := float64(l) - circle(treble, bass, r, float64(b.Offset(i+1, b.Scale)))
				worst = math.Max(worst, math.Abs(want))
				near(t, "miss", c.Misses[i], units.Length(want), 1e-10)
			}
			near(t, "worst", c.Worst, units.Length(worst), 1e-10)
			for _, share := range []float64{1, 0.7, 0, -0.2, -1} {
				y := share * treble.y
				near(t, "level", c.Level(units.Length(y)), units.Length(circle(treble, bass, r, y)), 1e-10)
			}
			near(t, "level beyond the treble string", c.Level(b.SaddleSpread), levels[0], 1e-10)
			near(t, "level beyond the bass string", c.Level(-b.SaddleSpread), levels[b.Strings-1], 1e-10)
			if got := c.Level(units.Length(math.NaN())); !math.IsNaN(float64(got)) {
				t.Fatalf("got a level of %v nowhere, want NaN", got)
			}
			if c.Radius != units.Length(r) || c.Misses[0] != 0 || c.Misses[b.Strings-1] != 0 {
				t.Fatalf("got %+v, want the radius given and the outer strings on it", c)
			}
		}
	}
}

// No other circle on a fine grid of curvatures misses less at the worst.
func TestBestCurveAgainstGrid(t *testing.T) {
	const steps = 2000
	rnd := rand.New(rand.NewSource(32))
	for range 200 {
		b := anyBoard(rnd)
		levels := anyLevels(rnd, b, 120+500*rnd.Float64())
		rough := []float64{0.01, 0.2, 3}[rnd.Intn(3)]
		for i := range levels {
			levels[i] += units.Length(rough * (rnd.Float64() - 0.5))
		}
		best, err := b.BestCurve(levels)
		if err != nil {
			t.Fatal(err)
		}
		treble, bass := outer(b, levels)
		slope := (treble.z - bass.z) / (treble.y - bass.y)
		least := treble.y * (1 + slope*slope)
		for k := range steps {
			r := least / (float64(k) / steps) // infinite for 0
			worst := 0.0
			for i, l := range levels {
				worst = math.Max(worst, math.Abs(float64(l)-circle(treble, bass, r, float64(b.Offset(i+1, b.Scale)))))
			}
			if !(float64(best.Worst) <= worst+1e-9) {
				t.Fatalf("%v across %v: got %v on a radius of %v, want no more than %v on %v", levels, b.SaddleSpread, best.Worst, best.Radius, worst, r)
			}
		}
		again, err := b.Curve(levels, best.Radius)
		if err != nil || !slices.Equal(again.Misses, best.Misses) {
			t.Fatalf("got %+v by its radius, %v, want %+v", again, err, best)
		}
	}
}

// Levels on a circle give it back; on a line, or in a hollow, a flat one.
func TestBestCurveExact(t *testing.T) {
	rnd := rand.New(rand.NewSource(33))
	for range 500 {
		b := anyBoard(rnd)
		r := 60 + 900*rnd.Float64()
		levels := anyLevels(rnd, b, r)
		c, err := b.BestCurve(levels)
		if err != nil {
			t.Fatal(err)
		}
		if !(math.Abs(float64(c.Radius)-r) <= 1e-6*r) || !(c.Worst <= 1e-9) {
			t.Fatalf("got a radius of %v, off by %v, want %v", c.Radius, c.Worst, r)
		}
		// A bridge a power of two smaller has a radius so much smaller.
		const k = 1. / (1 << 10)
		b.Scale, b.NutSpread, b.SaddleSpread = k*b.Scale, k*b.NutSpread, k*b.SaddleSpread
		for i := range levels {
			levels[i] *= k
		}
		if small, err := b.BestCurve(levels); err != nil || small.Radius != k*c.Radius {
			t.Fatalf("so much smaller: got a radius of %v, %v, want %v", small.Radius, err, k*c.Radius)
		}
	}
	b := action.Board{Surface: flat, Scale: 600, NutSpread: 40, SaddleSpread: 40, Strings: 5}
	for _, row := range []struct {
		levels, misses []units.Length
		worst          units.Length
	}{
		{[]units.Length{8, 8, 8, 8, 8}, []units.Length{0, 0, 0, 0, 0}, 0},
		{[]units.Length{8, 8.25, 8.5, 8.75, 9}, []units.Length{0, 0, 0, 0, 0}, 0},
		{[]units.Length{8, 7.5, 7, 7.5, 8}, []units.Length{0, -0.5, -1, -0.5, 0}, 1},
	} {
		c, err := b.BestCurve(row.levels)
		if err != nil || c.Radius != fret.Flat || !slices.Equal(c.Misses, row.misses) || c.Worst != row.worst {
			t.Errorf("%v: got %+v, %v, want a straight line", row.levels, c, err)
		}
	}
	// So steep that no circle will do: the roundest there is, half the spread.
	c, err := b.BestCurve([]units.Length{8, 90, 99, 90, 8})
	if err != nil || !(c.Radius >= 20 && c.Radius < 20+1e-9) || !(c.Worst > 70 && c.Worst < 80) {
		t.Errorf("a spire: got %+v, %v, want half the spread for a radius", c, err)
	}
	// Two strings, and one, which needs no spread, lie on any.
	two := action.Board{Surface: flat, Scale: 600, NutSpread: 40, SaddleSpread: 40, Strings: 2}
	one := action.Board{Surface: flat, Scale: 600, Strings: 1}
	odd := one
	odd.SaddleSpread = units.Length(math.NaN())
	for _, b := range []action.Board{two, one, odd} {
		levels := []units.Length{8, 9}[:b.Strings]
		c, err := b.BestCurve(levels)
		if err != nil || c.Radius != fret.Flat || len(c.Misses) != b.Strings || c.Worst != 0 {
			t.Errorf("%d strings: got %+v, %v", b.Strings, c, err)
		}
		c, err = b.Curve(levels, 254)
		if err != nil || c.Radius != 254 || len(c.Misses) != b.Strings || c.Worst != 0 || c.Level(20) != levels[0] {
			t.Errorf("%d strings on 254 mm: got %+v, %v", b.Strings, c, err)
		}
	}
	_, err = two.Curve([]units.Length{8, 13}, 20)
	wantError(t, err, "got a radius of 20mm at the saddles, want more than 20.3125mm to span the outer strings") // 20 (1 + (5/40)^2)
	_, err = one.Curve([]units.Length{8}, units.Length(math.NaN()))
	wantError(t, err, "got a radius of NaNmm at the saddles, want more than 0mm to span the outer strings")
}

func TestCurveErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	good := action.Board{Surface: flat, Scale: 600, NutSpread: 40, SaddleSpread: 40, Strings: 3}
	none := good
	none.Strings = 0
	for _, row := range []struct {
		b      action.Board
		levels []units.Length
		want   string
	}{
		{none, nil, "got 0 strings, want at least 1"},
		{good, nil, "got 0 levels for 3 strings, want one a string"},
		{good, []units.Length{8, 8, 8, 8}, "got 4 levels for 3 strings, want one a string"},
		{good, []units.Length{8, nan, 8}, "got a level of NaNmm for string 2, want at most the scale"},
		{good, []units.Length{8, 8, -inf}, "got a level of -Infmm for string 3, want at most the scale"},
		{good, []units.Length{601, 8, 8}, "got a level of 601mm for string 1, want at most the scale"},
		{good, []units.Length{8, 8, 49}, "got levels of 8mm and 49mm for the outer strings, want them no further apart than across, 40mm"},
	} {
		for _, f := range []func() (action.Curve, error){
			func() (action.Curve, error) { return row.b.Curve(row.levels, 254) },
			func() (action.Curve, error) { return row.b.BestCurve(row.levels) },
		} {
			c, err := f()
			wantError(t, err, row.want)
			if c.Radius != 0 || c.Misses != nil || c.Worst != 0 {
				t.Errorf("got %+v beside an error, want nothing", c)
			}
		}
	}
	for _, row := range []struct {
		radius units.Length
		want   string
	}{
		{20, "got a radius of 20mm at the saddles, want more than 20mm to span the outer strings"},
		{-254, "got a radius of -254mm at the saddles, want more than 20mm to span the outer strings"},
		{nan, "got a radius of NaNmm at the saddles, want more than 20mm to span the outer strings"},
	} {
		_, err := good.Curve([]units.Length{8, 9, 8}, row.radius)
		wantError(t, err, row.want)
	}
	for _, levels := range [][]units.Length{{8, 9, 48}, {8, 600, 8}, {-600, -600, -600}} { // as steep, high and low as may be
		if c, err := good.Curve(levels, 40.5); err != nil {
			t.Errorf("%v: got %+v, %v", levels, c, err)
		}
	}
	tiny := good
	tiny.NutSpread, tiny.SaddleSpread = 5e-324, 5e-324
	if c, err := tiny.BestCurve([]units.Length{8, 9, 8}); err != nil || c.Worst-c.Worst != 0 {
		t.Errorf("next to no spread: got %+v, %v, want finite misses", c, err)
	}
}

func TestCentres(t *testing.T) {
	u, g := []units.Length{8, 9, 10}, []units.Length{0.25, 0.5, 1}
	if got, want := action.Centres([]units.Length{7}, u, g), []units.Length{7, 8.125, 9.25, 10.5}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := action.Centres(nil, u, g[:1]); !slices.Equal(got, []units.Length{8.125}) {
		t.Errorf("one gauge: got %v", got)
	}
	if got := action.Centres(nil, nil, g); got != nil {
		t.Errorf("no undersides: got %v", got)
	}
}

// Worked by hand, strings at 20, 0 and -20.
func TestSand(t *testing.T) {
	inf := units.Length(math.Inf(1))
	at := []units.Length{20, 0, -20}
	for _, row := range []struct {
		name                 string
		changes              []units.Length
		roomTreble, roomBass units.Length
		treble, bass         units.Length
		left                 []units.Length
	}{
		{"level", []units.Length{-0.5, -0.5, -0.5}, 2, 2, 0.5, 0.5, []units.Length{0, 0, 0}},
		{"a slope", []units.Length{-0.25, -0.5, -0.75}, inf, inf, 0.25, 0.75, []units.Length{0, 0, 0}},
		// The nearest line is level at -0.75; the middle string would go too low.
		{"a crown", []units.Length{-1, -0.25, -1}, 2, 2, 0.25, 0.25, []units.Length{0.75, 0, 0.75}},
		{"a hollow", []units.Length{-0.25, -1, -0.25}, 2, 2, 0.25, 0.25, []units.Length{0, 0.75, 0}},
		{"the treble string stays", []units.Length{0.25, -0.5, -1}, 2, 2, 0, 1, []units.Length{-0.25, 0, 0}},
		{"the bass string stays", []units.Length{-1, -0.5, 0.25}, 2, 2, 1, 0, []units.Length{0, 0, -0.25}},
		{"the middle string too low: nothing to take", []units.Length{-1, 0.25, -1}, 2, 2, 0, 0, []units.Length{1, -0.25, 1}},
		{"all too low", []units.Length{0.5, 0.25, 0.5}, 2, 2, 0, 0, []units.Length{-0.5, -0.25, -0.5}},
		{"nothing wanted", []units.Length{0, 0, 0}, 2, 2, 0, 0, []units.Length{0, 0, 0}},
		{"no room", []units.Length{-1, -1, -1}, 0, 0, 0, 0, []units.Length{1, 1, 1}},
		{"room for some", []units.Length{-1, -1, -1}, 0.25, 0.5, 0.25, 0.5, []units.Length{0.75, 0.625, 0.5}},
		// With 0.125 mm of room at one end the other may go lower than the crown's 0.25.
		{"little room at the treble", []units.Length{-1, -0.25, -1}, 0.125, 2, 0.125, 0.375, []units.Length{0.875, 0, 0.625}},
		{"little room at the bass", []units.Length{-1, -0.25, -1}, 2, 0.125, 0.375, 0.125, []units.Length{0.625, 0, 0.875}},
	} {
		s, err := action.Sand(row.changes, at, row.roomTreble, row.roomBass)
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		near(t, row.name+", treble", s.Treble, row.treble, 1e-15)
		near(t, row.name+", bass", s.Bass, row.bass, 1e-15)
		for i := range row.left {
			near(t, row.name+", left", s.Left[i], row.left[i], 1e-15)
		}
		if math.Signbit(float64(s.Treble)) || math.Signbit(float64(s.Bass)) {
			t.Errorf("%s: got %v and %v to take off, want no sign", row.name, s.Treble, s.Bass)
		}
	}
}

// Four strings whose nearest line is level at -1, since what they are off it, 2, -1,
// -4 and 3 sixteenths, sums to nothing and so does its moment: raised by 3/16, it
// keeps its slope, though the treble end alone could go lower.
func TestSandKeepsTheSlope(t *testing.T) {
	s, err := action.Sand([]units.Length{-0.875, -1.0625, -1.25, -0.8125}, []units.Length{30, 10, -10, -30}, 2, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "treble", s.Treble, 0.8125, 1e-15)
	near(t, "bass", s.Bass, 0.8125, 1e-15)
	for i, want := range []units.Length{0.0625, 0.25, 0.4375, 0} {
		near(t, "left", s.Left[i], want, 1e-15)
	}
	if s, err = action.Sand([]units.Length{-0.8125, -1.25, -1.0625, -0.875}, []units.Length{30, 10, -10, -30}, 2, 2); err != nil {
		t.Fatal(err)
	}
	near(t, "bass, from the other edge", s.Bass, 0.8125, 1e-15)
	// Nor does it tip where there is just the room under the string that is highest.
	if s, err = action.Sand([]units.Length{-0.8125, -1.25, -1.0625, -0.875}, []units.Length{30, 10, -10, -30}, 0.8125, 2); err != nil {
		t.Fatal(err)
	}
	near(t, "bass, just the room at the treble", s.Bass, 0.8125, 1e-15)
	if s, err = action.Sand([]units.Length{-0.875, -1.0625, -1.25, -0.8125}, []units.Length{30, 10, -10, -30}, 2, 0.8125); err != nil {
		t.Fatal(err)
	}
	near(t, "treble, just the room at the bass", s.Treble, 0.8125, 1e-15)

	// The same odds on a line from -3/16 to -15/16, which comes to stand at 0 and -3/4:
	// an end that just stays does not rise.
	changes := []units.Length{0, -0.6875, -0.75, -0.8125}
	if s, err = action.Sand(changes, []units.Length{30, 10, -10, -30}, 2, 2); err != nil {
		t.Fatal(err)
	}
	near(t, "the treble string stays", s.Treble, 0, 1e-15)
	near(t, "and the bass one goes no lower", s.Bass, 0.75, 1e-15)
	slices.Reverse(changes)
	if s, err = action.Sand(changes, []units.Length{30, 10, -10, -30}, 2, 2); err != nil {
		t.Fatal(err)
	}
	near(t, "the bass string stays", s.Bass, 0, 1e-15)
	near(t, "and the treble one goes no lower", s.Treble, 0.75, 1e-15)
}

// No string is lowered below what is wanted of it, nor at all where it wants to
// rise; the room is kept; nothing further down on a fine grid would do as well,
// but for the nearest line itself, which keeps its slope.
func TestSandAgainstGrid(t *testing.T) {
	const steps, tolerance = 60, 1e-12
	rnd := rand.New(rand.NewSource(34))
	slopes, held := 0, 0
	for range 1500 {
		n := 2 + rnd.Intn(5)
		changes, offsets := make([]units.Length, n), make([]units.Length, n)
		mean := 1.5*rnd.Float64() - 1.2
		for i := range changes {
			changes[i] = units.Length(mean + 0.8*(rnd.Float64()-0.5))
			offsets[i] = units.Length(50 * (float64(n-1-i) + 0.8*rnd.Float64() - float64(n)/2))
		}
		room := [2]units.Length{units.Length(1.5 * rnd.Float64()), units.Length(1.5 * rnd.Float64())}
		s, err := action.Sand(changes, offsets, room[0], room[1])
		if err != nil {
			t.Fatal(err)
		}
		if !(s.Treble >= 0 && s.Bass >= 0 && s.Treble <= room[0] && s.Bass <= room[1]) {
			t.Fatalf("got %v and %v off, want 0 to %v", s.Treble, s.Bass, room)
		}
		slack := func(treble, bass units.Length) units.Length { // less than 0, too low
			least := units.Length(math.Inf(1))
			for i, c := range changes {
				a := (offsets[0] - offsets[i]).Over(offsets[0] - offsets[n-1])
				least = min(least, units.Length(mix(-float64(treble), -float64(bass), a))-min(c, 0))
			}
			return least
		}
		if got := slack(s.Treble, s.Bass); !(got >= -tolerance) {
			t.Fatalf("%v at %v: got a string %v too low", changes, offsets, -got)
		}
		for i, c := range changes {
			a := (offsets[0] - offsets[i]).Over(offsets[0] - offsets[n-1])
			near(t, "left", s.Left[i], units.Length(mix(-float64(s.Treble), -float64(s.Bass), a))-c, tolerance)
		}

		nearest, err := action.TwoScrews(changes, offsets, offsets[0], offsets[n-1])
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64((s.Bass-s.Treble)-(nearest.Treble-nearest.Bass))) < tolerance {
			slopes++
			if low := slack(s.Treble, s.Bass); n > 2 && low > tolerance && s.Treble < room[0]-tolerance && s.Bass < room[1]-tolerance {
				t.Fatalf("%v at %v: got every string %v too high, with room", changes, offsets, low)
			}
			continue
		}
		held++
		for i := range steps {
			for j := range steps {
				treble := s.Treble + (room[0]-s.Treble)*units.Length(i)/steps
				bass := s.Bass + (room[1]-s.Bass)*units.Length(j)/steps
				if (treble-s.Treble)+(bass-s.Bass) > 1e-9 && slack(treble, bass) >= 0 {
					t.Fatalf("%v at %v, room %v: got %v and %v off, but %v and %v would do", changes, offsets, room, s.Treble, s.Bass, treble, bass)
				}
			}
		}
	}
	t.Logf("the nearest line's slope %d times, an end held %d times", slopes, held)
	if slopes < 100 || held < 100 {
		t.Error("want enough of both")
	}
}

func TestSandErrors(t *testing.T) {
	nan := units.Length(math.NaN())
	two, at := []units.Length{-1, -1}, []units.Length{20, -20}
	for _, row := range []struct {
		changes, offsets []units.Length
		treble, bass     units.Length
		want             string
	}{
		{two, at, -1, 2, "got a saddle that can spare -1mm and 2mm, want at least 0"},
		{two, at, 2, -0.5, "got a saddle that can spare 2mm and -0.5mm, want at least 0"},
		{two, at, 2, nan, "got a saddle that can spare 2mm and NaNmm, want at least 0"},
		{nil, nil, 2, 2, "got 0 strings on a saddle, want at least 2"},
		{two[:1], at[:1], 2, 2, "got 1 strings on a saddle, want at least 2"},
		{two[:1], at, 2, 2, "got 1 changes at 2 offsets, want one a string"},
		{[]units.Length{-1, 0, -1}, []units.Length{20, 20, -20}, 2, 2, "got strings 1 and 2 at 20mm and 20mm, want them in order from the treble"},
		{two, []units.Length{-20, 20}, 2, 2, "got strings 1 and 2 at -20mm and 20mm, want them in order from the treble"},
		{two, []units.Length{20, nan}, 2, 2, "got strings 1 and 2 at 20mm and NaNmm, want them in order from the treble"},
		{[]units.Length{nan, -1}, at, 2, 2, "got a change or an offset that is not finite, want numbers"},
	} {
		s, err := action.Sand(row.changes, row.offsets, row.treble, row.bass)
		wantError(t, err, row.want)
		if s.Treble != 0 || s.Bass != 0 || s.Left != nil {
			t.Errorf("got %+v beside an error, want nothing", s)
		}
	}
}
