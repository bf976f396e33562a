package bench_test

import (
	"fmt"
	"log"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// A four-string of 540 mm with two strings on each saddle. Its saddles were
// read from the tail, and its cents at the 12th fret; the first saddle has been
// moved once since, and its strings read again.
func Example() {
	r := &bench.Record{
		Scale: 540 * units.Millimetre,
		Frets: 19,
		Saddles: [][]int{
			{1, 2},
			{3, 4},
		},
		SaddleScrew: 0.5, // mm a turn
		Entries: []bench.Entry{
			{Mood: bench.Read, Of: bench.Saddle, How: bench.How{From: bench.FromTail}, On: []int{1, 2}, Lengths: []units.Length{14.2, 13.0}},
			{Mood: bench.Read, Of: bench.Cents, How: bench.How{At: 12}, On: []int{1, 2, 3, 4}, Cents: []units.Cents{11, 15, -6, -2}},
			{Mood: bench.Did, Of: bench.Saddle, On: []int{1, 2}, By: 3 * units.Millimetre},
			{Mood: bench.Read, Of: bench.Cents, How: bench.How{At: 12}, On: []int{1, 2}, Cents: []units.Cents{1.5, 5.5}},
		},
	}
	for _, gauge := range []units.Length{10, 13, 17, 22} {
		s, err := tension.Plain(gauge*units.Thou, tension.Steel)
		if err != nil {
			log.Fatal(err)
		}
		r.Strings = append(r.Strings, s)
	}

	moves, err := r.MoveRows()
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range moves {
		fmt.Printf("saddle %s: %s, give or take %s; %.1f; the calliper then reads %.1f; leaves %+.1f\n",
			bench.Group(m.Strings), m.Amount(), bench.Rounded(m.Band, m.Band), m.Turns, m.Calliper, m.Left)
	}
	for _, step := range r.Next() {
		fmt.Println(step.Do)
	}
	// Output:
	// saddle 1+2: back 1.1mm, give or take 0.4mm; 2.2turns; the calliper then reads 10.1mm; leaves [-2.0c +2.0c]
	// saddle 3+4: forward 1.2mm, give or take 0.4mm; 2.5turns; the calliper then reads 14.2mm; leaves [-2.0c +2.0c]
	// move saddle 1+2 back 1.1mm, retune, read again
	// move saddle 3+4 forward 1.2mm, retune, read again
}
