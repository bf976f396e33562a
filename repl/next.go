package repl

import (
	"fmt"
	"strings"

	"example.org/saddlepoint/repl/bench"
)

func reportNext(s *Session) (*report, error) {
	r := &report{name: "next"}
	steps := s.record.Next()
	if len(steps) == 0 {
		r.notes = []string{"nothing to do yet: tell what is wanted and what was read"}
	}
	cautioned, tool := map[string]bool{}, ""
	for i, step := range steps {
		do, why := step.Do.In(s.rounded), step.Why.In(s.rounded)
		stale := make([]string, len(step.Stale))
		for j, of := range step.Stale {
			stale[j] = of.String()
		}
		r.rows = append(r.rows, []cell{
			{key: "order", val: i + 1}, {key: "step", val: do}, {key: "why", val: why}, {key: "stale", val: stale}, {key: "caution", val: orNull(step.Caution)},
			{key: "tool", val: orNull(step.Tool)},
		})
		if cautioned[step.Caution] {
			step.Caution = "" // shown once
		}
		cautioned[step.Caution] = true
		if step.Tool == tool {
			step.Tool = "" // as for the step before
		} else {
			tool = step.Tool
		}
		r.lines = append(r.lines, stepLines(fmt.Sprintf("%d. %s", i+1, do), why, step, stale)...)
	}
	for _, o := range bench.Orders(steps) {
		r.notes = append(r.notes, fmt.Sprintf("some do %s, in the order %s: %s", o.Name, strings.Trim(fmt.Sprint(o.Steps), "[]"), o.Why))
	}
	return r, nil
}

func orNull(s string) any {
	if s == "" {
		return nil
	}
	return s
}

// stepLines prints one step.
func stepLines(do, why string, step bench.Step, stale []string) []string {
	out := []string{do, "   why: " + why}
	if step.Tool != "" {
		out = append(out, "   with: "+step.Tool)
	}
	if len(stale) > 0 {
		out = append(out, "   then read again: "+strings.Join(stale, ", "))
	}
	if step.Caution != "" {
		out = append(out, "   caution: "+step.Caution)
	}
	return out
}
