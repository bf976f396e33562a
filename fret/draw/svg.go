package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"example.org/saddlepoint/fret"
)

// SVG writes the page as a picture that prints at true scale: its size and its
// coordinates are millimetres. Each layer is a group whose id is its name in
// small letters, with _ for blanks; its words are a group of their own, whose id
// ends in -words.
func (p *Page) SVG(w io.Writer) error {
	if err := p.Check(); err != nil {
		return err
	}
	var b bytes.Buffer
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %[1]s %[2]s">`+"\n",
		number(p.Width), number(p.Height))
	if p.Title != "" {
		fmt.Fprintf(&b, "<title>%s</title>\n", escaped(p.Title))
	}
	for i := range p.Layers {
		l := &p.Layers[i]
		id := strings.ReplaceAll(strings.ToLower(l.Name), " ", "_")
		red, green, blue := inks[l.Ink].rgb[0], inks[l.Ink].rgb[1], inks[l.Ink].rgb[2]
		ink := fmt.Sprintf("#%02x%02x%02x", red, green, blue)
		p.linesSVG(&b, l, id, ink)
		if len(l.Words) > 0 {
			p.wordsSVG(&b, l, id+"-words", ink)
		}
	}
	b.WriteString("</svg>\n")
	_, err := b.WriteTo(w)
	return err
}

func (p *Page) linesSVG(b *bytes.Buffer, l *Layer, id, ink string) {
	fmt.Fprintf(b, `<g id="%s" fill="none" stroke="%s" stroke-width="%s"`, id, ink, number(l.weight()))
	if dash := styles[l.Style].pattern; dash != nil {
		fmt.Fprintf(b, ` stroke-dasharray="%s"`, numbers(dash))
	}
	b.WriteString(">\n")
	for _, line := range l.Lines {
		shape := "polyline"
		if line.Closed {
			shape = "polygon"
		}
		fmt.Fprintf(b, `<%s points="`, shape)
		between := ""
		for _, at := range line.Points {
			x, y := p.down(at)
			b.WriteString(between + x + "," + y)
			between = " "
		}
		b.WriteString(`"`)
		closeSVG(b, shape, line.Name)
	}
	for _, c := range l.Circles {
		x, y := p.down(c.Centre)
		fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s"`, x, y, number(c.Radius))
		closeSVG(b, "circle", c.Name)
	}
	b.WriteString("</g>\n")
}

// closeSVG ends a shape, with the name it has.
func closeSVG(b *bytes.Buffer, shape, name string) {
	if name == "" {
		b.WriteString("/>\n")
		return
	}
	fmt.Fprintf(b, "><title>%s</title></%s>\n", escaped(name), shape)
}

func (p *Page) wordsSVG(b *bytes.Buffer, l *Layer, id, ink string) {
	fmt.Fprintf(b, `<g id="%s" fill="%s" font-family="Helvetica, Arial, sans-serif">`+"\n", id, ink)
	anchors := [...]string{Start: "start", Middle: "middle", End: "end"}
	for i := range l.Words {
		word := &l.Words[i]
		x, y := p.down(word.At)
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s"`, x, y, number(word.size()), anchors[word.Anchor])
		if word.Angle != 0 {
			fmt.Fprintf(b, ` transform="rotate(%s %s %s)"`, number(-word.Angle), x, y)
		}
		fmt.Fprintf(b, ">%s</text>\n", escaped(word.Text))
	}
	b.WriteString("</g>\n")
}

// down writes a place as SVG counts it, Y down from the top of the page.
func (p *Page) down(at fret.Point) (x, y string) {
	return number(at.X + p.Origin.X), number(p.Height - (at.Y + p.Origin.Y))
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(clean(s))) // a Builder takes all
	return b.String()
}

// number writes to 0.0001, with no more digits than needed and no minus zero.
func number[T ~float64](x T) string {
	s := strings.TrimRight(strconv.FormatFloat(float64(x), 'f', 4, 64), "0")
	if s = strings.TrimSuffix(s, "."); s == "-0" {
		return "0"
	}
	return s
}

func numbers(list []float64) string {
	var words []string
	for _, x := range list {
		words = append(words, number(x))
	}
	return strings.Join(words, " ")
}
