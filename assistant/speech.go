package assistant

import (
	"mallow/assistant/tell"
	"strings"

	"mallow/assistant/journal"
	"mallow/assistant/sheet"
	"mallow/knowledge/correct"
)

// Reply is what to say to a line.
type Reply struct {
	tell.Said
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
	Broken      bool                 // a longer look was broken off
	Told        string               // the catalogue's answer or trouble that was told; or term, why, compare
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
