package intonation_test

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// neck is six plain and wound strings of steel, roughly, over 22 frets.
func neck(t testing.TB) intonation.Neck {
	d := frets(t, 22)
	n := intonation.Neck{Division: d, Scale: 648}
	for i, s := range []struct{ weight, stretch, bend, hz float64 }{
		{0.000398, 10100, 4.1e-5, 329.63},
		{0.000673, 17100, 1.17e-4, 246.94},
		{0.00115, 29200, 3.4e-4, 196},
		{0.0023, 15000, 9e-5, 146.83},
		{0.0044, 20000, 1.6e-4, 110},
		{0.0076, 25000, 2.5e-4, 82.41},
	} {
		n.Courses = append(n.Courses, intonation.Course{
			UnitWeight: units.LinearDensity(s.weight), Stretch: units.Force(s.stretch), Bend: s.bend, Open: units.Frequency(s.hz),
			NutHeight: 0.5, Rise: 3 + units.Length(i)/10, Setback: 2 + units.Length(i)/3, Fixity: 1,
		})
	}
	return n
}

// each is a neck with every string changed alike.
func each(n intonation.Neck, change func(*intonation.Course)) intonation.Neck {
	n.Courses = append([]intonation.Course(nil), n.Courses...)
	for i := range n.Courses {
		change(&n.Courses[i])
	}
	return n
}

// No height, no stiffness, no finger: every note is right.
func TestNothingIsRight(t *testing.T) {
	n := each(neck(t), func(c *intonation.Course) {
		c.NutHeight, c.Rise, c.Setback, c.Bend = 0, 0, 0, 0
	})
	for i, c := range model(t, n).Map(nil) {
		if !(math.Abs(float64(c)) < 1e-9) {
			t.Errorf("note %d: got %v, want 0", i, c)
		}
	}
}

// More action is sharper, at every fret.
func TestActionSharpens(t *testing.T) {
	var last []units.Cents
	for rise := units.Length(0); rise <= 6; rise += 0.5 {
		got := model(t, each(neck(t), func(c *intonation.Course) { c.Rise = rise })).Map(nil)
		for i := range last {
			if !(got[i] > last[i]) {
				t.Errorf("note %d: got %v at a rise of %v, want more than %v", i, got[i], rise, last[i])
			}
		}
		last = got
	}
}

// Moving the saddle back flattens every fret, the higher the more.
func TestSaddleFlattens(t *testing.T) {
	n := neck(t)
	before := model(t, n).Map(nil)
	after := model(t, each(n, func(c *intonation.Course) { c.Setback += 0.5 })).Map(nil)
	frets, last := n.Division.Frets(), 0.0
	for i := range before {
		if i%frets == 0 {
			last = 0
		}
		by := float64(after[i] - before[i])
		if !(by < last) {
			t.Errorf("string %d, fret %d: got %v, want less than %v", i/frets+1, i%frets+1, by, last)
		}
		last = by
	}
}

// Every length scaled, pull and strain kept: the cents stay. The open pitch goes
// down by the scale, and the string bends less by its square.
func TestScaling(t *testing.T) {
	for _, by := range []float64{0.001, 0.25, 0.7, 1.5, 4} {
		for _, finger := range []intonation.Finger{{}, {Carry: 8}, {Depth: 0.5, Behind: 7}} {
			n := neck(t)
			n.Finger, n.Relief = finger, action.Relief{Bow: 0.25, Near: 10, Far: 400}
			before := model(t, n).Map(nil)
			k := units.Length(by)
			n = each(n, func(c *intonation.Course) {
				c.NutHeight, c.Rise, c.Setback, c.NutSetback, c.AfterLength = k*c.NutHeight, k*c.Rise, k*c.Setback, k*c.NutSetback, k*c.AfterLength
				c.Open /= units.Frequency(by)
				c.Bend *= by * by
			})
			n.Scale *= k
			n.Finger = intonation.Finger{Carry: k * finger.Carry, Depth: k * finger.Depth, Behind: k * finger.Behind}
			n.Relief = action.Relief{Bow: k * n.Relief.Bow, Near: k * n.Relief.Near, Far: k * n.Relief.Far}
			for i, c := range model(t, n).Map(nil) {
				if !(math.Abs(float64(c-before[i])) < 1e-8) {
					t.Errorf("note %d, %v times as long: got %v, want %v", i, by, c, before[i])
				}
			}
		}
	}
}

