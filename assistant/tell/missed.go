package tell

import (
	"cmp"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// Missed says what nothing was made of. A fear or a question in it has its
// answer; words that say nothing are not listed.
func (t Teller) Missed(r *Said, in reading.Reading) {
	var quoted []string
	missed := in.Missed
	if len(missed) > 0 && slices.ContainsFunc(in.Asks, func(d reading.Doubt) bool { return d.Text == "" && guessed(in, d.Path) }) {
		missed = missed[1:] // something was gathered from it
	}
	for _, m := range missed {
		if slices.Contains(filler, answer.Plain(m)) {
			continue
		}
		asks := len(strings.Fields(m)) > 3 // drilled is no question, nor is and which not
		if of, how := t.Kit.Answers().Nearest(m); asks && how >= answer.NearSure && !of.Trouble && t.Kit.Answers().Do(of.ID) == "" {
			r.Once(t.Answer(of.ID, m))
			continue
		}
		quoted = append(quoted, "“"+m+"”")
	}
	if len(quoted) > 0 {
		r.Say("I could make nothing of %s.", strings.Join(quoted, ", "))
	}
}

// filler are words that say nothing by themselves.
var filler = []string{"myself", "me", "because", "far", "mallets", "mallet", "some", "really", "also", "too", "though", "quick", "quickly", "just", "only", "well", "please", "anyway", "honestly", "to be honest", "basically", "actually", "maybe", "perhaps", "i guess", "i suppose", "first", "second", "then", "all right", "thing", "things", "stuff", "kind of", "sort of", "etc", "two"}

// Doubts says what was left open, since it could be meant in two ways or may have been
// missed, and how to settle it: in one sentence what is settled alike.
func (t Teller) Doubts(r *Said, in reading.Reading) {
	var gathered, wondered, unsure []string
	for _, d := range in.Asks {
		name := t.called(d.Path)
		switch {
		case t.Proposed && d.Text != "" && slices.ContainsFunc(in.Moves, func(m reading.Move) bool { return m.Path == d.Path }): // the next head shows how it was taken
		case d.Text == "" && guessed(in, d.Path):
			gathered = append(gathered, cmp.Or(name, "that"))
		case d.Text == "":
			wondered = append(wondered, cmp.Or(name, "something else"))
		case name == "":
			unsure = append(unsure, "“"+d.Text+"”")
		default:
			unsure = append(unsure, "“"+d.Text+"” ("+name+")")
		}
	}
	if len(gathered) > 0 {
		from := "the line as a whole"
		if len(in.Missed) > 0 {
			from = "“" + in.Missed[0] + "”"
		}
		r.Say("I gathered %s from %s: please say it in other words if it was meant otherwise.", reply.Joined(gathered, " and "), from)
	}
	if len(wondered) > 0 {
		r.Say("Was that about %s too? Then please say it in a few words.", reply.Joined(wondered, " or "))
	}
	if len(unsure) > 0 {
		r.Say("I was not sure of %s: please say it once more in other words if it was meant otherwise.", reply.Joined(unsure, " and "))
	}
}

// guessed reports whether a fact has its answer from a line as a whole.
func guessed(in reading.Reading, path string) bool {
	return slices.ContainsFunc(in.Takes, func(a reading.Take) bool { return a.Path == path && a.Text == "" }) ||
		slices.ContainsFunc(in.Moves, func(m reading.Move) bool { return m.Path == path && m.Text == "" })
}

// called is what a fact is called where it is asked about in passing, empty for one
// that nobody is asked about.
func (t Teller) called(path string) string {
	q, _ := t.Kit.Catalogue.Question(path)
	return cmp.Or(map[string]string{
		facts.InstrumentKind: "the instrument", "instrument.id": "the size of the instrument", "instrument.octaves": "the range",
		facts.InstrumentLowHz: "the lowest note", facts.InstrumentHighHz: "the highest note",
		facts.PlayerGrip: "the grip", facts.PlayerMallets: "how many mallets are held", facts.PlayerTensionN: "how tightly you wind",
		facts.WantRegister: "where it is played", facts.WantSoftness: "how soft", "want.heads": "how many heads",
		"want.pairs": "how many pairs", "want.total_budget": "what it may cost in all",
		facts.BenchUnits: "inches or millimetres", "class.size": "how many make them", "parts": "parts on hand",
		facts.WantLoudest: "how loudly it is played", facts.WantMassG: "the weight", facts.WantDiameterMM: "the size", facts.WantOpening: "how it opens up",
	}[path], q.Name)
}

// comforts are the answers to fears and to having had enough.
var comforts = []string{"fear", "worried", "frustrated", "cheer", "beginner", "bore-centre"}

// Chat answers small talk in one sentence, and fear with what helps.
func (t Teller) Chat(in reading.Reading, line string) string {
	const some = 0.3 // of what it is about
	switch in.Talk {
	case "thanks":
		return "Glad to help."
	case "worry":
		id, how := t.Kit.Answers().NearestOf(line, comforts...)
		if how < some {
			id = "worried"
		}
		return t.Answer(id, line)
	case "greeting":
		return "Hello."
	}
	return "I only know about mallets; say what you need, or help."
}
