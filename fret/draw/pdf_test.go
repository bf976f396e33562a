package draw_test

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// matrix is a b c d e f of PDF: x' = a x + c y + e, y' = b x + d y + f.
type matrix [6]float64

func (m matrix) at(x, y float64) fret.Point {
	return fret.Point{X: units.Length(m[0]*x + m[2]*y + m[4]), Y: units.Length(m[1]*x + m[3]*y + m[5])}
}

// after returns the matrix that does n, then m.
func (m matrix) after(n matrix) matrix {
	return matrix{
		m[0]*n[0] + m[2]*n[1], m[1]*n[0] + m[3]*n[1], m[0]*n[2] + m[2]*n[3], m[1]*n[2] + m[3]*n[3],
		m[0]*n[4] + m[2]*n[5] + m[4], m[1]*n[4] + m[3]*n[5] + m[5],
	}
}

// painted is what a content stream paints, in its own space; a curve is its
// points with their controls.
type painted struct {
	lines  [][]fret.Point
	closed []bool
	colour []string // of each line
	texts  []string
	where  []matrix // of each text, of a size of 1
	window []fret.Point
	form   matrix // in force at /D Do
}

var pdfToken = regexp.MustCompile(`\((?:\\.|[^\\()])*\)|[\[\]]|[^\s\[\]()]+`)

// run reads a content stream. It takes only the operators it knows.
func run(t *testing.T, content []byte) painted {
	t.Helper()
	var (
		p     painted
		stack []string
		path  []fret.Point
		size  float64
		text  matrix
	)
	now := matrix{1, 0, 0, 1, 0, 0}
	colour := ""
	var saved []matrix
	take := func(n int) []float64 {
		t.Helper()
		if len(stack) != n {
			t.Fatalf("got operands %q, want %d", stack, n)
		}
		list := make([]float64, n)
		for i, s := range stack {
			list[i] = float64(parsed(t, s))
		}
		return list
	}
	paint := func(closed bool) {
		p.lines, p.closed, p.colour = append(p.lines, path), append(p.closed, closed), append(p.colour, colour)
		path = nil
	}
	closing := false
	for _, token := range pdfToken.FindAllString(string(content), -1) {
		switch token {
		case "q":
			saved = append(saved, now)
		case "Q":
			now, saved = saved[len(saved)-1], saved[:len(saved)-1]
		case "cm":
			now = now.after(matrix(take(6)))
		case "re":
			r := take(4)
			p.window = []fret.Point{now.at(r[0], r[1]), now.at(r[0]+r[2], r[1]+r[3])}
		case "m", "l", "c":
			list := take(map[string]int{"m": 2, "l": 2, "c": 6}[token])
			for i := 0; i < len(list); i += 2 {
				path = append(path, now.at(list[i], list[i+1]))
			}
		case "h":
			closing = true
		case "S":
			paint(closing)
			closing = false
		case "s":
			paint(true)
		case "Do":
			p.form = now
		case "Tf":
			size = float64(parsed(t, stack[1]))
		case "Tm":
			text = now.after(matrix(take(6)))
		case "Tj":
			p.texts = append(p.texts, unquoted(t, stack[0]))
			p.where = append(p.where, text.after(matrix{size, 0, 0, size, 0, 0}))
		case "RG":
			colour = strings.Join(stack, " ")
		case "BT", "ET", "rg", "w", "d", "W", "n":
		default:
			if !strings.ContainsAny(token[:1], "(/[]-.0123456789") {
				t.Fatalf("got operator %s in %s, want one that is known", token, content)
			}
			stack = append(stack, token)
			continue
		}
		stack = nil
	}
	if len(saved) != 0 || len(path) != 0 {
		t.Errorf("got %d states not restored and %d points not painted, want none", len(saved), len(path))
	}
	return p
}

