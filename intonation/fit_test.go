package intonation_test

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// one is one plain string over the neck.
func one(t testing.TB) intonation.Neck {
	n := neck(t)
	n.Courses = n.Courses[1:2]
	return n
}

func pressed(n intonation.Neck) intonation.Neck {
	n.Finger = intonation.Finger{Depth: 0.6, Behind: 6}
	return n
}

// with is a neck that differs by an unknown.
func with(n intonation.Neck, of intonation.Unknown, by float64) intonation.Neck {
	mm := units.Length(by)
	if of == intonation.Depth {
		n.Finger.Depth += mm
	}
	return each(n, func(c *intonation.Course) {
		switch of {
		case intonation.Stretch:
			c.Stretch *= units.Force(1 + by)
		case intonation.NutPlace:
			c.NutSetback += mm
		case intonation.SlotHeight:
			c.NutHeight, c.Rise = c.NutHeight+mm, c.Rise-mm
		case intonation.SaddlePlace:
			c.Setback += mm
		}
	})
}

// truth is an instrument: where each unknown really lies.
type truth []float64

func (x truth) neck(n intonation.Neck, of []intonation.Prior) intonation.Neck {
	for i, p := range of {
		n = with(n, p.Of, x[i])
	}
	return n
}

// draw draws an instrument from the priors, again where it cannot be.
func draw(rnd *rand.Rand, n intonation.Neck, of []intonation.Prior) (truth, *intonation.Model) {
	for {
		var x truth
		for _, p := range of {
			x = append(x, p.Spread*rnd.NormFloat64())
		}
		if m, err := intonation.NewModel(x.neck(n, of)); err == nil {
			return x, m
		}
	}
}

// would is what a reading would be, without error.
func would(m *intonation.Model, h intonation.Heard) float64 {
	c := m.Cents(1, h.High) - m.Cents(1, h.Low)
	if h.Harmonic {
		c -= m.Partial(1, 2)
	}
	return float64(c)
}

func readings(pairs [][2]int, doubt float64) []intonation.Heard {
	var out []intonation.Heard
	for _, p := range pairs {
		out = append(out, intonation.Heard{Low: p[0], High: p[1], Doubt: units.Cents(doubt)})
	}
	return out
}

// against are readings of frets against the open string.
func against(first, last int, doubt float64) []intonation.Heard {
	var pairs [][2]int
	for f := first; f <= last; f++ {
		pairs = append(pairs, [2]int{0, f})
	}
	return readings(pairs, doubt)
}

// read reads an instrument, with Gaussian errors from rnd, or none.
func read(m *intonation.Model, as []intonation.Heard, rnd *rand.Rand) []intonation.Heard {
	out := slices.Clone(as)
	for i, h := range out {
		c := would(m, h)
		if rnd != nil {
			c += float64(h.Doubt) * rnd.NormFloat64()
		}
		out[i].Cents = units.Cents(c)
	}
	return out
}

// bounds are the least standard errors that readings alone allow of unknowns at
// a truth (Cramer and Rao's bound), slopes by models made afresh either side. An
// unknown of which they tell nothing has an infinite one.
func bounds(t *testing.T, n intonation.Neck, of []intonation.Prior, x truth, as []intonation.Heard) []float64 {
	const h = 1e-5
	slopes := make([][]float64, len(as))
	for j, p := range of {
		up, down := slices.Clone(x), slices.Clone(x)
		up[j], down[j] = up[j]+h, down[j]-h
		above, below := model(t, up.neck(n, of)), model(t, down.neck(n, of))
		for i, r := range as {
			slopes[i] = append(slopes[i], (would(above, r)-would(below, r))/(2*h*float64(r.Doubt))*p.Spread)
		}
	}
	a := make([][]float64, len(of)) // information, and beside it the unit matrix
	for j := range a {
		a[j] = make([]float64, 2*len(of))
		a[j][len(of)+j] = 1
		for k := range of {
			for i := range as {
				a[j][k] += slopes[i][j] * slopes[i][k]
			}
		}
	}
	for j := range a { // Gauss and Jordan
		pivot := a[j][j]
		for k := range a[j] {
			a[j][k] /= pivot
		}
		for i := range a {
			if by := a[i][j]; i != j {
				for k := range a[i] {
					a[i][k] -= by * a[j][k]
				}
			}
		}
	}
	var out []float64
	for j, p := range of {
		if v := a[j][len(of)+j]; v > 0 {
			out = append(out, p.Spread*math.Sqrt(v))
		} else {
			out = append(out, math.Inf(1))
		}
	}
	return out
}

