package knowledge

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mallow/knowledge/yamlfile"
)

// text checks the kinds that hold words for people.
func (c *checker) text() {
	for _, s := range c.cat.Steps {
		c.at("steps", s.ID)
		c.need("title", s.Title != "")
		c.need("text", s.Text != "")
		if s.Each != "" {
			c.oneOf("each", s.Each, "layer")
		}
		c.references("tools", s.Tools, "tools")
		c.references("cautions", s.Cautions, "cautions")
		c.source("source", s.Source)
	}
	for _, x := range c.cat.Cautions {
		c.at("cautions", x.ID)
		c.need("hazard", x.Hazard != "")
		c.need("do", x.Do != "")
		c.need("defer", x.Defer != "")
		c.source("source", x.Source)
	}
	for _, t := range c.cat.Terms {
		c.at("terms", t.ID)
		c.need("means", t.Means != "")
		c.source("source", t.Source)
	}
	for _, w := range c.cat.Words {
		c.at("words", w.ID)
		c.need("slot", w.Slot != "")
		c.need("value", w.Value != "")
		c.need("say", len(w.Say) > 0)
	}
	for _, l := range c.cat.Lessons {
		c.at("lessons", l.ID)
		c.need("title", l.Title != "")
		c.need("ask", l.Ask != "")
		c.need("stacks", len(l.Stacks) > 0)
		c.need("choices", len(l.Choices) > 1)
		c.need("reveal", l.Reveal != "")
		c.source("source", l.Source)
	}
	for _, q := range c.cat.Questions {
		c.at("questions", q.ID)
		c.need("ask", q.Ask != "")
		c.need("choices", len(q.Choices) > 1)
		for i, choice := range q.Choices {
			c.need(fmt.Sprintf("choices.%d.value", i+1), choice.Value != "")
		}
		c.need("unsaid", q.Careful == "" || q.Unsaid != "")
		c.need("given", q.Careful == "" || q.Given != "")
		for field, value := range map[string]string{"default": q.Default, "careful": q.Careful} {
			if field == "default" && value == Usual {
				for i, choice := range q.Choices {
					if _, err := strconv.ParseFloat(choice.Value, 64); err != nil {
						c.bad(fmt.Sprintf("choices.%d.value", i+1), "a number", "%q can't be near to what is usual", yamlfile.Clip(choice.Value))
					}
				}
				continue
			}
			if value != "" && !slices.ContainsFunc(q.Choices, func(x Choice) bool { return x.Value == value }) {
				c.bad(field, "one of its choices", "%q is not a choice of the question", yamlfile.Clip(value))
			}
		}
	}
	c.said()
	c.practice()
	c.phrases()
	seen := map[string]string{}
	for _, t := range c.cat.Terms {
		c.at("terms", t.ID)
		for i, name := range append([]string{t.ID}, t.Also...) {
			name = strings.ToLower(name)
			if other := seen[name]; other != "" && other != t.ID {
				c.bad(cmp.Or(strings.TrimSuffix(fmt.Sprintf("also.%d", i), ".0"), "id"), "keep it in one", "%q is explained by term %s too", yamlfile.Clip(name), other)
			}
			seen[name] = t.ID
		}
	}
}

// phrases reports a phrase that answers one question in two ways. Slots of
// grammar have no dot and may share phrases.
func (c *checker) phrases() {
	type answer struct{ slot, say string }
	seen := map[answer]string{}
	for _, w := range c.cat.Words {
		if !strings.Contains(w.Slot, ".") {
			continue
		}
		c.at("words", w.ID)
		for i, say := range w.Say {
			a := answer{w.Slot, strings.ToLower(say)}
			if other := seen[a]; other != "" {
				c.bad(fmt.Sprintf("say.%d", i+1), "keep it in one", "%q answers %s in word %s too", yamlfile.Clip(say), w.Slot, other)
			}
			seen[a] = w.ID
		}
	}
}
