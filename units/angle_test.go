package units_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/units"
)

func TestRadians(t *testing.T) {
	for _, row := range []struct {
		a    units.Angle
		want float64
	}{
		{180, math.Pi}, {-90, -math.Pi / 2}, {60, math.Pi / 3}, {0, 0}, {units.Degree, math.Pi / 180},
	} {
		near(t, row.a.String(), row.a.Radians(), row.want, 1)
	}
}

func TestSlope(t *testing.T) {
	for _, row := range []struct {
		rise, run units.Length
		want      float64
	}{
		{1, 1, 45},
		{-1, 1, -45},
		{1, -1, -45},
		{0, 1, 0},
		{1, 0, 90},
		{-1, 0, -90},
		{1, units.Length(math.Sqrt(3)), 30}, // the tangent of 30 degrees
		{0, 0, math.NaN()},
	} {
		got := float64(units.Slope(row.rise, row.run))
		if math.IsNaN(row.want) {
			if !math.IsNaN(got) {
				t.Errorf("%v over %v: got %v, want NaN", row.rise, row.run, got)
			}
			continue
		}
		near(t, row.rise.String()+" over "+row.run.String(), got, row.want, 2)
	}
}
