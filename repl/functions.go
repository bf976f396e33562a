package repl

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

var (
	scaleParam  = param{name: "scale", kind: units.KindLength, spare: true, above: true}
	stringParam = param{name: "string", kind: kindString}
	pitchParam  = param{name: "pitch", kind: kindPitch, above: true}
)

var roughParams = []param{
	{name: "old reading", kind: units.KindLength}, {name: "old offset", kind: units.KindLength}, {name: "new offset", kind: units.KindLength},
	{name: "cents", kind: units.KindCents, spare: true}, scaleParam,
}

// functionWords lists the functions.
//
//	function  = "fret" | "cents" | "hz" | "note" | "unitweight" | "tension" | "pitch" | "gauge" | "breaking" | "move" | "shared"
//	          | "stagger" | "turns" | "camber" | "radius" | "atsaddle" | "stack" | "goes" | "stops" | "relief" | "clearance" | "shim" | "roughin" | "roughinnut" | "plain" | "wound" | "nylon" | "fluorocarbon" .
func functionWords() []word {
	row := func(form, help, example string, eval func(*call) (value, error), params ...param) word {
		name, _, _ := strings.Cut(form, "(")
		return word{name: name, class: classFunction, form: form, help: help, example: example, call: &function{params, eval}}
	}
	spare := func(p param) param { p.spare = true; return p }
	cents := param{name: "cents", kind: units.KindCents}
	return []word{
		row("fret(n, scale)", "distance from the nut to fret n, twelve to the octave unless the record divides otherwise", "fret(12, 25.5in)", fretAt,
			param{name: "fret", kind: units.KindNumber}, scaleParam),
		row("cents(from, to)", "cents from one pitch up to another", "cents(440Hz, 441Hz)", centsBetween,
			pitchParam, param{name: "second pitch", kind: kindPitch, above: true}),
		row("hz(pitch)", "frequency of a pitch", "hz(Bb2)", hertz, pitchParam),
		row("note(frequency)", "nearest note, and cents off it", "note(441Hz)", noteOf, pitchParam),
		row("unitweight(string)", "mass per length of a string", "unitweight(10p)", unitWeight, stringParam),
		row("tension(string, pitch, scale)", "pull of a string at a pitch", "tension(10p, E4, 25.5in)", pull,
			stringParam, spare(pitchParam), scaleParam),
		row("pitch(string, force, scale)", "pitch of a string under a pull", "pitch(10p, 72N, 25.5in)", pitchUnder,
			stringParam, param{name: "force", kind: units.KindForce, above: true}, scaleParam),
		row("gauge(force, pitch, scale)", "diameter of plain steel that pulls so at a pitch", "gauge(72N, E4, 25.5in)", gaugeFor,
			param{name: "force", kind: units.KindForce, above: true}, pitchParam, scaleParam),
		row("breaking(string, scale)", "pitch at which straight new wire breaks", "breaking(10p, 25.5in)", breaking, stringParam, scaleParam),
		row("move(cents, scale, low, high)", "saddle move that brings a reading to 0, open string retuned; back is plus", "move(+7c, 25.5in)", moveFor,
			cents, scaleParam, param{name: "low fret", kind: units.KindNumber, spare: true}, param{name: "high fret", kind: units.KindNumber, spare: true}),
		row("shared(cents, cents, ..., scale)", "move for one saddle under strings that read so at the octave, the 12th fret", "shared(+5c, +3c, 25.5in)", sharedMove,
			param{name: "cents", kind: units.KindCents, many: true}, scaleParam),
		row("stagger(cents, cents, scale)", "how much further back the first string's break point must stand than the second's", "stagger(+5c, +3c, 25.5in)", staggerFor,
			cents, param{name: "second cents", kind: units.KindCents}, scaleParam),
		row("turns(length, thread)", "turns of a screw for a travel", "turns(0.5mm, M3)", turnsFor,
			param{name: "travel", kind: units.KindLength}, param{name: "thread", kind: units.KindThread, spare: true, above: true}),
		row("camber(radius, offset)", "fall of a curved board at an offset from its centre line", "camber(9.5in, 26mm)", camberAt,
			param{name: "radius", kind: units.KindLength, above: true}, param{name: "offset", kind: units.KindLength, spare: true}),
		row("radius(distance)", "radius of the record's board at a distance from the nut", "radius(400mm)", radiusAt,
			param{name: "distance", kind: units.KindLength}),
		row("atsaddle(change, fret)", "change at the saddle for a change of height wanted at a fret", "atsaddle(0.25mm, 12)", atSaddle,
			param{name: "change", kind: units.KindLength}, param{name: "fret", kind: units.KindNumber}),
		row("stack(length)", "leaves to stack, out of those of the record", "stack(1.85mm)", stackFor,
			param{name: "height", kind: units.KindLength, above: true}),
		row("goes(length)", "leaves of the record to stack that go in under a string at a height, by 0.05mm at most", "goes(1.85mm)",
			limitFor(func(l leaves.Limits) leaves.Stack { return l.Goes }, "below"), param{name: "height", kind: units.KindLength, above: true}),
		row("stops(length)", "leaves of the record to stack that do not go in under a string at a height, by 0.05mm at most", "stops(1.85mm)",
			limitFor(func(l leaves.Limits) leaves.Stack { return l.Stops }, "above"), param{name: "height", kind: units.KindLength, above: true}),
		row("relief(reading, near, far, at, near, far, at)", "a relief read with two frets held, as another way reads it; the bow itself without one", "relief(0.20mm, 1, 13, 6, 1, 14, 7)", reliefAs, wayParams...),
		row("clearance(string, fretted, over)", "how far a string of the record, held down at a fret or open at 0, clears a higher crown", "clearance(s3, 5, 12)", clearance,
			param{name: "string", kind: kindRef}, param{name: "fret held down", kind: units.KindNumber}, param{name: "fret it clears", kind: units.KindNumber}),
		row("shim(change)", "shim at the heel for a change of height at the saddles, the saddles left as they are", "shim(-1mm)", shimFor,
			param{name: "change", kind: units.KindLength}),
		row("roughin(old, old offset, new offset, cents, scale)", "what a new saddle reads from the tail, its break point where the old one's was, or moved for cents known", "roughin(12.9mm, 1.0mm, 1.6mm)", roughIn(intonation.Tail), roughParams...),
		row("roughinnut(old, old offset, new offset, cents, scale)", "the same, read from the nut or from the 12th fret", "roughinnut(330mm, 1.0mm, 1.6mm)", roughIn(intonation.Nut), roughParams...),
		row("plain(diameter)", "a plain steel string of any diameter", "plain(0.43mm)", materialString(tension.Steel),
			param{name: "diameter", kind: units.KindLength, above: true}),
		row("nylon(diameter)", "a plain nylon string", "nylon(0.7mm)", materialString(tension.Nylon),
			param{name: "diameter", kind: units.KindLength, above: true}),
		row("fluorocarbon(diameter)", "a plain fluorocarbon string", "fluorocarbon(0.6mm)", materialString(tension.Fluorocarbon),
			param{name: "diameter", kind: units.KindLength, above: true}),
		row("wound(gauge, core)", "a round-wound steel string with its core", "wound(46thou, 18thou)", woundString,
			param{name: "gauge", kind: units.KindLength, above: true}, param{name: "core", kind: units.KindLength, above: true}),
	}
}

