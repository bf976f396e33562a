package draw

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// PDF writes the page at true scale over as many sheets as it takes, in rows from
// the top left. Every sheet has check bars, in place of the page's own, its number,
// and marks to cut and join by; the file asks the reader not to scale. Letters that
// Windows-1252 and ISO 8859-1 do not share are written as near ones, or as ?.
func (p *Page) PDF(w io.Writer, sheet Sheet) error {
	if err := p.Check(); err != nil {
		return err
	}
	t, err := sheet.tile(p)
	if err != nil {
		return err
	}
	var b portable
	b.WriteString("%PDF-1.6\n%\xE2\xE3\xCF\xD3\n")
	count := t.rows * t.columns
	// Two objects for each sheet follow these five.
	b.object("<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>")
	var kids strings.Builder
	for i := range count {
		fmt.Fprintf(&kids, " %d 0 R", 6+2*i)
	}
	b.object(fmt.Sprintf("<< /Type /Pages /Count %d /MediaBox [0 0 %s %s] /Resources << /Font << /F 3 0 R >> /XObject << /D 4 0 R >> >> /Kids [%s ] >>",
		count, number(points*float64(sheet.Width)), number(points*float64(sheet.Height)), kids.String()))
	b.object("<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>")
	var drawing bytes.Buffer
	for i := range p.Layers {
		if p.Layers[i].Name != checkBars {
			layerPDF(&drawing, &p.Layers[i])
		}
	}
	b.stream(fmt.Sprintf("/Type /XObject /Subtype /Form /BBox [%s %s %s %s] /Resources << /Font << /F 3 0 R >> >>",
		number(-p.Origin.X), number(-p.Origin.Y), number(p.Width-p.Origin.X), number(p.Height-p.Origin.Y)), drawing.Bytes())
	b.object(fmt.Sprintf("<< /Title %s >>", quoted(p.Title)))
	for i := range count {
		b.object(fmt.Sprintf("<< /Type /Page /Parent 2 0 R /Contents %d 0 R >>", 7+2*i))
		b.stream("", t.content(i/t.columns, i%t.columns))
	}
	b.trailer()
	_, err = b.WriteTo(w)
	return err
}

const points = 72 / 25.4 // in a millimetre

// content is what stands on one sheet: the part of the drawing that its window
// shows, then what is round it.
func (t *tiling) content(row, column int) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%.10[1]f 0 0 %.10[1]f 0 0 cm\n", points) // from here in millimetres
	left, bottom, corner := t.Margin, t.Margin+strip, t.corner(row, column)
	fmt.Fprintf(&b, "q %s %s %s %s re W n 1 0 0 1 %s %s cm /D Do Q\n", number(left), number(bottom), number(t.wide), number(t.high),
		number(left-corner.X+t.page.Origin.X), number(bottom-corner.Y+t.page.Origin.Y))
	marks, foot := t.marks(row, column), t.foot(row, column)
	layerPDF(&b, &marks)
	layerPDF(&b, &foot)
	return b.Bytes()
}

func layerPDF(b *bytes.Buffer, l *Layer) {
	var rgb [3]float64
	for i, part := range inks[l.Ink].rgb {
		rgb[i] = float64(part) / 255
	}
	ink := numbers(rgb[:])
	fmt.Fprintf(b, "q %s RG %s rg %s w [%s] 0 d\n", ink, ink, number(l.weight()), numbers(styles[l.Style].pattern))
	for _, line := range l.Lines {
		fmt.Fprintf(b, "%s m\n", pair(line.Points[0]))
		for _, at := range line.Points[1:] {
			fmt.Fprintf(b, "%s l\n", pair(at))
		}
		if line.Closed {
			b.WriteString("h ")
		}
		b.WriteString("S\n")
	}
	for _, c := range l.Circles {
		circlePDF(b, c)
	}
	for i := range l.Words {
		word := &l.Words[i]
		one := Word{Angle: word.Angle}
		fmt.Fprintf(b, "BT /F %s Tf %s %s %s Tm %s Tj ET\n", number(word.size()),
			pair(one.along(1, 0)), pair(one.along(0, 1)), pair(word.along(word.start(), 0)), quoted(word.Text))
	}
	b.WriteString("Q\n")
}

// circlePDF draws four curves, whose controls at 4/3 (sqrt(2) - 1) of the radius
// keep within 0.03 % of it.
func circlePDF(b *bytes.Buffer, c Circle) {
	const k = 0.5522847498
	at := func(x, y float64) string {
		return pair(fret.Point{X: c.Centre.X + c.Radius*units.Length(x), Y: c.Centre.Y + c.Radius*units.Length(y)})
	}
	fmt.Fprintf(b, "%s m\n", at(1, 0))
	x, y := 1.0, 0.0
	for range 4 {
		fmt.Fprintf(b, "%s %s %s c\n", at(x-k*y, y+k*x), at(k*x-y, k*y+x), at(-y, x))
		x, y = -y, x
	}
	b.WriteString("s\n")
}

func pair(at fret.Point) string { return number(at.X) + " " + number(at.Y) }

// portable gathers numbered objects and where they start.
type portable struct {
	bytes.Buffer
	starts []int
}

func (b *portable) object(body string) {
	b.starts = append(b.starts, b.Len())
	fmt.Fprintf(b, "%d 0 obj\n%s\nendobj\n", len(b.starts), body)
}

func (b *portable) stream(entries string, data []byte) {
	b.object(fmt.Sprintf("<< %s /Length %d >>\nstream\n%s\nendstream", entries, len(data), data))
}

// trailer ends the file with its table of objects. The first is the catalog, the
// fifth says what the file is.
func (b *portable) trailer() {
	at := b.Len()
	fmt.Fprintf(b, "xref\n0 %d\n0000000000 65535 f \n", len(b.starts)+1)
	for _, start := range b.starts {
		fmt.Fprintf(b, "%010d 00000 n \n", start)
	}
	fmt.Fprintf(b, "trailer\n<< /Size %d /Root 1 0 R /Info 5 0 R >>\nstartxref\n%d\n%%%%EOF\n", len(b.starts)+1, at)
}
