package intonation

import (
	"fmt"
	"math"

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
	ps := make([]*placing, len(strs))
	for i, s := range strs {
		p, err := m.placing(s, Aim{})
		if err != nil {
			return Together{}, err
		}
		ps[i] = p
		if len(stagger) != 0 {
			p.further = float64(stagger[i])
		}
		if bad := p.further; bad-bad != 0 {
			return Together{}, fmt.Errorf("got a stagger of %v, want a finite one", stagger[i])
		}
	}
	setback, err := leastWorst(ps...)
	if err != nil {
		return Together{}, err
	}
	out := Together{Setback: units.Length(setback)}
	squares, notes := 0.0, 0
	for _, p := range ps {
		placed, err := p.done()
		if err != nil {
			return Together{}, err
		}
		out.Left = append(out.Left, placed.Left)
		squares += float64(len(placed.Left)) * float64(placed.RMS) * float64(placed.RMS)
		notes += len(placed.Left)
		if math.Abs(float64(placed.Worst)) > math.Abs(float64(out.Worst))+tie {
			out.Worst = placed.Worst
		}
	}
	out.RMS = units.Cents(math.Sqrt(squares / float64(notes)))
	return out, nil
}
