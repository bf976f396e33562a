package bench_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// slotted is a flat instrument whose every string differs in what a prediction
// rests on; nothing is heard yet.
func slotted(t *testing.T, entries ...bench.Entry) *bench.Record {
	r := flat(t, append([]bench.Entry{read(bench.Relief, edge, 0.3), read(bench.Action, at12, 1.5, 1.6, 1.7, 1.8, 1.9, 2)}, entries...)...)
	r.NutHeights = []units.Length{0.40, 0.44, 0.48, unread, 0.56, 0.60}
	r.AfterLengths = []units.Length{60, 70, 80, 90, unread, 110}
	r.Plan.Nut = []units.Length{0.1, unread, 0.3, 0.2, 0, 0.4}
	r.Staggers = []units.Length{0.2, 0, unread, 0.7, 0, 0.5}
	r.Finger = intonation.Finger{Carry: 5}
	return r
}

// necked is the neck of slotted, written down again: its saddles at setbacks.
func necked(t *testing.T, saddles [3]float64) intonation.Neck {
	d := ok(fret.Equal(units.Octave, 12, 22))(t)
	// The parabola of 0.3 mm under a straightedge from the nut to 14, at the 7th.
	bow := ok(action.Usual(d, 640).Reading(0.3, action.Way{Far: 14, At: 7}, d, 640))(t)
	n := intonation.Neck{Division: d, Scale: 640, Relief: bow, Finger: intonation.Finger{Carry: 5}}
	nut := []float64{0.40, 0.44, 0.48, 0.5, 0.56, 0.60} // what is not told is taken as 0.5
	hertz := []float64{5, 0, -4, -9, -14, -19}          // D4 A3 F3 C3 G2 D2, in semitones above A3
	for i, s := range set(t, "11p", "14p", "18p", "28w", "38w", "49w") {
		least := ok(s.Breaking())(t)
		over := 1.5 + 0.1*float64(i) - float64(bow.Drop(320)) // the plane of the frets at the 12th, half way
		n.Courses = append(n.Courses, intonation.Course{
			UnitWeight: s.UnitWeight, Stretch: s.Stretch, Bend: s.Bend, Breaks: least, Fixity: 1,
			Open:      units.Frequency(220 * math.Exp2(hertz[i]/12)),
			NutHeight: mm(nut[i]), Rise: mm(2 * (over - nut[i])), NutSetback: []units.Length{-0.1, 0, -0.3, -0.2, 0, -0.4}[i],
			AfterLength: []units.Length{60, 70, 80, 90, 0, 110}[i],
			Setback:     mm(saddles[i/2] + []float64{0.2, 0, 0, 0.7, 0, 0.5}[i]),
		})
	}
	return n
}

// notes are the cents of some strings at every fret.
func notes(m *intonation.Model, strs ...int) (out [][]units.Cents) {
	for _, s := range strs {
		var row []units.Cents
		for f := 1; f <= 22; f++ {
			row = append(row, m.Cents(s, f))
		}
		out = append(out, row)
	}
	return out
}

// ends are the sharpest note and the flattest.
func ends(notes [][]units.Cents) (flat, sharp float64) {
	flat, sharp = math.Inf(1), math.Inf(-1)
	for _, row := range notes {
		for _, c := range row {
			flat, sharp = math.Min(flat, float64(c)), math.Max(sharp, float64(c))
		}
	}
	return flat, sharp
}

// start halves the interval that holds the setback at which the sharpest note of
// some strings is as far out as the flattest; each then breaks so much further
// back.
func start(t *testing.T, n intonation.Neck, strs []int, further ...float64) float64 {
	near, far := -5.0, 15.0
	for range 45 {
		mid := (near + far) / 2
		for i, s := range strs {
			n.Courses[s-1].Setback = mm(mid + further[i])
		}
		if flat, sharp := ends(notes(ok(intonation.NewModel(n))(t), strs...)); flat+sharp > 0 {
			near = mid
		} else {
			far = mid
		}
	}
	return (near + far) / 2
}

