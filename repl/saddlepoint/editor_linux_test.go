package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"
	"time"
	"unsafe"

	"github.com/chzyer/readline"
)

// openTerminal returns both ends of a terminal: what a person has before them,
// and what a program has.
func openTerminal(t *testing.T, columns uint16) (person, program *os.File) {
	t.Helper()
	person, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Skip(err)
	}
	t.Cleanup(func() { person.Close() })
	control := func(request uintptr, arg unsafe.Pointer) {
		if _, _, errno := syscall.Syscall(syscall.SYS_IOCTL, person.Fd(), request, uintptr(arg)); errno != 0 {
			t.Fatal(errno)
		}
	}
	var locked, number int32
	size := [4]uint16{24, columns}
	control(syscall.TIOCSPTLCK, unsafe.Pointer(&locked))
	control(syscall.TIOCGPTN, unsafe.Pointer(&number))
	control(syscall.TIOCSWINSZ, unsafe.Pointer(&size))
	program, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { program.Close() })
	return person, program
}

// start starts the program itself, to be killed at the end if it is still there.
func start(t *testing.T, in io.Reader, out io.Writer) *exec.Cmd {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), "RUN_SADDLEPOINT=1", "XDG_CONFIG_HOME="+t.TempDir())
	cmd.Stdin, cmd.Stdout, cmd.Stderr = in, out, out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	kill := time.AfterFunc(patience, func() { cmd.Process.Kill() })
	t.Cleanup(func() { kill.Stop(); cmd.Process.Kill() })
	return cmd
}

// await waits until want is shown after the first so many bytes.
func (s *screen) await(t *testing.T, after int, want string) {
	t.Helper()
	for end := time.Now().Add(patience); !strings.Contains(s.String()[after:], want); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("got %.999q, want %q", s.String()[after:], want)
		}
	}
}

func TestSessionOnTerminal(t *testing.T) {
	for _, columns := range []uint16{1, 5, 39, 40, 80} {
		t.Run(fmt.Sprint(columns, " columns"), func(t *testing.T) { sessionOnTerminal(t, columns) })
	}
}

func sessionOnTerminal(t *testing.T, columns uint16) {
	person, program := openTerminal(t, columns)
	before, err := readline.GetState(int(program.Fd()))
	if err != nil {
		t.Fatal(err)
	}
	shown := new(screen)
	go io.Copy(shown, person)
	cmd := start(t, program, program)
	const prompt = "\r>  \b" // shown when the editor has the terminal, which takes Ctrl-D to itself before
	shown.await(t, 0, prompt)
	for _, step := range []struct{ keys, want, enter, answer string }{
		{"2 * 3mm", "mm", "\r", "\n6.000mm "},
		{"st\t\t\t", "stack(", "\x1b[4~\x1b[1~\x0b\r", prompt},
		{strings.Repeat("1", 90) + "\x1b[1~+\x1b[4~-", "-", "\x03", "^C"},
		{"mm\x1b[1~25", "25mm", "\r", "\n25.000mm "},
	} {
		at := len(shown.String())
		io.WriteString(person, step.keys)
		shown.await(t, at, step.want)
		at = len(shown.String())
		io.WriteString(person, step.enter)
		shown.await(t, at, step.answer)
		shown.await(t, at, prompt)
	}
	io.WriteString(person, "\x1b[3~\x04") // Delete, which does not leave, and Ctrl-D
	if err := cmd.Wait(); err != nil {
		t.Errorf("got %v, want no error", err)
	}
	after, err := readline.GetState(int(program.Fd()))
	if err != nil || !reflect.DeepEqual(after, before) {
		t.Errorf("got the terminal back as %v, %v, want %v", after, err, before)
	}
}

// A program told to end while it waits for a line gives the terminal back.
func TestTerminalGivenBackOnSignal(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP} {
		person, program := openTerminal(t, 80)
		before, err := readline.GetState(int(program.Fd()))
		if err != nil {
			t.Fatal(err)
		}
		shown := new(screen)
		go io.Copy(shown, person)
		cmd := start(t, program, program)
		shown.await(t, 0, "\r>  \b")
		if during, _ := readline.GetState(int(program.Fd())); reflect.DeepEqual(during, before) {
			t.Error("got the terminal untouched while a line is read")
		}
		cmd.Process.Signal(sig)
		if err := cmd.Wait(); err == nil || cmd.ProcessState.ExitCode() != 1 {
			t.Errorf("%v: got %v, want exit status 1", sig, err)
		}
		after, err := readline.GetState(int(program.Fd()))
		if err != nil || !reflect.DeepEqual(after, before) {
			t.Errorf("%v: got the terminal back as %v, %v, want %v", sig, after, err, before)
		}
	}
}

// With a terminal at one end only, input is read as a batch.
func TestTerminalAtOneEnd(t *testing.T) {
	person, program := openTerminal(t, 80)
	var out bytes.Buffer
	cmd := start(t, program, &out)
	io.WriteString(person, "3mm * 2\n\x04")
	if err := cmd.Wait(); err != nil || !strings.HasPrefix(out.String(), "6.000mm") {
		t.Errorf("terminal to pipe: got %q, %v, want the answer alone", &out, err)
	}

	person, program = openTerminal(t, 80)
	shown := new(screen)
	go io.Copy(shown, person)
	cmd = start(t, strings.NewReader("4mm * 2\n"), program)
	if err := cmd.Wait(); err != nil {
		t.Error(err)
	}
	shown.await(t, 0, "8.000mm ")
	if !strings.HasPrefix(shown.String(), "8.000mm ") {
		t.Errorf("pipe to terminal: got %q, want the answer alone", shown)
	}
}

// To open a pipe would wait for its writer.
func TestLoadPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	stuck := time.AfterFunc(patience, func() { panic("stuck on a pipe") })
	defer stuck.Stop()
	_, errs, _ := run(t, "load \""+path+"\"\n")
	if want := "-:1:6: got " + path + ", which is no plain file\n"; errs != want {
		t.Errorf("got %q, want %q", errs, want)
	}
}

// A pipe in place of the history would be read for ever, and a device closed to others.
func TestHistoryPipe(t *testing.T) {
	path := filepath.Join(t.TempDir(), "history")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	stuck := time.AfterFunc(patience, func() { panic("stuck on a pipe") })
	defer stuck.Stop()
	d := sit(t, editorOptions{HistoryFile: path})
	d.want("a", "a\r")
	if got := d.err.String(); !strings.HasPrefix(got, "no history: ") {
		t.Errorf("got %q on standard error, want to be told", got)
	}
}
