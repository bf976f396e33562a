package repl

import (
	"errors"
	"fmt"
	"unicode/utf8"

	"example.org/saddlepoint/units"
)

// Error is what is wrong with a line, and where.
type Error struct {
	File   string // - for standard input
	Line   int    // from 1
	Column int    // from 1, in characters
	Err    error  // got X, want Y
}

// Error gives file:line:column: message, on one line.
func (e *Error) Error() string {
	return fmt.Sprintf("%s:%d:%d: %v", e.File, e.Line, e.Column, e.Err)
}

// Lines returns the message without its place, folded to the width of a
// session.
func (e *Error) Lines(width int) []string {
	return fold(e.Err.Error(), widthOf(width))
}

// Unwrap returns the fault without its place.
func (e *Error) Unwrap() error { return e.Err }

// A fault is an error at a byte of a line.
type fault struct {
	at     int
	syntax bool // the line is not of the language, whatever its values
	err    error
}

func (f *fault) Error() string { return f.err.Error() }

func faultf(at int, format string, args ...any) error {
	return &fault{at, false, fmt.Errorf(format, args...)}
}

// syntax reports what stands at byte at of a line and what was wanted there.
func syntax(line string, at int, want, hint string) error {
	return &fault{at, true, gotWant(units.Quote(line[at:]), want, hint)}
}

func gotWant(got, want, hint string) error {
	if hint != "" {
		hint = " (" + hint + ")"
	}
	return fmt.Errorf("got %s, want %s%s", got, want, hint)
}

// faultAt puts an error at a byte of the line, unless it knows a place already.
// An error of parsing knows its place within the text that begins at that byte.
func faultAt(at int, err error) error {
	if err == nil {
		return nil
	}
	switch e := err.(type) {
	case *fault:
		return e
	case *units.ParseError:
		got := e.Got
		if e.Offset == len(e.Input) && e.Input != "" {
			got = units.Quote(e.Input) // and nothing more
		}
		return &fault{at + e.Offset, true, gotWant(got, e.Want, e.Hint)}
	}
	return &fault{at, false, err}
}

// place turns an error about a line into an *Error.
func place(file string, n int, line string, err error) *Error {
	at := 0
	var f *fault
	if errors.As(err, &f) {
		at, err = f.at, f.err
	}
	return &Error{File: file, Line: n, Column: 1 + utf8.RuneCountInString(line[:min(at, len(line))]), Err: err}
}
