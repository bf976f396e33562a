package units_test

import (
	"math"
	"testing"

	"example.org/saddlepoint/units"
)

func thread(t *testing.T, s string) units.Thread {
	t.Helper()
	th, err := units.ParseThread(s)
	if err != nil {
		t.Fatal(err)
	}
	return th
}

// Source: threads_metric_coarse.csv: ISO 261 and 262 by way of an encyclopedia.
func TestCoarseThreads(t *testing.T) {
	for _, row := range rows(t, "threads_metric_coarse.csv", 16) {
		name := row["designation"]
		th := thread(t, name)
		if want := number(t, row["published_pitch_mm"]); float64(th) != want {
			t.Errorf("%s: got %v, want %vmm", name, th, want)
		}
		check(t, name+", an eighth of a turn", float64(th.Travel(0.125)), row["travel_per_eighth_turn_mm"])
		check(t, name+", a quarter", float64(th.Travel(0.25)), row["travel_per_quarter_turn_mm"])
		check(t, name+", a turn in thou", th.Travel(units.Turn).Thou(), row["pitch_thou"])
	}
}

// Source: threads_unified.csv: reference pages citing ANSI/ASME B1.1. A size and
// its threads are refused with the way to write them.
func TestUnifiedThreads(t *testing.T) {
	const want = ", want a thread such as M3, 40tpi or 0.5mm (write "
	for _, row := range rows(t, "threads_unified.csv", 11) {
		name, tpi := row["designation"], row["tpi"]+"tpi"
		th := thread(t, tpi)
		check(t, name, float64(th), row["pitch_mm"])
		check(t, name+" in inches", th.Travel(1).Inches(), row["pitch_in"])
		check(t, name+", a quarter of a turn", float64(th.Travel(0.25)), row["travel_per_quarter_turn_mm"])
		near(t, name+" threads per inch", th.PerInch(), number(t, row["tpi"]), 2)
		th, err := units.ParseThread(name)
		wantError(t, err, units.Quote(name)+": at byte 0: got "+units.Quote(name)+want+tpi+")")
		if th != 0 {
			t.Errorf("%s: got %v beside an error, want 0", name, th)
		}
	}
	_, err := units.ParseThread("4-40")
	wantError(t, err, `"4-40": at byte 0: got "4-40"`+want+`40tpi)`)
	_, err = units.ParseThread("000-120")
	wantError(t, err, `"000-120": at byte 0: got "000-120"`+want+`120tpi)`)
}

// Source: bench_rules.md rows 5 and 6 (common practice, recomputed): travel of
// the saddle screws that are found. The 12th moves half as far; see package action.
func TestSaddleScrews(t *testing.T) {
	for _, row := range []struct{ thread, mm string }{{"40tpi", "0.635"}, {"48tpi", "0.529"}, {"32tpi", "0.794"}, {"M3", "0.500"}} {
		check(t, row.thread, float64(thread(t, row.thread).Travel(1)), row.mm)
	}
	forty := thread(t, "40tpi")
	check(t, "row 5, a turn", forty.Travel(1).Inches(), ".02500")
	check(t, "row 5, a quarter", float64(forty.Travel(0.25)), "0.159")
	for _, l := range []units.Length{0, 1, -2.5, 0.0031} {
		near(t, l.String()+" there and back", float64(forty.Travel(forty.Turns(l))), float64(l), 2)
	}
	near(t, "turns", float64(thread(t, "M3").Turns(-1.25)), -2.5, 1)
}

func TestParseThread(t *testing.T) {
	for in, want := range map[string]units.Thread{
		"0.5mm": 0.5, "25thou": 0.635, "1/40 in": 0.635, "40tpi": 0.635, "25.4 tpi": 1, "M3.5": 0.6, "1e-3m": 1,
	} {
		if got := thread(t, in); got != want {
			t.Errorf("%s: got %v, want %v", in, got, want)
		}
	}
	const want = ", want a thread such as M3, 40tpi or 0.5mm"
	const coarse = `, want a coarse metric thread from M1 to M12 (or write the travel of one turn, such as 0.5mm)`
	for _, row := range []struct{ in, want string }{
		{"", `nothing: at byte 0: got nothing, want a number`},
		{"-0.5mm", `"-0.5mm": at byte 0: got "-0.5mm", want a number`},
		{"0.5", `"0.5": at byte 0: got "0.5"` + want},
		{"7c", `"7c": at byte 0: got "7c"` + want},
		{"0,5mm", `"0,5mm": at byte 0: got "0,5mm"` + want + ` (write 0.5mm)`},
		{"0.5mm x", `"0.5mm x": at byte 5: got " x", want nothing more`},
		{"0mm", `"0mm": at byte 0: got "0mm", want a thread of more than 0`},
		{"0tpi", `"0tpi": at byte 0: got 0tpi, want more than 0`},
		{"M3.2", `"M3.2": at byte 0: got "M3.2"` + coarse},
		{"M3x0.35", `"M3x0.35": at byte 0: got "M3x0.35"` + coarse},
		{"M", `"M": at byte 0: got "M"` + coarse},
		{"m3", `"m3": at byte 0: got "m3", want a number`},
		{"4-", `"4-": at byte 0: got "4-"` + want},
		{"-40", `"-40": at byte 0: got "-40", want a number`},
		{"4-4000", `"4-4000": at byte 0: got "4-4000"` + want},
		{"M3-40", `"M3-40": at byte 0: got "M3-40"` + coarse},
	} {
		th, err := units.ParseThread(row.in)
		wantError(t, err, row.want)
		if th != 0 {
			t.Errorf("%q: got %v beside an error, want 0", row.in, th)
		}
	}
	for _, th := range []units.Thread{0, -0.5, units.Thread(math.NaN()), units.Thread(math.Inf(1))} {
		if text, err := th.MarshalText(); err == nil {
			t.Errorf("got %s from %v, want an error", text, float64(th))
		}
	}
}
