package repl

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// reportWords lists the reports.
//
//	Report    = "frets" | "tensions" | "heights" | "moves" | "map" | "saddles" | "next" | "sheet" | "ticket" | "compare"
//	          | "nut" | "clearances" | "buzz" | "slots" | Tempered | Why .
func reportWords() []word {
	row := func(name, help string, make func(*Session) (*report, error)) word {
		return word{name: name, class: classReport, form: name, help: help, example: name, report: make}
	}
	why := word{name: "why", class: classReport, form: "why STRING FRET", help: "the three causes of one note's error, apart", example: "why s3 12", act: askWhy}
	return []word{
		why,
		row("map", "cents at every fret of every string, predicted", reportMap),
		row("saddles", "where every saddle should start, predicted, and the stagger it asks for", reportSaddles),
		row("frets", "where every fret goes, from the nut", reportFrets),
		row("slots", "every slot of a neck that is planned, both ends from one datum", reportSlots),
		{name: "tempered", class: classReport, form: "tempered TUNING from NOTE", help: "the frets that a tuning asks of each string, and what straight ones cost", example: "tempered meantone from D", act: askTempered},
		row("tensions", "the pull of every string, and of the set", reportTensions),
		row("heights", "the height wanted of every string, and what to change at its saddle", reportHeights),
		row("nut", "every slot of the nut: how high it is, how far to cut, and the leaves to stop on", reportNut),
		row("clearances", "how far every open string clears every fret", reportClearances),
		row("buzz", "where every string comes closest to a fret, how low it could be, and what may make it buzz", reportBuzz),
		row("moves", "the move for every saddle, and what it leaves", reportMoves),
		row("compare", "what these saddles, shaped ones or one a string would leave", reportCompare),
		row("next", "what to do and read next, and in what order", reportNext),
		row("sheet", "all of it", reportSheet),
		row("ticket", "to hand the owner: found, done, reads now, left", reportTicket),
	}
}

// both shows a length in the leading unit and then in the other, under one key.
func (s *Session) both(head, key string, l units.Length, mm, in int) []cell {
	a := cell{head: head, text: plainLength(l, mm, "mm"), key: key + "_mm", val: known(l)}
	b := cell{head: head, text: plainLength(l, in, "in")}
	if s.view.inches {
		a.text, b.text = b.text, a.text
	}
	b.head = other
	return []cell{a, b}
}

// plainLength prints a length to some decimals, a dash where it is not known.
func plainLength(l units.Length, digits int, symbol string) string {
	switch {
	case math.IsNaN(float64(l)):
		return "-"
	case math.IsInf(float64(l), 0):
		return "flat"
	}
	return fixed(number(float64(l), symbol), digits) + symbol
}

func text(head, s string) cell { return cell{head: head, text: s} }

func whole(head, key string, n int) cell { return cell{head, fmt.Sprint(n), key, n} }

func reportFrets(s *Session) (*report, error) {
	rows, err := s.record.FretRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "frets"}
	for _, f := range rows {
		row := []cell{
			whole("fret", "fret", f.Fret),
			{"cents", fixed(float64(f.Cents), 2), "cents", known(f.Cents)},
		}
		row = append(row, s.both("from nut", "from_nut", f.FromNut, 3, 4)...)
		row = append(row, s.both("gap", "gap", f.Gap, 3, 4)...)
		row = append(row, s.both("to scale line", "to_scale_line", f.ToScale, 3, 4)...)
		r.rows = append(r.rows, row)
	}
	r.notes = []string{"mark every fret from the nut: gaps are for checking, and add up errors"}
	return r, nil
}

func reportTensions(s *Session) (*report, error) {
	rows, err := s.record.PullRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "tensions"}
	guessed := false
	for _, p := range rows {
		guessed = guessed || p.Estimated()
		share := "-"
		if !math.IsNaN(p.Breaking) {
			share = fixed(100*p.Breaking, 0) + "%"
		}
		r.rows = append(r.rows, []cell{
			whole("string", "string", p.String),
			{"gauge", s.view.string(s.record.Strings[p.String-1]), "gauge_mm", known(p.Is.Gauge)},
			{"pitch", p.Tone.String(), "pitch", p.Tone.String()},
			{"unit weight", s.view.in(float64(p.Is.UnitWeight), "g/m"), "unit_weight_g_per_m", known(p.Is.UnitWeight.GramsPerMetre())},
			{"pull", fixed(float64(p.Pull), 1) + "N", "pull_N", known(p.Pull)},
			text(other, fixed(p.Pull.PoundsForce(), 1)+"lbf"),
			{"of breaking", share, "breaking_share", known(p.Breaking)},
			{key: "core_estimated", val: p.Estimated()},
		})
	}
	total := bench.TotalPull(rows)
	r.notes = append(r.notes, fmt.Sprintf("the set pulls %sN, %slbf", fixed(float64(total), 0), fixed(total.PoundsForce(), 1)))
	if a4 := assumedA4(&s.record); a4 != "" {
		r.notes = append(r.notes, a4)
	}
	if guessed {
		r.notes = append(r.notes, "wound strings: an estimate, computed with an assumed core; a maker's unit weight is better")
	}
	return r, nil
}

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
		row = append(row, s.both("at saddle", "saddle_change", h.AtSaddle, 2, 3)...)
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
	for _, h := range rows {
		if h.Left > 0.05 || h.Left < -0.05 {
			notes = append(notes, fmt.Sprintf("string %d stays %smm from its height at the saddle: its neighbour shares the screws", h.String, fixed(float64(max(h.Left, -h.Left)), 2)))
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

// signed prints a number with its sign, none on a zero.
func signed(x float64, digits int) string {
	s := fixed(x, digits)
	if s[0] != '-' && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
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
			cell{key: "ends_mm", val: eachKnown(m.Ends[:])},
			cell{key: "past_mm", val: known(m.Past)},
			cell{key: "slope", val: eachKnown(m.Slopes)},
		)
		r.rows = append(r.rows, row)
	}
	tuner, assumed := s.record.TunerError()
	r.notes = append(s.moveReasons(rows), fmt.Sprintf("give or take: for a tuner good to %v%s", tuner, map[bool]string{true: ", assumed"}[assumed]))
	return r, nil
}

