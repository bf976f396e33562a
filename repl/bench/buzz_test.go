package bench_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// What a row says of a string, against every note of it: the closest has the least
// room, and at the lowest action, over any bow, just one of them has none left.
func TestBuzzOverCrowns(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for trial := range 6 {
		c, strings := strung(rnd)
		if trial == 0 { // one of the usual ones, but for rounding
			c.bow = 0.3
			for s := range strings {
				strings[s].bow = c.bow
			}
		}
		r := measured(t, rnd, c, strings)
		r.Swing = action.Swing{Depth: mm(0.2 + rnd.Float64()), Pluck: mm(60 + 150*rnd.Float64())}
		v := ok(r.Side())(t)
		rows, _, err := r.BuzzRows()
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range strings {
			b, s := rows[i], i+1
			closest := func(n action.Neck, l action.Line) action.Spare {
				var notes []action.Spare
				for f := 1; f < 22; f++ {
					notes = append(notes, n.Spare(s, l, f, r.Swing))
				}
				return slices.MinFunc(notes, func(a, b action.Spare) int { return int(math.Copysign(1, float64(a.By-b.By))) })
			}
			diff(t, "the string", []any{s, 12, mm(x.height(12)), v.Neck.Spare(s, v.Lines[i], 0, r.Swing)}, []any{b.String, b.At, b.Action, b.Open})
			diff(t, "closest", closest(v.Neck, v.Lines[i]), b.Closest)
			var bows []units.Length
			for _, low := range b.Bows {
				n := v.Neck
				n.Relief.Bow = low.Bow
				bows = append(bows, low.Bow)
				diff(t, fmt.Sprint("room over a bow of ", low.Bow), units.Length(0), closest(n, n.Through(s, mm(x.slot()), 12, low.Lowest)).By)
				if now := math.Abs(float64(low.Bow)-c.bow) < 1e-9; low.Now != now || now && low.Lowest != b.Lowest {
					t.Errorf("bow of %v: got %+v, and %v at the lowest", c.bow, low, b.Lowest)
				}
			}
			want := []units.Length{mm(c.bow)}
			for _, usual := range []units.Length{0, 0.1, 0.2, 0.3, 0.4, 0.5} {
				if fmt.Sprintf("%.2f", usual) != fmt.Sprintf("%.2f", c.bow)+"mm" {
					want = append(want, usual)
				}
			}
			slices.Sort(want)
			diff(t, "bows", want, bows)
		}
	}
}

// Plucked hard near the saddle, a low string comes closest from the second fret;
// otherwise from the first.
func TestClosestNote(t *testing.T) {
	for _, row := range []struct {
		height  units.Length
		swing   action.Swing
		fretted int
	}{{0.3, action.Swing{Depth: 1, Pluck: 60}, 2}, {2, action.Swing{Depth: 0.4, Pluck: 120}, 1}} {
		r := flat(t, read(bench.Action, at12, row.height, row.height, row.height, row.height, row.height, row.height))
		r.Swing = row.swing
		rows, _, err := r.BuzzRows()
		if err != nil || rows[2].Closest.Fretted != row.fretted {
			t.Errorf("%v: got %+v closest, %v, want fret %d", row, rows[2].Closest, err, row.fretted)
		}
	}
	// The open string stands in a row of its own, also where it has less room.
	r := flat(t)
	r.Swing, r.NutHeights = action.Swing{Depth: 0.4, Pluck: 120}, []units.Length{0}
	rows, _, err := r.BuzzRows()
	if b := rows[0]; err != nil || b.Closest.Fretted != 1 || !(b.Open.By < b.Closest.By) {
		t.Errorf("a low slot: got %+v open, and %+v closest, %v, want less room for the open string", b.Open, b.Closest, err)
	}
}

