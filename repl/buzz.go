package repl

import (
	"fmt"
	"strings"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
)

// reportBuzz shows where every string comes closest to a crown, how low it could
// stand, what relief does to that, and what may make the notes told buzz.
func reportBuzz(s *Session) (*report, error) {
	rows, assumed, err := s.record.BuzzRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "buzz"}
	for _, b := range rows {
		row := []cell{whole("string", "string", b.String), {key: "fret", val: b.At}}
		row = append(row, s.both("action", "action", b.Action, 2, 3)[0], s.both("lowest", "lowest_action", b.Lowest, 2, 3)[0],
			text("closest", fmt.Sprintf("held at %d, over %d", b.Closest.Fretted, b.Closest.Over)), cell{key: "closest_fretted", val: b.Closest.Fretted}, cell{key: "closest_over", val: b.Closest.Over})
		row = append(row, s.both("spare", "spare", b.Closest.By, 2, 3)[0], s.both("open", "open_spare", b.Open.By, 2, 3)[0],
			cell{key: "buzzing", val: listed(b.Buzzing)}, cell{key: "clean", val: listed(b.Clean)}, cell{key: "suspects", val: s.suspectList(b)}, cell{key: "lowest_by_bow", val: bowList(b)})
		r.rows = append(r.rows, row)
		r.lines = append(r.lines, s.suspectLines(b)...)
	}
	suspected := len(r.lines) > 0
	at := rows[0].At
	r.notes = append(r.notes, fmt.Sprintf("action is over fret %d; lowest is the least there that leaves every fretted note room for its swing; spare is what the closest note has beyond it, open what the open string has", at))
	r.lines = append(r.lines, s.bowLines(rows)...)
	if suspected {
		r.notes = append(r.notes, "suspects, not findings: measure before anything is cut or filed")
	}
	r.notes = append(r.notes, s.assumedNotes(assumed)...)
	return r, nil
}

// listed is a list for JSON, [] where it is empty.
func listed(notes []int) []int { return append([]int{}, notes...) }

func (s *Session) suspectList(b bench.BuzzRow) []any {
	out := []any{}
	for _, x := range b.Suspects {
		o := ordered{{key: "fault", val: x.Fault.String()}, {key: "fret", val: x.Fret}, {key: "by_mm", val: known(x.By)},
			{key: "explains", val: listed(x.Explains)}, {key: "spoils", val: listed(x.Spoils)}, {key: "measure", val: s.measure(x, b.String)}}
		if x.Play >= 0 {
			o = append(o, cell{key: "play", val: x.Play})
		}
		out = append(out, o)
	}
	return out
}

func bowList(b bench.BuzzRow) []any {
	out := []any{}
	for _, x := range b.Bows {
		out = append(out, ordered{{key: "bow_mm", val: known(x.Bow)}, {key: "lowest_action_mm", val: known(x.Lowest)}})
	}
	return out
}

// bowLines says what relief does to the lowest action of the outer strings.
func (s *Session) bowLines(rows []bench.BuzzRow) []string {
	treble, bass := rows[0], rows[len(rows)-1]
	out := []string{fmt.Sprintf("the lowest action over fret %d by the bow of the neck, strings %d and %d:", treble.At, treble.String, bass.String)}
	for i, x := range treble.Bows {
		line := fmt.Sprintf("  bow %s: %s %s", s.short(x.Bow), s.short(x.Lowest), s.short(bass.Bows[i].Lowest))
		if x.Now {
			line += ", as it is"
		}
		out = append(out, line)
	}
	return out
}

// mostSuspects is how many suspects a report lists besides the last, which no
// side view shows.
const mostSuspects = 4

// suspectLines ranks what may make a string buzz.
func (s *Session) suspectLines(b bench.BuzzRow) []string {
	if len(b.Suspects) == 0 {
		return nil
	}
	told := fmt.Sprintf("string %d buzzes %s", b.String, notesText(b.Buzzing))
	if len(b.Clean) > 0 {
		told += ", and is clean " + notesText(b.Clean)
	}
	out := []string{told}
	last := len(b.Suspects) - 1
	for i, x := range b.Suspects {
		if i >= mostSuspects && i < last {
			continue
		}
		n := min(i, mostSuspects) + 1
		line := fmt.Sprintf("%d. %s", n, suspicion(x))
		if x.By > 0 {
			line += fmt.Sprintf(", by %s or more", s.short(x.By))
		}
		if len(x.Explains) < len(b.Buzzing) {
			line += "; accounts for the buzz " + notesText(x.Explains) + " alone"
		}
		if len(x.Spoils) > 0 {
			line += "; but it would buzz " + notesText(x.Spoils) + " too"
		}
		out = append(out, line, "   measure: "+s.measure(x, b.String))
		if x.Play >= 0 && i+1 < min(last, mostSuspects) {
			out = append(out, fmt.Sprintf("   or play it %s: a buzz there speaks for this against %d", notesText([]int{x.Play}), n+1))
		}
	}
	return out
}

// notesText names notes: open, at fret 3, or at frets 3 4 5.
func notesText(notes []int) string {
	var frets []string
	open := false
	for _, f := range notes {
		if f == 0 {
			open = true
			continue
		}
		frets = append(frets, fmt.Sprint(f))
	}
	at := "at frets "
	if len(frets) == 1 {
		at = "at fret "
	}
	switch {
	case len(frets) == 0:
		return "open"
	case open:
		return "open and " + at + strings.Join(frets, " ")
	}
	return at + strings.Join(frets, " ")
}

func suspicion(x action.Suspect) string {
	switch x.Fault {
	case action.SlotLow:
		return "the slot in the nut is too low"
	case action.CrownProud:
		return fmt.Sprintf("crown %d stands proud", x.Fret)
	case action.CrownWorn:
		return fmt.Sprintf("crown %d is worn low", x.Fret)
	case action.BowSmall:
		return "too little relief, or a neck bent back"
	case action.BowLarge:
		return "too much relief"
	case action.LastProud:
		return "the crowns beyond the bow rise"
	case action.SaddleLow:
		return "the string is too low at the saddle"
	}
	return "something else: a loose part that sounds along, a winding, or a seat that is not clean at nut or saddle"
}

// measure says what to read next to know whether a suspicion holds.
func (s *Session) measure(x action.Suspect, str int) string {
	last := s.record.Frets
	switch x.Fault {
	case action.SlotLow:
		return fmt.Sprintf("read gap held 3 s%d", str)
	case action.CrownProud, action.CrownWorn:
		from := max(1, min(x.Fret-1, last-2))
		return fmt.Sprintf("rock a short straightedge on crowns %d, %d and %d under the string", from, from+1, from+2)
	case action.BowSmall, action.BowLarge:
		end := action.BowEnd(s.record.Division())
		return fmt.Sprintf("read relief held 1 %d at %d", end, max(2, end/2))
	case action.LastProud:
		return fmt.Sprintf("lay a straightedge on the crowns from the %s to the last, and look which it rests on", ordinal(action.BowEnd(s.record.Division())))
	case action.SaddleLow:
		return fmt.Sprintf("read action %d s%d", s.record.Octave(), str)
	}
	return "damp one part after another with a hand while the note sounds"
}
