// Package tell picks what is said about heads: the proposal, why and why not,
// comparisons, answers, what clashes. It takes nothing in, and asks nothing.
package tell

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/inquiry"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/several"
	"mallow/assistant/toolbox"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/propose"
)

// Teller picks what to say about heads, under what was settled. How it is said
// is package reply's.
type Teller struct {
	Kit      *toolbox.Kit
	State    *settled.State
	Asked    string // the open question's id
	Proposed bool   // a head is on offer
	Building bool   // and is being built
	Seen     bool   // one has been
	Later    []several.Head

	// What is left for the next lines: screens that go deeper, the rules behind
	// what was said, and the wish that stands in every head's way.
	Rest, Traced  *[]page.Page
	Wish, Without *string
}

// Said is what is said, as blocks.
type Said struct{ Page page.Page }

// Words are the names that parts have.
func (t Teller) Words() reply.Words { return reply.In(t.Kit.Catalogue) }

// Parts is a stack in words.
func (t Teller) Parts(st head.Stack) string { return t.Words().Stack(st) }

// sound says what a head does where it will be played.
func (t Teller) sound(c propose.Candidate) string {
	return reply.Sound(c, t.State.Facts.Want.Register)
}

// Traded says how far the head is off what was asked for.
func (t Teller) Traded(c propose.Candidate) string {
	return reply.Traded(c, t.State.Facts.Want, inquiry.Gain)
}

// mostNotes is how many of the rules' notes go with a proposal.
const mostNotes = 3

// notes are what the rules have to say about the head itself. What they say
// about the bench stands on the sheet.
func (t Teller) notes(c propose.Candidate) []string {
	return reply.Notes(c.Trace, mostNotes, func(r *rules.Rule) bool {
		return slices.ContainsFunc(t.Kit.Book.Reads(r), func(path string) bool { return strings.HasPrefix(path, "bench.") })
	})
}

// Say adds a paragraph.
func (r *Said) Say(format string, args ...any) {
	r.Page = append(r.Page, page.Para(fmt.Sprintf(format, args...)))
}

// Once adds a paragraph, unless it stands there already.
func (r *Said) Once(text string) {
	if !slices.ContainsFunc(r.Page, func(b page.Block) bool { return b == page.Block(page.Para(text)) }) {
		r.Say("%s", text)
	}
}

// List adds a list, unless it is empty.
func (r *Said) List(items []string) {
	if len(items) > 0 {
		r.Page = append(r.Page, page.List{Items: items})
	}
}

// SayAll adds a paragraph for each sentence.
func (r *Said) SayAll(sentences []string) {
	for _, s := range sentences {
		r.Say("%s", s)
	}
}
