package units_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/saddlepoint/units"
)

// quantity is what every quantity can do with its text.
type quantity struct {
	name, symbol string
	of           func(float64) fmt.Stringer
	parse        func(string) (float64, error)
	marshal      func(float64) ([]byte, error)
	unmarshal    func(into float64, text []byte) (float64, error)
}

func quantityOf[T interface {
	~float64
	fmt.Stringer
	fmt.Formatter
	MarshalText() ([]byte, error)
	AppendText([]byte) ([]byte, error)
}, P interface {
	*T
	UnmarshalText([]byte) error
}](name, symbol string, parse func(string) (T, error)) quantity {
	return quantity{
		name, symbol,
		func(x float64) fmt.Stringer { return T(x) },
		func(s string) (float64, error) { v, err := parse(s); return float64(v), err },
		func(x float64) ([]byte, error) {
			text, err := T(x).MarshalText()
			if more, moreErr := T(x).AppendText([]byte("x=")); string(more) != "x="+string(text) || (moreErr == nil) != (err == nil) {
				return nil, fmt.Errorf("got %s, %v appended and %s, %v alone", more, moreErr, text, err)
			}
			return text, err
		},
		func(into float64, text []byte) (float64, error) {
			v := T(into)
			err := P(&v).UnmarshalText(text)
			return float64(v), err
		},
	}
}

var quantities = []quantity{
	quantityOf("Length", "mm", units.ParseLength),
	quantityOf("Angle", "deg", units.ParseAngle),
	quantityOf("Force", "N", units.ParseForce),
	quantityOf("Stress", "Pa", units.ParseStress),
	quantityOf("Density", "kg/m3", units.ParseDensity),
	quantityOf("LinearDensity", "kg/m", units.ParseLinearDensity),
	quantityOf("Frequency", "Hz", units.ParseFrequency),
	quantityOf("Cents", "c", units.ParseCents),
	quantityOf("Turns", "turns", units.ParseTurns),
	quantityOf("Thread", "mm", units.ParseThread),
}

