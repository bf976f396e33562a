package bench_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// standing is one string with everything read as wanted, its cents at the pair
// asked for.
func standing(pair bench.How, after ...bench.Entry) *bench.Record {
	r := &bench.Record{Scale: 640, Frets: 22, Saddles: [][]int{{1}}}
	r.Entries = append([]bench.Entry{
		want(bench.Relief, relief1to14, 0.2), want(bench.Gap, gapHeld, 0.2), want(bench.Action, at12, 1.8),
		read(bench.Relief, relief1to14, 0.2), read(bench.Gap, gapHeld, 0.2), read(bench.Action, at12, 1.8), heard(pair, 0),
	}, after...)
	return r
}

// again lists the subjects that the record asks to read again, and fails on any
// other step but the closing one.
func again(t *testing.T, r *bench.Record) string {
	t.Helper()
	var out []string
	for _, s := range r.Next() {
		switch {
		case s.Reads && s.Why.String() == "something done since voids it":
			out = append(out, s.Of.String())
		case s.Why.String() != "all that was read is as wanted":
			t.Errorf("got step %q, because %q", s.Do, s.Why)
		}
	}
	return strings.Join(out, " ")
}

// What each thing done voids: the cells that say yes, or half of it, in the
// table of common practice, "If the row changes, the readings in its columns are
// stale". Cells that say slightly, maybe, or name a case do not void.
func TestStale(t *testing.T) {
	low := bench.How{At: 14, Low: 2}
	for _, row := range []struct {
		done        bench.Subject
		at12, lowAt string // what is void where cents were read at 12, and at 14 against 2
	}{
		{bench.Strings, "relief action gap cents", "relief action gap cents"},
		{bench.Rod, "relief action gap cents", "relief action gap cents"},
		{bench.Shim, "action cents", "action cents"},
		{bench.Slot, "action gap", "action gap cents"},
		{bench.Height, "action cents", "action cents"},
		{bench.Saddle, "cents", "cents"},
		{bench.Nut, "cents", "cents"},
		{bench.Crowns, "relief action gap cents", "relief action gap cents"},
		{bench.Pickup, "", ""},
		{bench.Room, "relief action", "relief action"},
	} {
		for pair, want := range map[bench.How]string{at12: row.at12, low: row.lowAt, {At: 14, Low: 1}: row.lowAt, {At: 14, Low: 3}: row.lowAt,
			{At: 14, Low: 4}: row.at12, {At: 3}: row.lowAt, {At: 4}: row.at12} {
			if got := again(t, standing(pair, did(row.done))); got != want {
				t.Errorf("did %v, cents at %v: got %q void, want %q", row.done, pair, got, want)
			}
			if got := again(t, standing(pair, did(row.done, 1))); got != want {
				t.Errorf("did %v on string 1, cents at %v: got %q void, want %q", row.done, pair, got, want)
			}
		}
		// What was done before the reading, or to be read afresh, voids nothing.
		r := standing(at12, did(row.done))
		r.Entries = append(r.Entries, r.Entries[3:7]...)
		if got := again(t, r); got != "" {
			t.Errorf("did %v, then all read again: got %q void, want nothing", row.done, got)
		}
		r.Entries = append(r.Entries[7:], r.Entries[:3]...)
		if got := again(t, r); got != "" {
			t.Errorf("did %v before all was read: got %q void, want nothing", row.done, got)
		}
	}
	if got := again(t, standing(at12)); got != "" {
		t.Errorf("nothing done: got %q void", got)
	}
}

