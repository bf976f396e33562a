// Package tension is about strings at rest: what they weigh, how hard they pull
// at a pitch, and when they break.
package tension

import (
	"math"

	"example.org/saddlepoint/units"
)

// The law of the ideal string, T = mu (2 l f)^2 (Mersenne), solved for each of
// its terms in turn. Lengths are speaking lengths. Each is total: NaN in, NaN
// out, and no term is checked for sign.

// Pull returns the tension of a string of unit weight mu at frequency f.
func Pull(mu units.LinearDensity, f units.Frequency, length units.Length) units.Force {
	v := 2 * length.Metres() * float64(f)
	return units.Force(float64(mu) * v * v)
}

// Pitch returns the frequency of a string of unit weight mu under a pull.
func Pitch(mu units.LinearDensity, pull units.Force, length units.Length) units.Frequency {
	return units.Frequency(math.Sqrt(float64(pull)/float64(mu)) / (2 * length.Metres()))
}

// UnitWeight returns the unit weight that gives a pull at frequency f.
func UnitWeight(pull units.Force, f units.Frequency, length units.Length) units.LinearDensity {
	v := 2 * length.Metres() * float64(f)
	return units.LinearDensity(float64(pull) / v / v)
}

// Length returns the speaking length that gives a pull at frequency f.
func Length(mu units.LinearDensity, pull units.Force, f units.Frequency) units.Length {
	return units.Length(1000 * (math.Sqrt(float64(pull)/float64(mu)) / (2 * float64(f))))
}

// Gauge returns the diameter of round wire of a unit weight.
func Gauge(mu units.LinearDensity, rho units.Density) units.Length {
	return units.Length(1000 * math.Sqrt(float64(mu)/(math.Pi/4*float64(rho))))
}
