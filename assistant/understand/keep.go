package understand

import (
	"slices"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/retell"
	"mallow/assistant/understand/retract"
	"mallow/assistant/understand/stay"
	"mallow/rules/facts"
)

// keeper takes what is to stay as it is, and what is taken back.
type keeper struct{ *walk }

// stay returns what finds what stays in the clause at hand.
func (w keeper) stay() stay.Clause {
	return stay.Clause{Chart: w.Chart, From: w.clause.From, To: w.clause.To}
}

// takeBack takes words that take something back, and what they take back:
// forget the budget.
func (w keeper) takeBack(i int) int {
	if w.neg {
		return 0
	}
	paths, end := retract.Clause{Chart: w.Chart, From: w.clause.From, To: w.clause.To, Before: w.Ctx.Before}.At(i)
	if len(paths) == 0 {
		return 0
	}
	for _, path := range paths {
		w.Withdraw(path)
	}
	w.content, w.Out.Corrects = true, true
	w.Act(reading.Change)
	return end - i
}

// takeKeep takes what is to stay as it is: keep the core, don't touch the yarn,
// the weight stays.
func (w keeper) takeKeep(i int) int {
	it := w.Item(i)
	if path, end := w.stay().AsItIs(i); path != "" { // as soft as it is
		w.Keep(path, retell.Name(path))
		w.content, w.changed = true, true
		return end - i
	}
	if n := w.alone(i); n > 0 {
		return n
	}
	if n := w.restStays(i); n > 0 {
		return n
	}
	if i == w.clause.From && len(w.Out.Keeps) > 0 && w.Is(i, "and", "or", "nor") && w.Item(i-1).Any("topic", "kind", "material") && w.place().Names(i+1) { // stick with the core and the tubing
		for j := i + 1; j < w.clause.To; j++ {
			w.keep(j)
		}
		w.content = true
		return w.clause.To - i
	}
	if w.Is(i, "not") && i == w.clause.From && (w.clause.First && len(w.Ctx.Before.Moves) > 0 || len(w.Out.Moves) > 0) && w.Item(w.clause.To-1).Any("kind", "topic") && w.place().Names(i+1) { // make it lighter. not the core!
		w.keep(w.clause.To - 1)
		w.content = true
		return w.clause.To - i
	}
	if x := it.Keeps(false); x != nil && (!w.neg || x.Value != "leave") {
		if x.Value == "leave" && w.HasWord(i+1, w.clause.To, "now", "aside", "later") { // leave the bells for now
			for j := i; j < w.clause.To; j++ {
				w.Item(j).Lost = w.Item(j).Mark == ""
			}
			w.content, w.changed = true, true
			return w.clause.To - i
		}
		if x.Value == "leave" && !w.place().LeftAlone(i) && !w.leavesAsBefore(i) && !w.stay().LeavesQuality(i) || x.Value == "keep" && w.HasWord(i, w.clause.To, "away") {
			return 0
		}
		if w.keepRest(i + 1) {
			w.content = true
			return w.clause.To - i
		}
		n := 0
		for j := i + 1; j < w.clause.To; j++ {
			if path, _ := w.stay().AsItIs(j); path != "" {
				return 0 // keep it as soft as it is
			}
			if w.Item(j).Any("holding", "not") && !w.Item(j).Any("keep") || w.Item(j).Has("move") != nil {
				break
			}
			if w.keep(j) {
				if n = j + 1 - i; w.place().Valued(j) { // hold the diameter at 1 3/8
					if t := w.Item(j).Has("topic"); t != nil {
						w.topic = t.Topic[0].ID
					}
					w.content = true
					return n
				}
			}
		}
		if n > 0 {
			w.content = true
			return n
		}
		if !w.ClauseEnds(i + 1) {
			return 0
		}
	}
	if w.stay().AsNow(i) && w.keep(i) {
		w.content = true
		return 3
	}
	if it.Has("topic") != nil && w.stay().Liked(i) && len(w.Out.Moves)+len(w.Out.Takes)+len(w.Out.Harm) > 0 && w.keep(i) { // but I love how soft they are
		w.content = true
		return 1
	}
	if j := w.stay().Referent(i); j >= 0 && (it.Keeps(true) != nil || it.Keeps(false) != nil && w.ClauseEnds(i+1)) && w.keep(j) { // I love the sticks, they're staying
		for k := j; k < i; k++ {
			w.Item(k).Lost = false
		}
		w.UseAll(j, i)
		w.content, w.changed = true, true
		return 1
	}
	if w.stay().Excepted(i) { // everything except the yarn may change
		w.hold, w.reach.Rest = reading.Named, ""
		for j := i + 1; j < w.clause.To; j++ {
			w.content = w.keep(j) || w.content
		}
		return w.clause.To - i
	}
	if it.Has("topic") != nil && it.Keeps(true) != nil && w.keep(i) { // it should weigh what it weighs now
		w.content = true
		return 1
	}
	if p := len(w.Passed); p > 0 && it.Keeps(true) != nil && w.Says(i, "it", "that", "them") { // I like how hard it is, so leave that be
		w.Keep(w.Passed[p-1].ID, retell.Name(w.Passed[p-1].ID))
		w.content = true
		return 1
	}
	if w.staysAfter(i) && w.keep(i) { // the core stays
		w.content = true
		return 1
	}
	return 0
}

