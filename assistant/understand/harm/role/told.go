package role

import (
	"math"
	"slices"
	"strings"
)

// How an age is told, and what is none.

// NoAge reports whether the number at word i is nobody's age, whatever stands beside
// it: 28.6; like I'm five; fifteen years old is our vibraphone.
func NoAge(l Line, i int) bool {
	if n := l.at(i).Num; n != math.Trunc(n) && n-math.Trunc(n) != 0.5 {
		return true
	}
	if l.is(i+1, "years", "year") && l.is(i+2, "old") && l.is(i+3, "is", "are") && (l.at(i+4).Is|l.at(i+5).Is)&Gear != 0 {
		return true
	}
	if l.is(i+1, "years", "year", "yrs") && (l.is(i+2, "of") && !l.is(i+3, "age") || l.is(i-1, "played", "playing", "taught", "teaching", "after", "past")) && !l.is(i+2, "old") {
		return true // in eight years of gigging; played 16 yrs
	}
	if l.is(i-1, "are", "were") && l.is(i-2, "we", "theyre", "they") && l.is(i+1, "on", "in", "at") && (l.at(i+2).Is|l.at(i+3).Is)&Gear != 0 {
		return true // we are five on mallets
	}
	for j := i - 1; j >= i-3 && l.at(j).Is&Mark == 0; j-- {
		if l.is(j, "like") && !l.is(j-1, "im", "id", "i", "would", "theyd", "shed", "hed", "was", "is", "are", "hes", "shes", "theyre", "were", "be") && l.is(j+1, "im", "i", "youre", "a", "an", "were", "hes", "shes", "theyre") {
			return true
		}
	}
	return false
}

// UpFrom returns the last word of a range of ages without an end that begins at the
// number at word i, 0 where there is none: from 17 to retired, from eighteen upward.
func UpFrom(l Line, i int) int {
	if t := l.at(i); t.Num < 5 || t.Num > 99 || !l.is(i-1, "from", "between") || !l.sentence(i, Person) {
		return 0
	}
	switch {
	case l.is(i+1, "to", "and") && (l.is(i+2, "retired", "retirement", "pensioner", "pensioners", "pension", "adult", "adults", "grown", "elderly", "ancient") || l.is(i+2, "well", "way") && l.is(i+3, "over", "past", "into")):
		return i + 2
	case l.is(i+1, "upward", "upwards") || l.is(i+1, "up") && l.stops(i+2):
		return i + 1
	}
	return 0
}

// Lives reports whether the number at word i is said of somebody by a form of
// be, with nothing but light words between: we're both 15, I'll be 16, she is
// only just 9.
func Lives(l Line, i int) bool {
	if WeAre(l, i-1) && !l.is(i+1, "on", "at", "in") {
		return true
	}
	be := l.is(i-2, "ranges", "range", "ranging", "goes", "go", "are", "is") && l.is(i-1, "from", "between") && l.is(i+1, "to", "and")
	if be && l.is(i-3, "band", "group", "ensemble", "section", "class", "choir", "club", "troop", "orchestra", "members", "ages") {
		return true
	}
	for j := i - 1; j >= 0 && j > i-7; j-- {
		t := l.at(j)
		switch {
		case t.Is&Mark != 0 || t.Is&Number != 0 || t.Is&Thing != 0 && !l.is(j, "its", "it"):
			return false
		case j == i-1 && t.Is&Short != 0 && strings.HasSuffix(t.Text, "s") && !l.is(j, "its", "thats", "theres", "whats", "heres", "wheres", "lets", "todays", "hows"): // the player's 14
			return true
		case l.is(j, "im", "hes", "shes", "theyre", "ill", "hell", "shell", "bin", "am", "soy", "sono") || t.Is&Short != 0 && l.is(j, "were", "well", "theyll", "youre"):
			return true
		case l.is(j, "is", "are", "be", "being", "m", "ist", "sind", "hab", "ho", "ai", "jai", "tengo", "tenho", "tiene", "tem", "ha", "have", "a"):
			be = be || !l.is(j, "a", "have") || l.is(j-1, "il", "elle")
		case t.Is&(Young|Student) != 0 || be && t.Is&Person != 0 && !l.is(j, "my", "our", "his", "her", "their", "your"):
			return be
		case l.is(j, "both", "all", "only", "just", "about", "around", "nearly", "almost", "now", "still", "already", "like", "roughly", "maybe", "barely",
			"turning", "going", "on", "will", "would", "from", "between", "ranges", "range", "of", "them", "us", "each", "either", "age", "aged", "he", "she", "we", "they", "really", "actually", "not", "yet",
			"practically", "basically", "gonna", "to", "legally", "officially", "probably"):
			if be && l.is(j, "he", "she", "we", "they") {
				return true
			}
		default:
			return false
		}
	}
	return false
}

// Introduced reports whether the speaker has just said what they are: I'm a
// nurse, 52.
func Introduced(l Line, i int) bool {
	for j := i - 2; j >= i-5; j-- {
		if l.at(j).Is&Mark != 0 {
			return false
		}
		if l.is(j, "im", "am") && l.is(j+1, "a", "an", "the") && l.at(i-2).Is&Thing == 0 || l.is(j, "grew") && l.is(j+1, "up") && j+2 == i-1 || l.is(j, "retired", "widowed", "divorced") && j == i-2 {
			return true
		}
	}
	return false
}

