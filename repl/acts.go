package repl

import (
	"context"
	"errors"
	"fmt"
	"strings"
)

// actWords lists the words that act.
//
//	Act       = Help | Save | Load | Draw | Undo | History .
func actWords() []word {
	row := func(form, help, example string, act func(*Session, *parser) (Answer, error)) word {
		name, _, _ := strings.Cut(form, " ")
		return word{name: name, class: classAct, form: form, help: help, example: example, act: act}
	}
	words := []word{
		row("help WORD", "what the words of the language are, or one of them", "help move", actHelp),
		row(`save "FILE"`, "writes the record as told; alone, where it came from; replace after it overwrites", `save "ours.record"`, actSave),
		row(`load "FILE"`, "reads a record in place of this one; replace after it drops what was not saved", `load "six.record" replace`, actLoad),
		row(`draw PICTURE "FILE"`, "draws the end, side, map, bridge or neck into a file, by its ending .svg, .pdf, .dxf or .csv; a number before the name magnifies; replace after it overwrites", `draw side 10 "side.svg"`, actDraw),
		row("undo", "takes back the last line that told something", "undo", actUndo),
		row("history", "the lines that told something, in order", "history", actHistory),
	}
	for i := range words {
		if words[i].name == "draw" {
			for _, d := range pictures {
				words[i].values = append(words[i].values, d.name)
			}
		}
	}
	return words
}

// fileName reads a file's name and whether replace follows it, to the end of
// the line. A missing name is empty.
//
//	File = quoted [ "replace" ] .
func (p *parser) fileName() (name string, at int, replace bool, err error) {
	p.skip()
	at = p.pos
	if p.peek() == 0 {
		return "", at, false, nil
	}
	if p.peek() != '"' {
		return "", at, false, syntax(p.line, at, `the file's name in quotes, as in "six.record"`, "")
	}
	name, n, err := quoted(p.line, at)
	if err != nil {
		return "", at, false, err
	}
	p.pos += n
	if name == "" {
		return "", at, false, faultf(at, "got a name of nothing, want a file's")
	}
	if p.peek() == 0 {
		return name, at, false, nil
	}
	if strings.TrimSpace(p.line[p.pos:]) != "replace" {
		return "", at, false, syntax(p.line, p.pos, "replace, or the end of the line", "")
	}
	return name, at, true, nil
}

// end refuses anything more on the line.
func (p *parser) end() error {
	if p.peek() != 0 {
		return syntax(p.line, p.pos, "the end of the line", "")
	}
	return nil
}

var errNoFiles = errors.New("got no files here, want a session that has them")

// actSave writes the record.
//
//	Save = "save" [ File ] .
func actSave(s *Session, p *parser) (Answer, error) {
	name, at, replace, err := p.fileName()
	switch {
	case err != nil:
		return Answer{}, err
	case s.Files == nil:
		return Answer{}, faultAt(at, errNoFiles)
	case s.journal.told == 0:
		return Answer{}, faultf(at, "got nothing told, want a record to save")
	case name == "" && s.journal.file == "":
		return Answer{}, syntax(p.line, at, `a file's name, as in save "six.record"`, "")
	case name == "":
		name, replace = s.journal.file, true // its own file
	}
	if err := s.Files.Write(name, replace, s.journal.write); err != nil {
		return Answer{}, faultAt(at, err)
	}
	s.journal.file, s.journal.dirty = name, false
	return Answer{text: []string{fmt.Sprintf("saved %s", name)}}, nil
}

// actLoad reads a record.
//
//	Load = "load" File .
func actLoad(s *Session, p *parser) (Answer, error) {
	name, at, replace, err := p.fileName()
	switch {
	case err != nil:
		return Answer{}, err
	case name == "":
		return Answer{}, syntax(p.line, at, `a file's name, as in load "six.record"`, "")
	case s.Files == nil:
		return Answer{}, faultAt(at, errNoFiles)
	case s.journal.dirty && !replace:
		return Answer{}, faultf(at, "got lines told that are not saved, want them saved first, or replace after the name")
	}
	f, err := s.Files.Open(name)
	if err != nil {
		return Answer{}, faultAt(at, err)
	}
	err = s.load(context.Background(), name, f)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return Answer{}, &fault{at, false, err}
	}
	return Answer{text: []string{fmt.Sprintf("loaded %s", name)}}, nil
}

// actUndo takes back a line.
//
//	Undo = "undo" .
func actUndo(s *Session, p *parser) (Answer, error) {
	at := p.pos
	if err := p.end(); err != nil {
		return Answer{}, err
	}
	dropped, err := s.undo()
	if err != nil {
		return Answer{}, faultAt(at, err)
	}
	for i, line := range dropped {
		dropped[i] = "took back: " + line
	}
	return Answer{text: dropped}, nil
}

// actHistory lists what was told.
//
//	History = "history" .
func actHistory(s *Session, p *parser) (Answer, error) {
	if err := p.end(); err != nil {
		return Answer{}, err
	}
	lines := make([]string, 0, s.journal.told)
	for _, line := range s.journal.lines {
		if line.told {
			lines = append(lines, strings.TrimSpace(line.text))
		}
	}
	if len(lines) == 0 {
		return Answer{text: []string{"nothing told yet"}}, nil
	}
	return Answer{text: lines, number: true}, nil
}
