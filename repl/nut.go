package repl

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

func reportNut(s *Session) (*report, error) {
	rows, assumed, err := s.record.NutRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "nut"}
	cut, wanted, stale := false, false, false
	for _, n := range rows {
		cut, wanted, stale = cut || n.Cut.Off > 0, wanted || n.Wanted == n.Wanted, stale || n.Stale
		row := []cell{whole("string", "string", n.String)}
		row = append(row, s.both("gap", "gap", n.Gap, 2, 3)[0], cell{"read", gapText(n), "read", gapText(n)})
		row = append(row, s.both("slot", "slot", n.Slot, 2, 3)[0], s.both("wanted", "wanted_slot", n.Wanted, 2, 3)[0])
		row = append(row, s.both("take off", "take_off", n.Cut.Off, 2, 3)[0], s.both("stop", "stop", n.Cut.Stop, 2, 3)[0],
			cell{"leaves " + s.view.symbols(units.KindLength)[0], s.view.stackText(n.Stack), "leaves_mm", stackList(n.Stack)})
		if n.Stale {
			row = append(row, cell{key: "stale", val: true})
		}
		r.rows = append(r.rows, row)
	}
	r.notes = []string{"slot: how high the string lies at the nut over the plane of the frets, worked out from the gap and the way it was read"}
	if wanted {
		r.notes = append(r.notes, fmt.Sprintf("take off: to cut until the gap reads %s more than wanted; the last strokes are taken with the string up, reading again", s.view.told(bench.NutMargin)))
	} else if s.wantsGap() {
		r.notes = append(r.notes, "the slot that is wanted is worked out from a gap held at 3, pressed on crown 3, or open")
	} else {
		r.notes = append(r.notes, "tell what is wanted, as in want gap held 3: 0.15mm")
	}
	switch {
	case s.record.CrownHeight == 0:
		r.notes = append(r.notes, "tell crowns, as in crowns: 1.1mm, for the leaves to lay on the board against the nut, where the file stops")
	case wanted:
		r.notes = append(r.notes, "stop: leaves to lay on the board against the nut for the file to stop on, the same margin left")
	}
	if stale {
		r.notes = append(r.notes, "a gap read before something was done counts no more: read it again")
	}
	if cut {
		r.notes = append(r.notes, "caution: "+bench.CautionSlot)
	}
	r.notes = append(r.notes, s.assumedNotes(assumed)...)
	return r, nil
}

// gapText says how a first gap was read.
func gapText(n bench.NutRow) string {
	switch {
	case math.IsNaN(float64(n.Gap)):
		return "-"
	case n.How.Held[0] == 0:
		return "open"
	case n.How.Alone:
		return fmt.Sprintf("on %d", n.How.Held[0])
	}
	return fmt.Sprintf("held %d", n.How.Held[0])
}

// wantsGap reports whether a first gap is wanted, in any way of reading it.
func (s *Session) wantsGap() bool {
	return slices.ContainsFunc(s.record.Entries, func(e bench.Entry) bool { return e.Mood == bench.Want && e.Of == bench.Gap })
}
