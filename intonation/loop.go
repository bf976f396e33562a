package intonation

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/units"
)

// Round is one round at the bench: the saddle moved, the string retuned and read
// again at the same pair of frets.
type Round struct {
	Moved units.Length // back positive; 0 where only the reading was repeated
	Cents units.Cents
}

// Learned is what a string's own history makes of its next move.
type Learned struct {
	Move  units.Length // back positive
	Band  units.Length // plus or minus, from the tuner's error and the slope's
	Slope float64      // how much of the textbook's change this string has shown, 1 being all
	Doubt float64      // standard error of Slope
	Worth bool         // what it reads now lies outside the tuner's error: move; otherwise stop
	// Apart is the most by which two readings differ that were taken at one
	// setting. Suspect says that this is more than the tuner's error: the string
	// or the finger is not steady.
	Apart   units.Cents
	Suspect bool
}

// Bounds of what a string can physically show of the textbook's change, and how
// far strings usually lie from it (our judgement).
const (
	leastSlope, mostSlope = 0.7, 1.3
	usualSlope            = 0.12 // standard deviation about 1
)

// sameSetting is how near two settings count as one: no saddle is set closer.
const sameSetting = units.Millimetre / 1000

// logged is a reading as the loop sees it.
type logged struct {
	setback units.Length // since the first
	change  float64      // cents that the textbook says it changed by since the first
	cents   float64
}

// Learn works out the next move of one string's saddle from its first reading and
// the rounds since, in order: the first move by geometry, later ones by the slope
// that this string has shown, weighted by the readings' errors and bounded to
// what is physically possible. tuner is the error of one note.
func Learn(first Reading, rounds []Round, d fret.Division, scale units.Length, tuner units.Cents) (Learned, error) {
	if !(tuner > 0) || math.IsInf(float64(tuner), 0) {
		return Learned{}, fmt.Errorf("got a tuner's error of %v, want more than 0", tuner)
	}
	history, err := tell(first, rounds, d, scale)
	if err != nil {
		return Learned{}, err
	}
	var out Learned
	out.Slope, out.Doubt = shown(history, math.Sqrt2*float64(tuner))
	now, times := present(history)
	out.Worth = math.Abs(now) > float64(tuner)
	out.Apart = spread(history)
	out.Suspect = out.Apart > tuner

	r := first
	r.Cents = units.Cents(now / out.Slope)
	r.Setback += history[len(history)-1].setback
	if out.Move, err = Move(r, d, scale); err != nil {
		return Learned{}, err
	}
	band, err := Band(r, d, scale, tuner/units.Cents(out.Slope*math.Sqrt(times)))
	if err != nil {
		return Learned{}, err
	}
	out.Band = units.Length(math.Hypot(float64(band), out.Doubt/out.Slope*float64(out.Move)))
	return out, nil
}

// tell puts the readings in step.
func tell(first Reading, rounds []Round, d fret.Division, scale units.Length) ([]logged, error) {
	textbook, err := first.lengths(d, scale)
	if err != nil {
		return nil, err
	}
	textbook.cents = 0
	history := []logged{{cents: float64(first.Cents)}}
	read := first
	var setback units.Length
	for _, r := range rounds {
		setback += r.Moved
		if err := textbook.checkMove(setback, first.High); err != nil {
			return nil, err
		}
		now := textbook
		now.high += setback
		now.cents, read.Cents = r.Cents, r.Cents
		if err := now.check(read); err != nil {
			return nil, err
		}
		history = append(history, logged{setback, float64(textbook.after(setback)), float64(r.Cents)})
	}
	return history, nil
}

// present is what the string reads as it stands, the mean of the readings since
// the last move, and how many those were. What the earlier ones say of it is only
// as good as the slope, so they say nothing here.
func present(history []logged) (now, times float64) {
	last := history[len(history)-1]
	for i := len(history) - 1; i >= 0 && same(history[i], last); i-- {
		now += history[i].cents
		times++
	}
	return now / times, times
}

func same(a, b logged) bool { return math.Abs(float64(a.setback-b.setback)) < float64(sameSetting) }

// spread is the most by which two readings of one setting differ.
func spread(history []logged) units.Cents {
	sorted := slices.Clone(history)
	slices.SortFunc(sorted, func(a, b logged) int { return cmp.Compare(a.setback, b.setback) })
	var most, low, high float64
	for i, h := range sorted {
		if i == 0 || !same(sorted[i-1], h) {
			low, high = h.cents, h.cents
		}
		low, high = min(low, h.cents), max(high, h.cents)
		most = max(most, high-low)
	}
	return units.Cents(most)
}

// shown fits a straight line to the readings, each off by doubt, over the changes
// that the textbook gives, its slope held near 1.
func shown(history []logged, doubt float64) (slope, slopeDoubt float64) {
	n := float64(len(history))
	mean := 0.0
	for _, h := range history {
		mean += h.change / n
	}
	w := 1 / (doubt * doubt)
	prior := 1 / (usualSlope * usualSlope)
	a, b := prior, prior
	for _, h := range history {
		x := h.change - mean // which adds up to 0, so that the cents' own mean falls out
		a += w * x * x
		b += w * x * h.cents
	}
	return math.Min(mostSlope, math.Max(leastSlope, b/a)), 1 / math.Sqrt(a)
}