// Instruments drawn from the priors, read with a tuner's errors and fitted: the
// 95 % band covers the truth in 930 to 970 of 1,000 draws, of every unknown and
// of notes that were not read, and is no wider than 1.5 times the least that the
// readings alone allow, where those tell more than the prior does.
func TestFitCovers(t *testing.T) {
	priors := func(ps ...intonation.Prior) []intonation.Prior { return ps }
	stretch, nut := intonation.Prior{Of: intonation.Stretch, Spread: 0.3}, intonation.Prior{Of: intonation.NutPlace, Spread: 0.5}
	slot, saddle := intonation.Prior{Of: intonation.SlotHeight, Spread: 0.2}, intonation.Prior{Of: intonation.SaddlePlace, Spread: 1.5}
	depth := intonation.Prior{Of: intonation.Depth, Spread: 0.3}
	harmonic := readings([][2]int{{0, 5}, {0, 12}, {3, 15}, {5, 17}, {7, 19}, {2, 12}}, 1.4)
	harmonic[1].Harmonic = true
	for _, set := range []struct {
		name  string
		neck  intonation.Neck
		of    []intonation.Prior
		heard []intonation.Heard
	}{
		{"one reading", one(t), priors(saddle), against(12, 12, 1.4)},
		{"stretch and saddle", one(t), priors(stretch, saddle), against(1, 12, 1.4)},
		{"nut, slot and saddle", one(t), priors(nut, slot, saddle), against(1, 12, 1.4)},
		{"pairs", one(t), priors(nut, saddle), harmonic},
		{"finger, usual", pressed(one(t)), priors(stretch, depth, saddle), against(1, 12, 1.4)},
		{"all, fine tuner", one(t), priors(stretch, nut, slot, saddle), against(1, 12, 0.14)},
		{"all but stretch, every fret", pressed(one(t)), priors(nut, depth, slot, saddle), against(1, 22, 1.4)},
	} {
		rnd := rand.New(rand.NewSource(3))
		m := model(t, set.neck)
		covered, widest := make([]int, len(set.of)), make([]float64, len(set.of))
		noted, told, standouts := make([]int, 22), 0, 0
		for range 1000 {
			x, instrument := draw(rnd, set.neck, set.of)
			fit, err := m.Fit(1, read(instrument, set.heard, rnd), set.of)
			if err != nil {
				t.Fatalf("%s at %v: %v", set.name, x, err)
			}
			standouts += len(fit.Standouts)
			least := bounds(t, set.neck, set.of, x, set.heard)
			for i, v := range fit.Values {
				if v.Of != set.of[i].Of || !(v.Band > 0) {
					t.Fatalf("%s: got %+v for %v", set.name, v, set.of[i])
				}
				if math.Abs(v.Value-x[i]) <= v.Band {
					covered[i]++
				}
				if least[i] < set.of[i].Spread/2 {
					told++
					widest[i] = max(widest[i], v.Band/(1.96*least[i]))
				}
			}
			for f, note := range fit.Notes {
				if math.Abs(float64(note.Cents-instrument.Cents(1, f+1))) <= float64(note.Band) {
					noted[f]++
				}
			}
		}
		t.Logf("%s: %v covered of 1,000, notes %v; widest band %.3v of the bound in %d cases; %d standouts", set.name, covered, noted[15:], widest, told, standouts)
		for i, n := range covered {
			if n < 930 || n > 970 {
				t.Errorf("%s: got %v covered %d times, want 930 to 970", set.name, set.of[i].Of, n)
			}
			if widest[i] > 1.5 {
				t.Errorf("%s: got a band of %v %.3f times the least, want at most 1.5", set.name, set.of[i].Of, widest[i])
			}
		}
		for f, n := range noted {
			if n < 930 || n > 970 {
				t.Errorf("%s: got fret %d covered %d times, want 930 to 970", set.name, f+1, n)
			}
		}
		if standouts > 5 {
			t.Errorf("%s: got %d standouts among frets that are right", set.name, standouts)
		}
	}
}

