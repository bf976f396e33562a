package repl

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

var nan = math.NaN()

// recordVersion is the version of the form in which records are written.
const recordVersion = 1

// fieldWords lists what can be told. The words of want, was, read and did are
// made from the subjects.
//
//	Bare      = "record" ":" whole
//	          | "name" ":" ( quoted | text )
//	          | ( "scale" | "screw" "gap" | "post" "gap" | "saddle" "least" | "crowns" ) ":" length
//	          | ( "frets" | "digits" ) ":" whole
//	          | "radius" ":" ( "flat" | Lengths )
//	          | ( "spread" | "travel" | [ "more" ] "leaves" | "saddle" "stands" | "height" "room" | "heel" | "swing" | "stock" ) ":" Lengths
//	          | "seat" ":" ( "underside" | "centre" )
//	          | "fall" "from" whole ":" length
//	          | "strings" ":" gauge { gauge }
//	          | "tuning" ":" tone { tone }
//	          | ( "core" | "after" | "stagger" | "nut" "height" | "finger" ) ":" Lengths
//	          | "weight" ":" Weighs
//	          | "slant" ":" ( "free" | "fixed" )
//	          | "unit" "weight" ":" Weights
//	          | "A4" ":" hertz
//	          | "saddles" ":" group { group }
//	          | ( "saddle" | "height" ) "screw" ":" thread
//	          | "tuner" ":" number [ blanks ] cunit
//	          | "date" ":" date
//	          | "show" ":" ( "mm" | "in" )
//	          | "paper" ":" ( "A4" | "letter" )
//	          | "division" ":" whole [ "of" Interval ]
//	          | "degrees" ":" Intervals
//	          | "keep" ":" whole { whole }
//	          | "temper" ":" Temper
//	          | ( "scales" | "widths" | "nut" "forward" ) ":" Lengths
//	          | ( "edge" | "beyond" | "kerf" | "tang" | "drill" ) ":" length
//	          | "square" ":" signed
//	          | "zero" "fret" ":" ( "yes" | "no" )
//	          | "spacing" ":" ( "gaps" | "centres" ) .
func fieldWords() []word {
	row := func(name, help, example string, tell func(*telling) error) word {
		return word{name: name, class: classField, form: example, help: help, example: example, tell: func(t *telling) error {
			if err := t.noHow(); err != nil {
				return err
			}
			return tell(t)
		}}
	}
	rows := []word{
		row("record", "version of a record's form; starts the record afresh", "record: 1", tellRecord),
		row("name", "what the instrument is called", `name: "Heron no. 6"`, tellName),
		row("scale", "scale length of the fret grid", "scale: 648mm", tellScale),
		row("frets", "number of frets", "frets: 21", func(t *telling) (err error) { t.record.Frets, err = t.whole(1, bench.MostFrets); return }),
		row("radius", "radius of the board, at the nut and at the last fret; or flat", "radius: 10in 14in", tellRadius),
		row("spread", "centres of the outer strings apart, at the nut and at the saddle", "spread: 36mm 52mm", tellSpread),
		row("strings", "the set, from string 1 at the treble edge", "strings: 10p 13p 17p 26w 36w 46w", func(t *telling) (err error) { t.record.Strings, err = t.gauges(); return }),
		row("tuning", "what each string is tuned to, from string 1", "tuning: E4 B3 G3 D3 A2 E2", func(t *telling) (err error) { t.record.Tuning, err = t.tones(); return }),
		row("core", "diameter of each wound string's core; a dot where it is not known", "core: . . . 14thou 17thou 20thou", func(t *telling) (err error) { t.record.Cores, err = t.notNegative(t.lengths()); return }),
		row("unit weight", "mass per length of each string as stated; a dot where it is not known", "unit weight: . . . 2.4 4.3 7.2 g/m", tellUnitWeight),
		row("after", "length of string beyond nut and saddle that slides, one for all or one a string", "after: 60mm", func(t *telling) (err error) { t.record.AfterLengths, err = t.notNegative(t.lengths()); return }),
		row("nut height", "height of the strings at the nut over the plane of the frets, one for all or one a string", "nut height: 0.45mm", func(t *telling) (err error) { t.record.NutHeights, err = t.notNegative(t.lengths()); return }),
		row("finger", "how deep the finger presses below the crown, and how far behind it", "finger: 0.3mm 8mm", tellFinger),
		row("A4", "the frequency that notes are reckoned from; 440Hz until told", "A4: 440Hz", tellA4),
		row("saddles", "the strings on each saddle", "saddles: 1+2 3+4 5+6", func(t *telling) (err error) { t.record.Saddles, err = t.groups(); return }),
		row("stagger", "how much further back than its saddle each string breaks already: machined, filed or angled", "stagger: . 0.8 . 0.5 . 1.0 mm", func(t *telling) (err error) { t.record.Staggers, err = t.lengths(); return }),
		row("weight", "how much each string counts where one is to be favoured or forgiven; a dot counts as 1", "weight: 1 1 1 1 2 .5", tellWeight),
		row("slant", "whether a saddle's ends move on their own, so that it may stand aslant: free or fixed", "slant: fixed", tellSlant),
		row("saddle screw", "thread that moves a saddle back and forward", "saddle screw: M3", func(t *telling) (err error) { t.record.SaddleScrew, err = t.thread(); return }),
		row("height screw", "thread that raises a saddle", "height screw: 40tpi", func(t *telling) (err error) { t.record.HeightScrew, err = t.thread(); return }),
		row("screw gap", "the two height screws of one saddle apart", "screw gap: 14mm", func(t *telling) (err error) { t.record.ScrewGap, err = t.positive(); return }),
		row("post gap", "the two posts that raise a whole bridge apart", "post gap: 74mm", func(t *telling) (err error) { t.record.PostGap, err = t.positive(); return }),
		row("saddle stands", "how tall a one-piece saddle stands under its treble and its bass string", "saddle stands: 3.2mm 3.8mm", func(t *telling) (err error) { t.record.Stands, err = t.pair(); return }),
		row("saddle least", "how tall a one-piece saddle must stay", "saddle least: 2mm", func(t *telling) (err error) { t.record.LeastStands, err = t.positive(); return }),
		row("seat", "what of a string its saddle carries: its underside, or its centre in a groove or on a roller", "seat: centre", tellSeat),
		row("stock", "radii that saddles are to be had in", "stock: 10in 12in 14in", tellStock),
		row("height room", "how far the saddles can still go down, and up", "height room: 0.8mm 3mm", func(t *telling) (err error) { t.record.HeightRoom, err = t.pair(); return }),
		row("heel", "the neck's seat in the body, its near and its far end from the nut", "heel: 390mm 465mm", tellHeel),
		row("crowns", "height of the frets' crowns over the board", "crowns: 1.1mm", func(t *telling) (err error) { t.record.CrownHeight, err = t.positive(); return }),
		row("swing", "how far a string swings down where it is plucked, and how far from the saddle that is", "swing: 0.4mm 120mm", tellSwing),
		row("travel", "smallest and largest reading of a saddle's place", "travel: 8mm 16mm", tellTravel),
		row("leaves", "the feeler leaves that are there", "leaves: .05 .10 .15 .20 .30 .40 .50 .60 .70 .80 .90 1.00 mm", tellLeaves),
		row("more leaves", "another set of leaves that is there as well", "more leaves: 1.5 2 3 4 5 6 8 10 12 15 thou", tellMoreLeaves),
		row("tuner", "error of the tuner on one note; 1c until told", "tuner: 1c", tellTuner),
		row("date", "the day of what is told after it; a session puts it before the first reading of a day", "date: 2026-11-25", tellDate),
		row("show", "the unit that lengths are shown in, mm or in", "show: mm", tellShow),
		row("paper", "the paper that pictures are printed on, A4 or letter", "paper: A4", tellPaper),
		row("digits", "decimals of every answer", "digits: 9", func(t *telling) (err error) { t.view.digits, err = t.whole(0, 15); return }),
	}
	rows = append(rows, word{name: "fall", class: classField, form: "fall from FRET: LENGTH", help: "how far the crowns fall away at the last fret, and from which fret on", example: "fall from 15: 0.2mm", tell: tellFall})
	return slices.Concat(rows, makerWords(), subjectWords(), doneWords())
}

