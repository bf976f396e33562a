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
// comes within, it is the least error of any number of leaves, counted likewise,
// then the fewest leaves, then the thickest first, and Miss says how far off.
//
// The set holds 1 to 100 leaves, each above 0 and at most 1 m, and so is the
// target; most is 1 to 5; within is at least 0 and at most 1 m.
func (s Set) Best(target units.Length, most int, within units.Length) (Stack, error) {
	f, err := s.finder(target, most)
	if err != nil {
		return Stack{}, err
	}
	if !(within >= 0 && within <= units.Metre) {
		return Stack{}, fmt.Errorf("got a tolerance of %v, want 0 to 1 m", within)
	}
	count, allowed := f.fewest(grains(within))
	return f.stack(f.first(count, allowed)), nil
}

func grains(l units.Length) int64 { return int64(math.Round(float64(l) / picometre)) }

// finder returns a search for a target with at most most leaves, all of it
// checked.
func (s Set) finder(target units.Length, most int) (*finder, error) {
	sorted, err := s.sorted()
	if err != nil {
		return nil, err
	}
	switch {
	case !(target > 0 && target <= units.Metre):
		return nil, fmt.Errorf("got a thickness of %v, want more than 0 and at most 1 m", target)
	case most < 1 || most > depth:
		return nil, fmt.Errorf("got a stack of at most %d leaves, want 1 to %d", most, depth)
	}
	f := &finder{leaves: sorted, thick: make([]int64, len(sorted)), target: grains(target), most: min(most, len(sorted))}
	for i, l := range sorted {
		f.thick[i] = grains(l)
	}
	return f, nil
}

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

// finder searches for one target.
type finder struct {
	leaves Set
	thick  []int64 // of the leaves; falls
	most   int     // leaves in the stack
	target int64
	best   int64 // least error so far
	enough int64 // the search ends at an error so small
}

// sum is that of the k leaves from the ith on.
func (f *finder) sum(i, k int) int64 {
	n := int64(0)
	for _, x := range f.thick[i : i+k] {
		n += x
	}
	return n
}

// fewest returns how many leaves the stack has, and the error that is allowed in
// it: more than the tolerance where none comes within.
func (f *finder) fewest(tolerance int64) (count int, allowed int64) {
	var least [depth + 1]int64
	for k := 1; k <= f.most; k++ {
		least[k] = f.least(k)
		if least[k] <= tolerance {
			return k, min(least[k]+step, tolerance)
		}
	}
	allowed = slices.Min(least[1:f.most+1]) + step
	for count = 1; least[count] > allowed; count++ {
	}
	return count, allowed
}

// least returns the least error of any k leaves. It looks first at leaves that
// are neighbours in the set, for a bound that lets most others be passed over.
func (f *finder) least(k int) int64 {
	f.best, f.enough = math.MaxInt64, 0
	for i := range len(f.thick) - k + 1 {
		f.best = min(f.best, abs(f.sum(i, k)-f.target))
	}
	f.shrink(0, k, f.target)
	return f.best
}

// first returns the first choice of k leaves, thickest first, whose error is at
// most allowed; there is one. Each leaf is the thickest that others complete.
func (f *finder) first(k int, allowed int64) []int {
	picked := make([]int, 0, k)
	left := f.target
	for i := 0; k > 0; i++ {
		f.best, f.enough = allowed+1, allowed
		f.shrink(i+1, k-1, left-f.thick[i])
		if f.best <= allowed {
			picked = append(picked, i)
			k, left = k-1, left-f.thick[i]
		}
	}
	return picked
}

// shrink lowers f.best by every choice of k leaves from the ith on for what is
// left of the target. A leaf is passed over when even the thickest leaves after
// it stay too far below, or the thinnest too far above, to beat the best. There
// are k leaves left.
func (f *finder) shrink(i, k int, left int64) {
	n := len(f.thick)
	switch k {
	case 0:
		f.best = min(f.best, abs(left))
		return
	case 2:
		f.nearestPair(i, left)
		return
	}
	thinnest := f.sum(n-(k-1), k-1)
	for ; i+k <= n && f.best > f.enough; i++ {
		if left-f.sum(i, k) >= f.best {
			return // and so for every later leaf
		}
		if f.thick[i]+thinnest-left < f.best {
			f.shrink(i+1, k-1, left-f.thick[i])
		}
	}
}

// nearestPair walks inwards from the thickest and the thinnest leaf: a leaf that
// is too much even with the thinnest left, or too little even with the thickest,
// has found its best partner.
func (f *finder) nearestPair(i int, left int64) {
	for j := len(f.thick) - 1; i < j && f.best > f.enough; {
		over := f.thick[i] + f.thick[j] - left
		f.best = min(f.best, abs(over))
		if over > 0 {
			i++
		} else {
			j--
		}
	}
}

func (f *finder) stack(picked []int) Stack {
	total := int64(0)
	s := Stack{Leaves: make([]units.Length, len(picked))}
	for n, i := range picked {
		total += f.thick[i]
		s.Leaves[n] = f.leaves[i]
	}
	if miss := total - f.target; abs(miss) >= step/2 {
		s.Miss = units.Length(math.Round(float64(miss)/step) / 1e6)
	}
	return s
}

func abs(x int64) int64 { return max(x, -x) }
