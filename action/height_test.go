package action_test

import (
	"math"
	"math/rand"
	"slices"
	"strconv"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Source: bench_rules.md rows 3, 4, 5 and 28 (common practice, no source, but
// recomputed). Row 4 is wrong: it doubles where it should halve.
func TestBenchRules(t *testing.T) {
	for _, row := range []struct {
		fret  int
		share string
	}{{1, "0.056"}, {5, "0.251"}, {7, "0.333"}, {12, "0.5"}, {17, "0.625"}, {22, "0.719"}} {
		check(t, "row 3, fret "+strconv.Itoa(row.fret), 1/float64(action.AtSaddle(1, share(row.fret))), row.share)
	}
	near(t, "row 3, the 12th", action.AtSaddle(-0.2, share(12)), -0.4, 1e-15)

	// What is taken off the saddle, by what it lowers the 12th.
	check(t, "row 4, 0.5 mm off", float64(action.AtSaddle(-0.25, share(12))), "-0.50")
	differs(t, "row 4, 0.5 mm off", float64(action.AtSaddle(-1, share(12))), "-0.5")

	thread, err := units.ParseThread("40tpi")
	if err != nil {
		t.Fatal(err)
	}
	at12 := thread.Travel(0.25).Over(action.AtSaddle(1, share(12)))
	check(t, "row 5, a quarter turn at the 12th, mm", at12, "0.079")
	check(t, "row 5, a quarter turn at the 12th, inches", at12/25.4, ".0031")

	// A set of .010 to .046 by its tops stands .036 in low at the low string.
	check(t, "row 28", (0.036 * units.Inch).Over(action.AtSaddle(1, share(12))), "0.46")
}

func TestAtSaddle(t *testing.T) {
	nan := math.NaN()
	for _, row := range []struct{ change, share, want float64 }{
		{1, 1, 1}, {1, 0.5, 2}, {-0.3, 0.25, -1.2}, {0, 0.5, 0}, {1, 0, math.Inf(1)}, {nan, 0.5, nan}, {1, nan, nan},
	} {
		if got := float64(action.AtSaddle(units.Length(row.change), row.share)); got != row.want && !(math.IsNaN(got) && math.IsNaN(row.want)) {
			t.Errorf("%v at share %v: got %v, want %v", row.change, row.share, got, row.want)
		}
	}
}

func TestEven(t *testing.T) {
	got := action.Even([]units.Length{-1}, 6, 1.5, 2)
	if len(got) != 7 || got[0] != -1 || got[1] != 1.5 || got[6] != 2 {
		t.Fatalf("got %v, want six from 1.5mm to 2mm after what was there", got)
	}
	for i := 2; i < 7; i++ {
		near(t, "step", got[i]-got[i-1], 0.1, 1e-15)
	}
	for n, want := range map[int][]units.Length{-1: nil, 0: nil, 1: {1.5}, 2: {1.5, 2}} {
		if got := action.Even(nil, n, 1.5, 2); !slices.Equal(got, want) {
			t.Errorf("%d strings: got %v, want %v", n, got, want)
		}
	}
}

func TestOffset(t *testing.T) {
	b := action.Board{Scale: 600, NutSpread: 36, SaddleSpread: 52, Strings: 5}
	for _, row := range []struct {
		s          int
		from, want units.Length
	}{
		{1, 0, 18}, {2, 0, 9}, {3, 0, 0}, {4, 0, -9}, {5, 0, -18},
		{1, 600, 26}, {2, 600, 13}, {5, 600, -26}, {1, 300, 22}, {5, 150, -20}, {3, 450, 0},
	} {
		near(t, "string "+strconv.Itoa(row.s)+" at "+row.from.String(), b.Offset(row.s, row.from), row.want, 1e-14)
	}
	b.Strings = 2
	near(t, "treble of two", b.Offset(1, 600), 26, 0)
	near(t, "bass of two", b.Offset(2, 600), -26, 0)
	b.Strings = 1
	if got := b.Offset(1, 600); got != 0 {
		t.Errorf("one string: got %v, want it on the centre line", got)
	}
}

// Source: bench_rules.md row 25 and string_spacing.csv (a repair shop's page,
// recomputed): .010 to .046 in 1.442 in over all stand .2588 in apart, edge to
// edge. Ours are even centre to centre, so only the outer two agree, and the mean.
func TestSpacing(t *testing.T) {
	gauges := []float64{.010, .013, .017, .026, .036, .046}
	gaps := []string{"0.0050", "0.2753", "0.5491", "0.8294", "1.1192", "1.4190"} // centres, from the treble edge
	spread := units.Length(1.442-(.010+.046)/2) * units.Inch
	b := action.Board{Scale: 648, NutSpread: spread, SaddleSpread: spread, Strings: 6}
	sum := 0.0
	for i := range gauges {
		what := "string " + strconv.Itoa(i+1)
		centre := (b.Offset(1, 0) - b.Offset(i+1, 0)).Inches() + .010/2
		if i == 0 || i == 5 {
			check(t, what, centre, gaps[i])
		} else {
			differs(t, what, centre, gaps[i])
		}
		if i > 0 {
			sum += (b.Offset(i, 0) - b.Offset(i+1, 0)).Inches() - (gauges[i-1]+gauges[i])/2
		}
	}
	check(t, "row 25, mean gap", sum/5, ".2588")
}

func onRadius(t *testing.T, b action.Board, from, treble, bass, radius units.Length) []units.Length {
	t.Helper()
	h, err := b.OnRadius(nil, from, treble, bass, radius)
	if err != nil {
		t.Fatalf("%+v at %v, %v to %v on %v: %v", b, from, treble, bass, radius, err)
	}
	if len(h) != b.Strings {
		t.Fatalf("got %d heights, want %d", len(h), b.Strings)
	}
	return h
}

// Source: sagitta.csv, standard circle geometry, mpmath at 50 digits. Over a flat
// board the middle of three strings stands by so much over the outer two.
func TestOnRadiusOverFlat(t *testing.T) {
	for _, row := range []struct {
		radius, chord float64
		sagitta       string
	}{
		{7.25, 1, "0.017262"}, {7.25, 1.6875, "0.049265"}, {7.25, 2.25, "0.087816"},
		{9.5, 1, "0.013167"}, {9.5, 2, "0.052778"}, {9.5, 2.0625, "0.056138"},
	} {
		radius, chord := units.Length(row.radius)*units.Inch, units.Length(row.chord)*units.Inch
		b := action.Board{Surface: flat, Scale: 648, NutSpread: chord, SaddleSpread: chord, Strings: 3}
		what := radius.String() + " over " + chord.String()
		h := onRadius(t, b, b.Scale, 1.5, 1.5, radius)
		check(t, what, (h[1] - h[0]).Inches(), row.sagitta)
		h = onRadius(t, b, b.Scale/2, 1.5, 1.5, radius) // half way along, half of that
		check(t, what, 2*(h[1]-h[0]).Inches(), row.sagitta)
	}
}

var flat = fret.Surface{Nut: fret.Flat, End: fret.Flat}

// Strings that run along the board's own straight lines, on its own radius, stand
// equally high: a cylinder under strings in parallel, a cone under strings that
// fan out with it. Source of the cone: compound_radius.csv, recomputed: from 1.42
// in at a nut of 10 in to 2.0625 in it grows to 14.5246 in. bench_rules.md row 24:
// 10 in to 16 in at fret 22 makes 18.34 in at the bridge.
func TestOnRadiusAlongTheBoard(t *testing.T) {
	const scale = 25.5 * units.Inch
	row24 := fret.Surface{Nut: 10 * units.Inch, End: 16 * units.Inch, Span: units.Length(share(22)) * scale}
	for _, row := range []struct {
		name             string
		surface          fret.Surface
		nut, saddle      float64 // spreads, in
		radius           float64 // at the saddles, in
		tolerance, wrong float64 // how equal; a radius that is not
	}{
		{"cylinder", fret.Surface{Nut: 254, End: 254}, 1.42, 1.42, 10, 1e-12, 10.1},
		{"cone", fret.Surface{Nut: 254, End: 14.5246 * units.Inch, Span: scale}, 1.42, 2.0625, 14.5246, 1e-4, 14.4},
		{"row 24", row24, 1.42, 1.42 * 1.83405, 18.34, 1e-4, 18.0},
	} {
		b := action.Board{Surface: row.surface, Scale: scale,
			NutSpread: units.Length(row.nut) * units.Inch, SaddleSpread: units.Length(row.saddle) * units.Inch, Strings: 6}
		for _, n := range []int{1, 7, 12, 22} {
			what := row.name + ", fret " + strconv.Itoa(n)
			from := units.Length(share(n)) * scale
			for _, h := range onRadius(t, b, from, 1.6, 1.6, units.Length(row.radius)*units.Inch) {
				near(t, what, h, 1.6, row.tolerance)
			}
			off := onRadius(t, b, from, 1.6, 1.6, units.Length(row.wrong)*units.Inch)
			if math.Abs(float64(off[2]-1.6)) <= row.tolerance {
				t.Errorf("%s: got %v on a radius of %v in, want it off", what, off, row.wrong)
			}
		}
	}
}

func anyBoard(rnd *rand.Rand) action.Board {
	b := action.Board{
		Scale:     units.Length(350 + 500*rnd.Float64()),
		NutSpread: units.Length(25 + 20*rnd.Float64()), SaddleSpread: units.Length(35 + 30*rnd.Float64()),
		Strings: 3 + rnd.Intn(6),
	}
	switch rnd.Intn(3) {
	case 0:
		b.Surface = flat
	case 1:
		r := units.Length(150 + 300*rnd.Float64())
		b.Surface = fret.Surface{Nut: r, End: r}
	case 2:
		b.Surface = fret.Surface{Nut: units.Length(180 + 100*rnd.Float64()), End: units.Length(250 + 300*rnd.Float64()), Span: b.Scale * 3 / 4}
	}
	return b
}

type point struct{ y, z float64 }

// undersides follows every string from its slot, a given height over the board,
// through its height at from, to the saddle; z is up from the board's centre line.
func undersides(b action.Board, from units.Length, heights []units.Length, slot float64) []point {
	top := func(x, y float64) float64 { // of the board
		r := float64(b.Surface.Nut)
		if b.Surface.Nut != b.Surface.End {
			r += (float64(b.Surface.End) - r) * x / float64(b.Surface.Span)
		}
		if math.IsInf(r, 1) {
			return 0
		}
		return math.Sqrt(r*r-y*y) - r
	}
	l, x := float64(b.Scale), float64(from)
	var out []point
	for i, h := range heights {
		across := 0.5 - float64(i)/float64(len(heights)-1)
		atNut, atSaddle := float64(b.NutSpread)*across, float64(b.SaddleSpread)*across
		y := atNut + (atSaddle-atNut)*x/l
		nut, here := slot+top(0, atNut), float64(h)+top(x, y)
		out = append(out, point{atSaddle, nut + (here-nut)*l/x})
	}
	return out
}

// around is the radius of the circle through three points, the product of the
// triangle's sides over four times its area, and how far q stands over the line
// from p to r.
func around(p, q, r point) (radius, over float64) {
	side := func(a, b point) float64 { return math.Hypot(a.y-b.y, a.z-b.z) }
	twice := (r.y-p.y)*(q.z-p.z) - (r.z-p.z)*(q.y-p.y) // the area, signed
	over = q.z - (p.z + (r.z-p.z)*(q.y-p.y)/(r.y-p.y))
	return side(p, q) * side(q, r) * side(r, p) / (2 * math.Abs(twice)), over
}

// The undersides at the saddle lie on the circle through the outer two, which
// stand as told; on a straight line where it is flat.
func TestOnRadiusIsACircle(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 3000 {
		b := anyBoard(rnd)
		from := b.Scale * units.Length(0.05+0.95*rnd.Float64())
		treble, bass := units.Length(1+rnd.Float64()), units.Length(1+2*rnd.Float64())
		radius := units.Length(100 + 500*rnd.Float64())
		last := b.Strings - 1

		h := onRadius(t, b, from, treble, bass, radius)
		straight := onRadius(t, b, from, treble, bass, fret.Flat)
		near(t, "treble", h[0], treble, 1e-12)
		near(t, "bass", h[last], bass, 1e-12)
		at, line := undersides(b, from, h, rnd.Float64()), undersides(b, from, straight, rnd.Float64())
		for i := 1; i < last; i++ {
			got, over := around(at[0], at[i], at[last])
			if !(math.Abs(got-float64(radius)) <= 1e-7*float64(radius)) || !(over > 0) {
				t.Fatalf("%+v at %v, %v to %v: got string %d on a circle of %v, %v over the line, want %v", b, from, treble, bass, i+1, got, over, radius)
			}
			if _, over := around(line[0], line[i], line[last]); !(math.Abs(over) <= 1e-10) {
				t.Fatalf("%+v at %v, %v to %v: got string %d %v over the straight line, want it on it", b, from, treble, bass, i+1, over)
			}
		}

		// Seen from the other edge, it is the same.
		back := onRadius(t, b, from, bass, treble, radius)
		slices.Reverse(back)
		for i := range h {
			near(t, "from the other edge", back[i], h[i], 1e-12)
		}
		// A board a power of two smaller has all of it so much smaller.
		const k = 1. / (1 << 20)
		s := b.Surface
		tiny := action.Board{Surface: fret.Surface{Nut: k * s.Nut, End: k * s.End, Span: k * s.Span},
			Scale: k * b.Scale, NutSpread: k * b.NutSpread, SaddleSpread: k * b.SaddleSpread, Strings: b.Strings}
		for i, x := range onRadius(t, tiny, k*from, k*treble, k*bass, k*radius) {
			near(t, "a tiny board", x/k, h[i], 0)
		}
		// Ever flatter comes to flat.
		for _, r := range []units.Length{1e13, 1e150, 1e200, math.MaxFloat64} {
			for i, x := range onRadius(t, b, from, treble, bass, r) {
				near(t, "nearly flat", x, straight[i], 1e-9)
			}
		}
	}
}

// Down to the circle whose upper half the outer strings just span, however they
// lean: one stands 10 mm over the other here.
func TestOnRadiusTight(t *testing.T) {
	b := action.Board{Surface: flat, Scale: 600, NutSpread: 40, SaddleSpread: 40, Strings: 9}
	const least = 21.25 // 20 (1 + (10/40)^2)
	at := undersides(b, b.Scale, onRadius(t, b, b.Scale, 12, 2, least+1e-9), 0)
	for i := 1; i < 8; i++ {
		if got, over := around(at[0], at[i], at[8]); !(math.Abs(got-least) < 1e-6) || !(over > 0) {
			t.Errorf("string %d: got it on a circle of %v, %v over the line, want %v", i+1, got, over, least)
		}
	}
	_, err := b.OnRadius(nil, b.Scale, 12, 2, least)
	wantError(t, err, "got a radius of 21.25mm at the saddles, want more than 21.25mm to span the outer strings")

	// On the tightest radius that is taken, however they lean, the outer strings stand
	// as told.
	rnd := rand.New(rand.NewSource(3))
	for range 1000 {
		slope := 2*rnd.Float64() - 1
		treble := units.Length(50 + 40*slope)
		radius := 20 * (1 + slope*slope)
		h, err := b.OnRadius(nil, b.Scale, treble, 50, units.Length(radius))
		for ulps := 0; err != nil && ulps < 8; ulps++ {
			radius = math.Nextafter(radius, 99)
			h, err = b.OnRadius(nil, b.Scale, treble, 50, units.Length(radius))
		}
		if err != nil {
			t.Fatal(err)
		}
		near(t, "treble", h[0], treble, 1e-12)
		near(t, "bass", h[8], 50, 1e-12)
	}
}

func TestBoardErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	good := action.Board{Surface: fret.Surface{Nut: 254, End: 254}, Scale: 628, NutSpread: 36, SaddleSpread: 52, Strings: 6}
	endless := good
	endless.Scale = math.MaxFloat64 // which is a number
	for _, b := range []action.Board{good, endless} {
		if err := b.Check(); err != nil {
			t.Error(err)
		}
	}
	for _, row := range []struct {
		change func(*action.Board)
		want   string
	}{
		{func(b *action.Board) { b.Scale = 0 }, "got a scale of 0mm, want more than 0"},
		{func(b *action.Board) { b.Scale = nan }, "got a scale of NaNmm, want more than 0"},
		{func(b *action.Board) { b.Scale = inf }, "got a scale of +Infmm, want more than 0"},
		{func(b *action.Board) { b.Strings = 0 }, "got 0 strings, want at least 1"},
		{func(b *action.Board) { b.NutSpread = 0 }, "got string spreads of 0mm and 52mm, want more than 0"},
		{func(b *action.Board) { b.SaddleSpread = 0 }, "got string spreads of 36mm and 0mm, want more than 0"},
		{func(b *action.Board) { b.NutSpread, b.Strings = 0, 2 }, "got string spreads of 0mm and 52mm, want more than 0"},
		{func(b *action.Board) { b.SaddleSpread = -52 }, "got string spreads of 36mm and -52mm, want more than 0"},
		{func(b *action.Board) { b.NutSpread = nan }, "got string spreads of NaNmm and 52mm, want more than 0"},
		{func(b *action.Board) { b.Surface.Nut = 0 }, "got a radius of 0mm at the nut, want more than 0"},
		{func(b *action.Board) { b.Surface.End = 300 }, "got 0mm from nut to last fret, want more than 0"},
		{func(b *action.Board) { b.Surface = fret.Surface{Nut: 18, End: 400, Span: 400} }, "got a board radius of 18mm, want more than 18mm, half the spread of its strings there"},
		{func(b *action.Board) { b.Surface = fret.Surface{Nut: 254, End: 140, Span: 314} }, "got a board radius of 26mm, want more than 26mm, half the spread of its strings there"},
		{func(b *action.Board) { b.Surface.Nut, b.Surface.End = 25, 25 }, "got a board radius of 25mm, want more than 26mm, half the spread of its strings there"},
		{func(b *action.Board) { b.NutSpread = inf }, "got string spreads of +Infmm and 52mm, want more than 0"},
		{func(b *action.Board) { b.SaddleSpread = inf }, "got string spreads of 36mm and +Infmm, want more than 0"},
	} {
		b := good
		row.change(&b)
		wantError(t, b.Check(), row.want)
		_, err := b.OnRadius(nil, 300, 1.5, 2, 254)
		wantError(t, err, row.want)
	}
	one := action.Board{Surface: good.Surface, Scale: 628, Strings: 1} // needs no spread
	if h, err := one.OnRadius(nil, 300, 1.5, 2, 0); err != nil || !slices.Equal(h, []units.Length{1.5}) {
		t.Errorf("one string: got %v, %v, want the treble's height", h, err)
	}
	for _, row := range []struct {
		from, treble, bass, radius units.Length
		want                       string
	}{
		{0, 1.5, 2, 254, "got 0mm from the nut, want more than 0 and at most the scale"},
		{628.5, 1.5, 2, 254, "got 628.5mm from the nut, want more than 0 and at most the scale"},
		{nan, 1.5, 2, 254, "got NaNmm from the nut, want more than 0 and at most the scale"},
		{300, nan, 2, 254, "got heights of NaNmm and 2mm, want finite ones"},
		{300, 1.5, -inf, 254, "got heights of 1.5mm and -Infmm, want finite ones"},
		{628, 2, 2, 26, "got a radius of 26mm at the saddles, want more than 26mm to span the outer strings"},
		{628, 2, 2, -254, "got a radius of -254mm at the saddles, want more than 26mm to span the outer strings"},
		{628, 2, 2, nan, "got a radius of NaNmm at the saddles, want more than 26mm to span the outer strings"},
	} {
		before := []units.Length{7}
		h, err := good.OnRadius(before, row.from, row.treble, row.bass, row.radius)
		wantError(t, err, row.want)
		if !slices.Equal(h, before) {
			t.Errorf("got %v beside an error, want what was there", h)
		}
	}
}
