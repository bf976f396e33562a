// Package leaves finds which feeler leaves to stack to make a thickness.
package leaves

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/units"
)

// Set is the leaves that are there, in any order; a leaf is used once unless it
// is listed twice.
type Set []units.Length

// Stack is a choice of leaves.
type Stack struct {
	Leaves []units.Length // thickest first
	Miss   units.Length   // thickness of the stack less the target, to 1 nm
}

// Usual limits of a search.
const (
	Most   = 4                       // leaves in a stack: more gather oil and air
	Within = 0.02 * units.Millimetre // how near counts as right
	limit  = 100                     // leaves in a set
	depth  = 5                       // leaves in the largest stack looked for
)

// The search counts in whole picometres, so that sums are exact; errors that
// differ by at most step count as equal.
const (
	picometre = 1e-9 // in millimetres
	step      = 1000 // 1 nm
)

// Best returns the stack of at most most leaves for target: the fewest leaves
// that come within within of it; among those the least error, counting errors
// within 1 nm of the least as equal; among those the thickest first. Where none
// comes within, it is the least error of any number of leaves, then the fewest
// leaves, then the thickest first, and Miss says how far off.
//
// The set holds 1 to 100 leaves, each above 0 and at most 1 m; most is 1 to 5;
// the target and within are at least 0 and at most 1 m.
func (s Set) Best(target units.Length, most int, within units.Length) (Stack, error) {
	sorted, err := s.sorted()
	if err != nil {
		return Stack{}, err
	}
	switch {
	case !(target > 0 && target <= units.Metre):
		return Stack{}, fmt.Errorf("got a thickness of %v, want more than 0 and at most 1 m", target)
	case most < 1 || most > depth:
		return Stack{}, fmt.Errorf("got a stack of at most %d leaves, want 1 to %d", most, depth)
	case !(within >= 0 && within <= units.Metre):
		return Stack{}, fmt.Errorf("got a tolerance of %v, want 0 to 1 m", within)
	}
	f := finder{thick: make([]int64, len(sorted)), target: grains(target)}
	for i, l := range sorted {
		f.thick[i] = grains(l)
	}
	tolerance := grains(within)
	least, at := int64(math.MaxInt64), 0
	for k := 1; k <= min(most, len(sorted)); k++ {
		err := f.least(k)
		if err <= tolerance {
			least, at = err, k
			break
		}
		if at == 0 || err < least-step {
			least, at = err, k
		}
	}
	return f.stack(sorted, f.first(at, least+step)), nil
}

func grains(l units.Length) int64 { return int64(math.Round(float64(l) / picometre)) }

// sorted returns the leaves, checked, thickest first.
func (s Set) sorted() (Set, error) {
	if len(s) == 0 || len(s) > limit {
		return nil, fmt.Errorf("got %d leaves, want 1 to %d", len(s), limit)
	}
	for i, l := range s {
		if !(l > 0 && l <= units.Metre) {
			return nil, fmt.Errorf("got leaf %d of %v, want more than 0 and at most 1 m", i+1, l)
		}
	}
	out := slices.Clone(s)
	slices.SortFunc(out, func(a, b units.Length) int { return cmp.Compare(b, a) })
	return out, nil
}

// finder searches for one target. thick falls.
type finder struct {
	thick  []int64
	target int64
	best   int64 // least error so far
	picked [depth]int
}

// least returns the least error of any k leaves.
func (f *finder) least(k int) int64 {
	f.best = math.MaxInt64 / 4
	f.shrink(0, k, f.target)
	return f.best
}

// shrink lowers f.best by every choice of k leaves from the ith on for what is
// left of the target. A leaf is passed over when even the thickest leaves after
// it stay too far below, or the thinnest too far above, to beat the best.
func (f *finder) shrink(i, k int, left int64) {
	if k == 1 {
		f.nearest(i, left)
		return
	}
	if k == 2 {
		f.nearestPair(i, left)
		return
	}
	n := len(f.thick)
	thin := sum(f.thick[n-(k-1):])
	for ; i+k <= n && f.best > 0; i++ {
		if left-sum(f.thick[i:i+k]) >= f.best {
			return // and so for every later leaf
		}
		if f.thick[i]+thin-left < f.best {
			f.shrink(i+1, k-1, left-f.thick[i])
		}
	}
}

func (f *finder) nearest(i int, left int64) {
	rest := f.thick[i:]
	at, _ := slices.BinarySearchFunc(rest, left, func(t, left int64) int { return cmp.Compare(left, t) })
	if at < len(rest) {
		f.best = min(f.best, abs(rest[at]-left))
	}
	if at > 0 {
		f.best = min(f.best, abs(rest[at-1]-left))
	}
}

// nearestPair walks inwards from the thickest and the thinnest leaf.
func (f *finder) nearestPair(i int, left int64) {
	for j := len(f.thick) - 1; i < j; {
		over := f.thick[i] + f.thick[j] - left
		f.best = min(f.best, abs(over))
		if over > 0 {
			i++
		} else {
			j--
		}
	}
}

// first returns the first choice of k leaves, thickest first, whose error is at
// most allowed; there is one.
func (f *finder) first(k int, allowed int64) []int {
	f.best = allowed + 1
	f.pick(0, 0, k, f.target)
	return f.picked[:k]
}

func (f *finder) pick(at, i, k int, left int64) bool {
	if k == 0 {
		return abs(left) < f.best
	}
	n := len(f.thick)
	thin := sum(f.thick[n-(k-1):])
	for ; i+k <= n; i++ {
		if left-sum(f.thick[i:i+k]) >= f.best {
			return false
		}
		if f.thick[i]+thin-left >= f.best {
			continue
		}
		f.picked[at] = i
		if f.pick(at+1, i+1, k-1, left-f.thick[i]) {
			return true
		}
	}
	return false
}

func (f *finder) stack(sorted Set, picked []int) Stack {
	total := int64(0)
	s := Stack{Leaves: make([]units.Length, len(picked))}
	for n, i := range picked {
		total += f.thick[i]
		s.Leaves[n] = sorted[i]
	}
	if miss := total - f.target; abs(miss) >= step/2 {
		s.Miss = units.Length(math.Round(float64(miss)/step) / 1e6)
	}
	return s
}

func sum(t []int64) int64 {
	n := int64(0)
	for _, x := range t {
		n += x
	}
	return n
}

func abs(x int64) int64 { return max(x, -x) }
