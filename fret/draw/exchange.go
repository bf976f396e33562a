package draw

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"example.org/saddlepoint/fret"
)

// Exchange writes the page as an ASCII drawing exchange file, release 12, for
// cutters and drawing programs. Places are the drawing's own, in millimetres,
// which R12 can only say in a comment. A layer's name is in capitals, with _ for
// blanks, and its words are on a layer that ends in -WORDS. Weights are left
// out: R12 has none. A letter that is not ASCII is spelt \U+, as later releases do.
func (p *Page) Exchange(w io.Writer) error {
	if err := p.Check(); err != nil {
		return err
	}
	var b exchange
	b.put(999, "lengths in millimetres, X to the right, Y up",
		0, "SECTION", 2, "HEADER", 9, "$ACADVER", 1, "AC1009")
	b.put(9, "$EXTMIN")
	b.point(10, fret.Point{X: -p.Origin.X, Y: -p.Origin.Y})
	b.put(9, "$EXTMAX")
	b.point(10, fret.Point{X: p.Width - p.Origin.X, Y: p.Height - p.Origin.Y})
	const decimal = 2
	b.put(9, "$LUNITS", 70, decimal, 9, "$LUPREC", 70, 4, 0, "ENDSEC")
	b.tables(p)
	b.put(0, "SECTION", 2, "BLOCKS", 0, "ENDSEC", 0, "SECTION", 2, "ENTITIES")
	for i := range p.Layers {
		b.layer(&p.Layers[i])
	}
	b.put(0, "ENDSEC", 0, "EOF")
	_, err := b.WriteTo(w)
	return err
}

// exchange gathers pairs of a group code and a value, each on a line.
type exchange struct{ bytes.Buffer }

// put writes codes and values, in turn. Fractions have a point even where they
// are whole: some readers tell the kinds apart by it.
func (b *exchange) put(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		value := pairs[i+1]
		if x, ok := value.(float64); ok {
			s := number(x)
			if !strings.Contains(s, ".") {
				s += ".0"
			}
			value = s
		}
		fmt.Fprintf(b, "%3d\n%v\n", pairs[i], value)
	}
}

func (b *exchange) point(code int, at fret.Point) {
	b.put(code, float64(at.X), code+10, float64(at.Y), code+20, 0.0)
}

func (b *exchange) tables(p *Page) {
	b.put(0, "SECTION", 2, "TABLES", 0, "TABLE", 2, "LTYPE", 70, len(styles))
	for _, style := range styles {
		sum := 0.0
		for _, long := range style.pattern {
			sum += long
		}
		b.put(0, "LTYPE", 2, style.name, 70, 0, 3, "", 72, 'A', 73, len(style.pattern), 40, sum)
		for i, long := range style.pattern {
			b.put(49, long*float64(1-i%2*2)) // gaps are negative
		}
	}
	rows := 1
	for _, l := range p.Layers {
		rows += 1 + min(1, len(l.Words))
	}
	b.put(0, "ENDTAB", 0, "TABLE", 2, "LAYER", 70, rows)
	row := func(name string, ink Ink, style Style) {
		b.put(0, "LAYER", 2, name, 70, 0, 62, inks[ink].aci, 6, styles[style].name)
	}
	row("0", Dark, Solid)
	for i := range p.Layers {
		l := &p.Layers[i]
		row(l.code(), l.Ink, l.Style)
		if len(l.Words) > 0 {
			row(l.code()+"-WORDS", l.Ink, Solid)
		}
	}
	// Height, width and slant stand with each text.
	b.put(0, "ENDTAB", 0, "TABLE", 2, "STYLE", 70, 1,
		0, "STYLE", 2, "STANDARD", 70, 0, 40, 0.0, 41, 1.0, 50, 0.0, 71, 0, 42, float64(capitals*typeSize), 3, "txt", 4, "",
		0, "ENDTAB", 0, "ENDSEC")
}

// capitals is how high they are, of the size of type: exchange files give the one, all others the other.
const capitals = 0.7

func (l *Layer) code() string { return strings.ReplaceAll(strings.ToUpper(l.Name), " ", "_") }

func (b *exchange) layer(l *Layer) {
	code := l.code()
	for _, line := range l.Lines {
		b.line(line, code)
	}
	for _, c := range l.Circles {
		b.put(0, "CIRCLE", 8, code)
		b.point(10, c.Centre)
		b.put(40, float64(c.Radius))
	}
	for i := range l.Words {
		word := &l.Words[i]
		text := exchanged(word.Text)
		if text == "" {
			continue
		}
		b.put(0, "TEXT", 8, code+"-WORDS")
		b.point(10, word.along(word.start(), 0))
		b.put(40, float64(capitals*word.size()), 1, text, 50, float64(word.Angle), 7, "STANDARD")
		if word.Anchor != Start {
			b.put(72, int(word.Anchor)) // 1 is centred, 2 ends there
			b.point(11, word.At)
		}
	}
}

func (b *exchange) line(line Line, code string) {
	if len(line.Points) == 2 {
		b.put(0, "LINE", 8, code)
		b.point(10, line.Points[0])
		b.point(11, line.Points[1])
		return
	}
	closed := 0
	if line.Closed {
		closed = 1
	}
	b.put(0, "POLYLINE", 8, code, 66, 1) // vertices follow
	b.point(10, fret.Point{})
	b.put(70, closed)
	for _, at := range line.Points {
		b.put(0, "VERTEX", 8, code)
		b.point(10, at)
	}
	b.put(0, "SEQEND", 8, code)
}
