package settled

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/hand"
	"mallow/assistant/reply"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
)

// Answer puts an answer into the facts, or says why it can't.
func (st *State) Answer(a reading.Take) string {
	path, v := a.Path, a.Value
	switch path {
	case "instrument.octaves":
		return "" // not of a head
	case facts.HeadMassG:
		st.Own.MassG, _ = v.(float64)
		return ""
	case facts.HeadDiameterMM:
		st.Own.MM, _ = v.(float64)
		return ""
	}
	if st.group(path, v) || path == facts.PlayerSmall && v == false && !st.Known[path] {
		return ""
	}
	if path == "instrument.id" {
		id, _ := v.(string)
		inst, ok := st.Catalogue.Instrument(id)
		if !ok || a.Not {
			return ""
		}
		st.setInstrument(inst)
		return ""
	}
	if a.Not {
		switch was := v.(type) {
		case bool:
			v = !was
		case string:
			if slices.Contains(facts.Words(path), "even") {
				v = "even"
				break
			}
			rest := slices.DeleteFunc(slices.Clone(facts.Words(path)), func(w string) bool { return w == was })
			if len(rest) != 1 {
				return fmt.Sprintf("Not %s, then; which one is it?", plain(a.Text, was))
			}
			v = rest[0]
		case float64:
			return fmt.Sprintf("Not %s, then; what should it be?", plain(a.Text, fmt.Sprint(was)))
		}
	}
	if x, ok := v.(float64); ok && a.Bound == "most" {
		// A limit is no wish: it narrows what the grip allows.
		switch path {
		case facts.WantMassG:
			st.Facts.Player.MostG, st.Facts.Player.EasyG = x, x
			st.Note(facts.PlayerMostG, fmt.Sprintf("at most %.1f g a head", x))
			return ""
		case facts.WantDiameterMM:
			st.Facts.Player.MostMM = x
			st.Note(facts.PlayerMostMM, "at most "+(measure.Length(x)*measure.Millimetre).String()+" across")
			return ""
		}
	}
	st.Stack = ""
	if x, ok := v.(float64); ok && floor(st, path, x, a.Bound == "least") {
		return ""
	}
	if path == facts.WantBudgetCents {
		st.shared = false
	}
	if facts.Set(&st.Facts, path, v) != nil {
		return fmt.Sprintf("I can't use %q as an answer.", a.Text)
	}
	if path == facts.InstrumentKind && !st.sameKind() {
		st.Instrument = ""
		for _, follows := range []string{facts.InstrumentBars, facts.InstrumentLowHz, facts.InstrumentHighHz} {
			st.forget(follows)
		}
	}
	if path == facts.WantColour {
		st.Facts.Want.Utmost = utmost(&a)
	}
	if path == facts.PlayerGrip {
		st.Facts.Player.Mallets = 0
	}
	if path == facts.PlayerMallets && !st.Known[facts.PlayerGrip] {
		if x, _ := v.(float64); x <= 2 {
			st.Facts.Player.Grip = "two"
			st.Note(facts.PlayerGrip, st.Say(facts.PlayerGrip))
		} else {
			st.Facts.Player.Grip = "cross"
		}
	}
	st.Note(path, st.Say(path))
	return ""
}

// utmost reports whether an answer in words was put as far as it goes: as bright as you
// can, the most brilliant.
func utmost(a *reading.Take) bool {
	words := strings.Fields(strings.ToLower(a.Text))
	return a.Degree >= 2 || slices.Contains(words, "most") || len(words) > 0 && strings.HasSuffix(words[len(words)-1], "est")
}

// floor takes in a weight or a size. What is to be x at least is no wish: it rules
// out what is less, and a wish for less is given up; and where x itself is wished
// for, a floor above it is. It reports whether that is all there is to take in.
func floor(st *State, path string, x float64, least bool) bool {
	w := &st.Facts.Want
	var wish, floor *float64
	var fact string
	switch path {
	case facts.WantMassG:
		wish, floor, fact = &w.MassG, &w.LeastG, facts.WantLeastG
	case facts.WantDiameterMM:
		wish, floor, fact = &w.DiameterMM, &w.LeastMM, facts.WantLeastMM
	default:
		return false
	}
	switch {
	case least:
		if *wish > 0 && *wish < x {
			st.forget(path)
		}
		*floor = x
		st.Note(fact, st.Say(fact))
	case *floor > x:
		st.forget(fact)
	}
	return least
}

// LimitsFirst returns the answers with what is at most something before the rest,
// and what is at least something last: of one line, no figure takes back another.
func LimitsFirst(list []reading.Take) []reading.Take {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b reading.Take) int { return order(a) - order(b) })
	return out
}

// order is 0 for what is at most something, 1 for a plain answer and 2 for what is
// at least something.
func order(t reading.Take) int {
	switch t.Bound {
	case "most":
		return 0
	case "least":
		return 2
	}
	return 1
}

// sameKind reports whether the instrument named is of the kind settled.
func (st *State) sameKind() bool {
	inst, ok := st.Catalogue.Instrument(st.Instrument)
	return ok && inst.Kind == st.Facts.Instrument.Kind
}

