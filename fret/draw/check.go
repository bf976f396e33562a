package draw

import (
	"fmt"
	"math"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Check reports why the page cannot be drawn, or nil. Every line, circle and
// word must stand on it.
func (p *Page) Check() error {
	if !(p.Width >= least && p.Width <= most && p.Height >= least && p.Height <= most) {
		return fmt.Errorf("got a page of %v by %v, want %v to %v each way", p.Width, p.Height, least, most)
	}
	if !(max(math.Abs(float64(p.Origin.X)), math.Abs(float64(p.Origin.Y))) <= float64(most)) {
		return fmt.Errorf("got an origin at %v, %v, want it within %v", p.Origin.X, p.Origin.Y, most)
	}
	seen := make(map[string]bool)
	for i := range p.Layers {
		l := &p.Layers[i]
		name := strings.ToLower(l.Name)
		switch {
		case !isName(l.Name):
			return fmt.Errorf("layer %d: got the name %.40q, want 1 to 24 ASCII letters, digits and single blanks, a letter first", i+1, l.Name)
		case seen[name]:
			return fmt.Errorf("layer %d: got the name %q a second time, want one of its own", i+1, l.Name)
		}
		seen[name] = true
		if err := p.checkLayer(l); err != nil {
			return fmt.Errorf("layer %q%w", l.Name, err)
		}
	}
	return nil
}

// checkLayer returns an error that starts where the layer's name ends.
func (p *Page) checkLayer(l *Layer) error {
	switch {
	case int(l.Ink) >= len(inks):
		return fmt.Errorf(": got ink %d, want one of 0 to %d", l.Ink, len(inks)-1)
	case int(l.Style) >= len(styles):
		return fmt.Errorf(": got style %d, want one of 0 to %d", l.Style, len(styles)-1)
	case !(l.Weight >= 0 && l.Weight <= most):
		return fmt.Errorf(": got a weight of %v, want 0 to %v", l.Weight, most)
	}
	for i, line := range l.Lines {
		ends := 2
		if line.Closed {
			ends = 3
		}
		if len(line.Points) < ends {
			return fmt.Errorf("%s: got %d points, want at least %d", place("line", i, line.Name), len(line.Points), ends)
		}
		for j, at := range line.Points {
			if err := p.holds(at, 0); err != nil {
				return fmt.Errorf("%s, point %d: %w", place("line", i, line.Name), j+1, err)
			}
		}
	}
	for i, c := range l.Circles {
		if !(c.Radius >= least) {
			return fmt.Errorf("%s: got a radius of %v, want at least %v", place("circle", i, c.Name), c.Radius, least)
		}
		if err := p.holds(c.Centre, c.Radius); err != nil {
			return fmt.Errorf("%s: %w", place("circle", i, c.Name), err)
		}
	}
	for i, w := range l.Words {
		switch {
		case w.Anchor > End:
			return fmt.Errorf("%s: got anchor %d, want one of 0 to %d", place("word", i, w.Text), w.Anchor, End)
		case w.Size != 0 && !(w.Size >= least && w.Size <= most):
			return fmt.Errorf("%s: got a size of %v, want 0 or %v to %v", place("word", i, w.Text), w.Size, least, most)
		case !(math.Abs(float64(w.Angle)) <= 360):
			return fmt.Errorf("%s: got an angle of %v, want -360 to 360", place("word", i, w.Text), w.Angle)
		}
		if err := p.holds(w.At, 0); err != nil {
			return fmt.Errorf("%s: %w", place("word", i, w.Text), err)
		}
	}
	return nil
}

// holds reports why a place, and so much round it, is not on the page, or nil.
func (p *Page) holds(at fret.Point, round units.Length) error {
	const slack = 0.0001 // what the writers round to
	x, y, room := at.X+p.Origin.X, at.Y+p.Origin.Y, round-slack
	if x >= room && x <= p.Width-room && y >= room && y <= p.Height-room {
		return nil
	}
	if round > 0 {
		return fmt.Errorf("got a radius of %v at %v, %v, want it on the page of %v by %v", round, x, y, p.Width, p.Height)
	}
	return fmt.Errorf("got %v, %v, want a place on the page of %v by %v", x, y, p.Width, p.Height)
}

// place tells a thing by its number and the start of its name.
func place(kind string, i int, name string) string {
	s := fmt.Sprintf(", %s %d", kind, i+1)
	if name != "" {
		s += fmt.Sprintf(" %.40q", name)
	}
	return s
}

func finite(lengths ...units.Length) bool {
	for _, l := range lengths {
		if math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) {
			return false
		}
	}
	return true
}

// isName holds names to what an id and a layer of R12 can both say, so that two
// never turn into one.
func isName(s string) bool {
	if len(s) == 0 || len(s) > 24 || strings.Contains(s, "  ") || strings.HasSuffix(s, " ") {
		return false
	}
	for i, r := range s {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if !letter && (i == 0 || r != ' ' && (r < '0' || r > '9')) {
			return false
		}
	}
	return true
}
