package fret

import (
	"fmt"

	"example.org/saddlepoint/units"
)

// Just returns twelve degrees of an octave above their root in the usual five
// limit ratios (from memory): 16/15, 9/8, 6/5, 5/4, 4/3, 45/32, 3/2, 8/5, 5/3,
// 9/5, 15/8, 2/1. For others see Ratios.
func Just() []units.Cents {
	var degrees []units.Cents
	for _, r := range []Ratio{{16, 15}, {9, 8}, {6, 5}, {5, 4}, {4, 3}, {45, 32}, {3, 2}, {8, 5}, {5, 3}, {9, 5}, {15, 8}, {2, 1}} {
		degrees = append(degrees, r.Cents())
	}
	return degrees
}

// Meantone returns twelve degrees of an octave above their root, tuned by fifths
// that are narrowed by a share of the syntonic comma, 81/80: 0.25 is the
// quarter comma meantone, 0 is Pythagorean. Of the eleven fifths, flats lie
// below the root: with 3 and the root C the notes run from Eb to G#. The share
// must keep the twelve degrees in order, which takes fifths between 4/7 and 3/5
// of an octave; flats is from 0 to 11.
func Meantone(comma float64, flats int) ([]units.Cents, error) {
	fifth := Ratio{3, 2}.Cents() - units.Cents(comma*float64(Ratio{81, 80}.Cents()))
	if !(fifth > units.Octave*4/7 && fifth < units.Octave*3/5) {
		return nil, fmt.Errorf("got %v of the comma, fifths of %.2f, want fifths between %.2f and %.2f", comma, fifth, units.Octave*4/7, units.Octave*3/5)
	}
	if flats < 0 || flats > 11 {
		return nil, fmt.Errorf("got %d fifths below the root, want 0 to 11", flats)
	}
	degrees := make([]units.Cents, 12)
	degrees[11] = units.Octave
	for k := -flats; k <= 11-flats; k++ {
		octaves, degree := floorDiv(7*k, 12)
		if degree > 0 {
			degrees[degree-1] = units.Cents(k)*fifth - units.Cents(octaves)*units.Octave
		}
	}
	return degrees, nil
}

// PerString returns the frets that a tuning asks of each string, one Division a
// string, each of the given number of frets. The degrees are those of Repeat:
// cents above the root, rising, the last being the period at which they repeat.
// An open string is told by its degree, counted from the root: for twelve
// degrees above C an open E is 4, int(open - root) in notes, in any octave. It
// sounds that degree itself, and fret n sounds the nth degree above it, so
// strings of different degrees have their frets at different places.
func PerString(frets int, degrees []units.Cents, open ...int) ([]Division, error) {
	if err := checkCount(frets); err != nil {
		return nil, err
	}
	if len(open) < 1 || len(open) > mostStrings {
		return nil, fmt.Errorf("got %d open strings, want 1 to %d", len(open), mostStrings)
	}
	if _, err := Divide(degrees...); err != nil {
		return nil, fmt.Errorf("degrees: %w", err)
	}
	above := func(degree int) units.Cents {
		periods, d := floorDiv(degree, len(degrees))
		c := units.Cents(float64(periods) * float64(degrees[len(degrees)-1]))
		if d > 0 {
			c += degrees[d-1]
		}
		return c
	}
	out := make([]Division, len(open))
	for i, o := range open {
		_, o = floorDiv(o, len(degrees))
		cents := make([]units.Cents, frets)
		for n := range cents {
			cents[n] = above(o+n+1) - above(o)
		}
		var err error
		if out[i], err = Divide(cents...); err != nil {
			return nil, fmt.Errorf("string %d: %w", i+1, err)
		}
	}
	return out, nil
}

// Against returns what the frets of d cost, cut straight across, where each
// string asks for its own: cost[i][n] is how far sharp fret n sounds on the
// string that asked for asked[i], 0 at the nut. Frets that a string did not ask
// for give NaN.
func (d Division) Against(asked ...Division) (cost [][]units.Cents) {
	for _, a := range asked {
		row := make([]units.Cents, d.Frets()+1)
		for n := range row {
			row[n] = d.Cents(n) - a.Cents(n)
		}
		cost = append(cost, row)
	}
	return cost
}

func floorDiv(a, b int) (q, r int) {
	q, r = a/b, a%b
	if r < 0 {
		q, r = q-1, r+b
	}
	return q, r
}
