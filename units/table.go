package units

import (
	"math"
	"strconv"
	"strings"
)

// Kind says what a unit measures.
type Kind uint8

// The kinds of unit. KindNumber is a number with no unit; the two gauges are
// string diameters in thousandths of an inch, plain and wound.
const (
	KindNumber Kind = iota
	KindLength
	KindAngle
	KindForce
	KindStress
	KindDensity
	KindLinearDensity
	KindFrequency
	KindCents
	KindTurns
	KindThread
	KindPlainGauge
	KindWoundGauge
)

var kindNames = [...]string{"number", "length", "angle", "force", "stress", "density", "unit weight",
	"frequency", "number of cents", "number of turns", "thread", "plain string", "wound string"}

// String gives the kind's name in words, such as "length".
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "kind " + strconv.Itoa(int(k))
}

func (k Kind) withArticle() string {
	if k == KindAngle {
		return "an " + k.String()
	}
	return "a " + k.String()
}

// Unit is one row of the table that parsing, printing, help and completion
// share. A number x of the unit is x Num/Den in the base unit of its quantity,
// or Num/Den/x where Inverse is set. Num and Den are whole and exact, so that a
// conversion costs at most two roundings.
type Unit struct {
	Symbol   string
	Aliases  []string
	Kind     Kind
	Num, Den float64
	Inverse  bool
	Help     string // one line
}

// Factors: inch and pound are exact by the agreement of 1959, standard gravity
// by the 3rd CGPM (1901); both as printed in NIST SP 811, appendix B.
var table = [...]Unit{
	{"mm", nil, KindLength, 1, 1, false, "millimetres, the base unit of length"},
	{"cm", nil, KindLength, 10, 1, false, "centimetres"},
	{"m", nil, KindLength, 1000, 1, false, "metres"},
	{"in", []string{`"`, "inch", "inches"}, KindLength, 127, 5, false, "inches, 25.4 mm exactly"},
	{"thou", nil, KindLength, 127, 5000, false, "thousandths of an inch"},
	{"64ths", nil, KindLength, 127, 320, false, "sixty-fourths of an inch"},
	{"deg", []string{"°"}, KindAngle, 1, 1, false, "degrees of angle"},
	{"N", nil, KindForce, 1, 1, false, "newtons"},
	{"lbf", []string{"lb"}, KindForce, 8896443230521, 2000000000000, false, "pounds-force"},
	{"kgf", nil, KindForce, 196133, 20000, false, "kilograms-force"},
	{"Pa", nil, KindStress, 1, 1, false, "pascals"},
	{"MPa", nil, KindStress, 1e6, 1, false, "megapascals"},
	{"GPa", nil, KindStress, 1e9, 1, false, "gigapascals"},
	{"psi", nil, KindStress, 8896443230521, 1290320000, false, "pounds-force a square inch"},
	{"ksi", nil, KindStress, 8896443230521, 1290320, false, "thousands of pounds-force a square inch"},
	{"kg/m3", nil, KindDensity, 1, 1, false, "kilograms a cubic metre"},
	{"g/cm3", nil, KindDensity, 1000, 1, false, "grams a cubic centimetre"},
	{"lb/in3", nil, KindDensity, 56699046250, 2048383, false, "pounds a cubic inch"},
	{"kg/m", nil, KindLinearDensity, 1, 1, false, "kilograms a metre"},
	{"g/m", nil, KindLinearDensity, 1, 1000, false, "grams a metre, a string's unit weight"},
	{"lb/in", nil, KindLinearDensity, 45359237, 2540000, false, "pounds an inch, a string's unit weight"},
	{"Hz", nil, KindFrequency, 1, 1, false, "hertz"},
	{"kHz", nil, KindFrequency, 1000, 1, false, "kilohertz"},
	{"c", []string{"cents", "cent"}, KindCents, 1, 1, false, "cents, hundredths of a semitone"},
	{"turns", []string{"turn"}, KindTurns, 1, 1, false, "turns of a screw"},
	{"tpi", nil, KindThread, 127, 5, true, "threads per inch"},
	{"p", nil, KindPlainGauge, 127, 5000, false, "a plain string, in thousandths of an inch (below 1: in inches)"},
	{"w", nil, KindWoundGauge, 127, 5000, false, "a wound string, in thousandths of an inch (below 1: in inches)"},
}

// Table returns a copy of the table of units.
func Table() []Unit {
	t := make([]Unit, len(table))
	copy(t, table[:])
	for i := range t {
		t[i].Aliases = append([]string(nil), t[i].Aliases...)
	}
	return t
}

// Base converts x, a number of the unit, to the base unit of its quantity. It
// refuses a value too large to hold, and zero of an inverse unit.
func (u Unit) Base(x float64) (float64, error) {
	written := x
	if (u.Kind == KindPlainGauge || u.Kind == KindWoundGauge) && math.Abs(x) < 1 {
		// A gauge below 1 is written in inches. Multiplied first, so that .012p and
		// 12p are one string to the last bit.
		x *= 1000
	}
	v := x * u.Num / u.Den
	if u.Inverse {
		v = u.Num / u.Den / x
	}
	if v-v != 0 { // NaN or infinite
		got := strconv.FormatFloat(written, 'g', -1, 64) + u.Symbol
		want := "a number that fits"
		if u.Inverse && x == 0 {
			want = "more than 0"
		}
		return 0, &ParseError{got, 0, got, want, ""}
	}
	return v, nil
}

// symbols lists the units of a kind for a message.
func symbols(k Kind) string {
	var s []string
	for _, u := range table {
		if u.Kind == k {
			s = append(s, u.Symbol)
		}
	}
	return strings.Join(s, ", ")
}

// first is the symbol that a hint offers for a kind.
func first(k Kind) string {
	for _, u := range table {
		if u.Kind == k {
			return u.Symbol
		}
	}
	return ""
}
