package draw

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// clean makes text one line: blanks and control characters become single
// blanks, and bytes that are no text become U+FFFD.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsSpace(r) || unicode.IsControl(r) }), " ")
}

// plain puts near signs for those that a standard PDF font lacks and that an
// exchange file would spell out as numbers.
var plain = strings.NewReplacer(
	"♯", "#", "♭", "b", "♮", "", "−", "-", "‐", "-", "‑", "-", "–", "-", "—", "-", "‘", "'", "’", "'", "“", `"`, "”", `"`,
	"′", "'", "″", `"`, "μ", "µ", "…", "...", "⌀", "Ø", "≤", "<=", "≥", ">=", "≈", "~", "→", "->", "←", "<-",
)

// helvetica is the width of the letters from blank to ~, in thousandths of the
// size, as in the metrics that come with the standard fonts of PDF (Adobe Core 14).
var helvetica = [...]uint16{
	278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
	667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
	556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
}

// width is how long a word is in Helvetica; letters beyond ASCII count as wide as
// a figure.
func (w *Word) width() units.Length {
	sum := 0
	for _, r := range plain.Replace(clean(w.Text)) {
		if r >= ' ' && r <= '~' {
			sum += int(helvetica[r-' '])
		} else {
			sum += 556
		}
	}
	return w.size() * units.Length(float64(sum)/1000)
}

// along returns the place so far from the word's own along its baseline, and so
// far above that.
func (w *Word) along(far, above units.Length) fret.Point {
	sin, cos := math.Sincos(w.Angle.Radians())
	x, y := float64(far), float64(above)
	return fret.Point{X: w.At.X + units.Length(x*cos-y*sin), Y: w.At.Y + units.Length(x*sin+y*cos)}
}

// start is where the word's first letter stands from its place.
func (w *Word) start() units.Length { return -w.width() * units.Length(w.Anchor) / 2 }

// corners are those of the box round the word, with its descenders.
func (w *Word) corners() [4]fret.Point {
	left, right := w.start(), w.start()+w.width()
	low, high := -0.25*w.size(), 0.8*w.size()
	return [4]fret.Point{w.along(left, low), w.along(right, low), w.along(right, high), w.along(left, high)}
}

// exchanged writes text in ASCII. What would be read as a code is written so that
// it is read as itself.
func exchanged(s string) string {
	var b strings.Builder
	for _, r := range codes.Replace(plain.Replace(clean(s))) {
		switch {
		case r < 0x7F:
			b.WriteRune(r)
		case r > 0xFFFF:
			b.WriteByte('?') // four digits cannot say it
		default:
			fmt.Fprintf(&b, `\U+%04X`, r)
		}
	}
	return b.String()
}

// Readers differ on what %%% is, so no two percent signs touch.
var codes = strings.NewReplacer("%%", "% % ", "%°", "% %%d", "%±", "% %%p", "°", "%%d", "±", "%%p",
	"^", "^ ", `\U+`, `\U+005CU+`, `\M+`, `\U+005CM+`)

// quoted writes text as a string of one byte a letter.
func quoted(s string) string {
	b := []byte("(")
	for _, r := range plain.Replace(clean(s)) {
		switch {
		case r == '(' || r == ')' || r == '\\':
			b = append(b, '\\', byte(r))
		case r <= '~' || r >= 0xA0 && r <= 0xFF:
			b = append(b, byte(r))
		default:
			b = append(b, '?')
		}
	}
	return string(append(b, ')'))
}
