package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// space is the designs: every scale with every height and every set. A cell is one
// scale at one height. What a string does there is worked out once; a set's pull is
// the sum of its strings', and its worst note the worst of theirs.
type space struct {
	low, high    units.Length // of the scales
	pull, within units.Force  // wanted of a set, and how far from it one may be

	scales, heights []units.Length
	choices         [][]choice // by string, from the treble
	frets           fret.Division
}

// choice is one gauge that a string may have.
type choice struct {
	made   tension.String
	open   units.Frequency
	breaks units.Force
}

// design is a set in a cell. Sets are numbered as figures are: the last string's
// choice counts one.
type design struct {
	scale, set int
	pull       units.Force
	worst      units.Cents // magnitude
}

var none = design{worst: units.Cents(math.Inf(1))}

func (d design) found() bool { return d.worst < none.worst }

const slot = 0.5 * units.Millimetre // of the nut, over the plane of the frets (common practice, no source)

// usual is the set to start from, and by how much the gauges of a string differ.
var usual = []struct {
	note        units.Note
	kind        string  // plain or wound
	gauge, step float64 // thousandths of an inch
}{
	{64, "p", 10, 0.5}, {59, "p", 13, 0.5}, {55, "p", 17, 1},
	{50, "w", 26, 1}, {45, "w", 36, 2}, {40, "w", 46, 2},
}

func newChoice(note units.Note, text string) (choice, error) {
	made, err := tension.ParseString(text)
	if err != nil {
		return choice{}, err
	}
	breaks, err := made.Breaking()
	return choice{made, note.Frequency(440), breaks}, err
}

// lay fills the space with numbers of scales and heights and of every string's
// gauges.
func (s *space) lay(scales, heights, gauges int) error {
	for _, row := range []struct {
		what         string
		number, most int
	}{{"scales", scales, 10_000}, {"heights", heights, 10_000}, {"gauges", gauges, 9}} {
		if row.number < 1 || row.number > row.most {
			return fmt.Errorf("got %d %s, want 1 to %d", row.number, row.what, row.most)
		}
	}
	s.scales, s.heights = spread(s.low, s.high, scales), spread(1.2, 2.4, heights)
	var err error
	if s.frets, err = fret.Equal(units.Octave, 12, 22); err != nil {
		return err
	}
	for _, u := range usual {
		var choices []choice
		for i := range gauges {
			gauge := u.gauge + u.step*(float64(i)-float64(gauges-1)/2)
			c, err := newChoice(u.note, fmt.Sprint(gauge, u.kind))
			if err != nil {
				return err
			}
			choices = append(choices, c)
		}
		s.choices = append(s.choices, choices)
	}
	return nil
}

// spread returns a number of lengths from low to high, or the middle of them.
func spread(low, high units.Length, number int) []units.Length {
	out := []units.Length{(low + high) / 2}
	for i := range number {
		if number > 1 {
			out = append(out[:i], low+(high-low)*units.Length(float64(i)/float64(number-1)))
		}
	}
	return out
}

func (s *space) cells() int { return len(s.scales) * len(s.heights) }

// sets is how many there are in a cell.
func (s *space) sets() int64 {
	n := int64(1)
	for _, c := range s.choices {
		n *= int64(len(c))
	}
	return n
}

// worker is what one core works with: a cell's strings, and the best of all cells.
type worker struct {
	*space
	pulls [][]units.Force
	worst [][]units.Cents
	best  []design // by height
}

func (s *space) worker() *worker {
	w := &worker{space: s, best: slices.Repeat([]design{none}, len(s.heights))}
	for _, c := range s.choices {
		w.pulls = append(w.pulls, make([]units.Force, len(c)))
		w.worst = append(w.worst, make([]units.Cents, len(c)))
	}
	return w
}

// sweep looks at every design and returns the best of each height; done counts
// cells. When ctx is done it returns the best of those it has looked at.
func (s *space) sweep(ctx context.Context, cores int, done *atomic.Int64) ([]design, error) {
	if cores < 1 || cores > 10_000 {
		return nil, fmt.Errorf("got %d cores, want 1 to 10000", cores)
	}
	workers := make([]*worker, cores)
	for i := range workers {
		workers[i] = s.worker()
	}
	err := split(ctx, cores, s.cells(), func(core, cell int) error {
		if err := workers[core].cell(cell); err != nil {
			return err
		}
		done.Add(1)
		return nil
	})
	best := workers[0].best
	for _, w := range workers[1:] {
		for i, d := range w.best {
			best[i] = better(best[i], d, s.pull)
		}
	}
	return best, err
}

