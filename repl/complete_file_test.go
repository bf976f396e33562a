package repl

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestCompleteFile(t *testing.T) {
	s := New()
	s.Files = mapFiles{"six.record": "", "sixty": "", "a/b.record": "", "a/c/d": "", "a/.old": "", `6" nut`: "", "ünder": "", "bad\nname": "", ".hidden": ""}
	all := []string{`6"" nut"`, "a/", `six.record"`, `sixty"`, `ünder"`}
	for _, c := range []struct {
		line string
		from int
		want []string
	}{
		{`load "`, 6, all},
		{`save "`, 6, all},
		{`save "six`, 6, []string{`six.record"`, `sixty"`}},
		{`load "a/`, 8, []string{`b.record"`, "c/"}},
		{`load "a/.`, 8, []string{`.old"`}},
		{`load "a/c/`, 10, []string{`d"`}},
		{`load "6""`, 6, []string{`6"" nut"`}},
		{`load "ü`, 6, []string{`ünder"`}},
		{`load ".h`, 6, []string{`.hidden"`}},
		{`load "none/`, 11, nil},
		{`load "six.record" `, 18, []string{"replace"}},
		{`load "six.record" rep`, 18, []string{"replace"}},
		{`name: "six`, 7, nil}, // no act
	} {
		from, words := s.Complete(c.line, len(c.line))
		if diff := cmp.Diff(c.want, words); from != c.from || diff != "" {
			t.Errorf("%s: got %d, want %d, %s", c.line, from, c.from, diff)
		}
	}
	if from, words := s.Complete(`load "sixty`, 9); from != 6 || len(words) != 2 {
		t.Errorf("within a name: got %d, %q", from, words)
	}
	if _, words := New().Complete(`load "`, 6); words != nil {
		t.Errorf("with no files: got %q", words)
	}
}

func TestDiskList(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "folder"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "file"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	want := []string{"file", "folder/"}
	if os.Symlink(filepath.Join(dir, "folder"), filepath.Join(dir, "link")) == nil {
		want = append(want, "link/")
	}
	names, err := Disk{}.List(dir)
	slices.Sort(names)
	if diff := cmp.Diff(want, names); err != nil || diff != "" {
		t.Error(err, diff)
	}
	if _, err := (Disk{}).List(filepath.Join(dir, "none")); err == nil {
		t.Error("got no error of a folder that is not there")
	}
	if names, err := (Disk{}).List(""); err != nil || !slices.Contains(names, "testdata/") {
		t.Errorf("got %q, %v, want what stands beside this test", names, err)
	}
}
