package along

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// text is a value of a quantity in people's units.
func (q quantity) text(x float64) string {
	if q.mass {
		return fmt.Sprintf("%.1f g", measure.Mass(x).Grams())
	}
	return measure.Length(x).String()
}

// tolerance is a half-width in people's units.
func (q quantity) tolerance(x float64) string {
	if q.mass {
		return fmt.Sprintf("%.1f g", measure.Mass(x).Grams())
	}
	return fmt.Sprintf("%.1f mm", measure.Length(x).MM())
}

// String is the figure as it is listed.
func (f Figure) String() string { return f.Name + " " + f.Text }

// question asks for the figure that is open.
func (b *Build) question() string {
	g := b.gauges()[b.gauge]
	x, tol := g.expect(b.heads[b.head].now.Head, b.step().Layer)
	whose := ""
	if len(b.heads) > 1 {
		whose = fmt.Sprintf("Head %d. ", b.head+1)
	}
	return fmt.Sprintf("%s%s (Expected %s ± %s.)", whose, g.Ask, g.text(x), g.tolerance(tol))
}

// measure takes a figure, or several, one for each head.
func (b *Build) measure(line, plain string) (Reply, bool) {
	g := b.gauges()[b.gauge]
	switch {
	case slices.Contains(noScale, plain), slices.Contains(noCaliper, plain):
		var r Reply
		if slices.Contains(noScale, plain) {
			b.lacks.scale = true
			r.say("Then I ask for no weights. A kitchen scale with both heads on it, or a ruler across a pencil as a balance, still tells them apart.")
		} else {
			b.lacks.caliper = true
			r.say("Then I ask for no sizes. A strip of paper round the belt, its length divided by 3.14, is a good diameter.")
		}
		b.gauge--
		return b.nextFigure(r), true
	case slices.Contains(skipWords, plain):
		return b.nextFigure(Reply{}), true
	case slices.Contains(backWords, plain):
		b.mode = doing
		return b.Show(), true
	case slices.Contains(whyWords, plain):
		var r Reply
		r.say("%s %s The rest of the build follows what you measure; a difference that does not matter I say so.", g.Over, g.Under)
		return b.ask(r), true
	}
	values, err := g.values(line)
	if err != nil {
		if r, ok := b.trouble(plain); ok {
			return r, true
		}
		if !strings.ContainsAny(line, "0123456789") {
			return Reply{}, false
		}
		var r Reply
		r.say("I can't read that as a figure: %s.", err)
		return b.ask(r), true
	}
	var r Reply
	b.figures(&r, values)
	if b.mode == measuring && b.head == len(b.heads) {
		return b.nextFigure(r), true
	}
	return b.ask(r), true
}

// figures takes figures in for the open head and those after it, as far as
// none opens a choice; the rest wait until that is made.
func (b *Build) figures(r *Reply, values []float64) {
	g := b.gauges()[b.gauge]
	b.pending = nil
	for i, x := range values {
		if b.head == len(b.heads) || !b.figure(r, g, x) {
			return
		}
		if b.mode == fixing {
			b.pending = values[i+1:]
			return
		}
		b.head++
	}
}

// values reads the figures of a line, in SI.
func (q quantity) values(line string) ([]float64, error) {
	parts := strings.FieldsFunc(strings.NewReplacer(" and ", ";", ", ", ";").Replace(strings.TrimSpace(line)), func(r rune) bool { return r == ';' || r == '&' })
	if fields := strings.Fields(line); len(parts) == 1 && len(fields) > 1 {
		plainNumbers := true // "10.1 10.4"
		for _, f := range fields {
			_, err := strconv.ParseFloat(f, 64)
			plainNumbers = plainNumbers && err == nil
		}
		if plainNumbers {
			parts = fields
		}
	}
	if len(parts) == 0 {
		return nil, fmt.Errorf("nothing written")
	}
	var list []float64
	for _, p := range parts {
		p = strings.TrimSpace(p)
		for _, lead := range []string{"it weighs ", "weighs ", "it is ", "its ", "it's ", "about ", "is "} {
			p = strings.TrimPrefix(p, lead)
		}
		if q.mass {
			m, err := measure.ParseMass(p, measure.Gram)
			if err != nil {
				return nil, err
			}
			list = append(list, float64(m))
			continue
		}
		l, err := measure.ParseLength(p, measure.Millimetre)
		if err == nil && l < 5*measure.Millimetre { // a bare 1.34 is inches
			l, err = measure.ParseLength(p, measure.Inch)
		}
		if err != nil {
			return nil, err
		}
		list = append(list, float64(l))
	}
	return list, nil
}

