package role

import (
	"slices"
	"strings"
)

// Who makes, and who only gets, plays or hears what is made.

// makes reports whether word i is a verb of making: wind, turns out. To cut, glue or
// drill for others is none: they may do the rest.
func makes(l Line, i int) bool {
	return l.is(i, "make", "makes", "making", "build", "builds", "building", "wind", "winds", "winding", "wrap", "wraps", "wrapping", "craft", "crafting", "sew", "sews", "sewing",
		"assemble", "assembles", "assembling") || l.is(i, "turn", "turns") && (l.is(i+1, "out") || l.is(i+2, "out") || l.is(i+3, "out"))
}

// OwnWork reports whether the line says who makes, the speaker or somebody grown, and none
// of the young ones of the line does, so that these may only play: I make them for my
// son; the kids just play, I do all the winding myself; all made by the staff.
func OwnWork(l Line) bool {
	young := false
	for i, w := range l {
		child := w.Is&Young != 0 || w.Is&Number != 0 && w.Num < Majority && l.is(i+1, "year", "years", "yr", "yrs", "yo") || l.is(i, "graders", "grader")
		young = young || child || w.Is&School != 0
		if child && joins(l, i) {
			return false
		}
	}
	if SpeakerYoung(l) || !young {
		return false
	}
	for i := range l {
		switch {
		case l.is(i, "i", "ill", "im", "id", "ive") && speakerMakes(l, i) && !together(l, i),
			l.is(i, "by") && made(l, i-1) && grownAfter(l, i+1),
			l.is(i, "nobody", "noone", "none") && l.is(i+1, "except", "but", "besides", "other") && (l.is(i+2, "me", "myself") || l.is(i+3, "me", "myself")):
			return true
		}
	}
	return false
}

// OnlyPlays reports whether the speaker says to be of age and of a young one no more than
// that it plays: I'm 45, my daughter plays.
func OnlyPlays(l Line) bool {
	plays := false
	for i, w := range l {
		if w.Is&Young == 0 && !l.is(i, "we", "us", "our", "together") {
			continue
		}
		j := i + 1
		for l.is(j, "who", "only", "just", "will", "would", "also", "that", "really") {
			j++
		}
		if w.Is&Young == 0 || joins(l, i) || !l.is(j, "play", "plays") {
			return false
		}
		plays = true
	}
	return plays && l.Adult() && !SpeakerYoung(l)
}

// joins reports whether the young one at word i is said to make too, or to help: my son
// winds; my girl and I; she holds the yarn.
func joins(l Line, i int) bool {
	for j := i + 1; j < i+10 && !l.is(j, "i", "ill", "im"); j++ {
		if makes(l, j) || l.is(j, "help", "helps", "helping") || l.is(j, "hold", "holds", "holding") && l.is(j+1, "the", "my") && l.is(j+2, "yarn", "wool", "thread", "ball", "tube", "tubing") || l.is(j, "and") && l.is(j+1, "i", "me") && j == i+1 {
			return true
		}
	}
	return false
}

// speakerMakes reports whether the speaker, who word i stands for, says to make: I'll do
// the winding; I'm the technician who turns them out; I do the mallets.
func speakerMakes(l Line, i int) bool {
	j := i + 1
	for j < i+5 && l.is(j, "will", "am", "going", "to", "gonna", "just", "always", "usually", "want", "would", "like", "d", "can", "must", "have", "and", "only", "who", "plan", "already", "then", "also") || l.at(j).Is&Number != 0 && l.is(i, "im") {
		j++
	}
	switch {
	case makes(l, j):
		return true
	case l.is(j, "do", "doing", "did"):
		for k := j + 1; k < j+5 && l.at(k).Is&Mark == 0; k++ {
			if makes(l, k) || l.is(k, "mallets", "heads", "beaters") {
				return true
			}
		}
	case l.is(j, "the", "a", "one"):
		for k := j; k < j+6 && l.at(k).Is&Mark == 0; k++ {
			if l.is(k, "who", "that") && makes(l, k+1) {
				return true
			}
		}
	}
	return false
}

// made reports whether a participle of making stands at word i or before it.
func made(l Line, i int) bool {
	return l.is(i, "made", "wound", "built", "wrapped", "assembled") || l.is(i-1, "made", "wound", "built", "wrapped", "assembled") && l.is(i, "up", "only", "entirely", "solely")
}

