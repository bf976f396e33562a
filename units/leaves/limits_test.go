package leaves_test

import (
	"math"
	"math/bits"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// Worked by hand from the lists. Source of the rule: bench_rules.md row 30 (common
// practice, no source): a leaf is right when it just goes in.
func TestLimits(t *testing.T) {
	for _, row := range []struct {
		name              string
		set               string
		height, tolerance units.Length
		most              int
		goes, stops       string
		goesBy, stopsBy   units.Length
	}{
		{"one leaf either side", metric13, 0.62, 0.09, 4, ".60 mm", ".70 mm", -0.02, 0.08},
		{"nearest to the middle, not to the height", metric20, 0.52, 0.09, 4, ".50 mm", ".55 mm", -0.02, 0.03},
		{"a sum either side", metric13, 1.62, 0.04, 4, "1.00 .60 mm", "1.00 .60 .05 mm", -0.02, 0.03},
		{"the height itself goes, and does not stop", ".50 .55 mm", 0.5, 0.05, 1, ".50 mm", ".55 mm", 0, 0.05},
		{"alone it does not stop", ".50 mm", 0.5, 0.05, 1, ".50 mm", "mm", 0, 0},
		{"1 nm more stops", ".500001 mm", 0.5, 0.05, 1, "mm", ".500001 mm", 0, 0.000001},
		{"less than 1 nm more does not", ".5000009 mm", 0.5, 0.05, 1, "mm", "mm", 0, 0},
		{"the edges of the tolerance", ".45 .55 mm", 0.5, 0.05, 1, ".45 mm", ".55 mm", -0.05, 0.05},
		{"past them", ".449 .551 mm", 0.5, 0.05, 1, "mm", "mm", 0, 0},
		{"none below, still one above", ".30 .52 mm", 0.5, 0.05, 1, "mm", ".52 mm", 0, 0.02},
		{"fewest before nearest", ".46 .25 .225 .54 .275 mm", 0.5, 0.05, 2, ".46 mm", ".54 mm", -0.04, 0.04},
		{"kept to one leaf", metric13, 1.62, 0.04, 1, "mm", "mm", 0, 0},
		{"a tolerance under 1 nm", ".5 mm", 0.5, 0.0000005, 1, ".5 mm", "mm", 0, 0},
		{"a tolerance 1 pm under 1 nm", ".500000999 mm", 0.5, 0.000000999, 1, "mm", "mm", 0, 0},
		{"a tolerance of 1 nm", ".5 .500001 mm", 0.5, 0.000001, 1, ".5 mm", ".500001 mm", 0, 0.000001},
		{"all of a metre", "1000 mm", 1000, 1, 1, "1000 mm", "mm", 0, 0},
	} {
		got, err := leaves.Set(list(t, row.set)).Limits(row.height, row.most, row.tolerance)
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		for _, side := range []struct {
			got   leaves.Stack
			stack string
			miss  units.Length
		}{{got.Goes, row.goes, row.goesBy}, {got.Stops, row.stops, row.stopsBy}} {
			if want := list(t, side.stack); !slices.Equal(side.got.Leaves, want) || math.Abs(float64(side.got.Miss-side.miss)) > 1e-12 {
				t.Errorf("%s: got %v, missing by %v, want %v, by %v", row.name, side.got.Leaves, side.got.Miss, want, side.miss)
			}
		}
	}
}

// slowest picks from every subset whose thickness is in a range the fewest leaves,
// then the nearest to the middle of it, counting 1 nm as equal, then the thickest
// first.
func slowest(set []int64, low, high int64, most int) (stack []int64) {
	falling := slices.Clone(set)
	slices.Sort(falling)
	slices.Reverse(falling)
	count, least := most+1, int64(math.MaxInt64)
	twice := func(mask uint) int64 { // the distance from the middle, doubled
		d := 2*total(pick(falling, mask)) - low - high
		return max(d, -d)
	}
	var in []uint
	for mask := uint(1); mask < 1<<len(falling); mask++ {
		if sum := total(pick(falling, mask)); low <= sum && sum <= high && bits.OnesCount(mask) <= most {
			in = append(in, mask)
			count = min(count, bits.OnesCount(mask))
		}
	}
	in = slices.DeleteFunc(in, func(m uint) bool { return bits.OnesCount(m) != count })
	for _, m := range in {
		least = min(least, twice(m))
	}
	for _, m := range in {
		if s := pick(falling, m); twice(m) <= least+2*nm && slices.Compare(s, stack) > 0 {
			stack = s
		}
	}
	return stack
}

func TestLimitsAgainstEverySubset(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	for _, g := range grids {
		found, none := 0, 0
		for range 200 {
			set := make([]int64, 1+rnd.Intn(12))
			for i := range set {
				set[i] = g.from + g.leaf*rnd.Int63n(g.span)
			}
			most := 1 + rnd.Intn(5)
			height := g.target * (rnd.Int63n(2*g.off+1) - g.off)
			for range 1 + rnd.Intn(5) {
				height += set[rnd.Intn(len(set))]
			}
			// Ranges of an even number of picometres have a middle.
			tolerance := 2 * (1 + rnd.Int63n(30_000*nm))
			if g.name == "crowded" || rnd.Intn(4) == 0 {
				tolerance = 2 * (1 + rnd.Int63n(20*nm))
			}
			if height <= tolerance {
				continue
			}
			var in leaves.Set
			for _, x := range set {
				in = append(in, length(x))
			}
			got, err := in.Limits(length(height), most, length(tolerance))
			if err != nil {
				t.Fatal(err)
			}
			for _, side := range []struct {
				got       leaves.Stack
				low, high int64
			}{{got.Goes, height - tolerance, height}, {got.Stops, height + nm, height + tolerance}} {
				stack := slowest(set, side.low, side.high, most)
				var want []units.Length
				for _, x := range stack {
					want = append(want, length(x))
				}
				miss := 0.0
				if want != nil {
					miss = math.Round(float64(total(stack)-height)/nm) / 1e6
				}
				if !slices.Equal(side.got.Leaves, want) || math.Abs(float64(side.got.Miss)-miss) > 1e-12 {
					t.Fatalf("%s: %v of %v, at most %d within %v: got %v, missing by %v, want %v, by %v",
						g.name, length(height), in, most, length(tolerance), side.got.Leaves, side.got.Miss, want, miss)
				}
				if want == nil {
					none++
				} else {
					found++
				}
			}
		}
		t.Logf("%s: %d found, %d not", g.name, found, none)
		if found == 0 || none == 0 {
			t.Errorf("%s: got %d stacks and %d that none makes, want some of both", g.name, found, none)
		}
	}
}

func TestLimitsErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	one := leaves.Set{1}
	for _, row := range []struct {
		set               leaves.Set
		height, tolerance units.Length
		most              int
		want              string
	}{
		{nil, 1, 0.1, 4, "got 0 leaves, want 1 to 100"},
		{make(leaves.Set, 101), 1, 0.1, 4, "got 101 leaves, want 1 to 100"},
		{leaves.Set{1, nan}, 1, 0.1, 4, "got leaf 2 of NaNmm, want more than 0 and at most 1 m"},
		{one, 0, 0.1, 4, "got a thickness of 0mm, want more than 0 and at most 1 m"},
		{one, nan, 0.1, 4, "got a thickness of NaNmm, want more than 0 and at most 1 m"},
		{one, inf, 0.1, 4, "got a thickness of +Infmm, want more than 0 and at most 1 m"},
		{one, 1000.5, 0.1, 4, "got a thickness of 1000.5mm, want more than 0 and at most 1 m"},
		{one, 1, 0.1, 0, "got a stack of at most 0 leaves, want 1 to 5"},
		{one, 1, 0.1, 6, "got a stack of at most 6 leaves, want 1 to 5"},
		{one, 1, 0, 4, "got a tolerance of 0mm, want more than 0 and less than the height of 1mm"},
		{one, 1, -0.1, 4, "got a tolerance of -0.1mm, want more than 0 and less than the height of 1mm"},
		{one, 1, 1, 4, "got a tolerance of 1mm, want more than 0 and less than the height of 1mm"},
		{one, 1, nan, 4, "got a tolerance of NaNmm, want more than 0 and less than the height of 1mm"},
		{one, 1, inf, 4, "got a tolerance of +Infmm, want more than 0 and less than the height of 1mm"},
	} {
		got, err := row.set.Limits(row.height, row.most, row.tolerance)
		if err == nil || err.Error() != row.want || got.Goes.Leaves != nil || got.Stops.Leaves != nil || got.Goes.Miss != 0 || got.Stops.Miss != 0 {
			t.Errorf("got %v, %v, want %s", got, err, row.want)
		}
	}
}