func tellRecord(t *telling) error {
	n, err := t.whole(0, 1e6)
	switch {
	case err != nil:
		return err
	case n > recordVersion:
		return faultf(t.at, "got a record of version %d, want %d at most: it was written by a newer program", n, recordVersion)
	case n < 1:
		return faultf(t.at, "got a record of version %d, want 1", n)
	}
	t.record, t.view, t.date = bench.Record{}, newView(), time.Time{}
	return nil
}

func tellScale(t *telling) (err error) {
	t.record.Scale, err = t.positive()
	t.record.Plan.Scales = [2]units.Length{}
	return err
}

func tellName(t *telling) (err error) {
	t.record.Name, err = t.text()
	t.shown = t.record.Name
	return err
}

// upTo reads a list of one to most lengths, each of more than 0.
func (t *telling) upTo(least, most int) ([]units.Length, error) {
	ls, err := t.lengths()
	if err != nil {
		return nil, err
	}
	if len(ls) < least || len(ls) > most {
		return nil, faultf(t.at, "got %d of them, want %s, as in %s", len(ls), fromTo(least, most), t.word.example)
	}
	return ls, t.allPositive(ls)
}

func fromTo(least, most int) string {
	if least == most {
		return fmt.Sprint(least)
	}
	return fmt.Sprintf("%d or %d", least, most)
}

