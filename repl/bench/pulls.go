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
	switch err := r.Check(); {
	case err != nil:
		return nil, err
	case r.Scale == 0:
		return nil, r.scaleMissing()
	case r.Frets == 0:
		return nil, noFrets
	}
	d := r.Division()
	rows := make([]FretRow, r.Frets)
	for i := range rows {
		f := i + 1
		rows[i] = FretRow{f, d.Cents(f), d.From(r.Scale, f), d.Gap(r.Scale, f), d.Remaining(r.Scale, f)}
	}
	return rows, nil
}

// PullRow is one string under tension.
type PullRow struct {
	String    int
	Is        tension.String
	Tone      Tone
	Frequency units.Frequency
	Pull      units.Force
	Breaking  float64 // pull as a share of the least that breaks it; NaN where that is not known
	Weighed   bool    // its unit weight was stated
}

// Estimated reports whether the pull rests on an estimated core.
func (p PullRow) Estimated() bool { return p.Is.CoreEstimated && !p.Weighed }

// PullRows returns the pull of every string.
func (r *Record) PullRows() ([]PullRow, error) {
	switch err := r.Check(); {
	case err != nil:
		return nil, err
	case len(r.Strings) == 0:
		return nil, noStrings
	case len(r.Tuning) == 0:
		return nil, noTuning
	}
	set, err := r.Set()
	if err != nil {
		return nil, err
	}
	rows, err := r.pulls(set)
	if err != nil {
		return nil, err
	}
	for i := range rows {
		rows[i].Weighed = r.Weighed(i + 1)
	}
	return rows, nil
}

// pulls returns the pulls of a set at the record's tuning and scales, one string
// a note.
func (r *Record) pulls(set []tension.String) ([]PullRow, error) {
	a4, _ := r.Concert()
	scales, err := r.lengths()
	if err != nil {
		return nil, err
	}
	rows := make([]PullRow, len(set))
	for i, s := range set {
		f := r.Tuning[i].Frequency(a4)
		strung := tension.Strung{String: s, Pitch: f, Length: scales[i]}
		share, err := strung.BreakingShare()
		if err != nil {
			share = math.NaN() // the row says so; the pull stands
		}
		rows[i] = PullRow{String: i + 1, Is: s, Tone: r.Tuning[i], Frequency: f, Pull: strung.Pull(), Breaking: share}
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
