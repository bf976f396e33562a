// Package repl is the bench language: lines that tell the record of one
// instrument something, and lines that ask what follows from it. It knows no
// terminal: a Session takes a line and returns an Answer, or reads a batch.
//
// The grammar is in grammar.ebnf, and each production stands above the function
// that parses it.
package repl

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/saddlepoint/repl/bench"
	"example.org/saddlepoint/units"
)

// Session is one record, the names given to values, and how answers are shown.
// It is not safe for use by several goroutines at once.
type Session struct {
	state
	past    past
	names   map[string]value
	day     string // of the clock, on which the date was told or put last
	words   *vocabulary
	line    string // being read
	touched bool   // by its comment
	numbers []int  // from 1 on, which entries share
	counted int    // entries that strings were counted from
	strings int    // and what they came to
	asked   bool

	// Files is where save and load go; nil has none.
	Files Files
	// Width is how many characters wide answers in words may run, 40 at least;
	// 0 stands for 80.
	Width int
	// ASCII keeps pictures in characters to ASCII.
	ASCII bool
	// Now is the clock, for the date on a ticket and the day of what is told; nil
	// has none.
	Now func() time.Time

	journal journal
	loading bool // only lines that tell are let in
}

// state is all that lines tell.
type state struct {
	record bench.Record
	view   view
	date   time.Time // of what is told next; zero where not known
}

// New returns a session with an empty record.
func New() *Session {
	return &Session{state: state{view: newView()}, names: map[string]value{}, words: newVocabulary()}
}

func newView() view { return view{digits: -1} }

// Record returns the record as told so far. Its lists are the session's own: do
// not change them, and ask again once a line was taken back.
func (s *Session) Record() bench.Record { return s.record }

// Form is how answers are written.
type Form uint8

// Words are for people; JSON is one object a line; CSV is tables.
const (
	Words Form = iota
	JSON
	CSV
)

// Answer is what a line came to. The zero Answer is that of an empty line.
type Answer struct {
	told   bool // it told the record something
	width  int
	text   []string
	number bool // its lines
	report *report
	value  *value
	name   string // that was given the value
	view   view
	a4     units.Frequency
}

// Told reports whether the line told the record something, rather than asked.
func (a Answer) Told() bool { return a.told }

// Line reads one line, without its newline. Where it returns an error, which is
// an *Error of line 1, the record is as it was.
func (s *Session) Line(ctx context.Context, line string) (Answer, error) {
	if strings.TrimSpace(line) == "" {
		return Answer{}, nil
	}
	doubts := s.record.Questions()
	journal, date, day := s.journal, s.date, s.day
	put, err := s.putDate(ctx, line)
	var a Answer
	var t *telling
	if err == nil {
		a, t, err = s.read(ctx, line)
	}
	if err != nil {
		if put != nil {
			s.past.pop(1)
		}
		s.journal, s.date, s.day = journal, date, day
		return Answer{}, place("-", 1, line, err)
	}
	a.width = s.width()
	if t != nil {
		a.text = append(put, s.understood(t, doubts)...)
		if t.word.name == "date" {
			s.day = s.today()
		}
	}
	return a, nil
}

// read reads one line; of a line that tells, it returns what was told too. Its
// errors know their byte of the line, not the line.
//
//	Line = [ Tell | Ask ] [ comment ] .
func (s *Session) read(ctx context.Context, line string) (Answer, *telling, error) {
	if err := ctx.Err(); err != nil {
		return Answer{}, nil, err
	}
	if err := checkLine(line); err != nil {
		return Answer{}, nil, err
	}
	uncut := cutComment(line)
	s.line = strings.TrimRight(uncut, " \t")
	s.touched = len(uncut) < len(line) && len(uncut) == len(s.line) && s.line != ""
	if s.line == "" {
		if err := s.journal.room(line); err != nil {
			return Answer{}, nil, err
		}
		s.journal.add(line, false)
		return Answer{}, nil, nil
	}
	if colon := headLen(s.line); colon >= 0 {
		if err := s.journal.room(line); err != nil {
			return Answer{}, nil, err
		}
		if s.journal.told >= MostTold {
			return Answer{}, nil, fmt.Errorf("got more than %d lines told, want a record of its own for the rest", MostTold)
		}
		t, err := s.tell(s.line, colon)
		if err != nil {
			return Answer{}, nil, err
		}
		s.keep(line, t)
		return Answer{told: true}, t, nil
	}
	if s.loading {
		return Answer{}, nil, faultf(blanks(s.line), "got a line that asks or acts, want a record: lines that tell")
	}
	a, err := s.ask()
	s.asked = s.asked || err == nil
	return a, nil, err
}

