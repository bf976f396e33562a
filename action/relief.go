package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Relief is the bow of a neck: how far its crowns lie below the straight line
// from Near to Far, distances from the nut on the plane of the frets. Between
// the two it is a parabola, Bow deep in the middle; beyond Far the neck goes on
// straight along its tangent, and before Near likewise (our model; a bow of its
// own shape is read, not computed). The zero Relief is a straight neck. A
// negative Bow is a neck that bends back.
type Relief struct {
	Bow       units.Length
	Near, Far units.Length
}

// Check reports why the relief cannot be, or nil.
func (r Relief) Check() error {
	if r == (Relief{}) {
		return nil
	}
	if !finite(r.Bow) {
		return fmt.Errorf("got a bow of %v, want a finite one", r.Bow)
	}
	if err := r.checkEnds(); err != nil {
		return err
	}
	if math.Abs(float64(r.Bow)) > float64(r.Far-r.Near)/100 {
		return fmt.Errorf("got a bow of %.3f, want at most %.3f, a hundredth of its length: no neck bends so far", r.Bow, (r.Far-r.Near)/100)
	}
	return nil
}

func (r Relief) checkEnds() error {
	if !(r.Near >= 0 && r.Far > r.Near && finite(r.Far)) {
		return fmt.Errorf("got a bow from %v to %v, want the nearer end first, and neither before the nut", r.Near, r.Far)
	}
	return nil
}

// Drop returns how far the neck lies below the line at a distance from the nut,
// negative above it, as it is beyond both ends of a neck with relief. NaN in,
// NaN out.
func (r Relief) Drop(from units.Length) units.Length {
	if r == (Relief{}) {
		return 0 * from
	}
	// The shares from either end: one less the other would lose digits near an end.
	u, v := (from - r.Near).Over(r.Far-r.Near), (r.Far - from).Over(r.Far-r.Near)
	switch {
	case u < 0:
		return 4 * r.Bow * units.Length(u)
	case v < 0:
		return 4 * r.Bow * units.Length(v)
	}
	return 4 * r.Bow * units.Length(u*v)
}

// Way is how a relief is read: a string held down at two frets, or a straightedge
// laid on their crowns, and the gap under it over the crown of a third. Fret 0 is
// the plane of the frets at the nut. Readings taken in different ways are
// different numbers, and compare only through the bow.
type Way struct{ Near, Far, At int }

// Check reports why a neck with some frets cannot be read so, or nil.
func (w Way) Check(frets int) error {
	if !(0 <= w.Near && w.Near < w.At && w.At < w.Far && w.Far <= frets) {
		return fmt.Errorf("got a relief held at %d and %d and read at %d, want the fret read between the two, and both among %d frets", w.Near, w.Far, w.At, frets)
	}
	return nil
}

// Reads returns what the relief reads in a way, on a neck of the division and
// scale, along its centre line. A fret that is not there gives NaN.
func (r Relief) Reads(w Way, d fret.Division, scale units.Length) units.Length {
	a, at, b := d.From(scale, w.Near), d.From(scale, w.At), d.From(scale, w.Far)
	share := (at - a).Over(b - a)
	return r.Drop(at) - (r.Drop(a) + units.Length(share)*(r.Drop(b)-r.Drop(a)))
}

// Reading returns a relief over the same stretch whose bow reads so in a way. It
// is an error where a bow over that stretch reads next to nothing in that way,
// as beyond its far end, where the neck is straight.
func (r Relief) Reading(reading units.Length, w Way, d fret.Division, scale units.Length) (Relief, error) {
	if err := w.Check(d.Frets()); err != nil {
		return Relief{}, err
	}
	if !(scale > 0 && finite(scale)) {
		return Relief{}, fmt.Errorf("got a scale of %v, want more than 0", scale)
	}
	if err := r.checkEnds(); err != nil {
		return Relief{}, err
	}
	unit := Relief{Bow: 1, Near: r.Near, Far: r.Far}
	share := unit.Reads(w, d, scale)
	if !(share > leastReading) {
		return Relief{}, fmt.Errorf("got a relief held at %d and %d and read at %d, want a way that sees some of the bow", w.Near, w.Far, w.At)
	}
	unit.Bow = units.Length(reading.Over(share))
	if err := unit.Check(); err != nil {
		return Relief{}, err
	}
	return unit, nil
}

// leastReading is the least share of the bow that a way must read to say
// anything of it: a reading good to 0.02 mm is then good to 0.2 mm of bow.
const leastReading = 0.1

// BowEnd returns the fret that a bow is taken to reach from the nut until the neck
// says otherwise: where the body meets it, or the heel begins. It is the 14th of
// most necks (common practice, no source), and on others the one nearest to its
// place; the last fret of a shorter neck.
func BowEnd(d fret.Division) int {
	const place = 14 * units.Semitone
	end := min(1, d.Frets())
	for f := 1; f <= d.Frets(); f++ {
		if math.Abs(float64(d.Cents(f)-place)) < math.Abs(float64(d.Cents(end)-place)) {
			end = f
		}
	}
	return end
}

// Usual returns a straight neck's relief, ready for Reading: from the nut to
// BowEnd.
func Usual(d fret.Division, scale units.Length) Relief {
	return Relief{Far: d.From(scale, BowEnd(d))}
}
