package main

import (
	"fmt"
	"os"
	"path/filepath"
)

// historyPath returns where the lines typed in sessions are kept, and makes
// the folder. Only the user may look into it.
func historyPath() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", err
	}
	dir = filepath.Join(dir, "saddlepoint")
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", err
	}
	// An older folder may be open to others.
	if err := os.Chmod(dir, 0o700); err != nil {
		return "", err
	}
	return filepath.Join(dir, "history"), nil
}

// closeToOthers makes the file if it is not there and sees that only the user
// can read it.
func closeToOthers(path string) error {
	f, err := os.OpenFile(path, os.O_APPEND|os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return err
	}
	defer f.Close()
	fi, err := f.Stat()
	if err != nil {
		return err
	}
	if !fi.Mode().IsRegular() {
		return fmt.Errorf("%s: got a device or a pipe, want a file", path)
	}
	return f.Chmod(0o600)
}
