package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"mallow/assistant/shelf"
)

// versions names all that an answer follows from beside what was said: this
// program with what it ships, the user's own parts and rules, the heads they
// measured, and their shelf. It is empty where that can't be told.
func (a *app) versions() string {
	self, err := os.Executable()
	if err != nil {
		return ""
	}
	info, err := os.Stat(self)
	if err != nil {
		return ""
	}
	h := sha256.New()
	fmt.Fprintln(h, version(), info.Size(), info.ModTime().UnixNano(), a.flags.NoShelf)
	files := slices.Concat(a.flags.Parts, []string{"rules:"}, a.flags.Rules)
	if dir, ok := configDir(); ok {
		for _, pattern := range []string{"*.yaml", "rules/*.yaml"} {
			more, err := filepath.Glob(filepath.Join(dir, pattern))
			if err != nil {
				return ""
			}
			files = append(files, more...)
		}
	}
	for _, path := range []func() (string, error){builtFile, func() (string, error) { return shelf.Path(os.Getenv) }} {
		if file, err := path(); err == nil {
			files = append(files, file)
		}
	}
	for _, name := range files {
		fmt.Fprintln(h, name)
		f, err := os.Open(name)
		if err != nil {
			continue // it is not there, which counts as well
		}
		n, err := io.Copy(h, io.LimitReader(f, mostBytes+1))
		f.Close()
		if err != nil {
			return ""
		}
		fmt.Fprintln(h, n)
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}
