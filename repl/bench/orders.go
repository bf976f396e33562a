package bench

import "slices"

// Order is a sequence of the steps of Next that part of the trade works in.
type Order struct {
	Name  string // such as "the nut first"
	Why   string
	Steps []int // of Next, from 1
}

// orders are where the trade parts from the order taught most, which cuts the nut
// between heights and saddles (common practice, no source).
var orders = []struct {
	name, why string
	first     func(Subject) bool // whether a subject's steps come before the others
}{
	{"the nut first", "heights and saddles are then set over slots that stay as they are", func(of Subject) bool {
		return ofNut(of) || of == Relief || of == Rod // these come first in any order
	}},
	{"the nut last", "what is cut there cannot be put back, so all that can be is done before it", func(of Subject) bool { return !ofNut(of) }},
}

func ofNut(of Subject) bool { return of == Gap || of == Slot }

// Orders returns the other orders that the trade uses for the steps of Next,
// where they differ: the order is free where nothing is to be cut.
func Orders(steps []Step) []Order {
	if !slices.ContainsFunc(steps, func(s Step) bool { return s.Of == Slot && !s.Reads }) {
		return nil
	}
	var out []Order
	for _, o := range orders {
		var first, then []int
		for i, s := range steps {
			if o.first(s.Of) {
				first = append(first, i+1)
			} else {
				then = append(then, i+1)
			}
		}
		if all := append(first, then...); !slices.IsSorted(all) {
			out = append(out, Order{Name: o.name, Why: o.why, Steps: all})
		}
	}
	return out
}
