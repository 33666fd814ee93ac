// Package lesson knows the prepared lessons and what a learner may be asked to
// predict over a head, with the answers that are right. It never talks, and
// keeps no record.
package lesson

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/page"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/strike"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// OwnHead is the lesson over a person's own head, as the record has it.
const OwnHead = "Your own head"

// Heads are the heads that a lesson compares.
type Heads struct {
	A facts.Head `expr:"a"`
	B facts.Head `expr:"b"`
	C facts.Head `expr:"c"`
}

// Lesson is a prepared lesson whose texts have been checked.
type Lesson struct {
	knowledge.Lesson
	stacks   []head.Stack
	measures []*rules.Quantity[Heads] // by choice; nil for "about the same"
	reveal   *rules.Template[Heads]
}

// New checks the lessons of a catalogue.
func New(cat *knowledge.Catalogue) ([]Lesson, error) {
	templates, err := rules.NewTemplates[Heads](facts.Verbs(), nil)
	if err != nil {
		return nil, err
	}
	var list []Lesson
	for _, l := range cat.Lessons {
		x := Lesson{Lesson: l, measures: make([]*rules.Quantity[Heads], len(l.Choices))}
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

// Quiz is a prediction to be made, and what is shown afterwards.
type Quiz struct {
	Lesson  string
	Text    string
	Choices []string
	Right   int // of Choices
	Shown   page.Page
	Summary string // the right answer with its numbers, for the record
}

// Numbered returns the choices as they are offered.
func (q Quiz) Numbered() []string {
	var list []string
	for i, c := range q.Choices {
		list = append(list, fmt.Sprintf("%d: %s", i+1, c))
	}
	return list
}

// Quiz computes the lesson's heads, as they are for somebody of whom nothing
// but the given facts is known, and with them what is right.
func (l *Lesson) Quiz(finder *propose.Finder, start facts.Facts) (Quiz, error) {
	var at Heads
	q := propose.Request{Facts: start}
	for i, st := range l.stacks {
		c, err := finder.Consider(st, q)
		if err != nil {
			return Quiz{}, fmt.Errorf("lesson %s: %w", l.ID, err)
		}
		*[]*facts.Head{&at.A, &at.B, &at.C}[i] = c.Facts.Head
	}
	out := Quiz{Lesson: l.Title, Text: l.Ask}
	most, least, same := math.Inf(-1), math.Inf(1), -1
	for i, m := range l.measures {
		out.Choices = append(out.Choices, l.Choices[i].Say)
		if m == nil {
			same = i
			continue
		}
		x, ok := m.Of(at)
		if !ok {
			return Quiz{}, fmt.Errorf("lesson %s: measure %s has no value", l.ID, l.Choices[i].Measure)
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

// Stops reports whether a line ends teaching.
func Stops(line string) bool {
	return slices.Contains([]string{"stop", "no", "leave", "quit", "back", "skip", "end", "cancel", "exit"}, strings.ToLower(strings.Trim(line, " .!")))
}

// Pick reads a number from 1, or words that only one of the choices has.
func Pick(line string, choices []string) (int, bool) {
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

// OfStrokes asks which part gives most at the softest and at the loudest
// stroke. Names are those of the parts, inside out, and whole is the head in
// words.
func OfStrokes(c propose.Candidate, names []string, whole string) []Quiz {
	var list []Quiz
	ref := c.Report.Reference
	if len(names) < 2 || len(ref) < 2 {
		return nil
	}
	for _, st := range []strike.Stroke{ref[0], ref[len(ref)-1]} {
		right := slices.Index(st.Share, slices.Max(st.Share))
		if right < 0 || right >= len(names) {
			continue
		}
		list = append(list, Quiz{
			Lesson:  OwnHead,
			Text:    fmt.Sprintf("Your head is %s. At %s, which part takes most of the squeeze?", whole, st.Dynamic),
			Choices: names, Right: right,
			Shown:   page.Page{page.Para(fmt.Sprintf("At %s, at %.1f m/s: %s.", st.Dynamic, st.SpeedMS, shares(st, names)))},
			Summary: shares(st, names),
		})
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

// Guess asks how b's softness compares with a's.
func Guess(text string, a, b propose.Candidate, shown page.Page) Quiz {
	d := b.Report.Softness - a.Report.Softness
	right := 2
	switch {
	case strike.AboutSame(a.Report, b.Report):
	case d > 0:
		right = 0
	default:
		right = 1
	}
	return Quiz{
		Lesson: OwnHead, Text: text, Choices: []string{"softer", "harder", "about as soft"}, Right: right, Shown: shown,
		Summary: fmt.Sprintf("%+.1f notches, %+.1f g", d, b.Facts.Head.MassG-a.Facts.Head.MassG),
	}
}
