package understand

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	edlib "github.com/hbollon/go-edlib"

	"mallow/assistant/understand/harm"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/words"
	"mallow/rules/facts"
)

// sense is one meaning of a phrase.
type sense struct {
	slot  string
	value string
	fact  any     // the value of a fact slot, typed
	deny  any     // what it means when denied, or nil
	num   float64 // the value of a number, degree or move
	unit  string  // a move's
	topic []Topic
	path  string // of a fact, where it isn't the slot
	id    string // of the word
	say   string // how it is said back
}

// node is a state of the phrase matcher.
type node struct {
	next   map[string]*node
	senses []*sense
}

// lexicon is the word list, ready for look-ups.
type lexicon struct {
	root    node
	vocab   map[string]bool     // every word of every phrase
	long    []spelling          // the words long enough to be misspelt, sorted
	numbers map[string]float64  // words for numbers
	never   map[string][]string // words that must not be taken for one another
	ids     map[string]string   // ids of parts, in lower case
	facts   map[string]fact
	grades  []grade // of softness, hardest first
}

// spelling is a word with what tells quickly that it is not near another: how
// many letters it has, which, one bit each, and the first two.
type spelling struct {
	word    string
	n       int
	letters uint32
	head    [2]rune
}

func spellingOf(w string) spelling {
	s := spelling{word: w}
	for _, r := range w {
		if s.n < 2 {
			s.head[s.n] = r
		}
		s.n++
		s.letters |= 1 << (uint32(r) % 32)
	}
	return s
}

// near returns the edit distance between two words, or more than most. Every
// edit takes away or adds at most one letter each.
func (s spelling) near(t spelling, most int) int {
	if s.n-t.n > most || t.n-s.n > most ||
		bits.OnesCount32(s.letters&^t.letters) > most || bits.OnesCount32(t.letters&^s.letters) > most {
		return most + 1
	}
	return edlib.OSADamerauLevenshteinDistance(s.word, t.word)
}

// grade is a word for a softness, and its notches.
type grade struct {
	name    string
	notches float64
}

// fact is a fact's type and, for a choice, its words.
type fact struct {
	kind  reflect.Kind
	oneOf []string
}

// factTypes lists the facts that people can settle, by path.
func factTypes() map[string]fact {
	out := map[string]fact{"instrument.id": {kind: reflect.String}}
	groups := reflect.TypeFor[facts.Facts]()
	for i := range groups.NumField() {
		group := groups.Field(i)
		for j := range group.Type.NumField() {
			f := group.Type.Field(j)
			typ := fact{kind: f.Type.Kind()}
			if words := f.Tag.Get("oneof"); words != "" {
				typ.oneOf = strings.Split(words, "|")
			}
			out[group.Tag.Get("expr")+"."+f.Tag.Get("expr")] = typ
		}
	}
	return out
}

// parse reads value as the fact's type.
func (f fact) parse(value string) (any, error) {
	switch f.kind {
	case reflect.Bool:
		return strconv.ParseBool(value)
	case reflect.Float64:
		return strconv.ParseFloat(value, 64)
	}
	if len(f.oneOf) > 0 && !slices.Contains(f.oneOf, value) {
		return nil, &fault.Error{What: fmt.Sprintf("%q is not a choice", value), Hint: words.Hint(value, f.oneOf)}
	}
	return value, nil
}

// slots are the kinds of word beside answers to facts.
var slots = []string{
	"move", "wish", "topic", "act", "reply", "alone", "age", "kind", "material", "weight", "form", "holding", "unit", "number",
	"fraction", "role", "bound", "degree", "after", "not", "too", "enough", "more", "same", "join", "mend", "span",
	"note", "asked", "harm", "filler", "paint", "plain", "never",
}