// The causes add up, and each is where it comes from.
func TestCauses(t *testing.T) {
	n := neck(t)
	m := model(t, n)
	cents := m.Map(nil)
	for i, c := range cents {
		str, fret := i/22+1, i%22+1
		if why := m.Why(str, fret); !(math.Abs(float64(why.Total()-c)) < 1e-8) ||
			!(math.Abs(float64(m.Cents(str, fret)-c)) < 1e-8) {
			t.Errorf("string %d, fret %d: got %+v and %v, want %v in all", str, fret, why, m.Cents(str, fret), c)
		}
	}
	limp := model(t, each(n, func(c *intonation.Course) { c.Bend = 0 }))
	slack := model(t, each(n, func(c *intonation.Course) { c.Stretch = 0 }))
	for fret := 1; fret <= 22; fret++ {
		if got := limp.Why(1, fret).Stiffness; got != 0 {
			t.Errorf("fret %d: got %v of stiffness with none", fret, got)
		}
		// What thins by its strain alone.
		if got := slack.Why(1, fret).Stretch; !(got >= 0 && got < m.Why(1, fret).Stretch/50) {
			t.Errorf("fret %d: got %v of stretch with none", fret, got)
		}
		if got, want := limp.Why(1, fret).Length, m.Why(1, fret).Length; got != want {
			t.Errorf("fret %d: got %v of length, want %v", fret, got, want)
		}
	}
}

// The map's own short logarithm is the long one, near a note's place and far
// from it.
func TestMapLogarithm(t *testing.T) {
	far := 0.0
	for rise := units.Length(0); rise < 14; rise += 0.25 {
		n := each(neck(t), func(c *intonation.Course) { c.Rise = rise })
		n.Finger.Carry = 1e-3 // so that map and Cents work out the same ratio
		m := model(t, n)
		for i, c := range m.Map(nil) {
			near(t, "cents", float64(c), float64(m.Cents(i/22+1, i%22+1)), 1e-11)
			far = max(far, float64(c))
		}
	}
	if !(far > 100) {
		t.Errorf("got %v at most, want notes on both sides of where the series ends", far)
	}
}

// A slot cut so low that the string would pass under the first crown lifts it:
// behind the fret it goes along the crowns to the first, then down to the nut.
func TestLowNutRestsOnCrowns(t *testing.T) {
	n := each(neck(t), func(c *intonation.Course) { c.NutHeight, c.Rise = -0.1, 3.6 })
	m := model(t, n)
	first := float64(n.Division.From(n.Scale, 1))
	for fret := 1; fret <= 22; fret++ {
		at, reach := float64(n.Division.From(n.Scale, fret)), float64(n.Scale+n.Courses[0].Setback)
		way := math.Hypot(reach-at, 3.5) + at - first + math.Hypot(first, 0.1)
		q := way/math.Hypot(reach, 3.6) - 1
		want := 600 * math.Log2((1+q)*(1+m.Taut(1).Kappa*q))
		near(t, "stretch", float64(m.Why(1, fret).Stretch), want, 1e-8)
	}
}

// A finger that does not reach the string leaves it alone; then every bit of
// depth sharpens.
func TestFingerDepth(t *testing.T) {
	n := neck(t)
	without := model(t, n).Map(nil)
	last := without
	for _, depth := range []units.Length{1e-9, 0.1, 0.3, 0.6, 1} {
		n.Finger = intonation.Finger{Depth: depth, Behind: 6}
		got := model(t, n).Map(nil)
		for i := range got {
			if depth == 1e-9 {
				// 6 mm of the way at the crown's level instead of up to the nut.
				if !(math.Abs(float64(got[i]-without[i])) < 1.5) {
					t.Errorf("note %d: got %v with a finger that just touches, want %v", i, got[i], without[i])
				}
			} else if !(got[i] > last[i]) {
				t.Errorf("note %d: got %v with a finger %v deep, want more than %v", i, got[i], depth, last[i])
			}
		}
		last = got
	}
	// On a neck whose upper frets stand far above the nut the string falls away
	// behind the crown faster than this finger goes down.
	n = each(neck(t), func(c *intonation.Course) { c.NutHeight, c.Rise = 0.2, 9 })
	n.Relief = action.Relief{Bow: 0.5, Near: 0, Far: 200}
	bare := model(t, n).Cents(1, 22)
	n.Finger = intonation.Finger{Depth: 0.01, Behind: 9}
	if got := model(t, n).Cents(1, 22); got != bare {
		t.Errorf("got %v with a finger above the string, want %v", got, bare)
	}
}

