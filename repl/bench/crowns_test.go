package bench_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// crowns are those of six in plain numbers, from the nut's end of the board's
// centre line: a cone of 254 to 355.6 mm, bowed from the nut to the 14th fret and
// straight beyond, its crowns falling away after the 15th.
type crowns struct{ bow, fall float64 }

// drop is how far the bow takes a fret below the straight neck.
func (c crowns) drop(fret int) float64 {
	x := share(fret) / share(14)
	if x > 1 {
		return -4 * c.bow * (x - 1)
	}
	return 4 * c.bow * x * (1 - x)
}

func (c crowns) level(s, fret int) float64 {
	x := share(fret)
	y := (35 + (50-35)*x) * (0.5 - float64(s-1)/5)
	r := 254 + (355.6-254)*x/share(22)
	z := math.Sqrt(r*r-y*y) - r - c.drop(fret)
	if fret > 15 {
		z -= c.fall * (x - share(15)) / (share(22) - share(15))
	}
	return z
}

// cord is a string over crowns: its levels at the nut and at the saddle.
type cord struct {
	crowns
	s           int
	nut, saddle float64
}

// over is how far the straight line between two points passes over a third.
func over(x1, z1, x2, z2, x, z float64) float64 { return z1 + (z2-z1)*(x-x1)/(x2-x1) - z }

func (c cord) height(fret int) float64 {
	return over(0, c.nut, 1, c.saddle, share(fret), c.level(c.s, fret))
}

// slot is over the plane of the frets at the nut.
func (c cord) slot() float64 { return c.nut - c.level(c.s, 0) }

// gap is what the first gap reads, pressed down or open: the string lies on the
// crown that lifts it most.
func (c cord) gap(how bench.How) float64 {
	on := func(fret int) float64 {
		return over(0, c.nut, share(fret), c.level(c.s, fret), share(1), c.level(c.s, 1))
	}
	switch how {
	case gapOpen:
		return c.height(1)
	case gapOn3:
		return math.Max(on(3), on(2))
	}
	return on(2)
}

// reads is what relief reads in a way: how far the chord between two frets passes
// over the crown of a third, in the middle of the board.
func (c crowns) reads(how bench.How) float64 {
	a, b, at := how.Held[0], how.Held[1], how.At
	return over(share(a), -c.drop(a), share(b), -c.drop(b), share(at), -c.drop(at))
}

var (
	gapWays    = []bench.How{gapHeld, gapOn3, gapOpen}
	reliefWays = []bench.How{relief1to14, edge, {Held: [2]int{1, 12}, At: 6}, {Held: [2]int{2, 22}, At: 9, Edge: true}}
)

// strung is a neck and six strings over it, at random.
func strung(rnd *rand.Rand) (crowns, []cord) {
	c := crowns{bow: 0.6*rnd.Float64() - 0.2, fall: 0.4 * rnd.Float64()}
	var out []cord
	for s := 1; s <= 6; s++ {
		out = append(out, cord{c, s, c.level(s, 0) + 0.35 + 0.5*rnd.Float64(), 2 + 3*rnd.Float64()})
	}
	return c, out
}

// measured is the record of a neck whose relief, heights and first gaps were read,
// each in some way.
func measured(t testing.TB, rnd *rand.Rand, c crowns, strings []cord) *bench.Record {
	way := reliefWays[rnd.IntN(len(reliefWays))]
	r := six(t, read(bench.Relief, way, mm(c.reads(way))))
	r.FallFrom, r.FallBy = 15, mm(c.fall)
	for _, x := range strings {
		at := bench.How{At: 2 + rnd.IntN(21)}
		gap := gapWays[rnd.IntN(3)]
		r.Entries = append(r.Entries, on(read(bench.Action, at, mm(x.height(at.At))), x.s), on(read(bench.Gap, gap, mm(x.gap(gap))), x.s))
	}
	return r
}

