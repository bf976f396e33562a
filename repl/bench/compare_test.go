package bench_test

import (
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// note is one reading that stands, in plain numbers.
type note struct {
	pair
	str            int
	target, weight float64
}

// least halves the interval that holds the place at which the sharpest weighted
// note is as far out as the flattest.
func least(notes []note) float64 {
	near, far := -100.0, 100.0
	for range 60 {
		mid := (near + far) / 2
		low, high := math.Inf(1), math.Inf(-1)
		for _, n := range notes {
			c := n.weight * (n.after(mid) - n.target)
			low, high = math.Min(low, c), math.Max(high, c)
		}
		if low+high > 0 {
			near = mid
		} else {
			far = mid
		}
	}
	return (near + far) / 2
}

// hardware sums up what the notes of a neck of six are off by; of two as far out
// the first counts.
func hardware(what string, notes []note, off []float64) bench.CompareRow {
	nan := units.Cents(nan)
	row := bench.CompareRow{Hardware: what, Strings: []units.Cents{nan, nan, nan, nan, nan, nan}}
	sum := 0.0
	for i, c := range off {
		sum += c * c
		if math.Abs(c) > math.Abs(float64(row.Worst))+1e-6 {
			row.Worst = units.Cents(c)
		}
		if was := &row.Strings[notes[i].str-1]; math.IsNaN(float64(*was)) || math.Abs(c) > math.Abs(float64(*was))+1e-6 {
			*was = units.Cents(c)
		}
	}
	row.RMS = units.Cents(math.Sqrt(sum / float64(len(off))))
	return row
}

// Hardware against hardware, on random bridges: worked out note by note.
func TestCompareTwin(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	hows := []bench.How{at12, {Low: 2, At: 14}, {At: 19}}
	for i := range 60 {
		r := six(t)
		r.Saddles = [][][]int{{{1, 2}, {3, 4}, {5, 6}}, {{1, 3, 2}, {6, 5, 4}}, {{1}, {2}, {3}, {4}, {5}, {6}}}[rnd.Intn(3)]
		places := make([]float64, len(r.Saddles))
		if rnd.Intn(2) == 0 { // they were read, and cannot go far
			var ls []units.Length
			for i := range places {
				places[i] = 4 * rnd.Float64()
				ls = append(ls, mm(640+places[i]))
			}
			r.Entries = append(r.Entries, read(bench.Saddle, bench.How{From: bench.FromNut}, ls...))
			r.Travel = [2]units.Length{640, 643}
		}
		stagger, weight := make([]float64, 6), []float64{1, 1, 1, 1, 1, 1}
		if rnd.Intn(2) == 0 {
			r.Staggers, r.Weights = make([]units.Length, 6), make([]float64, 6)
			for s := range 6 {
				stagger[s], weight[s] = rnd.Float64(), 0.5+rnd.Float64()
				r.Staggers[s], r.Weights[s] = mm(stagger[s]), weight[s]
			}
		}
		told := make([][]note, 7) // by string
		for _, how := range hows {
			target := math.Round(5*rnd.Float64()) / 2
			r.Entries = append(r.Entries, bench.Entry{Mood: bench.Want, Of: bench.Cents, How: how, Cents: []units.Cents{units.Cents(target)}})
			for s := 1; s <= 6; s++ {
				if rnd.Intn(3) == 0 {
					continue
				}
				c := 20*rnd.Float64() - 10
				r.Entries = append(r.Entries, on(heard(how, units.Cents(c)), s))
				saddle := slices.IndexFunc(r.Saddles, func(g []int) bool { return slices.Contains(g, s) })
				p := pairAt(640, places[saddle]+stagger[s-1], how.Low, how.At, c)
				told[s] = append(told[s], note{p, s, target, weight[s-1]})
			}
		}
		var now, best, own []float64
		var read []note
		for i, group := range r.Saddles {
			var here []note
			for _, s := range group {
				here = append(here, told[s]...)
			}
			if here == nil {
				continue
			}
			at := least(here)
			if r.Travel[1] != 0 {
				at = min(3-places[i], max(-places[i], at))
			}
			for _, n := range here {
				now, best = append(now, n.cents-n.target), append(best, n.after(at)-n.target)
				own = append(own, n.after(least(told[n.str]))-n.target)
			}
			read = append(read, here...)
		}
		want := []bench.CompareRow{
			hardware("as it stands", read, now),
			hardware("these saddles set best", read, best),
			hardware("shaped saddles, or one a string", read, own),
		}
		diff(t, fmt.Sprint("bridge ", i), want, ok(r.CompareRows())(t))
	}
}

// A string that showed four fifths of the textbook's change is compared by what
// a tuner reads on it.
func TestCompareLearned(t *testing.T) {
	by := mm(pairAt(640, 0, 0, 12, 30).move())
	r := &bench.Record{Scale: 640, Tuner: 0.1, Saddles: [][]int{{1, 2}}, Entries: []bench.Entry{heard(at12, 30, 30), moved(by, 1, 2), heard(at12, 6, 0)}}
	// By hand, as in TestLearnedSlope: of -30 the first moved by -24, the other by all of it.
	slope := (24*30/(2*0.02) + 1/0.0144) / (30*30/(2*0.02) + 1/0.0144)
	one, two := pairAt(640, 0, 0, 12, 6/slope), pairAt(640, 0, 0, 12, 0)
	at := together(one, two)
	rows := ok(r.CompareRows())(t)
	diff(t, "as it stands", []units.Cents{6, 0}, rows[0].Strings)
	diff(t, "set best", []units.Cents{units.Cents(slope * one.after(at)), units.Cents(two.after(at))}, rows[1].Strings)
	diff(t, "one a string", []units.Cents{0, 0}, rows[2].Strings)
}

// On two scales each string's notes are those of its own scale; two that share a
// saddle are passed over while neither was read.
func TestCompareTwoScales(t *testing.T) {
	r := fanned(t, on(heard(at12, 6, -6), 1, 6), on(heard(bench.How{At: 19}, 2, 3), 1, 6))
	r.Saddles = [][]int{{1}, {2, 3}, {4}, {5}, {6}}
	n := silent
	want := []units.Cents{n, n, n, n, n, n}
	for s, scale := range map[int]float64{1: 600, 6: 640} {
		ps := []note{{pairAt(scale, 0, 0, 12, []float64{0, 6, 0, 0, 0, 0, -6}[s]), s, 0, 1}, {pairAt(scale, 0, 0, 19, []float64{0, 2, 0, 0, 0, 0, 3}[s]), s, 0, 1}}
		want[s-1] = units.Cents(ps[0].after(least(ps)))
	}
	rows := ok(r.CompareRows())(t)
	diff(t, "set best", want, rows[1].Strings)
	diff(t, "one a string", want, rows[2].Strings)
}

// What a comparison lacks, or cannot do.
func TestCompareErrors(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Frets = 61 }, "got 61 frets, want 1 to 60"},
		{func(r *bench.Record) { r.Scale = 0 }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Scale, r.Entries = 0, nil }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Entries = nil }, "got no readings of cents, want that told first, as in read cents 12: +5 +3 +9 -1 +2 +4"},
		{func(r *bench.Record) { r.Scale, r.Plan.Scales = 0, [2]units.Length{600, 640} }, "got strings 1 2 of two scales on one saddle, want a saddle a string there"},
		{func(r *bench.Record) { r.Scale, r.Plan.Scales, r.NutSpread = 0, [2]units.Length{600, 640}, 0 }, "got no spread, want that told first, as in spread: 36mm 52mm"},
		{func(r *bench.Record) { r.Entries[0].Cents[1] = 3000 }, "string 2: got 3000c at fret 12 against fret 0, want at least -1200c and less than the interval between them"},
		{func(r *bench.Record) {
			r.Entries = append(append(r.Entries, slices.Repeat([]bench.Entry{moved(-100, 1, 2)}, 4)...), heard(at12, 0, 0))
		}, "string 1: got a move of -400mm, want the saddle to stay behind fret 12"},
	} {
		r := six(t, heard(at12, 6, 9))
		row.change(r)
		_, err := r.CompareRows()
		wantError(t, err, row.want)
	}
}
