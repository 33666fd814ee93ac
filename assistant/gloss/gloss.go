// Package gloss knows what a word means: a term of the glossary, a note, a
// dynamic, a grade of softness or a material. It never reads more of a line
// than which word is asked about.
package gloss

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
)

// Words are the words of a catalogue.
type Words struct{ cat *knowledge.Catalogue }

// In returns the words of a catalogue.
func In(cat *knowledge.Catalogue) Words { return Words{cat} }

// Means explains a word by itself, and reports whether it is known: a term, a
// note, a dynamic, a grade or a material.
func (w Words) Means(said string) (string, bool) {
	plain := answer.Plain(said)
	if plain == "" {
		return "", false
	}
	for _, name := range []string{plain, strings.TrimSuffix(plain, "s"), strings.TrimSuffix(plain, "es")} {
		for _, term := range w.cat.Terms {
			if slices.ContainsFunc(names(term), func(n string) bool { return answer.Plain(n) == name }) {
				return fmt.Sprintf("%s: %s", reply.Capital(said), term.Means), true
			}
		}
	}
	if n, err := measure.ParseNote(said); err == nil {
		return fmt.Sprintf("%s is a note, %.0f Hz; the number is the octave, C4 being middle C, and # is a semitone up.", n, n.Hz()), true
	}
	for _, d := range w.cat.Dynamics {
		if strings.EqualFold(d.ID, said) {
			return fmt.Sprintf("%s is a dynamic, written as in music: p is soft, mf middling, f loud, ff very loud. Here it stands for a head that meets the bar at %.1f m/s.", d.ID, d.SpeedMS.Value), true
		}
	}
	for _, g := range w.cat.Scale.Grades {
		if answer.Plain(g.ID) == plain {
			return w.grade(g.ID), true
		}
	}
	for _, m := range w.cat.Materials {
		if answer.Plain(m.ID) == plain || answer.Plain(m.Name) == plain {
			return fmt.Sprintf("%s: a %s that heads are made of; `mallow parts %s` shows what is known of it, with sources.", reply.Capital(m.Name), m.Family, m.ID), true
		}
	}
	return "", false
}

// grade says where a word for softness stands among the others.
func (w Words) grade(id string) string {
	var all []string
	for _, g := range w.cat.Scale.Grades {
		all = append(all, g.ID)
	}
	i := slices.Index(all, id)
	between := ""
	switch {
	case len(all) < 2:
		return reply.Capital(id) + " is how soft a head feels and sounds."
	case i == 0:
		between = "harder than " + all[1]
	case i == len(all)-1:
		between = "softer than " + all[i-1]
	default:
		between = fmt.Sprintf("softer than %s and harder than %s", all[i-1], all[i+1])
	}
	return fmt.Sprintf("%s is how soft a head feels and sounds on its instrument: %s. Medium is what most players reach for first; soft sounds rounder, hard clearer and brighter.", reply.Capital(id), between)
}

// Asked explains the word that a line asks the meaning of, and reports whether
// the line asks that and the word is known.
func (w Words) Asked(line string) (string, bool) {
	said, ok := asks(line)
	if !ok {
		return "", false
	}
	return w.Means(said)
}

// Define explains the word that a line is about: the longest that stands in
// it. It returns false with what to say where none is known.
func (w Words) Define(in reading.Reading, line string) (string, bool) {
	for _, about := range in.About {
		if term, ok := w.cat.Term(about.ID); ok {
			return fmt.Sprintf("%s: %s", reply.Capital(strings.ReplaceAll(term.ID, "-", " ")), term.Means), true
		}
	}
	padded := " " + answer.Plain(line) + " "
	var all []string
	longest, means := "", ""
	for _, term := range w.cat.Terms {
		for _, name := range names(term) {
			all = append(all, name)
			if len(name) > len(longest) && strings.Contains(padded, " "+answer.Plain(name)+" ") {
				longest, means = name, term.Means
			}
		}
	}
	if longest != "" {
		return fmt.Sprintf("%s: %s", reply.Capital(longest), means), true
	}
	said := ""
	for _, m := range in.Missed {
		said = cmp.Or(strings.TrimSpace(m), said)
	}
	for _, about := range in.About {
		said = cmp.Or(strings.TrimSpace(about.Text), said)
	}
	if said == "" {
		return "Which word? Say: what is a durometer, what is F#4, what is ff.", false
	}
	return strings.TrimSpace(fmt.Sprintf("I have no entry for “%s”. %s", said, reply.Capital(words.Hint(said, all)))), false
}

func names(t knowledge.Term) []string { return append([]string{t.ID}, t.Also...) }

// asks returns what a line asks the meaning of.
func asks(line string) (string, bool) {
	line = strings.Trim(strings.TrimSpace(line), "?!. ")
	lower := strings.ToLower(line)
	for _, lead := range []string{"what is meant by ", "what do you mean by ", "what is ", "what are ", "what's ", "whats ", "what does ", "what do ", "what mean ", "what is mean ", "what meaning ", "explain ", "define ", "meaning of "} {
		if !strings.HasPrefix(lower, lead) {
			continue
		}
		rest := line[len(lead):]
		for _, tail := range []string{" then", " again", " please", " exactly", " anyway", " here", " mean", " stand for"} {
			rest = strings.TrimSuffix(rest, tail)
		}
		for _, article := range []string{"a ", "an ", "the "} {
			if cut, ok := strings.CutPrefix(strings.ToLower(rest), article); ok {
				rest = rest[len(rest)-len(cut):]
			}
		}
		return strings.Trim(rest, "\"“”' "), rest != ""
	}
	return "", false
}
