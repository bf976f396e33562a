package tension

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/units"
)

// CoreShare is the core's share of a wound string's diameter where only the
// gauge is known. It is an estimate (common practice, no source): real shares
// run from about 0.3 for heavy strings to 0.55 for light ones.
const CoreShare = 0.4

// String is one string, plain or wound. The zero String is none. Constructors
// compute what they can from diameters and materials; whoever knows better sets
// the field, and what is stated wins.
type String struct {
	Gauge         units.Length        // outer diameter
	Core          units.Length        // diameter of a wound string's core; 0 for a plain string
	UnitWeight    units.LinearDensity // mass per length
	Stretch       units.Force         // E A, pull per strain: of the core of a wound string
	Bend          float64             // E I in N m^2: of the core of a wound string
	Of            Material            // plain string or core
	CoreEstimated bool                // the core was taken as a share of the gauge
}

// thickest is the largest gauge taken, far beyond any string.
const thickest = 20 * units.Millimetre

// Plain returns a plain string of diameter d: unit weight rho pi d^2/4. The
// diameter is above 0 and at most 20 mm, the density above 0.
func Plain(d units.Length, m Material) (String, error) {
	if err := checkGauge(d, m); err != nil {
		return String{}, err
	}
	s := String{Gauge: d, UnitWeight: wire(d, m.Density), Of: m}
	s.Stretch, s.Bend = rod(d, m.Young)
	return s, nil
}

// Wound returns a round-wound string of outer diameter d on a round core: one
// close layer of wire of diameter (d - core)/2, one turn a wire's diameter,
// whose length follows its helix. The core is above 0 and thinner than d.
//
// Real strings mostly weigh less: against the 16 round-wound rows of Wright's
// dataset (2020), with the core taken as CoreShare and steel throughout, it is
// from 2.2 % light to 20.1 % heavy, 5.2 % heavy on average. Flat-wound strings
// weigh more than this: it is 0.6 % to 8.1 % light on that dataset's 8 rows. A
// stated unit weight is better.
func Wound(d, core units.Length, of, wrap Material) (String, error) {
	if err := checkGauge(d, of); err != nil {
		return String{}, err
	}
	if err := checkGauge(d, wrap); err != nil {
		return String{}, err
	}
	if !(core > 0 && core < d) {
		return String{}, fmt.Errorf("got a core of %v, want more than 0 and less than the gauge of %v", core, d)
	}
	w, c := (d-core).Metres()/2, core.Metres()
	across := math.Pi * (c + w) // one turn of the wrap, seen along the string
	wound := math.Pi / 4 * w * across * math.Hypot(1, w/across)
	s := String{Gauge: d, Core: core, UnitWeight: wire(core, of.Density) + units.LinearDensity(wound*float64(wrap.Density)), Of: of}
	s.Stretch, s.Bend = rod(core, of.Young)
	return s, nil
}

// WoundGauge returns a round-wound steel string of which only the gauge is
// known, its core estimated as a share of it; 0 takes CoreShare.
func WoundGauge(d units.Length, share float64) (String, error) {
	if share == 0 {
		share = CoreShare
	}
	s, err := Wound(d, units.Length(share*float64(d)), Steel, Steel)
	s.CoreEstimated = err == nil
	return s, err
}

func checkGauge(d units.Length, m Material) error {
	if !(d > 0 && d <= thickest) {
		return fmt.Errorf("got a string of %v, want more than 0 and at most %v", d, thickest)
	}
	if !(m.Density > 0) || math.IsInf(float64(m.Density), 1) {
		return fmt.Errorf("got a density of %v, want more than 0", m.Density)
	}
	if !(m.Young >= 0) || math.IsInf(float64(m.Young), 1) {
		return fmt.Errorf("got a stiffness of %v, want at least 0", m.Young)
	}
	return nil
}

func wire(d units.Length, rho units.Density) units.LinearDensity {
	m := d.Metres()
	return units.LinearDensity(math.Pi / 4 * float64(rho) * m * m)
}

// Wound reports whether the string has a wrap.
func (s String) Wound() bool { return s.Core != 0 }

// Stressed returns the diameter that carries the pull: the core of a wound
// string, else the gauge.
func (s String) Stressed() units.Length {
	if s.Wound() {
		return s.Core
	}
	return s.Gauge
}

const woundOpen = "wound("

// plains are the plain strings that are written by their diameter.
var plains = [...]struct {
	open string
	of   *Material
}{{"plain(", &Steel}, {"nylon(", &Nylon}, {"fluorocarbon(", &Fluorocarbon}}

