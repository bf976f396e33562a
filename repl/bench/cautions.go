package bench

import (
	"fmt"
	"strings"
)

// Cautions, each shown once on the step that needs it (common practice, no
// source). They do not replace an experienced or licensed repairer, nor local
// rules for dust and workshop safety.
const (
	CautionRod = "ease the strings first; loosen a little before tightening; use the right key; stop if it binds, and have an experienced repairer look"
	// CautionHeights is for raising and lowering saddles.
	CautionHeights = "a one-piece saddle is sanded from beneath, and cannot be made taller again: stop early; wear a dust mask"
	// CautionSlot is for the nut.
	CautionSlot = "a slot can be lowered, not raised: stop while there is some left, string up and read again; wear a dust mask"
	// CautionSaddle is for moving a saddle.
	CautionSaddle = "slacken the string before the saddle slides under it; going back, pass the mark a little and come forward to it; going forward, stop short"
	// CautionShape is for a saddle that does not move.
	CautionShape = "what is filed off the top of a saddle cannot be put back, and lowers the string where it reaches the line: little at a time; wear a dust mask"
	// CautionPickup is for reading cents.
	CautionPickup = "lower the pickups first, and cover them from filings; let the room be at its usual warmth"
	// CautionString is for strings near their breaking pull.
	CautionString = "never stand over a string near breaking; wear glasses, and hold the waste end when cutting"
	// CautionPull is for a set that pulls harder than the one before.
	CautionPull = "this set pulls harder than the one it came with: check that neck and bridge are made for it, and that the strings fit their slots; if the top rises or the bridge lifts, stop, slacken, and ask an experienced repairer"
	// Estimate is for every prediction.
	Estimate = "amounts are estimates from the readings: move, retune, read again, and finish by the tuner"
)

// nearBreaking is the share of its least breaking pull from which a string
// counts as near breaking (our judgement).
const nearBreaking = 0.8

// Cautions returns those that the set gives rise to, with their figures: a set
// that pulls harder than the one that it came with, at the same tuning and
// scale, and strings near their least breaking pull.
func (r *Record) Cautions() []string {
	rows, err := r.PullRows()
	if err != nil {
		return nil // not enough told, or nothing to go by
	}
	var out []string
	was, ok := r.lastTold(Was, Strings)
	if ok && len(was.Gauges) == len(rows) {
		old, err := r.pulls(was.Gauges)
		now, before := TotalPull(rows), TotalPull(old)
		if err == nil && now > before {
			out = append(out, fmt.Sprintf("%.0f against %.0f: %s", now, before, CautionPull))
		}
	}
	var near []string
	for _, p := range rows {
		if p.Breaking >= nearBreaking {
			near = append(near, fmt.Sprintf("string %d at %.0f%%", p.String, 100*p.Breaking))
		}
	}
	if near != nil {
		out = append(out, fmt.Sprintf("%s of the least pull that breaks it: %s", strings.Join(near, ", "), CautionString))
	}
	return out
}