// newLexicon compiles the catalogue's words, terms and names of parts.
func newLexicon(cat *knowledge.Catalogue) (*lexicon, error) {
	l := &lexicon{
		root:    node{next: map[string]*node{}},
		vocab:   map[string]bool{},
		numbers: map[string]float64{},
		never:   map[string][]string{},
		ids:     map[string]string{},
		facts:   factTypes(),
	}
	if err := l.addGrades(cat); err != nil {
		return nil, err
	}
	for _, w := range cat.Words {
		if w.Slot != "number" {
			continue
		}
		v, err := strconv.ParseFloat(w.Value, 64)
		if err != nil {
			return nil, wordError(w, err)
		}
		for _, say := range w.Say {
			l.numbers[strings.ReplaceAll(say, " ", "")] = v
		}
	}
	for _, w := range cat.Words {
		if w.Slot == harm.Slot {
			continue
		}
		s, err := l.sense(w)
		if err != nil {
			return nil, wordError(w, err)
		}
		for _, say := range w.Say {
			l.add(say, s)
		}
		if w.Slot == "never" {
			for _, a := range w.Say {
				for _, b := range w.Say {
					if a != b {
						l.never[a] = append(l.never[a], b)
					}
				}
			}
		}
	}
	for _, q := range cat.Questions { // what a question offers answers it
		if f, ok := l.facts[q.ID]; ok && f.kind == reflect.String {
			for _, c := range q.Choices {
				v, err := f.parse(c.Value)
				if err != nil {
					return nil, fmt.Errorf("question %s: %w", q.ID, err)
				}
				l.add(c.Say, &sense{slot: "asked", value: q.ID, path: q.ID, fact: v, id: q.ID})
			}
		}
	}
	for _, t := range cat.Terms {
		s := &sense{slot: "term", value: t.ID, topic: []Topic{{Kind: "term", ID: t.ID}}}
		for _, say := range append([]string{strings.ReplaceAll(t.ID, "-", " ")}, t.Also...) {
			l.add(say, s)
		}
	}
	for w := range l.vocab {
		if x := spellingOf(w); x.n >= 3 {
			l.long = append(l.long, x)
		}
	}
	slices.SortFunc(l.long, func(a, b spelling) int { return strings.Compare(a.word, b.word) })
	for _, id := range partIDs(cat) {
		l.ids[strings.ToLower(id)] = id
	}
	return l, nil
}

func wordError(w knowledge.Word, err error) error {
	return fmt.Errorf("%s:%d: word %s: %w", w.Origin.File, w.Origin.Line, w.ID, err)
}

// partIDs lists the ids that can't be mistaken for plain words.
func partIDs(cat *knowledge.Catalogue) []string {
	var out []string
	add := func(id string) {
		if strings.ContainsAny(id, "-0123456789") {
			out = append(out, id)
		}
	}
	for _, p := range cat.Cores {
		add(p.ID)
	}
	for _, p := range cat.Tubing {
		add(p.ID)
	}
	for _, p := range cat.Yarns {
		add(p.ID)
	}
	for _, p := range cat.Shafts {
		add(p.ID)
	}
	for _, p := range cat.Adhesives {
		add(p.ID)
	}
	return out
}

// idAt returns the part id written at text[i], up to a space or comma.
func (l *lexicon) idAt(text string, i int) (id string, n int) {
	if i > 0 && text[i-1] != ' ' && text[i-1] != ',' {
		return "", 0
	}
	end := strings.IndexAny(text[i:], " ,;?!\"'")
	if end < 0 {
		end = len(text) - i
	}
	if end > 60 {
		return "", 0
	}
	for _, s := range []string{text[i : i+end], strings.TrimRight(text[i:i+end], ".:)")} {
		if id, ok := l.ids[strings.ToLower(s)]; ok {
			return id, len(s)
		}
	}
	return "", 0
}

// sense compiles one word of the list.
func (l *lexicon) sense(w knowledge.Word) (*sense, error) {
	s := &sense{slot: w.Slot, value: w.Value, id: w.ID}
	if len(w.Say) > 0 {
		s.say = w.Say[0]
	}
	var err error
	if f, ok := l.facts[w.Slot]; ok {
		if s.fact, err = l.value(w.Slot, f, w.Value); err == nil && w.Not != "" {
			s.deny, err = l.value(w.Slot, f, w.Not)
		}
		return s, err
	}
	if !slices.Contains(slots, w.Slot) {
		known := slices.Clone(slots)
		for path := range l.facts {
			known = append(known, path)
		}
		hint, _ := words.Word(w.Slot, known)
		return nil, fmt.Errorf("slot %q is neither a fact nor a kind of word; did you mean %q?", w.Slot, hint)
	}
	switch w.Slot {
	case "number", "fraction", "degree", "after", "more":
		s.num, err = strconv.ParseFloat(w.Value, 64)
	case "asked":
		path := strings.Fields(w.Value)
		if len(path) < 2 {
			return nil, fmt.Errorf("the question and the value, not %q", w.Value)
		}
		s.value, s.path = path[0], path[len(path)-2]
		f, ok := l.facts[s.path]
		if !ok {
			return nil, fmt.Errorf("%q is not a fact", s.path)
		}
		s.fact, err = f.parse(path[len(path)-1])
	case "move", "wish":
		err = l.moveSense(s)
	case "topic":
		s.topic, err = l.topicSense(w.Value)
	}
	return s, err
}

