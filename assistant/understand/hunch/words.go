package hunch

import (
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
)

// Longest is the most words that a line may have; there is no opinion of a longer one.
const Longest = 48

// Shortest is the fewest words that a line has to have: what says less has no room
// for another meaning.
const Shortest = 4

// Word is a word or mark of a line, and what the word list knows of the stretch
// that it stands in.
type Word struct {
	Text  string   `json:"text"`            // as it was written, in lower case
	Spelt string   `json:"spelt,omitempty"` // spelt right, where that is another word
	Tags  []string `json:"tags,omitempty"`

	from, to int // the bytes of the line
}

// Words returns the words of a line as it was covered, none for one that is too long.
func Words(c *cover.Chart) []Word {
	if len(c.Tokens) > Longest {
		return nil
	}
	out := make([]Word, 0, len(c.Tokens))
	for i := range c.Items {
		it := &c.Items[i]
		tags := tags(it)
		for _, t := range c.Tokens[it.From:it.To] {
			w := Word{Text: plain(t), Tags: tags, from: t.From, to: t.To}
			if raw := strings.ToLower(c.Text[t.From:t.To]); t.Slips > 0 && raw != w.Text {
				w.Text, w.Spelt = raw, w.Text
			}
			out = append(out, w)
		}
	}
	return out
}

// plain returns a token as it is looked up: what number it is says little.
func plain(t lexis.Token) string {
	const small = 20
	switch {
	case t.Kind == lexis.Number && t.Whole && t.Value <= small:
		return t.Text
	case t.Kind == lexis.Number:
		return "<" + strconv.Itoa(min(len(t.Text), 4)) + ">"
	case t.Kind == lexis.Fraction:
		return "<part>"
	case t.Kind == lexis.PartID:
		return "<id>"
	}
	return t.Text
}

// tags names the meanings that an item can have.
func tags(it *cover.Item) []string {
	var out []string
	for _, x := range it.Senses {
		tag := x.Slot
		switch v := x.Fact.(type) {
		case string:
			tag += "=" + v
		case bool:
			tag += "=" + strconv.FormatBool(v)
		case float64:
			switch {
			case v < 0:
				tag += "-"
			case v > 0:
				tag += "+"
			}
		}
		switch x.Slot {
		case "move", "wish", "kind", "holding", "act", "reply", "bound", "social", "asked", "quality":
			tag += ":" + x.Value
		}
		if !slices.Contains(out, tag) {
			out = append(out, tag)
		}
	}
	if q := it.Qty; q != nil {
		out = append(out, "figure", "figure:"+strconv.Itoa(int(q.Dim))+q.Form)
	}
	if it.Note != nil {
		out = append(out, "note")
	}
	if it.ID != "" {
		out = append(out, "part")
	}
	if it.Limit != "" {
		out = append(out, "limit:"+it.Limit)
	}
	return out
}
