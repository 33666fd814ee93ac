package tell

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/hand"
	"mallow/assistant/offer"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/several"
	"mallow/assistant/shape"
	"mallow/assistant/understand/reading"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// Why gives the reason for a question, a layer, a part or the head.
func (t Teller) Why(r *Said, in reading.Reading, line string) {
	if !t.Proposed && (len(in.Parts)+len(in.Supposed.Parts) > 0 || slices.ContainsFunc(in.About, ofHead)) {
		r.Say("No head is offered yet, so there is nothing to give reasons for: a few answers first, then ask why of any part of it.")
		return
	}
	if sh, ok := shape.Read(line); ok && sh.By == 0 && t.whyShape(r, sh) {
		return
	}
	for _, p := range append(in.Parts, in.Supposed.Parts...) {
		t.whyPart(r, p.Kind)
		return
	}
	for _, about := range in.About {
		switch about.Kind {
		case "layer":
			t.whyLayer(r, about.N)
			return
		case "part":
			t.whyPart(r, about.ID)
			return
		case "question":
			if t.Asked != "" {
				t.whyQuestion(r, t.Asked)
				return
			}
		case "fact":
			t.whyFact(r, about.ID)
			return
		case "stack", "choice":
			t.whyHead(r, max(about.N, 1))
			return
		}
	}
	switch {
	case t.Asked != "":
		t.whyQuestion(r, t.Asked)
	case t.Proposed:
		t.whyHead(r, 1)
	default:
		r.Say("A head has to fit the instrument, the hand and the sound you want; the more of that you tell me, the better it will.")
	}
}

// whyShape says why the head has as many turns or layers, or a ball of such a
// size, as a line names; false where it hasn't.
func (t Teller) whyShape(r *Said, sh shape.Shape) bool {
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		return false
	}
	if !t.Proposed {
		r.Say("There is no head on offer yet: a few answers more, and I can say why it is as it is.")
		return true
	}
	switch {
	case sh.Turns >= 0 && c.Head.Turns > 0:
		if sh.Turns != c.Head.Turns {
			r.Say("The head has %d turns, not %d.", c.Head.Turns, sh.Turns)
		}
		t.whyTurns(r, c)
	case sh.Layers >= 0:
		if sh.Layers != len(c.Stack.Slices) {
			r.Say("The head has %s.", reply.Count(len(c.Stack.Slices), "rubber layer"))
		}
		t.whyLayer(r, 0)
	case sh.Core > 0:
		t.whyPart(r, "core")
	default:
		return false
	}
	return true
}

// whyTurns says what the turns of yarn do: what a tenth more or fewer would
// change.
func (t Teller) whyTurns(r *Said, c propose.Candidate) {
	t.rulesOn(r, c, func(f rules.Firing) bool {
		return (f.Rule.Do == rules.Prefer || f.Rule.Do == rules.Note) && slices.Contains(t.Kit.Book.Reads(f.Rule), facts.HeadTurns)
	})
	for _, by := range []int{c.Head.Turns / 10, -c.Head.Turns / 10} {
		x, ok := t.Kit.Offers.Shaped(t.State, c, shape.Shape{Layers: -1, Turns: c.Head.Turns + by})
		switch {
		case ok && x.Refused == nil:
			r.Say("%+d turns: %s", by, reply.Against(c, x.Candidate))
		case x.Refused != nil:
			why := reply.Reason(*x.Refused)
			r.Say("%+d turns: refused, since %s", by, strings.ToLower(why[:1])+why[1:])
		}
	}
}

// whyFact says why a fact matters, what was said about it, and which rules
// met it.
func (t Teller) whyFact(r *Said, path string) {
	if q, ok := t.Kit.Catalogue.Question(path); ok {
		r.Say("%s", q.Why)
		if said, ok := t.State.Said(path); ok {
			r.Say("You said: %s.", said)
		}
	}
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		return
	}
	if t.Proposed {
		t.ShowFact(r, path)
	}
	// A wish is judged by the fact of the head that answers it.
	paths := []string{path, strings.Replace(path, "want.", "head.", 1)}
	t.rulesOn(r, c, func(f rules.Firing) bool {
		return slices.ContainsFunc(t.Kit.Book.Reads(f.Rule), func(p string) bool { return slices.Contains(paths, p) })
	})
}

