package assistant

import (
	"io"

	"mallow/assistant/audio"
	"mallow/assistant/compare"
	"mallow/assistant/gift"
	"mallow/assistant/reply"
)

// Gift is a file that a reply comes with: a page to look at, or a sound.
type Gift struct {
	Name   string // of the file
	Render func(io.Writer) error
	Sound  bool // to be played, where something can
	Keep   bool // a file was asked for, so a sound is not played
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
	asked := gift.Asked{Kit: s.kit, State: &s.now.State, Pair: s.now.pair}
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
		v, err := compare.New(s.kit.Catalogue, asked.Instrument(), "Heads on offer", asked.Offered(line))
		if err != nil {
			r.Say("%s", reply.Told(err))
			return s.ask(r), true
		}
		r.Gift = &Gift{Name: "mallow-heads.html", Render: v.HTML}
	default:
		sketch, err := asked.Sound(line)
		if err != nil {
			r.Say("%s", reply.Told(err))
			break
		}
		r.Say("%.0f seconds of sound. %s", sketch.Seconds(), audio.Caveat)
		r.List(sketch.Guide())
		r.Gift = &Gift{Name: "mallow-sound.wav", Render: sketch.WAV, Sound: true, Keep: what == gift.SoundFile}
	}
	return s.ask(r), true
}
