package assistant

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/understand"
	"mallow/knowledge"
	"mallow/knowledge/head"
	"mallow/knowledge/words"
	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/propose"
)

// why gives the reason for a question, a layer, a part or the head.
func (s *Session) why(r *Reply, in understand.Reading) {
	for _, p := range in.Parts {
		s.whyPart(r, p.Kind)
		return
	}
	for _, t := range in.About {
		switch t.Kind {
		case "layer":
			s.whyLayer(r, t.N)
			return
		case "part":
			s.whyPart(r, t.ID)
			return
		case "question":
			if s.now.asked != "" {
				s.whyQuestion(r, s.now.asked)
				return
			}
		case "fact":
			s.whyFact(r, t.ID)
			return
		case "stack", "choice":
			s.whyHead(r, max(t.N, 1))
			return
		}
	}
	switch {
	case s.now.asked != "":
		s.whyQuestion(r, s.now.asked)
	case s.now.stage == proposed:
		s.whyHead(r, 1)
	default:
		r.say("A head has to fit the instrument, the hand and the sound you want; the more of that you tell me, the better it will.")
	}
}

// whyQuestion says why a question is asked, and where its answers would lead.
func (s *Session) whyQuestion(r *Reply, id string) {
	q, ok := s.kit.Catalogue.Question(id)
	if !ok {
		return
	}
	r.say("%s", q.Why)
	p, err := s.propose(&s.now)
	if err != nil {
		return
	}
	pool := p.Pool[:min(len(p.Pool), inPlay)]
	var lines []string
	led := map[string]bool{}
	for _, c := range s.choices(q) {
		scores := s.kit.Finder.Rescore(pool, s.request(s.supposing(q, c)))
		best := slices.Index(scores, slices.Max(append([]float64{math.Inf(-1)}, scores...)))
		to := "none of the heads in play; the search would start over"
		if best >= 0 && !math.IsInf(scores[best], -1) {
			to = s.parts(pool[best].Stack)
		}
		led[to] = true
		lines = append(lines, c.Say+": "+to)
	}
	if len(led) > 1 {
		r.say("As things stand, the answers lead to these heads:")
		r.list(lines)
	} else if q.Careful != "" {
		r.say("It is asked whatever the head, since a wrong guess could hurt somebody.")
	} else {
		r.say("As things stand, no answer changes the head.")
	}
}

// whyFact says why a fact matters, what was said about it, and which rules
// met it.
func (s *Session) whyFact(r *Reply, path string) {
	if q, ok := s.kit.Catalogue.Question(path); ok {
		r.say("%s", q.Why)
		if said, ok := s.now.said[path]; ok {
			r.say("You said: %s.", said)
		}
	}
	c, err := s.best()
	if err != nil {
		return
	}
	if s.now.stage == proposed {
		s.showFact(r, path)
	}
	// A wish is judged by the fact of the head that answers it.
	paths := []string{path, strings.Replace(path, "want.", "head.", 1)}
	s.rulesOn(r, c, func(f rules.Firing) bool {
		return slices.ContainsFunc(s.kit.Book.Reads(f.Rule), func(p string) bool { return slices.Contains(paths, p) })
	})
}

// whyHead says what made a head the best.
func (s *Session) whyHead(r *Reply, n int) {
	c, ok := s.choice(n)
	if !ok {
		r.say("There is no head number %d.", n)
		return
	}
	r.say("%s", s.inShort(c))
	if traded := s.traded(c); traded != "" {
		r.say("%s", traded)
	}
	s.rulesOn(r, c, func(f rules.Firing) bool { return f.Rule.Do == rules.Prefer || f.Rule.Do == rules.Note })
	if p, err := s.propose(&s.now); err == nil && n == 1 && len(p.Alternatives) > 0 {
		a := p.Alternatives[0]
		r.say("The nearest other kind of head (%s) lost by %.1f points: %s", a.Kind, c.Score-a.Score, s.against(c, a.Candidate))
	}
}

