package draw_test

import (
	"fmt"
	"log"
	"os"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/fret/draw"
	"example.org/saddlepoint/units"
)

// A stick with the slots of three frets, the nut at its left end.
func ExamplePage() {
	d, err := fret.Equal(units.Octave, 12, 3)
	if err != nil {
		log.Fatal(err)
	}
	slots := draw.Layer{Name: "fret slots"}
	for n, name := range []string{"nut", "1", "2", "3"} {
		x := d.From(650*units.Millimetre, n)
		slots.Lines = append(slots.Lines, draw.Line{Name: name, Points: []fret.Point{{X: x, Y: -20}, {X: x, Y: 20}}})
		slots.Words = append(slots.Words, draw.Word{Text: name, At: fret.Point{X: x, Y: 22}, Anchor: draw.Middle})
	}
	stick := &draw.Page{Title: "Stick", Layers: []draw.Layer{slots}}
	stick.Fit(5 * units.Millimetre)
	if err := stick.SVG(os.Stdout); err != nil {
		log.Fatal(err)
	}
	// Output:
	// <?xml version="1.0" encoding="UTF-8"?>
	// <svg xmlns="http://www.w3.org/2000/svg" width="118mm" height="55mm" viewBox="0 0 118 55">
	// <title>Stick</title>
	// <g id="fret_slots" fill="none" stroke="#222222" stroke-width="0.1">
	// <polyline points="8,50 8,10"><title>nut</title></polyline>
	// <polyline points="44.4817,50 44.4817,10"><title>1</title></polyline>
	// <polyline points="78.9158,50 78.9158,10"><title>2</title></polyline>
	// <polyline points="111.4173,50 111.4173,10"><title>3</title></polyline>
	// </g>
	// <g id="fret_slots-words" fill="#222222" font-family="Helvetica, Arial, sans-serif">
	// <text x="8" y="8" font-size="3" text-anchor="middle">nut</text>
	// <text x="44.4817" y="8" font-size="3" text-anchor="middle">1</text>
	// <text x="78.9158" y="8" font-size="3" text-anchor="middle">2</text>
	// <text x="111.4173" y="8" font-size="3" text-anchor="middle">3</text>
	// </g>
	// </svg>
}

// A stick of three strings and four frets of a just scale: where its slots end.
func ExampleNeck() {
	degrees, err := fret.Ratios(
		fret.Ratio{Num: 9, Den: 8}, fret.Ratio{Num: 5, Den: 4}, fret.Ratio{Num: 4, Den: 3}, fret.Ratio{Num: 3, Den: 2})
	if err != nil {
		log.Fatal(err)
	}
	d, err := fret.Divide(degrees...)
	if err != nil {
		log.Fatal(err)
	}
	b, err := fret.NewBoard(fret.Plan{
		Division: d, Scale: 360, AtNut: []units.Length{12, 0, -12}, AtScale: []units.Length{18, 0, -18}, Margin: 4, Beyond: 10,
	})
	if err != nil {
		log.Fatal(err)
	}
	p := draw.Neck(b)
	p.Title = "Stick"
	fmt.Printf("%v by %v\n", p.Width, p.Height)
	for _, l := range p.Layers {
		fmt.Printf("%s: %d\n", l.Name, len(l.Lines))
		if l.Name == "fret slots" {
			for _, line := range l.Lines {
				fmt.Printf("  %s: %.2f\n", line.Name, line.Points)
			}
		}
	}
	// Output:
	// 394mm by 84mm
	// board edge: 1
	// fret slots: 4
	//   fret 1: [{40.00mm 16.67mm} {40.00mm -16.67mm}]
	//   fret 2: [{72.00mm 17.20mm} {72.00mm -17.20mm}]
	//   fret 3: [{90.00mm 17.50mm} {90.00mm -17.50mm}]
	//   fret 4: [{120.00mm 18.00mm} {120.00mm -18.00mm}]
	// strings: 3
	// centre line: 1
	// nut line: 1
	// scale line: 1
	// break points: 6
	// legend: 0
	// check bars: 6
}
