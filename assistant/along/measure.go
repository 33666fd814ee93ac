package along

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// gauging is a build while something is measured on its heads, and what follows
// from that is chosen.
type gauging struct{ *Build }

// text is a value of a quantity in people's units.
func (q quantity) text(x float64) string {
	switch q.unit {
	case mass:
		return fmt.Sprintf("%.1f g", measure.Mass(x).Grams())
	case force:
		return fmt.Sprintf("%.1f kg", x/measure.Gravity)
	case hold:
		return fmt.Sprintf("stretched %.2f times", x)
	}
	return measure.Length(x).String()
}

// tolerance is a half-width in people's units.
func (q quantity) tolerance(x float64) string {
	if q.unit == length {
		return fmt.Sprintf("%.1f mm", measure.Length(x).MM())
	}
	return q.text(x)
}

// String is the figure as it is listed.
func (f Figure) String() string { return f.Name + " " + f.Text }

// question asks for the figure that is open.
func (b gauging) question() string {
	g := b.gauges()[b.gauge]
	whose := ""
	switch {
	case g.each && len(b.heads[0].now.Head.Layers) > 1:
		whose = fmt.Sprintf("Layer %d. ", g.layer)
	case len(b.heads) > 1 && !b.step().Once:
		whose = fmt.Sprintf("Head %d. ", b.head+1)
	}
	if g.unit == hold {
		return whose + g.Ask
	}
	x, tol := g.expect(b.heads[b.head].now.Head, g.layer)
	return fmt.Sprintf("%s%s (Expected %s ± %s%s.)", whose, g.Ask, g.text(x), g.tolerance(tol), g.how)
}

// without notes that there is no scale, or else no caliper, and says what does
// instead.
func (b *Build) without(scale bool) (r Reply) {
	if scale {
		b.lacks.scale = true
		r.say("Then I ask for no weights. A kitchen scale with both heads on it, or a ruler across a pencil as a balance, still tells them apart.")
		return r
	}
	b.lacks.caliper = true
	r.say("Then I ask for no sizes. A strip of paper round the belt, its length divided by 3.14, is a good diameter.")
	return r
}

