package assistant

import (
	"fmt"
	"strconv"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/journal"
	"mallow/assistant/lesson"
	"mallow/assistant/reply"
	"mallow/rules/propose"
)

// school is the conversation while somebody learns.
type school struct{ *Session }

// teach offers the lessons.
func (s school) teach() Reply {
	var r Reply
	s.remember()
	s.now.teaching = true
	r.Say("Predict first, then see the numbers. From here on I also ask for a guess before a proposal or a what if; say stop to end that.")
	var items []string
	for i, l := range s.kit.Lessons() {
		item := fmt.Sprintf("%d: %s", i+1, l.Title)
		if l.Origin.Own {
			item += fmt.Sprintf(" (yours, from %s)", l.Origin)
		}
		items = append(items, item)
	}
	if s.now.stage == proposed {
		items = append(items, fmt.Sprintf("%d: your own head", len(items)+1))
	}
	r.List(items)
	s.now.choosing = true
	return s.ask(r)
}

// lesson starts a lesson that is asked for by its number, such as lesson 1.
func (s school) lesson(line string) (Reply, bool) {
	rest, ok := strings.CutPrefix(answer.Plain(line), "lesson ")
	if _, err := strconv.Atoi(rest); !ok || err != nil {
		return Reply{}, false
	}
	s.remember()
	s.now.teaching, s.now.choosing = true, true
	return s.choose(rest), true
}

// choose starts the lesson that was picked by number or by words of its title.
func (s school) choose(line string) Reply {
	var r Reply
	s.now.choosing = false
	titles := make([]string, len(s.kit.Lessons()))
	for i, l := range s.kit.Lessons() {
		titles[i] = l.Title
	}
	own := len(titles)
	if s.now.stage == proposed {
		titles = append(titles, "your own head")
	}
	n, ok := lesson.Pick(strings.TrimPrefix(answer.Plain(line), "lesson "), titles)
	switch {
	case line == "":
		return s.choose("1")
	case lesson.Stops(line):
		s.now.teaching = false
		r.Say("No lesson, then.")
		return s.ask(r)
	case !ok:
		s.now.choosing = true
		r.Say("Say the number of a lesson, or stop.")
		return s.ask(r)
	case n == own:
		c, err := s.kit.Offers.Best(&s.now.State)
		if err != nil {
			s.teller().Clash(&r.Said, err)
			return s.ask(r)
		}
		s.now.quiz = s.foretell(c)
		return s.ask(r)
	}
	q, err := s.kit.Lessons()[n].Quiz(s.kit.Finder, s.kit.Ground.Facts)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return s.ask(r)
	}
	s.now.quiz = []lesson.Quiz{q}
	return s.ask(r)
}

// predict takes a prediction and shows what is so.
func (s school) predict(line string) Reply {
	var r Reply
	q := s.now.quiz[0]
	if lesson.Stops(line) {
		s.now.quiz, s.now.teaching = nil, false
		r.Say("No more guessing, then.")
		return s.resume(r)
	}
	if line == "" { // no guess, so nothing for the record
		s.remember()
		s.now.quiz = s.now.quiz[1:]
		r.Say("It is: %s.", q.Choices[q.Right])
		r.Page = append(r.Page, q.Shown...)
		if len(s.now.quiz) > 0 {
			return s.ask(r)
		}
		return s.resume(r)
	}
	n, ok := lesson.Pick(line, q.Choices)
	if !ok {
		r.Say("Say the number of your guess, or stop.")
		return s.ask(r)
	}
	s.remember()
	s.now.quiz = s.now.quiz[1:]
	if n == q.Right {
		r.Say("Yes: %s.", q.Choices[q.Right])
	} else {
		r.Say("Not quite: %s.", q.Choices[q.Right])
	}
	r.Page = append(r.Page, q.Shown...)
	r.Predictions = append(r.Predictions, journal.Prediction{
		Lesson: q.Lesson, Question: q.Text, Predicted: q.Choices[n], Computed: q.Summary, Right: n == q.Right,
	})
	if len(s.now.quiz) > 0 {
		return s.ask(r)
	}
	return s.resume(r)
}

// resume goes on with what a lesson interrupted.
func (s school) resume(r Reply) Reply {
	if s.now.owed {
		s.now.owed = false
		if c, err := s.kit.Offers.Best(&s.now.State); err == nil {
			s.teller().Offer(&r.Said, c)
		}
	}
	return s.ask(r)
}

// foretell asks for predictions over a person's own head: which part gives
// most at the softest and the loudest stroke, and what the outer layer does.
func (s school) foretell(c propose.Candidate) []lesson.Quiz {
	t := s.teller()
	list := lesson.OfStrokes(c, reply.LayerNames(c.Head), t.Parts(c.Stack))
	if n := len(c.Stack.Slices); n > 0 {
		without := c.Stack
		without.Slices = c.Stack.Slices[:n-1]
		if bare, err := s.kit.Offers.Consider(&s.now.State, without); err == nil {
			var shown Reply
			t.Moved(&shown.Said, "Without its outer layer", c, bare)
			list = append(list, lesson.Guess("Take the outer layer away. How does the head change?", c, bare, shown.Page))
		}
	}
	return list
}
