package fret_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/units"
)

const benchFrets = 24

// BenchmarkPositions lays out 24 frets into a caller's slice. The aim is at most
// 0.3 of BenchmarkPositionsFloor in the same run, with no allocation.
func BenchmarkPositions(b *testing.B) {
	d := equal(b, 12, benchFrets)
	dst := make([]units.Length, 0, benchFrets)
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		dst = d.Positions(dst[:0], 647.7)
	}
	if dst[11] != 323.85 {
		b.Errorf("got fret 12 at %v, want half the scale", dst[11])
	}
}

// BenchmarkPositionsFloor computes the same positions as 24 powers of 2.
func BenchmarkPositionsFloor(b *testing.B) {
	dst := make([]float64, benchFrets)
	for range b.N {
		for n := range dst {
			dst[n] = 647.7 * (1 - math.Exp2(float64(-1-n)/12))
		}
	}
	if dst[11] != 323.85 {
		b.Errorf("got fret 12 at %v, want half the scale", dst[11])
	}
}

func TestPositionsAllocatesNothing(t *testing.T) {
	d := equal(t, 12, benchFrets)
	dst := make([]units.Length, 0, benchFrets)
	if n := testing.AllocsPerRun(100, func() { dst = d.Positions(dst[:0], 647.7) }); n != 0 {
		t.Errorf("got %v allocations, want none in a slice with room", n)
	}
}
