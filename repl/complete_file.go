package repl

import (
	"slices"
	"strings"
)

// openName returns where the file's name begins that an act has open at byte pos
// of the line, or -1.
func (s *Session) openName(line string, pos int) int {
	words := strings.Fields(line[:pos])
	if len(words) < 2 || s.words.get(words[0], classAct) == nil {
		return -1
	}
	at := -1
	for i := 0; i < pos; i++ {
		switch {
		case line[i] != '"':
		case at < 0:
			at = i + 1
		case i+1 < pos && line[i+1] == '"':
			i++ // a quote of the name
		default:
			at = -1
		}
	}
	return at
}

// completeFile lists what is in the folder that the name begun at byte at of the
// line leads to, and the byte behind that folder. A folder ends with a slash, a
// file with its closing quote.
func (s *Session) completeFile(line string, at, pos int) (from int, words []string) {
	from = at + strings.LastIndexByte(line[at:pos], '/') + 1
	if s.Files == nil {
		return from, nil
	}
	names, err := s.Files.List(strings.ReplaceAll(line[at:from], `""`, `"`))
	if err != nil {
		return from, nil // nothing is there to offer
	}
	typed := line[from:pos]
	for _, name := range names {
		if name == "" || checkLine(name) != nil || name[0] == '.' && !strings.HasPrefix(typed, ".") {
			continue // what cannot be typed, and what is hidden
		}
		word := strings.ReplaceAll(name, `"`, `""`)
		if !strings.HasSuffix(word, "/") {
			word += `"`
		}
		if strings.HasPrefix(word, typed) {
			words = append(words, word)
		}
	}
	slices.Sort(words)
	return from, words
}
