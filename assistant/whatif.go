package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/lesson"
	"mallow/assistant/offer"
	"mallow/assistant/reply"
	"mallow/assistant/shape"
	"mallow/assistant/understand/reading"
	"mallow/rules/propose"
)

// supposing is the conversation while somebody wonders what if. It takes nothing
// in.
type supposing struct{ *Session }

// whatIf shows what a change would move, and takes nothing in. Of a head one
// thing is changed; what had to follow is said with the reason.
func (s supposing) whatIf(r Reply, in reading.Reading, line string) Reply {
	sh, shaped := shape.Read(line)
	if !shaped && len(in.Supposed.Takes)+len(in.Supposed.Moves)+len(in.Supposed.Parts) == 0 {
		if r, ok := curious(s).nearby(line, answer.NearLikely); ok {
			return r
		}
		if !strings.Contains(answer.Plain(line), "what if") {
			return curious(s).unanswered(r, in, line)
		}
		s.teller().Missed(&r.Said, in)
		r.Say("What if what? For example: what if I play four mallets, what if two layers, what if the core is 1 in, what if it is lighter.")
		return s.ask(r)
	}
	before, err := s.kit.Offers.Best(&s.now.State)
	if err != nil {
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	if s.now.bench != nil {
		if c, _, err := s.atHand(); err == nil {
			before = c
		}
	}
	sh = sh.On(len(before.Stack.Slices), before.Head.Turns)
	if shaped && offer.Is(before, sh) {
		r.Say("It is so already: %s.", s.teller().Words().Brief(before.Stack))
		return s.ask(r)
	}
	if shaped {
		c, ok := s.kit.Offers.Shaped(&s.now.State, before, sh)
		if ok || c.Refused != nil {
			return s.changed(r, in, "If "+sh.String(), before, c, ok)
		}
		if told, near := curious(s).nearby(line, answer.NearPlain); near { // three slices
			return told
		}
		r.Say("If %s: no parts in the catalogue make this head so.%s", sh, s.teller().Words().Sizes(c.Sizes))
		return s.ask(r)
	}
	if p := in.Supposed.Parts; len(p) == 1 && len(in.Supposed.Takes)+len(in.Supposed.Moves) == 0 && p[0].Holding != reading.Avoid && p[0].Holding != reading.Lack && len(p[0].IDs) > 0 {
		if slices.ContainsFunc(p[0].IDs, func(id string) bool { return offer.Contains(before.Stack, id) }) {
			if r, ok := curious(s).nearby(line, answer.NearLikely); ok { // must all be redone if I change the birch
				return r
			}
			r.Say("It is in the head already: %s.", s.teller().Words().Brief(before.Stack))
			return s.ask(r)
		}
		if c, ok := s.kit.Offers.Replaced(&s.now.State, before, p[0].IDs); ok || c.Refused != nil {
			return s.changed(r, in, "If "+strings.Join(in.Supposed.Said, "; "), before, c, ok)
		}
	}
	kept := s.now.clone()
	troubles := s.suppose(in)
	after, err := s.kit.Offers.Best(&s.now.State)
	short := s.kit.Offers.Short(&s.now.State)
	same, sameErr := s.kit.Offers.Consider(&s.now.State, before.Stack)
	s.now = kept
	if text := strings.TrimSpace(strings.Join(troubles, " ")); text != "" {
		if told, ok := curious(s).nearby(line, answer.NearPlain); ok { // an inner tube instead
			return told
		}
		r.Say("%s", text)
		return s.ask(r)
	}
	if err != nil {
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	if short != "" {
		r.Say("%s", short)
	}
	var shown Reply
	s.teller().Moved(&shown.Said, "If "+strings.Join(in.Supposed.Said, "; "), before, after)
	if also := offer.PartsMoved(before.Stack, after.Stack); len(also) > 0 {
		f := same.Refused()
		switch {
		case sameErr == nil && f != nil:
			shown.Say("So these change: %s. The head as it is would then be refused: %s", strings.Join(also, ", "), reply.Reason(*f))
		case len(in.Supposed.Takes) > 0 && sameErr == nil:
			shown.Say("So these change: %s. The head as it is would do as well, %.1f points behind.", strings.Join(also, ", "), after.Score-same.Score)
		} // else the table has them in its rows
	}
	return s.supposed(r, in, "What if: "+strings.Join(in.Supposed.Said, "; "), before, after, shown)
}

// suppose takes in what a line supposes, and returns what can't be.
func (s supposing) suppose(in reading.Reading) []string {
	var troubles []string
	for _, a := range in.Supposed.Takes {
		troubles = append(troubles, s.now.Answer(a))
	}
	parts := slices.Clone(in.Supposed.Parts)
	for i := range parts {
		parts[i].Holding = reading.Named
		if first := in.Supposed.Parts[0].Holding; first == reading.Avoid || first == reading.Lack {
			parts[i].Holding = reading.Avoid
		}
	}
	troubles = append(troubles, s.now.Parts(parts)...)
	if len(in.Supposed.Moves) > 0 {
		if said, moved := s.kit.Offers.Move(&s.now.State, in.Supposed.Moves, in.Keeps); !moved {
			troubles = append(troubles, said)
		}
	}
	s.now.Settle()
	return troubles
}

// changed shows a head in which one thing is changed and what had to follow, or why not.
func (s supposing) changed(r Reply, in reading.Reading, what string, before propose.Candidate, c offer.Changed, ok bool) Reply {
	if !ok {
		r.Say("%s: that head is refused: %s", what, reply.Reason(*c.Refused))
		r.Say("Changing one more part does not help either.")
		return s.ask(r)
	}
	var shown Reply
	s.teller().Moved(&shown.Said, what, before, c.Candidate)
	if c.Refused != nil {
		also := offer.PartsMoved(before.Stack, c.Stack)
		if before.Stack.Core.Material != c.Stack.Core.Material {
			also = append(also, "what the ball is made of")
		}
		also = slices.DeleteFunc(also, func(part string) bool { return part == "the ball" }) // it was asked for, or is the last of them
		shown.Say("With that alone changed, no: %s So this had to follow: %s.", reply.Reason(*c.Refused), strings.Join(also, ", "))
	}
	return s.supposed(r, in, what, before, c.Candidate, shown)
}

// supposed shows what was supposed, or asks for a guess first where somebody
// learns.
func (s supposing) supposed(r Reply, in reading.Reading, what string, before, after propose.Candidate, shown Reply) Reply {
	if s.now.teaching && before.Stack.String() != after.Stack.String() {
		s.now.quiz = append(s.now.quiz, lesson.Guess(what, before, after, shown.Page))
		return s.ask(r)
	}
	r.Page = append(r.Page, shown.Page...)
	if before.Stack.String() != after.Stack.String() {
		if s.now.pair == [2]string{} {
			r.Say("Say play both, or show both on a page, to hear or see the difference.")
		}
		s.now.pair, s.now.wondered = [2]string{before.Stack.String(), after.Stack.String()}, in
	}
	return s.ask(r)
}
