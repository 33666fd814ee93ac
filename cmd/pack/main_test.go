package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/knowledge"
	"mallow/knowledge/catalog"
	"mallow/knowledge/packed"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/tally"
)

// The packed forms are those of the YAML as it is.
func TestPackedIsFresh(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"knowledge/catalog/catalog.bin", "rules/book/book.bin"} {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if err := pack(dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"knowledge/catalog/catalog.bin", "rules/book/book.bin"} {
		want, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(filepath.Join("..", "..", name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is stale: go generate ./... makes it anew (%v)", name, err)
		}
	}
}

// What is read from the packed form is what the YAML says, value by value, and
// the rules answer alike.
func TestPackedIsTheYAML(t *testing.T) {
	cat, err := knowledge.Packed()
	if errors.Is(err, packed.ErrStale) {
		t.Skip("stale, which TestPackedIsFresh reports")
	}
	if err != nil {
		t.Fatal(err)
	}
	want, err := knowledge.Load(catalog.Files())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, cat); diff != "" {
		t.Errorf("catalogue: -YAML +packed\n%s", diff)
	}

	book, err := facts.Packed()
	if err != nil {
		t.Fatal(err)
	}
	read, err := facts.FromYAML()
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(read.Rules(), book.Rules()); diff != "" {
		t.Errorf("rules: -YAML +packed\n%s", diff)
	}
	answers := func(b *rules.Book[facts.Facts]) tally.Coverage { return b.Coverage(500, read.Draw) }
	if diff := cmp.Diff(answers(read), answers(book)); diff != "" {
		t.Errorf("coverage: -YAML +packed\n%s", diff)
	}
	// What is said about a head: values, reasons and what would change them.
	said := func(b *rules.Book[facts.Facts], on string, f facts.Facts) string {
		out, err := json.MarshalIndent(b.Ask(on, f, nil), "", " ")
		if err != nil {
			t.Fatal(err)
		}
		return string(out)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		f := read.Draw(rng)
		for _, on := range []string{"player", "head", "layer"} {
			if diff := cmp.Diff(said(read, on, f), said(book, on, f)); diff != "" {
				t.Errorf("rules on %s: -YAML +packed\n%s", on, diff)
			}
		}
	}
	if problems := book.Examples(); len(problems) > 0 {
		t.Error(problems)
	}
}
