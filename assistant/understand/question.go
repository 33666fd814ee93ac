package understand

import (
	"slices"
	"strings"
)

// question takes a clause that asks. Nothing in it is told, but for how many
// pairs the question is put.
func (w *walk) question(x *clause) {
	w.act(x.act)
	w.asks = true
	about := len(w.out.About)
	for i := x.from; i < x.to; i++ {
		w.topicOf(i)
		f := figures{w}
		f.pairsAsked(i)
		if x := w.item(i).has("player.level"); x != nil && w.is(i-1, "for", "a") {
			w.answer(i, i+1, x, x.Slot)
		}
	}
	if x.act == WhatIf || x.act == Compare || x.act == WhyNot || x.act == Why {
		w.suppose(x)
	}
	if x.act == WhyNot || x.act == Compare || x.act == Define || len(w.out.About) == about {
		w.aboutText(x)
	}
	if (x.act == Why || x.act == WhyNot) && len(w.out.About) == 0 && len(w.out.Supposed.Takes)+len(w.out.Supposed.Parts)+len(w.out.Supposed.Moves) == 0 {
		w.out.About = []Topic{{Kind: "question"}}
	}
	for i := x.from; i < x.to; i++ {
		if x.act != WhatIf || i < x.topicAt || !w.unknown(i) || len(w.out.Supposed.Said) > 0 {
			w.item(i).used = true
		}
	}
	w.asks = false
}

// suppose reads what a question supposes, and keeps it apart.
func (w *walk) suppose(x *clause) {
	v := &walk{chart: w.chart, clause: x, weak: w.weak}
	v.hold = Named
	v.tell(x.topicAt, x.to)
	v.settleDegree()
	v.sayBack()
	if x.act == Why { // about what is, not about what could be
		v.out = Reading{Parts: v.out.Parts}
	}
	s := &w.out.Supposed
	s.Takes = append(s.Takes, v.out.Takes...)
	s.Parts = append(s.Parts, v.out.Parts...)
	s.Moves = append(s.Moves, v.out.Moves...)
	s.Said = append(s.Said, v.out.Said...)
	for _, k := range v.out.Keeps {
		if !slices.Contains(w.out.Keeps, k) {
			w.out.Keeps = append(w.out.Keeps, k)
		}
	}
}

// topicOf adds what item i names as something the text is about.
func (w *walk) topicOf(i int) {
	it := w.item(i)
	add := func(t Topic) {
		t.Text = w.said(i, i+1)
		if w.asks {
			t.ID = headFact(t.ID)
		}
		same := func(o Topic) bool { return o.Kind == t.Kind && o.ID == t.ID && o.N == t.N }
		if !slices.ContainsFunc(w.out.About, same) {
			w.out.About = append(w.out.About, t)
		}
	}
	if x := it.has("term"); x != nil && w.clause != nil && w.clause.act == Define {
		add(Topic{Kind: "term", ID: x.Value})
		return
	}
	if x := it.has("about"); x != nil && x.Value != "question" {
		if strings.Contains(x.Value, ".") { // how heavy
			add(Topic{Kind: "fact", ID: x.Value})
		} else {
			add(Topic{Kind: x.Value})
		}
		return
	}
	if x := it.has("topic"); x != nil {
		for _, t := range x.Topic {
			add(t)
		}
		return
	}
	if x := it.fact(); x != nil {
		add(Topic{Kind: "fact", ID: x.Slot})
		return
	}
	if x := it.has("move"); x != nil {
		add(Topic{Kind: "fact", ID: x.Value})
		return
	}
	if x := it.has("wish"); x != nil {
		add(Topic{Kind: "fact", ID: x.Value})
		return
	}
	if x := it.has("kind"); x != nil {
		add(Topic{Kind: "part", ID: x.Value})
		return
	}
	if x := it.has("material"); x != nil {
		_, kind, _ := cutLast(x.Value)
		add(Topic{Kind: "part", ID: kind})
		return
	}
	if x := it.has("term"); x != nil {
		add(Topic{Kind: "term", ID: x.Value})
		return
	}
	if q := it.qty; q != nil && q.dim == plainNumber && q.whole && q.value >= 1 && q.value <= 9 && (w.is(i-1, "choice", "option", "number", "head") || w.clause != nil && (w.clause.act == Compare || w.clause.act == Show)) {
		add(Topic{Kind: "choice", N: int(q.value)})
	}
}

// aboutText adds the stretches of a question that nothing is known by.
func (w *walk) aboutText(x *clause) {
	for i := x.topicAt; i < x.to; i++ {
		if !w.unknown(i) {
			continue
		}
		end := i + 1
		for end < x.to && (w.unknown(end) || w.filler(end) && end+1 < x.to && w.unknown(end+1)) {
			end++
		}
		w.out.About = append(w.out.About, Topic{Kind: "text", Text: clip(w.said(i, end))})
		i = end - 1
	}
}

// unknown reports whether item i is a word that the word list gives no use for.
func (w *walk) unknown(i int) bool {
	it := w.item(i)
	return it.mark == "" && it.qty == nil && it.note == nil && it.id == "" && (len(it.senses) == 0 || it.has("plain") != nil) && !it.used
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
