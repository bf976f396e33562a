// Package intonation turns readings of a tuner into moves of a saddle.
//
// Cents are sharp positive. A move is back positive: away from the nut, which
// makes the string longer and its fretted notes flatter. Distances in results
// are predictions: the string is retuned and read again after every move.
package intonation

import (
	"fmt"
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Reading is one reading of one string at a pair of frets: how many cents the
// note at the high fret came out sharp of its place above the note at the low
// one.
type Reading struct {
	String    int          // numbered from the treble edge, from 1
	Low, High int          // frets; Low 0 is the open string, or its harmonic
	Cents     units.Cents  // sharp positive
	Setback   units.Length // where the saddle stood behind the scale line; 0 when not known
}

// pair is a reading in lengths: what sounded at the two frets.
type pair struct {
	low, high units.Length // speaking lengths in front of the saddle
	span      units.Length // from fret to fret
	cents     units.Cents
}

// lengths finds the speaking lengths of a reading and checks it.
func (r Reading) lengths(d fret.Division, scale units.Length) (pair, error) {
	if !(scale > 0) || math.IsInf(float64(scale), 1) {
		return pair{}, fmt.Errorf("got a scale of %v, want more than 0", scale)
	}
	if r.Low < 0 || r.High <= r.Low || r.High > d.Frets() {
		return pair{}, fmt.Errorf("got frets %d and %d, want a lower and a higher one up to %d", r.Low, r.High, d.Frets())
	}
	left := d.Remaining(scale, r.Low)
	p := pair{low: left + r.Setback, high: d.Remaining(scale, r.High) + r.Setback, cents: r.Cents}
	p.span = left * units.Length(fret.Share(d.Cents(r.High)-d.Cents(r.Low))) // low - high would lose digits
	return p, p.check(r)
}

// check refuses a reading of these lengths that cannot be.
func (p pair) check(r Reading) error {
	if !(p.high > 0) || math.IsInf(float64(r.Setback), 0) {
		return fmt.Errorf("got a setback of %v, want the saddle behind fret %d", r.Setback, r.High)
	}
	if !(r.Cents >= -units.Octave && p.room() > 0) {
		return fmt.Errorf("got %v at fret %d against fret %d, want at least %v and less than the interval between them",
			r.Cents, r.High, r.Low, -units.Octave)
	}
	return nil
}

// checkMove refuses a move that takes the saddle to the high fret.
func (p pair) checkMove(by units.Length, high int) error {
	if !(by+p.high > 0) || math.IsInf(float64(by), 0) {
		return fmt.Errorf("got a move of %v, want the saddle to stay behind fret %d", by, high)
	}
	return nil
}

// room is l_a - X l_b, X = 2^(e/1200): what is left of the length between the
// frets once the low note is as sharp as the high one was read.
func (p pair) room() float64 { return float64(p.span) - float64(p.high)*p.cents.Excess() }

// move is how far back the saddle must go for the pair to read 0 once the low
// note is brought back to pitch: l_a l_b (X - 1)/(l_a - X l_b), as l_a over
// (l_a - l_b)/(l_b (X - 1)) - 1, which rises with e in every step.
// It is exact where pitch goes as one over length and the string's own error,
// from stretch and stiffness, stays as it is.
func (p pair) move() units.Length {
	return p.low / units.Length(float64(p.span)/(float64(p.high)*p.cents.Excess())-1)
}

// after is what the pair reads once the saddle has gone back by d and the low
// note is at pitch again: 1200 log2 of (l_a + d) l_b over l_a (l_b + d) more.
func (p pair) after(d units.Length) units.Cents {
	return p.cents + units.Cents(centsPerLog*math.Log1p(-p.span.Over(p.low)/(p.high.Over(d)+1)))
}

// Move returns how far back to move the saddle so that the reading comes to 0
// once the open string is retuned. At 25.5 in, 7 cents sharp at the 12th is
// 2.635 mm back.
func Move(r Reading, d fret.Division, scale units.Length) (units.Length, error) {
	p, err := r.lengths(d, scale)
	if err != nil {
		return 0, err
	}
	return p.move(), nil
}

// After returns what the reading becomes when the saddle is moved back by by
// and the string retuned.
func After(r Reading, d fret.Division, scale, by units.Length) (units.Cents, error) {
	p, err := r.lengths(d, scale)
	if err != nil {
		return 0, err
	}
	if err := p.checkMove(by, r.High); err != nil {
		return 0, err
	}
	return p.after(by), nil
}

// Band returns how uncertain the move for a reading is, plus or minus, when each
// note read is uncertain by tuner: a reading is a difference of two notes, so
// it carries the square root of 2 of that.
func Band(r Reading, d fret.Division, scale units.Length, tuner units.Cents) (units.Length, error) {
	p, err := r.lengths(d, scale)
	if err != nil {
		return 0, err
	}
	off := math.Sqrt2 * tuner
	up, down := p, p
	up.cents += off
	down.cents -= off
	if !(tuner >= 0 && up.room() > 0) {
		return 0, fmt.Errorf("got a tuner's error of %v, want at least 0 and less than the interval between the frets", tuner)
	}
	// Half the difference of the two moves, with what they share taken out.
	between := down.cents.Ratio() * (2 * off).Excess()
	return units.Length(float64(p.low) / up.room() * (float64(p.high) / down.room() * between * float64(p.span)) / 2), nil
}