// Saddles that were read from the nut stand there; the others where the notes of
// their strings come out least far off, staggers counted.
func TestPredict(t *testing.T) {
	fromNut := bench.How{From: bench.FromNut}
	for _, row := range []struct {
		what  string
		read  []bench.Entry
		known [3]bool
	}{
		{"all read", []bench.Entry{read(bench.Saddle, fromNut, 641, 642, 643)}, [3]bool{true, true, true}},
		{"the last read", []bench.Entry{read(bench.Saddle, fromNut, unread, unread, 643)}, [3]bool{false, false, true}},
		{"the middle one read", []bench.Entry{on(read(bench.Saddle, fromNut, 642), 2)}, [3]bool{false, true, false}},
		{"from the tail", []bench.Entry{read(bench.Saddle, bench.How{}, 12, 12, 12)}, [3]bool{}},
	} {
		n := necked(t, [3]float64{1, 2, 3})
		further := [][]float64{{0.2, 0}, {0, 0.7}, {0, 0.5}}
		var known []bool
		for i := range 3 {
			known = append(known, row.known[i], row.known[i])
			if strs := []int{2*i + 1, 2*i + 2}; !row.known[i] {
				at := start(t, n, strs, further[i]...)
				for j, s := range strs {
					n.Courses[s-1].Setback = mm(at + further[i][j])
				}
			}
		}
		want := notes(ok(intonation.NewModel(n))(t), all(6)...)
		p := ok(slotted(t, row.read...).Predict())(t)
		diff(t, row.what+": the model's", want, notes(p.Model, all(6)...))
		diff(t, row.what+": known", known, p.Known)
		diff(t, row.what+": fits", make([]*intonation.Fit, 6), p.Fits)
		var got [][]units.Cents
		for _, notes := range p.Notes {
			var row []units.Cents
			for _, n := range notes {
				if !math.IsNaN(float64(n.Band)) {
					t.Errorf("got a note of %+v, want no band where nothing was heard", n)
				}
				row = append(row, n.Cents)
			}
			got = append(got, row)
		}
		diff(t, row.what, want, got)
		diff(t, row.what+": assumed", []string{"strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"}, texts(p.Assumed))
	}
}

// One height at the nut, and one after-length, stand for all strings; what was told
// of temper is not gone by.
func TestPredictOneForAll(t *testing.T) {
	r, each := flat(t), flat(t)
	r.NutHeights, r.AfterLengths = []units.Length{0.4}, []units.Length{60}
	each.NutHeights, each.AfterLengths = slices.Repeat(r.NutHeights, 6), slices.Repeat(r.AfterLengths, 6)
	r.Plan.Temper.Degrees = fret.Just()
	one, six := ok(r.Predict())(t), ok(each.Predict())(t)
	diff(t, "one and each", six.Notes, one.Notes)
	diff(t, "assumed", []string{"frets straight across, whatever was told of temper"}, texts(one.Assumed))
	diff(t, "not assumed", []string(nil), texts(six.Assumed))
	if plain := ok(flat(t).Predict())(t); cmp.Equal(plain.Notes, one.Notes, closely) {
		t.Error("got the same notes with nothing told, want others")
	}
}

