package units

// Force is a force in newtons. A pound-force is 4.4482216152605 N exactly
// (NIST SP 811, appendix B).
type Force float64

// Forces to multiply by.
const (
	Newton        Force = 1
	PoundForce    Force = 4.4482216152605
	KilogramForce Force = 9.80665
)

// PoundsForce returns the force in pounds-force.
func (f Force) PoundsForce() float64 { return float64(f) / float64(PoundForce) }

// KilogramsForce returns the force in kilograms-force.
func (f Force) KilogramsForce() float64 { return float64(f) / float64(KilogramForce) }

// Over returns the ratio of two forces.
func (f Force) Over(of Force) float64 { return float64(f) / float64(of) }

// LinearDensity is a mass per length in kilograms a metre: the trade's unit
// weight of a string.
type LinearDensity float64

// Unit weights to multiply by.
const (
	KilogramPerMetre LinearDensity = 1
	GramPerMetre     LinearDensity = 1e-3
	PoundPerInch     LinearDensity = 45359237.0 / 2540000
)

// GramsPerMetre returns the unit weight in grams a metre.
func (l LinearDensity) GramsPerMetre() float64 { return float64(l) * 1000 }

// PoundsPerInch returns the unit weight in pounds an inch.
func (l LinearDensity) PoundsPerInch() float64 { return float64(l) / float64(PoundPerInch) }
