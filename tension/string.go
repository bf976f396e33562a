package tension

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/units"
)

// Steel is the density that strings and their wraps are computed with unless
// told otherwise: plain carbon steel. ASTM A228 wire of 0.284 lb/in3 is 7861
// kg/m3; the strings of M. C. M. Wright's dataset (2020) average 7814.
const Steel units.Density = 7850

// CoreShare is the core's share of a wound string's diameter where only the
// gauge is known. It is an estimate (common practice, no source): real shares
// run from about 0.3 for heavy strings to 0.55 for light ones.
const CoreShare = 0.4

// String is one string, plain or wound. The zero String is none.
type String struct {
	Gauge         units.Length        // outer diameter
	Core          units.Length        // diameter of a wound string's core; 0 for a plain string
	UnitWeight    units.LinearDensity // mass per length
	CoreEstimated bool                // the core was taken as CoreShare of the gauge
}

// thickest is the largest gauge taken, far beyond any string.
const thickest = 20 * units.Millimetre

// Plain returns a plain string of diameter d: unit weight rho pi d^2/4. The
// diameter is above 0 and at most 20 mm, the density above 0.
func Plain(d units.Length, rho units.Density) (String, error) {
	if err := checkGauge(d, rho); err != nil {
		return String{}, err
	}
	return String{Gauge: d, UnitWeight: wire(d, rho)}, nil
}

// Wound returns a round-wound string of outer diameter d on a round core: one
// close layer of wire of diameter (d - core)/2, one turn a wire's diameter,
// whose length follows its helix. The core is above 0 and thinner than d.
//
// Real strings weigh less than this: against the 20 round-wound rows of Wright's
// dataset (2020), with the core taken as CoreShare and steel throughout, it is
// 2 % to 24 % heavy. A stated unit weight is better.
func Wound(d, core units.Length, coreRho, wrapRho units.Density) (String, error) {
	if err := checkGauge(d, coreRho); err != nil {
		return String{}, err
	}
	if !(wrapRho > 0) || math.IsInf(float64(wrapRho), 1) {
		return String{}, fmt.Errorf("got a density of %v, want more than 0", wrapRho)
	}
	if !(core > 0 && core < d) {
		return String{}, fmt.Errorf("got a core of %v, want more than 0 and less than the gauge of %v", core, d)
	}
	w, c := (d-core).Metres()/2, core.Metres()
	across := math.Pi * (c + w) // one turn of the wrap, seen along the string
	wrap := math.Pi / 4 * w * across * math.Hypot(1, w/across)
	mu := wire(core, coreRho) + units.LinearDensity(wrap*float64(wrapRho))
	return String{Gauge: d, Core: core, UnitWeight: mu}, nil
}

// WoundGauge returns a round-wound steel string of which only the gauge is
// known, its core estimated as CoreShare of it.
func WoundGauge(d units.Length) (String, error) {
	s, err := Wound(d, CoreShare*d, Steel, Steel)
	s.CoreEstimated = err == nil
	return s, err
}

func checkGauge(d units.Length, rho units.Density) error {
	if !(d > 0 && d <= thickest) {
		return fmt.Errorf("got a string of %v, want more than 0 and at most %v", d, thickest)
	}
	if !(rho > 0) || math.IsInf(float64(rho), 1) {
		return fmt.Errorf("got a density of %v, want more than 0", rho)
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

// ParseString reads a steel string: 10p or .010p plain, 46w wound with an
// estimated core (both in thousandths of an inch; below 1, in inches),
// plain(0.43mm), or wound(46thou, 18thou) with its core.
func ParseString(s string) (String, error) {
	const want = "a string such as 10p, 46w, plain(0.43mm) or wound(46thou, 18thou)"
	if in, ok := inside(s, "plain("); ok {
		d, err := units.ParseLength(in)
		if err != nil {
			return String{}, err
		}
		return Plain(d, Steel)
	}
	if in, ok := inside(s, "wound("); ok {
		outer, inner, both := strings.Cut(in, ",")
		if !both {
			return String{}, &units.ParseError{Input: s, Offset: 0, Got: units.Quote(s), Want: "gauge and core, as in wound(46thou, 18thou)"}
		}
		d, err := units.ParseLength(strings.TrimSpace(outer))
		if err != nil {
			return String{}, err
		}
		core, err := units.ParseLength(strings.TrimSpace(inner))
		if err != nil {
			return String{}, err
		}
		return Wound(d, core, Steel, Steel)
	}
	x, u, n, err := units.Scan(s)
	if err != nil || n != len(s) || u.Kind != units.KindPlainGauge && u.Kind != units.KindWoundGauge {
		return String{}, &units.ParseError{Input: s, Offset: 0, Got: units.Quote(s), Want: want}
	}
	d, err := u.Base(x)
	if err != nil {
		return String{}, err
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
		return WoundGauge(d)
	}
	return String{}, fmt.Errorf("got a %v, want a plain or a wound string", k)
}

func inside(s, open string) (string, bool) {
	if rest, ok := strings.CutPrefix(s, open); ok {
		return strings.CutSuffix(rest, ")")
	}
	return "", false
}

// String gives the text that ParseString reads back, of a steel string: 10p,
// plain(0.27mm), 46w, or wound(1.1684mm, 0.4572mm).
func (s String) String() string {
	short := ""
	// The trade's whole and half thousandths; other gauges keep all their digits.
	if t := math.Round(s.Gauge.Thou()*2) / 2; t >= 1 {
		letter := "p"
		if s.Wound() {
			letter = "w"
		}
		short = fmt.Sprint(t) + letter
		if back, err := ParseString(short); err == nil && back.Gauge == s.Gauge && back.Core == s.Core {
			return short
		}
	}
	if s.Wound() {
		return fmt.Sprintf("wound(%v, %v)", s.Gauge, s.Core)
	}
	return fmt.Sprintf("plain(%v)", s.Gauge)
}

// MarshalText implements encoding.TextMarshaler.
func (s String) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText implements encoding.TextUnmarshaler.
func (s *String) UnmarshalText(b []byte) error {
	v, err := ParseString(string(b))
	if err == nil {
		*s = v
	}
	return err
}
