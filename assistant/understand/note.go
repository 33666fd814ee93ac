package understand

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
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
	it := s.Item(i)
	if it.Note == nil {
		return 0
	}
	lo, hi := 0.0, 0.0
	conf, n := 1.0, 1
	loBound, hiBound := "", ""
	before, after := s.Item(i-1), s.Item(i+1)
	for k := i - 1; k > 0 && (s.Filler(k) || s.Item(k).Mark == "-"); k-- {
		before = s.Item(k - 1)
	}
	span := func(it *cover.Item, values ...string) bool {
		x := it.Has("span")
		return x != nil && slices.Contains(values, x.Value)
	}
	joins := after.Has("bound") != nil && s.Says(i+1, "up", "down") && s.Item(i+2).Note != nil || after.Mark == "-" || span(after, "to") || after.Has("join") != nil && (span(before, "from") || s.between)
	hz := it.Note.Hz()
	second := s.Item(i + 2)
	if k := i + 2; joins && second.Note == nil && (s.Filler(k) || second.Has("bound") != nil && second.Has("bound").Value == "about") {
		second = s.Item(k + 1)
		n++
	}
	if joins && second.Note != nil {
		lo, hi = min(hz, second.Note.Hz()), max(hz, second.Note.Hz())
		n += 2
	} else {
		n = 1
		bound := cmp.Or(it.Limit, s.bound)
		switch {
		case span(after, "up"):
			lo, n = hz, 2
		case span(after, "down"):
			hi, n = hz, 2
		case bound == "most" && s.HasWord(max(s.clause.From, i-4), i, "down"): // goes down as far as F2
			lo = hz
		case bound == "most":
			hi, hiBound = hz, bound
		case bound == "least":
			lo, loBound = hz, bound
		case s.neg && span(before, "down", "bottom"):
			lo, loBound = hz, "least"
		case span(before, "to"), s.Ctx.Asked == "instrument.high_hz":
			hi = hz
		case span(before, "from", "above"), s.Ctx.Asked == "instrument.low_hz":
			lo = hz
		case s.place().Edge(i) < 0, it.Of == "instrument.low_hz":
			lo = hz
		case s.place().Edge(i) > 0, it.Of == "instrument.high_hz":
			hi = hz
		case bound == "about":
			lo, hi, conf = hz/math.Sqrt2, hz*math.Sqrt2, 0.6
		case mender(s).end(hz) == "instrument.low_hz":
			lo = hz
		case mender(s).end(hz) == "instrument.high_hz":
			hi = hz
		default:
			s.Item(i).Lost = true
			return 1
		}
	}
	if lo > 0 {
		s.add(reading.Take{Path: "instrument.low_hz", Value: lo, Bound: loBound, Degree: 1, Text: s.Said(i, i+n), Sure: conf})
	}
	if hi > 0 {
		s.add(reading.Take{Path: "instrument.high_hz", Value: hi, Bound: hiBound, Degree: 1, Text: s.Said(i, i+n), Sure: conf})
	}
	s.bound = ""
	return n
}

// takePitch takes a pitch in hertz of the lowest or the highest bar.
func (s noter) takePitch(i int) int {
	q := s.Item(i).Qty
	if q == nil || q.Dim != quantity.Pitch || q.Value < 25 || q.Value > 8000 {
		return 0
	}
	path := "instrument.low_hz"
	switch {
	case s.Ctx.Asked == "instrument.high_hz", s.place().Edge(i) > 0:
		path = "instrument.high_hz"
	case s.place().Edge(i) == 0 && s.Ctx.Asked != path:
		return 0
	}
	s.add(reading.Take{Path: path, Value: q.Value, Bound: s.bound, Degree: 1, Text: s.Said(i, i+1), Sure: 1})
	s.bound = ""
	return 1
}

