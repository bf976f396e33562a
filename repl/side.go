package repl

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

var wayParams = []param{
	{name: "reading", kind: units.KindLength},
	{name: "nearer fret held", kind: units.KindNumber}, {name: "farther fret held", kind: units.KindNumber}, {name: "fret read", kind: units.KindNumber},
	{name: "nearer fret of the other way", kind: units.KindNumber, spare: true}, {name: "farther fret of the other way", kind: units.KindNumber, spare: true},
	{name: "fret read the other way", kind: units.KindNumber, spare: true},
}

// reliefAs turns a reading of relief into another way of reading it, or into the
// bow itself.
func reliefAs(c *call) (value, error) {
	d := neck()
	if n := c.session.record.Frets; n != 0 {
		d = c.session.record.Division()
	}
	var f [7]int
	for i := 1; i < len(f); i++ {
		if !c.has(i) {
			continue
		}
		var err error
		if f[i], err = c.whole(i, 0, bench.MostFrets); err != nil {
			return value{}, err
		}
	}
	const scale = 1000 // any: only shares of it count
	bow, err := action.Usual(d, scale).Reading(units.Length(c.x(0)), action.Way{Near: f[1], Far: f[2], At: f[3]}, d, scale)
	if err != nil {
		return value{}, err
	}
	taken := fmt.Sprintf("the neck taken as a parabola from the nut to fret %d, and straight beyond", min(action.BowEnd, d.Frets()))
	if !c.has(4) {
		v := length(bow.Bow)
		v.notes = []string{"the bow itself", taken}
		return v, nil
	}
	if !c.has(5) || !c.has(6) {
		return value{}, faultf(c.given[4][0].at, "got part of the other way, want its three frets: two held and the one read")
	}
	other := action.Way{Near: f[4], Far: f[5], At: f[6]}
	if err := other.Check(d.Frets()); err != nil {
		return value{}, err
	}
	v := length(bow.Reads(other, d, scale))
	v.notes = []string{taken}
	return v, nil
}

// clearance is how far a string of the record clears a crown.
func clearance(c *call) (value, error) {
	v, err := c.session.record.Side()
	if err != nil {
		return value{}, err
	}
	frets := c.session.record.Frets
	from, err := c.whole(1, 0, frets-1)
	if err != nil {
		return value{}, err
	}
	over, err := c.whole(2, from+1, frets)
	if err != nil {
		return value{}, err
	}
	s := int(c.x(0))
	if s < 1 || s > len(v.Lines) {
		return value{}, faultf(c.given[0][0].at, "got s%d, want one of the %d strings of the record", s, len(v.Lines))
	}
	out := length(v.Neck.Over(s, v.Lines[s-1], from, over))
	out.notes = assumedNotes(v.Assumed)
	return out, nil
}

func assumedNotes(assumed []string) []string {
	var out []string
	for _, a := range assumed {
		out = append(out, "assumed: "+a)
	}
	return out
}

// shimFor is the shim that tips the neck for a change at the saddles.
func shimFor(c *call) (value, error) {
	shim, room, told, err := c.session.record.Shim(units.Length(c.x(0)))
	if err != nil {
		return value{}, err
	}
	v := length(shim.Thickness)
	end, way := "nearer the nut", "forward"
	if shim.AtFar {
		end, way = "nearer the saddles", "back"
	}
	v.notes = []string{fmt.Sprintf("at the end of the heel %s, tapering to nothing: tips the head %s by %.2f degrees", end, way, math.Abs(float64(shim.Angle)))}
	switch {
	case room:
		v.notes = append(v.notes, "the saddles' own travel does instead")
	case told:
		v.notes = append(v.notes, "the saddles' own travel does not reach")
	default:
		v.notes = append(v.notes, "tell height room to know whether the saddles' own travel would do")
	}
	v.notes = append(v.notes, "no neck screw is turned under tension: slacken the strings; a glued neck is for an experienced repairer")
	return v, nil
}

// checkTolerance is how far the stacks that go and stop may stand from a height.
const checkTolerance = 0.05 * units.Millimetre

