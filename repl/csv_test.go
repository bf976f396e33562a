package repl_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"example.org/saddlepoint/repl"
)

// A report's table holds what its JSON holds, under the same keys.
func TestCSVAgreesWithJSON(t *testing.T) {
	s := repl.New()
	loadRecord(t, s, heron)
	for _, report := range []string{"map", "saddles", "frets", "tensions", "heights", "moves", "compare", "next"} {
		a, err := s.Line(context.Background(), report)
		if err != nil {
			t.Fatal(err)
		}
		var table, object bytes.Buffer
		if err := a.Write(&table, repl.CSV); err != nil {
			t.Fatal(err)
		}
		if err := a.Write(&object, repl.JSON); err != nil {
			t.Fatal(err)
		}
		if !strings.HasSuffix(table.String(), "\n\n") {
			t.Errorf("%s: got no empty line after the table", report)
		}
		lines, err := csv.NewReader(&table).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", report, err)
		}
		var want struct{ Rows []map[string]any }
		if err := json.Unmarshal(object.Bytes(), &want); err != nil {
			t.Fatal(err)
		}
		if len(want.Rows) == 0 || len(lines) != len(want.Rows)+1 || len(lines[0]) != len(want.Rows[0]) {
			t.Fatalf("%s: got %d lines of %d cells, want %d rows of %d", report, len(lines), len(lines[0]), len(want.Rows), len(want.Rows[0]))
		}
		for i, row := range want.Rows {
			for j, key := range lines[0] {
				want, ok := row[key]
				if got := lines[i+1][j]; !ok || got != flat(want) {
					t.Errorf("%s: row %d: %s: got %q, want %v", report, i+1, key, got, want)
				}
			}
		}
	}
}

// flat is a value of JSON as a cell has it.
func flat(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case []any:
		return strings.ReplaceAll(strings.Trim(fmt.Sprint(v), "[]"), "<nil>", ".")
	}
	return fmt.Sprint(v)
}
