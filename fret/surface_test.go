package fret_test

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Source: testdata/sagitta.csv, standard circle geometry, mpmath at 50 digits.
// The parabola y^2/(2R) is not it: the table says by how much.
func TestSagitta(t *testing.T) {
	for _, row := range rows(t, "sagitta.csv") {
		what := "radius " + row["radius_in"] + " chord " + row["chord_in"]
		radius := units.Length(number(t, row["radius_in"])) * units.Inch
		offset := units.Length(number(t, row["chord_in"])) * units.Inch / 2
		for _, side := range []units.Length{offset, -offset} {
			fall, err := fret.Camber(radius, side)
			if err != nil {
				t.Fatal(err)
			}
			check(t, what, fall.Inches(), row["sagitta_in"])
			check(t, what, float64(fall), row["sagitta_mm"])
			parabola := offset.Inches() * offset.Inches() / (2 * radius.Inches())
			check(t, what+": the parabola", parabola, row["parabola_approx_in"])
			check(t, what+": the parabola's error", 1e6*(parabola-fall.Inches()), row["approx_minus_exact_microinch"])
			back, err := fret.RadiusFromCamber(fall, offset)
			if err != nil {
				t.Fatal(err)
			}
			check(t, what+": back", back.Inches(), row["radius_back_from_sagitta_in"])
		}
	}
}

// Source: compound_radius.csv: 10 in at the nut to 16 in at fret 22 (common
// practice; bench_rules.md row 24), recomputed. One page takes fret 22 to stand at
// 144 of 200, another is exact, 143.8769; a third prints 20 in.
func TestCompound(t *testing.T) {
	const scale = 25.5 * units.Inch
	rounded := fret.Surface{Nut: 10 * units.Inch, End: 16 * units.Inch, Span: scale * 144 / 200}
	check(t, "fret 22 at 144 of 200", rounded.Radius(scale).Inches(), "18.33")
	check(t, "fret 22 at 144 of 200", rounded.Radius(scale).Inches(), "18.3333")

	exact := rounded
	exact.Span = equal(t, 12, 22).From(scale, 22)
	for _, row := range []struct {
		share  float64
		radius string
	}{{0, "10.0000"}, {0.25, "12.0851"}, {0.5, "14.1702"}, {0.719385, "16.0000"}, {1, "18.3405"}, {1, "18.34"}} {
		check(t, fmt.Sprintf("at %v of the scale", row.share), exact.Radius(units.Length(row.share)*scale).Inches(), row.radius)
	}
	differs(t, "at the bridge", exact.Radius(scale).Inches(), "20")

	// The true cone through strings that spread from 1.42 in at the nut to 2.0625
	// in at 25.5 in, R(x) = Rn (1 + x (Sf-Sn)/(Df Sn)), laid on half way.
	half := fret.Surface{Nut: 10 * units.Inch, End: units.Length(10*(1+0.5*(2.0625-1.42)/1.42)) * units.Inch, Span: scale / 2}
	check(t, "true cone", half.Radius(scale).Inches(), "14.5246")

	// Edges of one thickness are no cone: 12 in at a 1.75 in nut, 2.25 in at the
	// 14th. Printed "about 19.7", which is 0.7 % off.
	edge, err := fret.Camber(12*units.Inch, 1.75/2*units.Inch)
	if err != nil {
		t.Fatal(err)
	}
	r, err := fret.RadiusFromCamber(edge, 2.25/2*units.Inch)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "edges of one thickness", r.Inches(), "19.8263")
	differs(t, "edges of one thickness", r.Inches(), "19.7")
	differs(t, "edges of one thickness", r.Inches(), "15.4286") // the simple cone
}

// The fall is measured by hand: down from the top of the circle to the point
// over the offset, found by halving.
func TestCamberIsTheCircle(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range 2000 {
		r := 50 + 1000*rnd.Float64()
		y := r * (2*rnd.Float64() - 1)
		low, high := 0.0, r
		for range 80 {
			if s := (low + high) / 2; math.Hypot(r-s, y) > r {
				low = s
			} else {
				high = s
			}
		}
		got, err := fret.Camber(units.Length(r), units.Length(y))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got)-low) > 1e-9*r { // at the edge the circle is upright
			t.Errorf("radius %v offset %v: got %v, want %v", r, y, got, low)
		}
		back, err := fret.RadiusFromCamber(got, units.Length(math.Abs(y)))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(back)-r) > 1e-9*r {
			t.Errorf("radius %v offset %v: got radius %v back", r, y, back)
		}
	}
}

// A fall far below the radius keeps its digits: it is y^2/(2R) there.
func TestCamberSmall(t *testing.T) {
	got, err := fret.Camber(1e9, 1)
	if err != nil {
		t.Fatal(err)
	}
	if want := 0.5e-9; math.Abs(float64(got)-want) > 1e-15*want {
		t.Errorf("got %v, want %v", float64(got), want)
	}
}

func TestFlat(t *testing.T) {
	board := fret.Surface{Nut: fret.Flat, End: fret.Flat}
	if err := board.Check(); err != nil {
		t.Fatal(err)
	}
	for _, offset := range []units.Length{0, 20, -20, 1e300} {
		got, err := board.Camber(650, offset)
		if got != 0 || err != nil {
			t.Errorf("offset %v: got %v, %v, want 0", offset, got, err)
		}
	}
	if r, err := fret.RadiusFromCamber(0, 20); r != fret.Flat || err != nil {
		t.Errorf("got %v, %v, want a flat board", r, err)
	}
}

