// Package hand turns what people say they have into parts on hand: which part
// a vague word means, and how much there is of what nobody counted.
//
// It never reads words itself, nor looks for a head.
package hand

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"mallow/assistant/reply"
	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/measure"
	"mallow/rules/facts"
	"mallow/rules/stock"
)

// Hand is parts on hand as they were named.
type Hand struct {
	Bin   *stock.Bin
	Notes []string // what was assumed
	Asks  []string // what has to be asked before it is sure, each a sentence
	Drill bool     // there is something to bore balls with

	uncounted []string
	usual     [][2]string // vague words, and the parts they were taken for
}

// Read reads parts on hand out of free text; see Of. Every stretch that it
// makes nothing of is among the notes.
func Read(cat *knowledge.Catalogue, r *understand.Reader, text string) (Hand, error) {
	return Among(cat, r, text, nil)
}

// Among is Read where only some parts can be meant; nil is any.
func Among(cat *knowledge.Catalogue, r *understand.Reader, text string, only []string) (Hand, error) {
	in := r.Read(ByName(cat, text), understand.Context{Asked: understand.AskParts})
	drill := false
	for _, a := range in.Takes {
		if v, ok := a.Value.(bool); ok && a.Path == facts.BenchDrill {
			drill = v != a.Not
		}
	}
	if only != nil {
		for i := range in.Parts {
			p := &in.Parts[i]
			if p.IDs == nil {
				p.IDs = All(cat, p.Kind)
			}
			p.IDs = slices.DeleteFunc(slices.Clone(p.IDs), func(id string) bool { return !slices.Contains(only, id) })
			if len(p.IDs) == 0 && slices.Contains(kinds(), p.Kind) {
				return Hand{}, fault.Errorf("there is no %q among what is on hand", p.Text)
			}
		}
	}
	h, err := Of(cat, in.Parts, drill)
	if err != nil {
		return Hand{}, err
	}
	if len(h.Bin.Items) == 0 && !drill {
		return Hand{}, fault.Errorf("no part was understood in %q; say, for example, 'two 1 1/8 plastic balls, a foot of 3/4 by 1/8 latex, grey wool'", text)
	}
	for _, m := range in.Missed {
		h.Notes = append(h.Notes, fmt.Sprintf("Nothing was made of %q.", m))
	}
	return h, nil
}

// Of is what somebody has who names parts. A part that nobody counted is
// enough for the job. A word that fits several parts means the one that makers
// mean by it mostly, of those that go with the other parts named; where two
// are about as likely, that is asked, and until then it may be either.
func Of(cat *knowledge.Catalogue, named []reading.Part, drill bool) (Hand, error) {
	h := Hand{Bin: &stock.Bin{}, Drill: drill}
	var parts []reading.Part
	for _, p := range named {
		kind := slices.Index(kinds(), p.Kind)
		if kind < 0 || p.Holding == reading.Lack || p.Holding == reading.Need || p.Holding == reading.Avoid {
			continue // of glue there is always one bottle to think of
		}
		if p.Amount < 0 {
			return Hand{}, fault.Errorf("%q: an amount can't be below zero", p.Text)
		}
		if len(p.IDs) == 0 {
			if p.IDs = standIn(cat, p); len(p.IDs) > 0 {
				h.Notes = append(h.Notes, fmt.Sprintf("“%s” is a size that nobody sells here. It is computed as %s, the nearest that I know: weigh and measure one of yours, and count on the difference.", p.Text, reply.In(cat).Part(p.IDs[0])))
			} else if p.Material+p.Weight != "" || p.Diameter+p.Bore+p.Wall+p.Length != 0 || p.Durometer != 0 {
				return Hand{}, fault.Errorf("%s", Unknown(cat, p))
			} else {
				p.IDs = All(cat, p.Kind)
			}
		}
		parts = append(parts, p)
	}
	// What is said exactly first, so that the vague can go with it; then from
	// the inside out.
	rank := func(p *reading.Part) int {
		if len(p.IDs) == 1 {
			return 0
		}
		return 1 + slices.Index(kinds(), p.Kind)
	}
	slices.SortStableFunc(parts, func(a, b reading.Part) int { return rank(&a) - rank(&b) })
	for i := range parts {
		h.take(cat, &parts[i])
	}
	h.Notes = append(usual(h.usual), h.Notes...)
	if len(h.uncounted) > 0 {
		are := "it is"
		if len(h.uncounted) > 1 {
			are = "they are"
		}
		h.Notes = append(h.Notes, fmt.Sprintf("Nobody counted %s; %s taken to be enough.", strings.Join(h.uncounted, ", "), are))
	}
	return h, nil
}

