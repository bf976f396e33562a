package repl_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/saddlepoint/repl"
)

var update = flag.Bool("update", false, "rewrite the outputs of transcripts")

// A transcript is a session: input flush left, what it prints indented by a tab.
// The first line of a file may set what its lines run against:
//
//	# batch: as a batch, each block of input lines, parted by blank lines, a batch of its own
//	# record FILE: after a record
//	# json: with answers as JSON
//	# csv: with answers as CSV
//	# width N: in N characters
//	# ascii: with pictures in ASCII
func TestTranscripts(t *testing.T) {
	files, err := filepath.Glob("testdata/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("got %d transcripts, %v", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".txt"), func(t *testing.T) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := replay(t, string(b))
			if *update {
				if err := os.WriteFile(file, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(string(b), got); diff != "" {
				t.Errorf("%s (-want +got):\n%s", file, diff)
			}
		})
	}
}

// replay runs the inputs of a transcript, and returns it with their outputs.
func replay(t *testing.T, transcript string) string {
	t.Helper()
	var inputs []string
	for _, line := range strings.Split(strings.TrimSuffix(transcript, "\n"), "\n") {
		if !strings.HasPrefix(line, "\t") {
			inputs = append(inputs, line)
		}
	}
	head := inputs[0]
	form := repl.Words
	if strings.Contains(head, "# json") {
		form = repl.JSON
	}
	if strings.Contains(head, "# csv") {
		form = repl.CSV
	}
	var out strings.Builder
	if strings.Contains(head, "# batch") {
		for _, block := range strings.Split(strings.Join(inputs, "\n"), "\n\n") {
			fmt.Fprintf(&out, "%s\n%s\n", block, indent(runBatch(block, form)))
		}
		return strings.TrimSuffix(out.String(), "\n")
	}
	s := repl.New()
	s.ASCII = strings.Contains(head, "# ascii")
	if _, width, ok := strings.Cut(head, "# width "); ok {
		if _, err := fmt.Sscan(width, &s.Width); err != nil {
			t.Fatal(err)
		}
	}
	if _, file, ok := strings.Cut(head, "# record "); ok {
		loadRecord(t, s, file)
	}
	for _, line := range inputs {
		fmt.Fprintf(&out, "%s\n%s", line, indent(runLine(s, line, form)))
	}
	return out.String()
}

// runBatch returns what a batch of its own prints, errors last.
func runBatch(lines string, form repl.Form) string {
	s := repl.New()
	var out bytes.Buffer
	err := s.Run(context.Background(), "-", strings.NewReader(lines), &out, form)
	if err == nil {
		err = s.Finish("-", &out, form)
	}
	if err != nil {
		fmt.Fprintln(&out, err)
	}
	return out.String()
}

// runLine returns what a line of a session prints: of an error, a caret under
// the place and the message.
func runLine(s *repl.Session, line string, form repl.Form) string {
	a, err := s.Line(context.Background(), line)
	var fault *repl.Error
	if errors.As(err, &fault) {
		return fmt.Sprintf("%*s\n%s\n", fault.Column, "^", strings.Join(fault.Lines(s.Width), "\n"))
	}
	var out strings.Builder
	if err := a.Write(&out, form); err != nil {
		return err.Error()
	}
	return out.String()
}

func loadRecord(t *testing.T, s *repl.Session, file string) {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := s.Run(context.Background(), file, f, new(bytes.Buffer), repl.Words); err != nil {
		t.Fatal(err)
	}
}

// indent puts a tab before every line; an empty one gets the tab alone.
func indent(s string) string {
	if s == "" {
		return ""
	}
	return "\t" + strings.ReplaceAll(strings.TrimSuffix(s, "\n"), "\n", "\n\t") + "\n"
}