// The room that a string is taken to ask for fits the scale, and is said.
func TestSwingAssumed(t *testing.T) {
	for _, row := range []struct {
		scale units.Length
		told  action.Swing
		want  []string
	}{
		{640, action.Swing{}, []string{"a swing of 0.40mm, plucked 120.00mm from the saddle: tell swing for yours"}},
		{200, action.Swing{}, []string{"a swing of 0.40mm, plucked 100.00mm from the saddle: tell swing for yours"}},
		{640, action.Swing{Depth: 0.5, Pluck: 100}, nil},
	} {
		r := flat(t)
		r.Scale, r.Swing, r.NutHeights = row.scale, row.told, []units.Length{0.6}
		_, notes, err := r.BuzzRows()
		if err != nil {
			t.Fatal(err)
		}
		diff(t, fmt.Sprint(row), row.want, texts(notes))
	}
	// On a scale of 10 mm, 0.2 mm in the middle: a fiftieth of it.
	r := flat(t)
	r.Scale = 10
	v := ok(r.Side())(t)
	rows, _, err := r.ClearRows()
	if err != nil {
		t.Fatal(err)
	}
	diff(t, "a short scale", v.Neck.Spare(1, v.Lines[0], 3, action.Swing{Depth: 0.2, Pluck: 5}), rows[3].Closest)
}

// Why the rows of a string cannot be worked out.
func TestBuzzErrors(t *testing.T) {
	buzz := bench.Entry{Mood: bench.Read, Of: bench.Buzz, On: []int{2}, Frets: []int{3}}
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Swing = action.Swing{Depth: 13, Pluck: 100} }, "string 1: got a swing of 13mm, want 0 to 12.8mm, a fiftieth of the string"},
		{func(r *bench.Record) { r.Scale = 80 }, "string 1: got a bow of 0.500mm, want at most 0.444mm, a hundredth of its length: no neck bends so far"},
		// Levels that overflow stop short of where the swing is looked at.
		{func(r *bench.Record) { r.Entries = append(r.Entries, on(read(bench.Action, at12, 1.7e308), 2), buzz) }, "string 2: got a string at 0.5mm and +Infmm, want finite levels"},
	} {
		r := flat(t)
		row.change(r)
		rows, notes, err := r.BuzzRows()
		wantError(t, err, row.want)
		if rows != nil || notes != nil {
			t.Errorf("%s: got %v and %v beside the error", row.want, rows, notes)
		}
	}
}

// What a reading that stands has shown is the less likely to be at fault: suspects
// are those of the side view for the faults so measured.
func TestMeasuredFaults(t *testing.T) {
	buzz := bench.Entry{Mood: bench.Read, Of: bench.Buzz, On: []int{2}, Frets: []int{0, 3, 4}}
	clean := bench.Entry{Mood: bench.Read, Of: bench.Clean, On: []int{2}, Frets: []int{9}}
	heights := read(bench.Action, at12, 2, 2, 2, 2, 2, 2)
	bow := read(bench.Relief, relief1to14, 0.1)
	gap := on(read(bench.Gap, gapHeld, 0.2), 2)
	for _, row := range []struct {
		what     string
		entries  []bench.Entry
		measured []action.Fault
	}{
		{"heights", []bench.Entry{heights}, []action.Fault{action.SaddleLow}},
		{"heights void", []bench.Entry{heights, did(bench.Height), want(bench.Action, at12, 2)}, nil},
		{"relief", []bench.Entry{heights, bow}, []action.Fault{action.BowSmall, action.BowLarge, action.SaddleLow}},
		{"gap", []bench.Entry{heights, gap}, []action.Fault{action.SlotLow, action.SaddleLow}},
		{"gap void", []bench.Entry{gap, did(bench.Slot, 2), heights}, []action.Fault{action.SaddleLow}},
		{"gap of another string", []bench.Entry{heights, on(read(bench.Gap, gapHeld, 0.2), 3)}, []action.Fault{action.SaddleLow}},
		{"all", []bench.Entry{heights, bow, gap}, []action.Fault{action.BowSmall, action.BowLarge, action.SlotLow, action.SaddleLow}},
	} {
		r := six(t, append(row.entries, buzz, clean)...)
		r.Swing = action.Swing{Depth: 0.4, Pluck: 120}
		rows, _, err := r.BuzzRows()
		if err != nil {
			t.Fatal(err)
		}
		v := ok(r.Side())(t)
		diff(t, row.what, ok(v.Neck.Suspects(2, v.Lines[1], r.Swing, []int{0, 3, 4}, []int{9}, row.measured...))(t), rows[1].Suspects)
	}
}
