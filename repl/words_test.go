package repl

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
)

// Every word has a line of help and an example that runs on a record.
func TestEveryWord(t *testing.T) {
	record, err := os.ReadFile("../examples/heron.record")
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range newVocabulary().list {
		t.Run(classNames[w.class]+" "+w.name, func(t *testing.T) {
			if w.help == "" || w.form == "" || !strings.Contains(w.example, strings.Fields(w.name)[0]) {
				t.Errorf("got help %q, form %q, example %q", w.help, w.form, w.example)
			}
			s := New()
			s.Files = mapFiles{"six.record": "scale: 640mm\n"}
			var out bytes.Buffer
			if err := s.Run(context.Background(), "heron", bytes.NewReader(record), &out, Words); err != nil {
				t.Fatal(err)
			}
			a, err := s.Line(context.Background(), w.example)
			if err != nil {
				t.Fatal(err)
			}
			if err := a.Write(&out, Words); err != nil || out.Len() == 0 {
				t.Errorf("got %q, %v", out.String(), err)
			}
			if told := a.Told(); told != (w.class == classField) {
				t.Errorf("%s: told is %v", w.example, told)
			}
		})
	}
}

func TestNearest(t *testing.T) {
	names := []string{"fret", "frets", "tension", "tensions", "stagger", "saddle", "saddles", "move"}
	for name, want := range map[string]string{
		"frte": "fret", "tenzion": "tension", "stager": "stagger", "staagerr": "stagger", "sadle": "saddle", "mov": "move",
		"x": "", "fretx": "", "saddlex": "", "": "",
	} {
		if got := nearest(name, names); got != want {
			t.Errorf("%q: got %q, want %q", name, got, want)
		}
	}
}

func TestEighths(t *testing.T) {
	for turns, want := range map[float64]string{0: "0", 0.05: "0", 0.07: "1/8", 0.25: "1/4", -0.5: "1/2", 0.96: "1", 1: "1", 5.6: "5 5/8", -12.25: "12 1/4"} {
		if got := eighths(turns); got != want {
			t.Errorf("%v: got %s, want %s", turns, got, want)
		}
	}
}