// limitFor finds the leaves that just go in under a height, or just do not.
func limitFor(pick func(leaves.Limits) leaves.Stack, what string) func(*call) (value, error) {
	return func(c *call) (value, error) {
		set, err := c.leaves()
		if err != nil {
			return value{}, err
		}
		l, err := set.Limits(units.Length(c.x(0)), leaves.Most, checkTolerance)
		if err != nil {
			return value{}, err
		}
		stack := pick(l)
		if len(stack.Leaves) == 0 {
			return value{}, fmt.Errorf("got no leaves that come within %v %s, want a set that does, or another height", c.session.view.told(checkTolerance), what)
		}
		return value{kind: kindStack, stack: stack}, nil
	}
}

// bridgeNotes says how saddles tilt, what to sand off, and the curve that their
// tops need.
func (s *Session) bridgeNotes(rows []bench.HeightRow) []string {
	notes := append(s.tiltNotes(rows), s.sandingNotes(rows)...)
	if len(rows) < 3 {
		return notes
	}
	tops, err := s.record.Tops()
	if err != nil {
		return notes // a curve needs the board, and what is wanted of every string
	}
	what := "undersides"
	if s.record.Centres {
		what = "centres"
	}
	notes = append(notes, fmt.Sprintf("over the saddles the strings' %s want a radius of %s: %s", what, s.view.radius(tops.Best.Radius), s.missText(tops.Best)))
	if tops.Best.Worst > bench.Near {
		levels := make([]string, len(tops.Levels))
		for i, l := range tops.Levels {
			levels[i] = s.short(l)
		}
		notes = append(notes, "no one radius fits; over the lower of the outer two they lie at "+strings.Join(levels, " "))
	}
	for _, c := range tops.Stock {
		notes = append(notes, fmt.Sprintf("a radius of %s: %s", s.view.radius(c.Radius), s.missText(c)))
	}
	return notes
}

// short shows a length to 0.01 mm, or .001 in.
func (s *Session) short(l units.Length) string { return s.both("", "", l, 2, 3)[0].text }

// radius shows a radius as the trade does: whole millimetres, or hundredths of an
// inch.
func (w view) radius(r units.Length) string {
	if w.inches {
		return plainLength(r, 2, "in")
	}
	return plainLength(r, 0, "mm")
}

// missText says how far a curve misses, and where most.
func (s *Session) missText(c action.Curve) string {
	if c.Worst < 0.005 {
		return "it fits"
	}
	for i, m := range c.Misses {
		if m == c.Worst {
			return fmt.Sprintf("string %d lies %s over it", i+1, s.short(m))
		}
		if m == -c.Worst {
			return fmt.Sprintf("string %d lies %s under it", i+1, s.short(-m))
		}
	}
	return "it fits"
}

// tiltNotes says how far two screws tilt what they carry.
func (s *Session) tiltNotes(rows []bench.HeightRow) []string {
	var notes []string
	told := map[string]bool{}
	groups, _ := s.record.Groups()
	for _, h := range rows {
		what := "saddle " + bench.Group(groups[h.Saddle-1])
		if s.record.PostGap != 0 {
			what = "the bridge"
		}
		if told[what] || h.Tilt < 0.05 && h.Tilt > -0.05 {
			continue
		}
		told[what] = true
		way := map[bool]string{true: "up", false: "down"}[h.Tilt > 0]
		notes = append(notes, fmt.Sprintf("%s tilts by %s degrees, its treble end %s", what, fixed(math.Abs(float64(h.Tilt)), 1), way))
	}
	return notes
}

// sandingNotes says what to take off beneath a one-piece saddle.
func (s *Session) sandingNotes(rows []bench.HeightRow) []string {
	cut, ok, err := s.record.Sanding(rows)
	switch {
	case err != nil:
		return []string{err.Error()}
	case !ok:
		return nil
	}
	last := len(rows) - 1
	notes := []string{fmt.Sprintf("sand off beneath the saddle %s under string %d and %s under string %d, in a straight line between", s.short(cut.Treble), rows[0].String, s.short(cut.Bass), rows[last].String)}
	for i, left := range cut.Left {
		switch {
		case left > bench.Near:
			notes = append(notes, fmt.Sprintf("string %d then still stands %s too high at the saddle", rows[i].String, s.short(left)))
		case left < -bench.Near:
			notes = append(notes, fmt.Sprintf("string %d is %s too low at the saddle as it is: that takes a taller saddle", rows[i].String, s.short(-left)))
		}
	}
	return append(notes, "caution: "+bench.CautionHeights)
}

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
	r.notes = append(r.notes, assumedNotes(assumed)...)
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

