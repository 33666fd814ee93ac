package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"mallow/assistant/built"
	"mallow/assistant/journal"
	"mallow/assistant/save"
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
	files := slices.Concat(a.flags.Parts, []string{"rules:"}, a.flags.Rules)
	if dir, ok := a.configDir(); ok {
		for _, pattern := range []string{"*.yaml", "rules/*.yaml"} {
			more, err := filepath.Glob(filepath.Join(dir, pattern))
			if err != nil {
				return ""
			}
			files = append(files, more...)
		}
	}
	for _, path := range []func(func(string) string) (string, error){built.Path, shelf.Path} {
		if file, err := path(a.getenv); err == nil {
			files = append(files, file)
		}
	}
	return journal.Versions(fmt.Sprintln(version(), info.Size(), info.ModTime().UnixNano(), a.flags.NoShelf), files, save.MostBytes)
}
