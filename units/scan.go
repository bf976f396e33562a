package units

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Scan reads one unsigned number, and its unit if it has one, from the front of
// s. It returns the number as it stands before the unit (u.Base converts), the
// unit (without its aliases; the zero Unit, of KindNumber, where there is none) and
// the bytes read. It is the only number scanner of the house.
//
//	amount   = mixed | fraction | number .
//	mixed    = digits blanks digits "/" digits .            e.g. 25 1/2in
//	fraction = number "/" digits .                          only where a unit follows, e.g. 4.5/64in
//	number   = ( digits [ "." digits ] | "." digits ) [ "e" [ "+" | "-" ] digits ] .
//
// Blanks may stand between an amount and its unit, but not before the inch
// mark. The fraction of a mixed number is below 1.
func Scan(s string) (x float64, u Unit, n int, err error) {
	n = numberLen(s)
	if n == 0 {
		return 0, Unit{}, 0, errorAt(s, 0, "a number", "")
	}
	whole := digitsLen(s) == n
	x, perr := strconv.ParseFloat(s[:n], 64)
	if perr != nil {
		return 0, Unit{}, 0, errorAt(s, 0, "a number that fits", "")
	}
	if whole {
		at := n + blanksLen(s[n:])
		f, m, err := fractionAt(s, at)
		switch {
		case err != nil:
			return 0, Unit{}, 0, err
		case f >= 1:
			return 0, Unit{}, 0, errorAt(s, at, "a fraction below 1 after a whole number", "")
		case m > 0:
			return withUnit(s, x+f, at+m)
		}
		if err := dashedFraction(s, n); err != nil {
			return 0, Unit{}, 0, err
		}
	}
	if d := denominatorLen(s[n:]); d > 0 {
		if _, m := unitAt(s[n+d:]); m > 0 {
			den, _ := strconv.ParseFloat(s[n+1:n+d], 64)
			if den == 0 {
				return 0, Unit{}, 0, errorAt(s, n+1, "a denominator above 0", "")
			}
			return withUnit(s, x/den, n+d)
		}
	}
	return withUnit(s, x, n)
}

func withUnit(s string, x float64, n int) (float64, Unit, int, error) {
	u, m := unitAt(s[n:])
	return x, u, n + m, nil
}

// fractionAt reads digits "/" digits at byte at; it reads nothing where none
// stands there.
func fractionAt(s string, at int) (f float64, n int, err error) {
	num := digitsLen(s[at:])
	d := denominatorLen(s[at+num:])
	if num == 0 || d == 0 {
		return 0, 0, nil
	}
	top, _ := strconv.ParseFloat(s[at:at+num], 64)
	den, _ := strconv.ParseFloat(s[at+num+1:at+num+d], 64)
	if den == 0 {
		return 0, 0, errorAt(s, at+num+1, "a denominator above 0", "")
	}
	f = top / den
	if f-f != 0 {
		return 0, 0, errorAt(s, at, "a number that fits", "")
	}
	return f, num + d, nil
}

// dashedFraction refuses 25-1/2in, where a dash parts whole number and fraction.
func dashedFraction(s string, n int) error {
	if n >= len(s) || s[n] != '-' {
		return nil
	}
	num := digitsLen(s[n+1:])
	d := denominatorLen(s[n+1+num:])
	if num == 0 || d == 0 {
		return nil
	}
	end := n + 1 + num + d
	u, m := unitAt(s[end:])
	if m == 0 {
		return nil
	}
	hint := ""
	if end <= shown {
		hint = "write " + s[:n] + " " + s[n+1:end] + u.Symbol
	}
	return errorAt(s, n, "a blank between whole number and fraction", hint)
}

func numberLen(s string) int {
	n := digitsLen(s)
	if n < len(s) && s[n] == '.' {
		if d := digitsLen(s[n+1:]); d > 0 {
			n += 1 + d
		}
	}
	if n == 0 {
		return 0
	}
	if n < len(s) && s[n] == 'e' {
		m := n + 1
		if m < len(s) && (s[m] == '+' || s[m] == '-') {
			m++
		}
		if d := digitsLen(s[m:]); d > 0 {
			n = m + d
		}
	}
	return n
}

// denominatorLen is the length of "/" digits at the front of s, or 0.
func denominatorLen(s string) int {
	if s == "" || s[0] != '/' {
		return 0
	}
	if d := digitsLen(s[1:]); d > 0 {
		return 1 + d
	}
	return 0
}

func digitsLen(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func blanksLen(s string) int {
	n := 0
	for n < len(s) && (s[n] == ' ' || s[n] == '\t') {
		n++
	}
	return n
}

// unitAt finds the longest unit at the front of s, after blanks; m is 0 where
// there is none.
func unitAt(s string) (u Unit, m int) {
	b := blanksLen(s)
	rest := s[b:]
	longest := 0
	for i := range table {
		if n := table[i].prefixOf(rest); n > longest && (rest[0] != '"' || b == 0) {
			u, longest = table[i], n
		}
	}
	if longest == 0 {
		return Unit{}, 0
	}
	u.Aliases = nil // the table's own
	return u, b + longest
}

// prefixOf is the length of the unit's spelling that stands whole at the front of
// s, or 0; no two of one unit can.
func (u *Unit) prefixOf(s string) int {
	if ends(s, u.Symbol) {
		return len(u.Symbol)
	}
	for _, a := range u.Aliases {
		if ends(s, a) {
			return len(a)
		}
	}
	return 0
}

// ends reports whether s begins with the word and the word ends there.
func ends(s, word string) bool {
	rest, ok := strings.CutPrefix(s, word)
	if !ok || word == `"` {
		return ok
	}
	r, _ := utf8.DecodeRuneInString(rest) // no letter where nothing follows
	return r != '_' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
}