// Every verb keeps the unit, of every quantity.
func TestFormatKeepsTheUnit(t *testing.T) {
	for _, q := range quantities {
		for format, number := range map[string]string{
			"%v": "12.625", "%s": "12.625", "%.2f": "12.62", "%f": "12.625000", "%g": "12.625", "%.1e": "1.3e+01",
		} {
			if got := fmt.Sprintf(format, q.of(12.625)); got != number+q.symbol {
				t.Errorf("%s, %s: got %s, want %s%s", q.name, format, got, number, q.symbol)
			}
		}
		if got, want := fmt.Sprintf("%#v", q.of(1.5)), "units."+q.name+"(1.5)"; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		if got, want := fmt.Sprintf("%d", q.of(1.5)), "%!d(units."+q.name+"=1.5"+q.symbol+")"; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, row := range []struct {
		format string
		c      float64
		want   string
	}{
		{"%8.2f", 1.5, "   1.50c"}, {"%-8.2f|", 1.5, "1.50c   |"}, {"%3.2f", 1.5, "1.50c"},
		{"%+.1f", 1.5, "+1.5c"}, {"%+.1f", -1.5, "-1.5c"}, {"%+v", 0, "+0c"}, {"%+7v", 7, "    +7c"},
		{"%.1v", 1.25, "1.2c"}, {"%.0s", 1.5, "2c"}, {"%F", 1.5, "1.500000c"}, {"%g", 1.23456789, "1.23456789c"}, {"%.2E", 150, "1.50E+02c"}, {"%G", 1e30, "1E+30c"}, {"%G", 1.23456789, "1.23456789c"}, {"%#s", 1.5, "1.5c"}, {"%e", 1.5, "1.500000e+00c"},
		{"%v", math.NaN(), "NaNc"}, {"%+v", math.Inf(1), "+Infc"}, {"%.2f", math.Inf(-1), "-Infc"},
		{"%v", 0.000001, "0.000001c"}, {"%v", 0.0000009, "9e-07c"}, {"%v", 999999999999999, "999999999999999c"}, {"%v", 1e15, "1e+15c"},
		{"%v", -1e-7, "-1e-07c"}, {"%v", math.Copysign(0, -1), "-0c"}, {"%v", 0.1, "0.1c"},
	} {
		if got := fmt.Sprintf(row.format, units.Cents(row.c)); got != row.want {
			t.Errorf("%s of %v: got %q, want %q", row.format, row.c, got, row.want)
		}
	}
	if got := fmt.Sprintf("%7.1f", units.Angle(1)) + fmt.Sprintf("%6v", units.Length(1)); got != " 1.0deg   1mm" {
		t.Errorf("got %q, want widths over the unit too", got)
	}
	// The widest that fmt passes on takes no longer than its bytes.
	for _, format := range []string{"%*v", "%-*v"} {
		if got := fmt.Sprintf(format, 1_000_000, units.Length(1)); len(got) != 1_000_000 || strings.TrimSpace(got) != "1mm" {
			t.Errorf("%s: got %q in %d bytes, want 1mm in a million", format, strings.TrimSpace(got), len(got))
		}
	}
}

// FuzzText reads any text as every type, and gives every number's text back.
func FuzzText(f *testing.F) {
	for _, s := range []string{
		"1.6mm", "1,6mm", "25 1/2in", "25-1/2in", `4.5/64"`, "+7c", "-3.5deg", "72 N", "3GPa", "7.85g/cm3", "0.0000224lb/in", "440Hz", "M3", "40tpi",
		"4-40", "2 turns", "2 64ths", "E4+7c", "B♭2", "F♯-1", "1E4", "9/0in", "1e999mm", "\xff\n", "",
	} {
		for _, x := range []float64{0, 0.1, -25.4, 1e-6, 1e15, math.SmallestNonzeroFloat64, math.MaxFloat64, math.NaN(), math.Inf(-1)} {
			f.Add(s, x)
		}
	}
	f.Fuzz(func(t *testing.T, s string, x float64) {
		for _, q := range quantities {
			v, err := q.parse(s)
			checkError(t, q.name, s, err)
			if err == nil {
				givesBack(t, q, v)
			}
			givesBack(t, q, x)
			if kept, uerr := q.unmarshal(x, []byte(s)); (uerr == nil) != (err == nil) || err != nil && kept != x && x == x || err == nil && kept != v {
				t.Errorf("%s: got %v, %v from %q unmarshalled, want %v, %v", q.name, kept, uerr, s, v, err)
			}
		}
		n, err := units.ParseNote(s)
		checkError(t, "Note", s, err)
		if back, berr := units.ParseNote(n.String()); err == nil && (berr != nil || back != n) {
			t.Errorf("%q: got %v, %v back, want %v", s, back, berr, n)
		}
		p, err := units.ParsePitch(s)
		checkError(t, "Pitch", s, err)
		if back, berr := units.ParsePitch(p.String()); err == nil && (berr != nil || back != p) {
			t.Errorf("%q: got %v, %v back, want %v", s, back, berr, p)
		}
		number, u, read, err := units.Scan(s)
		checkError(t, "Scan", s, err)
		if err == nil && (read <= 0 || read > len(s)) || err != nil && (number != 0 || u.Symbol != "" || read != 0) {
			t.Errorf("%q: got %v %s in %d bytes beside %v, want them inside, or nothing", s, number, u.Symbol, read, err)
		}
	})
}

// checkError checks that an error is one line about the whole of s.
func checkError(t *testing.T, what, s string, err error) {
	t.Helper()
	var e *units.ParseError
	if err != nil && (!errors.As(err, &e) || e.Input != s || e.Offset < 0 || e.Offset > len(s) || strings.ContainsAny(err.Error(), "\r\n")) {
		t.Errorf("%s: %q: got error %q, want one line of it and an offset inside", what, s, err)
	}
}

// givesBack checks that a number's text reads back to the last bit, and that
// what no text can hold is refused.
func givesBack(t *testing.T, q quantity, x float64) {
	t.Helper()
	text, err := q.marshal(x)
	if x-x != 0 || q.name == "Thread" && x <= 0 {
		if err == nil {
			t.Errorf("%s: got %s from %v, want an error", q.name, text, x)
		}
		return
	}
	if err != nil || string(text) != q.of(x).String() {
		t.Errorf("%s: got %s, %v from %v, want %v", q.name, text, err, x, q.of(x))
	}
	if back, err := q.parse(string(text)); err != nil || math.Float64bits(back) != math.Float64bits(x) {
		t.Errorf("%s: got %v, %v back from %s, want %v", q.name, back, err, text, x)
	}
}
