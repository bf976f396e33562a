package bench_test

import (
	"fmt"
	"slices"
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

// What only reads has its tool too.
func TestReadingsHaveTools(t *testing.T) {
	r := six(t, want(bench.Relief, relief1to14, 0.20), want(bench.Action, at12, 1.5), want(bench.Gap, gapHeld, 0.15))
	var got []string
	for _, s := range r.Next() {
		got = append(got, s.Of.String()+": "+s.Tool)
	}
	diff(t, "tools", []string{"relief: feeler leaves", "action: feeler leaves", "gap: feeler leaves", "cents: the tuner"}, got)
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
		{[]bench.Step{step(bench.Relief, true), height, gap, slot, saddle}, "the nut first [1 3 4 2 5]; the nut last [1 2 5 3 4]; "},
		{[]bench.Step{cents, gap, slot, step(bench.Slot, false)}, "the nut first [2 3 4 1]; "},
		{[]bench.Step{slot}, ""},
		{[]bench.Step{height, step(bench.Slot, true), saddle}, ""}, // nothing is cut
		{[]bench.Step{rod, height, gap, saddle}, ""},
		{nil, ""},
	} {
		got := ""
		for _, o := range bench.Orders(c.steps) {
			why := map[string]string{
				"the nut first": "heights and saddles are then set over slots that stay as they are",
				"the nut last":  "what is cut there cannot be put back, so all that can be is done before it",
			}[o.Name]
			diff(t, o.Name, why, o.Why)
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
	// A length is shown with the band that it is known to: 0 is what a leaf tells.
	r = six(t, want(bench.Relief, relief1to14, 0.2), read(bench.Relief, relief1to14, 0.35), heard(at12, 7, 7, 0, 0, 0, 0), read(bench.Saddle, bench.How{}, 9, 12, 12))
	r.Travel = [2]units.Length{8, 16}
	var shown [][2]units.Length
	show := func(l, band units.Length) string { shown = append(shown, [2]units.Length{l, band}); return "?" }
	diff(t, "relief", "relief reads ?, ? wanted", r.Next()[0].Why.In(show))
	diff(t, "move", "move saddle 1+2 back ?, retune, read again", r.Next()[1].Do.In(show))
	diff(t, "past", "its strings are out of tune; its best place lies ? past its travel; step 1 will spoil this reading: read it again first", r.Next()[1].Why.In(show))
	at := pairAt(640, 0, 0, 12, 7)
	by := mm(band(1, at, at))
	diff(t, "lengths", [][2]units.Length{{0.35, 0}, {0.2, 0}, {1, by}, {mm(at.move()) - 1, by}}, shown)
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
		// 0.1 mm at the saddle is too little to stop short of.
		{[6]units.Length{1.7, 1.7, 1.7, 1.7, 1.7, 1.7}, 2.9, "take the saddle down from beneath: 0.10mm under string 1, 0.10mm under string 6" +
			"; left too high there, strings 1 2 3 4 5 6, by up to 0.30mm: the saddle has no more to spare, or a neighbour no more to give / abrasive on a flat plate, feeler leaves"},
		// Nor is what is left within 0.05 mm, but for rounding, too high.
		{[6]units.Length{1.575, 1.575, 1.575, 1.575, 1.575, 1.575}, 2.9, "take the saddle down from beneath: 0.10mm under string 1, 0.10mm under string 6 / abrasive on a flat plate, feeler leaves"},
		// One end alone.
		{[6]units.Length{1.5, 1.6, 1.7, 1.8, 1.9, 2}, 2, "take the saddle down from beneath: 0.00mm under string 1, 1.00mm under string 6; stop 0.10mm short, string up and read again / abrasive on a flat plate, feeler leaves"},
		{[6]units.Length{2, 1.9, 1.8, 1.7, 1.6, 1.5}, 2, "take the saddle down from beneath: 1.00mm under string 1, 0.00mm under string 6; stop 0.10mm short, string up and read again / abrasive on a flat plate, feeler leaves"},
		// Level at 1.7 mm but for two: string 2 has 0.4 mm more to give, string 5 is low.
		{[6]units.Length{1.5, 1.7, 1.5, 1.6, 1.3, 1.5}, 2, "fit a taller saddle, or a shim beneath it; left too high there, strings 2 4, by up to 0.40mm: the saddle has no more to spare, or a neighbour no more to give" +
			"; too low there, string 5, by up to 0.40mm / abrasive on a flat plate, feeler leaves"},
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

// A step for the heights says how far each string goes at its saddle, and where that
// is not known, only which they are.
func TestSetHeightsSays(t *testing.T) {
	for _, c := range []struct {
		what   string
		read   [6]units.Length
		change func(*bench.Record)
		want   string
	}{
		{"up and down", [6]units.Length{1.4, 1.5, 1.5, 1.8, 1.5, 1.5}, func(*bench.Record) {}, "set the heights of strings 1 4 at the saddle: string 1 up 0.20mm, string 4 down 0.60mm"},
		{"one up", [6]units.Length{1.5, 1.5, 1.3, 1.5, 1.5, 1.5}, func(*bench.Record) {}, "set the heights of string 3 at the saddle: up 0.40mm"},
		{"no spread for two screws", [6]units.Length{1.4, 1.5, 1.5, 1.8, 1.5, 1.5}, func(r *bench.Record) { r.HeightScrew, r.ScrewGap, r.SaddleSpread = 0.5, 14, 0 }, "set the heights of strings 1 4 at the saddle"},
		{"one piece, not all read", [6]units.Length{1.4, unread, 1.5, 1.8, 1.5, 1.5}, func(r *bench.Record) { r.Stands = [2]units.Length{9, 9} }, "set the heights of strings 1 4 at the saddle: string 1 up 0.20mm, string 4 down 0.60mm"},
		{"one piece, no spread", [6]units.Length{1.5, 1.5, 1.3, 1.5, 1.5, 1.5}, func(r *bench.Record) { r.Stands, r.SaddleSpread = [2]units.Length{9, 9}, 0 }, "set the heights of string 3 at the saddle: up 0.40mm"},
	} {
		r := with(six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, c.read[:]...)), c.change)
		i := slices.IndexFunc(r.Next(), func(s bench.Step) bool { return s.Of == bench.Height })
		diff(t, c.what, c.want, r.Next()[i].Do.String())
	}
}

// A step for the slots says where to stop: once where it is the same for all.
func TestLowerSlotsSays(t *testing.T) {
	for _, c := range []struct {
		wanted, read [6]units.Length
		want         string
	}{
		{[6]units.Length{0.1, 0.1, 0.2, 0.2, 0.2, 0.2}, [6]units.Length{0.3, 0.3, 0.2, 0.2, 0.2, 0.2}, "lower the nut slots of strings 1 2, stopping early: stop where the gap reads 0.15mm"},
		{[6]units.Length{0.1, 0.1, 0.2, 0.2, 0.2, 0.2}, [6]units.Length{0.3, 0.3, 0.2, 0.4, 0.2, 0.2}, "lower the nut slots of strings 1 2 4, stopping early: string 1 stop where the gap reads 0.15mm, string 2 stop where the gap reads 0.15mm, string 4 stop where the gap reads 0.25mm"},
		{[6]units.Length{0.1, 0.2, 0.1, 0.2, 0.2, 0.2}, [6]units.Length{0.3, 0.3, 0.3, 0.2, 0.2, 0.2}, "lower the nut slots of strings 1 2 3, stopping early: string 1 stop where the gap reads 0.15mm, string 2 stop where the gap reads 0.25mm, string 3 stop where the gap reads 0.15mm"},
	} {
		r := six(t, want(bench.Gap, gapHeld, c.wanted[:]...), read(bench.Gap, gapHeld, c.read[:]...))
		diff(t, c.want, c.want, r.Next()[0].Do.String())
	}
}