// scale is the one given as argument i, or the record's.
func (c *call) scale(i int) (units.Length, error) {
	if c.has(i) {
		return units.Length(c.x(i)), nil
	}
	if c.session.record.Scale == 0 {
		return 0, fmt.Errorf("got no scale, want one here, or told before, as in scale: 648mm")
	}
	return c.session.record.Scale, nil
}

// whole is the whole number given for parameter i, from least to most.
func (c *call) whole(i, least, most int) (int, error) {
	a := c.given[i][0]
	if x := a.val.x; x != math.Trunc(x) || x < float64(least) || x > float64(most) {
		return 0, faultf(a.at, "got %s for the %s, want a whole number from %d to %d", view{digits: -1}.text(a.val), c.params[i].name, least, most)
	}
	return int(a.val.x), nil
}

// frets are those of the record where it divides otherwise than in twelve to the
// octave; else twelve, going on past the record's last fret, so that any can be
// asked for.
func (c *call) frets() fret.Division {
	r := &c.session.record
	if p := &r.Plan; p.By != 0 || len(p.Degrees) > 0 || len(p.Keep) > 0 {
		return r.Division()
	}
	return new(bench.Record).Division()
}

// octave is the fret that readings are taken at where none is named.
func (c *call) octave() int {
	r := &c.session.record
	if p := &r.Plan; p.By != 0 || len(p.Degrees) > 0 || len(p.Keep) > 0 {
		return r.Octave()
	}
	return 12
}

