package intonation_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// By hand: the break point stays where it was, so from the tail 12.9 + 1.0 - 1.6;
// 4 cents sharp at 628 mm are 628 x 314 (X - 1)/(628 - 314 X) = 1.456 mm back.
func TestRoughIn(t *testing.T) {
	x := math.Exp2(4.0 / 1200)
	back := units.Length(628 * 314 * (x - 1) / (628 - 314*x))
	for _, c := range []struct {
		from                intonation.End
		old, was, now, move units.Length
		want                float64
	}{
		{intonation.Tail, 12.9, 1.0, 1.6, 0, 12.3},
		{intonation.Tail, 12.9, 1.0, 1.6, back, 10.84},
		{intonation.Nut, 330, 1.0, 1.6, 0, 330.6},
		{intonation.Nut, 330, 1.0, 1.6, back, 332.06},
	} {
		if got := intonation.RoughIn(c.from, c.old, c.was, c.now, c.move); math.Abs(float64(got)-c.want) > 0.005 {
			t.Errorf("%+v: got %v", c, got)
		}
	}
}
