package harm

import "mallow/assistant/understand/harm/role"

// What follows catches what the readings of skin, age and company let through:
// a line that names a hazard beside a person, and of which nothing was made,
// is worth one short question. It never settles anything.

// nets adds the doubts that a line leaves open to what was read of it.
func (l *line) nets(got []Fact) []Fact {
	has := func(path string) bool {
		for _, f := range got {
			if f.Path == path {
				return true
			}
		}
		return false
	}
	if !has(LatexOK) && !has(RubberOK) {
		if i := l.looseLatex(); i >= 0 {
			got = append(got, Fact{Path: LatexOK, Doubt: true, Faint: true, Text: l.words(i, i)})
		}
	}
	if !has(Minor) {
		i := l.looseYears()
		faint := i >= 0 && l.at(i-1).class&(young|kin|pupil) == 0 && l.at(i-2).class&(young|kin|pupil) == 0 && !l.is(i-1, "to")
		if i < 0 {
			i = role.Born(l.roles())
		}
		if i >= 0 {
			got = append(got, Fact{Path: Minor, Value: true, Doubt: true, Faint: faint, Text: l.words(i, i)})
		}
	}
	for i := range got {
		f := &got[i]
		switch {
		case f.Path == Supervised && f.Value && role.YoungHelper(l.roles()):
			f.Value, f.Doubt = false, l.asked != Supervised
		case f.Path == Minor && !f.Value && !f.TakesBack && role.Pretends(l.roles()):
			f.Value, f.Doubt = true, true
		}
	}
	return got
}

// looseLatex returns where latex, gloves or the like are named with a person
// and not as something to build with, -1 where they are not.
func (l *line) looseLatex() int {
	for _, s := range l.spans {
		glove := s.class&rubber != 0 && l.is(s.to-1, "glove", "gloves")
		if s.class&latex == 0 && !glove || l.question(s.from) {
			continue
		}
		if glove && !l.hasWord("hands", "hand", "skin", "fingers", "finger", "wrists", "arms") { // gloves worn without a word of trouble
			continue
		}
		if l.inSentence(s.from, person|young|kin|pupil|student|helper|allergy) && !l.stockAt(s) {
			return s.from
		}
	}
	return -1
}

// stockAt reports whether the words of the span are something to build with:
// latex tubing, some latex, 3/4 in latex.
func (l *line) stockAt(s span) bool {
	for j := s.from - 3; j < s.to+3; j++ {
		if j >= s.from && j < s.to {
			continue
		}
		t := l.at(j)
		if t.isNum || t.hasUnit() || l.is(j, "tubing", "tube", "tubes", "slice", "slices", "layer", "layers", "wall", "walls", "core", "cores",
			"ball", "balls", "sheet", "sheets", "band", "bands", "hose", "ring", "rings", "wrap", "cover", "head", "heads", "mallet", "mallets") {
			return true
		}
	}
	return l.is(s.from-1, "have", "got", "some", "of", "more", "using", "use", "with", "buy", "cut", "stretch", "the", "softer", "thick", "thin") &&
		!l.is(s.from-2, "problem", "problems", "issue", "issues", "trouble", "thing", "kind", "sort") && l.is(s.to, "and", ".", ",", "on", "over", "under", "in", "from", "for")
}

// looseYears returns where a number of years under age stands that may be
// somebody's, -1 where none does.
func (l *line) looseYears() int {
	for i, t := range l.tokens {
		if !t.isNum || t.ordinal || t.num < 3 || t.num >= majority || (ages{l}).past(i) || l.is(i-1, "for", "since", "in", "after", "last", "every", "over", "about", "almost", "nearly") {
			continue
		}
		if !l.is(i+1, "years", "year", "yrs", "yr", "jahre", "ans", "anni", "años", "lat") || !l.inSentence(i, person|young|kin|pupil|student|helper) {
			continue
		}
		if l.is(i+2, "of", "in", "into", "experience", "ago", "older", "younger", "playing", "teaching", "making", "now", "back", "later", "between", "warranty", "apart", "worth") ||
			(ages{l}).ofThing(i, i+2) {
			continue
		}
		return i
	}
	return -1
}
