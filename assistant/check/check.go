// Package check knows whether all that mallow is told fits together: parts,
// words, steps, cautions, rules, sources, rosters and bins. What passes loads
// and runs. It never changes anything, and knows no files but those it is given.
package check

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"mallow/assistant"
	"mallow/assistant/sheet"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
	"mallow/rules/propose/search"
	"mallow/rules/tally"
)

// Report is what there is to say of the knowledge and the rules as a whole.
type Report struct {
	Records  int            `json:"records"` // of knowledge
	Rules    int            `json:"rules"`
	Examples int            `json:"examples"` // of rules, run
	Sheets   int            `json:"sheets"`   // written to try the steps
	Problems fault.Errors   `json:"problems"`
	Coverage tally.Coverage `json:"coverage"`
}

// Check checks the knowledge and the rules, each alone, against each other and
// at work: over sets generated sets of facts, and with a sheet for every
// instrument. The kit is nil when it would not load.
func Check(ctx context.Context, cat *knowledge.Catalogue, book *rules.Book[facts.Facts], sets int) (Report, *assistant.Kit) {
	r := Report{Records: records(cat), Problems: fault.Errors{}}
	alone := book.Check(sets, nil)
	r.Rules, r.Examples, r.Coverage = alone.Rules, alone.Examples, alone.Coverage
	r.add(alone.Problems)
	r.add(sources(cat, book))
	r.add(unused(cat, book))
	gives := propose.Gives(cat, book)
	r.add(gives)
	if len(gives) > 0 {
		return r, nil // said already, with all that hangs on it
	}
	kit, err := assistant.NewKit(cat, book)
	if err != nil {
		r.add(Faults(err))
		return r, nil
	}
	r.run(ctx, kit)
	return r, kit
}

func (r *Report) add(list fault.Errors) { r.Problems = append(r.Problems, list...).Sorted() }

// Faults returns what err says as faults, one each.
func Faults(err error) fault.Errors {
	var list fault.Errors
	var one *fault.Error
	switch joined, ok := err.(interface{ Unwrap() []error }); {
	case err == nil:
	case ok:
		for _, e := range joined.Unwrap() {
			list = append(list, Faults(e)...)
		}
	case errors.As(err, &one) && one.Error() == err.Error():
		list = fault.Errors{one}
	default:
		list = fault.Errors{fault.Errorf("%w", err)}
	}
	return list
}

// records counts what the catalogue holds.
func records(cat *knowledge.Catalogue) int {
	return len(cat.Sources) + len(cat.Materials) + len(cat.Cores) + len(cat.Tubing) + len(cat.Yarns) + len(cat.Shafts) + len(cat.Adhesives) + len(cat.ShaftEnds) + len(cat.Fasteners) +
		len(cat.Solvents) + len(cat.Tools) + len(cat.Instruments) + len(cat.Grips) + len(cat.Dynamics) + len(cat.Steps) + len(cat.Cautions) +
		len(cat.Terms) + len(cat.Words) + len(cat.Lessons) + len(cat.Questions)
}

// sources reports rules whose source nobody has declared.
func sources(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) fault.Errors {
	var known []string
	for _, s := range cat.Sources {
		known = append(known, s.ID)
	}
	var out fault.Errors
	for _, r := range book.Rules() {
		if !slices.Contains(known, r.Source) {
			out = append(out, &fault.Error{File: r.File, Line: r.Line, Col: 1, Hint: words.Hint(r.Source, known),
				What: fmt.Sprintf("rule %s has the source %q, which nobody declares under sources", r.ID, r.Source)})
		}
	}
	return out
}

// unused reports steps and cautions that nothing can put on a sheet. One whose
// rules were hidden was left out on purpose.
func unused(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) fault.Errors {
	var given []string
	for _, effect := range []rules.Effect{rules.Step, rules.Caution} {
		given = slices.AppendSeq(given, maps.Keys(book.Gives(effect)))
	}
	for _, r := range book.Hidden() {
		given = append(given, r.Give)
	}
	for _, j := range cat.Jobs {
		given = append(given, j.Steps...)
	}
	var out fault.Errors
	say := func(o knowledge.Origin, what, id, hint string) {
		out = append(out, &fault.Error{File: o.File, Line: o.Line, Col: 1, What: fmt.Sprintf("no rule gives %s %s", what, id), Hint: hint})
	}
	for _, s := range cat.Steps {
		if !slices.Contains(given, s.ID) {
			say(s.Origin, "step", s.ID, "write a rule with do: step and give: "+s.ID+", or hide the step")
		}
	}
	for _, c := range cat.Cautions {
		carried := slices.ContainsFunc(cat.Steps, func(s knowledge.Step) bool { return slices.Contains(s.Cautions, c.ID) }) ||
			slices.ContainsFunc(cat.Adhesives, func(a knowledge.Adhesive) bool { return slices.Contains(a.Hazards, c.ID) })
		if !carried && !slices.Contains(given, c.ID) {
			say(c.Origin, "caution", c.ID, "write a rule with do: caution and give: "+c.ID+", or put it into a step's cautions or an adhesive's hazards")
		}
	}
	return out
}

// looked is how many heads a trial looks at: enough for one that is fit to
// build, not for the best.
const looked = 400

// run proposes a head for every instrument, and writes its sheet for a grown
// maker and for a young one.
func (r *Report) run(ctx context.Context, kit *assistant.Kit) {
	for _, inst := range kit.Catalogue.Instruments {
		for _, minor := range []bool{false, true} {
			q := propose.Request{Known: rules.Known{"instrument.kind": true, "player.minor": true}, Most: looked}
			q.Facts.Instrument.Kind, q.Facts.Player.Minor = inst.Kind, minor
			p, err := search.Propose(ctx, kit.Finder, q)
			var clash *propose.Clash
			switch {
			case errors.As(err, &clash):
				continue // nothing that can be built is an answer
			case err != nil:
				r.add(fault.Errors{fault.Errorf("a head for %s: %w", inst.ID, err)})
				continue
			}
			s, err := kit.Sheets().Sheet(p.Best, sheet.Options{Heads: 2})
			if err != nil {
				r.add(fault.Errors{fault.Errorf("the sheet of %s: %w", p.Best.Stack, err)})
				continue
			}
			r.Sheets++
			r.add(unfilled(kit.Catalogue, s))
		}
	}
}

// unfilled reports steps whose texts met a value that is not finite.
func unfilled(cat *knowledge.Catalogue, s sheet.Sheet) fault.Errors {
	var out fault.Errors
	lost := regexp.MustCompile(`[\s(]\?`) // the mark for a value that is not finite
	for _, x := range s.Steps {
		text := strings.Join([]string{x.Title, x.Text, x.Check}, " ")
		if !lost.MatchString(text) {
			continue
		}
		step, _ := cat.Step(x.ID)
		out = append(out, &fault.Error{File: step.Origin.File, Line: step.Origin.Line, Col: 1,
			What: fmt.Sprintf("step %s has a text without a finite value on the sheet of %s: %q", x.ID, s.Stack, text)})
	}
	return out
}
