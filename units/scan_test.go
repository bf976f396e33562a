package units_test

import (
	"errors"
	"strings"
	"testing"

	"example.org/saddlepoint/units"
)

// What Scan returns is the caller's own.
func TestScanKeepsTheTable(t *testing.T) {
	_, u, _, err := units.Scan("1 inch")
	if err != nil || u.Symbol != "in" || u.Aliases != nil {
		t.Errorf("got %+v, %v, want inches without aliases", u, err)
	}
}

func TestScan(t *testing.T) {
	for _, row := range []struct {
		in     string
		x      float64
		symbol string
		n      int
	}{
		{"648", 648, "", 3},
		{"1.6mm", 1.6, "mm", 5},
		{"1.6 mm", 1.6, "mm", 6},
		{"1.6\t mm rest", 1.6, "mm", 7},
		{".05mm", 0.05, "mm", 5},
		{"5.mm", 5, "", 1}, // a point has digits after it
		{"1.", 1, "", 1},
		{"08mm", 8, "mm", 4},
		{"1e3mm", 1000, "mm", 5},
		{"1.5e-3m", 0.0015, "m", 7},
		{"1e+2 mm", 100, "mm", 7},
		{"1E4", 1, "", 1}, // a capital E is a note's
		{"1emm", 1, "", 1},
		{"1e", 1, "", 1},
		{"1e-400mm", 0, "mm", 8},
		{"25.5in", 25.5, "in", 6},
		{`25.5"`, 25.5, "in", 5},
		{`25.5 "`, 25.5, "", 4}, // a text begins
		{`25.5"x`, 25.5, "in", 5},
		{"25 1/2in", 25.5, "in", 8},
		{"25  1/2 in", 25.5, "in", 10},
		{`25 1/2"`, 25.5, "in", 7},
		{"25 1/2", 25.5, "", 6},
		{"25 1/2 x", 25.5, "", 6},
		{"25 0/64in", 25, "in", 9},
		{"25 1", 25, "", 2},
		{"25 1/", 25, "", 2},
		{"25.5 1/2in", 25.5, "", 4}, // not a whole number
		{"1e1 1/2in", 10, "", 3},
		{"4.5/64in", 4.5 / 64, "in", 8},
		{"8/3 mm", 8. / 3, "mm", 6},
		{"1/2", 1, "", 1}, // divides
		{"12/2mm/3", 6, "mm", 6},
		{"12 /2mm", 12, "", 2},
		{"1/mm", 1, "", 1},
		{"25-1/2", 25, "", 2},
		{"25-1in", 25, "", 2},
		{"25-/2in", 25, "", 2},
		{"25x1/2in", 25, "", 2},
		{"2c", 2, "c", 2},
		{"2cm", 2, "cm", 3},
		{"2cents", 2, "cents", 6},
		{"2centsx", 2, "", 1},
		{"2m3", 2, "", 1},
		{"2m_", 2, "", 1},
		{"2mé", 2, "", 1},
		{"2m(", 2, "m", 2},
		{"2m*3", 2, "m", 2},
		{"2kg/m", 2, "kg/m", 5},
		{"2kg/m3", 2, "kg/m3", 6},
		{"2kg/m2", 2, "", 1},
		{"2g/m", 2, "g/m", 4},
		{"2 64ths", 2, "64ths", 7},
		{"264ths", 264, "", 3},
		{"7°", 7, "deg", 3},
		{"7° up", 7, "deg", 3},
		{"10p", 10, "p", 3},
	} {
		x, u, n, err := units.Scan(row.in)
		symbol := row.symbol
		for _, all := range units.Table() { // an alias stands for its unit
			for _, a := range all.Aliases {
				if a == symbol {
					symbol = all.Symbol
				}
			}
		}
		if x != row.x || u.Symbol != symbol || n != row.n || err != nil {
			t.Errorf("%q: got %v of %q in %d bytes, %v, want %v of %q in %d", row.in, x, u.Symbol, n, err, row.x, symbol, row.n)
		}
	}
}