// whyHead says what made a head the best.
func (t Teller) whyHead(r *Said, n int) {
	c, ok := t.Kit.Offers.Choice(t.State, n)
	if !ok {
		r.Say("There is no head number %d.", n)
		return
	}
	r.Say("%s", reply.InShort(c))
	spoke := func(keep func(weight float64) bool) []string {
		var lines []string
		for _, f := range reply.Spoke(c.Trace, func(f rules.Firing) bool { return f.Rule.Do == rules.Prefer && keep(f.Rule.Weight) }) {
			lines = append(lines, reply.Capital(f.Reason)+".")
		}
		return lines[:min(2, len(lines))]
	}
	if speaks := spoke(func(w float64) bool { return w > 0 }); len(speaks) > 0 {
		r.Say("What speaks for it:")
		r.List(speaks)
	}
	if against := spoke(func(w float64) bool { return w < 0 }); len(against) > 0 {
		r.Say("What speaks against it:")
		r.List(against)
	}
	*t.Traced = Screens(reply.Spoke(c.Trace, func(f rules.Firing) bool { return f.Rule.Do == rules.Prefer || f.Rule.Do == rules.Note }))
	if p, err := t.Kit.Offers.Propose(t.State); err == nil && n == 1 && len(p.Alternatives) > 0 {
		a := p.Alternatives[0]
		r.Say("The nearest other kind of head (%s) lost by %.1f points: %s", a.Kind, c.Score-a.Score, reply.Against(c, a.Candidate))
	}
}

// rulesOn lists the reasons of the rules that fired on a head, those that
// weigh most first. What each met is kept for whoever asks for the rules.
func (t Teller) rulesOn(r *Said, c propose.Candidate, keep func(rules.Firing) bool) {
	const most = 3
	fired := reply.Spoke(c.Trace, keep)
	if len(fired) == 0 {
		r.Say("No rule of the book speaks of that, and I can't answer it otherwise: ask what if, what a word means, or what else you wonder about the head.")
		return
	}
	var lines []string
	for _, f := range fired[:min(most, len(fired))] {
		lines = append(lines, reply.Reason(f))
	}
	r.List(lines)
	*t.Traced = Screens(fired)
}

// Screens are rules in full, a screen for every two.
func Screens(fired []rules.Firing) []page.Page {
	const each, most = 2, 12
	fired = fired[:min(most, len(fired))]
	var list []page.Page
	for i := 0; i < len(fired); i += each {
		var lines []string
		for _, f := range fired[i:min(i+each, len(fired))] {
			lines = append(lines, reply.Traced(f))
		}
		list = append(list, page.Page{page.List{Items: lines}})
	}
	return list
}

// whyLayer says what a layer does: its fit, and the head without it.
func (t Teller) whyLayer(r *Said, n int) {
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		t.Clash(r, err)
		return
	}
	layers := c.Head.Layers
	if len(layers) == 0 {
		r.Say("The head has no rubber layer: the yarn lies straight on the core.")
		return
	}
	if n < 0 || n == 0 {
		n = len(layers)
	}
	if n > len(layers) {
		r.Say("The head has %d rubber layers, so there is no layer %d.", len(layers), n)
		return
	}
	l := layers[n-1]
	r.Say("%s", t.Words().OfLayer(l, n))
	without := c.Stack
	without.Slices = slices.Delete(slices.Clone(c.Stack.Slices), n-1, n)
	for i := range without.Slices {
		without.Slices[i].Cut = 0
	}
	if bare, err := t.Kit.Offers.Consider(t.State, without); err == nil {
		r.Say("Without it: %s", reply.Against(c, bare))
		if f := bare.Refused(); f != nil {
			r.Say("And that head would be refused: %s", reply.Reason(*f))
		}
	}
	about := fmt.Sprintf("layer %d", n)
	t.rulesOn(r, c, func(f rules.Firing) bool { return f.About == about })
}

// whyPart says what choosing another part of the kind would cost.
func (t Teller) whyPart(r *Said, kind string) {
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		t.Clash(r, err)
		return
	}
	id := ""
	switch {
	case kind == "core":
		id = c.Stack.Core.ID
	case kind == "yarn" && c.Stack.Wrap != nil:
		id = c.Stack.Wrap.Yarn.ID
	case kind == "shaft" && c.Stack.Shaft != nil:
		id = c.Stack.Shaft.ID
	case kind == "tube" && len(c.Stack.Slices) > 0:
		t.whyLayer(r, 0)
		return
	default:
		r.Say("The head has no such part.")
		return
	}
	at := t.State.Clone()
	at.Without, at.Stack = append(at.Without, id), ""
	other, err := t.Kit.Offers.Best(&at)
	if err != nil {
		r.Say("Without %s nothing that can be built meets your wishes.", t.Words().Part(id))
		return
	}
	name, loss := reply.Capital(t.Words().Part(id)), c.Score-other.Score
	says := fmt.Sprintf("%s is in the head that scores best. The best without it scores %.1f points less", name, loss)
	if loss < 0 { // the head at hand follows a wish, and is not the best that there is
		says = fmt.Sprintf("%s came with the change that you asked for. The best without it scores %.1f points more", name, -loss)
	}
	r.Say("%s: %s. %s", says, t.Words().Brief(other.Stack), reply.Against(c, other))
	group := map[string]string{"core": "head.core", "yarn": "head.fibre", "shaft": "head.shaft"}[kind]
	t.rulesOn(r, c, func(f rules.Firing) bool {
		return f.Rule.Do != rules.Caution && slices.ContainsFunc(t.Kit.Book.Reads(f.Rule), func(p string) bool { return strings.HasPrefix(p, group) })
	})
}

