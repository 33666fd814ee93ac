package main

import (
	"fmt"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/words"
)

type rulesCmd struct {
	List     rulesListCmd     `cmd:"" help:"List every rule with where it stands."`
	Show     rulesShowCmd     `cmd:"" help:"Show one rule whole."`
	Check    rulesCheckCmd    `cmd:"" help:"Check the book: examples, rules that can never or always fire, contradictions, coverage."`
	Facts    rulesFactsCmd    `cmd:"" help:"List every fact a rule may read, with unit and meaning."`
	Coverage rulesCoverageCmd `cmd:"" help:"How often each rule fires over generated players and heads."`
}

type rulesListCmd struct {
	JSON bool `name:"json" help:"Write JSON."`
}

func (c rulesListCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.out, book.Rules())
	}
	return page.Text(a.out, reply.Rules(book.Rules(), book.Hidden()), a.style())
}

type rulesShowCmd struct {
	ID   string `arg:"" help:"The rule's id."`
	JSON bool   `name:"json" help:"Write JSON."`
}

func (c rulesShowCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	rule := book.Rule(c.ID)
	if rule == nil {
		var ids []string
		for _, r := range book.Rules() {
			ids = append(ids, r.ID)
		}
		return usagef("no rule is called %q; `mallow rules list` has them all (%s)", c.ID, words.Hint(c.ID, ids))
	}
	if c.JSON {
		return writeJSON(a.out, rule)
	}
	return page.Text(a.out, reply.Rule(rule, book.Reads(rule)), a.style())
}

type rulesCheckCmd struct {
	Sets int  `default:"20000" placeholder:"N" help:"Sets of facts to generate (default ${default})."`
	JSON bool `name:"json" help:"Write JSON."`
}

func (c rulesCheckCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	report := book.Check(c.Sets, nil)
	if c.JSON {
		err = writeJSON(a.out, report)
	} else {
		err = report.Write(a.out)
	}
	if err == nil && len(report.Problems) > 0 {
		return fmt.Errorf("the rule book has problems (%d), listed above", len(report.Problems))
	}
	return err
}

type rulesFactsCmd struct {
	JSON bool `name:"json" help:"Write JSON."`
}

func (c rulesFactsCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	if c.JSON {
		return writeJSON(a.out, book.Facts())
	}
	return page.Text(a.out, reply.Facts(book.Facts()), a.style())
}

type rulesCoverageCmd struct {
	Sets int  `default:"20000" placeholder:"N" help:"Sets of facts to generate (default ${default})."`
	JSON bool `name:"json" help:"Write JSON."`
}

func (c rulesCoverageCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	cover := book.Coverage(c.Sets, nil)
	if c.JSON {
		return writeJSON(a.out, cover)
	}
	return page.Text(a.out, reply.Coverage(cover), a.style())
}
