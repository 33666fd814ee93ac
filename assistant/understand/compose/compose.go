// Package compose knows the shapes in which people order what a head is to be made of: take
// out the slice, twenty more turns, a third lighter. It makes moves of them in a chart; it
// takes nothing.
package compose

import (
	"math"
	"strconv"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// All is by how many slices a head is to have fewer that is to have none.
const All = 9

// Mark makes moves of the orders about parts in a chart, and of the shares of what there is
// by which something is to move.
func Mark(c *cover.Chart) {
	m := marker{c}
	for t := 0; t < len(c.Tokens); {
		t = max(t+1, m.at(t))
	}
	for i := range c.Items {
		m.share(i)
	}
}

// marker marks the orders of one chart.
type marker struct{ *cover.Chart }

// word returns what the longest word at token t is in an order, and the token behind it.
func (m marker) word(t int) (what string, end int) {
	if t >= len(m.Tokens) || m.Tokens[t].Kind != lexis.Word && m.Tokens[t].Kind != lexis.Number {
		return "", t
	}
	x, n := m.Lex.Longest(m.Tokens, t, "compose")
	if x == nil {
		return "", t
	}
	return x.Value, t + n
}

// noun is slices or turns, how many and whether they are more or fewer than there are.
type noun struct {
	what  string  // slice, tubing or turns; "" for none
	n     float64 // 0 where no number was said
	way   float64 // 1 for more, -1 for fewer, 0 where nothing is said
	share float64 // of what there is, signed
	both  bool
	which bool // one of several was named: the second
	end   int
}

// noun reads slices or turns from token t on, as people count them.
func (m marker) noun(t int) (o noun) {
	const far = 7
	for at := t; at < min(t+far, len(m.Tokens)); {
		k := m.Tokens[at]
		what, end := m.word(at)
		switch {
		case k.Kind == lexis.Number && k.Whole && k.Value > 0 && (what == "" || end == at+1):
			if o.n == 0 || k.Value < o.n { // one of the two slices
				o.n = k.Value
			}
			end = at + 1
		case what == "which":
			o.which = true
		case k.Is("both"), k.Is("all"), k.Is("any"):
			o.both, end = true, at+1
		case what == "more", what == "less":
			o.way = way(what)
			if k.Is("another") && o.n == 0 {
				o.n = 1
			}
		case strings.HasPrefix(what, "share "):
			o.share, _ = strconv.ParseFloat(what[6:], 64)
			if m.At(end).Is("as") && (m.At(end+1).Is("many") || m.At(end+1).Is("much")) {
				end += 2
			}
		case strings.HasPrefix(what, "part "):
			o.share, _ = strconv.ParseFloat(what[5:], 64)
		case what == "slice", what == "tubing", what == "turns":
			o.what, o.end = what, end
			if k.Is("wrap") || k.Is("winding") {
				o.what = "" // the wrap is no count
				if o.n > 0 || o.share != 0 {
					o.what = what
				}
			}
			if m.At(end).Is("of") && what == "slice" && !m.At(end+1).Is("it") || m.At(end).Is("of") && what == "turns" {
				o.what = "" // a layer of glue
			}
			if behind, e := m.word(end); behind == "more" || behind == "less" { // two slices fewer
				o.way, o.end = way(behind), e
			}
			return o
		case what == "between", m.filler(at):
			end = max(end, at+1)
		default:
			return noun{}
		}
		at = end
	}
	return noun{}
}

// way is which way more or less goes.
func way(what string) float64 {
	if what == "less" {
		return -1
	}
	return 1
}

// filler reports whether the word at token t carries nothing.
func (m marker) filler(t int) bool {
	x, n := m.Lex.Longest(m.Tokens, t, "filler")
	return x != nil && n == 1
}

// at marks the order that begins at token t, and returns the token behind it; t where there
// is none.
func (m marker) at(t int) int {
	if m.denied(t) {
		return t
	}
	verb, from := m.word(t)
	switch verb {
	case "out", "in", "want", "weak":
	case "":
		if m.filler(t) { // what if one more layer
			return t
		}
	default:
		verb, from = "", t
	}
	o := m.noun(from)
	if verb != "" && o.what == "" { // a turn is a wrap, and to wrap
		verb, from = "", t
		o = m.noun(t)
	}
	switch o.what {
	case "slice", "tubing":
		return m.slices(t, verb, o)
	case "turns":
		return m.turns(t, verb, o)
	}
	return t
}

// slices marks an order of slices.
func (m marker) slices(t int, verb string, o noun) int {
	for p := m.At(o.end); (verb == "out" || verb == "weak") && (p.Is("out") || p.Is("off") || p.Is("away") || p.Is("altogether") || p.Is("completely")); p = m.At(o.end) {
		verb = "out" // take the slice out
		o.end++
	}
	n, way := max(o.n, 1), 0.0
	switch {
	case o.way != 0 && verb != "out":
		way = o.way
	case verb == "out" && (m.told(t) || o.way > 0 || o.which):
	case verb == "out" && (o.both || o.what == "tubing" && o.n == 0):
		n, way = All, -1
	case verb == "out":
		way = -1
	case verb == "in" && o.what == "slice" && !m.told(t):
		way = 1
	}
	if o.what == "tubing" && way > 0 {
		way = 0 // more tubing may be a thicker one
	}
	if way == 0 {
		return t
	}
	m.move(t, o.end, facts.HeadLayers, way*n, "")
	return o.end
}

// turns marks an order of turns: forty off, twenty more, 150 in all, half as many.
func (m marker) turns(t int, verb string, o noun) int {
	off := false
	for p := m.At(o.end); p.Is("off") || p.Is("on") || p.Is("less") || p.Is("extra") || p.Is("please"); p = m.At(o.end) {
		off = off || p.Is("off")
		o.end++
	}
	by, unit := 0.0, "turns"
	switch {
	case o.share != 0 && o.n == 0:
		if by, unit = o.share, reading.Share; o.way < 0 {
			by = -math.Abs(by)
		}
	case o.n == 0 || m.told(t):
	case o.way != 0:
		by = o.way * o.n
	case off, verb == "out":
		by = -o.n
	case verb == "in" && (m.At(t).Is("add") || m.At(t).Is("adding") || m.At(o.end-1).Is("on")):
		by = o.n
	case o.n >= leastTurns && (m.to(t) || m.At(o.end).Is("instead") || m.At(o.end).Is("in") && m.At(o.end+1).Is("all")):
		by, unit = o.n, reading.InAll
	}
	if by == 0 {
		return t
	}
	m.move(t, o.end, facts.HeadTurns, by, unit)
	return o.end
}

// leastTurns is how many turns a head has at least that has some.
const leastTurns = 30

// to reports whether what stands before token t says that something is to come to what
// follows: make it, go to, down to.
func (m marker) to(t int) bool {
	last, before := m.At(t-1), m.At(t-2)
	switch {
	case last.Is("it") || last.Is("them") || last.Is("that"):
		return before.Is("make") || before.Is("wind") || before.Is("give") || before.Is("wrap")
	case last.Is("to"):
		return before.Is("go") || before.Is("down") || before.Is("up") || before.Is("it") || before.Is("turns") || before.Is("wind") || before.Is("cut") || before.Is("back")
	}
	return last.Is("only") || last.Is("just")
}

// told reports whether the verb at token t tells what somebody does or has done, or is no
// order: I always leave out the slice.
func (m marker) told(t int) bool {
	for k := t - 1; k >= max(0, t-3) && m.Tokens[k].Kind != lexis.Mark; k-- {
		switch m.Tokens[k].Text {
		case "i", "we", "they", "he", "she", "always", "never", "usually", "had", "have", "has", "already":
			return !m.modal(k, t)
		}
	}
	return false
}

// modal reports whether a word between tokens from and to makes a wish of what is told: I want to
// take out, can we drop.
func (m marker) modal(from, to int) bool {
	for k := max(0, from-1); k < to; k++ {
		switch m.Tokens[k].Text {
		case "want", "can", "could", "shall", "should", "would", "id", "lets", "may", "might", "need", "must", "like", "if", "will", "ill", "wanna", "wish":
			return true
		}
	}
	return false
}

// denied reports whether what stands before token t denies it: don't take out the slice.
func (m marker) denied(t int) bool {
	for k := t - 1; k >= max(0, t-3) && m.Tokens[k].Kind != lexis.Mark; k-- {
		switch m.Tokens[k].Text {
		case "dont", "not", "never", "without", "cant", "wont", "shouldnt", "didnt", "doesnt", "no", "nor", "keep", "than":
			return true
		}
	}
	return false
}

// move makes a move of the tokens from..to.
func (m marker) move(from, to int, path string, by float64, unit string) {
	first := -1
	for i := range m.Items {
		it := m.Item(i)
		if it.To <= from || it.From >= to {
			continue
		}
		if first < 0 {
			first = i
		} else {
			m.Drop(i)
		}
	}
	it := m.Item(first)
	it.Qty, it.Note, it.Mark, it.ID = nil, nil, "", ""
	it.Senses = []*lexis.Sense{{Slot: "move", Value: path, Num: by, Unit: unit, Say: m.Text[m.Tokens[from].From:m.Tokens[to-1].To]}}
}

// share lets a share of what there is that stands before item i, a relative wish, be by how much:
// ten per cent heavier, a third lighter, twice as heavy.
func (m marker) share(i int) {
	x := m.Item(i).Has("move")
	if w := m.Item(i).Has("wish"); x == nil && w != nil && m.Is(i-1, "as") {
		x = w
	}
	if x == nil || x.Unit == reading.Share {
		return
	}
	switch x.Value {
	case facts.WantMassG, facts.WantDiameterMM, facts.WantBudgetCents, facts.HeadTurns:
	default:
		return
	}
	share, from := m.before(i)
	if share == 0 {
		return
	}
	for k := from; k < i; k++ {
		m.Drop(k)
	}
	y := *x
	y.Slot, y.Num, y.Unit = "move", math.Copysign(share, x.Num), reading.Share
	m.Item(i).Senses = []*lexis.Sense{&y}
}

// before returns the share that stands before item i, and the item that it begins at.
func (m marker) before(i int) (share float64, from int) {
	if q := m.Item(i - 1).Qty; q != nil && q.Dim == quantity.Plain && q.Frac && q.Value < 1 {
		return q.Value, i - 1
	}
	for k := i - 1; k >= max(0, i-3); k-- {
		if q := m.Item(k).Qty; q != nil && q.Dim == quantity.Plain && q.Value > 0 && q.Value < 100 && m.percent(k+1, i) {
			return q.Value / 100, k
		}
		if m.Item(k).From < 0 {
			continue
		}
		if what, end := m.word(m.Item(k).From); strings.HasPrefix(what, "part ") && end == m.Item(i).From {
			share, _ = strconv.ParseFloat(what[5:], 64)
			return share, k
		}
	}
	return 0, i
}

// percent reports whether nothing but the words for it stand from item from to item to.
func (m marker) percent(from, to int) bool {
	for k := from; k < to; k++ {
		if !m.Says(k, "%", "percent", "per", "cent", "pct") {
			return false
		}
	}
	return from < to
}
