package bench_test

import (
	"fmt"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// Every step that does something has its tool and, but for the rod, its amount;
// one that only reads has its tool.
func TestStepsHaveToolsAndAmounts(t *testing.T) {
	r := six(t,
		want(bench.Relief, relief1to14, 0.20), want(bench.Action, at12, 1.5), want(bench.Gap, gapHeld, 0.15),
		read(bench.Relief, relief1to14, 0.35), read(bench.Action, at12, 1.6, 1.4, 1.5, 1.5, 1.5, 1.5),
		read(bench.Gap, gapHeld, 0.30, 0.15, 0.15, 0.15, 0.15, 0.15), heard(at12, 7, 7, 0, 0, 0, silent),
	)
	for _, c := range []struct {
		screw units.Thread
		want  []string
	}{
		{0, []string{
			"tighten the rod, an eighth of a turn at a time / the rod's own key, feeler leaves",
			"set the heights of strings 1 2 at the saddle: string 1 down 0.20mm, string 2 up 0.20mm / feeler leaves",
			"lower the nut slots of string 1, stopping early: stop where the gap reads 0.20mm / a nut file as wide as the string; a stack of leaves before the nut as its stop",
			"read cents at fret 12 against the open string on string 6 / the tuner",
			"move saddle 1+2 back 2.6mm, retune, read again / a calliper, the tuner",
		}},
		{0.5, []string{
			"tighten the rod, an eighth of a turn at a time / the rod's own key, feeler leaves",
			"set the heights of strings 1 2 at the saddle: string 1 down 0.20mm, string 2 up 0.20mm / the height screws' own key, feeler leaves",
			"lower the nut slots of string 1, stopping early: stop where the gap reads 0.20mm / a nut file as wide as the string; a stack of leaves before the nut as its stop",
			"read cents at fret 12 against the open string on string 6 / the tuner",
			"move saddle 1+2 back 2.6mm, retune, read again / the saddle screw's own key, a calliper, the tuner",
		}},
	} {
		r.HeightScrew, r.SaddleScrew = c.screw, c.screw
		var got []string
		for _, s := range r.Next() {
			got = append(got, fmt.Sprint(s.Do, " / ", s.Tool))
		}
		diff(t, fmt.Sprint("a screw of ", c.screw), c.want, got)
	}
}

// Where the nut is to be cut, the trade's other orders move its steps first or
// last, and keep the others as they were.
func TestOrders(t *testing.T) {
	step := func(of bench.Subject, reads bool) bench.Step { return bench.Step{Of: of, Reads: reads} }
	rod, height, gap, slot, cents, saddle := step(bench.Rod, false), step(bench.Height, false), step(bench.Gap, true), step(bench.Slot, false), step(bench.Cents, true), step(bench.Saddle, false)
	for _, c := range []struct {
		steps []bench.Step
		want  string
	}{
		{[]bench.Step{rod, height, gap, slot, cents, saddle}, "the nut first [1 3 4 2 5 6]; the nut last [1 2 5 6 3 4]; "},
		{[]bench.Step{slot, saddle}, "the nut last [2 1]; "},
		{[]bench.Step{height, slot}, "the nut first [2 1]; "},
		{[]bench.Step{slot}, ""},
		{[]bench.Step{rod, height, gap, saddle}, ""},
		{nil, ""},
	} {
		got := ""
		for _, o := range bench.Orders(c.steps) {
			if o.Why == "" {
				t.Errorf("%s: got no reason", o.Name)
			}
			got += fmt.Sprintf("%s %v; ", o.Name, o.Steps)
		}
		if got != c.want {
			t.Errorf("%v: got %q, want %q", c.steps, got, c.want)
		}
	}
}

func TestTextInAnotherUnit(t *testing.T) {
	r := six(t, heard(at12, 7, 7, 0, 0, 0, 0))
	do := r.Next()[0].Do
	if got, want := do.String(), "move saddle 1+2 back 2.6mm, retune, read again"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	inches := func(l, band units.Length) string { return fmt.Sprintf("%.1fin", l.Inches()) }
	if got, want := do.In(inches), "move saddle 1+2 back 0.1in, retune, read again"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := (bench.Text{}).String(), ""; got != want {
		t.Errorf("got %q of no text", got)
	}
}

// A one-piece saddle is taken down from beneath, stopping short, and what it cannot
// give is said; it does not slide.
func TestOnePieceSteps(t *testing.T) {
	for _, c := range []struct {
		heights [6]units.Length
		least   units.Length
		want    string
	}{
		{[6]units.Length{2, 2, 2, 2, 2, 2}, 2, "take the saddle down from beneath: 1.00mm under string 1, 1.00mm under string 6; stop 0.10mm short, string up and read again / abrasive on a flat plate, feeler leaves"},
		{[6]units.Length{2, 2, 2, 2, 2, 2}, 2.5, "take the saddle down from beneath: 0.50mm under string 1, 0.50mm under string 6; stop 0.10mm short, string up and read again" +
			"; left too high there, strings 1 2 3 4 5 6, by up to 0.50mm: the saddle has no more to spare, or a neighbour no more to give / abrasive on a flat plate, feeler leaves"},
		{[6]units.Length{1.4, 1.5, 1.5, 1.5, 1.5, 1.5}, 2, "fit a taller saddle, or a shim beneath it; too low there, string 1, by up to 0.20mm / abrasive on a flat plate, feeler leaves"},
	} {
		r := six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, c.heights[:]...), heard(at12, 7, 7, 0, 0, 0, 0))
		r.Stands, r.LeastStands = [2]units.Length{3, 3}, c.least
		steps := r.Next()
		diff(t, "sanded", c.want, steps[0].Do.String()+" / "+steps[0].Tool)
		diff(t, "shaped", "shape the top of the saddle under string 1 2, to break back 2.6mm, retune, read again / a fine file, the tuner", steps[1].Do.String()+" / "+steps[1].Tool)
		diff(t, "cautions", []string{bench.CautionHeights, bench.CautionShape}, []string{steps[0].Caution, steps[1].Caution})
	}
}
