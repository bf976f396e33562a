package intonation_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// BenchmarkMap is 6 strings by 22 frets into the caller's slice; at most 1.5
// times BenchmarkMapFloor in the same run.
func BenchmarkMap(b *testing.B) {
	m := model(b, neck(b))
	dst := m.Map(nil)
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		dst = m.Map(dst[:0])
	}
}

// BenchmarkMapFloor is the bare three square roots and one logarithm of every
// note of the same map: of the string's two parts, of its rise in pull, and of
// its ratio.
func BenchmarkMapFloor(b *testing.B) {
	n := neck(b)
	m := model(b, n)
	type note struct{ sounding, behind, tighter, ratio float64 }
	var notes []note
	for i, c := range n.Courses {
		for fret := 1; fret <= 22; fret++ {
			at := float64(n.Division.From(n.Scale, fret))
			reach, rise, nut := float64(n.Scale+c.Setback)-at, float64(c.NutHeight+c.Rise), float64(c.NutHeight)
			open := math.Hypot(float64(n.Scale+c.Setback), float64(c.Rise))
			q := (math.Hypot(reach, rise)+math.Hypot(at, nut))/open - 1
			notes = append(notes, note{
				reach*reach + rise*rise, at*at + nut*nut, 1 + m.Taut(i+1).Kappa*q, math.Exp2(float64(m.Cents(i+1, fret)) / 600),
			})
		}
	}
	dst := make([]float64, len(notes))
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		for k := range notes {
			n := &notes[k]
			dst[k] = math.Sqrt(n.sounding) + math.Sqrt(n.behind) + math.Sqrt(n.tighter) + math.Log(n.ratio)
		}
	}
}

// BenchmarkSetbacks is the least-squares saddle and nut of six strings; at most
// 20 times BenchmarkMap.
func BenchmarkSetbacks(b *testing.B) {
	m := model(b, neck(b))
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		for s := 1; s <= 6; s++ {
			if _, err := m.LeastSquaresNut(s, intonation.Aim{}); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// BenchmarkFit is three unknowns of one string from readings at twelve frets.
func BenchmarkFit(b *testing.B) {
	m := model(b, neck(b))
	var heard []intonation.Heard
	for fret := 1; fret <= 12; fret++ {
		heard = append(heard, intonation.Heard{High: fret, Cents: m.Cents(1, fret) + units.Cents(fret%3), Doubt: 1.4})
	}
	of := []intonation.Prior{{Of: intonation.NutPlace}, {Of: intonation.SlotHeight}, {Of: intonation.SaddlePlace}}
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		if _, err := m.Fit(1, heard, of); err != nil {
			b.Fatal(err)
		}
	}
}

// The map allocates nothing where it has room, whatever the string's way.
func TestMapAllocatesNothing(t *testing.T) {
	for _, finger := range []intonation.Finger{{}, {Carry: 5}, {Depth: 0.5, Behind: 5}} {
		n := neck(t)
		n.Finger = finger
		m := model(t, n)
		dst := make([]units.Cents, 0, 132)
		if got := testing.AllocsPerRun(100, func() { dst = m.Map(dst[:0]) }); got != 0 || len(dst) != 132 {
			t.Errorf("%+v: got %v allocations for %d notes", finger, got, len(dst))
		}
	}
}

// How often placing works the notes out, which is most of what it costs.
func TestPlacingRounds(t *testing.T) {
	m := model(t, neck(t))
	for s := 1; s <= 6; s++ {
		squares, err := m.LeastSquaresNut(s, intonation.Aim{})
		if err != nil {
			t.Fatal(err)
		}
		worst, err := m.LeastWorst(s, intonation.Aim{})
		if err != nil {
			t.Fatal(err)
		}
		if squares.Rounds > 8 || worst.Rounds > 12 || squares.Rounds < 1 || worst.Rounds < 1 {
			t.Errorf("string %d: got %d and %d rounds, want at most 8 and 12", s, squares.Rounds, worst.Rounds)
		}
	}
}

// BenchmarkMaps is the map of 1, 10 and 100 instruments: cost against work.
func BenchmarkMaps(b *testing.B) {
	for _, instruments := range []int{1, 10, 100} {
		b.Run(fmt.Sprint(instruments), func(b *testing.B) {
			m := model(b, neck(b))
			dst := m.Map(nil)
			for range b.N {
				for range instruments {
					dst = m.Map(dst[:0])
				}
			}
		})
	}
}
