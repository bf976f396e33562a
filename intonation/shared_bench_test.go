package intonation_test

import (
	"testing"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// pairs are three saddles of two strings each, every string read at three frets.
func pairs() (saddles [3]intonation.Saddle, notes [3][]intonation.Note) {
	cents := [6]units.Cents{5, 3, 9, -1, 2, 4}
	for i, c := range cents {
		s := &saddles[i/2]
		s.Rests = append(s.Rests, intonation.Rest{String: i + 1, Across: units.Length(26.25 - 10.5*float64(i))})
		for k, high := range []int{7, 12, 17} {
			r := intonation.Reading{String: i + 1, High: high, Cents: c + units.Cents(k*i%4)}
			notes[i/2] = append(notes[i/2], intonation.Note{Reading: r})
		}
	}
	return saddles, notes
}

func placeAll(tb testing.TB, p *intonation.Placer, by intonation.Objective, d fret.Division, saddles [3]intonation.Saddle, notes [3][]intonation.Note) {
	for i, s := range saddles {
		set, err := p.Place(s, notes[i], by, d, scale)
		if err != nil || len(set.Left) != 6 || len(set.Rests) != 2 {
			tb.Fatal(set, err)
		}
	}
}

// BenchmarkShared places three shared saddles of two strings each, read at three
// frets, least-worst, in memory of the caller's; at most 25 times BenchmarkMap in
// the same run.
func BenchmarkShared(b *testing.B) {
	d := frets(b, 22)
	saddles, notes := pairs()
	var p intonation.Placer
	placeAll(b, &p, intonation.LeastWorst, d, saddles, notes)
	b.ReportAllocs()
	b.ResetTimer()
	for i := 0; i < b.N; i++ {
		placeAll(b, &p, intonation.LeastWorst, d, saddles, notes)
	}
}

// A Placer allocates nothing once it has grown, whatever the objective, and of a
// saddle that slants too.
func TestPlacerAllocatesNothing(t *testing.T) {
	d := frets(t, 22)
	saddles, notes := pairs()
	for n := range 4 {
		for i := range saddles {
			saddles[i].Slants = n%2 == 1
		}
		var p intonation.Placer
		by := objectives[n/2]
		placeAll(t, &p, by, d, saddles, notes)
		if got := testing.AllocsPerRun(20, func() { placeAll(t, &p, by, d, saddles, notes) }); got != 0 {
			t.Errorf("objective %d, slants %v: got %v allocations, want none", by, saddles[0].Slants, got)
		}
	}
}

// A Placer's next answer owes nothing to the last.
func TestPlacerForgets(t *testing.T) {
	d := frets(t, 22)
	saddles, notes := pairs()
	var p intonation.Placer
	placeAll(t, &p, intonation.LeastWorst, d, saddles, notes)
	if _, err := p.Place(saddles[0], nil, intonation.LeastWorst, d, scale); err == nil {
		t.Error("got no error for no notes")
	}
	got, err := p.Place(saddles[1], notes[1][1:5], intonation.LeastSquares, d, scale)
	if err != nil {
		t.Fatal(err)
	}
	want, err := saddles[1].Place(notes[1][1:5], intonation.LeastSquares, d, scale)
	if err != nil {
		t.Fatal(err)
	}
	if got.Move != want.Move || got.Calls != want.Calls || len(got.Left) != 4 || got.Left[3] != want.Left[3] || got.Rests[1] != want.Rests[1] || got.RMS != want.RMS {
		t.Errorf("got %+v, want %+v as of a new Placer", got, want)
	}
}