// A string stands where it was read last above the first fret, if that reading
// stands; else where it is wanted.
func TestPredictHeights(t *testing.T) {
	at := func(f int) bench.How { return bench.How{At: f} }
	reads := func(how bench.How, h units.Length) bench.Entry { return read(bench.Action, how, h, h, h, h, h, h) }
	wanted := want(bench.Action, at12, 1.5)
	for _, row := range []struct {
		what    string
		entries []bench.Entry
		h       float64 // half way, over the 12th; the slots are 0.5 mm high
		as      bool    // wanted
	}{
		{"read last", []bench.Entry{wanted, reads(at12, 1.8), reads(at12, 1.7)}, 1.7, false},
		{"read so again", []bench.Entry{wanted, reads(at12, 1.8), reads(at(7), 1.2), reads(at12, 1.7)}, 1.7, false},
		{"at the first", []bench.Entry{wanted, reads(at12, 1.8), reads(at(1), 0.7)}, 1.8, false},
		{"at the second", []bench.Entry{wanted, reads(at12, 1.8), reads(at(2), units.Length(0.5+1.1*share(2)/0.5))}, 1.6, false},
		{"void", []bench.Entry{wanted, reads(at12, 1.8), did(bench.Height)}, 1.5, true},
		{"read again", []bench.Entry{wanted, reads(at12, 1.8), did(bench.Height), reads(at(7), units.Length(0.5+1.1*share(7)/0.5))}, 1.6, false},
	} {
		r := flat(t)
		r.NutHeights = []units.Length{0.5}
		r.Entries = append(r.Entries[:1], row.entries...)
		like := flat(t)
		like.NutHeights = r.NutHeights
		like.Entries[1] = reads(at12, units.Length(row.h))
		p := ok(r.Predict())(t)
		diff(t, row.what, ok(like.Predict())(t).Notes, p.Notes)
		var says []string
		if row.as {
			says = []string{"strings 1 2 3 4 5 6 as high as wanted: no reading stands"}
		}
		diff(t, row.what, says, texts(p.Assumed))
	}
	r := flat(t)
	r.Entries = []bench.Entry{on(want(bench.Action, at12, 1.5), 1, 2, 3, 4, 5)}
	_, err := r.Predict()
	wantError(t, err, "got no height of string 6, want that told first, as in read action 12 s6: 1.9mm")
}

// Each string that was heard is fitted to its own readings that stand, each as
// doubtful as a difference of two notes. A saddle whose place was read may lie
// 0.3 mm off; any other, as far as saddles do.
func TestPredictFits(t *testing.T) {
	harmonic := bench.How{At: 12, Harmonic: true}
	fromLow := bench.How{At: 14, Low: 2}
	heardAll := []bench.Entry{
		heard(bench.How{At: 3}, 2, 2, 2, 2, 2, 2), // void below
		read(bench.Saddle, bench.How{From: bench.FromNut}, 641.2, unread, 643.1), did(bench.Nut),
		heard(harmonic, 6, silent, 1, 2, silent, 9), on(heard(fromLow, -3), 1), on(heard(at12, 4), 4),
	}
	for _, tuner := range []units.Cents{0, 0.25} {
		r := slotted(t, heardAll...)
		r.Tuner = tuner
		p := ok(r.Predict())(t)
		if tuner == 0 {
			tuner = 1 // assumed
		}
		doubt := units.Cents(math.Sqrt2) * tuner
		by12 := func(c units.Cents) intonation.Heard {
			return intonation.Heard{High: 12, Harmonic: true, Cents: c, Doubt: doubt}
		}
		for i, row := range []struct {
			heard  []intonation.Heard
			saddle float64
		}{
			{[]intonation.Heard{by12(6), {Low: 2, High: 14, Cents: -3, Doubt: doubt}}, 0.3},
			{}, // not heard
			{[]intonation.Heard{by12(1)}, 0},
			{[]intonation.Heard{by12(2), {High: 12, Cents: 4, Doubt: doubt}}, 0},
			{}, // not heard
			{[]intonation.Heard{by12(9)}, 0.3},
		} {
			if row.heard == nil {
				if p.Fits[i] != nil {
					t.Errorf("string %d: got a fit of %+v, want none", i+1, p.Fits[i])
				}
				continue
			}
			want := ok(p.Model.Fit(i+1, row.heard, []intonation.Prior{{Of: intonation.SaddlePlace, Spread: row.saddle},
				{Of: intonation.Stretch}, {Of: intonation.NutPlace}, {Of: intonation.SlotHeight}}))(t)
			diff(t, fmt.Sprintf("tuner %v, string %d", tuner, i+1), &want, p.Fits[i])
			diff(t, "its notes", want.Notes, p.Notes[i])
			if len(p.Notes[i]) != 22 || !(p.Notes[i][11].Band > 0) {
				t.Errorf("string %d: got notes of %+v, want 22 with bands", i+1, p.Notes[i])
			}
		}
	}
}

