package bench_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Magnitudes that only a slip explains: each limit is right itself, and
// questioned just beyond (design notes, section 4).
func TestQuestions(t *testing.T) {
	from := func(d bench.Datum) bench.How { return bench.How{From: d} }
	for _, row := range []struct {
		told []bench.Entry
		want []string
	}{
		{[]bench.Entry{read(bench.Relief, relief1to14, 0.8), read(bench.Relief, relief1to14, -0.8), want(bench.Relief, relief1to14, 0.8)}, nil},
		{[]bench.Entry{read(bench.Relief, relief1to14, 0.81)}, []string{"relief is 0.81mm, beyond 0.8mm: a slip?"}},
		{[]bench.Entry{on(read(bench.Relief, relief1to14, -0.81), 0)}, []string{"relief is -0.81mm, beyond 0.8mm: a slip?"}},
		{[]bench.Entry{want(bench.Relief, relief1to14, 5)}, []string{"relief is 5.00mm, beyond 0.8mm: a slip?"}},
		{[]bench.Entry{read(bench.Gap, gapHeld, 0, 1.5, unread)}, nil},
		{[]bench.Entry{read(bench.Gap, gapHeld, 0.2, 1.51)}, []string{"gap of string 2 is 1.51mm, outside 0 to 1.5mm: a slip?"}},
		{[]bench.Entry{read(bench.Gap, gapOpen, -0.01)}, []string{"gap of string 1 is -0.01mm, outside 0 to 1.5mm: a slip?"}},
		{[]bench.Entry{read(bench.Action, at12, 0.4, 6, unread), read(bench.Action, bench.How{At: 7}, 0.1, 9, 9)}, nil},
		{[]bench.Entry{on(read(bench.Action, at12, 0.39, 6.01), 5, 3)},
			[]string{"action of string 5 is 0.39mm at the 12th, outside 0.4 to 6mm: a slip?", "action of string 3 is 6.01mm at the 12th, outside 0.4 to 6mm: a slip?"}},
		{[]bench.Entry{read(bench.Relief, bench.How{Held: [2]int{1, 19}, At: 12}, 0.1)}, nil},
		{[]bench.Entry{want(bench.Action, at12, 15)}, []string{"action is 15.00mm at the 12th, outside 0.4 to 6mm: a slip?"}},
		{[]bench.Entry{heard(at12, 50, -50, units.Cents(nan))}, nil},
		{[]bench.Entry{heard(at12, 0, 51, -51)}, []string{"cents of string 2 is +51c, beyond 50c: a slip?", "cents of string 3 is -51c, beyond 50c: a slip?"}},
		{[]bench.Entry{{Mood: bench.Was, Of: bench.Cents, How: at12, On: []int{4}, Cents: []units.Cents{70}}}, []string{"cents of string 4 is +70c, beyond 50c: a slip?"}},
		{[]bench.Entry{read(bench.Saddle, from(bench.FromNut), 638, 652, unread), read(bench.Saddle, from(bench.FromTail), 12, 30, 0)}, nil},
		{[]bench.Entry{read(bench.Saddle, from(bench.FromNut), 637.99, 652.01, 640)},
			[]string{"saddle 1 stands -2.01mm behind the scale line, outside -2 to 12mm: a slip?", "saddle 2 stands 12.01mm behind the scale line, outside -2 to 12mm: a slip?"}},
		{[]bench.Entry{{Mood: bench.Was, Of: bench.Strings, Gauges: set(t, "plain(0.8mm)", "plain(0.81mm)", "wound(4mm, 1mm)", "wound(4.1mm, 1mm)")}},
			[]string{"the string that was number 2 is 0.81mm thick, over 0.8mm: a slip?", "the string that was number 4 is 4.10mm thick, over 4mm: a slip?"}},
	} {
		diff(t, fmt.Sprint(row.told), row.want, (&bench.Record{Scale: 640, Entries: row.told}).Questions())
	}
	r := six(t)
	diff(t, "a usual set", []string(nil), r.Questions())
	r.Strings = set(t, "11p", "plain(0.8mm)", "plain(0.8001mm)", "28w", "wound(4mm, 1mm)", "wound(4.01mm, 1mm)")
	diff(t, "thick strings", []string{"string 3 is 0.80mm thick, over 0.8mm: a slip?", "string 6 is 4.01mm thick, over 4mm: a slip?"}, r.Questions())
	// With no scale told, a place from the nut says nothing.
	diff(t, "no scale", []string(nil), (&bench.Record{Entries: []bench.Entry{read(bench.Saddle, from(bench.FromNut), 700)}}).Questions())
}