func eachKnown[T ~float64](xs []T) []any {
	out := make([]any, len(xs))
	for i, x := range xs {
		out[i] = known(x)
	}
	return out
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
	var out []string
	back, forward, short := false, false, false
	for _, m := range rows {
		if !m.Known() {
			continue
		}
		back, forward = back || !m.Inside() && m.Move > 0, forward || !m.Inside() && m.Move < 0
		name := "saddle " + bench.Group(m.Strings)
		if m.Past > 0 {
			out = append(out, fmt.Sprintf("%s: short by %s: its best place lies that far past its travel, and what is left is at the limit", name, s.rounded(m.Past, m.Band)))
			short = true
		}
		if turned := math.Abs(float64(m.Slant)); turned > 0.05 {
			way := "back"
			if m.Slant < 0 {
				way = "forward"
			}
			out = append(out, fmt.Sprintf("%s: turn it by %s degrees, its treble end %s: the place of string %d goes %s, that of string %d %s", name, fixed(turned, 1), way,
				m.Strings[0], s.backWords(m.Ends[0], m.Band), m.Strings[len(m.Strings)-1], s.backWords(m.Ends[1], m.Band)))
		}
		for i, slope := range m.Slopes {
			if math.Abs(slope-1) > 0.03 {
				out = append(out, fmt.Sprintf("%s: string %d has shown %s%% of the textbook's change, and the move goes by that", name, m.Strings[i], fixed(100*slope, 0)))
			}
		}
		if len(m.Unsteady) > 0 {
			out = append(out, fmt.Sprintf("%s: string %s read differently at one setting: suspect the string or the finger", name, strings.ReplaceAll(bench.Group(m.Unsteady), "+", " ")))
		}
		for i, c := range m.Wanted {
			if c != 0 {
				out = append(out, fmt.Sprintf("%s: string %d is wanted at %sc: tuned that much the other way open, its fretted notes come right, and its open note is out by it", name, m.Strings[i], signed(float64(c), 1)))
			}
		}
		if line := s.staggerText(m); line != "" {
			out = append(out, name+": "+line)
		}
		if len(m.Unread) > 0 {
			out = append(out, fmt.Sprintf("%s: string %s not read yet", name, strings.ReplaceAll(bench.Group(m.Unread), "+", " ")))
		}
	}
	if short {
		out = append(out, "past a limit, a longer screw or slot, the saddle turned round, another place of the nut, other gauges or cores, or lower strings could help")
	}
	if forward {
		out = append([]string{"forward is towards the nut: shorter, raises the fretted note against the open one"}, out...)
	}
	if back {
		out = append([]string{"back is away from the nut: longer, lowers the fretted note against the open one"}, out...)
	}
	return out
}

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
	r.notes = []string{"by the readings that stand: the worst note of every string, + sharp; about 3c is the least that trained ears hear (from memory)"}
	return r, nil
}

func reportNext(s *Session) (*report, error) {
	r := &report{name: "next"}
	steps := s.record.Next()
	if len(steps) == 0 {
		r.notes = []string{"nothing to do yet: tell what is wanted and what was read"}
	}
	cautioned, tool := map[string]bool{}, ""
	for i, step := range steps {
		do, why := step.Do.In(s.rounded), step.Why.In(s.rounded)
		stale := make([]string, len(step.Stale))
		for j, of := range step.Stale {
			stale[j] = of.String()
		}
		r.rows = append(r.rows, []cell{
			{key: "order", val: i + 1}, {key: "step", val: do}, {key: "why", val: why}, {key: "stale", val: stale}, {key: "caution", val: orNull(step.Caution)},
			{key: "tool", val: orNull(step.Tool)},
		})
		if cautioned[step.Caution] {
			step.Caution = "" // shown once
		}
		cautioned[step.Caution] = true
		if step.Tool == tool {
			step.Tool = "" // as for the step before
		} else {
			tool = step.Tool
		}
		r.lines = append(r.lines, stepLines(fmt.Sprintf("%d. %s", i+1, do), why, step, stale)...)
	}
	for _, o := range bench.Orders(steps) {
		r.notes = append(r.notes, fmt.Sprintf("some do %s, in the order %s: %s", o.Name, strings.Trim(fmt.Sprint(o.Steps), "[]"), o.Why))
	}
	return r, nil
}

func orNull(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// stepLines prints one step.
func stepLines(do, why string, step bench.Step, stale []string) []string {
	out := []string{do, "   why: " + why}
	if step.Tool != "" {
		out = append(out, "   with: "+step.Tool)
	}
	if len(stale) > 0 {
		out = append(out, "   then read again: "+strings.Join(stale, ", "))
	}
	if step.Caution != "" {
		out = append(out, "   caution: "+step.Caution)
	}
	return out
}