func tellRadius(t *telling) error {
	if t.body == "flat" {
		t.record.Radius, t.shown = []units.Length{fret.Flat, fret.Flat}, "flat"
		return nil
	}
	ls, err := t.upTo(1, 2)
	if err == nil {
		t.record.Radius = []units.Length{ls[0], ls[len(ls)-1]}
	}
	return err
}

func tellSpread(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.NutSpread, t.record.SaddleSpread = ls[0], ls[1]
	}
	return err
}

// tellWeight reads how much each string counts.
//
//	Weighs = ( leaves | ratio | "." ) { leaves | ratio | "." } .
func tellWeight(t *telling) error {
	list, err := t.items()
	if err != nil {
		return err
	}
	weights := make([]float64, len(list))
	for i, it := range list {
		switch {
		case it.unit.Symbol != "":
			return syntax(t.line, it.at, "a number with no unit", "")
		case it.dot:
			weights[i] = nan
		case !(it.x > 0):
			return faultf(it.at, "got %s, want more than 0", units.Quote(it.text))
		default:
			weights[i] = it.x
		}
	}
	t.record.Weights, t.shown = weights, t.body
	return nil
}

func tellSlant(t *telling) error {
	if t.body != "free" && t.body != "fixed" {
		return syntax(t.line, t.at, "free or fixed", "")
	}
	t.record.Slants, t.shown = t.body == "free", t.body
	return nil
}

// tellUnitWeight reads the mass per length of each string.
//
//	Weights = { "." } ( weight { "." | weight } | { leaves | "." } leaves { "." } [ blanks ] wunit ) .
//	weight = number [ blanks ] wunit .
//	wunit = "kg/m" | "g/m" | "lb/in" .
func tellUnitWeight(t *telling) error {
	list, err := t.items()
	if err != nil {
		return err
	}
	if err := t.spread(list, units.KindLinearDensity); err != nil {
		return err
	}
	weights, err := gather[units.LinearDensity](t, list)
	for i, w := range weights {
		if err == nil && w <= 0 {
			err = faultf(list[i].at, "got %s, want more than 0", units.Quote(list[i].text))
		}
	}
	t.record.UnitWeights = weights
	return err
}

func tellFinger(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Finger = intonation.Finger{Depth: ls[0], Behind: ls[1]}
	}
	return err
}

func tellTravel(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Travel = [2]units.Length(ls)
	}
	return err
}

func tellLeaves(t *telling) error {
	ls, err := t.upTo(1, 100)
	t.record.Leaves = ls
	return err
}

func tellMoreLeaves(t *telling) error {
	ls, err := t.upTo(1, 100)
	if have := len(t.record.Leaves); err == nil && have+len(ls) > 100 {
		return faultf(t.at, "got %d leaves beside the %d that are there, want 100 at most in all", len(ls), have)
	}
	t.record.Leaves = append(slices.Clip(t.record.Leaves), ls...)
	return err
}

