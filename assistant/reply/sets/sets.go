// Package sets is what is said of a graded set: its heads side by side, of what
// they were chosen and by which measure, and what it falls short of. It decides
// nothing.
package sets

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/knowledge/measure"
	"mallow/rules/graded"
)

// Set is a graded set, hardest first.
type Set struct {
	reply.Assumptions
	Family string      `json:"family"`     // what the heads share, in words
	On     string      `json:"instrument"` // whose medium the notches count from
	Each   int         `json:"heads_each"` // heads of each grade
	Rungs  []Rung      `json:"rungs"`
	Asked  bool        `json:"asked"` // somebody said how far it is to reach; else the wanted softness is what sets usually are
	Order  reply.Order `json:"order"` // for the whole set, stock shared
	Points float64     `json:"points"`
	Exact  bool        `json:"exact"`      // no set of the heads considered costs less, by Measure
	Heads  int         `json:"considered"` // heads looked at
	Bare   bool        `json:"bare"`       // of bare balls
	Uneven float64     `json:"uneven"`     // the most that a gap is off the mean one, in notches
	// Balls, Yarns and Tubing are what those heads are of, in words.
	Balls   []string `json:"balls"`
	Yarns   []string `json:"yarns"`
	Tubing  []string `json:"tubing"`
	Turns   [2]int   `json:"turns"` // the fewest and the most that are wound
	Firm    string   `json:"firm"`  // what every set that it was chosen from keeps to
	Measure []string `json:"measure"`
	Misses  []string `json:"misses"` // what the set falls short of
	Opens   []string `json:"opens"`  // what would open that up
}

// Rung is one grade of a set.
type Rung struct {
	reply.Made
	Softness   float64        `json:"softness"`
	Wanted     float64        `json:"want_softness"`
	MassG      float64        `json:"mass_g"`
	DiameterMM float64        `json:"diameter_mm"`
	Pair       reply.Matching `json:"match"`
}

// New gathers what is shown of a graded set of each heads of a grade.
func New(w reply.Writer, s graded.Set, each int) (Set, error) {
	v := Set{Family: s.Family, Each: each, Asked: s.Said, Rungs: []Rung{}, Order: reply.NewOrder(s.Order), Points: reply.Round(s.Cost, 3), Exact: s.Exact, Heads: s.Tried.Heads, Bare: s.Bare, Uneven: reply.Round(s.Uneven, 2),
		Balls: names(w.Words(), s.Tried.Balls), Yarns: names(w.Words(), s.Tried.Yarns), Tubing: names(w.Words(), s.Tried.Tubing),
		Turns: [2]int{int(s.Measure.LeastTurns), int(s.Measure.MostTurns)}, Firm: s.Firm, Measure: measured(s), Misses: []string{}, Opens: []string{}}
	if len(s.Rungs) > 0 {
		v.Assumptions = w.Assuming(s.Rungs[0].Head.Pass)
	}
	for _, r := range s.Rungs {
		made, err := w.On(r.Head).Write(r.Head.Stack)
		if err != nil {
			return Set{}, err
		}
		v.On = made.Head.Instrument
		v.Rungs = append(v.Rungs, Rung{made, made.Head.Softness, reply.Round(r.Want, 2), made.Head.MassG, made.Head.DiameterMM, reply.NewMatching(r.Match)})
	}
	return v, nil
}

// Short is a set that falls short of what was asked, with what it misses.
func (v Set) Short(e *graded.Short) Set {
	v.Misses, v.Opens = e.Misses, append([]string{}, e.Opens...)
	return v
}

// Stacks are the heads of the set as stack text.
func (v Set) Stacks() (list []string) {
	for _, r := range v.Rungs {
		list = append(list, r.Stack)
	}
	return list
}

// names names parts in few words.
func names(w reply.Words, ids []string) []string {
	out := []string{}
	for _, id := range ids {
		out = append(out, w.Short(id))
	}
	return out
}

// measured says what a set was judged by.
func measured(s graded.Set) []string {
	m := s.Measure
	list := []string{
		fmt.Sprintf("%g a notch off an even ladder", m.Notch),
		fmt.Sprintf("%g a gram and %g a millimetre that mass and size fall from hard to soft", m.Gram, m.MM),
		fmt.Sprintf("%g a gram that a difference in mass is off the mean one", m.Step),
		fmt.Sprintf("%g for a second size of ball", m.Core),
	}
	if s.Bare {
		list = []string{
			fmt.Sprintf("%g a notch that a gap differs from the mean one", m.Notch),
			fmt.Sprintf("%g a notch that an end is off what was asked", m.End),
			fmt.Sprintf("%g a millimetre from one ball to the next", m.MM),
			fmt.Sprintf("%g a gram that a ball is lighter than the one before, and %g a gram that a difference is off the mean one", m.Gram, m.Step),
		}
	}
	return append(list, fmt.Sprintf("%g a unit of currency in whole packs", m.Cost), "what the rules have against each head")
}

