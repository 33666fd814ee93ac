package reply

import (
	"fmt"
	"strings"
)

// Sentence is an error for people, without its full stop.
func Sentence(err error) string { return strings.TrimSuffix(err.Error(), ".") }

// FirstFew shortens a list of ids for a sentence.
func FirstFew(ids []string) []string {
	if len(ids) > 4 {
		return append(ids[:3:3], fmt.Sprintf("%d more", len(ids)-3))
	}
	return ids
}

// Told is an error as a whole sentence.
func Told(err error) string {
	text := Sentence(err)
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:] + "."
}
