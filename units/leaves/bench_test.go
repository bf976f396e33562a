package leaves_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// Thicknesses to make of the 26 leaves of inch26.
var targets = []struct {
	name   string
	target units.Length
}{
	{"four", 2.365},          // no fewer than four leaves come within 0.02 mm
	{"four exact", 2.3622},   // four leaves make 93 thou
	{"four slowest", 1.9139}, // just past what three leaves reach
	{"two", 1.05},
	{"one", 0.3},
	{"none", 2.6},  // all four of the thickest stay below
	{"thin", 0.01}, // all are above; one is found
}

func BenchmarkStack(b *testing.B) {
	for _, row := range targets {
		b.Run(row.name, func(b *testing.B) {
			set := leaves.Set(list(b, inch26))
			b.ReportAllocs()
			for range b.N {
				if _, err := set.Best(row.target, 4, leaves.Within); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkStackFloor tries all subsets of up to 4, in plain loops over whole
// numbers, for the least error of each count of leaves. It does not look for the
// thickest of equals, which would only make it slower.
func BenchmarkStackFloor(b *testing.B) {
	for _, row := range targets {
		b.Run(row.name, func(b *testing.B) {
			set := list(b, inch26)
			for range b.N {
				floorSink = floor(set, row.target)
			}
		})
	}
}

var floorSink [4]int64

func floor(set []units.Length, target units.Length) (best [4]int64) {
	thick := make([]int64, len(set))
	for i, l := range set {
		thick[i] = int64(math.Round(float64(l) * 1e9))
	}
	best = [4]int64{math.MaxInt64, math.MaxInt64, math.MaxInt64, math.MaxInt64}
	try := func(count int, left int64) { best[count-1] = min(best[count-1], max(left, -left)) }
	goal := int64(math.Round(float64(target) * 1e9))
	for i, x := range thick {
		one := goal - x
		try(1, one)
		for j, x := range thick[i+1:] {
			two := one - x
			try(2, two)
			for k, x := range thick[i+1+j+1:] {
				three := two - x
				try(3, three)
				for _, x := range thick[i+1+j+1+k+1:] {
					try(4, three-x)
				}
			}
		}
	}
	return best
}

// BenchmarkStackLargest is the largest search there is, 5 out of 100 leaves, and
// a slow one: the leaves are even numbers of picometres and the target is odd, so
// that no stack is exact and nothing ends the search early. The aim is 50 ms; the
// slowest of 1,500 random sets of six kinds took 14 ms.
func BenchmarkStackLargest(b *testing.B) {
	rnd := rand.New(rand.NewSource(1))
	set := make(leaves.Set, 100)
	for i := range set {
		set[i] = length(2 * int64(0.5e9*math.Abs(0.5+0.1*rnd.NormFloat64())))
	}
	for range b.N {
		if _, err := set.Best(length(2_500_000_001), 5, 0); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStack40 is the slowest of 20,000 searches of up to 4 out of 40 leaves,
// a metric set and most of an inch one together, for targets to 0.1 um and no
// tolerance: 0.04 ms. The slowest of 16,000 random sets of 40 took 0.06 ms with 4
// leaves, and of 4,000 with 5 it took 0.4 ms. The aim is 10 ms.
func BenchmarkStack40(b *testing.B) {
	set := slices.Concat(leaves.Set(list(b, metric20)), list(b, inch26)[6:])
	if len(set) != 40 {
		b.Fatalf("got %d leaves, want 40", len(set))
	}
	for range b.N {
		if _, err := set.Best(1.5987, leaves.Most, 0); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStacks is the slow search of BenchmarkStack40 out of 10, 20 and 40
// leaves: cost against work.
func BenchmarkStacks(b *testing.B) {
	all := slices.Concat(leaves.Set(list(b, metric20)), list(b, inch26)[6:])
	for _, n := range []int{10, 20, 40} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			set := all[:n]
			for range b.N {
				if _, err := set.Best(1.5987, leaves.Most, 0); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
