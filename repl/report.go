package repl

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// report is a table that the record gives rise to, and what else it says. One
// list of cells a row drives both texts and JSON.
type report struct {
	name  string
	rows  [][]cell
	lines []string // what its text says in place of a table
	notes []string
	parts []*report // of a sheet
}

// cell is one value of a row. A cell with no head is not in the text; one with
// no key is not in JSON.
type cell struct {
	head string
	text string
	key  string
	val  any
}

// known makes NaN and infinities null for JSON.
func known[T ~float64](x T) any {
	const rounding = 1e-12 // what is left of a difference that is 0
	switch f := float64(x); {
	case math.IsNaN(f) || math.IsInf(f, 0):
		return nil
	case math.Abs(f) < rounding:
		return 0.0
	default:
		return f
	}
}

// write prints the report as text.
func (r *report) write(w io.Writer) error {
	var b bytes.Buffer
	for _, line := range table(r.rows) {
		fmt.Fprintln(&b, line)
	}
	for _, line := range append(slices.Clone(r.lines), r.notes...) {
		for _, part := range fold(line) {
			fmt.Fprintln(&b, part)
		}
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return err
	}
	for i, p := range r.parts {
		if i > 0 || len(r.lines) > 0 {
			if _, err := fmt.Fprintln(w); err != nil {
				return err
			}
		}
		if _, err := fmt.Fprintln(w, strings.ToUpper(p.name)); err != nil {
			return err
		}
		if err := p.write(w); err != nil {
			return err
		}
	}
	return nil
}

// width is how wide the words of reports run.
const width = 80

// fold parts a line of words at blanks so that it keeps within width, what is
// carried over set in by two more than the line was.
func fold(line string) []string {
	var out []string
	hang := strings.Repeat(" ", blanks(line)+2)
	for utf8.RuneCountInString(line) > width {
		cut := strings.LastIndexByte(line[:byteAt(line, width+1)], ' ')
		if cut <= len(hang) {
			break
		}
		out = append(out, line[:cut])
		line = hang + line[cut+1:]
	}
	return append(out, line)
}

// byteAt is where character n of s begins.
func byteAt(s string, n int) int {
	for i := range s {
		if n == 0 {
			return i
		}
		n--
	}
	return len(s)
}

// table lays rows out in columns, two blanks apart: words flush left, numbers
// flush right.
func table(rows [][]cell) []string {
	if len(rows) == 0 {
		return nil
	}
	var lines [][]string
	var head []string
	for _, c := range rows[0] {
		if c.head != "" {
			head = append(head, c.head)
		}
	}
	if head == nil {
		return nil // the rows are for JSON alone
	}
	lines = append(lines, head)
	left := make([]bool, len(head))
	for _, row := range rows {
		var line []string
		for _, c := range row {
			if c.head == "" {
				continue
			}
			left[len(line)] = left[len(line)] || !numeric(c.text)
			line = append(line, c.text)
		}
		lines = append(lines, line)
	}
	wide := make([]int, len(head))
	for _, line := range lines {
		for i, s := range line {
			wide[i] = max(wide[i], utf8.RuneCountInString(s))
		}
	}
	out := make([]string, len(lines))
	for n, line := range lines {
		var b strings.Builder
		for i, s := range line {
			gap := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(s))
			if left[i] {
				s += gap
			} else {
				s = gap + s
			}
			if i > 0 {
				b.WriteString("  ")
			}
			b.WriteString(s)
		}
		out[n] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// numeric reports whether a cell reads as one number, with a unit or without, or
// as one not known.
func numeric(s string) bool {
	if s == "-" {
		return true
	}
	s = strings.TrimLeft(s, "+-")
	if whole, part, ok := strings.Cut(s, " "); ok && isDigits(whole) && strings.Contains(part, "/") {
		return true // turns in eighths
	}
	return s != "" && (isDigit(s[0]) || s[0] == '.') && !strings.ContainsAny(s, " +")
}

// object is the report as JSON has it.
func (r *report) object() any {
	rows := make([]any, 0, len(r.rows)+len(r.parts))
	for _, row := range r.rows {
		rows = append(rows, ordered(row))
	}
	for _, p := range r.parts {
		rows = append(rows, p.object())
	}
	out := ordered{{key: "report", val: r.name}, {key: "rows", val: rows}}
	if len(r.notes) > 0 {
		out = append(out, cell{key: "notes", val: r.notes})
	}
	return out
}

// ordered is a JSON object whose keys keep their order.
type ordered []cell

// MarshalJSON implements json.Marshaler.
func (o ordered) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	b.WriteByte('{')
	first := true
	for _, c := range o {
		if c.key == "" {
			continue
		}
		if !first {
			b.WriteByte(',')
		}
		first = false
		if err := enc.Encode(c.key); err != nil {
			return nil, err
		}
		b.Truncate(b.Len() - 1) // the encoder's newline
		b.WriteByte(':')
		if err := enc.Encode(c.val); err != nil {
			return nil, err
		}
		b.Truncate(b.Len() - 1)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}
