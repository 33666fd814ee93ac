package tell

import "strings"

// Help says what can be said at any time.
func Help(r *Said) {
	r.Say("Say what you need in your own words; one sentence may answer many questions. At any time you can also say:")
	r.List([]string{
		"why, why this layer, why wool; why not …: the reasons; more, the rules: deeper",
		"what if …: what would move (what if I play four mallets)",
		"what is …: what a word means; cost, time, tools, safety: just ask",
		"compare …: two to four heads (1 and 2; medium and soft; the one before)",
		"softer, harder, lighter, smaller, cheaper, no latex: another head; a set of four",
		"back, undo, change …, start again; show answers, show the drawing",
		"build, or Enter at a proposal: go through the build; the sheet: all of it",
		"rewrap …, new shaft …, it rattles, yarn has gone hard: old heads",
		"lesson 1, or teach me: predict first, then see",
		"save; leave: all you said is kept",
	})
}

// Unanswered says that a question has no answer here, and what can be asked at this
// place; after some of them, what Enter does.
func (t Teller) Unanswered(r *Said, often bool) {
	q, asking := t.Kit.Catalogue.Question(t.Asked)
	switch {
	case t.Building && t.Asked == "":
		r.Say("I have no answer to that. Here I can say why a step is done, what a word means, what is left to do (card), and what to do when it slipped or tore.")
	case asking && often:
		r.Say("I have no answer to that either. Press Enter and I go on with what most players have, or say one of: %s.", strings.Join(q.Examples, "; "))
	case asking:
		r.Say("I have no answer to that. Here you can answer (%s), ask why, ask what a word means, or what it costs, how long it takes, which tools it needs, whether it is safe.", strings.Join(q.Examples, "; "))
	case t.Proposed:
		r.Say("I have no answer to that. Ask why, why not, what if, compare; what it costs, how long it takes, which tools it needs, whether it is safe; or say softer, lighter, cheaper.")
	default:
		r.Say("I have no answer to that. Say which instrument the mallets are for, or press Enter and I ask one thing at a time.")
	}
}
