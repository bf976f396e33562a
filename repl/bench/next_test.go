package bench_test

import (
	"fmt"
	"strings"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

const (
	notRead = "not read yet"
	another = "it was read another way, and ways do not compare"
	voided  = "something done since voids it"
	right   = "all that was read is as wanted"
)

// steps gives every step of Next as what to do, why, and what to read again.
func steps(r *bench.Record) []string {
	var out []string
	for _, s := range r.Next() {
		line := s.Do.String() + " | " + s.Why.String()
		if len(s.Stale) > 0 {
			line += " | " + strings.Trim(fmt.Sprint(s.Stale), "[]")
		}
		out = append(out, line)
	}
	return out
}

func TestNext(t *testing.T) {
	silent := units.Cents(nan)
	again := "; step 1 will spoil this reading: read it again first"
	heights := func(ls ...units.Length) bench.Entry { return read(bench.Action, at12, ls...) }
	for _, row := range []struct {
		what string
		told []bench.Entry
		want []string
	}{
		{"everything off", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), want(bench.Action, at12, 1.5, 2.0), want(bench.Gap, gapHeld, 0.15),
			read(bench.Relief, relief1to14, 0.35), heights(1.5, 1.6, 1.7, 1.9, 1.95, 2),
			// 0.03 over is right, 0.05 a matter of strokes; a gap that is too low is not cut.
			read(bench.Gap, gapHeld, 0.18, 0.20, 0.21, 0.15, 0.05, 0.15), heard(at12, 7, 7, 0.5, 0.5, -7, -7),
		}, []string{
			"tighten the rod, an eighth of a turn at a time | relief reads 0.35mm, 0.20mm wanted | relief gap action cents",
			// 0.1 mm at the 12th is 0.2 at the saddle.
			"set the heights of string 4 at the saddle: down 0.20mm | more than 0.05mm from what is wanted" + again + " | action cents",
			"lower the nut slots of string 3, stopping early: stop where the gap reads 0.20mm | the gap at the first fret is more than 0.05mm over what is wanted" + again + " | gap action",
			"finish the nut slots of string 2 by single strokes, string up, reading after each | the gap at the first fret is still more than 0.03mm over what is wanted" + again + " | gap action",
			// L (X - 1)/(2 - X): 640 mm, 7 cents sharp is 2.604 mm back, flat 2.573 forward.
			"move saddle 1+2 back 2.6mm, retune, read again | its strings are out of tune" + again + " | cents",
			"move saddle 5+6 forward 2.6mm, retune, read again | its strings are out of tune" + again + " | cents",
		}},
		{"only what is done to a saddle's own strings casts doubt on it", []bench.Entry{
			want(bench.Action, at12, 1.5), heights(1.5, 1.5, 1.7, 1.5, 1.5, 1.5), heard(at12, 0, 0, 7, 7, 7, 7), heard(bench.How{At: 2}, 0, 0, 0, 0, 0, 0),
			want(bench.Gap, gapHeld, 0.15), read(bench.Gap, gapHeld, 0.15, 0.15, 0.15, 0.15, 0.15, 0.25),
		}, []string{
			"set the heights of string 3 at the saddle: down 0.40mm | more than 0.05mm from what is wanted | action cents",
			// Cents read at fret 2 are lost with the slot.
			"lower the nut slots of string 6, stopping early: stop where the gap reads 0.20mm | the gap at the first fret is more than 0.05mm over what is wanted | gap action cents",
			"move saddle 3+4 back 2.3mm, retune, read again | its strings are out of tune at fret 12 against the open string, and at fret 2 against the open string" + again + " | cents",
			"move saddle 5+6 back 2.3mm, retune, read again | its strings are out of tune at fret 12 against the open string, and at fret 2 against the open string; step 2 will spoil this reading: read it again first | cents",
		}},
		{"what is to be read rests on nothing", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, relief1to14, 0.10), want(bench.Action, at12, 1.5), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"loosen the rod, an eighth of a turn at a time | relief reads 0.10mm, 0.20mm wanted | relief action cents",
			"read action at fret 12 on strings 1 2 3 4 5 6 | " + notRead,
		}},
		{"nothing to do", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, relief1to14, 0.25), want(bench.Action, at12, 1.5), heights(1.45, 1.55, 1.5, 1.5, 1.5, 1.5),
			want(bench.Gap, gapHeld, 0.15), read(bench.Gap, gapHeld, 0.15, 0.18, 0.1, 0.15, 0.05, 0.15), heard(at12, .9, .9, .9, .9, -.9, -.9),
		}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		{"nothing read", []bench.Entry{want(bench.Relief, relief1to14, 0.20), want(bench.Action, at12, 1.5), want(bench.Gap, gapHeld, 0.15),
			// How it came in is no reading.
			lengths(bench.Was, bench.Relief, relief1to14, 0.20), lengths(bench.Was, bench.Action, at12, 1.5, 1.5, 1.5, 1.5, 1.5, 1.5),
		}, []string{
			"read relief, frets 1 and 14 held, at fret 7 | " + notRead,
			"read action at fret 12 on strings 1 2 3 4 5 6 | " + notRead,
			"read the gap at the first fret, held at 3, on strings 1 2 3 4 5 6 | " + notRead,
			"read cents at fret 12 against the open string on strings 1 2 3 4 5 6 | " + notRead,
		}},
		{"nothing wanted: the odd string unread, the rest void", []bench.Entry{
			heights(1.5, 1.5, unread, 1.5, 1.5, 1.5), read(bench.Gap, gapOpen, 0.5, 0.5, 0.5, 0.5, unread, 0.5), read(bench.Relief, bench.How{Held: [2]int{1}, At: 8}, 0.2),
			heard(at12, 0, 0, 0, 0, 0, silent), did(bench.Room),
		}, []string{
			"read relief, fret 1 held, at fret 8 | " + voided,
			"read action at fret 12 on strings 1 2 4 5 6 | " + voided,
			"read action at fret 12 on string 3 | " + notRead,
			"read the gap at the first fret, string open, on string 5 | " + notRead,
			"read cents at fret 12 against the open string on string 6 | " + notRead,
		}},
		{"read another way", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, bench.How{Held: [2]int{15, 20}, At: 17}, 0.8), want(bench.Gap, bench.How{Held: [2]int{5}, At: 1}, 0.15),
			read(bench.Gap, gapOpen, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5), want(bench.Action, at12, 1.5), read(bench.Action, bench.How{At: 7}, 9, 9, 9, 9, 9, 9), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"read relief, frets 1 and 14 held, at fret 7 | " + another,
			"read action at fret 12 on strings 1 2 3 4 5 6 | " + another,
			"read the gap at the first fret, held at 5, on strings 1 2 3 4 5 6 | " + another,
		}},
		// The ways of bench_rules.md, row 22: 1 and 12 at 6 reads 0.64 of the bow, 1 and
		// 14 at 7 reads 0.80.
		{"relief read another way that shows it", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, bench.How{Held: [2]int{1, 12}, At: 6}, 0.32), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"tighten the rod, an eighth of a turn at a time | relief reads 0.40mm, worked out from another way of reading it, 0.20mm wanted | relief cents",
		}},
		{"and one that is right", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, bench.How{Held: [2]int{0, 12}, At: 6, Edge: true}, 0.20), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		// On this neck a slot of 0.5 mm shows 0.243 held at 3 and, 4 mm less the slot
		// at the saddle, 0.472 + 0.196 open: the newest reading counts, however taken.
		{"a gap read another way since", []bench.Entry{
			want(bench.Gap, gapHeld, 0.24), want(bench.Action, at12, 2), heights(2, 2, 2, 2, 2, 2), read(bench.Gap, gapHeld, 0.4, 0.4, 0.4, 0.4, 0.4, 0.4),
			read(bench.Gap, gapOpen, 0.668, 0.668, 0.668, 0.668, 0.668, 0.668), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		{"relief read another way since", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, relief1to14, 0.4), read(bench.Relief, bench.How{Held: [2]int{0, 12}, At: 6, Edge: true}, 0.20), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		{"wanted at two frets, and of one string alone", []bench.Entry{
			on(want(bench.Action, at12, 1.5), 2), on(want(bench.Action, bench.How{At: 7}, 1), 5), on(want(bench.Gap, gapHeld, 0.1), 4),
			on(read(bench.Action, at12, 1.7), 2), on(read(bench.Gap, gapHeld, 0.2), 4), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"read action at fret 12 on strings 1 3 4 6 | " + notRead,
			"read action at fret 7 on string 5 | " + notRead,
			"set the heights of string 2 at the saddle: down 0.40mm | more than 0.05mm from what is wanted | action cents",
			"read the gap at the first fret, held at 3, on strings 1 2 3 5 6 | " + notRead,
			"lower the nut slots of string 4, stopping early: stop where the gap reads 0.15mm | the gap at the first fret is more than 0.05mm over what is wanted | gap action",
		}},
		{"cents as they were read", []bench.Entry{
			heard(at12, 0, 0, 0, silent, 0, silent), on(heard(bench.How{At: 12, Harmonic: true}, 0), 3), on(heard(bench.How{Low: 2, At: 14}, 0), 4), moved(1, 3, 4),
		}, []string{
			"read cents at fret 12 against the open string on string 3 | " + voided,
			"read cents at fret 12 against the open string's harmonic on string 3 | " + voided,
			"read cents at fret 14 against fret 2 on string 4 | " + voided,
			"read cents at fret 14 against fret 2 on string 6 | " + notRead,
		}},
		{"half a saddle read", []bench.Entry{heard(at12, 7, silent, 0, 0, 0, 0)}, []string{
			"read cents at fret 12 against the open string on string 2 | " + notRead,
			"move saddle 1+2 back 2.6mm, retune, read again | its strings are out of tune; string 2 on the same saddle not read | cents",
		}},
		{"a saddle at its limit", []bench.Entry{heard(at12, 0, 0, 7, 7, 7, 7), read(bench.Saddle, bench.How{}, 12, 8, 12)}, []string{
			"saddle 3+4 stands at its limit: it needs another way, as moves lists | its strings are out of tune; its best place lies 2.6mm past its travel",
			"move saddle 5+6 back 2.6mm, retune, read again | its strings are out of tune | cents",
		}},
		{"at its limit by little", []bench.Entry{heard(at12, 2, 2, 0, 0, 0, 0), read(bench.Saddle, bench.How{}, 8, 12, 12)}, []string{
			"saddle 1+2 stands at its limit: it needs another way, as moves lists | its strings are out of tune; its best place lies 0.7mm past its travel",
		}},
		{"something to read before what is doubted", []bench.Entry{
			want(bench.Relief, relief1to14, 0.20), read(bench.Relief, relief1to14, 0.35), want(bench.Action, at12, 1.5), heights(1.9, unread, 1.5, 1.5, 1.5, 1.5), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"tighten the rod, an eighth of a turn at a time | relief reads 0.35mm, 0.20mm wanted | relief action cents",
			"read action at fret 12 on string 2 | " + notRead,
			"set the heights of string 1 at the saddle: down 0.80mm | more than 0.05mm from what is wanted" + again + " | action cents",
		}},
		{"a gap read in a way that shows no slot", []bench.Entry{
			want(bench.Gap, gapHeld, 0.24), read(bench.Gap, bench.How{Held: [2]int{5}, At: 1}, .5, .5, .5, .5, .5, .5), want(bench.Action, at12, 2), heights(2, 2, 2, 2, 2, 2), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"read the gap at the first fret, held at 3, on strings 1 2 3 4 5 6 | " + another}},
		{"cents against the first fret", []bench.Entry{heard(bench.How{At: 13, Low: 1}, 0, 0, 0, 0, 0, silent)}, []string{
			"read cents at fret 13 against fret 1 on string 6 | " + notRead,
		}},
		{"unsteady", []bench.Entry{heard(at12, 7, 7, 9, 0, 0, 0), heard(at12, 7, 7, 7, 0, 0, 0), on(heard(at12, 12), 1)}, []string{
			"move saddle 1+2 back 3.5mm, retune, read again | its strings are out of tune; string 1 read differently at one setting: suspect the string or the finger | cents",
			"move saddle 3+4 back 1.3mm, retune, read again | its strings are out of tune; string 3 read differently at one setting: suspect the string or the finger | cents",
		}},
		{"at one pair of frets that is not the usual one", []bench.Entry{heard(bench.How{At: 12, Harmonic: true}, 7, 7, 0, 0, 0, 0)}, []string{
			"move saddle 1+2 back 2.6mm, retune, read again | its strings are out of tune at fret 12 against the open string's harmonic | cents",
		}},
		{"read another way, and void", []bench.Entry{
			want(bench.Gap, gapHeld, 0.24), want(bench.Action, at12, 2), heights(2, 2, 2, 2, 2, 2), read(bench.Gap, gapOpen, 0.668, 0.668, 0.668, 0.668, 0.668, 0.668),
			did(bench.Slot, 2, 3), on(heights(2, 2), 2, 3), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"read the gap at the first fret, held at 3, on strings 2 3 | " + another}},
		{"a gap read another way, and no side view", []bench.Entry{
			want(bench.Gap, bench.How{Held: [2]int{3}, At: 1, Alone: true}, 0.24), read(bench.Gap, gapOpen, 0.668, 0.668, 0.668, 0.668, 0.668, 0.668), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{"read the gap at the first fret, pressed on crown 3 alone, on strings 1 2 3 4 5 6 | " + another}},
		{"by single strokes and more", []bench.Entry{
			want(bench.Gap, gapHeld, 0.1), read(bench.Gap, gapHeld, 0.131, 0.129, 0.149, 0.151, 0.05, 0.3), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"lower the nut slots of strings 4 6, stopping early: stop where the gap reads 0.15mm | the gap at the first fret is more than 0.05mm over what is wanted | gap",
			"finish the nut slots of strings 1 3 by single strokes, string up, reading after each | the gap at the first fret is still more than 0.03mm over what is wanted | gap",
		}},
		{"gaps as they were read last", []bench.Entry{
			on(read(bench.Gap, gapOpen, 0.5), 1), on(read(bench.Gap, gapHeld, 0.2), 2), heard(at12, 0, 0, 0, 0, 0, 0),
		}, []string{
			"read the gap at the first fret, held at 3, on string 1 | " + another,
			"read the gap at the first fret, held at 3, on strings 3 4 5 6 | " + notRead,
		}},
		{"past its travel", []bench.Entry{heard(at12, 7, 7, 0, 0, 0, 0), read(bench.Saddle, bench.How{}, 9, 12, 12)}, []string{
			"move saddle 1+2 back 1.0mm, retune, read again | its strings are out of tune; its best place lies 1.6mm past its travel | cents",
		}},
	} {
		r := six(t, row.told...)
		r.Travel = [2]units.Length{8, 16}
		diff(t, row.what, row.want, steps(r))
	}
}

// Records of other kinds.
func TestNextOther(t *testing.T) {
	for _, row := range []struct {
		what string
		r    *bench.Record
		want []string
	}{
		{"empty", &bench.Record{}, nil},
		{"a scale alone", &bench.Record{Scale: 640}, nil},
		{"relief alone", &bench.Record{Entries: []bench.Entry{want(bench.Relief, bench.How{At: 7}, 0.2)}}, []string{"read relief, no fret held, at fret 7 | " + notRead}},
		{"wanted before the strings are told", &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5)}}, nil},
		{"no scale", &bench.Record{Entries: []bench.Entry{heard(at12, 3)}}, []string{"tell the scale, as in scale: 648mm | nothing can be worked out from cents without it"}},
		{"no radius for the curve", &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5), want(bench.Curve, bench.How{}, 300), read(bench.Action, at12, 3, 3)}},
			[]string{"tell the radius, as in radius: 10in 14in | nothing can be worked out from action without it"}},
		{"what cannot be", &bench.Record{Frets: -1}, []string{"correct the record | got -1 frets, want 1 to 60"}},
		{"relief under a straightedge", &bench.Record{Entries: []bench.Entry{want(bench.Relief, edge, 0.2)}}, []string{"read relief, straightedge from fret 0 to 14, at fret 7 | " + notRead}},
		{"relief under one from fret 1", &bench.Record{Entries: []bench.Entry{want(bench.Relief, bench.How{Held: [2]int{1, 15}, At: 7, Edge: true}, 0.2)}}, []string{"read relief, straightedge from fret 1 to 15, at fret 7 | " + notRead}},
		{"relief read and not wanted", &bench.Record{Entries: []bench.Entry{read(bench.Relief, relief1to14, 0.9)}}, nil},
		{"a curve alone", &bench.Record{Tuning: tones(t, "E4", "B3"), Entries: []bench.Entry{want(bench.Curve, bench.How{}, 300)}}, nil},
		{"heights before the strings are told", &bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1, 2, 3)}}, nil},
		{"one string, right", &bench.Record{Entries: []bench.Entry{want(bench.Gap, gapHeld, 0.15), read(bench.Gap, gapHeld, 0.15)}}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		{"strings, and frets not told", &bench.Record{Scale: 640, Saddles: [][]int{{1}}}, []string{"read cents at fret 12 against the open string on string 1 | " + notRead}},
		{"a radius too small for the curve", six(t, want(bench.Action, at12, 1.5), want(bench.Curve, bench.How{}, 25), read(bench.Action, at12, 3, 3, 3, 3, 3, 3), heard(at12, 0, 0, 0, 0, 0, 0)),
			[]string{"correct the record | got a radius of 25mm at the saddles, want more than 25mm to span the outer strings"}},
		{"levels beyond all sense", six(t, want(bench.Gap, gapHeld, 0.3), read(bench.Gap, gapOpen, .5, .5, .5, .5, .5, .5), read(bench.Action, at12, 1.7e308, 2, 2, 2, 2, 2), heard(at12, 0, 0, 0, 0, 0, 0)), []string{"read the gap at the first fret, held at 3, on string 1 | " + another}},
		{"a short neck", &bench.Record{Scale: 640, Frets: 10, Saddles: [][]int{{1}}}, []string{"read cents at fret 10 against the open string on string 1 | " + notRead}},
		{"within the tuner's error", &bench.Record{Scale: 640, Entries: []bench.Entry{heard(at12, 0.99)}}, []string{"play every fret of every string; let it settle; read everything once more | " + right}},
		{"outside it", &bench.Record{Scale: 640, Entries: []bench.Entry{heard(at12, 1.01)}}, []string{"move saddle 1 back 0.4mm, retune, read again | its strings are out of tune | cents"}},
	} {
		diff(t, row.what, row.want, steps(row.r))
	}
}

