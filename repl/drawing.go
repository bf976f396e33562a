package repl

import (
	"fmt"
	"io"
	"path"
	"strings"

	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// drawn is one picture that can be drawn.
type drawn struct {
	name string
	by   float64 // its usual magnification, 0 for one that has none
	page func(r *bench.Record, by float64) (*draw.Page, error)
}

var pictures = []drawn{
	{"end", bench.EndMagnified, (*bench.Record).EndView},
	{"side", bench.SideMagnified, (*bench.Record).SideView},
	{"map", 0, func(r *bench.Record, _ float64) (*draw.Page, error) { return r.MapView() }},
	{"bridge", bench.BridgeMagnified, (*bench.Record).BridgeView},
	{"neck", 0, func(r *bench.Record, _ float64) (*draw.Page, error) { return r.NeckView() }},
}

// fileKinds are the files that a picture can go to, by the ending of their names.
var fileKinds = map[string]func(*draw.Page, io.Writer, draw.Sheet) error{
	".svg": func(p *draw.Page, w io.Writer, _ draw.Sheet) error { return p.SVG(w) },
	".dxf": func(p *draw.Page, w io.Writer, _ draw.Sheet) error { return p.Exchange(w) },
	".csv": func(p *draw.Page, w io.Writer, _ draw.Sheet) error { return p.CSV(w) },
	".pdf": func(p *draw.Page, w io.Writer, sheet draw.Sheet) error { return p.PDF(w, sheet) },
}

// actDraw draws a picture into a file.
//
//	Draw = "draw" ( "end" | "side" | "map" | "bridge" | "neck" ) [ number ] File .
func actDraw(s *Session, p *parser) (Answer, error) {
	picture, by, err := p.picture()
	if err != nil {
		return Answer{}, err
	}
	name, at, replace, err := p.fileName()
	switch {
	case err != nil:
		return Answer{}, err
	case name == "":
		return Answer{}, syntax(p.line, at, fmt.Sprintf(`a file's name, as in draw %s "%s.svg"`, picture.name, picture.name), "")
	case s.Files == nil:
		return Answer{}, faultAt(at, errNoFiles)
	}
	write := fileKinds[strings.ToLower(path.Ext(name))]
	if write == nil {
		return Answer{}, faultf(at, "got a picture for %s, want a name that ends in .svg, .pdf, .dxf or .csv", units.Quote(name))
	}
	page, err := picture.page(&s.record, by)
	if err != nil {
		return Answer{}, faultAt(at, err)
	}
	if err := page.Check(); err != nil {
		return Answer{}, faultAt(at, err)
	}
	if err := s.Files.Write(name, replace, func(w io.Writer) error { return write(page, w, s.sheet(page)) }); err != nil {
		return Answer{}, faultAt(at, err)
	}
	return Answer{text: []string{fmt.Sprintf("drew %s, %.0f by %.0f", name, page.Width, page.Height)}}, nil
}

// picture reads which picture is wanted, and how large.
func (p *parser) picture() (drawn, float64, error) {
	p.skip()
	at := p.pos
	word := p.line[at : at+wordLen(p.line[at:])]
	var names []string
	for _, d := range pictures {
		if names = append(names, d.name); d.name != word {
			continue
		}
		p.pos += len(word)
		by, err := p.magnification(d)
		return d, by, err
	}
	return drawn{}, 0, syntax(p.line, at, "a picture, one of "+strings.Join(names, " "), didYouMean(nearest(word, names)))
}

// magnification reads how large a picture is wanted, where that is said.
func (p *parser) magnification(d drawn) (float64, error) {
	p.skip()
	if c := p.peek(); !isDigit(c) && c != '.' {
		return d.by, nil
	}
	at := p.pos
	x, u, n, err := units.Scan(p.line[at:])
	switch {
	case err != nil:
		return 0, faultAt(at, err)
	case u.Kind != units.KindNumber:
		return 0, faultf(at, "got %s, want how many times to magnify it, a number with no unit", units.Quote(p.line[at:at+n]))
	case d.by == 0:
		return 0, faultf(at, "got %s, want the file's name: this picture has one size", units.Quote(p.line[at:at+n]))
	}
	p.pos += n
	return x, nil
}

// sheet is the paper that a picture is printed on, turned for one that is wider
// than high.
func (s *Session) sheet(p *draw.Page) draw.Sheet {
	paper := draw.A4
	if s.view.letter {
		paper = draw.Letter
	}
	if p.Width > p.Height {
		return paper.Turned()
	}
	return paper
}