func fretAt(c *call) (value, error) {
	n, err := c.whole(0, 0, c.frets().Frets())
	if err != nil {
		return value{}, err
	}
	scale, err := c.scale(1)
	if err != nil {
		return value{}, err
	}
	d := c.frets()
	v := length(d.From(scale, n))
	v.notes = []string{c.session.view.length(d.Remaining(scale, n)) + " on to the scale line"}
	return v, nil
}

// frequency is the pitch given for parameter i, in hertz, and the notes that it
// calls for.
func (c *call) frequency(i int) (units.Frequency, []string, error) {
	r := &c.session.record
	if !c.has(i) {
		for _, args := range c.given {
			if len(args) > 0 && args[0].val.kind == kindRef {
				return c.tuned(args[0])
			}
		}
		return 0, nil, fmt.Errorf("got no pitch, want one, as in E4 or 330Hz")
	}
	a := c.given[i][0]
	switch a.val.kind {
	case units.KindFrequency:
		return units.Frequency(a.val.x), nil, nil
	case kindRef:
		return c.tuned(a)
	}
	a4, _ := r.Concert()
	return a.val.pitch.Frequency(a4), noteList(assumedA4(r)), nil
}

// tuned is what the string of the record that a refers to is tuned to.
func (c *call) tuned(a argument) (units.Frequency, []string, error) {
	r := &c.session.record
	n := int(a.val.x)
	if n < 1 || n > len(r.Tuning) {
		return 0, nil, faultf(a.at, "got s%d, want one of the %d strings of the record's tuning", n, len(r.Tuning))
	}
	a4, _ := r.Concert()
	t := r.Tuning[n-1]
	if t.Hertz != 0 {
		return t.Hertz, nil, nil
	}
	return t.Frequency(a4), noteList(assumedA4(r)), nil
}

// noteList keeps the notes that say something.
func noteList(notes ...string) []string {
	var out []string
	for _, n := range notes {
		if n != "" {
			out = append(out, n)
		}
	}
	return out
}

func centsBetween(c *call) (value, error) {
	from, notes, err := c.frequency(0)
	if err != nil {
		return value{}, err
	}
	to, more, err := c.frequency(1)
	if len(notes) == 0 {
		notes = more
	}
	return value{kind: units.KindCents, x: float64(units.Interval(from, to)), notes: notes}, err
}

func hertz(c *call) (value, error) {
	f, notes, err := c.frequency(0)
	return value{kind: units.KindFrequency, x: float64(f), notes: notes}, err
}

func noteOf(c *call) (value, error) {
	f, _, err := c.frequency(0)
	if err != nil {
		return value{}, err
	}
	return c.pitched(f)
}

// pitched is the value of a frequency as a note and cents off it.
func (c *call) pitched(f units.Frequency, notes ...string) (value, error) {
	if !(f >= 1e-3 && f <= 1e6) {
		return value{}, fmt.Errorf("got %v, want a frequency from 0.001Hz to 1000000Hz", f)
	}
	a4, _ := c.session.record.Concert()
	return value{kind: kindPitch, pitch: units.Nearest(f, a4), notes: append(notes, noteList(assumedA4(&c.session.record))...)}, nil
}