// A cylinder needs no span; a cone's radius is between the two it was measured at.
func TestSurfaceCamber(t *testing.T) {
	cylinder := fret.Surface{Nut: 254, End: 254}
	cone := fret.Surface{Nut: 254, End: 406.4, Span: 400}
	for _, row := range []struct {
		s      fret.Surface
		from   units.Length
		radius units.Length
	}{
		{cylinder, 0, 254}, {cylinder, 650, 254},
		{cone, 0, 254}, {cone, 200, 330.2}, {cone, 400, 406.4}, {cone, 600, 482.6},
	} {
		if got := row.s.Radius(row.from); math.Abs(float64(got-row.radius)) > 1e-12 {
			t.Errorf("%v at %v: got radius %v, want %v", row.s, row.from, got, row.radius)
		}
		got, err := row.s.Camber(row.from, 20)
		if err != nil {
			t.Fatal(err)
		}
		r := float64(row.radius)
		if want := r - math.Sqrt(r*r-400); math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("%v at %v: got a fall of %v, want %v", row.s, row.from, got, want)
		}
	}
}

func TestSurfaceAtNaN(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, s := range []fret.Surface{{Nut: 254, End: 254}, {Nut: 254, End: 406.4, Span: 400}, {Nut: fret.Flat, End: fret.Flat}} {
		if got := s.Radius(nan); !math.IsNaN(float64(got)) {
			t.Errorf("%v: got a radius of %v, want NaN", s, got)
		}
		if got, err := s.Camber(nan, 20); err == nil {
			t.Errorf("%v: got a fall of %v, want an error", s, got)
		}
	}
}

func TestSurfaceErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct {
		s    fret.Surface
		want string
	}{
		{fret.Surface{}, "got a radius of 0mm at the nut, want more than 0"},
		{fret.Surface{Nut: -254, End: 254, Span: 400}, "got a radius of -254mm at the nut, want more than 0"},
		{fret.Surface{Nut: nan, End: 254, Span: 400}, "got a radius of NaNmm at the nut, want more than 0"},
		{fret.Surface{Nut: 254}, "got a radius of 0mm at the last fret, want more than 0"},
		{fret.Surface{Nut: 254, End: nan, Span: 400}, "got a radius of NaNmm at the last fret, want more than 0"},
		{fret.Surface{Nut: 254, End: inf, Span: 400}, "got radii of 254mm and +Infmm, want both flat or neither"},
		{fret.Surface{Nut: inf, End: 254, Span: 400}, "got radii of +Infmm and 254mm, want both flat or neither"},
		{fret.Surface{Nut: 254, End: 406.4}, "got 0mm from nut to last fret, want more than 0"},
		{fret.Surface{Nut: 254, End: 406.4, Span: -1}, "got -1mm from nut to last fret, want more than 0"},
		{fret.Surface{Nut: 254, End: 406.4, Span: nan}, "got NaNmm from nut to last fret, want more than 0"},
		{fret.Surface{Nut: 254, End: 406.4, Span: inf}, "got +Infmm from nut to last fret, want more than 0"},
	} {
		wantError(t, row.s.Check(), row.want)
		noFall(t, row.want)(row.s.Camber(0, 0))
	}
	if err := (fret.Surface{Nut: 0.5, End: 0.6, Span: 0.4}).Check(); err != nil { // a very small board
		t.Error(err)
	}
	// A radius that shrinks comes to nothing behind the last fret.
	noFall(t, "got a radius of -50mm, want more than the offset of 20mm")(fret.Surface{Nut: 400, End: 100, Span: 300}.Camber(450, 20))
}

// noFall checks an error's whole text and that nothing stands beside it.
func noFall(t *testing.T, want string) func(units.Length, error) {
	return func(got units.Length, err error) {
		t.Helper()
		wantError(t, err, want)
		if got != 0 {
			t.Errorf("got %v beside an error, want 0", got)
		}
	}
}

func TestCamberErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct {
		radius, offset units.Length
		want           string
	}{
		{20, 20, "got a radius of 20mm, want more than the offset of 20mm"},
		{20, -26, "got a radius of 20mm, want more than the offset of 26mm"},
		{0, 0, "got a radius of 0mm, want more than the offset of 0mm"},
		{-254, 1, "got a radius of -254mm, want more than the offset of 1mm"},
		{nan, 1, "got a radius of NaNmm, want more than the offset of 1mm"},
		{254, nan, "got a radius of 254mm, want more than the offset of NaNmm"},
		{fret.Flat, inf, "got a radius of +Infmm, want more than the offset of +Infmm"},
	} {
		noFall(t, row.want)(fret.Camber(row.radius, row.offset))
	}
	for _, row := range []struct {
		camber, offset units.Length
		want           string
	}{
		{1, 0, "got an offset of 0mm, want more than 0"},
		{1, -26, "got an offset of -26mm, want more than 0"},
		{1, nan, "got an offset of NaNmm, want more than 0"},
		{1, inf, "got an offset of +Infmm, want more than 0"},
		{-1, 26, "got a camber of -1mm, want at least 0 and less than the offset of 26mm"},
		{26, 26, "got a camber of 26mm, want at least 0 and less than the offset of 26mm"},
		{nan, 26, "got a camber of NaNmm, want at least 0 and less than the offset of 26mm"},
		{inf, 26, "got a camber of +Infmm, want at least 0 and less than the offset of 26mm"},
	} {
		noFall(t, row.want)(fret.RadiusFromCamber(row.camber, row.offset))
	}
}
