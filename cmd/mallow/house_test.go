package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// What keeps a line of code findable: no production file over 600 lines, no package
// over 3,000, no type with more than 40 methods, and every package says what it knows.
// (This program's own choice; see DEVELOPERS.md.)
func TestHouse(t *testing.T) {
	lines, methods, doc := map[string]int{}, map[string]int{}, map[string]bool{}
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		room, _ := filepath.Rel(root, filepath.Dir(path))
		n := set.File(f.FileStart).LineCount()
		if lines[room] += n; n > 600 {
			t.Errorf("%s has %d lines, the most is 600", path, n)
		}
		doc[room] = doc[room] || f.Doc != nil
		for _, d := range f.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv != nil {
				methods[room+"."+receiver(fn.Recv.List[0].Type)]++
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for room, n := range lines {
		if n > 3000 {
			t.Errorf("%s has %d lines of production code, the most is 3000", room, n)
		}
		if !doc[room] {
			t.Errorf("%s does not say what it knows", room)
		}
	}
	for name, n := range methods {
		if n > 40 {
			t.Errorf("%s has %d methods, the most is 40", name, n)
		}
	}
	if len(lines) < 60 {
		t.Errorf("only %d rooms were looked at", len(lines))
	}
}

// receiver is the name of the type that a method belongs to.
func receiver(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.StarExpr:
		return receiver(e.X)
	case *ast.IndexExpr:
		return receiver(e.X)
	case *ast.IndexListExpr:
		return receiver(e.X)
	case *ast.Ident:
		return e.Name
	}
	return ""
}

// Whoever adds a word can read the line it goes into.
func TestWordLinesAreReadable(t *testing.T) {
	const most = 160
	for _, name := range []string{"words.yaml", "speech.yaml", "asking.yaml", "wishes.yaml", "things.yaml", "idioms.yaml", "names.yaml", "limits.yaml", "keeps.yaml", "relative.yaml", "reports.yaml", "spellings.yaml", "harm.yaml"} {
		path := filepath.Join("..", "..", "knowledge", "catalog", name)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(data), "\n") {
			if n := utf8.RuneCountInString(line); n > most {
				t.Errorf("%s:%d has %d characters, the most is %d", path, i+1, n, most)
			}
		}
	}
}