// usual says in one paragraph which parts vague words were taken for: each word, and the part.
func usual(taken [][2]string) []string {
	switch len(taken) {
	case 0:
		return nil
	case 1:
		return []string{fmt.Sprintf("“%s” is taken to be the usual one that goes with the rest: %s.", taken[0][0], taken[0][1])}
	}
	var all []string
	for _, t := range taken {
		all = append(all, fmt.Sprintf("“%s”: %s", t[0], t[1]))
	}
	return []string{"Taken to be the usual ones that go with the rest: " + strings.Join(all, "; ") + "."}
}

func kinds() []string { return []string{"core", "tube", "yarn", "shaft"} }

// All returns the ids of a kind of part.
func All(cat *knowledge.Catalogue, kind string) []string {
	var ids []string
	switch kind {
	case "core":
		for i := range cat.Cores {
			ids = append(ids, cat.Cores[i].ID)
		}
	case "tube":
		for i := range cat.Tubing {
			ids = append(ids, cat.Tubing[i].ID)
		}
	case "yarn":
		for i := range cat.Yarns {
			ids = append(ids, cat.Yarns[i].ID)
		}
	case "shaft":
		for i := range cat.Shafts {
			ids = append(ids, cat.Shafts[i].ID)
		}
	}
	return ids
}

// take adds a part that was named to what is on hand.
func (h *Hand) take(cat *knowledge.Catalogue, p *reading.Part) {
	ranked, alike := stock.Likely(cat, p.IDs, h.Bin.Items, h.Drill)
	id, ids := ranked[0], ranked[:1]
	words := reply.In(cat)
	switch {
	case len(ranked) == 1:
	case alike > 1 && p.Kind != "shaft": // of shafts any length does
		var could []string
		for _, x := range ranked[:alike] {
			could = append(could, words.Part(x))
		}
		ids = ranked[:alike]
		h.Asks = append(h.Asks, fmt.Sprintf("“%s” may be %s: which is it? Until you say, the one that suits best is taken.", p.Text, strings.Join(could, ", or ")))
	default:
		h.usual = append(h.usual, [2]string{p.Text, words.Part(id)})
	}
	amounts := []float64{p.Amount}
	yarn, isYarn := cat.Yarn(id)
	tube, isTube := cat.Tube(id)
	shaft, isShaft := cat.Shaft(id)
	switch {
	case p.Amount == 0:
		amounts[0] = stock.Enough()
		h.uncounted = append(h.uncounted, "“"+p.Text+"”")
	case isTube && p.Unit == "piece": // slices, cut already
		each := p.Length
		if each == 0 {
			each = slice(cat, tube, h.Bin)
			h.Notes = append(h.Notes, fmt.Sprintf("“%s”: taken as cut to %s.", p.Text, each))
		}
		amounts = slices.Repeat([]float64{float64(each)}, int(min(p.Amount, 1000)))
	case isYarn && p.Unit == "m":
		amounts[0] *= yarn.Tex.Value * 1e-6 // tex is grams a kilometre
	case isYarn && p.Unit != "kg":
		amounts = slices.Repeat([]float64{float64(yarn.Pack)}, int(min(max(p.Amount, 1), 1000)))
	case isShaft && p.Unit == "m": // to be cut
		amounts[0] = math.Floor(p.Amount / float64(shaft.Length))
	case !isYarn && !isTube:
		amounts[0] = math.Floor(p.Amount)
	}
	for _, id := range ids {
		for _, a := range amounts {
			h.Bin.Items = append(h.Bin.Items, stock.Item{Part: id, Amount: a})
		}
	}
}

// slice is how long a slice is cut for the ball on hand, or else for the ball that
// is mostly used and that it grips.
func slice(cat *knowledge.Catalogue, t knowledge.Tube, bin *stock.Bin) measure.Length {
	for _, it := range bin.Items {
		if c, ok := cat.Core(it.Part); ok {
			if l := stock.Cut(cat, c, t); l > 0 {
				return l
			}
		}
	}
	usual, cut := 0.0, measure.Inch/2
	for _, c := range cat.Cores {
		if l := stock.Cut(cat, c, t); l > 0 && c.Supply == t.Supply && c.Usual > usual {
			usual, cut = c.Usual, l
		}
	}
	return cut
}

// ByName puts ids in place of the catalogue's own names of parts, so that a
// name finds its part, too. Longer names go first: one may be in another.
func ByName(cat *knowledge.Catalogue, text string) string {
	type named struct{ name, id string }
	var list []named
	words := reply.In(cat)
	for _, id := range cat.PartIDs() {
		if name := words.Part(id); name != id {
			list = append(list, named{name, id})
		}
	}
	slices.SortStableFunc(list, func(a, b named) int { return len(b.name) - len(a.name) })
	lower := strings.ToLower(text)
	for _, n := range list {
		if strings.Contains(lower, strings.ToLower(n.name)) {
			text = regexp.MustCompile(`(?i)`+regexp.QuoteMeta(n.name)).ReplaceAllString(text, n.id)
			lower = strings.ToLower(text)
		}
	}
	return text
}
