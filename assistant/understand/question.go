package understand

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// asker takes clauses that ask.
type asker struct{ *walk }

// question takes a clause that asks. Nothing in it is told, but for how many
// pairs the question is put.
func (w asker) question(x *clause.Clause) {
	w.act(x.Act)
	w.asks = true
	about := len(w.out.About)
	for i := x.From; i < x.To; i++ {
		w.topicOf(i)
		f := figures(w)
		f.pairsAsked(i)
		if x := w.Item(i).Has("player.level"); x != nil && w.Is(i-1, "for", "a") {
			w.answer(i, i+1, x, x.Slot)
		}
	}
	if x.Act != reading.Define {
		w.suppose(x)
	}
	if x.Act == reading.WhyNot || x.Act == reading.Compare || x.Act == reading.Define || len(w.out.About) == about {
		w.aboutText(x)
	}
	if (x.Act == reading.Why || x.Act == reading.WhyNot) && len(w.out.About) == 0 && len(w.out.Supposed.Takes)+len(w.out.Supposed.Parts)+len(w.out.Supposed.Moves) == 0 {
		w.out.About = []reading.Topic{{Kind: "question"}}
	}
	for i := x.From; i < x.To; i++ {
		if x.Act != reading.WhatIf || i < x.TopicAt || !w.Unknown(i) || len(w.out.Supposed.Said) > 0 {
			w.Item(i).Used = true
		}
	}
	w.asks = false
}

// suppose reads what a question supposes, and keeps it apart.
func (w asker) suppose(x *clause.Clause) {
	v := &walk{Chart: w.Chart, r: w.r, ctx: w.ctx, parts: w.parts, clause: x, weak: w.weak}
	v.hold = reading.Named
	v.tell(x.TopicAt, x.To)
	v.settleDegree()
	settler{v}.sayBack()
	if x.Act == reading.Why || x.Act == reading.Ask { // about what is, not about what could be
		v.out = reading.Reading{Parts: v.out.Parts}
		for k := range v.out.Parts {
			if p := &v.out.Parts[k]; p.Holding == reading.Have || p.Holding == reading.Need {
				p.Holding = reading.Named
			}
		}
	}
	s := &w.out.Supposed
	s.Takes = append(s.Takes, v.out.Takes...)
	s.Parts = append(s.Parts, v.out.Parts...)
	s.Moves = append(s.Moves, v.out.Moves...)
	s.Said = append(s.Said, v.out.Said...)
	if x.Act == reading.Ask {
		return
	}
	for _, k := range v.out.Keeps {
		if !slices.Contains(w.out.Keeps, k) {
			w.out.Keeps = append(w.out.Keeps, k)
		}
	}
}

// topicOf adds what item i names as something the text is about.
func (w asker) topicOf(i int) {
	it := w.Item(i)
	add := func(t reading.Topic) {
		t.Text = w.Said(i, i+1)
		if w.asks {
			t.ID = headFact(t.ID)
		}
		same := func(o reading.Topic) bool { return o.Kind == t.Kind && o.ID == t.ID && o.N == t.N }
		if !slices.ContainsFunc(w.out.About, same) {
			w.out.About = append(w.out.About, t)
		}
	}
	if x := it.Has("term"); x != nil && w.clause != nil && w.clause.Act == reading.Define {
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
	if x := it.Has("move"); x != nil {
		add(reading.Topic{Kind: "fact", ID: x.Value})
		return
	}
	if x := it.Has("wish"); x != nil {
		add(reading.Topic{Kind: "fact", ID: x.Value})
		return
	}
	if x := it.Has("kind"); x != nil {
		add(reading.Topic{Kind: "part", ID: x.Value})
		return
	}
	if x := it.Has("material"); x != nil {
		_, kind, _ := cutLast(x.Value)
		add(reading.Topic{Kind: "part", ID: kind})
		return
	}
	if x := it.Has("term"); x != nil {
		add(reading.Topic{Kind: "term", ID: x.Value})
		return
	}
	if q := it.Qty; q != nil && q.Dim == quantity.Plain && q.Whole && q.Value >= 1 && q.Value <= 9 && (w.Is(i-1, "choice", "option", "number", "head") || w.clause != nil && (w.clause.Act == reading.Compare || w.clause.Act == reading.Show)) {
		add(reading.Topic{Kind: "choice", N: int(q.Value)})
	}
}

// aboutText adds the stretches of a question that nothing is known by.
func (w asker) aboutText(x *clause.Clause) {
	for i := x.TopicAt; i < x.To; i++ {
		if !w.Unknown(i) {
			continue
		}
		end := i + 1
		for end < x.To && (w.Unknown(end) || w.Filler(end) && end+1 < x.To && w.Unknown(end+1)) {
			end++
		}
		w.out.About = append(w.out.About, reading.Topic{Kind: "text", Text: cover.Clip(w.Said(i, end))})
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

// cutLast cuts "a b c" into "a b" and "c".
func cutLast(s string) (before, last string, found bool) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		return "", s, false
	}
	return s[:i], s[i+1:], true
}
