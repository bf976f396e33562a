package repl_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/saddlepoint/repl"
)

// Every picture goes to every kind of file, which begins as its kind does.
func TestDraw(t *testing.T) {
	begins := map[string]string{".svg": "<?xml", ".dxf": "999\n", ".csv": "layer,", ".pdf": "%PDF-"}
	folder := t.TempDir()
	s := repl.New()
	s.Files = repl.Disk{}
	loadRecord(t, s, "../examples/heron.record")
	for _, picture := range []string{"end", "side", "map", "bridge"} {
		for kind, begin := range begins {
			file := filepath.Join(folder, picture+strings.ToUpper(kind))
			if _, err := s.Line(context.Background(), `draw `+picture+` "`+file+`"`); err != nil {
				t.Fatal(err)
			}
			b, err := os.ReadFile(file)
			if err != nil || !strings.HasPrefix(string(b), begin) {
				t.Errorf("%s: got %.20q, %v, want %q", file, b, err, begin)
			}
			var parsed error
			switch kind {
			case ".svg":
				for d := xml.NewDecoder(bytes.NewReader(b)); parsed == nil; {
					_, parsed = d.Token()
				}
			case ".csv":
				_, parsed = csv.NewReader(bytes.NewReader(b)).ReadAll()
			}
			if parsed != nil && !errors.Is(parsed, io.EOF) {
				t.Errorf("%s: %v", file, parsed)
			}
		}
	}
	file := filepath.Join(folder, "map.SVG")
	_, err := s.Line(context.Background(), `draw map "`+file+`"`)
	if want := "got " + file + ", which is there already, want another name, or replace after it"; err == nil || !strings.HasSuffix(err.Error(), want) {
		t.Errorf("got error %v, want %s", err, want)
	}
	if _, err = s.Line(context.Background(), `draw map "`+file+`" replace`); err != nil {
		t.Error(err)
	}
}