// alone takes the kinds of part from item i on that alone may change, beside a wish
// that moves the head: every other kind stays.
func (w keeper) alone(i int) int {
	if w.Item(i).Has("kind") == nil || w.neg || w.hold == reading.Have ||
		len(w.Ctx.Before.Moves) == 0 && !slices.ContainsFunc(w.Items, func(it cover.Item) bool { return it.Any("move") }) {
		return 0
	}
	may, end := w.stay().Alone(i)
	if len(may) == 0 {
		return 0
	}
	for _, id := range []string{"core", "tube", "yarn", "shaft"} {
		if !slices.Contains(may, id) {
			w.Keep(id, "")
		}
	}
	w.Kept = append(w.Kept, "rest")
	w.UseAll(w.clause.From, end)
	w.bound, w.content, w.changed = "", true, true
	return end - i
}

// keepRest takes "keep everything else" from item i on: the facts, where one of
// them is moved, else every kind of part that the text gives no other place.
func (w keeper) keepRest(i int) bool {
	for w.Filler(i) && !w.Is(i, "everything", "all") && !w.Starts(i, "everything", "all") {
		i++
	}
	if !w.Starts(i, "everything", "rest", "others", "all", "nothing", "nowt", "none") {
		return false
	}
	list := []string{"core", "tube", "yarn", "shaft"}
	if len(w.Out.Moves) > 0 && len(w.Out.Parts) == 0 {
		list = []string{facts.WantMassG, facts.WantDiameterMM, facts.WantSoftness}
	}
	for _, id := range list {
		if w.stay().Except(i, id) {
			continue
		}
		moved := slices.ContainsFunc(w.Out.Moves, func(m reading.Move) bool { return m.Path == id })
		if !moved && !slices.ContainsFunc(w.Out.Parts, func(p reading.Part) bool { return p.Kind == id }) {
			w.Keep(id, "")
		}
	}
	w.Kept = append(w.Kept, "rest")
	return true
}

// restStays takes "everything else constant" at item i.
func (w keeper) restStays(i int) int {
	if w.stay().RestStays(i) {
		w.keepRest(i)
		w.content = true
		return w.clause.To - i
	}
	return 0
}

// leavesAsBefore reports whether a wish said before is to stay: leave it dark.
func (w keeper) leavesAsBefore(i int) bool {
	for j := i + 1; j < w.clause.To; j++ {
		if w.Ctx.Told(w.Item(j).Fact()) {
			return true
		}
		if !w.Filler(j) {
			return false
		}
	}
	return false
}

// staysAfter reports whether words for staying follow item i.
func (w keeper) staysAfter(i int) bool {
	if !w.Item(i).Any("topic", "kind", "material", "role") && !w.stay().Named(i) {
		return false
	}
	for j := i + 1; j < i+9 && j < w.clause.To; j++ {
		if w.Item(j).Keeps(true) != nil || w.stay().Denied(j) || w.stay().Kept(j) {
			w.Item(j).Used = true
			return true
		}
		if w.Says(j, "middle", "centre", "center") && w.Item(i).Has("kind") != nil && w.Item(i).Has("kind").Value == "core" { // the ball in the middle should remain
			w.Item(j).Used = true
			continue
		}
		if !w.Filler(j) && !w.Item(j).Any("not", "weak", "topic", "kind", "material", "join", "count", "instrument.bars", "want.register") && !(w.Unknown(j) && w.stay().Named(i)) {
			return false
		}
	}
	return false
}

// keep notes the facts or the kind of part of item j as kept.
func (w keeper) keep(j int) bool {
	it := w.Item(j)
	var ids []string
	say := ""
	switch {
	case it.Has("topic") != nil:
		for _, t := range it.Has("topic").Topic {
			switch t.Kind {
			case "fact":
				ids = append(ids, t.ID)
			case "layer":
				ids = append(ids, "tube")
			}
		}
		say = it.Has("topic").Say
	case w.Ctx.Told(w.Item(j).Fact()), w.stay().Named(j):
		ids, say = []string{it.Fact().Slot}, w.Said(j, j+1)
	case it.Has("kind") != nil:
		ids, say = []string{it.Has("kind").Value}, retell.Name(it.Has("kind").Value)
	case it.Has("material") != nil && !w.Item(j+1).Any("kind"):
		kind := it.Has("material").Material().Kind
		if w.Is(j, "rubber") {
			kind = "tube"
		}
		ids, say = []string{kind}, retell.Name(kind)
	}
	if slices.Equal(ids, []string{"core"}) && (w.place().SizeOf(j+1) || w.Is(j-1, "size")) {
		ids = []string{facts.HeadCoreMM}
	}
	for _, id := range ids {
		w.Keep(id, say)
	}
	return len(ids) > 0
}
