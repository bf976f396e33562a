package bench_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// A unit weight that was stated is the string's, mu (2 L f)^2, and nothing of its
// pull is estimated then.
func TestPullOfStatedUnitWeights(t *testing.T) {
	r := three(t)
	r.Strings, r.UnitWeights = set(t, "42w", "46w", "11p"), []units.LinearDensity{0, 0.004, 0.0005}
	r.Tuning = []bench.Tone{{Hertz: 90}, {Hertz: 80}, {Hertz: 300}}
	rows := ok(r.PullRows())(t)
	pull := func(mu, f float64) units.Force { return units.Force(mu * math.Pow(2*0.640*f, 2)) }
	diff(t, "pulls", []units.Force{pull(0.004, 80), pull(0.0005, 300)}, []units.Force{rows[1].Pull, rows[2].Pull})
	for i, row := range []struct{ weighed, estimated bool }{{false, true}, {true, false}, {true, false}} {
		if rows[i].Weighed != row.weighed || rows[i].Estimated() != row.estimated {
			t.Errorf("string %d: got weighed %v and estimated %v, want %+v", i+1, rows[i].Weighed, rows[i].Estimated(), row)
		}
	}
}

// What pulls cannot be worked out of.
func TestPullErrors(t *testing.T) {
	for _, row := range []struct {
		change func(*bench.Record)
		want   string
	}{
		{func(r *bench.Record) { r.Cores = []units.Length{0.2, 0, 0, 0, 0, 0} }, "got a core of 0.2mm for string 1, which is plain, want a dot"},
		{func(r *bench.Record) { r.Plan.Scales = [2]units.Length{} }, "got no scale, want that told first, as in scale: 648mm"},
		{func(r *bench.Record) { r.Frets = 0 }, "got no number of frets, want that told first, as in frets: 21"},
		{func(r *bench.Record) { r.NutSpread = 0 }, "got no spread, want that told first, as in spread: 36mm 52mm"},
	} {
		rows, err := with(fanned(t), row.change).PullRows()
		wantError(t, err, row.want)
		if rows != nil {
			t.Errorf("got %d rows with %v, want none", len(rows), err)
		}
	}
}
