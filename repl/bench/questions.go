package bench

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// Questions lists what in the record only a slip would explain. Nothing is
// refused for it.
func (r *Record) Questions() []string {
	out := thick("string", r.Strings)
	out = append(out, r.tuningOrder()...)
	out = append(out, r.setOrder()...)
	if l := r.Scale; l != 0 && (l < 250 || l > 1300) {
		out = append(out, fmt.Sprintf("the scale is %.1f, outside 250 to 1300mm: a slip?", l))
	}
	for _, e := range r.Entries {
		out = append(out, r.doubt(e)...)
	}
	return out
}

// thick questions strings that are thicker than any.
func thick(what string, set []tension.String) []string {
	var out []string
	for i, s := range set {
		if most := thickest(s); s.Gauge > most {
			out = append(out, fmt.Sprintf("%s %d is %.2f thick, over %v: a slip?", what, i+1, s.Gauge, most))
		}
	}
	return out
}

func thickest(s tension.String) units.Length {
	if s.Wound() {
		return 4 * units.Millimetre
	}
	if s.Of != tension.Steel {
		return 1.2 * units.Millimetre
	}
	return 0.8 * units.Millimetre
}

// tuningOrder questions a tuning typed from the bass: then the thin strings get
// the low notes, and the pulls run from almost none to far too much.
func (r *Record) tuningOrder() []string {
	rows, err := r.PullRows()
	if err != nil {
		return nil
	}
	told := spread(rows)
	turned := *r
	turned.Tuning = slices.Clone(r.Tuning)
	slices.Reverse(turned.Tuning)
	back, err := turned.PullRows()
	if err != nil || told < 8 || spread(back) > told/4 {
		return nil
	}
	return []string{fmt.Sprintf("pulls run from %.0f to %.0f: is the tuning listed from string 1, the treble edge?", lowest(rows), highest(rows))}
}

// setOrder questions a set that runs from the bass: every string thinner, and every
// note higher, than the one before.
func (r *Record) setOrder() []string {
	a4, _ := r.Concert()
	n := len(r.Strings)
	if n < 3 || len(r.Tuning) != n {
		return nil
	}
	for i := 1; i < n; i++ {
		if !(r.Strings[i].Gauge < r.Strings[i-1].Gauge && r.Tuning[i].Frequency(a4) > r.Tuning[i-1].Frequency(a4)) {
			return nil
		}
	}
	return []string{"string 1 is the thickest and the lowest: is the set listed from the treble edge?"}
}

func lowest(rows []PullRow) units.Force { return slices.MinFunc(rows, byPull).Pull }

func highest(rows []PullRow) units.Force { return slices.MaxFunc(rows, byPull).Pull }

func byPull(a, b PullRow) int { return cmp.Compare(a.Pull, b.Pull) }

func spread(rows []PullRow) float64 { return highest(rows).Over(lowest(rows)) }

// doubt questions the values of one entry.
func (r *Record) doubt(e Entry) []string {
	out := thick("the string that was number", e.Gauges)
	ask := func(i int, format string, args ...any) {
		on := ""
		if len(e.On) > i && e.Of != Relief {
			on = fmt.Sprintf(" %d", e.On[i])
			if e.Of != Saddle {
				on = " of string" + on
			}
		}
		out = append(out, e.Of.String()+on+" "+fmt.Sprintf(format, args...)+": a slip?")
	}
	for i, l := range e.Lengths {
		switch {
		case e.Of == Relief && (l > 0.8 || l < -0.8):
			ask(i, "is %.2f, beyond 0.8mm", l)
		case e.Of == Gap && (l > 1.5 || l < 0):
			ask(i, "is %.2f, outside 0 to 1.5mm", l)
		case e.Of == Action && e.How.At == 12 && (l > 6 || l < 0.4):
			ask(i, "is %.2f at the 12th, outside 0.4 to 6mm", l)
		case e.Of == Saddle && e.How.From == FromNut && r.Scale != 0 && (l-r.Scale > 12 || l-r.Scale < -2):
			ask(i, "stands %.2f behind the scale line, outside -2 to 12mm", l-r.Scale)
		}
	}
	for i, c := range e.Cents {
		if c > 50 || c < -50 {
			ask(i, "is %+.0f, beyond 50c", c)
		}
	}
	return out
}