// figure takes one figure of the open head in, says what it means, and opens
// the choice of what to do where that matters. It reports false where the
// figure can't be of this head.
func (b *Build) figure(r *Reply, g gauge, x float64) bool {
	m := &b.heads[b.head]
	layer := b.step().Layer
	want, tol := g.expect(m.now.Head, layer)
	s, err := g.measured(settledStack(m.now), layer, x, b.g)
	if err != nil {
		r.say("%s is too far from the %s expected to be this head. Look at the unit and the part, and say it again; or Enter to go on without.", g.text(x), g.text(want))
		return false
	}
	for i := layer; layer > 0 && i < len(s.Slices); i++ {
		s.Slices[i].Cut = 0 // not cut yet: it follows what lies below
	}
	m.figures = append(slices.DeleteFunc(m.figures, func(f Figure) bool { return f.What == g.What && f.Layer == layer }),
		Figure{Head: b.head + 1, What: g.What, Layer: layer, SI: x, Expect: want, Tol: tol, Name: g.name, Text: g.text(x)})
	if err := b.remake(b.head, s); err != nil {
		r.say("With that I can't compute on: %s", reply.Told(err))
		return true
	}
	whose := ""
	if len(b.heads) > 1 {
		whose = fmt.Sprintf("Head %d, ", b.head+1)
	}
	if math.Abs(x-want) <= tol {
		r.say("%s%s: as expected.", whose, g.text(x))
		return true
	}
	notches, grams, matters := m.off(m.now)
	if !matters && !g.far(x, want, tol) {
		r.say("%s%s: %s. That does not matter: it comes out %s.", whose, g.text(x), g.apart(x-want), effect(notches, grams))
		return true
	}
	means := g.Over
	if x < want {
		means = g.Under
	}
	r.say("%s%s: %s. %s", whose, g.text(x), g.apart(x-want), means)
	for i := range s.Slices {
		if v := m.now.Head.Layers[i].Verdict; v != m.planned.Head.Layers[i].Verdict {
			r.say("Layer %d is now %s.", i+1, reply.Fits(v))
		}
	}
	b.fixes = b.remedies(g, layer, want, tol)
	if len(b.fixes) == 0 {
		r.say("It comes out %s. The rest follows that.", effect(notches, grams))
		return true
	}
	var list []string
	for _, f := range b.fixes {
		list = append(list, f.say)
	}
	r.say("What can still be done here:")
	r.Page = append(r.Page, page.List{Numbered: true, Items: list})
	b.mode = fixing
	return true
}

// far reports a difference that means another part than was thought, whatever
// it comes to.
func (q quantity) far(x, want, tol float64) bool { return math.Abs(x-want) > 3*tol }

// apart says a difference of a quantity.
func (q quantity) apart(d float64) string {
	if q.mass {
		return reply.Moved("g", measure.Mass(d).Grams()) + " than expected"
	}
	return reply.Moved("mm", measure.Length(d).MM()) + " than expected"
}

// effect says how a head differs from the plan.
func effect(notches, grams float64) string {
	var list []string
	if math.Abs(notches) >= 0.1 {
		list = append(list, reply.Moved("notches", notches))
	}
	if math.Abs(grams) >= 0.1 {
		list = append(list, reply.Moved("g", grams))
	}
	if len(list) == 0 {
		return "as planned"
	}
	return strings.Join(list, " and ") + " than planned"
}

// offer is a correction that can be chosen.
type offer struct {
	do    string
	say   string
	turns int // of soften and weigh
}

