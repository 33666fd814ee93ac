package harm

import (
	"slices"
	"strings"
	"unicode"

	"mallow/assistant/understand/harm/heard"
	"mallow/assistant/understand/harm/role"
)

// span is a phrase found in a line.
type span struct {
	from, to int // tokens
	class    class
}

// line is a line being read.
type line struct {
	text   string
	asked  string
	tokens []token
	spans  []span
	who    role.Line // made when first asked for
}

// clauses numbers the sentences and clauses of the line.
func (l *line) clauses() {
	sentence, clause := 0, 0
	for i := range l.tokens {
		t := &l.tokens[i]
		switch {
		case t.mark && strings.ContainsAny(t.text, ".;!?"):
			t.sentence, t.clause = sentence, clause
			sentence++
			clause++
			continue
		case t.mark:
			t.sentence, t.clause = sentence, clause
			clause++
			continue
		}
		switch t.text {
		case "but":
			if i == 0 || l.tokens[i-1].text != "anything" && l.tokens[i-1].text != "everything" {
				clause++
			}
		case "so":
			if i+2 < len(l.tokens) && l.tokens[i+1].text == "much" && l.tokens[i+2].text == "as" { // not so much as an itch
				break
			}
			clause++
		case "although", "though", "because", "cause", "cos", "while", "whereas", "since", "however", "jus":
			clause++
		}
		t.sentence, t.clause = sentence, clause
	}
}

// at returns token i, an end mark past either end.
func (l *line) at(i int) token {
	if i < 0 || i >= len(l.tokens) {
		return token{text: ".", mark: true, sentence: -1, clause: -1}
	}
	return l.tokens[i]
}

// start returns the token that the clause of token i begins with.
func (l *line) start(i int) int {
	for i > 0 && l.at(i-1).clause == l.at(i).clause {
		i--
	}
	return i
}

// is reports whether token i is one of words.
func (l *line) is(i int, words ...string) bool {
	return slices.Contains(words, l.at(i).text)
}

// capital reports whether token i is written with a capital, as a name is.
func (l *line) capital(i int) bool { return unicode.IsUpper(rune(l.text[l.at(i).from])) }

// has returns whether any word of the line has one of the classes.
func (l *line) has(c class) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool { return s.class&c != 0 })
}

// hasWord reports whether one of words stands in the line.
func (l *line) hasWord(words ...string) bool {
	return slices.ContainsFunc(l.tokens, func(t token) bool { return slices.Contains(words, t.text) })
}

// inClause reports whether a word of class c stands in the same clause as token i.
func (l *line) inClause(i int, c class) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool { return s.class&c != 0 && l.at(s.from).clause == l.at(i).clause })
}

// inSentence reports whether a word of class c stands in the sentence of token i.
func (l *line) inSentence(i int, c class) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool {
		return s.class&c != 0 && l.at(s.from).sentence == l.at(i).sentence
	})
}

// denied reports whether what stands at token i is denied: an odd number of
// words like not before it in its clause, with nothing but light words between.
func (l *line) denied(i int) bool {
	n, nor := 0, false
	for j := i - 1; j >= 0 && l.at(j).clause == l.at(i).clause && l.light(j); j-- {
		denies, beyond := l.notAt(j)
		if beyond {
			n = 0
			break
		}
		if denies && !nor && !(l.is(j, "nope", "no", "nah") && (j == 0 || l.at(j-1).mark) && (l.at(j+1).class&not != 0 || l.is(j+1, "i", "im", "ive", "we", "weve", "he", "hes", "she", "shes", "they", "theyre", "its"))) && !(l.is(j, "no") && l.is(j+2, "no") && j+2 < i && !l.is(j+1, "one", "body")) { // nope no allergies; no kids no allergies
			n, nor = n+1, l.is(j, "nor") // no one of them nor me
		}
	}
	if n == 0 { // allergies: none; asthma? no
		j := i + 1
		for k := 0; k < 3 && l.at(j).mark; k++ {
			j++
		}
		if l.is(j, "none", "no", "nope", "nil", "zero", "nein") && (l.at(j+1).mark || j+1 >= len(l.tokens)) || l.at(i).class&(allergy|reaction|weak|lungs) != 0 && l.roles().AnswersNo(i) {
			n++
		}
	}
	return n%2 == 1
}