// The rod goes by relief alone: too much is tightened out, too little let in,
// 0.05 mm either way is right.
func TestRod(t *testing.T) {
	for _, row := range []struct {
		read, want units.Length
		do         string
	}{
		{0.35, 0.20, "tighten"}, {0.2501, 0.20, "tighten"}, {0.25, 0.20, "play"}, {0.15, 0.20, "play"}, {0.1499, 0.20, "loosen"}, {-0.1, 0.20, "loosen"}, {0, -0.1, "tighten"},
	} {
		r := &bench.Record{Entries: []bench.Entry{want(bench.Relief, relief1to14, row.want), read(bench.Relief, relief1to14, row.read)}}
		if got := r.Next(); len(got) != 1 || !strings.HasPrefix(got[0].Do.String(), row.do) || (got[0].Caution == bench.CautionRod) != (row.do != "play") {
			t.Errorf("%v read, %v wanted: got %+v, want to %s", row.read, row.want, got, row.do)
		}
	}
	for _, relief := range [][]bench.Entry{
		nil,
		{read(bench.Relief, relief1to14, 0.9)},
		{want(bench.Relief, relief1to14, 0.2)},
		{want(bench.Relief, relief1to14, 0.2), read(bench.Relief, relief1to14, 0.22)},
		{want(bench.Relief, relief1to14, 0.2), read(bench.Relief, bench.How{Held: [2]int{1, 12}, At: 6}, 0.16)},
		{want(bench.Relief, relief1to14, 0.2), read(bench.Relief, bench.How{Held: [2]int{15, 20}, At: 17}, 0.9)},
		{want(bench.Relief, relief1to14, 0.2), read(bench.Relief, relief1to14, 0.9), did(bench.Rod)},
	} {
		for _, h := range []units.Length{0.3, 1, 2, 5} {
			raised := false
			for _, s := range six(t, append(relief, want(bench.Action, at12, 1.5), read(bench.Action, at12, h, h, h, h, h, h))...).Next() {
				raised = raised || s.Of == bench.Height
				if s.Of == bench.Rod || strings.Contains(s.Do.String(), "rod") {
					t.Errorf("action of %v, with %v: got %q, want no rod", h, relief, s.Do)
				}
			}
			if !raised {
				t.Errorf("action of %v, with %v: got no step for the heights", h, relief)
			}
		}
	}
}