// pair reads two lengths, neither below 0: treble and bass, or down and up.
func (t *telling) pair() (two [2]units.Length, err error) {
	ls, err := t.notNegative(t.lengths())
	switch {
	case err != nil:
		return two, err
	case len(ls) != 2 || math.IsNaN(float64(ls[0]+ls[1])):
		return two, faultf(t.at, "got %d of them, want 2, as in %s", len(ls), t.word.example)
	}
	return [2]units.Length(ls), nil
}

func tellSeat(t *telling) error {
	if t.body != "underside" && t.body != "centre" {
		return syntax(t.line, t.at, "underside or centre", "")
	}
	t.record.Centres, t.shown = t.body == "centre", t.body
	return nil
}

func tellStock(t *telling) (err error) {
	t.record.Stock, err = t.upTo(1, 20)
	return err
}

func tellHeel(t *telling) error {
	two, err := t.pair()
	t.record.Heel = action.Heel{Near: two[0], Far: two[1]}
	return err
}

func tellSwing(t *telling) error {
	two, err := t.pair()
	t.record.Swing = action.Swing{Depth: two[0], Pluck: two[1]}
	return err
}

// tellFall reads from which fret the crowns fall away.
//
//	"fall" "from" whole ":" length
func tellFall(t *telling) error {
	if len(t.how) != 2 || t.how[0].text != "from" || !isDigits(t.how[1].text) {
		return syntax(t.line, strings.LastIndexByte(t.line[:t.at], ':'), "the fret it begins at, as in "+t.word.example, "")
	}
	from, err := t.fretNumber(t.how[1])
	if err != nil {
		return err
	}
	by, err := t.length()
	if err == nil && by < 0 {
		err = faultf(t.at, "got %v, want at least 0", by)
	}
	t.record.FallFrom, t.record.FallBy = from, by
	return err
}

// tellA4 reads the frequency that notes are reckoned from.
//
//	hertz = number [ blanks ] ( "Hz" | "kHz" ) .
func tellA4(t *telling) error {
	f, err := units.ParseFrequency(t.body)
	if err == nil && !(f > 0) {
		err = fmt.Errorf("got %v, want more than 0", f)
	}
	t.record.A4, t.shown = f, f.String()
	return faultAt(t.at, err)
}

func tellTuner(t *telling) error {
	c, err := units.ParseCents(t.body)
	if err == nil && !(c > 0 && c <= 50) {
		err = fmt.Errorf("got %v, want more than 0 and at most 50c", c)
	}
	t.record.Tuner, t.shown = c, c.String()
	return faultAt(t.at, err)
}

func tellPaper(t *telling) error {
	if t.body != "A4" && t.body != "letter" {
		return syntax(t.line, t.at, "A4 or letter", "")
	}
	t.view.letter, t.shown = t.body == "letter", t.body
	return nil
}

func tellShow(t *telling) error {
	if t.body != "mm" && t.body != "in" {
		return syntax(t.line, t.at, "mm or in", "")
	}
	t.view.inches, t.shown = t.body == "in", t.body
	return nil
}

// part is what may stand between a field's words and its colon.
type part uint16

const (
	partFret   part = 1 << iota // a fret
	partHeld                    // held A B
	partAt                      // at a fret
	partOpen                    // open
	partLow                     // from a fret, or from harmonic
	partDatum                   // from tail, or from nut
	partString                  // s3
	partEdge                    // straightedge A B
	partAlone                   // on a fret
)

// explain says in words what must be told of how something is read.
func (p part) explain() string {
	switch {
	case p&partAt != 0:
		return "the frets held down, and the fret read at"
	case p&partOpen != 0:
		return "the string open, held at fret 3, or pressed on crown 3"
	case p == partString:
		return "the string, as in s5"
	case p&partDatum != 0:
		return "measured from the tail or from the nut"
	}
	return "the fret read at"
}

// subject is what can be wanted and read.
type subject struct {
	name     string
	of       bench.Subject
	moods    []bench.Mood
	how      part // that may be said
	need     part // and that must
	form     string
	help     string
	examples map[bench.Mood]string
	values   func(*telling, *bench.Entry) error
}

