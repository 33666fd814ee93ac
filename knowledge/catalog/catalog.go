// Package catalog holds the shipped knowledge as files: parts, words, steps,
// cautions, and all of it once more in packed form. It never reads what is in
// them; being a package of its own, a changed word rebuilds nothing but its reader.
package catalog

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml
var files embed.FS

//go:embed catalog.bin
var packed string

// Files returns the knowledge as people edit it: YAML files, all at the top.
func Files() fs.FS { return files }

// Packed returns the same as go generate packed it.
func Packed() string { return packed }