// reportClearances shows every string over every crown: the open string as a
// table of frets by strings, and where each comes closest; its rows have every
// fretted note.
func reportClearances(s *Session) (*report, error) {
	rows, assumed, err := s.record.ClearRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "clearances"}
	frets := s.record.Frets
	open := make([][]cell, frets)
	for f := range open {
		open[f] = []cell{text("over fret", fmt.Sprint(f+1))}
	}
	for _, c := range rows {
		r.rows = append(r.rows, []cell{{key: "string", val: c.String}, {key: "fretted", val: c.Fretted}, {key: "clearances_mm", val: eachKnown(c.Over)},
			{key: "closest_over", val: c.Closest.Over}, {key: "spare_mm", val: known(c.Closest.By)}})
		if c.Fretted == 0 {
			for f, by := range c.Over {
				open[f] = append(open[f], text(fmt.Sprintf("s%d", c.String), plainLength(by, s.view.fine(), s.view.symbols(units.KindLength)[0])))
			}
		}
	}
	r.shown = open
	r.notes = append([]string{"the open strings over every crown; clearance(s3, 5, 12) gives string 3 held down at fret 5, over the 12th; buzz says where each has least room"}, assumedNotes(assumed)...)
	return r, nil
}

// fine is how many decimals show a length to 0.01 mm.
func (w view) fine() int {
	if w.inches {
		return 3
	}
	return 2
}

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
			cell{key: "buzzing", val: listed(b.Buzzing)}, cell{key: "clean", val: listed(b.Clean)}, cell{key: "suspects", val: suspectList(b)}, cell{key: "lowest_by_bow", val: bowList(b)})
		r.rows = append(r.rows, row)
		r.lines = append(r.lines, s.suspectLines(b)...)
	}
	at := rows[0].At
	r.notes = append(r.notes, fmt.Sprintf("action is over fret %d; lowest is the least there that leaves every fretted note room for its swing; spare is what the closest note has beyond it, open what the open string has", at))
	r.notes = append(r.notes, s.bowNotes(rows)...)
	if len(r.lines) > 0 {
		r.notes = append(r.notes, "suspects, not findings: measure before anything is cut or filed")
	}
	r.notes = append(r.notes, assumedNotes(assumed)...)
	return r, nil
}

// listed is a list for JSON, [] where it is empty.
func listed(notes []int) []int { return append([]int{}, notes...) }

func suspectList(b bench.BuzzRow) []any {
	out := []any{}
	for _, x := range b.Suspects {
		o := ordered{{key: "fault", val: x.Fault.String()}, {key: "fret", val: x.Fret}, {key: "by_mm", val: known(x.By)},
			{key: "explains", val: listed(x.Explains)}, {key: "spoils", val: listed(x.Spoils)}, {key: "measure", val: measure(x, b.String)}}
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

// bowNotes says what relief does to the lowest action of the outer strings.
func (s *Session) bowNotes(rows []bench.BuzzRow) []string {
	treble, bass := rows[0], rows[len(rows)-1]
	var parts []string
	for i, x := range treble.Bows {
		part := fmt.Sprintf("%s %s", s.short(x.Bow), s.short(x.Lowest))
		if b := s.short(bass.Bows[i].Lowest); b != s.short(x.Lowest) {
			part += " to " + b
		}
		if x.Now {
			part += " (now)"
		}
		parts = append(parts, part)
	}
	return []string{"by the bow of the neck, the lowest action: " + strings.Join(parts, ", ")}
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
		out = append(out, line, "   measure: "+measure(x, b.String))
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
func measure(x action.Suspect, s int) string {
	switch x.Fault {
	case action.SlotLow:
		return fmt.Sprintf("read gap held 3 s%d", s)
	case action.CrownProud, action.CrownWorn:
		return fmt.Sprintf("rock a short straightedge on crowns %d, %d and %d under the string", x.Fret-1, x.Fret, x.Fret+1)
	case action.BowSmall, action.BowLarge:
		return "read relief held 1 14 at 7"
	case action.LastProud:
		return "lay a straightedge on the crowns from the 12th to the last, and look which it rests on"
	case action.SaddleLow:
		return fmt.Sprintf("read action 12 s%d", s)
	}
	return "damp one part after another with a hand while the note sounds"
}
