package intonation

import (
	"errors"
	"fmt"
	"math"

	"example.org/saddlepoint/intonation/internal/solve"
	"example.org/saddlepoint/units"
)

// Aim is the notes of a string that count when its break points are placed.
type Aim struct {
	Frets   []int     // from 1; none means every fret
	Weights []float64 // one a fret, at least 0 and not all 0; none means all alike
}

// Placed is where a string's break points should stand, and what that leaves.
type Placed struct {
	Setback    units.Length  // of the saddle, behind the scale line
	NutSetback units.Length  // of the nut, away from the frets
	Left       []units.Cents // at every fret of the aim, in its order
	RMS        units.Cents   // root of the mean of the squares of Left, weighted
	Worst      units.Cents   // the one of Left furthest from 0, weights apart; the first of two as far out
	Rounds     int           // how often the notes of the aim were worked out
}

// ErrNoPlace says that no setback within reach does what was asked.
var ErrNoPlace = errors.New("got no place for the break points within 60mm of the scale line and short of the frets")

// reach is how far from the scale line a setback is looked for.
const reach = 60 * units.Millimetre

// placing is one string being placed.
type placing struct {
	model   *Model
	course  Course      // it may break on the way, but not where it ends
	breaks  units.Force // its course's own
	further float64     // how much further back than its saddle it breaks
	frets   []int
	weights []float64
	rounds  int

	notes  []units.Cents // room for every note
	errs   []float64     // and for the errors of the aim
	slopes [2][]float64  // of every error by dS and dN, in cents a millimetre
}

func (m *Model) placing(str int, aim Aim) (*placing, error) {
	if str < 1 || str > len(m.courses) {
		return nil, fmt.Errorf("got string %d, want 1 to %d", str, len(m.courses))
	}
	p := &placing{model: m, course: m.neck.Courses[str-1]}
	p.breaks, p.course.Breaks = p.course.Breaks, 0
	all := len(m.crowns)
	p.frets = aim.Frets
	if len(p.frets) == 0 {
		p.frets = make([]int, all)
		for n := range p.frets {
			p.frets[n] = n + 1
		}
	}
	for _, f := range p.frets {
		if f < 1 || f > all {
			return nil, fmt.Errorf("got fret %d, want 1 to %d", f, all)
		}
	}
	n := len(p.frets)
	room := make([]float64, 4*n) // one for all: a placing is made for every string
	p.weights, p.errs, p.slopes[0], p.slopes[1] = room[:n], room[n:2*n], room[2*n:3*n], room[3*n:]
	p.notes = make([]units.Cents, all)
	return p, p.weigh(aim.Weights)
}

// weigh sets the weights.
func (p *placing) weigh(weights []float64) error {
	if len(weights) != 0 && len(weights) != len(p.frets) {
		return fmt.Errorf("got %d weights, want %d, one a fret", len(weights), len(p.frets))
	}
	sum := 0.0
	for i := range p.weights {
		w := 1.0
		if len(weights) != 0 {
			w = weights[i]
		}
		if !(w >= 0) {
			return fmt.Errorf("got a weight of %v, want at least 0", w)
		}
		sum += w
		p.weights[i] = w
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return fmt.Errorf("got weights that add up to %v, want more than 0", sum)
	}
	return nil
}

// errors sets dst to the cents at every fret of the aim with the break points at
// ds and dn, open string retuned.
func (p *placing) errors(dst []float64, ds, dn float64) error {
	p.rounds++
	p.course.Setback, p.course.NutSetback = units.Length(ds), units.Length(dn)
	w, err := p.model.work(p.course)
	if err != nil {
		return err
	}
	p.notes = p.model.course(p.notes[:0], &w)
	for i, n := range p.frets {
		dst[i] = float64(p.notes[n-1])
	}
	return nil
}

// done is the answer, with the break points where errors looked last.
func (p *placing) done() (Placed, error) {
	ds, dn := p.course.Setback, p.course.NutSetback
	p.course.Breaks = p.breaks
	if _, err := p.model.work(p.course); err != nil {
		return Placed{}, err
	}
	out := Placed{Setback: ds, NutSetback: dn, Rounds: p.rounds}
	out.Left = make([]units.Cents, len(p.errs))
	squares, weight := 0.0, 0.0
	for i, e := range p.errs {
		out.Left[i] = units.Cents(e)
		squares += p.weights[i] * e * e
		weight += p.weights[i]
		if math.Abs(e) > math.Abs(float64(out.Worst))+tie && p.weights[i] > 0 {
			out.Worst = units.Cents(e)
		}
	}
	out.RMS = units.Cents(math.Sqrt(squares / weight))
	return out, nil
}

