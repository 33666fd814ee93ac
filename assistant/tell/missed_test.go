package tell

import (
	"strings"
	"testing"

	"mallow/assistant/toolbox"
	"mallow/assistant/understand/hunch"
	"mallow/knowledge"
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
