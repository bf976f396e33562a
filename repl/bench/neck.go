package bench

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// Temper is a tuning that gives every string frets of its own.
type Temper struct {
	Name    string        // as it is told, such as "meantone from D"
	Degrees []units.Cents // above the root, rising; the last is the period
	Root    units.Note    // in any octave
}

// NeckPlan is what a maker states of a neck, beside the record's scale, frets,
// radius and spreads. A zero field is one not told.
type NeckPlan struct {
	Of      units.Cents     // the interval divided, the octave until told
	By      int             // into how many equal steps, 12 until told
	Degrees []units.Cents   // instead: the degrees of one period, the last being the period
	Keep    []int           // the steps that have a fret, where some are left out; frets count anew
	Temper  Temper          // short frets, each string's own
	Scales  [2]units.Length // treble and bass, along the outer strings, instead of one scale
	Square  float64         // the fret that is square to the centre line where there are two scales; 0 is the nut
	Widths  [2]units.Length // of the board at the nut and at its end
	Edge    units.Length    // instead: from the outer strings' centres to the edges
	Beyond  units.Length    // how far the board runs past its last fret
	Zero    bool            // a fret at the nut line
	Lines   bool            // frets are marked, not slotted: a fretless neck
	Blind   units.Length    // how far slots stop short of the edges
	Gaps    bool            // strings stand with equal gaps between them, not equal centres
	Nut     []units.Length  // how far forward of the nut line each string breaks; NaN or 0 for none
	Setback []units.Length  // how far behind the scale line each string breaks, where that is planned; NaN or 0 for none
	Kerf    units.Length    // of the saw
	Tang    units.Length    // how deep a fret's tang goes
	Drill   units.Length    // from the line of the saddles back to a line to drill on
}

// divides reports whether other frets than twelve to the octave were told.
func (p *NeckPlan) divides() bool {
	return p.Of != 0 || p.By != 0 || len(p.Degrees) > 0 || len(p.Keep) > 0
}

// dividedBy returns the frets of the neck, straight across.
func (r *Record) dividedBy(frets int) (fret.Division, error) {
	p := &r.Plan
	steps := frets
	if n := len(p.Keep); n > 0 {
		steps = p.Keep[n-1]
	}
	var d fret.Division
	var err error
	if len(p.Degrees) > 0 {
		d, err = fret.Repeat(steps, p.Degrees...)
	} else {
		d, err = fret.Equal(cmp.Or(p.Of, units.Octave), cmp.Or(p.By, 12), steps)
	}
	if err != nil || len(p.Keep) == 0 {
		return d, err
	}
	return d.Keep(p.Keep...)
}

// checkPlan refuses a plan that cannot be.
func (r *Record) checkPlan() error {
	p := &r.Plan
	switch {
	case len(p.Keep) > 0 && r.Frets != len(p.Keep):
		return fmt.Errorf("got %d frets, and %d steps that have one, want as many", r.Frets, len(p.Keep))
	case r.Scale != 0 && p.Scales != [2]units.Length{}:
		return fmt.Errorf("got a scale of %v, and scales of %v and %v, want one or two", r.Scale, p.Scales[0], p.Scales[1])
	case math.IsNaN(p.Square) || math.Abs(p.Square) > 1000:
		return fmt.Errorf("got a square fret of %v, want -1000 to 1000", p.Square)
	}
	for _, list := range []struct {
		what string
		ls   []units.Length
	}{{"compensations of the nut", p.Nut}, {"setbacks", p.Setback}} {
		if n := r.Count(); len(list.ls) > 0 && n > 0 && len(list.ls) != n {
			return fmt.Errorf("got %d %s, want one for each of %s", len(list.ls), list.what, plural(n, "string"))
		}
		for i, l := range list.ls {
			if math.IsInf(float64(l), 0) {
				return fmt.Errorf("got %s of %v for string %d, want lengths", list.what, l, i+1)
			}
		}
	}
	for _, s := range []struct {
		what string
		l    units.Length
	}{{"scale of the treble string", p.Scales[0]}, {"scale of the bass string", p.Scales[1]}, {"width of the board at the nut", p.Widths[0]}, {"width of the board at its end", p.Widths[1]},
		{"margin beyond the outer strings", p.Edge}, {"length beyond the last fret", p.Beyond}, {"kerf", p.Kerf}, {"tang", p.Tang}, {"blind end of slots", p.Blind}} {
		if err := size(s.what, s.l); err != nil {
			return err
		}
	}
	if x := float64(p.Drill); x-x != 0 {
		return fmt.Errorf("got a drill line %v behind the saddles, want a length", p.Drill)
	}
	if p.Temper.Degrees != nil {
		if _, err := fret.PerString(1, p.Temper.Degrees, 0); err != nil {
			return err
		}
	}
	if r.Frets == 0 {
		return nil
	}
	_, err := r.dividedBy(r.Frets)
	return err
}

// errTwoScales says that something is worked out on one scale only.
var errTwoScales = errors.New("got two scales, want one for this")

