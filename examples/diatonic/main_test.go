package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Places by hand: at 690 mm the octaves lie at 345 and 517.5, and every other fret
// of the second octave half as far from the 7th as it was from the nut.
func TestTable(t *testing.T) {
	var out bytes.Buffer
	if err := run(nil, &out); err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(out.String(), "\n")
	for i, want := range map[int]string{
		7:  "6½ 324.49mm 21.73mm C#5 G#4 C#4",
		8:  "7 345.00mm 20.51mm D5 A4 D4",
		9:  "8 382.64mm 37.64mm E5 B4 E4",
		16: "14 517.50mm 10.26mm D6 A5 D5",
	} {
		if got := strings.Join(strings.Fields(rows[i]), " "); got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	}
	if len(rows) != 18 || rows[17] != "" {
		t.Errorf("got %d lines, want a head and 16 frets", len(rows)-1)
	}
}

// The picture numbers the frets as the table does, and is drawn once.
func TestPicture(t *testing.T) {
	name := filepath.Join(t.TempDir(), "stick.svg")
	var out bytes.Buffer
	if err := run([]string{name}, &out); err != nil {
		t.Fatal(err)
	}
	drawn, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{">6½</text>", ">13½</text>", ">14</text>"} {
		if !bytes.Contains(drawn, []byte(want)) {
			t.Errorf("got no %s in the picture, want it", want)
		}
	}
	if err := run([]string{name}, &out); !os.IsExist(err) {
		t.Errorf("got %v, want the file left alone", err)
	}
	if err := run([]string{"a", "b"}, &out); err == nil || err.Error() != "got 2 files, want at most one" {
		t.Errorf("got %v, want two files refused", err)
	}
}
