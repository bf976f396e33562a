package intonation_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// The 12th fret of a 628 mm scale reads 5 cents sharp, by a tuner good to a cent.
func ExampleMove() {
	const scale = 628 * units.Millimetre
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	r := intonation.Reading{String: 1, High: 12, Cents: 5}
	by, err := intonation.Move(r, d, scale)
	if err != nil {
		log.Fatal(err)
	}
	band, err := intonation.Band(r, d, scale, 1*units.Cent)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f back, give or take %.1f\n", by, band)
	// Output: 1.8mm back, give or take 0.5mm
}

// What would half of that move do?
func ExampleAfter() {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	r := intonation.Reading{String: 1, High: 12, Cents: 5}
	left, err := intonation.After(r, d, 628*units.Millimetre, 0.9*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%+.1f left\n", left)
	// Output: +2.5c left
}

// Two strings on one saddle, one 9 cents sharp and one 1 flat.
func ExampleShare() {
	d, err := fret.Equal(units.Octave, 12, 21)
	if err != nil {
		log.Fatal(err)
	}
	s, err := intonation.Share([]intonation.Reading{
		{String: 3, High: 12, Cents: 9},
		{String: 4, High: 12, Cents: -1},
	}, d, 628*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%+.1f\n", s.Move)
	for _, own := range s.Strings {
		fmt.Printf("string %d: %+.1f left, stagger %.1f\n", own.String, own.Left, own.Stagger)
	}
	// Output:
	// +1.5mm
	// string 3: +5.0c left, stagger 0.0mm
	// string 4: -5.0c left, stagger -3.7mm
}
