package repl

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// tellDate reads the day that everything told after it was told on.
//
//	date = digit digit digit digit "-" digit digit "-" digit digit .
func tellDate(t *telling) error {
	day, err := time.Parse(time.DateOnly, t.body)
	if err != nil || day.IsZero() {
		return &fault{t.at, !datelike(t.body), gotWant(units.Quote(t.body), "a date as in 2026-11-25", "")}
	}
	t.date, t.shown = day, t.body
	return nil
}

// datelike reports whether s is written as a date, be there such a day or not.
func datelike(s string) bool {
	return len(s) == len(time.DateOnly) && s[4] == '-' && s[7] == '-' && isDigits(s[:4]+s[5:7]+s[8:])
}

// putDate tells the day before the first line of a day that was, read or did
// something begins, so that a record kept by hand has its dates by itself. A
// batch is told as it stands, and a day told by hand rules until the clock has
// another. It returns what to say of it.
func (s *Session) putDate(ctx context.Context, line string) ([]string, error) {
	today := s.today()
	line = cutComment(line)
	head := strings.Fields(line[:max(0, headLen(line))])
	if today == "" || today == s.day || len(head) == 0 || head[0] == moodNames[bench.Want] || !lacksColon(head[0]) {
		return nil, nil
	}
	if s.day = today; s.date.Format(time.DateOnly) == today {
		return nil, nil
	}
	date := "date: " + today
	if _, _, err := s.read(ctx, date); err != nil {
		return nil, err
	}
	s.journal.lines[len(s.journal.lines)-1].put = true
	return []string{date}, nil
}

// today is the clock's day, or nothing without a clock.
func (s *Session) today() string {
	if s.Now == nil {
		return ""
	}
	return s.Now().Format(time.DateOnly)
}

// toldOf returns what was told of a field, for one who types its name alone: of
// what was, read or did, every line in order, and of others the last.
//
//	Told      = "record" | "name" | "scale" | "radius" | "spread" | "strings" | "tuning" | "core" | "unit" "weight" | "after" | "nut" "height" | "finger" | "stagger"
//	          | "weight" | "slant" | ( "saddle" | "height" ) "screw" | ( "screw" | "post" ) "gap" | "travel" | [ "more" ] "leaves" | "tuner" | "date" | "show" | "paper" | "digits"
//	          | "saddle" ( "stands" | "least" ) | "height" "room" | "seat" | "stock" | "heel" | "crowns" | "swing" | "fall"
//	          | "division" | "degrees" | "keep" | "temper" | "scales" | "square" | "widths" | "edge" | "beyond" | "zero" "fret" | "spacing" | "nut" "forward" | "setback"
//	          | "kerf" | "tang" | "drill" | "fretless" | "blind" | "read" ( "buzz" | "clean" )
//	          | ( "want" | "was" | "read" ) ( "relief" | "gap" | "action" | "cents" ) | ( "was" | "read" ) "saddle" | "was" "strings" | "want" "curve"
//	          | "did" ( "saddle" | "rod" | "strings" | "shim" | "slot" | "height" | "nut" | "crowns" | "pickup" | "room" ) .
func (s *Session) toldOf(w *word) ([]string, error) {
	var out []string
	for _, line := range s.journal.lines {
		text := strings.TrimSpace(cutComment(line.text))
		head := headLen(text)
		if !line.told || head < 0 || !strings.HasPrefix(strings.Join(strings.Fields(text[:head]), " ")+" ", w.name+" ") {
			continue
		}
		if !slices.Contains(moodNames[bench.Was:], strings.Fields(w.name)[0]) {
			out = out[:0]
		} else if day := line.day(); !day.IsZero() {
			text += "   # " + day.Format(time.DateOnly)
		}
		out = append(out, text)
	}
	if out == nil {
		return nil, fmt.Errorf("got nothing told of %s, want a line with a colon that tells it, as in %s", w.name, w.example)
	}
	return out, nil
}