var moodNames = [...]string{bench.Want: "want", bench.Was: "was", bench.Read: "read", bench.Did: "did"}

var moodHelp = [...]string{bench.Want: "what is wanted: ", bench.Was: "how it came in: ", bench.Read: "what was read: "}

func subjects() []subject {
	all := []bench.Mood{bench.Want, bench.Was, bench.Read}
	return []subject{
		{"relief", bench.Relief, all, partHeld | partEdge | partAt, partAt, "held FRET FRET at FRET: LENGTH, or straightedge FRET FRET at FRET: LENGTH",
			"bow of the neck, with the frets held and the fret read at", map[bench.Mood]string{
				bench.Want: "want relief held 1 14 at 7: 0.20mm", bench.Was: "was relief held 1 14 at 7: 0.40mm", bench.Read: "read relief held 1 14 at 7: 0.35mm"}, oneLength},
		{"gap", bench.Gap, all, partHeld | partOpen | partAlone | partString, 0, "held 3: LENGTHS, or on 3: LENGTHS, or open: LENGTHS",
			"gaps at the first fret: string open, held between 2 and 3, or pressed down on crown 3 alone", map[bench.Mood]string{
				bench.Want: "want gap held 3: 0.15mm", bench.Was: "was gap open: .60 .60 .65 .65 .70 .70 mm", bench.Read: "read gap held 3: .15 .15 .18 .18 .20 . mm"}, lengthsOf},
		{"action", bench.Action, all, partFret | partString, partFret, "FRET: LENGTHS",
			"heights of the strings over the crown of a fret", map[bench.Mood]string{
				bench.Want: "want action 12: 1.5mm 1.9mm", bench.Was: "was action 12: 2.0 2.0 2.1 2.1 2.2 2.3 mm", bench.Read: "read action 12: 1.8 1.9 1.9 2.0 1.00+1.10 2.2 mm"}, lengthsOf},
		{"cents", bench.Cents, all, partFret | partLow | partString, partFret, "FRET from FRET: CENTS",
			"how sharp a fret sounds against the open string, another fret or the harmonic", map[bench.Mood]string{
				bench.Want: "want cents 12: 0 0 0 0 0 +1", bench.Was: "was cents 12: +8 +6 +9 +2 +4 +7", bench.Read: "read cents 12: +5 +3 +9 -1 +2 +4"}, centsOf},
		{"saddle", bench.Saddle, []bench.Mood{bench.Was, bench.Read}, partDatum, partDatum, "from tail: LENGTHS, or from nut: LENGTHS",
			"place of each saddle from a datum", map[bench.Mood]string{
				bench.Was: "was saddle from tail: 12.9 13.6 14.1 mm", bench.Read: "read saddle from tail: 12.9 13.6 14.1 mm"}, placesOf},
		{"strings", bench.Strings, []bench.Mood{bench.Was}, 0, 0, "GAUGES", "the set that was on it", map[bench.Mood]string{
			bench.Was: "was strings: 9p 11p 16p 24w 32w 42w"}, gaugesOf},
		{"buzz", bench.Buzz, []bench.Mood{bench.Read}, partString, partString, "STRING: NOTES", "notes of a string that buzz, by the fret held down, or open", map[bench.Mood]string{
			bench.Read: "read buzz s5: open 1 2"}, notesOf},
		{"clean", bench.Clean, []bench.Mood{bench.Read}, partString, partString, "STRING: NOTES", "notes of a string that ring clean", map[bench.Mood]string{
			bench.Read: "read clean s5: 5 7 12"}, notesOf},
		{"curve", bench.Curve, []bench.Mood{bench.Want}, 0, 0, "even, flat or RADIUS", "how heights run from treble to bass: even steps, or a radius at the saddles",
			map[bench.Mood]string{bench.Want: "want curve: 12in"}, curveOf},
	}
}