// Relief, heights and first gaps, each read in some way, give back the neck and the
// strings that they were read from, and nothing is assumed.
func TestSideFromReadings(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		c, strings := strung(rnd)
		r := measured(t, rnd, c, strings)
		v := ok(r.Side())(t)
		var want []action.Line
		var levels, got []units.Length
		for _, x := range strings {
			want = append(want, action.Line{Nut: mm(x.nut), Saddle: mm(x.saddle)})
			for f := range 23 {
				levels, got = append(levels, mm(c.level(x.s, f))), append(got, v.Neck.Crown(x.s, f))
			}
		}
		diff(t, "crowns", levels, got)
		diff(t, "strings", want, v.Lines)
		diff(t, "told", []bool{true, true, true, true, true, true}, v.Told)
		diff(t, "assumed", []string(nil), texts(v.Assumed))
		for _, way := range reliefWays {
			got, ok := r.ReliefAs(way)
			diff(t, fmt.Sprint("relief as ", way), []any{mm(c.reads(way)), true}, []any{got, ok})
		}
	}
}

// A slot as high as wanted shows the gap that is wanted, in whichever way: open,
// the string stands as high as wanted, or else its saddle stays. It is cut to
// within a margin of that, and never upwards.
func TestSlotsShowTheirGaps(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 50 {
		c, strings := strung(rnd)
		r := measured(t, rnd, c, strings)
		raise := rnd.IntN(2) == 0 // heights are wanted too
		var ways []bench.How
		var gaps, heights []float64
		for i, x := range strings {
			ways, gaps, heights = append(ways, gapWays[rnd.IntN(3)]), append(gaps, 0.1+0.3*rnd.Float64()), append(heights, 1+rnd.Float64())
			if i == 5 { // nothing is wanted of the last
				gaps[i] = nan
				continue
			}
			r.Entries = append(r.Entries, on(want(bench.Gap, ways[i], mm(gaps[i])), x.s))
			if raise {
				r.Entries = append(r.Entries, on(want(bench.Action, bench.How{At: 7}, mm(heights[i])), x.s))
			}
		}
		r.CrownHeight = 1.2
		rows, _, err := r.NutRows()
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range strings {
			row, way, slot := rows[i], ways[i], x.slot()
			diff(t, "slot", []any{i + 1, mm(slot)}, []any{row.String, row.Slot})
			// cut is the string when its slot is that high.
			cut := func(slot float64) cord {
				x := x
				x.nut = x.level(x.s, 0) + slot
				if way == gapOpen && raise && i < 5 {
					x.saddle = x.nut + (x.level(x.s, 7)+heights[i]-x.nut)/share(7)
				}
				return x
			}
			wanted := float64(row.Wanted)
			diff(t, fmt.Sprint("gap ", way), mm(gaps[i]), mm(cut(wanted).gap(way)+0*gaps[i]))
			stop := wanted // and where cutting stops, 0.05 mm short
			for range 40 {
				stop += gaps[i] + 0.05 - cut(stop).gap(way) // the gap rises slower than the slot
			}
			diff(t, "cut", action.Cut{Off: mm(math.Max(0, slot-stop)), Stop: mm(1.2 + stop)}, row.Cut)
		}
	}
}

// The model of notes takes crowns that run as under the middle of the board, so it
// is given the slot, and the saddle that is as high over the 12th as it is here.
func TestPredictOverCrowns(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 3 {
		c, strings := strung(rnd)
		r := measured(t, rnd, c, strings)
		p := ok(r.Predict())(t)
		for i, pull := range ok(r.PullRows())(t) {
			x := strings[i]
			slot := x.slot()
			rise := (x.height(12) - c.drop(12) - slot) / share(12)
			breaks, _ := pull.Is.Breaking()
			course := intonation.Course{UnitWeight: pull.Is.UnitWeight, Stretch: pull.Is.Stretch, Bend: pull.Is.Bend, Open: pull.Frequency,
				Breaks: breaks, NutHeight: mm(slot), Rise: mm(rise), Fixity: 1}
			m := ok(intonation.NewModel(intonation.Neck{Division: r.Division(), Scale: 640,
				Relief: action.Relief{Bow: mm(c.bow), Far: mm(640 * share(14))}, Courses: []intonation.Course{course}}))(t)
			// A saddle of which nothing is known stands where it should start.
			q := ok(p.Model.LeastWorst(i+1, intonation.Aim{}))(t)
			diff(t, fmt.Sprint("start of string ", i+1), ok(m.LeastWorst(1, intonation.Aim{}))(t).Setback, q.Setback)
		}
	}
}
