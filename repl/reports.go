package repl

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// reportWords lists the reports.
//
//	Report    = "frets" | "tensions" | "heights" | "moves" | "map" | "saddles" | "next" | "sheet" | "ticket" | "compare"
//	          | "nut" | "clearances" | "buzz" | "slots" | Tempered | Why .
func reportWords() []word {
	row := func(name, help string, make func(*Session) (*report, error)) word {
		return word{name: name, class: classReport, form: name, help: help, example: name, report: make}
	}
	why := word{name: "why", class: classReport, form: "why STRING FRET", help: "the three causes of one note's error, apart", example: "why s3 12", act: askWhy}
	return []word{
		why,
		row("map", "cents at every fret of every string, predicted", reportMap),
		row("saddles", "where every saddle should start, predicted, and the stagger it asks for", reportSaddles),
		row("frets", "where every fret goes, from the nut", reportFrets),
		row("slots", "every slot of a neck that is planned, both ends from one datum", reportSlots),
		{name: "tempered", class: classReport, form: "tempered TUNING from NOTE", help: "the frets that a tuning asks of each string, and what straight ones cost", example: "tempered meantone from D", act: askTempered, values: choices["temper"]},
		row("tensions", "the pull of every string, and of the set", reportTensions),
		row("heights", "the height wanted of every string, and what to change at its saddle", reportHeights),
		row("nut", "every slot of the nut: how high it is, how far to cut, and the leaves to stop on", reportNut),
		row("clearances", "how far every open string clears every fret", reportClearances),
		row("buzz", "where every string comes closest to a fret, how low it could be, and what may make it buzz", reportBuzz),
		row("moves", "the move for every saddle, and what it leaves", reportMoves),
		row("compare", "what these saddles, shaped ones or one a string would leave", reportCompare),
		row("next", "what to do and read next, and in what order", reportNext),
		row("sheet", "all of it", reportSheet),
		row("ticket", "to hand the owner: found, done, reads now, left", reportTicket),
	}
}

// both shows a length in the leading unit and then in the other, under one key.
func (s *Session) both(head, key string, l units.Length, mm, in int) []cell {
	a := cell{head: head, text: plainLength(l, mm, "mm"), key: key + "_mm", val: known(l)}
	b := cell{head: head, text: plainLength(l, in, "in")}
	if s.view.inches {
		a.text, b.text = b.text, a.text
	}
	b.head = other
	return []cell{a, b}
}

// bothSigned is both with a plus on what goes up.
func (s *Session) bothSigned(head, key string, l units.Length, mm, in int) []cell {
	cells := s.both(head, key, l, mm, in)
	for i := range cells {
		if l > 0 && strings.Trim(cells[i].text, "0.min") != "" {
			cells[i].text = "+" + cells[i].text
		}
	}
	return cells
}

// plainLength prints a length to some decimals, a dash where it is not known.
func plainLength(l units.Length, digits int, symbol string) string {
	switch {
	case math.IsNaN(float64(l)):
		return "-"
	case math.IsInf(float64(l), 0):
		return "flat"
	}
	return fixed(number(float64(l), symbol), digits) + symbol
}

func text(head, s string) cell { return cell{head: head, text: s} }

func whole(head, key string, n int) cell { return cell{head, fmt.Sprint(n), key, n} }

func reportFrets(s *Session) (*report, error) {
	rows, err := s.record.FretRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "frets"}
	for _, f := range rows {
		row := []cell{whole("fret", "fret", f.Fret)}
		row = append(row, s.stepCells(f.Fret)...)
		row = append(row, cell{"cents", fixed(float64(f.Cents), 2), "cents", known(f.Cents)})
		row = append(row, s.both("from nut", "from_nut", f.FromNut, 3, 4)...)
		row = append(row, s.both("gap", "gap", f.Gap, 3, 4)...)
		row = append(row, s.both("to scale line", "to_scale_line", f.ToScale, 3, 4)...)
		r.rows = append(r.rows, row)
	}
	r.notes = []string{"mark every fret from the nut: gaps are for checking, and add up errors"}
	return r, nil
}

func reportTensions(s *Session) (*report, error) {
	rows, err := s.record.PullRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "tensions"}
	guessed := false
	for _, p := range rows {
		guessed = guessed || p.Estimated()
		share := "-"
		if !math.IsNaN(p.Breaking) {
			share = fixed(100*p.Breaking, 0) + "%"
		}
		r.rows = append(r.rows, []cell{
			whole("string", "string", p.String),
			{"gauge", s.view.string(s.record.Strings[p.String-1]), "gauge_mm", known(p.Is.Gauge)},
			{"pitch", p.Tone.String(), "pitch", p.Tone.String()},
			{"unit weight", s.view.in(float64(p.Is.UnitWeight), "g/m"), "unit_weight_g_per_m", known(p.Is.UnitWeight.GramsPerMetre())},
			{"pull", fixed(float64(p.Pull), 1) + "N", "pull_N", known(p.Pull)},
			text(other, fixed(p.Pull.PoundsForce(), 1)+"lbf"),
			{"of breaking", share, "breaking_share", known(p.Breaking)},
			{key: "core_estimated", val: p.Estimated()},
		})
	}
	total := bench.TotalPull(rows)
	r.notes = append(r.notes, fmt.Sprintf("the set pulls %sN, %slbf", fixed(float64(total), 0), fixed(total.PoundsForce(), 1)))
	if a4 := assumedA4(&s.record); a4 != "" {
		r.notes = append(r.notes, a4)
	}
	if guessed {
		r.notes = append(r.notes, "wound strings: an estimate, computed with an assumed core; a maker's unit weight is better")
	}
	return r, nil
}

// signed prints a number with its sign, none on a zero.
func signed(x float64, digits int) string {
	s := fixed(x, digits)
	if s[0] != '-' && strings.Trim(s, "0.") != "" {
		return "+" + s
	}
	return s
}

func eachKnown[T ~float64](xs []T) []any {
	out := make([]any, len(xs))
	for i, x := range xs {
		out[i] = known(x)
	}
	return out
}
