package fret

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// mostStrings is the number of strings a board may carry.
const mostStrings = 100

// EqualCentres spaces strings evenly, centre to centre, across the spread of the
// outer two's centres: places across the board from its centre line, the treble
// string's first. A single string stands on the centre line, whatever the spread.
func EqualCentres(spread units.Length, strings int) ([]units.Length, error) {
	if strings < 1 || strings > mostStrings {
		return nil, fmt.Errorf("got %d strings, want 1 to %d", strings, mostStrings)
	}
	places := make([]units.Length, strings)
	if strings == 1 {
		return places, nil
	}
	if !(spread > 0 && finite(spread)) {
		return nil, fmt.Errorf("got a spread of %v, want more than 0", spread)
	}
	for i := range places {
		places[i] = spread * units.Length(0.5-float64(i)/float64(strings-1))
	}
	return places, nil
}

// EqualGaps spaces strings so that the gap between each two is the same, edge to
// edge, across the spread of the outer two's centres: the width over the outside
// of both is wider by half of each. Gauges are diameters, the treble string's
// first; places are as those of EqualCentres.
func EqualGaps(spread units.Length, gauges ...units.Length) ([]units.Length, error) {
	places, err := EqualCentres(spread, len(gauges))
	if err != nil {
		return nil, err
	}
	last := len(gauges) - 1
	taken := units.Length(0) // by all strings, but for the outer halves of the outer two
	for i, g := range gauges {
		if !(g > 0 && finite(g)) {
			return nil, fmt.Errorf("got string %d of %v, want more than 0", i+1, g)
		}
		if i > 0 {
			taken += gauges[i-1]/2 + g/2
		}
	}
	if last > 0 && !(spread > taken) {
		return nil, fmt.Errorf("got a spread of %v, want more than the %.3f that the strings take", spread, taken)
	}
	gap := (spread - taken) / units.Length(last)
	for i := 1; i < last; i++ {
		places[i] = places[i-1] - gap - (gauges[i-1]+gauges[i])/2
	}
	return places, nil
}

func finite(x units.Length) bool { return math.Abs(float64(x)) <= math.MaxFloat64 }
