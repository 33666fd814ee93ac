package assistant

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Heads are the heads that a lesson compares.
type Heads struct {
	A facts.Head `expr:"a"`
	B facts.Head `expr:"b"`
	C facts.Head `expr:"c"`
}

// lesson is a prepared lesson whose texts have been checked.
type lesson struct {
	knowledge.Lesson
	stacks   []head.Stack
	measures []*rules.Quantity[Heads] // by choice; nil for "about the same"
	reveal   *rules.Template[Heads]
}

// newLessons checks the lessons of a catalogue.
func newLessons(cat *knowledge.Catalogue) ([]lesson, error) {
	templates, err := rules.NewTemplates[Heads](facts.Verbs(), nil)
	if err != nil {
		return nil, err
	}
	var list []lesson
	for _, l := range cat.Lessons {
		x := lesson{Lesson: l, measures: make([]*rules.Quantity[Heads], len(l.Choices))}
		wrong := func(what string, err error) error {
			return fmt.Errorf("%s: lesson %s: %s: %w", l.Origin, l.ID, what, err)
		}
		if len(l.Stacks) > 3 {
			return nil, wrong("stacks", fmt.Errorf("%d heads (at most 3)", len(l.Stacks)))
		}
		for _, text := range l.Stacks {
			st, err := head.Parse(cat, text)
			if err != nil {
				return nil, wrong("stacks", err)
			}
			x.stacks = append(x.stacks, st)
		}
		for i, c := range l.Choices {
			if c.Measure == "" {
				continue
			}
			if x.measures[i], err = templates.Number(c.Measure); err != nil {
				return nil, wrong("measure", err)
			}
		}
		if x.reveal, err = templates.New(l.Reveal); err != nil {
			return nil, wrong("reveal", err)
		}
		list = append(list, x)
	}
	return list, nil
}

// quiz is a prediction to be made, and what is shown afterwards.
type quiz struct {
	Lesson  string
	Text    string
	Choices []string
	Right   int // of Choices
	Shown   page.Page
	Summary string // the right answer with its numbers, for the record
}

func (q quiz) ask() *Ask {
	a := &Ask{Text: q.Text}
	for i, c := range q.Choices {
		a.Choices = append(a.Choices, fmt.Sprintf("%d: %s", i+1, c))
	}
	return a
}

// quiz computes the lesson's heads and with them what is right.
func (s *Session) quiz(l lesson) (quiz, error) {
	var at Heads
	q := propose.Request{Facts: s.kit.start}
	for i, st := range l.stacks {
		c, err := s.kit.Finder.Consider(st, q)
		if err != nil {
			return quiz{}, fmt.Errorf("lesson %s: %w", l.ID, err)
		}
		*[]*facts.Head{&at.A, &at.B, &at.C}[i] = c.Facts.Head
	}
	out := quiz{Lesson: l.Title, Text: l.Ask}
	most, least, same := math.Inf(-1), math.Inf(1), -1
	for i, m := range l.measures {
		out.Choices = append(out.Choices, l.Choices[i].Say)
		if m == nil {
			same = i
			continue
		}
		x, ok := m.Of(at)
		if !ok {
			return quiz{}, fmt.Errorf("lesson %s: measure %s has no value", l.ID, l.Choices[i].Measure)
		}
		if x > most {
			most, out.Right = x, i
		}
		least = min(least, x)
	}
	if same >= 0 && most-least <= l.Same {
		out.Right = same
	}
	reveal := l.reveal.Fill(at)
	out.Shown = page.Page{page.Para(reveal)}
	out.Summary = l.Choices[out.Right].Say
	return out, nil
}

// teach offers the lessons.
func (s *Session) teach() Reply {
	var r Reply
	s.remember()
	s.now.teaching = true
	r.say("Predict first, then see the numbers. From here on I also ask for a guess before a proposal or a what if; say stop to end that.")
	var items []string
	for i, l := range s.kit.lessons {
		item := fmt.Sprintf("%d: %s", i+1, l.Title)
		if l.Origin.Own {
			item += fmt.Sprintf(" (yours, from %s)", l.Origin)
		}
		items = append(items, item)
	}
	if s.now.stage == proposed {
		items = append(items, fmt.Sprintf("%d: your own head", len(items)+1))
	}
	r.list(items)
	s.now.choosing = true
	return s.ask(r)
}