// A finger that does not press changes nothing, wherever it is, also where the
// string rests on crowns.
func TestFingerThatDoesNotPress(t *testing.T) {
	low := each(neck(t), func(c *intonation.Course) { c.NutHeight, c.Rise = -0.1, 3.6 })
	bowed := neck(t)
	bowed.Relief = action.Relief{Bow: -0.1, Far: 450}
	for _, n := range []intonation.Neck{neck(t), low, bowed} {
		want := model(t, n).Map(nil)
		n.Finger.Behind = 6
		for i, c := range model(t, n).Map(nil) {
			if c != want[i] {
				t.Fatalf("note %d: got %v, want %v as without a finger", i, c, want[i])
			}
		}
	}
}

// After-lengths take up a share of the stretch.
func TestAfterLength(t *testing.T) {
	n := neck(t)
	tight := model(t, n)
	slides := model(t, each(n, func(c *intonation.Course) { c.AfterLength = 648 }))
	for fret := 1; fret <= 22; fret++ {
		got, want := float64(slides.Why(1, fret).Stretch), float64(tight.Why(1, fret).Stretch)/2
		if !(math.Abs(got-want) < 0.01*want) {
			t.Errorf("fret %d: got %v of stretch with as much again beyond, want half of it, %v", fret, got, want)
		}
	}
}

// Notes that are not there are NaN, never a panic.
func TestNotThere(t *testing.T) {
	m := model(t, neck(t))
	for _, at := range [][2]int{{0, 1}, {7, 1}, {-1, 0}, {1, -1}, {1, 23}, {0, 0}, {math.MaxInt, math.MaxInt}, {math.MinInt, 1}} {
		if c, w := m.Cents(at[0], at[1]), m.Why(at[0], at[1]).Total(); c == c || w == w {
			t.Errorf("%v: got %v and %v, want NaN", at, c, w)
		}
	}
	for _, str := range []int{0, 7, -1} {
		if x := m.Taut(str); x.Kappa == x.Kappa || x.B0 == x.B0 || x.Pull == x.Pull {
			t.Errorf("string %d: got %v", str, x)
		}
		if c := m.Partial(str, 1); c == c {
			t.Errorf("string %d: got %v", str, c)
		}
	}
	if w := m.Why(1, 0); w.Length == w.Length || w.Stretch == w.Stretch || w.Stiffness == w.Stiffness {
		t.Errorf("causes of the open string: got %v, want NaN", w)
	}
	if c := m.Partial(1, 0); c == c {
		t.Errorf("partial 0: got %v", c)
	}
	if c := m.Partial(1, math.MaxInt); !(c > 0) {
		t.Errorf("a partial far up: got %v", c)
	}
	if c := m.Cents(3, 0); c != 0 {
		t.Errorf("the open string: got %v", c)
	}
	if c := m.Partial(3, 1); c != 0 {
		t.Errorf("the first partial: got %v", c)
	}
}

