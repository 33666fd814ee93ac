package spare_test

import (
	"testing"

	"mallow/assistant/spare"
)

// TestCut tells what is to be bought apart from what else is said.
func TestCut(t *testing.T) {
	for _, tt := range []struct {
		say, rest string
		want      spare.Wish
	}{
		{"can it be softer without buying anything", "make it softer", spare.Only},
		{"use only what I have", "", spare.Only},
		{"only use what I've got", "", spare.Only},
		{"I want to just use what I have on hand", "", spare.Only},
		{"nothing to buy please", "", spare.Only},
		{"I don't want to buy anything else", "", spare.Only},
		{"we can't spend any more money, marimba", "marimba", spare.Only},
		{"let's make do with what we have", "", spare.Only},
		{"harder, but I'd rather not buy anything new", "harder, but", spare.Only},
		{"only what's on hand", "", spare.Only},
		{"I can buy things after all", "", spare.Free},
		{"forget using only what I have", "", spare.Free},
		{"buying stuff is fine", "", spare.Free},

		{"do I have to use only what I have?", "do I have to use only what I have?", spare.None},
		{"what do I need to buy", "what do I need to buy", spare.None},
		{"I'd buy yarn", "I'd buy yarn", spare.None},
		{"I have two balls", "I have two balls", spare.None},
		{"what can I make from what I have", "what can I make from what I have", spare.None},
		{"I only have two hands", "I only have two hands", spare.None},
		{"where do I buy tubing", "where do I buy tubing", spare.None},
	} {
		if rest, got := spare.Cut(tt.say); got != tt.want || rest != tt.rest {
			t.Errorf("Cut(%q) = %q, %v, want %q, %v", tt.say, rest, got, tt.rest, tt.want)
		}
	}
}
