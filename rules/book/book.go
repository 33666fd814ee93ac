// Package book holds the shipped rules as files, one to a concern, and all of
// them once more in packed form. It never reads what is in them; being a
// package of its own, a changed rule rebuilds nothing but its reader.
package book

import (
	"embed"
	"io/fs"
)

//go:embed *.yaml
var files embed.FS

//go:embed book.bin
var packed string

// Files returns the rules as people edit them: YAML files, all at the top.
func Files() fs.FS { return files }

// Packed returns the same as go generate packed it.
func Packed() string { return packed }
