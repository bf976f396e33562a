package draw_test

import (
	"strings"
	"testing"
	"unicode"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// worded is a page whose every text is the same.
func worded(s string) *draw.Page {
	return &draw.Page{Title: s, Width: 10, Height: 10, Layers: []draw.Layer{{
		Name:  "a",
		Lines: []draw.Line{{Name: s, Points: []fret.Point{{X: 1, Y: 1}, {X: 9, Y: 1}}}},
		Words: []draw.Word{{Text: s, At: fret.Point{X: 1, Y: 1}}, {Text: "end", At: fret.Point{X: 9, Y: 1}}},
	}}}
}

func TestWords(t *testing.T) {
	for _, test := range []struct{ text, svg, exchange, pdf string }{
		{"fret 12", "fret 12", "fret 12", "fret 12"},
		{" a\tb\r\n\x00\u0085c ", "a b c", "a b c", "a b c"},
		{"<g>&\"'", "<g>&\"'", "<g>&\"'", "<g>&\"'"},
		{`1) (2\`, `1) (2\`, `1) (2\`, `1) (2\`},
		{"B♭3 F♯4 B♮3", "B♭3 F♯4 B♮3", "Bb3 F#4 B3", "Bb3 F#4 B3"},
		{"−5c ± 1", "−5c ± 1", "-5c %%p 1", "-5c ± 1"},
		{"5° 100%° 50%± %%%d", "5° 100%° 50%± %%%d", "5%%d 100% %%d 50% %%p % % %d", "5° 100%° 50%± %%%d"},
		{"100 µm, 100 μm", "100 µm, 100 μm", `100 \U+00B5m, 100 \U+00B5m`, "100 µm, 100 µm"},
		{"“Élan” – ″", "“Élan” – ″", `"\U+00C9lan" - "`, `"Élan" - "`},
		{"~ÿ 25½", "~ÿ 25½", `~\U+00FF 25\U+00BD`, "~ÿ 25½"},
		{"^J", "^J", "^ J", "^J"},
		{`\U+0041`, `\U+0041`, `\U+005CU+0041`, `\U+0041`},
		{"𝄞 弦", "𝄞 弦", `? \U+5F26`, "? ?"},
		{"a\xFFb\uFFFE", "a\uFFFDb\uFFFD", `a\U+FFFDb\U+FFFE`, "a?b?"},
	} {
		p := worded(test.text)
		s := readSVG(t, written(t, p.SVG))
		for _, got := range []string{s.Title, s.Groups[0].Open[0].Title, s.Groups[1].Texts[0].Text} {
			if got != test.svg {
				t.Errorf("%q in SVG: got %q, want %q", test.text, got, test.svg)
			}
		}
		if got := readDXF(t, written(t, p.Exchange)).shapes[1].values[1]; got != test.exchange {
			t.Errorf("%q in an exchange file: got %q, want %q", test.text, got, test.exchange)
		}
		f := readPDF(t, written(t, writers(p)["PDF"]))
		for _, got := range []string{f.drawing.texts[0], f.sheets[0].texts[2], unquoted(t, strings.TrimSuffix(strings.TrimPrefix(f.objects[5], "<< /Title "), " >>"))} {
			if got != test.pdf {
				t.Errorf("%q in PDF: got %q, want %q", test.text, got, test.pdf)
			}
		}
	}
}

// A word that ends at a place starts as far before it as its letters are wide in
// the metrics of Helvetica (Adobe Core 14), here in thousandths.
func TestWidths(t *testing.T) {
	for text, wide := range map[string]units.Length{"~": 584, "!": 278, "i l": 222 + 278 + 222, "W@": 944 + 1015, "F♯4": 611 + 556 + 556, "(%)": 333 + 889 + 333} {
		p := worded(text)
		p.Layers[0].Words[0] = draw.Word{Text: text, At: fret.Point{X: 9, Y: 4}, Anchor: draw.End, Size: 2}
		near(t, text, readPDF(t, written(t, writers(p)["PDF"])).drawing.where[0].at(0, 0), fret.Point{X: 9 - wide*2/1000, Y: 4})
	}
}

// Whatever the text, each file stays what it is: the readers of these tests fail
// on what is not well formed, and nothing but the text is changed by it.
func FuzzWords(f *testing.F) {
	for _, s := range []string{"fret 12", "<!--]]>&#x41;", ")\\(", "  0\nEOF", "^J%%d\\U+0041", "\xFF\x00\u2028♯", "endstream endobj"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p := worded(text)
		s := readSVG(t, written(t, p.SVG))
		if len(s.Groups) != 2 || len(s.Groups[1].Texts) != 2 || s.Groups[1].Texts[1].Text != "end" {
			t.Errorf("SVG: got %+v, want two groups, and two words in the second", s)
		}
		kept := s.Groups[1].Texts[0].Text
		letters := func(s string) string { // what a reader sees, whatever parts it
			return strings.Map(func(r rune) rune {
				switch {
				case unicode.IsSpace(r) || unicode.IsControl(r):
					return -1
				case r == 0xFFFE || r == 0xFFFF: // XML has no such letters
					return 0xFFFD
				}
				return r
			}, s)
		}
		if got, want := letters(kept), letters(strings.ToValidUTF8(text, "\uFFFD")); got != want {
			t.Errorf("SVG: got %q, want %q", got, want)
		}
		d := readDXF(t, written(t, p.Exchange))
		empty := 0
		if kept == "" {
			empty = 1
		}
		if got := len(d.shapes) + empty; got != 3 || d.shapes[2-empty].values[1] != "end" {
			t.Errorf("exchange file: got %v, want a line and the words", d.shapes)
		}
		pdf := readPDF(t, written(t, writers(p)["PDF"]))
		if got := pdf.drawing.texts; len(got) != 2 || got[1] != "end" || len(pdf.sheets) != 1 || len(pdf.sheets[0].texts) != 4 {
			t.Errorf("PDF: got %q, want two words on one sheet", got)
		}
	})
}