// A tuning typed bass first leaves the thin strings at the low notes. Pull is
// rho pi d^2/4 (2 L f)^2: at 640 mm the 11 thou string at D2 pulls 4 N.
func TestTuningOrder(t *testing.T) {
	r := six(t)
	slices.Reverse(r.Tuning)
	d, f := 11*0.0254e-3, 440*math.Exp2((38-69)/12.0)
	least := 7850 * math.Pi * d * d / 4 * math.Pow(2*0.640*f, 2)
	got := r.Questions()
	if want := fmt.Sprintf("pulls run from %.0fN to ", least); len(got) != 1 || !strings.HasPrefix(got[0], want) || !strings.HasSuffix(got[0], "is the tuning listed from string 1, the treble edge?") {
		t.Errorf("got %q, want %q and so on", got, want)
	}
	if math.Abs(least-4.25) > 0.01 { // by hand: 0.4813e-3 x (1.28 x 73.42)^2
		t.Errorf("got %v N, want 4.25", least)
	}
	// Pulls of 1 to 11.5 as told, 1 to 1.1 turned: (18/10)^2 times or over 2^(11/6).
	if got := (&bench.Record{Scale: 640, Strings: set(t, "10p", "18p"), Tuning: tones(t, "E3", "D#4")}).Questions(); len(got) != 1 {
		t.Errorf("got %q, want the order questioned", got)
	}
	for _, row := range []struct {
		what           string
		strings, notes []string
	}{
		{"a high fifth string", []string{"10p", "12p", "16p", "23w", "10p"}, []string{"D4", "B3", "G3", "D3", "G4"}},
		{"one string", []string{"10p"}, []string{"E4"}},
		{"uneven either way", []string{"10p", "46w", "10p"}, []string{"E2", "E4", "E2"}},
		{"from the bass edge, throughout", []string{"46w", "10p"}, []string{"E2", "E4"}},
		// Pulls of 1 to 5.7 as told, 1 to 1.1 turned: (15/10)^2 times or over 2^(8/6).
		{"no great spread", []string{"10p", "15p"}, []string{"E3", "C4"}},
	} {
		r := &bench.Record{Scale: 640, Strings: set(t, row.strings...), Tuning: tones(t, row.notes...)}
		diff(t, row.what, []string(nil), r.Questions())
	}
}

// Where the pulls as told run over eight times, and four times as far as with the
// tuning turned round (our judgement), the order is questioned. Of two strings
// they run as the square of the gauges' ratio times, or over, that of the notes'.
func TestTuningOrderLimits(t *testing.T) {
	for _, row := range []struct {
		gauges, notes float64 // both squared
		want          bool
	}{
		{3, 8.1 / 3, true}, {3, 7.9 / 3, false}, // over 3.24/2.7 turned
		{8, 2.05, true}, {8, 1.95, false}, // 16.4 over 3.9, 15.6 over 4.1
		{1, 16, false}, // 16 either way
	} {
		thin := ok(tension.Plain(0.2, tension.Steel))(t)
		thick := ok(tension.Plain(units.Length(0.2*math.Sqrt(row.gauges)), tension.Steel))(t)
		r := &bench.Record{Scale: 640, Strings: []tension.String{thin, thick},
			Tuning: []bench.Tone{{Hertz: 200}, {Hertz: units.Frequency(200 * math.Sqrt(row.notes))}}}
		var want []string
		if row.want {
			low := pull(0.2/0.0254, 640, 200)
			want = []string{fmt.Sprintf("pulls run from %.0fN to %.0fN: is the tuning listed from string 1, the treble edge?", low, low*row.gauges*row.notes)}
		}
		diff(t, fmt.Sprint(row), want, r.Questions())
		slices.Reverse(r.Strings)
		slices.Reverse(r.Tuning)
		diff(t, fmt.Sprint(row, " from the other edge"), want, r.Questions())
	}
}

