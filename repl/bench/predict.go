package bench

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// What a prediction takes for granted until it is told, and says so.
const (
	// AssumedNutHeight is how high a string stands over the plane of the frets at
	// the nut (common practice, no source).
	AssumedNutHeight = 0.5 * units.Millimetre
	// assumedFixity takes the saddle's end as pinned and the fret's as clamped (M.
	// B. Anderson and R. G. Beausoleil, 2024).
	assumedFixity = 1
)

// Prediction is what the record lets one predict.
type Prediction struct {
	Model   *intonation.Model        // with every saddle where it stands, or where it should start
	Assumed []Text                   // what was taken for granted, a line each
	Notes   [][]intonation.Predicted // a list a string, from fret 1; bands are NaN where nothing was read
	Fits    []*intonation.Fit        // one a string, nil where nothing was read
	Known   []bool                   // the string's saddle is known to stand where the model has it
}

// Set returns the strings with what was stated of them put in.
func (r *Record) Set() ([]tension.String, error) {
	out := append([]tension.String(nil), r.Strings...)
	for i := range out {
		if i < len(r.Cores) && r.Cores[i] > 0 {
			if !out[i].Wound() {
				return nil, fmt.Errorf("got a core of %v for string %d, which is plain, want a dot", r.Cores[i], i+1)
			}
			s, err := tension.Wound(out[i].Gauge, r.Cores[i], tension.Steel, tension.Steel)
			if err != nil {
				return nil, fmt.Errorf("string %d: %w", i+1, err)
			}
			out[i] = s
		}
		if r.Weighed(i + 1) {
			out[i].UnitWeight = r.UnitWeights[i]
		}
	}
	return out, nil
}

// Weighed reports whether the unit weight of string s, from 1, was stated.
func (r *Record) Weighed(s int) bool {
	return s >= 1 && s <= len(r.UnitWeights) && r.UnitWeights[s-1] > 0
}

// each returns the value told for a string of a list that has one for all or one
// each, and whether there is one.
func each(list []units.Length, i int) (units.Length, bool) {
	if len(list) == 1 {
		i = 0
	}
	if i >= len(list) || math.IsNaN(float64(list[i])) {
		return 0, false
	}
	return list[i], true
}

// height returns the newest height read of a string that stands, else the one
// wanted, the fret that it is at, and whether it was read.
func (r *Record) height(s int, wanted []HeightRow) (h units.Length, at int, read bool, err error) {
	for _, x := range r.newest(Action, s) {
		if !x.Stale && x.How.At > 1 {
			h, at, read = units.Length(x.Value), x.How.At, true
		}
	}
	switch {
	case read:
		return h, at, true, nil
	case s <= len(wanted) && wanted[s-1].Wanted == wanted[s-1].Wanted:
		return wanted[s-1].Wanted, wanted[s-1].Fret, false, nil
	}
	return 0, 0, false, &Missing{fmt.Sprintf("height of string %d", s), fmt.Sprintf("read action 12 s%d: 1.9mm", s)}
}

// Predict works out every note of the neck: from the strings, heights, relief
// and saddles as the record has them, fitted to the readings of cents that
// stand. Where nothing says where a saddle stands, it is taken to stand where it
// should start.
func (r *Record) Predict() (*Prediction, error) {
	neck, p, err := r.neck()
	if err != nil {
		return nil, err
	}
	if p.Model, err = intonation.NewModel(neck); err != nil {
		return nil, err
	}
	groups, _ := r.Groups()
	for i, group := range groups {
		if p.Known[group[0]-1] {
			continue
		}
		start, err := p.Model.LeastWorstTogether(group, r.staggers(group)...)
		if err != nil {
			return nil, fmt.Errorf("saddle %d: %w", i+1, err)
		}
		for _, s := range group {
			neck.Courses[s-1].Setback = start.Setback + r.stagger(s)
		}
	}
	if p.Model, err = intonation.NewModel(neck); err != nil {
		return nil, err
	}
	for i := range neck.Courses {
		if err := r.fit(p, i+1); err != nil {
			return nil, fmt.Errorf("string %d: %w", i+1, err)
		}
	}
	return p, nil
}

