package harm

// rooms reads who is about, and what the air does.
type rooms struct{ *line }

// company reads whether a responsible adult is there. Adult is set when the
// speaker is one.
func (l rooms) company(age *Fact, adult bool) *Fact {
	f := &finding{path: Supervised}
	if l.asked == Supervised {
		l.askedCompany(f)
	}
	for _, s := range l.spans {
		i := s.from
		switch {
		case ages{l.line}.past(i):
		case s.class&alone != 0:
			if l.aloneAt(s) {
				own := l.is(s.to-1, "myself", "own") || l.is(i, "alone") && l.inClause(i, person) && l.is(i-1, "work", "working", "live", "am", "im")
				told := age != nil && age.Value && !age.Doubt && !adult || !own
				f.add(l.line, true, l.question(i) || l.has(iffy) && l.doubted(i) || !told, i, s.to-1)
			}
		case s.class&supervise != 0:
			f.add(l.line, l.denied(i) || l.is(i-1, "without", "no"), l.question(i) && !l.inSentence(i, helper), i, s.to-1)
		case s.class&helper != 0:
			l.helperAt(s, f)
		}
	}
	if f.careful == nil && f.careless == nil && age != nil && age.Value && (adult || l.standsBy()) {
		l.together(f)
	}
	return f.result()
}

func (l rooms) askedCompany(f *finding) {
	switch {
	case l.is(0, "not") || l.is(0, "sometimes", "mostly", "maybe", "partly", "depends", "usually"):
		f.add(l.line, true, true, 0, 1)
	case l.is(0, "yes", "yeah", "yep", "yea", "yup", "ja", "oui", "si", "y", "of", "sure"):
		f.add(l.line, false, false, 0, 1)
	case l.is(0, "no", "nope", "nah", "nein", "non", "n", "nobody", "none"):
		f.add(l.line, true, false, 0, 1)
	}
}

// aloneAt reports whether a word like alone is of a person at work.
func (l rooms) aloneAt(s span) bool {
	if !l.is(s.from, "alone") {
		return true
	}
	if l.is(s.from-1, "not", "never", "arent", "isnt", "wont") || l.denied(s.from) {
		return false
	}
	for j := s.from - 1; j >= s.from-8; j-- {
		if l.is(j, "leave", "leaving", "leaves", "left", "let") {
			return false
		}
	}
	return l.inSentence(s.from, person) || l.at(s.from-1).mark
}

// helperAt reads somebody who may stand by.
func (l rooms) helperAt(s span, f *finding) {
	i := s.from
	if l.is(s.to, "allergy", "allergic") || l.is(i-1, "the", "a") && l.is(i-2, "am", "im") || l.at(i).class&grown != 0 && (l.at(i-1).isNum || l.is(i-1, "all", "im", "am", "are")) {
		return
	}
	there, gone, from, to := false, false, i, s.to-1
	for _, x := range l.spans {
		a := l.at(x.from)
		if a.sentence != l.at(i).sentence || x.from-i > 9 || i-x.from > 5 {
			continue
		}
		if a.clause != l.at(i).clause && !(x.from > i && x.from-i <= 5) {
			continue
		}
		switch {
		case x.class&away != 0 && x.from >= i:
			if l.is(x.from, "left", "gone", "upstairs", "downstairs") && !l.is(x.from-1, "is", "are", "has", "have", "been", "went") && !l.is(x.from, "gone") {
				continue
			}
			gone, to = true, x.to-1
		case x.class&(beside|supervise) != 0:
			if l.is(x.from, "with") && x.from != i-1 && x.from != i-2 && !l.is(x.to, "me", "us", "my") {
				continue
			}
			if l.is(x.from, "here", "there", "around") && x.from < i && !l.is(x.from, "there") {
				continue
			}
			if l.denied(x.from) {
				gone = true
				continue
			}
			there = true
			from, to = min(from, x.from), max(to, x.to-1)
		}
	}
	if l.is(i-1, "and", "n") && l.is(i-2, "me", "i") || l.is(i-2, "and", "n") && l.is(i-3, "me", "i") ||
		l.is(s.to, "and", "n") && l.is(s.to+1, "i", "me") || l.is(i-1, "with") || l.is(i-2, "with") {
		if !l.is(i-3, "at", "live", "living") {
			there = true
		}
	}
	switch {
	case l.is(i-1, "no", "without") || l.denied(i) && there && !l.is(i, "dad", "mum"):
		if !l.inClause(i, allergy|reaction) {
			f.add(l.line, true, false, from, to)
		}
	case gone && l.question(i):
	case gone:
		f.add(l.line, true, false, from, to)
	case there && !l.inClause(i, allergy|reaction|lungs) && !(l.question(i) && !l.inClause(i, person)):
		if s.class&grown != 0 && l.is(i-1, "im", "am", "all") || l.question(i) && l.is(i-1, "need", "an", "a") && l.asksNeed(i) {
			return
		}
		f.add(l.line, false, l.doubted(i) && l.has(unsure|iffy) && !l.is(i-1, "my", "and", "with"), from, to)
	}
}