// string is the string given for parameter i, and what its weight rests on.
func (c *call) string(i int) (tension.String, []string, error) {
	a := c.given[i][0]
	s := a.val.string
	if a.val.kind == kindRef {
		n := int(a.val.x)
		r := &c.session.record
		set, err := r.Set()
		switch {
		case err != nil:
			return s, nil, err
		case n < 1 || n > len(set):
			return s, nil, faultf(a.at, "got s%d, want one of the %d strings that the record has gauges of", n, len(set))
		case r.Weighed(n):
			return set[n-1], []string{"unit weight as stated"}, nil
		}
		s = set[n-1]
	}
	return s, noteList(restsOn(s)), nil
}

// restsOn says what a string's weight was taken from.
func restsOn(s tension.String) string {
	switch {
	case s.CoreEstimated:
		return fmt.Sprintf("an estimate: steel, its core taken as %v of the gauge", tension.CoreShare)
	case s.Wound():
		return "round-wound steel"
	}
	for name, m := range map[string]tension.Material{"steel": tension.Steel, "nylon": tension.Nylon, "fluorocarbon": tension.Fluorocarbon} {
		if s.Of == m {
			return fmt.Sprintf("%s of %v", name, m.Density)
		}
	}
	return ""
}

func unitWeight(c *call) (value, error) {
	s, notes, err := c.string(0)
	return value{kind: units.KindLinearDensity, x: float64(s.UnitWeight), notes: notes}, err
}

// strung gathers the string and the scale that most functions of strings take.
func (c *call) strung(scale int) (s tension.String, l units.Length, notes []string, err error) {
	if s, notes, err = c.string(0); err != nil {
		return s, 0, nil, err
	}
	l, err = c.scale(scale)
	return s, l, notes, err
}

func pull(c *call) (value, error) {
	s, scale, notes, err := c.strung(2)
	if err != nil {
		return value{}, err
	}
	f, more, err := c.frequency(1)
	set := tension.Strung{String: s, Pitch: f, Length: scale}
	if share, berr := set.BreakingShare(); berr == nil && share >= 1 {
		notes = append([]string{"past breaking"}, notes...)
	}
	return value{kind: units.KindForce, x: float64(set.Pull()), notes: append(notes, more...)}, err
}

func pitchUnder(c *call) (value, error) {
	s, scale, notes, err := c.strung(2)
	if err != nil {
		return value{}, err
	}
	return c.pitched(tension.Pitch(s.UnitWeight, units.Force(c.x(1)), scale), notes...)
}

func gaugeFor(c *call) (value, error) {
	f, notes, err := c.frequency(1)
	if err != nil {
		return value{}, err
	}
	scale, err := c.scale(2)
	if err != nil {
		return value{}, err
	}
	v := length(tension.Gauge(tension.UnitWeight(units.Force(c.x(0)), f, scale), tension.Steel.Density))
	v.notes = append([]string{fmt.Sprintf("plain steel of %v", tension.Steel.Density)}, notes...)
	return v, nil
}

func breaking(c *call) (value, error) {
	s, scale, notes, err := c.strung(1)
	if err != nil {
		return value{}, err
	}
	f, err := s.BreakingPitch(scale)
	if err != nil {
		return value{}, err
	}
	return c.pitched(f, append(notes, "least strength of straight new wire: wear and bends break it sooner")...)
}

// reading is a reading of cents at a pair of frets, on a saddle with no setback
// unless the record's one saddle says where it stands.
func (c *call) reading(cents float64, low, high int) intonation.Reading {
	r := &c.session.record
	out := intonation.Reading{String: 1, Low: low, High: high, Cents: units.Cents(cents)}
	if groups, _ := r.Groups(); len(groups) == 1 {
		out.Setback, _ = r.Setback(1)
	}
	return out
}

