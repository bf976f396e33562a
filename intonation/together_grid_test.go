package intonation_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// One saddle under several strings stands where a walk over a grid of
// hundredths of a millimetre finds the note furthest out least so: on random
// necks, with staggers and without.
func TestTogetherIsTheGridsBest(t *testing.T) {
	rnd := rand.New(rand.NewSource(21))
	placed := 0
	for k := range 40 {
		n := anyNeck(rnd, k%4)
		first := n.Courses[0]
		for range rnd.Intn(3) { // thicker strings
			c := first
			c.UnitWeight, c.Bend = c.UnitWeight*units.LinearDensity(1+3*rnd.Float64()), c.Bend*(1+5*rnd.Float64())
			n.Courses = append(n.Courses, c)
		}
		m, err := intonation.NewModel(n)
		if err != nil {
			continue
		}
		strs, stagger := make([]int, len(n.Courses)), make([]units.Length, len(n.Courses))
		for i := range strs {
			strs[i] = i + 1
			if k%2 == 0 {
				stagger[i] = units.Length(2 * rnd.Float64())
			}
		}
		got, err := m.LeastWorstTogether(strs, stagger...)
		if err != nil {
			continue
		}
		placed++
		worst := func(setback units.Length) float64 {
			for i := range n.Courses {
				n.Courses[i].Setback = setback + stagger[i]
			}
			at, err := intonation.NewModel(n)
			if err != nil {
				t.Fatal(err)
			}
			most := 0.0
			for _, c := range at.Map(nil) {
				most = max(most, math.Abs(float64(c)))
			}
			return most
		}
		best, least := units.Length(0), math.Inf(1)
		for step := -500; step <= 500; step++ {
			at := got.Setback + units.Length(step)/100
			if w := worst(at); w < least {
				best, least = at, w
			}
		}
		if off := math.Abs(float64(got.Setback - best)); off > 0.0101 || math.Abs(float64(got.Worst)) > least+1e-6 {
			t.Errorf("%+v: got %v, %v at worst, want %v, %v", n, got.Setback, got.Worst, best, least)
		}
		// Of two that are as far out, to a millionth of a cent, the first is told.
		if w := worst(got.Setback); math.Abs(math.Abs(float64(got.Worst))-w) > 1e-6 {
			t.Errorf("got %v at worst, want the %v that the model has there", got.Worst, w)
		}
	}
	if placed < 25 {
		t.Errorf("got %d of 40 placed, want a test that tells", placed)
	}
}
