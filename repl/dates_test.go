package repl

import (
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// clock gives a session a clock, and returns what sets its day.
func clock(s *Session) func(day int) {
	now := time.Date(2026, 11, 24, 23, 59, 0, 0, time.FixedZone("", 3600))
	s.Now = func() time.Time { return now }
	return func(day int) { now = time.Date(2026, 11, day, 0, 1, 0, 0, now.Location()) }
}

// A session dates the first reading of each day; undo takes the date with it.
func TestDatesByTheClock(t *testing.T) {
	files := mapFiles{}
	s := New()
	s.Files = files
	setDay := clock(s)
	for _, c := range []struct {
		day        int
		line, want string
	}{
		{24, "scale: 640mm", "scale: 640mm"},
		{24, "want action 12: 1.5mm", "want action 12: 1.5mm"},
		{24, "read cents 12: +5 +x", `got "x", want a number`},
		{24, "history", "  1  scale: 640mm\n  2  want action 12: 1.5mm"},
		{24, "was saddle from tail: 12mm 13mm", "date: 2026-11-24\nwas saddle from tail: 12mm 13mm"},
		{24, "undo", "took back: date: 2026-11-24\ntook back: was saddle from tail: 12mm 13mm"},
		{24, "read relief held 1 14 at 7: 0.2mm", "date: 2026-11-24\nread relief held 1 14 at 7: 0.2mm"},
		{24, "did rod: eighth tighter", "did rod: eighth tighter"},
		{25, "# the next day", ""},
		{25, "read relief held 1 14 at 7: 0.1mm", "date: 2026-11-25\nread relief held 1 14 at 7: 0.1mm"},
		{25, "read relief", "read relief held 1 14 at 7: 0.2mm   # 2026-11-24\nread relief held 1 14 at 7: 0.1mm   # 2026-11-25"},
		{25, "date: 2020-02-29", "date: 2020-02-29"},
		{25, "did room: cold", "did room: cold"},
		{25, "did room", "did room: cold   # 2020-02-29"},
		{25, "date", "date: 2020-02-29"},
		{25, `save "a"`, "saved a"},
		{25, "undo", "took back: did room: cold"},
		{25, "undo", "took back: date: 2020-02-29"},
		{25, "did room: warm", "did room: warm"}, // still dated the 25th
		{26, "did room: warm", "date: 2026-11-26\ndid room: warm"},
		{26, `load "a" replace`, "loaded a"},
		{26, "did room: hot", "date: 2026-11-26\ndid room: hot"},
	} {
		setDay(c.day)
		if got := say(t, s, c.line); got != c.want {
			t.Errorf("%s: got %s, want %s", c.line, got, c.want)
		}
	}
	want := `record: 1
scale: 640mm
want action 12: 1.5mm
date: 2026-11-24
read relief held 1 14 at 7: 0.2mm
did rod: eighth tighter
# the next day
date: 2026-11-25
read relief held 1 14 at 7: 0.1mm
date: 2020-02-29
did room: cold
`
	if diff := cmp.Diff(want, files["a"]); diff != "" {
		t.Error(diff)
	}
	var days []string
	for _, e := range s.Record().Entries {
		days = append(days, e.When.Format(time.DateOnly))
	}
	if diff := cmp.Diff(strings.Fields("0001-01-01 2026-11-24 2026-11-24 2026-11-25 2020-02-29 2026-11-26"), days); diff != "" {
		t.Error(diff)
	}
}

// A batch is told as it stands, clock or none.
func TestBatchPutsNoDate(t *testing.T) {
	var out strings.Builder
	s := New()
	clock(s)
	batch := "read relief held 1 14 at 7: 0.2mm\ndate: 2026-01-02\ndid rod: eighth tighter\nhistory\n"
	if err := s.Run(context.Background(), "-", strings.NewReader(batch), &out, Words); err != nil {
		t.Fatal(err)
	}
	want := "  1  read relief held 1 14 at 7: 0.2mm\n  2  date: 2026-01-02\n  3  did rod: eighth tighter\n"
	if out.String() != want {
		t.Errorf("got %s, want %s", out.String(), want)
	}
	if got := say(t, s, "read relief held 1 14 at 7: 0.2mm"); got != "date: 2026-11-24\nread relief held 1 14 at 7: 0.2mm" {
		t.Errorf("after a batch: got %s", got)
	}
}

func TestDateRefused(t *testing.T) {
	for body, want := range map[string]string{
		"25.11.2026":          `got "25.11.2026", want a date as in 2026-11-25`,
		"2026-11-5":           `got "2026-11-5", want a date as in 2026-11-25`,
		"2026-02-29":          `got "2026-02-29", want a date as in 2026-11-25`,
		"2026-13-01":          `got "2026-13-01", want a date as in 2026-11-25`,
		"0001-01-01":          `got "0001-01-01", want a date as in 2026-11-25`,
		"2026-11-25 10:00":    `got "2026-11-25 10:00", want a date as in 2026-11-25`,
		"2026-11-25T10:00:00": `got "2026-11-25T10:00:00", want a date as in 2026-11-25`,
		"today":               `got "today", want a date as in 2026-11-25`,
	} {
		if got := say(t, New(), "date: "+body); got != want {
			t.Errorf("%s: got %s, want %s", body, got, want)
		}
	}
}
