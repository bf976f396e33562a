package tension_test

import (
	"errors"
	"math/rand"
	"strings"
	"testing"

	"example.org/saddlepoint/tension"
	"example.org/saddlepoint/units"
)

func TestParseString(t *testing.T) {
	for _, row := range []struct {
		in          string
		gauge, core units.Length // core 0: plain
		estimated   bool
		out         string
	}{
		{"10p", 0.254, 0, false, "10p"},
		{"9.5p", 0.2413, 0, false, "9.5p"},
		{".010p", 0.254, 0, false, "10p"},
		{"0.0095p", 0.2413, 0, false, "9.5p"},
		{"10 p", 0.254, 0, false, "10p"},
		{"46w", 1.1684, 0.46736, true, "46w"},
		{".046w", 1.1684, 0.46736, true, "46w"},
		{"10.25w", 0.26035, 0.10414, true, "10.25w"},
		{"plain(0.43mm)", 0.43, 0, false, "plain(0.43mm)"},
		{"plain( 17thou )", 0.4318, 0, false, "17p"},
		{"plain(1/64in)", 0.396875, 0, false, "15.625p"},
		{"wound(46thou, 18thou)", 1.1684, 0.4572, false, "wound(1.1684mm, 0.4572mm)"},
		{"wound(46thou,18thou)", 1.1684, 0.4572, false, "wound(1.1684mm, 0.4572mm)"},
		{"wound(\t1.2mm ,  0.4mm )", 1.2, 0.4, false, "wound(1.2mm, 0.4mm)"},
	} {
		s, err := tension.ParseString(row.in)
		if err != nil {
			t.Error(err)
			continue
		}
		near(t, row.in+": gauge", float64(s.Gauge), float64(row.gauge), 1e-15)
		near(t, row.in+": core", float64(s.Core), float64(row.core), 1e-15)
		if s.CoreEstimated != row.estimated {
			t.Errorf("%s: got a core estimated: %v, want %v", row.in, s.CoreEstimated, row.estimated)
		}
		mu := plain(t, s.Gauge, tension.Steel.Density).UnitWeight
		if row.core != 0 {
			w, err := tension.Wound(s.Gauge, s.Core, tension.Steel, tension.Steel)
			if err != nil {
				t.Fatal(err)
			}
			mu = w.UnitWeight
		}
		if s.UnitWeight != mu {
			t.Errorf("%s: got %v, want that of steel, %v", row.in, s.UnitWeight, mu)
		}
		if got := s.String(); got != row.out {
			t.Errorf("%s: got text %s, want %s", row.in, got, row.out)
		}
		if back, err := tension.ParseString(row.out); err != nil || back != s {
			t.Errorf("%s: got %+v, %v back from %s, want %+v", row.in, back, err, row.out, s)
		}
	}
}

func TestParseStringErrors(t *testing.T) {
	const want = ", want a string such as 10p, 46w, plain(0.43mm) or wound(46thou, 18thou)"
	const lengths = ", want a unit of length: mm, cm, m, in, thou, 64ths"
	for _, row := range []struct{ in, want string }{
		{"", `nothing: at byte 0: got nothing` + want},
		{"10", `"10": at byte 0: got "10"` + want},
		{"10px", `"10px": at byte 0: got "10px"` + want},
		{"10p x", `"10p x": at byte 0: got "10p x"` + want},
		{"-10p", `"-10p": at byte 0: got "-10p"` + want},
		{"10mm", `"10mm": at byte 0: got "10mm"` + want},
		{"p", `"p": at byte 0: got "p"` + want},
		{"NaNp", `"NaNp": at byte 0: got "NaNp"` + want},
		{"plain(0.43mm", `"plain(0.43mm": at byte 0: got "plain(0.43mm"` + want},
		{"0p", "got a string of 0mm, want more than 0 and at most 20mm"},
		{".9w", "got a string of 22.86mm, want more than 0 and at most 20mm"},
		{"1e308p", `"1e308p": at byte 0: got 1e+308p, want a number that fits`},
		{"plain(0mm)", "got a string of 0mm, want more than 0 and at most 20mm"},
		// Inside brackets the offset counts from the front of the whole input.
		{"plain()", `"plain()": at byte 6: got nothing, want a number`},
		{"plain(0.43)", `"plain(0.43)": at byte 10: got nothing` + lengths + ` (such as 0.43mm)`},
		{"plain(  0.43)", `"plain(  0.43)": at byte 12: got nothing` + lengths + ` (such as 0.43mm)`},
		{"plain(0,43mm)", `"plain(0,43mm)": at byte 7: got ",43mm"` + lengths + ` (write 0.43mm)`},
		{"plain(2c)", `"plain(2c)": at byte 6: got a number of cents, want a length in mm, cm, m, in, thou, 64ths`},
		{"plain(1mm 2)", `"plain(1mm 2)": at byte 9: got " 2", want nothing more`},
		{"wound(46thou)", `"wound(46thou)": at byte 6: got "46thou", want gauge and core, as in wound(46thou, 18thou)`},
		{"wound(46, 18thou)", `"wound(46, 18thou)": at byte 8: got nothing` + lengths + ` (such as 46mm)`},
		{"wound(46thou, 18)", `"wound(46thou, 18)": at byte 16: got nothing` + lengths + ` (such as 18mm)`},
		{"wound(46thou,18thou,1mm)", `"wound(46thou,18thou,1mm)": at byte 19: got ",1mm", want nothing more`},
		{"wound(18thou, 46thou)", "got a core of 1.1684mm, want more than 0 and less than the gauge of 0.4572mm"},
	} {
		s, err := tension.ParseString(row.in)
		wantError(t, err, row.want)
		if s != (tension.String{}) {
			t.Errorf("%s: got %+v beside an error, want no string", row.in, s)
		}
	}
}

