package bench

import (
	"cmp"
	"math"
	"slices"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// CompareRow is how well one kind of saddle could serve the readings that stand.
type CompareRow struct {
	Hardware string
	Strings  []units.Cents // the worst of each string, NaN where it was not read
	Worst    units.Cents   // over the neck
	RMS      units.Cents
}

// CompareRows holds the saddles as they stand against the same saddles set best,
// and against saddles shaped with the best stagger or one saddle a string, which
// come to the same in tune, so that the owner can see what new parts would gain.
func (r *Record) CompareRows() ([]CompareRow, error) {
	switch err := r.Check(); {
	case err != nil:
		return nil, err
	case r.Scale == 0 && r.Plan.Scales == [2]units.Length{}:
		return nil, noScale
	}
	n := r.Count()
	now, best, own := newTally("as it stands", n), newTally("these saddles set best", n), newTally("shaped saddles, or one a string", n)
	groups, _ := r.Groups()
	for i, group := range groups {
		m := blankRow(i+1, group)
		notes, err := r.standing(&m)
		if err != nil {
			return nil, err
		}
		if len(notes) == 0 {
			continue
		}
		for _, note := range notes {
			now.add(note.String, m.shows(note.String, note.Cents-note.Target))
		}
		scale, err := r.scaleOn(group...)
		if err != nil {
			return nil, err
		}
		err = r.placed(best, &m, r.saddle(m), notes, scale)
		for _, s := range group {
			others := func(n intonation.Note) bool { return n.String != s }
			alone := intonation.Saddle{Rests: []intonation.Rest{{String: s, Stagger: r.stagger(s)}}}
			err = cmp.Or(err, r.placed(own, &m, alone, slices.DeleteFunc(slices.Clone(notes), others), scale))
		}
		if err != nil {
			return nil, err
		}
	}
	if now.notes == 0 {
		return nil, noCents
	}
	return []CompareRow{now.row(), best.row(), own.row()}, nil
}

// placed adds what notes become on a saddle set best for them.
func (r *Record) placed(t *tally, m *MoveRow, s intonation.Saddle, notes []intonation.Note, scale units.Length) error {
	if len(notes) == 0 {
		return nil
	}
	set, err := s.Place(notes, intonation.LeastWorst, r.Division(), scale)
	if err != nil {
		return err
	}
	for i, left := range set.Left {
		t.add(notes[i].String, m.shows(notes[i].String, left))
	}
	return nil
}

// tally sums up the notes of one kind of hardware.
type tally struct {
	is      CompareRow
	notes   int
	squares float64
}

// tie is how near two notes count as equally far out: the first is called the
// worst.
const tie = 1e-6

func newTally(hardware string, n int) *tally {
	t := &tally{is: CompareRow{Hardware: hardware}}
	for range n {
		t.is.Strings = append(t.is.Strings, units.Cents(math.NaN()))
	}
	return t
}

func (t *tally) add(s int, c units.Cents) {
	t.notes++
	t.squares += float64(c) * float64(c)
	worse := func(old units.Cents) bool {
		return math.IsNaN(float64(old)) || math.Abs(float64(c)) > math.Abs(float64(old))+tie
	}
	if worse(t.is.Worst) {
		t.is.Worst = c
	}
	if worse(t.is.Strings[s-1]) {
		t.is.Strings[s-1] = c
	}
}

func (t *tally) row() CompareRow {
	t.is.RMS = units.Cents(math.Sqrt(t.squares / float64(t.notes)))
	return t.is
}
