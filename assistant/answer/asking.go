package answer

import (
	"slices"
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/reading"
)

// asking is what a question asks of a thing.
type asking int

const (
	says      asking = iota // no question by its form
	which                   // what, which, who
	how                     // how, the best way to
	amount                  // how much, how long, when
	reason                  // why
	whether                 // may I, is it, will it
	supposing               // what if
	place                   // where
)

// opens are what questions begin with, longer ones before shorter.
var opens = []struct {
	words string
	is    asking
}{
	{"what if", supposing}, {"what happens if", supposing}, {"what happens when", supposing}, {"what would happen", supposing}, {"suppose", supposing},
	{"how much", amount}, {"how many", amount}, {"how long", amount}, {"how often", amount}, {"how big", amount}, {"how far", amount}, {"how deep", amount},
	{"how heavy", amount}, {"how hard", amount}, {"how tight", amount}, {"how tightly", amount}, {"how thick", amount}, {"how soon", amount}, {"how old", amount}, {"how close", amount},
	{"how exact", amount}, {"how exactly", amount}, {"how accurate", amount}, {"how sure", amount}, {"how loud", amount}, {"how high", amount}, {"how low", amount},
	{"how wide", amount}, {"how large", amount}, {"how fast", amount}, {"how difficult", amount}, {"how safe", amount}, {"how firm", amount}, {"how firmly", amount},
	{"what time", amount}, {"when", amount},
	{"how come", reason}, {"why", reason}, {"what for", reason}, {"what is the reason", reason},
	{"how", how}, {"what is the best way", how}, {"whats the best way", how}, {"what is the quickest way", how}, {"best way", how}, {"quickest way", how}, {"easiest way", how},
	{"is there a way", how}, {"is there an easy way", how}, {"is there a trick", how}, {"any tips", how}, {"any trick", how},
	{"where", place}, {"wheres", place},
	{"what", which}, {"whats", which}, {"which", which}, {"who", which}, {"whose", which},
}

// askedBy is what a plain line asks: by its beginning, or by what stands in it
// behind a clause of its own (my head is loose, how do I mend it).
func askedBy(plain string) asking {
	for _, o := range opens {
		if rest, ok := strings.CutPrefix(plain, o.words); ok && (rest == "" || rest[0] == ' ') {
			return o.is
		}
	}
	if beginsWith(plain, askers) >= 0 {
		return whether
	}
	padded := plain + " "
	for _, o := range opens {
		if len(o.words) > 2 && o.words != "what" && o.words != "which" && o.words != "when" && o.words != "where" && o.words != "who" && strings.Contains(padded, " "+o.words+" ") {
			return o.is
		}
	}
	return says
}

// like is how alike two kinds of question are, from 0 to 1.
func (a asking) like(b asking) float64 {
	switch {
	case a == b:
		return 1
	case a == says || b == says:
		return 0.5
	case a > b:
		return b.like(a)
	}
	switch [2]asking{a, b} {
	case [2]asking{how, whether}, [2]asking{whether, supposing}, [2]asking{which, how}:
		return 0.5
	case [2]asking{which, amount}, [2]asking{amount, whether}, [2]asking{which, whether}, [2]asking{how, supposing}:
		return 0.3
	}
	return 0
}

// leads are what people put before a question, longer ones first.
var leads = []string{
	"my mum asks if", "my dad asks if", "my mum asks", "my dad asks", "mum asks if", "mum asks", "can you tell me if", "can you tell me", "i want to know if", "i want to know",
	"id like to know", "i wonder if", "i wonder", "do you know if", "do you know", "tell me", "quick question", "one more thing", "one question",
	"ok", "okay", "so", "and", "but", "well", "um", "uh", "hm", "hmm", "oh", "sorry", "please", "pls", "hey", "hi", "also", "then", "now", "just", "wait", "right", "again",
}

// askers are the words that a question begins with.
var askers = []string{"what", "whats", "how", "why", "which", "when", "where", "wheres", "who", "whose", "is", "are", "am", "do", "does", "did", "can", "could", "will", "would", "should", "shall", "may", "must", "has", "was", "were", "had", "hows", "whos", "wich", "anyone", "anybody", "ok if", "okay if", "ok to", "alright to", "fine to", "safe to", "worth", "have you", "any", "isnt", "arent", "dont i", "wont", "cant i", "need i", "cant we", "can we", "have we", "do we", "best way", "quickest way", "easiest way", "explain"}

