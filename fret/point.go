package fret

import "example.org/saddlepoint/units"

// Point is a place on the plan of a board: X from the nut along the centre line,
// towards the saddles, and Y across it, towards the treble edge.
type Point struct{ X, Y units.Length }
