// Package assistant is the conversation: what a line does to it, and what is
// said to that. It never reads or writes, knows no clock, and gives the same
// replies to the same lines; talk runs it over a terminal or a pipe.
//
// What it has come to lies in settled, what to ask next in inquiry, the heads
// that answer it in offer, and what a line means in understand.
package assistant

import (
	"mallow/assistant/toolbox"
	"mallow/knowledge"
	"mallow/rules"
	"mallow/rules/facts"
)

// Kit is what a conversation draws on.
type Kit = toolbox.Kit

// Wish is what a text given all at once asks for.
type Wish = toolbox.Wish

// NewKit gathers what a conversation draws on, and checks that it fits.
func NewKit(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	return toolbox.New(cat, book)
}

// Shipped is NewKit for knowledge that is known to fit: it checks nothing.
func Shipped(cat *knowledge.Catalogue, book *rules.Book[facts.Facts]) (*Kit, error) {
	return toolbox.Shipped(cat, book)
}

// UsesShelf says that so many kinds of parts on the shelf are used.
func UsesShelf(kinds int) string { return toolbox.UsesShelf(kinds) }
