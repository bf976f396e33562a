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

// demo is a neck of 21 frets and the bow that it reads.
func demo() action.Neck {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	const scale = 628 * units.Millimetre
	n := action.Neck{
		Board: action.Board{
			Surface:   fret.Surface{Nut: 10 * units.Inch, End: 14 * units.Inch, Span: d.From(scale, 21)},
			Scale:     scale,
			NutSpread: 36 * units.Millimetre, SaddleSpread: 52 * units.Millimetre,
			Strings: 6,
		},
		Division: d,
	}
	n.Relief, err = action.Usual(d, scale).Reading(0.2*units.Millimetre, action.Way{Near: 1, Far: 14, At: 7}, d, scale)
	if err != nil {
		log.Fatal(err)
	}
	return n
}

// String 6 lies 0.4 mm over the plane of the frets at the nut, and stands 1.9 mm
// over the 12th.
func ExampleNeck_Through() {
	n := demo()
	l := n.Through(6, 0.4*units.Millimetre, 12, 1.9*units.Millimetre)
	for _, f := range []int{1, 7, 12, 21} {
		fmt.Printf("fret %d: %.2f\n", f, n.Height(6, l, f))
	}
	fmt.Printf("held at 3, the first gap is %.2f\n", n.Gap(6, l, action.Held))
	// Output:
	// fret 1: 0.65mm
	// fret 7: 1.58mm
	// fret 12: 1.90mm
	// fret 21: 2.12mm
	// held at 3, the first gap is 0.20mm
}

// A relief of 0.20 mm, held at 1 and 14 and read over 7, as others would read it.
func ExampleRelief_Reading() {
	n := demo()
	fmt.Printf("bow %.2f\n", n.Relief.Bow)
	fmt.Printf("held at 1 and 12, read at 6: %.2f\n", n.Relief.Reads(action.Way{Near: 1, Far: 12, At: 6}, n.Division, n.Scale))
	fmt.Printf("held at 1 and 21, read at 8: %.2f\n", n.Relief.Reads(action.Way{Near: 1, Far: 21, At: 8}, n.Division, n.Scale))
	// Output:
	// bow 0.25mm
	// held at 1 and 12, read at 6: 0.16mm
	// held at 1 and 21, read at 8: 0.31mm
}

// The strings are to come down by 1.2 mm at saddles that can go no lower.
func ExampleHeel_Shim() {
	s, err := action.Heel{Near: 390, Far: 460}.Shim(-1.2*units.Millimetre, 628*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f thick, at the far end: %v; the head back by %.2f\n", s.Thickness, s.AtFar, s.Angle)
	// Output: 0.35mm thick, at the far end: true; the head back by 0.29deg
}

// How low string 6 could go for a player who pulls it 0.5 mm aside, 120 mm from
// the saddle.
func ExampleNeck_Lowest() {
	n := demo()
	low, err := n.Lowest(6, 0.4*units.Millimetre, action.Swing{Depth: 0.5, Pluck: 120})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f at the 12th; fretted at %d it just clears crown %d\n", n.Height(6, low.Line, 12), low.Note.Fretted, low.Note.Over)
	// Output: 1.27mm at the 12th; fretted at 8 it just clears crown 14
}

// String 6 buzzes at the 7th and 8th frets and is clean at 5, 9 and 12.
func ExampleNeck_Suspects() {
	n := demo()
	l := n.Through(6, 0.5*units.Millimetre, 12, 1.7*units.Millimetre)
	list, err := n.Suspects(6, l, action.Swing{Depth: 0.5, Pluck: 120}, []int{7, 8}, []int{5, 9, 12})
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range list[:3] {
		fmt.Printf("%v %d by %.2f explains %v, spoils %v\n", s.Fault, s.Fret, s.By, s.Explains, s.Spoils)
	}
	fmt.Println("and last:", list[len(list)-1].Fault)
	// Output:
	// crown proud 9 by 0.11mm explains [7 8], spoils []
	// crown proud 8 by 0.06mm explains [7], spoils []
	// crown worn 7 by 0.07mm explains [7], spoils []
	// and last: elsewhere
}

// The curve for a saddle under strings that are to stand at these levels.
func ExampleBoard_BestCurve() {
	b := demo().Board
	c, err := b.BestCurve([]units.Length{8.0, 9.1, 9.6, 9.7, 9.4, 8.7})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f in, off by %.2f at the worst\n", c.Radius.Inches(), c.Worst)
	stock, err := b.Curve([]units.Length{8.0, 9.1, 9.6, 9.7, 9.4, 8.7}, 12*units.Inch)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("12 in, off by %.2f\n", stock.Worst)
	// Output:
	// 9.5 in, off by 0.06mm at the worst
	// 12 in, off by 0.25mm
}
