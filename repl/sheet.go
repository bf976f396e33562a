package repl

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.org/saddlepoint/repl/bench"
)

// defer to those who know better, at the foot of every sheet.
const deferral = "where an instrument is valuable or a joint moves, ask an experienced or licensed repairer; keep to local rules for dust and workshop safety"

// reportSheet puts everything that the record gives rise to on one sheet. What
// cannot be worked out yet says what it lacks.
func reportSheet(s *Session) (*report, error) {
	if s.record.Empty() {
		return nil, errors.New("got nothing told, want the instrument, what is wanted and what was read")
	}
	sheet := &report{name: "sheet", lines: s.facts()}
	for _, name := range s.sheetParts() {
		part, err := s.words.get(name, classReport).report(s)
		if err == nil && name == "map" {
			part.picture = slices.DeleteFunc(part.picture, func(line string) bool { return line == "" })
			part.shown, part.notes = [][]cell{}, nil // its picture: map has the figures
		}
		var missing *bench.Missing
		switch {
		case errors.As(err, &missing):
			part = &report{name: name, notes: []string{"not yet: " + missing.Error()}}
		case err != nil:
			part = &report{name: name, notes: []string{"not possible: " + err.Error()}}
		}
		part.notes = slices.DeleteFunc(part.notes, func(n string) bool { return strings.HasPrefix(n, "caution: ") }) // once, on the step
		sheet.parts = append(sheet.parts, part)
	}
	cautions := &report{name: "cautions", notes: append(s.record.Cautions(), bench.Estimate, deferral)}
	sheet.parts = append(sheet.parts, cautions)
	if doubts := s.record.Questions(); len(doubts) > 0 {
		sheet.parts = append([]*report{{name: "questions", notes: doubts}}, sheet.parts...)
	}
	return sheet, nil
}

// sheetParts lists the reports on a sheet: what every setup wants, and what was
// told of besides.
func (s *Session) sheetParts() []string {
	told := func(of ...bench.Subject) bool {
		return slices.ContainsFunc(s.record.Entries, func(e bench.Entry) bool { return slices.Contains(of, e.Of) })
	}
	parts := []string{"tensions", "heights"}
	if told(bench.Gap) {
		parts = append(parts, "nut")
	}
	if told(bench.Buzz) {
		parts = append(parts, "buzz")
	}
	parts = append(parts, "moves")
	if _, err := s.record.Predict(); err == nil {
		parts = append(parts, "map")
	}
	return append(parts, "next")
}

// facts says what the instrument is, a line for each thing.
func (s *Session) facts() []string {
	r, w := &s.record, s.view
	var out []string
	add := func(name string, values ...string) {
		out = append(out, fmt.Sprintf("%-9s %s", name, strings.Join(values, ", ")))
	}
	if r.Name != "" {
		out = append(out, r.Name, "")
	}
	if scales := r.Plan.Scales; r.Scale != 0 || scales[0] != 0 {
		neck := []string{"scale " + w.told(r.Scale)}
		if scales[0] != 0 {
			neck[0] = fmt.Sprintf("scales %s treble and %s bass", w.told(scales[0]), w.told(scales[1]))
		}
		if r.Frets != 0 {
			neck = append(neck, fmt.Sprintf("%d frets", r.Frets))
		}
		add("neck", neck...)
	}
	if r.Radius != nil {
		board := []string{"radius " + w.told(r.Radius[0])}
		if r.Radius[1] != r.Radius[0] {
			board[0] += " at the nut, " + w.told(r.Radius[1]) + " at the last fret"
		}
		if r.SaddleSpread != 0 {
			board = append(board, fmt.Sprintf("outer strings %s apart at the nut, %s at the saddle", w.told(r.NutSpread), w.told(r.SaddleSpread)))
		}
		add("board", board...)
	}
	if r.Saddles != nil {
		groups := make([]string, len(r.Saddles))
		for i, g := range r.Saddles {
			groups[i] = bench.Group(g)
		}
		add("saddles", strings.Join(groups, " "))
	}
	return append(out, s.assumptions()...)
}

// assumptions says what was taken for granted.
func (s *Session) assumptions() []string {
	var taken []string
	if c, assumed := s.record.TunerError(); assumed {
		taken = append(taken, fmt.Sprintf("tuner taken as good to %v", c))
	}
	if _, assumed := s.record.Groups(); assumed && s.record.Count() > 0 {
		taken = append(taken, "each string taken to have a saddle of its own")
	}
	if len(taken) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("%-9s %s", "assumed", strings.Join(taken, "; "))}
}
