package action_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/action"
	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// The 12th fret of a string is to come down by 0.3 mm.
func ExampleAtSaddle() {
	fmt.Printf("%+.2f\n", action.AtSaddle(-0.3*units.Millimetre, fret.Share(units.Octave)))
	// Output: -0.60mm
}

func ExampleEven() {
	fmt.Printf("%.2f\n", action.Even(nil, 6, 1.5*units.Millimetre, 1.9*units.Millimetre))
	// Output: [1.50mm 1.58mm 1.66mm 1.74mm 1.82mm 1.90mm]
}

// The same ends, the saddles on a curve of 12 in over a board of 10 to 14 in.
func ExampleBoard_OnRadius() {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	const scale = 628 * units.Millimetre
	b := action.Board{
		Surface:   fret.Surface{Nut: 10 * units.Inch, End: 14 * units.Inch, Span: d.From(scale, 21)},
		Scale:     scale,
		NutSpread: 36 * units.Millimetre, SaddleSpread: 52 * units.Millimetre,
		Strings: 6,
	}
	heights, err := b.OnRadius(nil, d.From(scale, 12), 1.5*units.Millimetre, 1.9*units.Millimetre, 12*units.Inch)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", heights)
	// Output: [1.50mm 1.67mm 1.79mm 1.87mm 1.90mm 1.90mm]
}

// Strings 1 and 2 share a saddle whose screws stand 14 mm apart.
func ExampleTwoScrews() {
	s, err := action.TwoScrews(
		[]units.Length{-0.60, -0.36}, // wanted at the saddle
		[]units.Length{26, 15.6},     // where the strings cross it
		20.8+7, 20.8-7)
	if err != nil {
		log.Fatal(err)
	}
	thread, err := units.ParseThread("40tpi")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("treble %+.2f, bass %+.2f\n", thread.Turns(s.Treble), thread.Turns(s.Bass))
	// Output: treble -1.01turns, bass -0.50turns
}
