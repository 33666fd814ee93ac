package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/inquiry"
	"mallow/assistant/reply"
	"mallow/knowledge/head"
	"mallow/rules"
	"mallow/rules/propose"
)

// teller picks what to say about heads, under what was settled. How it is said
// is package reply's.
type teller struct {
	kit *Kit
	now *state
}

// words are the names that parts have.
func (t teller) words() reply.Words { return reply.In(t.kit.Catalogue) }

// parts is a stack in words.
func (t teller) parts(st head.Stack) string { return t.words().Stack(st) }

// sound says what a head does where it will be played.
func (t teller) sound(c propose.Candidate) string {
	return reply.Sound(c, t.now.Facts.Want.Register)
}

// traded says how far the head is off what was asked for.
func (t teller) traded(c propose.Candidate) string {
	return reply.Traded(c, t.now.Facts.Want, inquiry.Gain)
}

// mostNotes is how many of the rules' notes go with a proposal.
const mostNotes = 4

// notes are what the rules have to say about the head itself. What they say
// about the bench stands on the sheet.
func (t teller) notes(c propose.Candidate) []string {
	return reply.Notes(c.Trace, mostNotes, func(r *rules.Rule) bool {
		return slices.ContainsFunc(t.kit.Book.Reads(r), func(path string) bool { return strings.HasPrefix(path, "bench.") })
	})
}