// unquoted reads a string of PDF, whose bytes are ISO 8859-1 where WinAnsi agrees.
func unquoted(t *testing.T, s string) string {
	t.Helper()
	if len(s) < 2 || s[0] != '(' || s[len(s)-1] != ')' {
		t.Fatalf("got %q, want a string", s)
	}
	var out []rune
	for i := 1; i < len(s)-1; i++ {
		if s[i] == '\\' {
			i++
		}
		if s[i] < ' ' || s[i] >= 0x7F && s[i] < 0xA0 {
			t.Errorf("got byte %#x in %q, want a letter", s[i], s)
		}
		out = append(out, rune(s[i]))
	}
	return string(out)
}

type pdfFile struct {
	objects map[int]string
	sheets  []painted
	drawing painted
	media   fret.Point // in points
}

var (
	pdfEnd     = regexp.MustCompile(`(?s)xref\n0 (\d+)\n(.*)trailer\n<< /Size (\d+) /Root 1 0 R /Info 5 0 R >>\nstartxref\n(\d+)\n%%EOF\n$`)
	pdfStream  = regexp.MustCompile(`(?s)^<<.*/Length (\d+) >>\nstream\n(.*)\nendstream$`)
	pdfContent = regexp.MustCompile(`/Type /Page /Parent 2 0 R /Contents (\d+) 0 R`)
	pdfPages   = regexp.MustCompile(`^<< /Type /Pages /Count (\d+) /MediaBox \[0 0 (\S+) (\S+)\] .* /Kids \[(.*)\] >>$`)
)

func readPDF(t *testing.T, file []byte) pdfFile {
	t.Helper()
	end := pdfEnd.FindSubmatch(file)
	if end == nil || !bytes.HasPrefix(file, []byte("%PDF-1.6\n")) {
		t.Fatalf("got a file without its head or its table, want both")
	}
	start, _ := strconv.Atoi(string(end[4]))
	if !bytes.HasPrefix(file[start:], []byte("xref\n")) {
		t.Fatalf("got a table at %d, want it where startxref says", start)
	}
	rows := strings.SplitAfter(string(end[2]), "\n")
	if count := fmt.Sprint(len(rows) - 1); string(end[1]) != count || string(end[3]) != count {
		t.Fatalf("got %s and %s objects, want %s", end[1], end[3], count)
	}
	f := pdfFile{objects: map[int]string{}}
	for i, row := range rows[1 : len(rows)-1] {
		if len(row) != 20 || row[10:] != " 00000 n \n" {
			t.Fatalf("got the row %q, want 20 bytes of an object in use", row)
		}
		at, _ := strconv.Atoi(row[:10])
		body, found := bytes.CutPrefix(file[at:], []byte(fmt.Sprintf("%d 0 obj\n", i+1)))
		stop := bytes.Index(body, []byte("\nendobj\n"))
		if !found || stop < 0 {
			t.Fatalf("got no object %d at %d, want one", i+1, at)
		}
		f.objects[i+1] = string(body[:stop])
	}
	content := func(n int) []byte {
		t.Helper()
		parts := pdfStream.FindStringSubmatch(f.objects[n])
		if parts == nil || parts[1] != fmt.Sprint(len(parts[2])) {
			t.Fatalf("got object %d, want a stream as long as it says", n)
		}
		return []byte(parts[2])
	}
	f.drawing = run(t, content(4))
	pages := pdfPages.FindStringSubmatch(f.objects[2])
	if pages == nil {
		t.Fatalf("got pages %s, want their count, size and list", f.objects[2])
	}
	for _, kid := range strings.Fields(strings.ReplaceAll(pages[4], " 0 R", "")) {
		n, _ := strconv.Atoi(kid)
		parts := pdfContent.FindStringSubmatch(f.objects[n])
		if parts == nil {
			t.Fatalf("got object %s, want a page", kid)
		}
		n, _ = strconv.Atoi(parts[1])
		f.sheets = append(f.sheets, run(t, content(n)))
	}
	if count := fmt.Sprint(len(f.sheets)); pages[1] != count {
		t.Errorf("got a count of %s, want %s", pages[1], count)
	}
	f.media = fret.Point{X: parsed(t, pages[2]), Y: parsed(t, pages[3])}
	return f
}

