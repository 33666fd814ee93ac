package tell

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/knowledge/measure"
	"mallow/rules/propose"
)

// grams is a weight that somebody asks about.
var grams = regexp.MustCompile(`(?i)\b(\d{1,4}(?:\.\d+)?)\s*-?\s*g(?:rams?|r)?\b`)

// newtons is a force that somebody asks about.
var newtons = regexp.MustCompile(`(?i)\b(\d{1,4}(?:\.\d+)?)\s*-?\s*n(?:ewtons?)?\b`)

// heads are so many heads that somebody asks about: for 4 of these.
var heads = regexp.MustCompile(`(?i)\b(\d{1,3})\s+(?:of (?:these|them|those)|mallets|heads|sticks|beaters)\b`)

// Answer is the text of one of the catalogue's answers, for the head at hand
// or before there is one.
func (t Teller) Answer(id, line string) string {
	f := answer.Facts{}
	if m := grams.FindStringSubmatch(line); m != nil {
		f.Asked.MassG, _ = strconv.ParseFloat(m[1], 64) // digits
		f.Asked.Mass = m[1] + " g"
	}
	if m := newtons.FindStringSubmatch(line); m != nil {
		f.Asked.PullN, _ = strconv.ParseFloat(m[1], 64) // digits
		f.Asked.Pull = m[1] + " N"
	}
	if m := heads.FindStringSubmatch(line); m != nil {
		f.Asked.Heads, _ = strconv.ParseFloat(m[1], 64) // digits
	}
	stage := answer.Choosing
	switch {
	case t.Building:
		stage = answer.Building
	case t.Proposed:
		stage = answer.Proposed
	}
	if stage != answer.Choosing || t.Kit.Answers().Usual(id) {
		if c, err := t.Kit.Offers.Best(t.State); err == nil {
			if full, err := t.facts(c, f); err == nil {
				return t.Kit.Answers().Text(id, full, stage)
			}
		}
	}
	at := t.Kit.Finder.Settle(t.State.Guess())
	f.Player, f.Want, f.Instrument, f.Bench = at.Player, t.State.Facts.Want, at.Instrument, t.State.Facts.Bench
	f.Offer = t.group(f.Offer)
	f.Offer.Left = float64(t.Kit.Asker.Open(t.State, t.Seen))
	return t.Kit.Answers().Text(id, f, answer.Choosing)
}

// facts are what answers about a head may read.
func (t Teller) facts(c propose.Candidate, f answer.Facts) (answer.Facts, error) {
	e, order, err := t.Effort(c)
	if err != nil {
		return f, err
	}
	f.Player, f.Want, f.Instrument, f.Bench, f.Head = c.Facts.Player, c.Facts.Want, c.Facts.Instrument, c.Facts.Bench, c.Facts.Head
	f.Offer = t.group(f.Offer.With(e).Of(t.Words(), c.Head, order))
	for _, l := range order.Lines {
		if a, ok := t.Kit.Catalogue.Adhesive(l.Part); ok && slices.Contains(a.Joins, "core-shaft") {
			f.Offer.CureHours = max(f.Offer.CureHours, a.CureHour.Value)
		}
	}
	f.Offer.BoreMM = c.Facts.Head.CoreMM * t.Kit.Catalogue.Limits.BoreDepth.Value
	f.Offer.Heads = float64(e.Heads * t.State.Sets())
	f.Offer.PartsCents = f.Offer.Heads * c.Facts.Head.CostCents
	f.Offer.AllCents = float64(e.Buy)
	f.Offer.Left = float64(t.Kit.Asker.Open(t.State, t.Seen))
	return f, nil
}

// group adds how many sets are to be built, and what for.
func (t Teller) group(o answer.Offer) answer.Offer {
	o.Pairs, o.Each = float64(t.State.Sets()), float64(t.State.Heads())
	if o.TotalCents = t.State.TotalCents / float64(max(t.State.Kinds, 1)); o.TotalCents > 0 {
		o.Purse, o.Share = measure.Money(math.Round(o.TotalCents)).String(), measure.Money(t.State.ShareCents()).String()
	}
	return o
}

// Changed says how the head on offer differs from the one before it.
func (t Teller) Changed(r *Said, before *settled.State) {
	now, err := t.Kit.Offers.Best(t.State)
	if err != nil || before == nil || !t.Proposed {
		r.Say("Nothing has changed yet: there is no other head before this.")
		return
	}
	was, err := t.Kit.Offers.Best(before)
	if err != nil {
		t.Clash(r, err)
		return
	}
	r.Say("Against the one before (%s): %s", t.Words().Plain(was.Stack), reply.Against(was, now))
}

// Assumed says what nobody said and was taken for granted.
func (t Teller) Assumed(r *Said) {
	var list []string
	for _, q := range t.Kit.Catalogue.Questions {
		if _, said := t.State.Said(q.ID); said || t.State.Known[q.ID] || q.Default == "" || !t.Kit.Asker.Arises(t.State, q.ID) {
			continue
		}
		enter := t.Kit.Asker.Enter(t.State, q)
		for _, c := range q.Choices {
			if c.Value == enter {
				name := q.Name
				if name != "" {
					name += ": "
				}
				list = append(list, name+c.Say)
			}
		}
	}
	if len(list) == 0 {
		r.Say("Nothing: all that counts was said.")
		return
	}
	r.Say("Nobody said otherwise, so this is taken: %s.", strings.Join(list, "; "))
}
