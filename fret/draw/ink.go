package draw

// Ink is the colour of a layer. Colours help the eye only: what must be told
// apart has its own words, weight or style too.
type Ink uint8

// The inks: a dark and a light grey, and three colours that the colour-blind
// tell apart (M. Okabe and K. Ito, Color Universal Design, 2002).
const (
	Dark Ink = iota
	Grey
	Blue
	Vermilion
	Green
)

// inks are named, with their red, green and blue, and the nearest number of an
// exchange file.
var inks = [...]struct {
	name string
	rgb  [3]uint8
	aci  int
}{
	Dark:      {"dark", [3]uint8{0x22, 0x22, 0x22}, 7},
	Grey:      {"grey", [3]uint8{0x76, 0x76, 0x76}, 8},
	Blue:      {"blue", [3]uint8{0x00, 0x72, 0xB2}, 152},
	Vermilion: {"vermilion", [3]uint8{0xD5, 0x5E, 0x00}, 30},
	Green:     {"green", [3]uint8{0x00, 0x9E, 0x73}, 122},
}

// Style is how a layer's lines are broken.
type Style uint8

// The styles; Centre is the long and short dashes of a centre line.
const (
	Solid Style = iota
	Dashed
	Dotted
	Centre
)

// styles are named, for a reader and in an exchange file, with the lengths of dash
// and gap in turn, in millimetres.
var styles = [...]struct {
	words, name string
	pattern     []float64
}{
	Solid:  {"solid", "CONTINUOUS", nil},
	Dashed: {"dashed", "DASHED", []float64{3, 1.5}},
	Dotted: {"dotted", "DOT", []float64{0.4, 1}},
	Centre: {"long and short dashes", "CENTER", []float64{8, 1.5, 1.5, 1.5}},
}
