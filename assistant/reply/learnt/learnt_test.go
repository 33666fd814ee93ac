package learnt_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/page"
	"mallow/assistant/reply/learnt"
	"mallow/knowledge/correct"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
)

var update = flag.Bool("update", false, "rewrite the golden file")

// What is said of heads as they are entered one after the other, read as a whole:
// testdata/pages.txt.
func TestPages(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	inst, _ := cat.Instrument("marimba-5")
	set := strike.Setting{Instrument: inst, Dynamics: cat.Dynamics, Scale: cat.Scale}
	const stack = "poly-1-1/8 + latex-3/4x1/8@1 + wool-medium"
	const g, mm, kg = measure.Gram, measure.Millimetre, measure.Kilogram
	var log correct.Log
	var got bytes.Buffer
	show := func(title string, v learnt.Built) {
		got.WriteString("== " + title + "\n\n")
		if err := page.Text(&got, v.Page(), page.Style{Width: 80, Plain: true}); err != nil {
			t.Fatal(err)
		}
		got.WriteString("\n")
	}
	show("nothing yet", learnt.New(log, nil, "built.yaml"))
	for _, c := range []struct {
		title string
		head  correct.Built
	}{
		{"an outlier alone", correct.Built{Stack: stack, Mass: 48 * g}},
		{"mended", correct.Built{Name: "head 1", Stack: stack, Mass: 22.9 * g, Squeezes: []correct.Squeeze{{Narrower: 1.5 * mm, Scale: 2.4 * kg}}}},
		{"another of its stack, heard as harder than one that it is computed to be softer than", correct.Built{Stack: "poly-1-1/8 + latex-3/4x1/8@1 + latex-1x1/8@1 + wool-medium", HarderThan: []string{"head 1"}}},
		{"an outlier under a good one's name", correct.Built{Name: "head 1", Stack: stack, Mass: 48 * g}},
	} {
		var moved []correct.Moved
		var e correct.Entry
		var err error
		if log, moved, e, err = correct.Enter(cat, set, log, c.head); err != nil {
			t.Fatal(err)
		}
		v := learnt.New(log, moved, "built.yaml")
		v.Noted = learnt.NewNoted(e)
		show(c.title, v)
	}
	golden := filepath.Join("testdata", "pages.txt")
	if *update {
		if err := os.MkdirAll("testdata", 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, got.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), got.String()); d != "" {
		t.Error(d)
	}
}
