// Package readingtest loads the lines of testdata/reading for tests: what people
// typed, and what a careful clerk would write down from it. It judges nothing.
package readingtest

import (
	"os"
	"path/filepath"
	"testing"

	"gopkg.in/yaml.v3"
)

// Record is a line and its expected reading. The README of testdata/reading
// tells where each file came from and what the fields hold.
type Record struct {
	ID     string   `yaml:"id"`
	Asked  string   `yaml:"asked"`
	Before []string `yaml:"before"`
	Say    string   `yaml:"say"`
	Kind   string   `yaml:"kind"`
	Expect struct {
		Acts      []string         `yaml:"acts"`
		Takes     []string         `yaml:"takes"`
		Moves     []string         `yaml:"moves"`
		Parts     []map[string]any `yaml:"parts"`
		Keeps     []string         `yaml:"keeps"`
		Withdraws []string         `yaml:"withdraws"`
	} `yaml:"expect"`
	MayAsk  []string `yaml:"may_ask"`
	MustNot []string `yaml:"must_not"`
}

// Corpus returns the lines of the files of testdata/reading, or of the folder
// that READING names.
func Corpus(t testing.TB) []Record {
	t.Helper()
	dir := os.Getenv("READING")
	if dir == "" {
		dir = filepath.Join(module(t), "testdata/reading")
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no corpus in %s: %v", dir, err)
	}
	var out []Record
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var list []Record
		if err := yaml.Unmarshal(data, &list); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		out = append(out, list...)
	}
	return out
}

// module returns the folder of go.mod, above that of the test.
func module(t testing.TB) string {
	dir, err := os.Getwd()
	for err == nil {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		if dir == filepath.Dir(dir) {
			break
		}
		dir = filepath.Dir(dir)
	}
	t.Fatalf("no module above the test: %v", err)
	return ""
}