// One instrument, whose true values are fixed, read a thousand times with a
// tuner so fine that the readings tell: covered as often, and bands as narrow.
func TestFitCoversFixedTruth(t *testing.T) {
	of := []intonation.Prior{{Of: intonation.NutPlace, Spread: 0.5}, {Of: intonation.SlotHeight, Spread: 0.2}, {Of: intonation.SaddlePlace, Spread: 1.5}}
	n, x := one(t), truth{-0.4, 0.15, 1.2}
	instrument, m := model(t, x.neck(n, of)), model(t, n)
	as := against(1, 12, 0.1)
	least := bounds(t, n, of, x, as)
	rnd := rand.New(rand.NewSource(4))
	covered, widest := make([]int, 3), make([]float64, 3)
	for range 1000 {
		fit, err := m.Fit(1, read(instrument, as, rnd), of)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range fit.Values {
			if math.Abs(v.Value-x[i]) <= v.Band {
				covered[i]++
			}
			widest[i] = max(widest[i], v.Band/(1.96*least[i]))
		}
	}
	t.Logf("%v covered of 1,000; bands %.3v of the bounds %.3v at most", covered, widest, least)
	for i := range of {
		if !(least[i] < of[i].Spread/3) {
			t.Errorf("%v: got a bound of %v, want readings that tell", of[i].Of, least[i])
		}
		if covered[i] < 930 || covered[i] > 970 || !(widest[i] <= 1.5) {
			t.Errorf("%v: got %d covered, %v of the bound at most; want 930 to 970, and 1.5", of[i].Of, covered[i], widest[i])
		}
	}
}

// Readings without error give the true values back, but for what the priors
// still weigh, and the notes that were not read.
func TestFitRecovers(t *testing.T) {
	// A string so stiff that its octave harmonic is most of a cent sharp.
	stiff := paper(t, intonation.Held{Kappa: 60, B0: 0.006}, 0, 0)
	harmonic := readings([][2]int{{0, 12}}, 0.01)
	harmonic[0].Harmonic = true
	for _, row := range []struct {
		neck  intonation.Neck
		of    []intonation.Prior
		x     truth
		heard []intonation.Heard
	}{
		{one(t), []intonation.Prior{{Of: intonation.SaddlePlace}}, truth{-1.7}, against(12, 12, 0.01)},
		{one(t), []intonation.Prior{{Of: intonation.Stretch}}, truth{0.4}, against(12, 12, 0.01)},
		{one(t), []intonation.Prior{{Of: intonation.NutPlace}, {Of: intonation.SaddlePlace}}, truth{-0.6, 2}, against(1, 12, 0.01)},
		{one(t), []intonation.Prior{{Of: intonation.SlotHeight}, {Of: intonation.SaddlePlace}}, truth{0.25, -2}, against(1, 12, 0.01)},
		{pressed(one(t)), []intonation.Prior{{Of: intonation.Depth}, {Of: intonation.SaddlePlace}}, truth{-0.3, 1}, against(1, 12, 0.01)},
		{pressed(one(t)), []intonation.Prior{{Of: intonation.Depth}}, truth{-0.6}, against(1, 22, 0.01)}, // a finger that only touches
		{stiff, []intonation.Prior{{Of: intonation.SaddlePlace}}, truth{0.5}, harmonic},
	} {
		instrument := model(t, row.x.neck(row.neck, row.of))
		fit, err := model(t, row.neck).Fit(1, read(instrument, row.heard, nil), row.of)
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range fit.Values {
			if off := math.Abs(v.Value - row.x[i]); !(off <= v.Band && off < 0.02) {
				t.Errorf("%v: got %+v, want %v", row.x, v, row.x[i])
			}
		}
		for f, note := range fit.Notes {
			near(t, "note", float64(note.Cents), float64(instrument.Cents(1, f+1)), 0.05)
		}
		if len(fit.Standouts) > 0 || len(fit.Left) != len(row.heard) || !(fit.RMS < 0.01) {
			t.Errorf("%v: got %+v", row.x, fit)
		}
	}
}

