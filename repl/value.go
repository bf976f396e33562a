package repl

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// kind says what a value is: a kind of quantity, or one of the kinds below.
type kind = units.Kind

// Kinds of value that are no quantities.
const (
	kindPitch  kind = 100 + iota
	kindString      // a string of an instrument
	kindStack       // of leaves
	kindRef         // s3: the record's string 3
)

var kindWords = map[kind]string{
	kindPitch: "pitch", kindString: "string", kindStack: "stack of leaves", kindRef: "string of the record",
}

// kindWord names a kind with its article.
func kindWord(k kind) string {
	w, ok := kindWords[k]
	if !ok {
		w = k.String()
	}
	if k == units.KindAngle {
		return "an " + w
	}
	return "a " + w
}

// value is what an expression comes to.
type value struct {
	kind   kind
	x      float64        // of a quantity, in its base unit; of a reference, the string's number
	pitch  units.Pitch    // of a pitch
	string tension.String // of a string
	stack  leaves.Stack
	notes  []string // what follows the other views
}

func length(l units.Length) value { return value{kind: units.KindLength, x: float64(l)} }

func (v value) length() units.Length { return units.Length(v.x) }

// total is the thickness of a stack.
func (v value) total() units.Length {
	var sum units.Length
	for _, l := range v.stack.Leaves {
		sum += l
	}
	return sum
}

// View is how answers print.
type view struct {
	inches bool
	letter bool // pictures go on Letter, not A4
	digits int  // decimals; negative for each quantity's own
}

// form is how a quantity of one kind prints: its unit, and its decimals.
type form struct {
	unit   units.Unit
	digits int
}

var forms = makeForms()

func makeForms() map[string]form {
	digits := map[string]int{"mm": 3, "in": 4, "deg": 2, "N": 2, "lbf": 2, "kgf": 2, "MPa": 1, "kg/m3": 1,
		"g/m": 3, "lb/in": 8, "Hz": 3, "c": 2, "turns": 2, "tpi": 2}
	out := map[string]form{}
	for _, u := range units.Table() {
		if d, ok := digits[u.Symbol]; ok {
			out[u.Symbol] = form{u, d}
		}
	}
	return out
}

// unitsOf names the units that each kind prints in: the first leads, the others
// follow as other views.
var unitsOf = map[kind][]string{
	units.KindLength:        {"mm", "in"},
	units.KindAngle:         {"deg"},
	units.KindForce:         {"N", "lbf", "kgf"},
	units.KindStress:        {"MPa"},
	units.KindDensity:       {"kg/m3"},
	units.KindLinearDensity: {"g/m", "lb/in"},
	units.KindFrequency:     {"Hz"},
	units.KindCents:         {"c"},
	units.KindTurns:         {"turns"},
	units.KindThread:        {"mm", "tpi"},
}

// symbols lists the units that a kind prints in, the leading one first.
func (w view) symbols(k kind) []string {
	s := unitsOf[k]
	if k == units.KindLength && w.inches {
		return []string{"in", "mm"}
	}
	return s
}

// number returns x, in the base unit, as a number of the named unit.
func number(x float64, symbol string) float64 {
	u := forms[symbol].unit
	if u.Inverse {
		return u.Num / u.Den / x
	}
	return x * u.Den / u.Num
}

// in prints x, in the base unit, in the named unit.
func (w view) in(x float64, symbol string) string {
	d := forms[symbol].digits
	if w.digits >= 0 {
		d = w.digits
	}
	return fixed(number(x, symbol), d) + symbol
}

// fixed prints x to a number of decimals, with no minus on a zero.
func fixed(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.HasPrefix(s, "-") && strings.Trim(s, "-0.") == "" {
		return s[1:]
	}
	return s
}

// length prints a length in the leading unit.
func (w view) length(l units.Length) string {
	if math.IsInf(float64(l), 1) {
		return "flat"
	}
	return w.in(float64(l), w.symbols(units.KindLength)[0])
}

// told prints a length that was told: with no more zeros than it needs.
func (w view) told(l units.Length) string {
	symbol := w.symbols(units.KindLength)[0]
	s := strings.TrimSuffix(w.length(l), symbol)
	if math.IsInf(float64(l), 0) || !strings.Contains(s, ".") {
		return w.length(l)
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".") + symbol
}

// text prints a value, so that it can be typed back in.
func (w view) text(v value) string {
	switch v.kind {
	case units.KindNumber:
		if w.digits >= 0 {
			return fixed(v.x, w.digits)
		}
		return strconv.FormatFloat(v.x, 'g', 12, 64)
	case kindPitch:
		return w.pitch(v.pitch)
	case kindString:
		return w.string(v.string)
	case kindStack:
		s := make([]string, len(v.stack.Leaves))
		for i, l := range v.stack.Leaves {
			s[i] = w.length(l)
		}
		return strings.Join(s, " + ")
	case kindRef:
		return "s" + strconv.Itoa(int(v.x))
	case units.KindLength:
		return w.length(v.length())
	}
	return w.in(v.x, w.symbols(v.kind)[0])
}

func (w view) pitch(p units.Pitch) string {
	off := w.in(float64(p.Off), "c")
	switch {
	case strings.Trim(off, "0.c") == "":
		return p.Note.String()
	case off[0] != '-':
		off = "+" + off
	}
	return p.Note.String() + off
}

// string prints a string as the trade writes it, or by its diameters.
func (w view) string(s tension.String) string {
	short := s.String()
	switch {
	case !strings.HasSuffix(short, ")"):
		return short
	case s.Wound():
		return fmt.Sprintf("wound(%s, %s)", w.length(s.Gauge), w.length(s.Core))
	}
	word, _, _ := strings.Cut(short, "(")
	return fmt.Sprintf("%s(%s)", word, w.length(s.Gauge))
}

// also lists the other views of a value, and then its notes.
func (w view) also(v value, a4 units.Frequency) []string {
	var out []string
	switch v.kind {
	case kindPitch:
		out = append(out, w.in(float64(v.pitch.Frequency(a4)), "Hz"))
	case units.KindFrequency:
		if v.x > 0 {
			out = append(out, w.pitch(units.Nearest(units.Frequency(v.x), a4)))
		}
	case kindString:
		// What the text does not show.
		symbols := w.symbols(units.KindLength)
		if strings.HasSuffix(w.string(v.string), ")") {
			symbols = symbols[1:]
		}
		out = append(out, w.in(float64(v.string.Gauge), symbols[0]), w.in(float64(v.string.UnitWeight), "g/m"))
	case kindStack:
		out = append(out, w.miss(v.stack))
	default:
		if s := w.symbols(v.kind); len(s) > 1 && v.x-v.x == 0 && (v.kind != units.KindThread || v.x != 0) {
			for _, symbol := range s[1:] {
				out = append(out, w.in(v.x, symbol))
			}
		}
	}
	return append(out, v.notes...)
}

// miss says how far a stack is off.
func (w view) miss(s leaves.Stack) string {
	switch {
	case s.Miss > 0:
		return w.length(s.Miss) + " over"
	case s.Miss < 0:
		return w.length(-s.Miss) + " under"
	}
	return "exact"
}

// assumedA4 is the note on an answer that took A4 for granted.
func assumedA4(r *bench.Record) string {
	if a4, assumed := r.Concert(); assumed {
		return fmt.Sprintf("A4 taken as %v", a4)
	}
	return ""
}
