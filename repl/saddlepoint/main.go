// Saddlepoint does the arithmetic of setting up fretted instruments: it keeps
// the record of one, and turns readings into moves.
//
//	saddlepoint               a session, or a batch where input is no terminal
//	saddlepoint FILE...       runs the files in order; - is standard input
//	saddlepoint -json ...     answers as one JSON object a line
//	saddlepoint -csv ...      answers as tables of comma-separated values
//
// Files that ask nothing end with the sheet. A batch stops at the first error,
// with one line on standard error and exit status 1.
package main

import (
	"bufio"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"
	"unicode/utf8"

	"github.com/chzyer/readline"

	"example.org/saddlepoint/repl"
)

// memory is what the program keeps to as far as it can: a batch takes 64 MiB at
// most, of which its own text and what is not the heap's need some.
const memory = 50 << 20

func main() { os.Exit(program()) }

// program is all of it, and returns its exit status.
func program() int {
	debug.SetMemoryLimit(memory)
	form := repl.Words
	flag.Usage = usage
	asJSON := flag.Bool("json", false, "answer with one JSON object a line")
	asCSV := flag.Bool("csv", false, "answer with tables of comma-separated values")
	flag.Parse()
	switch {
	case *asJSON && *asCSV:
		fmt.Fprintln(os.Stderr, "got -json and -csv, want one of them")
		return 2
	case *asJSON:
		form = repl.JSON
	case *asCSV:
		form = repl.CSV
	}
	var err error
	if flag.NArg() == 0 && terminals() {
		err = session(form)
	} else {
		err = batch(flag.Args(), form)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	return 0
}

func usage() {
	fmt.Fprintln(flag.CommandLine.Output(), `usage: saddlepoint [-json | -csv] [FILE...]

With no file it opens a session, or reads a batch where input is no terminal.
Files run in order, - being standard input; files that ask nothing end with a sheet.
Type help in a session for the words of the language.`)
	flag.PrintDefaults()
}

// batch runs files, or standard input where none is named.
func batch(names []string, form repl.Form) error {
	if len(names) == 0 {
		names = []string{"-"}
	}
	out := bufio.NewWriter(os.Stdout)
	s := newSession()
	err := runAll(s, names, out, form)
	if ferr := out.Flush(); err == nil {
		err = ferr
	}
	return err
}

func runAll(s *repl.Session, names []string, out io.Writer, form repl.Form) error {
	for _, name := range names {
		if err := runFile(s, name, out, form); err != nil {
			return err
		}
	}
	return s.Finish(names[len(names)-1], out, form)
}

func runFile(s *repl.Session, name string, out io.Writer, form repl.Form) error {
	if name == "-" {
		return s.Run(context.Background(), name, os.Stdin, out, form)
	}
	f, err := os.Open(name)
	if err != nil {
		// Reported as what cannot be read is, with its place.
		return s.Run(context.Background(), name, unreadable{err}, out, form)
	}
	defer f.Close() // it was only read
	return s.Run(context.Background(), name, f, out, form)
}

// unreadable is a file that could not be opened.
type unreadable struct{ err error }

func (u unreadable) Read([]byte) (int, error) { return 0, u.err }

func newSession() *repl.Session {
	s := repl.New()
	s.Files, s.Now = repl.Disk{}, time.Now
	s.Width = screenWidth()
	s.ASCII = !speaksUTF8(os.Getenv)
	return s
}

// speaksUTF8 reports whether the locale has UTF-8: of the variables that name it,
// the first that is set decides.
func speaksUTF8(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := getenv(name); locale != "" {
			locale = strings.ToLower(locale)
			return strings.Contains(locale, "utf-8") || strings.Contains(locale, "utf8")
		}
	}
	return false
}

// screenWidth is the width of the terminal that answers go to, 0 where that is
// none or keeps it to itself.
func screenWidth() int {
	if !readline.IsTerminal(int(os.Stdout.Fd())) {
		return 0
	}
	return max(0, readline.GetScreenWidth())
}

const prompt = "> "

// hint is for who has not read the README; a line fits the narrowest terminal.
const hint = `Tell with a colon: read cents 12: +7 +5
Ask without: moves, next, fret(12)
help helps, Tab completes, Ctrl-D leaves`

// session reads lines from a person until they leave.
func session(form repl.Form) (err error) {
	s := newSession()
	history, err := historyPath()
	if err != nil {
		fmt.Fprintln(os.Stderr, "no history:", err)
	}
	giveBackOnSignal(int(os.Stdin.Fd()))
	ed, err := newEditor(editorOptions{Stdin: readline.Stdin, Stdout: readline.Stdout, Stderr: readline.Stderr, HistoryFile: history, Complete: s.Complete})
	if err != nil {
		return err
	}
	defer func() {
		if cerr := ed.Close(); err == nil {
			err = cerr
		}
	}()
	if form == repl.Words {
		fmt.Println(hint)
	}
	for warned := false; ; {
		line, err := ed.ReadLine(prompt)
		switch {
		case errors.Is(err, errInterrupt):
			continue
		case errors.Is(err, io.EOF) && s.Unsaved() && !warned:
			warned = true
			fmt.Println("The record is not saved. save \"FILE\"\nkeeps it; Ctrl-D again leaves without.")
			continue
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
		warned = false
		s.Width = screenWidth() // it may have been drawn wider
		if err := answer(s, line, form); err != nil {
			return err
		}
	}
}

// giveBackOnSignal ends the program when it is told to end, or its terminal goes
// away, with the terminal as it was: the editor may be waiting, and must not be
// closed then.
func giveBackOnSignal(terminal int) {
	was, err := readline.GetState(terminal)
	if err != nil {
		return // it is none to give back
	}
	told := make(chan os.Signal, 1)
	signal.Notify(told, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		<-told
		_ = readline.Restore(terminal, was) // nobody is left to tell
		os.Exit(1)
	}()
}

// answer reads one line and prints what it comes to. Ctrl-C stops it.
func answer(s *repl.Session, line string, form repl.Form) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	a, err := s.Line(ctx, line)
	var fault *repl.Error
	if errors.As(err, &fault) {
		_, err = fmt.Println(caret(line, fault, s.Width))
		return err
	}
	if err != nil {
		return err
	}
	return a.Write(os.Stdout, form)
}

// caret shows an error under the place in the line that it speaks of.
func caret(line string, e *repl.Error, width int) string {
	column := min(e.Column, utf8.RuneCountInString(line)+1)
	return strings.Repeat(" ", len(prompt)+column-1) + "^\n" + strings.Join(e.Lines(width), "\n")
}
