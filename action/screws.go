package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Screws is what to do to the two height screws of one saddle.
type Screws struct {
	Treble, Bass units.Length   // change at each screw, up positive
	Tilt         units.Angle    // change of the saddle's slope, positive where its treble end goes up
	Left         []units.Length // what each string still lacks, in the order given
}

// OneScrew returns the change of a saddle with one screw, half way between the
// most and the least that its strings ask for, and what each string still lacks.
// Without changes it returns NaN.
func OneScrew(changes []units.Length) (by units.Length, left []units.Length) {
	if len(changes) == 0 {
		return units.Length(math.NaN()), nil
	}
	most, least := changes[0], changes[0]
	for _, c := range changes {
		most, least = max(most, c), min(least, c)
	}
	by = (most + least) / 2
	for _, c := range changes {
		left = append(left, c-by)
	}
	return by, left
}

// TwoScrews solves the two height screws under one saddle, or the two posts
// under a bridge, for the changes wanted where its strings cross it: exactly for
// one string or two that stand apart; for more, the straight line nearest to the
// changes by least squares, with what is left.
//
// changes and offsets are in step, one a string; treble and bass are the
// screws' offsets, all from the board's centre line.
func TwoScrews(changes, offsets []units.Length, treble, bass units.Length) (Screws, error) {
	if len(changes) == 0 || len(changes) != len(offsets) {
		return Screws{}, fmt.Errorf("got %d changes at %d offsets, want one a string", len(changes), len(offsets))
	}
	if !(treble > bass && finite(treble-bass)) {
		return Screws{}, fmt.Errorf("got screws at %v and %v, want the treble one further to the treble", treble, bass)
	}
	n := float64(len(changes))
	var meanY, meanC float64
	for i := range changes {
		meanY += float64(offsets[i]) / n
		meanC += float64(changes[i]) / n
	}
	var yy, yc float64
	for i := range changes {
		y := float64(offsets[i]) - meanY
		yy += y * y
		yc += y * (float64(changes[i]) - meanC)
	}
	tilt := 0.0
	if yy > 0 {
		tilt = yc / yy
	}
	at := func(y units.Length) units.Length { return units.Length(meanC + tilt*(float64(y)-meanY)) }
	s := Screws{Treble: at(treble), Bass: at(bass)}
	s.Tilt = units.Slope(s.Treble-s.Bass, treble-bass)
	if !(finite(s.Treble) && finite(s.Bass)) {
		return Screws{}, fmt.Errorf("got a change or an offset that is not finite, want numbers")
	}
	for i := range changes {
		s.Left = append(s.Left, changes[i]-at(offsets[i]))
	}
	return s, nil
}
