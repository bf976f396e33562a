package intonation

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/intonation/internal/solve"
	"example.org/saddlepoint/units"
)

// Heard is one reading of a string to fit a model to: how many cents the note at
// the high fret came out sharp of its place above the note at the low one.
type Heard struct {
	Low, High int         // frets; Low 0 is the open string
	Harmonic  bool        // the low note was the open string's octave harmonic instead
	Cents     units.Cents // sharp positive
	Doubt     units.Cents // its standard error: the square root of 2 of the tuner's
}

func (h Heard) variance() float64 { return float64(h.Doubt) * float64(h.Doubt) }

// Unknown is what may differ from the model of a string.
type Unknown uint8

// What a fit can look for.
const (
	Stretch     Unknown = iota // how much stiffer the string stretches than stated, 0.1 being a tenth
	Depth                      // how much deeper the finger presses, in mm
	NutPlace                   // how much further from the frets the nut's break point stands, in mm
	SlotHeight                 // how much higher the string stands at the nut, in mm
	SaddlePlace                // how much further back the saddle's break point stands, in mm
	unknowns
)

var unknownNames = [...]string{"stretch", "finger depth", "nut place", "slot height", "saddle place"}

// String names the unknown.
func (u Unknown) String() string {
	if u < unknowns {
		return unknownNames[u]
	}
	return fmt.Sprintf("unknown %d", uint8(u))
}

// usual is how far each unknown usually lies from what was measured or assumed:
// one standard deviation, our judgement. It keeps one reading from running away.
var usual = [...]float64{Stretch: 0.3, Depth: 0.3, NutPlace: 0.5, SlotHeight: 0.2, SaddlePlace: 1.5}

// Prior is an unknown to look for, and how far from 0 it may be expected to lie:
// one standard deviation in its unit. 0 takes the usual one.
type Prior struct {
	Of     Unknown
	Spread float64
}

// Estimate is the value of an unknown.
type Estimate struct {
	Of    Unknown
	Value float64 // its difference from the model that was fitted: the middle of where it may be
	Band  float64 // plus or minus, at 95 %
}

// Standout is a fret that no such unknown explains: its own place or crown is
// suspect.
type Standout struct {
	Fret int
	By   units.Cents // how sharp its notes are of what the other readings say
}

// Predicted is a note after a fit.
type Predicted struct {
	Cents, Band units.Cents // plus or minus, at 95 %
}

// Fit is what readings say of a string.
type Fit struct {
	Values    []Estimate    // one for each unknown asked for, in that order
	Notes     []Predicted   // at every fret, from fret 1; what a standout is off by left out
	Left      []units.Cents // of every reading, its error less the model's
	RMS       units.Cents   // of Left
	Standouts []Standout    // by fret; their readings do not count for the rest
	Untold    []Unknown     // that the readings say little of
	Together  [][2]Unknown  // that the readings cannot tell apart
}

// Levels of our judgement.
const (
	at95     = 1.96 // standard deviations in a band
	apart    = 4.0  // standard errors between two readings that contradict each other
	standing = 4.0  // standard errors of a fret that stands out
	told     = 0.7  // share of its prior's spread above which an unknown is untold
	together = 0.9  // correlation above which two unknowns cannot be told apart
	settled  = 1e-6 // squared standard errors that a fit's last step was from the likeliest
)

// Fit finds the unknowns of a string from readings, as few as one, weighted by
// their doubt and held back by the priors. Frets that stand out are set aside one
// after the other, as long as more readings stay than go. Readings of one pair of
// frets that contradict each other are an error that names them.
func (m *Model) Fit(str int, heard []Heard, priors []Prior) (Fit, error) {
	f, err := m.fitting(str, heard, priors)
	if err != nil {
		return Fit{}, err
	}
	var standouts []Standout
	for {
		s, err := f.solve(make([]float64, len(priors)))
		if err != nil {
			return Fit{}, err
		}
		worst := f.standsOut(s)
		if worst.Fret == 0 || !f.setAside(worst.Fret) {
			return f.report(s, standouts), nil
		}
		standouts = append(standouts, worst)
	}
}