// Page is the set for people.
func (v Set) Page() page.Page {
	return slices.Concat(v.grades(), page.Page{page.Para(v.proof())}, v.pairs(), v.Order.Page())
}

// Screens is the set for a conversation: the grades first, then why these and
// what to buy, and in the end each head as it can be given back.
func (v Set) Screens(owned bool) []page.Page {
	heads := page.List{}
	for i, r := range v.Rungs {
		heads.Items = append(heads.Items, fmt.Sprintf("%d: %s", i+1, r.Stack))
	}
	last := page.Page{page.Para("Say one of these lines to have that head alone, to change or to build."), heads}
	if owned {
		last = append(last, page.Para(reply.TakeOff(v.Each, v.Stacks()...)))
	}
	return []page.Page{
		append(v.grades(), page.Para(fmt.Sprintf("To buy: %s for the set (prices invented). Say more for why these, what to buy, and each head to build.", measure.Money(v.Order.TotalCents)))),
		{page.Para(v.proof())}, v.pairs(), v.Order.Page(),
		last,
	}
}

// grades is the set at a glance.
func (v Set) grades() page.Page {
	t := page.Table{
		Title: fmt.Sprintf("%d grades, hardest first, %d heads of each", len(v.Rungs), v.Each),
		Head:  []string{"", "made of", "grade", "notches", "asked", "g", "mm"},
		Right: []bool{true, false, false, true, true, true, true},
	}
	for i, r := range v.Rungs {
		t.Rows = append(t.Rows, []string{
			fmt.Sprint(i + 1), v.differs(i), r.Head.Grade, fmt.Sprintf("%+.1f", r.Softness), fmt.Sprintf("%+.1f", r.Wanted), fmt.Sprintf("%.1f", r.MassG), fmt.Sprintf("%.1f", r.DiameterMM),
		})
	}
	if !v.Asked {
		const asked = 4
		t.Head, t.Right = slices.Delete(t.Head, asked, asked+1), slices.Delete(t.Right, asked, asked+1)
		for i := range t.Rows {
			t.Rows[i] = slices.Delete(t.Rows[i], asked, asked+1)
		}
	}
	p := append(v.Assumptions.Page(), t)
	if v.On != "" {
		p = append(p, page.Para(fmt.Sprintf("%s, on %s. Notches count from that instrument's medium.", reply.Capital(v.Family), v.On)))
	}
	if n := len(v.Rungs); n > 1 {
		if gap := (v.Rungs[n-1].Softness - v.Rungs[0].Softness) / float64(n-1); gap < graded.Heard-0.05 {
			p = append(p, page.Para(fmt.Sprintf("The grades lie %.1f notches apart; people hear about one.", gap)))
		}
	}
	const heard = 0.5 // notches that a gap may be off before it is worth a word
	if v.Bare && v.Uneven >= heard {
		p = append(p, page.Para(fmt.Sprintf("Balls are as hard as their material, so the gaps are no evener than that: one is %.1f notches off the mean one.", v.Uneven)))
	}
	for _, m := range v.Misses {
		p = append(p, page.Para("Not as asked: "+m+"."))
	}
	if len(v.Opens) > 0 {
		p = append(p, page.Para("It would take "+strings.Join(v.Opens, ", or ")+"."))
	}
	return p
}

// pairs is how the heads of each grade match.
func (v Set) pairs() (p page.Page) {
	for i, r := range v.Rungs {
		p = append(p, page.Para(fmt.Sprintf("Pair %d: %s", i+1, r.Pair)))
	}
	return p
}

// differs is a head in words without what all of the set share.
func (v Set) differs(i int) string {
	parts := strings.Split(v.Rungs[i].Plain, "; ")
	ball := parts[0]
	if len(parts) > 1 && !slices.ContainsFunc(v.Rungs, func(r Rung) bool { return !strings.HasPrefix(r.Plain, ball+";") }) {
		parts = parts[1:]
	}
	if last := &parts[len(parts)-1]; v.Rungs[i].Head.Yarn != nil {
		*last, _, _ = strings.Cut(*last, " of ")
	}
	return strings.Join(parts, "; ")
}

// proof says of which heads the set is the best, and by which measure.
func (v Set) proof() string {
	text := fmt.Sprintf("Looked at: %d bare balls that this instrument takes, in the sizes that it usually takes.", v.Heads)
	if len(v.Yarns) > 0 {
		text = fmt.Sprintf("Looked at: %d heads on %s; under %s", v.Heads, strings.Join(v.Balls, " / "), strings.Join(v.Yarns, " / "))
		if len(v.Tubing) > 0 {
			text += "; with up to three slices of " + strings.Join(v.Tubing, " / ")
		}
		text += fmt.Sprintf("; each wound with %d to %d turns to the softness of its grade.", v.Turns[0], v.Turns[1])
	}
	how := fmt.Sprintf("No set of them scores better that is %s: every one was tried or ruled out.", v.Firm)
	if !v.Exact {
		how = "The search was cut short, so a better set may exist among them."
	}
	return fmt.Sprintf("%s %s Counted in points: %s.", text, how, strings.Join(v.Measure, "; "))
}
