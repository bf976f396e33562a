// Embed asks the library two things without the language: where the twelfth
// fret goes, and how far to move a saddle for a reading.
package main

import (
	"fmt"
	"log"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

func main() {
	scale := 25.5 * units.Inch
	neck, err := fret.Equal(units.Octave, 12, 22)
	if err != nil {
		log.Fatal(err)
	}
	read := intonation.Reading{String: 1, Low: 0, High: 12, Cents: 7}
	back, err := intonation.Move(read, neck, scale)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("12th fret at %.2f, saddle back %.1f\n", neck.From(scale, 12), back)
}
