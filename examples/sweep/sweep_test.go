package main

import (
	"context"
	"math"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
	"time"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// small is a space that can be looked at one by one.
func small(tb testing.TB, scales, heights, gauges int) *space {
	tb.Helper()
	s := &space{low: 610, high: 660, pull: 440, within: 2}
	if err := s.lay(scales, heights, gauges); err != nil {
		tb.Fatal(err)
	}
	return s
}

func TestSweep(t *testing.T) {
	s := small(t, 3, 2, 3)
	var done atomic.Int64
	best, err := s.sweep(context.Background(), 2, &done)
	if err != nil {
		t.Fatal(err)
	}
	if done.Load() != 6 || s.cells() != 6 || s.sets() != 729 {
		t.Fatalf("got %d of %d cells of %d sets, want 6 of 6 of 729", done.Load(), s.cells(), s.sets())
	}
	for height, got := range best {
		want := none
		for scale := range s.scales {
			for set := range int(s.sets()) {
				want = better(want, alone(t, s, scale, height, set), s.pull)
			}
		}
		if got.scale != want.scale || got.set != want.set ||
			math.Abs(float64(got.pull-want.pull)) > 1e-9 || math.Abs(float64(got.worst-want.worst)) > 1e-9 {
			t.Errorf("at %v: got %+v, want %+v", s.heights[height], got, want)
		}
		if !want.found() {
			t.Errorf("at %v: got no set that pulls %v, want one", s.heights[height], s.pull)
		}
	}
}

var placedAlone = map[[4]int]intonation.Placed{}

// alone works a design out by itself, each string on a neck of its own.
func alone(t *testing.T, s *space, scale, height, set int) design {
	t.Helper()
	d := design{scale: scale, set: set}
	for i := len(s.choices) - 1; i >= 0; i-- {
		k := set % len(s.choices[i])
		set /= len(s.choices[i])
		c := s.choices[i][k]
		key := [4]int{scale, height, i, k}
		placed, known := placedAlone[key]
		if !known {
			m, err := intonation.NewModel(intonation.Neck{Division: s.frets, Scale: s.scales[scale], Courses: []intonation.Course{s.course(c, s.heights[height])}})
			if err != nil {
				t.Fatal(err)
			}
			if placed, err = m.LeastWorst(1, intonation.Aim{}); err != nil {
				t.Fatal(err)
			}
			placedAlone[key] = placed
		}
		d.pull += tension.Pull(c.made.UnitWeight, c.open, s.scales[scale]+placed.Setback)
		d.worst = max(d.worst, units.Cents(math.Abs(float64(placed.Worst))))
	}
	if math.Abs(float64(d.pull-s.pull)) > float64(s.within) {
		return none
	}
	return d
}

// Whoever finds it, the best is the same, and so is what is printed.
func TestSweepOnAnyCores(t *testing.T) {
	var want string
	for _, cores := range []int{1, 2, 3, 8} {
		var out, progress writer
		s := small(t, 7, 3, 2)
		if err := s.run(context.Background(), cores, &out, &progress); err != nil {
			t.Fatal(err)
		}
		if want == "" {
			want = string(out)
		}
		if string(out) != want {
			t.Errorf("on %d cores: got\n%swant\n%s", cores, out, want)
		}
	}
}

type writer []byte

func (w *writer) Write(b []byte) (int, error) {
	*w = append(*w, b...)
	return len(b), nil
}

// A sweep that is stopped ends soon, and says how far it came.
func TestSweepStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	s := small(t, 2, 1, 2)
	var out, progress writer
	err := s.run(ctx, 2, &out, &progress)
	if want := "stopped at 0 of 128 designs: these are the best of them"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if want := "at 12   scale  strings  pull  worst note  saddles behind the scale line\n1.80mm  none found\n"; string(out) != want {
		t.Errorf("got %q, want %q", out, want)
	}
}

// What is begun when a sweep is stopped is ended, and no more begun.
func TestSplitStops(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var n atomic.Int64
	err := split(ctx, 2, 1_000_000, func(int, int) error {
		if n.Add(1) == 5 {
			cancel()
		}
		return nil
	})
	if n := n.Load(); err != nil || n < 5 || n > 6 {
		t.Errorf("got %d done and %v, want 5, or 6 with the other core's", n, err)
	}
}

