package show

import "strings"

// Sentence is an error for people: without the name of the package it came
// from, which says nothing to them.
func Sentence(err error) string {
	text := err.Error()
	for _, room := range []string{"propose: ", "strike: ", "head: ", "knowledge: ", "hear: "} {
		text = strings.TrimPrefix(text, room)
	}
	return strings.TrimSuffix(text, ".")
}