// What cannot be is refused, in a line that says which string and fret, and what
// would do.
func TestNewModelRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	second := func(change func(*intonation.Course)) func(*intonation.Neck) {
		return func(n *intonation.Neck) { change(&n.Courses[1]) }
	}
	for _, row := range []struct {
		name   string
		change func(*intonation.Neck)
		want   string
	}{
		{"no frets", func(n *intonation.Neck) { n.Division = fret.Division{} }, "got no frets, want at least one"},
		{"no scale", func(n *intonation.Neck) { n.Scale = 0 }, "got a scale of 0mm, want more than 0"},
		{"scale NaN", func(n *intonation.Neck) { n.Scale = units.Length(nan) }, "got a scale of NaNmm, want more than 0"},
		{"scale endless", func(n *intonation.Neck) { n.Scale = units.Length(inf) }, "got a scale of +Infmm, want more than 0"},
		{"scale beyond sums", func(n *intonation.Neck) { n.Scale = 1e200 }, "string 1: got no pitch at fret 1, want lengths, heights and a string that can be"},
		{"too much bow", func(n *intonation.Neck) { n.Relief = action.Relief{Bow: 5, Far: 400} },
			"got a bow of 5.000mm, want at most 4.000mm, a hundredth of its length: no neck bends so far"},
		{"finger NaN", func(n *intonation.Neck) { n.Finger.Depth = units.Length(nan) },
			"got a finger carried on 0mm, NaNmm deep, 0mm behind, want each finite and at least 0"},
		{"finger endless", func(n *intonation.Neck) { n.Finger.Carry = units.Length(inf) },
			"got a finger carried on +Infmm, 0mm deep, 0mm behind, want each finite and at least 0"},
		{"finger endless twice", func(n *intonation.Neck) { n.Finger.Carry, n.Finger.Depth = units.Length(inf), units.Length(inf) },
			"got a finger carried on +Infmm, +Infmm deep, 0mm behind, want each finite and at least 0"},
		{"finger endless behind", func(n *intonation.Neck) { n.Finger.Depth, n.Finger.Behind = units.Length(inf), units.Length(inf) },
			"got a finger carried on 0mm, +Infmm deep, +Infmm behind, want each finite and at least 0"},
		{"two slight fingers", func(n *intonation.Neck) { n.Finger = intonation.Finger{Carry: 0.5, Depth: 0.5} },
			"got a finger both carried on and of a depth, want one"},
		{"two fingers", func(n *intonation.Neck) { n.Finger = intonation.Finger{Carry: 5, Depth: 1} },
			"got a finger both carried on and of a depth, want one"},
		{"finger on the next fret", func(n *intonation.Neck) { n.Finger = intonation.Finger{Depth: 1, Behind: 11} },
			"got a finger 11mm behind fret 22, want less than the 10.81mm from the fret before"},
		{"finger on the nut", func(n *intonation.Neck) { n.Finger.Carry = 37 },
			"string 1: got a finger 37mm behind fret 1, want less than the 36.37mm from the nut"},
		{"finger carried before the crown", func(n *intonation.Neck) { n.Finger.Carry = -0.5 },
			"got a finger carried on -0.5mm, 0mm deep, 0mm behind, want each finite and at least 0"},
		{"finger lifted", func(n *intonation.Neck) { n.Finger.Depth = -0.5 },
			"got a finger carried on 0mm, -0.5mm deep, 0mm behind, want each finite and at least 0"},
		{"finger before the crown", func(n *intonation.Neck) { n.Finger.Depth, n.Finger.Behind = 0.5, -0.5 },
			"got a finger carried on 0mm, 0.5mm deep, -0.5mm behind, want each finite and at least 0"},
		{"finger between nut and a low first fret", func(n *intonation.Neck) {
			n.Division, _ = fret.Divide(50, 150, 250) // 648 (1 - 2^(-50/1200)) is 18.45
			n.Finger = intonation.Finger{Depth: 0.5, Behind: 19}
		}, "got a finger 19mm behind fret 1, want less than the 18.45mm from the fret before"},
		{"finger behind a nut moved forward", func(n *intonation.Neck) {
			n.Finger = intonation.Finger{Depth: 0.5, Behind: 7}
			n.Courses[0].NutSetback = -30
		}, "string 1: got a finger 7mm behind fret 1, want less than the 6.37mm from the nut"},
		{"fixity below none", second(func(c *intonation.Course) { c.Fixity = -0.1 }), "string 2: got a fixity of -0.1, want 0 to 2"},
		{"fixity", second(func(c *intonation.Course) { c.Fixity = 2.1 }), "string 2: got a fixity of 2.1, want 0 to 2"},
		{"fixity NaN", second(func(c *intonation.Course) { c.Fixity = nan }), "string 2: got a fixity of NaN, want 0 to 2"},
		{"after-length", second(func(c *intonation.Course) { c.AfterLength = -1 }), "string 2: got an after-length of -1mm, want at least 0"},
		{"after-length endless", second(func(c *intonation.Course) { c.AfterLength = units.Length(inf) }), "string 2: got an after-length of +Infmm, want at least 0"},
		{"saddle on the frets", second(func(c *intonation.Course) { c.Setback = -190 }),
			"string 2: got setbacks of -190mm and 0mm, want nut and saddle outside the frets"},
		{"nut on the frets", second(func(c *intonation.Course) { c.NutSetback = -40 }),
			"string 2: got setbacks of 2.3333333333333335mm and -40mm, want nut and saddle outside the frets"},
		{"setback NaN", second(func(c *intonation.Course) { c.Setback = units.Length(nan) }),
			"string 2: got setbacks of NaNmm and 0mm, want nut and saddle outside the frets"},
		{"setback endless", second(func(c *intonation.Course) { c.NutSetback = units.Length(inf) }),
			"string 2: got setbacks of 2.3333333333333335mm and +Infmm, want nut and saddle outside the frets"},
		{"height NaN", second(func(c *intonation.Course) { c.NutHeight = units.Length(nan) }), "string 2: got heights of NaNmm and 3.1mm, want finite ones"},
		{"height endless", second(func(c *intonation.Course) { c.Rise = units.Length(inf) }), "string 2: got heights of 0.5mm and +Infmm, want finite ones"},
		{"no weight", second(func(c *intonation.Course) { c.UnitWeight = 0 }),
			"string 2: got a string of 0kg/m, stretch 17100N, bend 0.000117 N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"no pitch", second(func(c *intonation.Course) { c.Open = 0 }),
			"string 2: got a string of 0.000673kg/m, stretch 17100N, bend 0.000117 N m2 at 0Hz, want them finite, and weight and pitch more than 0"},
		{"pitch below none", second(func(c *intonation.Course) { c.Open = -1 }),
			"string 2: got a string of 0.000673kg/m, stretch 17100N, bend 0.000117 N m2 at -1Hz, want them finite, and weight and pitch more than 0"},
		{"bend NaN", second(func(c *intonation.Course) { c.Bend = nan }),
			"string 2: got a string of 0.000673kg/m, stretch 17100N, bend NaN N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"stretch below none", second(func(c *intonation.Course) { c.Stretch = -0.5 }),
			"string 2: got a string of 0.000673kg/m, stretch -0.5N, bend 0.000117 N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"bend below none", second(func(c *intonation.Course) { c.Bend = -0.5 }),
			"string 2: got a string of 0.000673kg/m, stretch 17100N, bend -0.5 N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"stretch endless", second(func(c *intonation.Course) { c.Stretch = units.Force(inf) }),
			"string 2: got a string of 0.000673kg/m, stretch +InfN, bend 0.000117 N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"stretch and bend endless", second(func(c *intonation.Course) { c.Stretch, c.Bend = units.Force(inf), inf }),
			"string 2: got a string of 0.000673kg/m, stretch +InfN, bend +Inf N m2 at 246.94Hz, want them finite, and weight and pitch more than 0"},
		{"weight and pitch endless", second(func(c *intonation.Course) { c.UnitWeight, c.Open = units.LinearDensity(inf), units.Frequency(inf) }),
			"string 2: got a string of +Infkg/m, stretch 17100N, bend 0.000117 N m2 at +InfHz, want them finite, and weight and pitch more than 0"},
		{"B0 below none", second(func(c *intonation.Course) { c.Held = intonation.Held{Kappa: 50, B0: -0.001} }), "string 2: got kappa 50 and B0 -0.001, want more than 0 and at least 0"},
		{"a thread", second(func(c *intonation.Course) { c.Breaks = 0.5 }), "string 2: got a pull of 69.1N, want less than 0.5N, which breaks it"},
		{"slack", second(func(c *intonation.Course) { c.Bend = 10 }),
			"string 2: got 246.94Hz, want a higher pitch or a thinner string: at that it hangs slack"},
		{"past breaking", second(func(c *intonation.Course) { c.Breaks = 60 }), "string 2: got a pull of 69.1N, want less than 60.0N, which breaks it"},
		{"kappa NaN", second(func(c *intonation.Course) { c.Held.Kappa = nan }), "string 2: got kappa NaN and B0 0, want more than 0 and at least 0"},
		{"kappa and B0 endless", second(func(c *intonation.Course) { c.Held.Kappa, c.Held.B0 = inf, inf }), "string 2: got kappa +Inf and B0 +Inf, want more than 0 and at least 0"},
		{"kappa beyond sums", second(func(c *intonation.Course) { c.Held.Kappa, c.NutHeight = 1e308, 5000 }), "string 2: got no pitch at fret 1, want lengths, heights and a string that can be"},
		{"B0 alone", second(func(c *intonation.Course) { c.Held.B0 = 0.002 }), "string 2: got kappa 0 and B0 0.002, want more than 0 and at least 0"},
		{"on a fret", second(func(c *intonation.Course) { c.NutHeight, c.Rise = -0.4, 5 }),
			"string 2: got the crown of fret 1 0.120mm above the open string, want it below"},
		// -0.4 + 5 (36.369 - 10)/(650.333 - 10) is -0.194.
		{"on a fret, the nut forward", second(func(c *intonation.Course) { c.NutHeight, c.Rise, c.NutSetback = -0.4, 5, -10 }),
			"string 2: got the crown of fret 1 0.194mm above the open string, want it below"},
		{"a crown in the way", func(n *intonation.Neck) { n.Relief = action.Relief{Bow: 2, Far: 300} },
			"string 1: got the crown of fret 16 0.119mm above the open string, want it below"},
		{"a crown in the way of a fretted one", func(n *intonation.Neck) {
			n.Relief = action.Relief{Bow: 1.2, Far: 200}
			*n = each(*n, func(c *intonation.Course) { c.NutHeight, c.Rise = 0.2, 9 })
		}, "string 1: got the crown of fret 22 0.089mm above the string pressed to fret 21, want it below"},
	} {
		n := each(neck(t), func(*intonation.Course) {})
		row.change(&n)
		_, err := intonation.NewModel(n)
		if err == nil || err.Error() != row.want {
			t.Errorf("%s: got %v\nwant %s", row.name, err, row.want)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got more than a line", row.name)
		}
	}
}

