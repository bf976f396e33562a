package bench_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// A string that showed four fifths of the textbook's change moves by what it
// showed: the slope is weighed against how far strings usually lie from 1.
func TestLearnedSlope(t *testing.T) {
	first := pairAt(640, 0, 0, 12, 30)
	did := bench.Entry{Mood: bench.Did, Of: bench.Saddle, On: []int{1}, By: mm(first.move())}
	r := &bench.Record{Scale: 640, Tuner: 0.1, Entries: []bench.Entry{heard(at12, 30), did, heard(at12, 6)}}
	m := ok(r.MoveRows())(t)[0]
	// By hand: x = -30, y = -24; (24*30/(2*0.02) + 1/0.0144)/(30*30/(2*0.02) + 1/0.0144) = 0.8006.
	if math.Abs(m.Slopes[0]-0.8006) > 0.0005 {
		t.Errorf("got a slope of %v, want 0.8006", m.Slopes[0])
	}
	diff(t, "move", mm(pairAt(640, 0, 0, 12, 6/m.Slopes[0]).move()), m.Move)
	// Anything else that voids cents begins the history afresh.
	r.Entries = append(r.Entries, bench.Entry{Mood: bench.Did, Of: bench.Height}, heard(at12, 6))
	if m := ok(r.MoveRows())(t)[0]; !math.IsNaN(m.Slopes[0]) || math.Abs(float64(m.Move)-pairAt(640, 0, 0, 12, 6).move()) > 1e-9 {
		t.Errorf("got a slope of %v and a move of %v after the heights were set, want the textbook's", m.Slopes[0], m.Move)
	}
}

// A saddle that slants serves both strings; its middle goes half way between
// their own places.
func TestSlant(t *testing.T) {
	r := six(t, heard(at12, 6, 9, silent, 2, 4, 4))
	r.Slants = true
	m := ok(r.MoveRows())(t)
	one, two := pairAt(640, 0, 0, 12, 6).move(), pairAt(640, 0, 0, 12, 9).move()
	diff(t, "move", mm((one+two)/2), m[0].Move)
	diff(t, "left", []units.Cents{0, 0}, m[0].Left)
	// The strings of the fixture cross the saddles 10 mm apart.
	diff(t, "slant", units.Angle(math.Atan((one-two)/10)*180/math.Pi), m[0].Slant)
	if !math.IsNaN(float64(m[1].Slant)) {
		t.Errorf("got a slant of %v with one string read, want none", m[1].Slant)
	}
}

// A string may be wanted a little off, and one may count more than another.
func TestWantedAndWeighed(t *testing.T) {
	wanted := bench.Entry{Mood: bench.Want, Of: bench.Cents, How: at12, Cents: []units.Cents{0, 2, 0, 0, 0, 0}}
	r := six(t, heard(at12, 6, 9, 0, 0, 0, 0), wanted)
	m := ok(r.MoveRows())(t)[0]
	best := together(pairAt(640, 0, 0, 12, 6), pairAt(640, 0, 0, 12, 7))
	diff(t, "move", mm(best), m.Move)
	diff(t, "left", []units.Cents{units.Cents(pairAt(640, 0, 0, 12, 6).after(best)), units.Cents(pairAt(640, 0, 0, 12, 7).after(best))}, m.Left)

	// Counting three times as much, string 2 keeps a third of what string 1 does.
	r = six(t, heard(at12, 6, 9, 0, 0, 0, 0))
	r.Weights = []float64{1, 3, nan, nan, nan, nan}
	m = ok(r.MoveRows())(t)[0]
	if one, two := float64(m.Left[0]), float64(m.Left[1]); math.Abs(one+3*two) > 1e-6 || math.Abs(one+2.25) > 0.01 {
		t.Errorf("got %v and %v left, want -2.25 and a third of it", one, two)
	}
}

// An existing stagger changes what it ought to be, and with it the setback that
// each string was read at.
func TestStaggers(t *testing.T) {
	r := six(t, heard(at12, 6, 9, 0, 0, 0, 0))
	before := ok(r.MoveRows())(t)[0]
	r.Staggers = []units.Length{unread, 0.8, unread, unread, unread, unread}
	after := ok(r.MoveRows())(t)[0]
	two := pairAt(640, 0.8, 0, 12, 9)
	diff(t, "stagger", mm(0.8+two.move()-pairAt(640, 0, 0, 12, 6).move()), after.Stagger[1])
	diff(t, "move", mm(together(pairAt(640, 0, 0, 12, 6), two)), after.Move)
	if after.Stagger[1]-before.Stagger[1] < 0.79 {
		t.Errorf("got %v and %v, want the existing stagger counted", before.Stagger[1], after.Stagger[1])
	}
}

// Hardware against hardware, by hand: 6 and 9 cents share a saddle at half their
// difference; alone nothing is left.
func TestCompare(t *testing.T) {
	r := six(t, heard(at12, 6, 9, silent, silent, silent, silent))
	rows := ok(r.CompareRows())(t)
	left := pairAt(640, 0, 0, 12, 9).after(together(pairAt(640, 0, 0, 12, 6), pairAt(640, 0, 0, 12, 9)))
	n := silent
	diff(t, "as it stands", []units.Cents{6, 9, n, n, n, n}, rows[0].Strings)
	diff(t, "its worst and mean", []units.Cents{9, units.Cents(math.Sqrt((36 + 81) / 2.0))}, []units.Cents{rows[0].Worst, rows[0].RMS})
	diff(t, "set best", []units.Cents{units.Cents(-left), units.Cents(left), n, n, n, n}, rows[1].Strings)
	diff(t, "its mean", units.Cents(left), rows[1].RMS)
	diff(t, "one a string", []units.Cents{0, 0, n, n, n, n}, rows[2].Strings)
	_, err := six(t).CompareRows()
	wantError(t, err, "got no readings of cents, want that told first, as in read cents 12: +5 +3 +9 -1 +2 +4")
}

// The same saddles set best leave what their moves leave, also where only some
// strings of a saddle that slants were read.
func TestCompareAgreesWithMoves(t *testing.T) {
	r := six(t, heard(at12, 6, silent, silent, 9, silent, 2))
	r.Saddles, r.Slants = [][]int{{1, 2, 3, 4, 5, 6}}, true
	m := ok(r.MoveRows())(t)[0]
	if math.IsNaN(float64(m.Slant)) || m.Inside() {
		t.Fatalf("got a slant of %v and inside %v, want a slant worth setting", m.Slant, m.Inside())
	}
	diff(t, "left", m.Left, ok(r.CompareRows())(t)[1].Strings)
}
