package draw

import (
	"fmt"
	"math"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Sheet is the paper that a PDF is tiled over.
type Sheet struct {
	Width, Height units.Length
	Margin        units.Length // all round: what a printer may not reach
	Overlap       units.Length // what neighbouring sheets both show
}

// The paper of ISO 216 and of ANSI/ASME Y14.1, upright.
var (
	A4     = Sheet{Width: 210, Height: 297, Margin: 10, Overlap: 10}
	Letter = Sheet{Width: 8.5 * units.Inch, Height: 11 * units.Inch, Margin: 10, Overlap: 10}
)

// Turned returns the sheet with its sides changed over, such as A4 lying.
func (s Sheet) Turned() Sheet {
	s.Width, s.Height = s.Height, s.Width
	return s
}

const (
	strip     = 11 * units.Millimetre  // at the foot of a sheet, for its check bars and its number
	footRoom  = 170 * units.Millimetre // what these take across
	mostTiles = 10_000
)

// tiling is how a page is spread over sheets, in rows from the top.
type tiling struct {
	Sheet
	page          *Page
	wide, high    units.Length // what one sheet shows
	columns, rows int
}

func (s Sheet) tile(p *Page) (tiling, error) {
	t := tiling{Sheet: s, page: p, wide: s.Width - 2*s.Margin, high: s.Height - 2*s.Margin - strip}
	const fresh = 10 * units.Millimetre // what every sheet must add to the drawing
	switch {
	case !(s.Width <= most && s.Height <= most):
		return t, fmt.Errorf("got a sheet of %v by %v, want at most %v each way", s.Width, s.Height, most)
	case !(s.Margin >= 0 && s.Overlap >= 0):
		return t, fmt.Errorf("got a margin of %v and an overlap of %v, want 0 or more", s.Margin, s.Overlap)
	case !(t.wide >= footRoom && t.wide-s.Overlap >= fresh):
		return t, fmt.Errorf("got %v across between the sheet's margins, want at least %v", t.wide, max(footRoom, s.Overlap+fresh))
	case !(t.high-s.Overlap >= fresh):
		return t, fmt.Errorf("got %v upright between the sheet's margins and above its foot, want at least %v", t.high, s.Overlap+fresh)
	}
	across := tiles(p.Width, t.wide, s.Overlap)
	upright := tiles(p.Height, t.high, s.Overlap)
	if across*upright > mostTiles {
		return t, fmt.Errorf("got %v sheets, want at most %d", across*upright, mostTiles)
	}
	t.columns, t.rows = int(across), int(upright)
	return t, nil
}

// tiles is how many windows of a size, with an overlap, it takes for a length;
// what the writers round away takes none.
func tiles(long, window, overlap units.Length) float64 {
	const slack = 0.0001
	return max(1, math.Ceil(float64(long-overlap-slack)/float64(window-overlap)))
}

// corner is the page's place at the lower left of what a sheet shows; row and
// column count from 0.
func (t *tiling) corner(row, column int) fret.Point {
	return fret.Point{
		X: units.Length(column) * (t.wide - t.Overlap),
		Y: t.page.Height - t.high - units.Length(row)*(t.high-t.Overlap),
	}
}

// marks returns what is drawn round the window of a sheet, from the sheet's own
// lower left corner: crop marks where its paper may be cut, in the middle of an
// overlap, and crosses on that line that lie on those of the next sheet.
func (t *tiling) marks(row, column int) Layer {
	marks := Layer{Name: "marks", Ink: Grey}
	left, bottom := t.Margin, t.Margin+strip
	right, top := left+t.wide, bottom+t.high
	line := func(x, y, toX, toY units.Length) {
		marks.Lines = append(marks.Lines, Line{Points: []fret.Point{{X: x, Y: y}, {X: toX, Y: toY}}})
	}
	cross := func(x, y units.Length) {
		const arm = 2
		line(x-arm, y, x+arm, y)
		line(x, y-arm, x, y+arm)
	}
	const reach = 3 * units.Millimetre
	quarters := [...]float64{0.25, 0.75}
	upright := func(x units.Length) {
		line(x, bottom-reach, x, bottom)
		line(x, top, x, top+reach)
		for _, q := range quarters {
			cross(x, bottom+t.high*units.Length(q))
		}
	}
	across := func(y units.Length) {
		line(left-reach, y, left, y)
		line(right, y, right+reach, y)
		for _, q := range quarters {
			cross(left+t.wide*units.Length(q), y)
		}
	}
	if column > 0 {
		upright(left + t.Overlap/2)
	}
	if column < t.columns-1 {
		upright(right - t.Overlap/2)
	}
	if row > 0 {
		across(top - t.Overlap/2)
	}
	if row < t.rows-1 {
		across(bottom + t.Overlap/2)
	}
	return marks
}

// foot returns the check bars, what the drawing is and which sheet this is.
func (t *tiling) foot(row, column int) Layer {
	foot := CheckBars(fret.Point{X: t.Margin, Y: t.Margin})
	at := fret.Point{X: t.Margin + 125, Y: t.Margin + 1}
	where := fmt.Sprintf("sheet %d of %d: row %d, column %d", row*t.columns+column+1, t.rows*t.columns, row+1, column+1)
	foot.Words = append(foot.Words,
		Word{Text: t.page.Title, At: fret.Point{X: at.X, Y: at.Y + 5}},
		Word{Text: where, At: at})
	return foot
}