// Where the readings would have the finger press less than not at all, the
// others are found as if it did not press: no fit stops on the way.
func TestFitAtItsLeast(t *testing.T) {
	n := pressed(one(t))
	n.Finger.Depth = 0.2
	bare := with(n, intonation.Depth, -0.2)
	nut, saddle := intonation.Prior{Of: intonation.NutPlace}, intonation.Prior{Of: intonation.SaddlePlace}
	heard := read(model(t, with(bare, intonation.SaddlePlace, 1)), against(1, 12, 0.3), nil)
	for i := range heard {
		heard[i].Cents -= units.Cents(3 / float64(i+1)) // flatter low down than any finger makes them
	}
	fit, err := model(t, n).Fit(1, heard, []intonation.Prior{{Of: intonation.Depth}, nut, saddle})
	if err != nil {
		t.Fatal(err)
	}
	alone, err := model(t, bare).Fit(1, heard, []intonation.Prior{nut, saddle})
	if err != nil {
		t.Fatal(err)
	}
	if v := fit.Values[0]; !(v.Value >= -0.2 && v.Value-v.Band <= -0.2+1e-9) {
		t.Errorf("got %+v, want the finger's band to reach down to not pressing", v)
	}
	for f := range fit.Notes {
		near(t, "note", float64(fit.Notes[f].Cents), float64(alone.Notes[f].Cents), 0.001)
	}
}

