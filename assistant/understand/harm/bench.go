package harm

import (
	"slices"
	"strings"

	"mallow/assistant/understand/harm/role"
)

// rooms reads who is about, and what the air does.
type rooms struct{ *line }

// company reads whether a responsible adult is there. Adult is set when the
// speaker is one.
func (l rooms) company(age *Fact, adult bool) *Fact {
	f := &finding{path: Supervised}
	if l.asked == Supervised {
		l.askedCompany(f)
	}
	// Who said to be of age needs nobody.
	ofAge := age != nil && !age.Value && !age.Doubt && !age.TakesBack && !l.has(undo)
	out := slices.ContainsFunc(l.spans, func(s span) bool { return s.class&(young|kin|pupil|student) != 0 && ages(l).stays(s) })
	ofAge = ofAge || out && age != nil && !age.Value
	for _, s := range l.spans {
		i := s.from
		switch {
		case ages(l).past(i) || s.class&helper != 0 && (role.Before(l.roles(), i) || l.roles().Formerly(i) || role.Unlike(l.roles(), i, s.to) || l.roles().Asked(i) && !l.inSentence(i, away)):
		case s.class&alone != 0 && l.roles().Adult() && !l.inClause(i, young|kin|pupil|student) && role.Own(l.roles(), i):
		case s.class&alone != 0:
			if l.aloneAt(s, age != nil && age.Value && !age.Doubt) && !ofAge {
				own := l.is(s.to-1, "myself") || l.is(s.to-1, "own") && l.is(s.to-2, "my", "our") || l.is(i, "alone") && l.inClause(i, person) && l.is(i-1, "work", "working", "live", "am", "im")
				bare := l.is(i, "alone", "unaccompanied", "going", "single", "singlehandedly") && l.asked != Supervised && !l.has(young|kin|pupil|student|school|helper)
				others := role.Own(l.roles(), i) && l.has(kin|pupil) && !slices.ContainsFunc(l.tokens, func(t token) bool { return t.isNum && t.num >= 5 && t.num < majority })
				lone := (age == nil || !age.Value) && l.asked != Supervised && !l.has(young|kin|pupil|student|school|helper|away) && !l.hasWord("home", "unsupervised", "unattended", "shell", "hell", "they", "theyll") // nothing tells of anybody young
				told := !lone && !others && age != nil && age.Value && !age.Doubt && !adult || !lone && !others && !own && !bare || role.OwnParent(l.roles()) && !adult
				f.add(l.line, true, l.asking(i) || l.roles().Inquires(i) || l.has(iffy) && l.doubted(i) || !told || out, i, s.to-1)
			}
		case s.class&supervise != 0:
			if l.is(s.to, "n") && l.is(s.to+1, "a") || l.is(s.to, "not") && l.is(s.to+1, "needed", "required", "applicable") {
				continue // adult supervision n/a
			}
			f.add(l.line, l.denied(i) || l.is(i-1, "without", "no") || l.at(i-1).class&cant != 0, l.question(i) && !l.inSentence(i, helper), i, s.to-1)
		case s.class&helper != 0, s.class&watcher != 0 && (l.asked == Supervised || l.has(young|kin|pupil|student|school|supervise) || age != nil && age.Value):
			l.helperAt(s, f)
		}
	}
	if f.careful == nil && f.careless == nil && age != nil && age.Value && (adult || l.roles().StandBy()) {
		if i := role.Together(l.roles(), func(i int) bool { return l.inClause(i, alone) }); i >= 0 {
			f.add(l.line, false, false, i, i+2)
		}
	}
	if f.careful == nil && f.careless == nil {
		if from, to := role.Shows(l.roles(), l.asked == Supervised); to > 0 && !l.denied(to) && !l.question(from) {
			f.add(l.line, false, false, from, to)
		}
	}
	if f.careful == nil && f.careless == nil && l.roles().NotLeft() && age != nil && age.Value && !role.SpeakerYoung(l.roles()) {
		f.add(l.line, false, false, 0, len(l.tokens)-1) // I don't leave them on their own, they are eight
	}
	if f.careful == nil && f.careless == nil && l.has(young|kin|pupil) && !l.has(away|alone|not|cant|wavers|iffy|unsure|undo) {
		if i := role.Among(l.roles()); i >= 0 && !l.question(i) && !role.YoungHelper(l.roles()) {
			f.add(l.line, false, false, i, i) // one mum, fourteen kids
		}
	}
	if f.careful == nil && f.careless == nil {
		l.stays(f, l.has(young|kin|pupil|school) || age != nil && age.Value || ages(l).speaksAsAdult())
	}
	got := f.result()
	if f.split() && l.asked != Supervised { // one is out, another there
		got.Doubt = true
	}
	if got != nil && got.Value && l.has(wavers) && l.asked != Supervised { // dad may be around
		got.Value, got.Doubt = false, true
	}
	return got
}

