package intonation

import (
	"fmt"
	"math"

	"example.org/saddlepoint/intonation/internal/solve"
	"example.org/saddlepoint/units"
)

// Together is the best place of one saddle under several strings.
type Together struct {
	Setback units.Length
	Left    [][]units.Cents // one list a string, at every fret from the first
	RMS     units.Cents
	Worst   units.Cents
}

// LeastWorstTogether places one saddle under several strings of the model, where
// they stand now set aside, so that the note furthest out on any of them is as
// small as can be. Every note falls as the saddle goes back, so that place is the
// one where the sharpest and the flattest are equally far out: a single root. A
// stagger is how much further back than the saddle each string breaks; none means
// 0.
func (m *Model) LeastWorstTogether(strs []int, stagger ...units.Length) (Together, error) {
	if len(strs) == 0 {
		return Together{}, fmt.Errorf("got no strings, want one at least")
	}
	if len(stagger) != 0 && len(stagger) != len(strs) {
		return Together{}, fmt.Errorf("got %d staggers, want %d, one a string", len(stagger), len(strs))
	}
	n := m.neck
	n.Courses = nil
	for _, s := range strs {
		if s < 1 || s > len(m.courses) {
			return Together{}, fmt.Errorf("got string %d, want 1 to %d", s, len(m.courses))
		}
		c := m.neck.Courses[s-1]
		c.Breaks = 0 // the search may pass where it would break
		n.Courses = append(n.Courses, c)
	}
	var errs []units.Cents
	var fault error
	at := func(setback float64) error {
		for i := range n.Courses {
			n.Courses[i].Setback = units.Length(setback)
			if len(stagger) != 0 {
				n.Courses[i].Setback += stagger[i]
			}
		}
		placed, err := NewModel(n)
		if err == nil {
			errs = placed.Map(errs[:0])
		}
		return err
	}
	balance := func(setback float64) float64 {
		if fault = at(setback); fault != nil {
			return math.NaN()
		}
		low, high := math.Inf(1), math.Inf(-1)
		for _, e := range errs {
			low, high = math.Min(low, float64(e)), math.Max(high, float64(e))
		}
		return low + high
	}
	// From where the saddle stands a little in front of its line to far behind it.
	setback, _, err := solve.Root(balance, -20, 60, 1e-6)
	if fault != nil {
		return Together{}, fault
	}
	if err != nil {
		return Together{}, ErrNoPlace
	}
	for i, s := range strs {
		n.Courses[i].Breaks = m.neck.Courses[s-1].Breaks
	}
	if err := at(setback); err != nil {
		return Together{}, err
	}
	return sumUp(units.Length(setback), errs, len(strs)), nil
}

func sumUp(setback units.Length, errs []units.Cents, strs int) Together {
	out := Together{Setback: setback}
	frets := len(errs) / strs
	squares := 0.0
	for i := range strs {
		out.Left = append(out.Left, append([]units.Cents(nil), errs[i*frets:(i+1)*frets]...))
	}
	for _, e := range errs {
		squares += float64(e) * float64(e)
		if math.Abs(float64(e)) > math.Abs(float64(out.Worst)) {
			out.Worst = e
		}
	}
	out.RMS = units.Cents(math.Sqrt(squares / float64(len(errs))))
	return out
}
