package units

import (
	"fmt"
	"math"
	"strconv"
)

// Frequency is a frequency in hertz.
type Frequency float64

// Hertz is the base unit of Frequency.
const Hertz Frequency = 1

// Cents is an interval in cents, 1200 log2 of a ratio of frequencies; plus is
// sharp. It is never a pitch.
type Cents float64

// Intervals to multiply by.
const (
	Cent     Cents = 1
	Semitone Cents = 100
	Octave   Cents = 1200
)

// Interval returns the cents from one frequency up to another. Near a unison
// it keeps full relative accuracy, since the difference of two near frequencies
// is exact. Frequencies that are not positive give NaN or an infinity.
func Interval(from, to Frequency) Cents {
	f, g := float64(from), float64(to)
	switch q := g / f; {
	case f < 0:
		return Cents(math.NaN())
	case q > 0.5 && q < 2:
		return perLog * Cents(math.Log1p((g-f)/f))
	}
	// Octaves apart from the rest, since the quotient may overflow.
	f, down := math.Frexp(f)
	g, up := math.Frexp(g)
	return Octave * Cents(math.Log2(g/f)+float64(up-down))
}

// perLog turns a natural logarithm into cents.
const perLog = Octave / math.Ln2

// Ratio returns the ratio of frequencies, 2^(c/1200).
func (c Cents) Ratio() float64 { return float64(Hertz.Shift(c)) }

// Excess returns Ratio less 1 without losing small intervals.
func (c Cents) Excess() float64 {
	if c > Octave {
		return c.Ratio() - 1
	}
	return math.Expm1(float64(c) * (math.Ln2 / 1200))
}

// Shift returns the frequency that lies c above f.
func (f Frequency) Shift(c Cents) Frequency {
	// Whole octaves are taken off first, which is exact: 2^x is only as good as x
	// is small. No more of them than leave any float64 at 0 or infinity.
	octaves := math.Round(min(max(float64(c)/1200, -3000), 3000))
	rest := float64(c) - 1200*octaves
	return Frequency(math.Ldexp(float64(f)*math.Exp2(rest/1200), int(octaves)))
}

// Note is a note of twelve-tone equal temperament as a semitone number, A4 = 69
// (the numbering of the MIDI Tuning Standard). It has a frequency only with a
// stated A4.
type Note int

// A4 is the note that a tuning states the frequency of.
const A4 Note = 69

// semitones holds 2^(k/12), and what it lacks of that as a float64.
var semitones = [12]struct{ ratio, rest float64 }{
	{1, 0},
	{1.0594630943592952645618252949463, -4.5281280019993405e-17},
	{1.1224620483093729814335330496792, -3.5785071168535571e-17},
	{1.1892071150027210667174999705605, 3.9820152314656461e-17},
	{1.2599210498948731647672106072782, -2.5899333753005069e-17},
	{1.3348398541700343648308318811845, -2.9665386968615039e-18},
	{1.4142135623730950488016887242097, -9.6672933134529135e-17},
	{1.4983070768766814987992807320298, -2.1817049357949077e-17},
	{1.5874010519681994747517056392723, -1.0869008194197823e-16},
	{1.6817928305074290860622509524664, 8.1990100205814965e-17},
	{1.7817974362806786094804524111810, 6.126550165960957e-17},
	{1.8877486253633869932838263133351, -6.2813682007482651e-17},
}

// Frequency returns the note's frequency for a stated frequency of A4.
func (n Note) Frequency(a4 Frequency) Frequency {
	octaves, step := n.fromA4()
	return Frequency(math.Ldexp(float64(a4)*semitones[step].ratio, octaves))
}

// fromA4 gives how far a note lies above A4, in octaves and semitones.
func (n Note) fromA4() (octaves, step int) {
	octaves, step = floorDiv(int(n), 12) // before A4 is taken off, which may overflow
	carry, step := floorDiv(step-int(A4), 12)
	return octaves + carry, step
}

func floorDiv(a, b int) (q, r int) {
	q, r = a/b, a%b
	if r < 0 {
		q, r = q-1, r+b
	}
	return q, r
}

