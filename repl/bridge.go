package repl

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// bridgeNotes says how saddles tilt, what to sand off, and the curve that their
// tops need.
func (s *Session) bridgeNotes(rows []bench.HeightRow) []string {
	notes := slices.Concat(s.tiltNotes(rows), s.roomNotes(rows), s.sandingNotes(rows))
	if len(rows) < 3 {
		return notes
	}
	tops, err := s.record.Tops()
	var missing *bench.Missing
	if errors.As(err, &missing) {
		return notes // a curve needs the board, and what is wanted of every string
	}
	if err != nil {
		return append(notes, "no curve of the saddles' tops: "+err.Error())
	}
	what := "undersides"
	if s.record.Centres {
		what = "centres"
	}
	notes = append(notes, fmt.Sprintf("over the saddles the strings' %s want %s: %s", what, s.view.radius(tops.Best.Radius), s.missText(tops.Best)))
	if tops.Best.Worst > bench.Near {
		levels := make([]string, len(tops.Levels))
		for i, l := range tops.Levels {
			levels[i] = s.short(l)
		}
		notes = append(notes, "no one radius fits; over the lower of the outer two they lie at "+strings.Join(levels, " "))
	}
	for _, c := range tops.Stock {
		notes = append(notes, fmt.Sprintf("of those to be had, %s: %s", s.view.radius(c.Radius), s.missText(c)))
	}
	return notes
}

// radius shows a radius as the trade does: whole millimetres, or hundredths of an
// inch.
func (w view) radius(r units.Length) string {
	switch {
	case math.IsInf(float64(r), 0):
		return "a straight line"
	case w.inches:
		return "a radius of " + plainLength(r, 2, "in")
	}
	return "a radius of " + plainLength(r, 0, "mm")
}

// missText says how far a curve misses, and where most.
func (s *Session) missText(c action.Curve) string {
	if c.Worst != c.Worst {
		return "it is too small to span the strings"
	}
	if c.Worst < 0.005 {
		return "it fits"
	}
	for i, m := range c.Misses {
		if m == c.Worst {
			return fmt.Sprintf("string %d lies %s over it", i+1, s.short(m))
		}
		if m == -c.Worst {
			return fmt.Sprintf("string %d lies %s under it", i+1, s.short(-m))
		}
	}
	return "it fits"
}

// tiltNotes says how far two screws tilt what they carry.
func (s *Session) tiltNotes(rows []bench.HeightRow) []string {
	var notes []string
	told := map[string]bool{}
	groups, _ := s.record.Groups()
	for _, h := range rows {
		what := "saddle " + bench.Group(groups[h.Saddle-1])
		if s.record.PostGap != 0 {
			what = "the bridge"
		}
		if told[what] || h.Tilt < 0.05 && h.Tilt > -0.05 {
			continue
		}
		told[what] = true
		way := map[bool]string{true: "up", false: "down"}[h.Tilt > 0]
		notes = append(notes, fmt.Sprintf("%s tilts by %s degrees, its treble end %s", what, fixed(math.Abs(float64(h.Tilt)), 1), way))
	}
	return notes
}

// roomNotes says where the saddles' own travel does not reach.
func (s *Session) roomNotes(rows []bench.HeightRow) []string {
	room := s.record.HeightRoom
	if len(room) != 2 {
		return nil
	}
	var notes []string
	for _, h := range rows {
		way, have := "up", room[1]
		by := h.AtSaddle
		if by < 0 {
			way, have, by = "down", room[0], -by
		}
		if by > have {
			notes = append(notes, fmt.Sprintf("string %d wants its saddle %s %s, and that has %s of travel that way: a shim could do the rest, as in shim(%s%s)", h.String, s.short(by), way, s.short(have), map[bool]string{true: "-"}[way == "down"], s.short(by)))
		}
	}
	return notes
}

// sandingNotes says what to take off beneath a one-piece saddle.
func (s *Session) sandingNotes(rows []bench.HeightRow) []string {
	cut, ok, err := s.record.Sanding(rows)
	switch {
	case err != nil:
		return []string{err.Error()}
	case !ok:
		return nil
	}
	last := len(rows) - 1
	notes := []string{fmt.Sprintf("sand off beneath the saddle %s under string %d and %s under string %d, in a straight line between", s.short(cut.Treble), rows[0].String, s.short(cut.Bass), rows[last].String)}
	for i, left := range cut.Left {
		switch {
		case left > bench.Near:
			notes = append(notes, fmt.Sprintf("string %d then still stands %s too high at the saddle: saddle least stops it, or a neighbour; a shim at the heel or another neck angle would go on", rows[i].String, s.short(left)))
		case left < -bench.Near:
			notes = append(notes, fmt.Sprintf("string %d is %s too low at the saddle as it is: that takes a taller saddle", rows[i].String, s.short(-left)))
		}
	}
	return append(notes, "caution: "+bench.CautionHeights)
}
