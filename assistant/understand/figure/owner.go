package figure

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/rules/facts"
)

// Apart reports whether what heads are to be is told of one person's and of another's: mine
// soft, hers hard; soft for me and hard for my brother; I want soft ones and she gets hard.
func Apart(c *cover.Chart) bool {
	type wish struct {
		slot, value, of string
		at              int
	}
	var all []wish
	for i := range c.Items {
		f := c.Item(i).Fact()
		if f == nil || f.Slot != facts.WantSoftness && f.Slot != facts.WantColour && f.Slot != facts.WantAttack {
			continue
		}
		x := wish{f.Slot, f.Value, owner(c, i), i}
		for _, y := range all {
			if x.of != "" && y.of != "" && x.of != y.of && x.slot == y.slot && x.value != y.value && (own(x.of) || own(y.of) || !c.HasWord(y.at, i, "but")) {
				return true
			}
		}
		all = append(all, x)
	}
	return false
}

// own reports whether a word is for what somebody owns.
func own(of string) bool {
	return slices.Contains([]string{"mine", "hers", "his", "theirs", "ours"}, of)
}

// owner returns whose heads the wish at item i is for, as the line has it; empty where it
// doesn't say.
func owner(c *cover.Chart, i int) string {
	j := c.Item(i).From + 1
	for j < c.Item(i).To && !c.At(j).Is("for") {
		j++
	}
	for slices.Contains([]string{"1", "one", "ones", "pair", "set", "mallets", "heads"}, c.At(j).Text) {
		j++
	}
	if c.At(j).Is("for") {
		j++
		for c.At(j).Is("my") || c.At(j).Is("our") || c.At(j).Is("the") || c.At(j).Is("her") || c.At(j).Is("his") {
			j++
		}
		if w := c.At(j).Text; person(w) || w == "me" || w == "him" || w == "myself" || c.At(j-1).Is("her") {
			return named(w)
		}
	}
	const between = " want wants need needs get gets should must to be the a an some have something would like likes prefer prefers take takes please will ill id please for and "
	for j = c.Item(i).From - 1; j >= 0 && j > c.Item(i).From-6; j-- {
		w := c.At(j).Text
		switch {
		case own(w), person(w), w == "i" || w == "me" || w == "she" || w == "he" || w == "id" || w == "ill":
			return named(w)
		case w == "" || !strings.Contains(between, " "+w+" "):
			return ""
		}
	}
	return ""
}

// named is one name for whoever a word stands for, as far as one line goes; what is owned
// keeps its word.
func named(w string) string {
	switch w {
	case "i", "id", "ill", "me", "myself":
		return "me"
	case "him":
		return "he"
	}
	return w
}

// person reports whether a word is for somebody of whose mallets people speak.
func person(w string) bool {
	return slices.Contains([]string{"sister", "brother", "son", "daughter", "wife", "husband", "partner", "friend", "mate", "dad", "mum", "mom", "father", "mother", "teacher", "student", "pupil", "kid", "boy",
		"girl", "cousin", "nephew", "niece", "colleague", "grandson", "granddaughter", "roommate", "bandmate", "girlfriend", "boyfriend"}, w)
}
