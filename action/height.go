// Package action is about the heights of strings: how high each should stand
// over a curved board, and what to change at the saddle to get it there.
//
// A height runs straight up from the crown of a named fret to the underside of the
// string, up positive. Offsets run from the board's centre line, positive towards the
// treble edge. Strings are numbered from the treble edge.
package action

import (
	"cmp"
	"fmt"
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// AtSaddle returns the change of height at the saddle that gives a wanted change
// at a fret, the nut end staying where it is: twice the change at the 12th.
// share is the fret's share of the scale from the nut (fret.Share); 0, the nut
// itself, gives an infinity.
func AtSaddle(change units.Length, share float64) units.Length {
	return units.Length(float64(change) / share)
}

// mostStrings is how many strings a board may carry.
const mostStrings = 100

// Board is what string heights need to know of a neck: its top, its scale and
// how its strings fan out.
type Board struct {
	Surface      fret.Surface
	Scale        units.Length
	NutSpread    units.Length // centre to centre of the outer strings at the nut
	SaddleSpread units.Length // and at the saddle
	Strings      int          // 1 to 100, their centres evenly spaced, unless:

	// Where each string stands across at the nut and at the saddle, falling from
	// half the spread to minus half: both, or neither. fret.EqualGaps gives them.
	AtNut, AtSaddle []units.Length
}

// Check reports why the board cannot be, or nil.
func (b Board) Check() error {
	if !(b.Scale > 0 && finite(b.Scale)) {
		return fmt.Errorf("got a scale of %v, want more than 0", b.Scale)
	}
	if b.Strings < 1 {
		return fmt.Errorf("got %d strings, want at least 1", b.Strings)
	}
	if b.Strings > mostStrings {
		return fmt.Errorf("got %d strings, want at most %d", b.Strings, mostStrings)
	}
	if b.Strings > 1 && !(b.NutSpread > 0 && b.SaddleSpread > 0 && finite(b.NutSpread) && finite(b.SaddleSpread)) {
		return fmt.Errorf("got string spreads of %v and %v, want more than 0", b.NutSpread, b.SaddleSpread)
	}
	if err := b.Surface.Check(); err != nil {
		return err
	}
	if err := cmp.Or(b.checkPlaces(b.AtNut, b.NutSpread), b.checkPlaces(b.AtSaddle, b.SaddleSpread)); err != nil {
		return err
	}
	if len(b.AtNut) != len(b.AtSaddle) {
		return fmt.Errorf("got places of %d strings at the nut and %d at the saddle, want both or neither", len(b.AtNut), len(b.AtSaddle))
	}
	for _, from := range []units.Length{0, b.Scale} {
		if r, half := b.Surface.Radius(from), b.Offset(1, from); !(r > half) {
			return fmt.Errorf("got a board radius of %v, want more than %v, half the spread of its strings there", r, half)
		}
	}
	return nil
}

// checkPlaces refuses places across that are not those of all strings in order, the
// outer two a spread apart.
func (b Board) checkPlaces(at []units.Length, spread units.Length) error {
	if len(at) == 0 {
		return nil
	}
	if len(at) != b.Strings || b.Strings < 2 {
		return fmt.Errorf("got places of %d strings across, want %d, at least 2", len(at), b.Strings)
	}
	if last := at[len(at)-1]; at[0] != spread/2 || last != -spread/2 {
		return fmt.Errorf("got outer strings at %v and %v, want them half the spread of %v from the centre line", at[0], last, spread)
	}
	for i := range at[1:] {
		if !(at[i+1] < at[i]) {
			return fmt.Errorf("got strings %d and %d at %v and %v, want them in order from the treble", i+1, i+2, at[i], at[i+1])
		}
	}
	return nil
}

// Offset returns how far string s stands from the centre line at a distance
// from the nut; NaN for a string that is not there.
func (b Board) Offset(s int, from units.Length) units.Length {
	switch {
	case s < 1 || s > b.Strings:
		return units.Length(math.NaN())
	case b.Strings == 1:
		return 0
	}
	if s >= 1 && s <= len(b.AtNut) && len(b.AtNut) == len(b.AtSaddle) {
		nut := b.AtNut[s-1]
		return nut + units.Length(float64(b.AtSaddle[s-1]-nut)*from.Over(b.Scale))
	}
	spread := b.NutSpread + units.Length(float64(b.SaddleSpread-b.NutSpread)*from.Over(b.Scale))
	return spread * units.Length(0.5-float64(s-1)/float64(b.Strings-1))
}

// fall is how far the board lies below its centre line under string s, NaN where it
// does not reach so far out.
func (b Board) fall(s int, from units.Length) units.Length {
	camber, err := b.Surface.Camber(from, b.Offset(s, from))
	if err != nil {
		return units.Length(math.NaN())
	}
	return camber
}

func finite(x units.Length) bool { return math.Abs(float64(x)) <= math.MaxFloat64 }

// Even appends to dst the heights of n strings that go from treble to bass in
// even steps, of 100 strings at most. One string takes the treble's.
func Even(dst []units.Length, n int, treble, bass units.Length) []units.Length {
	n = min(n, mostStrings)
	for i := range n {
		t := 0.0
		if n > 1 {
			t = float64(i) / float64(n-1)
		}
		dst = append(dst, treble+units.Length(t*float64(bass-treble)))
	}
	return dst
}

// OnRadius appends to dst the heights of every string at a distance from the
// nut when the undersides of the strings stand on one circle at the saddle: the
// circle of the given radius through the outer two, which stand at the heights
// treble and bass at that distance. fret.Flat makes them a straight line.
//
// It takes the slots of the nut to stand equally high over the board, and the
// neck to be straight; how high they stand makes no difference then.
func (b Board) OnRadius(dst []units.Length, from, treble, bass, radius units.Length) ([]units.Length, error) {
	if err := b.Check(); err != nil {
		return dst, err
	}
	if !(from > 0 && from <= b.Scale) {
		return dst, fmt.Errorf("got %v from the nut, want more than 0 and at most the scale", from)
	}
	if !(finite(treble) && finite(bass)) {
		return dst, fmt.Errorf("got heights of %v and %v, want finite ones", treble, bass)
	}
	if b.Strings == 1 {
		return append(dst, treble), nil
	}
	share := from.Over(b.Scale)
	// level[i] is the underside of string i at the saddle, over the centre line of
	// the board there, for a height of 0 at from; AtSaddle adds what is wanted.
	level := make([]units.Length, b.Strings)
	for i := range level {
		level[i] = AtSaddle(units.Length(1-share)*b.fall(i+1, 0)-b.fall(i+1, from), share)
	}
	last := b.Strings - 1
	outer := chord{b.SaddleSpread / 2, level[0] + AtSaddle(treble, share), level[last] + AtSaddle(bass, share)}
	if least := outer.leastRadius(); !(radius > least) {
		return dst, fmt.Errorf("got a radius of %v at the saddles, want more than %v to span the outer strings", radius, least)
	}
	for i := range level {
		z := outer.arc(b.Offset(i+1, b.Scale), radius)
		dst = append(dst, units.Length(share)*(z-level[i]))
	}
	return dst, nil
}

// chord is the straight line between the outer strings at the saddle, half of it
// either side of the board's centre line.
type chord struct{ half, treble, bass units.Length } // across, and up

func (c chord) slope() float64 {
	if c.half == 0 { // a single string
		return 0
	}
	return float64(c.treble-c.bass) / float64(2*c.half)
}

// leastRadius is that of the circle whose upper half the chord just spans: half
// the chord where it is level.
func (c chord) leastRadius() units.Length {
	s := c.slope()
	return c.half * units.Length(1+s*s)
}

// arc returns how high over y, which lies between the ends of the chord, the
// circle of a radius passes through both of them, bulging up. Over the chord it
// stands at e, where e^2 + b e = q.
func (c chord) arc(y, radius units.Length) units.Length {
	s, r := c.slope(), float64(radius)
	secant := math.Hypot(1, s)
	long := secant * float64(c.half)              // half the chord's length
	deep := math.Sqrt(r-long) * math.Sqrt(r+long) // from the chord to the circle's centre
	b := 2 * (deep/secant + s*float64(y))
	q := secant * secant * float64(c.half-y) * float64(c.half+y)
	e := 0.0
	if q > 0 { // not at an end
		e = 2 * q / (b + math.Sqrt(b*b+4*q)) // keeps its digits when the rise is small
	}
	return (c.treble+c.bass)/2 + units.Length(s*float64(y)+e)
}
