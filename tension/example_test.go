package tension_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

func ExampleParseString() {
	for _, text := range []string{".0135p", "38w", "plain(0.43mm)"} {
		s, err := tension.ParseString(text)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%v: %.3f g/m, core estimated: %v\n", s, s.UnitWeight.GramsPerMetre(), s.CoreEstimated)
	}
	// Output:
	// 13.5p: 0.725 g/m, core estimated: false
	// 38w: 4.743 g/m, core estimated: true
	// plain(0.43mm): 1.140 g/m, core estimated: false
}

func ExamplePull() {
	s, err := tension.Plain(11*units.Thou, tension.Steel)
	if err != nil {
		log.Fatal(err)
	}
	d4, err := units.ParseNote("D4")
	if err != nil {
		log.Fatal(err)
	}
	pull := tension.Pull(s.UnitWeight, d4.Frequency(440), 628*units.Millimetre)
	fmt.Printf("%.1f, %.1f lbf\n", pull, pull.PoundsForce())
	// Output: 65.5N, 14.7 lbf
}

// What plain gauge gives 70 N at D4 on 628 mm?
func ExampleGauge() {
	d4, err := units.ParseNote("D4")
	if err != nil {
		log.Fatal(err)
	}
	mu := tension.UnitWeight(70*units.Newton, d4.Frequency(440), 628*units.Millimetre)
	d := tension.Gauge(mu, tension.Steel.Density)
	fmt.Printf("%.3f, %.1f thou\n", d, d.Thou())
	// Output: 0.289mm, 11.4 thou
}

func ExampleStrung_BreakingShare() {
	s, err := tension.ParseString("8p")
	if err != nil {
		log.Fatal(err)
	}
	strung := tension.Strung{String: s, Pitch: 440 * units.Hertz, Length: 25.5 * units.Inch}
	share, err := strung.BreakingShare()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f %% of what breaks it\n", 100*share)
	// Output: 93 % of what breaks it
}

func ExampleWound() {
	s, err := tension.Wound(1.2*units.Millimetre, 0.42*units.Millimetre, tension.Steel, tension.Material{Density: 8.9 * units.GramPerCubicCentimetre})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f g/m\n", s.UnitWeight.GramsPerMetre())
	// Output: 8.11 g/m
}
