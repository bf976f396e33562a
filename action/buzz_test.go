package action_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// faulty is a string over its crowns with one fault in it: levels of the nut (0),
// the crowns and the saddle.
type faulty struct {
	n action.Neck
	w action.Swing
	z []units.Length
}

// plant lays a fault of a size over a side view.
func plant(n action.Neck, str int, l action.Line, w action.Swing, fault action.Fault, at int, by units.Length) faulty {
	last := n.Division.Frets()
	slot := n.Slot(str, l)
	if n.Relief == (action.Relief{}) {
		n.Relief = action.Usual(n.Division, n.Scale)
	}
	switch fault { // a neck of another bow
	case action.BowSmall:
		n.Relief.Bow -= by
	case action.BowLarge:
		n.Relief.Bow += by
	}
	f := faulty{n: n, w: w, z: []units.Length{n.Crown(str, 0) + slot}}
	for i := 1; i <= last; i++ {
		f.z = append(f.z, n.Crown(str, i))
	}
	f.z = append(f.z, l.Saddle)
	switch fault {
	case action.SlotLow:
		f.z[0] -= by
	case action.SaddleLow:
		f.z[last+1] -= by
	case action.CrownProud:
		f.z[at] += by
	case action.CrownWorn:
		f.z[at] -= by
	case action.LastProud:
		far, end := n.Relief.Far, n.Division.From(n.Scale, last)
		for i := 1; i <= last; i++ {
			if x := n.Division.From(n.Scale, i); x > far {
				f.z[i] += by * units.Length((x - far).Over(end-far))
			}
		}
	}
	return f
}

// buzzes is what a note does, crown by crown.
func (f faulty) buzzes(note int) bool {
	last := len(f.z) - 2
	from := f.n.Division.From(f.n.Scale, note)
	for over := note + 1; over <= last; over++ {
		x := f.n.Division.From(f.n.Scale, over)
		level := mix(float64(f.z[note]), float64(f.z[last+1]), (x - from).Over(f.n.Scale-from))
		if level-float64(f.z[over]) < float64(f.w.At(f.n.Scale, f.n.Scale-from, x-from)) {
			return true
		}
	}
	return false
}

// setUp is a neck set as low as its swing allows and a little up: a fault shows.
func setUp(t *testing.T, rnd *rand.Rand) (action.Neck, int, action.Line, action.Swing) {
	t.Helper()
	n := bowed(usual(t), units.Length(0.1+0.15*rnd.Float64()))
	w := action.Swing{Depth: units.Length(0.35 + 0.2*rnd.Float64()), Pluck: units.Length(100 + 60*rnd.Float64())}
	str := 1 + rnd.Intn(6)
	low, err := n.Lowest(str, 0.4, w)
	if err != nil {
		t.Fatal(err)
	}
	l := action.Line{Nut: n.Crown(str, 0) + max(low.Slot, 0.2) + units.Length(0.02+0.05*rnd.Float64()), Saddle: low.Line.Saddle + units.Length(0.1+0.2*rnd.Float64())}
	return n, str, l, w
}

// Every fault that there is, in the order of its kind, with the size that such a
// fault often has (our judgement, as the code's).
func everyFault(n action.Neck) (list []action.Suspect) {
	add := func(f action.Fault, fret int) { list = append(list, action.Suspect{Fault: f, Fret: fret}) }
	for _, f := range []action.Fault{action.SaddleLow, action.SlotLow, action.BowSmall, action.BowLarge} {
		add(f, 0)
	}
	if n.Division.Frets() > 14 {
		add(action.LastProud, 0)
	}
	for fret := 1; fret <= n.Division.Frets(); fret++ {
		add(action.CrownProud, fret)
		add(action.CrownWorn, fret)
	}
	return list
}

func often(f action.Fault) units.Length {
	switch f {
	case action.SaddleLow:
		return 0.5
	case action.CrownProud, action.CrownWorn:
		return 0.05
	}
	return 0.15
}

