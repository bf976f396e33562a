package fret_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

func ExampleEqual() {
	d, err := fret.Equal(units.Octave, 12, 22)
	if err != nil {
		log.Fatal(err)
	}
	const scale = 25.5 * units.Inch
	for _, n := range []int{1, 12, 22} {
		fmt.Printf("fret %d: %.3f from the nut, %.3f to the scale line\n", n, d.From(scale, n), d.Remaining(scale, n))
	}
	// Output:
	// fret 1: 36.353mm from the nut, 611.347mm to the scale line
	// fret 12: 323.850mm from the nut, 323.850mm to the scale line
	// fret 22: 465.945mm from the nut, 181.755mm to the scale line
}

// A dulcimer's frets, told one by one in cents.
func ExampleDivide() {
	d, err := fret.Divide(200, 400, 500, 700, 900, 1000, 1200)
	if err != nil {
		log.Fatal(err)
	}
	for _, x := range d.Positions(nil, 690*units.Millimetre) {
		fmt.Printf("%.1f ", x)
	}
	// Output: 75.3mm 142.3mm 173.1mm 229.5mm 279.7mm 302.8mm 345.0mm
}

func ExampleDivision_SlotEdges() {
	d, err := fret.Equal(units.Octave, 12, 22)
	if err != nil {
		log.Fatal(err)
	}
	near, far := d.SlotEdges(650*units.Millimetre, 5, 24*units.Thou)
	fmt.Printf("saw from %.2f to %.2f\n", near, far)
	// Output: saw from 162.75mm to 163.36mm
}

func ExampleCamber() {
	fall, err := fret.Camber(9.5*units.Inch, 26*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.3f\n", fall)
	// Output: 1.405mm
}

// A straightedge 50 mm long across the board stands 1.23 mm over its ends.
func ExampleRadiusFromCamber() {
	r, err := fret.RadiusFromCamber(1.23*units.Millimetre, 25*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f, %.1f in\n", r, r.Inches())
	// Output: 255mm, 10.0 in
}

// A board of 10 in at the nut and 14 in at the 21st fret, at the saddles.
func ExampleSurface_Camber() {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	const scale = 628 * units.Millimetre
	board := fret.Surface{Nut: 10 * units.Inch, End: 14 * units.Inch, Span: d.From(scale, 21)}
	fall, err := board.Camber(scale, 26*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("radius %.0f, the outer strings %.2f below the middle\n", board.Radius(scale), fall)
	// Output: radius 399mm, the outer strings 0.85mm below the middle
}
