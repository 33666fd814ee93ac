package tell

import (
	"slices"
	"strings"
	"testing"

	"mallow/assistant/page"
	"mallow/assistant/toolbox"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/rules/facts"
)

// Whatever fact a line may be asked about has a name in plain words.
func TestCalled(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	net, err := hunch.New(func(_, word string) (any, error) { return word, nil })
	if err != nil {
		t.Fatal(err)
	}
	said := Teller{Kit: &toolbox.Kit{Catalogue: cat}}
	n := 0
	for _, label := range append(net.Labels, "parts") {
		group, rest, ok := strings.Cut(label, ".")
		if label != "parts" && (!ok || group == "part" || strings.ContainsAny(rest, "=+-!<>")) || strings.Contains(label, ":") {
			continue
		}
		n++
		if name := said.called(label); name == "" || strings.ContainsAny(name, "._?") {
			t.Errorf("%s is called %q", label, name)
		}
	}
	if n < 20 {
		t.Errorf("only %d facts", n)
	}
}

// What is settled alike is asked in one sentence.
func TestDoubts(t *testing.T) {
	cat, err := knowledge.Default()
	if err != nil {
		t.Fatal(err)
	}
	for name, tt := range map[string]struct {
		in   reading.Reading
		want page.Page
	}{
		"two gathered": {
			reading.Reading{
				Takes:  []reading.Take{{Path: facts.WantMassG, Value: 26.0}, {Path: facts.WantRegister, Value: "low"}},
				Asks:   []reading.Doubt{{Path: facts.WantMassG}, {Path: facts.WantRegister}},
				Missed: []string{"down in the cellar"},
			},
			page.Page{page.Para("I gathered the weight and where it is played from “down in the cellar”: please say it in other words if it was meant otherwise.")},
		},
		"one wondered, one unsure": {
			reading.Reading{Asks: []reading.Doubt{{Path: facts.WantLoudest}, {Path: facts.WantSoftness, Text: "soft"}}},
			page.Page{
				page.Para("Was that about how loudly it is played too? Then please say it in a few words."),
				page.Para("I was not sure of “soft” (how soft): please say it once more in other words if it was meant otherwise."),
			},
		},
		"nothing": {},
	} {
		var r Said
		Teller{Kit: &toolbox.Kit{Catalogue: cat}}.Doubts(&r, tt.in)
		if !slices.Equal(r.Page, tt.want) {
			t.Errorf("%s: said %q, not %q", name, r.Page, tt.want)
		}
	}
}
