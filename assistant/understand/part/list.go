package part

import "mallow/assistant/understand/reading"

// List is the parts that are named one after another in a line.
type List struct {
	loose []int // those that named a material and no kind, by their places
	to    int   // where the last of all ends
}

// Agree lets the last of parts, described by the items from..to, give its kind to
// those before it in a list that named only a material: maple and birch dowels.
func (l *List) Agree(s Describer, parts []reading.Part, from, to int) {
	n := len(parts) - 1
	if n < 0 {
		return
	}
	comma, joined := false, false
	for i := l.to; i < from; i++ {
		switch {
		case s.Item(i).Mark == ",":
			comma = true
		case s.Is(i, "or", "and", "nor"):
			joined = true
		case !s.Filler(i):
			l.loose = nil
		}
	}
	if !comma && !joined {
		l.loose = nil
	}
	l.to = to
	for i := from; i < to; i++ {
		if !s.Item(i).Any("kind") {
			continue
		}
		for _, k := range l.loose {
			if joined && k < n && parts[k].Amount*parts[n].Amount == 0 { // not 24 rattan and 24 balls
				parts[k] = s.Stock.alike(parts[k], parts[n].Kind)
			}
		}
		l.loose = nil
		return
	}
	l.loose = append(l.loose, n)
}

// alike gives the parts of a list that name a material and no kind the kind of the
// part that ends it: plastic or wood cores, maple and birch dowels.
func (s *Stock) alike(p reading.Part, kind string) reading.Part {
	turns := p.Kind == "core" && (kind == "shaft" || kind == "yarn" && p.Material == "nylon" || kind == "tube" && p.Material == "rubber") || p.Kind == "shaft" && kind == "core"
	if !turns || p.Made == "" && p.Material == "" || p.Bore+p.Wall+p.Outer > 0 || p.Durometer > 0 {
		return p
	}
	p.Kind, p.IDs = kind, nil
	if kind == "yarn" {
		p.Diameter = 0
	}
	p.IDs = s.Match(p)
	return p
}
