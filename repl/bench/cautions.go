package bench

import (
	"fmt"
	"math"

	"example.org/saddlepoint/units"
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
	// CautionPickup is for reading cents.
	CautionPickup = "lower the pickups first, and cover them from filings; let the room be at its usual warmth"
	// CautionString is for strings near their breaking pull.
	CautionString = "never stand over a string near breaking; wear glasses, and hold the waste end when cutting"
	// CautionPull is for a set that pulls harder than the one before.
	CautionPull = "this set pulls harder than the one it came with: check that neck and bridge are made for it, and that the strings fit their slots; if the top rises or the bridge lifts, stop, slacken, and ask an experienced repairer"
	// Estimate is for every prediction.
	Estimate = "amounts are estimates from the readings: move, retune, read again, and finish by the tuner"
)

// nearBreaking is the share of its least breaking pull from which a string is
// cautioned of (our judgement).
const nearBreaking = 0.8

// Cautions returns those that the set itself calls for, with their figures.
func (r *Record) Cautions() []string {
	rows, err := r.PullRows()
	if err != nil {
		return nil
	}
	var out []string
	if before := r.before(); before > 0 {
		if now := TotalPull(rows); now > before {
			out = append(out, fmt.Sprintf("%.0f against %.0f: %s", now, before, CautionPull))
		}
	}
	for _, p := range rows {
		if !math.IsNaN(p.Breaking) && p.Breaking >= nearBreaking {
			out = append(out, fmt.Sprintf("string %d is at %.0f%% of its least breaking pull: %s", p.String, 100*p.Breaking, CautionString))
		}
	}
	return out
}

// before returns the pull of the set that the instrument came with, at the same
// tuning and scale, or 0 where the record does not know.
func (r *Record) before() units.Force {
	for i := len(r.Entries) - 1; i >= 0; i-- {
		if e := r.Entries[i]; e.Mood == Was && e.Of == Strings {
			was := *r
			was.Strings = e.Gauges
			if was.Tuning == nil || len(was.Strings) != len(was.Tuning) {
				return 0
			}
			rows, err := was.PullRows()
			if err != nil {
				return 0
			}
			return TotalPull(rows)
		}
	}
	return 0
}
