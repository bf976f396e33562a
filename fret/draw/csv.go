package draw

import (
	"bytes"
	"encoding/csv"
	"io"

	"example.org/saddlepoint/fret"
)

// CSV writes a row for every straight piece of a line and for every circle, under
// a row of heads. Places are the drawing's own; a circle's two are its centre.
func (p *Page) CSV(w io.Writer) error {
	if err := p.Check(); err != nil {
		return err
	}
	var b bytes.Buffer
	rows := csv.NewWriter(&b)
	row := func(layer, name string, from, to fret.Point, radius string) {
		_ = rows.Write([]string{layer, clean(name), number(from.X), number(from.Y), number(to.X), number(to.Y), radius}) // a Buffer takes all
	}
	_ = rows.Write([]string{"layer", "name", "from_x_mm", "from_y_mm", "to_x_mm", "to_y_mm", "radius_mm"})
	for _, l := range p.Layers {
		for _, line := range l.Lines {
			for i, at := range line.Points[1:] {
				row(l.Name, line.Name, line.Points[i], at, "")
			}
			if line.Closed {
				row(l.Name, line.Name, line.Points[len(line.Points)-1], line.Points[0], "")
			}
		}
		for _, c := range l.Circles {
			row(l.Name, c.Name, c.Centre, c.Centre, number(c.Radius))
		}
	}
	rows.Flush()
	_, err := b.WriteTo(w)
	return err
}
