// Package answer knows what is said to things that people ask: cost, time,
// tools, safety, trust and the like, out of the catalogue's answers and the
// facts of the head at hand. It never looks for a head, and takes nothing in.
package answer

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
)

// Facts are what the texts of answers may read.
type Facts struct {
	Player     facts.Player     `expr:"player"`
	Want       facts.Want       `expr:"want"`
	Instrument facts.Instrument `expr:"instrument"`
	Bench      facts.Bench      `expr:"bench"`
	Head       facts.Head       `expr:"head"`
	Offer      Offer            `expr:"offer"`
}

// Offer is what building takes. It is zero before there is a head.
type Offer struct {
	Heads      float64 `expr:"heads" doc:"heads to be built"`
	BuyCents   float64 `expr:"buy" unit:"cents" doc:"cost of what has to be bought, in whole packs"`
	PartsCents float64 `expr:"parts" unit:"cents" doc:"cost of what goes into the heads"`
	WorkMin    float64 `expr:"work_min" unit:"min" doc:"work for all heads"`
	WaitMin    float64 `expr:"wait_min" unit:"min" doc:"waiting, for all heads at once"`
	Skill      float64 `expr:"skill" doc:"0 anyone can, 1 takes some practice, 2 is for practised hands"`
	Left       float64 `expr:"left" doc:"questions that may still come"`
}

// With returns the offer with the effort of a build.
func (o Offer) With(e reply.Effort) Offer {
	o.Heads, o.BuyCents = float64(e.Heads), float64(e.Buy)
	o.WorkMin, o.WaitMin, o.Skill = e.WorkMin, e.WaitMin, e.Skill
	return o
}

// Answers are the answers of a catalogue. They may be used by several
// goroutines at once.
type Answers struct {
	list []one
}

type one struct {
	knowledge.Answer
	text, early *rules.Template[Facts]
}

// New checks the texts of a catalogue's answers.
func New(cat *knowledge.Catalogue) (*Answers, error) {
	templates, err := rules.NewTemplates[Facts](facts.Verbs(), words.Hint)
	if err != nil {
		return nil, fmt.Errorf("answers: %w", err)
	}
	a := &Answers{}
	for _, x := range cat.Answers {
		o := one{Answer: x}
		for _, f := range []struct {
			name, text string
			to         **rules.Template[Facts]
		}{{"text", x.Text, &o.text}, {"early", x.Early, &o.early}} {
			if f.text == "" {
				continue
			}
			if *f.to, err = templates.New(f.text); err != nil {
				return nil, fmt.Errorf("%s: answer %s: %s: %w", x.Origin, x.ID, f.name, err)
			}
		}
		a.list = append(a.list, o)
	}
	return a, nil
}

// Find returns the id of the answer that a line asks for: the line is one of
// its ways to ask, or begins or ends with one of several words. Where several
// are asked for, the longest wins.
func (a *Answers) Find(line string) (id string, ok bool) {
	line = Plain(line)
	longest := 0
	for _, x := range a.list {
		for _, ask := range x.Asks {
			if len(ask) > longest && Holds(line, ask) {
				id, longest = x.ID, len(ask)
			}
		}
	}
	return id, longest > 0
}

// Is reports whether a line is a way to ask for an answer and nothing else.
func (a *Answers) Is(line string) bool {
	line = Plain(line)
	for _, x := range a.list {
		if slices.Contains(x.Asks, line) {
			return true
		}
	}
	return false
}

// Text is what is said, once there is a head or before.
func (a *Answers) Text(id string, f Facts, head bool) string {
	for _, x := range a.list {
		if x.ID != id {
			continue
		}
		if !head && x.early != nil {
			return x.early.Fill(f)
		}
		return x.text.Fill(f)
	}
	return ""
}

// Holds reports whether a plain line is a phrase, or has a phrase of several
// words at one of its ends.
func Holds(line, phrase string) bool {
	if line == phrase {
		return true
	}
	return strings.Count(phrase, " ") > 1 && (strings.HasPrefix(line, phrase+" ") || strings.HasSuffix(line, " "+phrase))
}

// Plain is a line in lower case without marks, apostrophes left out.
func Plain(line string) string {
	line = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(line))
	return strings.Join(strings.FieldsFunc(line, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '#' || r > 0x7f)
	}), " ")
}