// IsQuestion reports whether a line asks, by its mark, which may stand within (is
// dust bad? i have asthma), or by how it begins.
func IsQuestion(line string) bool {
	if strings.Contains(line, "? ") || strings.HasSuffix(strings.TrimSpace(line), "?") {
		return true
	}
	plain := Plain(line)
	if strings.Contains(plain, "asks ") || slices.ContainsFunc(closers, func(w string) bool { return strings.HasSuffix(plain, " "+w) }) {
		return true
	}
	return slices.ContainsFunc(stretches(line), begins)
}

// wishing are words of those who want something, or say what they have.
var wishing = []string{"want", "wants", "need", "needs", "have", "has", "got", "prefer", "please", "make", "give", "id", "for", "let"}

// wishes reports whether a line wants something, or says what somebody has.
func wishes(line string) bool {
	return slices.ContainsFunc(strings.Fields(Plain(line)), func(w string) bool { return slices.Contains(wishing, w) })
}

// others are those of whom people ask what they would ask of themselves; of a child it may
// be another question.
var others = []string{"mom", "mum", "mummy", "mommy", "dad", "daddy", "mother", "father", "parents", "folks", "wife", "husband", "partner", "friend", "teacher", "school", "grandma", "grandpa", "gran", "nan", "aunt", "uncle", "boss"}

// ofSpeaker is a plain line that asks of somebody beside what may be asked of oneself: what
// does my mom need to buy is what do i need to buy.
func ofSpeaker(plain string) string {
	w := strings.Fields(plain)
	for k := 0; k+2 < len(w) && k < 5; k++ {
		if k == 0 && (w[0] == "whats" || w[0] == "hows") { // what's mom got to buy
			w = slices.Insert(slices.Clone(w), 1, "does")
			w[0] = strings.TrimSuffix(w[0], "s")
		}
		if k == 0 && !slices.Contains([]string{"what", "how", "which", "where", "when"}, w[0]) {
			return plain
		}
		at := k + 1
		if !slices.Contains([]string{"does", "do", "did", "should", "must", "will", "would", "has", "shall"}, w[k]) {
			continue
		}
		if slices.Contains([]string{"my", "our", "the", "her", "his"}, w[at]) {
			at++
		}
		if at+1 >= len(w) || !slices.Contains(others, w[at]) {
			return plain
		}
		if w[k] == "does" {
			w[k] = "do"
		}
		return strings.Join(slices.Concat(w[:k+1], []string{"i"}, w[at+1:]), " ")
	}
	return plain
}

// closers are words that make a question of what stands before them: just one
// number, which.
var closers = []string{"which", "which one", "now what", "what now", "what then", "what gives", "of what", "how come", "or not", "which not", "what not", "any ideas", "any idea", "any tips", "any thoughts"}

// turns are words by which a line that told something turns to asking, with no
// mark between: she has a rash is that the latex.
var turns = []string{" does that ", " does it ", " is that ", " is it ", " is this ", " do i ", " can i ", " could i ", " should i ", " will it ", " what do i ", " how do i ", " why does ", " why is ", " which bit ", " which part ", " which of "}

// stretches are what stands between the marks of a line, and before and after where
// it turns to asking.
func stretches(line string) []string {
	var list []string
	for _, part := range strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(",;.!", r) }) {
		if at := turn(part); at > 0 {
			list, part = append(list, part[:at]), part[at+1:]
		}
		list = append(list, part)
	}
	return list
}

// turn is where a line without marks turns to asking, -1 where it doesn't.
func turn(part string) int {
	lower := strings.ToLower(part)
	if beginsWith(bare(Plain(part))+" ", askers) >= 0 || len(lower) != len(part) {
		return -1
	}
	first := -1
	for _, w := range turns {
		if at := strings.Index(lower, w); at > 0 && (first < 0 || at < first) {
			first = at
		}
	}
	return first
}

// Of so few words a question hangs on what was said before it: what now?
const few = 3

// Asking is the part of a line that asks, where it stands by itself: of "I have
// wool and a ball, what can I make" what follows the comma. Else it is the line.
func Asking(line string) string {
	for _, part := range stretches(line) {
		if begins(part) && len(strings.Fields(part)) > few {
			return part
		}
	}
	return line
}

// begins reports whether a part of a line begins as a question does: dark or bright,
// how would I know. What leaves its subject out does not, nor what orders: is for
// marimba, must be gentle.
func begins(part string) bool {
	plain := Plain(part) + " "
	if beginsWith(plain, subjectless) >= 0 {
		return false
	}
	return beginsWith(plain, askers) >= 0 || beginsWith(bare(plain), askers) >= 0
}

