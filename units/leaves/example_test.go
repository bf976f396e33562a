package leaves_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/units"
	"example.org/saddlepoint/units/leaves"
)

// A worn set that lacks some leaves is to make 1.45 mm, then 5/64 in.
func ExampleSet_Best() {
	set := leaves.Set{0.05, 0.10, 0.15, 0.20, 0.30, 0.40, 0.60, 0.70, 0.80, 1.00}
	for _, text := range []string{"1.45mm", "5/64in"} {
		target, err := units.ParseLength(text)
		if err != nil {
			log.Fatal(err)
		}
		stack, err := set.Best(target, leaves.Most, leaves.Within)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%s: %.2f, %+.3f\n", text, stack.Leaves, stack.Miss)
	}
	// Output:
	// 1.45mm: [1.00mm 0.40mm 0.05mm], +0.000mm
	// 5/64in: [1.00mm 0.80mm 0.20mm], +0.016mm
}

// A height of 1.62 mm is checked from both sides: 1.60 mm still goes in, 1.65 mm
// does not.
func ExampleSet_Limits() {
	set := leaves.Set{0.05, 0.10, 0.15, 0.20, 0.30, 0.40, 0.60, 0.70, 0.80, 1.00}
	l, err := set.Limits(1.62*units.Millimetre, leaves.Most, 0.04*units.Millimetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("goes: %.2f, %+.2f\n", l.Goes.Leaves, l.Goes.Miss)
	fmt.Printf("stops: %.2f, %+.2f\n", l.Stops.Leaves, l.Stops.Miss)
	fmt.Printf("leaves good to 0.005mm: %.3f\n", l.Stops.Doubt(0.005*units.Millimetre))
	// Output:
	// goes: [1.00mm 0.60mm], -0.02mm
	// stops: [1.00mm 0.60mm 0.05mm], +0.03mm
	// leaves good to 0.005mm: 0.015mm
}
