package leaves

import (
	"fmt"

	"example.org/saddlepoint/units"
)

// Limits is a pair of stacks that say of a gap that it is right.
type Limits struct {
	Goes  Stack // the thicker that still goes in under a string at the height
	Stops Stack // the thinner that does not
}

// Limits returns two stacks to check a height with, from below and from above:
// Goes is at most the height, and Stops at least, each by tolerance or less, of
// the fewest leaves that come so near and nearest to the middle of that range. A
// stack that these leaves cannot make is empty. Miss is from the height.
//
// The set, the height and most are as in Best; tolerance is above 0, and less
// than the height.
func (s Set) Limits(height units.Length, most int, tolerance units.Length) (Limits, error) {
	if !(tolerance > 0 && tolerance < height) {
		return Limits{}, fmt.Errorf("got a tolerance of %v, want more than 0 and less than the height of %v", tolerance, height)
	}
	goes, err := s.near(height, -tolerance/2, most)
	if err != nil {
		return Limits{}, err
	}
	stops, err := s.near(height, tolerance/2, most)
	return Limits{goes, stops}, err
}

// near returns the stack whose thickness is nearest to the middle of the range
// from height to height + 2 half, or none where none is in it.
func (s Set) near(height, half units.Length, most int) (Stack, error) {
	within := max(half, -half)
	best, err := s.Best(height+half, most, within)
	if err != nil || best.Miss > within || best.Miss < -within {
		return Stack{}, err
	}
	best.Miss += half
	return best, nil
}

// Doubt returns how far the stack may be off its marks when every leaf may be off
// by as much as leaf, all the same way: why a stack should be of few leaves. Oil
// and air between leaves come on top: ten leaves of .010 in together have read
// .106 in (common practice, no source).
func (s Stack) Doubt(leaf units.Length) units.Length {
	return units.Length(float64(len(s.Leaves)) * float64(leaf))
}