// notAt reports whether a word like not stands at token j, or words that take
// out what follows them: nobody except.
func (l *line) notAt(j int) (is, beyond bool) {
	for _, s := range l.spans {
		switch {
		case s.from > j || s.to <= j:
		case s.class&except != 0 && s.from > 0 && !l.is(s.from, "only"):
			return false, true
		case s.class&alone != 0 && s.from == j && l.is(j, "no", "nobody", "noone", "none"):
			is = true
		case s.class&not != 0 && s.from == j && !l.is(s.to, "only", "just", "sure"),
			s.class&avoid != 0 && s.from == j && s.to-j == 2 && l.is(j, "not", "isnt") && (l.at(s.to).class|l.at(s.to+1).class)&(allergy|reaction|weak|lungs) != 0: // not having problems
			is = true
		}
	}
	return is, false
}

// light reports whether token j may stand between a denial and what it denies:
// nobody in my class is allergic. Any other word ends the reach of a denial, so
// that in "no drill and an allergy" the allergy stands.
func (l *line) light(j int) bool {
	t := l.at(j)
	if t.class&(not|cant|person|young|kin|pupil|student|helper|grown|allergy|reaction|weak|latex|rubber|fume|lungs|except|unsure|undo|school|once|bear|air|fine) != 0 {
		return true
	}
	if prev := l.at(j - 1); t.isNum && l.is(j-1, "in", "room", "class", "year", "grade", "group") || prev.isNum && prev.to == t.from && len(t.text) == 1 { // nobody in 4B
		return true
	}
	for _, s := range l.spans { // a phrase of several words
		if s.from < j && j < s.to && s.class&(not|except|unsure|allergy|reaction|cant|once|latex|rubber|air|person) != 0 {
			return true
		}
	}
	return l.is(j, "not", "nobody", "noone", "none", "no", "mean", "meaning", "saying", "a", "an", "the", "any", "of", "in", "is", "are", "am", "be", "been", "being", "was", "were", "has", "have", "had", "having", "got", "get", "gets", "getting", "to", "at", "with", "on",
		"known", "real", "serious", "particular", "about", "that", "think", "say", "kind", "sort", "here", "there", "ever", "even", "suffer", "suffers", "suffering", "from", "all", "one", "single", "or", "really",
		"actually", "particularly", "very", "class", "group", "family", "team", "band", "section", "room", "house", "ensemble", "percussion", "studio", "workshop", "else", "sign", "signs", "history", "know", "aware", "so", "far", "yet", "bit", "way", "such", "as", "for", "own", "special", "makes", "make", "making", "holds", "plays", "playing", "using", "uses", "showed", "shown", "need", "needs", "seem", "seems", "feel", "feels", "work", "working", "too", "much", "by", "flagged", "flag", "mentioned", "mention", "reported", "reports", "report", "declared", "listed", "lists", "disclosed", "noted", "raised", "ticked", "told", "said", "me", "us", "recorded", "record", "logged", "complained", "shows", "nr", "suffered", "skin", "once", "whatsoever", "form", "forms", "medical", "quartet", "trio", "quintet", "duo", "choir", "orchestra", "crew", "lot", "office", "school", "household", "flat")
}

// roles returns the words of the line, each with what tells of the part that
// somebody plays.
func (l *line) roles() role.Line {
	if l.who != nil {
		return l.who
	}
	kinds := []struct {
		of class
		is role.Kind
	}{
		{person | young | kin | pupil | student | helper, role.Person}, {young | kin | pupil, role.Young}, {student, role.Student}, {helper, role.Helper}, {grown | elder, role.Grown}, {not, role.Not}, {unit, role.Unit}, {figure, role.Figure}, {work, role.Work}, {idle, role.Idle}, {gear, role.Gear},
		{allergy | reaction | latex | rubber | fume | lungs, role.Sign}, {school | pupil, role.School}, {outside, role.Outside}, {aside, role.Away}, {hearer, role.Hearer}, {opening, role.Opening}, {opens, role.Open}, {shuts, role.Shut}, {outdoors, role.Outdoors}, {trade, role.Trade}, {uni, role.Uni}, {watcher, role.Watcher}, {fume | glue | latex | rubber, role.Fume}, {thing, role.Thing},
	}
	l.who = make(role.Line, len(l.tokens))
	for _, s := range l.spans {
		if s.class&(beside|supervise|alone) != 0 && !l.is(s.to-1, "with", "here", "there", "around", "present", "together", "and") {
			l.who[s.from].Is |= role.Stay
		}
	}
	for i, t := range l.tokens {
		w := &l.who[i]
		w.Text, w.Clause, w.Sentence = t.text, t.clause, t.sentence
		for _, k := range kinds {
			if t.class&k.of != 0 {
				w.Is |= k.is
			}
		}
		switch {
		case t.mark:
			w.Is |= role.Mark
		case t.isNum:
			w.Is |= role.Number
			w.Num = t.num
		case strings.HasSuffix(t.text, "s") && (t.short || strings.HasPrefix(l.text[t.to:], "'") || strings.HasPrefix(l.text[t.to:], "’")): // the twins' dad
			w.Is |= role.Owner
		}
		if t.short {
			w.Is |= role.Short
		}
	}
	return l.who
}