// rulesOn lists the rules that fired on a head, those that weigh most first,
// with the values they met.
func (s *Session) rulesOn(r *Reply, c propose.Candidate, keep func(rules.Firing) bool) {
	var fired []rules.Firing
	for _, f := range c.Trace {
		if f.State == rules.Fired && f.Reason != "" && f.Rule.Do != rules.Step && f.Rule.Do != rules.Choose && keep(f) {
			fired = append(fired, f)
		}
	}
	slices.SortStableFunc(fired, func(a, b rules.Firing) int {
		switch x, y := math.Abs(a.Rule.Weight), math.Abs(b.Rule.Weight); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	var lines []string
	for _, f := range fired[:min(6, len(fired))] {
		text := reason(f)
		if w := f.Rule.Weight; f.Rule.Do == rules.Prefer {
			text += fmt.Sprintf(" This counts %+.1f points.", w)
		}
		lines = append(lines, text+met(f))
	}
	if len(lines) == 0 {
		r.say("No rule of the book spoke up about that.")
		return
	}
	r.list(lines)
}

// met says the values that a rule met.
func met(f rules.Firing) string {
	var values []string
	for _, v := range f.Values {
		if text := v.String(); !slices.Contains(values, text) {
			values = append(values, text)
		}
	}
	if len(values) == 0 {
		return ""
	}
	return fmt.Sprintf(" [%s%s: %s]", f.Rule.ID, ownRule(f.Rule), strings.Join(values, "; "))
}

// ownRule says where a rule stands that is the user's own.
func ownRule(r *rules.Rule) string {
	if strings.HasPrefix(r.File, facts.Shipped+"/") {
		return ""
	}
	return fmt.Sprintf(" (yours: %s, line %d)", r.File, r.Line)
}

// whyLayer says what a layer does: its fit, and the head without it.
func (s *Session) whyLayer(r *Reply, n int) {
	c, err := s.best()
	if err != nil {
		s.clash(r, err)
		return
	}
	layers := c.Head.Layers
	if len(layers) == 0 {
		r.say("The head has no rubber layer: the yarn lies straight on the core.")
		return
	}
	if n < 0 || n == 0 {
		n = len(layers)
	}
	if n > len(layers) {
		r.say("The head has %d rubber layers, so there is no layer %d.", len(layers), n)
		return
	}
	l := layers[n-1]
	r.say("Layer %d, %s, is stretched %.2f times over %s. It presses with %.0f kPa, takes about %.0f N to open, and covers %.0f %% of the zone that meets the bar: %s.",
		n, s.partName(l.Slice.Tube.ID), l.Stretch, l.Under, l.GripPa/1000, l.HandN, 100*l.Coverage, fits(l.Verdict))
	without := c.Stack
	without.Slices = slices.Delete(slices.Clone(c.Stack.Slices), n-1, n)
	for i := range without.Slices {
		without.Slices[i].Cut = 0
	}
	if bare, err := s.kit.Finder.Consider(without, s.request(&s.now)); err == nil {
		r.say("Without it: %s", s.against(c, bare))
		if f := bare.Refused(); f != nil {
			r.say("And that head would be refused: %s", reason(*f))
		}
	}
	about := fmt.Sprintf("layer %d", n)
	s.rulesOn(r, c, func(f rules.Firing) bool { return f.About == about })
}

func fits(v head.Verdict) string {
	return map[head.Verdict]string{
		head.Slack: "slack, it would slap", head.Loose: "loose, it needs glue", head.Good: "a good fit",
		head.Hard: "hard to pull on by hand", head.Over: "past what rubber or hands stand",
	}[v]
}

// whyPart says what choosing another part of the kind would cost.
func (s *Session) whyPart(r *Reply, kind string) {
	c, err := s.best()
	if err != nil {
		s.clash(r, err)
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
		s.whyLayer(r, 0)
		return
	default:
		r.say("The head has no such part.")
		return
	}
	kept := s.now.clone()
	s.now.without, s.now.stack = append(s.now.without, id), ""
	other, err := s.best()
	s.now = kept
	if err != nil {
		r.say("Without %s nothing that can be built meets your wishes.", s.partName(id))
		return
	}
	r.say("%s is in the head that scores best. The best without it scores %.1f points less: %s. %s",
		capital(s.partName(id)), c.Score-other.Score, s.parts(other.Stack), s.against(c, other))
	group := map[string]string{"core": "head.core", "yarn": "head.fibre", "shaft": "head.shaft"}[kind]
	s.rulesOn(r, c, func(f rules.Firing) bool {
		return f.Rule.Do != rules.Caution && slices.ContainsFunc(s.kit.Book.Reads(f.Rule), func(p string) bool { return strings.HasPrefix(p, group) })
	})
}

// whyNot says what speaks against a part, and the nearest head with it that
// would pass.
func (s *Session) whyNot(r *Reply, in understand.Reading) {
	if len(in.Parts) == 0 {
		if len(in.Answers)+len(in.Moves) > 0 {
			*r = s.whatIf(*r, in)
			return
		}
		r.say("Name the part, such as: why not a 70A rubber ball, why not silicone.")
		return
	}
	p := in.Parts[0]
	c, err := s.best()
	if err != nil {
		s.clash(r, err)
		return
	}
	if len(p.IDs) == 0 {
		r.say("Nothing in the catalogue fits “%s”.", p.Text)
		return
	}
	if slices.ContainsFunc(p.IDs, func(id string) bool { return contains(c.Stack, id) }) {
		r.say("It is in the proposed head: %s.", s.parts(c.Stack))
		return
	}
	stopped := s.swapped(r, c, p)
	near, ok := s.with(p)
	switch {
	case !ok && stopped:
		r.say("No head with it passes under your answers.")
	case !ok:
		r.say("No head with it can be built under your answers.")
	case stopped:
		r.say("The nearest that would pass: %s. %s It scores %.1f points less than the proposed head.", s.parts(near.Stack), s.against(c, near), c.Score-near.Score)
	default:
		r.say("Nothing forbids it. The best head with it is %s. %s It scores %.1f points less than the proposed head.", s.parts(near.Stack), s.against(c, near), c.Score-near.Score)
		s.lost(r, c, near)
	}
}

// swapped puts the part into the proposed head and says which rule refuses
// that, if one does.
func (s *Session) swapped(r *Reply, c propose.Candidate, p understand.Part) bool {
	var firsts *rules.Firing
	named := ""
	for _, id := range p.IDs {
		for _, way := range s.swaps(c.Stack, id) {
			x, err := s.kit.Finder.Consider(way, s.request(&s.now))
			if err != nil {
				continue
			}
			f := x.Refused()
			if f == nil {
				return false
			}
			if firsts == nil || nearer(c.Stack, id, named, s.kit.Catalogue) {
				firsts, named = f, id
			}
		}
	}
	if firsts == nil {
		return false
	}
	r.say("With %s in its place in the proposed head, a rule refuses it: %s%s", s.partName(named), reason(*firsts), met(*firsts))
	return true
}

// nearer reports whether part id is closer in size than other to the part of
// its kind in the stack.
func nearer(st head.Stack, id, other string, cat *knowledge.Catalogue) bool {
	off := func(id string) float64 {
		if core, ok := cat.Core(id); ok {
			return math.Abs(float64(core.Diameter - st.Core.Diameter))
		}
		if tube, ok := cat.Tube(id); ok {
			least := math.Inf(1)
			for _, x := range st.Slices {
				least = min(least, math.Abs(float64(tube.Bore-x.Tube.Bore))+math.Abs(float64(tube.Wall-x.Tube.Wall)))
			}
			return least
		}
		return 0
	}
	return off(id) < off(other)
}

// swaps are the ways to put a part into a stack in place of one of its kind.
func (s *Session) swaps(st head.Stack, id string) []head.Stack {
	cat := s.kit.Catalogue
	way := st
	way.Slices = slices.Clone(st.Slices)
	for i := range way.Slices {
		way.Slices[i].Cut = 0 // what lies below may change
	}
	if core, ok := cat.Core(id); ok {
		way.Core = core
		way.Material, _ = cat.Material(core.Material)
		return []head.Stack{way}
	}
	if yarn, ok := cat.Yarn(id); ok && st.Wrap != nil {
		fibre, _ := cat.Material(yarn.Fibre)
		way.Wrap = &head.Wrap{Yarn: yarn, Fibre: fibre}
		return []head.Stack{way}
	}
	var ways []head.Stack
	if tube, ok := cat.Tube(id); ok {
		rubber, _ := cat.Material(tube.Material)
		for i := range way.Slices {
			w := way
			w.Slices = slices.Clone(way.Slices)
			w.Slices[i] = head.Slice{Tube: tube, Rubber: rubber}
			ways = append(ways, w)
		}
	}
	return ways
}

// lost lists the preferences that speak for one head and not for the other.
func (s *Session) lost(r *Reply, a, b propose.Candidate) {
	for _, f := range a.Trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Prefer || f.Rule.Weight <= 0 {
			continue
		}
		if !slices.ContainsFunc(b.Trace, func(g rules.Firing) bool { return g.State == rules.Fired && g.Rule.ID == f.Rule.ID }) {
			r.say("What the proposed head has and this one lacks: %s (%+.1f points)", reason(f), f.Rule.Weight)
			return
		}
	}
}

// contains reports whether a part is in a stack.
func contains(st head.Stack, id string) bool {
	return st.Core.ID == id || st.Wrap != nil && st.Wrap.Yarn.ID == id || st.Shaft != nil && st.Shaft.ID == id ||
		slices.ContainsFunc(st.Slices, func(x head.Slice) bool { return x.Tube.ID == id })
}

// define explains a word: of the glossary, of a part, or of a question.
func (s *Session) define(r *Reply, in understand.Reading, line string) {
	cat := s.kit.Catalogue
	for _, t := range in.About {
		if term, ok := cat.Term(t.ID); ok {
			r.say("%s: %s", capital(term.ID), term.Means)
			return
		}
	}
	// The longest name of the glossary that stands in the line.
	spaced := " " + strings.Join(strings.FieldsFunc(strings.ToLower(line), func(r rune) bool { return strings.ContainsRune(" ?!.,;:\"'“”", r) }), " ") + " "
	var names []string
	longest, means := "", ""
	for _, term := range cat.Terms {
		for _, name := range append([]string{term.ID}, term.Also...) {
			names = append(names, name)
			if len(name) > len(longest) && strings.Contains(spaced, " "+strings.ToLower(name)+" ") {
				longest, means = name, term.Means
			}
		}
	}
	if longest != "" {
		r.say("%s: %s", capital(longest), means)
		return
	}
	for _, t := range in.About {
		if q, ok := cat.Question(t.ID); ok {
			r.say("%s", q.Why)
			return
		}
	}
	said := ""
	for _, m := range in.Missed {
		said = plain(m, said)
	}
	for _, t := range in.About {
		said = plain(t.Text, said)
	}
	if said == "" {
		var ids []string
		for _, term := range cat.Terms {
			ids = append(ids, term.ID)
		}
		r.say("Which word? I can explain: %s.", strings.Join(ids, ", "))
		return
	}
	hint := words.Hint(said, names)
	r.say("%s", strings.TrimSpace(fmt.Sprintf("I have no entry for “%s”. %s", said, capital(hint))))
}