// What was done to some strings voids theirs alone.
func TestStaleStrings(t *testing.T) {
	now := []bench.Entry{
		want(bench.Action, at12, 1.8), want(bench.Gap, gapHeld, 0.2), read(bench.Action, at12, 1.8, 1.8, 1.8, 1.8, 1.8, 1.8),
		read(bench.Gap, gapHeld, 0.2, 0.2, 0.2, 0.2, 0.2, 0.2), heard(at12, 0, 0, 0, 0, 0, 0),
	}
	for _, row := range []struct {
		done                []bench.Entry
		action, gaps, cents string
	}{
		{[]bench.Entry{moved(1.5, 1, 2)}, "[]", "[]", "[1 2]"},
		{[]bench.Entry{moved(1.5, 1, 2), on(heard(at12, 1), 2)}, "[]", "[]", "[1]"},
		{[]bench.Entry{moved(1.5, 1, 2), on(heard(at12, silent), 2)}, "[]", "[]", "[1 2]"},
		{[]bench.Entry{moved(1.5, 1, 2), heard(at12, 1, 1)}, "[]", "[]", "[]"},
		{[]bench.Entry{heard(at12, 1, 1), moved(1.5, 1, 2), moved(-1, 5, 6)}, "[]", "[]", "[1 2 5 6]"},
		{[]bench.Entry{moved(1.5)}, "[]", "[]", "[1 2 3 4 5 6]"},
		{[]bench.Entry{did(bench.Slot, 3)}, "[3]", "[3]", "[]"},
		{[]bench.Entry{did(bench.Height, 3, 4)}, "[3 4]", "[]", "[3 4]"},
		{[]bench.Entry{did(bench.Nut)}, "[]", "[]", "[1 2 3 4 5 6]"},
	} {
		r := six(t, slices.Concat(now, row.done)...)
		var action, cents []int
		for _, h := range ok(r.HeightRows())(t) {
			if h.Stale {
				action = append(action, h.String)
			}
		}
		for _, m := range ok(r.MoveRows())(t) {
			cents = append(cents, m.Unread...)
		}
		var gaps []int
		for _, s := range r.Next() {
			if s.Of == bench.Gap {
				gaps = append(gaps, s.On...)
			}
		}
		if got := fmt.Sprint(action, gaps, cents); got != row.action+" "+row.gaps+" "+row.cents {
			t.Errorf("%v: got strings %s void, want %s %s %s", row.done, got, row.action, row.gaps, row.cents)
		}
	}
}

// The place of a saddle is carried on by what it was moved: from the tail a
// saddle that went back reads less, from the nut more.
func TestPlace(t *testing.T) {
	tail, nut := bench.How{}, bench.How{From: bench.FromNut}
	places := func(from bench.How, ls ...units.Length) bench.Entry { return read(bench.Saddle, from, ls...) }
	for _, row := range []struct {
		told []bench.Entry
		want [3]units.Length // where they stand, since nothing is out of tune
	}{
		{nil, [3]units.Length{unread, unread, unread}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8)}, [3]units.Length{12.6, 12.1, 11.8}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), moved(1.5, 1, 2)}, [3]units.Length{11.1, 12.1, 11.8}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), moved(1.5, 1, 2), moved(-0.4, 1, 2)}, [3]units.Length{11.5, 12.1, 11.8}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), moved(1)}, [3]units.Length{11.6, 11.1, 10.8}},
		{[]bench.Entry{places(nut, 641, 642, 643), moved(1.5, 1, 2), moved(-0.5, 5, 6)}, [3]units.Length{642.5, 642, 642.5}},
		{[]bench.Entry{moved(1.5, 1, 2), places(tail, 12.6, 12.1, unread)}, [3]units.Length{12.6, 12.1, unread}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), moved(1.5, 1, 2), on(places(tail, 10.9), 1)}, [3]units.Length{10.9, 12.1, 11.8}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), on(places(nut, 642), 3), moved(1)}, [3]units.Length{11.6, 11.1, 643}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), on(places(tail, unread), 1)}, [3]units.Length{12.6, 12.1, 11.8}},
		{[]bench.Entry{on(places(tail, 12.6, 12.1, 11.8))}, [3]units.Length{12.6, 12.1, 11.8}}, // from saddle 1 on
		{[]bench.Entry{lengths(bench.Was, bench.Saddle, tail, 9, 9, 9)}, [3]units.Length{unread, unread, unread}},
		{[]bench.Entry{places(tail, 12.6, 12.1, 11.8), lengths(bench.Was, bench.Saddle, nut, 641, 641, 641)}, [3]units.Length{12.6, 12.1, 11.8}},
	} {
		r := six(t, append(row.told, heard(at12, 0, 0, 0, 0, 0, 0))...)
		var got [3]units.Length
		for i, m := range ok(r.MoveRows())(t) {
			got[i] = m.Calliper
		}
		diff(t, fmt.Sprint(row.told), row.want, got)
	}
}
