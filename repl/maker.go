package repl

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// makerWords lists what a maker tells of a neck.
func makerWords() []word {
	row := bareField
	return []word{
		row("division", "into how many equal steps the octave is divided, or another interval", "division: 13 of 3/1", tellDivision),
		row("degrees", "the steps of one period instead, as ratios or cents above its start; the last is the period", "degrees: 9/8 5/4 4/3 3/2 5/3 15/8 2/1", tellDegrees),
		row("keep", "the steps that have a fret, where some are left out; frets count anew", "keep: 2 4 5 7 9 10 12 14 16 17 19 21 22 24 26", tellKeep),
		row("temper", "short frets, each string's own: just, pythagorean or meantone, with the note it is from", "temper: meantone from D", tellTemper),
		row("scales", "two scales, treble and bass, along the outer strings, instead of one", "scales: 648mm 686mm", tellScales),
		row("square", "the fret that is square to the centre line where there are two scales, also between frets; 0 is the nut", "square: 7.5", tellSquare),
		row("widths", "width of the board at the nut and at its end", "widths: 43mm 56mm", tellWidths),
		row("edge", "from the outer strings' centres to the edges of the board, instead of widths", "edge: 3.5mm", tellEdge),
		row("beyond", "how far the board runs past its last fret", "beyond: 9mm", func(t *telling) (err error) { t.record.Plan.Beyond, err = t.positive(); return }),
		row("zero fret", "whether a fret stands at the nut line: yes or no", "zero fret: yes", tellZero),
		row("fretless", "whether frets are marked, not slotted: yes or no", "fretless: yes", tellFretless),
		row("blind", "how far slots stop short of the board's edges", "blind: 2mm", func(t *telling) (err error) { t.record.Plan.Blind, err = t.positive(); return }),
		row("spacing", "whether strings stand with equal centres or equal gaps", "spacing: gaps", tellSpacing),
		row("nut forward", "how far forward of the nut line each string breaks; a dot where it does not", "nut forward: . . 0.4 . 0.3 0.5 mm", func(t *telling) (err error) { t.record.Plan.Nut, err = t.lengths(); return }),
		row("setback", "how far behind the scale line each string is to break, where it is planned and not worked out", "setback: 1.5 1.8 2.3 2.0 2.6 3.4 mm", func(t *telling) (err error) { t.record.Plan.Setback, err = t.lengths(); return }),
		row("kerf", "width of the saw's cut", "kerf: 0.6mm", func(t *telling) (err error) { t.record.Plan.Kerf, err = t.positive(); return }),
		row("tang", "how deep a fret's tang goes", "tang: 1.8mm", func(t *telling) (err error) { t.record.Plan.Tang, err = t.positive(); return }),
		row("drill", "from the line of the saddles back to a line to drill on", "drill: 12mm", func(t *telling) (err error) { t.record.Plan.Drill, err = t.length(); return }),
	}
}

// tellDivision reads a number of steps, and the interval that they divide.
//
//	Interval  = fraction | number [ blanks ] cunit .
func tellDivision(t *telling) error {
	list := pieces(t.body, t.at)
	if !isDigits(list[0].text) {
		return syntax(t.line, t.at, "a whole number of steps", "")
	}
	if n := wholeNumber(list[0].text); n < 1 || n > 1000 {
		return faultf(t.at, "got %s steps, want 1 to 1000", list[0].text)
	}
	by, of := wholeNumber(list[0].text), units.Octave
	switch {
	case len(list) == 1:
	case list[1].text != "of" || len(list) < 3:
		return syntax(t.line, list[1].at, "of and an interval, as in "+t.word.example, "")
	default:
		rest := joinUnits(list[2:])
		if len(rest) > 1 {
			return syntax(t.line, rest[1].at, "the end of the line", "")
		}
		var err error
		if of, err = t.interval(rest[0]); err != nil {
			return err
		}
	}
	t.record.Plan.Of, t.record.Plan.By, t.record.Plan.Degrees = of, by, nil
	t.shown = t.body
	return nil
}

func words(list []piece) []string {
	out := make([]string, len(list))
	for i, p := range list {
		out[i] = p.text
	}
	return out
}