func (l rooms) askedCompany(f *finding) {
	switch {
	case l.roles().NotLeft(), (role.NamesHelper(l.roles()) || l.has(helper|watcher) && (l.has(beside|supervise) || l.has(helper) && len(l.tokens) < 6)) && !l.has(away|not|cant|alone|wavers|iffy|unsure) && role.AllAlong(l.roles()) && !l.roles().Inquires(0):
		f.add(l.line, false, false, 0, 1)
	case l.has(helper|watcher) && l.has(away) && !l.has(beside|supervise|not), l.hasWord("cctv", "camera", "cameras"):
		f.add(l.line, true, false, 0, 1) // the guard downstairs
	case l.is(0, "not") || l.is(0, "sometimes", "mostly", "maybe", "partly", "depends", "usually"):
		f.add(l.line, true, true, 0, 1)
	case l.saysYes() || l.is(0, "of", "sure", "always"):
		f.add(l.line, false, false, 0, 1)
	case l.is(0, "he", "she", "they", "hes", "shes", "theyre") && l.has(away): // he isn't here
		f.add(l.line, true, false, 0, 1)
	case l.is(0, "no") && !l.saysNo() && l.at(1).class&(helper|grown|person|supervise|young|kin|pupil|away|alone|beside) == 0: // no drills
	case l.roles().Adult() && !l.has(young|kin|pupil|student): // no need, I'm 40
	case l.no() || l.is(0, "nobody", "none"):
		f.add(l.line, true, false, 0, 1)
	}
}