// WhyNot says what speaks against a part, and the nearest head with it that
// would pass.
func (t Teller) WhyNot(r *Said, in reading.Reading) {
	if len(in.Supposed.Parts) == 0 {
		r.Say("Name what, such as: why not a 70A rubber ball, why not silicone, why not 80 turns, why not two layers.")
		return
	}
	p := in.Supposed.Parts[0]
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		t.Clash(r, err)
		return
	}
	if len(p.IDs) == 0 {
		r.Say("%s.", reply.Capital(hand.Unknown(t.Kit.Catalogue, p)))
		return
	}
	if slices.ContainsFunc(p.IDs, func(id string) bool { return offer.Contains(c.Stack, id) }) {
		r.Say("It is in the proposed head: %s.", t.Words().Brief(c.Stack))
		return
	}
	refused, with := t.Kit.Offers.Swapped(t.State, c.Stack, p.IDs)
	why := ""
	if refused != nil {
		why = fmt.Sprintf("With %s in its place in the proposed head, no: %s", t.Words().Short(with), reply.Reason(*refused))
		*t.Traced = Screens([]rules.Firing{*refused})
	}
	near, ok := t.Kit.Offers.With(t.State, p)
	switch {
	case !ok && refused != nil:
		r.Say("%s Nor does any other head with it pass under your answers.", why)
	case !ok:
		r.Say("No head with it can be built under your answers.")
	case refused != nil:
		r.Say("%s", why)
		r.Say("The nearest that would pass: %s. %s It scores %.1f points less than the proposed head.", t.Words().Brief(near.Stack), reply.Against(c, near), c.Score-near.Score)
	default:
		r.Say("Nothing forbids it. The best head with it is %s. %s It scores %.1f points less than the proposed head.", t.Words().Brief(near.Stack), reply.Against(c, near), c.Score-near.Score)
		if lost := reply.Lacks(c.Trace, near.Trace); lost != "" {
			r.Say("What the proposed head has and this one lacks: %s", lost)
		}
	}
}

// whyQuestion says why a question is asked, and where its answers would lead.
func (t Teller) whyQuestion(r *Said, id string) {
	q, ok := t.Kit.Catalogue.Question(id)
	if !ok {
		return
	}
	r.Say("%s", q.Why)
	leads := t.Kit.Asker.Leads(t.State, q)
	if leads == nil {
		return
	}
	var lines []string
	led := map[string]bool{}
	for _, l := range leads {
		to := "another kind of head altogether"
		if l.To != nil {
			to = t.Words().Brief(*l.To)
		}
		led[to] = true
		if n := len(lines); n > 0 && strings.HasSuffix(lines[n-1], ": "+to) { // the same as the answer before
			lines[n-1] = strings.TrimSuffix(lines[n-1], ": "+to) + ", or " + l.Choice.Say + ": " + to
			continue
		}
		lines = append(lines, l.Choice.Say+": "+to)
	}
	if len(led) > 1 {
		r.Say("As things stand, the answers lead here:")
		r.List(lines)
	} else if q.Careful != "" {
		r.Say("It is asked whatever the head, since a wrong guess could hurt somebody.")
	} else {
		r.Say("As things stand, no answer changes the head.")
	}
}

// ShowFact says one thing about the proposed head, and reports whether that
// is a thing a head has.
func (t Teller) ShowFact(r *Said, path string) bool {
	c, err := t.Kit.Offers.Best(t.State)
	if err != nil {
		return false
	}
	h := c.Facts.Head
	switch path {
	case "want.softness":
		r.Say("%s", reply.InShort(c))
	case "want.colour", "want.attack", "want.opening", "want.register", "want.loudest":
		r.Say("%s", t.sound(c))
	case "want.mass_g", "head.mass_g":
		r.Say("The head weighs %.1f ± %.1f g without its shaft.", h.MassG, h.MassTolG)
	case "want.diameter_mm", "head.diameter_mm":
		r.Say("The head is %s over everything, ± %.1f mm.", c.Head.Diameter, c.Head.DiameterTol.MM())
	case "want.budget", "head.cost":
		r.Say("The parts of a pair come to %s by the prices built in, which are invented.", reply.PairCost(h))
	case "head.hand_n":
		if len(c.Head.Layers) == 0 {
			r.Say("There is no slice to pull on.")
		}
		for i, l := range c.Head.Layers {
			r.Say("Layer %d takes about %.0f N to open over what lies below it: %s.", i+1, l.HandN, reply.Fits(l.Verdict))
		}
	default:
		return false
	}
	return true
}

// Recall says what was said so far.
func (t Teller) Recall(r *Said) {
	said := t.State.Answers()
	if len(said) == 0 {
		r.Say("You have not told me anything yet.")
		return
	}
	r.Say("So far you said:")
	r.List(said)
	if len(t.Later) > 0 {
		r.Say("After this one: %s.", several.Names(t.Later))
	}
}

// ofHead reports whether a topic is a part of a head on offer.
func ofHead(t reading.Topic) bool {
	return slices.Contains([]string{"part", "layer", "stack", "choice"}, t.Kind)
}
