package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"github.com/chzyer/readline"
)

const (
	// minWidth is the least width that the library is told of.
	minWidth = 40

	// mostTyped is the length of the longest line, in characters. The library
	// draws the whole line for each of them: a paste of 65,536 would take minutes.
	mostTyped = 1000
)

// errInterrupt is what ReadLine returns for Ctrl-C: the line is dropped, the session goes on.
var errInterrupt = readline.ErrInterrupt

// editorOptions says what an editor works on.
type editorOptions struct {
	Stdin          io.ReadCloser // Close leaves it open
	Stdout, Stderr io.Writer

	// HistoryFile holds the lines of earlier sessions; "" means none.
	HistoryFile string

	// Complete returns the words that may stand for line[from:pos], both in
	// bytes, sorted; each begins with it. It is called on another goroutine,
	// but only while ReadLine waits.
	Complete func(line string, pos int) (from int, words []string)

	// width, for tests, stands for a terminal that is not there.
	width func() int
}

// An editor reads lines from a terminal, with history and completion. Nothing
// else may write to the terminal while ReadLine waits.
type editor struct {
	rl       *readline.Instance
	stderr   io.Writer
	complete func(line string, pos int) (from int, words []string)

	// The library's goroutine, which draws the line and filters the keys, has
	// these to itself.
	length       int // of the line, in characters
	width        int
	screenWidth  func() int
	widthChanged func() // makes the library ask for the width
	ctrlD        bool   // the next CharDelete is Ctrl-D, not the Delete key
}

// newEditor starts an editor. Close must be called on every way out.
func newEditor(o editorOptions) (*editor, error) {
	e := &editor{stderr: o.Stderr, complete: o.Complete, screenWidth: readline.GetScreenWidth}
	cfg := &readline.Config{
		Stdin:               io.NopCloser(&keyReader{src: o.Stdin}),
		Stdout:              o.Stdout,
		Stderr:              o.Stderr,
		AutoComplete:        e,
		Painter:             e,
		FuncFilterInputRune: e.filterKey,
		FuncGetWidth:        e.columns,
		FuncOnWidthChanged:  func(f func()) { e.widthChanged = f },

		// It would save while ReadLine's caller goes on, and lose the last line at Close.
		DisableAutoSaveHistory: true,
	}
	if o.width != nil {
		e.screenWidth = o.width
		cfg.ForceUseInteractive = true
		cfg.FuncMakeRaw = func() error { return nil }
		cfg.FuncExitRaw = cfg.FuncMakeRaw
	}
	e.width = e.columns()
	err := e.start(cfg, o.HistoryFile)
	return e, err
}

// start starts the library's goroutines, with the history in path if it can be kept there.
func (e *editor) start(cfg *readline.Config, path string) (err error) {
	if path != "" && e.keepPrivate(path) {
		cfg.HistoryFile = path
	}
	e.rl, err = readline.NewEx(cfg)
	if err == nil && cfg.HistoryFile != "" {
		e.keepPrivate(path) // it may have been trimmed into a new file
	}
	return err
}

// keepPrivate makes the file of the history one that only the user can read,
// or says that it is none.
func (e *editor) keepPrivate(path string) bool {
	err := closeToOthers(path)
	if err != nil {
		fmt.Fprintln(e.stderr, "no history:", err)
	}
	return err == nil
}

// terminals reports whether the process has a terminal at both ends. On
// anything else the editor would take bytes for keys.
func terminals() bool {
	return readline.IsTerminal(int(os.Stdin.Fd())) && readline.IsTerminal(int(os.Stdout.Fd()))
}

// columns returns the width of the terminal, as the library may know it.
func (e *editor) columns() int { return max(minWidth, e.screenWidth()) }

// ReadLine returns the next line typed. The error is io.EOF for Ctrl-D on an
// empty line and at the end of the input, after which there are no more lines,
// and errInterrupt for Ctrl-C.
func (e *editor) ReadLine(prompt string) (string, error) {
	e.rl.SetPrompt(prompt)
	for {
		line, err := e.rl.Readline()
		if err != nil {
			return "", err
		}
		if utf8.RuneCountInString(line) <= mostTyped {
			// A line that cannot be kept on a disk that is full is still in memory.
			_ = e.rl.SaveHistory(strings.TrimSpace(line))
			return line, nil
		}
		fmt.Fprintf(e.stderr, "got a line of more than %d characters, want a shorter one\n", mostTyped)
	}
}

// Close gives the terminal back as it was. No ReadLine may be waiting.
func (e *editor) Close() error { return e.rl.Close() }

// Do adapts Complete to the library, which takes what is to be added at pos,
// and how many characters before it are there already.
func (e *editor) Do(line []rune, pos int) (added [][]rune, typed int) {
	before := string(line[:pos])
	from, words := e.complete(string(line), len(before))
	word := before[from:]
	for _, w := range words {
		added = append(added, []rune(strings.TrimPrefix(w, word)))
	}
	return added, utf8.RuneCountInString(word)
}

// Paint is called with the line whenever it is drawn.
func (e *editor) Paint(line []rune, _ int) []rune {
	e.length = len(line)
	return line
}