// keep takes over what a line told.
func (s *Session) keep(line string, t *telling) {
	s.past.push(s.state)
	s.state = t.state
	if t.word.name == "record" {
		s.journal.restart()
		s.past, s.day = past{}, ""
	}
	s.journal.add(line, true)
	s.journal.lines[len(s.journal.lines)-1].when = int32(s.date.Unix() / secondsADay)
}

// understood says what was understood, what it means, and what in it only a slip
// would explain, other than what was doubted before.
func (s *Session) understood(t *telling, doubts []string) []string {
	head := strings.Join(strings.Fields(t.line[:strings.IndexByte(t.line, ':')]), " ")
	text := append([]string{head + ": " + t.shown}, s.meaning(t)...)
	for _, q := range s.record.Questions() {
		if !slices.Contains(doubts, q) {
			text = append(text, "question: "+q)
		}
	}
	return text
}

// ask reads a line that asks or acts.
//
//	Ask = Report | Act | Told | Keep | Sum .
func (s *Session) ask() (Answer, error) {
	p := &parser{line: s.line, words: s.words}
	p.skip()
	at := p.pos
	first := s.line[at : at+wordLen(s.line[at:])]
	p.pos += len(first)
	next := p.peek()
	for _, c := range []class{classAct, classReport} {
		if w := s.words.get(first, c); w != nil && w.act != nil {
			return w.act(s, p)
		}
	}
	if w := s.words.get(first, classReport); w != nil && next == 0 {
		r, err := w.report(s)
		return Answer{report: r}, faultAt(at, err)
	}
	if w := s.words.get(strings.Join(strings.Fields(s.line), " "), classField); w != nil && w.name != "A4" { // which alone is a pitch
		lines, err := s.toldOf(w)
		return Answer{text: lines}, faultAt(at, err)
	}
	if lacksColon(first) {
		return Answer{}, syntax(s.line, p.pos, "a colon after what is told, as in read cents 12: +5 +3", "")
	}
	if first != "" && next == '=' {
		return s.assign(p, first, at)
	}
	p.pos = at
	v, err := s.value(p)
	return s.answer(v, ""), err
}

// lacksColon reports whether a line that begins with a word must be telling.
func lacksColon(first string) bool { return slices.Contains(moodNames[:], first) }

// mostNames is how many names of one's own a session keeps, and mostName how long
// each may be, in bytes.
const (
	mostNames = 1000
	mostName  = 100
)

// assign gives a value a name of one's own.
//
//	Keep = name "=" Sum .
//	name = small { letter | digit | "_" } .
func (s *Session) assign(p *parser, name string, at int) (Answer, error) {
	switch {
	case s.words.taken(name):
		return Answer{}, faultf(at, "got the word %s, want a name that is no word of the language", name)
	case name[0] < 'a' || name[0] > 'z':
		return Answer{}, syntax(s.line, at, "a name that starts with a small letter", "")
	case len(name) > mostName:
		return Answer{}, faultf(at, "got a name of %d bytes, want at most %d", len(name), mostName)
	}
	p.pos++
	v, err := s.value(p)
	if err != nil {
		return Answer{}, err
	}
	if _, ok := s.names[name]; !ok && len(s.names) >= mostNames {
		return Answer{}, faultf(at, "got more than %d names of your own, want fewer", mostNames)
	}
	s.names[strings.Clone(name)] = v // and not the line that it stood in
	return s.answer(v, name), nil
}

// value reads and works out an expression that fills the rest of the line.
func (s *Session) value(p *parser) (value, error) {
	n, err := p.sum()
	if err != nil {
		return value{}, err
	}
	if p.peek() == 0 {
		return s.eval(n)
	}
	if n.op == opName {
		// What follows an unknown word is no wonder.
		if _, err := s.name(n); err != nil {
			return value{}, err
		}
	}
	return value{}, p.wrong(wantOperator)
}

func (s *Session) answer(v value, name string) Answer {
	a4, _ := s.record.Concert()
	return Answer{value: &v, name: name, view: s.view, a4: a4}
}

// Write writes the answer, ending each line.
func (a Answer) Write(w io.Writer, f Form) error {
	switch {
	case f == JSON:
		return a.writeJSON(w)
	case f == CSV:
		return a.writeCSV(w)
	case a.report != nil:
		return a.report.write(w, a.width)
	case a.value != nil:
		line := a.view.text(*a.value)
		if also := a.view.also(*a.value, a.a4); len(also) > 0 {
			line += "   # " + strings.Join(also, "; ")
		}
		_, err := fmt.Fprintln(w, line)
		return err
	case len(a.text) > 0:
		b := bufio.NewWriter(w)
		for i := range a.text {
			fmt.Fprintln(b, strings.Join(fold(a.line(i), min(a.width, usualWidth)), "\n"))
		}
		return b.Flush()
	}
	return nil
}

