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
//	          | ( "scales" | "widths" | "nut" "forward" | "setback" ) ":" Lengths
//	          | ( "edge" | "beyond" | "kerf" | "tang" | "drill" | "blind" ) ":" length
//	          | "square" ":" signed
//	          | ( "zero" "fret" | "fretless" ) ":" ( "yes" | "no" )
//	          | "spacing" ":" ( "gaps" | "centres" ) .
func fieldWords() []word {
	row := bareField
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
		row("nut height", "height of the strings at the nut over the plane of the frets, where no first gap that stands shows it; one for all or one a string", "nut height: 0.45mm", func(t *telling) (err error) { t.record.NutHeights, err = t.notNegative(t.lengths()); return }),
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
		row("saddle stands", "how tall a one-piece saddle stands under its treble and its bass string", "saddle stands: 3.2mm 3.8mm", tellStands),
		row("saddle least", "how tall a one-piece saddle must stay", "saddle least: 2mm", func(t *telling) (err error) { t.record.LeastStands, err = t.positive(); return }),
		row("seat", "what of a string its saddle carries: its underside, or its centre in a groove or on a roller", "seat: centre", tellSeat),
		row("stock", "radii that saddles are to be had in", "stock: 10in 12in 14in", tellStock),
		row("height room", "how far the saddles can still go down, and up", "height room: 0.8mm 3mm", func(t *telling) error {
			two, err := t.pair()
			t.record.HeightRoom = two[:]
			return err
		}),
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

// bareField is a field with nothing between its words and its colon.
func bareField(name, help, example string, tell func(*telling) error) word {
	return word{name: name, class: classField, form: example, help: help, example: example, values: choices[name], tell: func(t *telling) error {
		if err := t.noHow(); err != nil {
			return err
		}
		return tell(t)
	}}
}

// choices are the words that a field takes, where it takes only some.
var choices = map[string][]string{
	"slant": {"free", "fixed"}, "seat": {"underside", "centre"}, "show": {"mm", "in"}, "paper": {"A4", "letter"},
	"zero fret": {"yes", "no"}, "fretless": {"yes", "no"}, "spacing": {"gaps", "centres"}, "temper": {"just", "pythagorean", "meantone", "from"}, "radius": {"flat"},
}

// choice reads one of the words that a field takes.
func (t *telling) choice() (string, error) {
	of := choices[t.word.name]
	if !slices.Contains(of, t.body) {
		return "", syntax(t.line, t.at, strings.Join(of, " or "), "")
	}
	t.shown = t.body
	return t.body, nil
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

// upTo reads a list of least to most lengths, each of more than 0.
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
//	Weighs    = ( leaves | "." ) { leaves | "." } | ratio { ratio | "." } .
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
	is, err := t.choice()
	t.record.Slants = is == "free"
	return err
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
	case len(ls) != 2:
		return two, faultf(t.at, "got %d of them, want 2, as in %s", len(ls), t.word.example)
	}
	for i, l := range ls {
		if math.IsNaN(float64(l)) {
			list, _ := t.items()
			return two, faultf(list[i].at, "got a dot, want a length, as in %s", t.word.example)
		}
	}
	return [2]units.Length(ls), nil
}

func tellSeat(t *telling) error {
	is, err := t.choice()
	t.record.Centres = is == "centre"
	return err
}

func tellStock(t *telling) (err error) {
	t.record.Stock, err = t.upTo(1, 20)
	return err
}

func tellStands(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Stands = [2]units.Length(ls)
	}
	return err
}

func tellHeel(t *telling) error {
	two, err := t.pair()
	t.record.Heel = action.Heel{Near: two[0], Far: two[1]}
	return err
}

func tellSwing(t *telling) error {
	ls, err := t.upTo(2, 2)
	if err == nil {
		t.record.Swing = action.Swing{Depth: ls[0], Pluck: ls[1]}
	}
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
	is, err := t.choice()
	t.view.letter = is == "letter"
	return err
}

func tellShow(t *telling) error {
	is, err := t.choice()
	t.view.inches = is == "in"
	return err
}
