// Package lexis cuts a text into words and numbers, corrects their spelling and
// looks up what each phrase can mean. It knows the catalogue's word list; it
// never decides which of the meanings is meant.
package lexis

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/understand/harm"
	"mallow/knowledge"
	"mallow/knowledge/words"
	"mallow/rules/facts"
)

// Sense is one meaning of a phrase.
type Sense struct {
	Slot  string
	Value string
	Fact  any     // the value of a fact slot, typed
	Deny  any     // what it means when denied, or nil
	Bound string  // most where the fact's value is put as the most there is
	Num   float64 // the value of a number, degree or move
	Unit  string  // a move's
	Topic []Topic
	Path  string // of a fact, where it isn't the slot
	ID    string // of the word
	Say   string // how it is said back
}

// Topic is something a text is about.
type Topic struct {
	// Kind is fact, layer, choice, part, term, question, sheet, shopping,
	// cuts, stack, answers, drawing, alternatives, a thing people ask about
	// such as cost or time or, for words that nothing is known by, text.
	Kind string `json:"kind"`
	// ID is a fact path, a part's kind, or a glossary term's id.
	ID string `json:"id,omitempty"`
	// N is a layer, from the core out, -1 for the outermost and 0 for
	// whichever is at hand; or a choice, 1 for the proposed head.
	N    int    `json:"n,omitempty"`
	Text string `json:"text,omitempty"`
}

// Material is what a part is made of, as a word of slot material says it.
type Material struct {
	ID   string // of the catalogue's material or family that it is or comes near; "" if it may be any
	Kind string // of part that it makes likely
	Made string // in plain words, where the catalogue has none of it
}

// Material returns what a sense of slot material says.
func (s *Sense) Material() Material {
	f := append(strings.SplitN(s.Value, " ", 3), "", "")
	if f[0] == "any" {
		f[0] = ""
	}
	return Material{f[0], f[1], f[2]}
}

// Lexicon is the word list, ready for look-ups.
type Lexicon struct {
	root     node
	patterns map[string][]*pattern // by the words they begin with
	vocab    map[string]bool       // every word of every phrase: whether a misspelt one may be meant for it
	long     []initial             // the words long enough to be misspelt, by their first letter, sorted
	numbers  map[string]float64    // words for numbers
	never    map[string][]string   // words that must not be taken for one another
	made     bool                  // from then on nothing is written to it
	spelt    map[string]string     // spellings of dialect and haste: the word that is meant
	ids      map[string]string     // ids of parts, in lower case
	facts    map[string]fact
	grades   []Grade // of softness, hardest first
}

// fact is a fact's type and, for a choice, its words.
type fact struct {
	kind  reflect.Kind
	oneOf []string
}

// factTypes lists what people can settle, by path: the facts of rules, and what
// orders and classes are made of.
func factTypes() map[string]fact {
	out := map[string]fact{
		"instrument.id":      {kind: reflect.String},
		"instrument.octaves": {kind: reflect.Float64},
		"player.tension_n":   {kind: reflect.Float64},
		"want.heads":         {kind: reflect.Float64},
		"want.pairs":         {kind: reflect.Float64},
		"want.grades":        {kind: reflect.Float64},
		"want.total_budget":  {kind: reflect.Float64},
		"class.size":         {kind: reflect.Float64},
	}
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
		return nil, fmt.Errorf("%q is not a choice (%s)", value, words.Hint(value, f.oneOf))
	}
	return value, nil
}

// slots are the kinds of word beside answers to facts.
var slots = []string{
	"count", "share", "weak", "bad", "sour", "keep", "withdraw", "social", "about", "whence", "move", "wish", "topic", "act", "reply", "alone", "age", "kind", "material", "weight", "form", "holding", "held", "purpose", "bored", "unit", "number",
	"fraction", "role", "bound", "edge", "past", "degree", "after", "not", "too", "enough", "more", "same", "join", "mend", "span",
	"note", "asked", "harm", "filler", "paint", "plain", "never",
	"lead", "tail", "names", "stroke", "tune", "quality", "shift", "shifted", "extra", "thing", "slip", "bare", "compose",
}

