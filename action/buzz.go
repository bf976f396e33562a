package action

import (
	"cmp"
	"fmt"
	"slices"

	"example.org/saddlepoint/units"
)

// Fault is what may make a string buzz.
type Fault uint8

// Faults that the side view can show, and the one that it cannot.
const (
	SlotLow    Fault = iota // the nut's slot stands too low
	CrownProud              // one crown stands over its neighbours
	CrownWorn               // one crown lies under its neighbours
	BowSmall                // too little relief, or a neck bent back
	BowLarge                // too much relief
	LastProud               // the crowns beyond the bow rise, instead of running on straight
	SaddleLow               // the string is too low at the saddle
	Elsewhere               // something loose sounds along, or the string does not sit clean at nut or saddle
)

// String names the fault in a few words.
func (f Fault) String() string {
	if int(f) < len(faultNames) {
		return faultNames[f]
	}
	return fmt.Sprintf("fault %d", uint8(f))
}

var faultNames = [...]string{SlotLow: "slot low", CrownProud: "crown proud", CrownWorn: "crown worn", BowSmall: "relief small",
	BowLarge: "relief large", LastProud: "last crowns proud", SaddleLow: "saddle low", Elsewhere: "elsewhere"}

// Suspect is one fault that would explain a buzz, and how well.
type Suspect struct {
	Fault    Fault
	Fret     int          // the crown it is about, or 0
	By       units.Length // the least of it, on top of the side view, that explains as much; 0 for Elsewhere
	Explains []int        // the notes told to buzz that it would make buzz; 0 is the open string
	Spoils   []int        // the notes told to be clean that it would make buzz as well
	Play     int          // a note not told, the lowest, that would buzz by this fault and not by the next suspect; -1 for none
}

// How a fault is weighed. A note that rings clean where it should buzz speaks
// louder than a buzz that is explained, and a fault of twice its usual size is
// the less likely by a quarter of a note (our judgement, all four).
const (
	perExplained = 4
	perSpoiled   = 8
	mostUsual    = 6 // a fault is followed up to so many times its usual size,
	perUsual     = 8 // in so many steps each
)

// mostNotes bounds the work, which grows as the cube of the frets.
const mostNotes = 60

// Suspects ranks what may make a string buzz, from the notes where it was heard
// and those told to be clean; a note is the fret pressed down, 0 the open string.
// Each fault is laid over the side view and made larger until it explains most,
// and the suspects go by what they explain and what they spoil, and by how large
// the fault would have to be, against the size that such faults usually have. A
// place in that order is a suspicion, to be measured, not a finding. Elsewhere is
// always last among them, since no side view can show it, and alone where no fault
// of a likely size explains a note. Where the side view touches by itself, a fault
// that explains no more on top is left out, and SaddleLow stands for all of them,
// by 0.
//
// Measured faults are those of what was read lately, such as the bow after a
// reading of relief: they are taken to be a third of their usual size.
//
// A fault of the bow leaves the levels at the saddle where they are, and at the
// nut the slot over the plane of the frets.
func (n Neck) Suspects(str int, l Line, w Swing, buzzing, clean []int, measured ...Fault) ([]Suspect, error) {
	if err := n.Check(); err != nil {
		return nil, err
	}
	if err := w.Check(n.Scale); err != nil {
		return nil, err
	}
	if str < 1 || str > n.Strings {
		return nil, fmt.Errorf("got string %d, want 1 to %d", str, n.Strings)
	}
	if !(finite(l.Nut) && finite(l.Saddle)) {
		return nil, fmt.Errorf("got a string at %v and %v, want finite levels", l.Nut, l.Saddle)
	}
	if frets := n.Division.Frets(); frets > mostNotes {
		return nil, fmt.Errorf("got %d frets, want at most %d", frets, mostNotes)
	}
	told, err := n.told(buzzing, clean)
	if err != nil {
		return nil, err
	}
	faults := n.faults()
	for i, f := range faults {
		if slices.Contains(measured, f.fault) {
			faults[i].usual /= 3
		}
	}
	return n.view(str, l, w).rank(faults, told), nil
}

// verdict is what was told of a note.
type verdict uint8

const (
	untold verdict = iota
	buzzes
	rings
)

// told gathers what was told, a verdict a note; the last fret has no crown
// beyond it to touch.
func (n Neck) told(buzzing, clean []int) ([]verdict, error) {
	if len(buzzing) == 0 {
		return nil, fmt.Errorf("got no note that buzzes, want at least one")
	}
	told := make([]verdict, n.Division.Frets())
	for i, f := range append(slices.Clip(buzzing), clean...) {
		is := buzzes
		if i >= len(buzzing) {
			is = rings
		}
		if f < 0 || f >= len(told) {
			return nil, fmt.Errorf("got a note at fret %d, want 0 to %d, the last with a crown beyond it", f, len(told)-1)
		}
		if told[f] != untold && told[f] != is {
			return nil, fmt.Errorf("got fret %d both buzzing and clean, want one of them", f)
		}
		told[f] = is
	}
	return told, nil
}