// grownAfter reports whether the words from i name the speaker or somebody grown.
func grownAfter(l Line, i int) bool {
	for l.is(i, "the", "my", "our", "all", "us", "only", "just") {
		i++
	}
	return l.is(i, "me", "myself") || l.at(i).Is&(Grown|Helper) != 0
}

// together reports whether the sentence of word i says that others do it with the speaker,
// or are let or taught to, or that it is only supposed.
func together(l Line, i int) bool {
	for k := range l {
		if l.at(k).Sentence != l.at(i).Sentence {
			continue
		}
		switch {
		case l.is(k, "together", "we", "us", "help", "helps", "helping", "teach", "lets", "let", "both", "if", "not", "dont", "cant", "never"),
			l.is(k, "with") && (l.is(k+1, "me", "him", "her", "my", "our", "the") && (l.at(k+2).Is|l.at(k+3).Is)&(Gear|Unit) == 0 || l.at(k+1).Is&(Young|Student|Number) != 0),
			l.is(k, "she", "he", "they") && !l.is(k+1, "plays", "play", "only", "just", "hits", "hit", "bash", "bashes", "get", "gets", "will", "are", "is", "listens", "were", "re"):
			return true
		}
	}
	return false
}

// WhoseAge returns the young one whose age the number at word i is: the last who was named
// before it, in its clause or as he, she or they; -1 where there is none.
func WhoseAge(l Line, i int) int {
	pronoun := false
	for j := i - 1; j >= 0 && j > i-24; j-- {
		switch w := l.at(j); {
		case l.is(j, "i", "im", "we", "me") || l.is(j, "were") && w.Is&Short != 0:
			if w.Clause == l.at(i).Clause || !pronoun {
				return -1
			}
		case l.is(j, "he", "she", "hes", "shes", "they", "theyre", "who", "whos"):
			pronoun = pronoun || w.Clause == l.at(i).Clause
		case w.Is&Young != 0:
			if pronoun || w.Clause == l.at(i).Clause || w.Clause == l.at(i).Clause-1 && l.at(i-1).Is&Mark != 0 && j > i-4 {
				return j
			}
			return -1
		case w.Is&(Helper|Student) != 0:
			return -1
		}
	}
	return -1
}

// OfPassing reports whether the age at word i is that of somebody young who is only
// spoken of: my grandson who is six drew it; he comes to fetch them, he's ten.
func OfPassing(l Line, i int) bool {
	j := WhoseAge(l, i)
	return j >= 0 && l.Part(j, j+1) == Passing
}

// Elsewheres reports whether the young one at word i is any, or somebody else's: would a
// kid manage; the kids at your place.
func Elsewheres(l Line, i int) bool {
	first := l.First(i)
	return l.is(first, "a", "an", "any") && first < i || l.is(first, "your") || l.is(i+1, "at", "in", "of") && l.is(i+2, "your")
}

// OfBystander reports whether the age past majority at word i is that of somebody who is
// only spoken of: my nephew, 26, collects stamps; she is a nurse, 41; says the old man who
// taught me, he's 80.
func OfBystander(l Line, i int) bool {
	j := i - 1
	if l.is(j, ",", "(") {
		j--
		if w := l.at(j); w.Is&Young != 0 || l.Another(j) {
			return l.Part(j, j+1) != Takes
		}
		for ; l.at(j).Is&Mark == 0; j-- {
			if l.is(j, "i", "im", "we", "me") {
				return false
			}
			if l.is(j, "she", "he", "shes", "hes") {
				return !l.clause(j, Gear|Work)
			}
		}
		return false
	}
	if !l.is(j, "hes", "shes") && !(l.is(j, "is") && l.is(j-1, "he", "she")) {
		return false
	}
	for j--; j >= 0; j-- {
		switch w := l.at(j); {
		case w.Is&Young != 0:
			return l.Part(j, j+1) != Takes
		case l.is(j, "man", "woman", "chap", "bloke", "guy", "lady", "gentleman", "fellow"):
			return !l.is(l.First(j)-1, "for")
		}
	}
	return false
}

// IfAsked reports whether the sentence of word i supposes something, and asks what would
// be: if my sister, who is nine, did it, would you change anything?
func IfAsked(l Line, i int) bool {
	supposed, would := false, false
	for j, w := range l {
		if w.Sentence == l.at(i).Sentence {
			supposed = supposed || j < i && l.is(j, "if", "suppose", "imagine", "say")
			would = would || supposed && l.is(j, "would", "could", "should")
		}
	}
	return would
}

