package repl

import (
	"fmt"
	"math"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

var wayParams = []param{
	{name: "reading", kind: units.KindLength},
	{name: "nearer fret held", kind: units.KindNumber}, {name: "farther fret held", kind: units.KindNumber}, {name: "fret read", kind: units.KindNumber},
	{name: "nearer fret of the other way", kind: units.KindNumber, spare: true}, {name: "farther fret of the other way", kind: units.KindNumber, spare: true},
	{name: "fret read the other way", kind: units.KindNumber, spare: true},
}

// reliefAs turns a reading of relief into another way of reading it, or into the
// bow itself.
func reliefAs(c *call) (value, error) {
	d := c.frets()
	if n := c.session.record.Frets; n != 0 {
		d = c.session.record.Division()
	}
	var f [7]int
	for i := 1; i < len(f); i++ {
		if !c.has(i) {
			continue
		}
		var err error
		if f[i], err = c.whole(i, 0, bench.MostFrets); err != nil {
			return value{}, err
		}
	}
	const scale = 1000 // any: only shares of it count
	bow, err := action.Usual(d, scale).Reading(units.Length(c.x(0)), action.Way{Near: f[1], Far: f[2], At: f[3]}, d, scale)
	if err != nil {
		return value{}, err
	}
	taken := fmt.Sprintf("the neck taken as a parabola from the nut to fret %d, and straight beyond", action.BowEnd(d))
	if !c.has(4) {
		v := length(bow.Bow)
		v.notes = []string{"the bow itself", taken}
		return v, nil
	}
	if !c.has(5) || !c.has(6) {
		return value{}, faultf(c.given[4][0].at, "got part of the other way, want its three frets: two held and the one read")
	}
	other := action.Way{Near: f[4], Far: f[5], At: f[6]}
	if err := other.Check(d.Frets()); err != nil {
		return value{}, err
	}
	v := length(bow.Reads(other, d, scale))
	v.notes = []string{taken}
	return v, nil
}

// clearance is how far a string of the record clears a crown.
func clearance(c *call) (value, error) {
	v, err := c.session.record.Side()
	if err != nil {
		return value{}, err
	}
	frets := c.session.record.Frets
	from, err := c.whole(1, 0, frets-1)
	if err != nil {
		return value{}, err
	}
	over, err := c.whole(2, from+1, frets)
	if err != nil {
		return value{}, err
	}
	s := int(c.x(0))
	if s < 1 || s > len(v.Lines) {
		return value{}, faultf(c.given[0][0].at, "got s%d, want one of the %d strings of the record", s, len(v.Lines))
	}
	out := length(v.Neck.Over(s, v.Lines[s-1], from, over))
	out.notes = c.session.assumedNotes(v.Assumed)
	return out, nil
}

func (s *Session) assumedNotes(assumed []bench.Text) []string {
	var out []string
	for _, a := range assumed {
		out = append(out, "assumed: "+a.In(s.rounded))
	}
	return out
}

// shimFor is the shim that tips the neck for a change at the saddles.
func shimFor(c *call) (value, error) {
	shim, room, told, err := c.session.record.Shim(units.Length(c.x(0)))
	if err != nil {
		return value{}, err
	}
	v := length(shim.Thickness)
	if shim.Thickness == 0 {
		v.notes = []string{"no shim"}
		return v, nil
	}
	end, way := "nearer the nut", "forward"
	if shim.AtFar {
		end, way = "nearer the saddles", "back"
	}
	v.notes = []string{fmt.Sprintf("at the end of the heel %s, tapering to nothing: tips the head %s by %.2f degrees", end, way, math.Abs(float64(shim.Angle)))}
	switch {
	case room:
		v.notes = append(v.notes, "the saddles' own travel does instead")
	case told:
		v.notes = append(v.notes, "the saddles' own travel does not reach")
	default:
		v.notes = append(v.notes, "tell height room to know whether the saddles' own travel would do")
	}
	v.notes = append(v.notes, "no neck screw is turned under tension: slacken the strings; a glued neck is for an experienced repairer")
	return v, nil
}

// checkTolerance is how far the stacks that go and stop may stand from a height.
const checkTolerance = 0.05 * units.Millimetre

// limitFor finds the leaves that just go in under a height, or just do not.
func limitFor(pick func(leaves.Limits) leaves.Stack, what string) func(*call) (value, error) {
	return func(c *call) (value, error) {
		set, err := c.leaves()
		if err != nil {
			return value{}, err
		}
		if !(c.x(0) > float64(checkTolerance)) {
			return value{}, faultf(c.given[0][0].at, "got a height of %s, want more than %v", c.session.view.told(units.Length(c.x(0))), checkTolerance)
		}
		l, err := set.Limits(units.Length(c.x(0)), leaves.Most, checkTolerance)
		if err != nil {
			return value{}, err
		}
		stack := pick(l)
		if len(stack.Leaves) == 0 {
			return value{}, fmt.Errorf("got no leaves that come within %v %s, want a set that does, or another height", c.session.view.told(checkTolerance), what)
		}
		return value{kind: kindStack, stack: stack}, nil
	}
}

// reportClearances shows every string over every crown: the open string as a
// table of frets by strings, and where each comes closest; its rows have every
// fretted note.
func reportClearances(s *Session) (*report, error) {
	rows, assumed, err := s.record.ClearRows()
	if err != nil {
		return nil, err
	}
	r := &report{name: "clearances"}
	frets := s.record.Frets
	open := make([][]cell, frets)
	for f := range open {
		open[f] = []cell{text("over fret", fmt.Sprint(f+1))}
	}
	for _, c := range rows {
		r.rows = append(r.rows, []cell{{key: "string", val: c.String}, {key: "fretted", val: c.Fretted}, {key: "clearances_mm", val: eachKnown(c.Over)},
			{key: "closest_over", val: c.Closest.Over}, {key: "spare_mm", val: known(c.Closest.By)}})
		if c.Fretted == 0 {
			for f, by := range c.Over {
				open[f] = append(open[f], text(fmt.Sprintf("s%d", c.String), plainLength(by, s.view.fine(), s.view.symbols(units.KindLength)[0])))
			}
		}
	}
	r.shown = open
	r.notes = append([]string{"the open strings over every crown; clearance(s3, 5, 12) gives string 3 held down at fret 5, over the 12th; buzz says where each has least room"}, s.assumedNotes(assumed)...)
	return r, nil
}

// fine is how many decimals show a length to 0.01 mm.
func (w view) fine() int {
	if w.inches {
		return 3
	}
	return 2
}
