package repl

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// Files is a session's only way to a disk.
type Files interface {
	// Open opens a file to read.
	Open(name string) (io.ReadCloser, error)
	// Write writes a file whole, or not at all. It overwrites one that is there
	// only where over is set.
	Write(name string, over bool, write func(io.Writer) error) error
	// List names what is in a folder, in any order; a name of nothing is the folder
	// that other names start from. The name of a folder ends with a slash.
	List(folder string) ([]string, error)
}

// Disk is the disk of the machine. It follows no link to write, and a kill at any
// moment leaves the old file or the new one.
type Disk struct{}

// Open opens a file to read.
func (Disk) Open(name string) (io.ReadCloser, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() { // to open a pipe would wait for its writer
		return nil, fmt.Errorf("got %s, which is no plain file", name)
	}
	return os.Open(name)
}

// List names what is in a folder.
func (Disk) List(folder string) ([]string, error) {
	if folder == "" {
		folder = "."
	}
	entries, err := os.ReadDir(folder)
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = e.Name()
		dir := e.IsDir()
		if e.Type()&fs.ModeSymlink != 0 {
			// One to a folder is opened as a folder.
			info, err := os.Stat(filepath.Join(folder, e.Name()))
			dir = err == nil && info.IsDir()
		}
		if dir {
			names[i] += "/"
		}
	}
	return names, err
}

// Write writes a file under another name beside its place, and then puts it
// there.
func (Disk) Write(name string, over bool, write func(io.Writer) error) (err error) {
	info, err := os.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return fmt.Errorf("got %s, which is no plain file, want another name", name)
	case !over:
		return fmt.Errorf("got %s, which is there already, want another name, or replace after it", name)
	}
	f, err := openPart(name)
	if err != nil {
		return called(name, err)
	}
	part := f.Name()
	defer func() {
		if err != nil {
			os.Remove(part) // it never took its place
			err = called(name, err)
		}
	}()
	err = write(f)
	if err == nil && info != nil {
		err = f.Chmod(info.Mode().Perm())
	}
	if err == nil {
		err = f.Sync()
	}
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	return put(part, name, over)
}

// openPart opens a new file beside the place of one. Unlike os.CreateTemp it
// lets those read it who may read what the user writes elsewhere.
func openPart(name string) (*os.File, error) {
	for {
		part := filepath.Join(filepath.Dir(name), fmt.Sprintf(".%s.%08x.part", filepath.Base(name), rand.Uint32()))
		f, err := os.OpenFile(part, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}

// called makes an error of the file beside its place one of the file itself.
func called(name string, err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &link):
		return &fs.PathError{Op: "write", Path: name, Err: link.Err}
	case errors.As(err, &path) && filepath.Ext(path.Path) == ".part":
		return &fs.PathError{Op: "write", Path: name, Err: path.Err}
	}
	return err
}

// put moves a finished file to its place.
func put(part, name string, over bool) error {
	move := putNew
	if over {
		move = os.Rename
	}
	if err := move(part, name); err != nil {
		return err
	}
	if dir, err := os.Open(filepath.Dir(name)); err == nil {
		// So that the name survives a power cut; not every system can.
		dir.Sync()
		dir.Close()
	}
	return nil
}

// putNew moves a finished file to a place that nothing has.
func putNew(part, name string) error {
	// A link, unlike a rename, fails if the name was taken meanwhile.
	switch err := os.Link(part, name); {
	case err == nil:
		return os.Remove(part)
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("got %s, which is there already, want another name, or replace after it", name)
	}
	return os.Rename(part, name) // a disk without links
}
