package repl

import (
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// writeCSV writes the answer as a table with a header, and an empty line.
func (a Answer) writeCSV(w io.Writer) error {
	switch {
	case a.report != nil:
		return a.report.writeCSV(w, "")
	case a.value != nil:
		object := a.valueObject()
		// The other views are words about the value, not values.
		return writeTable(w, slices.DeleteFunc(object, func(c cell) bool { return c.key == "also" }))
	case len(a.text) > 0:
		return writeCells(w, []string{"text"}, func(yield func([]string) bool) {
			for i := range a.text {
				if !yield([]string{a.line(i)}) {
					return
				}
			}
		})
	}
	return nil
}

// writeCSV writes the rows of a report, or its notes where it has none, and then
// its parts, each a table whose first column names the part.
func (r *report) writeCSV(w io.Writer, part string) error {
	rows := make([]ordered, 0, len(r.rows))
	for _, row := range r.rows {
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		for _, note := range r.notes {
			rows = append(rows, ordered{{key: "note", val: note}})
		}
	}
	if part != "" {
		for i, row := range rows {
			rows[i] = append(ordered{{key: "part", val: part}}, row...)
		}
	}
	if err := writeTable(w, rows...); err != nil {
		return err
	}
	for _, p := range r.parts {
		if err := p.writeCSV(w, p.name); err != nil {
			return err
		}
	}
	return nil
}

// writeTable writes rows under the keys of them all, in the order met.
func writeTable(w io.Writer, rows ...ordered) error {
	if len(rows) == 0 {
		return nil
	}
	var keys []string
	column := map[string]int{}
	for _, row := range rows {
		for _, c := range row {
			if _, ok := column[c.key]; !ok && c.key != "" {
				column[c.key] = len(keys)
				keys = append(keys, c.key)
			}
		}
	}
	return writeCells(w, keys, func(yield func([]string) bool) {
		for _, row := range rows {
			line := make([]string, len(keys))
			for _, c := range row {
				if c.key != "" {
					line[column[c.key]] = plain(c.val, "")
				}
			}
			if !yield(line) {
				return
			}
		}
	})
}

// writeCells writes lines of cells under a header, and an empty line.
func writeCells(w io.Writer, header []string, lines iter.Seq[[]string]) error {
	out := csv.NewWriter(w)
	out.Write(header) // what goes wrong stays in the writer
	for line := range lines {
		out.Write(line)
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return err
	}
	_, err := fmt.Fprintln(w)
	return err
}

// plain writes a cell's value: a number with every digit kept of it, a list
// joined by blanks, and missing for one not known.
func plain(val any, missing string) string {
	v := reflect.ValueOf(val)
	switch v.Kind() {
	case reflect.Invalid:
		return missing
	case reflect.Float64:
		return strconv.FormatFloat(v.Float(), 'g', -1, 64)
	case reflect.Slice:
		if v.Len() > 0 && nested(v.Index(0).Interface()) {
			return "" // JSON has them; a cell has no room for a table
		}
		parts := make([]string, v.Len())
		for i := range parts {
			// As in a list that is told, so that every place is kept.
			parts[i] = plain(v.Index(i).Interface(), ".")
		}
		return strings.Join(parts, " ")
	}
	return fmt.Sprint(val)
}

// nested reports whether a value is an object of its own.
func nested(val any) bool {
	_, is := val.(ordered)
	return is
}