// interval reads one interval: a ratio, or cents.
func (t *telling) interval(p piece) (units.Cents, error) {
	if num, den, over := strings.Cut(p.text, "/"); over && isDigits(num) && isDigits(den) {
		n, nerr := strconv.ParseInt(num, 10, 64)
		d, derr := strconv.ParseInt(den, 10, 64)
		if nerr != nil || derr != nil {
			return 0, faultf(p.at, "got a ratio of %s, want numbers of 18 digits at most", p.text)
		}
		cents, err := fret.Ratios(fret.Ratio{Num: n, Den: d})
		if err != nil {
			return 0, faultAt(p.at, err)
		}
		return cents[0], nil
	}
	c, err := units.ParseCents(p.text)
	if err != nil {
		return 0, syntax(t.line, p.at, "an interval, as in 3/2 or 702c", units.CommaHint(p.text))
	}
	if !(c > 0) {
		return 0, faultf(p.at, "got %v, want more than 0", c)
	}
	return c, nil
}

// tellDegrees reads the steps of one period.
//
//	Intervals = Interval { Interval } .
func tellDegrees(t *telling) error {
	var out []units.Cents
	for _, p := range t.joined() {
		c, err := t.interval(p)
		if err != nil {
			return err
		}
		out = append(out, c)
	}
	if _, err := fret.Repeat(1, out...); err != nil {
		return faultAt(t.at, err)
	}
	t.record.Plan.Degrees, t.shown = out, strings.Join(strings.Fields(t.body), " ")
	return nil
}

// tellKeep reads the steps that have a fret, and so the number of frets.
func tellKeep(t *telling) error {
	var out []int
	for _, p := range pieces(t.body, t.at) {
		if err := noCommas(t.line, p); err != nil {
			return err
		}
		n := wholeNumber(p.text)
		if !isDigits(p.text) {
			return syntax(t.line, p.at, "the steps that have a fret, rising, from 1 to 1000", "")
		}
		if n < 1 || n > 1000 || len(out) > 0 && n <= out[len(out)-1] {
			return faultf(p.at, "got step %s, want the steps that have a fret, rising, from 1 to 1000", p.text)
		}
		out = append(out, n)
	}
	if len(out) > bench.MostFrets {
		return faultf(t.at, "got %d frets, want 1 to %d", len(out), bench.MostFrets)
	}
	t.record.Plan.Keep, t.record.Frets, t.shown = out, len(out), t.body
	return nil
}

// tellTemper reads a tuning.
func tellTemper(t *telling) (err error) {
	list := pieces(t.body, t.at)
	if err := t.session.sharpRoot(t.line); err != nil {
		return err
	}
	t.record.Plan.Temper, err = temper(t.line, list)
	t.shown = strings.Join(words(list), " ")
	return err
}

// temper reads a tuning, and the note that its degrees count from.
//
//	Temper    = ( "just" | "pythagorean" | "meantone" [ fraction ] ) "from" root .
func temper(line string, list []piece) (out bench.Temper, err error) {
	const example = "meantone from D"
	n := len(list)
	if n < 3 || list[n-2].text != "from" {
		return out, syntax(line, list[0].at, "just, pythagorean or meantone and the note it is from, as in "+example, "")
	}
	root, err := rootNote(line, list[n-1])
	if err != nil {
		return out, err
	}
	degrees, err := tuning(line, list[:n-2])
	return bench.Temper{Name: strings.Join(words(list), " "), Degrees: degrees, Root: root}, err
}

// sharpRoot refuses a # that touches the root: it has begun a comment.
func (s *Session) sharpRoot(line string) error {
	if !s.touched {
		return nil
	}
	return faultf(len(line)-1, "got %s and a comment that touches it, want F♯, or F#4, where a sharp is meant", units.Quote(line[len(line)-1:]))
}

// rootNote reads the note that degrees count from; its octave does not matter. A #
// needs one, since else it begins a comment.
//
//	root      = notename ( [ "b" | "♯" | "♭" ] | [ "#" | "b" | "♯" | "♭" ] digit ) .
func rootNote(line string, p piece) (units.Note, error) {
	text := p.text
	if c := text[len(text)-1]; !isDigit(c) && c != '-' {
		text += "4"
	}
	note, err := units.ParseNote(text)
	if err != nil {
		return 0, syntax(line, p.at, "a note, as in D, Bb, F♯ or F#4", "")
	}
	return note, nil
}

