package harm

import (
	"mallow/assistant/understand/harm/heard"
	"mallow/assistant/understand/harm/role"
)

// schoolYear reads year 7, 6th grade, class 8, grade 4 and the like.
func (l ages) schoolYear(i int, f *finding) {
	n, at := 0.0, i
	t := l.at(i)
	ordinal := func(j int) bool { return l.at(j).isNum && l.at(j).ordinal && l.at(j).num <= 13 }
	cardinal := func(j int) bool {
		return l.at(j).isNum && !l.at(j).ordinal && l.at(j).num <= 13 && l.at(j).num == float64(int(l.at(j).num))
	}
	if y := l.at(i + 2); l.is(i, "class") && l.is(i+1, "of") && y.isNum && y.num >= 2020 && y.num < 2100 && !l.inSentence(i, college|uni) { // class of 2031
		f.add(l.line, true, !l.inSentence(i, school), i, i+2)
		return
	}
	if r := heard.Roman(l.at(i + 1).text); r > 0 && l.is(i, "class", "standard", "std", "grade", "form", "year", "klasse") {
		if (r > 1 || l.at(i+2).mark) && !l.at(i+2).hasUnit() {
			f.add(l.line, true, l.supposed(i), i, i+1)
		}
		return
	}
	end := i + 1
	switch {
	case ordinal(i) && l.is(i+1, "grade", "grader", "graders", "grades", "graderz", "garde", "grad", "standard", "std", "klasse", "class", "form", "year", "years", "and",
		"ano", "año", "curso", "grado", "klass", "klas", "luokka", "klasa", "klasy", "primary", "formers", "former", "eso"):
		if l.is(i+1, "and") { // 5th and 6th graders
			if !ordinal(i+2) || !l.is(i+3, "grade", "grader", "graders", "grades", "class", "klasse", "standard") && !(l.is(i-1, "in") && l.is(i-2, "im", "am", "theyre", "are", "hes", "shes", "is")) {
				return
			}
		}
		if l.is(i+1, "class", "year", "years", "form") && !(l.is(i+1, "class") && t.num >= 3 && l.is(i-1, "teach", "teaching", "have", "with", "year", "years")) && !(l.is(i+1, "form") && (i == 0 || l.at(i-1).mark)) && !l.is(i-1, "in", "im", "my", "the", "our", "for") || l.is(i+2, "of") && l.is(i+1, "year") || l.is(i+2, "wood", "yarn", "wool", "maple", "birch", "rubber", "quality", "material") {
			return
		}
		n, end = t.num, i+2
	case l.is(i, "grade", "klasse", "standard", "std", "form", "groep", "class", "classe", "year", "yr", "stufe", "jahrgangsstufe", "jahrgang", "jgst", "åk", "årskurs", "trinn", "klas", "klass", "klasa", "grado", "secondaire", "primary", "sec", "secondary", "y", "p", "s", "years", "grades", "lower", "upper", "kl", "m", "kurs") && cardinal(i+1):
		if l.is(i, "class", "y", "p", "s", "form", "m") && !(l.is(i, "class") && l.at(i+1).num >= 4) && !l.is(i-1, "in", "im", "a", "my", "for", "our", "with", "the", "from") && !l.at(i-1).mark || l.sized(i+2) {
			return
		}
		if l.is(i, "grade", "class", "year", "form") && l.is(i+2, "piece", "pieces", "exam", "exams", "theory", "practical", "practicals", "wool", "yarn", "felt", "cord", "thread", "percussion", "steel", "bolt", "bolts", "plywood", "of", "mallets", "chart", "charts", "music", "repertoire", "level", "titanium", "maple", "birch", "section", "sections", "part", "parts", "times", "verses", "phrases", "movements") {
			return
		}
		if l.is(i+2, "band", "solo") && l.is(i+3, "music", "piece", "pieces", "repertoire", "chart", "charts", "literature") {
			return
		}
		if l.is(i, "year") && (l.is(i-1, "last", "this", "per", "one") || l.is(i-1, "a") && l.at(i-2).isNum) {
			return
		}
		n, end = l.at(i+1).num, i+2
	case l.is(i, "k") && (l.at(i+1).isNum && l.at(i+1).num <= 12 || l.is(i+1, "to", "through", "thru") && l.at(i+2).isNum) && !l.at(i+2).hasUnit() && !l.at(i-1).isNum: // K-5
		n, end = 1, i+2
	case cardinal(i) && l.is(i+1, "klasse", "grade", "graders", "grader") && !l.at(i).ordinal:
		n, end = t.num, i+2
	case l.at(i).isNum && l.is(i+1, ".") && l.is(i+2, "klasse", "class"):
		n, end = t.num, i+3
	case ordinal(i) && l.is(i-1, "in") && (l.ends(i+1) || l.at(i+1).class&thing != 0) && l.is(i-2, "im", "am", "is", "hes", "shes", "theyre", "are"):
		n = t.num
	case t.ordinal && t.num >= 3 && t.num <= 8 && l.is(i-1, "en", "in") && l.is(i-2, "suis", "im", "am"):
		n = t.num
	default:
		return
	}
	if l.is(at, "upper", "lower") && !l.is(at-1, "in", "im") && !l.is(at-2, "in", "im") && (n < 3 || n > 6 || !l.ends(end)) || l.is(at-1, "since") || l.roles().Formerly(at) {
		return
	}
	if n < 1 || n > 13 || l.inSentence(at, college|uni) || l.past(at) || l.roles().LongAgo(end) || l.is(at-1, "taught") || l.is(at-2, "taught") {
		return
	}
	if role.Aside(l.roles(), at, end) {
		f.touch(l.line, at, end-1, false)
		return
	}
	if l.inGeneral(at) {
		f.touch(l.line, at, end-1, false)
		return
	}
	f.add(l.line, true, l.supposed(at), at, end-1)
}

// sized reports whether a unit of size stands at token i, and not where the
// school is or who goes there: year 8 in Leeds.
func (l ages) sized(i int) bool {
	return l.at(i).hasUnit() && !(l.is(i, "set") && l.at(i+1).isNum) && !l.is(i, "students", "kids", "pupils", "children") && !(l.is(i, "in") && !l.at(i+1).mark && l.at(i+1).class&(thing|unit) == 0)
}
