package understand

import (
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// hundreds is from how many on a number of sets or pairs is many.
const hundreds = 10

// takePractice takes how much somebody has made before: made like 3 pairs, been
// winding my own since the nineties, never done anything like this.
func (s figures) takePractice(i int) int {
	if !s.makes(i) || s.clause.Act != reading.Tell || s.Answered(facts.PlayerLevel) && !s.SaidOf(facts.PlayerLevel).Not {
		return 0
	}
	level, end := s.howMany(i + 1)
	own := s.owner(i)
	switch {
	case s.neg && s.deniedAt < i && i-s.deniedAt < 4:
		level, end = "first", i+1
		for s.Filler(end) || s.Is(end, "anything", "any", "such", "like", "before", "of", "sort", "kind") {
			end++
		}
		if !s.never() && !s.HasWord(s.clause.From, s.clause.To, "before", "yet", "any", "anything", "ever") {
			return 0
		}
	case level == "" && own && s.HasWord(s.clause.From, s.clause.To, "years", "decades", "since", "forever", "living", "ages", "decade") && s.HasWord(s.clause.From, i+1, "been", "ive", "weve", "have", "winding", "making", "building", "wrapping"):
		level, end = "many", i+1
		for j := i; j < s.clause.To; j++ {
			if q := s.Item(j).Qty; q != nil && q.Dim == quantity.Years {
				s.Item(j).Used = true
				if q.Value < 3 {
					level = "some"
				}
			}
		}
	case level == "" || !own:
		return 0
	}
	s.neg = false
	s.add(reading.Take{Path: facts.PlayerLevel, Value: level, Degree: 1, Text: s.Said(i, end), Sure: 0.9})
	return end - i
}

// makes reports whether item i is a word for having made mallets.
func (s figures) makes(i int) bool {
	if !s.Starts(i, "made", "built", "wound", "wrapped", "done", "did", "finished", "produced", "turned", "making", "winding", "wrapping", "building", "wind", "wrap", "make") {
		return false
	}
	if s.Starts(i, "make", "wind", "wrap") { // I wind a hundred every summer
		return s.Is(i-1, "i", "we") && s.HasWord(i, s.clause.To, "every", "year", "time", "always", "all", "living", "often", "regularly")
	}
	return true
}

// never reports whether never stands before in the clause.
func (s figures) never() bool {
	return s.HasWord(s.clause.From, s.clause.To, "never", "nothing")
}

// owner reports whether it is the person, or the people, who speak that item i
// is said of.
func (s figures) owner(i int) bool {
	for j := i - 1; j >= s.clause.From && j > i-6; j-- {
		if s.Starts(j, "i", "ive", "we", "weve", "been", "have", "already") {
			return true
		}
		if s.Starts(j, "he", "she", "they", "hes", "shes", "who", "it", "was", "were", "is", "are", "be", "want", "need", "get", "to") {
			return false
		}
	}
	return i == s.clause.From || i == s.clause.From+1
}

// howMany returns the level that the count from item i on stands for, and where
// the words for it end; "" when none is said.
func (s figures) howMany(i int) (level string, end int) {
	for j := i; j < s.clause.To && j < i+4; j++ {
		q := s.Item(j).Qty
		n := 0.0
		switch {
		case q != nil && (q.Dim == quantity.Plain && q.Whole || q.Dim == quantity.Pieces):
			n = q.Value
		case s.Starts(j, "some"), s.wordIn(j, "few", "couple", "several"):
			n = 3
		case s.wordIn(j, "hundreds", "dozens", "lots", "loads", "many", "plenty", "tons", "countless", "thousands", "heaps"):
			n = hundreds
		case s.Filler(j), s.Is(j, "like", "about", "maybe", "roughly", "around"), s.Item(j).Has("bound") != nil, s.Item(j).Has("degree") != nil:
			continue
		default:
			return "", i
		}
		if !s.heads(j + 1) {
			return "", i
		}
		if level = "some"; n >= hundreds {
			level = "many"
		}
		return level, j + 1
	}
	return "", i
}

// wordIn reports whether one of words is in item j.
func (s figures) wordIn(j int, words ...string) bool { return s.HasWord(j, j+1, words...) }

// heads reports whether what was counted before item i may be mallets.
func (s figures) heads(i int) bool {
	for j := i; j < i+3; j++ {
		if s.wordIn(j, "pair", "pairs", "set", "sets", "head", "heads", "mallets", "mallet", "ones", "them", "before", "already", "b4", "beaters") {
			return true
		}
		if j >= s.clause.To || s.Item(j).Mark != "" {
			break
		}
	}
	return i >= s.clause.To || s.ClauseEnds(i)
}