// tuning reads the degrees of a tuning by its name.
func tuning(line string, list []piece) ([]units.Cents, error) {
	const flats = 3 // of the eleven fifths: from the root C, Eb to G#
	comma := 0.0
	switch name := list[0].text; {
	case name == "just" && len(list) == 1:
		return fret.Just(), nil
	case name == "meantone" && len(list) <= 2:
		comma = 0.25
	case name != "pythagorean" || len(list) > 1:
		return nil, syntax(line, list[0].at, "just, pythagorean or meantone", "")
	}
	if len(list) == 2 {
		num, den, over := strings.Cut(list[1].text, "/")
		if !over || !isDigits(num) || !isDigits(den) || wholeNumber(den) == 0 {
			return nil, syntax(line, list[1].at, "a part of the comma, as in 1/6", "")
		}
		comma = float64(wholeNumber(num)) / float64(wholeNumber(den))
	}
	degrees, err := fret.Meantone(comma, flats)
	return degrees, faultAt(list[0].at, err)
}

func tellScales(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Plan.Scales, t.record.Scale = [2]units.Length(ls), 0
	}
	return err
}

func tellWidths(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Plan.Widths, t.record.Plan.Edge = [2]units.Length(ls), 0
	}
	return err
}

func tellEdge(t *telling) (err error) {
	t.record.Plan.Edge, err = t.positive()
	t.record.Plan.Widths = [2]units.Length{}
	return err
}

// tellSquare reads a fret, which may lie between two or behind the nut.
//
//	signed    = [ sign ] number .
func tellSquare(t *telling) error {
	body, sign := strings.TrimLeft(t.body, "+-"), 1.0
	if strings.HasPrefix(t.body, "-") {
		sign = -1
	}
	x, u, n, err := units.Scan(body)
	if err != nil || u.Kind != units.KindNumber || n != len(body) || len(t.body)-len(body) > 1 {
		return syntax(t.line, t.at, "a fret, as in 7 or 7.5", units.CommaHint(t.body))
	}
	t.record.Plan.Square, t.shown = sign*x, t.body
	return nil
}

func tellZero(t *telling) error {
	is, err := t.choice()
	t.record.Plan.Zero = is == "yes"
	return err
}

func tellFretless(t *telling) error {
	is, err := t.choice()
	t.record.Plan.Lines = is == "yes"
	return err
}

func tellSpacing(t *telling) error {
	is, err := t.choice()
	t.record.Plan.Gaps = is == "gaps"
	return err
}

// reportSlots lists every slot of the planned neck, both ends from one datum.
func reportSlots(s *Session) (*report, error) {
	b, rows, says, err := s.record.SlotRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "slots"}
	place := func(head, key string, l units.Length) cell { return s.both(head, key, l, 3, 4)[0] }
	for _, slot := range rows {
		row := []cell{whole("fret", "fret", slot.Fret)}
		row = append(row, s.stepCells(slot.Fret)...)
		if s.record.Plan.Temper.Degrees != nil {
			row = append(row, whole("string", "string", slot.String))
		} else {
			row = append(row, cell{key: "string", val: slot.String})
		}
		row = append(row, place("treble x", "treble_x", slot.Treble.X), place("y", "treble_y", slot.Treble.Y),
			place("bass x", "bass_x", slot.Bass.X), place("y", "bass_y", slot.Bass.Y),
			cell{"angle", fixed(float64(slot.Angle), 2), "angle_deg", known(slot.Angle)},
			cell{key: "worst_cents", val: known(slot.Cents)})
		if s.record.Plan.Tang != 0 {
			row = append(row, s.both("deepest", "deepest", slot.Cut.Deepest, 2, 3)[0], cell{key: "floor_mm", val: known(slot.Cut.Floor)})
		}
		r.rows = append(r.rows, row)
	}
	r.notes = s.slotNotes(b, rows, says)
	return r, nil
}

// stepCells shows which step of the division a fret is, where some are left out.
func (s *Session) stepCells(fret int) []cell {
	switch keep := s.record.Plan.Keep; {
	case len(keep) == 0:
		return nil
	case fret < 1 || fret > len(keep):
		return []cell{{head: "step", text: "-", key: "step"}}
	default:
		return []cell{whole("step", "step", keep[fret-1])}
	}
}

