// Pack writes the packed forms of the shipped knowledge and rules, which
// mallow reads at its start in place of their YAML: go generate ./... runs it.
package main

import (
	"fmt"
	"os"
	"path/filepath"

	"mallow/knowledge"
	"mallow/rules/facts"
)

func main() {
	if err := pack(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

// pack writes both files below the top folder of the module.
func pack(top string) error {
	for name, make := range map[string]func() ([]byte, error){"knowledge/catalog/catalog.bin": knowledge.Pack, "rules/book/book.bin": facts.Pack} {
		data, err := make()
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(top, name), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
