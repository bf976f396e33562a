package intonation

import (
	"fmt"

	"example.org/saddlepoint/fret"
	"example.org/saddlepoint/intonation/internal/solve"
	"example.org/saddlepoint/units"
)

// Shared is the best place for one saddle under several strings.
type Shared struct {
	Move    units.Length  // back positive
	Left    []units.Cents // what each reading becomes, in the order given
	Strings []Own         // one a string, in the order first met
	Calls   int           // how often the solver looked
}

// Own is one string's share in a shared saddle.
type Own struct {
	String  int
	Move    units.Length // where the saddle would go for this string alone
	Stagger units.Length // how much further back its break point should stand than the first string's: the difference of their setbacks
	Left    units.Cents  // its reading that stays furthest out, with its sign
}

// Share places one saddle under every string read, so that the reading left
// furthest out is as small as can be. Every reading falls as the saddle goes
// back, so that place is the one where the sharpest and the flattest are equally
// far out: a single root. Readings of one string at several pairs of frets all
// count; they were taken at one setback.
func Share(rs []Reading, d fret.Division, scale units.Length) (Shared, error) {
	if len(rs) == 0 {
		return Shared{}, fmt.Errorf("got no readings, want at least one")
	}
	pairs := make([]pair, len(rs))
	for i, r := range rs {
		p, err := r.lengths(d, scale)
		if err != nil {
			return Shared{}, fmt.Errorf("string %d: %w", r.String, err)
		}
		pairs[i] = p
	}
	var s Shared
	var err error
	if s.Move, s.Calls, err = leastWorst(pairs); err != nil {
		return Shared{}, err
	}
	for _, p := range pairs {
		s.Left = append(s.Left, p.after(s.Move))
	}
	if s.Strings, err = owns(rs, pairs, s.Left); err != nil {
		return Shared{}, err
	}
	return s, nil
}

// owns works out every string's share, each string once.
func owns(rs []Reading, pairs []pair, left []units.Cents) ([]Own, error) {
	var out []Own
	var first units.Length // the best setback of the first string
	for i, r := range rs {
		if seen(rs[:i], r.String) {
			continue
		}
		o := Own{String: r.String}
		var mine []pair
		for j := i; j < len(rs); j++ {
			switch {
			case rs[j].String != r.String:
				continue
			case rs[j].Setback != r.Setback:
				return nil, fmt.Errorf("string %d: got readings at setbacks of %v and %v, want them at one", r.String, r.Setback, rs[j].Setback)
			}
			mine = append(mine, pairs[j])
			if abs(left[j]) > abs(o.Left) {
				o.Left = left[j]
			}
		}
		var err error
		if o.Move, _, err = leastWorst(mine); err != nil {
			return nil, err
		}
		if i == 0 {
			first = r.Setback + o.Move
		}
		o.Stagger = r.Setback + o.Move - first
		out = append(out, o)
	}
	return out, nil
}

func seen(rs []Reading, str int) bool {
	for _, r := range rs {
		if r.String == str {
			return true
		}
	}
	return false
}

// leastWorst finds the move that leaves the sharpest and the flattest pair
// equally far out.
func leastWorst(pairs []pair) (by units.Length, calls int, err error) {
	near, far := pairs[0].move(), pairs[0].move()
	for _, p := range pairs[1:] {
		near, far = min(near, p.move()), max(far, p.move())
	}
	if near == far {
		return near, 0, nil
	}
	// A saddle stays behind every fret read, however flat another string is; all
	// but at a fret, the note there is sharper than any is flat.
	for _, p := range pairs {
		near = max(near, -p.high*(1-1e-12))
	}
	// At near the sharpest outdoes the flattest, at far the other way round: the
	// root lies between.
	x, calls, err := solve.Root(func(at float64) float64 {
		sharpest, flattest := extremes(pairs, units.Length(at))
		return float64(sharpest + flattest)
	}, float64(near), float64(far), 1e-9)
	return units.Length(x), calls, err
}

func extremes(pairs []pair, at units.Length) (sharpest, flattest units.Cents) {
	sharpest = pairs[0].after(at)
	flattest = sharpest
	for _, p := range pairs[1:] {
		c := p.after(at)
		sharpest, flattest = max(sharpest, c), min(flattest, c)
	}
	return sharpest, flattest
}

func abs(c units.Cents) units.Cents { return max(c, -c) }
