package units

import (
	"fmt"
	"strings"
)

// Thread is the travel of a screw in millimetres a turn.
type Thread float64

// Turns is a rotation in turns of a screw.
type Turns float64

// Turn is the base unit of Turns.
const Turn Turns = 1

// coarse holds the coarse pitches of ISO 261 (1998), in millimetres.
var coarse = []struct {
	name  string
	pitch Thread
}{
	{"M1", 0.25}, {"M1.2", 0.25}, {"M1.4", 0.3}, {"M1.6", 0.35}, {"M1.8", 0.35}, {"M2", 0.4}, {"M2.5", 0.45},
	{"M3", 0.5}, {"M3.5", 0.6}, {"M4", 0.7}, {"M5", 0.8}, {"M6", 1}, {"M7", 1}, {"M8", 1.25}, {"M10", 1.5}, {"M12", 1.75},
}

// Turns returns how far to turn the screw for a travel of l; plus and minus
// follow l.
func (t Thread) Turns(l Length) Turns { return Turns(float64(l) / float64(t)) }

// Travel returns how far the screw moves in n turns.
func (t Thread) Travel(n Turns) Length { return Length(float64(t) * float64(n)) }

// PerInch returns the number of threads per inch.
func (t Thread) PerInch() float64 { return 25.4 / float64(t) }

// ParseThread reads a coarse metric thread (M3, its pitch from ISO 261), a
// number of threads per inch (40tpi) or a travel a turn (0.5mm). It must be
// more than 0.
func ParseThread(s string) (Thread, error) {
	const want = "a thread such as M3, 40tpi or 0.5mm"
	if hint := unifiedHint(s); hint != "" {
		return 0, errorAt(s, 0, want, hint)
	}
	if strings.HasPrefix(s, "M") {
		for _, c := range coarse {
			if c.name == s {
				return c.pitch, nil
			}
		}
		return 0, errorAt(s, 0, "a coarse metric thread from M1 to M12", "or write the travel of one turn, such as 0.5mm")
	}
	x, u, n, err := Scan(s)
	switch {
	case err != nil:
		return 0, err
	case u.Kind != KindLength && u.Kind != KindThread:
		return 0, errorAt(s, 0, want, CommaHint(s))
	case n != len(s):
		return 0, errorAt(s, n, "nothing more", "")
	}
	v, err := u.Base(x)
	if err != nil {
		return 0, within(err, s, 0)
	}
	if v <= 0 {
		return 0, errorAt(s, 0, "a thread of more than 0", "")
	}
	return Thread(v), nil
}

// unifiedHint says how to write a thread that is named by its size and its
// threads per inch, such as 4-40, #8-32 UNC or 1/4-20; it is empty for others.
func unifiedHint(s string) string {
	size, rest, _ := strings.Cut(s, "-")
	threads, _, _ := strings.Cut(rest, " ")
	if size == "" || strings.Trim(size, "#/0123456789") != "" || !isDigits(threads) || len(threads) > 3 {
		return ""
	}
	return "write " + threads + "tpi"
}

// String gives the travel of one turn, such as "0.5mm"; ParseThread reads it
// back exactly.
func (t Thread) String() string { return text(float64(t), "mm") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (t Thread) Format(s fmt.State, verb rune) { format(s, verb, float64(t), "mm", "Thread") }

// AppendText implements encoding.TextAppender; it refuses what ParseThread
// would: 0 and less, NaN and infinities.
func (t Thread) AppendText(b []byte) ([]byte, error) {
	if t <= 0 {
		return b, fmt.Errorf("got %v, want a thread of more than 0", t)
	}
	return appendText(b, float64(t), "mm")
}

// MarshalText implements encoding.TextMarshaler; it refuses what AppendText
// refuses.
func (t Thread) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (t *Thread) UnmarshalText(b []byte) error { return unmarshal(t, b, ParseThread) }
