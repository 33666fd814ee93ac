package assistant

import (
	"maps"
	"slices"
	"strings"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/several"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
)

// queue is the conversation while more than one head is wanted.
type queue struct{ *Session }

// keep keeps the heads that come after the one at hand, and says which is
// first.
func (s queue) keep(r *Reply, in reading.Reading, later []several.Head) {
	for _, h := range later {
		s.now.later = several.Add(&s.now.State, s.now.later, h)
	}
	s.now.Among(1 + len(s.now.later))
	var all []string
	for _, t := range in.Takes {
		if words, ok := s.now.Said(t.Path); ok && slices.Contains([]string{"want.pairs", "want.total_budget", "class.size"}, t.Path) {
			all = append(all, words)
		}
	}
	if len(all) > 0 {
		r.Say("Taken: %s.", strings.Join(all, "; "))
	}
	r.Say("Taken, one after the other: first %s, then %s.", several.Name(&s.now.State), several.Names(s.now.later))
}

// further keeps a head that is asked for beside the one at hand, and reports
// whether a line asks for one.
func (s queue) further(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	if slices.ContainsFunc(in.Takes, func(t reading.Take) bool { return t.Head > 0 }) {
		return r, false
	}
	kind := several.KindIn(s.kit.Catalogue, in.Takes)
	_, waits := several.Pick(s.now.later, kind)
	if !several.Further(&s.now.State, in, line) && !(waits && kind != s.now.Facts.Instrument.Kind && !in.Corrects) {
		return r, false
	}
	s.remember()
	// The question that is open is about another head.
	in, _ = s.kit.Reader().Read(line, understand.Context{}).Apart()
	h := several.New(&s.now.State, in.Takes)
	s.now.later = several.Add(&s.now.State, s.now.later, h)
	s.now.Among(1 + len(s.now.later))
	i, ok := several.Pick(s.now.later, h.Kind)
	if !ok {
		i = len(s.now.later) - 1
	}
	r.Say("Kept for after this one: %s.", s.now.later[i].Name)
	s.teller().Missed(&r.Said, in)
	return s.ask(r), true
}

// turn answers a line about the heads that come after, and reports whether it
// is one.
func (s queue) turn(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	plain := answer.Plain(line)
	if s.now.turning {
		s.now.turning = false
		switch {
		case plain == "" || slices.Contains([]string{"yes", "y", "ok", "okay", "sure", "yes please", "go on", "next"}, plain):
			return s.next(r, 0), true
		case slices.Contains([]string{"no", "n", "not now", "later", "no thanks"}, plain):
			r.Say("It is kept; say next head when you like.")
			return s.ask(r), true
		}
	}
	if slices.Contains([]string{"next head", "the next head", "next one", "the next one", "the next ones", "the other one", "the other ones", "the other head", "go on with the next", "go on with the next head", "next mallet", "next pair", "the next pair"}, plain) {
		if len(s.now.later) == 0 {
			r.Say("No other head waits. Say what else you need, such as: another one for vibraphone, medium.")
			return s.ask(r), true
		}
		return s.next(r, 0), true
	}
	rest, asks := "", false
	for _, lead := range []string{"what about ", "how about ", "and what about ", "and ", "what of ", "now ", "next ", "then ", "ok now ", "now do ", "lets do ", "now lets do "} {
		if after, ok := strings.CutPrefix(plain, lead); ok {
			rest, asks = after, strings.Contains(lead, "about") || strings.HasSuffix(strings.TrimSpace(line), "?")
		}
	}
	if rest == "" || len(strings.Fields(rest)) > 4 {
		return r, false
	}
	kind := several.KindIn(s.kit.Catalogue, s.kit.Reader().Read(rest, understand.Context{}).Takes)
	i, ok := several.Pick(s.now.later, kind)
	switch {
	case kind == "":
		return r, false
	case ok && asks:
		r.Say("That comes after this one: %s. Say next head to go on with it now.", s.now.later[i].Name)
		return s.ask(r), true
	case ok:
		return s.next(r, i), true
	case asks && s.now.Known["instrument.kind"] && kind != s.now.Facts.Instrument.Kind:
		s.remember()
		s.now.later = append(slices.Clone(s.now.later), several.New(&s.now.State, []reading.Take{{Path: "instrument.kind", Value: kind, Text: kind, Sure: 1}}))
		s.now.Among(1 + len(s.now.later))
		r.Say("That is another head: kept for after this one. Say next head to go on with it now, or what if it is for %s to see what this one would do there.", kind)
		return s.ask(r), true
	}
	return r, false
}

// next goes on with a head that waits. The one at hand waits in its place,
// unless it is done.
func (s queue) next(r Reply, i int) Reply {
	s.remember()
	h := s.now.later[i]
	later, benches := slices.Delete(slices.Clone(s.now.later), i, i+1), s.now.benches
	if !s.now.done && s.now.Known["instrument.kind"] {
		parked := s.now.State.Clone()
		wait := several.Head{Name: several.Name(&parked), Kind: parked.Facts.Instrument.Kind, State: &parked}
		later = append(later, wait)
		if s.now.bench != nil {
			benches = maps.Clone(benches)
			if benches == nil {
				benches = map[string]*along.Build{}
			}
			benches[wait.Name] = s.now.bench.Clone()
		}
	}
	next := state{State: several.After(&s.now.State, h.Takes), stage: asking, heard: s.now.heard, teaching: s.now.teaching}
	if h.State != nil {
		next.State, next.seen = h.State.Clone(), true
		next.Keep(s.now.State)
	}
	next.later, next.prompted = later, s.now.prompted
	next.heard = reading.Reading{Parts: s.now.heard.Parts}
	next.benches = benches
	s.now = next
	r.Say("Now %s.", h.Name)
	if b := benches[h.Name]; h.State != nil && b != nil {
		s.now.bench, s.now.stage = b.Clone(), proposed
		return building(s).along(r, s.now.bench.Show())
	}
	return s.Session.next(r)
}
