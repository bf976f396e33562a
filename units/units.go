// Package units is the vocabulary of the house: lengths, angles, forces, unit
// weights, frequencies, cents, notes, screw threads, and their text.
//
// A quantity is a defined float64 in one base unit, named in the first
// sentence of its doc comment. Every quantity Q has ParseQ, String, Format,
// AppendText, MarshalText and UnmarshalText, and ParseQ(x.String()) == x for
// every finite x (of a Thread, above 0). The verbs %v, %s and %.2f all keep the
// unit.
//
// Parsers refuse NaN and infinities, and report a *ParseError. Formulas are
// total: NaN in, NaN out, and no exported function panics.
//
// The package imports only the standard library.
package units

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// ParseError tells what could not be read, where, and what would have been.
type ParseError struct {
	Input  string // the whole text given
	Offset int    // bytes into Input at which reading stopped
	Got    string // what stood there
	Want   string // what could have stood there
	Hint   string // how to write it, or empty
}

// Error gives the fault in one line.
func (e *ParseError) Error() string {
	s := fmt.Sprintf("%s: at byte %d: got %s, want %s", Quote(e.Input), e.Offset, e.Got, e.Want)
	if e.Hint != "" {
		s += " (" + e.Hint + ")"
	}
	return s
}

// shown is how much of an input a message repeats, so that it stays one short
// line however long the input was.
const shown = 24

// Quote quotes s for a message, cut to 24 characters so that the message stays
// one short line however long the input was.
func Quote(s string) string {
	if s == "" {
		return "nothing"
	}
	for i, n := 0, 0; i < len(s); n++ {
		if n == shown {
			return strconv.Quote(s[:i]) + "..."
		}
		_, size := utf8.DecodeRuneInString(s[i:])
		i += size
	}
	return strconv.Quote(s)
}

func errorAt(input string, offset int, want, hint string) *ParseError {
	return &ParseError{Input: input, Offset: offset, Got: Quote(input[offset:]), Want: want, Hint: hint}
}

// parse reads one signed quantity of kind k that fills s.
func parse[T ~float64](s string, k Kind) (T, error) {
	at := 0
	if s != "" && (s[0] == '+' || s[0] == '-') {
		at = 1
	}
	x, u, n, err := Scan(s[at:])
	if err != nil {
		return 0, within(err, s, at)
	}
	end := at + n
	switch {
	case u.Kind == KindNumber:
		return 0, &ParseError{s, end, Quote(s[end:]), "a unit of " + strings.TrimPrefix(k.String(), "number of ") + ": " + symbols(k), missingUnit(s, end, k)}
	case u.Kind != k:
		return 0, &ParseError{s, at, u.Kind.withArticle(), k.withArticle() + " in " + symbols(k), ""}
	case end != len(s):
		return 0, errorAt(s, end, "nothing more", "")
	}
	v, err := u.Base(x)
	if err != nil {
		return 0, within(err, s, at)
	}
	if s[0] == '-' {
		v = -v
	}
	return T(v), nil
}

// within restates an error about the tail of s that begins at byte at as one
// about s.
func within(err error, s string, at int) error {
	if e, ok := err.(*ParseError); ok {
		return &ParseError{s, at + e.Offset, e.Got, e.Want, e.Hint}
	}
	return err
}

func missingUnit(s string, end int, k Kind) string {
	if end == len(s) && end <= shown {
		return "such as " + s + first(k)
	}
	return CommaHint(s)
}

// CommaHint suggests the decimal point for a number typed with a comma, as in
// "1,6mm"; it is empty when s holds no digits, comma, digits that stand alone.
// In "1.8,1.9" and "1,2,3" the commas part numbers.
func CommaHint(s string) string {
	for s != "" {
		n := 0
		for n < len(s) && (isDigit(s[n]) || s[n] == '.' || s[n] == ',') {
			n++
		}
		whole, decimals, _ := strings.Cut(strings.TrimRight(s[:n], ".,"), ",")
		if isDigits(whole) && isDigits(decimals) {
			_, unit := unitAt(s[n:])
			if n+unit > shown {
				return "write a decimal point, not a comma"
			}
			return "write " + whole + "." + decimals + s[n:n+unit]
		}
		s = s[max(n, 1):]
	}
	return ""
}

func isDigits(s string) bool { return s != "" && digitsLen(s) == len(s) }

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// appendNumber appends the shortest digits that read back as x: as a decimal
// where that is short, else with an exponent.
func appendNumber(b []byte, x float64) []byte {
	if a := math.Abs(x); a != 0 && (a < 1e-6 || a >= 1e15) {
		return strconv.AppendFloat(b, x, 'e', -1, 64)
	}
	return strconv.AppendFloat(b, x, 'f', -1, 64)
}

func appendText(b []byte, x float64, symbol string) ([]byte, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return b, fmt.Errorf("got %v%s, want a finite number", x, symbol)
	}
	return append(appendNumber(b, x), symbol...), nil
}

func text(x float64, symbol string) string {
	return string(append(appendNumber(nil, x), symbol...))
}

// format serves fmt for every quantity: the verbs of a float, the unit always
// after the digits, the width counted over both.
func format(s fmt.State, verb rune, x float64, symbol, name string) {
	var b []byte
	prec, hasPrec := s.Precision()
	switch verb {
	case 'v', 's':
		switch {
		case verb == 'v' && s.Flag('#'):
			fmt.Fprintf(s, "units.%s(%v)", name, x)
			return
		case hasPrec:
			b = strconv.AppendFloat(b, x, 'f', prec, 64)
		default:
			b = appendNumber(b, x)
		}
	case 'f', 'F', 'e', 'E', 'g', 'G':
		c := byte(verb)
		if c == 'F' {
			c = 'f'
		}
		if !hasPrec {
			prec = -1
			if c != 'g' && c != 'G' {
				prec = 6
			}
		}
		b = strconv.AppendFloat(b, x, c, prec, 64)
	default:
		fmt.Fprintf(s, "%%!%c(units.%s=%s)", verb, name, text(x, symbol))
		return
	}
	if s.Flag('+') && b[0] != '-' && b[0] != '+' {
		b = append([]byte{'+'}, b...)
	}
	b = append(b, symbol...)
	width, _ := s.Width()
	pad := bytes.Repeat([]byte{' '}, max(width-utf8.RuneCount(b), 0))
	if s.Flag('-') {
		b = append(b, pad...)
	} else {
		b = append(pad, b...)
	}
	s.Write(b)
}
