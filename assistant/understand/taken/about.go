package taken

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// Topic adds what item i, in a clause that does act, names as something the text
// is about; where the head as it is is asked about, its fact in place of the wish.
func (l *Line) Topic(i int, act reading.Act, ofHead bool) {
	it := l.Item(i)
	add := func(t reading.Topic) {
		t.Text = l.Said(i, i+1)
		if ofHead {
			t.ID = headFact(t.ID)
		}
		same := func(o reading.Topic) bool { return o.Kind == t.Kind && o.ID == t.ID && o.N == t.N }
		if !slices.ContainsFunc(l.Out.About, same) {
			l.Out.About = append(l.Out.About, t)
		}
	}
	if x := it.Has("term"); x != nil && act == reading.Define {
		add(reading.Topic{Kind: "term", ID: x.Value})
		return
	}
	if x := it.Has("about"); x != nil && x.Value != "question" {
		if strings.Contains(x.Value, ".") { // how heavy
			add(reading.Topic{Kind: "fact", ID: x.Value})
		} else {
			add(reading.Topic{Kind: x.Value})
		}
		return
	}
	if x := it.Has("topic"); x != nil {
		for _, t := range x.Topic {
			add(t)
		}
		return
	}
	if x := it.Fact(); x != nil {
		add(reading.Topic{Kind: "fact", ID: x.Slot})
		return
	}
	for _, named := range [...]struct{ slot, kind string }{{"move", "fact"}, {"wish", "fact"}, {"kind", "part"}} {
		if x := it.Has(named.slot); x != nil {
			add(reading.Topic{Kind: named.kind, ID: x.Value})
			return
		}
	}
	if x := it.Has("material"); x != nil {
		add(reading.Topic{Kind: "part", ID: x.Material().Kind})
		return
	}
	if x := it.Has("term"); x != nil {
		add(reading.Topic{Kind: "term", ID: x.Value})
		return
	}
	if q := it.Qty; q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 1 && q.Value <= 9 && (l.Is(i-1, "choice", "option", "number", "head") || act == reading.Compare || act == reading.Show) {
		add(reading.Topic{Kind: "choice", N: int(q.Value)})
	}
}

// Unknowns adds the stretches of a question that nothing is known by.
func (l *Line) Unknowns(x *clause.Clause) {
	for i := x.TopicAt; i < x.To; i++ {
		if !l.Unknown(i) {
			continue
		}
		end := i + 1
		for end < x.To && (l.Unknown(end) || l.Filler(end) && end+1 < x.To && l.Unknown(end+1)) {
			end++
		}
		l.Out.About = append(l.Out.About, reading.Topic{Kind: "text", Text: cover.Clip(l.Said(i, end))})
		i = end - 1
	}
}

// headFact returns the fact of the head that answers to a wish.
func headFact(path string) string {
	switch path {
	case "want.budget":
		return "head.cost"
	case "want.colour":
		return "head.bright_db"
	case "want.opening":
		return "head.opens_up"
	case "want.attack":
		return "head.contact_ms"
	case "want.loudest", "want.register", "want.pairs", "want.total_budget":
		return path // of the wish only
	}
	if rest, ok := strings.CutPrefix(path, "want."); ok {
		return "head." + rest
	}
	return path
}

// SaysMore reports whether the items from..to, of which nothing was made, hold words
// that may have said something.
func SaysMore(l *Line, from, to int) bool {
	for i := from; i < to; i++ {
		it := l.Item(i)
		if l.Harmed(i) || len(l.Out.Harm) > 0 && l.harmWord(it) || it.Any("social", "mend", "reply", "alone", "filler", "join", "act", "degree", "lead") && it.Qty == nil && it.Fact() == nil {
			continue
		}
		if it.Qty != nil && it.Qty.Spelt && it.Qty.Value == 1 {
			continue
		}
		return true
	}
	return false
}