// asksNeed reports whether the clause asks whether an adult is needed.
func (l rooms) asksNeed(i int) bool {
	for j := max(0, i-6); j < i; j++ {
		if l.is(j, "need", "needs", "must", "should", "have", "does", "do") {
			return true
		}
	}
	return false
}

// together takes an adult who works with the young ones of the line.
func (l rooms) together(f *finding) {
	for i := range l.tokens {
		with := l.is(i, "with") && (l.is(i+1, "me") || l.at(i+2).class&(young|kin|pupil) != 0 && l.is(i+1, "my", "our", "the") && l.makes(i) || l.is(i+1, "my") && l.at(i+2).isNum && l.makes(i))
		both := l.is(i, "me", "i") && l.is(i+1, "and", "n") && l.at(i+3).class&(young|kin) != 0 ||
			l.at(i).class&(young|kin) != 0 && l.is(i+1, "and", "n") && l.is(i+2, "i", "me") ||
			l.is(i, "old") && l.is(i+1, "and") && l.is(i+2, "i", "me")
		stay := l.is(i, "stay", "sit", "stand", "am", "be") && l.is(i-1, "i", "ill", "will") && (l.is(i+1, "with", "beside", "by") || l.is(i+2, "with", "beside", "by", "there"))
		we := l.is(i, "together") && !l.inClause(i, alone)
		own := l.is(i, "ill", "i") && (l.is(i+1, "be", "am", "stand", "help", "cut", "do") || l.is(i+1, "will") && l.is(i+2, "be", "help", "do", "cut")) &&
			(l.is(i+2, "there", "standing", "cutting", "right", "beside", "with", "doing", "helping", "the", "over") || l.is(i+3, "there", "right", "cutting", "help", "the"))
		if with || both || stay || we || own {
			f.add(l.line, false, false, i, i+2)
			return
		}
	}
}

// standsBy reports whether the speaker says to stand by young ones: with me at
// the table.
func (l rooms) standsBy() bool {
	for i := range l.tokens {
		if l.is(i, "with") && l.is(i+1, "me") && l.is(i+2, "standing", "watching", "there", "beside", "right", "at", "next", "in", "supervising") && l.has(young|school|pupil|student) {
			return true
		}
	}
	return false
}

// makes reports whether the clause of token i is about making.
func (l rooms) makes(i int) bool {
	for j := max(0, i-8); j < i; j++ {
		if l.is(j, "making", "make", "building", "build", "doing", "do", "project", "wrapping", "winding", "wind", "working", "work") {
			return true
		}
	}
	return false
}

// air reads whether outside air moves through the place of work.
func (l rooms) air() *Fact {
	f := &finding{path: Ventilated}
	if l.asked == Ventilated {
		switch {
		case l.is(0, "yes", "yeah", "yep", "yea", "yup", "ja", "oui", "si", "y"):
			f.add(l.line, false, false, 0, 1)
		case l.is(0, "no", "nope", "nah", "nein", "non", "n", "not"):
			f.add(l.line, true, false, 0, 1)
		}
	}
	for _, s := range l.spans {
		i := s.from
		if s.class&(air|noair) == 0 || l.covered(s) || l.is(i, "fresh") && l.is(i-1, "breath") {
			continue
		}
		place := s.class&noair != 0 && l.is(i, "basement", "cellar", "dorm", "dormitory", "closet", "bedroom", "attic", "loft", "small", "tiny", "studio", "bedsit", "underground", "bunker")
		switch {
		case l.question(i):
			f.add(l.line, true, true, i, s.to-1)
		case place:
			if l.inSentence(i, person) && !l.is(s.to, "sound", "tone", "recording", "marimba") {
				f.add(l.line, true, true, i, s.to-1)
			}
		case s.class&noair != 0:
			f.add(l.line, !l.denied(i), false, i, s.to-1)
		default:
			f.add(l.line, l.denied(i), false, i, s.to-1)
		}
	}
	return f.result()
}

// covered reports whether span s lies within a longer one about air.
func (l rooms) covered(s span) bool { return bodies{l.line}.overlaps(s, air|noair) }
