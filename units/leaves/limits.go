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
// Goes is at most the height, and Stops at least 1 nm more, each by tolerance or
// less, of the fewest leaves that come so near, and of those the nearest to the
// middle of that range, counted as in Best. A stack that these leaves cannot make
// is empty. Miss is from the height.
//
// The set, the height and most are as in Best; tolerance is above 0, and less
// than the height.
func (s Set) Limits(height units.Length, most int, tolerance units.Length) (Limits, error) {
	f, err := s.finder(height, most)
	if err != nil {
		return Limits{}, err
	}
	if !(tolerance > 0 && tolerance < height) {
		return Limits{}, fmt.Errorf("got a tolerance of %v, want more than 0 and less than the height of %v", tolerance, height)
	}
	at, span := f.target, grains(tolerance)
	return Limits{Goes: f.between(at-span, at), Stops: f.between(at+step, at+span)}, nil
}

// between returns the stack nearest to the middle of a range, or none where none
// is in it; its Miss is from the target.
func (f *finder) between(low, high int64) Stack {
	if high < low {
		return Stack{}
	}
	middle, half := *f, (high-low)/2
	middle.target = high - half
	count, allowed := middle.fewest(half)
	if allowed > half {
		return Stack{}
	}
	return f.stack(middle.first(count, allowed))
}

// Doubt returns how far the stack may be off its marks when every leaf may be off
// by as much as leaf, all the same way: why a stack should be of few leaves. Oil
// and air between leaves come on top: ten leaves of .010 in together have read
// .106 in (common practice, no source).
func (s Stack) Doubt(leaf units.Length) units.Length {
	return units.Length(float64(len(s.Leaves)) * float64(leaf))
}
