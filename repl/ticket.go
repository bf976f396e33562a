package repl

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// reportTicket is what to hand the owner: what was found, what was done, how it
// reads now and what is left, each as it was told.
func reportTicket(s *Session) (*report, error) {
	if s.record.Empty() {
		return nil, errors.New("got nothing told, want the instrument, what was read and what was done")
	}
	r := &report{name: "ticket"}
	if s.record.Name != "" {
		r.lines = append(r.lines, s.record.Name)
	}
	if s.Now != nil {
		r.lines = append(r.lines, s.Now().Format("2 January 2006"))
	}
	parts := map[string]*report{}
	for _, name := range []string{"found", "done", "reads now", "left"} {
		p := &report{name: name}
		parts[name] = p
		r.parts = append(r.parts, p)
	}
	s.journal.sortInto(parts)
	for _, step := range s.record.Next() {
		parts["left"].say(step.Do.In(s.rounded))
	}
	for _, p := range r.parts {
		if p.rows == nil {
			p.lines = []string{"nothing"}
		}
	}
	cautions := &report{name: "cautions"}
	for _, c := range append(s.record.Cautions(), deferral) {
		cautions.say(c)
	}
	r.parts = append(r.parts, cautions)
	return r, nil
}

// sortInto sorts what was told into found, done and reads now. Of what was read more
// than once, before what was done or after it, the last stands.
func (j *journal) sortInto(parts map[string]*report) {
	done := false
	last := map[string]int{}
	for i, line := range j.lines {
		if head := headOf(line.text); line.told && strings.HasPrefix(head, "did ") {
			done = true
		} else if line.told {
			last[fmt.Sprint(done, head)] = i
		}
	}
	done = false
	for i, line := range j.lines {
		if !line.told {
			continue
		}
		text := strings.TrimSpace(cutComment(line.text))
		say := func(part, text string) { parts[part].sayOn(line.day(), text) }
		switch mood, _, _ := strings.Cut(text, " "); {
		case mood == "did":
			done = true
			say("done", strings.TrimPrefix(text, "did "))
		case mood == "read" && last[fmt.Sprint(done, headOf(line.text))] != i:
			// it was read again
		case mood == "was", mood == "read" && !done:
			say("found", text)
		case mood == "read", mood == "strings:" && done:
			say("reads now", text)
		}
	}
}

// headOf is what stands before the colon of a line that tells.
func headOf(line string) string {
	if colon := headLen(cutComment(line)); colon >= 0 {
		return strings.Join(strings.Fields(line[:colon]), " ")
	}
	return ""
}

// sayOn adds a line that was told, with its day where that is known.
func (r *report) sayOn(day time.Time, text string) {
	row := []cell{{key: "date"}, {key: "text", val: text}}
	if !day.IsZero() {
		row[0].val = day.Format(time.DateOnly)
		text = day.Format(time.DateOnly) + "  " + text
	}
	r.lines = append(r.lines, text)
	r.rows = append(r.rows, row)
}

// say adds a line of text to a report, one row of JSON each.
func (r *report) say(text string) {
	r.lines = append(r.lines, text)
	r.rows = append(r.rows, []cell{{key: "text", val: text}})
}
