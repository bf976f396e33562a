package bench_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

// pull is that of plain steel, rho pi d^2/4 (2 L f)^2.
func pull(thou, scale, hertz float64) float64 {
	d := thou * 0.0254e-3
	return 7850 * math.Pi * d * d / 4 * math.Pow(2*scale/1000*hertz, 2)
}

// A set that pulls harder than the one that came in.
func TestCautionPull(t *testing.T) {
	set := func(thous ...float64) (out []tension.String) {
		for _, x := range thous {
			out = append(out, ok(tension.Plain(units.Length(x*0.0254), tension.Steel))(t))
		}
		return out
	}
	total := func(thous ...float64) units.Force {
		return units.Force(pull(thous[0], 640, 196) + pull(thous[1], 640, 147))
	}
	was := func(s []tension.String) bench.Entry {
		return bench.Entry{Mood: bench.Was, Of: bench.Strings, Gauges: s}
	}
	for _, row := range []struct {
		what string
		was  []bench.Entry
		want []string
	}{
		{"lighter before", []bench.Entry{was(set(10, 13))}, []string{fmt.Sprintf("%.0f against %.0f: %s", total(11, 14), total(10, 13), bench.CautionPull)}},
		{"the last told counts", []bench.Entry{was(set(20, 20)), was(set(10, 13))}, []string{fmt.Sprintf("%.0f against %.0f: %s", total(11, 14), total(10, 13), bench.CautionPull)}},
		{"heavier before", []bench.Entry{was(set(10, 13)), was(set(12, 14))}, nil},
		{"the same before", []bench.Entry{was(set(11, 14))}, nil},
		{"another number of strings", []bench.Entry{was(set(5))}, nil},
		{"not told", nil, nil},
		{"no set", []bench.Entry{{Mood: bench.Did, Of: bench.Strings, Gauges: set(5, 5)}}, nil},
	} {
		r := &bench.Record{Scale: 640, Strings: set(11, 14), Tuning: []bench.Tone{{Hertz: 196}, {Hertz: 147}}, Entries: row.was}
		diff(t, row.what, row.want, r.Cautions())
	}
	untuned := &bench.Record{Scale: 640, Strings: set(11, 14), Entries: []bench.Entry{was(set(5, 5))}}
	diff(t, "untuned", []string(nil), untuned.Cautions())
}

// A string at 0.8 of its least breaking pull: 0.010 in wire breaks at 387 ksi
// (ASTM A228), 387e3 x 4.4482216/0.0254^2 Pa over pi d^2/4.
func TestCautionString(t *testing.T) {
	const psi = 4.4482216152605 / (0.0254 * 0.0254)
	least := 387e3 * psi * math.Pi * 0.000254 * 0.000254 / 4
	if math.Abs(least-135.2) > 0.1 { // 30.4 lbf, 387000 x 0.00007854
		t.Fatalf("got %v N, want 135.2", least)
	}
	at := func(share float64) units.Frequency {
		return units.Frequency(math.Sqrt(share * least / pull(10, 640, 1)))
	}
	for _, row := range []struct {
		shares []float64
		want   string
	}{
		{[]float64{0.799, 0.5}, ""},
		{[]float64{0.8001, 0.5}, "string 1 at 80%"},
		{[]float64{0.5, 0.95, 0.7999, 1.25}, "string 2 at 95%, string 4 at 125%"},
	} {
		r := &bench.Record{Scale: 640}
		for _, share := range row.shares {
			r.Strings, r.Tuning = append(r.Strings, set(t, "10p")...), append(r.Tuning, bench.Tone{Hertz: at(share)})
		}
		want := []string(nil)
		if row.want != "" {
			want = []string{row.want + " of the least pull that breaks it: " + bench.CautionString}
		}
		diff(t, fmt.Sprint(row.shares), want, r.Cautions())
	}
	// Wire outside the table has no breaking pull to be near to.
	thin := &bench.Record{Scale: 640, Strings: set(t, "3p"), Tuning: tones(t, "E6")}
	diff(t, "thin wire", []string(nil), thin.Cautions())
}

// Pulls and shares of breaking, worked out here.
func TestPullRows(t *testing.T) {
	r := &bench.Record{Scale: 640, Strings: set(t, "10p", "3p"), Tuning: append(tones(t, "A4"), bench.Tone{Hertz: 100})}
	for _, a4 := range []float64{440, 432} {
		if a4 != 440 { // else assumed
			r.A4 = units.Frequency(a4)
		}
		rows := ok(r.PullRows())(t)
		least := 387e3 * 4.4482216152605 / (0.0254 * 0.0254) * math.Pi * 0.000254 * 0.000254 / 4
		first, second := pull(10, 640, a4), pull(3, 640, 100)
		diff(t, "pulls", []units.Force{units.Force(first), units.Force(second)}, []units.Force{rows[0].Pull, rows[1].Pull})
		diff(t, "shares", []float64{first / least, nan}, []float64{rows[0].Breaking, rows[1].Breaking})
		diff(t, "total", units.Force(first+second), bench.TotalPull(rows))
		if rows[0].String != 1 || rows[1].String != 2 || rows[0].Estimated() || rows[0].Tone != r.Tuning[0] || rows[1].Is != r.Strings[1] {
			t.Errorf("got %+v, want strings 1 and 2 as told", rows)
		}
	}
	r.Strings = set(t, "46w", "wound(46thou, 18thou)")
	if rows := ok(r.PullRows())(t); !rows[0].Estimated() || rows[1].Estimated() {
		t.Errorf("got cores estimated %v and %v, want the first", rows[0].Estimated(), rows[1].Estimated())
	}
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Strings = nil }, "got no strings, want that told first, as in strings: 10p 13p 17p 26w 36w 46w"},
		{func(r *bench.Record) { r.Tuning = nil }, "got no tuning, want that told first, as in tuning: E4 B3 G3 D3 A2 E2"},
		{func(r *bench.Record) { r.Scale = 0 }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Tuning = r.Tuning[:2] }, "got gauges for 6 strings and notes for 2, want as many; record: 1 starts afresh"},
	} {
		_, err := with(six(t), row.change).PullRows()
		wantError(t, err, row.want)
	}
}

// Every fret: x_n = L (1 - 2^(-n/12)).
func TestFretRows(t *testing.T) {
	rows := ok(six(t).FretRows())(t)
	if len(rows) != 22 {
		t.Fatalf("got %d frets, want 22", len(rows))
	}
	at := func(n int) units.Length { return units.Length(640 * (1 - math.Exp2(-float64(n)/12))) }
	for i, row := range rows {
		n := i + 1
		diff(t, fmt.Sprint("fret ", n), bench.FretRow{Fret: n, Cents: units.Cents(100 * n), FromNut: at(n), Gap: at(n) - at(n-1), ToScale: 640 - at(n)}, row)
	}
	_, err := (&bench.Record{Frets: 22}).FretRows()
	wantError(t, err, "got no scale, want that told first, as in scale: 648mm")
	_, err = (&bench.Record{Scale: 640}).FretRows()
	wantError(t, err, "got no number of frets, want that told first, as in frets: 21")
	_, err = (&bench.Record{Scale: 640, Frets: -1}).FretRows()
	wantError(t, err, "got -1 frets, want 1 to 60")
}
