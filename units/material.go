package units

// Stress is a force per area in pascals: a strength or a modulus.
type Stress float64

// Stresses to multiply by.
const (
	Pascal     Stress = 1
	Megapascal Stress = 1e6
	Gigapascal Stress = 1e9
	// KSI is a thousand pounds-force a square inch, the unit of wire tables.
	KSI Stress = 8896443230521.0 / 1290320
)

// Density is a mass per volume in kilograms a cubic metre.
type Density float64

// Densities to multiply by.
const (
	KilogramPerCubicMetre  Density = 1
	GramPerCubicCentimetre Density = 1000
	PoundPerCubicInch      Density = 56699046250.0 / 2048383
)
