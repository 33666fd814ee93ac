package assistant

import (
	"cmp"
	"fmt"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge/measure"
	"mallow/knowledge/words"
)

// define explains a word: of the glossary, of a part, or of a question.
func (t teller) define(r *Reply, in reading.Reading, line string) {
	cat := t.kit.Catalogue
	for _, about := range in.About {
		if term, ok := cat.Term(about.ID); ok {
			r.Say("%s: %s", reply.Capital(term.ID), term.Means)
			return
		}
	}
	// The longest name of the glossary that stands in the line.
	padded := " " + strings.Join(strings.FieldsFunc(strings.ToLower(line), func(r rune) bool { return strings.ContainsRune(" ?!.,;:\"'“”", r) }), " ") + " "
	var names []string
	longest, means := "", ""
	for _, term := range cat.Terms {
		for _, name := range append([]string{term.ID}, term.Also...) {
			names = append(names, name)
			if len(name) > len(longest) && strings.Contains(padded, " "+strings.ToLower(name)+" ") {
				longest, means = name, term.Means
			}
		}
	}
	if longest != "" {
		r.Say("%s: %s", reply.Capital(longest), means)
		return
	}
	for _, about := range in.About {
		if q, ok := cat.Question(about.ID); ok {
			r.Say("%s", q.Why)
			return
		}
	}
	said := ""
	for _, m := range in.Missed {
		said = cmp.Or(strings.TrimSpace(m), said)
	}
	for _, about := range in.About {
		said = cmp.Or(strings.TrimSpace(about.Text), said)
	}
	if said == "" {
		r.Say("Which word? Say: what is a durometer, what is F#4, what is ff.")
		return
	}
	hint := words.Hint(said, names)
	r.Say("%s", strings.TrimSpace(fmt.Sprintf("I have no entry for “%s”. %s", said, reply.Capital(hint))))
}

// word explains what a line asks the meaning of, and reports whether the line
// asks that and the word is known: a term, a note, a dynamic, or a material.
func (t teller) word(r *Reply, line string) bool {
	said, ok := asksMeaning(line)
	if !ok {
		return false
	}
	cat, plain := t.kit.Catalogue, answer.Plain(said)
	for _, term := range cat.Terms {
		for _, name := range append([]string{term.ID}, term.Also...) {
			if answer.Plain(name) == plain {
				r.Say("%s: %s", reply.Capital(said), term.Means)
				return true
			}
		}
	}
	if n, err := measure.ParseNote(said); err == nil {
		r.Say("%s is a note, %.0f Hz; the number is the octave, C4 being middle C, and # is a semitone up.", n, n.Hz())
		return true
	}
	for _, d := range cat.Dynamics {
		if strings.EqualFold(d.ID, said) {
			r.Say("%s is a dynamic, written as in music: p is soft, mf middling, f loud, ff very loud. Here it stands for a head that meets the bar at %.1f m/s.", d.ID, d.SpeedMS.Value)
			return true
		}
	}
	for _, m := range cat.Materials {
		if answer.Plain(m.ID) == plain || answer.Plain(m.Name) == plain {
			r.Say("%s: a %s that heads are made of; `mallow parts %s` shows what is known of it, with sources.", reply.Capital(m.Name), m.Family, m.ID)
			return true
		}
	}
	return false
}

// asksMeaning returns what a line asks the meaning of.
func asksMeaning(line string) (string, bool) {
	line = strings.Trim(strings.TrimSpace(line), "?!. ")
	lower := strings.ToLower(line)
	for _, lead := range []string{"what is meant by ", "what is ", "what are ", "what's ", "whats ", "what does ", "explain ", "define ", "meaning of "} {
		if !strings.HasPrefix(lower, lead) {
			continue
		}
		rest := line[len(lead):]
		for _, tail := range []string{" mean", " stand for"} {
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
