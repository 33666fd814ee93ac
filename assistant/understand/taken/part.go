package taken

import (
	"slices"

	"mallow/assistant/understand/clause"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
)

// OfHarm reports whether the items from..to of clause x, which name part p, only say
// what somebody reacts to, or doesn't: noone is allergic to latex. "No latex" says what
// to avoid as well.
func OfHarm(l *Line, from, to int, x *clause.Clause, p reading.Part, denied, avoided bool) bool {
	if l.Item(to).Mark == "-" && l.Says(to+1, "allergic", "allergy", "intolerant", "intolerance", "sensitive", "sensitised") { // two are latex-allergic
		return true
	}
	if q := l.Item(from).Qty; q != nil && q.Dim == quantity.Plain && (l.Is(from+1, "are", "is", "cant", "react") || l.HasWord(from+1, from+3, "them", "us")) && len(l.Out.Harm) > 0 {
		return true // three of them are latex allergic
	}
	if p.Material != "latex" && p.Material != "rubber" || p.Bore > 0 || p.Diameter > 0 || p.Amount > 0 {
		return false
	}
	verdict := to
	for l.Is(verdict, "is", "are", "all", "perfectly", "quite", "totally") && verdict < x.To {
		verdict++
	}
	if len(l.Out.Harm) > 0 && (l.Is(to-1, "fine") || l.Says(verdict, "fine", "ok", "okay", "alright", "right", "allowed", "welcome") && (verdict+1 >= x.To || l.Item(verdict+1).Mark != "")) {
		return true // nobody allergic, latex fine: rubber has no fineness
	}
	bears := l.HasWord(from, x.To, "have") && l.HasWord(from, x.To, "may", "can") && l.HasWord(from, x.To, "she", "he", "they")     // other rubber she may have
	if !denied && x.Act == reading.Tell && (bears || l.Item(to).Mark == "," && l.Item(to+1).Harm && l.Item(to+1).Any("material")) { // rubber, latex no problem
		return true
	}
	for i := from; i < to; i++ {
		if !l.Item(i).Harm {
			return false
		}
	}
	return !avoided || x.To-x.From > 4 || !slices.ContainsFunc(l.Out.Harm, func(f harm.Fact) bool { return f.Path == harm.LatexOK && !f.Value })
}
