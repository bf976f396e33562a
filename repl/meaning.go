package repl

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/repl/bench"
)

// meaning says in a line or two what a reading just told comes to.
func (s *Session) meaning(t *telling) []string {
	if len(t.record.Entries) == 0 || t.word.class != classField {
		return nil
	}
	e := t.record.Entries[len(t.record.Entries)-1]
	if t.word.name != moodNames[e.Mood]+" "+e.Of.String() || e.Mood != bench.Read {
		return nil
	}
	switch e.Of {
	case bench.Cents:
		return s.meansMoves(e.On)
	case bench.Action:
		return s.meansHeights(e.On)
	}
	return nil
}

// meansMoves says what the saddles of the strings read should do.
func (s *Session) meansMoves(on []int) []string {
	rows, err := s.record.MoveRows()
	var untold *bench.Missing
	if errors.As(err, &untold) {
		return []string{"for the move, tell the " + untold.What + ", as in " + untold.Tell}
	}
	if err != nil {
		return nil
	}
	var out []string
	for _, m := range rows {
		if !m.Known() || !touches(m.Strings, on) {
			continue
		}
		line := fmt.Sprintf("saddle %s: %s, give or take %s", bench.Group(m.Strings), s.moveText(m), s.bandText(m))
		if len(m.Strings) > 1 {
			line += "; then out by " + leftText(m)
		}
		out = append(out, line)
	}
	return out
}

func touches(a, b []int) bool {
	return slices.ContainsFunc(a, func(x int) bool { return slices.Contains(b, x) })
}

// meansHeights says how far the strings read are from what is wanted.
func (s *Session) meansHeights(on []int) []string {
	rows, err := s.record.HeightRows()
	if err != nil {
		return nil
	}
	var out []string
	for _, h := range rows {
		if !slices.Contains(on, h.String) || math.IsNaN(float64(h.AtSaddle)) {
			continue
		}
		change := signed(float64(h.AtSaddle), 2) + "mm"
		if s.view.inches {
			change = signed(h.AtSaddle.Inches(), 3) + "in"
		}
		out = append(out, fmt.Sprintf("string %d: %s wanted, so %s at the saddle", h.String, s.both("", "", h.Wanted, 2, 3)[0].text, change))
	}
	return out
}
