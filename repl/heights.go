package repl

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// short shows a length to 0.01 mm, or .001 in.
func (s *Session) short(l units.Length) string { return s.both("", "", l, 2, 3)[0].text }

func reportHeights(s *Session) (*report, error) {
	rows, err := s.record.HeightRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "heights"}
	stale := false
	for _, h := range rows {
		stale = stale || h.Stale
		row := []cell{whole("string", "string", h.String), {key: "fret", val: h.Fret}}
		row = append(row, s.both("wanted", "wanted", h.Wanted, 2, 3)...)
		row = append(row, s.both("read", "read", h.Read, 2, 3)[0])
		row = append(row, s.bothSigned("at saddle", "saddle_change", h.AtSaddle, 2, 3)...)
		row = append(row, turnCells(h, s.record.ScrewGap != 0 || s.record.PostGap != 0)...)
		row = append(row, cell{"leaves " + s.view.symbols(units.KindLength)[0], s.view.stackText(h.Stack), "leaves_mm", stackList(h.Stack)})
		if h.Stale {
			row = append(row, cell{key: "stale", val: true})
		}
		r.rows = append(r.rows, row)
	}
	r.notes = append(r.notes, s.heightNotes(rows, stale)...)
	return r, nil
}

func (s *Session) heightNotes(rows []bench.HeightRow, stale bool) []string {
	notes := []string{fmt.Sprintf("heights run from the crown of fret %d to the underside of the string; + is up", rows[0].Fret)}
	switch {
	case s.record.HeightScrew == 0 && (s.record.ScrewGap != 0 || s.record.PostGap != 0):
		notes = append(notes, "tell height screw, as in height screw: 40tpi, for the turns")
	case s.record.HeightScrew == 0:
	case s.record.PostGap != 0:
		notes = append(notes, "treble and bass are turns of the two posts; + raises")
	case s.record.ScrewGap != 0:
		notes = append(notes, "treble and bass are turns of the saddle's two height screws; + raises")
	default:
		notes = append(notes, "turns are of the height screw; + raises")
	}
	if stale {
		notes = append(notes, "a height read before something was done counts no more: read it again")
	}
	why := "its neighbour shares the screws"
	if s.record.PostGap != 0 {
		why = "all strings share the posts"
	}
	for _, h := range rows {
		if h.Left > bench.Near || h.Left < -bench.Near {
			notes = append(notes, fmt.Sprintf("string %d stays %s from its height at the saddle: %s", h.String, s.short(max(h.Left, -h.Left)), why))
		}
	}
	return append(notes, s.bridgeNotes(rows)...)
}

// turnCells shows the turns of the height screws, raising positive.
func turnCells(h bench.HeightRow, two bool) []cell {
	if !two {
		return []cell{turnCell("turns", "turns", h.Treble)}
	}
	return []cell{turnCell("treble", "turns_treble", h.Treble), turnCell("bass", "turns_bass", h.Bass)}
}

func turnCell(head, key string, n units.Turns) cell {
	if math.IsNaN(float64(n)) {
		return cell{head, "-", key, nil}
	}
	text := eighths(float64(n))
	switch {
	case text == "0":
	case n > 0:
		text = "+" + text
	default:
		text = "-" + text
	}
	return cell{head, text, key, known(n)}
}

func (w view) stackText(stack leaves.Stack) string {
	if len(stack.Leaves) == 0 {
		return "-"
	}
	parts := make([]string, len(stack.Leaves))
	for i, l := range stack.Leaves {
		parts[i] = fixed(float64(l), 2)
		if w.inches {
			parts[i] = fixed(l.Inches(), 3)
		}
	}
	return strings.Join(parts, " + ")
}

func stackList(stack leaves.Stack) any {
	if len(stack.Leaves) == 0 {
		return nil
	}
	out := make([]any, len(stack.Leaves))
	for i, l := range stack.Leaves {
		out[i] = known(l) // a Length writes itself as text
	}
	return out
}