// split does work for each number below n on some cores, every core taking the
// next that is left, until all is done, one fails or ctx is done.
func split(ctx context.Context, cores, n int, work func(core, i int) error) error {
	errs := make([]error, cores)
	var next atomic.Int64
	var all sync.WaitGroup
	for core := range cores {
		all.Add(1)
		go func() {
			defer all.Done()
			for ctx.Err() == nil {
				i := int(next.Add(1) - 1)
				if i >= n {
					return
				}
				if errs[core] = work(core, i); errs[core] != nil {
					next.Store(int64(n))
					return
				}
			}
		}()
	}
	all.Wait()
	return errors.Join(errs...)
}

// better is a total order, so that the best does not hang on who found it: the
// worst note, then the pull, then the scale and the set.
func better(a, b design, pull units.Force) design {
	offA, offB := math.Abs(float64(a.pull-pull)), math.Abs(float64(b.pull-pull))
	switch {
	case a.worst != b.worst:
		if b.worst < a.worst {
			return b
		}
	case offA != offB:
		if offB < offA {
			return b
		}
	case a.scale != b.scale:
		if b.scale < a.scale {
			return b
		}
	case b.set < a.set:
		return b
	}
	return a
}

// cell looks at every set of one scale at one height.
func (w *worker) cell(i int) error {
	scale, height := i/len(w.heights), i%len(w.heights) // all heights have had their turn when a sweep is stopped
	placed, err := w.place(w.scales[scale], w.heights[height])
	if err != nil {
		return fmt.Errorf("scale %.2f, %.2f at the 12th: %w", w.scales[scale], w.heights[height], err)
	}
	for str, choices := range w.choices {
		for k, c := range choices {
			strung := tension.Strung{String: c.made, Pitch: c.open, Length: w.scales[scale] + placed[str][k].Setback}
			w.pulls[str][k] = strung.Pull()
			w.worst[str][k] = units.Cents(math.Abs(float64(placed[str][k].Worst)))
			if w.pulls[str][k] >= c.breaks {
				w.pulls[str][k] = units.Force(math.NaN()) // no set with it pulls as wanted
			}
		}
	}
	best := none
	w.combine(&best, 0, design{scale: scale})
	w.best[height] = better(w.best[height], best, w.pull)
	return nil
}

// place returns where each choice of each string has its saddle best.
func (s *space) place(scale, height units.Length) ([][]intonation.Placed, error) {
	var courses []intonation.Course
	for _, choices := range s.choices {
		for _, c := range choices {
			courses = append(courses, s.course(c, height))
		}
	}
	m, err := intonation.NewModel(intonation.Neck{Division: s.frets, Scale: scale, Courses: courses})
	if err != nil {
		return nil, err
	}
	out := make([][]intonation.Placed, len(s.choices))
	str := 0
	for i, choices := range s.choices {
		for range choices {
			str++
			placed, err := m.LeastWorst(str, intonation.Aim{})
			if err != nil {
				return nil, err
			}
			out[i] = append(out[i], placed)
		}
	}
	return out, nil
}

// course is a string over a straight neck, at a height at the 12th fret.
func (s *space) course(c choice, height units.Length) intonation.Course {
	return intonation.Course{
		UnitWeight: c.made.UnitWeight, Stretch: c.made.Stretch, Bend: c.made.Bend, Open: c.open,
		NutHeight: slot, Rise: action.AtSaddle(height-slot, s.frets.Share(12)), Fixity: 1,
	}
}

// combine looks at all choices of a string and of those after it, added to what
// the ones before it make.
func (w *worker) combine(best *design, str int, before design) {
	for k, pull := range w.pulls[str] {
		d := design{before.scale, before.set*len(w.pulls[str]) + k, before.pull + pull, max(before.worst, w.worst[str][k])}
		if str < len(w.pulls)-1 {
			w.combine(best, str+1, d)
		} else if math.Abs(float64(d.pull-w.pull)) <= float64(w.within) {
			*best = better(*best, d, w.pull)
		}
	}
}

// describe returns the text of the strings of a design, and how far behind the scale line each
// saddle stands.
func (s *space) describe(d design, height int) ([]string, []units.Length, error) {
	placed, err := s.place(s.scales[d.scale], s.heights[height])
	if err != nil {
		return nil, nil, err
	}
	set, setbacks := make([]string, len(placed)), make([]units.Length, len(placed))
	for i := len(set) - 1; i >= 0; i-- {
		k := d.set % len(placed[i])
		d.set /= len(placed[i])
		set[i], setbacks[i] = s.choices[i][k].made.String(), placed[i][k].Setback
	}
	return set, setbacks, nil
}
