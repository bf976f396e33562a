// Twoscales draws the board of an eight-string that a player of low tunings asked
// for: 25.5 in for the treble string so that it bends easily, 28 in for the bass
// string so that it stays taut at F#1, the 7th fret square to the centre line. Each
// saddle stands where the worst note of its string is least out.
//
//	go run ./examples/twoscales drawings
//
// It writes into the folder named: SVG for the screen, a drawing exchange file
// for the cutter, PDF on A4 and on Letter for the bench, CSV for the rest, and makes
// the folder if there is none. Files that are there already stay as they are, and
// nothing is written, unless -replace stands before the folder.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

func main() {
	replace := flag.Bool("replace", false, "write over files that are there")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "usage: twoscales [-replace] folder")
		flag.PrintDefaults()
	}
	flag.Parse()
	if flag.NArg() != 1 {
		flag.Usage()
		os.Exit(2)
	}
	if err := run(flag.Arg(0), *replace, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "twoscales:", err)
		os.Exit(1)
	}
}

// run draws the board into a folder, and says what it wrote.
func run(folder string, replace bool, out io.Writer) error {
	b, err := board()
	if err != nil {
		return err
	}
	files, err := drawings(b)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	for i := range files {
		files[i].name = filepath.Join(folder, files[i].name)
		if _, err := os.Lstat(files[i].name); err == nil && !replace {
			return fmt.Errorf("got %s there already, want another folder, or -replace", files[i].name)
		} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	for _, f := range files {
		if err := f.write(replace); err != nil {
			return err
		}
		fmt.Fprintln(out, "wrote", f.name)
	}
	return nil
}

// strings from the treble edge. The maker has measured the cores.
var strings = []struct {
	text string
	note units.Note
}{
	{"10p", 64}, {"13p", 59}, {"17p", 55}, {"wound(28thou, 14thou)", 50},
	{"wound(38thou, 16thou)", 45}, {"wound(48thou, 18thou)", 40}, {"wound(62thou, 19thou)", 35}, {"wound(80thou, 20thou)", 30},
}

// board lays the neck out twice: for the strings' scales, then with their saddles.
func board() (*fret.Board, error) {
	frets, err := fret.Equal(units.Octave, 12, 24)
	if err != nil {
		return nil, err
	}
	p := fret.Plan{
		Division: frets, Treble: 25.5 * units.Inch, Bass: 28 * units.Inch, Straight: 7,
		NutWidth: 55, EndWidth: 74, Behind: 6, Beyond: 8,
		Surface: fret.Surface{Nut: 16 * units.Inch, End: 20 * units.Inch},
	}
	if p.AtNut, err = fret.EqualCentres(47.5, len(strings)); err != nil {
		return nil, err
	}
	if p.AtScale, err = fret.EqualCentres(73.5, len(strings)); err != nil {
		return nil, err
	}
	b, err := fret.NewBoard(p)
	if err != nil {
		return nil, err
	}
	for i := range strings {
		back, err := setback(b, i+1)
		if err != nil {
			return nil, fmt.Errorf("string %d: %w", i+1, err)
		}
		p.Setback = append(p.Setback, back)
	}
	return fret.NewBoard(p)
}

// setback is how far behind the scale line a string breaks so that its worst note
// is least out: over a straight neck, 1.8 mm above the 12th fret.
func setback(b *fret.Board, str int) (units.Length, error) {
	s, err := tension.ParseString(strings[str-1].text)
	if err != nil {
		return 0, err
	}
	const nut = 0.5 * units.Millimetre
	frets := b.Frets(str)
	m, err := intonation.NewModel(intonation.Neck{
		Division: frets, Scale: b.Scale(str),
		Courses: []intonation.Course{{
			UnitWeight: s.UnitWeight, Stretch: s.Stretch, Bend: s.Bend, Open: strings[str-1].note.Frequency(440),
			NutHeight: nut, Rise: action.AtSaddle(1.8-nut, frets.Share(12)), Fixity: 1,
		}},
	})
	if err != nil {
		return 0, err
	}
	placed, err := m.LeastWorst(1, intonation.Aim{})
	return placed.Setback, err
}

// file is a file to be written.
type file struct {
	name string
	data []byte
}

// drawings are all files, in memory: what cannot be drawn leaves nothing behind.
func drawings(b *fret.Board) ([]file, error) {
	p := draw.Neck(b)
	p.Title = "Eight strings, 25.5 to 28 in"
	p.Layers = append(p.Layers, draw.Kerfs(b, 0.6))
	on := func(s draw.Sheet) func(io.Writer) error { return func(w io.Writer) error { return p.PDF(w, s) } }
	var files []file
	for _, f := range []struct {
		name  string
		write func(io.Writer) error
	}{
		{"neck.svg", p.SVG}, {"neck.dxf", p.Exchange}, {"neck.csv", p.CSV},
		{"neck-a4.pdf", on(draw.A4.Turned())}, {"neck-letter.pdf", on(draw.Letter.Turned())},
	} {
		var b bytes.Buffer
		if err := f.write(&b); err != nil {
			return nil, fmt.Errorf("%s: %w", f.name, err)
		}
		files = append(files, file{f.name, b.Bytes()})
	}
	return files, nil
}

// write writes a new file; where it may replace one, it takes that out of the way
// first, and so never writes to where a link leads.
func (f file) write(replace bool) error {
	if replace {
		if err := os.Remove(f.name); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	w, err := os.OpenFile(f.name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = w.Write(f.data)
	return errors.Join(err, w.Close())
}