// The place to start from: of a saddle, least far off over its strings' notes;
// the stagger, each string's own best place against the first's; and the angle
// that gives two strings theirs.
func TestPlaceRows(t *testing.T) {
	r := slotted(t)
	r.Saddles = [][]int{{1}, {2, 3}, {4, 5, 6}}
	for _, spread := range []units.Length{50, 0} {
		r.SaddleSpread = spread
		rows, assumed, err := r.PlaceRows()
		if err != nil {
			t.Fatal(err)
		}
		says := []string{"strings 0.50mm over the plane of the frets at the nut, where no slot was told or read"}
		if spread == 0 {
			says = append([]string{"a flat board: no spread told"}, says...)
		}
		diff(t, "assumed", says, texts(assumed))
		further := [][]float64{{0.2}, {0, 0}, {0.7, 0, 0.5}}
		for i, group := range r.Saddles {
			n := necked(t, [3]float64{})
			own := make([]float64, len(group))
			for j, s := range group {
				own[j] = start(t, n, []int{s}, 0)
			}
			at := start(t, n, group, further[i]...)
			want := bench.PlaceRow{Saddle: i + 1, Strings: group, Setback: mm(at), Angle: units.Angle(nan)}
			for j, s := range group {
				n.Courses[s-1].Setback = mm(at + further[i][j])
				want.Stagger = append(want.Stagger, mm(own[j]-own[0]))
			}
			if i == 1 && spread != 0 { // the second string to the third, of six over 50 mm
				want.Angle = units.Angle(math.Atan((own[1]-own[0])/10) * 180 / math.Pi)
			}
			heard := notes(ok(intonation.NewModel(n))(t), group...)
			flat, sharp := ends(heard)
			sum := 0.0
			for _, row := range heard {
				for _, c := range row {
					sum += float64(c * c)
				}
			}
			want.RMS = units.Cents(math.Sqrt(sum / float64(22*len(group))))
			// Sharpest and flattest are as far out: either is the worst.
			if math.Abs(math.Abs(float64(rows[i].Worst))-sharp) > 1e-6 || sharp+flat > 1e-6 {
				t.Errorf("saddle %d: got a worst note of %v, want %v either way", i+1, rows[i].Worst, sharp)
			}
			want.Worst = rows[i].Worst
			diff(t, fmt.Sprint("saddle ", i+1), want, rows[i])
		}
	}
}

// What was stated of a string stands in place of what its gauge comes to.
func TestSet(t *testing.T) {
	r := six(t)
	diff(t, "as told", r.Strings, ok(r.Set())(t))
	r.Cores = []units.Length{0, unread, 0, 0.3}
	r.UnitWeights = []units.LinearDensity{0.0004, 0.0005, 0, 0.003, units.LinearDensity(nan)}
	want := set(t, "11p", "14p", "18p", "28w", "38w", "49w")
	want[3] = ok(tension.Wound(28*0.001*25.4, 0.3, tension.Steel, tension.Steel))(t)
	want[0].UnitWeight, want[1].UnitWeight, want[3].UnitWeight = 0.0004, 0.0005, 0.003
	diff(t, "stated", want, ok(r.Set())(t))
	diff(t, "the record", set(t, "11p", "14p", "18p", "28w", "38w", "49w"), r.Strings)
	for s, want := range []bool{false, true, true, false, true, false, false} { // from string 0
		if got := r.Weighed(s); got != want {
			t.Errorf("string %d: got %v, want %v", s, got, want)
		}
	}
	r.Cores[3] = 28 * 0.001 * 25.4
	_, err := r.Set()
	wantError(t, err, "string 4: got a core of 0.7112mm, want more than 0 and less than the gauge of 0.7112mm")
	r.Cores = []units.Length{0.3}
	_, err = r.Set()
	wantError(t, err, "got a core of 0.3mm for string 1, which is plain, want a dot")
}

