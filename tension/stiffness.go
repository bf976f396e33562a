package tension

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// rod returns how stiffly a round wire stretches, E A, and bends, E I.
func rod(d units.Length, young units.Stress) (stretch units.Force, bend float64) {
	m := d.Metres()
	area := math.Pi / 4 * m * m
	return units.Force(float64(young) * area), float64(young) * area * (m * m / 16)
}

// Kappa returns E A over the pull: the share by which the pull rises for a share
// of stretch. A string with no stretching stiffness gives 0.
func (s Strung) Kappa() float64 { return s.String.Stretch.Over(s.Pull()) }

// R returns the share by which the pitch rises for a share of stretch, (L/f)
// df/dL = (kappa - 1)/2 (M. B. Anderson and R. G. Beausoleil, 2024).
func (s Strung) R() float64 { return (s.Kappa() - 1) / 2 }

// B0 returns how stiff the string is against its pull and length,
// sqrt(E I over pull) over the length.
func (s Strung) B0() float64 { return math.Sqrt(s.String.Bend/float64(s.Pull())) / s.Length.Metres() }

// PerDegree returns the change of pitch when the string alone gets one degree
// Celsius warmer on a frame that does not give: -kappa alpha/2 as a ratio, in
// cents, for a material that expands by alpha a degree. An .010 string at E4
// falls by 1.4 cents. Wood and a moving neck change that.
func (s Strung) PerDegree(alpha float64) units.Cents {
	return units.Cents(-600 / math.Ln2 * s.Kappa() * alpha)
}

// Stretched is one reading of a string stretched by hand: its pitch where it was
// longer by By.
type Stretched struct {
	By    units.Length
	Pitch units.Frequency
	Doubt units.Frequency // standard error of Pitch; 0 of every reading where all are alike
}

// FitR fits R = (L/f) df/dL to stretch readings of a string of a length at a
// nominal pitch, by a straight line weighted by the readings' doubts, and returns
// its standard error from their scatter. It takes three readings at least, at
// two lengths.
func FitR(readings []Stretched, length units.Length, f units.Frequency) (r, doubt float64, err error) {
	if len(readings) < 3 || !(length > 0 && f > 0) {
		return 0, 0, fmt.Errorf("got %d stretch readings of %v at %v, want three at least, length and pitch more than 0", len(readings), length, f)
	}
	var w, x, y float64
	weights := make([]float64, len(readings))
	for i, s := range readings {
		if s.Doubt < 0 || (s.Doubt == 0) != (readings[0].Doubt == 0) {
			return 0, 0, fmt.Errorf("got stretch reading %d with a doubt of %v, want one above 0 of every reading or of none", i+1, s.Doubt)
		}
		weights[i] = 1
		if s.Doubt != 0 {
			weights[i] = 1 / float64(s.Doubt) / float64(s.Doubt)
		}
		w += weights[i]
		x += weights[i] * float64(s.By)
		y += weights[i] * float64(s.Pitch)
	}
	x, y = x/w, y/w
	var xx, xy, rest float64
	for i, s := range readings {
		dx, dy := float64(s.By)-x, float64(s.Pitch)-y
		xx += weights[i] * dx * dx
		xy += weights[i] * dx * dy
	}
	slope := xy / xx
	for i, s := range readings {
		e := float64(s.Pitch) - y - slope*(float64(s.By)-x)
		rest += weights[i] * e * e
	}
	scale := float64(length) / float64(f)
	r, doubt = slope*scale, math.Sqrt(rest/float64(len(readings)-2)/xx)*scale
	// Not r-r != 0: a processor that fuses product and difference gives the rounding of r.
	if !(math.Abs(r) <= math.MaxFloat64 && doubt <= math.MaxFloat64) {
		return 0, 0, fmt.Errorf("got stretch readings at one length or not finite, want two lengths at least")
	}
	return r, doubt, nil
}