func moveFor(c *call) (value, error) {
	scale, err := c.scale(1)
	if err != nil {
		return value{}, err
	}
	low, high := 0, c.octave()
	if c.has(2) {
		if !c.has(3) {
			return value{}, faultf(c.given[2][0].at, "got one number, want the pair of frets that was read, low and high; a scale needs its unit")
		}
		if low, err = c.whole(2, 0, bench.MostFrets); err != nil {
			return value{}, err
		}
		if high, err = c.whole(3, 0, bench.MostFrets); err != nil {
			return value{}, err
		}
	}
	r := c.reading(c.x(0), low, high)
	by, err := intonation.Move(r, c.frets(), scale)
	if err != nil {
		return value{}, err
	}
	tuner, assumed := c.session.record.TunerError()
	band, err := intonation.Band(r, c.frets(), scale, tuner)
	if err != nil {
		return value{}, err
	}
	v := length(by)
	v.notes = c.session.moveNotes(by, band, high, tuner, assumed)
	if r.Setback != 0 {
		v.notes = append(v.notes, "setback "+c.session.view.length(r.Setback))
	}
	return v, nil
}

// moveNotes says a move in words, as finely as the tuner supports.
func (s *Session) moveNotes(by, band units.Length, fret int, tuner units.Cents, assumed bool) []string {
	told := fmt.Sprintf("a tuner good to %v", tuner)
	if assumed {
		told += ", assumed"
	}
	give := "give or take " + s.rounded(band, band) + " with " + told
	if math.Abs(float64(by)) <= float64(band)/math.Sqrt2 { // the tuner's error, as moves has it
		return []string{"inside what the tuner can tell: leave it", give}
	}
	return []string{direction(by, fret), s.rounded(max(by, -by), band) + ", " + give}
}

// direction says which way a move goes, and what for.
func direction(by units.Length, fret int) string {
	switch {
	case by > 0:
		return "back, away from the nut: lowers the " + ordinal(fret)
	case by < 0:
		return "forward, towards the nut: raises the " + ordinal(fret)
	}
	return "stays"
}

// rounded prints a length no finer than its band, in the leading unit.
func (s *Session) rounded(l, band units.Length) string {
	if !s.view.inches {
		return bench.Rounded(l, band)
	}
	digits := 3
	if band > 0 {
		// One digit more than the band's first: a tenth of an inch is far too coarse.
		digits = min(3, max(0, 1+int(-math.Floor(math.Log10(band.Inches())))))
	}
	return fixed(l.Inches(), digits) + "in"
}

// ordinal writes 12 as 12th.
func ordinal(n int) string {
	end := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			end = "st"
		case 2:
			end = "nd"
		case 3:
			end = "rd"
		}
	}
	return fmt.Sprint(n, end)
}

func sharedMove(c *call) (value, error) {
	scale, err := c.scale(1)
	if err != nil {
		return value{}, err
	}
	var saddle intonation.Saddle
	var notes []intonation.Note
	for i, a := range c.given[0] {
		n := intonation.Note{Reading: c.reading(a.val.x, 0, c.octave())}
		n.String = i + 1
		notes = append(notes, n)
		saddle.Rests = append(saddle.Rests, intonation.Rest{String: n.String})
	}
	best, err := saddle.Place(notes, intonation.LeastWorst, c.frets(), scale)
	if err != nil {
		return value{}, err
	}
	left := make([]string, len(best.Left))
	for i, l := range best.Left {
		left[i] = signed(float64(l), 1) + "c"
	}
	v := length(best.Move)
	v.notes = []string{direction(best.Move, c.octave()), "then out by " + strings.Join(left, " ")}
	return v, nil
}

func staggerFor(c *call) (value, error) {
	scale, err := c.scale(2)
	if err != nil {
		return value{}, err
	}
	var moves [2]units.Length
	for i := range moves {
		if moves[i], err = intonation.Move(c.reading(c.x(i), 0, c.octave()), c.frets(), scale); err != nil {
			return value{}, faultAt(c.given[i][0].at, err)
		}
	}
	v := length(moves[0] - moves[1])
	switch {
	case v.x > 0:
		v.notes = []string{"the first string's break point further back"}
	case v.x < 0:
		v.notes = []string{"the first string's break point further forward"}
	}
	return v, nil
}