var (
	noWidths = &Missing{"widths of the board", "widths: 43mm 56mm"}
	noTemper = &Missing{"temper", "temper: meantone from D"}
)

// Tempered returns the frets that the record's tuning asks of each string, and
// what straight frets cost there.
func (r *Record) Tempered() (asked []fret.Division, cost [][]units.Cents, err error) {
	switch err := r.Check(); {
	case err != nil:
		return nil, nil, err
	case r.Plan.Temper.Degrees == nil:
		return nil, nil, noTemper
	case r.Frets == 0:
		return nil, nil, noFrets
	case len(r.Tuning) == 0:
		return nil, nil, noTuning
	}
	open := make([]int, len(r.Tuning))
	for i, t := range r.Tuning {
		if t.Hertz != 0 {
			return nil, nil, fmt.Errorf("got string %d tuned to %v, want a note to count degrees from", i+1, t.Hertz)
		}
		open[i] = int(t.Pitch.Note - r.Plan.Temper.Root)
	}
	steps, keep := r.Frets, r.Plan.Keep
	if n := len(keep); n > 0 {
		steps = keep[n-1]
	}
	asked, err = fret.PerString(steps, r.Plan.Temper.Degrees, open...)
	for i := range asked {
		if len(keep) > 0 && err == nil {
			asked[i], err = asked[i].Keep(keep...)
		}
	}
	if err != nil {
		return nil, nil, err
	}
	return asked, r.Division().Against(asked...), nil
}

// across returns where the strings stand across, from the centre line, for a
// spread.
func (r *Record) across(spread units.Length) ([]units.Length, error) {
	n := r.Count()
	if n < 2 || !r.Plan.Gaps {
		return fret.EqualCentres(spread, n)
	}
	if len(r.Strings) != n {
		return nil, noStrings
	}
	gauges := make([]units.Length, n)
	for i, s := range r.Strings {
		gauges[i] = s.Gauge
	}
	return fret.EqualGaps(spread, gauges...)
}

// FretBoard lays out the neck as planned. Saddles stand where the record knows
// them to, else where they should start, else at the scale line; says tells which.
func (r *Record) FretBoard() (b *fret.Board, says string, err error) {
	p := &r.Plan
	switch err := r.Check(); {
	case err != nil:
		return nil, "", err
	case p.Widths == [2]units.Length{} && p.Edge == 0:
		return nil, "", noWidths
	}
	plan, err := r.stringPlan()
	if err != nil {
		return nil, "", err
	}
	if p.Lines {
		plan.Marks, plan.Division = plan.Division, fret.Division{}
	}
	plan.Blind = p.Blind
	plan.ZeroFret, plan.NutWidth, plan.EndWidth, plan.Margin, plan.Beyond = p.Zero, p.Widths[0], p.Widths[1], p.Edge, p.Beyond
	if p.Temper.Degrees != nil && !p.Lines {
		if plan.Own, _, err = r.Tempered(); err != nil {
			return nil, "", err
		}
		plan.Division = fret.Division{}
	}
	if len(r.Radius) > 0 {
		plan.Surface = fret.Surface{Nut: r.Radius[0], End: r.Radius[len(r.Radius)-1]}
	}
	plan.NutCompensation = told(p.Nut)
	plan.Setback, says = r.setbacks()
	b, err = fret.NewBoard(plan)
	return b, says, err
}

// stringPlan is the plan as far as strings and frets go, without edges.
func (r *Record) stringPlan() (plan fret.Plan, err error) {
	p := &r.Plan
	switch {
	case r.Count() == 0:
		return plan, noStrings
	case r.Scale == 0 && p.Scales == [2]units.Length{}:
		return plan, noScale
	case r.Frets == 0:
		return plan, noFrets
	case r.Count() > 1 && (r.NutSpread == 0 || r.SaddleSpread == 0):
		return plan, noSpread
	}
	plan = fret.Plan{Division: r.Division(), Scale: r.Scale, Treble: p.Scales[0], Bass: p.Scales[1], Straight: p.Square}
	if plan.AtNut, err = r.across(r.NutSpread); err != nil {
		return plan, err
	}
	plan.AtScale, err = r.across(r.SaddleSpread)
	return plan, err
}

// lengths returns the scale of every string: one for all, or each its own between
// two.
func (r *Record) lengths() ([]units.Length, error) {
	out := make([]units.Length, r.Count())
	if r.Scale != 0 {
		for i := range out {
			out[i] = r.Scale
		}
		return out, nil
	}
	plan, err := r.stringPlan()
	if err != nil {
		return nil, err
	}
	b, err := fret.NewBoard(plan)
	if err != nil {
		return nil, err
	}
	for i := range out {
		out[i] = b.Scale(i + 1)
	}
	return out, nil
}

