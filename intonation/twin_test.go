package intonation_test

import (
	"math"
	"math/big"
	"math/rand"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// The model once more, in 60 digits, from the formulas of papers.md, slow and
// in the open: the pull by bisection, the string over crowns by striking out
// every crown that it clears.

const bits = 200

type num = *big.Float

func of(x float64) num      { return new(big.Float).SetPrec(bits).SetFloat64(x) }
func sum(xs ...num) num     { return fold(xs, (*big.Float).Add) }
func times(xs ...num) num   { return fold(xs, (*big.Float).Mul) }
func less(x num, y num) num { return of(0).Sub(x, y) }
func over(x, y num) num     { return of(0).Quo(x, y) }
func root(x num) num        { return of(0).Sqrt(x) }
func long(x, y num) num     { return root(sum(times(x, x), times(y, y))) }

func fold(xs []num, with func(z, x, y num) num) num {
	out := of(0).Set(xs[0])
	for _, x := range xs[1:] {
		with(out, out, x)
	}
	return out
}

var ln2, _ = of(0).SetString("0.693147180559945309417232121458176568075500134360255254120680009") // OEIS A002162

// expm1 is e^x - 1: the series for x/2^16, then doubled.
func expm1(x num) num {
	x = of(0).SetMantExp(x, -16)
	out := of(0)
	for k := 13.0; k >= 1; k-- {
		out = over(times(sum(out, of(1)), x), of(k))
	}
	for range 16 {
		out = times(out, sum(out, of(2)))
	}
	return out
}

func exp(x num) num { return sum(expm1(x), of(1)) }

// ln is the natural logarithm: that of a float64, corrected by 2 artanh of what
// is left.
func ln(x num) num {
	m := of(0)
	octaves := x.MantExp(m)
	near, _ := m.Float64()
	y := of(math.Log(near))
	e := exp(y)
	d := over(less(m, e), sum(m, e))
	return sum(y, times(of(2), sum(d, over(times(d, d, d), of(3)))), times(of(float64(octaves)), ln2))
}

// pi by Machin's formula.
var pi = func() num {
	arctan := func(n float64) num {
		out, power := of(0), over(of(1), of(n))
		for k := 0; k < 200; k++ {
			term := over(power, of(float64(2*k+1)))
			if k%2 == 1 {
				term.Neg(term)
			}
			out.Add(out, term)
			power = over(power, of(n*n))
		}
		return out
	}
	return less(times(of(16), arctan(5)), times(of(4), arctan(239)))
}()

// point is one in the side view of a string.
type point struct{ x, z num }

func (p point) to(q point) num { return long(less(p.x, q.x), less(p.z, q.z)) }

// above reports whether p stands above the line from a to b, which it lies
// between.
func (p point) above(a, b point) bool {
	line := sum(a.z, times(less(b.z, a.z), over(less(p.x, a.x), less(b.x, a.x))))
	return p.z.Cmp(line) > 0
}

// taut is the way of a string over points from the first to the last, which
// strikes out every one between that its neighbours' line clears.
func taut(ps []point) []point {
	for i := 1; i < len(ps)-1; i++ {
		if !ps[i].above(ps[i-1], ps[i+1]) {
			return taut(append(append([]point(nil), ps[:i]...), ps[i+1:]...))
		}
	}
	return ps
}

// twin is one string of a neck.
type twin struct {
	intonation.Neck
	intonation.Course
	gammas            []num // by fret, from 0
	crowns            []point
	nut, saddle       point
	kappa, b0, length num // of the open string
}

func newTwin(n intonation.Neck) twin {
	w := twin{Neck: n, Course: n.Courses[0]}
	w.nut = point{w.mm(-w.NutSetback), w.mm(w.NutHeight)}
	w.saddle = point{sum(w.mm(w.Scale), w.mm(w.Setback)), sum(w.mm(w.NutHeight), w.mm(w.Rise))}
	for k := 0; k <= n.Division.Frets(); k++ {
		w.gammas = append(w.gammas, exp(times(ln2, over(of(float64(n.Division.Cents(k))), of(1200)))))
		w.crowns = append(w.crowns, w.crown(w.gammas[k]))
	}
	w.kappa, w.b0, w.length = w.open()
	return w
}

func (w twin) mm(x units.Length) num { return of(float64(x)) }

// crown is where the crown of the fret at a ratio stands.
func (w twin) crown(gamma num) point {
	x := times(w.mm(w.Scale), less(of(1), over(of(1), gamma)))
	r := w.Relief
	if r.Bow == 0 {
		return point{x, of(0)}
	}
	near, far, deep := w.mm(r.Near), w.mm(r.Far), times(of(-4), w.mm(r.Bow))
	u := over(less(x, near), less(far, near))
	switch {
	case u.Sign() < 0:
		return point{x, times(deep, u)}
	case u.Cmp(of(1)) > 0:
		return point{x, times(deep, less(of(1), u))}
	}
	return point{x, times(deep, u, less(of(1), u))}
}

// behind is the way from crown n to the nut.
func (w twin) behind(n int) num {
	crown := w.crowns[n]
	if d := w.Finger.Carry; d > 0 {
		slope := over(less(w.saddle.z, crown.z), less(w.saddle.x, crown.x))
		turn := point{less(crown.x, w.mm(d)), less(crown.z, times(slope, w.mm(d)))}
		return sum(crown.to(turn), turn.to(w.nut))
	}
	from := func(p point) []point {
		ps := []point{p}
		for k := n - 1; k > 0; k-- {
			ps = append(ps, w.crowns[k])
		}
		return taut(append(ps, w.nut))
	}
	way := from(crown)
	finger := point{less(crown.x, w.mm(w.Finger.Behind)), less(crown.z, w.mm(w.Finger.Depth))}
	out := of(0)
	if w.Finger.Depth > 0 && !finger.above(way[0], way[1]) {
		out = crown.to(finger)
		way = from(finger)
	}
	for i := range way[1:] {
		out.Add(out, way[i].to(way[i+1]))
	}
	return out
}

// series is S(B).
func (w twin) series(b num) num {
	q := of(w.Fixity)
	return sum(of(1), times(q, b), times(sum(times(q, q), over(times(pi, pi), of(2))), b, b))
}

// open is kappa and B0, and the open length.
func (w twin) open() (kappa, b0, length num) {
	length = long(sum(w.mm(w.Scale), w.mm(w.Setback), w.mm(w.NutSetback)), w.mm(w.Rise))
	if w.Held != (intonation.Held{}) {
		return of(w.Held.Kappa), of(w.Held.B0), length
	}
	metres := over(length, of(1000))
	want := times(of(2), metres, of(float64(w.Open)), root(of(float64(w.UnitWeight))))
	e := over(root(of(w.Bend)), metres)
	low, high := over(want, of(2)), want // of the pull's root
	for range bits {
		mid := over(sum(low, high), of(2))
		if times(mid, w.series(over(e, mid))).Cmp(want) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	return over(of(float64(w.Stretch)), times(low, low)), over(e, low), length
}

// causes are the cents at fret n, in their three parts.
func (w twin) causes(n int) (length, stretch, stiffness num) {
	sounding, gamma := w.crowns[n].to(w.saddle), w.gammas[n]
	q := over(less(sum(sounding, w.behind(n)), w.length), sum(w.length, w.mm(w.AfterLength)))
	tight := sum(of(1), times(w.kappa, q))
	b := over(times(w.b0, w.length), times(sounding, root(tight)))
	if w.Held.Published {
		b = times(w.b0, gamma)
	}
	cents := func(ratio num) num { return over(times(of(1200), ln(ratio)), ln2) }
	return cents(over(w.length, times(gamma, sounding))),
		times(of(0.5), cents(times(sum(of(1), q), tight))),
		cents(over(w.series(b), w.series(w.b0)))
}

// anyNeck is a neck of one string, of one of every kind that there is.
func anyNeck(rnd *rand.Rand, kind int) intonation.Neck {
	between := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	mm := func(low, high float64) units.Length { return units.Length(between(low, high)) }
	frets := 12 + rnd.Intn(13)
	d, _ := fret.Equal(units.Octave, 12, frets)
	if rnd.Intn(4) == 0 { // some other division
		var cents []units.Cents
		c := 0.0
		for range frets {
			c += between(50, 150)
			cents = append(cents, units.Cents(c))
		}
		d, _ = fret.Divide(cents...)
	}
	n := intonation.Neck{Division: d, Scale: mm(330, 900)}
	c := intonation.Course{
		NutHeight: mm(0.2, 1.5), Rise: mm(1, 6), Setback: mm(-1, 7), NutSetback: mm(-1, 0.5), Fixity: between(0, 2),
	}
	if rnd.Intn(3) == 0 {
		c.Held = intonation.Held{Kappa: between(20, 400), B0: between(0, 0.004), Published: rnd.Intn(2) == 0}
	} else {
		c.UnitWeight, c.Stretch = units.LinearDensity(math.Exp(between(-8, -4.5))), units.Force(between(0, 40000))
		c.Bend = math.Exp(between(-11, -7.5))
		// To a pull of 40 to 150 N, about.
		c.Open = units.Frequency(math.Sqrt(between(40, 150)/float64(c.UnitWeight)) / (2 * n.Scale.Metres()))
	}
	if rnd.Intn(2) == 0 {
		c.AfterLength = mm(0, 200)
	}
	if kind%2 == 1 {
		n.Relief = action.Relief{Bow: mm(-0.1, 0.4), Near: mm(0, 30), Far: d.From(n.Scale, d.Frets()) - mm(0, 100)}
	}
	last := float64(d.Gap(n.Scale, d.Frets()))
	for i := 1; i < d.Frets(); i++ {
		last = math.Min(last, float64(d.Gap(n.Scale, i)))
	}
	switch kind / 2 {
	case 1:
		n.Finger.Carry = mm(0, 15)
	case 2:
		n.Finger.Depth, n.Finger.Behind = mm(0, 1), mm(0, last)
	case 3:
		c.NutHeight = mm(-0.2, 0.3) // a slot cut too low, the string over the first crowns
	}
	n.Courses = []intonation.Course{c}
	return n
}

// 160 necks of every kind, every fret, every cause. The worst is rounding, a
// few ten-billionths of a cent; the job asks for 0.001.
func TestModelTwin(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	notes, refused := 0, 0
	var worst [8]float64
	for k := range 160 {
		n := anyNeck(rnd, k%8)
		m, err := intonation.NewModel(n)
		if err != nil {
			refused++
			continue
		}
		w := newTwin(n)
		if got := m.Taut(1); !alike(got.Kappa, w.kappa, 1e-13) || !alike(got.B0, w.b0, 1e-13) {
			t.Errorf("%+v: got %v, want kappa %v and B0 %v", n, got, w.kappa, w.b0)
		}
		cents := m.Map(nil)
		for i := 1; i <= n.Division.Frets(); i++ {
			l, s, b := w.causes(i)
			got := m.Why(1, i)
			off := 0.0
			for _, pair := range []struct {
				got  units.Cents
				want num
			}{{got.Length, l}, {got.Stretch, s}, {got.Stiffness, b}, {cents[i-1], sum(l, s, b)}, {m.Cents(1, i), sum(l, s, b)}, {got.Total(), sum(l, s, b)}} {
				want, _ := pair.want.Float64()
				off = max(off, math.Abs(float64(pair.got)-want))
			}
			if !(off < 1e-8) {
				t.Errorf("kind %d, fret %d of %+v: got %v, %v, %v; %v off", k%8, i, n, got, cents[i-1], m.Cents(1, i), off)
			}
			worst[k%8] = max(worst[k%8], off)
			notes++
		}
	}
	t.Logf("%d notes, %d necks refused; worst in cents by kind: %.2g", notes, refused, worst)
	if refused > 40 {
		t.Errorf("got %d necks refused", refused)
	}
}

func alike(got float64, want num, within float64) bool {
	w, _ := want.Float64()
	return math.Abs(got-w) <= within*math.Abs(w)
}