// subjectWords lists what can be wanted and read.
//
//	Taken     = ( "want" | "was" | "read" ) "relief" [ "held" whole [ whole ] | "straightedge" whole whole ] "at" whole ":" length
//	          | ( "want" | "was" | "read" ) "gap" ( "held" whole [ whole ] | "on" whole | "open" ) [ ref ] ":" Lengths
//	          | ( "want" | "was" | "read" ) "action" whole [ ref ] ":" Lengths
//	          | ( "want" | "was" | "read" ) "cents" whole [ "from" ( whole | "harmonic" ) ] [ ref ] ":" Cents
//	          | ( "was" | "read" ) "saddle" "from" ( "tail" | "nut" ) ":" Lengths
//	          | "read" ( "buzz" | "clean" ) ref ":" Notes
//	          | "was" "strings" ":" gauge { gauge }
//	          | "want" "curve" ":" ( "even" | "flat" | length ) .
func subjectWords() []word {
	var out []word
	for _, sub := range subjects() {
		for _, mood := range sub.moods {
			form := sub.form
			if !strings.Contains(form, ":") {
				form = ": " + form
			}
			name := moodNames[mood] + " " + sub.name
			out = append(out, word{
				name: name, class: classField, form: strings.Replace(name+" "+form, " :", ":", 1),
				help: moodHelp[mood] + sub.help, example: sub.examples[mood],
				tell: func(t *telling) error {
					e := bench.Entry{Mood: mood, Of: sub.of}
					if err := t.readHow(&e, sub); err != nil {
						return err
					}
					if err := sub.values(t, &e); err != nil {
						return err
					}
					t.add(e)
					return nil
				},
			})
		}
	}
	return out
}

func (t *telling) add(e bench.Entry) {
	e.When = t.date
	t.record.Entries = append(t.record.Entries, e)
}

// readHow reads how something was read, which stands before the colon.
func (t *telling) readHow(e *bench.Entry, sub subject) error {
	seen := part(0)
	for rest := t.how; len(rest) > 0; {
		is, n, err := t.partOf(rest, e, sub.how)
		if err != nil {
			return err
		}
		if is&sub.how == 0 || is&seen != 0 {
			return syntax(t.line, rest[0].at, "a colon, as in "+t.word.example, "")
		}
		seen |= is
		rest = rest[n:]
	}
	colon := t.line[:t.at]
	if sub.need&^seen != 0 || sub.of == bench.Gap && seen&(partHeld|partOpen|partAlone) == 0 {
		return &fault{strings.LastIndexByte(colon, ':'), true, gotWant("no way of reading it", "how it is read, as in "+t.word.example, sub.how.explain())}
	}
	if seen&partHeld != 0 && seen&partEdge != 0 || seen&partHeld != 0 && seen&partAlone != 0 || seen&partOpen != 0 && seen&(partHeld|partAlone) != 0 {
		return syntax(t.line, t.how[0].at, "one way of reading it, as in "+t.word.example, "")
	}
	if e.Of == bench.Gap {
		e.How.At = 1
	}
	if e.Of == bench.Cents && e.How.Low >= e.How.At {
		return faultf(t.how[0].at, "got fret %d from fret %d, want the higher fret first", e.How.At, e.How.Low)
	}
	return nil
}

// partOf reads one part at the front of rest, and how many words it took.
func (t *telling) partOf(rest []piece, e *bench.Entry, allowed part) (is part, n int, err error) {
	p := rest[0]
	next := func(i int) string {
		if i < len(rest) {
			return rest[i].text
		}
		return ""
	}
	if number, ok := refNumber(p.text); ok {
		e.On = []int{number}
		return partString, 1, positiveString(p, number)
	}
	switch {
	case isDigits(p.text):
		e.How.At, err = t.fretNumber(p)
		return partFret, 1, err
	case p.text == "open":
		return partOpen, 1, nil
	case p.text == "held" && isDigits(next(1)):
		if e.How.Held[0], err = t.fretNumber(rest[1]); err != nil || !isDigits(next(2)) {
			return partHeld, 2, err
		}
		e.How.Held[1], err = t.fretNumber(rest[2])
		return partHeld, 3, err
	case p.text == "straightedge" && isDigits(next(1)) && isDigits(next(2)):
		e.How.Edge = true
		if e.How.Held[0], err = t.fretNumber(rest[1]); err != nil {
			return partEdge, 3, err
		}
		e.How.Held[1], err = t.fretNumber(rest[2])
		return partEdge, 3, err
	case p.text == "on" && isDigits(next(1)):
		e.How.Alone = true
		e.How.Held[0], err = t.fretNumber(rest[1])
		return partAlone, 2, err
	case p.text == "at" && isDigits(next(1)):
		e.How.At, err = t.fretNumber(rest[1])
		return partAt, 2, err
	case p.text == "from" && isDigits(next(1)):
		e.How.Low, err = t.fretNumber(rest[1])
		return partLow, 2, err
	case p.text == "from" && next(1) == "harmonic":
		e.How.Harmonic = true
		return partLow, 2, nil
	case p.text == "from" && next(1) == "tail":
		return partDatum, 2, nil
	case p.text == "from" && next(1) == "nut":
		e.How.From = bench.FromNut
		return partDatum, 2, nil
	}
	return 0, 1, nil
}

