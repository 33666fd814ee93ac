package correct

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"mallow/knowledge"
	"mallow/knowledge/fault"
	"mallow/knowledge/strike"
)

// Entry is what became of a head that was entered.
type Entry struct {
	Name     string   // under which it stands
	Beside   []string // other heads of the same stack
	Replaced []string // figures that gave way to new ones, such as "mass 22.5 g"
	Kept     []Odd    // new figures that no such head can have, where a good one was: that one stays
}

// Enter puts a head into the log, and fits the figures of cat to it.
//
// Heads of one stack stand side by side: one without a name is called "head"
// with the first number that is free. A name that the log has already is the same
// head, measured again: what is given takes the place of what was read before, and
// the rest of it stays. A reading that no such head can have never takes the place
// of a good one. A name of a head of other parts is an error.
func Enter(cat *knowledge.Catalogue, set strike.Setting, l Log, b Built) (Log, []Moved, Entry, error) {
	if b.Name == "" {
		b.Name = l.free()
	}
	e := Entry{Name: b.Name}
	l.Heads = slices.Clone(l.Heads)
	at := slices.IndexFunc(l.Heads, func(x Built) bool { return x.Name == b.Name })
	var was Built
	if at < 0 {
		at = len(l.Heads)
		l.Heads = append(l.Heads, b)
	} else {
		if was = l.Heads[at]; was.Stack != b.Stack {
			return l, nil, e, fault.Errorf("%q is a head of other parts, %s; give this one another name, or take that one out first", b.Name, was.Stack)
		}
		l.Heads[at] = again(was, b)
	}
	for _, x := range l.Heads {
		if x.Stack == b.Stack && x.Name != b.Name {
			e.Beside = append(e.Beside, x.Name)
		}
	}
	fitted, moved, err := Fit(cat, set, l)
	if err != nil {
		return l, nil, e, err
	}
	if e.Kept = l.Heads[at].restore(was, b, moved[at].Odd); len(e.Kept) > 0 {
		if fitted, moved, err = Fit(cat, set, l); err != nil {
			return l, nil, e, err
		}
	}
	e.Replaced = replaced(was, l.Heads[at])
	return fitted, moved, e, nil
}

// again is a head that was measured again.
func again(was, b Built) Built {
	now := was
	now.Mass, now.Diameter = cmp.Or(b.Mass, was.Mass), cmp.Or(b.Diameter, was.Diameter)
	now.Squeezes = slices.Clone(was.Squeezes)
	for _, q := range b.Squeezes {
		now.Squeezes = append(slices.DeleteFunc(now.Squeezes, q.sameWidth), q)
	}
	add := func(names, more []string) []string {
		names = slices.Concat(names, more)
		slices.Sort(names)
		return slices.Compact(names)
	}
	now.SofterThan, now.HarderThan = add(was.SofterThan, b.SofterThan), add(was.HarderThan, b.HarderThan)
	return now
}

// sameWidth reports whether both readings are of one squeeze.
func (q Squeeze) sameWidth(p Squeeze) bool {
	return math.Abs(float64(q.Narrower-p.Narrower)) < 1e-6
}

// restore gives a head back the figures of before that odd ones of b took the place
// of, and returns those.
func (b *Built) restore(was, now Built, odd []Odd) (kept []Odd) {
	for _, o := range odd {
		switch {
		case o.What == "mass" && was.Mass > 0 && now.Mass > 0:
			b.Mass = was.Mass
		case o.What == "diameter" && was.Diameter > 0 && now.Diameter > 0:
			b.Diameter = was.Diameter
		case o.What == "squeeze" && slices.ContainsFunc(now.Squeezes, o.At.sameWidth) && slices.ContainsFunc(was.Squeezes, o.At.sameWidth):
			i := slices.IndexFunc(b.Squeezes, o.At.sameWidth)
			b.Squeezes[i] = was.Squeezes[slices.IndexFunc(was.Squeezes, o.At.sameWidth)]
		default:
			continue
		}
		kept = append(kept, o)
	}
	return kept
}

// replaced says which figures of a head gave way.
func replaced(was, now Built) (list []string) {
	if was.Mass > 0 && was.Mass != now.Mass {
		list = append(list, fmt.Sprintf("mass %.1f g", was.Mass.Grams()))
	}
	if was.Diameter > 0 && was.Diameter != now.Diameter {
		list = append(list, fmt.Sprintf("diameter %.1f mm", was.Diameter.MM()))
	}
	for _, q := range was.Squeezes {
		if !slices.Contains(now.Squeezes, q) {
			list = append(list, "squeeze "+q.String())
		}
	}
	return list
}

// Beside puts heads that were built together into the log, beside what is there.
// Those that it held before, figure by figure, are left out: they were kept
// twice.
func (l *Log) Beside(heads []Built) {
	before := slices.Clone(l.Heads)
	for _, b := range heads {
		if !slices.ContainsFunc(before, func(x Built) bool {
			return x.Stack == b.Stack && x.Mass == b.Mass && x.Diameter == b.Diameter && slices.Equal(x.Squeezes, b.Squeezes)
		}) {
			b.Name = l.free()
			l.Heads = append(l.Heads, b)
		}
	}
}

// free returns the first of "head 1", "head 2" and so on that no head is called.
func (l *Log) free() string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("head %d", n)
		if !slices.ContainsFunc(l.Heads, func(b Built) bool { return b.Name == name }) {
			return name
		}
	}
}
