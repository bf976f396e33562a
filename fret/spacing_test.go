package fret_test

import (
	"math"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Source: testdata/string_spacing.csv, a repair shop's page: six strings over
// 1.442 in from outside to outside, equal gaps. Centres recomputed from the outer
// edge of the treble string.
func TestEqualGapsPublished(t *testing.T) {
	printed := make(map[string]map[string]string)
	for _, row := range rows(t, "string_spacing.csv") {
		printed[row["quantity"]] = row
	}
	gauges := []units.Length{10 * units.Thou, 13 * units.Thou, 17 * units.Thou, 26 * units.Thou, 36 * units.Thou, 46 * units.Thou}
	outside := units.Length(number(t, printed["outside width X"]["published"])) * units.Inch
	places, err := fret.EqualGaps(outside-(gauges[0]+gauges[5])/2, gauges...)
	if err != nil {
		t.Fatal(err)
	}
	edge := places[0] + gauges[0]/2
	for i, what := range []string{"1", "2", "3", "4", "5", "6"} {
		row := printed["centre of string "+what+" from outer edge of treble string"]
		check(t, "string "+what, (edge - places[i]).Inches(), row["recomputed"])
		if i > 0 {
			gap := places[i-1] - places[i] - (gauges[i-1]+gauges[i])/2
			check(t, "gap before string "+what, gap.Inches(), printed["equal gap between strings (X-W)/5"]["published"])
		}
	}
}

// Both spacings fill the spread about the centre line; gaps are alike, and with
// gauges alike they are equal centres.
func TestSpacings(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	for range 500 {
		spread, n := units.Length(30+30*rnd.Float64()), 2+rnd.Intn(9)
		gauges, alike := make([]units.Length, n), make([]units.Length, n)
		for i := range gauges {
			gauges[i], alike[i] = units.Length(0.2+rnd.Float64()), 0.7
		}
		centres, err := fret.EqualCentres(spread, n)
		if err != nil {
			t.Fatal(err)
		}
		even, err := fret.EqualGaps(spread, alike...)
		if err != nil {
			t.Fatal(err)
		}
		places, err := fret.EqualGaps(spread, gauges...)
		if err != nil {
			t.Fatal(err)
		}
		if places[0] != spread/2 || places[n-1] != -spread/2 || centres[0] != spread/2 || centres[n-1] != -spread/2 {
			t.Fatalf("got outer strings at %v, %v and %v, %v, want half of %v either side", places[0], places[n-1], centres[0], centres[n-1], spread)
		}
		gap := places[0] - places[1] - (gauges[0]+gauges[1])/2
		for i := 1; i < n; i++ {
			near(t, "gap", float64(places[i-1]-places[i]-(gauges[i-1]+gauges[i])/2), float64(gap), 1e-12)
			near(t, "centres", float64(centres[i-1]-centres[i]), float64(spread)/float64(n-1), 1e-13)
			near(t, "even gauges", float64(even[i]), float64(centres[i]), 1e-12)
		}
	}
	for _, spread := range []units.Length{0, 40, units.Length(math.NaN())} {
		one, err := fret.EqualCentres(spread, 1)
		if err != nil || len(one) != 1 || one[0] != 0 {
			t.Errorf("got one string at %v, %v, want it on the centre line", one, err)
		}
		if one, err = fret.EqualGaps(spread, 0.4); err != nil || len(one) != 1 || one[0] != 0 {
			t.Errorf("got one string at %v, %v, want it on the centre line", one, err)
		}
	}
}

// The most strings there may be, and a spread that is very small.
func TestSpacingLimits(t *testing.T) {
	places := centres(t, 0.5, 100)
	if len(places) != 100 || places[0] != 0.25 || places[99] != -0.25 {
		t.Errorf("got %d strings from %v to %v, want 100 from 0.25mm to -0.25mm", len(places), places[0], places[99])
	}
	if wide := centres(t, math.MaxFloat64, 2); wide[0] != math.MaxFloat64/2 || wide[1] != -math.MaxFloat64/2 {
		t.Errorf("got two strings at %v, want half of all that there is either side", wide)
	}
	p := onescale(t)
	p.AtNut, p.AtScale = places, places
	if got := board(t, p).Strings(); got != 100 {
		t.Errorf("got %d strings, want 100", got)
	}
	asked, err := fret.PerString(1, fret.Just(), make([]int, 100)...)
	if err != nil || len(asked) != 100 {
		t.Errorf("got frets for %d strings, %v, want 100", len(asked), err)
	}
}

func TestSpacingErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	for _, row := range []struct {
		spread  units.Length
		strings int
		want    string
	}{
		{40, 0, "got 0 strings, want 1 to 100"},
		{40, -1, "got -1 strings, want 1 to 100"},
		{40, 101, "got 101 strings, want 1 to 100"},
		{0, 6, "got a spread of 0mm, want more than 0"},
		{-40, 6, "got a spread of -40mm, want more than 0"},
		{nan, 6, "got a spread of NaNmm, want more than 0"},
		{inf, 6, "got a spread of +Infmm, want more than 0"},
	} {
		_, err := fret.EqualCentres(row.spread, row.strings)
		wantError(t, err, row.want)
	}
	for _, row := range []struct {
		spread units.Length
		gauges []units.Length
		want   string
	}{
		{40, nil, "got 0 strings, want 1 to 100"},
		{40, []units.Length{0}, "got string 1 of 0mm, want more than 0"},
		{40, []units.Length{1, -1}, "got string 2 of -1mm, want more than 0"},
		{40, []units.Length{1, nan}, "got string 2 of NaNmm, want more than 0"},
		{40, []units.Length{1, inf}, "got string 2 of +Infmm, want more than 0"},
		{4, []units.Length{1, 3, 1}, "got a spread of 4mm, want more than the 4.000mm that the strings take"},
		{1, []units.Length{1, 1}, "got a spread of 1mm, want more than the 1.000mm that the strings take"},
		{nan, []units.Length{1, 3, 1}, "got a spread of NaNmm, want more than 0"},
		{inf, []units.Length{1e308, 1e308, 1e308}, "got a spread of +Infmm, want more than 0"},
		{1e308, []units.Length{1e308, 1e308, 1e308}, "got a spread of 1e+308mm, want more than the +Infmm that the strings take"},
	} {
		_, err := fret.EqualGaps(row.spread, row.gauges...)
		wantError(t, err, row.want)
	}
}
