package action

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/units"
)

// Curve is a circle over the saddles, through the levels that the outer strings
// want there.
type Curve struct {
	Radius units.Length   // fret.Flat where the levels ask for a straight line, or a hollow
	Misses []units.Length // how far each string's level stands over the circle
	Worst  units.Length   // the largest magnitude of them

	outer chord
}

// Level returns the level of the circle at an offset from the centre line, from the
// datum of the levels that it was made for. Beyond the outer strings, where it says
// nothing, it is as at the nearer of them.
func (c Curve) Level(offset units.Length) units.Length {
	return c.outer.arc(max(-c.outer.half, min(offset, c.outer.half)), c.Radius)
}

// Curve returns how far a circle of a radius, such as one that a saddle is sold
// with, misses the levels wanted of every string at the scale line: the circle
// that stands under the board's strings and passes through the outer two.
// fret.Flat makes it a straight line.
func (b Board) Curve(levels []units.Length, radius units.Length) (Curve, error) {
	outer, err := b.outer(levels)
	if err != nil {
		return Curve{}, err
	}
	if least := outer.leastRadius(); !(radius > least) {
		return Curve{}, fmt.Errorf("got a radius of %v at the saddles, want more than %v to span the outer strings", radius, least)
	}
	return b.curve(levels, outer, radius), nil
}

// BestCurve returns the circle through the outer strings that misses the others
// least at the worst of them. Its Worst says whether one circle will do at all.
func (b Board) BestCurve(levels []units.Length) (Curve, error) {
	outer, err := b.outer(levels)
	if err != nil {
		return Curve{}, err
	}
	// Every string inside the outer two, which lie on it, falls short of a rounder
	// curve by more, so the worst is least where the highest and the lowest miss by
	// as much.
	even := func(curvature float64) float64 {
		misses := b.curve(levels, outer, units.Length(1/curvature)).Misses
		return float64(slices.Max(misses) + slices.Min(misses))
	}
	// Curvatures: flat stays 0 where the levels ask for a line, or a hollow.
	flat, round := 0.0, min(1/float64(outer.leastRadius()), math.MaxFloat64)
	for range 60 {
		if mid := flat/2 + round/2; even(mid) > 0 {
			flat = mid
		} else {
			round = mid
		}
	}
	return b.curve(levels, outer, units.Length(1/flat)), nil
}

// outer is the chord between the levels of the outer strings.
func (b Board) outer(levels []units.Length) (chord, error) {
	if err := b.Check(); err != nil {
		return chord{}, err
	}
	if len(levels) != b.Strings {
		return chord{}, fmt.Errorf("got %d levels for %d strings, want one a string", len(levels), b.Strings)
	}
	for i, l := range levels {
		if !(math.Abs(float64(l)) <= float64(b.Scale)) {
			return chord{}, fmt.Errorf("got a level of %v for string %d, want at most the scale", l, i+1)
		}
	}
	treble, bass := levels[0], levels[len(levels)-1]
	if b.Strings == 1 { // it needs no spread
		return chord{0, treble, bass}, nil
	}
	if math.Abs(float64(treble-bass)) > float64(b.SaddleSpread) {
		return chord{}, fmt.Errorf("got levels of %v and %v for the outer strings, want them no further apart than across, %v", treble, bass, b.SaddleSpread)
	}
	return chord{b.SaddleSpread / 2, treble, bass}, nil
}

// curve measures every string against one circle; a single string, and the outer
// two, lie on it.
func (b Board) curve(levels []units.Length, outer chord, radius units.Length) Curve {
	c := Curve{Radius: radius, Misses: make([]units.Length, len(levels)), outer: outer}
	for i := 1; i < len(levels)-1; i++ {
		c.Misses[i] = levels[i] - c.Level(b.Offset(i+1, b.Scale))
		c.Worst = max(c.Worst, units.Length(math.Abs(float64(c.Misses[i]))))
	}
	return c
}

// Centres appends to dst the levels of the strings' centres, for levels of their
// undersides and gauges in step, as many as there are of both: what a saddle wants whose grooves or rollers
// carry every string by its centre, whatever its gauge.
func Centres(dst, undersides, gauges []units.Length) []units.Length {
	for i := range min(len(undersides), len(gauges)) {
		dst = append(dst, undersides[i]+gauges[i]/2)
	}
	return dst
}

// Sanding is what to take off the underside of a saddle that is one piece.
type Sanding struct {
	Treble, Bass units.Length   // to take off under the outer strings, at least 0
	Left         []units.Length // how high each string still stands over what is wanted; less than 0, too low as it is
}

// Sand returns what to take off beneath a one-piece saddle for the changes wanted
// of its strings where they cross it: the straight line nearest to the changes by
// least squares, raised until no string goes below what is wanted, since what is
// off does not come back. treble and bass are how much the saddle can spare under
// its outer strings.
//
// A string that wants to rise is not lowered. Where an end of that line would rise,
// or lacks the room, it stays or stops there, and the other goes down as far as the
// strings allow.
//
// changes and offsets are in step, one a string, the offsets falling from the
// treble string to the bass one.
func Sand(changes, offsets []units.Length, treble, bass units.Length) (Sanding, error) {
	if !(treble >= 0 && bass >= 0) {
		return Sanding{}, fmt.Errorf("got a saddle that can spare %v and %v, want at least 0", treble, bass)
	}
	last := len(offsets) - 1
	if last < 1 {
		return Sanding{}, fmt.Errorf("got %d strings on a saddle, want at least 2", len(offsets))
	}
	for i := range last {
		if !(offsets[i] > offsets[i+1]) {
			return Sanding{}, fmt.Errorf("got strings %d and %d at %v and %v, want them in order from the treble", i+1, i+2, offsets[i], offsets[i+1])
		}
	}
	s, err := TwoScrews(changes, offsets, offsets[0], offsets[last])
	if err != nil {
		return Sanding{}, err
	}
	up := slices.Max(s.Left)
	t, b := s.Treble+up, s.Bass+up
	along := make([]float64, len(offsets)) // the share of the bass end's movement that reaches a string
	against := make([]float64, len(offsets))
	for i, y := range offsets {
		along[i] = (offsets[0] - y).Over(offsets[0] - offsets[last])
		against[i] = 1 - along[i]
	}
	if t > 0 || b > 0 || t < -treble || b < -bass {
		t = min(0, max(t, -treble))
		b = min(0, max(lowest(changes, t, along), -bass))
		t = max(lowest(changes, b, against), -treble)
	}
	out := Sanding{Treble: max(0, -t), Bass: max(0, -b)}
	for i := range changes {
		off := out.Treble*units.Length(against[i]) + out.Bass*units.Length(along[i])
		out.Left = append(out.Left, 0-off-changes[i])
	}
	return out, nil
}

// lowest is how low one end of a saddle may go, the other going so far, that no
// string comes below what is wanted of it; share is that of the end's movement that
// reaches a string.
func lowest(changes []units.Length, other units.Length, share []float64) units.Length {
	low := units.Length(math.Inf(-1))
	for i, c := range changes {
		if share[i] > 0 {
			low = max(low, AtSaddle(c-other*units.Length(1-share[i]), share[i]))
		}
	}
	return low
}
