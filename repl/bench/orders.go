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
	place     func(Subject) int // of a subject's steps among the others'
}{
	{"the nut first", "heights and saddles are then set over slots that stay as they are", func(of Subject) int {
		if ofNut(of) || of == Relief || of == Rod { // which come first in any order
			return 0
		}
		return 1
	}},
	{"the nut last", "what is cut there cannot be put back, so all that can be is done before it", func(of Subject) int {
		if ofNut(of) {
			return 1
		}
		return 0
	}},
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
		order := Order{Name: o.name, Why: o.why, Steps: make([]int, len(steps))}
		for i := range steps {
			order.Steps[i] = i + 1
		}
		slices.SortStableFunc(order.Steps, func(a, b int) int { return o.place(steps[a-1].Of) - o.place(steps[b-1].Of) })
		if !slices.IsSorted(order.Steps) {
			out = append(out, order)
		}
	}
	return out
}