// The whole ranking again, from necks with every fault planted in 49 sizes, a third
// as large where it was measured: what
// each explains and spoils, the least of it, the order, and the note that tells a
// suspect from the next.
func TestSuspectsAgainstPlanted(t *testing.T) {
	rnd := rand.New(rand.NewSource(72))
	listed, played := 0, 0
	for try := range 24 {
		n, str, l, w := setUp(t, rnd)
		n.Division = equal(t, []int{22, 17, 12}[try%3])
		if try%2 == 0 {
			n.Relief.Near = 40
		}
		if try%4 == 3 {
			n.Relief = action.Relief{}
		}
		var told []int
		for note := range n.Division.Frets() {
			told = append(told, note)
		}
		rnd.Shuffle(len(told), func(i, j int) { told[i], told[j] = told[j], told[i] })
		a := 1 + rnd.Intn(4)
		b := a + rnd.Intn(4)
		buzzing, clean := slices.Clone(told[:a]), told[a:b]
		var measured []action.Fault
		for f := action.SlotLow; f < action.Elsewhere; f++ {
			if rnd.Intn(3) == 0 {
				measured = append(measured, f)
			}
		}
		got, err := n.Suspects(str, l, w, slices.Concat(buzzing, buzzing[:1]), clean, measured...)
		if err != nil {
			t.Fatal(err)
		}

		score := make(map[[2]int]float64)
		want := 0
		for _, s := range everyFault(n) {
			best, weight := s, math.Inf(-1)
			for k := range 49 {
				now := s
				now.By = often(s.Fault) * units.Length(k) / 8
				if slices.Contains(measured, s.Fault) {
					now.By /= 3
				}
				f := plant(n, str, l, w, s.Fault, s.Fret, now.By)
				for note := range n.Division.Frets() {
					switch hit := f.buzzes(note); {
					case hit && slices.Contains(buzzing, note):
						now.Explains = append(now.Explains, note)
					case hit && slices.Contains(clean, note):
						now.Spoils = append(now.Spoils, note)
					}
				}
				if x := 4*float64(len(now.Explains)) - 8*float64(len(now.Spoils)) - float64(k)/8; x > weight {
					best, weight = now, x
				}
			}
			at := rank(got, s.Fault, s.Fret)
			if len(best.Explains) == 0 || best.By == 0 && s.Fault != action.SaddleLow {
				if at >= 0 {
					t.Fatalf("got %v %d among the suspects, want it left out", s.Fault, s.Fret)
				}
				continue
			}
			want++
			score[[2]int{int(s.Fault), s.Fret}] = weight
			if at < 0 || !slices.Equal(got[at].Explains, best.Explains) || !slices.Equal(got[at].Spoils, best.Spoils) || math.Abs(float64(got[at].By-best.By)) > 1e-15 {
				t.Fatalf("%v buzz, %v do not: got %+v, want %+v", buzzing, clean, got, best)
			}
		}
		if len(got) != want+1 {
			t.Fatalf("got %d suspects, want %d and elsewhere", len(got), want)
		}
		for i, s := range got[:want] {
			listed++
			if i+1 < want && score[[2]int{int(s.Fault), s.Fret}] < score[[2]int{int(got[i+1].Fault), got[i+1].Fret}] {
				t.Fatalf("got %v %d before %v %d", s.Fault, s.Fret, got[i+1].Fault, got[i+1].Fret)
			}
			play := -1
			if i+1 < want {
				next := got[i+1]
				f, g := plant(n, str, l, w, s.Fault, s.Fret, s.By), plant(n, str, l, w, next.Fault, next.Fret, next.By)
				for note := n.Division.Frets() - 1; note >= 0; note-- {
					if !slices.Contains(told[:b], note) && f.buzzes(note) && !g.buzzes(note) {
						play = note
					}
				}
			}
			if play >= 0 {
				played++
			}
			if s.Play != play {
				t.Fatalf("%v %d before %v: got note %d to play, want %d", s.Fault, s.Fret, got[i+1].Fault, s.Play, play)
			}
		}
		slices.Sort(buzzing)
		if last := got[want]; last.Fault != action.Elsewhere || last.By != 0 || last.Fret != 0 || last.Play != -1 || !slices.Equal(last.Explains, buzzing) || last.Spoils != nil {
			t.Fatalf("got %+v last, want elsewhere for all of %v", last, buzzing)
		}
	}
	t.Logf("%d suspects, %d of them with a note that tells them from the next", listed, played)
	if listed < 100 || played < 50 {
		t.Error("want enough of both")
	}
}

func rank(suspects []action.Suspect, fault action.Fault, at int) int {
	return slices.IndexFunc(suspects, func(s action.Suspect) bool { return s.Fault == fault && s.Fret == at })
}

