package assistant

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/understand"
	"mallow/knowledge/head"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// How far a plain "lighter", "smaller" or "cheaper" goes. Said with a number,
// the number counts.
const (
	lighterBy = 0.15 // of the head's mass
	smallerBy = 2.0  // mm
	cheaperBy = 0.20 // of the cost
	turnsBy   = 0.25 // of the turns
)

// move makes relative wishes out of the head that is proposed. Keep lists
// what is to stay as it is. It returns why that can't be done, or nothing.
func (s *Session) move(moves []understand.Move, keep []string) string {
	c, err := s.best()
	if err != nil {
		return "There is no head to start from yet. " + sentence(err)
	}
	f, h := &s.now.facts, c.Facts.Head
	s.now.stack = ""
	for _, path := range keep {
		switch path {
		case "want.softness":
			f.Want.Softness = h.Softness
		case "want.mass_g":
			f.Want.MassG = h.MassG
		case "want.diameter_mm":
			f.Want.DiameterMM = h.DiameterMM
		default:
			continue // there is no number to hold it to
		}
		s.note(path, s.sayFact(path))
	}
	for _, m := range moves {
		switch m.Path {
		case "want.softness":
			f.Want.Softness = h.Softness + m.By
			if m.Unit == "" {
				f.Want.Softness = h.Softness + 2*m.By
			}
		case "want.mass_g":
			f.Want.MassG = max(1, h.MassG+m.By)
			if m.Unit == "" {
				f.Want.MassG = h.MassG * (1 + lighterBy*m.By)
			}
		case "want.diameter_mm":
			f.Want.DiameterMM = max(1, h.DiameterMM+m.By)
			if m.Unit == "" {
				f.Want.DiameterMM = h.DiameterMM + smallerBy*m.By
			}
		case "want.budget":
			f.Want.BudgetCents = max(1, math.Round(2*h.CostCents+m.By))
			if m.Unit == "" {
				f.Want.BudgetCents = math.Round(2 * h.CostCents * (1 + cheaperBy*m.By))
			}
		case "want.colour", "want.attack", "want.opening":
			words := vocabulary(m.Path)
			was, _ := value(*f, m.Path).(string)
			i := slices.Index(words, was)
			if i < 0 {
				i = slices.Index(words, "even")
			}
			i += map[bool]int{true: 1, false: -1}[m.By > 0]
			set(f, m.Path, words[min(max(i, 0), len(words)-1)])
		default:
			best, ok := s.reshaped(c, m)
			if !ok {
				return fmt.Sprintf("No parts in the catalogue make this head one with %s that the rules allow.", m.Text)
			}
			s.now.stack = best.Stack.String()
			continue
		}
		s.note(m.Path, s.sayFact(m.Path))
	}
	return s.towards(c, moves)
}

// towards sees to it that the head has moved the way that was asked: other
// things count as well, and may keep the same head the best. Then the best of
// the heads in sight that have moved is taken.
func (s *Session) towards(was propose.Candidate, moves []understand.Move) string {
	if s.now.stack != "" {
		return ""
	}
	p, err := s.propose(&s.now)
	if err != nil {
		return "" // the clash is told where the head is shown
	}
	if movedTo(was, p.Best, moves) {
		return ""
	}
	// A limit finds the best head below it, where a wish only leans that way.
	var ways []head.Stack
	q := s.request(&s.now)
	for _, m := range moves {
		switch h := was.Facts.Head; {
		case m.Path == "want.mass_g" && m.By < 0:
			q.Facts.Player.MostG = (h.MassG + s.now.facts.Want.MassG) / 2
		case m.Path == "want.diameter_mm" && m.By < 0:
			q.Facts.Player.MostMM = (h.DiameterMM + s.now.facts.Want.DiameterMM) / 2
		}
	}
	if o := s.findUsing(q, s.now.only["tube"]); o.err == nil {
		ways = append(ways, o.proposal.Best.Stack)
	}
	for _, a := range p.Alternatives {
		ways = append(ways, a.Stack)
	}
	for _, c := range p.Pool {
		if movedTo(was, c, moves) {
			ways = append(ways, c.Stack)
		}
	}
	best := propose.Candidate{}
	for _, way := range ways[:min(len(ways), 8)] {
		if c, ok := s.bestOf([]head.Stack{way}); ok && movedTo(was, c, moves) && (best.Head.Mass == 0 || c.Score > best.Score) {
			best = c
		}
	}
	if best.Head.Mass == 0 {
		return "No head like that is in sight under your other answers."
	}
	s.now.stack = best.Stack.String()
	return ""
}

// movedTo reports whether b differs from a the way the moves go, in what has
// a number.
func movedTo(a, b propose.Candidate, moves []understand.Move) bool {
	x, y := a.Facts.Head, b.Facts.Head
	for _, m := range moves {
		var d, least float64
		switch m.Path {
		case "want.softness":
			d, least = y.Softness-x.Softness, 0.2
		case "want.mass_g":
			d, least = y.MassG-x.MassG, 0.04*x.MassG
		case "want.diameter_mm":
			d, least = y.DiameterMM-x.DiameterMM, 0.5
		case "want.budget":
			d, least = y.CostCents-x.CostCents, 1
		default:
			continue
		}
		if m.By < 0 {
			d = -d
		}
		if d < least {
			return false
		}
	}
	return true
}