// What is odd, and can be.
func TestNewModelTakes(t *testing.T) {
	pull := model(t, neck(t)).Taut(2).Pull
	for _, row := range []struct {
		name   string
		change func(*intonation.Neck, *intonation.Course)
		taken  bool
	}{
		{"a place of the finger that does not press", func(n *intonation.Neck, _ *intonation.Course) { n.Finger.Behind = 40 }, true},
		{"a string that hardly stretches", func(_ *intonation.Neck, c *intonation.Course) { c.Held = intonation.Held{Kappa: 0.5} }, true},
		{"half a hertz", func(_ *intonation.Neck, c *intonation.Course) { c.Open, c.Bend = 0.5, 0 }, true},
		{"a pull next to breaking", func(_ *intonation.Neck, c *intonation.Course) { c.Breaks = pull * (1 + 1e-12) }, true},
		{"a pull at breaking", func(_ *intonation.Neck, c *intonation.Course) { c.Breaks = pull }, false},
		{"both ends pinned", func(_ *intonation.Neck, c *intonation.Course) { c.Fixity = 0 }, true},
		{"both ends clamped", func(_ *intonation.Neck, c *intonation.Course) { c.Fixity = 2 }, true},
	} {
		n := each(neck(t), func(*intonation.Course) {})
		row.change(&n, &n.Courses[1])
		if _, err := intonation.NewModel(n); (err == nil) != row.taken {
			t.Errorf("%s: got %v, want it taken: %v", row.name, err, row.taken)
		}
	}
}

