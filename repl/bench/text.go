package bench

import (
	"strings"

	"example.org/saddlepoint/units"
)

// Text is words with lengths among them, which the caller may show in a unit of
// its own.
type Text struct {
	words   []string // one more than lengths, before and behind each
	lengths []rough
}

// rough is a length that is known to a band; 0 is to what a leaf can tell.
type rough struct{ length, band units.Length }

// textOf is a text of strings, lengths, roughs and other texts.
func textOf(parts ...any) Text {
	var t Text
	t.add(parts...)
	return t
}

// add continues a text.
func (t *Text) add(parts ...any) {
	if t.words == nil {
		t.words = []string{""}
	}
	for _, part := range parts {
		last := &t.words[len(t.words)-1]
		switch part := part.(type) {
		case string:
			*last += part
		case units.Length:
			t.add(rough{length: part})
		case rough:
			t.lengths, t.words = append(t.lengths, part), append(t.words, "")
		case Text:
			for i, w := range part.words {
				t.add(w)
				if i < len(part.lengths) {
					t.add(part.lengths[i])
				}
			}
		}
	}
}

// In gives the text with its lengths as show writes them, each with the band that
// it is known to, in millimetres; a band of 0 is what a leaf can tell apart.
func (t Text) In(show func(l, band units.Length) string) string {
	var b strings.Builder
	for i, w := range t.words {
		b.WriteString(w)
		if i < len(t.lengths) {
			b.WriteString(show(t.lengths[i].length, t.lengths[i].band))
		}
	}
	return b.String()
}

// String gives the text with its lengths in millimetres.
func (t Text) String() string { return t.In(Rounded) }
