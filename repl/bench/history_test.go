package bench_test

import (
	"fmt"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// What a string has shown is learned from its readings at one pair of frets, and
// from what its saddle was moved between them, since anything else voided them.
func TestHistory(t *testing.T) {
	at7 := bench.How{At: 7}
	read := func(c units.Cents) bench.Entry { return on(heard(at12, c), 1) }
	round := func(moved units.Length, c units.Cents) intonation.Round {
		return intonation.Round{Moved: moved, Cents: c}
	}
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		rounds  []intonation.Round // after a first reading of 30 cents
		moved   bool
	}{
		{"read once", nil, nil, false},
		{"moved and read", []bench.Entry{moved(5, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"moved twice", []bench.Entry{moved(2, 1), moved(3, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"moved with the others", []bench.Entry{moved(5), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"another saddle moved", []bench.Entry{moved(5, 2), read(28)}, []intonation.Round{round(0, 28)}, false},
		{"moved and put back", []bench.Entry{moved(5, 1), moved(-5, 1), read(28)}, []intonation.Round{round(0, 28)}, false},
		{"read again", []bench.Entry{read(29.5)}, []intonation.Round{round(0, 29.5)}, false},
		{"read twice each", []bench.Entry{read(29.5), moved(5, 1), read(17), read(16.5)}, []intonation.Round{round(0, 29.5), round(5, 17), round(0, 16.5)}, true},
		{"twice, unsteadily", []bench.Entry{moved(5, 1), read(17), read(19)}, []intonation.Round{round(5, 17), round(0, 19)}, true},
		{"and again", []bench.Entry{moved(5, 1), read(17), moved(3, 1), read(10)}, []intonation.Round{round(5, 17), round(3, 10)}, true},
		{"another string raised", []bench.Entry{did(bench.Height, 2), moved(5, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"the pickup lowered", []bench.Entry{did(bench.Pickup), moved(5, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"a slot lowered", []bench.Entry{moved(5, 1), did(bench.Slot, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"raised, so begun afresh", []bench.Entry{moved(5, 1), read(17), did(bench.Height, 1), read(30)}, nil, false},
		{"a reading left out", []bench.Entry{moved(5, 1), heard(at12, silent, 3), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"another pair between", []bench.Entry{on(heard(at7, 20), 1), moved(5, 1), read(17)}, []intonation.Round{round(5, 17)}, true},
		{"how it came in", []bench.Entry{moved(5, 1), {Mood: bench.Was, Of: bench.Cents, How: at12, Cents: []units.Cents{40}, On: []int{1}}, read(17)}, []intonation.Round{round(5, 17)}, true},
	} {
		r := &bench.Record{Scale: 640, Saddles: [][]int{{1}, {2}}, Entries: append([]bench.Entry{heard(at12, 30, 30)}, row.entries...)}
		m := ok(r.MoveRows())(t)[0]
		slope, unsteady := nan, []int(nil)
		if row.rounds != nil {
			learned := ok(intonation.Learn(intonation.Reading{String: 1, High: 12, Cents: 30}, row.rounds, r.Division(), 640, 1))(t)
			if row.moved {
				slope = learned.Slope
			}
			if learned.Suspect {
				unsteady = []int{1}
			}
		}
		diff(t, row.what, []any{[]float64{slope}, unsteady}, []any{m.Slopes, m.Unsteady})
		now := 30.0 // what it reads, as the textbook's
		if n := len(row.rounds); n > 0 {
			now = float64(row.rounds[n-1].Cents)
		}
		if row.moved {
			now /= slope
		}
		diff(t, row.what+": move", mm(pairAt(640, 0, 0, 12, now).move()), m.Move)
	}
}

// Two strings on one saddle have shown different slopes: each reads so many cents
// of the textbook's, aims likewise, and keeps so much of what is left.
func TestSlopesShare(t *testing.T) {
	aim := bench.Entry{Mood: bench.Want, Of: bench.Cents, How: at12, Cents: []units.Cents{2}, On: []int{2}}
	r := &bench.Record{Scale: 640, Saddles: [][]int{{1, 2}}, Entries: []bench.Entry{
		aim, heard(at12, 30, 36), moved(5), heard(at12, 20, 22)}}
	m := ok(r.MoveRows())(t)[0]
	a, b := m.Slopes[0], m.Slopes[1]
	if !(a > 0.76 && a < 0.95 && b > 1.01 && b < 1.06) { // 10 and 14 of 13.2 cents, drawn towards 1
		t.Fatalf("got slopes of %v and %v, want some 0.9 and 1.02", a, b)
	}
	one, two := pairAt(640, 0, 0, 12, 20/a), pairAt(640, 0, 0, 12, (22-2)/b)
	best := together(one, two)
	diff(t, "move", mm(best), m.Move)
	left := []units.Cents{units.Cents(a * one.after(best)), units.Cents(b * two.after(best))}
	diff(t, "left", left, m.Left)
	diff(t, "wanted", []units.Cents{0, 2}, m.Wanted)
	diff(t, "set best", left, ok(r.CompareRows())(t)[1].Strings)

	// Where the move is not worth making, what was read is left, less what is wanted.
	r.Entries = append(r.Entries, heard(at12, 0.4, 2.7), heard(bench.How{At: 7}, -0.6, 0.3))
	m = ok(r.MoveRows())(t)[0]
	if !m.Inside() {
		t.Fatalf("got a move of %v, want it within %v", m.Move, m.Within)
	}
	diff(t, "left as it is", []units.Cents{-0.6, 0.7}, m.Left)
}

// A string read at two pairs of frets goes by the slope of the pair that was read
// first, and is unsteady where either is.
func TestSlopeOfTwoPairs(t *testing.T) {
	at7 := bench.How{At: 7}
	r := &bench.Record{Scale: 640, Entries: []bench.Entry{heard(at12, 30), heard(at7, 14), moved(5), heard(at12, 20), heard(at7, 9), heard(at7, 6)}}
	m := ok(r.MoveRows())(t)[0]
	learned := ok(intonation.Learn(intonation.Reading{String: 1, High: 12, Cents: 30}, []intonation.Round{{Moved: 5, Cents: 20}}, r.Division(), 640, 1))(t)
	diff(t, "slope", []float64{learned.Slope}, m.Slopes)
	diff(t, "unsteady", []int{1}, m.Unsteady)
	diff(t, "pairs", []bench.How{at12, at7}, m.Pairs)
	best := together(pairAt(640, 0, 0, 12, 20/m.Slopes[0]), pairAt(640, 0, 0, 7, 6/m.Slopes[0]))
	diff(t, "move", mm(best), m.Move)
	r.Entries = append(r.Entries, heard(at12, 23))
	diff(t, "unsteady at both", []int{1}, ok(r.MoveRows())(t)[0].Unsteady)
}

// What is wanted of cents holds for its own pair of frets and strings, and what was
// told last counts.
func TestTargets(t *testing.T) {
	aim := func(how bench.How, cs ...units.Cents) bench.Entry {
		return bench.Entry{Mood: bench.Want, Of: bench.Cents, How: how, Cents: cs}
	}
	at7 := bench.How{At: 7}
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		want    []units.Cents
	}{
		{"nothing", nil, []units.Cents{0, 0, 0, 0, 0, 0}},
		{"one for all", []bench.Entry{aim(at12, 2)}, []units.Cents{2, 2, 2, 2, 2, 2}},
		{"one each", []bench.Entry{aim(at12, 1, 2, 3, 4, 5, 6)}, []units.Cents{1, 2, 3, 4, 5, 6}},
		{"at another pair", []bench.Entry{aim(at7, 2)}, []units.Cents{0, 0, 0, 0, 0, 0}},
		{"of one string", []bench.Entry{on(aim(at12, 2), 3)}, []units.Cents{0, 0, 2, 0, 0, 0}},
		{"of some, alike", []bench.Entry{on(aim(at12, 2), 6, 3)}, []units.Cents{0, 0, 2, 0, 0, 2}},
		{"of some", []bench.Entry{on(aim(at12, 2, 3), 6, 3)}, []units.Cents{0, 0, 3, 0, 0, 2}},
		{"all, then one", []bench.Entry{aim(at12, 1), on(aim(at12, 2), 3)}, []units.Cents{1, 1, 2, 1, 1, 1}},
		{"one, then all", []bench.Entry{on(aim(at12, 2), 3), aim(at12, 1)}, []units.Cents{1, 1, 1, 1, 1, 1}},
		{"told before it was read", []bench.Entry{heard(at12, 0, 0, 0, 0, 0, 0), want(bench.Action, at12, 2), aim(at12, 3)}, []units.Cents{3, 3, 3, 3, 3, 3}},
	} {
		r := six(t, append(row.entries, heard(at12, 20, 20, 20, 20, 20, 20))...)
		r.Saddles = nil
		for i, m := range ok(r.MoveRows())(t) {
			diff(t, fmt.Sprint(row.what, ", string ", i+1), []any{row.want[i:][:1], mm(pairAt(640, 0, 0, 12, 20-float64(row.want[i])).move())}, []any{m.Wanted, m.Move})
		}
	}
}

// A saddle's strings count by their weights: what is left goes as one over them.
func TestWeights(t *testing.T) {
	r := six(t, heard(at12, 6, 9, 0, 8, 7, 1))
	r.Weights = []float64{0.5, 1, 0, nan, nan, 0.25}
	rows := ok(r.MoveRows())(t)
	for i, w := range [][2]units.Cents{{0.5, 1}, {1, 1}, {1, 0.25}} {
		left := rows[i].Left
		diff(t, fmt.Sprint("saddle ", i+1), w[0]*left[0], -w[1]*left[1])
		if left[0] == 0 {
			t.Errorf("saddle %d: got nothing left", i+1)
		}
	}
}