// slotNotes says what the places of slots are reckoned from, and what else the
// plan gives.
func (s *Session) slotNotes(b *fret.Board, rows []bench.SlotRow, says string) []string {
	notes := []string{"x runs along the centre line from the nut line, y across it towards the treble edge; angle is from square across"}
	if s.record.Plan.Scales != [2]units.Length{} {
		scales := make([]string, b.Strings())
		for i := range scales {
			scales[i] = s.both("", "", b.Scale(i+1), 2, 3)[0].text
		}
		notes = append(notes, "scales, each along its own string: "+strings.Join(scales, " "))
	}
	worst := units.Cents(0)
	for _, row := range rows {
		if math.Abs(float64(row.Cents)) > math.Abs(float64(worst)) {
			worst = row.Cents
		}
	}
	if math.Abs(float64(worst)) >= 0.01 {
		notes = append(notes, fmt.Sprintf("straight frets cost at most %sc on a string between the outer two", signed(float64(worst), 2)))
	}
	if s.record.Plan.Tang != 0 {
		notes = append(notes, "deepest: for a saw that goes straight through, so that the tang seats at the lower end; one that follows the curve cuts the tang's depth everywhere")
	}
	place := func(p fret.Point) string {
		return s.both("", "", p.X, 2, 3)[0].text + " " + s.both("", "", p.Y, 2, 3)[0].text
	}
	if nut := b.NutLine(); nut.Treble.X != nut.Bass.X {
		corners := b.Outline()
		notes = append(notes, fmt.Sprintf("the nut runs from x, y %s to %s, %s degrees from square; the board ends from %s to %s", place(corners[0]), place(corners[3]), fixed(float64(nut.Angle()), 2), place(corners[1]), place(corners[2])))
	}
	line := b.SaddleLine(0)
	return append(notes, says+"; their line runs from x "+s.both("", "", line.Treble.X, 2, 3)[0].text+" at string 1 to "+s.both("", "", line.Bass.X, 2, 3)[0].text+" at the last")
}

// askTempered lists the frets that a tuning asks of each string, and what straight
// ones cost: a tuning named here, or the one that was told.
//
//	Tempered = "tempered" [ Temper ] .
func askTempered(s *Session, p *parser) (Answer, error) {
	at := p.pos
	record := s.record
	if list := pieces(p.line[p.pos:], p.pos); len(list) > 0 {
		err := s.sharpRoot(p.line)
		if err == nil {
			record.Plan.Temper, err = temper(p.line, list)
		}
		if err != nil {
			return Answer{}, err
		}
	}
	asked, cost, err := record.Tempered()
	if err != nil {
		return Answer{}, faultAt(at, err)
	}
	r := &report{name: "tempered"}
	for f := 1; f <= record.Frets; f++ {
		row := []cell{text("fret", fmt.Sprint(f))}
		for i, d := range asked {
			r.rows = append(r.rows, []cell{{key: "string", val: i + 1}, {key: "fret", val: f}, {key: "cents", val: known(d.Cents(f))}, {key: "straight_cents", val: known(cost[i][f])}})
			row = append(row, text(fmt.Sprintf("s%d", i+1), signed(float64(cost[i][f]), 1)))
		}
		r.shown = append(r.shown, row)
	}
	r.shown = append(r.shown, costRows(cost)...)
	r.notes = []string{record.Plan.Temper.Name + ": how far sharp, in cents, each straight fret sounds against the string's own; where its own frets go, slots lists once temper is told"}
	return Answer{report: r}, nil
}

// costRows are the worst and the root of the mean square of what straight frets
// cost on every string.
func costRows(cost [][]units.Cents) [][]cell {
	worst, rms := []cell{text("fret", "worst")}, []cell{text("fret", "rms")}
	for i, notes := range cost {
		w, q := 0.0, 0.0
		for _, c := range notes[1:] {
			if x := float64(c); math.Abs(x) > math.Abs(w) {
				w = x
			}
			q += float64(c) * float64(c)
		}
		head := fmt.Sprintf("s%d", i+1)
		worst, rms = append(worst, text(head, signed(w, 1))), append(rms, text(head, fixed(math.Sqrt(q/float64(len(notes)-1)), 1)))
	}
	return [][]cell{worst, rms}
}
