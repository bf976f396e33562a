package intonation

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation/internal/solve"
	"example.org/saddlepoint/units"
)

// Saddle is one saddle of a bridge, and how it can be set: any number of strings
// rest on it. One string a saddle, pairs, one straight saddle for all and a
// floating bridge are all Saddles.
type Saddle struct {
	Rests  []Rest
	Slants bool // its ends move on their own, so that it may stand aslant
	// Least and Most are how far it can go back, forward being negative; both 0
	// where nothing limits it. A saddle that slants takes none.
	Least, Most units.Length
}

// Rest is where one string rests on a saddle.
type Rest struct {
	String  int
	Across  units.Length // from the board's centre line, positive towards the treble edge
	Stagger units.Length // how much further back than the saddle's datum it breaks already: machined, filed or angled
}

// Note is a reading that counts when a saddle is placed. Its Setback is that of
// the saddle's datum, the same for all notes.
type Note struct {
	Reading
	Weight float64     // more than 0; 0 counts as 1
	Target units.Cents // what it should read
}

// Objective is what the best place makes small.
type Objective uint8

const (
	LeastWorst   Objective = iota // the weighted note furthest out, then, of a saddle that slants, the next
	LeastSquares                  // the weighted mean of the squares
)

// Set is a saddle set best.
type Set struct {
	Move  units.Length  // of the datum, at the centre line where it slants; back positive
	Slant units.Angle   // how far the saddle turns, its treble end back positive
	Short units.Length  // how far the best place lies beyond the travel, with the move's sign; 0 within it
	Rests []Resting     // in the order of the saddle's
	Left  []units.Cents // what every note becomes, less its target
	Worst units.Cents   // the one of Left whose weighted size is largest
	RMS   units.Cents   // root of the weighted mean of the squares
	// Residual is what the solver left of its condition at the best place, the
	// travel apart: sharpest plus flattest weighted note, or the slope of the
	// weighted sum of squares. Calls is how often it looked at all notes.
	Residual float64
	Calls    int
}

// Resting is one string's share in a saddle that was set. Own and Stagger are NaN
// where no note of the string was read.
type Resting struct {
	String  int
	Move    units.Length // of its break point
	Own     units.Length // where its break point would go for this string alone
	Stagger units.Length // how much further back it ought to break than the first string read
	Worst   units.Cents  // the one of its notes whose weighted size is largest
}

// Place sets a saddle best for the notes read on its strings, 100 at most.
func (s Saddle) Place(notes []Note, by Objective, d fret.Division, scale units.Length) (Set, error) {
	return new(Placer).Place(s, notes, by, d, scale)
}

// Placer places one saddle after another in the same memory. The zero value is
// ready.
type Placer struct {
	all, mine bridge // every note of the saddle, and one string's
	rests     []Resting
	left      []units.Cents
}

var (
	errNoPlace = errors.New("got notes that no place of the saddle behind the frets serves, want smaller readings or weights nearer each other")
	errOneLine = errors.New("got notes at one place across a saddle that slants, want two strings apart")
)

// Place is [Saddle.Place] without allocating, once the memory has grown: Rests
// and Left of the result hold until the next call.
func (p *Placer) Place(s Saddle, notes []Note, by Objective, d fret.Division, scale units.Length) (Set, error) {
	if by > LeastSquares {
		return Set{}, fmt.Errorf("got objective %d, want least-worst or least-squares", by)
	}
	if err := s.check(); err != nil {
		return Set{}, err
	}
	if err := p.all.load(s, notes, d, scale); err != nil {
		return Set{}, err
	}
	at, err := p.all.best(by, s.Slants)
	if err != nil {
		return Set{}, err
	}
	out := Set{Move: units.Length(at.move), Slant: units.Slope(units.Length(at.slope), 1), Calls: p.all.calls}
	out.Residual = p.all.residual(at, by)
	if s.limited() {
		// What is to be made small rises all the way from the best place.
		out.Move = min(s.Most, max(s.Least, out.Move))
		out.Short = units.Length(at.move) - out.Move
		at.move = float64(out.Move)
	}
	if err := p.sumUp(&out, at); err != nil {
		return Set{}, err
	}
	p.share(&out, s, at, by)
	return out, nil
}

