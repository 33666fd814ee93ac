// Package assistant is the conversation: what a line does to it, and what is
// said to that. It never reads or writes, knows no clock, and gives the same
// replies to the same lines; talk runs it over a terminal or a pipe.
//
// What it has come to lies in settled, what to ask next in inquiry, the heads
// that answer it in offer, and what a line means in understand.
package assistant

import (
	"cmp"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/inquiry"
	"mallow/assistant/lesson"
	"mallow/assistant/offer"
	"mallow/assistant/settled"
	"mallow/assistant/sheet"
	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// remember is how many proposals are kept at hand.
const remember = 64

// Kit is what a conversation draws on.
type Kit struct {
	Catalogue *knowledge.Catalogue
	Book      *rules.Book[facts.Facts]
	Finder    *propose.Finder
	Reader    *understand.Reader
	Harm      *harm.Reader
	Sheets    *sheet.Maker

	ground  *settled.Ground
	offers  *offer.Offers
	asker   *inquiry.Asker
	lessons []lesson.Lesson
	answers *answer.Answers
	guide   *along.Guide
}

// NewKit gathers what a conversation draws on, and checks that the questions
// and lessons of the catalogue fit the facts.
func NewKit(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	k := &Kit{Catalogue: cat, Book: book}
	var err, unread error
	read := make(chan struct{}) // the reader takes as long as the rest
	go func() {
		defer close(read)
		if k.Reader, unread = understand.New(cat); unread == nil {
			k.Harm, unread = harm.New(cat)
		}
	}()
	if k.Finder, err = propose.New(cat, book); err == nil {
		k.Sheets, err = sheet.NewMaker(cat)
	}
	<-read
	if err := cmp.Or(err, unread); err != nil {
		return nil, err
	}
	if k.ground, err = settled.NewGround(cat); err != nil {
		return nil, err
	}
	if k.lessons, err = lesson.New(cat); err != nil {
		return nil, err
	}
	if k.answers, err = answer.New(cat); err != nil {
		return nil, err
	}
	if k.guide, err = along.New(cat, k.Finder, k.Sheets); err != nil {
		return nil, err
	}
	k.offers = offer.New(cat, k.Finder, remember)
	k.asker = inquiry.New(cat, book, k.Finder, k.offers)
	return k, nil
}