// ZeroAt places the saddle alone, where it stands now set aside, so that one
// fret comes out right. The nut stays.
func (m *Model) ZeroAt(str, fret int) (Placed, error) {
	return m.LeastWorst(str, Aim{Frets: []int{fret}})
}

// LeastWorst places the saddle alone so that the weighted error furthest out is
// as small as can be. Every error falls as the saddle goes back, so that place
// is the one where the sharpest and the flattest are equally far out: a single
// root.
func (m *Model) LeastWorst(str int, aim Aim) (Placed, error) {
	p, err := m.placing(str, aim)
	if err != nil {
		return Placed{}, err
	}
	if _, err := leastWorst(p); err != nil {
		return Placed{}, err
	}
	return p.done()
}

// leastWorst places one saddle under strings, and leaves them there.
func leastWorst(ps ...*placing) (setback float64, err error) {
	balance := func(ds float64) float64 {
		var low, high float64 // of the errors and 0, which lies between them at the balance
		for _, p := range ps {
			if p.errors(p.errs, ds+p.further, float64(p.course.NutSetback)) != nil {
				return math.NaN()
			}
			for i, e := range p.errs {
				e *= p.weights[i]
				low, high = math.Min(low, e), math.Max(high, e)
			}
		}
		return low + high
	}
	// Every string stays behind the last fret.
	m := ps[0].model
	least, forward := math.Max(-float64(reach), (m.crowns[len(m.crowns)-1].at-float64(m.neck.Scale))*0.9), 0.0
	for _, p := range ps {
		forward = min(forward, p.further)
	}
	if setback, _, err = solve.Root(balance, least-forward, float64(reach), 1e-9); err != nil {
		return setback, ErrNoPlace
	}
	balance(setback)
	return setback, nil
}

// LeastSquares places the saddle alone so that the weighted mean square of the
// errors is as small as can be. The nut stays.
func (m *Model) LeastSquares(str int, aim Aim) (Placed, error) {
	return m.leastSquares(str, aim, false)
}

// LeastSquaresNut places saddle and nut together so that the weighted mean
// square of the errors is as small as can be. It takes two frets at least.
func (m *Model) LeastSquaresNut(str int, aim Aim) (Placed, error) {
	return m.leastSquares(str, aim, true)
}

// leastSquares goes by Gauss and Newton's steps to 0.0001 mm. Slopes taken within
// 0.1 mm of the answer are good enough for that.
func (m *Model) leastSquares(str int, aim Aim, nut bool) (Placed, error) {
	p, err := m.placing(str, aim)
	if err != nil {
		return Placed{}, err
	}
	ds, dn, moved := 0.0, 0.0, math.Inf(1)
	if !nut {
		dn = float64(p.course.NutSetback)
	}
	for range 12 {
		if err := p.errors(p.errs, ds, dn); err != nil {
			return Placed{}, err
		}
		if moved < 1e-4 {
			return p.done()
		}
		if moved > 0.1 {
			if err := p.takeSlopes(ds, dn, nut); err != nil {
				return Placed{}, err
			}
		}
		by, err := p.step(nut)
		if err != nil {
			return Placed{}, err
		}
		ds, dn = ds+by[0], dn+by[1]
		if !(math.Abs(ds) < float64(reach) && math.Abs(dn) < float64(reach)) {
			return Placed{}, ErrNoPlace
		}
		moved = math.Abs(by[0]) + math.Abs(by[1])
	}
	return Placed{}, ErrNoPlace
}

// takeSlopes sets the slopes, by differences.
func (p *placing) takeSlopes(ds, dn float64, nut bool) error {
	const h = 1e-3 // mm
	if err := p.errors(p.slopes[0], ds+h, dn); err != nil {
		return err
	}
	if nut {
		if err := p.errors(p.slopes[1], ds, dn+h); err != nil {
			return err
		}
	}
	for i, e := range p.errs {
		p.slopes[0][i] = (p.slopes[0][i] - e) / h
		p.slopes[1][i] = (p.slopes[1][i] - e) / h // of no use where the nut stays
	}
	return nil
}

// step solves the normal equations of one or two unknowns.
func (p *placing) step(nut bool) (out [2]float64, err error) {
	var a, b, c, u, v float64 // [a b; b c] step = [u v]
	for i, w := range p.weights {
		s, t, e := p.slopes[0][i], p.slopes[1][i], p.errs[i]
		a, b, c = a+w*s*s, b+w*s*t, c+w*t*t
		u, v = u-w*s*e, v-w*t*e
	}
	if !nut {
		return [2]float64{u / a, 0}, nil
	}
	d := a*c - b*b
	if !(d > 1e-12*a*c) {
		return out, fmt.Errorf("got frets that cannot tell saddle from nut, want two that differ")
	}
	return [2]float64{(u*c - v*b) / d, (v*a - u*b) / d}, nil
}
