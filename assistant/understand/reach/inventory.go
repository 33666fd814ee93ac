package reach

import (
	"strings"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// inventory gives the parts that nothing was said of to whoever lists them, and
// reports whether the line is such a list: nothing but parts with their sizes and
// amounts, no verb, no wish and no question. "Beads, wooden, 25 mm, ten of them";
// not "a maple core, soft".
func (r *reader) inventory(all []clause.Clause) bool {
	for k := range all {
		if clause.IsQuestion(all[k].Act) || all[k].Act == reading.Change || all[k].Act == reading.Undo {
			return false
		}
	}
	kinds, counted, plural, first := map[string]bool{}, false, false, -1
	for i := range r.Items {
		it := r.Item(i)
		if r.Whence[i] {
			continue
		}
		if it.Any("player.grip", "player.mallets") && r.Starts(i, "only", "just") { // only two
			counted = true
			continue
		}
		if f := it.Fact(); f != nil && !r.tool(i) && (it.Has("weak") == nil || !r.describes(i)) {
			return false
		}
		if it.Any("move", "wish", "keep", "withdraw", "mend", "topic", "act", "count", "share") && !it.Any("kind", "material", "weight", "role", "weak") && it.Qty == nil {
			return false
		}
		if h := it.Has("holding"); h != nil && (h.Value == "want" || h.Value == "avoid" || h.Value == "allow" || h.Value == "need") {
			return false
		}
		if r.Is(i, verbs...) || r.Subject(i) && !r.Filler(i) && r.Item(i).Has("role") == nil && !r.Starts(i, "the", "my", "our", "one", "that", "this") {
			return false
		}
		if r.names(i) && !r.tool(i) && it.Slips == 0 {
			kinds[r.kindOf(i)] = true
			plural = plural || r.kindOf(i) == "glue" || part.Tool(r.Chart, i) || strings.HasSuffix(r.Word(i), "s")
			if first < 0 {
				first = i
			}
		}
		counted = counted || r.amount(i) || r.sized(i) && len(r.all) > 1
	}
	if first < 0 || !counted && (len(kinds) < 3 || !plural) {
		return false
	}
	r.segs, r.set = r.all, make([]bool, len(r.all))
	for k, s := range r.all {
		switch {
		case r.given(s):
		case r.begins(s):
			r.give(k, reading.Lack, s.from, s.to)
		default:
			none := s.from
			for none < s.to && !r.Is(none, "no", "zero", "nae") { // two skeins no glue
				none++
			}
			r.give(k, reading.Have, s.from, none)
			r.give(k, reading.Lack, none, s.to)
		}
	}
	return true
}

// verbs are the words that tell something of a part, so that it is not only listed.
var verbs = []string{"is", "are", "was", "were", "be", "would", "could", "can", "should", "might", "will", "use", "make", "makes", "put", "go", "goes", "try", "with", "or", "if",
	"when", "please", "pls", "sounds", "sound", "feels", "like", "better", "best", "softer", "about", "why", "for"}

// describes reports whether the word at item i can describe the parts of a list: it
// stands by itself between commas, or straight before a part.
func (r *reader) describes(i int) bool {
	return r.Item(i-1).Mark == "," && r.Item(i+1).Mark == "," || r.names(i+1)
}

// kindOf returns the kind of part that item i names.
func (r *reader) kindOf(i int) string {
	it := r.Item(i)
	if x := it.Has("kind"); x != nil {
		return x.Value
	}
	if x := it.Has("material"); x != nil {
		if m := x.Material(); m.Kind != reading.Tool {
			return m.Kind
		}
		return x.Value // each tool is of a kind of its own
	}
	return "shaft"
}

// amount reports whether item i says how much there is.
func (r *reader) amount(i int) bool {
	q := r.Item(i).Qty
	if q == nil {
		return r.Is(i, "some", "heaps", "plenty", "loads", "lots") || r.Item(i).Any("form")
	}
	return q.Dim == quantity.Pieces || q.Dim == quantity.Mass || q.Dim == quantity.Length && q.Value > 0.1 || q.Dim == quantity.Plain && !q.Frac && r.names(i+1)
}

// sized reports whether item i is a size that parts have.
func (r *reader) sized(i int) bool {
	q := r.Item(i).Qty
	return q != nil && (q.Dim == quantity.Length || q.Dim == quantity.Pair || q.Dim == quantity.Shore || q.Dim == quantity.Plain && (q.Frac || r.names(i-1)))
}

// given reports whether something that segment s names has its holding.
func (r *reader) given(s segment) bool {
	for i := s.from; i < s.to; i++ {
		if r.Of[i] != "" {
			return true
		}
	}
	return false
}

// pronoun reports whether a segment speaks of parts named before: gave it away,
// they ran out.
func (r *reader) pronoun(s segment) bool {
	for k := r.Item(s.from).From; k < r.Item(s.to-1).To; k++ {
		switch strings.TrimSuffix(r.Chart.At(k).Text, "s") {
		case "it", "they", "them", "those", "these", "theyre", "theyve", "theyll":
			return true
		}
	}
	return false
}