// Born returns where a year of birth stands that may be a child's, -1 where none
// does. No clock is asked: whoever was born since 2005 is asked about.
func Born(l Line) int {
	for i, w := range l {
		if w.Is&Number != 0 && (w.Num >= 2005 && w.Num < 2100 || w.Num >= 5 && w.Num < 35 && l.is(i-1, "in") && len(w.Text) == 2) && (l.is(i-1, "born") || l.is(i-2, "born")) {
			return i
		}
	}
	return -1
}

// Told reports whether the number at word i, which ends before word end, is told as an
// age by the words around it: seven he is; gone forty; age of members 13 to 15; the 9
// to 11 age group; seventeen a week from Saturday.
func Told(l Line, i, end int) bool {
	t := l.at(i)
	if t.Num < 3 || t.Num > 99 {
		return false
	}
	head := i == 0 || l.at(i-1).Is&Mark != 0
	switch {
	case head && l.is(end, "he", "she", "i") && l.is(end+1, "is", "am") && (l.at(end+2).Is&Mark != 0 || l.is(end+2, "and", "but", "now")):
		return true
	case l.is(i-1, "gone", "hit", "reached") && t.Num >= 25 && (l.at(i-2).Is&Mark != 0 || l.is(i-2, "i", "ive", "weve", "just", "all", "long", "well")) && l.stops(end) && !l.clause(i, Figure|Gear|Unit):
		return true
	case l.is(end, "age", "ages") && l.is(end+1, "group", "groups", "range", "bracket"):
		return true
	case l.is(end, "a") && l.is(end+1, "week", "fortnight", "month", "year") && l.is(end+2, "from", "on") && l.is(i-1, "be", "turning", "turn"):
		return true
	}
	if l.at(i-1).Is&(Person|Young|Student) == 0 {
		return false
	}
	for j := i - 2; j > i-5; j-- {
		if l.is(j, "of") && l.is(j-1, "age", "ages") {
			return true
		}
	}
	return false
}

// MeAlone reports whether the me at word i is the speaker as the subject of what
// follows, and not whom something was done to: me 12; not: it ran me 30.
func MeAlone(l Line, i int) bool {
	return l.at(i-1).Is&Mark != 0 || l.is(i-1, "just", "only", "and", "but", "its", "n", "of", "with", "so", "hi", "hello")
}

// LaterAdult reports whether he, she or they, after those named before word i in the
// same sentence, are said to be of age: my kid brother plays, he's 23.
func LaterAdult(l Line, i int) bool {
	for j := i; j < len(l) && l.at(j).Sentence == l.at(i-1).Sentence; j++ {
		if l.at(j).Is&(Helper|Young|Student|Grown) != 0 || l.Another(j) {
			return false
		}
		k := j + 1
		switch {
		case l.is(j, "hes", "shes", "theyre", "aged"):
		case l.is(j, "he", "she", "they") && l.is(k, "is", "are"):
			k++
		default:
			continue
		}
		for l.is(k, "now", "all", "only", "just", "about", "over", "from", "both", "already", "at", "least") {
			k++
		}
		if t := l.at(k); t.Is&Number != 0 && t.Num > Majority && t.Num < 100 && l.at(k+1).Is&Unit == 0 && (l.stops(k+1) || l.is(k+1, "odd", "upward", "upwards", "plus")) {
			return true
		}
	}
	return false
}

// Lends reports whether what was named before word i is only where a thing came from:
// the high school lent it to me.
func Lends(l Line, i int) bool {
	return l.is(i, "lent", "lends", "loaned", "sold", "donated", "threw") || l.is(i, "gave") && l.is(i+1, "me", "us", "it")
}

// Aside reports whether those whom words from..to-1 name are beside what is told here: a
// scout leader's scouts, a toddler things are put on, whoever took part in another year.
func Aside(l Line, from, to int) bool {
	first := l.First(from)
	switch {
	case l.is(first, "a", "another") && l.at(to).Is&Helper != 0,
		l.is(first-1, "on") && l.is(first, "a", "an"),
		l.is(first-1, "holding", "carrying", "feeding", "minding", "bathing", "rocking", "chasing") && first < from,
		l.is(first-1, "to", "teaches", "teach") && l.ForSelf() || l.is(first-1, "teaches") && l.Another(first-2), // I teach juggling to children; mallets are my private vice
		l.at(from-1).Is&Number != 0 && l.is(to, "in") && l.is(to+1, "my", "our") && l.at(to+2).Is&(Gear|School|Work) == 0 && !l.is(to+2, "care", "charge", "house", "home", "family", "flat", "kitchen", "garage", "shed", "shop", "street", "garden"):
		return true
	}
	return Before(l, from) && (l.pair("this", "year", "time", "term", "spring", "autumn", "summer") || slices.ContainsFunc(l, func(w Word) bool { return w.Text == "now" && w.Clause > l.at(from).Clause }))
}

// pair reports whether first stands before one of next in the line.
func (l Line) pair(first string, next ...string) bool {
	for i := range l {
		if l.is(i, first) && l.is(i+1, next...) {
			return true
		}
	}
	return false
}