// neck gathers what the model needs, with what was assumed.
func (r *Record) neck() (intonation.Neck, *Prediction, error) {
	p := &Prediction{}
	rows, err := r.PullRows()
	if err != nil {
		return intonation.Neck{}, nil, err
	}
	v, err := r.Side()
	if err != nil {
		return intonation.Neck{}, nil, err
	}
	neck := intonation.Neck{Division: v.Neck.Division, Scale: r.Scale, Finger: r.Finger, Relief: v.Neck.Relief}
	p.Assumed = v.Assumed
	if r.Plan.Temper.Degrees != nil {
		p.Assumed = append(p.Assumed, textOf("frets straight across, whatever was told of temper"))
	}
	for i, row := range rows {
		c := intonation.Course{UnitWeight: row.Is.UnitWeight, Stretch: row.Is.Stretch, Bend: row.Is.Bend,
			Open: row.Frequency, Fixity: assumedFixity}
		c.Breaks, _ = row.Is.Breaking() // 0 where it is not known
		c.AfterLength, _ = each(r.AfterLengths, i)
		c.NutHeight, c.Rise = v.plain(i + 1)
		if forward, ok := each(r.Plan.Nut, i); ok {
			c.NutSetback = -forward
		}
		setback, known := r.Setback(r.saddleOf(i + 1))
		c.Setback = setback + r.stagger(i+1)
		p.Known = append(p.Known, known)
		neck.Courses = append(neck.Courses, c)
	}
	return neck, p, nil
}

// stagger is how much further back than its saddle a string breaks already.
func (r *Record) stagger(s int) units.Length {
	if s <= len(r.Staggers) && r.Staggers[s-1] == r.Staggers[s-1] {
		return r.Staggers[s-1]
	}
	return 0
}

func (r *Record) staggers(group []int) []units.Length {
	out := make([]units.Length, len(group))
	for i, s := range group {
		out[i] = r.stagger(s)
	}
	return out
}

// saddleOf returns the saddle that carries a string, from 1; 0 for none.
func (r *Record) saddleOf(s int) int {
	groups, _ := r.Groups()
	return 1 + slices.IndexFunc(groups, func(g []int) bool { return slices.Contains(g, s) })
}

// fit fits the model of a string to its readings that stand.
func (r *Record) fit(p *Prediction, s int) error {
	tuner, _ := r.TunerError()
	var heard []intonation.Heard
	for _, x := range r.newest(Cents, s) {
		if !x.Stale {
			heard = append(heard, intonation.Heard{Low: x.How.Low, High: x.How.At, Harmonic: x.How.Harmonic,
				Cents: units.Cents(x.Value), Doubt: math.Sqrt2 * tuner})
		}
	}
	if heard == nil {
		var notes []intonation.Predicted
		for f := 1; f <= r.Frets; f++ {
			notes = append(notes, intonation.Predicted{Cents: p.Model.Cents(s, f), Band: units.Cents(math.NaN())})
		}
		p.Notes, p.Fits = append(p.Notes, notes), append(p.Fits, nil)
		return nil
	}
	saddle := intonation.Prior{Of: intonation.SaddlePlace}
	if p.Known[s-1] {
		saddle.Spread = 0.3 // mm, what a rule reads a break point to (our judgement)
	}
	fit, err := p.Model.Fit(s, heard, []intonation.Prior{saddle, {Of: intonation.Stretch}, {Of: intonation.NutPlace}, {Of: intonation.SlotHeight}})
	if err != nil {
		return err
	}
	p.Notes, p.Fits = append(p.Notes, fit.Notes), append(p.Fits, &fit)
	return nil
}

// PlaceRow is where a saddle should stand.
type PlaceRow struct {
	Saddle  int
	Strings []int
	Setback units.Length   // behind the scale line
	Stagger []units.Length // how much further back each string's break point should stand than the first's
	Angle   units.Angle    // of the saddle's top that gives two strings their stagger; NaN for others
	RMS     units.Cents
	Worst   units.Cents
}

// PlaceRows returns the best place of every saddle by the prediction, before any
// reading of cents: a start, to be finished by the tuner.
func (r *Record) PlaceRows() ([]PlaceRow, []Text, error) {
	neck, p, err := r.neck()
	if err != nil {
		return nil, nil, err
	}
	if p.Model, err = intonation.NewModel(neck); err != nil {
		return nil, nil, err
	}
	groups, _ := r.Groups()
	var rows []PlaceRow
	for i, group := range groups {
		best, err := p.Model.LeastWorstTogether(group, r.staggers(group)...)
		if err != nil {
			return nil, nil, fmt.Errorf("saddle %d: %w", i+1, err)
		}
		row := PlaceRow{Saddle: i + 1, Strings: group, Setback: best.Setback, RMS: best.RMS, Worst: best.Worst, Angle: units.Angle(math.NaN())}
		var first units.Length
		for j, s := range group {
			own, err := p.Model.LeastWorst(s, intonation.Aim{})
			if err != nil {
				return nil, nil, fmt.Errorf("string %d: %w", s, err)
			}
			if j == 0 {
				first = own.Setback
			}
			row.Stagger = append(row.Stagger, own.Setback-first)
		}
		if len(group) == 2 && r.SaddleSpread != 0 {
			row.Angle = units.Slope(row.Stagger[1], r.offset(group[0])-r.offset(group[1]))
		}
		rows = append(rows, row)
	}
	return rows, p.Assumed, nil
}
