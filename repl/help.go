package repl

import (
	"fmt"
	"slices"
	"strings"
)

// classTitles heads the lists of help.
var classTitles = [...]string{
	classField: "tell, to keep", classFunction: "ask, to work out", classReport: "ask, to report", classAct: "act", classUnit: "units",
}

// actHelp answers help.
//
//	Help = "help" { word } .
//	word = letter { letter } .
func actHelp(s *Session, p *parser) (Answer, error) {
	at := p.pos + blanks(p.line[p.pos:])
	asked := strings.Join(strings.Fields(p.line[p.pos:]), " ")
	p.pos = len(p.line)
	if asked == "" {
		return Answer{text: s.helpAll()}, nil
	}
	var lines []string
	for c := range classNames {
		if w := s.words.get(asked, class(c)); w != nil {
			lines = append(lines, s.helpWord(w)...)
		}
	}
	for i, name := range classNames {
		if name == asked {
			lines = append(lines, s.helpClass(class(i))...)
		}
	}
	if len(lines) == 0 {
		lines = s.helpStart(asked)
	}
	if len(lines) == 0 {
		lines = s.helpAbout(asked)
	}
	if len(lines) == 0 {
		var names []string
		for _, w := range s.words.list {
			names = append(names, w.name)
		}
		return Answer{}, faultf(at, "%w", gotWant("the unknown word "+strings.TrimSpace(fmt.Sprintf("%.40q", asked)), "one that help lists", didYouMean(nearest(asked, names))))
	}
	return Answer{text: lines}, nil
}

// helpStart lists the fields that begin or end with a word: help read, help
// cents.
func (s *Session) helpStart(asked string) []string {
	var lines []string
	for _, w := range s.words.list {
		if strings.HasPrefix(w.name, asked+" ") || strings.HasSuffix(w.name, " "+asked) {
			lines = append(lines, s.helpWord(&w)...)
		}
	}
	return lines
}

// helpAbout lists the words whose names and lines of help speak of all that is
// asked: help reading cents.
func (s *Session) helpAbout(asked string) []string {
	var stems []string
	for _, w := range strings.Fields(strings.ToLower(asked)) {
		if stem := strings.TrimSuffix(w, "ing"); len(stem) >= 3 {
			w = stem
		}
		if len(w) < 3 {
			return nil // it would begin too many
		}
		stems = append(stems, w)
	}
	var lines []string
	for _, w := range s.words.list {
		if mentions(strings.Fields(w.name+" "+w.help), stems) {
			lines = append(lines, s.helpWord(&w)...)
		}
	}
	return lines
}

// mentions reports whether every stem begins one of the words.
func mentions(words, stems []string) bool {
	for _, stem := range stems {
		if !slices.ContainsFunc(words, func(w string) bool { return strings.HasPrefix(w, stem) }) {
			return false
		}
	}
	return true
}

// helpWord explains one word.
func (s *Session) helpWord(w *word) []string {
	lines := []string{w.form, "  " + w.help}
	if w.form != w.example {
		lines = append(lines, "  as in  "+w.example)
	}
	return lines
}

func (s *Session) helpAll() []string {
	lines := []string{
		"A line with a colon tells the record something: scale: 648mm",
		"Any other line asks: fret(12), tension(10p, E4, 25.5in), moves, 25 1/2in - 3mm",
		"Start with scale, strings, tuning and saddles; read cents; ask moves. help field lists what can be told.",
		"",
	}
	for c := range classNames {
		var names []string
		for _, w := range s.words.list {
			if w.class == class(c) {
				names = append(names, w.name)
			}
		}
		lines = append(lines, classTitles[c]+":")
		lines = append(lines, wrap(names, min(70, s.width()))...)
	}
	return append(lines, "", "help WORD tells more of one, help reading cents of what speaks of both; help field, function, report, act or unit lists them, a line each.")
}

// wrap parts names over lines of at most width characters.
func wrap(names []string, width int) []string {
	var lines []string
	line := " "
	for i, n := range names {
		if i < len(names)-1 {
			n += ","
		}
		if len(line)+1+len(n) > width {
			lines = append(lines, line)
			line = " "
		}
		line += " " + n
	}
	return append(lines, line)
}

func (s *Session) helpClass(c class) []string {
	var lines []string
	for _, w := range s.words.list {
		switch {
		case w.class != c:
		case s.width() < usualWidth: // too narrow for two columns
			lines = append(lines, w.form, "  "+w.help)
		default:
			lines = append(lines, fmt.Sprintf("%-34s %s", w.form, w.help))
		}
	}
	return lines
}