// addGrades takes the grades of softness from the question that offers them.
func (l *lexicon) addGrades(cat *knowledge.Catalogue) error {
	for _, q := range cat.Questions {
		if q.ID != "want.softness" {
			continue
		}
		for _, c := range q.Choices {
			v, err := strconv.ParseFloat(c.Value, 64)
			if err != nil {
				return fmt.Errorf("question %s: choice %q: %w", q.ID, c.Say, err)
			}
			l.grades = append(l.grades, grade{c.Say, v})
		}
	}
	slices.SortFunc(l.grades, func(a, b grade) int { return cmp.Compare(a.notches, b.notches) })
	return nil
}

// value reads a word's value for a fact; a softness may be a grade.
func (l *lexicon) value(path string, f fact, value string) (any, error) {
	if path == "want.softness" {
		for _, g := range l.grades {
			if g.name == value {
				return g.notches, nil
			}
		}
	}
	return f.parse(value)
}

// graded returns the softness of a grade's word, said with a degree: "very"
// is a grade on, "a bit" a grade back towards medium.
func (l *lexicon) graded(notches, degree float64) float64 {
	i := slices.IndexFunc(l.grades, func(g grade) bool { return g.notches == notches })
	if i < 0 || notches == 0 || len(l.grades) < 2 {
		return notches
	}
	at := float64(i) + 2*(degree-1)*float64(sign(notches))
	lo := min(max(int(math.Floor(at)), 0), len(l.grades)-2)
	v := l.grades[lo].notches + (at-float64(lo))*(l.grades[lo+1].notches-l.grades[lo].notches)
	if v*notches <= 0 { // never across medium
		v = notches / 2
	}
	return math.Round(10*v) / 10
}

// beyond returns the grade next to one on the softer side, or, when by is
// below zero, the harder.
func (l *lexicon) beyond(notches, by float64) float64 {
	i := slices.IndexFunc(l.grades, func(g grade) bool { return g.notches == notches })
	if i < 0 {
		return notches
	}
	return l.grades[min(max(i+sign(by), 0), len(l.grades)-1)].notches
}

// middle returns the softness halfway between two grades, counted in grades.
func (l *lexicon) middle(a, b float64) float64 {
	i := slices.IndexFunc(l.grades, func(g grade) bool { return g.notches == a })
	j := slices.IndexFunc(l.grades, func(g grade) bool { return g.notches == b })
	if i < 0 || j < 0 {
		return (a + b) / 2
	}
	lo, hi := (i+j)/2, (i+j+1)/2
	return (l.grades[lo].notches + l.grades[hi].notches) / 2
}

// moveSense reads a value such as "want.mass_g -" or "want.softness + 2".
func (l *lexicon) moveSense(s *sense) error {
	f := strings.Fields(s.value)
	if len(f) < 2 || f[1] != "+" && f[1] != "-" {
		return fmt.Errorf("a move is a fact, + or -, and how much, not %q", s.value)
	}
	if typ, ok := l.facts[f[0]]; !ok || typ.kind == reflect.Bool {
		return fmt.Errorf("%q is not a fact that can be moved", f[0])
	}
	s.value, s.num = f[0], 1
	if len(f) > 2 {
		var err error
		if s.num, err = strconv.ParseFloat(f[2], 64); err != nil {
			return err
		}
	}
	if f[1] == "-" {
		s.num = -s.num
	}
	if s.value == "want.softness" {
		s.unit = "notches"
	}
	return nil
}

// topicSense reads a value such as "layer 2", "sheet" or a list of facts.
func (l *lexicon) topicSense(value string) ([]Topic, error) {
	f := strings.Fields(value)
	if len(f) == 0 {
		return nil, fmt.Errorf("a topic needs a value")
	}
	switch f[0] {
	case "layer", "choice":
		if len(f) < 2 {
			return nil, fmt.Errorf("which %s?", f[0])
		}
		n, err := strconv.Atoi(f[1])
		return []Topic{{Kind: f[0], N: n}}, err
	case "question", "sheet", "shopping", "cuts", "stack", "answers", "drawing", "alternatives":
		return []Topic{{Kind: f[0]}}, nil
	}
	var out []Topic
	for _, path := range f {
		if _, ok := l.facts[path]; !ok {
			return nil, fmt.Errorf("%q is neither a topic nor a fact", path)
		}
		out = append(out, Topic{Kind: "fact", ID: path})
	}
	return out, nil
}