func positiveString(p piece, n int) error {
	if n < 1 || n > bench.MostStrings {
		return faultf(p.at, "got string %d, want 1 to %d", n, bench.MostStrings)
	}
	return nil
}

func (t *telling) fretNumber(p piece) (int, error) {
	n := wholeNumber(p.text)
	if n > bench.MostFrets {
		return 0, faultf(p.at, "got fret %s, want 0 to %d", p.text, bench.MostFrets)
	}
	return n, nil
}

func oneLength(t *telling, e *bench.Entry) error {
	l, err := t.length()
	// Relief is the neck's, kept as that of string 0.
	e.Lengths, e.On = []units.Length{l}, []int{0}
	return err
}

// each gives a list of n values to the strings, or to count of something else.
func each(e *bench.Entry, n, count int) {
	if e.On != nil {
		return // one string was named
	}
	if count == 0 {
		count = n
	}
	for i := 1; i <= count; i++ {
		e.On = append(e.On, i)
	}
}

func lengthsOf(t *telling, e *bench.Entry) (err error) {
	e.Lengths, err = t.lengths()
	if e.Mood == bench.Want {
		return err // spread over the strings when asked
	}
	each(e, len(e.Lengths), t.record.Count())
	return err
}

func centsOf(t *telling, e *bench.Entry) (err error) {
	e.Cents, err = t.cents()
	if e.Mood == bench.Want {
		return err // one for all, or one a string
	}
	each(e, len(e.Cents), t.record.Count())
	return err
}

func placesOf(t *telling, e *bench.Entry) (err error) {
	e.Lengths, err = t.lengths()
	groups, _ := t.record.Groups()
	each(e, len(e.Lengths), len(groups))
	return err
}

// notesOf reads notes of a string, each by the fret held down.
//
//	Notes = ( "open" | whole ) { "open" | whole } .
func notesOf(t *telling, e *bench.Entry) error {
	for _, p := range pieces(t.body, t.at) {
		if err := noCommas(t.line, p); err != nil {
			return err
		}
		if p.text == "open" {
			e.Frets = append(e.Frets, 0)
			continue
		}
		if !isDigits(p.text) {
			return syntax(t.line, p.at, "a fret, or open", "")
		}
		f, err := t.fretNumber(p)
		if err != nil {
			return err
		}
		e.Frets = append(e.Frets, f)
	}
	t.shown = strings.Join(strings.Fields(t.body), " ")
	return nil
}

func gaugesOf(t *telling, e *bench.Entry) (err error) {
	e.Gauges, err = t.gauges()
	each(e, len(e.Gauges), 0)
	return err
}

func curveOf(t *telling, e *bench.Entry) error {
	switch t.body {
	case "even":
		t.shown = "even"
		return nil
	case "flat":
		e.Lengths, t.shown = []units.Length{fret.Flat}, "flat"
		return nil
	}
	l, err := t.positive()
	e.Lengths = []units.Length{l}
	return err
}

