package understand

import (
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// takePractice takes how much somebody has made before: made like 3 pairs, been
// winding my own since the nineties, never done anything like this.
func (s figures) takePractice(i int) int {
	if !s.place().Makes(i) || s.clause.Act != reading.Tell || s.Answered(facts.PlayerLevel) && !s.SaidOf(facts.PlayerLevel).Not {
		return 0
	}
	if level := s.place().MadeSoFar(i); level != "" {
		s.neg = false
		s.add(reading.Take{Path: facts.PlayerLevel, Value: level, Degree: 1, Text: s.Said(s.clause.From, i+1), Sure: 0.9})
		return 1
	}
	level, end := s.place().HowMany(i + 1)
	own := s.place().Owner(i)
	switch {
	case s.neg && s.deniedAt < i && i-s.deniedAt < 4 && !s.Is(s.deniedAt, "without"):
		level, end = "first", i+1
		for s.Filler(end) || s.Is(end, "anything", "any", "such", "like", "before", "of", "sort", "kind") {
			end++
		}
		if !s.place().Never() && !s.HasWord(s.clause.From, s.clause.To, "before", "yet", "any", "anything", "ever") {
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
