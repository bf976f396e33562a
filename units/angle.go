package units

import "math"

// Angle is an angle in degrees.
type Angle float64

// Degree is the base unit of Angle.
const Degree Angle = 1

// Radians returns the angle in radians.
func (a Angle) Radians() float64 { return float64(a) * (math.Pi / 180) }

// Slope returns the angle whose tangent is rise over run, from -90 to 90
// degrees; a run of 0 gives plus or minus 90, and 0 over 0 gives NaN.
func Slope(rise, run Length) Angle {
	return Angle(math.Atan(float64(rise)/float64(run)) * (180 / math.Pi))
}
