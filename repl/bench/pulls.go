package bench

import (
	"math"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// FretRow is where one fret stands.
type FretRow struct {
	Fret    int
	Cents   units.Cents
	FromNut units.Length
	Gap     units.Length // from the fret before
	ToScale units.Length // on to the scale line
}

// FretRows returns every fret of the neck.
func (r *Record) FretRows() ([]FretRow, error) {
	if r.Scale == 0 {
		return nil, noScale
	}
	d := r.Division()
	n := r.Frets
	if n == 0 {
		return nil, &Missing{"number of frets", "frets: 21"}
	}
	rows := make([]FretRow, n)
	for i := range rows {
		f := i + 1
		rows[i] = FretRow{f, d.Cents(f), d.From(r.Scale, f), d.Gap(r.Scale, f), d.Remaining(r.Scale, f)}
	}
	return rows, nil
}

// PullRow is one string under tension.
type PullRow struct {
	String   int
	Is       tension.String
	Tone     Tone
	Pull     units.Force
	Breaking float64 // pull as a share of the least that breaks it; NaN outside the wire table
}

// Estimated reports whether the pull rests on an estimated core.
func (p PullRow) Estimated() bool { return p.Is.CoreEstimated }

// PullRows returns the pull of every string.
func (r *Record) PullRows() ([]PullRow, error) {
	switch {
	case r.Strings == nil:
		return nil, noStrings
	case r.Tuning == nil:
		return nil, noTuning
	case r.Scale == 0:
		return nil, noScale
	}
	a4, _ := r.Concert()
	rows := make([]PullRow, len(r.Strings))
	for i, s := range r.Strings {
		set := tension.Strung{String: s, Pitch: r.Tuning[i].Frequency(a4), Length: r.Scale}
		share, err := set.BreakingShare()
		if err != nil {
			share = math.NaN() // the row says so; the pull stands
		}
		rows[i] = PullRow{i + 1, s, r.Tuning[i], set.Pull(), share}
	}
	return rows, nil
}

// TotalPull returns the pull of the set.
func TotalPull(rows []PullRow) units.Force {
	var sum units.Force
	for _, p := range rows {
		sum += p.Pull
	}
	return sum
}