// scaleOn returns the scale of some strings, which must be one.
func (r *Record) scaleOn(strs ...int) (units.Length, error) {
	all, err := r.lengths()
	if err != nil {
		return 0, err
	}
	for _, s := range strs {
		if all[s-1] != all[strs[0]-1] {
			return 0, fmt.Errorf("got %s of two scales on one saddle, want a saddle a string there", stringList(strs))
		}
	}
	return all[strs[0]-1], nil
}

// scaleMissing says why there is no one scale.
func (r *Record) scaleMissing() error {
	if r.Plan.Scales != [2]units.Length{} {
		return errTwoScales
	}
	return noScale
}

// told is a list with 0 where it has a dot.
func told(list []units.Length) []units.Length {
	out := slices.Clone(list)
	for i, l := range out {
		if math.IsNaN(float64(l)) {
			out[i] = 0
		}
	}
	return out
}

// setbacks returns how far behind the scale line every string breaks, and says
// what that rests on.
func (r *Record) setbacks() ([]units.Length, string) {
	if len(r.Plan.Setback) > 0 {
		return told(r.Plan.Setback), "saddles as planned"
	}
	out := make([]units.Length, r.Count())
	groups, _ := r.Groups()
	rows, _, err := r.PlaceRows()
	read := 0
	for i, g := range groups {
		at, known := r.Setback(i + 1)
		switch {
		case known:
			read++
		case err == nil:
			at = rows[i].Setback
		}
		for _, s := range g {
			out[s-1] = at + r.stagger(s)
		}
	}
	switch {
	case read == len(groups):
		return out, "saddles as they were read"
	case err != nil:
		return out, "saddles at the scale line where they were not read: " + err.Error()
	case read > 0:
		return out, "saddles as they were read, the others where they should start, predicted"
	}
	return out, "saddles where they should start, predicted"
}

// SlotRow is one slot of a neck, its ends from where the nut line crosses the
// centre line: X along the neck, Y across it, towards the treble.
type SlotRow struct {
	fret.Slot
	Angle units.Angle // from square across, as fret.Line has it
	Cents units.Cents // how far sharp the fret is on the string that it serves worst, for lying straight
	Cut   fret.Cut    // for a saw that goes straight through; NaN where no tang was told
}

// SlotRows returns every slot of the planned neck, or every line that is marked on
// a fretless one.
func (r *Record) SlotRows() (b *fret.Board, rows []SlotRow, says string, err error) {
	if b, says, err = r.FretBoard(); err != nil {
		return nil, nil, "", err
	}
	nan := units.Length(math.NaN())
	slots := b.Slots()
	if r.Plan.Lines {
		slots = b.Marks()
	}
	for _, slot := range slots {
		row := SlotRow{Slot: slot, Angle: slot.Line.Angle(), Cut: fret.Cut{Floor: nan, Treble: nan, Bass: nan, Deepest: nan}}
		for s := 1; s <= b.Strings() && slot.String == 0; s++ {
			if off := b.Off(s, slot.Fret); math.Abs(float64(off)) > math.Abs(float64(row.Cents)) {
				row.Cents = off
			}
		}
		if r.Plan.Tang != 0 {
			row.Cut = b.FlatCut(slot.Line, r.Plan.Tang)
		}
		rows = append(rows, row)
	}
	return b, rows, says, nil
}

// NeckView draws the planned neck at true scale, with what the saw takes out
// where a kerf was told, and the line to drill on.
func (r *Record) NeckView() (*draw.Page, error) {
	b, says, err := r.FretBoard()
	if err != nil {
		return nil, err
	}
	page := draw.Neck(b)
	page.Title = r.title("neck")
	if r.Plan.Kerf != 0 {
		page.Layers = append(page.Layers, draw.Kerfs(b, r.Plan.Kerf))
	}
	if r.Plan.Drill != 0 {
		l := b.SaddleLine(r.Plan.Drill)
		page.Layers = append(page.Layers, draw.Layer{Name: "drill line", Style: draw.Centre, Lines: []draw.Line{{Points: []fret.Point{l.Treble, l.Bass}}}})
	}
	r.neckWords(page, says)
	headed(page)
	return page, page.Check()
}

// neckWords says under the legend of a neck, and over its check bars, what the
// record adds to it.
func (r *Record) neckWords(page *draw.Page, saddles string) {
	var says []string
	if r.Plan.Kerf != 0 {
		says = append(says, fmt.Sprintf("solid, round the slots: kerfs of %v", r.Plan.Kerf))
	}
	if r.Plan.Drill != 0 {
		says = append(says, fmt.Sprintf("long and short dashes, dark: drill line, %v behind the saddles; %s", r.Plan.Drill, saddles))
	}
	if len(says) == 0 {
		return
	}
	drawn := draw.Page{}
	for _, l := range page.Layers {
		if l.Name != "check bars" {
			drawn.Layers = append(drawn.Layers, l)
		}
	}
	drawn.Fit(0)
	at := fret.Point{X: -drawn.Origin.X, Y: -drawn.Origin.Y - 4}
	page.Layers = append(page.Layers, draw.Layer{Name: "words", Words: []draw.Word{{Text: strings.Join(says, "; "), At: at}}})
}