// A string is refused where a crown stands above it, open or pressed to any fret,
// and the crown that is named does: by every pair of crowns, one after the other.
func TestCrownsInTheWay(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	d := frets(t, 22)
	var refused, taken int
	for range 2000 {
		c := intonation.Course{
			NutHeight: units.Length(rnd.Float64()), Rise: units.Length(12 * rnd.Float64()), NutSetback: units.Length(rnd.Float64() - 0.5),
			Setback: units.Length(5 * rnd.Float64()), Held: intonation.Held{Kappa: 50},
		}
		n := intonation.Neck{Division: d, Scale: 648, Courses: []intonation.Course{c}}
		n.Relief = action.Relief{Bow: units.Length(2*rnd.Float64() - 0.5), Near: units.Length(50 * rnd.Float64()), Far: units.Length(210 + 300*rnd.Float64())}
		if n.Relief.Check() != nil {
			continue
		}
		saddle, top := float64(n.Scale+c.Setback), float64(c.NutHeight+c.Rise)
		above := func(x, z float64, fret int) float64 { // of a crown, over the string from there to the saddle
			at := d.From(n.Scale, fret)
			return -float64(n.Relief.Drop(at)) - (z + (top-z)*(float64(at)-x)/(saddle-x))
		}
		want := map[string]bool{}
		for k := 1; k <= 22; k++ {
			if by := above(-float64(c.NutSetback), float64(c.NutHeight), k); by > 1e-9 {
				want[fmt.Sprintf("string 1: got the crown of fret %d %.3fmm above the open string, want it below", k, by)] = true
			}
		}
		open := len(want) == 0
		for low := 1; open && low <= 22; low++ {
			x := d.From(n.Scale, low)
			for k := low + 1; k <= 22; k++ {
				if by := above(float64(x), -float64(n.Relief.Drop(x)), k); by > 1e-9 {
					want[fmt.Sprintf("string 1: got the crown of fret %d %.3fmm above the string pressed to fret %d, want it below", k, by, low)] = true
				}
			}
		}
		_, err := intonation.NewModel(n)
		switch {
		case err != nil && want[err.Error()]:
			refused++
		case err == nil && len(want) == 0:
			taken++
		default:
			t.Fatalf("%+v, %+v: got %v, want one of %v", n.Relief, c, err, want)
		}
	}
	if refused < 200 || taken < 200 {
		t.Errorf("got %d refused and %d taken, want a test that tells", refused, taken)
	}
}