func (s Saddle) limited() bool { return s.Least != 0 || s.Most != 0 }

// mostRests is how many strings may rest on a saddle.
const mostRests = 100

// check checks a saddle.
func (s Saddle) check() error {
	if len(s.Rests) > mostRests {
		return fmt.Errorf("got %d strings on a saddle, want at most %d", len(s.Rests), mostRests)
	}
	if s.limited() && s.Slants {
		return errors.New("got limits of a saddle that slants, want none")
	}
	if !(s.Least <= s.Most) {
		return fmt.Errorf("got travel from %v to %v back, want the least first", s.Least, s.Most)
	}
	for i, r := range s.Rests {
		if s.rest(r.String) != i {
			return fmt.Errorf("got string %d twice on a saddle, want it once", r.String)
		}
		if sum := float64(r.Across + r.Stagger); sum-sum != 0 {
			return fmt.Errorf("string %d: got %v across and a stagger of %v, want finite ones", r.String, r.Across, r.Stagger)
		}
	}
	return nil
}

// rest is the place of a string in the saddle's list, -1 where it has none.
func (s Saddle) rest(str int) int {
	return slices.IndexFunc(s.Rests, func(r Rest) bool { return r.String == str })
}

// tie is how near two notes count as equally far out, as at a best place
// they are but for rounding: the one given first is then called the worst.
const tie = 1e-6

// sumUp says what a saddle that stands there leaves.
func (p *Placer) sumUp(out *Set, at stand) error {
	p.left = p.left[:0]
	squares, weight, worst := 0.0, 0.0, -1.0
	for _, n := range p.all.notes {
		e := units.Cents(n.at(at.back(n.across)))
		p.left = append(p.left, e)
		squares += n.weight * float64(e) * float64(e)
		weight += n.weight
		if size := n.weight * math.Abs(float64(e)); size > worst+tie {
			worst, out.Worst = size, e
		}
	}
	out.Left = p.left
	out.RMS = units.Cents(math.Sqrt(squares / weight))
	if !(out.RMS <= math.MaxFloat64) { // nowhere, in front of a fret, or an overflow
		return errNoPlace
	}
	return nil
}

// share works out every string's share.
func (p *Placer) share(out *Set, s Saddle, at stand, by Objective) {
	p.rests = p.rests[:0]
	none := units.Length(math.NaN())
	first := none // where the first string read would break best
	for i, rest := range s.Rests {
		r := Resting{String: rest.String, Move: units.Length(at.back(float64(rest.Across))), Own: none, Stagger: none}
		p.mine.notes = p.mine.notes[:0]
		worst := -1.0
		for j, n := range p.all.notes {
			if n.rest != i {
				continue
			}
			p.mine.notes = append(p.mine.notes, n)
			if size := n.weight * math.Abs(float64(out.Left[j])); size > worst+tie {
				worst, r.Worst = size, out.Left[j]
			}
		}
		if len(p.mine.notes) > 0 {
			r.Own = units.Length(p.mine.move(0, by))
			if first != first {
				first = rest.Stagger + r.Own
			}
			r.Stagger = rest.Stagger + r.Own - first
		}
		p.rests = append(p.rests, r)
	}
	out.Rests = p.rests
}

// bridge is a saddle being set.
type bridge struct {
	notes []spot
	calls int
}

// spot is a note as the solver sees it.
type spot struct {
	pair           // its cents less the target
	weight, across float64
	rest           int // which of the saddle's
}

// stand is where a saddle stands: how far back at the centre line, and back a
// millimetre across.
type stand struct{ move, slope float64 }

func (at stand) back(across float64) float64 { return at.move + at.slope*across }

