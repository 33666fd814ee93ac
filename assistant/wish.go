package assistant

import (
	"fmt"
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/understand"
	"mallow/knowledge/measure"
	"mallow/rules/gate"
	"mallow/rules/propose"
	"mallow/rules/stock"
)

// Wish is what a text given all at once asks for.
type Wish struct {
	Request    propose.Request
	Instrument string            // catalogue id; empty when none was named
	Heard      []string          // the answers in plain words
	Missed     []string          // stretches not understood
	Troubles   []string          // sentences on what was understood and can't be used
	Moves      []understand.Move // relative wishes, such as two notches softer
	Keep       []string          // what is to stay as it is
}

// Wish reads a wish as given on a command line or in a roster: any answers the
// conversation would take, in one text. What it leaves open has the questions'
// defaults. An empty text is the plain wish.
func (k *Kit) Wish(text string) Wish {
	st := settled.New(k.ground)
	var w Wish
	if strings.TrimSpace(text) != "" {
		in, facts := k.read(text, understand.Context{})
		st.Hear(facts, "")
		w.Missed, w.Moves, w.Keep = in.Missed, in.Moves, in.Keep
		for _, a := range in.Answers {
			if t := st.Answer(a); t != "" {
				w.Troubles = append(w.Troubles, t)
			}
		}
		for _, p := range in.Parts {
			if t := st.Part(p); t != "" {
				w.Troubles = append(w.Troubles, t)
			}
		}
	}
	st.Settle()
	w.Request, w.Instrument, w.Heard = st.Request(), st.Instrument, st.Answers()
	return w
}

// Heed counts what else was said of those who make, hold or store the mallets:
// the careful answer of either counts.
func (w *Wish) Heed(said gate.Stated) {
	w.Request.Pass = gate.Settle(said.With(w.Request.Pass.Stated()))
}

// Bin reads parts on hand out of free text. A part without an amount counts as
// one piece, one skein, or a foot of tubing. A description that several parts
// fit is each of them only once: the first in the catalogue's order is taken.
// What was assumed is returned as sentences.
func (k *Kit) Bin(text string) (*stock.Bin, []string, error) {
	in := k.Reader.Read(text, understand.Context{Asked: understand.AskParts})
	bin := &stock.Bin{}
	var notes []string
	for _, p := range in.Parts {
		if p.Holding == understand.Lack || p.Holding == understand.Need || p.Holding == understand.Avoid {
			continue
		}
		if len(p.IDs) == 0 {
			return nil, nil, fmt.Errorf("nothing in the catalogue fits %q; `mallow parts` lists what does", p.Text)
		}
		item := stock.Item{Part: p.IDs[0], Amount: p.Amount}
		if len(p.IDs) > 1 {
			notes = append(notes, fmt.Sprintf("%q could be %s; %s is taken.", p.Text, strings.Join(reply.FirstFew(p.IDs), ", "), item.Part))
		}
		switch {
		case p.Amount < 0:
			return nil, nil, fmt.Errorf("%q: an amount can't be below zero", p.Text)
		case p.Kind == "tube" && p.Amount == 0:
			item.Amount = float64(measure.Foot)
			notes = append(notes, fmt.Sprintf("No length was given for %q; a foot is assumed.", p.Text))
		case p.Kind == "yarn" && p.Unit == "kg":
		case p.Kind == "yarn":
			yarn, ok := k.Catalogue.Yarn(item.Part)
			if !ok {
				return nil, nil, fmt.Errorf("%q is not a yarn", p.Text)
			}
			if p.Unit == "m" {
				item.Amount = p.Amount * yarn.Tex.Value * 1e-6 // tex is grams a kilometre
			} else {
				item.Amount = max(p.Amount, 1) * float64(yarn.Pack)
			}
		case p.Amount == 0:
			item.Amount = 1
		}
		bin.Items = append(bin.Items, item)
	}
	if len(bin.Items) == 0 {
		return nil, nil, fmt.Errorf("no part was understood in %q; say, for example, 'two 1 1/8 plastic balls, a foot of 3/4 by 1/8 latex, grey wool'", text)
	}
	for _, m := range in.Missed {
		notes = append(notes, fmt.Sprintf("Nothing was made of %q.", m))
	}
	return bin, notes, nil
}
