package tension

import "example.org/saddlepoint/units"

// Strung is a string at its pitch over its speaking length.
type Strung struct {
	String String
	Pitch  units.Frequency
	Length units.Length
}

// Pull returns the string's tension.
func (s Strung) Pull() units.Force { return Pull(s.String.UnitWeight, s.Pitch, s.Length) }

// BreakingShare returns the pull as a share of the least that breaks the
// string, 1 at breaking. Wire outside the table of strengths is an error.
func (s Strung) BreakingShare() (float64, error) {
	least, err := s.String.Breaking()
	if err != nil {
		return 0, err
	}
	return s.Pull().Over(least), nil
}

// Total returns the pull of a whole set.
func Total(set []Strung) units.Force {
	var sum units.Force
	for _, s := range set {
		sum += s.Pull()
	}
	return sum
}