// load takes the notes of a saddle.
func (b *bridge) load(s Saddle, notes []Note, d fret.Division, scale units.Length) error {
	b.notes, b.calls = b.notes[:0], 0
	if len(notes) == 0 {
		return errors.New("got no notes, want one at least")
	}
	for _, n := range notes {
		i := s.rest(n.String)
		if i < 0 {
			return fmt.Errorf("got a note of string %d, want one of a string on the saddle", n.String)
		}
		if n.Setback != notes[0].Setback {
			return fmt.Errorf("got notes with the saddle at setbacks of %v and %v, want them at one", notes[0].Setback, n.Setback)
		}
		if n.Weight == 0 {
			n.Weight = 1
		}
		if !(n.Weight > 0) || math.IsInf(n.Weight, 0) {
			return fmt.Errorf("string %d: got a weight of %v, want more than 0", n.String, n.Weight)
		}
		n.Setback += s.Rests[i].Stagger
		n.Cents -= n.Target
		p, err := n.lengths(d, scale)
		if err != nil {
			return fmt.Errorf("string %d: %w", n.String, err)
		}
		b.notes = append(b.notes, spot{p, n.Weight, float64(s.Rests[i].Across), i})
	}
	return nil
}

// best finds where the saddle should stand, NaN where nowhere. At every slope the
// best move is a root, and so is the slope of a saddle that slants.
func (b *bridge) best(by Objective, slants bool) (at stand, err error) {
	if !slants {
		at.move = b.move(0, by)
		return at, nil
	}
	low, high := b.slopes()
	if low > high {
		return at, errOneLine
	}
	at.slope, _, _ = solve.Root(func(slope float64) float64 {
		move := b.move(slope, by)
		if move != move {
			return move
		}
		return b.turn(stand{move, slope}, by)
	}, low, high, 1e-13)
	at.move = b.move(at.slope, by)
	if by == LeastWorst {
		// Where the two furthest out lie at one place across, no slope helps them,
		// and it is free to serve the next.
		if sharpest, flattest := b.furthest(at); sharpest.across == flattest.across {
			return b.pivot(at, sharpest.across), nil
		}
	}
	return at, nil
}

// turn is above 0 where a saddle balanced at its slope leaves less at a smaller
// slope, below 0 where at a larger one.
func (b *bridge) turn(at stand, by Objective) float64 {
	if by == LeastSquares {
		_, slant := b.gradient(at)
		return slant
	}
	// Of the two furthest out, the sharp one wants to go back and the flat one
	// forward.
	sharpest, flattest := b.furthest(at)
	return flattest.across - sharpest.across
}

// move finds the best move at a slope.
func (b *bridge) move(slope float64, by Objective) float64 {
	return b.root(route{stand: stand{slope: slope}, by: 1}, by)
}

// pivot turns the saddle about one place across, so that the notes elsewhere are
// least far out.
func (b *bridge) pivot(at stand, across float64) stand {
	hold := at.back(across)
	slope := b.root(route{stand: stand{move: hold}, by: -across, turn: 1}, LeastWorst)
	return stand{hold - slope*across, slope}
}

// route is how a saddle moves from a stand: by so much back at the centre line and
// so much slope for every 1 that it is moved.
type route struct {
	stand
	by, turn float64
}

func (r route) speed(across float64) float64 { return r.by + r.turn*across }

// root finds how far to go a route until the notes that it changes are least far
// out. Each falls all the way where its string goes back and rises where it comes
// forward: with the signs of the latter changed all fall, and the sharpest and
// the flattest are equally far out at one place only. The squares have their
// slope of 0 between the same ends. [LeastSquares] takes a route without a turn.
// Where notes or weights are beyond sums there is no root, and it is NaN.
func (b *bridge) root(r route, by Objective) float64 {
	near, far := math.Inf(1), math.Inf(-1)
	for i := range b.notes {
		n := &b.notes[i]
		if v := r.speed(n.across); v != 0 {
			own := (float64(n.pair.move()) - r.back(n.across)) / v
			near, far = math.Min(near, own), math.Max(far, own)
		}
	}
	if far <= near {
		return near
	}
	// A little beyond both ends no rounding of a note can hide the change of sign.
	x, _, _ := solve.Root(func(t float64) float64 {
		if by == LeastSquares {
			slope, _ := b.gradient(stand{r.move + t, r.slope})
			return slope
		}
		sharpest, flattest := b.extremes(r, t)
		return sharpest.left + flattest.left
	}, near-1e-9, far+1e-9, 1e-12)
	return x
}

