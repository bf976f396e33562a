package units_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/units"
)

func ExampleParseLength() {
	for _, text := range []string{"24 3/4in", "70thou", "4.5/64in", "1,6mm"} {
		l, err := units.ParseLength(text)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%.3f, %.4f in\n", l, l.Inches())
	}
	// Output:
	// 628.650mm, 24.7500 in
	// 1.778mm, 0.0700 in
	// 1.786mm, 0.0703 in
	// "1,6mm": at byte 1: got ",6mm", want a unit of length: mm, cm, m, in, thou, 64ths (write 1.6mm)
}

func ExampleLength_InchFraction() {
	fmt.Println((628 * units.Millimetre).InchFraction(32))
	// Output: 24 23/32in
}

// A tuner set to A4 = 442 Hz hears 148.4 Hz.
func ExampleNearest() {
	p := units.Nearest(148.4*units.Hertz, 442*units.Hertz)
	fmt.Printf("%v, %+.1f off\n", p.Note, p.Off)
	// Output: D3, +10.5c off
}

func ExampleInterval() {
	fmt.Printf("%+.2f\n", units.Interval(294*units.Hertz, 293*units.Hertz))
	// Output: -5.90c
}

// How far to turn an M3 screw for 1.8 mm of travel.
func ExampleThread_Turns() {
	m3, err := units.ParseThread("M3")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f\n", m3.Turns(1.8*units.Millimetre))
	// Output: 3.60turns
}

// The one scanner of numbers serves whoever reads a language of their own.
func ExampleScan() {
	x, u, n, err := units.Scan("25 1/2in, then more")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(x, u.Symbol, u.Kind, n)
	// Output: 25.5 in length 8
}