// Strings stated by kappa stretch as well.
func TestFitHeld(t *testing.T) {
	n := paper(t, intonation.Held{Kappa: 60, B0: 0.002}, 0, 0)
	stiffer := paper(t, intonation.Held{Kappa: 75, B0: 0.002}, 0, 0)
	fit, err := model(t, n).Fit(1, read(model(t, stiffer), against(1, 12, 0.01), nil), []intonation.Prior{{Of: intonation.Stretch}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "stretch", fit.Values[0].Value, 0.25, 0.001)
}

// A single reading moves its unknown by its share of what it says: by hand,
// slope s, doubt d, spread p: p^2 s/(p^2 s^2 + d^2) of it.
func TestFitOneReading(t *testing.T) {
	const h, doubt, spread = 1e-4, 2, 0.5
	n := one(t)
	m := model(t, n)
	s := float64(model(t, with(n, intonation.NutPlace, h)).Cents(1, 12)-m.Cents(1, 12)) / h
	heard := []intonation.Heard{{High: 12, Cents: m.Cents(1, 12) + 4, Doubt: doubt}}
	fit, err := m.Fit(1, heard, []intonation.Prior{{Of: intonation.NutPlace, Spread: spread}})
	if err != nil {
		t.Fatal(err)
	}
	variance := 1 / (1/(spread*spread) + s*s/(doubt*doubt))
	near(t, "value", fit.Values[0].Value, variance*s*4/(doubt*doubt), 0.002)
	near(t, "band", fit.Values[0].Band, 1.96*math.Sqrt(variance), 0.002)

	// Nor does one run away when a note is 15 cents out and anything may be wrong.
	heard[0].Cents += 11
	fit, err = m.Fit(1, heard, []intonation.Prior{{Of: intonation.Stretch}, {Of: intonation.NutPlace}, {Of: intonation.SlotHeight}, {Of: intonation.SaddlePlace}})
	if err != nil {
		t.Fatal(err)
	}
	for i, most := range []float64{0.9, 1.5, 0.6, 4.5} { // three spreads
		if v := fit.Values[i]; !(math.Abs(v.Value) < most && v.Band > 0 && v.Band < most) {
			t.Errorf("got %+v, want it within %v", v, most)
		}
	}
}

// Fret 12 alone tells the saddle's place if nothing else is unknown; slot height
// and nut place cannot be told from frets high up; first frets tell them apart.
func TestFitTells(t *testing.T) {
	slot, nut, saddle, stretch := intonation.SlotHeight, intonation.NutPlace, intonation.SaddlePlace, intonation.Stretch
	for _, row := range []struct {
		name     string
		of       []intonation.Unknown
		heard    []intonation.Heard
		untold   []intonation.Unknown
		together [][2]intonation.Unknown
	}{
		{"saddle at 12", []intonation.Unknown{saddle}, against(12, 12, 1.4), nil, nil},
		{"nut and saddle at 12 alone", []intonation.Unknown{nut, saddle}, against(12, 12, 0.3), []intonation.Unknown{nut}, [][2]intonation.Unknown{{nut, saddle}}},
		{"nut and slot high up", []intonation.Unknown{slot, nut}, against(12, 22, 0.5), []intonation.Unknown{slot}, [][2]intonation.Unknown{{slot, nut}}},
		{"nut and slot high up, and the saddle", []intonation.Unknown{slot, nut, saddle}, against(12, 22, 1.4), []intonation.Unknown{slot, nut}, nil},
		{"nut and slot from the first on", []intonation.Unknown{slot, nut}, against(1, 12, 0.5), nil, nil},
		{"stretch and saddle", []intonation.Unknown{stretch, saddle}, against(12, 22, 0.1), nil, [][2]intonation.Unknown{{stretch, saddle}}},
	} {
		var of []intonation.Prior
		for _, u := range row.of {
			of = append(of, intonation.Prior{Of: u})
		}
		m := model(t, one(t))
		fit, err := m.Fit(1, read(m, row.heard, nil), of)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %+v, untold %v, together %v", row.name, fit.Values, fit.Untold, fit.Together)
		if !slices.Equal(fit.Untold, row.untold) || !slices.Equal(fit.Together, row.together) {
			t.Errorf("%s: got %v untold and %v together, want %v and %v", row.name, fit.Untold, fit.Together, row.untold, row.together)
		}
	}
}

// A fret out of its place, or a crown too high, is found by what the others say:
// also where it is the low one of a pair, and where it was read twice.
func TestFitStandouts(t *testing.T) {
	n := one(t)
	of := []intonation.Prior{{Of: intonation.Stretch}, {Of: intonation.SaddlePlace}}
	instrument, m := model(t, with(with(n, intonation.Stretch, 0.2), intonation.SaddlePlace, -1)), model(t, n)
	pairs := append(against(1, 14, 1), readings([][2]int{{7, 19}, {5, 17}, {0, 7}}, 1)...)
	rnd := rand.New(rand.NewSource(5))
	for k, as := range [][]intonation.Heard{against(1, 14, 1), pairs} {
		name := []string{"open", "pairs"}[k] // a slice, so that the errors are the same at every run
		for _, by := range []float64{8, -8} {
			heard := read(instrument, as, rnd)
			for i, h := range heard {
				switch 7 {
				case h.High:
					heard[i].Cents += units.Cents(by)
				case h.Low:
					heard[i].Cents -= units.Cents(by)
				}
			}
			fit, err := m.Fit(1, heard, of)
			if err != nil {
				t.Fatal(err)
			}
			if len(fit.Standouts) != 1 || fit.Standouts[0].Fret != 7 || !(math.Abs(float64(fit.Standouts[0].By)-by) < 3) {
				t.Errorf("%s: got %+v, want fret 7 by %v", name, fit.Standouts, by)
			}
			for i, want := range []float64{0.2, -1} {
				if v := fit.Values[i]; !(math.Abs(v.Value-want) <= 1.5*v.Band) {
					t.Errorf("%s: got %+v beside the standout, want %v", name, v, want)
				}
			}
			clean, err := m.Fit(1, without(heard, 7), of)
			if err != nil {
				t.Fatal(err)
			}
			for i := range clean.Values {
				near(t, "value beside the standout", fit.Values[i].Value, clean.Values[i].Value, 1e-3)
				near(t, "band beside the standout", fit.Values[i].Band, clean.Values[i].Band, 1e-3)
			}
		}
	}
	// Read without error, it is off by just what it is.
	heard := read(m, against(1, 12, 1), nil)
	heard[6].Cents += 8
	fit, err := m.Fit(1, heard, of)
	if err != nil {
		t.Fatal(err)
	}
	if s := fit.Standouts; len(s) != 1 || s[0].Fret != 7 || !(math.Abs(float64(s[0].By)-8) < 0.05) {
		t.Errorf("got %+v, want fret 7 by 8 cents", s)
	}
	// Two of them, told in order.
	heard = read(instrument, against(1, 16, 1), rnd)
	heard[10].Cents += 9
	heard[3].Cents -= 15
	if fit, err = m.Fit(1, heard, of); err != nil {
		t.Fatal(err)
	}
	if s := fit.Standouts; len(s) != 2 || s[0].Fret != 4 || s[1].Fret != 11 || !(s[0].By < -10 && s[1].By > 5) {
		t.Errorf("got %+v, want frets 4 and 11", s)
	}
	// Among three readings no one can be told from the others.
	heard = read(instrument, against(5, 7, 1), nil)
	heard[1].Cents += 30
	if fit, err = m.Fit(1, heard, of); err != nil || len(fit.Standouts) > 0 {
		t.Errorf("got %+v, %v, want none", fit.Standouts, err)
	}
}

func without(heard []intonation.Heard, fret int) []intonation.Heard {
	return slices.DeleteFunc(slices.Clone(heard), func(h intonation.Heard) bool { return h.High == fret || h.Low == fret })
}

// First frets sour though the 12th is right: a slot too high explains it, and
// the place of the nut does not; and the other way round where it is that.
func TestSuspects(t *testing.T) {
	n := one(t)
	m := model(t, n)
	of := []intonation.Unknown{intonation.NutPlace, intonation.SlotHeight}
	for _, row := range []struct {
		of intonation.Unknown
		by float64
	}{{intonation.SlotHeight, 0.25}, {intonation.NutPlace, 0.9}} {
		// The saddle set afterwards so that the 12th is right.
		sour := with(n, row.of, row.by)
		placed, err := model(t, sour).ZeroAt(1, 12)
		if err != nil {
			t.Fatal(err)
		}
		was, err := m.ZeroAt(1, 12)
		if err != nil {
			t.Fatal(err)
		}
		base := each(n, func(c *intonation.Course) { c.Setback = placed.Setback })
		instrument := model(t, each(sour, func(c *intonation.Course) { c.Setback = placed.Setback }))
		near(t, "fret 12", float64(instrument.Cents(1, 12)), 0, 1e-6)
		if first := instrument.Cents(1, 1) - model(t, each(n, func(c *intonation.Course) { c.Setback = was.Setback })).Cents(1, 1); !(first > 1.5) {
			t.Errorf("%v: got fret 1 only %v sharper, want it sour", row.of, first)
		}
		heard := read(instrument, append(against(1, 4, 0.7), against(12, 12, 0.7)...), nil)
		got, err := model(t, base).Suspects(1, heard, of...)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%v: %+v", row.of, got)
		if len(got) != 2 || got[0].Of != row.of || !(got[0].Left < got[1].Left/2) || !(math.Abs(got[0].Value-row.by) < got[0].Band) {
			t.Errorf("got %+v, want %v of %v first", got, row.by, row.of)
		}
	}
	// No reading is set aside: what an unknown leaves, it leaves of all of them.
	heard := read(m, against(1, 12, 0.5), nil)
	for i := range 3 {
		heard[i].Cents += units.Cents(9 - 3*i)
	}
	got, err := m.Suspects(1, heard, intonation.SaddlePlace, intonation.SlotHeight)
	if err != nil {
		t.Fatal(err)
	}
	if got[0].Of != intonation.SlotHeight || !(got[1].Left > 2) {
		t.Errorf("got %+v", got)
	}
}

// Readings of the same notes that cannot both be are named, both.
func TestFitContradiction(t *testing.T) {
	m := model(t, one(t))
	of := []intonation.Prior{{Of: intonation.SaddlePlace}}
	heard := []intonation.Heard{{High: 5, Cents: 2, Doubt: 1.4}, {High: 12, Cents: 4, Doubt: 1.4}, {High: 12, Cents: -9, Doubt: 1.4}}
	_, err := m.Fit(1, heard, of)
	wantError(t, err, "got both +4.0c and -9.0c at fret 12 against 0, want them within 7.9c of each other: read both again, and suspect the string or the finger")
	// Against the harmonic as against the open string.
	heard[2].Harmonic = true
	if _, err := m.Fit(1, heard, of); err == nil {
		t.Errorf("got no error against the harmonic")
	}
	heard[2].Cents = 1
	if _, err := m.Fit(1, heard, of); err != nil {
		t.Errorf("got %v, want readings 3 cents apart taken", err)
	}
	// Another pair is another matter.
	heard[2] = intonation.Heard{Low: 5, High: 12, Cents: -9, Doubt: 1.4}
	if _, err := m.Fit(1, heard, of); err != nil {
		t.Error(err)
	}
}

func TestFitRefuses(t *testing.T) {
	m := model(t, one(t))
	nan, inf := units.Cents(math.NaN()), units.Cents(math.Inf(1))
	good, saddle := []intonation.Heard{{High: 12, Cents: 4, Doubt: 1}}, []intonation.Prior{{Of: intonation.SaddlePlace}}
	for _, row := range []struct {
		str    int
		heard  []intonation.Heard
		priors []intonation.Prior
		want   string
	}{
		{0, good, saddle, "got string 0, want 1 to 1"},
		{2, good, saddle, "got string 2, want 1 to 1"},
		{1, nil, saddle, "got no readings or no unknowns, want one of each at least"},
		{1, good, nil, "got no readings or no unknowns, want one of each at least"},
		{1, []intonation.Heard{{High: 23, Doubt: 1}}, saddle, "got a reading of fret 23 against 0, want a lower and a higher one up to 22, and no fret under a harmonic"},
		{1, []intonation.Heard{{Low: 12, High: 12, Doubt: 1}}, saddle, "got a reading of fret 12 against 12, want a lower and a higher one up to 22, and no fret under a harmonic"},
		{1, []intonation.Heard{{Low: -1, High: 12, Doubt: 1}}, saddle, "got a reading of fret 12 against -1, want a lower and a higher one up to 22, and no fret under a harmonic"},
		{1, []intonation.Heard{{Low: 3, High: 12, Harmonic: true, Doubt: 1}}, saddle, "got a reading of fret 12 against 3, want a lower and a higher one up to 22, and no fret under a harmonic"},
		{1, []intonation.Heard{{High: 12}}, saddle, "got a reading of 0c, give or take 0c, want it finite, and its doubt more than 0"},
		{1, []intonation.Heard{{High: 12, Doubt: inf}}, saddle, "got a reading of 0c, give or take +Infc, want it finite, and its doubt more than 0"},
		{1, []intonation.Heard{{High: 12, Cents: nan, Doubt: 1}}, saddle, "got a reading of NaNc, give or take 1c, want it finite, and its doubt more than 0"},
		{1, []intonation.Heard{{High: 12, Cents: -inf, Doubt: 1}}, saddle, "got a reading of -Infc, give or take 1c, want it finite, and its doubt more than 0"},
		{1, good, []intonation.Prior{{Of: 9}}, "got unknown 9 with a spread of 0, want an unknown that there is, and a finite spread of at least 0"},
		{1, good, []intonation.Prior{{Of: intonation.NutPlace, Spread: -1}}, "got nut place with a spread of -1, want an unknown that there is, and a finite spread of at least 0"},
		{1, good, []intonation.Prior{{Of: intonation.NutPlace, Spread: math.NaN()}}, "got nut place with a spread of NaN, want an unknown that there is, and a finite spread of at least 0"},
		{1, good, append(saddle, saddle[0]), "got saddle place twice, want each unknown once"},
		{1, good, []intonation.Prior{{Of: intonation.Depth}}, "got no place of the finger behind the fret, want one to fit its depth"},
		{1, good, []intonation.Prior{{Of: 5}}, "got unknown 5 with a spread of 0, want an unknown that there is, and a finite spread of at least 0"},
		{1, good, []intonation.Prior{{Of: intonation.NutPlace, Spread: math.Inf(1)}}, "got nut place with a spread of +Inf, want an unknown that there is, and a finite spread of at least 0"},
		{1, []intonation.Heard{{High: 12, Cents: 1e200, Doubt: 1}}, saddle, "got readings too far from the model for their doubt, want them nearer, or their doubt larger"},
		{1, good, []intonation.Prior{{Of: intonation.NutPlace, Spread: 1e9}, {Of: intonation.SaddlePlace, Spread: 1e9}},
			"got unknowns that the readings cannot tell apart, want fewer, or smaller spreads"},
	} {
		_, err := m.Fit(row.str, row.heard, row.priors)
		wantError(t, err, row.want)
	}
	depth := []intonation.Prior{{Of: intonation.Depth}}
	for _, row := range []struct {
		finger intonation.Finger
		want   string
	}{
		{intonation.Finger{Carry: 5, Behind: 6}, "got a finger both carried on and of a depth, want one"},
		{intonation.Finger{Behind: 20}, "got a finger 20mm behind fret 12, want less than the 19.27mm from the fret before"},
	} {
		n := one(t)
		n.Finger = row.finger
		_, err := model(t, n).Fit(1, good, depth)
		wantError(t, err, row.want)
	}
	n := one(t)
	n.Finger = intonation.Finger{Depth: 0.4, Behind: 0.5}
	if _, err := model(t, n).Fit(1, good, depth); err != nil {
		t.Errorf("got %v for a finger next to the fret", err)
	}
	_, err := m.Suspects(1, []intonation.Heard{{High: 12, Cents: 1e200, Doubt: 1}}, intonation.SaddlePlace)
	wantError(t, err, "saddle place: got readings too far from the model for their doubt, want them nearer, or their doubt larger")
	_, err = m.Suspects(1, good, intonation.Depth)
	wantError(t, err, "got no place of the finger behind the fret, want one to fit its depth")
}

// Doubts and spreads of any size give numbers or an error, never a panic.
func TestFitExtremes(t *testing.T) {
	m := model(t, pressed(one(t)))
	for _, doubt := range []units.Cents{1e-300, 1e-9, 1e-3, 1, 1e9, 1e300} {
		for _, spread := range []float64{1e-300, 1e-9, 1, 1e9, 1e300} {
			for _, cents := range []units.Cents{0, 5, -500, 5000, 1e300} {
				var of []intonation.Prior
				for u := intonation.Stretch; u <= intonation.SaddlePlace; u++ {
					of = append(of, intonation.Prior{Of: u, Spread: spread})
				}
				heard := against(1, 12, 1)
				for i := range heard {
					heard[i].Cents, heard[i].Doubt = cents, doubt
				}
				fit, err := m.Fit(1, heard, of)
				if err != nil {
					continue
				}
				for _, v := range fit.Values {
					if v.Value-v.Value != 0 || !(v.Band >= 0) || math.IsInf(v.Band, 0) {
						t.Errorf("doubt %v, spread %v, %v: got %+v", doubt, spread, cents, v)
					}
				}
			}
		}
	}
}
