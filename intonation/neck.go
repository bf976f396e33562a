package intonation

import (
	"fmt"
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Neck is strings over frets: all that the pitch of every note follows from.
//
// The model is the side view of each string (M. B. Anderson and R. G.
// Beausoleil, J. Acoust. Soc. Am. 156(1), 683, 2024): pressing a string to a
// crown changes the length that sounds, stretches the whole string, which raises
// its pull, and makes it stiffer against its length. Relief, a finger's depth
// with the string resting on crowns behind it, and after-lengths are our own
// extensions, with no published check.
type Neck struct {
	Division fret.Division
	Scale    units.Length
	Relief   action.Relief
	Finger   Finger
	Courses  []Course
}

// Finger is how the finger presses a string behind the crown. The zero Finger
// leaves the string to take the shortest way from crown to nut.
type Finger struct {
	// Carry is how far behind the crown the line from saddle to crown goes on
	// before the string turns to the nut: d in the paper's geometry, which takes
	// it straight on from there, whatever crowns stand in between.
	Carry units.Length
	// Depth and Behind are how far below the crown the finger presses, and how
	// far behind it; the string then rests on any crown it meets on its way to
	// the nut. They stand in place of Carry: one of the two is 0.
	Depth, Behind units.Length
}

// Course is one string over the neck. Heights are measured from the straight
// plane of the frets, up positive, to the underside of the string.
type Course struct {
	UnitWeight units.LinearDensity
	Stretch    units.Force     // E A: pull per strain, of the core of a wound string
	Bend       float64         // E I in N m^2, of the core of a wound string
	Open       units.Frequency // what the open string is tuned to
	Breaks     units.Force     // the least pull that breaks it; 0 where it is not known

	NutHeight   units.Length // b: of the string at the nut
	Rise        units.Length // c: of the saddle over the nut
	Setback     units.Length // dS: of the saddle behind the scale line
	NutSetback  units.Length // dN: of the nut's break point, away from the frets; the trade's nut compensation is -dN
	AfterLength units.Length // beyond nut and saddle, where the string slides
	Fixity      float64      // q: both ends' together, 0 both pinned, 1 one clamped, 2 both

	Held Held
}

// Held states a string by the two ratios that its cents depend on, and holds
// them whatever the setbacks, as the paper does. Other than the zero Held, it
// stands in place of the pull that Open asks for.
type Held struct {
	Kappa float64 // E A over the open pull, 2R + 1
	B0    float64 // sqrt(E I over pull) over the open length
	// Published leaves the rise of the pull out of the stiffness, B_n = gamma_n B0,
	// as the paper's own program does. Its printed setbacks need it; they are up to
	// 0.046 mm and 0.02 cents from the physical form.
	Published bool
}

// Causes are the three causes of a note's error, which add up to it.
type Causes struct {
	Length    units.Cents // the sounding length is not the open one over the ratio
	Stretch   units.Cents // the pull rises, and the string thins
	Stiffness units.Cents // it bends more stiffly the shorter it is
}

// Total is the note's error.
func (c Causes) Total() units.Cents { return c.Length + c.Stretch + c.Stiffness }

// Model predicts every note of a neck. It never changes.
type Model struct {
	neck    Neck
	crowns  []crown // from fret 1
	courses []course
}

// crown is one fret.
type crown struct {
	at, drop float64 // from the nut, and below the straight plane
	share    float64 // 1/gamma_n^2
}

// course is a Course, worked out.
type course struct {
	reach, top float64 // of the saddle: from the nut end of the scale, and over the plane
	b, dn      float64 // of the nut
	open       float64 // L0
	per        float64 // 1/(L0 + after-length)
	way        way

	pull         float64 // N; NaN where Kappa is held
	kappa, b0    float64
	fixity, bend float64 // q, and q^2 + pi^2/2
	gain         float64 // 1/S(B0)^2
	published    bool
}

// way is how a pressed string goes from crown to nut.
type way uint8

const (
	straight way = iota // touching nothing
	carried             // by the paper's d
	resting             // over the finger, and the crowns that it meets
)

// NewModel works a neck out. It refuses what cannot be, and says which string
// and fret.
func NewModel(n Neck) (*Model, error) {
	if err := n.check(); err != nil {
		return nil, err
	}
	m := &Model{neck: n}
	m.neck.Courses = append([]Course(nil), n.Courses...)
	for f := 1; f <= n.Division.Frets(); f++ {
		at, share := n.Division.From(n.Scale, f), 1-n.Division.Share(f)
		m.crowns = append(m.crowns, crown{float64(at), float64(n.Relief.Drop(at)), share * share})
	}
	for i, c := range m.neck.Courses {
		w, err := m.work(c)
		if err == nil {
			err = m.sounds(&w)
		}
		if err != nil {
			return nil, fmt.Errorf("string %d: %w", i+1, err)
		}
		m.courses = append(m.courses, w)
	}
	return m, nil
}

func (n Neck) check() error {
	if n.Division.Frets() == 0 {
		return fmt.Errorf("got no frets, want at least one")
	}
	if !(n.Scale > 0) || math.IsInf(float64(n.Scale), 0) {
		return fmt.Errorf("got a scale of %v, want more than 0", n.Scale)
	}
	if err := n.Relief.Check(); err != nil {
		return err
	}
	f := n.Finger
	if !(f.Carry >= 0 && f.Depth >= 0 && f.Behind >= 0) || math.IsInf(float64(f.Carry+f.Depth+f.Behind), 0) {
		return fmt.Errorf("got a finger carried on %v, %v deep, %v behind, want each finite and at least 0", f.Carry, f.Depth, f.Behind)
	}
	if f.Carry > 0 && f.Depth > 0 {
		return fmt.Errorf("got a finger both carried on and of a depth, want one")
	}
	for i := 1; f.Depth > 0 && i <= n.Division.Frets(); i++ {
		if gap := n.Division.Gap(n.Scale, i); f.Behind >= gap {
			return fmt.Errorf("got a finger %v behind fret %d, want less than the %.2f from the fret before", f.Behind, i, gap)
		}
	}
	return nil
}

// work works a string out: where it goes, and the open string.
func (m *Model) work(c Course) (course, error) {
	w := course{
		reach: float64(m.neck.Scale + c.Setback), top: float64(c.NutHeight + c.Rise),
		b: float64(c.NutHeight), dn: float64(c.NutSetback),
		fixity: c.Fixity, bend: c.Fixity*c.Fixity + math.Pi*math.Pi/2, published: c.Held.Published,
	}
	if !(c.Fixity >= 0 && c.Fixity <= 2) {
		return w, fmt.Errorf("got a fixity of %v, want 0 to 2", c.Fixity)
	}
	if !(c.AfterLength >= 0) || math.IsInf(float64(c.AfterLength), 0) {
		return w, fmt.Errorf("got an after-length of %v, want at least 0", c.AfterLength)
	}
	first, last := m.crowns[0], m.crowns[len(m.crowns)-1]
	if !(w.reach > last.at && w.dn > -first.at) || math.IsInf(w.reach+w.dn, 0) {
		return w, fmt.Errorf("got setbacks of %v and %v, want nut and saddle outside the frets", c.Setback, c.NutSetback)
	}
	f := m.neck.Finger
	if room := units.Length(first.at + w.dn); f.Carry >= room || f.Depth > 0 && f.Behind >= room {
		return w, fmt.Errorf("got a finger %v behind fret 1, want less than the %.2f from the nut", max(f.Carry, f.Behind), room)
	}
	if sum := w.b + w.top; sum-sum != 0 {
		return w, fmt.Errorf("got heights of %v and %v, want finite ones", c.NutHeight, c.Rise)
	}
	w.way = m.goes(&w)
	w.open = math.Hypot(w.reach+w.dn, float64(c.Rise))
	w.per = 1 / (w.open + float64(c.AfterLength))
	return w, w.tune(c)
}

// goes is how the pressed string goes to the nut.
func (m *Model) goes(w *course) way {
	switch {
	case m.neck.Finger.Carry > 0:
		return carried
	case m.neck.Finger.Depth > 0, m.neck.Relief.Bow < 0:
		return resting
	case len(m.crowns) == 1:
		return straight
	}
	// Crowns on a line, or a curve that sags, leave the string clear unless the nut
	// stands lower than they do.
	first, next := m.crowns[0], m.crowns[1]
	if (w.b+first.drop)/(first.at+w.dn) < (next.drop-first.drop)/(next.at-first.at) {
		return resting
	}
	return straight
}

// tune finds pull, kappa and B0.
func (w *course) tune(c Course) error {
	if c.Held != (Held{}) {
		w.kappa, w.b0, w.pull = c.Held.Kappa, c.Held.B0, math.NaN()
		if !(w.kappa > 0 && w.b0 >= 0) || math.IsInf(w.kappa+w.b0, 0) {
			return fmt.Errorf("got kappa %v and B0 %v, want more than 0 and at least 0", w.kappa, w.b0)
		}
	} else if err := w.pulled(c); err != nil {
		return err
	}
	s := w.series(w.b0)
	w.gain = 1 / (s * s)
	return nil
}

// pulled solves for the pull that brings the open string to pitch, stiffness
// included.
func (w *course) pulled(c Course) error {
	mu, stretch, tuned := float64(c.UnitWeight), float64(c.Stretch), float64(c.Open)
	if !(mu > 0 && tuned > 0 && stretch >= 0 && c.Bend >= 0) || math.IsInf(mu+tuned+stretch+c.Bend, 0) {
		return fmt.Errorf("got a string of %v, stretch %v, bend %v N m2 at %v, want them finite, and weight and pitch more than 0",
			c.UnitWeight, c.Stretch, c.Bend, c.Open)
	}
	// With u the root of the pull: 2 l f sqrt(mu) = u + q e + (q^2 + pi^2/2) e^2/u,
	// e = sqrt(EI)/l; a square equation for u.
	metres := w.open / 1000
	e := math.Sqrt(c.Bend) / metres
	half := (2*metres*tuned*math.Sqrt(mu) - w.fixity*e) / 2
	rest := half*half - w.bend*e*e
	if !(rest > 0) { // as it is not where half is 0 or less
		return fmt.Errorf("got %v, want a higher pitch or a thinner string: at that it hangs slack", c.Open)
	}
	u := half + math.Sqrt(rest)
	w.pull = u * u
	w.kappa, w.b0 = stretch/w.pull, e/u
	if c.Breaks > 0 && w.pull >= float64(c.Breaks) {
		return fmt.Errorf("got a pull of %.1f, want less than %.1f, which breaks it", units.Force(w.pull), c.Breaks)
	}
	return nil
}

// series is how far bending raises the first partial of a string, by H. Fletcher's
// series (J. Acoust. Soc. Am. 36, 203, 1964) between both ends pinned and both
// clamped. It is good to 0.005 cents up to B = 0.005, and to 0.04 up to 0.01.
func (w *course) series(b float64) float64 { return 1 + b*(w.fixity+w.bend*b) }

// sounds refuses a string that rests on a crown when open, or on one further up
// when pressed to a fret, or that has no pitch there.
func (m *Model) sounds(w *course) error {
	for i, c := range m.crowns {
		over := w.b + (w.top-w.b)*(c.at+w.dn)/(w.reach+w.dn) + c.drop
		if over < -touching {
			return fmt.Errorf("got the crown of fret %d %.3f above the open string, want it below", i+1, units.Length(-over))
		}
	}
	shallow := len(m.crowns) - 1 // the crown further up that the string comes down to least steeply
	for i := shallow; i >= 0; i-- {
		c, s := m.crowns[i], m.crowns[shallow]
		below := (w.top+c.drop)*(w.reach-s.at)/(w.reach-c.at) - (w.top + s.drop)
		if below > touching {
			return fmt.Errorf("got the crown of fret %d %.3f above the string pressed to fret %d, want it below", shallow+1, units.Length(below), i+1)
		}
		if below <= 0 {
			shallow = i
		}
	}
	for i := range m.crowns {
		if e := m.cents(w, i); !(math.Abs(e) <= math.MaxFloat64) {
			return fmt.Errorf("got no pitch at fret %d, want lengths, heights and a string that can be", i+1)
		}
	}
	return nil
}

// touching is how far a crown may stand above the string and still count as
// touched: rounding, in mm.
const touching = 1e-9

// lengths are the sounding length of a string pressed to fret n, from 0 for the
// first, and what is behind it.
func (m *Model) lengths(w *course, n int) (sounding, behind float64) {
	c := m.crowns[n]
	reach, rise := w.reach-c.at, w.top+c.drop
	sounding = math.Sqrt(reach*reach + rise*rise)
	long, up := c.at+w.dn, w.b+c.drop
	switch w.way {
	case resting:
		return sounding, m.rests(w, n)
	case carried:
		d := float64(m.neck.Finger.Carry)
		on := d / reach
		return sounding, sounding*on + math.Hypot(long-d, up+rise*on)
	}
	return sounding, math.Sqrt(long*long + up*up)
}

// rests is the shortest way of the string from crown n over the finger and any
// crowns that it meets to the nut: at every point it goes on to the one that
// stands highest in its view.
func (m *Model) rests(w *course, n int) float64 {
	x, z, long := m.crowns[n].at, -m.crowns[n].drop, 0.0
	next, slope := m.sees(w, n, x, z)
	f := m.neck.Finger
	if p, h := float64(f.Behind), float64(f.Depth); h > 0 && -h < p*slope { // or the finger is above the string
		x, z, long = x-p, z-h, math.Hypot(p, h)
		next, _ = m.sees(w, n, x, z)
	}
	for next >= 0 {
		c := m.crowns[next]
		long += math.Hypot(x-c.at, c.drop+z)
		x, z = c.at, -c.drop
		next, _ = m.sees(w, next, x, z)
	}
	return long + math.Hypot(x+w.dn, w.b-z)
}

// sees is the crown before n that stands highest in view from x and z, looking
// to the nut, and the slope up to it; -1 where the nut stands higher.
func (m *Model) sees(w *course, n int, x, z float64) (next int, slope float64) {
	next, slope = -1, (w.b-z)/(x+w.dn)
	for k := n - 1; k >= 0; k-- {
		if up := (-m.crowns[k].drop - z) / (x - m.crowns[k].at); up > slope {
			next, slope = k, up
		}
	}
	return next, slope
}

// centsPerLog turns a natural logarithm into cents.
const centsPerLog = 1200 / math.Ln2

// ratios are the squares of the three causes' ratios at fret n from 0. Their
// product is how the frequency stands to its right one, squared.
func (m *Model) ratios(w *course, n int) (length, stretch, stiffness float64) {
	sounding, behind := m.lengths(w, n)
	q := (sounding + behind - w.open) * w.per
	shorter := w.open / sounding
	tighter := 1 + w.kappa*q
	share := m.crowns[n].share
	b := w.b0 * shorter / math.Sqrt(tighter)
	if w.published {
		b = w.b0 / math.Sqrt(share)
	}
	s := w.series(b)
	return shorter * shorter * share, (1 + q) * tighter, s * s * w.gain
}

// cents is the error at fret n from 0.
func (m *Model) cents(w *course, n int) float64 {
	l, t, s := m.ratios(w, n)
	return centsPerLog / 2 * math.Log(l*t*s)
}

// Map appends to dst the error of every note in cents, sharp positive: string by
// string, each from fret 1 to the last. It allocates nothing where dst has room.
func (m *Model) Map(dst []units.Cents) []units.Cents {
	for i := range m.courses {
		dst = m.course(dst, &m.courses[i])
	}
	return dst
}

// course appends the errors of one string. First come the products of ratios for
// all its notes, then their logarithms: two short loops, in which a processor
// has several notes in hand, are faster than a long one.
func (m *Model) course(dst []units.Cents, w *course) []units.Cents {
	from := len(dst)
	if w.way == straight && !w.published {
		dst = m.products(dst, w)
	} else {
		for n := range m.crowns {
			l, t, s := m.ratios(w, n)
			dst = append(dst, units.Cents(l*t*s))
		}
	}
	for i, r := range dst[from:] {
		// ln r = 2 artanh s, by its series: s^2 is below 0.001 up to 54 cents, and
		// what is left out below 1e-16 of it.
		s := float64(r-1) / float64(r+1)
		if z := s * s; z < 0.001 {
			dst[from+i] = units.Cents(centsPerLog * s * (1 + z*(1./3+z*(1./5+z*(1./7+z/9)))))
		} else {
			dst[from+i] = units.Cents(centsPerLog / 2 * math.Log(float64(r)))
		}
	}
	return dst
}

// products appends the products of ratios of a string that goes straight to the
// nut, as ratios has them, with fewer divisions.
func (m *Model) products(dst []units.Cents, w *course) []units.Cents {
	for i := range m.crowns {
		c := &m.crowns[i]
		reach, rise := w.reach-c.at, w.top+c.drop
		long, up := c.at+w.dn, w.b+c.drop
		sounding := math.Sqrt(reach*reach + rise*rise)
		q := (sounding + math.Sqrt(long*long+up*up) - w.open) * w.per
		tight := math.Sqrt(1 + w.kappa*q)
		shorter := w.open / (sounding * tight)
		b := w.b0 * shorter
		f := tight * tight * shorter * (1 + b*(w.fixity+w.bend*b))
		dst = append(dst, units.Cents(c.share*w.gain*(1+q)*(f*f)))
	}
	return dst
}

// Why returns the causes of the error of a string's note at a fret, both from 1.
// A note that is not there gives NaN.
func (m *Model) Why(str, fret int) Causes {
	if str < 1 || str > len(m.courses) || fret < 1 || fret > len(m.crowns) {
		nan := units.Cents(math.NaN())
		return Causes{nan, nan, nan}
	}
	l, t, s := m.ratios(&m.courses[str-1], fret-1)
	const k = centsPerLog / 2
	return Causes{units.Cents(k * math.Log(l)), units.Cents(k * math.Log(t)), units.Cents(k * math.Log(s))}
}

// Cents returns the error of a string's note at a fret, sharp positive; fret 0
// is the open string, which is right by definition. A note that is not there
// gives NaN.
func (m *Model) Cents(str, fret int) units.Cents {
	switch {
	case str < 1 || str > len(m.courses) || fret < 0 || fret > len(m.crowns):
		return units.Cents(math.NaN())
	case fret == 0:
		return 0
	}
	return units.Cents(m.cents(&m.courses[str-1], fret-1))
}

// Taut is an open string at its pitch.
type Taut struct {
	Pull  units.Force // NaN where Kappa and B0 were stated instead
	Kappa float64     // E A over the pull
	B0    float64     // sqrt(E I over pull) over the length
}

// Taut returns the open string's pull and the two ratios that follow from it. A
// string that is not there gives NaN.
func (m *Model) Taut(str int) Taut {
	if str < 1 || str > len(m.courses) {
		return Taut{units.Force(math.NaN()), math.NaN(), math.NaN()}
	}
	w := m.courses[str-1]
	return Taut{units.Force(w.pull), w.kappa, w.b0}
}

// Partial returns how far partial n of the open string lies above n times its
// first, in cents: 0 for the first. A partial below 1 gives NaN.
func (m *Model) Partial(str, n int) units.Cents {
	if str < 1 || str > len(m.courses) || n < 1 {
		return units.Cents(math.NaN())
	}
	w, x := &m.courses[str-1], float64(n)
	// What the series of n and of 1 differ by, so that a little stiffness counts. For
	// the tenth it is good to 0.015 cents up to B = 0.002.
	more := (x*x - 1) * (math.Pi * math.Pi / 2) * w.b0 * w.b0
	return units.Cents(centsPerLog * math.Log1p(more/w.series(w.b0)))
}
