package action

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
)

// Swing is the room that a plucked string asks for: Depth, how far the open
// string is pulled aside at the pluck, towards the board or from it, and Pluck,
// the distance of the pluck from the saddle.
//
// The model is the ideal string of rigid ends. Let go at rest, it moves inside
// the parallelogram whose corners are its ends, the pluck, and the pluck's mirror
// image on the other side and in the other half of the string (the two kinks run
// round it; textbooks of acoustics show it, from memory). Taken pulled either
// way, it comes as low as the deeper of two triangles, with their corners as far
// from either end as the pluck is from the saddle. A note fretted higher is
// plucked at the same place with the same force, so that it swings less, by
// p (l - p)/l for a length l and a pluck at p; where less than twice p sounds, the
// pluck is taken to be in the middle. Decay, stiffness and a pluck along the
// board make it less: the envelope is the most that the string could ask for.
type Swing struct{ Depth, Pluck units.Length }

// Check reports why no string of a length can swing so, or nil.
func (w Swing) Check(length units.Length) error {
	if !(w.Depth >= 0 && w.Depth <= length/50) {
		return fmt.Errorf("got a swing of %v, want 0 to %v, a fiftieth of the string", w.Depth, length/50)
	}
	if !(w.Pluck > 0 && w.Pluck <= length/2) {
		return fmt.Errorf("got a pluck %v from the saddle, want more than 0 and at most %v, half the string", w.Pluck, length/2)
	}
	return nil
}

// At returns how far below its place at rest a string of an open length may come
// at a distance from its stop, when a length of it sounds; the distance is from 0
// to that length. NaN in, NaN out.
func (w Swing) At(open, sounding, from units.Length) units.Length {
	l, u := float64(sounding), float64(from)
	p := min(float64(w.Pluck), l/2)
	// The same force pulls a string aside by as much as p (l - p)/l.
	lean := p * (l - p) / l / (float64(w.Pluck) * float64(open-w.Pluck) / float64(open))
	triangle := func(u, rest float64) float64 { return min(u/(l-p), rest/p) }
	return w.Depth * units.Length(lean*max(triangle(u, l-u), triangle(l-u, u)))
}

// Spare is the room that a note has beyond its swing, at the crown where it has
// least: less than 0, it touches.
type Spare struct {
	Fretted int // 0 is the open string
	Over    int // the crown
	By      units.Length
}

// Spare returns the least room beyond its swing of a string pressed down on the
// crown of a fret, 0 being open. The last fret has no crown beyond it, and its By
// is +Inf; a fret that is not there has NaN, and so has a note over a crown that
// cannot be.
func (n Neck) Spare(str int, l Line, fretted int, w Swing) Spare {
	if fretted < 0 || fretted > n.Division.Frets() {
		return Spare{Fretted: fretted, By: units.Length(math.NaN())}
	}
	s := n.from(str, l, fretted)
	out := Spare{Fretted: fretted, By: units.Length(math.Inf(1))}
	for over := fretted + 1; over <= n.Division.Frets(); over++ {
		p := n.point(str, over)
		by := s.over(p) - w.At(n.Scale, s.to.x-s.from.x, p.x-s.from.x)
		if math.IsNaN(float64(by)) {
			return Spare{fretted, over, by}
		}
		if by < out.By {
			out.Over, out.By = over, by
		}
	}
	return out
}

// Lowest is the lowest a string can stand with room for its swing.
type Lowest struct {
	Line   Line         // the slot as given, the saddle as low as the fretted notes allow
	Note   Spare        // the note that comes closest: By is 0
	Slot   units.Length // the lowest height of a slot that leaves the open string room then
	Opened int          // the crown that the open string comes closest to in such a slot
}

// Lowest returns the lowest line of a string at the saddle that leaves every
// fretted note room for its swing, and the lowest slot that leaves room for the
// open string then. The relief is the neck's; another relief gives another
// answer.
func (n Neck) Lowest(str int, slot units.Length, w Swing) (Lowest, error) {
	if err := n.Check(); err != nil {
		return Lowest{}, err
	}
	if err := w.Check(n.Scale); err != nil {
		return Lowest{}, err
	}
	if str < 1 || str > n.Strings {
		return Lowest{}, fmt.Errorf("got string %d, want 1 to %d", str, n.Strings)
	}
	if !(math.Abs(float64(slot)) <= float64(n.Scale)) {
		return Lowest{}, fmt.Errorf("got a slot height of %v, want at most the scale", slot)
	}
	frets := n.Division.Frets()
	if frets < 2 {
		return Lowest{}, fmt.Errorf("got %d fret, want at least 2", frets)
	}
	saddle := units.Length(math.Inf(-1))
	out := Lowest{Slot: units.Length(math.Inf(-1))}
	for f := 1; f < frets; f++ {
		stop := n.point(str, f)
		for over := f + 1; over <= frets; over++ {
			p := n.point(str, over)
			need := p.z + w.At(n.Scale, n.Scale-stop.x, p.x-stop.x)
			if z := stop.z + (need-stop.z)*units.Length((n.Scale-stop.x).Over(p.x-stop.x)); z > saddle {
				saddle, out.Note = z, Spare{Fretted: f, Over: over}
			}
		}
	}
	nut := n.Crown(str, 0)
	out.Line = Line{nut + slot, saddle}
	for over := 1; over <= frets; over++ {
		p := n.point(str, over)
		need := p.z + w.At(n.Scale, n.Scale, p.x)
		if z := saddle + (need-saddle)*units.Length(n.Scale.Over(n.Scale-p.x)) - nut; z > out.Slot {
			out.Slot, out.Opened = z, over
		}
	}
	if !finite(out.Slot) { // nor is it where the saddle is not
		return Lowest{}, fmt.Errorf("got no finite line over the crowns, want frets apart from each other and from the saddles")
	}
	return out, nil
}
