package intonation_test

import (
	"testing"

	"example.org/saddlepoint/intonation"
	"example.org/saddlepoint/units"
)

// By hand: two strings of a saddle that slants rest at one place across and share
// what they differ by; the third, elsewhere, goes without. Two strings a
// millimetre apart both come right.
func TestSlantAcross(t *testing.T) {
	d := frets(t, 12)
	for _, row := range []struct {
		across, cents, left []float64
	}{
		{[]float64{5, 5, -5}, []float64{4, 0, 9}, []float64{2, -2, 0}},
		{[]float64{-5, 5, 5}, []float64{-3, 6, 0}, []float64{0, 3, -3}},
		{[]float64{0.5, -0.5}, []float64{4, 0}, []float64{0, 0}},
		{[]float64{-0.5, 0.5}, []float64{4, 0}, []float64{0, 0}},
	} {
		s := intonation.Saddle{Slants: true}
		var notes []intonation.Note
		for i, across := range row.across {
			s.Rests = append(s.Rests, intonation.Rest{String: i + 1, Across: units.Length(across)})
			notes = append(notes, intonation.Note{Reading: intonation.Reading{String: i + 1, High: 12, Cents: units.Cents(row.cents[i])}})
		}
		for _, by := range objectives {
			got := newRig(s, notes, d, scale).place(t, by, d)
			for i, want := range row.left {
				near(t, "left", float64(got.Left[i]), want, 0.02)
			}
		}
	}
}

// A saddle that may come forward and not go back stays where it is for a sharp
// string.
func TestTravelForwardOnly(t *testing.T) {
	d := frets(t, 12)
	s := intonation.Saddle{Rests: []intonation.Rest{{String: 1}}, Least: -3}
	for _, cents := range []units.Cents{7, -7} {
		r := intonation.Reading{String: 1, High: 12, Cents: cents}
		got := newRig(s, []intonation.Note{{Reading: r}}, d, scale).place(t, intonation.LeastWorst, d)
		want := move(t, r, d, scale)
		if cents > 0 {
			near(t, "short", float64(got.Short), want, 1e-12)
			want = 0
		}
		near(t, "move", float64(got.Move), want, 1e-12)
	}
}

// 100 strings may rest on a saddle, and no more.
func TestMostRests(t *testing.T) {
	d := frets(t, 12)
	var s intonation.Saddle
	for i := range 101 {
		s.Rests = append(s.Rests, intonation.Rest{String: i})
	}
	notes := []intonation.Note{{Reading: intonation.Reading{String: 99, High: 12, Cents: 3}}}
	_, err := s.Place(notes, intonation.LeastWorst, d, scale)
	wantError(t, err, "got 101 strings on a saddle, want at most 100")
	s.Rests = s.Rests[:100]
	if got, err := s.Place(notes, intonation.LeastWorst, d, scale); err != nil || len(got.Rests) != 100 {
		t.Errorf("got %d rests, %v, want 100", len(got.Rests), err)
	}
}