// sideView is one string over its crowns. The first point is the nut, the last
// the saddle.
type sideView struct {
	at    []point
	swing [][]units.Length // swing[f][m]: what a note at f asks for over crown m
}

func (n Neck) view(str int, l Line, w Swing) sideView {
	v := sideView{at: []point{{0, l.Nut}}}
	frets := n.Division.Frets()
	for f := 1; f <= frets; f++ {
		v.at = append(v.at, n.point(str, f))
	}
	v.at = append(v.at, point{n.Scale, l.Saddle})
	for f := range frets {
		swing := make([]units.Length, frets+1)
		for m := f + 1; m <= frets; m++ {
			swing[m] = w.At(n.Scale, n.Scale-v.at[f].x, v.at[m].x-v.at[f].x)
		}
		v.swing = append(v.swing, swing)
	}
	return v
}

// buzzes reports whether a note touches a crown beyond it.
func (v sideView) buzzes(note int) bool {
	last := len(v.at) - 1
	s := span{v.at[note], v.at[last]}
	for m := note + 1; m < last; m++ {
		if s.over(v.at[m]) < v.swing[note][m] {
			return true
		}
	}
	return false
}

// bent is a fault laid over a side view: how far it moves every point, up
// positive, for one millimetre of it.
type bent struct {
	fault Fault
	fret  int
	usual units.Length // the size that such a fault often has (our judgement)
	up    func(p int) float64
}

// faults lists every fault that the side view can show.
func (n Neck) faults() []bent {
	frets := n.Division.Frets()
	bow := Relief{Bow: 1, Near: n.Relief.Near, Far: n.Relief.Far}
	if n.Relief == (Relief{}) {
		bow = Usual(n.Division, n.Scale)
		bow.Bow = 1
	}
	drop := func(p int) float64 { // of the neck, the nut on it
		if p > frets {
			return 0
		}
		return float64(bow.Drop(n.Division.From(n.Scale, p)))
	}
	only := func(fret int, up float64) func(int) float64 {
		return func(p int) float64 {
			if p == fret {
				return up
			}
			return 0
		}
	}
	end := n.Division.From(n.Scale, frets)
	proud := func(p int) float64 {
		if from := n.Division.From(n.Scale, p); from > bow.Far { // NaN at the saddle
			return (from - bow.Far).Over(end - bow.Far)
		}
		return 0
	}
	out := []bent{
		{SaddleLow, 0, 0.5, only(frets+1, -1)},
		{SlotLow, 0, 0.15, only(0, -1)},
		{BowSmall, 0, 0.15, drop},
		{BowLarge, 0, 0.15, func(p int) float64 { return -drop(p) }},
		{LastProud, 0, 0.15, proud},
	}
	for f := 1; f <= frets; f++ {
		out = append(out, bent{CrownProud, f, 0.05, only(f, 1)}, bent{CrownWorn, f, 0.05, only(f, -1)})
	}
	return out
}

// rank makes a suspect of every fault that explains a note, the likeliest first.
func (v sideView) rank(faults []bent, told []verdict) []Suspect {
	type ranked struct {
		Suspect
		weight float64
		buzz   []bool // every note
	}
	var list []ranked
	for _, f := range faults {
		// By 0 it is the side view as it is, which one of them is enough to say.
		if s, weight, buzz := v.suspect(f, told); len(s.Explains) > 0 && (s.By > 0 || s.Fault == SaddleLow) {
			list = append(list, ranked{s, weight, buzz})
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int { return cmp.Compare(b.weight, a.weight) })
	var out []Suspect
	for i, s := range list {
		s.Play = -1
		if i+1 < len(list) {
			for f := len(told) - 1; f >= 0; f-- {
				if told[f] == untold && s.buzz[f] && !list[i+1].buzz[f] {
					s.Play = f
				}
			}
		}
		out = append(out, s.Suspect)
	}
	loose := Suspect{Fault: Elsewhere, Play: -1}
	for f, is := range told {
		if is == buzzes {
			loose.Explains = append(loose.Explains, f)
		}
	}
	return append(out, loose)
}

// suspect makes a fault larger until it explains the notes told best.
func (v sideView) suspect(f bent, told []verdict) (best Suspect, weight float64, buzz []bool) {
	w := sideView{slices.Clone(v.at), v.swing}
	for k := range mostUsual*perUsual + 1 {
		usual := float64(k) / perUsual
		by := f.usual * units.Length(usual)
		for p := range w.at {
			w.at[p].z = v.at[p].z + by*units.Length(f.up(p))
		}
		s, now := Suspect{Fault: f.fault, Fret: f.fret, By: by}, make([]bool, len(told))
		for note, is := range told {
			now[note] = w.buzzes(note)
			switch {
			case now[note] && is == buzzes:
				s.Explains = append(s.Explains, note)
			case now[note] && is == rings:
				s.Spoils = append(s.Spoils, note)
			}
		}
		got := float64(perExplained*len(s.Explains)-perSpoiled*len(s.Spoils)) - usual
		if buzz == nil || got > weight {
			best, weight, buzz = s, got, now
		}
	}
	return best, weight, buzz
}
