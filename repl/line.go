package repl

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.org/saddlepoint/units"
)

// MostLine is the longest line that is read, in bytes.
const MostLine = 1 << 16

// checkLine refuses what no line of the language can be.
func checkLine(s string) error {
	if len(s) > MostLine {
		return fmt.Errorf("got a line of more than %d bytes, want a shorter one", MostLine)
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return r < ' ' && r != '\t' || r == 0x7f }); i >= 0 {
		return faultf(i, "got the control character %q, want text", s[i])
	}
	if !utf8.ValidString(s) {
		at := 0
		for at < len(s) {
			r, n := utf8.DecodeRuneInString(s[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		return faultf(at, "got bytes that are no UTF-8, want text")
	}
	return nil
}

// cutComment cuts off a comment: it begins at a # that stands outside a text
// and is no accidental.
//
//	comment = "#" { any } .
//	any = "\t" | " " … "~" | "\u00a0" … "\U0010ffff" .
func cutComment(s string) string {
	text := false
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '"':
			// One that touches a number is the inch mark; of "" the second opens
			// the text again.
			text = !text && (i == 0 || !isDigit(s[i-1]))
		case '#':
			if !text && !accidental(s, i) {
				return s[:i]
			}
		}
	}
	return s
}

// accidental reports whether the byte at i stands between a note's letter and
// its octave.
func accidental(s string, i int) bool {
	if i == 0 || s[i-1] < 'A' || s[i-1] > 'G' || i > 1 && wordByte(s[i-2]) {
		return false
	}
	octave := strings.TrimPrefix(s[i+1:], "-")
	return octave != "" && isDigit(octave[0])
}

// headLen returns where the colon of a telling line stands, or -1: the line
// begins with words, whole numbers and groups of them, and then the colon.
func headLen(s string) int {
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c == ':':
			if strings.TrimSpace(s[:i]) == "" {
				return -1
			}
			return i
		case c == '+':
			if i == 0 || !isDigit(s[i-1]) || i+1 == len(s) || !isDigit(s[i+1]) {
				return -1
			}
		case !wordByte(c) && c != ' ' && c != '\t':
			return -1
		}
	}
	return -1
}

// wholeNumber is the value of digits, held at a million: more than anything here
// may number.
//
//	whole = digit { digit } .
func wholeNumber(digits string) int {
	n := 0
	for _, c := range digits {
		n = min(10*n+int(c-'0'), 1e6)
	}
	return n
}

// digit = "0" … "9" .
func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// letter = small | "A" … "Z" .
// small = "a" … "z" .
func isLetter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }
func wordByte(c byte) bool { return isLetter(c) || isDigit(c) || c == '_' }

// blanks is how many blanks s begins with.
//
//	blanks = blank { blank } .
//	blank = " " | "\t" .
func blanks(s string) int { return len(s) - len(strings.TrimLeft(s, " \t")) }

// wordLen is the length of the word at the front of s: a letter, then letters,
// digits and underscores.
func wordLen(s string) int {
	n := 0
	for n < len(s) && wordByte(s[n]) && (n > 0 || isLetter(s[n])) {
		n++
	}
	return n
}

// unitNamed returns the unit that a word alone is.
func unitNamed(word string) (units.Unit, bool) {
	// Not behind a whole number, which a fraction would continue.
	const before = "1.0 "
	_, u, n, err := units.Scan(before + word)
	return u, err == nil && n == len(before)+len(word) && u.Kind != units.KindNumber
}

// piece is a part of a line and where it stands.
type piece struct {
	text string
	at   int
}

// pieces parts s, which stands at byte at of its line, at blanks that stand
// outside brackets.
func pieces(s string, at int) []piece {
	out := make([]piece, 0, 1+strings.Count(s, " "))
	depth, start := 0, -1
	for i := 0; i <= len(s); i++ {
		if i == len(s) || depth <= 0 && (s[i] == ' ' || s[i] == '\t') {
			if start >= 0 {
				out = append(out, piece{s[start:i], at + start})
			}
			start = -1
			continue
		}
		if start < 0 {
			start = i
		}
		switch s[i] {
		case '(':
			depth++
		case ')':
			depth--
		}
	}
	return out
}
