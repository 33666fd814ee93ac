package assistant

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/audio"
	"mallow/assistant/compare"
	"mallow/assistant/gift"
	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/head"
)

// Gift is a file that a reply comes with: a page to look at, or a sound.
type Gift struct {
	Name   string // of the file
	Render func(io.Writer) error
	Sound  bool // to be played, where something can
	Keep   bool // a file was asked for, so a sound is not played
}

// gifts are the files about the heads on offer that a line can ask for.
type gifts struct {
	kit *Kit
	now *state
}

// give hands over what a line asks for, and reports whether it asks.
func (s *Session) give(line string) (Reply, bool) {
	var r Reply
	what := gift.Of(line)
	if what == gift.None {
		return r, false
	}
	if s.replaying { // it was given then
		return r, true
	}
	if s.now.stage != proposed {
		r.Say("There is no head yet to see or to hear; a few answers more.")
		return s.ask(r), true
	}
	asked := gifts{s.kit, &s.now}
	switch what {
	case gift.Sheet:
		if s.owes(&r, "Before the sheet, this has to come from you; then say it again.") {
			return s.ask(r), true
		}
		sh, err := s.Sheet()
		if err != nil {
			s.teller().Clash(&r.Said, err)
			return s.ask(r), true
		}
		r.Gift = &Gift{Name: "mallow-sheet.html", Render: sh.HTML}
	case gift.Page:
		v, err := compare.New(s.kit.Catalogue, asked.instrument(), "Heads on offer", asked.offered(line))
		if err != nil {
			r.Say("%s", reply.Told(err))
			return s.ask(r), true
		}
		r.Gift = &Gift{Name: "mallow-heads.html", Render: v.HTML}
	default:
		if err := asked.sound(&r, line, what == gift.SoundFile); err != nil {
			r.Say("%s", reply.Told(err))
		}
	}
	return s.ask(r), true
}

// offered are the heads that a line speaks of: the choices that it names, both
// or them, or all on offer.
func (s gifts) offered(line string) []compare.Entry {
	var list []compare.Entry
	said := strings.Fields(answer.Plain(line))
	numbers := map[string]int{"1": 1, "first": 1, "2": 2, "second": 2, "3": 3, "third": 3}
	var picked []int
	for _, w := range said {
		if n := numbers[w]; n > 0 && !slices.Contains(picked, n) {
			picked = append(picked, n)
		}
	}
	if len(picked) == 0 && (slices.Contains(said, "both") || slices.Contains(said, "comparison") || slices.Contains(said, "them")) {
		if list := s.wondered(); len(list) > 0 {
			return list
		}
	}
	if len(picked) == 0 {
		picked = []int{1, 2, 3}
		switch {
		case slices.Contains(said, "both"):
			picked = []int{1, 2}
		case slices.Contains(said, "it"), slices.Contains(said, "this"):
			picked = []int{1}
		}
	}
	for _, n := range picked {
		c, ok := s.kit.Offers.Choice(&s.now.State, n)
		if ok && !slices.ContainsFunc(list, func(e compare.Entry) bool { return e.Stack.String() == c.Stack.String() }) {
			list = append(list, compare.Entry{Name: fmt.Sprintf("Choice %d", n), Stack: c.Stack})
		}
	}
	return list
}

// wondered are the heads of the last what-if, while the head that it was asked of
// is the one at hand.
func (s gifts) wondered() []compare.Entry {
	now, err := s.kit.Offers.Best(&s.now.State)
	if err != nil || now.Stack.String() != s.now.pair[0] {
		return nil
	}
	then, err := head.Parse(s.kit.Catalogue, s.now.pair[1])
	if err != nil {
		return nil
	}
	return []compare.Entry{{Name: "As it is", Stack: now.Stack}, {Name: "What if", Stack: then}}
}

// sound makes a sketch of the heads that a line speaks of.
func (s gifts) sound(r *Reply, line string, keep bool) error {
	entries := s.offered(line)
	if len(strings.Fields(line)) < 2 && len(entries) > 1 { // play
		entries = entries[:1]
	}
	var voices []audio.Voice
	for _, e := range entries {
		voices = append(voices, audio.Voice{Name: strings.ToLower(e.Name), Head: head.New(e.Stack, s.kit.Catalogue.Limits)})
	}
	sketch, err := audio.Play(voices, audio.Score{Instrument: s.instrument(), Dynamics: s.kit.Catalogue.Dynamics, Alternate: len(voices) > 1})
	if err != nil {
		return err
	}
	r.Say("%.0f seconds of sound. %s", sketch.Seconds(), audio.Caveat)
	r.List(sketch.Guide())
	r.Gift = &Gift{Name: "mallow-sound.wav", Render: sketch.WAV, Sound: true, Keep: keep}
	return nil
}

// instrument is the one that was named, else the first of its kind.
func (s gifts) instrument() knowledge.Instrument {
	cat := s.kit.Catalogue
	if inst, ok := cat.Instrument(s.now.Instrument); ok {
		return inst
	}
	for _, inst := range cat.Instruments {
		if inst.Kind == s.now.Facts.Instrument.Kind {
			return inst
		}
	}
	inst, _ := cat.Instrument(reply.DefaultInstrument)
	return inst
}