// Each step carries its caution, readings of cents theirs once, and says which
// strings it is about.
func TestStepCautions(t *testing.T) {
	r := six(t, want(bench.Relief, relief1to14, 0.2), read(bench.Relief, relief1to14, 0.1), want(bench.Action, at12, 1.5), read(bench.Action, at12, 2, unread, 1.5, 1.5, 1.5, 1.5),
		want(bench.Gap, gapHeld, 0.15), read(bench.Gap, gapHeld, 0.15, 0.15, unread, 0.25, 0.15, 0.15), heard(at12, 7, 7, 7, 7, 7, 7), did(bench.Nut, 5), on(heard(at12, units.Cents(nan)), 6))
	r.Entries = append(r.Entries, bench.Entry{Mood: bench.Did, Of: bench.Nut, On: []int{6}}, on(heard(bench.How{At: 19}, 7), 6), did(bench.Nut, 6))
	type step struct {
		Of      bench.Subject
		On      []int
		Reads   bool
		Caution string
	}
	var got []step
	for _, s := range r.Next() {
		got = append(got, step{s.Of, s.On, s.Reads, s.Caution})
	}
	diff(t, "cautions", []step{
		{bench.Rod, nil, false, bench.CautionRod},
		{bench.Action, []int{2}, true, ""},
		{bench.Height, []int{1}, false, bench.CautionHeights},
		{bench.Gap, []int{3}, true, ""},
		{bench.Slot, []int{4}, false, bench.CautionSlot},
		{bench.Cents, []int{5, 6}, true, bench.CautionPickup},
		{bench.Cents, []int{6}, true, ""},
		{bench.Saddle, []int{1, 2}, false, bench.CautionSaddle},
		{bench.Saddle, []int{3, 4}, false, bench.CautionSaddle},
	}, got)
}

