package understand

import (
	"slices"

	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/assistant/understand/taken"
)

// keeper takes what is to stay as it is, and what is taken back.
type keeper struct{ *walk }

// takeBack takes words that take something back, and what they take back:
// forget the budget.
func (w keeper) takeBack(i int) int {
	it := w.Item(i)
	x := it.Has("withdraw")
	if x == nil || w.neg {
		return 0
	}
	found := false
	for j := i + 1; j < w.clause.To; j++ {
		n := w.Item(j)
		if n.Has("join") != nil && n.Has("join").Value == "but" {
			break
		}
		var paths []string
		if t := n.Has("topic"); t != nil {
			for _, t := range t.Topic {
				if t.Kind == "fact" {
					paths = append(paths, t.ID)
				}
			}
		} else if f := n.Fact(); f != nil {
			paths = append(paths, f.Slot)
		} else if k := n.Has("kind"); k != nil {
			paths = append(paths, k.Value)
		} else if q := n.Qty; q != nil {
			if q.Dim == quantity.Money {
				paths = append(paths, "want.budget")
			} else if q.Dim == quantity.Mass {
				paths = append(paths, "want.mass_g")
			}
		}
		for _, path := range paths {
			w.Withdraw(path)
			found = true
		}
		if found {
			n.Used = true
		}
	}
	if !found {
		return 0
	}
	w.content, w.Out.Corrects = true, true
	w.Act(reading.Change)
	return w.clause.To - i
}

// takeKeep takes what is to stay as it is: keep the core, don't touch the yarn,
// the weight stays.
func (w keeper) takeKeep(i int) int {
	it := w.Item(i)
	if x := it.Keeps(false); x != nil && (!w.neg || x.Value != "leave") {
		if x.Value == "leave" && !w.leftAlone(i) || x.Value == "keep" && w.HasWord(i, w.clause.To, "away") {
			return 0
		}
		if w.keepRest(i + 1) {
			w.content = true
			return w.clause.To - i
		}
		n := 0
		for j := i + 1; j < w.clause.To; j++ {
			if w.Item(j).Any("holding", "not") && !w.Item(j).Any("keep") || w.Item(j).Has("move") != nil {
				break
			}
			if w.keep(j) {
				if n = j + 1 - i; w.valued(j) { // hold the diameter at 1 3/8
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
		return 0
	}
	if w.staysAfter(i) && w.keep(i) { // the core stays
		w.content = true
		return 1
	}
	return 0
}

// keepRest takes "keep everything else": every kind of part that the text gives
// no other place.
func (w keeper) keepRest(i int) bool {
	for w.Filler(i) && !w.Is(i, "everything", "all") {
		i++
	}
	if !w.Is(i, "everything", "rest", "others", "all") {
		return false
	}
	for _, kind := range []string{"core", "tube", "yarn", "shaft"} {
		if !slices.ContainsFunc(w.Out.Parts, func(p reading.Part) bool { return p.Kind == kind }) && !slices.Contains(w.Out.Keeps, kind) {
			w.Out.Keeps = append(w.Out.Keeps, kind)
		}
	}
	w.Kept = append(w.Kept, "rest")
	return true
}

// itemBefore returns the item before the one that is being taken, past fillers.
func (w keeper) itemBefore() int {
	j := w.taking - 1
	for j > w.clause.From && w.Filler(j) && !w.Item(j).Any("not", "reply") {
		j--
	}
	return j
}

// valued reports whether a figure for the topic at item j follows: hold the
// diameter at 1 3/8.
func (w keeper) valued(j int) bool {
	for k := j + 1; k < j+4 && k < w.clause.To; k++ {
		if w.Item(k).Qty != nil {
			return true
		}
	}
	return false
}

// leftAlone reports whether the clause of item i says to leave something as it
// is: leave the yarn alone.
func (w keeper) leftAlone(i int) bool {
	return w.HasWord(i, w.clause.To, "alone", "be", "untouched", "is", "was", "are", "same", "unchanged")
}

// staysAfter reports whether words for staying follow item i.
func (w keeper) staysAfter(i int) bool {
	if !w.Item(i).Any("topic", "kind", "material") {
		return false
	}
	for j := i + 1; j < i+5 && j < w.clause.To; j++ {
		if x := w.Item(j).Keeps(true); x != nil {
			w.Item(j).Used = true
			return true
		}
		if !w.Filler(j) && !w.Item(j).Any("not") {
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
	case it.Has("kind") != nil:
		ids, say = []string{it.Has("kind").Value}, it.Has("kind").Say
	case it.Has("material") != nil && !w.Item(j+1).Any("kind"):
		kind := taken.PartOf(it.Has("material").Value)
		ids, say = []string{kind}, kind
	}
	for _, id := range ids {
		if !slices.Contains(w.Out.Keeps, id) {
			w.Out.Keeps = append(w.Out.Keeps, id)
			if !slices.Contains(w.Kept, say) {
				w.Kept = append(w.Kept, say)
			}
		}
	}
	return len(ids) > 0
}
