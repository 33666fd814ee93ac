package understand

import (
	"slices"
	"strings"
)

// takeMark ends a clause. A question mark all alone has been taken as a reply.
func (s *sentence) takeMark(i int) int {
	switch s.item(i).mark {
	case "":
		return 0
	case ".", ";", "!", "?":
		s.clear()
		s.hold = s.atFirst()
	case ",", ":", "(", ")":
		topic := s.topic
		s.clear()
		if s.item(i).mark == ":" {
			s.topic = topic // weight: 32
		}
		if s.hold == Lack || s.hold == Avoid {
			s.hold = Named
		}
	}
	return 1
}

// takeReply takes yes, no and the like at the beginning.
func (s *sentence) takeReply(i int) int {
	it := s.item(i)
	if s.content || s.out.Act != Tell {
		return 0
	}
	x := it.has("reply")
	if x == nil {
		if x = it.has("alone"); x == nil {
			return 0
		}
		if n := s.subordinate(i + 1); n > 0 && Act(x.value) == Unsure {
			s.out.Act = Unsure // not sure about latex
			return 1 + n
		}
		if !s.clauseEnds(i + 1) {
			return 0
		}
	}
	if s.asked(it.senses) && s.clauseEnds(i+1) {
		return 0 // the word answers the question outright
	}
	next := s.item(i + 1)
	if x.value == "no" && !s.clauseEnds(i+1) {
		// "no drill" denies, "no vibes" corrects, "no i have one" replies
		switch {
		case s.names(next, "instrument.kind", "player.grip", "player.mallets"):
			s.out.Corrects = true
			return 1
		case next.has("mend") != nil:
			return 1
		case !s.filler(i+1) && next.has("holding") == nil && next.has("not") == nil && next.has("age") == nil:
			return 0
		}
	}
	s.out.Act = Act(x.value)
	if v, ok := s.r.reply(s.ctx.Asked, x.value); ok {
		s.out.Answers = append(s.out.Answers, Answer{
			Path: s.ctx.Asked, Value: v, Degree: 1, Text: s.words(i, i+1), Confidence: s.sure(it),
		})
		s.replied = true
	}
	return 1
}

// subordinate returns how many items an "about …" or "whether …" at item i
// takes, to the end of its clause; 0 when there is none.
func (s *sentence) subordinate(i int) int {
	switch s.at(s.item(i).from).text {
	case "about", "if", "whether", "which", "what", "how":
	default:
		return 0
	}
	j := i
	for j < len(s.items) && !s.clauseEnds(j) {
		j++
	}
	return j - i
}

// takeAct takes what mallow is asked to do; it stands first.
func (s *sentence) takeAct(i int) int {
	it := s.item(i)
	x := it.has("act")
	if x == nil || s.content || s.out.Act != Tell && s.out.Act != Yes && s.out.Act != No {
		return 0
	}
	if s.neg || s.hold == Avoid { // "don't save"
		return 0
	}
	s.out.Act = Act(x.value)
	s.asks = s.out.Act == Why || x.id == "how" || s.out.Act == Compare && s.at(it.from).is("which")
	if s.out.Act == Why || s.out.Act == WhyNot || s.out.Act == WhatIf || s.out.Act == Compare || s.out.Act == Define {
		s.hold = Named
	}
	return 1
}

// takeTopic takes what can be asked about, changed or kept.
func (s *sentence) takeTopic(i int) int {
	it := s.item(i)
	x := it.has("topic")
	if t := it.has("term"); t != nil && (s.out.Act == Define || x == nil && s.loneTerm(i)) {
		if s.out.Act == Tell {
			s.out.Act = Define
		}
		s.about(i, t)
		return 1
	}
	if x == nil {
		return 0
	}
	switch {
	case s.same:
		for _, t := range x.topic {
			s.out.Keep = append(s.out.Keep, t.ID)
		}
		s.kept = append(s.kept, x.say)
		s.same, s.content = false, true
	case s.out.Act != Tell && s.out.Act != Yes && s.out.Act != No:
		s.about(i, x)
	case s.allTools(x):
		for _, t := range x.topic {
			s.add(Answer{Path: t.ID, Value: s.holding() == Have, Degree: 1, Text: s.words(i, i+1), Confidence: s.sure(it)})
		}
	case x.topic[0].Kind == "fact":
		s.topic = x.topic[0].ID
		s.passed = append(s.passed, x.topic...)
	case s.aboutOnly(i):
		s.about(i, x)
	}
	return 1
}

// allTools reports whether the person has, or lacks, what a sense stands for:
// "no tools".
func (s *sentence) allTools(x *sense) bool {
	for _, t := range x.topic {
		if _, ok := s.r.yes[t.ID].(bool); !ok || len(x.topic) < 2 {
			return false
		}
	}
	h := s.holding()
	return h == Have || h == Lack || h == Avoid
}

// refuse turns the part just named into one to avoid: "latex? no!".
func (s *sentence) refuse(i int) bool {
	n := len(s.out.Parts)
	if s.after != afterPart || n == 0 || !s.clauseEnds(i+1) {
		return false
	}
	p := s.out.Parts[n-1]
	switch p.Holding {
	case Named:
		p.Holding = Avoid
	case Have:
		p.Holding = Lack
	default:
		return false
	}
	s.out.Parts = s.out.Parts[:n-1]
	s.keepPart(p)
	return true
}

