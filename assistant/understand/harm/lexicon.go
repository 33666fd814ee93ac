package harm

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/understand/harm/heard"
	"mallow/knowledge"
)

// longest is how many characters of a line are read.
const longest = 2000

// class is what a word is a sign of, one bit each.
type class uint64

const (
	allergy class = 1 << iota
	reaction
	weak
	latex
	rubber
	fume
	glue
	other
	lungs
	baby
	young
	kin
	pupil
	student
	school
	college
	grown
	helper
	person
	beside
	supervise
	away
	alone
	air
	noair
	not
	except
	unsure
	iffy
	once
	fine
	undo
	bear
	cant
	avoid
	thing
	unit
	innocent
	marks
	body
	figure
	calendar
	owns
	stage
	bird
	machine
	partly
	wavers
	aside
	broken
	work
	idle
	gear
	outside
	hearer
	taste
	opening
	opens
	shuts
	outdoors
	trade
	uni
	elder
	watcher
)

// classes are the values of a word of harm.
func classes() map[string]class {
	return map[string]class{
		"allergy": allergy, "reaction": reaction, "weak": weak, "latex": latex, "rubber": rubber, "fume": fume, "glue": glue,
		"other": other, "lungs": lungs, "baby": baby, "young": young, "kin": kin, "pupil": pupil, "student": student,
		"school": school, "college": college, "grown": grown, "helper": helper, "person": person, "beside": beside,
		"supervise": supervise, "away": away, "alone": alone, "air": air, "noair": noair, "not": not, "except": except,
		"unsure": unsure, "if": iffy, "once": once, "fine": fine, "undo": undo, "bear": bear, "cant": cant, "avoid": avoid,
		"thing": thing, "unit": unit, "innocent": innocent, "marks": marks, "body": body,
		"figure": figure, "calendar": calendar, "owns": owns, "stage": stage, "bird": bird, "machine": machine, "partly": partly, "wavers": wavers,
		"aside": aside, "broken": broken, "work": work, "idle": idle, "gear": gear, "outside": outside, "hearer": hearer, "taste": taste, "opening": opening, "opens": opens, "shuts": shuts, "outdoors": outdoors,
		"trade": trade, "uni": uni, "elder": elder, "watcher": watcher,
	}
}

// Slot is the kind of word, in the catalogue's list, that this package reads.
const Slot = "hazard"

// phrase is a way of saying something, in words as split returns them.
type phrase struct {
	words []string
	class class
}

// lexicon is the words of harm, ready for look-ups.
type lexicon struct {
	phrases  map[string][]phrase // by first word, longer ones first
	heard    map[string]class    // words of phrases of harm, articles and the like aside, and what they are signs of
	numbers  map[string]float64  // words for ages, in languages other than English
	known    map[string]bool     // words never taken for a misspelling of another
	variants map[string]string   // spellings of dialect and haste: the word that is meant
	spelling heard.Words         // words of harm that may be misspelt
}

func newLexicon(cat *knowledge.Catalogue) (*lexicon, error) {
	l := &lexicon{phrases: map[string][]phrase{}, heard: map[string]class{}, numbers: map[string]float64{}, known: make(map[string]bool, 4*len(cat.Words)), variants: map[string]string{}}
	kinds := classes()
	for _, w := range cat.Words {
		c, ok := kinds[w.Value]
		number, err := strconv.ParseFloat(w.Value, 64)
		if w.Slot == Slot && err == nil {
			for _, say := range w.Say {
				l.numbers[say], l.known[say] = number, true
			}
			continue
		}
		if w.Slot == Slot && !ok {
			return nil, fmt.Errorf("%s:%d: word %s: %q is not a sign of harm", w.Origin.File, w.Origin.Line, w.ID, w.Value)
		}
		for _, say := range w.Say {
			if w.Slot == "spelling" {
				l.variants[say] = w.Value
				continue
			}
			if w.Slot != Slot {
				for word := range heard.Split(say) {
					if !l.known[word] {
						l.known[word] = true
					}
				}
				continue
			}
			words := split(say)
			for _, x := range words {
				l.known[x.text] = true
			}
			if len(words) > 0 {
				l.add(words, c)
			}
		}
	}
	for first := range l.phrases {
		slices.SortStableFunc(l.phrases[first], func(a, b phrase) int { return len(b.words) - len(a.words) })
	}
	l.spelling.Near("grade", "class", "grader", "graders", "standard", "years")
	l.spelling.Sort()
	return l, nil
}

// signs are the classes whose words are worth finding behind a misspelling.
const signs = allergy | reaction | latex | rubber | fume | lungs | young | kin | pupil | student | school | grown | helper | supervise | noair | air

func (l *lexicon) add(words []token, c class) {
	p := phrase{class: c}
	for _, w := range words {
		p.words = append(p.words, w.text)
		if c&(not|thing|unit|other|innocent|unsure|iffy|person|except|marks|body|figure|calendar|owns|stage|machine|partly|wavers|aside|broken|work|idle|gear|outside|hearer|taste|opening|opens|shuts|outdoors|trade) == 0 {
			l.heard[w.text] |= c
		}
	}
	if joined := strings.Join(p.words, ""); len(p.words) == 2 && c&signs != 0 && len(joined) > 6 && !l.known[joined] {
		l.phrases[joined] = append(l.phrases[joined], phrase{words: []string{joined}, class: c}) // highschool
		l.known[joined] = true
		l.heard[joined] |= c
	}
	first := p.words[0]
	l.phrases[first] = append(l.phrases[first], p)
	if len(words) != 1 {
		return
	}
	if c&signs != 0 {
		l.spelling.Short(first)
		l.spelling.Add(first, 5)
	} else if c&weak != 0 { // headache, and not worse
		l.spelling.Add(first, 8)
	}
}