// reshaped changes the stack itself: a layer more or less, a thicker or
// thinner wall, a larger or smaller core, more or less yarn. Of the ways to
// do it that the rules allow it returns the one with the best score.
func (s *Session) reshaped(c propose.Candidate, m understand.Move) (propose.Candidate, bool) {
	cat, st := s.kit.Catalogue, c.Stack
	var ways []head.Stack
	with := func(change func(*head.Stack)) {
		way := st
		way.Slices = slices.Clone(st.Slices)
		if st.Wrap != nil {
			w := *st.Wrap
			way.Wrap = &w
		}
		for i := range way.Slices {
			way.Slices[i].Cut = 0 // what lies below may change
		}
		change(&way)
		ways = append(ways, way)
	}
	n := len(st.Slices)
	switch m.Path {
	case "head.layers":
		if m.By < 0 && n > 0 {
			with(func(x *head.Stack) { x.Slices = x.Slices[:n-1] })
		}
		for _, t := range cat.Tubing {
			if rubber, ok := cat.Material(t.Material); ok && m.By > 0 {
				with(func(x *head.Stack) { x.Slices = append(x.Slices, head.Slice{Tube: t, Rubber: rubber}) })
			}
		}
	case "head.rubber_mm":
		if n == 0 {
			break
		}
		outer := st.Slices[n-1].Tube
		for _, alike := range []bool{true, false} { // another rubber only when there is no such wall in this one
			for _, t := range cat.Tubing {
				d := t.Wall - outer.Wall
				if rubber, ok := cat.Material(t.Material); ok && t.Bore == outer.Bore && d != 0 && (d > 0) == (m.By > 0) && (t.Material == outer.Material) == alike {
					with(func(x *head.Stack) { x.Slices[n-1] = head.Slice{Tube: t, Rubber: rubber} })
				}
			}
			if c, ok := s.bestOf(ways); ok {
				return c, true
			}
		}
	case "head.core_mm":
		for _, core := range cat.Cores {
			if d := core.Diameter - st.Core.Diameter; core.Material == st.Core.Material && core.DurometerA == st.Core.DurometerA && d != 0 && (d > 0) == (m.By > 0) {
				with(func(x *head.Stack) { x.Core = core })
			}
		}
	case "head.turns":
		if st.Wrap != nil {
			with(func(x *head.Stack) { x.Wrap.Turns = int(math.Round(float64(st.Wrap.Turns) * (1 + turnsBy*m.By))) })
		}
	}
	return s.bestOf(ways)
}

// bestOf returns the allowed stack with the best score, and whether any is
// allowed.
func (s *Session) bestOf(ways []head.Stack) (best propose.Candidate, ok bool) {
	q := s.request(&s.now)
	for _, way := range ways {
		c, err := s.kit.Finder.Consider(way, q)
		if err != nil || c.Refused() != nil {
			continue
		}
		if !ok || c.Score > best.Score {
			best, ok = c, true
		}
	}
	return best, ok
}

// whatIf takes a change in, shows only what moves, and takes it back.
func (s *Session) whatIf(r Reply, in understand.Reading) Reply {
	if len(in.Answers)+len(in.Moves)+len(in.Parts) == 0 {
		s.missed(&r, in)
		r.say("What if what? For example: what if I play four mallets, what if the wall is thicker, what if it is lighter.")
		return s.ask(r)
	}
	before, err := s.best()
	if err != nil {
		s.clash(&r, err)
		return s.ask(r)
	}
	kept := s.now.clone()
	var troubles []string
	for _, a := range in.Answers {
		troubles = append(troubles, s.answer(a))
	}
	for _, p := range in.Parts {
		p.Holding = understand.Named
		if in.Parts[0].Holding == understand.Avoid || in.Parts[0].Holding == understand.Lack {
			p.Holding = understand.Avoid
		}
		troubles = append(troubles, s.part(p))
	}
	if len(in.Moves) > 0 {
		troubles = append(troubles, s.move(in.Moves, in.Keep))
	}
	s.settle(&Reply{})
	after, err := s.best()
	s.now = kept
	if text := strings.TrimSpace(strings.Join(troubles, " ")); text != "" {
		r.say("%s", text)
		return s.ask(r)
	}
	what := strings.Join(in.Understood, "; ")
	if err != nil {
		s.clash(&r, err)
		return s.ask(r)
	}
	var shown Reply
	s.moved(&shown, "If "+what, before, after)
	if s.now.teaching && before.Stack.String() != after.Stack.String() {
		s.now.quiz = append(s.now.quiz, s.guess("What if: "+what, before, after, shown.Page))
		return s.ask(r)
	}
	r.Page = append(r.Page, shown.Page...)
	return s.ask(r)
}

