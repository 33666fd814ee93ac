package understand

import "slices"

// takeBack takes words that take something back, and what they take back:
// forget the budget.
func (w *walk) takeBack(i int) int {
	it := w.item(i)
	x := it.has("withdraw")
	if x == nil || w.neg {
		return 0
	}
	found := false
	for j := i + 1; j < w.clause.to; j++ {
		n := w.item(j)
		if n.has("join") != nil && n.has("join").Value == "but" {
			break
		}
		var paths []string
		if t := n.has("topic"); t != nil {
			for _, t := range t.Topic {
				if t.Kind == "fact" {
					paths = append(paths, t.ID)
				}
			}
		} else if f := n.fact(); f != nil {
			paths = append(paths, f.Slot)
		} else if k := n.has("kind"); k != nil {
			paths = append(paths, k.Value)
		} else if q := n.qty; q != nil {
			if q.dim == money {
				paths = append(paths, "want.budget")
			} else if q.dim == mass {
				paths = append(paths, "want.mass_g")
			}
		}
		for _, path := range paths {
			w.withdraw(path)
			found = true
		}
		if found {
			n.used = true
		}
	}
	if !found {
		return 0
	}
	w.content, w.out.Corrects = true, true
	w.act(Change)
	return w.clause.to - i
}

// withdraw notes that a fact or a kind of part is taken back.
func (w *walk) withdraw(path string) {
	if !slices.Contains(w.out.Withdraws, path) {
		w.out.Withdraws = append(w.out.Withdraws, path)
	}
}

// takeKeep takes what is to stay as it is: keep the core, don't touch the yarn,
// the weight stays.
func (w *walk) takeKeep(i int) int {
	it := w.item(i)
	if x := it.keeps(false); x != nil && (!w.neg || x.Value != "leave") {
		if x.Value == "leave" && !w.leftAlone(i) {
			return 0
		}
		if w.keepRest(i + 1) {
			w.content = true
			return w.clause.to - i
		}
		n := 0
		for j := i + 1; j < w.clause.to; j++ {
			if w.item(j).any("holding", "not") && !w.item(j).any("keep") || w.item(j).has("move") != nil {
				break
			}
			if w.keep(j) {
				if n = j + 1 - i; w.valued(j) { // hold the diameter at 1 3/8
					if t := w.item(j).has("topic"); t != nil {
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
func (w *walk) keepRest(i int) bool {
	for w.filler(i) && !w.is(i, "everything", "all") {
		i++
	}
	if !w.is(i, "everything", "rest", "others", "all") {
		return false
	}
	for _, kind := range []string{"core", "tube", "yarn", "shaft"} {
		if !slices.ContainsFunc(w.out.Parts, func(p Part) bool { return p.Kind == kind }) && !slices.Contains(w.out.Keeps, kind) {
			w.out.Keeps = append(w.out.Keeps, kind)
		}
	}
	w.kept = append(w.kept, "rest")
	return true
}

// itemBefore returns the item before the one that is being taken, past fillers.
func (w *walk) itemBefore() int {
	j := w.taking - 1
	for j > w.clause.from && w.filler(j) && !w.item(j).any("not", "reply") {
		j--
	}
	return j
}

// valued reports whether a figure for the topic at item j follows: hold the
// diameter at 1 3/8.
func (w *walk) valued(j int) bool {
	for k := j + 1; k < j+4 && k < w.clause.to; k++ {
		if w.item(k).qty != nil {
			return true
		}
	}
	return false
}

// leftAlone reports whether the clause of item i says to leave something as it
// is: leave the yarn alone.
func (w *walk) leftAlone(i int) bool {
	return w.hasWord(&clause{from: i, to: w.clause.to}, "alone", "be", "untouched", "is", "was", "are", "same", "unchanged")
}

// staysAfter reports whether words for staying follow item i.
func (w *walk) staysAfter(i int) bool {
	if !w.item(i).any("topic", "kind", "material") {
		return false
	}
	for j := i + 1; j < i+5 && j < w.clause.to; j++ {
		if x := w.item(j).keeps(true); x != nil {
			w.item(j).used = true
			return true
		}
		if !w.filler(j) && !w.item(j).any("not") {
			return false
		}
	}
	return false
}

// keep notes the facts or the kind of part of item j as kept.
func (w *walk) keep(j int) bool {
	it := w.item(j)
	var ids []string
	say := ""
	switch {
	case it.has("topic") != nil:
		for _, t := range it.has("topic").Topic {
			switch t.Kind {
			case "fact":
				ids = append(ids, t.ID)
			case "layer":
				ids = append(ids, "tube")
			}
		}
		say = it.has("topic").Say
	case it.has("kind") != nil:
		ids, say = []string{it.has("kind").Value}, it.has("kind").Say
	case it.has("material") != nil && !w.item(j+1).any("kind"):
		_, kind, _ := cutLast(it.has("material").Value)
		ids, say = []string{kind}, kind
	}
	for _, id := range ids {
		if !slices.Contains(w.out.Keeps, id) {
			w.out.Keeps = append(w.out.Keeps, id)
			if !slices.Contains(w.kept, say) {
				w.kept = append(w.kept, say)
			}
		}
	}
	return len(ids) > 0
}
