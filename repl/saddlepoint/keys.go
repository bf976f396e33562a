package main

import (
	"bytes"
	"io"
	"strings"
	"unicode"

	"github.com/chzyer/readline"
)

// A keyReader stands between the terminal and the line editor, and sets right
// what the editor would read wrong.
type keyReader struct {
	src io.Reader
	out []byte // read and translated, not yet delivered
}

// translation is done one read of the terminal at a time, in which a key comes
// whole.
var translation = strings.NewReplacer(
	"\x00", "", // Ctrl-Space, to the editor the end of the input
	"\x04", "\x1b\x14\x04", // Ctrl-D, with a mark before it: see filterKey
	"\x1b[1~", "\x1b[H", "\x1b[7~", "\x1b[H", // Home, as tmux, the console and others send it
	"\x1b[4~", "\x1b[F", "\x1b[8~", "\x1b[F", // End
	"\x1b[1;5D", "\x1bb", "\x1b[1;5C", "\x1bf", // Ctrl-Left and Ctrl-Right: by words
)

func (k *keyReader) Read(p []byte) (int, error) {
	for len(k.out) == 0 {
		n, err := k.src.Read(p)
		if n == 0 && err != nil {
			return 0, err
		}
		k.out = translate(p[:n])
	}
	n := copy(p, k.out)
	k.out = k.out[n:]
	return n, nil
}

// translate returns what one read of the terminal means to the editor. A tab
// with text after it was pasted, and parts two values; at the end it is a key.
func translate(in []byte) []byte {
	text := bytes.TrimRight(in, "\t")
	pasted := bytes.ReplaceAll(text, []byte("\t"), []byte(" "))
	return []byte(translation.Replace(string(pasted)) + string(in[len(text):]))
}

// Control characters that the editor can be given: to move, to delete, to
// complete, to enter. Some others end the process: Ctrl-T after one character
// panics, as does a search (Ctrl-R) called off, and Ctrl-Z stops the parent.
const controls = "\x01\x02\x03\x04\x05\x06\a\b\t\n\v\f\r\x0e\x10\x15\x17\x19\x7f"

// filterKey is called with every key, on the editor's own goroutine. A key is
// swallowed by giving the bell instead: refusing it makes the editor read on
// between lines.
func (e *editor) filterKey(r rune) (rune, bool) {
	e.followWidth()
	// No key finds the list of candidates open: Enter would draw the prompt
	// once more under it, and Tab make it a menu, in which Ctrl-K panics, as
	// does any motion when a candidate is wider than the terminal.
	e.rl.Operation.ExitCompleteMode(false)

	switch {
	case r == readline.MetaTranspose: // the mark
		e.ctrlD = true
		return readline.CharBell, true
	case r == readline.CharDelete && e.length == 0 && !e.ctrlD:
		// The Delete key, which would end the session. The editor waits after it.
		e.rl.Terminal.KickRead()
		return readline.CharBell, true
	case e.length > mostTyped && (r == readline.CharCtrlY || !unicode.IsControl(r)),
		unicode.IsControl(r) && r != 0 && !strings.ContainsRune(controls, r): // 0 is the end of the input
		return readline.CharBell, true
	}
	e.ctrlD = false
	return r, true
}

// followWidth tells the editor of a new width before a key: told by a signal
// it would race with itself.
func (e *editor) followWidth() {
	if w := e.columns(); w != e.width {
		e.width = w
		e.widthChanged()
	}
}
