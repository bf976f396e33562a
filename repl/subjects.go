package repl

import (
	"slices"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

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
	r := &t.record
	if n := len(r.Entries); n == cap(r.Entries) && n > MostTold/4 && n < MostTold {
		r.Entries = slices.Grow(r.Entries, MostTold-n) // once for all, while the old and the new are not both large
	}
	r.Entries = append(r.Entries, e)
}

// readHow reads how something was read, which stands before the colon.
func (t *telling) readHow(e *bench.Entry, sub subject) error {
	seen := part(0)
	for rest := t.how; len(rest) > 0; {
		is, n, err := t.partOf(rest, e, sub.how)
		if err != nil {
			return err
		}
		if is == partFret && sub.how&(partFret|partString) == partString {
			return syntax(t.line, rest[0].at, "the string as s"+rest[0].text+", as in "+t.word.example, "")
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
// Entries share one list of them, since a record may have very many.
func (t *telling) each(e *bench.Entry, n, count int) {
	if e.On != nil {
		return // one string was named
	}
	if count == 0 {
		count = n
	}
	for i := len(t.session.numbers) + 1; i <= count; i++ {
		t.session.numbers = append(t.session.numbers, i)
	}
	e.On = t.session.numbers[:count:count]
}

func lengthsOf(t *telling, e *bench.Entry) (err error) {
	e.Lengths, err = t.lengths()
	if e.Mood == bench.Want {
		return err // spread over the strings when asked
	}
	t.each(e, len(e.Lengths), t.session.count())
	return err
}

func centsOf(t *telling, e *bench.Entry) (err error) {
	e.Cents, err = t.cents()
	if e.Mood == bench.Want {
		return err // one for all, or one a string
	}
	t.each(e, len(e.Cents), t.session.count())
	return err
}

func placesOf(t *telling, e *bench.Entry) (err error) {
	e.Lengths, err = t.lengths()
	t.each(e, len(e.Lengths), len(t.record.Saddles))
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
	if len(e.Frets) > bench.MostFrets {
		return faultf(t.at, "got %d notes, want %d at most", len(e.Frets), bench.MostFrets)
	}
	t.shown = strings.Join(strings.Fields(t.body), " ")
	return nil
}

func gaugesOf(t *telling, e *bench.Entry) (err error) {
	e.Gauges, err = t.gauges()
	t.each(e, len(e.Gauges), 0)
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
