package main

import (
	"errors"
	"fmt"
	"io"

	"mallow/assistant/save"
)

// saveFile writes a file whole or not at all, and names the flag that
// replaces one that is there.
func saveFile(path string, force bool, render func(io.Writer) error) error {
	err := save.File(path, force, render)
	if errors.Is(err, save.ErrExists) {
		return fmt.Errorf("%w; --force replaces it", err)
	}
	return err
}
