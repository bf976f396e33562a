package action_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/units"
)

// tipped turns the plane of the frets, which lies deep over the seat, about a
// pivot in the seat by an angle (its head back), and returns how high a saddle that
// stood height over it then stands, square to it.
func tipped(pivot, deep, scale, height, angle float64) float64 {
	turn := func(x, z float64) (float64, float64) {
		sin, cos := math.Sincos(angle)
		return pivot + (x-pivot)*cos - (z+deep)*sin, -deep + (x-pivot)*sin + (z+deep)*cos
	}
	nutX, nutZ := turn(0, 0)
	endX, endZ := turn(scale, 0)
	return ((endX-nutX)*(height-nutZ) - (endZ-nutZ)*(scale-nutX)) / math.Hypot(endX-nutX, endZ-nutZ)
}

// Turned as a rigid body by the shim that is offered, the neck gives the change
// but for what the doc comment says is left out, lower either way; and a shim of
// thickness none, or at the other end, does not.
func TestShimTurnsTheNeck(t *testing.T) {
	rnd := rand.New(rand.NewSource(51))
	for range 2000 {
		scale := 330 + 550*rnd.Float64()
		h := action.Heel{Near: units.Length(scale * (0.5 + 0.1*rnd.Float64())), Far: units.Length(scale * (0.65 + 0.1*rnd.Float64()))}
		change := 4*rnd.Float64() - 2
		deep, height := 15+15*rnd.Float64(), 3+12*rnd.Float64()
		s, err := h.Shim(units.Length(change), units.Length(scale))
		if err != nil {
			t.Fatal(err)
		}
		if s.AtFar != (change < 0) || (s.Angle > 0) != (change < 0) || !(s.Thickness > 0) {
			t.Fatalf("a change of %v: got %+v", change, s)
		}
		// The wedge lies on the seat from the pivot to its thick end.
		pivot, angle := float64(h.Near), math.Atan(s.Thickness.Over(h.Far-h.Near))
		if !s.AtFar {
			pivot, angle = float64(h.Far), -angle
		}
		if !(math.Abs(angle-s.Angle.Radians()) < 1e-14) {
			t.Fatalf("got an angle of %v, want %v radians", s.Angle, angle)
		}
		got := tipped(pivot, deep, scale, height, angle) - height
		out := (deep + height) * angle * angle / 2
		third := scale * math.Abs(angle*angle*angle)
		if !(math.Abs(got-(change-out)) <= third+1e-12) {
			t.Fatalf("%+v on a scale of %v: got a change of %v, want %v less %v", h, scale, got, change, out)
		}
	}
	// "0.001 mm for a change of 1.5 mm at a usual heel."
	s, err := action.Heel{Near: 395, Far: 470}.Shim(-1.5, 648)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "left out", -1.5-(tipped(395, 25, 648, 12, s.Angle.Radians())-12), "0.001")
}

// Worked by hand: the seat from 400 to 450 on a scale of 650, and a whole neck.
func TestShim(t *testing.T) {
	h := action.Heel{Near: 400, Far: 450}
	for _, row := range []struct {
		change units.Length
		want   action.Shim
	}{
		{-1, action.Shim{Thickness: 0.2, AtFar: true, Angle: units.Slope(1, 250)}},
		{1, action.Shim{Thickness: 0.25, Angle: units.Slope(-1, 200)}},
		{-65, action.Shim{Thickness: 13, AtFar: true, Angle: units.Slope(65, 250)}},
		{0, action.Shim{}},
	} {
		got, err := h.Shim(row.change, 650)
		if err != nil || got.AtFar != row.want.AtFar {
			t.Errorf("%v: got %+v, %v, want %+v", row.change, got, err, row.want)
		}
		near(t, "thickness", got.Thickness, row.want.Thickness, 1e-14)
		near(t, "angle", units.Length(got.Angle), units.Length(row.want.Angle), 1e-14)
	}
	if none, err := h.Shim(0, 650); err != nil || none != (action.Shim{}) || math.Signbit(float64(none.Angle)) {
		t.Errorf("no change: got %+v, %v, want no shim", none, err)
	}
	whole, err := action.Heel{Far: 450}.Shim(-1, 650)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "thickness from the nut on", whole.Thickness, 450./650, 1e-14)
}

func TestShimErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	h := action.Heel{Near: 400, Far: 450}
	for _, row := range []struct {
		h             action.Heel
		change, scale units.Length
		want          string
	}{
		{action.Heel{}, -1, 650, "got a heel from 0mm to 0mm on a scale of 650mm, want the nearer end first, and the far one before the saddles"},
		{action.Heel{Near: 450, Far: 400}, -1, 650, "got a heel from 450mm to 400mm on a scale of 650mm, want the nearer end first, and the far one before the saddles"},
		{action.Heel{Near: -1, Far: 400}, -1, 650, "got a heel from -1mm to 400mm on a scale of 650mm, want the nearer end first, and the far one before the saddles"},
		{action.Heel{Near: nan, Far: 400}, -1, 650, "got a heel from NaNmm to 400mm on a scale of 650mm, want the nearer end first, and the far one before the saddles"},
		{h, -1, 450, "got a heel from 400mm to 450mm on a scale of 450mm, want the nearer end first, and the far one before the saddles"},
		{h, -1, inf, "got a heel from 400mm to 450mm on a scale of +Infmm, want the nearer end first, and the far one before the saddles"},
		{h, -1, nan, "got a heel from 400mm to 450mm on a scale of NaNmm, want the nearer end first, and the far one before the saddles"},
		{h, -65.5, 650, "got a change of -65.5mm at the saddle, want at most 65mm, a tenth of the scale"},
		{h, 65.5, 650, "got a change of 65.5mm at the saddle, want at most 65mm, a tenth of the scale"},
		{h, nan, 650, "got a change of NaNmm at the saddle, want at most 65mm, a tenth of the scale"},
		{h, inf, 650, "got a change of +Infmm at the saddle, want at most 65mm, a tenth of the scale"},
	} {
		got, err := row.h.Shim(row.change, row.scale)
		wantError(t, err, row.want)
		if got != (action.Shim{}) {
			t.Errorf("got %+v beside an error, want nothing", got)
		}
	}
}
