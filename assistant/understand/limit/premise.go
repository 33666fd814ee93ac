package limit

import "strings"

// premise reports whether what lies past the figure or grade at item i is a condition
// under which something happens that nobody praises: anything over 35 g and my tendons
// start shouting; if it comes out wider than 40 mm I hit two bars.
func (m marker) premise(i int) bool {
	from := i
	for from > 0 && !m.SentenceEnds(from-1) && m.Item(from-1).Mark != "," {
		from--
	}
	_, to := m.Sentence(i, i+1)
	if m.Item(to).Mark == "?" || m.HasWord(from, i, "want", "wants", "need", "needs", "please", "make", "like", "should", "must", "has", "have", "keep", "id", "prefer", "only") {
		return false
	}
	j := i + 1
	for m.Filler(j) && !m.Subject(j) || m.Item(j).Any("role", "unit") || m.Item(j).Mark == "," {
		j++
	}
	switch when := m.HasWord(from, i, "if", "when", "whenever", "once"); {
	case j+1 >= to, m.praised(j, to):
		return false
	case when && m.HasWord(from, from+2, "if", "when", "whenever", "once", "and", "but"):
		return !m.Says(j, "then", "so", "but", "or", "and") || m.Says(j, "then")
	case when: // my wrist swells if it's over 30 g
		return false
	}
	if verb := m.Said(j, j+1); strings.HasSuffix(verb, "s") && len(verb) > 3 && m.Item(i+1).Mark == "" && (m.Unknown(j) || m.Says(j, "makes", "gives", "gets", "hurts", "tires", "breaks", "feels", "plays", "sounds")) && m.pastWord(from, i) {
		return true // smaller than 30 mm rattles between the bars
	}
	return m.Is(j, "and") && (m.Subject(j+1) || m.OfPart(j+1) || j+1 < to && strings.HasSuffix(m.Said(j+1, j+2), "s") && m.Unknown(j+1)) && m.pastWord(from, i)
}

// pastWord reports whether a word for what lies past something begins the items from..to.
func (m marker) pastWord(from, to int) bool {
	for j := from; j < to && j < from+3; j++ {
		if m.Item(j).Any("bound", "past", "move", "wish") || m.Starts(j, "anything", "go", "get", "over", "above", "past") {
			return true
		}
		if !m.Filler(j) {
			return false
		}
	}
	return false
}

// praised reports whether the items from..to say that something is well.
func (m marker) praised(from, to int) bool {
	return m.HasWord(from, to, "fine", "ok", "okay", "good", "great", "better", "happy", "happier", "love", "perfect", "welcome", "nice", "well", "works", "lovely", "comfortable", "easier", "suits", "pleased", "delighted", "alright", "ideal", "best", "up", "more", "less") &&
		!m.HasWord(from, to, "not", "no", "never", "cant", "isnt", "wont", "arent", "dont", "too", "hardly")
}