// A set listed from the bass with its tuning likewise: every string is thinner and
// higher than the one before.
func TestSetOrder(t *testing.T) {
	for _, row := range []struct {
		strings, notes []string
		want           bool
	}{
		{[]string{"46w", "36w", "10p"}, []string{"E2", "A2", "E4"}, true},
		{[]string{"10p", "36w", "46w"}, []string{"E4", "A2", "E2"}, false},
		{[]string{"46w", "10p"}, []string{"E2", "E4"}, false},                           // two say little
		{[]string{"46w", "36w", "36w"}, []string{"E2", "A2", "B2"}, false},              // one as thick as the one before
		{[]string{"46w", "36w", "26w"}, []string{"E2", "A2", "A2"}, false},              // one as high
		{[]string{"36w", "46w", "26w"}, []string{"E2", "A2", "D3"}, false},              // the first is not the thickest
		{[]string{"46w", "36w", "26w", "10p"}, []string{"E2", "A2", "D3", "C3"}, false}, // the last is not the highest
		{[]string{"46w", "36w", "10p"}, nil, false},
	} {
		r := &bench.Record{Strings: set(t, row.strings...), Tuning: tones(t, row.notes...)}
		var want []string
		if row.want {
			want = []string{"string 1 is the thickest and the lowest: is the set listed from the treble edge?"}
		}
		diff(t, fmt.Sprint(row), want, r.Questions())
	}
	// By the notes' own frequencies, whatever A4 is.
	r := &bench.Record{A4: 220, Strings: set(t, "46w", "36w", "26w"), Tuning: tones(t, "E2", "A2", "A3")}
	r.Tuning[2] = bench.Tone{Hertz: 100} // over A2 at 55 Hz
	diff(t, "a frequency", 1, len(r.Questions()))
}

// The limits of a scale, and of strings that are not of steel.
func TestQuestionsOfSizes(t *testing.T) {
	for scale, want := range map[units.Length][]string{0: nil, 250: nil, 1300: nil,
		249.4: {"the scale is 249.4mm, outside 250 to 1300mm: a slip?"}, 64: {"the scale is 64.0mm, outside 250 to 1300mm: a slip?"},
		1300.9: {"the scale is 1300.9mm, outside 250 to 1300mm: a slip?"}, 1301: {"the scale is 1301.0mm, outside 250 to 1300mm: a slip?"}} {
		diff(t, fmt.Sprint(scale), want, (&bench.Record{Scale: scale}).Questions())
	}
	r := &bench.Record{Strings: set(t, "nylon(1.2mm)", "nylon(1.21mm)", "fluorocarbon(0.81mm)", "fluorocarbon(1.3mm)", "plain(0.81mm)")}
	diff(t, "strings", []string{"string 2 is 1.21mm thick, over 1.2mm: a slip?", "string 4 is 1.30mm thick, over 1.2mm: a slip?", "string 5 is 0.81mm thick, over 0.8mm: a slip?"}, r.Questions())
	// All that is questioned is, in the order of the record; a plan's own scales are not the one scale.
	low := pull(0.2/0.0254, 1400, 100)
	r = &bench.Record{Scale: 1400, Strings: set(t, "plain(0.2mm)", "plain(0.9mm)"), Tuning: []bench.Tone{{Hertz: 100}, {Hertz: 400}}}
	diff(t, "tuning", []string{"string 2 is 0.90mm thick, over 0.8mm: a slip?",
		fmt.Sprintf("pulls run from %.0fN to %.0fN: is the tuning listed from string 1, the treble edge?", low, low*(4*4.5)*(4*4.5)),
		"the scale is 1400.0mm, outside 250 to 1300mm: a slip?"}, r.Questions())
	r = &bench.Record{Scale: 65, Strings: set(t, "plain(5mm)", "plain(4mm)", "plain(3mm)"), Tuning: tones(t, "E2", "F2", "G2"),
		Entries: []bench.Entry{heard(at12, 60), read(bench.Relief, relief1to14, 2)}}
	diff(t, "all", []string{"string 1 is 5.00mm thick, over 0.8mm: a slip?", "string 2 is 4.00mm thick, over 0.8mm: a slip?", "string 3 is 3.00mm thick, over 0.8mm: a slip?",
		"string 1 is the thickest and the lowest: is the set listed from the treble edge?", "the scale is 65.0mm, outside 250 to 1300mm: a slip?",
		"cents of string 1 is +60c, beyond 50c: a slip?", "relief is 2.00mm, beyond 0.8mm: a slip?"}, r.Questions())
}