// aloneAt reports whether a word like alone is of a person at work. Who is said
// to be young is never taken to be only playing.
func (l rooms) aloneAt(s span, ofYoung bool) bool {
	if l.is(s.from-1, "not", "never", "arent", "isnt", "wont", "wouldnt") || l.roles().NotLeft() {
		return false
	}
	if l.is(s.to-1, "me") && l.is(s.to, "and", "n", "plus", "with") { // just me and my daughter
		for j := s.to + 1; j < s.to+4; j++ {
			if t := l.at(j); t.class&(young|kin|pupil|student|helper) != 0 || t.isNum {
				return false
			}
		}
	}
	if l.hasWord("surprise", "secret") && s.to-s.from > 1 && l.is(s.from, "a", "in", "its") && !role.SpeakerYoung(l.roles()) && !role.OwnParent(l.roles()) {
		return false // a surprise for my little girl
	}
	if (l.is(s.from, "nobody", "no", "noone") || l.is(s.to-1, "nobody", "noone")) && l.is(s.to, "that", "who", "whos", "thats", "has", "have", "had", "reacts", "minds", "gets", "suffers", "is", "wears", "with", "knows", "can", "plays", "needs", "uses", "ever", "likes", "younger", "under", "over", "older", "below", "reported") &&
		!l.is(s.to+1, "around", "here", "home", "in", "about", "with", "there", "nearby") {
		return false // nobody here has asthma
	}
	if l.is(s.from-1, "me", "myself") && l.is(s.from-2, "for") || l.roles().ForSelf() && l.is(s.to-1, "alone") {
		return false // for me alone
	}
	if l.roles().AnswersSign(s.from) || l.is(s.to-1, "and") && (l.is(s.to, "my", "the", "a", "our") && l.at(s.to+1).class&(gear|thing) != 0) {
		return false // asthma? no one here; just me and my mallets
	}
	if l.is(s.from-1, "said", "say", "wrote", "told") { // I said alone, but dad is back
		return false
	}
	if !ofYoung && l.inClause(s.from, stage) && !l.hasWord("home", "house", "workshop", "shed", "garage", "work", "working", "make", "making", "build", "building", "cut", "cutting", "glue", "drill") {
		return false // alone on stage
	}
	if !l.is(s.from, "alone") {
		return true
	}
	if l.denied(s.from) {
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
	if l.at(i).class&grown != 0 && l.is(i-1, "with") && l.is(i-2, "work", "working", "teach") || l.is(s.to, "allergy", "allergic") || l.at(s.to).class&(young|kin|pupil) != 0 || l.is(i-1, "the", "a") && l.is(i-2, "am", "im") || l.at(i).class&grown != 0 && (l.at(i-1).isNum || l.is(i-1, "all", "im", "am", "are", "is", "fully") || l.is(i-1, "only") && !l.is(i-2, "the")) {
		return
	}
	if l.is(i, "teacher") && l.roles().ForSelf() || l.is(i-2, "for", "present", "gift") && l.is(i-1, "my", "our", "the") && !l.is(i-3, "wait", "waiting") { // by trade; a gift
		return
	}
	if next := l.at(s.to); l.at(s.to-1).short && strings.HasSuffix(l.at(s.to-1).text, "s") && !next.mark && !next.isNum && next.class&(beside|away|supervise) == 0 && !l.is(s.to, "in", "not", "a", "always", "right", "sat", "stood", "going", "gonna", "got", "gone", "there", "very", "also", "home", "back") {
		return // with my mum's yarn
	}
	there, gone, from, to := false, false, i, s.to-1
	for _, x := range l.spans {
		a := l.at(x.from)
		if x.class&away != 0 && x.from > i && a.sentence == l.at(i).sentence+1 && role.Goes(l.roles(), i, x.from) { // my aunt said she'd help. She lives in Peru
			gone, to = true, x.to-1
			continue
		}
		if a.sentence != l.at(i).sentence || x.from-i > 9 || i-x.from > 5 {
			continue
		}
		he := false // dad drills, but he's away; mum just got in, she's going to sit with me
		for j := x.from - 1; j >= x.from-4 && l.at(j).clause == a.clause; j-- {
			he = he || l.is(j, "hes", "shes", "theyre", "he", "she", "they", "shell", "hell", "theyll")
		}
		if a.clause != l.at(i).clause && !(x.from > i && (x.from-i <= 5 || he)) {
			continue
		}
		switch {
		case x.class&away != 0 && x.from >= i:
			if l.is(x.from, "left", "gone", "upstairs", "downstairs") && !l.is(x.from-1, "is", "are", "has", "have", "been", "went") && !l.is(x.from, "gone") {
				continue
			}
			if l.is(x.from, "away") && l.is(x.from-3, "locks", "puts", "clears", "packs", "hides", "keeps", "locked", "put") {
				continue // locks the drill away
			}
			if x.from == s.to && l.at(x.to).class&(work|idle) != 0 { // my supervisor at work plays bongos
				continue
			}
			gone, to = true, x.to-1
		case x.class&supervise != 0 && l.is(x.to, "n") && l.is(x.to+1, "a"): // n/a
		case x.class&(beside|supervise) != 0:
			if l.is(x.from, "with") && x.from != i-1 && x.from != i-2 && !l.is(x.to, "me", "us", "my", "them", "him", "her", "each", "every", "all", "both") &&
				!(x.from >= s.to && (l.at(x.to).class|l.at(x.to+1).class)&(young|kin|pupil|student) != 0) {
				continue
			}
			if l.is(x.from, "with") && l.roles().Apart(x.from-1) || l.is(x.from, "helped") && x.from < i { // helped my teacher once
				continue
			}
			if x.from > i && role.Elsewhere(l.roles(), s.to, x.from, x.to) {
				continue // mum watches telly, dad stands next to the vibes
			}
			if l.is(x.from, "here") && l.is(s.to-1, "teacher", "director", "tutor", "instructor", "coach", "leader", "professor") && !l.is(l.roles().First(i), "my", "our", "the", "a", "his", "her", "their") {
				continue // music teacher here: the speaker
			}
			if l.is(x.from, "here", "there", "around") && x.from < i && !l.is(x.from, "there") {
				continue
			}
			if l.is(x.from, "here") && x.from == s.to && l.asked != Supervised && role.Speaks(l.roles(), i) {
				continue // nan here, 81: the speaker
			}
			able := l.is(x.from-1, "to") && l.is(x.from-2, "able") && (l.at(x.from-3).class|l.at(x.from-4).class)&not != 0
			if l.denied(x.from) || l.at(x.from-1).class&cant != 0 || able { // mum can't sit with me
				gone = true
				continue
			}
			there = true
			from, to = min(from, x.from), max(to, x.to-1)
		}
	}
	if l.is(i-1, "and", "n") && l.is(i-2, "me", "i") || l.is(i-2, "and", "n") && l.is(i-3, "me", "i") ||
		l.is(s.to, "and", "n") && l.is(s.to+1, "i", "me") || l.is(i-1, "with") || l.is(i-2, "with") {
		if !l.is(i-3, "at") && !l.roles().Apart(i-3) && !l.roles().Apart(i-2) {
			there = true
		}
	}
	switch {
	case l.is(i-1, "no", "without") || l.denied(i) && there && !l.is(i, "dad", "mum"):
		if !l.inClause(i, allergy|reaction) {
			f.add(l.line, true, false, from, to)
		}
	case gone && l.asks(i):
	case gone:
		f.add(l.line, true, l.asked != Supervised && !role.OwnParent(l.roles()) && !role.SpeakerYoung(l.roles()) && !l.has(young|kin|pupil|student|school|iffy) && !l.is(i-1, "my", "the") && !l.is(i, "mum", "mom", "dad", "nan", "gran", "mummy", "daddy", "mama", "papa"), from, to)
	case there && (!l.inClause(i, allergy|reaction|lungs) || l.is(s.to, "with") && l.is(s.to+1, "me", "us")) && !(l.question(i) && !l.inClause(i, person)):
		if s.class&grown != 0 && l.is(i-1, "im", "am", "all") || l.question(i) && l.is(i-1, "need", "an", "a") && l.roles().AsksNeed(i) {
			return
		}
		f.add(l.line, false, l.doubted(i) && l.has(unsure|iffy) && !l.is(i-1, "my", "and", "with"), from, to)
	}
}

// asking reports whether the clause of token i is a question, and not what is
// said of somebody just named: my son, 14, does it on his own.
func (l rooms) asking(i int) bool {
	from := i
	for from > 0 && l.at(from-1).clause == l.at(i).clause && !l.at(from-1).mark {
		from--
	}
	return l.asks(i) || l.question(i) && !l.is(from-1, ",")
}

// asks reports whether the clause of token i is the one that asks.
func (l *line) asks(i int) bool {
	if !l.question(i) {
		return false
	}
	for l.at(i+1).clause == l.at(i).clause {
		i++
	}
	return l.at(i).text == "?" || l.at(i+1).text == "?"
}

// stays takes a speaker who says to be there with the young, or to do what is
// dangerous for them. OfYoung is set when the line speaks of young ones.
func (l rooms) stays(f *finding, ofYoung bool) {
	if from, to := role.StaysWith(l.roles(), ofYoung, l.question, l.denied); to > 0 {
		f.add(l.line, false, false, from, to)
	}
}

// air reads whether outside air moves through the place of work.
func (l rooms) air() *Fact {
	all, glued := &finding{path: Ventilated}, &finding{path: Ventilated} // of any place, and of that where the glue is
	f := all
	if l.asked == Ventilated {
		switch {
		case l.saysYes():
			f.add(l.line, false, false, 0, 1)
		case l.no() || l.is(0, "not"):
			f.add(l.line, true, false, 0, 1)
		case l.hasWord("window", "windows", "door", "doors", "fan", "fans", "extractor") && l.hasWord("open", "opens", "opened", "yes", "running", "on", "working") && !l.has(not|cant|noair|broken) && !l.hasWord("dont", "cannot", "shut", "closed", "vibes", "vibraphone", "resonators") && !l.is(len(l.tokens)-1, "?"):
			f.add(l.line, false, false, 0, 1)
		case l.has(noair) && role.Place(l.roles()):
			f.add(l.line, true, false, 0, len(l.tokens)-1)
		case l.is(len(l.tokens)-2, "not") && l.is(len(l.tokens)-1, "really", "much"): // it's a cellar so not really
			f.add(l.line, true, false, len(l.tokens)-2, len(l.tokens)-1)
		}
	}
	for _, s := range l.spans {
		i := s.from
		if s.class&(air|noair) == 0 || l.covered(s) || role.Played(l.roles(), i, s.to) || l.is(i, "fresh") && l.is(i-1, "breath") {
			continue
		}
		if l.is(i, "stuffy", "airless", "muggy") && l.hasWord("sound", "sounds", "sounding", "tone", "timbre", "note", "notes", "bass") && !l.hasWord("room", "workshop", "shed", "garage", "place") {
			continue
		}
		if l.asked != Ventilated && s.class&air != 0 && l.is(s.from, "balcony", "porch", "patio", "veranda", "verandah", "terrace", "driveway", "in", "on", "breeze", "breezy", "lean") && !l.roles().At(i) {
			continue // their kids are out in the yard
		}
		if f = all; l.inClause(i, glue|fume) {
			f = glued
		}
		place := s.class&noair != 0 && l.is(i, "basement", "cellar", "dorm", "dormitory", "closet", "bedroom", "attic", "loft", "small", "tiny", "studio", "bedsit", "underground", "bunker", "shoebox")
		switch {
		case l.question(i) && l.asked == Ventilated: // fresh air? out on the porch
			f.touch(l.line, i, s.to-1, true)
		case l.question(i):
			f.add(l.line, true, true, i, s.to-1)
		case place:
			if l.inSentence(i, person) && !l.is(s.to, "sound", "tone", "recording", "marimba", "of") {
				f.add(l.line, true, true, i, s.to-1)
			}
		case s.class&noair != 0:
			f.add(l.line, !l.denied(i), false, i, s.to-1)
		default:
			no := l.is(s.to, ",", ":", "-", "?") && l.is(s.to+1, "no", "none", "nope", "nil") && (l.at(s.to+2).mark || s.to+2 >= len(l.tokens)) // fresh air, no
			f.add(l.line, l.denied(i) != no || l.broken(s), false, i, s.to-1)
		}
	}
	for _, d := range role.Draughts(l.roles(), l.asked == Ventilated) {
		if f = all; l.inClause(d.From, glue|fume) {
			f = glued
		}
		if d.Moves && l.question(d.From) {
			f.touch(l.line, d.From, d.To-1, l.asked == Ventilated)
			continue
		}
		f.add(l.line, !d.Moves, false, d.From, d.To-1)
	}
	if got := glued.result(); got != nil && (!got.Doubt || all.careful == nil) {
		all = glued
	}
	got := all.result()
	glues := slices.IndexFunc(l.spans, func(s span) bool { return s.class&(glue|fume) != 0 })
	if all.split() || all != glued && all.careful != nil && glues >= 0 && l.is(l.start(l.spans[glues].from), "but") { // no window, but a fan
		got.Doubt = true
	}
	return got
}

// broken reports whether what moves the air is said not to work.
func (l rooms) broken(s span) bool {
	for j := s.to; j < s.to+6; j++ {
		if (l.at(j).class&broken != 0 || l.is(j, "out") && !l.is(j+1, "of", "for") && !l.is(j-1, "blowing", "blows", "pulling", "sucking", "pointing", "venting", "vents", "facing", "going", "way")) && l.at(j).sentence == l.at(s.from).sentence {
			return true
		}
	}
	return l.at(s.from-1).class&broken != 0
}

// covered reports whether span s lies within a longer one about air.
func (l rooms) covered(s span) bool { return bodies(l).overlaps(s, air|noair) }
