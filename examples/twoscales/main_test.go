package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

func TestRun(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "drawings")
	var out bytes.Buffer
	if err := run(folder, false, &out); err != nil {
		t.Fatal(err)
	}
	want := ""
	for name, start := range map[string]string{
		"neck.svg": "<?xml", "neck.dxf": "999\n", "neck.csv": "layer,name,", "neck-a4.pdf": "%PDF-", "neck-letter.pdf": "%PDF-",
	} {
		data, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(data, []byte(start)) {
			t.Errorf("%s: got a start of %.12q, want %q", name, data, start)
		}
	}
	for _, name := range []string{"neck.svg", "neck.dxf", "neck.csv", "neck-a4.pdf", "neck-letter.pdf"} {
		want += fmt.Sprintln("wrote", filepath.Join(folder, name))
	}
	if out.String() != want {
		t.Errorf("got %s, want %s", out.String(), want)
	}
}

// Nothing is overwritten, nor written beside what would be, until told.
func TestKeepsWhatIsThere(t *testing.T) {
	folder, elsewhere := t.TempDir(), filepath.Join(t.TempDir(), "mine")
	if err := os.WriteFile(elsewhere, []byte("mine"), 0o666); err != nil {
		t.Fatal(err)
	}
	there := filepath.Join(folder, "neck-a4.pdf")
	if err := os.Symlink(elsewhere, there); err != nil {
		t.Skip(err) // a system without links
	}
	want := fmt.Sprintf("got %s there already, want another folder, or -replace", there)
	if err := run(folder, false, &bytes.Buffer{}); err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	if list, err := os.ReadDir(folder); err != nil || len(list) != 1 {
		t.Errorf("got %v and %v, want nothing written", list, err)
	}
	if err := run(folder, true, &bytes.Buffer{}); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(elsewhere); err != nil || string(data) != "mine" {
		t.Errorf("got %q and %v behind the link, want it left alone", data, err)
	}
	if list, err := os.ReadDir(folder); err != nil || len(list) != 5 {
		t.Errorf("got %v and %v, want five files", list, err)
	}
}

// The outer strings are as long as asked, and every saddle stands a little behind
// the scale line.
func TestBoard(t *testing.T) {
	b, err := board()
	if err != nil {
		t.Fatal(err)
	}
	if got, want := fmt.Sprintf("%.3f %.3f", b.Scale(1), b.Scale(8)), "647.700mm 711.200mm"; got != want {
		t.Errorf("got scales of %s, want %s", got, want)
	}
	for i, back := range b.Plan().Setback {
		if !(back > 0.5 && back < 8) {
			t.Errorf("string %d: got a setback of %v, want 0.5 to 8 mm", i+1, back)
		}
	}
}
