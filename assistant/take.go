package assistant

import (
	"cmp"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/several"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/reading"
)

// tell takes in answers, parts and wishes.
func (s *Session) tell(r Reply, in reading.Reading, line string) Reply {
	if r, ok := (queue{s}).further(in, line); ok {
		return r
	}
	now, before := s.now.clone(), s.before()
	in, later := several.Apart(&s.now.State, in)
	var troubles []string
	took := 0
	for _, path := range in.Withdraws {
		if s.withdraw(path, in) {
			took++
		}
	}
	for _, a := range in.Takes {
		if trouble := s.now.Answer(a); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	for _, p := range in.Parts {
		if trouble := s.now.Part(p); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if len(in.Keeps) > 0 || len(in.Moves) > 0 {
		if trouble := s.kit.Offers.Move(&s.now.State, in.Moves, in.Keeps); trouble != "" {
			troubles = append(troubles, trouble)
		} else {
			took++
		}
	}
	if took == 0 {
		s.now = now
		if len(troubles) > 0 {
			r.Say("%s", strings.Join(troubles, " "))
			return s.ask(r)
		}
		return s.unclear(r, in, line)
	}
	s.past = append(s.past, before)
	if len(later) > 0 {
		queue{s}.keep(&r, in, later)
	} else if len(in.Said) > 0 {
		r.Say("Taken: %s.", strings.Join(in.Said, "; "))
	}
	if in.Talk == "worry" {
		r.Once(s.chat(in))
	}
	s.missed(&r, in)
	s.doubts(&r, in)
	for _, t := range troubles {
		r.Say("%s", t)
	}
	s.now.tries = 0
	r.SayAll(s.now.Settle())
	r.SayAll(s.now.Assumed(&before.State))
	if before.stage == proposed {
		return s.revise(r, &before)
	}
	return s.next(r)
}

// missed says what nothing was made of. A fear or a question in it has its
// answer; words that say nothing are not listed.
func (s *Session) missed(r *Reply, in reading.Reading) {
	var quoted []string
	for _, m := range in.Missed {
		if slices.Contains(filler, answer.Plain(m)) {
			continue
		}
		if id, how := s.kit.Answers().Nearest(m); how >= nearPlain && s.kit.Answers().Do(id) == "" {
			r.Once(s.teller().Answer(id, m))
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

// withdraw takes an answer back, and reports whether there was one. What may
// hurt somebody is not taken back by that: it is asked again.
func (s *Session) withdraw(path string, in reading.Reading) bool {
	if slices.ContainsFunc(in.Harm, func(f harm.Fact) bool { return f.Path == path }) {
		return false
	}
	_, said := s.now.Said(path)
	if said {
		s.now.Reopen(path)
	}
	return said
}

// doubts says what was left open, since it could be meant in two ways, and how
// to settle it.
func (s *Session) doubts(r *Reply, in reading.Reading) {
	for _, d := range in.Asks {
		name := d.Path
		if q, ok := s.kit.Catalogue.Question(d.Path); ok {
			name = cmp.Or(q.Name, q.Ask)
		}
		r.Say("I was not sure of “%s” (%s): please say it once more in other words if it was meant otherwise.", d.Text, name)
	}
}

// chat answers small talk in one sentence, and fear with what helps.
func (s *Session) chat(in reading.Reading) string {
	switch in.Talk {
	case "thanks":
		return "Glad to help."
	case "worry":
		return s.teller().Answer("fear", "")
	case "greeting":
		return "Hello."
	}
	return "I only know about mallets; say what you need, or help."
}