// A model keeps what it was given.
func TestModelKeepsItsNeck(t *testing.T) {
	n := neck(t)
	m := model(t, n)
	before := m.Map(nil)
	for i := range n.Courses {
		n.Courses[i] = intonation.Course{}
	}
	p, err := m.LeastSquares(1, intonation.Aim{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range m.Map([]units.Cents{7}) {
		if i == 0 && c != 7 || i > 0 && c != before[i-1] {
			t.Errorf("got %v at %d after a setback of %v", c, i, p.Setback)
		}
	}
}

// No input, however odd, is a panic or a note that is not a number.
func FuzzNewModel(f *testing.F) {
	f.Add(648.0, 0.3, 400.0, 0.0, 0.6, 6.0, 0.0004, 10000.0, 4e-5, 330.0, 0.5, 3.0, 2.0, 0.0, 0.0, 1.0)
	f.Add(1e-300, -0.3, 1e300, 5.0, 0.0, 0.0, 1e300, 1e-300, 1e300, 1e-300, -1.0, 1e8, -2.0, -1e9, 1e300, 2.0)
	f.Fuzz(func(t *testing.T, scale, bow, far, carry, depth, behind, weight, stretch, bend, open, nut, rise, ds, dn, after, fixity float64) {
		d, err := fret.Equal(units.Octave, 12, 13)
		if err != nil {
			t.Fatal(err)
		}
		m, err := intonation.NewModel(intonation.Neck{
			Division: d, Scale: units.Length(scale), Relief: action.Relief{Bow: units.Length(bow), Far: units.Length(far)},
			Finger: intonation.Finger{Carry: units.Length(carry), Depth: units.Length(depth), Behind: units.Length(behind)},
			Courses: []intonation.Course{{
				UnitWeight: units.LinearDensity(weight), Stretch: units.Force(stretch), Bend: bend, Open: units.Frequency(open),
				NutHeight: units.Length(nut), Rise: units.Length(rise), Setback: units.Length(ds), NutSetback: units.Length(dn),
				AfterLength: units.Length(after), Fixity: fixity,
			}},
		})
		if err != nil {
			return
		}
		for _, c := range m.Map(nil) {
			if c-c != 0 {
				t.Errorf("got %v", c)
			}
		}
		m.LeastWorst(1, intonation.Aim{})
		m.LeastSquaresNut(1, intonation.Aim{})
		heard := []intonation.Heard{{High: 12, Cents: 5, Doubt: 1}, {High: 5, Cents: 3, Doubt: 1}}
		m.Fit(1, heard, []intonation.Prior{{Of: intonation.Stretch}, {Of: intonation.SlotHeight}})
	})
}