func TestMarshal(t *testing.T) {
	for _, text := range []string{"10p", "46w", "plain(0.43mm)", "wound(1.1684mm, 0.4572mm)"} {
		var s tension.String
		if err := s.UnmarshalText([]byte(text)); err != nil {
			t.Fatal(err)
		}
		if got, err := s.MarshalText(); string(got) != text || err != nil {
			t.Errorf("got %s, %v, want %s", got, err, text)
		}
		before := s
		if err := s.UnmarshalText([]byte("10")); err == nil || s != before {
			t.Errorf("got %v, %v from bad text, want an error and %v kept", s, err, before)
		}
	}
	// A core that is stated as what an estimate would be is still stated.
	estimated, err := tension.ParseString("46w")
	if err != nil {
		t.Fatal(err)
	}
	stated, err := tension.Wound(estimated.Gauge, estimated.Core, tension.Steel, tension.Steel)
	if err != nil {
		t.Fatal(err)
	}
	if back, err := tension.ParseString(stated.String()); err != nil || back != stated {
		t.Errorf("got %+v, %v back from %v, want %+v", back, err, stated, stated)
	}
	// That a core was estimated is no more than a remark: it may be lost.
	odd, err := tension.WoundGauge(1.2345678, 0)
	if err != nil {
		t.Fatal(err)
	}
	if text, err := odd.MarshalText(); string(text) != odd.String() || err != nil {
		t.Errorf("got %s, %v, want %v", text, err, odd)
	}
	// Text that could not tell the metal is refused, and so is no string at all.
	nylon := plain(t, 0.7, 1100)
	_, err = nylon.MarshalText()
	wantError(t, err, "got plain(0.7mm) of 0.0004233296100712246kg/m, want a string that its text says all of")
	_, err = tension.String{}.MarshalText()
	wantError(t, err, "got plain(0mm) of 0kg/m, want a string that its text says all of")
}

// Every steel string's text gives back its gauge, core and unit weight.
func TestTextGivesBack(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 5000 {
		gauge := units.Length(20 * rnd.Float64() * rnd.Float64())
		wound, err := tension.Wound(gauge, gauge*units.Length(0.1+0.8*rnd.Float64()), tension.Steel, tension.Steel)
		if err != nil {
			t.Fatal(err)
		}
		estimated, err := tension.WoundGauge(gauge, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range []tension.String{plain(t, gauge, tension.Steel.Density), wound, estimated} {
			givesBack(t, s)
		}
	}
}

func givesBack(t *testing.T, s tension.String) {
	t.Helper()
	back, err := tension.ParseString(s.String())
	if err != nil {
		t.Fatal(err)
	}
	if back.Gauge != s.Gauge || back.Core != s.Core || back.UnitWeight != s.UnitWeight {
		t.Errorf("got %+v back from %v, want %+v", back, s, s)
	}
}

func FuzzParseString(f *testing.F) {
	for _, seed := range []string{"10p", "9.5p", ".010p", "46w", "plain(0.43mm)", "wound(46thou, 18thou)", "plain(", "wound(1mm,", "1e9w", "plain(25 1/2in)", "10"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, in string) {
		s, err := tension.ParseString(in)
		if err == nil {
			givesBack(t, s)
			return
		}
		if strings.ContainsAny(err.Error(), "\r\n") || s != (tension.String{}) {
			t.Errorf("%q: got %+v and error %q, want no string and one line", in, s, err)
		}
		var at *units.ParseError
		if errors.As(err, &at) && (at.Input != in || at.Offset < 0 || at.Offset > len(in)) {
			t.Errorf("%q: got an error at byte %d of %q, want it inside", in, at.Offset, at.Input)
		}
	})
}