// Source: bench_rules.md row 21 (common practice, no source): ten leaves of .010 in
// read .106, then .105, together; leaves that are .00035 in over make .1035, and
// the rest is oil and air.
func TestDoubt(t *testing.T) {
	ten := leaves.Stack{Leaves: slices.Repeat([]units.Length{10 * units.Thou}, 10)}
	doubt := ten.Doubt(0.35 * units.Thou)
	if got := (100*units.Thou + doubt).Inches(); math.Abs(got-.1035) > 1e-12 {
		t.Errorf("ten leaves: got %v in, want .1035", got)
	}
	if left := .105 - .100 - doubt.Inches(); !(left > 0) {
		t.Errorf("ten leaves: got %v in left for oil and air, want some", left)
	}
	nan := units.Length(math.NaN())
	for _, row := range []struct {
		count      int
		leaf, want units.Length
	}{{0, 0.01, 0}, {1, 0.01, 0.01}, {4, 0.005, 0.02}, {4, 0, 0}} {
		if got := (leaves.Stack{Leaves: make([]units.Length, row.count)}).Doubt(row.leaf); math.Abs(float64(got-row.want)) > 1e-15 {
			t.Errorf("%d leaves: got %v, want %v", row.count, got, row.want)
		}
	}
	if got := ten.Doubt(nan); got == got {
		t.Errorf("got %v, want NaN", got)
	}
}