// What a prediction lacks, or cannot do.
func TestPredictErrors(t *testing.T) {
	actions := func(hs ...units.Length) func(*bench.Record) {
		return func(r *bench.Record) { r.Entries = []bench.Entry{read(bench.Action, at12, hs...)} }
	}
	const noPlace = "got no place for the break points within 60mm of the scale line and short of the frets"
	for _, row := range []struct {
		change      func(*bench.Record)
		want, place string // of Predict and of PlaceRows
	}{
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21", "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.Tuning = nil }, "got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2", "got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2"},
		{func(r *bench.Record) { r.Scale, r.Plan.Scales = 0, [2]units.Length{600, 640} }, "got two scales, want one for this", "got two scales, want one for this"},
		{actions(2, 2, unread, 2, 2, 2), "got no height of string 3, want that told first, as in read action 12 s3: 1.9mm", "got no height of string 3, want that told first, as in read action 12 s3: 1.9mm"},
		{func(r *bench.Record) {
			r.Entries = append(r.Entries, on(read(bench.Saddle, bench.How{From: bench.FromNut}, 20), 2))
		}, "string 3: got setbacks of -620mm and 0mm, want nut and saddle outside the frets", "string 3: got setbacks of -620mm and 0mm, want nut and saddle outside the frets"},
		// A string so high that its notes come right only far behind the line, alone or with its neighbour too.
		{actions(2, 2, 2, 2, 60, 2), "saddle 3: " + noPlace, "saddle 3: " + noPlace},
		{actions(2, 2, 2, 2, 20, 2), "", "string 5: " + noPlace},
		{func(r *bench.Record) {
			r.Entries = append(r.Entries, heard(at12, 0, 0, 20), heard(bench.How{At: 12, Harmonic: true}, 0, 0, -20))
		}, "string 3: got both +20.0c and -20.0c at fret 12 against 0, want them within 8.0c of each other: read both again, and suspect the string or the finger", ""},
	} {
		r := flat(t)
		row.change(r)
		for i, want := range []string{row.want, row.place} {
			var err error
			if i == 0 {
				_, err = r.Predict()
			} else {
				_, _, err = r.PlaceRows()
			}
			if want != "" {
				wantError(t, err, want)
			} else if err != nil {
				t.Errorf("got error %v, want a prediction", err)
			}
		}
	}
}

// A string that holds at the scale line may break where its saddle should start,
// being longer there.
func TestPredictBreaks(t *testing.T) {
	r := flat(t)
	r.Strings, r.Tuning, r.Saddles = set(t, "10p"), []bench.Tone{{}}, nil
	r.Entries[1] = read(bench.Action, at12, 2)
	wire := r.Strings[0]
	least := float64(ok(wire.Breaking())(t))
	r.Tuning[0].Hertz = units.Frequency(math.Sqrt(0.9999 * least / pull(10, 640, 1)))
	n := intonation.Neck{Division: ok(fret.Equal(units.Octave, 12, 22))(t), Scale: 640, Courses: []intonation.Course{{
		UnitWeight: wire.UnitWeight, Stretch: wire.Stretch, Bend: wire.Bend, Open: r.Tuning[0].Hertz, Fixity: 1, NutHeight: 0.5, Rise: 3}}}
	n.Courses[0].Setback = mm(start(t, n, []int{1}, 0))
	pulls := ok(intonation.NewModel(n))(t).Taut(1).Pull
	if !(pulls > units.Force(least)) {
		t.Fatalf("got a pull of %v where it starts, want more than %v", pulls, least)
	}
	_, err := r.Predict()
	wantError(t, err, fmt.Sprintf("saddle 1: got a pull of %.1f, want less than %.1fN, which breaks it", pulls, least))
}