// What keeps a thing from being worked out stands as a step that only reads.
func TestStuckSteps(t *testing.T) {
	for _, row := range []struct {
		r  *bench.Record
		of bench.Subject
	}{
		{&bench.Record{Frets: -1}, bench.Relief},
		{&bench.Record{Entries: []bench.Entry{heard(at12, 3)}}, bench.Cents},
		{six(t, heard(at12, 1200, 0, 0, 0, 0, 0)), bench.Cents},
		{&bench.Record{Entries: []bench.Entry{want(bench.Action, at12, 1.5), want(bench.Curve, bench.How{}, 300), read(bench.Action, at12, 3, 3)}}, bench.Action},
		{&bench.Record{Scale: 640, Entries: []bench.Entry{want(bench.Relief, edge, 0.2), read(bench.Relief, edge, 0.2)}}, bench.Relief}, // and so does the last
	} {
		got := row.r.Next()
		if len(got) != 1 {
			t.Fatalf("%+v: got %d steps, want 1", row.r, len(got))
		}
		s := got[0]
		if s.Of != row.of || !s.Reads || s.On != nil || s.Stale != nil || s.Tool != "" || s.Caution != "" {
			t.Errorf("got %+v, want a step of %v that only reads", s, row.of)
		}
	}
}

// Where screws raise the saddles, what is done to heights can be put back.
func TestHeightCaution(t *testing.T) {
	for _, row := range []struct {
		change  func(*bench.Record)
		caution string
		tool    string
	}{
		{func(r *bench.Record) {}, bench.CautionHeights, "feeler leaves"},
		{func(r *bench.Record) { r.HeightScrew = 0.5 }, "", "the height screws' own key, feeler leaves"},
		{func(r *bench.Record) { r.ScrewGap = 14 }, "", "the height screws' own key, feeler leaves"},
		{func(r *bench.Record) { r.PostGap = 74 }, "", "the height screws' own key, feeler leaves"},
		{func(r *bench.Record) { r.Stands = [2]units.Length{9, 9} }, bench.CautionHeights, "abrasive on a flat plate, feeler leaves"},
		{func(r *bench.Record) { r.Stands = [2]units.Length{0, 9} }, bench.CautionHeights, "abrasive on a flat plate, feeler leaves"},
	} {
		r := with(six(t, want(bench.Action, at12, 1.5), read(bench.Action, at12, 2, 2, 2, 2, 2, 2)), row.change)
		s := r.Next()[0]
		diff(t, "height", []any{bench.Height, all(6), false, row.caution, row.tool}, []any{s.Of, s.On, s.Reads, s.Caution, s.Tool})
	}
}

// A gap that is void is not worked out from a slot that was told: it has to be read.
func TestVoidGapIsRead(t *testing.T) {
	r := six(t, want(bench.Gap, gapHeld, 0.24), read(bench.Gap, gapOpen, .6, .6, .6, .6, .6, .6), did(bench.Slot), read(bench.Action, at12, 2, 2, 2, 2, 2, 2), heard(at12, 0, 0, 0, 0, 0, 0))
	r.NutHeights = []units.Length{0.5}
	diff(t, "void", []string{"read the gap at the first fret, held at 3, on strings 1 2 3 4 5 6 | " + another}, steps(r))
}
