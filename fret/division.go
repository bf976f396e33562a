// Package fret lays out frets and the board under them: where each fret goes on
// a scale, for any division or tuning, the board's lines, slots and edges for one
// scale or two, and the curve of its top.
//
// Every distance is measured from the nut, never from fret to fret, so that
// errors of marking do not add up.
package fret

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// most is the number of frets a division may hold.
const most = 1000

// Division holds where frets stand, as cents above the open string and as
// shares of the scale from the nut. The zero Division has no frets.
type Division struct {
	cents []units.Cents
	share []float64 // share[n-1] = 1 - 2^(-cents/1200)
}

// Equal divides the interval of into by equal steps and gives the first frets
// of them: Equal(units.Octave, 12, 22) is the usual neck of 22 frets. The
// interval is above 0 and finite, by and frets are at least 1, and there are at
// most 1000 frets.
func Equal(of units.Cents, by, frets int) (Division, error) {
	if !(of > 0 && of <= math.MaxFloat64) {
		return Division{}, fmt.Errorf("got an interval of %v to divide, want more than 0", of)
	}
	if by < 1 {
		return Division{}, fmt.Errorf("got a division by %d, want at least 1", by)
	}
	if err := checkCount(frets); err != nil {
		return Division{}, err
	}
	cents := make([]units.Cents, frets)
	for i := range cents {
		// Multiplied first, so that the frets of an octave in twelve stand at whole
		// hundreds.
		cents[i] = units.Cents(float64(of) * float64(i+1) / float64(by))
	}
	return Divide(cents...)
}

// Divide takes the frets as cents above the open string, rising from above 0;
// 1 to 1000 of them.
func Divide(cents ...units.Cents) (Division, error) {
	if err := checkCount(len(cents)); err != nil {
		return Division{}, err
	}
	d := Division{make([]units.Cents, len(cents)), make([]float64, len(cents))}
	below := units.Cents(0)
	for i, c := range cents {
		if !(c > below && c <= math.MaxFloat64) {
			return Division{}, fmt.Errorf("got fret %d at %v, want it above %v", i+1, c, below)
		}
		d.cents[i], d.share[i] = c, Share(c)
		below = c
	}
	return d, nil
}

func checkCount(frets int) error {
	if frets < 1 || frets > most {
		return fmt.Errorf("got %d frets, want 1 to %d", frets, most)
	}
	return nil
}

// Repeat carries a scale of one period on to as many frets as asked: the degrees
// are cents above the open string, rising from above 0, and the last of them is
// the period at which they repeat, units.Octave as a rule. There may be fewer
// frets than degrees.
func Repeat(frets int, degrees ...units.Cents) (Division, error) {
	strings, err := PerString(frets, degrees, 0)
	if err != nil {
		return Division{}, err
	}
	return strings[0], nil
}

// Keep leaves out all frets but the given ones, which rise and stay where they
// are: a diatonic neck, or one that begins at the 7th. They are numbered anew,
// from 1.
func (d Division) Keep(frets ...int) (Division, error) {
	if err := checkCount(len(frets)); err != nil {
		return Division{}, err
	}
	cents := make([]units.Cents, len(frets))
	below := 0
	for i, n := range frets {
		if n <= below || n > d.Frets() {
			return Division{}, fmt.Errorf("got fret %d to keep after fret %d, want it above that and at most %d", n, below, d.Frets())
		}
		cents[i], below = d.cents[n-1], n
	}
	return Divide(cents...)
}

// Share returns the share of the scale from the nut to a fret that sounds c
// above the open string, 1 - 2^(-c/1200): 0.5 for the octave. Small intervals
// keep their relative accuracy, and an octave is exactly a half.
func Share(c units.Cents) float64 { return -(-c).Excess() }

// Frets returns the number of frets.
func (d Division) Frets() int { return len(d.share) }

// Cents returns how far fret n sounds above the open string, fret 0 being the
// nut. A fret that is not there gives NaN.
func (d Division) Cents(n int) units.Cents {
	switch {
	case n < 0 || n > len(d.cents):
		return units.Cents(math.NaN())
	case n == 0:
		return 0
	}
	return d.cents[n-1]
}

// Share returns the share of the scale from the nut to fret n, 0 for the nut. A
// fret that is not there gives NaN.
func (d Division) Share(n int) float64 {
	switch {
	case n < 0 || n > len(d.share):
		return math.NaN()
	case n == 0:
		return 0
	}
	return d.share[n-1]
}

// From returns the distance from the nut to fret n. A fret that is not there
// gives NaN.
func (d Division) From(scale units.Length, n int) units.Length {
	return units.Length(float64(scale) * d.Share(n))
}

// Remaining returns the distance from fret n to the scale line, where a saddle
// with no setback stands. A fret that is not there gives NaN.
func (d Division) Remaining(scale units.Length, n int) units.Length {
	return units.Length(float64(scale) * (-d.Cents(n)).Ratio())
}

// Gap returns the distance from fret n-1 to fret n: for checking a layout, not
// for marking one. A fret that is not there gives NaN, and so does the nut,
// which has none before it.
func (d Division) Gap(scale units.Length, n int) units.Length {
	return d.Remaining(scale, n-1) * units.Length(Share(d.Cents(n)-d.Cents(n-1)))
}

// Positions appends the distance of every fret from the nut to dst.
func (d Division) Positions(dst []units.Length, scale units.Length) []units.Length {
	for _, s := range d.share {
		dst = append(dst, units.Length(float64(scale)*s))
	}
	return dst
}

// Misplaced returns how far sharp fret n sounds when its slot stands by too far
// from the nut, along the string, the saddle staying where it is: -1200 log2(1 -
// by/l), l being what remains of the scale there. To first order 1 mm costs
// 1200/(l ln 2) cents: 2.7 at the nut of a 650 mm scale, 5.3 at the 12th fret. At
// l and beyond there is no note: an infinity, then NaN. A fret that is not there
// gives NaN.
func (d Division) Misplaced(scale units.Length, n int, by units.Length) units.Cents {
	return units.Cents(-1200 / math.Ln2 * math.Log1p(-by.Over(d.Remaining(scale, n))))
}

// SlotEdges returns the edges of the slot for fret n, the near one on the nut's
// side: half a kerf either side of the fret's line. A fret that is not there
// gives NaN. At the nut (n = 0) the far edge is where the board ends if the nut
// is to stand against a slot's edge instead of its centre: half a kerf of .024
// in left out there puts every fretted note 0.8 cents out at 25.5 in.
func (d Division) SlotEdges(scale units.Length, n int, kerf units.Length) (near, far units.Length) {
	at := d.From(scale, n)
	return at - kerf/2, at + kerf/2
}
