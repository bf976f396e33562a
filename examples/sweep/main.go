// Sweep helps a maker of six-strings decide on scale and strings before the board
// is slotted. The scale may lie anywhere from 610 to 660 mm, every string may be a
// little lighter or heavier than usual, and the whole set is to pull 440 N, which
// is what the top was braced for. For every height of the strings at the 12th fret
// it prints the design whose notes can be brought nearest to their places: every
// saddle where the worst note of its string is least out, over the whole neck.
//
//	go run ./examples/sweep
//	go run ./examples/sweep -scales 200 -heights 40 -pull 95lbf
//
// That is 8 scales by 8 heights by 5 gauges for each of 6 strings, a million
// designs; flags ask for other numbers. All cores share the work, and the answer
// is the same however many there are. Ctrl-C prints the best so far.
package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"strings"
	"sync/atomic"
	"text/tabwriter"
	"time"
)

func main() {
	s := space{low: 610, high: 660, pull: 440, within: 2}
	flag.TextVar(&s.low, "from", s.low, "shortest `scale`")
	flag.TextVar(&s.high, "to", s.high, "longest `scale`")
	flag.TextVar(&s.pull, "pull", s.pull, "wanted `pull` of the whole set")
	flag.TextVar(&s.within, "within", s.within, "how far the `pull` may be from that")
	scales := flag.Int("scales", 8, "`number` of scales")
	heights := flag.Int("heights", 8, "`number` of heights at the 12th fret, from 1.2 to 2.4 mm")
	gauges := flag.Int("gauges", 5, "`number` of gauges tried of each string")
	cores := flag.Int("cores", runtime.GOMAXPROCS(0), "`number` of cores to use")
	flag.Parse()

	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	err := s.lay(*scales, *heights, *gauges)
	if err == nil {
		err = s.run(ctx, *cores, os.Stdout, os.Stderr)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "sweep:", err)
		os.Exit(1)
	}
}

// run prints the answer to out, and to progress how far it is.
func (s *space) run(ctx context.Context, cores int, out, progress io.Writer) error {
	start := time.Now()
	var done atomic.Int64
	far := func() string { return fmt.Sprintf("%d of %d designs", done.Load()*s.sets(), int64(s.cells())*s.sets()) }
	stop := every(time.Second, func() { fmt.Fprintln(progress, far()) })
	best, err := s.sweep(ctx, cores, &done)
	stop()
	if err != nil {
		return err
	}
	fmt.Fprintf(progress, "%s in %.2f s\n", far(), time.Since(start).Seconds())
	if err := s.print(out, best); err != nil {
		return err
	}
	if done.Load() < int64(s.cells()) {
		return fmt.Errorf("stopped at %s: these are the best of them", far())
	}
	return nil
}

// every calls f at an interval until it is stopped.
func every(interval time.Duration, f func()) (stop func()) {
	tick, quit, ended := time.NewTicker(interval), make(chan struct{}), make(chan struct{})
	go func() {
		defer close(ended)
		for {
			select {
			case <-quit:
				return
			case <-tick.C:
				f()
			}
		}
	}()
	return func() {
		tick.Stop()
		close(quit)
		<-ended
	}
}

// print writes a row for every height.
func (s *space) print(out io.Writer, best []design) error {
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "at 12\tscale\tstrings\tpull\tworst note\tsaddles behind the scale line")
	for i, d := range best {
		if !d.found() {
			fmt.Fprintf(table, "%.2f\tnone found\n", s.heights[i])
			continue
		}
		set, setbacks, err := s.describe(d, i)
		if err != nil {
			return err
		}
		fmt.Fprintf(table, "%.2f\t%.1f\t%s\t%.1f\t%.2f\t%.1f\n", s.heights[i], s.scales[d.scale], strings.Join(set, " "), d.pull, d.worst, setbacks)
	}
	return table.Flush()
}