// Errors say what stood where, what could have, and how to write it. A message
// is the whole input's; a sign before the number counts.
func TestParseErrors(t *testing.T) {
	const lengths = "mm, cm, m, in, thou, 64ths"
	for _, row := range []struct {
		in     string
		offset int
		want   string // after the offset
	}{
		{"", 0, `got nothing, want a number`},
		{"mm", 0, `got "mm", want a number`},
		{"-", 1, `got nothing, want a number`},
		{"--1mm", 1, `got "-1mm", want a number`},
		{" 1mm", 0, `got " 1mm", want a number`},
		{"NaNmm", 0, `got "NaNmm", want a number`},
		{"-Infmm", 1, `got "Infmm", want a number`},
		{".mm", 0, `got ".mm", want a number`},
		{"648", 3, `got nothing, want a unit of length: ` + lengths + ` (such as 648mm)`},
		{"-25 1/2", 7, `got nothing, want a unit of length: ` + lengths + ` (such as -25 1/2mm)`},
		{"123456789012345678901234", 24, `got nothing, want a unit of length: ` + lengths + ` (such as 123456789012345678901234mm)`},
		{"1234567890123456789012345", 25, `got nothing, want a unit of length: ` + lengths},
		{"e5mm", 0, `got "e5mm", want a number`},
		{"0x10mm", 1, `got "x10mm", want a unit of length: ` + lengths},
		{"1E4mm", 1, `got "E4mm", want a unit of length: ` + lengths},
		{"1_000mm", 1, `got "_000mm", want a unit of length: ` + lengths},
		{"1.6 µm", 3, `got " µm", want a unit of length: ` + lengths},
		{"1,6mm", 1, `got ",6mm", want a unit of length: ` + lengths + ` (write 1.6mm)`},
		{"-1,6mm", 2, `got ",6mm", want a unit of length: ` + lengths + ` (write 1.6mm)`},
		{"3c", 0, `got a number of cents, want a length in ` + lengths},
		{"+3N", 1, `got a force, want a length in ` + lengths},
		{"3deg", 0, `got an angle, want a length in ` + lengths},
		{"1.6mm x", 5, `got " x", want nothing more`},
		{"1.6mm ", 5, `got " ", want nothing more`},
		{"1mm2", 1, `got "mm2", want a unit of length: ` + lengths},
		{"25 3/2in", 3, `got "3/2in", want a fraction below 1 after a whole number`},
		{"25 2/2in", 3, `got "2/2in", want a fraction below 1 after a whole number`},
		{"25 1/0in", 5, `got "0in", want a denominator above 0`},
		{"-1/0in", 3, `got "0in", want a denominator above 0`},
		{"25-1/2in", 2, `got "-1/2in", want a blank between whole number and fraction (write 25 1/2in)`},
		{"-25-1/2 inches", 3, `got "-1/2 inches", want a blank between whole number and fraction (write 25 1/2in)`},
		{"12345678901234567890-1/2in", 20, `got "-1/2in", want a blank between whole number and fraction (write 12345678901234567890 1/2in)`},
		{"123456789012345678901-1/2in", 21, `got "-1/2in", want a blank between whole number and fraction`},
		{"1e400mm", 0, `got "1e400mm", want a number that fits`},
		{"-1e308m", 1, `got 1e+308m, want a number that fits`},
		{"1.25e308m", 0, `got 1.25e+308m, want a number that fits`},
	} {
		l, err := units.ParseLength(row.in)
		var e *units.ParseError
		if !errors.As(err, &e) || e.Input != row.in || e.Offset != row.offset || l != 0 {
			t.Errorf("%q: got %v, %v, want an error at byte %d", row.in, l, err, row.offset)
			continue
		}
		unsigned := strings.TrimPrefix(row.in, "-")
		if x, u, n, err := units.Scan(unsigned); err != nil && (x != 0 || u.Symbol != "" || n != 0) {
			t.Errorf("%q: got %v of %q in %d bytes beside an error, want none", unsigned, x, u.Symbol, n)
		}
		if _, after, _ := strings.Cut(err.Error(), ": got "); "got "+after != row.want {
			t.Errorf("%q: got error  got %s\nwant error %s", row.in, after, row.want)
		}
	}
	_, err := units.ParseAngle("3mm")
	wantError(t, err, `"3mm": at byte 0: got a length, want an angle in deg`)
	_, err = units.ParseLength(strings.Repeat("9", 400) + "mm")
	wantError(t, err, `"999999999999999999999999"...: at byte 0: got "999999999999999999999999"..., want a number that fits`)
	_, err = units.ParseLength("9 " + strings.Repeat("9", 400) + "/1" + strings.Repeat("0", 400) + "in")
	wantError(t, err, `"9 9999999999999999999999"...: at byte 2: got "999999999999999999999999"..., want a number that fits`)
}

func TestCommaHint(t *testing.T) {
	for in, want := range map[string]string{
		"1,6mm":                     "write 1.6mm",
		"1,6 mm":                    "write 1.6 mm",
		"1,6":                       "write 1.6",
		"7,5thou":                   "write 7.5thou",
		"move(+7c, 25,5in)":         "write 25.5in",
		"fret(12,647mm)":            "write 12.647mm",
		"x1,6y":                     "write 1.6",
		"1,6, 2":                    "write 1.6",
		"1.8,1.9":                   "",
		"1,2,3":                     "",
		"1, 6":                      "",
		",6":                        "",
		"6,":                        "",
		"":                          "",
		"1.6mm":                     "",
		"é,":                        "",
		"1,23456789012345678":       "write 1.23456789012345678",
		"12345678901234567890,1mm":  "write 12345678901234567890.1mm",
		"123456789012345678901,1mm": "write a decimal point, not a comma",
	} {
		if got := units.CommaHint(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

func TestQuote(t *testing.T) {
	const most = "123456789012345678901234"
	for in, want := range map[string]string{
		"":                         "nothing",
		`say "x"`:                  `"say \"x\""`,
		"a\nb":                     `"a\nb"`,
		most:                       `"` + most + `"`,
		most + "5":                 `"` + most + `"...`,
		strings.Repeat("♯", 25):    `"` + strings.Repeat("♯", 24) + `"...`,
		"\xff":                     `"\xff"`,
		strings.Repeat("\xff", 25): `"` + strings.Repeat(`\xff`, 24) + `"...`,
	} {
		if got := units.Quote(in); got != want {
			t.Errorf("%q: got %s, want %s", in, got, want)
		}
	}
}
