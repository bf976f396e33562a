package draw

import (
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// checkBars names the layer of them.
const checkBars = "check bars"

// CheckBars returns a layer with a bar of 100 mm and one of 4 in under it, to
// hold a rule to. They start above a place, and take 115 by 9 mm with their words.
func CheckBars(at fret.Point) Layer {
	bars := Layer{Name: checkBars}
	for _, bar := range []struct {
		label      string
		long, over units.Length
	}{{"100 mm", 100, 7}, {"4 in", 4 * units.Inch, 2}} {
		y := at.Y + bar.over
		for _, line := range [][2]fret.Point{
			{{X: at.X, Y: y}, {X: at.X + bar.long, Y: y}},
			{{X: at.X, Y: y - 1}, {X: at.X, Y: y + 1}},
			{{X: at.X + bar.long, Y: y - 1}, {X: at.X + bar.long, Y: y + 1}},
		} {
			bars.Lines = append(bars.Lines, Line{Name: bar.label, Points: line[:]})
		}
		bars.Words = append(bars.Words, Word{Text: bar.label, At: fret.Point{X: at.X + 4*units.Inch + 2, Y: y - 1}})
	}
	return bars
}