func (st *State) setInstrument(inst knowledge.Instrument) {
	st.Instrument = inst.ID
	st.Facts.Instrument = facts.Instrument{Kind: inst.Kind, Bars: inst.Bars, LowHz: inst.Low.Hz(), HighHz: inst.High.Hz()}
	st.Note(facts.InstrumentKind, inst.Name)
	st.Known[facts.InstrumentLowHz], st.Known[facts.InstrumentHighHz] = true, true
}

// Parts takes in the parts that one line names, and returns a sentence for each that
// it cannot use. Of parts of one kind that are wished for, any may be chosen:
// plastic, wood or metal.
func (st *State) Parts(list []reading.Part) (troubles []string) {
	var wished []reading.Part
	for _, p := range list {
		i := slices.IndexFunc(wished, func(w reading.Part) bool { return w.Kind == p.Kind })
		switch {
		case p.Holding != reading.Named && p.Holding != reading.Need || len(p.IDs) == 0:
		case i < 0:
			wished = append(wished, p)
		default:
			p.Text = wished[i].Text + " or " + p.Text
			p.IDs = append(slices.Clone(wished[i].IDs), p.IDs...)
			wished[i] = p
		}
		if t := part(st, p); t != "" {
			troubles = append(troubles, t)
		}
	}
	return troubles
}

// part takes in a part that was named.
func part(st *State, p reading.Part) string {
	if len(p.IDs) == 0 && p.Holding == reading.Avoid && p.Material+p.Made == "" {
		p.IDs = hand.All(st.Catalogue, p.Kind) // "no yarn"
	}
	if p.Holding == reading.Have {
		return st.have(p)
	}
	if p.Kind == reading.Tool {
		return tool(st, p)
	}
	if p.AnyGlue() && p.Holding == reading.Avoid { // then shape has to hold the shaft
		st.Without = append(st.Without, glued(st)...)
		st.Note("without "+p.Text, "without "+p.Text)
		st.Stack = ""
		return ""
	}
	if p.Holding == reading.Need && st.Known[spares] && !st.Known[buys+p.Kind] {
		st.Note(buys+p.Kind, p.Text+" may be bought")
		st.Stack = ""
	}
	if len(p.IDs) == 0 {
		if described := p.Material+p.Made+p.Weight != "" || p.Sized(); p.Kind == "glue" || p.Holding == reading.Lack || !described {
			return "" // the bench asks for a glue when it needs one; what is lacked or wanted in general is bought
		}
		return reply.Capital(hand.Unknown(st.Catalogue, p)) + "."
	}
	switch p.Holding {
	case reading.Avoid, reading.Lack:
		if p.Material == "latex" && p.Holding == reading.Avoid {
			st.Facts.Player.LatexOK = false
			st.Note(facts.PlayerLatexOK, st.Say(facts.PlayerLatexOK))
			return ""
		}
		st.Without = append(st.Without, p.IDs...)
		st.Note("without "+p.Text, "without "+p.Text)
	default:
		if p.Kind != "core" && p.Kind != "tube" && p.Kind != "yarn" && p.Kind != "shaft" {
			return ""
		}
		if st.Only == nil {
			st.Only = map[string][]string{}
		}
		st.Only[p.Kind] = p.IDs
		st.Note("with "+p.Kind, "with "+p.Text)
	}
	st.Stack = ""
	return ""
}

// tool takes in a tool that somebody lacks, needs or won't use, and says what does in
// its place.
func tool(st *State, p reading.Part) string {
	if p.Holding == reading.Need {
		st.Note("need "+p.Text, "to have: "+p.Text)
	} else {
		st.Note("without "+p.Text, "without "+p.Text)
	}
	for _, t := range st.Catalogue.Tools {
		if t.ID == p.Made && !strings.HasPrefix(t.Or, "none") {
			return reply.Capital("no " + p.Made + " at hand: " + t.Or + ".")
		}
	}
	return ""
}

// glued are the balls in which it is glue that holds a shaft.
func glued(st *State) []string {
	var ids []string
	for _, c := range st.Catalogue.Cores {
		m, _ := st.Catalogue.Material(c.Material)
		if end, ok := st.Catalogue.EndIn(m, true); ok && end.Hold == "glue" {
			ids = append(ids, c.ID)
		}
	}
	return ids
}

// have takes in a part that is on hand. Said again, it is the new amount that
// counts.
func (st *State) have(p reading.Part) string {
	if _, err := hand.Of(st.Catalogue, []reading.Part{p}, false); err != nil {
		return reply.Told(err)
	}
	st.Have = slices.DeleteFunc(slices.Clone(st.Have), func(old reading.Part) bool {
		return old.Kind == p.Kind && (slices.Equal(old.IDs, p.IDs) || p.Was != "" && p.Was == old.Text)
	})
	st.Have = append(st.Have, p)
	st.Note("have "+p.Text, "you have "+p.Text)
	st.Stack = ""
	return ""
}
