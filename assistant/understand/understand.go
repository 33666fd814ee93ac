// Package understand reads what people write and says what they mean: answers
// to facts, parts on hand, relative wishes, limits, and things they want done.
// It never decides what follows from them, and never guesses in silence.
//
// A line is cut into clauses. What is harmful is read first, from the whole
// line; then it is settled for each clause whether it tells, asks, orders, takes
// back or is small talk; then the clause is covered with the phrases of the word
// list. What could not be made sense of is named, and what could mean two
// things is asked. The words are data, in the catalogue, where a maker can
// dispute them. Reading is pure: the same text in the same context reads the
// same, and no text makes it fail.
package understand

import (
	"mallow/assistant/understand/bars"
	"mallow/assistant/understand/brief"
	"mallow/assistant/understand/compose"
	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/limit"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/assistant/understand/shift"
	"mallow/assistant/understand/taken"
)

// AskParts is what Context.Asked holds when the question was which parts are
// on hand. Parts named in the answer are then had, unless it says otherwise.
const AskParts = "parts"

// Context is what a text answers to.
type Context = taken.Context

// Reader reads texts. It may be shared by goroutines.
type Reader struct {
	bars   bars.List
	words  *lexis.Lexicon
	harm   *harm.Reader
	yes    map[string]any // what a plain yes means, by asked fact
	retell *retell.Speaker
	hunch  *hunch.Net
	stock  *part.Stock
}

// Read reads a line of free text. Of more than 2000 characters, and of no text, it takes nothing.
func (r *Reader) Read(text string, ctx Context) reading.Reading {
	if ctx.Asked == "bench."+AskParts { // by the bench that they lie on
		ctx.Asked = AskParts
	}
	clean, refused := lexis.Tidy(text)
	if refused != "" {
		return reading.Reading{Missed: []string{refused}}
	}
	c := cover.New(r.words, clean, ctx.Asked)
	compose.Mark(c)
	shift.Mark(c)
	brief.Mark(c)
	limit.Mark(c)
	l := r.line(c, ctx)
	l.Hunch, l.Shown = r.hunch, hunch.Words(c)
	w := &walk{Line: l, r: r, parts: part.Describer{Chart: c, Stock: r.stock}}
	w.line()
	return w.Out
}

// line returns a line that nothing was taken of yet.
func (r *Reader) line(c *cover.Chart, ctx Context) *taken.Line {
	return &taken.Line{Chart: c, Ctx: ctx, Harm: r.harm, Speaker: r.retell}
}
