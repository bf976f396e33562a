package repl

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"example.org/saddlepoint/repl/bench"
)

// MostTold is how many lines a record may be told in.
const MostTold = 100_000

// What a record may be told in, comments and blank lines and all.
const (
	mostText  = 5 << 20 // bytes
	mostLines = 2 * MostTold
)

// mostBeside is how many lines of another record, over MostTold, may still be told
// while a record is loaded: both are held until it is known to be good.
const mostBeside = 1000

// journal is the record as it was told: every line that told something, as
// typed, and the comments and blank lines between.
type journal struct {
	lines []journalLine
	told  int
	size  int    // of the lines, in bytes
	kept  int    // lines that drop leaves
	file  string // where it was last loaded from or saved to
	dirty bool   // something was told since

	before *journal // of the record that this one replaced, for undo
}

type journalLine struct {
	text string
	told bool
	put  bool  // by the session: the date of the line after it
	when int32 // days from 1970 on which it was told: a record may have very many lines
}

// mostPast is how many lines may be taken back at once; before them, all are told
// again.
const mostPast = 64

// past is what the record was before each of the last lines told.
type past struct {
	states  []state
	n, have int // of all lines told, and of those that stand here
}

func (p *past) push(s state) {
	if at := p.n % mostPast; at < len(p.states) {
		p.states[at] = s
	} else {
		p.states = append(p.states, s)
	}
	p.n, p.have = p.n+1, min(p.have+1, mostPast)
}

// pop returns what the record was some lines ago.
func (p *past) pop(lines int) (state, bool) {
	if lines > p.have {
		*p = past{}
		return state{}, false
	}
	p.n, p.have = p.n-lines, p.have-lines
	return p.states[p.n%mostPast], true
}

const secondsADay = 24 * 60 * 60

// day is when the line was told, zero where that is not known.
func (l journalLine) day() time.Time {
	day := time.Unix(int64(l.when)*secondsADay, 0).UTC()
	if day.Year() <= 1 {
		return time.Time{}
	}
	return day
}

// add keeps a line.
func (j *journal) add(line string, told bool) {
	j.size += len(line) + 1
	j.lines = append(j.lines, journalLine{text: line, told: told})
	if told {
		j.told++
		j.kept = len(j.lines)
		j.dirty = true
	}
}

// drop forgets the comments and blank lines since the last line told, or since
// all were kept.
func (j *journal) drop() {
	for _, line := range j.lines[j.kept:] {
		j.size -= len(line.text) + 1
	}
	j.lines = j.lines[:j.kept]
}

// room refuses a line that would make the record too long. Where the record that
// it replaced stands in the way, that one is forgotten, and with it the way back.
func (j *journal) room(line string) error {
	size, lines := j.size+len(line), len(j.lines)
	switch {
	case size > mostText:
		return fmt.Errorf("got a record of more than %d bytes, comments and all, want one of its own for the rest", mostText)
	case lines >= mostLines:
		return fmt.Errorf("got a record of more than %d lines, comments and all, want one of its own for the rest", mostLines)
	}
	if b := j.before; b != nil && (size+b.size > mostText || lines+len(b.lines) >= mostLines) {
		j.before = nil
	}
	return nil
}

// keepAll keeps what stands behind the last line told, too.
func (j *journal) keepAll() { j.kept = len(j.lines) }

// restart begins the journal of a record that starts afresh; comments that stand
// before anything told are its heading, and stay.
func (j *journal) restart() {
	if j.told > 0 {
		old := *j
		old.before = nil // one record back is as far as undo goes
		*j = journal{dirty: old.dirty, before: &old}
	}
}

// write writes the record, its version line first if it was not told.
func (j *journal) write(w io.Writer) error {
	b := bufio.NewWriter(w)
	if !j.versioned() {
		fmt.Fprintf(b, "record: %d\n", recordVersion)
	}
	for _, line := range j.lines {
		b.WriteString(line.text)
		b.WriteByte('\n')
	}
	return b.Flush()
}

// versioned reports whether the first line told is the version line.
func (j *journal) versioned() bool {
	for _, line := range j.lines {
		if line.told {
			head := cutComment(line.text)
			return strings.TrimSpace(head[:max(0, headLen(head))]) == "record"
		}
	}
	return false
}

// Unsaved reports whether the record was told something since it was last saved
// or loaded.
func (s *Session) Unsaved() bool { return s.journal.dirty }

// undo drops the last line told, with the date put before it, and tells the
// others again.
func (s *Session) undo() ([]string, error) {
	last := -1
	for i, line := range s.journal.lines {
		if line.told {
			last = i
		}
	}
	if last < 0 {
		return nil, errors.New("got nothing told, want a line to take back")
	}
	first := last
	if last > 0 && s.journal.lines[last-1].put {
		first--
	}
	var dropped []string
	for _, line := range s.journal.lines[first : last+1] {
		dropped = append(dropped, strings.TrimSpace(line.text))
	}
	j := s.journal.without(first, last+1)
	before, entries, ok := state{}, s.record.Entries[:0], false
	if j.told == 0 && j.before != nil { // the line started afresh
		j, entries = *j.before, nil
	} else {
		before, ok = s.past.pop(len(dropped))
	}
	if !ok {
		var err error
		if before, err = retell(j.lines, entries); err != nil {
			return nil, fmt.Errorf("got a record that does not hold without that line: %w", err)
		}
	}
	if s.state = before; strings.HasPrefix(dropped[0], "date") {
		s.day = "" // the next reading is dated by the clock
	}
	s.journal = j
	s.journal.keepAll()
	s.journal.dirty = true
	return dropped, nil
}

// without is the journal less some lines that told, of which one is not the
// session's own.
func (j *journal) without(from, to int) journal {
	out := *j
	out.lines = slices.Concat(j.lines[:from], j.lines[to:])
	for _, line := range j.lines[from:to] {
		out.size -= len(line.text) + 1
		if line.told {
			out.told--
		}
	}
	return out
}

// retell tells an empty record some lines. Entries come to stand in the room of a
// list that was told the same: there may be too many of them to hold twice.
func retell(lines []journalLine, entries []bench.Entry) (state, error) {
	s := New()
	for _, line := range lines {
		if !line.told {
			continue
		}
		if len(s.record.Entries) == 0 {
			s.record.Entries = entries
		}
		head := strings.TrimRight(cutComment(line.text), " \t")
		t, err := s.tell(head, headLen(head))
		if err != nil {
			return state{}, err
		}
		s.state = t.state
	}
	return s.state, nil
}

// load replaces the record by that of a file, or leaves it as it is.
func (s *Session) load(ctx context.Context, name string, in io.Reader) error {
	fresh := New()
	fresh.loading = true
	lines := lineReader(in)
	for n := 1; ; n++ {
		line, err := nextLine(lines)
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			_, _, err = fresh.read(ctx, line)
		}
		if told := s.journal.told; err == nil && told+fresh.journal.told > MostTold+mostBeside {
			err = fmt.Errorf("got more lines than can be held beside the %d told here, want record: %d told first", told, recordVersion)
		}
		if err != nil {
			return place(name, n, line, err)
		}
	}
	if fresh.journal.told == 0 {
		return fmt.Errorf("got nothing told in %s, want a record", name)
	}
	s.state, s.past, s.journal, s.day = fresh.state, fresh.past, fresh.journal, ""
	s.counted, s.strings = fresh.counted, fresh.strings
	s.journal.file, s.journal.dirty = name, false
	s.journal.keepAll()
	return nil
}
