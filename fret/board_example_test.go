package fret_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// An eight-string of two scales, its 7th fret square.
func ExampleNewBoard() {
	frets, err := fret.Equal(units.Octave, 12, 24)
	if err != nil {
		log.Fatal(err)
	}
	nut, err := fret.EqualCentres(46, 8)
	if err != nil {
		log.Fatal(err)
	}
	saddle, err := fret.EqualCentres(72, 8)
	if err != nil {
		log.Fatal(err)
	}
	b, err := fret.NewBoard(fret.Plan{
		Division: frets,
		Treble:   25.5 * units.Inch, Bass: 28 * units.Inch, Straight: 7,
		AtNut: nut, AtScale: saddle,
		NutWidth: 54, EndWidth: 72, Beyond: 8,
		Surface: fret.Surface{Nut: 16 * units.Inch, End: 20 * units.Inch},
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("string 4 has a scale of %.2f\n", b.Scale(4))
	for _, s := range b.Slots() {
		if s.Fret == 1 || s.Fret == 7 || s.Fret == 24 {
			fmt.Printf("fret %d: %.2f at the treble edge, %.2f at the bass edge, %.1f\n", s.Fret, s.Treble.X, s.Bass.X, s.Angle())
		}
	}
	// Output:
	// string 4 has a scale of 674.79mm
	// fret 1: 48.43mm at the treble edge, 27.96mm at the bass edge, -20.3deg
	// fret 7: 225.93mm at the treble edge, 225.93mm at the bass edge, 0.0deg
	// fret 24: 495.08mm at the treble edge, 524.11mm at the bass edge, 22.0deg
}

// What the curve of the top asks of the saw at the 12th fret of a six-string, and
// where the bridge goes.
func ExampleBoard_FlatCut() {
	frets, err := fret.Equal(units.Octave, 12, 22)
	if err != nil {
		log.Fatal(err)
	}
	nut, err := fret.EqualGaps(36, .25, .33, .43, .66, .91, 1.17)
	if err != nil {
		log.Fatal(err)
	}
	saddle, err := fret.EqualCentres(52, 6)
	if err != nil {
		log.Fatal(err)
	}
	b, err := fret.NewBoard(fret.Plan{
		Division: frets, Scale: 650, AtNut: nut, AtScale: saddle, Margin: 3.5, Beyond: 10,
		Surface: fret.Surface{Nut: 240, End: 400},
		Setback: []units.Length{1.2, 1.6, 2, 1.4, 2.2, 3},
	})
	if err != nil {
		log.Fatal(err)
	}
	slot := b.Slots()[11].Line
	near, far := slot.Edges(0.6)
	cut := b.FlatCut(slot, 1.6)
	fmt.Printf("saw from %.2f to %.2f\n", near.Treble.X, far.Treble.X)
	fmt.Printf("%.2f deep at the ends, %.2f at the crown; the wire is %.2f long over the top\n", cut.Treble, cut.Deepest, b.OverTop(slot))
	pins := b.SaddleLine(14)
	fmt.Printf("saddle from %.1f to %.1f, pins from %.1f to %.1f\n", b.Saddle(1).X, b.Saddle(6).X, pins.Treble.X, pins.Bass.X)
	// Output:
	// saw from 324.70mm to 325.30mm
	// 1.60mm deep at the ends, 2.53mm at the crown; the wire is 51.04mm long over the top
	// saddle from 651.2mm to 653.0mm, pins from 665.2mm to 667.0mm
}

// Six open strings in quarter comma meantone, Eb to G# about C: the frets that
// each asks for, and what equal frets straight across would cost.
func ExamplePerString() {
	degrees, err := fret.Meantone(0.25, 3)
	if err != nil {
		log.Fatal(err)
	}
	const root = units.Note(60) // C4
	open := []units.Note{67, 62, 57, 53, 48, 43}
	var above []int
	for _, n := range open {
		above = append(above, int(n-root))
	}
	asked, err := fret.PerString(8, degrees, above...)
	if err != nil {
		log.Fatal(err)
	}
	equal, err := fret.Equal(units.Octave, 12, 8)
	if err != nil {
		log.Fatal(err)
	}
	cost := equal.Against(asked...)
	for i, n := range open {
		fmt.Printf("%v: fret 1 at %.2f, equal frets %+.1f %+.1f %+.1f\n", n, asked[i].From(600, 1), cost[i][1], cost[i][2], cost[i][3])
	}
	// Output:
	// G4: fret 1 at 25.79mm, equal frets +24.0c +6.8c -10.3c
	// D4: fret 1 at 39.24mm, equal frets -17.1c +6.8c -10.3c
	// A3: fret 1 at 39.24mm, equal frets -17.1c +6.8c -10.3c
	// F3: fret 1 at 25.79mm, equal frets +24.0c +6.8c +30.8c
	// C3: fret 1 at 25.79mm, equal frets +24.0c +6.8c -10.3c
	// G2: fret 1 at 25.79mm, equal frets +24.0c +6.8c -10.3c
}

// Seventeen frets of a just scale of seven degrees.
func ExampleRepeat() {
	degrees, err := fret.Ratios(
		fret.Ratio{Num: 9, Den: 8}, fret.Ratio{Num: 5, Den: 4}, fret.Ratio{Num: 4, Den: 3}, fret.Ratio{Num: 3, Den: 2},
		fret.Ratio{Num: 5, Den: 3}, fret.Ratio{Num: 15, Den: 8}, fret.Ratio{Num: 2, Den: 1})
	if err != nil {
		log.Fatal(err)
	}
	d, err := fret.Repeat(17, degrees...)
	if err != nil {
		log.Fatal(err)
	}
	for _, n := range []int{1, 7, 8, 14, 17} {
		fmt.Printf("fret %d: %.2f, %.3f\n", n, d.Cents(n), d.From(720, n))
	}
	// Output:
	// fret 1: 203.91c, 80.000mm
	// fret 7: 1200.00c, 360.000mm
	// fret 8: 1403.91c, 400.000mm
	// fret 14: 2400.00c, 540.000mm
	// fret 17: 2898.04c, 585.000mm
}

// The frets of a dulcimer out of a chromatic neck.
func ExampleDivision_Keep() {
	full, err := fret.Equal(units.Octave, 12, 12)
	if err != nil {
		log.Fatal(err)
	}
	d, err := full.Keep(2, 4, 5, 7, 9, 10, 12)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d frets, the 4th at %.1f\n", d.Frets(), d.From(690, 4))
	// Output: 7 frets, the 4th at 229.5mm
}

// A slot cut a tenth of a millimetre too far from the nut.
func ExampleDivision_Misplaced() {
	d, err := fret.Equal(units.Octave, 12, 24)
	if err != nil {
		log.Fatal(err)
	}
	for _, n := range []int{1, 12, 24} {
		fmt.Printf("fret %d: %.2f sharp\n", n, d.Misplaced(650, n, 0.1))
	}
	// Output:
	// fret 1: 0.28c sharp
	// fret 12: 0.53c sharp
	// fret 24: 1.07c sharp
}

// Six strings over 1.442 in from outside to outside, with equal gaps.
func ExampleEqualGaps() {
	gauges := []units.Length{10 * units.Thou, 13 * units.Thou, 17 * units.Thou, 26 * units.Thou, 36 * units.Thou, 46 * units.Thou}
	outside := 1.442 * units.Inch
	places, err := fret.EqualGaps(outside-(gauges[0]+gauges[5])/2, gauges...)
	if err != nil {
		log.Fatal(err)
	}
	gap := places[0] - places[1] - (gauges[0]+gauges[1])/2
	fmt.Printf("%.2f, gaps of %.4f in\n", places, gap.Inches())
	// Output: [17.96mm 11.09mm 4.14mm -2.98mm -10.34mm -17.96mm], gaps of 0.2588 in
}