// fitting is one string being fitted. Its unknowns are in units of their
// spreads, which makes the priors' share of the normal equations the unit matrix.
type fitting struct {
	model  *Model
	course Course
	priors []Prior
	least  []float64 // that each unknown may be
	pinned int       // the unknown that stays where it is; -1 for none
	heard  []Heard
	use    []bool // which readings count
}

// fitted is where a fit has got to.
type fitted struct {
	x      []float64
	cost   float64
	model  *Model
	beside []beside
	left   []float64   // of every reading
	slopes [][]float64 // of every reading by every unknown
	spread [][]float64 // covariance of the unknowns
	free   [][]float64 // the same with those that cannot move taken as known
	pull   []float64   // right side of the normal equations
}

// beside is the model with one unknown moved by a little.
type beside struct {
	model *Model
	by    float64
}

var (
	errFar   = errors.New("got readings too far from the model for their doubt, want them nearer, or their doubt larger")
	errLoose = errors.New("got unknowns that the readings cannot tell apart, want fewer, or smaller spreads")
)

// mostReadings is how many readings are taken at once, more than every pair of
// frets of any neck.
const mostReadings = 10_000

func (m *Model) fitting(str int, heard []Heard, priors []Prior) (*fitting, error) {
	if str < 1 || str > len(m.courses) {
		return nil, fmt.Errorf("got string %d, want 1 to %d", str, len(m.courses))
	}
	if len(heard) == 0 || len(priors) == 0 {
		return nil, errors.New("got no readings or no unknowns, want one of each at least")
	}
	if len(heard) > mostReadings {
		return nil, fmt.Errorf("got %d readings, want at most %d", len(heard), mostReadings)
	}
	f := &fitting{model: m, course: m.neck.Courses[str-1], heard: heard, use: make([]bool, len(heard)), pinned: -1}
	for i, h := range heard {
		if h.Low < 0 || h.High <= h.Low || h.High > len(m.crowns) || h.Harmonic && h.Low != 0 {
			return nil, fmt.Errorf("got a reading of fret %d against %d, want a lower and a higher one up to %d, and no fret under a harmonic",
				h.High, h.Low, len(m.crowns))
		}
		if !(h.Doubt > 0) || math.IsInf(float64(h.Doubt), 0) || h.Cents-h.Cents != 0 {
			return nil, fmt.Errorf("got a reading of %v, give or take %v, want it finite, and its doubt more than 0", h.Cents, h.Doubt)
		}
		if err := agrees(heard[:i], h, m.Partial(str, 2)); err != nil {
			return nil, err
		}
		f.use[i] = true
	}
	for _, p := range priors {
		if err := f.look(p); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// look adds an unknown.
func (f *fitting) look(p Prior) error {
	finger := f.model.neck.Finger
	for _, q := range f.priors {
		if p.Of == q.Of {
			return fmt.Errorf("got %v twice, want each unknown once", p.Of)
		}
	}
	if p.Of >= unknowns || !(p.Spread >= 0) || math.IsInf(p.Spread, 0) {
		return fmt.Errorf("got %v with a spread of %v, want an unknown that there is, and a finite spread of at least 0", p.Of, p.Spread)
	}
	if p.Of == Depth {
		if !(finger.Behind > 0) {
			return errors.New("got no place of the finger behind the fret, want one to fit its depth")
		}
		deeper := f.model.neck
		deeper.Finger.Depth++ // so that a finger that does not press yet is checked as well
		if err := deeper.check(); err != nil {
			return err
		}
	}
	if p.Spread == 0 {
		p.Spread = usual[p.Of]
	}
	least := math.Inf(-1)
	switch p.Of {
	case Stretch:
		least = -0.999 / p.Spread
	case Depth:
		least = -float64(finger.Depth) / p.Spread
	}
	f.priors, f.least = append(f.priors, p), append(f.least, least)
	return nil
}

// agrees refuses a reading that contradicts an earlier one of the same notes. An
// octave harmonic stands sharp of the open string's own octave.
func agrees(earlier []Heard, h Heard, sharp units.Cents) error {
	open := func(h Heard) units.Cents {
		if h.Harmonic {
			return h.Cents + sharp
		}
		return h.Cents
	}
	for _, e := range earlier {
		if e.Low != h.Low || e.High != h.High {
			continue
		}
		if within := apart * math.Hypot(float64(e.Doubt), float64(h.Doubt)); math.Abs(float64(open(e)-open(h))) > within {
			return fmt.Errorf("got both %+.1f and %+.1f at fret %d against %d, want them within %.1f of each other: read both again, and suspect the string or the finger",
				e.Cents, h.Cents, h.High, h.Low, units.Cents(within))
		}
	}
	return nil
}

// changed is the model with the unknowns at x, of this string alone.
func (f *fitting) changed(x []float64) (*Model, error) {
	n, c := f.model.neck, f.course
	for i, p := range f.priors {
		v := x[i] * p.Spread
		switch p.Of {
		case Stretch:
			c.Stretch *= units.Force(1 + v)
			c.Held.Kappa *= 1 + v
		case Depth:
			n.Finger.Depth = max(0, n.Finger.Depth+units.Length(v))
		case NutPlace:
			c.NutSetback += units.Length(v)
		case SlotHeight:
			// The saddle stays where it is.
			c.NutHeight += units.Length(v)
			c.Rise -= units.Length(v)
		case SaddlePlace:
			c.Setback += units.Length(v)
		}
	}
	m := &Model{neck: n, crowns: f.model.crowns}
	w, err := m.work(c)
	m.courses = []course{w}
	return m, err
}

// hears is what every reading would be.
func (f *fitting) hears(m *Model) []float64 {
	out := make([]float64, len(f.heard))
	for i, h := range f.heard {
		c := m.Cents(1, h.High) - m.Cents(1, h.Low)
		if h.Harmonic {
			c -= m.Partial(1, 2)
		}
		out[i] = float64(c)
	}
	return out
}

// notes is every note.
func (f *fitting) notes(m *Model) []float64 {
	out := make([]float64, len(m.crowns))
	for n := range out {
		out[n] = m.cents(&m.courses[0], n)
	}
	return out
}

// slopesOf are the slopes of several numbers of a model by every unknown, where
// they are at.
func (s *fitted) slopesOf(at []float64, of func(*Model) []float64) [][]float64 {
	out := make([][]float64, len(at))
	for _, b := range s.beside {
		for i, v := range of(b.model) {
			out[i] = append(out[i], (v-at[i])/b.by)
		}
	}
	return out
}

// moved is the model with one unknown moved a little, up or, where that cannot
// be, down.
func (f *fitting) moved(x []float64, j int) (b beside, err error) {
	for _, b.by = range []float64{1e-4, -1e-4} {
		y := slices.Clone(x)
		y[j] += b.by
		if b.model, err = f.changed(y); err == nil {
			break
		}
	}
	return b, err
}

// solve finds the likeliest unknowns from x on, by Gauss and Newton's steps,
// halved where they make things worse.
func (f *fitting) solve(x []float64) (s fitted, err error) {
	s.x = x
	if s.model, s.cost = f.cost(x); !(s.cost <= math.MaxFloat64) {
		return s, errFar
	}
	for range 200 {
		if err := f.linear(&s); err != nil {
			return s, err
		}
		if !f.descend(&s) {
			return s, nil
		}
	}
	return s, f.linear(&s)
}

// linear works out everything of s at its x and model.
func (f *fitting) linear(s *fitted) (err error) {
	s.beside = make([]beside, len(s.x))
	for j := range s.x {
		if s.beside[j], err = f.moved(s.x, j); err != nil {
			return err
		}
	}
	at := f.hears(s.model)
	s.slopes = s.slopesOf(at, f.hears)
	s.left = at
	for i, h := range f.heard {
		s.left[i] = float64(h.Cents) - at[i]
	}
	a, b := f.normal(*s)
	spread, err := solve.Inverse(a)
	if err != nil {
		return errLoose
	}
	s.spread, s.pull = spread, b
	return f.hold(s, a)
}

// normal is the matrix of the normal equations, priors included, and their right
// side.
func (f *fitting) normal(s fitted) (a [][]float64, b []float64) {
	a, b = make([][]float64, len(s.x)), make([]float64, len(s.x))
	for i, x := range s.x {
		a[i] = make([]float64, len(s.x))
		a[i][i], b[i] = 1, -x
	}
	for r, slope := range s.slopes {
		if !f.use[r] {
			continue
		}
		w := 1 / f.heard[r].variance()
		for i := range slope {
			b[i] += w * slope[i] * s.left[r]
			for j := range slope {
				a[i][j] += w * slope[i] * slope[j]
			}
		}
	}
	return a, b
}

// hold works out the covariance of the unknowns that can move, from the normal
// equations: one that is pinned, or stands at its least and would go lower, counts
// as known.
func (f *fitting) hold(s *fitted, a [][]float64) (err error) {
	var known []int
	for i, x := range s.x {
		if i == f.pinned || x <= f.least[i] && s.pull[i] <= 0 {
			known = append(known, i)
			for j := range a {
				a[i][j], a[j][i] = 0, 0
			}
			a[i][i] = 1
		}
	}
	if s.free, err = solve.Inverse(a); err != nil {
		return errLoose
	}
	for _, i := range known {
		s.free[i][i] = 0
	}
	return nil
}

// descend takes the next step, or as much of it as lowers the cost, and reports
// whether there was one worth taking.
func (f *fitting) descend(s *fitted) bool {
	step := make([]float64, len(s.x))
	var lowers float64
	for i := range step {
		for j, b := range s.pull {
			step[i] += s.free[i][j] * b
		}
		lowers += step[i] * s.pull[i]
	}
	if lowers < settled {
		return false
	}
	for share := 1.0; share > 1e-6; share /= 2 {
		next := make([]float64, len(s.x))
		for i, x := range s.x {
			next[i] = math.Max(f.least[i], x+share*step[i])
		}
		if m, lower := f.cost(next); lower < s.cost {
			s.x, s.model, s.cost = next, m, lower
			return true
		}
	}
	return false
}

// cost is what the unknowns at x leave of readings and priors, squared in
// standard errors, and the model there; NaN where there is none, or no pitch.
func (f *fitting) cost(x []float64) (m *Model, sum float64) {
	m, err := f.changed(x)
	if err != nil {
		return nil, math.NaN()
	}
	for i, v := range f.hears(m) {
		if f.use[i] {
			e := (float64(f.heard[i].Cents) - v) / float64(f.heard[i].Doubt)
			sum += e * e
		}
	}
	for _, v := range x {
		sum += v * v
	}
	return m, sum
}

// standsOut is the fret whose readings in use are furthest from what the others
// and the priors say, if that is too far for their doubt; else of fret 0. By is
// the likeliest amount if that fret is off and nothing else is.
func (f *fitting) standsOut(s fitted) (worst Standout) {
	most := standing
	for fret := len(f.model.crowns); fret > 0; fret-- {
		var pull, weight float64
		tells := make([]float64, len(s.x)) // what the fret's readings tell of the unknowns
		for i, h := range f.heard {
			sign := h.side(fret)
			if !f.use[i] || sign == 0 {
				continue
			}
			w := 1 / h.variance()
			pull += sign * w * s.left[i]
			weight += w
			for j, v := range s.slopes[i] {
				tells[j] += sign * w * v
			}
		}
		rest := weight - quadratic(s.free, tells)
		if !(rest > 1e-6*weight) {
			continue // nothing else tells how far it is off
		}
		if t := math.Abs(pull) / math.Sqrt(rest); t > most {
			worst, most = Standout{fret, units.Cents(pull / rest)}, t
		}
	}
	return worst
}

// side is 1 where a fret is the high one of a reading, -1 where it is the low
// one, else 0.
func (h Heard) side(fret int) float64 {
	switch fret {
	case h.High:
		return 1
	case h.Low:
		return -1
	}
	return 0
}

// setAside takes the readings of a fret out of use, if more stay than go.
func (f *fitting) setAside(fret int) bool {
	stay, use := 0, slices.Clone(f.use)
	for i, h := range f.heard {
		use[i] = use[i] && h.side(fret) == 0
		if use[i] {
			stay++
		}
	}
	if 2*stay <= len(use) || stay < 3 {
		return false
	}
	f.use = use
	return true
}

// quadratic is s' A s.
func quadratic(a [][]float64, s []float64) float64 {
	sum := 0.0
	for i := range s {
		for j := range s {
			sum += s[i] * a[i][j] * s[j]
		}
	}
	return sum
}

// report writes the fit up.
func (f *fitting) report(s fitted, standouts []Standout) Fit {
	out := Fit{Standouts: standouts}
	slices.SortFunc(standouts, func(a, b Standout) int { return cmp.Compare(a.Fret, b.Fret) })
	squares := 0.0
	for _, v := range s.left {
		out.Left = append(out.Left, units.Cents(v))
		squares += v * v
	}
	out.RMS = units.Cents(math.Sqrt(squares / float64(len(s.left))))
	for i, p := range f.priors {
		low, high := f.end(s, i, -1), f.end(s, i, 1)
		out.Values = append(out.Values, Estimate{p.Of, (low + high) / 2 * p.Spread, (high - low) / 2 * p.Spread})
		if (high-low)/2 > told*at95 {
			out.Untold = append(out.Untold, p.Of)
		}
		for j := 0; j < i; j++ {
			if math.Abs(s.spread[i][j]) > together*math.Sqrt(s.spread[i][i]*s.spread[j][j]) {
				out.Together = append(out.Together, [2]Unknown{f.priors[j].Of, p.Of})
			}
		}
	}
	notes := f.notes(s.model)
	slopes := s.slopesOf(notes, f.notes)
	for n, v := range notes {
		out.Notes = append(out.Notes, Predicted{units.Cents(v), units.Cents(at95 * math.Sqrt(quadratic(s.spread, slopes[n])))})
	}
	return out
}

// end is how far an unknown may lie on one side: where the likeliest fit of the
// others is at95 standard errors worse than the likeliest of all. Were the model
// a straight line, that would be at95 standard deviations; but stretch multiplies
// what heights and finger do.
func (f *fitting) end(s fitted, i int, side float64) float64 {
	g := *f
	g.pinned = i
	from, by := s.x, at95*math.Sqrt(s.spread[i][i])
	at := s.x[i] + side*by
	for range 10 {
		x := slices.Clone(from)
		x[i] = math.Max(at, f.least[i])
		t, err := g.solve(x)
		if err != nil {
			break
		}
		worse := math.Sqrt(math.Max(0, t.cost-s.cost))
		if math.Abs(worse-at95) < 0.01 || x[i] > at && worse < at95 {
			return x[i]
		}
		by *= math.Min(2, math.Max(0.5, at95/worse))
		at, from = s.x[i]+side*by, t.x
	}
	return at
}

// Suspect is one unknown taken alone to explain readings.
type Suspect struct {
	Estimate
	Left units.Cents // root of the mean square of what it leaves unexplained
}

// Suspects takes each unknown alone to explain all the readings of a string, the
// one that leaves least first: how much slot height explains of sour first frets,
// and how much the nut's place. It is not a diagnosis: where two leave about as
// much, measure what tells them apart.
func (m *Model) Suspects(str int, heard []Heard, of ...Unknown) ([]Suspect, error) {
	var out []Suspect
	for _, u := range of {
		f, err := m.fitting(str, heard, []Prior{{Of: u}})
		if err != nil {
			return nil, err
		}
		s, err := f.solve(make([]float64, 1))
		if err != nil {
			return nil, fmt.Errorf("%v: %w", u, err)
		}
		fit := f.report(s, nil)
		out = append(out, Suspect{fit.Values[0], fit.RMS})
	}
	slices.SortStableFunc(out, func(a, b Suspect) int { return cmp.Compare(a.Left, b.Left) })
	return out, nil
}