// takeOctaves takes the size of an instrument, or a part of its range.
func (s noter) takeOctaves(i int) int {
	it := s.Item(i)
	if x := it.Has("span"); x != nil && (x.Value == "top" || x.Value == "bottom") || it.Has("want.register") != nil {
		end := i + 1
		for s.Filler(end) {
			end++
		}
		if q := s.Item(end).Qty; q != nil && q.Dim == quantity.Octaves && q.Value <= 3 {
			return s.octaveSpan(i, end+1, q.Value)
		}
		if next := s.Item(end); next.Has("unit") != nil && next.Has("unit").Value == "octave" {
			return s.octaveSpan(i, end+1, 1)
		}
		return 0
	}
	q := it.Qty
	if q == nil || s.topic != "" && !strings.HasPrefix(s.topic, "instrument.") || s.tooMuch {
		return 0
	}
	// "4.3" beside the instrument, or as the answer to which instrument
	named := cmp.Or(s.KindNear(i), s.r.bars.Kind(s.Ctx.Instrument)) != "" && s.Is(i-1, "a", "an") || s.Item(i+1).Has("instrument.kind") != nil || s.Item(i-1).Has("instrument.kind") != nil
	named = named || s.Is(i-1, "a", "an") && s.ClauseEnds(i+1) && (q.Value == 4.3 || q.Value == 4.33 || q.Value == 4.5 || q.Value == 3.5) && s.Answered("instrument.kind") // it's a 4.5
	asked := strings.HasPrefix(s.Ctx.Asked, "instrument.") && !strings.HasSuffix(s.Ctx.Asked, "_hz")
	if q.Dim != quantity.Octaves && !(q.Dim == quantity.Plain && q.Value >= 2 && q.Value <= 6 && (!q.Whole && named || asked)) {
		return 0
	}
	kind := cmp.Or(s.KindNear(i), s.r.bars.Kind(s.Ctx.Instrument))
	if s.KindNear(i) == "" && figure.Elsewhere(s.place(), i) { // she sings three octaves
		it.Lost, s.content = true, true
		return 1
	}
	text := s.Said(i, i+1)
	id, _ := s.r.bars.Nearest(kind, s.place().BarsSaid(), q.Value)
	if id == "" && (q.Dim != quantity.Octaves || q.Value < 1 || q.Value > 9) {
		return 0
	}
	s.add(reading.Take{Path: "instrument.octaves", Value: q.Value, Degree: 1, Text: text, Sure: it.Sure()})
	if id != "" && kind != "" {
		s.add(reading.Take{Path: "instrument.id", Value: id, Degree: 1, Text: text, Sure: it.Sure()})
	}
	return 1
}

// octaveSpan notes "top two octaves".
func (s noter) octaveSpan(i, end int, n float64) int {
	top := false
	for _, x := range s.Item(i).Senses {
		top = top || x.Slot == "span" && x.Value == "top" || x.Slot == "want.register" && x.Value == "high"
	}
	register := "low"
	if top {
		register = "high"
	}
	denied := s.neg || s.hold == reading.Avoid || s.hold == reading.Lack // not for the top octave
	s.add(reading.Take{Path: "want.register", Value: register, Degree: 1, Text: s.Said(i, end), Sure: 1, Not: denied})
	if denied {
		return end - i
	}
	s.octaves = append(s.octaves, octaveSpan{top, n, s.Said(i, end)})
	return end - i
}

// settleOctaves turns "top octave" into notes of the instrument.
func (s *walk) settleOctaves() {
	for _, o := range s.octaves {
		id, kind := s.Ctx.Instrument, ""
		for _, a := range s.Out.Takes {
			if a.Path == "instrument.id" {
				id, _ = a.Value.(string)
			}
			if a.Path == "instrument.kind" {
				kind, _ = a.Value.(string)
			}
		}
		low, high, ok := s.r.bars.Span(id)
		if !ok || kind != "" && kind != s.r.bars.Kind(id) {
			continue
		}
		if o.top {
			low = high - measure.Note(math.Round(12*o.n))
		} else {
			high = low + measure.Note(math.Round(12*o.n))
		}
		s.add(reading.Take{Path: "instrument.low_hz", Value: low.Hz(), Degree: 1, Text: o.text, Sure: 1})
		s.add(reading.Take{Path: "instrument.high_hz", Value: high.Hz(), Degree: 1, Text: o.text, Sure: 1})
	}
}