// subjectless are words that a part of a line begins with that tells or orders.
var subjectless = []string{"is for", "must be", "must have", "must not", "must survive", "must stay", "has to", "can be", "will be", "may be", "may not", "do me", "do mine", "do us"}

// beginsWith returns which of these a plain line begins with and goes on after, -1
// for none.
func beginsWith(plain string, list []string) int {
	return slices.IndexFunc(list, func(w string) bool {
		return len(plain) > len(w) && plain[len(w)] == ' ' && strings.HasPrefix(plain, w)
	})
}

// Follows reports whether a line asks what follows of something done, and not
// what another head would be like.
func Follows(line string) bool {
	plain := bare(Plain(line))
	return strings.HasPrefix(plain, "what happens ") || strings.HasPrefix(plain, "what does it do if ") || strings.HasPrefix(plain, "what do i do if ")
}

// bare is a plain line without what people put before a question.
func bare(plain string) string {
	for {
		i := beginsWith(plain, leads)
		if i < 0 {
			return plain
		}
		plain = plain[len(leads[i])+1:]
	}
}

// Confused reports whether a line says that the person does not follow, if only
// by a question mark.
func Confused(line string) bool {
	if line != "" && strings.Trim(line, "? ") == "" {
		return true
	}
	return slices.Contains([]string{
		"what", "huh", "eh", "pardon", "come again", "sorry what", "what do you mean", "what does that mean", "what does this mean", "what do you mean by that", "i dont understand",
		"i do not understand", "i dont understand the question", "i dont get the question", "i dont know what that means", "i dont know what you mean", "not sure what you mean", "what is that", "whats that", "explain", "can you explain", "please explain", "explain that",
	}, Plain(line))
}

// Done reports whether a line says that something is done, and nothing else.
func Done(line string) bool {
	return slices.Contains([]string{
		"done", "done now", "its done", "all done", "did it", "im done", "i am done", "finish", "finished", "im finished", "ready", "end",
	}, after(Plain(line), "ok", "okay", "right"))
}

// after is a plain line without these, each once and in this order, where it begins
// with them.
func after(plain string, leads ...string) string {
	for _, lead := range leads {
		plain = strings.TrimPrefix(plain, lead+" ")
	}
	return plain
}

// assents are words of assent that a line may begin with.
var assents = []string{"looks good", "sounds good", "that looks good", "thats good", "great", "perfect", "good", "nice", "cool", "alright", "ok", "okay", "right", "yes", "so", "then", "just"}

// Begins reports whether a line, read so, says that building shall begin, and nothing
// more that can be taken or answered: build it, skip the baby steps.
func Begins(in reading.Reading, line string) bool {
	first, rest, _ := strings.Cut(line, ",")
	return Begin(line) || Begin(first) && in.Empty() && !IsQuestion(rest)
}

// Begin reports whether a line says that building shall begin, and nothing else.
func Begin(line string) bool {
	return slices.Contains([]string{
		"lets build", "lets build it", "lets do it", "lets go", "lets make it", "lets make them", "lets start", "lets get started", "lets get going", "go", "start", "start building", "build", "build it", "build them", "build that", "make it", "make them", "go ahead", "do it", "begin", "lets begin",
	}, after(Plain(line), assents...))
}

// Tells reports whether a line tells something beside what it asks: I have two
// balls, what can I make. That is taken, and the answer told above it. A part that
// a question only names, and nobody wishes for or has, is what the question is about.
func Tells(in reading.Reading, line string) bool {
	if !slices.Contains(in.Acts, reading.Tell) {
		return false
	}
	switch {
	case len(in.Moves) > 0 && len(in.Takes)+len(in.About) == 0 && !slices.ContainsFunc(in.Acts, clause.IsQuestion): // can it be softer
		return true
	case slices.ContainsFunc(in.Parts, held):
		return true
	case len(in.Takes) == 0 && (len(in.Parts) == 0 || !wishes(line)):
		return false
	}
	return Asking(line) != line
}

// held reports whether a part is not only named.
func held(p reading.Part) bool { return p.Holding != reading.Named }

// Harms reports whether something is to be taken of a line that is settled
// first, whatever else it says.
func Harms(in reading.Reading) bool {
	return slices.ContainsFunc(in.Takes, func(a reading.Take) bool {
		return strings.HasPrefix(a.Path, "player.") && a.Path != "player.level" || strings.HasPrefix(a.Path, "bench.")
	})
}
