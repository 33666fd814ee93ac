package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"mallow/assistant/save"
)

// outFile is a file to write, as it is named on the command line.
type outFile string

// UnmarshalText refuses what is no name.
func (f *outFile) UnmarshalText(text []byte) error {
	switch {
	case len(text) == 0:
		return errors.New("a file to write needs a name")
	case strings.ContainsAny(string(text), "\n\r\x00"):
		return errors.New("the name of a file to write can't hold a line break")
	}
	*f = outFile(text)
	return nil
}

// ready returns an error where a file can't be written, before any work is done
// for it. Files are those that were named; none may be named twice.
func ready(force bool, files ...outFile) error {
	seen := map[string]bool{}
	for _, f := range files {
		if f == "" {
			continue
		}
		if clean := filepath.Clean(string(f)); seen[clean] {
			return usagef("%q is named for two files, of which one would be lost", f)
		} else {
			seen[clean] = true
		}
		if err := hinted(save.Ready(string(f), force)); err != nil {
			return err
		}
	}
	return nil
}

// saveFile writes a file whole or not at all, and names the flag that
// replaces one that is there.
func saveFile(path string, force bool, render func(io.Writer) error) error {
	return hinted(save.File(path, force, render))
}

// hinted names the flag that replaces a file that is there.
func hinted(err error) error {
	if errors.Is(err, save.ErrExists) {
		return fmt.Errorf("%w; --force replaces it", err)
	}
	return err
}
