package figure

import (
	"slices"
	"strings"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/quantity"
	"mallow/rules/facts"
)

// WishedBeside reports whether the line says what a head is to be in other sentences than
// the one at hand, so that this one speaks of the same.
func WishedBeside(s Place) bool {
	from, to := s.Sentence(s.From, s.To)
	for i := range s.Items {
		it := s.Item(i)
		f, q := it.Fact(), it.Qty
		if (i < from || i >= to) && (f != nil && strings.HasPrefix(f.Slot, "want.") || it.Of != "" || q != nil && q.Dim == quantity.Mass) {
			return true
		}
	}
	return false
}

// Sought returns the item of the only instrument that the line names, where that is in
// the question at hand and the rest of the line says what a head is to be, else -1: for
// bells, is 22 mm too much? I'd say 18, hard.
func Sought(s Place) int {
	at := -1
	for i := range s.Items {
		x := s.Item(i).Has(facts.InstrumentKind)
		switch {
		case x == nil:
		case at >= 0 && s.Item(at).Has(facts.InstrumentKind).Value != x.Value:
			return -1
		default:
			at = i
		}
	}
	if at < s.From || at >= s.To || s.HasWord(s.From, at, "friends", "brothers", "sisters", "teachers", "his", "her", "their", "your", "like", "as", "than") || !WishedBeside(s) {
		return -1
	}
	return at
}

// OfHead reports whether the length at item i can only be a head's: nothing else of the
// line has a size, and its clause says nothing that mallow has no use for. Bring the size
// to 27 mm; the same in 29 mm.
func OfHead(s Place, i int) bool {
	for j := range s.Items {
		it := s.Item(j)
		if j != i && (it.Any("kind", "material", "purpose") || it.Qty != nil && it.Qty.Dim == quantity.Length) {
			return false
		}
		if j >= s.From && j < s.To && s.Unknown(j) && !s.Is(j, "thing", "possible", "prefer", "feel") {
			return false
		}
	}
	return Likely(facts.WantDiameterMM, s.Item(i).Qty) &&
		!s.HasWord(s.From, s.To, "bars", "bar", "keys", "hole", "bore", "long", "length", "tube", "box", "case", "wall", "apart", "gap", "resonators", "table")
}

// Capped reports whether the bare number at item i, put as a limit, can only be of the
// head: nothing over 24; 38 tops.
func Capped(s Place, i int) bool {
	q := s.Item(i).Qty
	if q.Dim != quantity.Plain || !q.Whole || q.Value < 10 || q.Value > 60 || s.Item(i).Harm {
		return false
	}
	for j := s.From; j < s.To; j++ {
		it := s.Item(j)
		if j != i && (it.Any("kind", "material", "count", "share", "unit", "role", "instrument.kind") || it.Note != nil || s.Unknown(j)) {
			return false
		}
	}
	_, n := s.BoundAfter(i + 1)
	return !s.HasWord(s.From, s.To, "if", "what", "when", "why", "+") && (s.ClauseEnds(i+1+n) || s.Item(i+1+n).Has("join") != nil) &&
		!s.HasWord(0, len(s.Items), "cheap", "pay", "pays", "spend", "budget", "cost", "costs", "price", "pricey", "dollars", "pounds", "euros", "quid", "bucks", "cash", "money", "purse", "expensive",
			"pair", "pairs", "kids", "students", "pupils", "class", "people", "years", "old", "age", "minutes", "hours", "percent", "note", "notes", "octave", "octaves", "newtons")
}

// Purpose returns where a question says what is to be made, or -1: what else do I
// need to make soft vibraphone mallets? What marimba pair comes out of that? Is hard
// possible on a xylophone?
func Purpose(s Place) int {
	wished := WishedBeside(s)
	for i := s.From; wished && i < s.To; i++ {
		switch {
		case s.Says(i, "about") && s.Starts(s.From, "what", "how") && i < s.From+3: // what about hard, 28 g?
			return i + 1
		case s.Says(i, "want", "ask", "wish") && s.Starts(s.From, "is", "am", "would", "isnt") && s.HasWord(i-1, i+1, "to"): // is it rude to ask for bright?
			return i + 1
		case s.Says(i, "do", "make", "build", "design", "have", "get") && s.HasWord(s.From, i, "can", "could") && s.HasWord(s.From, i, "you", "we", "one"): // can you do vibraphone mallets?
			return i + 1
		}
	}
	kind := slices.IndexFunc(s.Items[s.From:s.To], func(it cover.Item) bool { return it.Has(facts.InstrumentKind) != nil })
	if kind < 0 {
		return -1
	}
	kind += s.From
	of := s.HasWord(s.From, s.To, "these", "those", "that", "this", "them", "it", "they")
	for i := s.From; i < s.To; i++ {
		switch {
		case s.Is(i, "make", "build", "become") && s.Is(i-1, "to") && s.HasWord(s.From, s.To, "need", "buy", "add", "get", "order"):
			return i + 1
		case of && s.Says(i, "make", "makes", "build", "comes", "become"):
			return s.From
		case i > kind:
		case s.Is(i, "wrap", "wind", "make", "build", "cover", "use", "need", "choose", "pick", "buy") && s.Says(i-1, "i", "we") && !s.HasWord(s.From, i, "can", "could", "if", "when"):
			return i + 1 // what do I wrap hard vibraphone heads with?
		case s.Says(i, "go", "goes", "belong", "belongs") && s.Says(i, "on", "in", "under") && s.Starts(s.From, "which", "what"):
			return i + 1 // which should go on glockenspiel sticks?
		}
	}
	switch {
	case s.Starts(s.From, "something", "anything") && s.HasWord(s.From, kind, "for"): // something for the glockenspiel from this box?
		return s.From
	case s.HasWord(s.From, s.To, "possible", "doable", "feasible", "achievable") && s.HasWord(s.From, kind, "is"):
		return s.From
	}
	return -1
}
