package bench

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