// furthest returns the sharpest and the flattest weighted note at a stand.
func (b *bridge) furthest(at stand) (sharpest, flattest extreme) {
	return b.extremes(route{stand: at, by: 1}, 0)
}

// extreme is a note furthest out, and where its string rests.
type extreme struct{ left, across float64 }

// extremes returns the sharpest and the flattest weighted note t along a route.
// Of a string that comes forward a sharp note counts as flat, and one that stays
// where it is does not count.
func (b *bridge) extremes(r route, t float64) (sharpest, flattest extreme) {
	b.calls++
	sharpest.left, flattest.left = math.Inf(-1), math.Inf(1)
	for i := range b.notes {
		n := &b.notes[i]
		v := r.speed(n.across)
		if v == 0 {
			continue
		}
		e := math.Copysign(1, v) * n.weight * n.at(r.back(n.across)+t*v)
		if e > sharpest.left {
			sharpest = extreme{e, n.across}
		}
		if e < flattest.left {
			flattest = extreme{e, n.across}
		}
	}
	return sharpest, flattest
}

// at is what the note becomes once its break point has gone back that far: sharp
// beyond measure at the fret and in front of it, and where there is no such place.
func (n *spot) at(back float64) float64 {
	if !(back > -float64(n.high) && back <= math.MaxFloat64) {
		return math.Inf(1)
	}
	return float64(n.after(units.Length(back)))
}

// slopes are the least and the steepest line through two notes' own places, a
// little widened; low is above high where no two stand apart. The best line is no
// steeper: beyond, every note on one side of some string would be sharp and every
// one on the other side flat, and turning it back about that string helps all.
func (b *bridge) slopes() (low, high float64) {
	var own [mostRests]struct{ across, least, most float64 } // of the strings that were read
	var read [mostRests]bool
	for i := range b.notes {
		n := &b.notes[i]
		to, o := float64(n.pair.move()), &own[n.rest]
		if !read[n.rest] {
			read[n.rest], o.across, o.least, o.most = true, n.across, to, to
		}
		o.least, o.most = math.Min(o.least, to), math.Max(o.most, to)
	}
	low, high = math.Inf(1), math.Inf(-1)
	for i, p := range own {
		for j, q := range own[:i] {
			if across := p.across - q.across; read[i] && read[j] && across != 0 {
				s, t := (p.least-q.most)/across, (p.most-q.least)/across
				low, high = min(low, s, t), max(high, s, t)
			}
		}
	}
	wide := 0.05*(high-low) + 1e-6
	return low - wide, high + wide
}

// gradient is the slope of the weighted sum of squares with the move and with the
// slant.
func (b *bridge) gradient(at stand) (move, slant float64) {
	b.calls++
	for i := range b.notes {
		n := &b.notes[i]
		by := at.back(n.across)
		e := n.at(by)
		if e > math.MaxFloat64 {
			return math.Inf(-1), math.NaN()
		}
		// d cents/d move, negative.
		s := -centsPerLog * float64(n.span) / ((float64(n.low) + by) * (float64(n.high) + by))
		g := 2 * n.weight * e * s
		move, slant = move+g, slant+g*n.across
	}
	return move, slant
}

func (b *bridge) residual(at stand, by Objective) float64 {
	if by == LeastSquares {
		move, _ := b.gradient(at)
		return move
	}
	sharpest, flattest := b.furthest(at)
	return sharpest.left + flattest.left
}
