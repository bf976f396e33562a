package tension

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// a228 holds the least tensile strength of music wire by diameter, in thousands
// of pounds-force a square inch (ASTM A228, as printed on a public page).
var a228 = [...]struct{ thou, ksi float64 }{
	{4, 439}, {5, 426}, {6, 415}, {7, 407}, {8, 399}, {9, 393}, {10, 387}, {11, 382}, {12, 377},
	{13, 373}, {14, 369}, {15, 365}, {16, 362}, {18, 356}, {20, 350}, {22, 345}, {24, 341}, {26, 337},
	{28, 333}, {30, 330}, {32, 327}, {34, 324}, {36, 321}, {38, 318}, {40, 315}, {42, 313}, {45, 309},
	{48, 306}, {51, 303}, {55, 300}, {59, 296}, {63, 293}, {67, 290}, {72, 287}, {76, 284}, {80, 282},
	{85, 279}, {90, 276}, {95, 274}, {100, 271}, {102, 270}, {107, 268}, {110, 267}, {112, 266},
	{121, 263}, {125, 261}, {130, 259}, {135, 258}, {140, 256}, {145, 254}, {150, 253}, {156, 251},
	{162, 249}, {177, 245}, {192, 241}, {207, 238}, {225, 235}, {250, 230},
}

// Strength returns the least tensile strength of music wire of diameter d,
// interpolated in a straight line between the rows of ASTM A228. Outside the
// table, 0.004 to 0.250 in, there is no value to give.
func Strength(d units.Length) (units.Stress, error) {
	t := d.Thou()
	// A diameter told in thousandths may land a rounding outside the last row.
	const slack = 1e-9
	last := len(a228) - 1
	if !(t >= a228[0].thou-slack && t <= a228[last].thou+slack) {
		return 0, fmt.Errorf("got wire of %v, want %v to %v, the range of the ASTM A228 table", d,
			units.Length(a228[0].thou)*units.Thou, units.Length(a228[last].thou)*units.Thou)
	}
	i := 1
	for i < last && t > a228[i].thou {
		i++
	}
	a, b := a228[i-1], a228[i]
	ksi := a.ksi + (b.ksi-a.ksi)*(t-a.thou)/(b.thou-a.thou)
	return units.Stress(ksi) * units.KSI, nil
}

// Breaking returns the least pull that breaks straight music wire of diameter
// d. Bends, kinks and wear break it sooner.
func Breaking(d units.Length) (units.Force, error) {
	s, err := Strength(d)
	if err != nil {
		return 0, err
	}
	m := d.Metres()
	return units.Force(math.Pi / 4 * m * m * float64(s)), nil
}

// Breaking returns the least pull that breaks the string, straight and new. A
// wound string breaks at its core. Only of steel is it known.
func (s String) Breaking() (units.Force, error) {
	if s.Of != Steel {
		return 0, fmt.Errorf("got a string that is not of steel, want one: the strength of others is not known")
	}
	return Breaking(s.Stressed())
}

// BreakingPitch returns the frequency at which the string, straight and new,
// reaches its least breaking pull.
func (s String) BreakingPitch(length units.Length) (units.Frequency, error) {
	pull, err := s.Breaking()
	if err != nil {
		return 0, err
	}
	return Pitch(s.UnitWeight, pull, length), nil
}