// New compiles the catalogue's words, terms and names of parts.
func New(cat *knowledge.Catalogue) (*Lexicon, error) {
	l := &Lexicon{
		patterns: map[string][]*pattern{},
		vocab:    map[string]bool{},
		numbers:  map[string]float64{},
		never:    map[string][]string{},
		spelt:    map[string]string{},
		ids:      map[string]string{},
		facts:    factTypes(),
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
		if w.Slot == "spelling" {
			for _, say := range w.Say {
				l.spelt[say] = w.Value
			}
			continue
		}
		s, err := l.sense(w)
		if err != nil {
			return nil, wordError(w, err)
		}
		for _, say := range w.Say {
			if IsPattern(say) {
				l.addPattern(say, s)
			} else {
				l.add(say, s)
			}
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
				l.add(c.Say, &Sense{Slot: "asked", Value: q.ID, Path: q.ID, Fact: v, ID: q.ID})
			}
		}
	}
	for _, t := range cat.Terms {
		s := &Sense{Slot: "term", Value: t.ID, Topic: []Topic{{Kind: "term", ID: t.ID}}}
		for _, say := range append([]string{strings.ReplaceAll(t.ID, "-", " ")}, t.Also...) {
			l.add(say, s)
		}
	}
	var long []spelling
	for w, meant := range l.vocab {
		if x := spellingOf(w); meant && x.n >= 3 {
			long = append(long, x)
		}
	}
	slices.SortFunc(long, func(a, b spelling) int { return strings.Compare(a.word, b.word) })
	for _, x := range long {
		if n := len(l.long); n == 0 || l.long[n-1].letter != x.head[0] {
			l.long = append(l.long, initial{letter: x.head[0]})
		}
		last := &l.long[len(l.long)-1]
		last.words = append(last.words, x)
	}
	for _, id := range partIDs(cat) {
		l.ids[strings.ToLower(id)] = id
	}
	l.made = true
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
func (l *Lexicon) idAt(text string, i int) (id string, n int) {
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
func (l *Lexicon) sense(w knowledge.Word) (*Sense, error) {
	s := &Sense{Slot: w.Slot, Value: w.Value, ID: w.ID}
	if len(w.Say) > 0 {
		s.Say = w.Say[0]
	}
	var err error
	if f, ok := l.facts[w.Slot]; ok {
		if value, most := strings.CutSuffix(w.Value, " at most"); most {
			s.Value, s.Bound = value, "most"
		}
		if s.Fact, err = l.value(w.Slot, f, s.Value); err == nil && w.Not != "" {
			s.Deny, err = l.value(w.Slot, f, w.Not)
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
		s.Num, err = strconv.ParseFloat(w.Value, 64)
	case "asked":
		// the question, the fact where it is another, and the value
		question, value, found := strings.Cut(w.Value, " ")
		s.Value, s.Path = question, question
		if path, rest, more := strings.Cut(value, " "); more && strings.Contains(path, ".") {
			s.Path, value = path, rest
		}
		f, ok := l.facts[s.Path]
		if !found || !ok {
			return nil, fmt.Errorf("the question and the value, not %q", w.Value)
		}
		s.Fact, err = l.value(s.Path, f, value)
	case "move", "wish":
		err = l.moveSense(s)
	case "topic":
		s.Topic, err = l.topicSense(w.Value)
	}
	return s, err
}

// value reads a word's value for a fact; a softness may be a grade.
func (l *Lexicon) value(path string, f fact, value string) (any, error) {
	if path == "want.softness" {
		for _, g := range l.grades {
			if g.Name == value {
				return g.Notches, nil
			}
		}
	}
	return f.parse(value)
}

// moveSense reads a value such as "want.mass_g -" or "want.softness + 2".
func (l *Lexicon) moveSense(s *Sense) error {
	f := strings.Fields(s.Value)
	if len(f) < 2 || f[1] != "+" && f[1] != "-" {
		return fmt.Errorf("a move is a fact, + or -, and how much, not %q", s.Value)
	}
	if typ, ok := l.facts[f[0]]; !ok || typ.kind == reflect.Bool {
		return fmt.Errorf("%q is not a fact that can be moved", f[0])
	}
	s.Value, s.Num = f[0], 1
	if len(f) > 2 {
		var err error
		if s.Num, err = strconv.ParseFloat(f[2], 64); err != nil {
			return err
		}
	}
	if f[1] == "-" {
		s.Num = -s.Num
	}
	if s.Value == "want.softness" {
		s.Unit = "notches"
	}
	return nil
}

// topicSense reads a value such as "layer 2", "sheet" or a list of facts.
func (l *Lexicon) topicSense(value string) ([]Topic, error) {
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
func (l *Lexicon) add(say string, s *Sense) {
	if at := l.enter(&l.root, say, true); at != &l.root {
		at.senses = append(at.senses, s)
	}
}

// enter returns the node that a phrase leads to from at, made where there is none.
// The phrase's words join the vocabulary, those that a misspelt word may be meant
// for with meant set.
func (l *Lexicon) enter(at *node, say string, meant bool) *node {
	clean, _ := Tidy(say)
	for i := 0; i < len(clean); {
		if clean[i] == ' ' {
			i++
			continue
		}
		t := lex(clean, i)
		i = t.To
		if t.Kind == Word {
			if was, ok := l.vocab[t.Text]; !l.made && (!ok || meant && !was) {
				l.vocab[t.Text] = meant
			}
			if v, ok := l.numbers[t.Text]; ok {
				t.Text = FormatNumber(v)
			}
		}
		if t.Is("-") || t.Is(".") {
			continue
		}
		at = at.grow(t.Text)
	}
	return at
}

// Line is a line whose phrases are looked for at every token.
type Line struct {
	lex    *Lexicon
	tokens []Token
	words  []string          // its tokens, each once; nil where the line is too short for it to pay
	may    map[*pattern]bool // whether a pattern may stand in it, by what words there are
}

// manyTokens is how many tokens a line has to have for what may stand in it to be
// worked out once and not at each of them.
const manyTokens = 60

// Over returns tokens as a line.
func (l *Lexicon) Over(tokens []Token) *Line {
	x := &Line{lex: l, tokens: tokens}
	if len(tokens) < manyTokens {
		return x
	}
	words := map[string]bool{}
	for i := range tokens {
		words[tokens[i].Text] = true
	}
	x.words, x.may = slices.Collect(maps.Keys(words)), map[*pattern]bool{}
	return x
}

// stands reports whether a pattern may stand in the line: some token begins each
// place of it that can't be left out.
func (x *Line) stands(p *pattern) bool {
	if x.words == nil {
		return true
	}
	may, known := x.may[p]
	if !known {
		may = !slices.ContainsFunc(p.compiled(x.lex), func(g group) bool {
			return !g.optional && !slices.ContainsFunc(x.words, func(w string) bool { return g.step(w) != nil })
		})
		x.may[p] = may
	}
	return may
}

// Phrases calls found with every phrase at token i, shorter ones first: its senses
// and the tokens it takes. Hyphens inside a phrase count for nothing.
func (x *Line) Phrases(i int, found func(senses []*Sense, n int)) {
	l, tokens := x.lex, x.tokens
	if i >= len(tokens) {
		return
	}
	made := x.patterned(i)
	l.listed(tokens, i, func(senses []*Sense, n int) {
		for len(made) > 0 && made[0].n <= n {
			if made[0].n < n {
				found(made[0].senses, made[0].n)
			} else {
				senses = slices.Concat(senses, made[0].senses)
			}
			made = made[1:]
		}
		found(senses, n)
	})
	for _, m := range made {
		found(m.senses, m.n)
	}
}

// listed is a line's Phrases of the phrases that are no patterns.
func (l *Lexicon) listed(tokens []Token, i int, found func(senses []*Sense, n int)) {
	at := &l.root
	for j := i; j < len(tokens); j++ {
		if j > i && tokens[j].Is("-") {
			continue
		}
		if at = at.step(tokens[j].Text); at == nil {
			return
		}
		if at.senses != nil {
			found(at.senses, j+1-i)
		}
	}
}

// match is the senses of n tokens.
type match struct {
	n      int
	senses []*Sense
}

// patterned returns what patterns make of token i on, shorter ones first.
func (x *Line) patterned(i int) []match {
	var out []match
	l, tokens := x.lex, x.tokens
	first := tokens[i].Text
	if l.patterns[first] == nil {
		first = strings.TrimSuffix(first, "s")
	}
	for _, p := range l.patterns[first] {
		if !x.stands(p) {
			continue
		}
		for _, end := range ends(p.compiled(l), tokens, i, nil) {
			k := slices.IndexFunc(out, func(m match) bool { return m.n == end-i })
			if k < 0 {
				out = append(out, match{n: end - i})
				k = len(out) - 1
			}
			if !slices.Contains(out[k].senses, p.senses[0]) {
				out[k].senses = append(out[k].senses, p.senses[0])
			}
		}
	}
	slices.SortFunc(out, func(a, b match) int { return a.n - b.n })
	return out
}

// LongestPhrase returns the longest phrase at tokens[i] that is no pattern.
func (l *Lexicon) LongestPhrase(tokens []Token, i int) (senses []*Sense, n int) {
	l.listed(tokens, i, func(s []*Sense, m int) { senses, n = s, m })
	return senses, n
}

// Longest returns the sense of slot of the longest phrase at tokens[i], no pattern,
// that has one, and its length.
func (l *Lexicon) Longest(tokens []Token, i int, slot string) (sense *Sense, n int) {
	l.listed(tokens, i, func(senses []*Sense, m int) {
		for _, x := range senses {
			if x.Slot == slot {
				sense, n = x, m
			}
		}
	})
	return sense, n
}

// OneOf returns the words a fact may be, in order, nil for any or none.
func (l *Lexicon) OneOf(path string) []string { return l.facts[path].oneOf }

// IsTruth reports whether a fact is true or false.
func (l *Lexicon) IsTruth(path string) bool { return l.facts[path].kind == reflect.Bool }

// Parse reads value as a fact's type. It fails for a path that is no fact.
func (l *Lexicon) Parse(path, value string) (any, error) {
	f, ok := l.facts[path]
	if !ok {
		return nil, fmt.Errorf("%q is not a fact", path)
	}
	return f.parse(value)
}
