package fret

import (
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/units"
)

func (p Plan) clone() Plan {
	p.Own = slices.Clone(p.Own)
	p.AtNut, p.AtScale = slices.Clone(p.AtNut), slices.Clone(p.AtScale)
	p.NutCompensation, p.Setback = slices.Clone(p.NutCompensation), slices.Clone(p.Setback)
	return p
}

// check refuses what can be seen to be wrong before anything is laid out.
func (p Plan) check() error {
	for _, part := range []func() error{p.checkStrings, p.checkFrets, p.checkScales, p.checkEdges} {
		if err := part(); err != nil {
			return err
		}
	}
	return nil
}

func (p Plan) checkStrings() error {
	n := len(p.AtNut)
	if n < 1 || n > mostStrings {
		return fmt.Errorf("got %d strings at the nut, want 1 to %d", n, mostStrings)
	}
	if len(p.AtScale) != n {
		return fmt.Errorf("got %d strings at the scale line, want the %d of the nut", len(p.AtScale), n)
	}
	for _, row := range []struct {
		places []units.Length
		where  string
	}{{p.AtNut, "nut"}, {p.AtScale, "scale line"}} {
		for i, y := range row.places {
			if !finite(y) || i > 0 && y >= row.places[i-1] {
				return fmt.Errorf("got string %d at %v across at the %s, want places that fall from treble to bass", i+1, y, row.where)
			}
		}
	}
	for _, row := range []struct {
		values []units.Length
		what   string
	}{{p.NutCompensation, "nut compensation"}, {p.Setback, "setback"}} {
		if len(row.values) != 0 && len(row.values) != n {
			return fmt.Errorf("got %d values of %s, want none or one for each of %d strings", len(row.values), row.what, n)
		}
		for i, v := range row.values {
			if !finite(v) {
				return fmt.Errorf("got a %s of %v on string %d, want a finite length", row.what, v, i+1)
			}
		}
	}
	return nil
}

func (p Plan) checkFrets() error {
	own := 0
	for _, d := range p.Own {
		own += d.Frets()
	}
	switch {
	case p.Own != nil && p.Division.Frets() > 0:
		return fmt.Errorf("got frets straight across and frets of the strings' own, want Division or Own")
	case p.Own != nil && len(p.Own) != len(p.AtNut):
		return fmt.Errorf("got frets of their own for %d strings, want them for all %d", len(p.Own), len(p.AtNut))
	case own+p.Division.Frets()+p.Marks.Frets() == 0:
		return fmt.Errorf("got no frets and no marks, want a Division, Own or Marks")
	}
	return nil
}

func (p Plan) checkScales() error {
	two := p.Treble != 0 || p.Bass != 0
	switch {
	case math.IsNaN(p.Straight) || math.IsInf(p.Straight, 0):
		return fmt.Errorf("got the straight fret at %v, want a fret number", p.Straight)
	case two && p.Scale != 0:
		return fmt.Errorf("got scales of %v, and %v and %v, want one Scale or Treble and Bass", p.Scale, p.Treble, p.Bass)
	case !two && !(p.Scale > 0 && finite(p.Scale)):
		return fmt.Errorf("got a scale of %v, want more than 0", p.Scale)
	case !two:
		return nil
	case len(p.AtNut) == 1:
		return fmt.Errorf("got two scales for one string, want one Scale")
	}
	last := len(p.AtNut) - 1
	for _, row := range []struct {
		scale units.Length
		str   int
		name  string
	}{{p.Treble, 0, "treble"}, {p.Bass, last, "bass"}} {
		aside := units.Length(math.Abs(float64(p.AtNut[row.str] - p.AtScale[row.str])))
		if !(row.scale > aside && finite(row.scale)) {
			return fmt.Errorf("got a %s scale of %v, want more than the %v that its string moves across", row.name, row.scale, aside)
		}
	}
	return nil
}

func (p Plan) checkEdges() error {
	switch {
	case !(p.Behind >= 0 && finite(p.Behind)):
		return fmt.Errorf("got a board that runs %v behind the nut line, want at least 0", p.Behind)
	case !(p.Beyond >= 0 && finite(p.Beyond)):
		return fmt.Errorf("got a board that runs %v beyond its last fret, want at least 0", p.Beyond)
	case !(p.Blind >= 0 && finite(p.Blind)):
		return fmt.Errorf("got slots that stop %v short of the edge, want at least 0", p.Blind)
	case p.NutWidth == 0 && p.EndWidth == 0:
		if !(p.Margin >= 0 && finite(p.Margin)) {
			return fmt.Errorf("got an edge margin of %v, want at least 0", p.Margin)
		}
	case p.Margin != 0:
		return fmt.Errorf("got widths of %v and %v and a margin of %v, want NutWidth and EndWidth or a Margin", p.NutWidth, p.EndWidth, p.Margin)
	case !(p.NutWidth > 0 && finite(p.NutWidth)):
		return fmt.Errorf("got a width of %v at the nut, want more than 0", p.NutWidth)
	case !(p.EndWidth > 0 && finite(p.EndWidth)):
		return fmt.Errorf("got a width of %v at the end, want more than 0", p.EndWidth)
	}
	return nil
}

// counted returns the division that Straight counts on.
func (p Plan) counted() Division {
	for _, d := range append([]Division{p.Division}, p.Own...) {
		if d.Frets() > 0 {
			return d
		}
	}
	return p.Marks
}

// straight returns the share of the scale at the straight fret.
func (p Plan) straight() float64 {
	d, f := p.counted(), p.Straight
	// Down from the fret above, so that a whole number has its fret's share to the
	// last bit.
	n := int(min(max(math.Ceil(f), 1), float64(d.Frets())))
	step := d.Cents(n) - d.Cents(n-1)
	return Share(d.Cents(n) - step*units.Cents(float64(n)-f))
}

// last returns the share of the last fret or mark of any string.
func (p Plan) last() float64 {
	share := 0.0
	for _, d := range append([]Division{p.Division, p.Marks}, p.Own...) {
		share = max(share, d.Share(d.Frets()))
	}
	return share
}
