// Package serve reads of a question whether what somebody has will do: what it is to do
// for is a wish, and which of it, a choice. It never says what a part is.
package serve

import (
	"regexp"
	"strings"
	"sync"
)

// shapes are those of such questions: what stands in the group named wish is wished for.
// Few lines ask one, so that they are read when the first may.
var shapes = sync.OnceValue(func() []*regexp.Regexp {
	return []*regexp.Regexp{
		regexp.MustCompile(`\b(?:will|would|can|could|do|does|might|should) (?:either|any|one|both|all|these|those|they|it|that|this|them|some)(?: one| two)?(?: of (?:these|those|them|it))? (?:do|work|serve|suit|be (?:any good|good|fine|ok|okay|right|alright|suitable|usable|enough))\b(?P<wish>[^?]*)\?`),
		regexp.MustCompile(`\b(?:can|could|will|would|might) (?:that|this|these|those|it|they|them) (?:become|make|turn into|be made into|be turned into|serve as) (?P<wish>[^?]+)\?`),
		regexp.MustCompile(`\b(?:is|are|would|might) (?P<wish>[^?.,;]+) (?:possible|doable|feasible|realistic|achievable|within reach)\b[^?]*\?`),
		regexp.MustCompile(`\bwhich (?:one |ones |of (?:these|those|them|the two|the three) )?(?:is|are|would|will|should|do|does|suits?|goes?|fits?|works?)\b[^?]*? (?P<wish>(?:for|on|as|in) [^?]+)\?`),
		regexp.MustCompile(`\b(?:can|could|may|might) (?:i|we|you|one) (?:get|make|build|have|wind|reach|manage) (?P<wish>[^?.;]+?) (?:out of|from|with|of|using) (?:just |only )?(?:this|that|these|those|it|them|what i have|what we have)\b[^?]*\?`),
	}
})

var which = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\bwhich (?:one |ones |of (?:these|those|them|the two|the three) )?(?:should|would|do|does|is|are|suits?|goes?|fits?|ought|will|can)\b`)
})

// Will returns what a line asks whether something will do for, as a wish: "will either
// do for bells?"; nothing where it asks no such thing.
func Will(line string) (wish string) {
	line = strings.NewReplacer("’", "'").Replace(strings.ToLower(line))
	for _, sentence := range sentences(line) {
		for _, shape := range shapes() {
			if m := shape.FindStringSubmatch(sentence); m != nil {
				return strings.TrimSpace(m[shape.SubexpIndex("wish")])
			}
		}
	}
	return ""
}

// Which reports whether a line asks which of several things to take.
func Which(line string) bool { return which().MatchString(strings.ToLower(line)) }

// sentences cuts a line after each mark that ends a sentence, the mark with it.
func sentences(line string) (list []string) {
	from := 0
	for i, r := range line {
		if r == '?' || r == '!' || r == '.' && (i+1 == len(line) || line[i+1] == ' ') {
			list = append(list, line[from:i+1])
			from = i + 1
		}
	}
	return append(list, line[from:])
}
