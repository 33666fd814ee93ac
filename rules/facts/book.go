package facts

import (
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
	"mallow/rules"
	"mallow/rules/book"
)

// On is what rules are asked about, and the groups of facts that are there
// to be read: a rule about the player can't wait for a head.
func On() map[string][]string {
	return map[string][]string{
		"player": {"player", "want", "instrument", "bench"},
		"head":   {"player", "want", "instrument", "bench", "head"},
		"layer":  {"player", "want", "instrument", "bench", "head", "layer"},
	}
}

//go:generate go run mallow/cmd/pack ../..

// Shipped is the folder that the shipped rules say they are in.
const Shipped = "rules/book"

// Book returns the shipped rules with the overlays, each of which may add,
// change or hide rules of those before it. The error is a fault.Errors
// when a rule is wrong.
func Book(overlays ...yamlfile.Source) (*rules.Book[Facts], error) {
	if len(overlays) == 0 {
		if b, err := Packed(); err == nil {
			return b, nil
		}
	}
	return FromYAML(overlays...)
}

// FromYAML is Book, but never reads the packed form.
func FromYAML(overlays ...yamlfile.Source) (*rules.Book[Facts], error) {
	shipped, err := yamlfile.Sources(book.Files(), Shipped)
	if err != nil {
		return nil, err
	}
	return rules.Load[Facts](options(), append(shipped, overlays...)...)
}

func options() rules.Options { return rules.Options{On: On(), Verbs: Verbs(), Hint: words.Hint} }
