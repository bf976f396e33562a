package repl

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

func reportMoves(s *Session) (*report, error) {
	rows, err := s.record.MoveRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "moves"}
	for _, m := range rows {
		row := []cell{
			{key: "saddle", val: m.Saddle},
			{"saddle", bench.Group(m.Strings), "strings", m.Strings},
			text("move", s.moveText(m)),
			{key: "move_mm", val: known(m.Move)},
			{key: "direction", val: directionWord(m)},
		}
		row = append(row,
			cell{"turns", turnsText(m), "turns", known(m.Turns)},
			cell{"give or take", s.bandText(m), "band_mm", known(m.Band)},
			s.both("calliper then", "calliper", m.Calliper, 1, 2)[0],
			cell{"left", leftText(m), "left_cents", eachKnown(m.Left)},
			cell{key: "stagger_mm", val: eachKnown(m.Stagger)},
			cell{key: "angle_deg", val: known(m.Angle)},
			cell{key: "slant_deg", val: known(m.Slant)},
			cell{key: "ends_mm", val: eachKnown(outerPlaces(m))},
			cell{key: "past_mm", val: known(m.Past)},
			cell{key: "slope", val: eachKnown(m.Slopes)},
		)
		r.rows = append(r.rows, row)
	}
	tuner, assumed := s.record.TunerError()
	r.notes = append(s.moveReasons(rows), fmt.Sprintf("give or take: for a tuner good to %v%s", tuner, map[bool]string{true: ", assumed"}[assumed]))
	return r, nil
}

func directionWord(m bench.MoveRow) any {
	switch {
	case !m.Known():
		return nil
	case m.Inside():
		return "stop"
	case m.Move > 0:
		return "back"
	}
	return "forward"
}

func (s *Session) moveText(m bench.MoveRow) string {
	switch {
	case !m.Known():
		return "not read"
	case m.Inside():
		return "leave it"
	case m.Move > 0:
		return "+" + s.rounded(m.Move, m.Band) + " back"
	}
	return "-" + s.rounded(-m.Move, m.Band) + " forward"
}

func turnsText(m bench.MoveRow) string {
	if !m.Known() || m.Inside() || math.IsNaN(float64(m.Turns)) {
		return "-"
	}
	return eighths(float64(m.Turns))
}

