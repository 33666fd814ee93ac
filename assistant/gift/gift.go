// Package gift reads whether a line asks for a file: a page to look at, a build sheet or
// a sound, and gathers what it is made of: which heads on offer, on which instrument. It
// writes none.
package gift

import (
	"slices"
	"strings"

	"mallow/assistant/answer"
)

// Kind is what a line can ask to be given.
type Kind int

// What there is to give: a sound to be played or kept, a build sheet, a page of heads.
const (
	None Kind = iota
	Sound
	SoundFile
	Sheet
	Page
)

// Of is what a line asks to be given. Every word of the line has to be one
// that such a line has; I play marimba asks for nothing.
func Of(line string) Kind {
	said := strings.Fields(answer.Plain(line))
	has := func(words ...string) bool {
		return slices.ContainsFunc(said, func(w string) bool { return slices.Contains(words, w) })
	}
	const filler = "let me i want to wanna would like can could you us please now again for a an the it its this that them these those both of and in on as with my " +
		"one two three 1 2 3 4 first second choice choices head heads mallet mallets on offer " +
		"hear listen play sound sounds audio wav save keep write store print give show open make see view export get " +
		"sheet build html page pages web browser file picture pictures drawing comparison compare them"
	for _, w := range said {
		if !slices.Contains(strings.Fields(filler), w) {
			return None
		}
	}
	keep := has("save", "keep", "write", "store", "export")
	page := has("html", "page", "web", "browser", "pictures", "picture")
	switch {
	case has("sound", "sounds", "audio", "wav") && keep:
		return SoundFile
	case has("sheet") && (page || keep):
		return Sheet
	case page && (keep || has("show", "open", "make", "see", "view", "give", "print", "heads", "comparison", "compare")), has("comparison") && keep:
		return Page
	case has("hear", "listen", "play") && (len(said) == 1 || has("it", "them", "both", "this", "that", "these", "those", "sound", "head", "heads", "choice", "1", "2", "3")):
		return Sound
	}
	return None
}
