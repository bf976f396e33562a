// Diatonic lays out a stick of three strings, tuned D4 A3 D3 and 690 mm long, on
// which beginners cannot play a wrong note: of a chromatic neck only the frets of
// the major scale are kept, with the flat seventh, called 6½, beside the sharp one.
// It prints where each fret goes, and draws the board if a file is named.
//
//	go run ./examples/diatonic
//	go run ./examples/diatonic stick.svg
package main

import (
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

func main() {
	if err := run(os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "diatonic:", err)
		os.Exit(1)
	}
}

func run(args []string, out io.Writer) error {
	b, names, err := stick()
	if err != nil {
		return err
	}
	if err := table(out, b, names); err != nil {
		return err
	}
	switch len(args) {
	case 0:
		return nil
	case 1:
		return picture(args[0], b, names)
	}
	return fmt.Errorf("got %d files, want at most one", len(args))
}

var open = []units.Note{62, 57, 50} // D4 A3 D3, from the treble edge

// stick is the board, and what its frets are called.
func stick() (*fret.Board, []string, error) {
	chromatic, err := fret.Equal(units.Octave, 12, 24)
	if err != nil {
		return nil, nil, err
	}
	var kept []int
	var names []string
	for _, octave := range []int{0, 1} {
		for i, semitones := range []int{2, 4, 5, 7, 9, 10, 11, 12} {
			name := fmt.Sprint(7*octave + [...]int{1, 2, 3, 4, 5, 6, 6, 7}[i])
			if semitones == 11 {
				name += "½"
			}
			kept, names = append(kept, 12*octave+semitones), append(names, name)
		}
	}
	frets, err := chromatic.Keep(kept...)
	if err != nil {
		return nil, nil, err
	}
	b, err := fret.NewBoard(fret.Plan{
		Division: frets, Scale: 690,
		AtNut: []units.Length{12, 0, -12}, AtScale: []units.Length{12, 0, -12},
		Margin: 6, Behind: 5, Beyond: 20,
	})
	return b, names, err
}

// table prints how far every fret is from the nut, and what it sounds on each
// string.
func table(out io.Writer, b *fret.Board, names []string) error {
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "fret\tfrom the nut\tfrom the one before\tD4\tA3\tD3\t")
	frets := b.Frets(1)
	for n, name := range names {
		fmt.Fprintf(t, "%s\t%.2f\t%.2f\t", name, frets.From(b.Plan().Scale, n+1), frets.Gap(b.Plan().Scale, n+1))
		for _, note := range open {
			fmt.Fprintf(t, "%v\t", note+units.Note(frets.Cents(n+1)/units.Semitone))
		}
		fmt.Fprintln(t)
	}
	return t.Flush()
}

// picture writes a new file, and leaves one that is there alone.
func picture(name string, b *fret.Board, names []string) error {
	p := draw.Neck(b, names...)
	p.Title = "Stick of three strings"
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	if err := p.SVG(f); err != nil {
		f.Close()
		return err
	}
	return f.Close()
}
