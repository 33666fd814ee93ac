package yamlfile_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"mallow/knowledge/fault"
	"mallow/knowledge/yamlfile"
)

type note struct {
	At    yamlfile.Place `yaml:"-"`
	ID    string         `yaml:"id"`
	Says  yamlfile.Text  `yaml:"says"`
	Count int            `yaml:"count"`
	Tags  []string       `yaml:"tags"`
	Means yamlfile.Pairs `yaml:"means"`
}

type notes struct {
	Notes []note `yaml:"notes"`
}

func TestDecode(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"right", "notes: [{id: a, says: b, count: 3, tags: [x], means: {y: 1, z: [2, 3]}}]", ""},
		{"empty", "# nothing\n", ""},
		{"a field misspelt", "notes:\n  - {id: a, cont: 3}\n", `f.yaml:2:13: file: notes[1]: unknown field "cont" (did you mean "count"?)`},
		{"not whole", "notes: [{count: 3.5}]", `f.yaml:1:17: file: notes[1]: count: "3.5" is not a whole number`},
		{"not YAML", "notes: [", "f.yaml:1:1: not YAML: did not find expected node content (in what starts on this line)"},
		{"two documents", "notes: []\n---\nnotes: []\n", "f.yaml:2:1: a second YAML document starts here (join them into one)"},
		{"too long", "# " + strings.Repeat("x", yamlfile.MaxBytes), fmt.Sprintf("f.yaml: the file has %d bytes, the limit is %d", yamlfile.MaxBytes+2, yamlfile.MaxBytes)},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got notes
			if errs := yamlfile.Decode("f.yaml", []byte(tt.text), &got); errs.Error() != tt.want {
				t.Errorf("got %q, want %q", errs.Error(), tt.want)
			}
		})
	}
}

// A fault inside a text stands where the file has it, however it is written.
func TestTextAt(t *testing.T) {
	for _, tt := range []struct{ name, text, want string }{
		{"plain", "notes: [{says: one two}]", "1:20"},
		{"quoted", "notes: [{says: 'one two'}]", "1:21"},
		{"folded", "notes:\n  - says: >-\n      one\n      two\n", "4:7"},
		{"literal", "notes:\n  - says: |\n      one two\n", "3:11"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var got notes
			if errs := yamlfile.Decode("f.yaml", []byte(tt.text), &got); len(errs) > 0 {
				t.Fatal(errs)
			}
			says := got.Notes[0].Says
			at := says.At(strings.Index(strings.ReplaceAll(says.Value, "\n", " "), "two"))
			if s := fmt.Sprintf("%d:%d", at.Line, at.Col); s != tt.want {
				t.Errorf("two stands at %s, want %s", s, tt.want)
			}
		})
	}
}

func TestLayers(t *testing.T) {
	l := yamlfile.NewLayers[notes]()
	l.Guard = func(r reflect.Value, _ yamlfile.Node) *fault.Error {
		if r.Interface().(note).ID == "kept" {
			return &fault.Error{What: "kept is kept"}
		}
		return nil
	}
	l.Lay(yamlfile.Source{Name: "base", Data: []byte("notes: [{id: a, count: 1, tags: [x]}, {id: b}, {id: kept}]")})
	l.Lay(yamlfile.Source{Name: "mine", Data: []byte("notes: [{id: a, count: 2}, {id: b, hide: true}, {id: kept, count: 3}, {id: c}, {id: c}]")})
	var got notes
	var hidden []string
	for kind, r := range l.Fill(&got) {
		hidden = append(hidden, kind+" "+r.ID())
	}
	if len(got.Notes) != 3 || got.Notes[0].Count != 2 || len(got.Notes[0].Tags) != 1 || fmt.Sprint(hidden) != "[notes b]" {
		t.Errorf("got %+v, hidden %v", got.Notes, hidden)
	}
	want := "mine:1:49: kept is kept\nmine:1:80: note c: already at mine:1 (give another id, or join the two)"
	if got := l.Errors().Error(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
