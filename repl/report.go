package repl

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// report is a table that the record gives rise to, and what else it says. One
// list of cells a row drives both texts and JSON.
type report struct {
	name    string
	rows    [][]cell
	picture []string // before the table, drawn to the session's width
	shown   [][]cell // the table of its text, where that is not of the rows
	lines   []string // what its text says in place of a table
	notes   []string
	parts   []*report // of a sheet
}

// cell is one value of a row. A cell with no head is not in the text; one with
// no key is not in JSON.
type cell struct {
	head string
	text string
	key  string
	val  any
}

// known is full of what a report has worked out, to nine decimals.
func known[T ~float64](x T) any {
	f, err := strconv.ParseFloat(strconv.FormatFloat(float64(x), 'f', 9, 64), 64)
	if err != nil { // what rounds beyond the largest
		f = float64(x)
	}
	return full(f)
}

// full makes NaN and infinities null for JSON, and keeps the digits of all else
// that are not rounding.
func full(x float64) any {
	const rounding = 1e-12 // what is left of a difference that is 0
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return nil
	case math.Abs(x) < rounding:
		return 0.0
	}
	return twelve(x)
}

// twelve keeps twelve digits, as texts do: processors that round a product and a
// sum together differ in the last few of seventeen.
func twelve(x float64) float64 {
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	return x
}

// write prints the report as text, within width characters.
func (r *report) write(w io.Writer, width int) error {
	var b bytes.Buffer
	shown := r.rows
	if r.shown != nil {
		shown = r.shown
	}
	for _, line := range slices.Concat(r.picture, table(shown, width), foldAll(r.lines, width), foldAll(r.notes, width)) {
		fmt.Fprintln(&b, line)
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
		if err := p.write(w, width); err != nil {
			return err
		}
	}
	return nil
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
