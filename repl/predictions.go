package repl

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// reportMap predicts every note of the neck: fret by string in words, one note a
// row in JSON.
func reportMap(s *Session) (*report, error) {
	p, err := s.record.Predict()
	if err != nil {
		return nil, err
	}
	r := &report{name: "map"}
	for i, notes := range p.Notes {
		for f, n := range notes {
			r.rows = append(r.rows, []cell{
				{key: "string", val: i + 1}, {key: "fret", val: f + 1}, {key: "cents", val: known(n.Cents)}, {key: "band_cents", val: known(n.Band)},
			})
		}
	}
	r.picture = append(strips(p, s.ASCII, s.width()), "")
	r.shown = mapTable(p)
	r.notes = s.predictionNotes(p)
	return r, nil
}

// mapTable lays the notes out, a fret a line, with the worst and the root of the
// mean square below.
func mapTable(p *bench.Prediction) [][]cell {
	var rows [][]cell
	for f := range p.Notes[0] {
		row := []cell{text("fret", fmt.Sprint(f+1))}
		for i, notes := range p.Notes {
			row = append(row, text("s"+fmt.Sprint(i+1), signed(float64(notes[f].Cents), 1)))
		}
		rows = append(rows, row)
	}
	worst, rms := []cell{text("fret", "worst")}, []cell{text("fret", "rms")}
	for i, notes := range p.Notes {
		w, q := worstOf(notes)
		worst = append(worst, text("s"+fmt.Sprint(i+1), signed(w, 1)))
		rms = append(rms, text("s"+fmt.Sprint(i+1), fixed(q, 1)))
	}
	return append(rows, worst, rms)
}

// worstOf returns the note furthest out and the root of the mean square.
func worstOf(notes []intonation.Predicted) (worst, rms float64) {
	for _, n := range notes {
		c := float64(n.Cents)
		if math.Abs(c) > math.Abs(worst) {
			worst = c
		}
		rms += c * c
	}
	return worst, math.Sqrt(rms / float64(len(notes)))
}

// predictionNotes says what a prediction rests on.
func (s *Session) predictionNotes(p *bench.Prediction) []string {
	out := []string{"cents that each note is predicted to stand out against the open string; + is sharp"}
	var fitted, started []string
	for i, fit := range p.Fits {
		switch {
		case fit != nil:
			fitted = append(fitted, fmt.Sprint(i+1))
		case !p.Known[i]:
			started = append(started, fmt.Sprint(i+1))
		}
		if fit == nil {
			continue
		}
		for _, out := range fit.Standouts {
			fitted[len(fitted)-1] += fmt.Sprintf(" (fret %d stands out by %s: suspect its crown or place)", out.Fret, signed(float64(out.By), 1)+"c")
		}
	}
	if fitted != nil {
		out = append(out, "fitted to the readings of string "+strings.Join(fitted, ", ")+": give or take "+bandRange(p))
	}
	if started != nil {
		out = append(out, "nothing was read on string "+strings.Join(started, ", ")+", and no place of its saddle from the nut: it is taken to stand where it should start")
	}
	out = append(out, s.assumedNotes(p.Assumed)...)
	return out
}

// bandRange is the least and the most that fitted notes are uncertain by.
func bandRange(p *bench.Prediction) string {
	low, high := math.Inf(1), 0.0
	for _, notes := range p.Notes {
		for _, n := range notes {
			if b := float64(n.Band); !math.IsNaN(b) {
				low, high = min(low, b), max(high, b)
			}
		}
	}
	return fmt.Sprintf("%s to %sc", fixed(low, 1), fixed(high, 1))
}

// reportSaddles predicts where every saddle should start.
func reportSaddles(s *Session) (*report, error) {
	rows, assumed, err := s.record.PlaceRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "saddles"}
	for _, p := range rows {
		stagger := make([]string, len(p.Stagger))
		for i, g := range p.Stagger {
			stagger[i] = strings.TrimSuffix(strings.TrimSuffix(s.rounded(g, 0.5), "mm"), "in")
		}
		row := []cell{{key: "saddle", val: p.Saddle}, {"saddle", bench.Group(p.Strings), "strings", p.Strings}}
		row = append(row, s.both("setback", "setback", p.Setback, 1, 2)...)
		row = append(row,
			cell{"stagger " + s.view.symbols(units.KindLength)[0], strings.Join(stagger, " "), "stagger_mm", eachKnown(p.Stagger)},
			cell{key: "angle_deg", val: known(p.Angle)},
			cell{"worst", signed(float64(p.Worst), 1) + "c", "worst_cents", known(p.Worst)},
			cell{"rms", fixed(float64(p.RMS), 1) + "c", "rms_cents", known(p.RMS)},
		)
		r.rows = append(r.rows, row)
	}
	r.notes = []string{
		"a start, predicted before any reading: how far behind the scale line; set it, tune, read cents and ask moves",
		"stagger is how much further back each string's break point should stand than the first's; rms is how far out the notes are on the whole",
	}
	r.notes = append(r.notes, s.assumedNotes(assumed)...)
	return r, nil
}

// askWhy shows the causes of one note's error apart.
//
//	Why = "why" ( whole | ref ) whole .
func askWhy(s *Session, p *parser) (Answer, error) {
	at := p.pos
	words := pieces(p.line[p.pos:], p.pos)
	if len(words) != 2 {
		return Answer{}, syntax(p.line, p.pos, "a string and a fret, as in why s3 12", "")
	}
	var numbers [2]int
	for i, w := range words {
		text := w.text
		if i == 0 {
			text = strings.TrimPrefix(text, "s")
		}
		if !isDigits(text) {
			return Answer{}, syntax(p.line, w.at, "a string and a fret, as in why s3 12", "")
		}
		numbers[i] = wholeNumber(text)
	}
	prediction, err := s.record.Predict()
	if err != nil {
		return Answer{}, faultAt(at, err)
	}
	str, fret := numbers[0], numbers[1]
	if str < 1 || str > len(prediction.Notes) || fret < 1 || fret > s.record.Frets {
		return Answer{}, faultf(words[0].at, "got string %d at fret %d, want strings to %d and frets to %d", str, fret, len(prediction.Notes), s.record.Frets)
	}
	why := prediction.Model.Why(str, fret)
	v := value{kind: units.KindCents, x: float64(why.Total()), notes: []string{
		"length " + signed(float64(why.Length), 2) + "c",
		"stretch " + signed(float64(why.Stretch), 2) + "c",
		"stiffness " + signed(float64(why.Stiffness), 2) + "c",
	}}
	if note := prediction.Notes[str-1][fret-1]; prediction.Fits[str-1] != nil {
		v.notes = append(v.notes, fmt.Sprintf("before the readings; fitted to them %sc, give or take %sc", signed(float64(note.Cents), 1), fixed(float64(note.Band), 1)))
	}
	return s.answer(v, ""), nil
}