func plus(at fret.Point, x, y float64) fret.Point {
	return fret.Point{X: at.X + units.Length(x), Y: at.Y + units.Length(y)}
}

// The drawing stands in the file once, in its own millimetres.
func TestPDFDrawing(t *testing.T) {
	p := sample()
	f := readPDF(t, written(t, writers(p)["PDF"]))
	if want := "<< /Type /Catalog /Pages 2 0 R /ViewerPreferences << /PrintScaling /None >> >>"; f.objects[1] != want {
		t.Errorf("got the catalog %s, want %s", f.objects[1], want)
	}
	if want := `<< /Title (Plan <6> & "7") >>`; f.objects[5] != want {
		t.Errorf("got %s, want %s", f.objects[5], want)
	}
	got := f.drawing
	drawn, spoken := 0, 0
	for i, l := range p.Layers {
		colour := []string{"0.4627 0.4627 0.4627", "0 0.4471 0.698", "0.8353 0.3686 0", "0 0.6196 0.451"}[i]
		for _, line := range l.Lines {
			points := got.lines[drawn]
			if len(points) != len(line.Points) || got.closed[drawn] != line.Closed || got.colour[drawn] != colour {
				t.Fatalf("got %d points, closed %v, %s, want %d, %v, %s", len(points), got.closed[drawn], got.colour[drawn], len(line.Points), line.Closed, colour)
			}
			for j, at := range line.Points {
				near(t, line.Name, points[j], at)
			}
			drawn++
		}
		for _, c := range l.Circles {
			curves := got.lines[drawn]
			if len(curves) != 13 {
				t.Fatalf("got a circle of %d points, want four curves", len(curves))
			}
			for j := 0; j < 12; j += 3 {
				// Ends, and the middle of a curve: (a + 3b + 3c + d)/8.
				a, b, m, d := curves[j], curves[j+1], curves[j+2], curves[j+3]
				for _, at := range []fret.Point{a, {X: (a.X + 3*b.X + 3*m.X + d.X) / 8, Y: (a.Y + 3*b.Y + 3*m.Y + d.Y) / 8}, d} {
					far := units.Length(math.Hypot(float64(at.X-c.Centre.X), float64(at.Y-c.Centre.Y)))
					near(t, "radius", fret.Point{X: far}, fret.Point{X: c.Radius})
				}
			}
			drawn++
		}
		for j, word := range l.Words {
			size := []float64{3, 1, 2, 3}[j]
			// "word (1)" is 722+556+333+556+278+333+556+333 in the metrics of Helvetica.
			back := []float64{0, 3.667 / 2, 3.667, 0}[j] * size
			sin, cos := math.Sincos(float64(35*j) * math.Pi / 180)
			m := got.where[spoken]
			near(t, word.Text, m.at(0, 0), fret.Point{X: word.At.X - units.Length(back*cos), Y: word.At.Y - units.Length(back*sin)})
			near(t, "direction", m.at(1, 0), plus(m.at(0, 0), size*cos, size*sin))
			near(t, "upright", m.at(0, 1), plus(m.at(0, 0), -size*sin, size*cos))
			if got.texts[spoken] != word.Text {
				t.Errorf("got %q, want %q", got.texts[spoken], word.Text)
			}
			spoken++
		}
	}
	if drawn != len(got.lines) || spoken != len(got.texts) {
		t.Errorf("got %d lines and %d words, want %d and %d", len(got.lines), len(got.texts), drawn, spoken)
	}
}

