package assistant

import (
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
)

// display is the conversation while something is shown.
type display struct{ *Session }

// prompt is what stands under a reply.
type prompt struct {
	kit *Kit
	now *state
}

// ask puts the open question under the reply.
func (s *Session) ask(r Reply) Reply {
	p := prompt{s.kit, &s.now}
	switch {
	case len(s.now.back) > 0:
		r.Ask = p.affirm()
	case len(s.now.quiz) > 0:
		r.Ask = &Ask{Text: s.now.quiz[0].Text, Choices: s.now.quiz[0].Numbered()}
		r.Words = s.now.quiz[0].Choices
	case s.now.bench != nil && s.now.asked == "":
		return building{s}.along(r, s.now.bench.Again())
	case s.now.turning && s.now.asked == "":
		r.Ask = &Ask{Text: "Next is " + s.now.later[0].Name + ". Go on with it?", Choices: []string{"yes", "no"}, Enter: "yes"}
	case s.now.doctor.ID != "":
		do := s.now.doctor.Question(s.kit.Catalogue)
		r.Ask = &Ask{Text: do, Brief: do, Choices: []string{"yes", "no"}, Enter: "no"}
	case s.now.old.Open && s.now.asked == "":
		r.Ask = &Ask{Text: "What does it measure and weigh, such as 37 mm, 22 g?", Enter: "never mind"}
		if len(s.now.old.Could) > 0 {
			r.Ask = &Ask{Text: "Which is it?", Enter: "1"}
		}
	case s.now.choosing:
		r.Ask = &Ask{Text: "Which lesson?", Enter: "1"}
	case s.now.stage == inviting:
		r.Ask = &Ask{Text: "What do you need? Say it in a sentence, or press Enter and I ask one thing at a time. (Or: help; lesson 1.)"}
	case s.now.asked != "":
		r.Ask = p.question(s.now.asked)
	case s.now.stage == asking && s.now.wish != "":
		r.Ask = &Ask{Text: "Shall I give up " + s.now.without + "? (Enter: yes.) Or say which answer shall change.", Brief: "Give up " + s.now.without + "? (Enter: yes)"}
	case s.now.stage == asking: // nothing that can be built meets the answers
		r.Ask = &Ask{Text: "Which answer shall change? Say change …, or show answers. (Enter: undo the last)", Brief: "Which answer shall change? (Enter: undo the last)"}
	case s.now.stage == proposed:
		r.Ask = &Ask{
			Text:  "Shall we build it? (Enter: yes.) Or say softer, lighter, cheaper, why, more.",
			Brief: "Build it, change it, or ask? (Enter: build)",
		}
	}
	if r.Ask != nil { // the same words are not said twice in a row
		text := r.Ask.Text
		if text == s.now.prompted {
			r.Ask.Text = r.Ask.Brief
		}
		s.now.prompted = text
	}
	r.Words = append(r.Words, p.words(r.Ask)...)
	return r
}

// question is a question of the catalogue as it is asked now.
func (s prompt) question(id string) *Ask {
	q, _ := s.kit.Catalogue.Question(id)
	a, enter := &Ask{ID: id, Text: q.Ask, Brief: q.Brief}, s.kit.Asker.Enter(&s.now.State, q)
	for _, c := range s.kit.Asker.Choices(&s.now.State, q) {
		a.Choices = append(a.Choices, c.Say)
		if c.Value == enter {
			a.Enter = c.Say
		}
	}
	return a
}

// words are likely next words, for completion.
func (s prompt) words(a *Ask) []string {
	var words []string
	if a != nil {
		words = append(words, a.Choices...)
	}
	words = append(words, "why", "why not", "what if", "what is", "compare", "back", "change", "start again", "show", "save", "leave", "help",
		"lesson 1", "teach me", "rewrap", "new shaft", "it rattles", "yarn has gone hard", "loose head")
	if len(s.now.later) > 0 {
		words = append(words, "next head")
	}
	if s.now.stage == proposed {
		words = append(words, "build", "more", "the rules", "the sheet", "softer", "harder", "lighter", "smaller", "cheaper", "no latex", "teach me")
	}
	return words
}

// affirm asks once whether careful answers are taken back.
func (s prompt) affirm() *Ask {
	var list []string
	for _, f := range s.now.back {
		said, _ := s.now.Said(f.Path)
		list = append(list, said)
	}
	return &Ask{Text: "What was said before (" + strings.Join(list, "; ") + ") keeps somebody from harm. Is it really taken back?", Choices: []string{"yes", "no"}, Enter: "no"}
}

// show shows what was asked for.
func (s display) show(in reading.Reading) Reply {
	var r Reply
	for _, t := range in.About {
		if begins(t) {
			return building(s).build(r)
		}
		switch t.Kind {
		case "sheet":
			return s.whole(r)
		case "answers":
			s.teller().Recall(&r.Said)
			return s.ask(r)
		case "drawing":
			s.drawing(&r)
			return s.ask(r)
		case "stack", "alternatives", "choice":
			return s.present(r)
		case "fact":
			if s.now.stage == proposed && s.teller().ShowFact(&r.Said, t.ID) {
				return s.ask(r)
			}
		}
	}
	if s.now.stage == proposed {
		return s.present(r)
	}
	s.teller().Recall(&r.Said)
	return s.ask(r)
}

func (s display) drawing(r *Reply) {
	sh, err := s.Sheet()
	if err != nil {
		r.Say("%s", reply.Told(err))
		return
	}
	for _, b := range sh.Page(34) {
		if p, ok := b.(page.Picture); ok {
			r.Page = append(r.Page, p)
		}
	}
}