// measure takes a figure, or several, one for each head.
func (b gauging) measure(line, plain string) (Reply, bool) {
	g := b.gauges()[b.gauge]
	switch {
	case slices.Contains(noScale, plain), slices.Contains(noCaliper, plain):
		r := b.without(slices.Contains(noScale, plain))
		b.gauge--
		return b.nextFigure(r), true
	case slices.Contains(skipWords, plain):
		return b.nextFigure(Reply{}), true
	case slices.Contains(backWords, plain):
		b.mode = doing
		return b.Show(), true
	case slices.Contains(whyWords, plain), slices.Contains(moreWords, plain):
		var r Reply
		r.say("%s %s The rest of the build follows what you measure; where a difference does not matter I say so.", g.Over, g.Under)
		return b.ask(r), true
	}
	values, err := b.values(g, line, plain)
	if err != nil {
		if r, ok := b.trouble(plain); ok {
			return r, true
		}
		if g.unit != hold && (plain == "" || plain[0] < '0' || plain[0] > '9' || strings.Contains(plain, " max")) || g.unit == hold && len(strings.Fields(line)) > 4 {
			return Reply{}, false // about something else
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
func (b gauging) figures(r *Reply, values []float64) {
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
		b.next()
	}
}

// next goes to the next head that the open figure is asked of.
func (b gauging) next() {
	b.head++
	if b.step().Once { // one figure for all
		b.head = len(b.heads)
	}
}

// whose are the heads that the open figure is of.
func (b gauging) whose() []int {
	if !b.step().Once {
		return []int{b.head}
	}
	var all []int
	for i := range b.heads {
		all = append(all, i)
	}
	return all
}

// values reads the answer to a gauge, in SI: figures, or a word for how a slice
// holds, as the stretch that it comes to.
func (b gauging) values(g gauge, line, plain string) ([]float64, error) {
	if g.unit != hold {
		return g.values(line)
	}
	i := slices.IndexFunc(g.Answers, func(a knowledge.GaugeAnswer) bool { return slices.Contains(a.Say, plain) })
	if i < 0 {
		return nil, fmt.Errorf("say one of %s", strings.Join(g.words(), ", "))
	}
	x, _ := g.of(b.heads[b.head].now.Head, g.layer)
	slack, loose := b.g.cat.Limits.SlackStretch.Value, b.g.cat.Limits.LooseStretch.Value
	switch head.Verdict(g.Answers[i].Is) {
	case head.Slack:
		x = min(x, slack)
	case head.Loose:
		x = min(x, (slack+loose)/2)
	default:
		x = max(x, loose)
	}
	return []float64{x}, nil
}

// words are the first words of each answer to a gauge.
func (g gauge) words() []string {
	var list []string
	for _, a := range g.Answers {
		list = append(list, a.Say[0])
	}
	return list
}

// reads reports whether a line is a figure that the gauge asks for.
func (g gauge) reads(line string) bool {
	if g.unit == hold || !strings.ContainsAny(line, "0123456789") {
		return false
	}
	_, err := g.values(line)
	return err == nil
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
		if q.unit == mass || q.unit == force {
			unit, per := measure.Gram, 1.0
			if q.unit == force {
				unit, per = measure.Kilogram, measure.Gravity
			}
			m, err := measure.ParseMass(p, unit)
			if err != nil {
				return nil, err
			}
			list = append(list, float64(m)*per)
			continue
		}
		l, err := measure.ParseLength(p, measure.Millimetre)
		if err == nil && l < 5*measure.Millimetre && q.name != "wall" { // a bare 1.34 is inches
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
func (b gauging) figure(r *Reply, g gauge, x float64) bool {
	m := &b.heads[b.head]
	want, tol := g.expect(m.now.Head, g.layer)
	was := m.now
	for _, i := range b.whose() {
		if err := b.settle(i, g, x, want, tol); errors.Is(err, errFar) {
			r.say("%s is too far from the %s expected to be this head. Look at the unit and the part, and say it again; or Enter to go on without.", g.text(x), g.text(want))
			return false
		} else if err != nil {
			r.say("With that I can't compute on: %s", reply.Told(err))
			return true
		}
	}
	whose := ""
	if len(b.heads) > 1 && !b.step().Once {
		whose = fmt.Sprintf("Head %d, ", b.head+1)
	}
	figure := whose + g.text(x)
	if g.unit == hold {
		figure = reply.Capital(whose + reply.Fits(m.now.Head.Layers[g.layer-1].Verdict))
	}
	fits := g.changed(was, m.now)
	notches, grams, matters := m.off(m.now)
	switch {
	case math.Abs(x-want) <= tol && fits == "":
		r.say("%s: as expected.%s", figure, b.recut(g, was, m.now))
		return true
	case !matters && fits == "" && !g.far(x, want, tol):
		r.say("%s: %s. That does not matter: it comes out %s.%s", figure, g.apart(x-want), effect(notches, grams), b.recut(g, was, m.now))
		return true
	}
	means := g.Over
	if x < want {
		means = g.Under
	}
	if g.unit == hold {
		r.say("%s. %s", figure, means)
	} else {
		r.say("%s: %s. %s%s", figure, g.apart(x-want), means, fits)
	}
	if f := m.now.Refused(); f != nil && was.Refused() == nil {
		r.say("As it is, this is not to be built on: %s.", strings.TrimSuffix(f.Reason, "."))
	}
	b.fixes = b.remedies(g, want, tol)
	if len(b.fixes) == 0 {
		r.say("It comes out %s. The rest follows that.%s", effect(notches, grams), b.recut(g, was, m.now))
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

// settle gives one head the stack that shows the figure.
func (b gauging) settle(i int, g gauge, x, want, tol float64) error {
	m := &b.heads[i]
	s, err := g.measured(settledStack(m.now), g.layer, x, b.g)
	switch {
	case err != nil && math.Abs(x-want) <= tol: // it may be, whatever it comes from
		s = settledStack(m.now)
	case err != nil:
		return errFar
	}
	from := g.layer // slices that are not cut yet follow what lies below
	if g.uncut {
		from--
	}
	for k := from; (g.layer > 0 || g.uncut) && k < len(s.Slices); k++ {
		s.Slices[k].Cut = b.job.Stack.Slices[k].Cut
	}
	m.figures = append(slices.DeleteFunc(m.figures, func(f Figure) bool { return f.What == g.What && f.Layer == g.layer }),
		Figure{Head: i + 1, What: g.What, Layer: g.layer, SI: x, Expect: want, Tol: tol, Name: g.name, Text: g.text(x), At: g.by, of: g.quantity})
	return b.remake(i, s)
}

// changed says which layers of a head hold otherwise than they did; how hard one
// is to pull on matters only before it is.
func (g gauge) changed(was, now propose.Candidate) string {
	text := ""
	for i, l := range now.Head.Layers {
		if l.Verdict != was.Head.Layers[i].Verdict && (g.uncut || g.unit == hold || l.Verdict == head.Slack || l.Verdict == head.Loose) {
			text += fmt.Sprintf(" Layer %d is now %s.", i+1, reply.Fits(l.Verdict))
		}
	}
	return text
}

// recutMM is the least difference of a cut that a rule and a knife tell.
const recutMM = 0.8

// recut says which slices that are still to be cut are cut otherwise.
func (b gauging) recut(g gauge, was, now propose.Candidate) string {
	text := ""
	for i, l := range now.Head.Layers {
		if i >= g.layer-1 && g.layer > 0 && math.Abs((l.Cut-was.Head.Layers[i].Cut).MM()) >= recutMM {
			text += fmt.Sprintf(" Cut the slice for layer %d %s long.", i+1, l.Cut.Rule())
		}
	}
	return text
}

// far reports a difference that means another part than was thought, whatever
// it comes to.
func (q quantity) far(x, want, tol float64) bool { return math.Abs(x-want) > 3*tol }

// apart says a difference of a quantity.
func (q quantity) apart(d float64) string {
	switch q.unit {
	case mass:
		return reply.Moved("g", measure.Mass(d).Grams()) + " than expected"
	case force:
		more := "more"
		if d < 0 {
			more = "less"
		}
		return fmt.Sprintf("%.1f kg %s than expected", math.Abs(d)/measure.Gravity, more)
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
func (b gauging) remedies(g gauge, want, tol float64) []offer {
	m, layer := b.heads[b.head], g.layer
	s := settledStack(m.now)
	low, high := want-tol, want+tol
	per := map[unit]float64{length: float64(measure.Millimetre), mass: float64(measure.Gram), force: measure.Gravity}[g.unit]
	if g.What == "bore" || g.unit == hold { // the bores that hold on what lies below
		per = float64(measure.Millimetre)
		l := m.planned.Head.Layers[layer-1]
		high = min(float64(l.Slice.Tube.Bore+l.Slice.Tube.BoreTol), float64(l.Under)/b.g.cat.Limits.LooseStretch.Value)
		low = min(float64(l.Slice.Tube.Bore-l.Slice.Tube.BoreTol), high)
	}
	refused := m.now.Refused() != nil
	var list []offer
	for i, f := range g.Fixes {
		o := offer{do: f.Do}
		fix := Fix{Low: low / per, High: high / per}
		after := m.now
		switch f.Do {
		case "keep":
			if refused {
				continue // neither kept nor wound over
			}
		case "soften", "weigh":
			if s.Wrap == nil || refused {
				continue
			}
			get := func(c propose.Candidate) float64 { return c.Facts.Head.Softness }
			if f.Do == "weigh" {
				get = func(c propose.Candidate) float64 { return c.Facts.Head.MassG }
			}
			n, c, ok := b.g.turnsFor(b.job.Request, s, get(m.planned), get)
			if !ok || n == m.now.Head.Turns || c.Refused() != nil {
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
func (b gauging) fix(plain string) (Reply, bool) {
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
		for _, i := range b.whose() {
			if err := b.remake(i, wound(settledStack(b.heads[i].now), f.turns)); err != nil {
				r.say("%s", reply.Told(err))
				return b.ask(r), true
			}
		}
		if len(b.whose()) > 1 || len(b.heads) == 1 {
			r.say("Noted: %d turns.", f.turns)
			break
		}
		r.say("Noted: %d turns for head %d.", f.turns, b.head+1)
	case "other", "redo", "recut":
		for _, i := range b.whose() {
			b.forget(i)
		}
		b.pending = nil
		r.say("Do that, and give me the figure again.")
		return b.ask(r), true
	default:
		r.say("Noted; the rest follows what you measured.")
	}
	b.next()
	b.figures(&r, b.pending)
	if b.mode == measuring && b.head == len(b.heads) {
		return b.nextFigure(r), true
	}
	return b.ask(r), true
}

// forget takes the last figure of a head back.
func (b gauging) forget(i int) {
	m := &b.heads[i]
	if n := len(m.figures); n > 0 {
		m.figures = m.figures[:n-1]
	}
	s := settledStack(m.planned)
	if m.now.Stack.Wrap != nil {
		s = wound(s, m.now.Head.Turns)
	}
	for _, f := range m.figures { // what was measured before still holds
		if t, err := f.of.measured(s, f.Layer, f.SI, b.g); err == nil {
			s = t
		}
	}
	_ = b.remake(i, s) // the stack was computed before
}

// nextFigure goes to the next gauge of the step, or past the step.
func (b gauging) nextFigure(r Reply) Reply {
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