// words returns the text of the clauses that tokens from..to stand in.
func (l *line) words(from, to int) string {
	if len(l.tokens) == 0 {
		return ""
	}
	a, b := max(from, 0), min(to, len(l.tokens)-1)
	for a > 0 && l.tokens[a-1].clause == l.tokens[a].clause && a > from-8 {
		a--
	}
	for b+1 < len(l.tokens) && l.tokens[b+1].clause == l.tokens[b].clause && b < to+6 {
		b++
	}
	return strings.Trim(l.text[l.tokens[a].from:l.tokens[b].to], " ,.;:!?-")
}

// doubted reports whether what stands at token i is said in doubt or supposed.
func (l *line) doubted(i int) bool {
	return slices.ContainsFunc(l.spans, func(s span) bool {
		if l.is(s.from, "if") && s.to == s.from+1 && l.at(s.from).clause != l.at(i).clause && !l.is(0, "if") {
			return false // she bruises if you look at her, but there's no allergy
		}
		return s.class&(unsure|iffy) != 0 && s.from < i && l.at(s.from).sentence == l.at(i).sentence && i-s.from < 16 &&
			!l.is(s.from-1, "as", "see", "hear", "even")
	})
}

// question reports whether the sentence of token i ends with a question mark, or
// its clause begins like one: is latex safe.
func (l *line) question(i int) bool {
	if l.is(l.start(i), "is", "are", "does") {
		return true
	}
	for ; i < len(l.tokens); i++ {
		if t := l.tokens[i]; t.mark && strings.ContainsAny(t.text, ".;!?") {
			return t.text == "?"
		}
	}
	return false
}

// facts reads the whole line.
func (l *line) facts() []Fact {
	var out []Fact
	age := ages{l}.age()
	if age != nil && !age.Value && !age.Doubt && l.partly(age) {
		age.Value, age.Doubt, age.Faint = true, true, true
	}
	adult := age != nil && !age.Value || ages{l}.speaksAsAdult()
	skin := bodies{l}.skin()
	lungs := bodies{l}.lungs()
	for _, f := range []*Fact{age, skin[0], skin[1], lungs, (rooms{l}).company(age, adult), (rooms{l}).air()} {
		if f == nil {
			continue
		}
		out = append(out, l.takenBack(*f))
	}
	if lungs == nil && (age != nil && age.Value && !age.Doubt || l.hasWord("herself", "himself") || age == nil && !adult && role.OwnParent(l.roles())) {
		for _, f := range out { // a child alone
			if f.Path == Supervised && !f.Value && !f.Doubt {
				out = append(out, Fact{Path: SolventOK, Text: f.Text})
				break
			}
		}
	}
	return l.nets(out)
}

// takenBack marks a careless answer in a line that takes something back.
func (l *line) takenBack(f Fact) Fact {
	if f.Value != Careful(f.Path) && !f.Doubt && l.has(undo) && !(l.asked == f.Path && l.hasWord("all", "everyone", "everybody") && l.hasWord("clear", "cleared")) {
		f.TakesBack = true
	}
	return f
}

// no reports whether the line begins with a no, whatever it is that it denies.
func (l *line) no() bool { return l.is(0, "no", "nope", "nah", "nein", "non", "n") }

// saysNo reports whether the line begins with a no to the open question, and not
// with what somebody wants none of: no, we don't; no glue please.
func (l *line) saysNo() bool {
	return heard.No(l.at(0).text, l.at(1).text, l.at(1).mark || len(l.tokens) == 1) && !role.PutsBack(l.roles()) || l.is(0, "no") && l.at(1).class&(allergy|reaction|weak|fine|person|not) != 0 ||
		l.is(0, "no") && l.asked == Minor && l.at(1).class&(kin|young|pupil|student|grown) != 0
}

// saysYes reports whether the line begins with a yes to the open question, and not
// with one to go on by: yes, let's build it.
func (l *line) saysYes() bool {
	return l.is(0, "yes", "yeah", "yep", "yea", "yup", "ja", "oui", "si", "y") && !role.GoesOn(l.roles())
}
