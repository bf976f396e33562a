package units

import "fmt"

// The text methods of every quantity, one stanza each; only the symbol and the
// kind differ.

// ParseLength reads a length with its unit.
func ParseLength(s string) (Length, error) { return parse[Length](s, KindLength) }

// String gives the shortest text that ParseLength reads back exactly.
func (l Length) String() string { return text(float64(l), "mm") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (l Length) Format(s fmt.State, verb rune) { format(s, verb, float64(l), "mm", "Length") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (l Length) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(l), "mm") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (l Length) MarshalText() ([]byte, error) { return l.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (l *Length) UnmarshalText(b []byte) error { return unmarshal(l, b, ParseLength) }

// ParseAngle reads an angle with its unit.
func ParseAngle(s string) (Angle, error) { return parse[Angle](s, KindAngle) }

// String gives the shortest text that ParseAngle reads back exactly.
func (a Angle) String() string { return text(float64(a), "deg") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (a Angle) Format(s fmt.State, verb rune) { format(s, verb, float64(a), "deg", "Angle") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (a Angle) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(a), "deg") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (a Angle) MarshalText() ([]byte, error) { return a.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (a *Angle) UnmarshalText(b []byte) error { return unmarshal(a, b, ParseAngle) }

// ParseForce reads a force with its unit.
func ParseForce(s string) (Force, error) { return parse[Force](s, KindForce) }

// String gives the shortest text that ParseForce reads back exactly.
func (f Force) String() string { return text(float64(f), "N") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (f Force) Format(s fmt.State, verb rune) { format(s, verb, float64(f), "N", "Force") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (f Force) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(f), "N") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (f Force) MarshalText() ([]byte, error) { return f.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (f *Force) UnmarshalText(b []byte) error { return unmarshal(f, b, ParseForce) }

// ParseStress reads a stress with its unit.
func ParseStress(s string) (Stress, error) { return parse[Stress](s, KindStress) }

// String gives the shortest text that ParseStress reads back exactly.
func (p Stress) String() string { return text(float64(p), "Pa") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (p Stress) Format(s fmt.State, verb rune) { format(s, verb, float64(p), "Pa", "Stress") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (p Stress) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(p), "Pa") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (p Stress) MarshalText() ([]byte, error) { return p.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (p *Stress) UnmarshalText(b []byte) error { return unmarshal(p, b, ParseStress) }

// ParseDensity reads a density with its unit.
func ParseDensity(s string) (Density, error) { return parse[Density](s, KindDensity) }

// String gives the shortest text that ParseDensity reads back exactly.
func (d Density) String() string { return text(float64(d), "kg/m3") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (d Density) Format(s fmt.State, verb rune) { format(s, verb, float64(d), "kg/m3", "Density") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (d Density) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(d), "kg/m3") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (d Density) MarshalText() ([]byte, error) { return d.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (d *Density) UnmarshalText(b []byte) error { return unmarshal(d, b, ParseDensity) }

// ParseLinearDensity reads a unit weight with its unit.
func ParseLinearDensity(s string) (LinearDensity, error) {
	return parse[LinearDensity](s, KindLinearDensity)
}

// String gives the shortest text that ParseLinearDensity reads back exactly.
func (l LinearDensity) String() string { return text(float64(l), "kg/m") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (l LinearDensity) Format(s fmt.State, verb rune) {
	format(s, verb, float64(l), "kg/m", "LinearDensity")
}

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (l LinearDensity) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(l), "kg/m") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (l LinearDensity) MarshalText() ([]byte, error) { return l.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (l *LinearDensity) UnmarshalText(b []byte) error { return unmarshal(l, b, ParseLinearDensity) }

// ParseFrequency reads a frequency with its unit.
func ParseFrequency(s string) (Frequency, error) { return parse[Frequency](s, KindFrequency) }

// String gives the shortest text that ParseFrequency reads back exactly.
func (f Frequency) String() string { return text(float64(f), "Hz") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (f Frequency) Format(s fmt.State, verb rune) { format(s, verb, float64(f), "Hz", "Frequency") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (f Frequency) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(f), "Hz") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (f Frequency) MarshalText() ([]byte, error) { return f.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (f *Frequency) UnmarshalText(b []byte) error { return unmarshal(f, b, ParseFrequency) }

// ParseCents reads a number of cents with its unit.
func ParseCents(s string) (Cents, error) { return parse[Cents](s, KindCents) }

// String gives the shortest text that ParseCents reads back exactly.
func (c Cents) String() string { return text(float64(c), "c") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (c Cents) Format(s fmt.State, verb rune) { format(s, verb, float64(c), "c", "Cents") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (c Cents) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(c), "c") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (c Cents) MarshalText() ([]byte, error) { return c.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (c *Cents) UnmarshalText(b []byte) error { return unmarshal(c, b, ParseCents) }

// ParseTurns reads a number of turns with its unit.
func ParseTurns(s string) (Turns, error) { return parse[Turns](s, KindTurns) }

// String gives the shortest text that ParseTurns reads back exactly.
func (t Turns) String() string { return text(float64(t), "turns") }

// Format implements fmt.Formatter; every verb keeps the unit.
func (t Turns) Format(s fmt.State, verb rune) { format(s, verb, float64(t), "turns", "Turns") }

// AppendText implements encoding.TextAppender; it refuses NaN and infinities.
func (t Turns) AppendText(b []byte) ([]byte, error) { return appendText(b, float64(t), "turns") }

// MarshalText implements encoding.TextMarshaler; it refuses NaN and infinities.
func (t Turns) MarshalText() ([]byte, error) { return t.AppendText(nil) }

// UnmarshalText implements encoding.TextUnmarshaler.
func (t *Turns) UnmarshalText(b []byte) error { return unmarshal(t, b, ParseTurns) }

func unmarshal[T any](into *T, b []byte, parse func(string) (T, error)) error {
	v, err := parse(string(b))
	if err == nil {
		*into = v
	}
	return err
}
