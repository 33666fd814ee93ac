package slip

import (
	"math"
	"strings"

	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/revise"
)

// old returns what item i names that was said before, as a key that what may stand for
// it has too; "" where it names nothing of the kind.
func (l Line) old(i int) string {
	it := l.Item(i)
	switch {
	case it.Harm || it.Mark != "":
		return ""
	case it.Qty != nil:
		if r, ok := revise.Find(l.Before, revise.Figure{New: *it.Qty, Old: it.Qty}); ok {
			if r.Take != nil {
				return r.Take.Path
			}
			return "part"
		}
		return ""
	case it.Note != nil:
		for _, t := range l.Before.Takes {
			if v, ok := t.Value.(float64); ok && strings.HasSuffix(t.Path, "_hz") && math.Abs(v/it.Note.Hz()-1) < 0.01 {
				return t.Path
			}
		}
		return ""
	}
	if x := it.Has("move"); x != nil {
		for _, m := range l.Before.Moves {
			if m.Path == x.Value && m.By*x.Num > 0 {
				return "move " + m.Path
			}
		}
	}
	if x := l.material(i); x != nil {
		m := x.Material()
		for _, p := range l.Before.Parts {
			if p.Kind == m.Kind && p.Material == m.ID && p.Made == m.Made {
				return "material " + m.Kind
			}
		}
	}
	for _, x := range it.Senses {
		if x.Fact == nil || x.Slot == "asked" || strings.HasPrefix(x.Slot, "bench.") || harm.Settles(x.Slot) {
			continue
		}
		for _, t := range l.Before.Takes {
			if t.Path == x.Slot && !t.Not && l.value(i, x.Fact) == t.Value {
				return x.Slot
			}
		}
	}
	return ""
}

// material returns what item i says that a part is made of, by itself or within a word for
// the part: nylon balls.
func (l Line) material(i int) *lexis.Sense {
	it := l.Item(i)
	if x := it.Has("material"); x != nil || it.Has("kind") == nil {
		return x
	}
	x, _ := l.SlotAt(it.From, "material")
	if x == nil && it.To > it.From+1 {
		x, _ = l.Lex.Longest(l.Tokens[:it.From+1], it.From, "material")
	}
	return x
}

// value returns what item i says with a word for value: of a grade, how much of it.
func (l Line) value(i int, value any) any {
	v, graded := value.(float64)
	if d := l.Item(i - 1).Has("degree"); graded && d != nil {
		return l.Lex.Graded(v, d.Num)
	}
	return value
}

// other returns the item that names something else of what item i names, or -1.
func (l Line) other(i int, key string) int {
	at := -1
	for j := range l.Items {
		if j == i || !l.alike(i, j, key) || l.old(j) == key {
			continue
		}
		if at = j; j > i {
			break
		}
	}
	return at
}

// alike reports whether what item j names may stand for what item i does.
func (l Line) alike(i, j int, key string) bool {
	a, b := l.Item(i), l.Item(j)
	switch {
	case b.Harm:
		return false
	case a.Qty != nil:
		if b.Qty == nil || b.Qty.Spelt && b.Qty.Value == 1 && b.Qty.Dim == quantity.Plain {
			return false
		}
		return b.Qty.Dim == a.Qty.Dim || a.Qty.Dim == quantity.Plain || b.Qty.Dim == quantity.Plain
	case a.Note != nil:
		return b.Note != nil
	}
	if kind, ok := strings.CutPrefix(key, "material "); ok {
		x := l.material(j)
		return x != nil && x.Material().Kind == kind
	}
	if path, ok := strings.CutPrefix(key, "move "); ok {
		x := b.Has("move")
		return x != nil && x.Value == path
	}
	return b.Has(key) != nil
}
