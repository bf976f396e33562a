package repl

import (
	"strings"

	"example.org/saddlepoint/units"
)

// class says what a word is for. A word may be met in several classes; its
// place in the line decides.
type class uint8

const (
	classField class = iota
	classFunction
	classReport
	classAct
	classUnit
)

var classNames = [...]string{"field", "function", "report", "act", "unit"}

// word is one row of the table of words, which drives evaluation, help and
// completion.
type word struct {
	name    string // such as "saddle screw" or "fret"
	class   class
	form    string   // how it is written
	help    string   // one line
	example string   // a line that runs
	values  []string // words that may follow, where only some may

	tell   func(*telling) error // of a field
	call   *function
	report func(*Session) (*report, error)
	act    func(*Session, *parser) (Answer, error)
}

// vocabulary is the table of words.
type vocabulary struct {
	list []word
	find map[wordKey]*word
}

type wordKey struct {
	name  string
	class class
}

func newVocabulary() *vocabulary {
	v := &vocabulary{find: map[wordKey]*word{}}
	for _, rows := range [][]word{fieldWords(), functionWords(), reportWords(), actWords(), unitWords()} {
		v.list = append(v.list, rows...)
	}
	for i := range v.list {
		w := &v.list[i]
		v.find[wordKey{w.name, w.class}] = w
	}
	return v
}

// unitWords lists the units.
//
//	unit = lunit | cunit | wunit | "deg" | "°" | "N" | "lbf" | "lb" | "kgf" | "Pa" | "MPa" | "GPa" | "psi" | "ksi"
//	     | "kg/m3" | "g/cm3" | "lb/in3" | "Hz" | "kHz" | "turns" | "turn" | "tpi" | "p" | "w" .
//	lunit = "mm" | "cm" | "m" | "in" | "inch" | "inches" | "thou" .
//	cunit = "c" | "cents" | "cent" .
func unitWords() []word {
	var out []word
	for _, u := range units.Table() {
		spelled := append([]string{u.Symbol}, u.Aliases...)
		out = append(out, word{name: u.Symbol, class: classUnit, form: strings.Join(spelled, " or "), help: u.Help, example: "2 " + u.Symbol})
	}
	return out
}

// get returns the word of a class, or nil.
func (v *vocabulary) get(name string, c class) *word { return v.find[wordKey{name, c}] }

// taken reports whether name is a word of the language, and so no name of one's
// own.
func (v *vocabulary) taken(name string) bool {
	for c := range classNames {
		if v.get(name, class(c)) != nil {
			return true
		}
	}
	if _, ok := unitNamed(name); ok {
		return true // an alias of a unit
	}
	_, ref := refNumber(name)
	return ref
}

// unknown is the error about a word that no class given has.
func (v *vocabulary) unknown(line string, at int, name, want string, among ...class) error {
	hint := ""
	if near := v.near(name, among...); near != "" {
		hint = "did you mean " + near + "?"
	}
	return &fault{at, true, gotWant("the unknown word "+units.Quote(name), want, hint)}
}

// near returns the word of the classes given that name is a slip of, where one
// alone is nearest, and near enough.
func (v *vocabulary) near(name string, among ...class) string {
	var names []string
	for _, w := range v.list {
		for _, c := range among {
			if w.class == c {
				names = append(names, w.name)
			}
		}
	}
	return nearest(name, names)
}

// nearest returns the one of names that lies nearest to name, at one slip of a
// letter, or two in a long name; none where two are as near.
func nearest(name string, names []string) string {
	name = strings.ToLower(name)
	most := 1
	if len(name) > 5 {
		most = 2
	}
	best, sure := "", true
	for _, n := range names {
		if n == best {
			continue
		}
		switch d := slips(name, n, most); {
		case d > most || d == len(n):
		case best == "" || d < slips(name, best, most):
			best, sure = n, true
		case d == slips(name, best, most):
			sure = false
		}
	}
	if !sure {
		return ""
	}
	return best
}

// slips counts the letters added, dropped, changed or swapped with their
// neighbour between a and b, up to one more than most.
func slips(a, b string, most int) int {
	if len(a) > len(b)+most || len(b) > len(a)+most {
		return most + 1
	}
	var before, last []int
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, make([]int, len(b)+1)
		row[0] = i
		for j := 1; j <= len(b); j++ {
			changed := last[j-1]
			if a[i-1] != b[j-1] {
				changed++
			}
			row[j] = min(changed, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}