// ParseString reads a string: of steel 10p or .010p plain, 46w wound with an
// estimated core (both in thousandths of an inch; below 1, in inches),
// plain(0.43mm), or wound(46thou, 18thou) with its core; nylon(0.7mm) or
// fluorocarbon(0.6mm). Text that cannot be read is a *units.ParseError.
func ParseString(s string) (String, error) {
	for _, p := range plains {
		if in, ok := inside(s, p.open); ok {
			d, err := lengthIn(s, len(p.open), in)
			if err != nil {
				return String{}, err
			}
			return Plain(d, *p.of)
		}
	}
	if in, ok := inside(s, woundOpen); ok {
		return parseWound(s, in)
	}
	x, u, n, err := units.Scan(s)
	if err != nil || n != len(s) || u.Kind != units.KindPlainGauge && u.Kind != units.KindWoundGauge {
		const want = "a string such as 10p, 46w, plain(0.43mm) or wound(46thou, 18thou)"
		return String{}, &units.ParseError{Input: s, Got: units.Quote(s), Want: want}
	}
	d, err := u.Base(x)
	if err != nil {
		return String{}, about(s, 0, err)
	}
	return ByUnit(units.Length(d), u.Kind)
}

// ByUnit returns the steel string of a gauge that was written with the unit p
// or w.
func ByUnit(d units.Length, k units.Kind) (String, error) {
	switch k {
	case units.KindPlainGauge:
		return Plain(d, Steel)
	case units.KindWoundGauge:
		return WoundGauge(d, 0)
	}
	return String{}, fmt.Errorf("got a %v, want a plain or a wound string", k)
}

// parseWound reads what stands inside the brackets of wound(...), which is the
// whole of s.
func parseWound(s, in string) (String, error) {
	outer, inner, both := strings.Cut(in, ",")
	if !both {
		return String{}, &units.ParseError{Input: s, Offset: len(woundOpen), Got: units.Quote(in), Want: "gauge and core, as in wound(46thou, 18thou)"}
	}
	d, err := lengthIn(s, len(woundOpen), outer)
	if err != nil {
		return String{}, err
	}
	core, err := lengthIn(s, len(woundOpen)+len(outer)+len(","), inner)
	if err != nil {
		return String{}, err
	}
	return Wound(d, core, Steel, Steel)
}

// lengthIn reads a length, blanks around it allowed, out of part, which stands
// at byte at of s.
func lengthIn(s string, at int, part string) (units.Length, error) {
	bare := strings.TrimLeft(part, " \t")
	at += len(part) - len(bare)
	l, err := units.ParseLength(strings.TrimRight(bare, " \t"))
	return l, about(s, at, err)
}

// about restates an error about what stands at byte at of s as one about s.
func about(s string, at int, err error) error {
	if e, ok := err.(*units.ParseError); ok {
		return &units.ParseError{Input: s, Offset: at + e.Offset, Got: e.Got, Want: e.Want, Hint: e.Hint}
	}
	return err
}

func inside(s, open string) (string, bool) {
	if rest, ok := strings.CutPrefix(s, open); ok {
		return strings.CutSuffix(rest, ")")
	}
	return "", false
}

// String gives the text that ParseString reads back, of a string with nothing
// stated but diameters and a material that has a word: 10p, plain(0.27mm), 46w,
// wound(1.1684mm, 0.4572mm), nylon(0.7mm). All comes back exactly; that a core was
// estimated does where the gauge is one of thousandths of an inch, to three
// decimals of them.
func (s String) String() string {
	letter, long := "p", fmt.Sprintf("plain(%v)", s.Gauge)
	for _, p := range plains {
		if s.Of == *p.of {
			long = fmt.Sprintf("%s%v)", p.open, s.Gauge)
		}
	}
	if s.Wound() {
		letter, long = "w", fmt.Sprintf("wound(%v, %v)", s.Gauge, s.Core)
	}
	short := fmt.Sprint(math.Round(s.Gauge.Thou()*1000)/1000) + letter
	if back, err := ParseString(short); err == nil && back == s {
		return short
	}
	return long
}

// MarshalText implements encoding.TextMarshaler; it refuses a string of which
// something else is stated, since its text could not say so.
func (s String) MarshalText() ([]byte, error) {
	text := s.String()
	back, err := ParseString(text)
	back.CoreEstimated = s.CoreEstimated
	if err != nil || back != s {
		return nil, fmt.Errorf("got %s of %v, want a string that its text says all of", text, s.UnitWeight)
	}
	return []byte(text), nil
}

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *String) UnmarshalText(b []byte) error {
	v, err := ParseString(string(b))
	if err == nil {
		*s = v
	}
	return err
}
