package toolbox

import (
	"slices"
	"strings"

	"mallow/assistant/settled"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/rules/change"
	"mallow/rules/facts"
	"mallow/rules/gate"
	"mallow/rules/propose"
)

// Wish is what a text given all at once asks for.
type Wish struct {
	Request    propose.Request
	Instrument string         // catalogue id; empty when none was named
	Heard      []string       // the answers in plain words
	Missed     []string       // stretches not understood
	Troubles   []string       // sentences on what was understood and can't be used
	Moves      []reading.Move // relative wishes, such as two notches softer
	Keep       []string       // what is to stay as it is
	Only       []string       // kinds of part that alone may change; empty is any
	Named      []string       // kinds of part that were named for the head
	Limits     []change.Limit // at most and at least
	Heads      int            // heads to build: as said, else as many as are held at once
	Grades     int            // of a graded set that is asked for; 0 for one head
	OwnG       float64        // what the head at hand weighs, as was said; 0 where it was not
	Assumed    []string       // of the parts on hand, and what has to be asked about them

	anyBall *propose.Request // the same with whatever ball; nil where none was named
}

// Wish reads a wish as given on a command line or in a roster: any answers the
// conversation would take, in one text. What it leaves open has the questions'
// defaults. An empty text is the plain wish. Theirs are descriptions of heads that
// it is about, which may say what they are played on.
func (k *Kit) Wish(text string, theirs ...string) Wish {
	st := settled.New(k.Ground)
	for _, text := range theirs {
		k.played(&st, text)
	}
	var w Wish
	if strings.TrimSpace(text) != "" {
		in, said := k.Read(text, understand.Context{Head: len(theirs) > 0, Note: true})
		st.Hear(held(said), "")
		w.Missed, w.Moves, w.Keep = in.Missed, in.Moves, in.Keeps
		w.Only, w.Limits, w.Grades = only(in), limits(in), in.Grades
		for _, p := range in.Parts {
			if p.Holding == reading.Named {
				w.Named = append(w.Named, p.Kind)
			}
		}
		for _, a := range settled.LimitsFirst(in.Takes) {
			if t := st.Answer(a); t != "" {
				w.Troubles = append(w.Troubles, t)
			}
		}
		w.Troubles = append(w.Troubles, st.Parts(in.Parts)...)
	}
	st.Settle()
	w.OwnG = st.Own.MassG
	h := st.Hand()
	w.Assumed = slices.Concat(h.Asks, h.Notes)
	if _, named := st.Only["core"]; named {
		other := st.Clone()
		delete(other.Only, "core")
		q := other.Request()
		w.anyBall = &q
	}
	w.Request, w.Instrument, w.Heard, w.Heads = st.Request(), st.Instrument, st.Answers(), st.Heads()
	return w
}

// played takes in what the description of a head that somebody has says of its
// instrument and of who plays it: one slice, 120 turns, vibraphone, cross grip.
func (k *Kit) played(st *settled.State, text string) {
	in, said := k.Read(text, understand.Context{Note: true})
	st.Hear(held(said), "")
	for _, a := range in.Takes {
		if strings.HasPrefix(a.Path, "instrument.") || a.Path == facts.PlayerGrip || a.Path == facts.PlayerMallets {
			st.Answer(a)
		}
	}
}

// only returns the kinds of part that a text wants changed and no other: change
// only the yarn.
func only(in reading.Reading) (kinds []string) {
	if !slices.Contains(in.Acts, reading.Change) {
		return nil
	}
	for _, about := range in.About {
		if about.Kind == "part" {
			kinds = append(kinds, about.ID)
		}
	}
	return kinds
}

// limits returns what a text says a head may come to at most, or at least, but for
// the floors of weight and size: these are facts.
func limits(in reading.Reading) (list []change.Limit) {
	for _, t := range in.Takes {
		if t.Bound == "least" && (t.Path == facts.WantMassG || t.Path == facts.WantDiameterMM) {
			continue
		}
		if x, ok := t.Value.(float64); ok && (t.Bound == "most" || t.Bound == "least") {
			list = append(list, change.Limit{Fact: t.Path, Most: t.Bound == "most", Value: x})
		}
	}
	return list
}

// Heed counts what else was said of those who make, hold or store the mallets:
// the careful answer of either counts.
func (w *Wish) Heed(said gate.Stated) {
	w.Request.Pass = gate.Settle(said.With(w.Request.Pass.Stated()))
}
