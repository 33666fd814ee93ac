package assistant

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/journal"
	"mallow/assistant/page"
	"mallow/assistant/sheet"
	"mallow/knowledge/correct"
)

// Reply is what to say to a line.
type Reply struct {
	Page  page.Page
	Sheet *sheet.Sheet // the build sheet of what is built from now on
	Whole bool         // Sheet is to be rendered after Page
	Ask   *Ask         // the question now open, to be rendered last
	// Words are what the next answer may well be, for completion.
	Words       []string
	Predictions []journal.Prediction // what a learner predicted; times are zero
	Built       bool                 // a build was begun, or its sheet handed out
	Heads       []correct.Built      // heads that were built and measured, for the maker's log
	WaitMin     float64              // minutes to wait before the next line
	Gift        *Gift                // a page or a sound to hand over; nil for none
	Save, Leave bool                 // the person asked for it
}

// Say adds a paragraph.
func (r *Reply) Say(format string, args ...any) {
	r.Page = append(r.Page, page.Para(fmt.Sprintf(format, args...)))
}

// once adds a paragraph, unless it stands there already.
func (r *Reply) once(text string) {
	if !slices.ContainsFunc(r.Page, func(b page.Block) bool { return b == page.Block(page.Para(text)) }) {
		r.Say("%s", text)
	}
}

// list adds a list, unless it is empty.
func (r *Reply) list(items []string) {
	if len(items) > 0 {
		r.Page = append(r.Page, page.List{Items: items})
	}
}

// sayAll adds a paragraph for each sentence.
func (r *Reply) sayAll(sentences []string) {
	for _, s := range sentences {
		r.Say("%s", s)
	}
}

// Ask is an open question.
type Ask struct {
	ID      string // the fact it settles; empty for an open invitation
	Text    string
	Brief   string // in place of Text when that was the last thing said; may be empty
	Choices []string
	Enter   string // what Enter takes; empty for nothing
}

// String is the question with its choices and what Enter takes.
func (a *Ask) String() string {
	text := a.Text
	if len(a.Choices) > 0 {
		text += " (" + strings.Join(a.Choices, " / ")
		if a.Enter != "" {
			text += "; Enter: " + a.Enter
		}
		text += ")"
	} else if a.Enter != "" {
		text += " (Enter: " + a.Enter + ")"
	}
	return strings.TrimSpace(text)
}
