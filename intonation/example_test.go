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
