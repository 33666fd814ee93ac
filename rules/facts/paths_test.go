package facts_test

import (
	"bytes"
	"flag"
	"fmt"
	"go/format"
	"os"
	"reflect"
	"testing"

	"mallow/rules/facts"
)

var update = flag.Bool("update", false, "write paths.go from the struct")

// TestPaths holds paths.go to the struct: a path is written nowhere else.
func TestPaths(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("// Written by go test ./rules/facts -update from the struct Facts.\n\npackage facts\n")
	groups := reflect.TypeFor[facts.Facts]()
	for i := range groups.NumField() {
		g := groups.Field(i)
		fmt.Fprintf(&b, "\n// Paths of %s.\nconst (\n", g.Name)
		for j := range g.Type.NumField() {
			f := g.Type.Field(j)
			fmt.Fprintf(&b, "%s%s Path = %q\n", g.Name, f.Name, g.Tag.Get("expr")+"."+f.Tag.Get("expr"))
		}
		b.WriteString(")\n")
	}
	want, err := format.Source(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("paths.go", want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile("paths.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("paths.go is not what the struct says; run go test ./rules/facts -update")
	}
}

// TestIndex puts and reads each kind of fact.
func TestIndex(t *testing.T) {
	x := facts.Index()
	var f facts.Facts
	for path, text := range map[string]string{facts.WantSoftness: "-2.5", facts.PlayerMinor: "true", facts.InstrumentKind: "bells"} {
		if err := x.Parse(&f, path, text); err != nil {
			t.Error(err)
		}
		if got := fmt.Sprint(x.Get(&f, path)); got != text {
			t.Errorf("%s is %s, %s was put", path, got, text)
		}
	}
	for _, tt := range []struct{ path, text, want string }{
		{facts.WantSoftness, "soft", `want.softness: "soft" is not a number`},
		{facts.PlayerMinor, "1", `player.minor: "1" is not true or false`},
		{"want.softnes", "1", `no fact is called "want.softnes"`},
	} {
		if err := x.Parse(&f, tt.path, tt.text); err == nil || err.Error() != tt.want {
			t.Errorf("%v, want %s", err, tt.want)
		}
	}
	if err := facts.Set(&f, facts.WantSoftness, "soft"); err == nil {
		t.Error("a word passes for a number")
	}
}
