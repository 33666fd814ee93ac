package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
)

// octaveSpan is "top two octaves", to be settled once the instrument is known.
type octaveSpan struct {
	top  bool
	n    float64
	text string
}

// takeNotes takes a range of notes.
func (s *sentence) takeNotes(i int) int {
	it := s.item(i)
	if it.note == nil {
		return 0
	}
	lo, hi := 0.0, 0.0
	conf, n := 1.0, 1
	before, after := s.item(i-1), s.item(i+1)
	for k := i - 1; k > 0 && (s.filler(k) || s.item(k).mark == "-"); k-- {
		before = s.item(k - 1)
	}
	span := func(it *item, values ...string) bool {
		x := it.has("span")
		return x != nil && slices.Contains(values, x.value)
	}
	bound := func(it *item, value string) bool { x := it.has("bound"); return x != nil && x.value == value }
	joins := after.mark == "-" || span(after, "to") || after.has("join") != nil && span(before, "from") || bound(after, "most")
	if second := s.item(i + 2); joins && second.note != nil {
		lo, hi = min(it.note.Hz(), second.note.Hz()), max(it.note.Hz(), second.note.Hz())
		n = 3
	} else {
		switch {
		case span(after, "up"):
			lo, n = it.note.Hz(), 2
		case span(after, "down"):
			hi, n = it.note.Hz(), 2
		case bound(before, "most"), span(before, "to"), s.ctx.Asked == "instrument.high_hz":
			hi = it.note.Hz()
		case bound(before, "least"), span(before, "from", "above"), s.ctx.Asked == "instrument.low_hz":
			lo = it.note.Hz()
		case bound(before, "about"):
			lo, hi, conf = it.note.Hz()/math.Sqrt2, it.note.Hz()*math.Sqrt2, 0.6
		default:
			return 0
		}
	}
	if lo > 0 {
		s.add(Answer{Path: "instrument.low_hz", Value: lo, Degree: 1, Text: s.words(i, i+n), Confidence: conf})
	}
	if hi > 0 {
		s.add(Answer{Path: "instrument.high_hz", Value: hi, Degree: 1, Text: s.words(i, i+n), Confidence: conf})
	}
	s.bound = ""
	return n
}

// takeOctaves takes the size of an instrument, or a part of its range.
func (s *sentence) takeOctaves(i int) int {
	it := s.item(i)
	if x := it.has("span"); x != nil && (x.value == "top" || x.value == "bottom") || it.has("want.register") != nil {
		end := i + 1
		for s.filler(end) {
			end++
		}
		if q := s.item(end).qty; q != nil && q.dim == octaves && q.value <= 3 {
			return s.octaveSpan(i, end+1, q.value)
		}
		if next := s.item(end); next.has("unit") != nil && next.has("unit").value == "octave" {
			return s.octaveSpan(i, end+1, 1)
		}
		return 0
	}
	q := it.qty
	if q == nil || s.topic != "" || s.tooMuch {
		return 0
	}
	// "4.3" beside the instrument, or as the answer to which instrument
	named := s.names(s.item(i+1), "instrument.kind") || s.names(s.item(i-1), "instrument.kind")
	asked := strings.HasPrefix(s.ctx.Asked, "instrument.") && !strings.HasSuffix(s.ctx.Asked, "_hz")
	if q.dim != octaves && !(q.dim == plainNumber && q.value >= 2 && q.value <= 6 && (!q.whole && named || asked)) {
		return 0
	}
	id, kind := s.r.instrument(s.kindNear(i), s.barsSaid(), q.value)
	if id == "" {
		if q.dim == octaves {
			s.missed(i, i+1)
			return 1
		}
		return 0
	}
	text := s.words(i, i+1)
	if !s.answered("instrument.kind") && kind != s.kindNear(i) {
		s.add(Answer{Path: "instrument.kind", Value: kind, Degree: 1, Text: text, Confidence: 0.8})
	}
	s.add(Answer{Path: "instrument.id", Value: id, Degree: 1, Text: text, Confidence: s.sure(it)})
	return 1
}

// octaveSpan notes "top two octaves".
func (s *sentence) octaveSpan(i, end int, n float64) int {
	top := false
	for _, x := range s.item(i).senses {
		top = top || x.slot == "span" && x.value == "top" || x.slot == "want.register" && x.value == "high"
	}
	register := "low"
	if top {
		register = "high"
	}
	s.add(Answer{Path: "want.register", Value: register, Degree: 1, Text: s.words(i, end), Confidence: 1})
	s.octaves = append(s.octaves, octaveSpan{top, n, s.words(i, end)})
	return end - i
}

// kindNear returns the kind of instrument the sentence names, nearest to item
// i, or "".
func (s *sentence) kindNear(i int) string {
	best, far := "", len(s.items)+1
	for j := range s.items {
		for _, x := range s.items[j].senses {
			if d := max(j-i, i-j); x.slot == "instrument.kind" && d < far {
				best, far = x.value, d
			}
		}
	}
	if best == "" {
		best = s.r.kindOf(s.ctx.Instrument)
	}
	return best
}

// barsSaid returns what the sentence says the bars are made of, or "".
func (s *sentence) barsSaid() string {
	for i := range s.items {
		if x := s.items[i].has("instrument.bars"); x != nil {
			return x.value
		}
	}
	return ""
}

// settleOctaves turns "top octave" into notes of the instrument.
func (s *sentence) settleOctaves() {
	for _, o := range s.octaves {
		id := s.ctx.Instrument
		kind := ""
		for _, a := range s.out.Answers {
			if a.Path == "instrument.id" {
				id, _ = a.Value.(string)
			}
			if a.Path == "instrument.kind" {
				kind, _ = a.Value.(string)
			}
		}
		low, high, ok := s.r.noteSpan(id)
		if !ok || kind != "" && kind != s.r.kindOf(id) {
			continue
		}
		if o.top {
			low = high - measure.Note(math.Round(12*o.n))
		} else {
			high = low + measure.Note(math.Round(12*o.n))
		}
		s.add(Answer{Path: "instrument.low_hz", Value: low.Hz(), Degree: 1, Text: o.text, Confidence: 1})
		s.add(Answer{Path: "instrument.high_hz", Value: high.Hz(), Degree: 1, Text: o.text, Confidence: 1})
	}
}
