package figure

import "mallow/assistant/understand/quantity"

// hundreds is from how many on a number of sets or pairs is many.
const hundreds = 10

// Makes reports whether item i is a word for having made mallets.
func (s Place) Makes(i int) bool {
	if !s.Starts(i, "made", "built", "wound", "wrapped", "done", "did", "finished", "produced", "turned", "making", "winding", "wrapping", "building", "wind", "wrap", "make") {
		return false
	}
	if s.Starts(i, "make", "wind", "wrap") { // I wind a hundred every summer
		return s.Is(i-1, "i", "we") && s.HasWord(i, s.To, "every", "year", "time", "always", "all", "living", "often", "regularly")
	}
	return true
}

// Never reports whether never stands before in the clause.
func (s Place) Never() bool {
	return s.HasWord(s.From, s.To, "never", "nothing")
}

// Owner reports whether it is the person, or the people, who speak that item i
// is said of.
func (s Place) Owner(i int) bool {
	for j := i - 1; j >= s.From && j > i-6; j-- {
		if s.Starts(j, "i", "ive", "we", "weve", "been", "have", "already") {
			return true
		}
		if s.Starts(j, "he", "she", "they", "hes", "shes", "who", "it", "was", "were", "is", "are", "be", "want", "need", "get", "to") {
			return false
		}
	}
	return i == s.From || i == s.From+1
}

// HowMany returns the level that the count from item i on stands for, and where
// the words for it end; "" when none is said.
func (s Place) HowMany(i int) (level string, end int) {
	for j := i; j < s.To && j < i+4; j++ {
		q := s.Item(j).Qty
		n := 0.0
		switch {
		case q != nil && (q.Dim == quantity.Plain && q.Whole || q.Dim == quantity.Pieces):
			n = q.Value
		case s.Starts(j, "some"), s.Says(j, "few", "couple", "several"):
			n = 3
		case s.Says(j, "hundreds", "dozens", "lots", "loads", "many", "plenty", "tons", "countless", "thousands", "heaps"):
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

// MadeSoFar returns the level that the count before item i, a word for having made
// them, stands for: none made, half a dozen built in total; "" for none.
func (s Place) MadeSoFar(i int) string {
	if !s.Starts(i, "made", "built", "wound", "wrapped", "finished", "done") || !s.ClauseEnds(i+1) && !s.HasWord(i+1, i+3, "total", "altogether", "overall", "far", "already", "yet") {
		return ""
	}
	if s.HasWord(s.From, s.To, "want", "need", "like", "get", "be", "to", "should", "please", "must") {
		return ""
	}
	for j := s.From; j < i; j++ {
		q := s.Item(j).Qty
		switch {
		case s.Says(j, "none", "zero", "nothing") || s.Is(j, "no"):
			return "first"
		case s.Says(j, "dozens", "hundreds", "scores", "loads", "lots", "heaps", "countless", "many", "plenty"):
			return "many"
		case q != nil && q.Whole && (q.Dim == quantity.Plain || q.Form == "pair"):
			if q.Value >= hundreds {
				return "many"
			}
			return "some"
		case s.Says(j, "few", "couple", "several", "some", "handful", "dozen"):
			return "some"
		}
	}
	return ""
}

// heads reports whether what was counted before item i may be mallets.
func (s Place) heads(i int) bool {
	for j := i; j < i+3; j++ {
		if s.Says(j, "pair", "pairs", "set", "sets", "head", "heads", "mallets", "mallet", "ones", "them", "before", "already", "b4", "beaters") {
			return true
		}
		if j >= s.To || s.Item(j).Mark != "" {
			break
		}
	}
	return i >= s.To || s.ClauseEnds(i)
}

// For returns the level that the years at item i, for which somebody has made mallets, stand
// for, or "".
func For(s Place, i int) string {
	switch {
	case !s.HasWord(s.From, s.To, "made", "making", "make", "building", "wrapping", "wrap", "wrapped") || !s.HasWord(s.From, s.To, "for", "since") || s.At(s.Item(i).To).Is("ago"):
		return ""
	case s.Item(i).Qty.Value >= 3:
		return "many"
	}
	return "some"
}