var noteNames = [12]string{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"}

// String names the note with a sharp where it needs an accidental: C#4.
func (n Note) String() string {
	octave, step := floorDiv(int(n), 12)
	return noteNames[step] + strconv.Itoa(octave-1)
}

// The notes that have a text.
const (
	lowestNote  = Note(12 * (-99 + 1))     // C-99
	highestNote = Note(12*(99+1)) + 12 - 1 // B99
	noteRange   = "a note from C-99 to B99"
)

// ParseNote reads a letter from A to G, one accidental if any (# or b, or the
// signs for them), and the octave, in which C4 is middle C: E4, Bb2, F#3, C-1.
// The note must lie from C-99 to B99.
func ParseNote(s string) (Note, error) {
	n, used, err := scanNote(s)
	if err == nil && used != len(s) {
		return 0, errorAt(s, used, "nothing more", "")
	}
	return n, err
}

func scanNote(s string) (n Note, used int, err error) {
	const want = "a note such as E4, Bb2 or F#3"
	if s == "" || s[0] < 'A' || s[0] > 'G' {
		return 0, 0, errorAt(s, 0, want, "")
	}
	step := [...]int{9, 11, 0, 2, 4, 5, 7}[s[0]-'A']
	used = 1
	for _, a := range []struct {
		sign string
		add  int
	}{{"#", 1}, {"♯", 1}, {"b", -1}, {"♭", -1}} {
		if len(s) >= used+len(a.sign) && s[used:used+len(a.sign)] == a.sign {
			step += a.add
			used += len(a.sign)
			break
		}
	}
	start := used
	if used < len(s) && s[used] == '-' {
		used++
	}
	d := digitsLen(s[used:])
	if d == 0 {
		return 0, 0, errorAt(s, start, "an octave after the letter, as in "+s[:start]+"4", "")
	}
	used += d
	octave, cerr := strconv.Atoi(s[start:used])
	n = Note(12*(octave+1) + step)
	if cerr != nil || n < lowestNote || n > highestNote {
		return 0, 0, errorAt(s, 0, noteRange, "")
	}
	return n, used, nil
}

// AppendText implements encoding.TextAppender; it refuses a note that ParseNote
// would.
func (n Note) AppendText(b []byte) ([]byte, error) {
	if n < lowestNote || n > highestNote {
		return b, fmt.Errorf("got %v, want %s", n, noteRange)
	}
	return append(b, n.String()...), nil
}

// MarshalText implements encoding.TextMarshaler; it refuses a note that
// ParseNote would.
func (n Note) MarshalText() ([]byte, error) { return n.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (n *Note) UnmarshalText(b []byte) error { return unmarshal(n, b, ParseNote) }

// Pitch is a note and how far from it, sharp positive: what a tuner shows.
type Pitch struct {
	Note Note  // the nearest, or the one named
	Off  Cents // how far sharp of it
}

// Frequency returns the pitch's frequency for a stated frequency of A4.
func (p Pitch) Frequency(a4 Frequency) Frequency { return p.Note.Frequency(a4).Shift(p.Off) }

// Nearest returns the note nearest to f for a stated frequency of A4, and how
// far f lies from it, at most 50 cents either way. Frequencies that are not
// positive and finite give A4 off by NaN.
func Nearest(f, a4 Frequency) Pitch {
	c := float64(Interval(a4, f))
	if !(math.Abs(c) <= math.MaxFloat64) {
		return Pitch{A4, Cents(math.NaN())}
	}
	n := A4 + Note(math.Round(c/100))
	return Pitch{n, n.off(float64(f), float64(a4))}
}

// off returns how far f lies from the note, which is the nearest.
func (n Note) off(f, a4 float64) Cents {
	f, down := math.Frexp(f)
	a, up := math.Frexp(a4)
	octaves, step := n.fromA4()
	a = math.Ldexp(a, octaves+up-down)
	// The note's frequency is note and rest together: one float64 of it would be
	// off by as much as f may be.
	s := semitones[step]
	note := float64(a * s.ratio)
	rest := math.FMA(a, s.ratio, -note) + a*s.rest
	return perLog * Cents(math.Log1p((f-note-rest)/note))
}

// ParsePitch reads a note, and cents off it if any: E4, Bb2+7c, A4-3.5c.
func ParsePitch(s string) (Pitch, error) {
	n, used, err := scanNote(s)
	if err != nil || used == len(s) {
		return Pitch{Note: n}, err
	}
	if s[used] != '+' && s[used] != '-' {
		return Pitch{}, errorAt(s, used, "cents with their sign, such as +7c", "")
	}
	c, err := ParseCents(s[used:])
	if err != nil {
		return Pitch{}, within(err, s, used)
	}
	return Pitch{n, c}, nil
}

// String gives the note and, where it is off, the signed cents: A4+3.93c. It
// reads back exactly with ParsePitch.
func (p Pitch) String() string {
	if p.Off == 0 {
		return p.Note.String()
	}
	return p.Note.String() + fmt.Sprintf("%+v", p.Off)
}

// AppendText implements encoding.TextAppender; it refuses a note that ParseNote
// would, NaN and infinities.
func (p Pitch) AppendText(b []byte) ([]byte, error) {
	if _, err := p.Note.AppendText(nil); err != nil {
		return b, err
	}
	if _, err := p.Off.AppendText(nil); err != nil {
		return b, err
	}
	return append(b, p.String()...), nil
}

// MarshalText implements encoding.TextMarshaler; it refuses what AppendText
// refuses.
func (p Pitch) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (p *Pitch) UnmarshalText(b []byte) error { return unmarshal(p, b, ParsePitch) }
