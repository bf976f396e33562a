package tension

import "example.org/saddlepoint/units"

// Material is what a string, a core or a wrap is made of.
type Material struct {
	Density units.Density
	Young   units.Stress // how stiffly it stretches; of a wrap it does not count
}

var (
	// Steel is plain carbon steel, and what strings are taken to be of unless told
	// otherwise: 7850 kg/m3 and 30 million psi, 206.8 GPa (spring-wire tables of
	// ASTM A228 wire; handbooks print 190 to 207 GPa). The strings of M. C. M.
	// Wright's dataset (2020) average 7814 kg/m3.
	Steel = Material{7850, 30e3 * units.KSI}

	// Nylon is drawn monofilament. Its density is that of extruded nylon 6/6
	// (handbook). No one number is its stiffness: it depends on pull, rate and
	// damp (N. Lynch-Aird and J. Woodhouse, Materials 10, 497, 2017). 5.7 GPa is
	// the mean of the plain strings of two sets of M. B. Anderson and R. G.
	// Beausoleil, J. Acoust. Soc. Am. 156(1), 683 (2024), which run from 3.8 to 8.3.
	Nylon = Material{1140, 5.7 * units.Gigapascal}

	// Fluorocarbon is drawn PVDF, its density from a handbook. 9.2 GPa is the mean
	// of the plain strings of one set of the same paper, which run from 5.7 to 13.
	Fluorocarbon = Material{1770, 9.2 * units.Gigapascal}
)
