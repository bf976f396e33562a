package intonation_test

import (
	"math"
	"slices"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// misread is a reading, and how far it is off what the model says.
type misread struct {
	low, high  int
	off, doubt float64
}

// hear reads a model, each reading off by what it is.
func hear(m *intonation.Model, as []misread) []intonation.Heard {
	var out []intonation.Heard
	for _, a := range as {
		h := intonation.Heard{Low: a.low, High: a.high, Doubt: units.Cents(a.doubt)}
		h.Cents = units.Cents(would(m, h) + a.off)
		out = append(out, h)
	}
	return out
}

// right are readings of frets against the open string that are not off.
func right(frets ...int) []misread {
	var out []misread
	for _, f := range frets {
		out = append(out, misread{0, f, 0, 1})
	}
	return out
}

// Which fret stands out, by hand. The one unknown is known so well that readings
// do not move it: a fret is off by the mean of its readings weighted by one over
// their doubt squared, w, and stands out where that times the root of the sum of
// w is above 4.
func TestStandoutsByHand(t *testing.T) {
	known := []intonation.Prior{{Of: intonation.SaddlePlace, Spread: 1e-6}}
	m := model(t, one(t))
	type off = intonation.Standout
	for _, row := range []struct {
		name  string
		heard []misread
		want  []off
	}{
		{"3.9 times its doubt", append(right(1, 2, 3), misread{0, 4, 3.9, 1}), nil},
		{"4.1 times", append(right(1, 2, 3), misread{0, 4, 4.1, 1}), []off{{4, 4.1}}},
		{"flat", append(right(1, 2, 3), misread{0, 4, -8.2, 2}), []off{{4, -8.2}}},
		{"the last fret", append(right(1, 2, 3), misread{0, 22, 5, 1}), []off{{22, 5}}},
		{"the first fret", append(right(5, 2, 3), misread{0, 1, 5, 1}), []off{{1, 5}}},
		// (3 + 3)/sqrt 2 is 4.2, either alone 3.
		{"the low one too", append(right(1, 2, 3, 7), misread{0, 4, 3, 1}, misread{4, 9, -3, 1}), []off{{4, 3}}},
		// (6 + 3/4)/(1 + 1/4) is 5.4.
		{"one of them doubtful", append(right(1, 2, 3, 7), misread{0, 4, 6, 1}, misread{2, 4, 3, 2}), []off{{4, 5.4}}},
		{"the low one alone", append(right(1, 2, 3, 7), misread{4, 9, -6, 1}, misread{4, 10, -6, 1}), []off{{4, 6}}},
		{"two, the worse first, told by fret", append(right(1, 2, 3, 7), misread{0, 5, 6, 1}, misread{0, 9, -9, 1}), []off{{5, 6}, {9, -9}}},
		{"pairs that are right", append(right(12), misread{3, 15, 0, 1}, misread{5, 17, 0, 1}, misread{7, 19, 0, 1}), nil},
		// More must stay than go, and three at least.
		{"two of three stay", append(right(1, 2), misread{0, 4, 9, 1}), nil},
		{"two of four stay", append(right(1, 2), misread{0, 4, 9, 1}, misread{1, 4, 9, 1}), nil},
		{"three of five stay", append(right(1, 2, 3), misread{0, 4, 9, 1}, misread{1, 4, 9, 1}), []off{{4, 9}}},
		{"three of six stay", append(right(1, 2, 3), misread{0, 4, 9, 1}, misread{1, 4, 9, 1}, misread{2, 4, 9, 1}), nil},
		{"four of seven stay", append(right(1, 2, 3, 5), misread{0, 4, 9, 1}, misread{1, 4, 9, 1}, misread{2, 4, 9, 1}), []off{{4, 9}}},
		{"three of five stay, but not two more", append(right(1, 2, 3), misread{0, 4, 9, 1}, misread{0, 5, 8, 1}), []off{{4, 9}, {5, 8}}},
		{"three of six stay after two", append(right(1, 2, 3), misread{0, 4, 9, 1}, misread{0, 5, 8, 1}, misread{0, 6, 7, 1}), []off{{4, 9}, {5, 8}}},
	} {
		fit, err := m.Fit(1, hear(m, row.heard), known)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(fit.Standouts, row.want, func(a, b off) bool {
			return a.Fret == b.Fret && math.Abs(float64(a.By-b.By)) < 1e-4
		}) {
			t.Errorf("%s: got %v, want %v", row.name, fit.Standouts, row.want)
		}
		squares := 0.0
		for i, a := range row.heard {
			near(t, row.name+", left", float64(fit.Left[i]), a.off, 1e-4)
			squares += a.off * a.off
		}
		near(t, row.name+", RMS", float64(fit.RMS), math.Sqrt(squares/float64(len(row.heard))), 1e-4)
	}
}

// slopeOf is what a note gains by an unknown, from models either side.
func slopeOf(t *testing.T, n intonation.Neck, of intonation.Unknown, h intonation.Heard) float64 {
	const by = 1e-4
	return (would(model(t, with(n, of, by)), h) - would(model(t, with(n, of, -by)), h)) / (2 * by)
}

// An unknown is untold above 0.7 of its spread, and two go together above a
// correlation of 0.9, by hand for one reading of slopes a and b in units of
// spread over doubt: a share of 1/sqrt(1 + a^2), and -a b/sqrt((1 + a^2) (1 + b^2)).
func TestToldAndTogetherByHand(t *testing.T) {
	n := one(t)
	m := model(t, n)
	h := intonation.Heard{High: 12, Doubt: 1}
	h.Cents = units.Cents(would(m, h))
	spread := func(of intonation.Unknown, a float64) intonation.Prior {
		return intonation.Prior{Of: of, Spread: a / math.Abs(slopeOf(t, n, of, h))}
	}
	fit := func(ps ...intonation.Prior) intonation.Fit {
		got, err := m.Fit(1, []intonation.Heard{h}, ps)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	for _, share := range []float64{0.69, 0.71} {
		got := fit(spread(intonation.NutPlace, math.Sqrt(1/(share*share)-1)))
		want := []intonation.Unknown{intonation.NutPlace}
		if share < 0.7 {
			want = nil
		}
		if !slices.Equal(got.Untold, want) || got.Together != nil {
			t.Errorf("a share of %v: got %v untold and %v together, want %v", share, got.Untold, got.Together, want)
		}
	}
	// Three, of which the first two are as much alike as that, and the third, of
	// slope 1, like neither.
	nut, saddle, stretch := intonation.NutPlace, intonation.SaddlePlace, intonation.Stretch
	for _, row := range []struct {
		correlation float64
		want        [][2]intonation.Unknown
	}{{0.89, nil}, {0.91, [][2]intonation.Unknown{{nut, saddle}}}} {
		a := math.Sqrt(row.correlation / (1 - row.correlation))
		if got := fit(spread(nut, a), spread(saddle, a)); !slices.Equal(got.Together, row.want) {
			t.Errorf("a correlation of %v: got %v together, want %v", row.correlation, got.Together, row.want)
		}
		if got := fit(spread(stretch, 0.1), spread(nut, a), spread(saddle, a)); !slices.Equal(got.Together, row.want) {
			t.Errorf("a correlation of %v beside a third: got %v together, want %v", row.correlation, got.Together, row.want)
		}
	}
}

// cost is what unknowns leave of readings and priors, squared in standard
// errors, each model made afresh; infinite where none can be.
func cost(n intonation.Neck, heard []intonation.Heard, of []intonation.Prior, x truth) float64 {
	m, err := intonation.NewModel(x.neck(n, of))
	if err != nil {
		return math.Inf(1)
	}
	sum := 0.0
	for _, h := range heard {
		e := (float64(h.Cents) - would(m, h)) / float64(h.Doubt)
		sum += e * e
	}
	for i, p := range of {
		sum += x[i] / p.Spread * x[i] / p.Spread
	}
	return sum
}

// A band ends where the likeliest fit of the other unknown is 1.96 standard
// errors worse than the likeliest of all, or where an unknown can go no further;
// notes are those of the likeliest, found by a walk that only compares.
func TestFitBandEnds(t *testing.T) {
	stretch, depth := intonation.Prior{Of: intonation.Stretch, Spread: 0.3}, intonation.Prior{Of: intonation.Depth, Spread: 0.3}
	slot, saddle := intonation.Prior{Of: intonation.SlotHeight, Spread: 0.2}, intonation.Prior{Of: intonation.SaddlePlace, Spread: 1.5}
	slight := pressed(one(t))
	slight.Finger.Depth = 0.2
	limp := stretch
	limp.Spread = 1
	for _, row := range []struct {
		name string
		neck intonation.Neck
		of   []intonation.Prior
		at   [2]float64 // the least that each may be
		off  []misread
	}{
		{"saddle", one(t), []intonation.Prior{saddle}, [2]float64{-50}, []misread{{0, 12, 4, 1.4}, {5, 17, 2, 1}}},
		{"finger", pressed(one(t)), []intonation.Prior{depth}, [2]float64{-0.6}, []misread{{0, 1, 3, 1}, {0, 2, 2, 1.4}}},
		{"finger at its least", slight, []intonation.Prior{depth}, [2]float64{-0.2}, []misread{{0, 1, -2, 1}, {0, 3, -1, 1}}},
		{"stretch at its least", one(t), []intonation.Prior{limp}, [2]float64{-0.999}, []misread{{0, 1, -2.5, 1}, {0, 2, -2, 1}}},
		{"stretch and slot", one(t), []intonation.Prior{stretch, slot}, [2]float64{-0.999, -50}, []misread{{0, 1, 4, 1}, {0, 2, 2, 1}, {0, 7, 3, 1.4}, {0, 12, 1, 1}}},
		{"finger and stretch", pressed(one(t)), []intonation.Prior{depth, stretch}, [2]float64{-0.6, -0.999}, []misread{{0, 1, 6, 1.4}, {0, 5, 3, 1.4}, {0, 12, 3, 1.4}}},
	} {
		heard := hear(model(t, row.neck), row.off)
		fit, err := model(t, row.neck).Fit(1, heard, row.of)
		if err != nil {
			t.Fatal(err)
		}
		at := func(x ...float64) float64 { return cost(row.neck, heard, row.of, x[:len(row.of)]) }
		x, y := least(func(x, y float64) float64 { return at(x, y) }, 0, 0, len(row.of) > 1)
		low := at(x, y)
		for i, v := range fit.Values {
			for _, end := range []float64{v.Value - v.Band, v.Value + v.Band} {
				ends := truth{end, y}
				if i == 1 {
					ends = truth{x, end}
				}
				if len(row.of) > 1 {
					ends[1-i], _ = least(func(z, _ float64) float64 {
						if i == 0 {
							return at(end, z)
						}
						return at(z, end)
					}, ends[1-i], 0, false)
				}
				worse := math.Sqrt(max(0, at(ends...)-low))
				if limit := row.at[i]; math.Abs(end-limit) < 1e-9 {
					if !(worse < 1.97) {
						t.Errorf("%s, %v: got its least as the end, where it is %v standard errors worse", row.name, v.Of, worse)
					}
				} else if !(math.Abs(worse-1.96) < 0.012) {
					t.Errorf("%s, %v: got an end at %v, %v standard errors worse than at %v; want 1.96", row.name, v.Of, end, worse, []float64{x, y})
				}
			}
		}
		best := model(t, truth{x, y}[:len(row.of)].neck(row.neck, row.of))
		for f, note := range fit.Notes {
			near(t, row.name+", note", float64(note.Cents), float64(best.Cents(1, f+1)), 0.01)
		}
	}
}

// A spread of 0 is the usual one (our judgement): three tenths of the stretch and
// of a millimetre of the finger's depth, 0.5 mm for the nut's place, 0.2 for a
// slot's height, 1.5 for the saddle.
func TestUsualSpreads(t *testing.T) {
	m := model(t, pressed(one(t)))
	heard := hear(m, []misread{{0, 1, 3, 1}, {0, 12, -2, 1}})
	for of, spread := range map[intonation.Unknown]float64{
		intonation.Stretch: 0.3, intonation.Depth: 0.3, intonation.NutPlace: 0.5, intonation.SlotHeight: 0.2, intonation.SaddlePlace: 1.5,
	} {
		left, err := m.Fit(1, heard, []intonation.Prior{{Of: of}})
		if err != nil {
			t.Fatal(err)
		}
		told, err := m.Fit(1, heard, []intonation.Prior{{Of: of, Spread: spread}})
		if err != nil {
			t.Fatal(err)
		}
		if left.Values[0] != told.Values[0] {
			t.Errorf("got %+v for a spread of 0, want %+v", left.Values[0], told.Values[0])
		}
	}
}

// A fret whose readings are doubtful, among unknowns that readings move: it is off
// by what the fit without them leaves of them, as if they alone were wrong.
func TestStandoutIsOffTheRest(t *testing.T) {
	n := one(t)
	m := model(t, n)
	of := []intonation.Prior{{Of: intonation.NutPlace}, {Of: intonation.SaddlePlace}}
	as := []misread{{0, 2, 0.3, 0.5}, {0, 4, -0.4, 0.7}, {0, 9, 25, 3}, {5, 9, 24, 2}, {0, 12, 0.2, 0.5}, {7, 19, -0.3, 0.5}, {0, 15, 0.1, 0.5}}
	heard := hear(m, as)
	fit, err := m.Fit(1, heard, of)
	if err != nil {
		t.Fatal(err)
	}
	rest, err := m.Fit(1, without(heard, 9), of)
	if err != nil {
		t.Fatal(err)
	}
	// What the rest says of the notes read is good to a tenth of a cent or so, next
	// to doubts of 2 and 3: the weights are theirs.
	first := float64(heard[2].Cents - rest.Notes[8].Cents)
	second := float64(heard[3].Cents - (rest.Notes[8].Cents - rest.Notes[4].Cents))
	want := (first/9 + second/4) / (1./9 + 1./4)
	if s := fit.Standouts; len(s) != 1 || s[0].Fret != 9 || !(math.Abs(float64(s[0].By)-want) < 0.1) {
		t.Errorf("got %+v, want fret 9 by %v", s, want)
	}
}

// By hand, for one unknown: a note's band is the unknown's by the note's slope.
func TestFitNoteBands(t *testing.T) {
	n := one(t)
	m := model(t, n)
	const spread, doubt = 0.5, 2
	of := intonation.NutPlace
	s := slopeOf(t, n, of, intonation.Heard{High: 5})
	fit, err := m.Fit(1, hear(m, []misread{{0, 5, 1, doubt}}), []intonation.Prior{{Of: of, Spread: spread}})
	if err != nil {
		t.Fatal(err)
	}
	unknown := 1.96 / math.Sqrt(1/(spread*spread)+s*s/(doubt*doubt))
	for f, note := range fit.Notes {
		near(t, "band", float64(note.Band), unknown*math.Abs(slopeOf(t, n, of, intonation.Heard{High: f + 1})), 0.002)
	}
}

// A string that would break if it were any tauter is fitted as one that would
// not, where the readings let it down.
func TestFitNextToBreaking(t *testing.T) {
	n := one(t)
	of := []intonation.Prior{{Of: intonation.SaddlePlace}}
	heard := read(model(t, with(n, intonation.SaddlePlace, -1.5)), against(5, 14, 0.1), nil)
	want, err := model(t, n).Fit(1, heard, of)
	if err != nil {
		t.Fatal(err)
	}
	n.Courses[0].Breaks = model(t, n).Taut(1).Pull * (1 + 1e-7)
	got, err := model(t, n).Fit(1, heard, of)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "saddle", got.Values[0].Value, want.Values[0].Value, 1e-3)
	near(t, "its band", got.Values[0].Band, want.Values[0].Band, 1e-3)

	// Where they would have it tauter it stays next to breaking.
	heard = read(model(t, with(one(t), intonation.SaddlePlace, 1.5)), against(5, 14, 0.1), nil)
	if got, err = model(t, n).Fit(1, heard, of); err != nil {
		t.Fatal(err)
	}
	for f, note := range got.Notes {
		near(t, "note next to breaking", float64(note.Cents), float64(model(t, n).Cents(1, f+1)), 1e-3)
	}
}

// Two readings at fret 12, against the string and its harmonic, are the same
// reading where they differ by how sharp the harmonic stands.
func TestFitHarmonicAgrees(t *testing.T) {
	m := model(t, paper(t, intonation.Held{Kappa: 60, B0: 0.006}, 0, 0))
	sharp := 1200 * math.Log2((1+0.006+4*0.006*0.006*math.Pi*math.Pi/2+0.006*0.006)/(1+0.006+0.006*0.006*math.Pi*math.Pi/2+0.006*0.006)) // Fletcher's series, n = 2 and 1
	of := []intonation.Prior{{Of: intonation.SaddlePlace}}
	heard := []intonation.Heard{{High: 12, Cents: 10, Doubt: 0.01}, {High: 12, Harmonic: true, Cents: units.Cents(10 - sharp), Doubt: 0.01}}
	if _, err := m.Fit(1, heard, of); err != nil {
		t.Error(err)
	}
	heard[0], heard[1] = heard[1], heard[0]
	if _, err := m.Fit(1, heard, of); err != nil {
		t.Error(err)
	}
	for i := range heard {
		heard[i].Cents = 10
	}
	_, err := m.Fit(1, heard, of)
	wantError(t, err, "got both +10.0c and +10.0c at fret 12 against 0, want them within 0.1c of each other: read both again, and suspect the string or the finger")
}

// 10,000 readings are looked at, and no more: of so many, the first two are found
// to contradict each other.
func TestFitManyReadings(t *testing.T) {
	m := model(t, one(t))
	heard := make([]intonation.Heard, 10_001)
	for i := range heard {
		heard[i] = intonation.Heard{High: 12, Doubt: 1}
	}
	heard[0].Cents = 9
	of := []intonation.Prior{{Of: intonation.SaddlePlace}}
	_, err := m.Fit(1, heard[:10_000], of)
	wantError(t, err, "got both +9.0c and +0.0c at fret 12 against 0, want them within 5.7c of each other: read both again, and suspect the string or the finger")
	_, err = m.Fit(1, heard, of)
	wantError(t, err, "got 10001 readings, want at most 10000")
}