// choose starts the lesson that was picked by number or by words of its title.
func (s *Session) choose(line string) Reply {
	var r Reply
	s.now.choosing = false
	titles := make([]string, len(s.kit.lessons))
	for i, l := range s.kit.lessons {
		titles[i] = l.Title
	}
	own := len(titles)
	if s.now.stage == proposed {
		titles = append(titles, "your own head")
	}
	n, ok := pickOne(line, titles)
	switch {
	case stops(line) || line == "":
		s.now.teaching = !stops(line)
		r.say("No lesson, then.")
		return s.ask(r)
	case !ok:
		s.now.choosing = true
		r.say("Say the number of a lesson, or stop.")
		return s.ask(r)
	case n == own:
		c, err := s.best()
		if err != nil {
			s.clash(&r, err)
			return s.ask(r)
		}
		s.now.quiz = s.foretell(c)
		return s.ask(r)
	}
	q, err := s.quiz(s.kit.lessons[n])
	if err != nil {
		r.say("%s", sentence(err))
		return s.ask(r)
	}
	s.now.quiz = []quiz{q}
	return s.ask(r)
}

// stops reports whether a line ends teaching.
func stops(line string) bool {
	return slices.Contains([]string{"stop", "no", "leave", "quit", "back", "skip", "end", "cancel", "exit"}, strings.ToLower(strings.Trim(line, " .!")))
}

// pickOne reads a number from 1, or words that only one of the choices has.
func pickOne(line string, choices []string) (int, bool) {
	line = strings.ToLower(strings.Trim(line, " .!"))
	if n, err := strconv.Atoi(line); err == nil {
		return n - 1, n >= 1 && n <= len(choices)
	}
	at := -1
	for i, c := range choices {
		c = strings.ToLower(c)
		if c == line {
			return i, true
		}
		all := line != ""
		for w := range strings.FieldsSeq(line) {
			all = all && slices.Contains(strings.Fields(c), w)
		}
		if !all {
			continue
		}
		if at >= 0 {
			return 0, false
		}
		at = i
	}
	return at, at >= 0
}

// predict takes a prediction and shows what is so.
func (s *Session) predict(line string) Reply {
	var r Reply
	q := s.now.quiz[0]
	if stops(line) {
		s.now.quiz, s.now.teaching = nil, false
		r.say("No more guessing, then.")
		return s.resume(r)
	}
	n, ok := pickOne(line, q.Choices)
	if !ok {
		r.say("Say the number of your guess, or stop.")
		return s.ask(r)
	}
	s.remember()
	s.now.quiz = s.now.quiz[1:]
	if n == q.Right {
		r.say("Yes: %s.", q.Choices[q.Right])
	} else {
		r.say("Not quite: %s.", q.Choices[q.Right])
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
func (s *Session) resume(r Reply) Reply {
	if s.now.owed {
		s.now.owed = false
		if p, err := s.propose(&s.now); err == nil {
			s.offer(&r, p)
		}
	}
	return s.ask(r)
}

// foretell asks for predictions over a person's own head: which part gives
// most at the softest and the loudest stroke, and what the outer layer does.
func (s *Session) foretell(c propose.Candidate) []quiz {
	var list []quiz
	names := layerNames(c.Head)
	ref := c.Report.Reference
	if len(names) > 1 && len(ref) > 1 {
		for _, st := range []strike.Stroke{ref[0], ref[len(ref)-1]} {
			right := slices.Index(st.Share, slices.Max(st.Share))
			if right < 0 || right >= len(names) {
				continue
			}
			list = append(list, quiz{
				Lesson:  "Your own head",
				Text:    fmt.Sprintf("Your head is %s. At %s, which part takes most of the squeeze?", s.parts(c.Stack), st.Dynamic),
				Choices: names, Right: right,
				Shown:   page.Page{page.Para(fmt.Sprintf("At %s, at %.1f m/s: %s.", st.Dynamic, st.SpeedMS, shares(st, names)))},
				Summary: shares(st, names),
			})
		}
	}
	if n := len(c.Stack.Slices); n > 0 {
		without := c.Stack
		without.Slices = c.Stack.Slices[:n-1]
		if bare, err := s.kit.Finder.Consider(without, s.request(&s.now)); err == nil {
			var shown Reply
			s.moved(&shown, "Without its outer layer", c, bare)
			list = append(list, s.guess("Take the outer layer away. How does the head change?", c, bare, shown.Page))
		}
	}
	return list
}

func shares(st strike.Stroke, names []string) string {
	var list []string
	for i, x := range st.Share {
		if i < len(names) {
			list = append(list, fmt.Sprintf("%s %.0f %%", names[i], 100*x))
		}
	}
	return strings.Join(list, ", ")
}

// guess asks how b's softness compares with a's.
func (s *Session) guess(text string, a, b propose.Candidate, shown page.Page) quiz {
	d := b.Report.Softness - a.Report.Softness
	right := 2
	switch {
	case strike.AboutSame(a.Report, b.Report):
	case d > 0:
		right = 0
	default:
		right = 1
	}
	return quiz{
		Lesson: "Your own head", Text: text, Choices: []string{"softer", "harder", "about as soft"}, Right: right, Shown: shown,
		Summary: fmt.Sprintf("%+.1f notches, %+.1f g", d, b.Facts.Head.MassG-a.Facts.Head.MassG),
	}
}