// line is a line of its text.
func (a Answer) line(i int) string {
	if a.number {
		return fmt.Sprintf("%3d  %s", i+1, a.text[i])
	}
	return a.text[i]
}

func (a Answer) writeJSON(w io.Writer) error {
	var object any
	switch {
	case a.report != nil:
		object = a.report.object()
	case a.value != nil:
		object = a.valueObject()
	case len(a.text) > 0:
		return a.writeText(w)
	default:
		return nil
	}
	return writeObject(w, object)
}

// writeText writes an object of one text, which may be as long as a record, a line
// of it at a time.
func (a Answer) writeText(w io.Writer) error {
	b := bufio.NewWriter(w)
	between := `{"text":"`
	for i := range a.text {
		var quoted bytes.Buffer
		if err := writeObject(&quoted, a.line(i)); err != nil {
			return err
		}
		b.WriteString(between)
		b.Write(quoted.Bytes()[1 : quoted.Len()-len("\"\n")])
		between = `\n`
	}
	b.WriteString("\"}\n")
	return b.Flush()
}

func writeObject(w io.Writer, object any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(object)
}

// valueObject is a value as JSON has it, in the unit that the text leads with.
func (a Answer) valueObject() ordered {
	v := *a.value
	var out ordered
	if a.name != "" {
		out = append(out, cell{key: "name", val: a.name})
	}
	switch {
	case v.kind >= kindPitch, math.IsInf(v.x, 0):
		out = append(out, cell{key: "text", val: a.view.text(v)})
	case v.kind == units.KindNumber:
		out = append(out, cell{key: "value", val: twelve(v.x)}, cell{key: "unit", val: ""})
	default:
		symbol := a.view.symbols(v.kind)[0]
		out = append(out, cell{key: "value", val: full(number(v.x, symbol))}, cell{key: "unit", val: symbol})
	}
	if also := a.view.also(v, a.a4); len(also) > 0 {
		out = append(out, cell{key: "also", val: also})
	}
	return out
}

// Run reads a batch of lines from in, and writes their answers to out: those of
// lines that tell are left out. It stops at the first error, an *Error that
// names the batch by name, unless writing fails. The caller ends a run of
// batches with Finish.
func (s *Session) Run(ctx context.Context, name string, in io.Reader, out io.Writer, f Form) error {
	lines := lineReader(in)
	s.journal.keepAll()
	empty := true
	for n := 1; ; n++ {
		line, err := nextLine(lines)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return s.fail(place(name, n, "", err), out, f)
		}
		a, _, err := s.read(ctx, line)
		if err != nil {
			return s.fail(place(name, n, line, err), out, f)
		}
		empty = empty && s.line == ""
		if a.told {
			continue
		}
		if s.line != "" {
			s.journal.drop() // they are the script's own, and may be a million
		}
		a.width = s.width()
		if err := a.Write(out, f); err != nil {
			return err
		}
	}
	if empty {
		return s.fail(place(name, 1, "", errors.New("got nothing told or asked, want a record or a question")), out, f)
	}
	return nil
}

// Finish ends a run of batches: where none asked anything, it writes the sheet.
func (s *Session) Finish(name string, out io.Writer, f Form) error {
	if s.asked {
		return nil
	}
	r, err := reportSheet(s)
	if err != nil {
		return s.fail(place(name, 1, "", err), out, f)
	}
	return Answer{report: r, width: s.width()}.Write(out, f)
}

// fail reports an error among the answers where they are objects.
func (s *Session) fail(e *Error, out io.Writer, f Form) error {
	if f == JSON {
		if err := writeObject(out, ordered{{key: "error", val: e.Err.Error()}, {key: "file", val: e.File}, {key: "line", val: e.Line}, {key: "column", val: e.Column}}); err != nil {
			return err
		}
	}
	return e
}

// byteOrder is the mark that some editors put before UTF-8.
const byteOrder = "\ufeff"

// lineReader reads lines of a file, without the mark of byte order that may stand
// first.
func lineReader(in io.Reader) *bufio.Reader {
	r := bufio.NewReaderSize(in, MostLine+2)
	if first, _ := r.Peek(len(byteOrder)); string(first) == byteOrder {
		r.Discard(len(first)) // cannot fail: it was peeked
	}
	return r
}

// nextLine reads a line without its ending: a newline, with a carriage return
// before it or not. One that stands alone is refused as other control characters
// are. io.EOF ends it.
func nextLine(r *bufio.Reader) (string, error) {
	b, err := r.ReadSlice('\n')
	switch {
	case errors.Is(err, bufio.ErrBufferFull):
		return "", fmt.Errorf("got a line of more than %d bytes, want a shorter one", MostLine)
	case errors.Is(err, io.EOF) && len(b) > 0:
	case err != nil:
		return "", err
	}
	return strings.TrimSuffix(strings.TrimSuffix(string(b), "\n"), "\r"), nil
}