func turnsFor(c *call) (value, error) {
	var notes []string
	t := c.session.record.SaddleScrew
	switch {
	case c.has(1):
		t = units.Thread(c.x(1))
	case t == 0:
		return value{}, errors.New("got no thread, want one here, or told before, as in saddle screw: M3")
	default:
		notes = []string{"the saddle screw, " + c.session.view.text(value{kind: units.KindThread, x: float64(t)}) + " a turn"}
	}
	return value{kind: units.KindTurns, x: float64(t.Turns(units.Length(c.x(0)))), notes: notes}, nil
}

func camberAt(c *call) (value, error) {
	radius, offset := units.Length(c.x(0)), units.Length(0)
	if c.has(1) {
		offset = units.Length(c.x(1))
	} else {
		offset = radius
		told := c.session.record.Radius
		if len(told) != 2 || told[0] != told[1] {
			return value{}, errors.New("got no radius, want one here, as in camber(9.5in, 26mm), or a board of one radius told before")
		}
		radius = told[0]
	}
	fall, err := fret.Camber(radius, offset)
	return length(fall), err
}

func radiusAt(c *call) (value, error) {
	surface, err := c.session.record.Surface()
	if err != nil {
		return value{}, err
	}
	return length(surface.Radius(units.Length(c.x(0)))), nil
}

func atSaddle(c *call) (value, error) {
	n, err := c.whole(1, 1, bench.MostFrets)
	if err != nil {
		return value{}, err
	}
	change := action.AtSaddle(units.Length(c.x(0)), c.frets().Share(n))
	v := length(change)
	if t := c.session.record.HeightScrew; t != 0 {
		v.notes = []string{c.session.view.text(value{kind: units.KindTurns, x: float64(t.Turns(change))}) + " of the height screw"}
	}
	return v, nil
}

// roughIn works out where a new saddle goes before it is strung.
func roughIn(from intonation.End) func(*call) (value, error) {
	return func(c *call) (value, error) {
		var by units.Length
		if c.has(3) {
			scale, err := c.scale(4)
			if err != nil {
				return value{}, err
			}
			if by, err = intonation.Move(c.reading(c.x(3), 0, c.octave()), c.frets(), scale); err != nil {
				return value{}, faultAt(c.given[3][0].at, err)
			}
		}
		v := length(intonation.RoughIn(from, units.Length(c.x(0)), units.Length(c.x(1)), units.Length(c.x(2)), by))
		v.notes = []string{"a start, before stringing; offsets are from the face measured to, towards the nut"}
		return v, nil
	}
}

// leaves are those of the record.
func (c *call) leaves() (leaves.Set, error) {
	set := c.session.record.Leaves
	if set == nil {
		return nil, errors.New("got no leaves, want them told first, as in leaves: .05 .10 .15 .20 .30 .40 mm")
	}
	return set, nil
}

func stackFor(c *call) (value, error) {
	set, err := c.leaves()
	if err != nil {
		return value{}, err
	}
	best, err := set.Best(units.Length(c.x(0)), leaves.Most, leaves.Within)
	return value{kind: kindStack, stack: best}, err
}

// materialString makes plain strings of a material.
func materialString(m tension.Material) func(*call) (value, error) {
	return func(c *call) (value, error) {
		s, err := tension.Plain(units.Length(c.x(0)), m)
		return value{kind: kindString, string: s, notes: []string{restsOn(s)}}, err
	}
}

func woundString(c *call) (value, error) {
	s, err := tension.Wound(units.Length(c.x(0)), units.Length(c.x(1)), tension.Steel, tension.Steel)
	return value{kind: kindString, string: s, notes: []string{restsOn(s)}}, err
}
