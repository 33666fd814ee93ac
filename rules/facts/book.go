package facts

import (
	"mallow/knowledge/words"
	"mallow/knowledge/yamlfile"
	"mallow/rules"
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

// Shipped is the folder that the shipped rules say they are in.
const Shipped = "rules/book"

// Book returns the shipped rules with the overlays, each of which may add,
// change or hide rules of those before it. The error is a fault.Errors
// when a rule is wrong.
func Book(overlays ...yamlfile.Source) (*rules.Book[Facts], error) {
	shipped, err := yamlfile.Sources(rules.Files(), Shipped)
	if err != nil {
		return nil, err
	}
	opts := rules.Options{On: On(), Verbs: Verbs(), Hint: words.Hint}
	return rules.Load[Facts](opts, append(shipped, overlays...)...)
}