// Sheets show the drawing at true scale, all of it, overlap by as much as asked,
// and have crosses that lie on each other.
func TestPDFSheets(t *testing.T) {
	const scale = 72 / 25.4
	for _, test := range []struct {
		name          string
		sheet         draw.Sheet
		columns, rows int // worked out by hand
	}{
		{"A4", draw.A4, 5, 1},                 // 190 by 266 shown, 180 new: (745 - 10)/180
		{"A4 turned", draw.A4.Turned(), 3, 1}, // 277 by 179
		{"Letter", draw.Letter, 4, 1},         // 195.9 shown, 185.9 new
		{"small", draw.Sheet{Width: 200, Height: 120, Margin: 8, Overlap: 12}, 5, 2}, // 184 by 93 shown, 172 by 81 new
		{"no overlap", draw.Sheet{Width: 190, Height: 70}, 4, 3},                     // 190 by 59
	} {
		t.Run(test.name, func(t *testing.T) {
			p := sample()
			f := readPDF(t, written(t, func(w io.Writer) error { return p.PDF(w, test.sheet) }))
			near(t, "paper", f.media, fret.Point{X: test.sheet.Width * scale, Y: test.sheet.Height * scale})
			if got, want := len(f.sheets), test.columns*test.rows; got != want {
				t.Fatalf("got %d sheets, want %d", got, want)
			}
			crosses := map[string]int{}
			var last []fret.Point
			for i, s := range f.sheets {
				row, column := i/test.columns, i%test.columns
				m := s.form
				if math.Abs(m[0]/scale-1) > 1e-9 || m[0] != m[3] || m[1] != 0 || m[2] != 0 {
					t.Fatalf("got the matrix %v, want a scale of %v alone", m, scale)
				}
				onPage := func(at fret.Point) fret.Point {
					return fret.Point{X: (at.X-units.Length(m[4]))/scale + p.Origin.X, Y: (at.Y-units.Length(m[5]))/scale + p.Origin.Y}
				}
				low, high := onPage(s.window[0]), onPage(s.window[1])
				foot := 11 + test.sheet.Margin // check bars and margin
				near(t, "window", s.window[0], fret.Point{X: test.sheet.Margin * scale, Y: foot * scale})
				near(t, "window", s.window[1], fret.Point{X: (test.sheet.Width - test.sheet.Margin) * scale, Y: (test.sheet.Height - test.sheet.Margin) * scale})
				switch {
				case column > 0:
					near(t, "overlap", fret.Point{X: last[1].X - low.X, Y: low.Y}, fret.Point{X: test.sheet.Overlap, Y: last[0].Y})
				case row > 0:
					near(t, "overlap", fret.Point{X: low.X, Y: high.Y - last[0].Y}, fret.Point{Y: test.sheet.Overlap})
				default:
					near(t, "first corner", fret.Point{X: low.X, Y: high.Y}, fret.Point{Y: p.Height})
				}
				if column == test.columns-1 && high.X < p.Width-within || row == test.rows-1 && low.Y > within {
					t.Errorf("sheet %d: got up to %v, %v, want the page's end", i+1, high.X, low.Y)
				}
				last = []fret.Point{low, high}
				for j := range s.texts[2:] { // what the sheet is, between the bars and the window
					at := s.where[j+2].at(0, 0)
					if x, y := at.X/scale-test.sheet.Margin, at.Y/scale-test.sheet.Margin; x < 115 || x > 130 || y < 0 || y > 8 {
						t.Errorf("got %q at %v, %v from the margins, want it to the right of the check bars", s.texts[j+2], x, y)
					}
				}
				bars := map[string]bool{}
				for j, line := range s.lines {
					a, b := onPage(line[0]), onPage(line[1])
					long := math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y))
					bars[fmt.Sprintf("%.3f", long)] = true
					if s.colour[j] == "0.4627 0.4627 0.4627" && math.Abs(long-4) < within {
						x, y := (a.X+b.X)/2, (a.Y+b.Y)/2
						crosses[fmt.Sprintf("%.2f %.2f", x, y)]++
						if x < low.X || x > high.X || y < low.Y || y > high.Y {
							t.Errorf("sheet %d: got a cross at %v, %v, want it in what the sheet shows", i+1, x, y)
						}
					}
				}
				if !bars["100.000"] || !bars["101.600"] {
					t.Errorf("sheet %d: got lines as long as %v, want 100 mm and 4 in among them", i+1, bars)
				}
				texts := fmt.Sprintf("[100 mm 4 in %s sheet %d of %d: row %d, column %d]", p.Title, i+1, len(f.sheets), row+1, column+1)
				if got := fmt.Sprint(s.texts); got != texts {
					t.Errorf("got %s, want %s", got, texts)
				}
			}
			if got, want := len(crosses), 2*(test.columns-1)*test.rows+2*(test.rows-1)*test.columns; got != want {
				t.Errorf("got %d crosses, want %d", got, want)
			}
			for at, times := range crosses {
				if times != 4 { // two arms on each of two sheets
					t.Errorf("cross at %s: got %d arms, want 4", at, times)
				}
			}
		})
	}
}

