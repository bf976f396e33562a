package units

import (
	"math"
	"strconv"
)

// Length is a distance in millimetres. Conversions between millimetres,
// centimetres and metres by the constants are exact where the digits fit; an
// inch is 25.4 mm by definition.
type Length float64

// Lengths to multiply by.
const (
	Millimetre Length = 1
	Centimetre Length = 10
	Metre      Length = 1000
	Inch       Length = 25.4
	Thou       Length = Inch / 1000
)

// Metres returns the length in metres.
func (l Length) Metres() float64 { return float64(l) / 1000 }

// Inches returns the length in inches.
func (l Length) Inches() float64 { return float64(l) * 5 / 127 }

// Thou returns the length in thousandths of an inch.
func (l Length) Thou() float64 { return float64(l) * 5000 / 127 }

// Over returns the ratio of two lengths.
func (l Length) Over(of Length) float64 { return float64(l) / float64(of) }

// InchFraction returns a rounded view in inches and a fraction in lowest terms
// of the given power of two, such as "25 1/2in" for 647.7 mm in sixty-fourths.
// A denominator that is no power of two from 1 to 128, or a length that is not
// finite, gives the decimal inches instead.
func (l Length) InchFraction(denominator int) string {
	in := l.Inches()
	if denominator < 1 || denominator > 128 || denominator&(denominator-1) != 0 || !(math.Abs(in) < 1e12) {
		return text(in, "in")
	}
	parts := int64(math.Round(math.Abs(in) * float64(denominator)))
	whole, num, den := parts/int64(denominator), parts%int64(denominator), int64(denominator)
	for num != 0 && num%2 == 0 {
		num, den = num/2, den/2
	}
	s := ""
	if in < 0 && parts != 0 {
		s = "-"
	}
	if whole != 0 || num == 0 {
		s += strconv.FormatInt(whole, 10)
		if num != 0 {
			s += " "
		}
	}
	if num != 0 {
		s += strconv.FormatInt(num, 10) + "/" + strconv.FormatInt(den, 10)
	}
	return s + "in"
}