// doneWords lists what can be done, and makes readings stale.
//
//	Done = "did" "saddle" group ":" ( "back" | "forward" ) ( length | number [ blanks ] ( "turns" | "turn" ) )
//	     | "did" ( "rod" | "strings" | "shim" | "slot" | "height" | "nut" | "crowns" | "pickup" | "room" )
//	       { ref | group } ":" ( quoted | text ) .
func doneWords() []word {
	row := func(name, help, example string, of bench.Subject, values func(*telling, *bench.Entry) error) word {
		return word{name: "did " + name, class: classField, form: example, help: "what was done: " + help, example: example, tell: func(t *telling) error {
			e := bench.Entry{Mood: bench.Did, Of: of}
			for _, p := range t.how {
				on, err := t.doneTo(p)
				if err != nil {
					return err
				}
				e.On = append(e.On, on...)
			}
			if err := values(t, &e); err != nil {
				return err
			}
			t.add(e)
			return nil
		}}
	}
	return []word{
		row("saddle", "a saddle was moved, back or forward", "did saddle 1+2: back 1.5mm", bench.Saddle, movedSaddle),
		row("rod", "the rod was turned", "did rod: eighth tighter", bench.Rod, inWords),
		row("strings", "a new set was put on", "did strings: new set, stretched", bench.Strings, inWords),
		row("shim", "the neck's angle was changed", "did shim: 0.4mm at the heel", bench.Shim, inWords),
		row("slot", "nut slots were lowered", "did slot s3: down a little", bench.Slot, inWords),
		row("height", "saddles were raised or lowered", "did height 1+2: down half a turn", bench.Height, inWords),
		row("nut", "the nut was moved", "did nut: forward 0.3mm", bench.Nut, inWords),
		row("crowns", "frets were levelled or dressed", "did crowns: levelled above the 12th", bench.Crowns, inWords),
		row("pickup", "a pickup was raised or lowered", "did pickup: down 1mm", bench.Pickup, inWords),
		row("room", "warmth or damp changed", "did room: a night in the warm", bench.Room, inWords),
	}
}

// doneTo reads the strings that something was done to: s3, or 1+2.
func (t *telling) doneTo(p piece) ([]int, error) {
	if n, ok := refNumber(p.text); ok {
		return []int{n}, positiveString(p, n)
	}
	if !isDigit(p.text[0]) {
		return nil, syntax(t.line, p.at, "a colon, or the strings it was done to, as in "+t.word.example, "")
	}
	return group(t.line, p)
}

func inWords(t *telling, e *bench.Entry) (err error) {
	e.Note, err = t.text()
	t.shown = e.Note
	return err
}

// movedSaddle reads which way a saddle went, and how far.
func movedSaddle(t *telling, e *bench.Entry) error {
	groups, _ := t.record.Groups()
	if err := oneSaddle(t, e.On, groups); err != nil {
		return err
	}
	way := t.body[:wordLen(t.body)]
	if way != "back" && way != "forward" {
		return syntax(t.line, t.at, "back or forward and a length, as in "+t.word.example, "")
	}
	from := len(way) + blanks(t.body[len(way):])
	l, err := t.lengthOrTurns(from)
	if err != nil {
		return err
	}
	if !(l >= 0) {
		return faultf(t.at+from, "got %v, want at least 0 after %s", l, way)
	}
	e.By = l
	if way == "forward" {
		e.By = -l
	}
	return nil
}

// lengthOrTurns reads a length, or turns of the saddle screw, from a byte of the
// body on.
func (t *telling) lengthOrTurns(from int) (units.Length, error) {
	x, u, n, err := units.Scan(t.body[from:])
	if err != nil || u.Kind != units.KindTurns || n != len(t.body)-from {
		return t.lengthAt(from)
	}
	if t.record.SaddleScrew == 0 {
		return 0, faultf(t.at+from, "got turns of a saddle screw not told, want that first, as in saddle screw: M3")
	}
	l := t.record.SaddleScrew.Travel(units.Turns(x))
	t.shown = t.body + ", " + t.view.length(l)
	return l, nil
}

// oneSaddle refuses strings that are not all those of one saddle.
func oneSaddle(t *telling, on []int, groups [][]int) error {
	names := make([]string, len(groups))
	for i, g := range groups {
		names[i] = bench.Group(g)
		if names[i] == bench.Group(on) {
			return nil
		}
	}
	want := "the strings of one saddle"
	if len(names) > 0 {
		want += ", one of " + strings.Join(names, " ")
	}
	at := strings.LastIndexByte(t.line[:t.at], ':')
	if len(t.how) > 0 {
		at = t.how[0].at
	}
	return faultf(at, "got saddle %s, want %s", units.Quote(bench.Group(on)), want)
}