// remedies are the fixes of a gauge that apply to the open head, with what
// each comes to.
func (b *Build) remedies(g gauge, layer int, want, tol float64) []offer {
	m := b.heads[b.head]
	s := settledStack(m.now)
	low, high := want-tol, want+tol
	per := float64(measure.Millimetre)
	if g.mass {
		per = float64(measure.Gram)
	}
	var list []offer
	for i, f := range g.Fixes {
		o := offer{do: f.Do}
		fix := Fix{Low: low / per, High: high / per}
		after := m.now
		switch f.Do {
		case "soften", "weigh":
			if s.Wrap == nil {
				continue
			}
			get := func(c propose.Candidate) float64 { return c.Facts.Head.Softness }
			if f.Do == "weigh" {
				get = func(c propose.Candidate) float64 { return c.Facts.Head.MassG }
			}
			n, c, ok := b.g.turnsFor(b.job.Request, s, get(m.planned), get)
			if !ok || n == m.now.Head.Turns {
				continue
			}
			o.turns, after, fix.Turns = n, c, float64(n)
		case "recut":
			if layer == 0 {
				continue
			}
			l := m.now.Head.Layers[layer-1]
			cut := float64(l.Cut) * float64(m.planned.Head.Layers[layer-1].Mass) / float64(l.Mass)
			fix.CutMM = measure.Length(math.Min(cut, float64(l.CutMax))).MM()
			after = m.planned
		case "other", "redo":
			after = m.planned
		}
		o.say = g.fixes[i].Fill(Words{fix})
		if f.Do != "other" && f.Do != "redo" && f.Do != "recut" {
			notches, grams, _ := m.off(after)
			o.say = strings.TrimSuffix(o.say, ".") + ": " + effect(notches, grams) + "."
		}
		list = append(list, o)
	}
	return list
}

// fix takes the choice of a correction.
func (b *Build) fix(plain string) (Reply, bool) {
	n, err := strconv.Atoi(strings.TrimPrefix(plain, "number "))
	switch {
	case plain == "" || plain == "yes" || plain == "ok":
		n = 1
	case slices.Contains(backWords, plain):
		b.mode = measuring
		return b.ask(Reply{}), true
	case err != nil || n < 1 || n > len(b.fixes):
		if r, ok := b.trouble(plain); ok {
			return r, true
		}
		if err != nil && len(strings.Fields(plain)) > 1 {
			return Reply{}, false
		}
		var r Reply
		r.say("Say a number from 1 to %d.", len(b.fixes))
		return b.ask(r), true
	}
	f := b.fixes[n-1]
	b.fixes = nil
	var r Reply
	b.mode = measuring
	switch f.do {
	case "soften", "weigh":
		if err := b.remake(b.head, wound(settledStack(b.heads[b.head].now), f.turns)); err != nil {
			r.say("%s", reply.Told(err))
			break
		}
		r.say("Noted: %d turns for head %d.", f.turns, b.head+1)
	case "other", "redo", "recut":
		b.forget()
		b.pending = nil
		r.say("Do that, and give me the figure again.")
		return b.ask(r), true
	default:
		r.say("Noted; the rest follows what you measured.")
	}
	b.head++
	b.figures(&r, b.pending)
	if b.mode == measuring && b.head == len(b.heads) {
		return b.nextFigure(r), true
	}
	return b.ask(r), true
}

// forget takes the last figure of the open head back.
func (b *Build) forget() {
	m := &b.heads[b.head]
	if n := len(m.figures); n > 0 {
		m.figures = m.figures[:n-1]
	}
	figures := m.figures
	s := settledStack(m.planned)
	if m.now.Stack.Wrap != nil {
		s = wound(s, m.now.Head.Turns)
	}
	for _, f := range figures { // what was measured before still holds
		q := quantities()[f.What]
		if t, err := q.measured(s, f.Layer, f.SI, b.g); err == nil {
			s = t
		}
	}
	_ = b.remake(b.head, s) // the stack was computed before
}

