package main

import (
	"mallow/assistant/reply"
	"mallow/knowledge/words"
)

type rulesCmd struct {
	List     rulesListCmd     `cmd:"" help:"List every rule with where it stands."`
	Show     rulesShowCmd     `cmd:"" help:"Show one rule whole."`
	Facts    rulesFactsCmd    `cmd:"" help:"List every fact a rule may read, with unit and meaning."`
	Coverage rulesCoverageCmd `cmd:"" help:"How often each rule fires over generated players and heads."`
}

type rulesListCmd struct {
	output
}

func (c rulesListCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	return c.show(a, reply.Rules{List: book.Rules(), Hidden: book.Hidden()})
}

type rulesShowCmd struct {
	ID string `arg:"" help:"The rule's id."`
	output
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
		return unknown(words.Hint(c.ID, ids), "no rule is called %q; `mallow rules list` has them all", c.ID)
	}
	return c.show(a, reply.Rule{Rule: rule, Reads: book.Reads(rule)})
}

type rulesFactsCmd struct {
	output
}

func (c rulesFactsCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	return c.show(a, reply.Facts(book.Facts()))
}

type rulesCoverageCmd struct {
	Sets int `default:"20000" placeholder:"N" help:"Sets of facts to generate (default ${default})."`
	output
}

func (c rulesCoverageCmd) Run(a *app) error {
	book, err := a.book()
	if err != nil {
		return err
	}
	return c.show(a, reply.Coverage{Coverage: book.Coverage(c.Sets, nil)})
}
