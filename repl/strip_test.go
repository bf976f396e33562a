package repl

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

func TestStrips(t *testing.T) {
	p := &bench.Prediction{Notes: make([][]intonation.Predicted, 2)}
	for _, c := range []float64{0, 3, 3.01, 6, 6.01, -3, -3.01, -6, -6.01, math.NaN(), 1, 1} {
		p.Notes[0] = append(p.Notes[0], intonation.Predicted{Cents: units.Cents(c)})
		p.Notes[1] = append(p.Notes[1], intonation.Predicted{})
	}
	want := "     1  2  3  4  5  6  7  8  9 10 11 12\n" +
		"s1   .  .  +  +  #  .  -  -  =  ?  .  .\n" +
		"s2   .  .  .  .  .  .  .  .  .  .  .  .\n" +
		". within 3c, + sharp, # by over 6c, - flat, = by over 6c"
	if diff := cmp.Diff(want, strings.Join(strips(p, true, 80), "\n")); diff != "" {
		t.Error(diff)
	}
	want = "   1 3 5 7 9 12\n" +
		"s1 ··△△▲·▽▽▼?··\n" +
		"s2 ············\n" +
		"· within 3c, △\n" +
		"  sharp, ▲ by\n" +
		"  over 6c, ▽\n" +
		"  flat, ▼ by\n" +
		"  over 6c"
	if diff := cmp.Diff(want, strings.Join(strips(p, false, 15), "\n")); diff != "" {
		t.Error(diff)
	}
	for width := 8; width < 60; width++ {
		for _, line := range strips(p, false, width) {
			if n := utf8.RuneCountInString(line); n > max(width, 9) {
				t.Errorf("in %d: got %d characters, %q", width, n, line)
			}
		}
	}
}
