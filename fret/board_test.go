package fret_test

import (
	"math"
	"math/cmplx"
	"math/rand"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

func centres(t testing.TB, spread units.Length, strings int) []units.Length {
	t.Helper()
	places, err := fret.EqualCentres(spread, strings)
	if err != nil {
		t.Fatal(err)
	}
	return places
}

func gaps(t testing.TB, spread units.Length, gauges ...units.Length) []units.Length {
	t.Helper()
	places, err := fret.EqualGaps(spread, gauges...)
	if err != nil {
		t.Fatal(err)
	}
	return places
}

func board(t testing.TB, p fret.Plan) *fret.Board {
	t.Helper()
	b, err := fret.NewBoard(p)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// onescale is a plain six-string.
func onescale(t testing.TB) fret.Plan {
	return fret.Plan{
		Division: equal(t, 12, 22), Scale: 650,
		AtNut: centres(t, 36, 6), AtScale: centres(t, 52, 6),
		NutWidth: 43, EndWidth: 56, Beyond: 8,
	}
}

// twoscale is an eight-string whose 7th fret is square.
func twoscale(t testing.TB) fret.Plan {
	return fret.Plan{
		Division: equal(t, 12, 24), Treble: 25.5 * units.Inch, Bass: 28 * units.Inch, Straight: 7,
		AtNut: centres(t, 46, 8), AtScale: centres(t, 72, 8),
		NutWidth: 54, EndWidth: 72, Beyond: 8,
		Surface: fret.Surface{Nut: 16 * units.Inch, End: 20 * units.Inch},
	}
}

// chance is a board of two scales by chance, its division equal in twelve.
func chance(t testing.TB, rnd *rand.Rand) fret.Plan {
	strings := 2 + rnd.Intn(8)
	p := fret.Plan{
		Division: equal(t, 12, 1+rnd.Intn(30)),
		Treble:   units.Length(500 + 300*rnd.Float64()),
		Straight: -3 + 20*rnd.Float64(),
		AtNut:    centres(t, units.Length(30+20*rnd.Float64()), strings),
		AtScale:  centres(t, units.Length(50+20*rnd.Float64()), strings),
		Margin:   units.Length(5 * rnd.Float64()),
		Beyond:   units.Length(20 * rnd.Float64()),
		Behind:   units.Length(5 * rnd.Float64()),
	}
	aside := units.Length(4*rnd.Float64() - 2) // strings need not lie evenly about the centre line
	for i := range p.AtNut {
		p.AtNut[i], p.AtScale[i] = p.AtNut[i]+aside, p.AtScale[i]+aside/2
	}
	p.Bass = p.Treble + units.Length(-30+120*rnd.Float64())
	if rnd.Intn(2) == 0 {
		p.Straight = math.Trunc(p.Straight)
	}
	if rnd.Intn(2) == 0 {
		p.Margin, p.NutWidth, p.EndWidth = 0, 60, 90
	}
	return p
}

func point(p fret.Point) complex128 { return complex(float64(p.X), float64(p.Y)) }

// row3 is a point or a line of the plane in homogeneous coordinates: the cross
// product joins two points and meets two lines.
type row3 [3]float64

func (a row3) cross(b row3) row3 {
	return row3{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func join(p, q complex128) row3 {
	return row3{real(p), imag(p), 1}.cross(row3{real(q), imag(q), 1})
}

func meets(a, b row3) complex128 {
	p := a.cross(b)
	return complex(p[0]/p[2], p[1]/p[2])
}

// twin lays a board of two scales out another way: each outer string turned to
// its angle, the bass one slid until the straight points stand level, and all
// moved so that the nut line crosses the centre line at 0.
type twin struct {
	plan  fret.Plan
	slide [2]float64
}

// outer returns the point of the treble (0) or bass (1) string at a share.
func (w twin) outer(side int, share float64) complex128 {
	last := len(w.plan.AtNut) - 1
	i, long := 0, float64(w.plan.Treble)
	if side == 1 {
		i, long = last, float64(w.plan.Bass)
	}
	turn := math.Asin(float64(w.plan.AtScale[i]-w.plan.AtNut[i]) / long)
	return complex(w.slide[side], float64(w.plan.AtNut[i])) + cmplx.Rect(long*share, turn)
}

func shareAt(fret float64) float64 { return 1 - math.Exp2(-fret/12) }

var middle = join(0, 1)

func newTwin(p fret.Plan) twin {
	w := twin{plan: p}
	level := shareAt(p.Straight)
	w.slide[1] = real(w.outer(0, level) - w.outer(1, level))
	at := real(meets(middle, join(w.outer(0, 0), w.outer(1, 0))))
	w.slide[0] -= at
	w.slide[1] -= at
	return w
}

func (w twin) line(share float64) row3 { return join(w.outer(0, share), w.outer(1, share)) }

// edge returns the treble or bass edge.
func (w twin) edge(side int) row3 {
	sign := float64(1 - 2*side)
	if m := float64(w.plan.Margin); w.plan.NutWidth == 0 {
		up := complex(0, sign*m)
		return join(w.outer(side, 0)+up, w.outer(side, 1)+up)
	}
	end := real(meets(middle, w.line(shareAt(float64(w.plan.Division.Frets()))))) + float64(w.plan.Beyond)
	return join(complex(0, sign*float64(w.plan.NutWidth)/2), complex(end, sign*float64(w.plan.EndWidth)/2))
}

func samePoint(t *testing.T, what string, got fret.Point, want complex128) {
	t.Helper()
	if off := cmplx.Abs(point(got) - want); !(off <= 1e-9) {
		t.Errorf("%s: got %v, want %v, off by %g mm", what, got, want, off)
	}
}

// Every place of boards of two scales against the twin.
func TestBoardTwin(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	for range 300 {
		p := chance(t, rnd)
		b, w := board(t, p), newTwin(p)
		last := p.Division.Frets()
		slots := b.Slots()
		if len(slots) != last {
			t.Fatalf("got %d slots, want %d", len(slots), last)
		}
		for i, s := range slots {
			if s.Fret != i+1 || s.String != 0 {
				t.Fatalf("got slot %d of fret %d and string %d", i, s.Fret, s.String)
			}
			line := w.line(shareAt(float64(s.Fret)))
			samePoint(t, "treble end", s.Treble, meets(line, w.edge(0)))
			samePoint(t, "bass end", s.Bass, meets(line, w.edge(1)))
		}
		samePoint(t, "nut, treble end", b.NutLine().Treble, meets(w.line(0), w.edge(0)))
		samePoint(t, "nut, bass end", b.NutLine().Bass, meets(w.line(0), w.edge(1)))
		samePoint(t, "scale line, treble", b.ScaleLine().Treble, w.outer(0, 1))
		samePoint(t, "scale line, bass", b.ScaleLine().Bass, w.outer(1, 1))
		for i, corner := range b.Outline() {
			share, by, side := 0.0, -float64(p.Behind), i/2
			if i == 1 || i == 2 {
				share, by = shareAt(float64(last)), float64(p.Beyond)
			}
			along := complex(by, 0)
			samePoint(t, "corner", corner, meets(join(w.outer(0, share)+along, w.outer(1, share)+along), w.edge(side)))
		}
	}
}

// Strings that part both ends alike: each is a one-scale neck of its own length,
// every fret of it, though the frets are straight.
func TestEveryStringItsOwnScale(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	for range 200 {
		p := chance(t, rnd)
		b := board(t, p)
		last := b.Strings()
		near(t, "treble scale", float64(b.Scale(1)), float64(p.Treble), 1e-10)
		near(t, "bass scale", float64(b.Scale(last)), float64(p.Bass), 1e-10)
		for str := 1; str <= last; str++ {
			nut := b.Crossing(str, 0)
			near(t, "across at the nut", float64(nut.Y), float64(p.AtNut[str-1]), 1e-10)
			for n := 0; n <= p.Division.Frets(); n++ {
				at := b.Crossing(str, n)
				own := p.Division.From(b.Scale(str), n)
				near(t, "along the string", cmplx.Abs(point(at)-point(nut)), float64(own), 1e-9)
				samePoint(t, "along", b.Along(str, own), point(at))
				near(t, "off", float64(b.Off(str, n)), 0, 1e-9)
			}
		}
	}
}

// The straight fret is square to the last bit where it is a fret, also of an odd
// division; between frets and behind the nut a mark put there is square.
func TestStraightIsSquare(t *testing.T) {
	for _, d := range []fret.Division{equal(t, 12, 24), equal(t, 19, 40), divide(t, fret.Just()...)} {
		for n := 0; n <= d.Frets(); n++ {
			p := twoscale(t)
			p.Division, p.Straight = d, float64(n)
			b := board(t, p)
			l := b.NutLine()
			if n > 0 {
				l = b.Slots()[n-1].Line
			}
			if l.Treble.X != l.Bass.X || l.Angle() != 0 {
				t.Errorf("fret %d: got ends at %v and %v, want them level", n, l.Treble.X, l.Bass.X)
			}
			for str := 1; str <= b.Strings(); str++ {
				near(t, "on a string", float64(b.Crossing(str, n).X), float64(l.Treble.X), 1e-12)
			}
		}
	}
	for _, row := range []struct {
		straight float64
		cents    units.Cents // where that is, on equal frets
	}{{7.5, 750}, {0.25, 25}, {-1, -100}, {-2.5, -250}, {24, 2400}, {26.5, 2650}} {
		p := twoscale(t)
		p.Straight = row.straight
		b := board(t, p)
		share := 1 - math.Exp2(-float64(row.cents)/1200)
		treble, bass := b.Along(1, b.Scale(1)*units.Length(share)), b.Along(8, b.Scale(8)*units.Length(share))
		near(t, "straight", float64(treble.X), float64(bass.X), 1e-11)
	}
	// Half way between uneven frets in cents: the nut, 316 and 386 of just frets.
	p := twoscale(t)
	p.Division, p.Marks = divide(t, 316, 386, 702), divide(t, 158, 351)
	for i, straight := range []float64{0.5, 1.5} {
		p.Straight = straight
		if m := board(t, p).Marks()[i]; m.Treble.X != m.Bass.X {
			t.Errorf("%v: got ends at %v and %v, want them level", straight, m.Treble.X, m.Bass.X)
		}
	}
}

// One scale is marked out on the centre line, frets square to it.
func TestOneScale(t *testing.T) {
	p := onescale(t)
	b := board(t, p)
	for i, s := range b.Slots() {
		x := p.Division.From(650, i+1)
		if s.Treble.X != x || s.Bass.X != x {
			t.Errorf("fret %d: got %v and %v, want %v", i+1, s.Treble.X, s.Bass.X, x)
		}
		half := 43./2 + (56.-43)/2*float64(x)/float64(p.Division.From(650, 22)+8)
		near(t, "half width", float64(s.Treble.Y), half, 1e-12)
		near(t, "half width", float64(-s.Bass.Y), half, 1e-12)
	}
	for i, want := range [4]complex128{21.5i, complex(float64(p.Division.From(650, 22))+8, 28), complex(float64(p.Division.From(650, 22))+8, -28), -21.5i} {
		samePoint(t, "corner", b.Outline()[i], want)
	}
	for str := 1; str <= 6; str++ {
		y0, y1 := 18-7.2*float64(str-1), 26-10.4*float64(str-1)
		near(t, "scale", float64(b.Scale(str)), math.Sqrt(650*650+(y1-y0)*(y1-y0)), 1e-12)
		samePoint(t, "12th", b.Crossing(str, 12), complex(325, (y0+y1)/2))
	}
	// Gaps instead of centres cost nothing where frets are square.
	p.AtNut = gaps(t, 36, .25, .33, .43, .66, .91, 1.17)
	b = board(t, p)
	for str := 1; str <= 6; str++ {
		for n := 1; n <= 22; n++ {
			near(t, "off", float64(b.Off(str, n)), 0, 1e-10)
		}
	}
	// Two scales of one length lie along the outer strings, not the centre line.
	p.Scale, p.Treble, p.Bass = 0, 650, 650
	near(t, "12th", float64(board(t, p).Crossing(3, 12).X), math.Sqrt(650*650-64)/2, 1e-12)
}

// Equal gaps at the nut of two scales: what straight frets cost the strings
// between, found by walking along each string to the fret's line.
func TestOff(t *testing.T) {
	p := twoscale(t)
	p.AtNut = gaps(t, 46, .25, .33, .43, .66, .91, 1.17, 1.5, 1.9)
	b := board(t, p)
	worst := 0.0
	for str := 1; str <= 8; str++ {
		for n, s := range b.Slots() {
			n++
			side := func(from float64) float64 { // of the fret's line
				a, c, q := point(s.Treble), point(s.Bass), point(b.Along(str, units.Length(from)))
				return imag(cmplx.Conj(c-a) * (q - a))
			}
			low, high := 0.0, float64(b.Scale(str))
			for range 80 {
				if mid := (low + high) / 2; side(mid)*side(0) > 0 {
					low = mid
				} else {
					high = mid
				}
			}
			left := float64(p.Division.Remaining(b.Scale(str), n))
			want := 1200 * math.Log2(left/(float64(b.Scale(str))-low))
			near(t, "off", float64(b.Off(str, n)), want, 1e-9)
			samePoint(t, "crossing", b.Crossing(str, n), point(b.Along(str, units.Length(low))))
			worst = max(worst, math.Abs(want))
		}
		if str == 1 || str == 8 {
			near(t, "outer", float64(b.Off(str, 24)), 0, 1e-11)
		}
	}
	t.Logf("equal gaps at the nut, %v to %v: worst string and fret %.2f cents out", p.Treble, p.Bass, worst)
	if !(worst > 1 && worst < 4) {
		t.Errorf("got %v cents at worst, want between 1 and 4", worst)
	}
}

// Frets of the strings' own: each crosses its string at its own place, ends half
// way to the next strings, and lies as a fret across all would.
func TestOwnFrets(t *testing.T) {
	asked, err := fret.PerString(19, meantone(t, 0.25, 3), guitar...)
	if err != nil {
		t.Fatal(err)
	}
	p := onescale(t)
	p.Division, p.Own = fret.Division{}, asked
	square := board(t, p)
	p.Scale, p.Treble, p.Bass, p.Straight = 0, 640, 680, 5
	p.AtNut = gaps(t, 36, .25, .33, .43, .66, .91, 1.17)
	for _, b := range []*fret.Board{square, board(t, p)} {
		slots := b.Slots()
		if len(slots) != 6*19 {
			t.Fatalf("got %d slots, want 114", len(slots))
		}
		for i, s := range slots {
			str, n := i/19+1, i%19+1
			if s.String != str || s.Fret != n {
				t.Fatalf("got slot %d of string %d, fret %d", i, s.String, s.Fret)
			}
			at := b.Along(str, asked[str-1].From(b.Scale(str), n))
			samePoint(t, "crossing", b.Crossing(str, n), point(at))
			near(t, "off", float64(b.Off(str, n)), 0, 1e-10)
			a, c := point(s.Treble), point(s.Bass)
			near(t, "string's distance from the slot", imag(cmplx.Conj(c-a)*(point(at)-a))/cmplx.Abs(c-a), 0, 1e-10)
			share := asked[str-1].Share(n)
			like := point(b.Along(6, b.Scale(6)*units.Length(share))) - point(b.Along(1, b.Scale(1)*units.Length(share)))
			near(t, "angle to a long fret", cmplx.Phase((c-a)/like), 0, 1e-12)
			if str > 1 {
				half := func(share float64) complex128 {
					return (point(b.Along(str-1, b.Scale(str-1)*units.Length(share))) + point(b.Along(str, b.Scale(str)*units.Length(share)))) / 2
				}
				side := half(1) - half(0)
				near(t, "end's distance from half way", imag(cmplx.Conj(side)*(a-half(0)))/cmplx.Abs(side), 0, 1e-10)
				// The slots of the string before end on the same line.
				before := point(slots[i-19].Bass)
				near(t, "end's distance from half way", imag(cmplx.Conj(side)*(before-half(0)))/cmplx.Abs(side), 0, 1e-10)
			}
		}
		corner := b.Outline()[1]
		if last := slots[18]; !(last.Treble.Y > b.Crossing(1, 19).Y && last.Treble.X < corner.X) {
			t.Errorf("got the last short fret of string 1 to %v, want it to the edge", last.Treble)
		}
	}
}

// A zero fret, marks beside frets and marks alone.
func TestZeroFretMarks(t *testing.T) {
	p := onescale(t)
	full := p.Division
	p.ZeroFret, p.Behind = true, 6
	var err error
	if p.Division, err = full.Keep(1, 2, 3, 4, 5); err != nil {
		t.Fatal(err)
	}
	if p.Marks, err = full.Keep(7, 12, 19); err != nil {
		t.Fatal(err)
	}
	b := board(t, p)
	slots, marks := b.Slots(), b.Marks()
	if len(slots) != 6 || len(marks) != 3 {
		t.Fatalf("got %d slots and %d marks, want 6 and 3", len(slots), len(marks))
	}
	if slots[0].Fret != 0 || slots[0].Line != b.NutLine() || slots[0].Treble.X != 0 || slots[1].Fret != 1 {
		t.Errorf("got slots %v and %v first, want the nut line and fret 1", slots[0], slots[1])
	}
	for i, n := range []int{7, 12, 19} {
		if m := marks[i]; m.Treble.X != full.From(650, n) || m.Fret != i+1 || m.String != 0 {
			t.Errorf("got mark %v, want it at %v", m, full.From(650, n))
		}
	}
	if o := b.Outline(); o[0].X != -6 || math.Abs(float64(o[1].X-full.From(650, 19)-8)) > 1e-12 {
		t.Errorf("got the board from %v to %v, want -6mm to 8mm past the last mark", o[0].X, o[1].X)
	}
	p.Division, p.ZeroFret = fret.Division{}, false
	b = board(t, p)
	if len(b.Slots()) != 0 || len(b.Marks()) != 3 {
		t.Errorf("got %d slots and %d marks, want none and 3", len(b.Slots()), len(b.Marks()))
	}
	slots = b.Marks()
	slots[0].Fret = 99 // the caller's own copy
	if b.Marks()[0].Fret != 1 {
		t.Errorf("got a board that its caller can change, want it fixed")
	}
}

// The edges of a kerf run half of it either side of the slot's middle line, and
// end on the lines that the slots of its kind end on.
func TestKerf(t *testing.T) {
	short := twoscale(t)
	short.Division, short.Own = fret.Division{}, make([]fret.Division, 8)
	for i := range short.Own {
		short.Own[i] = equal(t, 12, 5+i)
	}
	blind := twoscale(t)
	blind.Blind, blind.ZeroFret = 2.5, true
	for _, p := range []fret.Plan{twoscale(t), short, blind} {
		b := board(t, p)
		slots := b.Slots()
		ends := make(map[int][2]row3) // by string: lines through the first and the last slot's ends
		for _, s := range slots {
			first, known := ends[s.String]
			if !known {
				last := s
				for _, other := range slots {
					if other.String == s.String {
						last = other
					}
				}
				first = [2]row3{join(point(s.Treble), point(last.Treble)), join(point(s.Bass), point(last.Bass))}
				ends[s.String] = first
			}
			near, far := b.Kerf(s, 0.6)
			middle := join(point(s.Treble), point(s.Bass))
			for i, l := range []fret.Line{near, far} {
				beside := middle.cross(row3{0, 0, 1}) // along the middle line
				long := math.Hypot(beside[0], beside[1])
				for _, at := range []fret.Point{l.Treble, l.Bass} {
					off := (middle[0]*float64(at.X) + middle[1]*float64(at.Y) + middle[2]) / long
					if want := []float64{-0.3, 0.3}[i]; math.Abs(off*math.Copysign(1, middle[0])-want) > 1e-9 {
						t.Errorf("fret %d of string %d: got an edge %v from its middle, want %v", s.Fret, s.String, off, want)
					}
				}
				samePoint(t, "treble end", l.Treble, meets(join(point(l.Treble), point(l.Bass)), first[0]))
				samePoint(t, "bass end", l.Bass, meets(join(point(l.Treble), point(l.Bass)), first[1]))
			}
		}
	}
}

// A blind slot stops short of the edge by as much as asked, square to the centre
// line, and so does a short one that would end there; marks and the nut line do not.
func TestBlind(t *testing.T) {
	p := twoscale(t)
	p.Marks, p.ZeroFret = p.Division, true
	through := board(t, p)
	p.Blind = 2.5
	b := board(t, p)
	edge := func(at fret.Point, side int) float64 { // how far inside an edge a place lies
		o := b.Outline()
		from, to := [2]fret.Point{o[0], o[3]}[side], [2]fret.Point{o[1], o[2]}[side]
		y := float64(from.Y) + float64(to.Y-from.Y)*float64(at.X-from.X)/float64(to.X-from.X)
		return (y - float64(at.Y)) * float64(1-2*side)
	}
	for i, s := range b.Slots() {
		near(t, "treble end from the edge", edge(s.Treble, 0), 2.5, 1e-9)
		near(t, "bass end from the edge", edge(s.Bass, 1), 2.5, 1e-9)
		near(t, "angle", float64(s.Angle()), float64(through.Slots()[i].Angle()), 1e-9)
		near(t, "the treble end from the slot cut through", float64(b.Meet(1, s.Line).X-through.Meet(1, through.Slots()[i].Line).X), 0, 1e-9)
	}
	for i, m := range b.Marks() {
		if m != through.Marks()[i] {
			t.Errorf("got mark %v, want %v", m, through.Marks()[i])
		}
	}
	if b.NutLine() != through.NutLine() || b.Outline() != through.Outline() {
		t.Errorf("got %v and %v, want edges that stay", b.NutLine(), b.Outline())
	}

	p.Own = []fret.Division{p.Division, p.Division, p.Division, p.Division, p.Division, p.Division, p.Division, p.Division}
	p.Division, p.ZeroFret = fret.Division{}, false
	b = board(t, p)
	p.Blind = 0
	through = board(t, p)
	for i, s := range b.Slots() {
		was := through.Slots()[i]
		if s.String == 1 {
			near(t, "string 1 from the edge", edge(s.Treble, 0), 2.5, 1e-9)
			s.Treble = was.Treble
		}
		if s.String == 8 {
			near(t, "string 8 from the edge", edge(s.Bass, 1), 2.5, 1e-9)
			s.Bass = was.Bass
		}
		if s != was {
			t.Errorf("got slot %v, want %v", s, was)
		}
	}
}

// Break points stand on the strings' own lines; the drill line is parallel to
// the saddle line, square to it by what was asked.
func TestEnds(t *testing.T) {
	p := twoscale(t)
	p.Setback = []units.Length{1.2, 1.5, 1.9, 1.4, 2, 2.4, 2.9, 3.6}
	p.NutCompensation = []units.Length{0.1, 0.2, 0.3, 0, -0.1, 0.4, 0.5, 0.6}
	b := board(t, p)
	for str := 1; str <= 8; str++ {
		nut, end := point(b.Crossing(str, 0)), point(b.Along(str, b.Scale(str)))
		along := (end - nut) / complex(float64(b.Scale(str)), 0)
		samePoint(t, "nut", b.Nut(str), nut+along*complex(float64(p.NutCompensation[str-1]), 0))
		samePoint(t, "saddle", b.Saddle(str), end+along*complex(float64(p.Setback[str-1]), 0))
	}
	saddle := b.SaddleLine(0)
	samePoint(t, "saddle line", saddle.Treble, point(b.Saddle(1)))
	samePoint(t, "saddle line", saddle.Bass, point(b.Saddle(8)))
	for _, by := range []units.Length{12, -6} {
		l := b.SaddleLine(by)
		a, d := point(saddle.Treble), point(saddle.Bass)-point(saddle.Treble)
		for str := 1; str <= 8; str++ {
			at := b.Meet(str, l)
			// The sign: treble to bass runs down, so away from the nut is to its left.
			near(t, "square to the saddle line", imag(cmplx.Conj(d)*(point(at)-a))/cmplx.Abs(d), float64(by), 1e-9)
			way := point(b.Along(str, 1)) - point(b.Along(str, 0))
			near(t, "on the string", imag(cmplx.Conj(way)*(point(at)-point(b.Along(str, 0)))), 0, 1e-9)
		}
		samePoint(t, "treble end", l.Treble, point(b.Meet(1, l)))
		samePoint(t, "bass end", l.Bass, point(b.Meet(8, l)))
	}
	// None told: the scale line and the nut line.
	b = board(t, onescale(t))
	if b.Nut(3) != b.Crossing(3, 0) || b.Saddle(3).X != 650 {
		t.Errorf("got break points %v and %v, want them on the nut line and the scale line", b.Nut(3), b.Saddle(3))
	}
}

// One string: a monochord.
func TestOneString(t *testing.T) {
	b := board(t, fret.Plan{Division: equal(t, 12, 12), Scale: 600, AtNut: []units.Length{0}, AtScale: []units.Length{0}, Margin: 20})
	s := b.Slots()[11]
	if s.Treble != (fret.Point{X: 300, Y: 20}) || s.Bass != (fret.Point{X: 300, Y: -20}) {
		t.Errorf("got the 12th from %v to %v, want 300mm, 20mm either side", s.Treble, s.Bass)
	}
	if at := b.SaddleLine(10); at.Treble != (fret.Point{X: 610}) || at.Bass != at.Treble {
		t.Errorf("got a drill line at %v, want 610mm", at)
	}
}

func TestNoSuchString(t *testing.T) {
	b := board(t, twoscale(t))
	isNaN := func(what string, x float64) {
		if !math.IsNaN(x) {
			t.Errorf("%s: got %v, want NaN", what, x)
		}
	}
	for _, str := range []int{0, -1, 9, math.MinInt, math.MaxInt} {
		isNaN("Scale", float64(b.Scale(str)))
		isNaN("Off", float64(b.Off(str, 1)))
		for _, p := range []fret.Point{b.Along(str, 1), b.Nut(str), b.Saddle(str), b.Crossing(str, 1), b.Meet(str, b.NutLine())} {
			isNaN("X", float64(p.X))
			isNaN("Y", float64(p.Y))
		}
		if near, far := b.Kerf(fret.Slot{String: str, Line: b.NutLine()}, 0.6); str != 0 { // 0 lies across all
			isNaN("Kerf", float64(near.Treble.X))
			isNaN("Kerf", float64(far.Bass.Y))
		}
		if got := b.Frets(str).Frets(); got != 0 {
			t.Errorf("got %d frets, want 0", got)
		}
	}
	for _, n := range []int{-1, 25, math.MinInt, math.MaxInt} {
		isNaN("Off", float64(b.Off(2, n)))
		isNaN("Crossing", float64(b.Crossing(2, n).X))
	}
	isNaN("Along", float64(b.Along(2, units.Length(math.NaN())).X))
}

// The zero Board has nothing on it.
func TestZeroBoard(t *testing.T) {
	var b fret.Board
	if b.Strings() != 0 || len(b.Slots()) != 0 || len(b.Marks()) != 0 {
		t.Errorf("got %d strings, %d slots, %d marks, want none", b.Strings(), len(b.Slots()), len(b.Marks()))
	}
	near, far := b.Kerf(fret.Slot{}, 0.6)
	for _, l := range []fret.Line{b.ScaleLine(), b.NutLine(), b.SaddleLine(5), near, far} {
		if x := float64(l.Treble.X + l.Bass.X); !math.IsNaN(x) {
			t.Errorf("got a line at %v, want NaN", l)
		}
	}
	if z := b.On(fret.Point{}).Z; !math.IsNaN(float64(z)) {
		t.Errorf("got a height of %v, want NaN", z)
	}
}

// A board keeps its plan from later changes of the caller's lists.
func TestBoardKeepsItsPlan(t *testing.T) {
	p := twoscale(t)
	p.Setback = make([]units.Length, 8)
	own := p.Division
	owned(&p, own)
	b := board(t, p)
	p.Setback[0], p.AtNut[0], p.Own[0] = 5, 99, fret.Division{}
	got := b.Plan()
	got.Setback[0], got.Own[1] = 7, fret.Division{}
	if again := b.Plan(); again.Setback[0] != 0 || again.AtNut[0] != 23 {
		t.Errorf("got %v and %v, want what was stated", again.Setback[0], again.AtNut[0])
	}
	for str := 1; str <= 8; str++ {
		if got := b.Frets(str).Frets(); got != own.Frets() {
			t.Errorf("got %d frets of string %d, want the %d that were stated", got, str, own.Frets())
		}
	}
	// A span is worked out only where it says something.
	p = onescale(t)
	p.Surface = fret.Surface{Nut: 400, End: 400}
	if got := board(t, p).Plan().Surface; got != p.Surface {
		t.Errorf("got the curve %v, want %v", got, p.Surface)
	}
}
