package repl

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/repl/bench"
)

// tolerance is how far out, in cents, a note may be and count as in tune.
const tolerance = float64(bench.InTune)

// marks draw a note: by its shape alone, never by a colour.
type marks struct{ inside, sharp, verySharp, flat, veryFlat, unknown string }

var (
	drawnMarks = marks{"·", "△", "▲", "▽", "▼", "?"}
	asciiMarks = marks{".", "+", "#", "-", "=", "?"}
)

// of is the mark of a note that is so many cents sharp.
func (m marks) of(cents float64) string {
	switch {
	case math.IsNaN(cents):
		return m.unknown
	case math.Abs(cents) <= tolerance:
		return m.inside
	case cents > 2*tolerance:
		return m.verySharp
	case cents > 0:
		return m.sharp
	case cents < -2*tolerance:
		return m.veryFlat
	}
	return m.flat
}

// strips draws every note of the neck, a line a string and a mark a fret, so that
// those out of tune are seen at a glance. A neck too long for the width goes on
// below.
func strips(p *bench.Prediction, ascii bool, width int) []string {
	m := drawnMarks
	if ascii {
		m = asciiMarks
	}
	label := len(fmt.Sprintf("s%d ", len(p.Notes)))
	frets := len(p.Notes[0])
	pitch := max(1, min(3, (width-label)/max(1, frets))) // of the columns
	each := max(1, (width-label)/pitch)
	var out []string
	for from := 0; from < frets; from += each {
		to := min(from+each, frets)
		out = append(out, strings.Repeat(" ", label)+ruler(from, to, pitch))
		for s, notes := range p.Notes {
			var b strings.Builder
			fmt.Fprintf(&b, "%-*s", label, fmt.Sprintf("s%d", s+1))
			for _, n := range notes[from:to] {
				b.WriteString(strings.Repeat(" ", pitch-1) + m.of(float64(n.Cents)))
			}
			out = append(out, b.String())
		}
	}
	return append(out, foldAll([]string{fmt.Sprintf("%s within %gc, %s sharp, %s by over %gc, %s flat, %s by over %gc",
		m.inside, tolerance, m.sharp, m.verySharp, 2*tolerance, m.flat, m.veryFlat, 2*tolerance)}, width)...)
}

// ruler numbers the frets after from, up to to, each over its column, as many as
// leave a blank between them.
func ruler(from, to, pitch int) string {
	var b strings.Builder
	for f := from + 1; f <= to; f++ {
		number := fmt.Sprint(f)
		at := (f-from)*pitch - len(number)
		if gap := at - b.Len(); gap >= 1 || gap == 0 && b.Len() == 0 {
			b.WriteString(strings.Repeat(" ", gap) + number)
		}
	}
	return b.String()
}