// A fault is planted, and every note is told, or one that buzzes and two that do
// not: how many in a hundred of the planted come first, and among the first three.
// The floors are the figures of this run less a margin, our own: how good the
// ranking is, not how good it should be.
func TestSuspectsFindPlanted(t *testing.T) {
	const cases = 50
	for _, row := range []struct {
		fault              action.Fault
		least, most        float64 // sizes planted
		first, three       int     // all told
		fewFirst, fewThree int     // three notes told
	}{
		{action.SlotLow, 0.1, 0.3, 90, 95, 60, 90},
		{action.CrownProud, 0.1, 0.1, 60, 90, 0, 30},
		{action.CrownWorn, 0.1, 0.1, 45, 90, 30, 85},
		{action.BowSmall, 0.1, 0.3, 60, 90, 5, 45},
		{action.BowLarge, 0.1, 0.3, 75, 85, 0, 45},
		{action.LastProud, 0.1, 0.3, 60, 80, 0, 0},
		{action.SaddleLow, 0.4, 1.5, 90, 95, 15, 85},
	} {
		rnd := rand.New(rand.NewSource(71))
		var first, three, fewFirst, fewThree int
		found := func(suspects []action.Suspect, at int, first, three *int) {
			p := rank(suspects, row.fault, at)
			if p == 0 {
				*first += 100 / cases
			}
			if 0 <= p && p < 3 {
				*three += 100 / cases
			}
		}
		for done := 0; done < cases; {
			n, str, l, w := setUp(t, rnd)
			at := 0
			if row.fault == action.CrownProud || row.fault == action.CrownWorn {
				at = 1 + rnd.Intn(22)
			}
			f := plant(n, str, l, w, row.fault, at, units.Length(mix(row.least, row.most, rnd.Float64())))
			var buzzing, clean []int
			for note := range n.Division.Frets() {
				if f.buzzes(note) {
					buzzing = append(buzzing, note)
				} else {
					clean = append(clean, note)
				}
			}
			if len(buzzing) == 0 {
				continue
			}
			done++
			suspects, err := n.Suspects(str, l, w, buzzing, clean)
			if err != nil {
				t.Fatal(err)
			}
			found(suspects, at, &first, &three)
			rnd.Shuffle(len(clean), func(i, j int) { clean[i], clean[j] = clean[j], clean[i] })
			one := rnd.Intn(len(buzzing))
			suspects, err = n.Suspects(str, l, w, buzzing[one:one+1], clean[:min(2, len(clean))])
			if err != nil {
				t.Fatal(err)
			}
			found(suspects, at, &fewFirst, &fewThree)
		}
		t.Logf("%v: all told, %d first and %d among three in a hundred; three told, %d and %d", row.fault, first, three, fewFirst, fewThree)
		if first < row.first || three < row.three || fewFirst < row.fewFirst || fewThree < row.fewThree {
			t.Errorf("%v: want at least %d and %d, %d and %d", row.fault, row.first, row.three, row.fewFirst, row.fewThree)
		}
	}
}

// One symptom is never a diagnosis: whatever the note, two faults and more would
// explain it.
func TestSuspectsOfOneNote(t *testing.T) {
	rnd := rand.New(rand.NewSource(73))
	fewest := math.MaxInt
	for range 5 {
		n, str, l, w := setUp(t, rnd)
		for note := range n.Division.Frets() {
			got, err := n.Suspects(str, l, w, []int{note}, nil)
			if err != nil {
				t.Fatal(err)
			}
			fewest = min(fewest, len(got))
			if got[len(got)-1].Fault != action.Elsewhere {
				t.Errorf("note %d: got %v last", note, got[len(got)-1].Fault)
			}
		}
	}
	t.Logf("at least %d suspects", fewest)
	if fewest < 3 {
		t.Errorf("got %d suspects for one note, want two and elsewhere", fewest)
	}
}

// Where the string touches as it is, that is said once. Where no fault of a likely
// size could make it touch, only what no side view shows is left.
func TestSuspectsAtTheEnds(t *testing.T) {
	n := bowed(usual(t), 0.2)
	w := action.Swing{Depth: 0.5, Pluck: 120}
	low := n.Through(6, 0.4, 12, 0.6)
	if !(n.Spare(6, low, 3, w).By < 0 && n.Spare(6, low, 5, w).By < 0) {
		t.Fatal("got a string that does not touch by itself")
	}
	got, err := n.Suspects(6, low, w, []int{5, 3}, nil)
	if err != nil {
		t.Fatal(err)
	}
	want := []action.Suspect{
		{Fault: action.SaddleLow, Explains: []int{3, 5}, Play: -1},
		{Fault: action.Elsewhere, Explains: []int{3, 5}, Play: -1},
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("low: got %v, want %v", got, want)
	}
	// One of the notes is told to be clean all the same, which speaks against it.
	if got, err = n.Suspects(6, low, w, []int{3}, []int{5}); err != nil {
		t.Fatal(err)
	}
	if at := rank(got, action.SaddleLow, 0); at < 0 || got[at].By != 0 || !slices.Equal(got[at].Explains, []int{3}) || !slices.Equal(got[at].Spoils, []int{5}) {
		t.Errorf("low, one told clean: got %v, want the saddle low by 0", got)
	}
	got, err = n.Suspects(6, n.Through(6, 2, 12, 9), w, []int{0}, []int{5})
	if err != nil || fmt.Sprint(got) != fmt.Sprint([]action.Suspect{{Fault: action.Elsewhere, Explains: []int{0}, Play: -1}}) {
		t.Errorf("high: got %v, %v, want elsewhere alone", got, err)
	}
	// A fault is followed up to six times its usual size: the saddle by 3 mm. Over a
	// flat board a string without swing touches once its saddle is below the crowns.
	level := usual(t)
	level.Surface = flat
	for saddle, want := range map[units.Length][]units.Length{2.99: {3}, 3: nil, 3.01: nil} {
		got, err := level.Suspects(1, action.Line{Nut: 1, Saddle: saddle}, action.Swing{Pluck: 100}, []int{1, 2}, nil)
		var by []units.Length
		for _, s := range got {
			if s.Fault == action.SaddleLow {
				by = append(by, s.By)
			}
		}
		if err != nil || !slices.Equal(by, want) {
			t.Errorf("a saddle at %v: got it too low by %v, %v, want %v", saddle, by, err, want)
		}
	}
	n.Division = equal(t, 1) // the open string over a single crown
	got, err = n.Suspects(6, n.Through(6, 0.1, 1, 0.3), w, []int{0}, nil)
	if err != nil || len(got) < 2 || got[0].Spoils != nil {
		t.Errorf("one fret: got %v, %v", got, err)
	}
}

