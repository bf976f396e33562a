package repl

import (
	"slices"
	"sort"
	"strings"

	"example.org/saddlepoint/repl/bench"
)

// howWords are those of how something was read, which no table lists.
var howWords = []string{"held", "at", "open", "on", "straightedge", "from", "harmonic", "tail", "nut"}

// Complete lists the words, the names of one's own and the names of files that
// could stand at byte pos of the line, and the byte from which they would.
func (s *Session) Complete(line string, pos int) (from int, words []string) {
	pos = max(0, min(pos, len(line)))
	if at := s.openName(line, pos); at >= 0 {
		return s.completeFile(line, at, pos)
	}
	from = pos
	for from > 0 && wordByte(line[from-1]) {
		from--
	}
	seen := map[string]bool{"": true}
	add := func(w string) {
		if strings.HasPrefix(w, line[from:pos]) && !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	before := strings.Fields(line[:from])
	switch {
	case len(before) > 0 && before[0] == "help":
		for _, w := range s.words.list {
			add(w.name)
		}
	case s.valuesAfter(line[:from], before) != nil:
		for _, v := range s.valuesAfter(line[:from], before) {
			add(v)
		}
	case len(before) > 0 && s.words.get(before[0], classAct) != nil:
		if strings.HasSuffix(before[len(before)-1], `"`) {
			add("replace")
		}
	case len(before) > 0 && isNumber(before[len(before)-1]):
		for _, w := range s.words.list {
			if w.class == classUnit {
				add(w.name)
			}
		}
	default:
		s.candidates(before, add)
	}
	sort.Strings(words)
	return from, words
}

// valuesAfter lists the words that may stand where only some may: behind the colon
// of a field that takes them, and behind a word that asks or acts on them.
func (s *Session) valuesAfter(line string, before []string) []string {
	if colon := headLen(line); colon >= 0 {
		if w := s.words.get(strings.Join(strings.Fields(line[:colon]), " "), classField); w != nil {
			return w.values
		}
		return nil
	}
	if len(before) == 0 || strings.Contains(line, `"`) {
		return nil
	}
	for _, c := range []class{classAct, classReport} {
		if w := s.words.get(before[0], c); w != nil && (c == classReport || len(before) == 1) {
			return w.values
		}
	}
	return nil
}

// candidates gives add every word that may stand behind the words before.
func (s *Session) candidates(before []string, add func(string)) {
	telling := len(before) > 0 && slices.Contains(moodNames[:], before[0])
	for _, w := range s.words.list {
		switch {
		case w.class == classField:
			add(nextWord(w.name, before))
		case telling, w.class == classUnit:
		case w.class == classFunction:
			add(w.name + "(")
		case len(before) == 0:
			add(w.name)
		}
	}
	if telling {
		if len(before) > 1 {
			for _, w := range howWords {
				add(w)
			}
			for _, g := range s.record.Saddles {
				add(bench.Group(g))
			}
		}
		return
	}
	for name := range s.names {
		add(name)
	}
}

// nextWord is the word of a field's name that follows the words before, or none.
func nextWord(name string, before []string) string {
	words := strings.Fields(name)
	if len(before) >= len(words) {
		return ""
	}
	for i, w := range before {
		if words[i] != w {
			return ""
		}
	}
	return words[len(before)]
}