// nextFigure goes to the next gauge of the step, or past the step.
func (b *Build) nextFigure(r Reply) Reply {
	if b.gauge+1 < len(b.gauges()) {
		b.gauge, b.head, b.mode = b.gauge+1, 0, measuring
		return b.ask(r)
	}
	b.gauge, b.head = 0, 0
	b.mode = doing
	if text, ok := b.uneven(); ok {
		r.say("%s", text)
		b.mode = pairing
		return b.ask(r)
	}
	return b.leave(r)
}

// uneven says that heads that were weighed differ, and which turns make them
// alike, where the yarn is still to come.
func (b *Build) uneven() (string, bool) {
	if len(b.heads) < 2 || b.heads[0].now.Stack.Wrap == nil || !slices.Contains([]string{"weigh-after-layer", "weigh-bare", "weigh-core"}, b.step().ID) {
		return "", false
	}
	if b.step().Layer != 0 && b.step().Layer != len(b.heads[0].now.Head.Layers) || b.step().ID == "weigh-core" && len(b.heads[0].now.Head.Layers) > 0 {
		return "", false // more rubber is to come
	}
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, m := range b.heads {
		if len(m.figures) == 0 {
			return "", false
		}
		least, most, sum = min(least, m.now.Facts.Head.MassG), max(most, m.now.Facts.Head.MassG), sum+m.now.Facts.Head.MassG
	}
	if most-least < 0.5 {
		return "", false
	}
	mean := sum / float64(len(b.heads))
	var list []string
	b.fixes = nil
	softest, hardest := math.Inf(-1), math.Inf(1)
	for i, m := range b.heads {
		n, c, ok := b.g.turnsFor(b.job.Request, settledStack(m.now), mean, func(c propose.Candidate) float64 { return c.Facts.Head.MassG })
		if !ok {
			return "", false
		}
		b.fixes = append(b.fixes, offer{turns: n})
		softest, hardest = max(softest, c.Facts.Head.Softness), min(hardest, c.Facts.Head.Softness)
		list = append(list, fmt.Sprintf("head %d with %d turns", i+1, n))
	}
	heard := "nobody hears the difference that leaves in softness"
	if softest-hardest >= 1 {
		heard = fmt.Sprintf("that leaves them %.1f notches apart in softness, so pairing other balls and slices would be better", softest-hardest)
	}
	return fmt.Sprintf("The heads would come out %.1f g apart. Wind %s, and each weighs %.1f g; %s.", most-least, strings.Join(list, ", "), mean, heard), true
}

// pair takes the answer to turns that make heads alike.
func (b *Build) pair(plain string) (Reply, bool) {
	var r Reply
	switch {
	case slices.Contains(backWords, plain):
		b.mode = doing
		return b.Show(), true
	case slices.Contains(onWords, plain):
		for i, f := range b.fixes {
			if err := b.remake(i, wound(settledStack(b.heads[i].now), f.turns)); err != nil {
				r.say("%s", reply.Told(err))
			}
		}
		r.say("Noted.")
	case slices.Contains(skipWords, plain):
		r.say("Left as they are.")
	default:
		return Reply{}, false
	}
	b.fixes = nil
	b.mode = doing
	return b.leave(r), true
}

// woe is a trouble that is being looked into.
type woe struct {
	Doctor
	from mode // to go back to
}

// trouble begins to look into what went wrong, where a line says so.
func (b *Build) trouble(plain string) (Reply, bool) {
	t, ok := Find(b.g.cat, plain)
	if !ok {
		return Reply{}, false
	}
	var r Reply
	r.say("%s", First(t))
	b.woe = woe{Doctor{ID: t.ID}, b.mode}
	b.mode = checking
	return b.ask(r), true
}

// check takes the answer to a check.
func (b *Build) check(plain string) (Reply, bool) {
	var r Reply
	over, ok := b.woe.Say(b.g.cat, plain, &r)
	if !ok {
		return Reply{}, false
	}
	if over {
		b.mode = b.woe.from
	}
	return b.ask(r), true
}