// eighths writes turns of a screw as the bench counts them: 5 5/8, or 1/4.
func eighths(turns float64) string {
	n := int(math.Round(math.Abs(turns) * 8))
	whole, part, of := n/8, n%8, 8
	for part != 0 && part%2 == 0 {
		part, of = part/2, of/2
	}
	switch {
	case part == 0:
		return fmt.Sprint(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", part, of)
	}
	return fmt.Sprintf("%d %d/%d", whole, part, of)
}

func (s *Session) bandText(m bench.MoveRow) string {
	if !m.Known() {
		return "-"
	}
	return s.rounded(m.Band, m.Band)
}

func leftText(m bench.MoveRow) string {
	left := make([]string, len(m.Left))
	for i, c := range m.Left {
		left[i] = "-"
		if !math.IsNaN(float64(c)) {
			left[i] = signed(float64(c), 1) + "c"
		}
	}
	return strings.Join(left, " ")
}

// moveReasons says, a saddle a line, which way and what for, and what would
// clear what is left.
func (s *Session) moveReasons(rows []bench.MoveRow) []string {
	var out, ways []string
	back, forward, short := false, false, false
	for _, m := range rows {
		if !m.Known() {
			continue
		}
		back, forward = back || !m.Inside() && m.Move > 0, forward || !m.Inside() && m.Move < 0
		short = short || m.Past > 0
		for _, reason := range append(s.placeReasons(m), s.stringReasons(m)...) {
			out = append(out, "saddle "+bench.Group(m.Strings)+": "+reason)
		}
	}
	if back {
		ways = append(ways, "back is away from the nut: longer, lowers the fretted note against the open one")
	}
	if forward {
		ways = append(ways, "forward is towards the nut: shorter, raises the fretted note against the open one")
	}
	if short {
		out = append(out, "past a limit, a longer screw or slot, the saddle turned round, another place of the nut, other gauges or cores, or lower strings could help")
	}
	return append(ways, out...)
}

// placeReasons says what stands in the way of a saddle's best place, and how far
// to turn one that slants.
func (s *Session) placeReasons(m bench.MoveRow) []string {
	var out []string
	if m.Past > 0 {
		out = append(out, fmt.Sprintf("short by %s: its best place lies that far past its travel, and what is left is at the limit", s.rounded(m.Past, m.Band)))
	}
	if turned := math.Abs(float64(m.Slant)); turned > 0.05 {
		way := "back"
		if m.Slant < 0 {
			way = "forward"
		}
		places := outerPlaces(m)
		out = append(out, fmt.Sprintf("turn it by %s degrees, its treble end %s: the place of string %d goes %s, that of string %d %s", fixed(turned, 1), way,
			slices.Min(m.Strings), s.backWords(places[0], m.Band), slices.Max(m.Strings), s.backWords(places[1], m.Band)))
	}
	return out
}

// outerPlaces are how far back the places of the outer strings of a saddle that slants
// go, treble and bass; NaN where it does not.
func outerPlaces(m bench.MoveRow) []units.Length {
	if math.IsNaN(float64(m.Slant)) {
		return []units.Length{units.Length(m.Slant), units.Length(m.Slant)}
	}
	place := func(s int) units.Length { return m.Places[slices.Index(m.Strings, s)] }
	return []units.Length{place(slices.Min(m.Strings)), place(slices.Max(m.Strings))}
}

// stringReasons says what each string of a saddle has shown, is wanted at, and
// would need.
func (s *Session) stringReasons(m bench.MoveRow) []string {
	var out []string
	for i, slope := range m.Slopes {
		if math.Abs(slope-1) > 0.03 {
			out = append(out, fmt.Sprintf("string %d moves by %s%% of the textbook's change: what it has shown, weighed against the tuner's error", m.Strings[i], fixed(100*slope, 0)))
		}
	}
	if len(m.Unsteady) > 0 {
		out = append(out, fmt.Sprintf("string %s read differently at one setting: suspect the string or the finger", stringNumbers(m.Unsteady)))
	}
	for i, c := range m.Wanted {
		if c != 0 {
			out = append(out, fmt.Sprintf("string %d is wanted at %sc: tuned that much the other way open, its fretted notes come right, and its open note is out by it", m.Strings[i], signed(float64(c), 1)))
		}
	}
	if line := s.staggerText(m); line != "" {
		out = append(out, line)
	}
	if len(m.Unread) > 0 {
		out = append(out, fmt.Sprintf("string %s not read yet", stringNumbers(m.Unread)))
	}
	return out
}

// stringNumbers lists strings with blanks between.
func stringNumbers(on []int) string { return strings.ReplaceAll(bench.Group(on), "+", " ") }

// backWords says a move of one place in words.
func (s *Session) backWords(by, band units.Length) string {
	if by < 0 {
		return "forward " + s.rounded(-by, band)
	}
	return "back " + s.rounded(by, band)
}

// staggerText says what stagger would clear what a shared saddle leaves, where
// the readings can tell.
func (s *Session) staggerText(m bench.MoveRow) string {
	if !slices.ContainsFunc(m.Left, func(c units.Cents) bool { return math.Abs(float64(c)) >= 0.5 }) {
		return ""
	}
	var parts []string
	for i, g := range m.Stagger {
		g -= m.Place(i) - m.Place(0) // what the slant gives
		if math.IsNaN(float64(g)) || math.Abs(float64(g)) <= float64(m.Band) {
			continue
		}
		way := "back"
		if g < 0 {
			way, g = "forward", -g
		}
		parts = append(parts, fmt.Sprintf("string %d should stand %s further %s", m.Strings[i], s.rounded(g, m.Band), way))
	}
	if len(parts) == 0 {
		return ""
	}
	line := "to clear what is left, " + strings.Join(parts, " and ") + fmt.Sprintf(" than string %d", m.Strings[0])
	if !math.IsNaN(float64(m.Angle)) {
		line += fmt.Sprintf(": its top cut at %s degrees", fixed(math.Abs(float64(m.Angle)), 0))
	}
	return line
}

// reportCompare holds hardware against hardware.
func reportCompare(s *Session) (*report, error) {
	rows, err := s.record.CompareRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "compare"}
	for _, c := range rows {
		row := []cell{{"saddles", c.Hardware, "hardware", c.Hardware},
			{"worst", signed(float64(c.Worst), 1) + "c", "worst_cents", known(c.Worst)},
			{"rms", fixed(float64(c.RMS), 1) + "c", "rms_cents", known(c.RMS)},
			{key: "string_cents", val: eachKnown(c.Strings)}}
		for i, w := range c.Strings {
			shown := "-"
			if !math.IsNaN(float64(w)) {
				shown = signed(float64(w), 1)
			}
			row = append(row, text("s"+fmt.Sprint(i+1), shown))
		}
		r.rows = append(r.rows, row)
	}
	r.notes = []string{"by the readings that stand, at the frets where they were taken: the worst of every string, + sharp; map predicts the other frets; about 3c is the least that trained ears hear"}
	return r, nil
}
