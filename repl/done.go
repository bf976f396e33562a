package repl

import (
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

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