// token is a word, a number or a mark of a line.
type token struct {
	text     string // in lower case, without apostrophes
	from, to int    // bytes of the line
	num      float64
	isNum    bool
	ordinal  bool // 6th
	short    bool // written with an apostrophe: we're
	mark     bool
	class    class
	sentence int
	clause   int
}

// split cuts text into tokens.
func split(text string) []token {
	var out []token
	for _, w := range heard.Cut(text) {
		out = append(out, token{text: w.Text, from: w.From, to: w.To, num: w.Num, isNum: w.IsNum, ordinal: w.Ordinal, short: w.Short, mark: w.Mark})
	}
	return out
}

// line splits a text and finds the words of harm in it.
func (l *lexicon) line(text, asked string) *line {
	n := 0
	for i := range text {
		if n++; n > longest {
			text = text[:i]
			break
		}
	}
	out := &line{text: text, asked: asked, tokens: split(text)}
	fixed := map[string]string{}
	words := make([]string, len(out.tokens))
	for i, t := range out.tokens {
		words[i] = cmp.Or(l.variants[t.text], t.text)
		if words[i] != t.text || t.mark || t.isNum || l.known[t.text] {
			continue
		}
		if _, ok := fixed[t.text]; !ok {
			if fixed[t.text] = l.spelling.Spell(t.text); t.short && strings.HasSuffix(t.text, "s") && !strings.HasSuffix(fixed[t.text], "s") && fixed[t.text]+"s" != t.text {
				fixed[t.text] = t.text // half my stuff's in boxes
			}
		}
		words[i] = fixed[t.text]
	}
	for i := range out.tokens {
		t := &out.tokens[i]
		t.text = words[i]
		if n, ok := l.numbers[t.text]; ok {
			t.num, t.isNum = n, true
		} else if !t.mark && !t.isNum && !l.known[t.text] {
			t.num, t.isNum = heard.NearNumber(t.text)
		}
	}
	l.match(out)
	out.clauses()
	return out
}

// match gives each token the classes of the phrases that begin at it, an
// innocent phrase first: it takes its words out.
func (l *lexicon) match(out *line) {
	at := func(i int, p phrase) bool {
		if i+len(p.words) > len(out.tokens) {
			return false
		}
		for k, w := range p.words {
			if out.tokens[i+k].text != w {
				return false
			}
		}
		return true
	}
	// Nan's watching is nan, nan's yarn is yarn.
	for i := range out.tokens {
		t, next := &out.tokens[i], ""
		if i+1 < len(out.tokens) {
			next = out.tokens[i+1].text
		}
		stem := strings.TrimSuffix(t.text, "s")
		if t.short && stem != t.text && (!l.known[t.text] && l.known[stem] && (l.heard[next]&(beside|away|supervise) != 0 || next == "in" || next == "not" || next == "a") ||
			i+1 < len(out.tokens) && out.tokens[i+1].isNum && l.isThing(stem)) { // this yarn's nine years old
			t.text = stem
		}
	}
	innocentTo := 0
	var harmless []span
	for i := range out.tokens {
		for _, p := range l.phrases[out.tokens[i].text] {
			if p.class&innocent != 0 && at(i, p) {
				harmless = append(harmless, span{i, i + len(p.words), innocent})
			}
		}
	}
	within := func(i, to int) bool { // I'm expecting a parcel
		return slices.ContainsFunc(harmless, func(s span) bool { return i < s.from && s.from < to && to <= s.to && to-i <= s.to-s.from })
	}
	for i := range out.tokens {
		for _, p := range l.phrases[out.tokens[i].text] {
			if p.class&innocent != 0 && at(i, p) {
				innocentTo = max(innocentTo, i+len(p.words))
			}
		}
		longer := 0
		for _, p := range l.phrases[out.tokens[i].text] {
			if p.class&innocent != 0 || !at(i, p) || len(p.words) < longer {
				continue
			}
			if within(i, i+len(p.words)) && p.class&(allergy|latex) == 0 {
				continue
			}
			if i < innocentTo && p.class&(allergy|latex|lungs|thing|unit) == 0 && len(p.words) < 3 {
				continue
			}
			if p.class&lungs != 0 && slices.ContainsFunc(harmless, func(s span) bool { // a pregnant pause
				return s.from <= i && i+len(p.words) <= s.to && len(p.words) < s.to-s.from
			}) {
				continue
			}
			longer = len(p.words)
			out.tokens[i].class |= p.class
			out.spans = append(out.spans, span{i, i + len(p.words), p.class})
		}
	}
}

// isThing reports whether w alone is a word for a thing.
func (l *lexicon) isThing(w string) bool {
	return slices.ContainsFunc(l.phrases[w], func(p phrase) bool { return len(p.words) == 1 && p.class == thing })
}