func TestSuspectsErrors(t *testing.T) {
	nan, inf := units.Length(math.NaN()), units.Length(math.Inf(1))
	good := action.Swing{Depth: 0.5, Pluck: 100}
	l := action.Line{Nut: 0.4, Saddle: 4}
	for _, row := range []struct {
		frets          int
		str            int
		l              action.Line
		w              action.Swing
		buzzing, clean []int
		want           string
	}{
		{0, 1, l, good, []int{1}, nil, "got a neck without frets, want at least 1"},
		{22, 1, l, action.Swing{Pluck: 100, Depth: -1}, []int{1}, nil, "got a swing of -1mm, want 0 to 12.96mm, a fiftieth of the string"},
		{22, 0, l, good, []int{1}, nil, "got string 0, want 1 to 6"},
		{22, 7, l, good, []int{1}, nil, "got string 7, want 1 to 6"},
		{22, 1, action.Line{Nut: nan, Saddle: 4}, good, []int{1}, nil, "got a string at NaNmm and 4mm, want finite levels"},
		{22, 1, action.Line{Nut: 0.4, Saddle: inf}, good, []int{1}, nil, "got a string at 0.4mm and +Infmm, want finite levels"},
		{61, 1, l, good, []int{1}, nil, "got 61 frets, want at most 60"},
		{22, 1, l, good, nil, []int{1}, "got no note that buzzes, want at least one"},
		{22, 1, l, good, []int{22}, nil, "got a note at fret 22, want 0 to 21, the last with a crown beyond it"},
		{22, 1, l, good, []int{1, math.MinInt}, nil, fmt.Sprintf("got a note at fret %d, want 0 to 21, the last with a crown beyond it", math.MinInt)},
		{22, 1, l, good, []int{1}, []int{2, -1}, "got a note at fret -1, want 0 to 21, the last with a crown beyond it"},
		{22, 1, l, good, []int{1, 2}, []int{3, 2}, "got fret 2 both buzzing and clean, want one of them"},
	} {
		n := usual(t)
		n.Division = fret.Division{}
		if row.frets > 0 {
			n.Division = equal(t, row.frets)
		}
		got, err := n.Suspects(row.str, row.l, row.w, row.buzzing, row.clean)
		wantError(t, err, row.want)
		if got != nil {
			t.Errorf("got %v beside an error, want nothing", got)
		}
	}
	n := usual(t)
	n.Division = equal(t, 60)
	many := slices.Repeat([]int{3}, 1_000_000) // told over and over
	buzzing := append(make([]int, 0, 8), 5, 3)
	if got, err := n.Suspects(1, l, good, many, nil); err != nil || len(got[len(got)-1].Explains) != 1 {
		t.Errorf("got %v, %v", got, err)
	}
	if _, err := n.Suspects(1, l, good, buzzing, []int{7}); err != nil || buzzing[:3][2] != 0 {
		t.Errorf("got %v, %v, want what stands behind the notes untouched", buzzing[:3], err)
	}
}

func TestFaultNames(t *testing.T) {
	for f, want := range map[action.Fault]string{
		action.SlotLow: "slot low", action.CrownProud: "crown proud", action.CrownWorn: "crown worn", action.BowSmall: "relief small",
		action.BowLarge: "relief large", action.LastProud: "last crowns proud", action.SaddleLow: "saddle low", action.Elsewhere: "elsewhere",
		8: "fault 8", 255: "fault 255",
	} {
		if got := f.String(); got != want {
			t.Errorf("%d: got %q, want %q", uint8(f), got, want)
		}
	}
}
