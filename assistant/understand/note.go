package understand

import (
	"math"
	"slices"
	"strings"

	"mallow/knowledge/measure"
)

// noter takes notes and octaves.
type noter struct{ *walk }

// octaveSpan is "top two octaves", to be settled once the instrument is known.
type octaveSpan struct {
	top  bool
	n    float64
	text string
}

// takeNotes takes a range of notes.
func (s noter) takeNotes(i int) int {
	it := s.item(i)
	if it.note == nil {
		return 0
	}
	lo, hi := 0.0, 0.0
	conf, n := 1.0, 1
	loBound, hiBound := "", ""
	before, after := s.item(i-1), s.item(i+1)
	for k := i - 1; k > 0 && (s.filler(k) || s.item(k).mark == "-"); k-- {
		before = s.item(k - 1)
	}
	span := func(it *item, values ...string) bool {
		x := it.has("span")
		return x != nil && slices.Contains(values, x.Value)
	}
	joins := after.mark == "-" || span(after, "to") || after.has("join") != nil && (span(before, "from") || s.between)
	hz := it.note.Hz()
	second := s.item(i + 2)
	if k := i + 2; joins && second.note == nil && s.filler(k) {
		second = s.item(k + 1)
		n++
	}
	if joins && second.note != nil {
		lo, hi = min(hz, second.note.Hz()), max(hz, second.note.Hz())
		n += 2
	} else {
		n = 1
		bound := s.bound
		switch {
		case span(after, "up"):
			lo, n = hz, 2
		case span(after, "down"):
			hi, n = hz, 2
		case bound == "most":
			hi, hiBound = hz, bound
		case bound == "least":
			lo, loBound = hz, bound
		case s.neg && span(before, "down", "bottom"):
			lo, loBound = hz, "least"
		case span(before, "to"), s.ctx.Asked == "instrument.high_hz":
			hi = hz
		case span(before, "from", "above"), s.ctx.Asked == "instrument.low_hz":
			lo = hz
		case bound == "about":
			lo, hi, conf = hz/math.Sqrt2, hz*math.Sqrt2, 0.6
		default:
			s.item(i).lost = true
			return 1
		}
	}
	if lo > 0 {
		s.add(Take{Path: "instrument.low_hz", Value: lo, Bound: loBound, Degree: 1, Text: s.said(i, i+n), Sure: conf})
	}
	if hi > 0 {
		s.add(Take{Path: "instrument.high_hz", Value: hi, Bound: hiBound, Degree: 1, Text: s.said(i, i+n), Sure: conf})
	}
	s.bound = ""
	return n
}

// takeOctaves takes the size of an instrument, or a part of its range.
func (s noter) takeOctaves(i int) int {
	it := s.item(i)
	if x := it.has("span"); x != nil && (x.Value == "top" || x.Value == "bottom") || it.has("want.register") != nil {
		end := i + 1
		for s.filler(end) {
			end++
		}
		if q := s.item(end).qty; q != nil && q.dim == octaves && q.value <= 3 {
			return s.octaveSpan(i, end+1, q.value)
		}
		if next := s.item(end); next.has("unit") != nil && next.has("unit").Value == "octave" {
			return s.octaveSpan(i, end+1, 1)
		}
		return 0
	}
	q := it.qty
	if q == nil || s.topic != "" || s.tooMuch {
		return 0
	}
	// "4.3" beside the instrument, or as the answer to which instrument
	named := s.kindNear(i) != "" && s.is(i-1, "a", "an") || s.names(s.item(i+1), "instrument.kind") || s.names(s.item(i-1), "instrument.kind")
	asked := strings.HasPrefix(s.ctx.Asked, "instrument.") && !strings.HasSuffix(s.ctx.Asked, "_hz")
	if q.dim != octaves && !(q.dim == plainNumber && q.value >= 2 && q.value <= 6 && (!q.whole && named || asked)) {
		return 0
	}
	text := s.said(i, i+1)
	kind := s.kindNear(i)
	if only := s.r.onlyKind(q.value); kind == "" && only != "" {
		kind = only
		s.add(Take{Path: "instrument.kind", Value: kind, Degree: 1, Text: text, Sure: 0.8})
	}
	id, _ := s.r.instrument(kind, s.barsSaid(), q.value)
	if id == "" && (q.dim != octaves || q.value < 1 || q.value > 9) {
		return 0
	}
	s.add(Take{Path: "instrument.octaves", Value: q.value, Degree: 1, Text: text, Sure: s.sure(it)})
	if id != "" && kind != "" {
		s.add(Take{Path: "instrument.id", Value: id, Degree: 1, Text: text, Sure: s.sure(it)})
	}
	return 1
}

// octaveSpan notes "top two octaves".
func (s noter) octaveSpan(i, end int, n float64) int {
	top := false
	for _, x := range s.item(i).senses {
		top = top || x.Slot == "span" && x.Value == "top" || x.Slot == "want.register" && x.Value == "high"
	}
	register := "low"
	if top {
		register = "high"
	}
	s.add(Take{Path: "want.register", Value: register, Degree: 1, Text: s.said(i, end), Sure: 1})
	s.octaves = append(s.octaves, octaveSpan{top, n, s.said(i, end)})
	return end - i
}

// kindNear returns the kind of instrument the sentence names, nearest to item
// i, or "".
func (s noter) kindNear(i int) string {
	best, far := "", len(s.items)+1
	for j := range s.items {
		for _, x := range s.items[j].senses {
			if d := max(j-i, i-j); x.Slot == "instrument.kind" && d < far {
				best, far = x.Value, d
			}
		}
	}
	if best == "" {
		best = s.r.kindOf(s.ctx.Instrument)
	}
	return best
}

// barsSaid returns what the sentence says the bars are made of, or "".
func (s noter) barsSaid() string {
	for i := range s.items {
		if x := s.items[i].has("instrument.bars"); x != nil {
			return x.Value
		}
	}
	return ""
}

// settleOctaves turns "top octave" into notes of the instrument.
func (s *walk) settleOctaves() {
	for _, o := range s.octaves {
		id := s.ctx.Instrument
		kind := ""
		for _, a := range s.out.Takes {
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
		s.add(Take{Path: "instrument.low_hz", Value: low.Hz(), Degree: 1, Text: o.text, Sure: 1})
		s.add(Take{Path: "instrument.high_hz", Value: high.Hz(), Degree: 1, Text: o.text, Sure: 1})
	}
}