// moved shows what differs between two heads, and nothing else.
func (s *Session) moved(r *Reply, title string, a, b propose.Candidate) {
	rows := slices.DeleteFunc(s.rows(a, b), func(row []string) bool { return row[1] == row[2] })
	if len(rows) == 0 {
		r.say("%s, nothing moves: the same head stays the best.", title)
		return
	}
	r.Page = append(r.Page, page.Table{Title: title + ", this moves:", Head: []string{"", "now", "then"}, Rows: rows})
	if f := b.Refused(); f != nil {
		r.say("That head is refused: %s", reason(*f))
	}
}

// rows are the facts of two heads side by side.
func (s *Session) rows(a, b propose.Candidate) [][]string {
	x, y := a.Facts.Head, b.Facts.Head
	var rows [][]string
	row := func(name, now, then string) { rows = append(rows, []string{name, now, then}) }
	num := func(name, form string, now, then float64) {
		row(name, fmt.Sprintf(form, now+0), fmt.Sprintf(form, then+0))
	}
	row("core", s.partName(a.Stack.Core.ID), s.partName(b.Stack.Core.ID))
	for i := range max(len(a.Stack.Slices), len(b.Stack.Slices)) {
		row(fmt.Sprintf("layer %d", i+1), s.layerName(a.Stack, i), s.layerName(b.Stack, i))
	}
	row("yarn", s.yarnName(a.Stack), s.yarnName(b.Stack))
	row("grade", a.Report.Grade, b.Report.Grade)
	num("softness, notches", "%+.1f", x.Softness, y.Softness)
	num("mass, g", "%.1f", x.MassG, y.MassG)
	num("size, mm", "%.1f", x.DiameterMM, y.DiameterMM)
	num("cut-off at p, Hz", "%.0f", x.CutoffPHz, y.CutoffPHz)
	num("cut-off at ff, Hz", "%.0f", x.CutoffFFHz, y.CutoffFFHz)
	num("opens up, octaves", "%.1f", x.OpensUp, y.OpensUp)
	num("second partial at f, dB", "%.0f", x.BrightDB, y.BrightDB)
	num("hardest pull, N", "%.0f", x.HandN, y.HandN)
	row("cost of a pair", measure.Money(math.Round(2*x.CostCents)).String(), measure.Money(math.Round(2*y.CostCents)).String())
	return rows
}

func (s *Session) layerName(st head.Stack, i int) string {
	if i >= len(st.Slices) {
		return "none"
	}
	return s.partName(st.Slices[i].Tube.ID)
}

func (s *Session) yarnName(st head.Stack) string {
	if st.Wrap == nil {
		return "none"
	}
	return fmt.Sprintf("%s, %d turns", s.partName(st.Wrap.Yarn.ID), st.Wrap.Turns)
}

// compare puts two heads side by side: two choices, the best with two parts,
// or the two best.
func (s *Session) compare(r *Reply, in understand.Reading) {
	var heads []propose.Candidate
	var names []string
	for _, p := range in.Parts {
		if c, ok := s.with(p); ok {
			heads, names = append(heads, c), append(names, "with "+p.Text)
		}
	}
	for _, t := range in.About {
		if t.Kind != "choice" {
			continue
		}
		if c, ok := s.choice(t.N); ok {
			heads, names = append(heads, c), append(names, fmt.Sprintf("choice %d", t.N))
		}
	}
	for n := 1; len(heads) < 2; n++ {
		c, ok := s.choice(n)
		if !ok {
			r.say("There are no two heads to compare yet. Name two parts or two choices, such as compare 1 and 2.")
			return
		}
		if len(heads) == 1 && heads[0].Stack.String() == c.Stack.String() {
			continue
		}
		heads, names = append(heads, c), append(names, fmt.Sprintf("choice %d", n))
	}
	r.Page = append(r.Page, page.Table{Head: []string{"", names[0], names[1]}, Rows: s.rows(heads[0], heads[1])})
	r.say("The second against the first: %s", s.against(heads[0], heads[1]))
}

// with returns the best head that has such a part in it.
func (s *Session) with(p understand.Part) (propose.Candidate, bool) {
	kept := s.now.clone()
	defer func() { s.now = kept }()
	p.Holding = understand.Named
	if s.part(p) != "" {
		return propose.Candidate{}, false
	}
	all, err := s.propose(&s.now)
	if err != nil {
		return propose.Candidate{}, false
	}
	// Only tubing may be left out of a head; then one further down has it.
	for _, c := range append([]propose.Candidate{all.Best}, all.Pool...) {
		if slices.ContainsFunc(p.IDs, func(id string) bool { return contains(c.Stack, id) }) {
			return s.bestOf([]head.Stack{c.Stack})
		}
	}
	q := s.request(&s.now)
	for _, id := range p.IDs {
		q.Pin.Tubing = []string{id}
		if o := s.find(q); o.err == nil {
			return o.proposal.Best, true
		}
	}
	return propose.Candidate{}, false
}