// A set with a string that would break is no design, whatever is wanted.
func TestBreaks(t *testing.T) {
	s := &space{low: 1000, high: 1000, pull: 1000, within: 1e6}
	if err := s.lay(1, 1, 1); err != nil {
		t.Fatal(err)
	}
	if c := s.choices[0][0]; !(tension.Pull(c.made.UnitWeight, c.open, 1000) > c.breaks) {
		t.Fatalf("got a string that pulls less than %v, want one past it", c.breaks)
	}
	var done atomic.Int64
	best, err := s.sweep(context.Background(), 1, &done)
	if err != nil || best[0].found() {
		t.Errorf("got %+v and %v, want none", best[0], err)
	}
}

// Of sets there are many: looking at them allocates nothing.
func TestSetsAllocateNothing(t *testing.T) {
	s := small(t, 1, 1, 3)
	w := s.worker()
	if err := w.cell(0); err != nil {
		t.Fatal(err)
	}
	best := none
	if got := testing.AllocsPerRun(10, func() { w.combine(&best, 0, design{}) }); got != 0 || best != w.best[0] {
		t.Errorf("got %v allocations and %+v, want none and %+v", got, best, w.best[0])
	}
}

func TestRefused(t *testing.T) {
	for _, test := range []struct {
		scales, heights, gauges int
		want                    string
	}{
		{0, 1, 1, "got 0 scales, want 1 to 10000"},
		{1, 10_001, 1, "got 10001 heights, want 1 to 10000"},
		{1, 1, 10, "got 10 gauges, want 1 to 9"},
	} {
		var s space
		if err := s.lay(test.scales, test.heights, test.gauges); err == nil || err.Error() != test.want {
			t.Errorf("got %v, want %s", err, test.want)
		}
	}
	s := small(t, 1, 1, 1)
	var done atomic.Int64
	if _, err := s.sweep(context.Background(), 0, &done); err == nil || err.Error() != "got 0 cores, want 1 to 10000" {
		t.Errorf("got %v, want 0 cores refused", err)
	}
	s = &space{low: -5, high: -5, pull: 440, within: 2}
	if err := s.lay(1, 1, 1); err != nil {
		t.Fatal(err)
	}
	if _, err := s.sweep(context.Background(), 2, &done); err == nil || err.Error() != "scale -5.00mm, 1.80mm at the 12th: got a scale of -5mm, want more than 0" {
		t.Errorf("got %v, want the scale refused", err)
	}
}

// BenchmarkSweep is a million designs on one core and on all in turn, beside bare
// roots in as many cells that are split in the same way. Its gain is how much longer
// one core takes; it should be at least 0.85 of the bare loop's.
func BenchmarkSweep(b *testing.B) {
	s := small(b, 8, 8, 5)
	var sums [64]float64
	works := []func(cores int) error{
		func(cores int) error {
			var done atomic.Int64
			_, err := s.sweep(context.Background(), cores, &done)
			return err
		},
		func(cores int) error {
			return split(context.Background(), cores, len(sums), func(_, cell int) error {
				sum := 0.0 // each core's own: its neighbours' are in one line of the cache
				for k := range 150_000 {
					sum += math.Sqrt(float64(cell + k))
				}
				sums[cell] = sum
				return nil
			})
		},
	}
	var times [2][2][]time.Duration // by cores, by work
	for range b.N {
		for i, cores := range []int{1, runtime.GOMAXPROCS(0)} {
			for j, work := range works {
				start := time.Now()
				if err := work(cores); err != nil {
					b.Fatal(err)
				}
				times[i][j] = append(times[i][j], time.Since(start))
			}
		}
	}
	gain := func(work int) float64 { return median(times[0][work]) / median(times[1][work]) }
	b.ReportMetric(0, "ns/op") // of four things
	b.ReportMetric(median(times[0][0])/1e6, "ms-on-one")
	b.ReportMetric(gain(0), "gain")
	b.ReportMetric(gain(1), "bare-gain")
	b.ReportMetric(gain(0)/gain(1), "of-bare")
}

func median(times []time.Duration) float64 {
	slices.Sort(times)
	return float64(times[len(times)/2])
}