// settleHarm rules latex out when the text speaks of a reaction and of latex,
// or of an allergy and not to what, in words that have not been taken for an
// answer. Where other words said that latex is fine, that is doubtful.
func (s *sentence) settleHarm() {
	said := s.said("player.latex_ok")
	if said != nil && said.Value == false || s.out.Act == Define {
		return
	}
	var latex, reaction, allergy *item
	for i := range s.items {
		switch x := s.items[i].has("harm"); {
		case x == nil || s.items[i].answers:
		case x.value == "latex":
			latex = &s.items[i]
		case x.value == "reaction":
			reaction = &s.items[i]
		default:
			allergy = &s.items[i]
		}
	}
	conf := 0.6
	switch {
	case said != nil && (reaction != nil || allergy != nil):
		s.replied, conf = false, doubtful
	case latex != nil && (reaction != nil || allergy != nil):
	case allergy != nil && len(s.out.Parts) == 0 && len(s.out.About) == 0:
		conf = doubtful
	default:
		return
	}
	for _, it := range []*item{latex, reaction, allergy} {
		if it != nil {
			it.used = true
		}
	}
	s.out.Parts = slices.DeleteFunc(s.out.Parts, func(p Part) bool { return p.Material == "latex" && p.Holding == Named })
	s.add(Answer{Path: "player.latex_ok", Value: false, Degree: 1, Text: clip(strings.TrimSpace(s.text)), Confidence: conf})
}

// about adds what a sense is about.
func (s *sentence) about(i int, x *sense) {
	for _, t := range x.topic {
		t.Text = s.words(i, i+1)
		if s.asks {
			t.ID = headFact(t.ID)
		}
		s.out.About = append(s.out.About, t)
	}
	s.content = true
}

// loneTerm reports whether a glossary term is all there is, with a question
// mark: "kerf?".
func (s *sentence) loneTerm(i int) bool {
	return !s.content && i == len(s.items)-2 && s.at(s.item(i+1).from).is("?") && s.item(i).fact() == nil
}

// aboutOnly reports whether item i stands alone in the text.
func (s *sentence) aboutOnly(i int) bool {
	for j := range s.items {
		if j != i && !s.items[j].empty() {
			return false
		}
	}
	return true
}

// takeGrammar takes words that change the meaning of what follows.
func (s *sentence) takeGrammar(i int) int {
	it := s.item(i)
	n := 0
	for _, x := range it.senses {
		switch x.slot {
		case "not":
			s.neg, s.deniedAt = true, i
		case "too":
			s.tooMuch = true
		case "more":
			s.more = x.num
		case "degree":
			s.degree = x.num
		case "after":
			if k := len(s.out.Answers); k > 0 {
				s.stretch(&s.out.Answers[k-1], x.num)
			} else if k := len(s.out.Moves); k > 0 && s.after == afterMove {
				s.out.Moves[k-1].By *= x.num
			}
		case "same":
			s.same = true
		case "bound":
			s.bound = x.value
		case "span":
			s.between = s.between || s.at(it.from).is("between")
		case "mend":
			s.out.Corrects = true
		case "holding":
			s.hold, s.deniedAt = Holding(x.value), i
			if s.hold == "want" {
				s.hold = Named
			}
		case "join":
			switch x.value {
			case "and", "but":
				s.clear()
				if s.hold == Avoid || x.value == "but" && s.hold == Lack {
					s.hold = Named
				}
			}
		case "reply": // "no" within a sentence
			if x.value == "no" && !s.refuse(i) {
				s.neg, s.deniedAt = true, i
			}
		default:
			continue
		}
		n = 1
	}
	return n
}

// settleAct decides between a command and a wish that began like one.
func (s *sentence) settleAct() {
	told := len(s.out.Answers) > 0 || len(s.out.Parts) > 0 || len(s.out.Moves) > 0
	switch s.out.Act {
	case Default, Unsure, Skip:
		if told {
			s.out.Act = Tell
		} else if len(s.out.About) == 0 {
			s.out.About = s.passed // weight doesn't matter
		}
	case Help, Leave, Save, Show, Lesson:
		if s.asks && len(s.out.About) > 1 { // how big is the head
			s.out.About = slices.DeleteFunc(s.out.About, func(t Topic) bool { return t.Kind == "stack" })
		}
		if told && !(s.out.Act == Show && len(s.out.About) > 0) {
			s.out.Act = Tell
		}
	case Define:
		if slices.ContainsFunc(s.out.About, func(t Topic) bool { return t.Kind == "layer" || t.Kind == "choice" }) {
			s.out.Act = Show // what's the stretch of layer 1
			break
		}
		if told && len(s.out.About) == 0 {
			s.out.Act = Tell
		}
		if !slices.ContainsFunc(s.out.About, func(t Topic) bool { return t.Kind != "fact" }) && len(s.out.About) > 0 {
			s.out.Act = Show // what's the weight
			for i := range s.out.About {
				s.out.About[i].ID = headFact(s.out.About[i].ID)
			}
		}
	case Yes, No:
		if told && s.ctx.Asked == "" {
			s.out.Corrects = s.out.Corrects || s.out.Act == No
			s.out.Act = Tell
		}
	case Why, WhyNot:
		if slices.ContainsFunc(s.out.About, func(t Topic) bool { return t.Kind == "question" }) {
			s.out.Answers, s.out.Parts, s.out.Moves = nil, nil, nil // "why do you ask about latex"
		}
		if !told && len(s.out.About) == 0 {
			s.out.About = []Topic{{Kind: "question"}}
		}
	}
	if len(s.out.Answers) == 0 {
		s.out.Corrects = false
	}
}