func TestSheetErrors(t *testing.T) {
	nan := units.Length(math.NaN())
	for _, test := range []struct {
		sheet draw.Sheet
		want  string
	}{
		{draw.Sheet{}, "got 0mm across between the sheet's margins, want at least 170mm"},
		{draw.Sheet{Width: 210}, "got -11mm upright between the sheet's margins and above its foot, want at least 10mm"},
		{draw.Sheet{Width: 210, Height: nan}, "got a sheet of 210mm by NaNmm, want at most 10000mm each way"},
		{draw.Sheet{Width: 20000, Height: 300}, "got a sheet of 20000mm by 300mm, want at most 10000mm each way"},
		{draw.Sheet{Width: 210, Height: 297, Margin: nan}, "got a margin of NaNmm and an overlap of 0mm, want 0 or more"},
		{draw.Sheet{Width: 210, Height: 297, Overlap: -1}, "got a margin of 0mm and an overlap of -1mm, want 0 or more"},
		{draw.Sheet{Width: 210, Height: 297, Margin: 25}, "got 160mm across between the sheet's margins, want at least 170mm"},
		{draw.Sheet{Width: 210, Height: 297, Overlap: 201}, "got 210mm across between the sheet's margins, want at least 211mm"},
		{draw.Sheet{Width: 210, Height: 297, Overlap: units.Length(math.Inf(1))}, "got 210mm across between the sheet's margins, want at least +Infmm"},
		{draw.Sheet{Width: 297, Height: 60, Margin: 10, Overlap: 20}, "got 29mm upright between the sheet's margins and above its foot, want at least 30mm"},
		{draw.Sheet{Width: 180, Height: 21}, "got 56000 sheets, want at most 10000"}, // 10 by 10 m, 180 by 10 shown: 56 by 1000
	} {
		p := &draw.Page{Width: 10000, Height: 10000}
		var b bytes.Buffer
		if err := p.PDF(&b, test.sheet); err == nil || err.Error() != test.want || b.Len() > 0 {
			t.Errorf("got %v and %d bytes, want %s", err, b.Len(), test.want)
		}
	}
}

// The least that a sheet may be, and the most sheets there may be.
func TestSheetLimits(t *testing.T) {
	for _, sheet := range []draw.Sheet{
		{Width: 10000, Height: 10000},
		{Width: 170, Height: 21},
		{Width: 210, Height: 60, Overlap: 39},
		{Width: 210, Height: 297, Overlap: 200},
	} {
		p := &draw.Page{Width: 100, Height: 10}
		if err := p.PDF(io.Discard, sheet); err != nil {
			t.Errorf("%+v: got %v, want a file", sheet, err)
		}
	}
	p := &draw.Page{Width: 2000, Height: 10000}
	f := written(t, func(w io.Writer) error { return p.PDF(w, draw.Sheet{Width: 200, Height: 21}) })
	if want := []byte("/Type /Pages /Count 10000 "); !bytes.Contains(f, want) {
		t.Errorf("got no %q, want 10 by 1000 sheets", want)
	}
}
