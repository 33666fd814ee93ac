package taken

import (
	"slices"

	"mallow/assistant/understand/figure"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/quantity"
	"mallow/assistant/understand/reading"
	"mallow/rules/facts"
)

// purse settles what a line says of money and of how many pairs that is for.
type purse struct{ *Line }

// settle makes a sum to spend the most there is, counts the pairs that it is for all
// of, and takes back the sum for a pair where it is said to be for all: that was for
// everything, not per pair.
func (l purse) settle() {
	for i := range l.Out.Takes {
		if t := &l.Out.Takes[i]; (t.Path == facts.WantBudgetCents || t.Path == "want.total_budget") && t.Bound == "" && !t.Not {
			t.Bound = "most"
		}
	}
	l.pooled()
	if t := l.SaidOf(facts.WantBudgetCents); t != nil && l.Out.Corrects && slices.ContainsFunc(l.Ctx.Before.Takes, func(b reading.Take) bool { return b.Path == "want.total_budget" && b.Value == t.Value }) { // no, the forty is for each pair
		l.Withdraw("want.total_budget")
	}
	if l.SaidOf("want.total_budget") == nil || l.Answered(facts.WantBudgetCents) {
		return
	}
	for i := range l.Items {
		it := l.Item(i)
		for k := it.From; k+1 < it.To && it.Has("share") != nil && !l.Answered("want.pairs"); k++ {
			if t := l.At(k); t.Kind == lexis.Number && t.Whole && t.Value > 1 && (l.At(k+1).Is("pairs") || l.At(k+1).Is("pair")) { // $35 for all three pairs
				l.Out.Takes = append(l.Out.Takes, reading.Take{Path: "want.pairs", Value: t.Value, Degree: 1, Text: l.Said(i, i+1), Sure: 1})
			}
		}
	}
	said := slices.ContainsFunc(l.Ctx.Before.Takes, func(t reading.Take) bool { return t.Path == facts.WantBudgetCents })
	if said && l.HasWord(0, len(l.Items), "not", "isnt", "wasnt") && l.HasWord(0, len(l.Items), "pair", "each", "apiece", "per") {
		l.Withdraw(facts.WantBudgetCents)
	}
}

// pooled makes a sum that nobody said is for a pair one for all, where the line is of
// several pairs or a class: 26 pupils, budget about 150 pounds; two pairs for 50 dollars.
func (l purse) pooled() {
	if l.Answered("want.total_budget") || l.Kinds() > 1 {
		return
	}
	many := func(path string, takes []reading.Take) bool {
		return slices.ContainsFunc(takes, func(t reading.Take) bool {
			v, _ := t.Value.(float64)
			return t.Path == path && v > 1
		})
	}
	if !many("want.pairs", l.Out.Takes) && !many("class.size", l.Out.Takes) && !many("class.size", l.Ctx.Before.Takes) {
		return
	}
	sums := 0
	for i := range l.Items {
		if q := l.Item(i).Qty; q != nil && q.Dim == quantity.Money {
			if sums++; l.Is(i-1, "at", "@") {
				return
			}
		}
		if x := l.Item(i).Has("share"); x != nil && x.Value == "each" && !l.Is(i, "pair", "pr") || l.Says(i, "per", "each", "apiece", "every") {
			return
		}
		if q := l.Item(i).Qty; q != nil && q.Form == "pair" && l.At(l.Item(i).To-2).Is("a") {
			return
		}
	}
	if sums != 1 {
		return
	}
	for i := range l.Out.Takes {
		if t := &l.Out.Takes[i]; t.Path == facts.WantBudgetCents {
			t.Path = "want.total_budget"
		}
	}
}

// pairs counts the pairs told apart, and makes one pair apiece as many as there are in the class.
func (l purse) pairs() {
	if slices.Contains(l.Out.Withdraws, "want.pairs") {
		return
	}
	class, pairs := l.SaidOf("class.size"), l.SaidOf("want.pairs")
	count := func(n any) {
		if pairs != nil {
			pairs.Value = n
			return
		}
		l.Out.Takes = append(l.Out.Takes, reading.Take{Path: "want.pairs", Value: n, Degree: 1, Text: "pair", Sure: 0.9})
	}
	if told := slices.Contains(l.Out.Acts, reading.Tell); told || len(l.Out.Acts) == 0 {
		if n := float64(max(figure.Each(l.Chart), l.ofEach())); n > 1 && (pairs == nil || pairs.Value == 1.0) {
			count(n)
			return
		}
		if n := float64(figure.Pairs(l.Chart)); told && n > 1 {
			if pairs == nil || pairs.Value == 1.0 && pairs.Bound == "" {
				count(n)
			}
			return
		}
	}
	if pairs == nil && l.SaidOf("want.total_budget") != nil {
		for i := range l.Items {
			if l.HasWord(i, i+2, "both") && l.HasWord(i, i+2, "pairs") { // 50 for both pairs
				l.Out.Takes = append(l.Out.Takes, reading.Take{Path: "want.pairs", Value: 2.0, Degree: 1, Text: l.Said(i, min(i+2, len(l.Items))), Sure: 1})
				return
			}
		}
	}
	if pairs == nil && class != nil && (figure.Sums(l.Chart) == 0 || l.HasWord(0, len(l.Items), "gets", "get", "wants", "needs")) && l.HasWord(0, len(l.Items), "every", "each", "everyone", "everybody", "per", "apiece") && l.HasWord(0, len(l.Items), "pair") { // every kid gets a pair
		count(class.Value)
		return
	}
	for _, t := range l.Ctx.Before.Takes {
		if t.Path == "class.size" && class == nil {
			class = &t
		}
	}
	if class == nil || pairs == nil || pairs.Value != 1.0 {
		return
	}
	if l.HasWord(0, len(l.Items), "each", "apiece", "every", "everyone", "everybody", "per", "all", "child", "kid", "student", "pupil") {
		pairs.Value = class.Value
	}
}

// ofEach counts the instruments that a pair of each is wanted for.
func (l purse) ofEach() int {
	for i := range l.Items {
		if to := min(i+3, len(l.Items)); l.Says(i, "pair") && l.HasWord(i, to, "each") && l.HasWord(i, to, "of", "for") {
			return l.Kinds()
		}
	}
	return 0
}