// InLaw reports whether a word for a child of the family goes on, at word i, as one for
// somebody married: daughter-in-law.
func InLaw(l Line, i int) bool {
	for l.at(i).Is&Mark != 0 && l.is(i, "-") {
		i++
	}
	return l.is(i, "in", "inlaw") && (l.is(i, "inlaw") || l.is(i+1, "law", "laws") || l.is(i+1, "-") && l.is(i+2, "law", "laws"))
}

// hits reports whether word i is a verb of playing what is made and no more.
func hits(l Line, i int) bool {
	return l.is(i, "play", "plays", "hit", "hits", "bang", "bangs", "bash", "bashes", "strike", "strikes", "tap", "taps", "get", "gets", "ring", "shriek", "dance", "watch", "listen")
}

// GrownMake reports whether the line says of grown people that they make, and of any young
// ones no more than that they play: the makers are two mums; leaders build, cubs only bang.
func GrownMake(l Line) bool {
	makers, speaker, young, play, only := false, false, false, false, false
	for i, w := range l {
		child := w.Is&Young != 0 || w.Is&Number != 0 && w.Num < Majority && l.is(i+1, "year", "years", "yr", "yrs", "yo")
		switch {
		case l.is(i, "with", "help", "helps", "helping", "together", "teach", "both", "too", "also", "let", "lets", "if", "dont", "wont", "?"), l.is(i, "and") && (l.at(i+1).Is&Young != 0 || l.is(i+1, "i", "me", "my", "our")), child && joins(l, i):
			return false
		case child:
			young = true
			for j := i + 1; j < i+4 && l.at(j).Is&Mark == 0; j++ {
				play, only = play || hits(l, j), only || hits(l, j) && l.is(j-1, "only", "just")
			}
		case l.is(i, "to", "they", "only", "just") && hits(l, i+1):
			play, only = true, only || l.is(i, "only", "just")
		case l.is(i, "makers", "builders", "winders", "maker", "builder") && l.is(i+1, "are", "is"):
			for j := i + 2; j < i+7 && l.at(j).Is&Mark == 0; j++ {
				makers = makers || l.at(j).Is&(Helper|Grown|Trade) != 0
			}
			play = play || makers
		case w.Is&(Helper|Grown) != 0 && w.Is&(Young|Owner) == 0:
			j := i + 1
			for l.is(j, "who", "will", "all", "do", "only", "then", "would") {
				j++
			}
			makers = makers || makes(l, j)
		case l.is(i, "i", "im") && speakerMakes(l, i):
			speaker = Teaches(l) || l.Adult() || trades(l)
		}
	}
	return (makers && (play || !young) || speaker && only) && !SpeakerYoung(l) && !OwnParent(l)
}

// trades reports whether the speaker tells of a trade: I'm a music therapist.
func trades(l Line) bool {
	for i, w := range l {
		if w.Is&(Trade|Helper) != 0 && w.Is&Young == 0 && l.is(l.First(i)-1, "im", "am") || w.Is&(Trade|Helper) != 0 && (l.is(i-3, "im") || l.is(i-2, "im")) {
			return true
		}
	}
	return false
}

// AtUni reports whether the makers are said to be at a university, and so of age;
// question tells of a word whether it is asked.
func AtUni(l Line, question func(int) bool) bool {
	if slices.ContainsFunc(l, func(w Word) bool {
		return w.Is&Number != 0 && w.Num > 4 && w.Num < Majority || slices.Contains([]string{"next", "starting", "starts", "start", "going", "applied", "applying", "hope", "hopes", "autumn", "preparing", "prep", "before", "accepted", "offer", "until", "off"}, w.Text)
	}) {
		return false // who is yet to go there may be under age
	}
	for i, w := range l {
		if w.Is&Uni == 0 || question(i) || l.sentence(i, Sign) || l.is(l.First(i)-1, "from", "near", "opposite") {
			continue
		}
		persons := strings.HasSuffix(w.Text, "grads") || strings.HasSuffix(w.Text, "grad") || strings.Contains(w.Text, "graduate") || l.is(i, "freshers", "fresher", "batchmates", "sorority", "fraternity")
		for j, v := range l {
			if v.Sentence == w.Sentence {
				persons = persons || v.Is&Student != 0 && !l.is(j+1, "built", "made", "model") || l.is(j, "student", "students", "mates", "mate", "year", "years", "friends", "circle", "course", "class") || l.is(j, "im", "were", "theyre", "shes", "hes", "we", "they") && l.is(j+1, "at", "in", "all", "both", "a")
			}
		}
		if persons || l.words(func(Word) bool { return true }) < 4 {
			return true
		}
	}
	return false
}