// add enters a phrase. Its words join the vocabulary.
func (l *lexicon) add(say string, s *sense) {
	clean, _ := tidy(say)
	at := &l.root
	for i := 0; i < len(clean); {
		if clean[i] == ' ' {
			i++
			continue
		}
		t := lex(clean, i)
		i = t.to
		if t.kind == word {
			l.vocab[t.text] = true
			if v, ok := l.numbers[t.text]; ok {
				t.text = formatNumber(v)
			}
		}
		if t.is("-") || t.is(".") {
			continue
		}
		if at.next == nil {
			at.next = map[string]*node{}
		}
		n := at.next[t.text]
		if n == nil {
			n = &node{}
			at.next[t.text] = n
		}
		at = n
	}
	if at != &l.root {
		at.senses = append(at.senses, s)
	}
}

// phrases calls found with every phrase at tokens[i], shorter ones first: its
// senses and the tokens it takes. Hyphens inside a phrase count for nothing.
func (l *lexicon) phrases(tokens []token, i int, found func(senses []*sense, n int)) {
	at := &l.root
	for j := i; j < len(tokens); j++ {
		if j > i && tokens[j].is("-") {
			continue
		}
		if at = at.next[tokens[j].text]; at == nil {
			return
		}
		if at.senses != nil {
			found(at.senses, j+1-i)
		}
	}
}

// longestPhrase returns the longest phrase at tokens[i].
func (l *lexicon) longestPhrase(tokens []token, i int) (senses []*sense, n int) {
	l.phrases(tokens, i, func(s []*sense, m int) { senses, n = s, m })
	return senses, n
}

// spell returns the token for a written word: itself when it is known, else
// the one known word it is surely a misspelling of, else itself.
//
// The first letter must be right, or exchanged with the second, or the one
// slip of a long word. Up to three letters nothing is corrected, up to seven
// one slip is allowed, then two. When two known words are equally near nothing
// is corrected, which is what keeps hard from hand and wool from wood.
func (l *lexicon) spell(w string) token {
	if t, ok := l.known(w); ok {
		return t
	}
	said := spellingOf(w)
	if said.n < 4 || said.n > 24 {
		return token{text: w}
	}
	most := 1
	if said.n > 7 {
		most = 2
	}
	best, slips, tied := "", most+1, false
	for _, v := range l.long {
		allowed := most
		if v.head[0] != said.head[0] && (v.head[1] != said.head[0] || v.head[0] != said.head[1]) {
			if allowed = 1; said.n <= 7 {
				continue
			}
		}
		switch d := said.near(v, allowed); {
		case d > allowed:
		case d < slips:
			best, slips, tied = v.word, d, false
		case d == slips && v.word != best:
			tied = tied || !l.synonyms(best, v.word)
		}
	}
	if best == "" || tied || utf8.RuneCountInString(best) < 4 && said.n > 4 {
		return token{text: w}
	}
	for _, other := range l.never[best] {
		if said.near(spellingOf(other), slips) <= slips {
			return token{text: w}
		}
	}
	t, _ := l.known(best)
	t.slips = slips
	return t
}

// known returns the token of a word of the vocabulary, also in the plural.
func (l *lexicon) known(w string) (token, bool) {
	if v, ok := l.numbers[w]; ok {
		return token{kind: number, text: formatNumber(v), value: v, spelt: true, whole: v == float64(int(v))}, true
	}
	if l.vocab[w] {
		return token{text: w}, true
	}
	if s, ok := strings.CutSuffix(w, "s"); ok && l.vocab[s] && len(s) > 2 {
		return token{text: s}, true
	}
	return token{}, false
}

// synonyms reports whether two words by themselves mean the same.
func (l *lexicon) synonyms(a, b string) bool {
	x, y := l.root.next[a], l.root.next[b]
	return x != nil && y != nil && len(x.senses) > 0 && slices.Equal(x.senses, y.senses)
}

// formatNumber writes a number as people do.
func formatNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
