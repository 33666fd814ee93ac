package tell

import (
	"fmt"
	"slices"
	"strings"

	"mallow/assistant/answer"
	"mallow/assistant/compare"
	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/rules/propose"
)

// side is one head of a comparison.
type side struct {
	name string
	head propose.Candidate
}

// Compare puts two to four heads side by side: choices, the one before, stacks
// pasted in, parts, and how soft they are in words. One alone is held against
// the head on offer, and none are the two best.
func (t Teller) Compare(r *Said, in reading.Reading, line string, before *settled.State) {
	if before == nil && asksBefore(line) {
		r.Say("There is no other head before this one. Compare two choices or two words, such as: compare 1 and 2, compare medium and soft.")
		return
	}
	list := t.sides(in, line, before)
	for n := 1; len(list) < 2; n++ {
		c, ok := t.Kit.Offers.Choice(t.State, n)
		if !ok {
			r.Say("There are no two heads to compare yet. Name two parts, two choices or two words, such as: compare 1 and 2, compare medium and soft.")
			return
		}
		if len(list) == 1 && list[0].head.Stack.String() == c.Stack.String() {
			continue
		}
		list = append(list, side{fmt.Sprintf("choice %d", n), c})
		if len(list) == 2 && list[1].name == "choice 1" { // what is at hand comes first
			list[0], list[1] = list[1], list[0]
		}
	}
	list = list[:min(len(list), compare.Most)]
	table := page.Table{Head: []string{""}, Rows: [][]string{{"grade"}, {"softness, notches"}, {"mass, g"}, {"size, mm"}, {"brighter when loud, octaves"}, {"hardest pull, N"}, {"cost of a pair"}}}
	var lines []string
	for i, x := range list {
		h := x.head.Facts.Head
		table.Head = append(table.Head, x.name)
		for j, cell := range []string{
			x.head.Report.Grade, fmt.Sprintf("%+.1f", reply.Round(h.Softness, 1)+0), fmt.Sprintf("%.1f", h.MassG), fmt.Sprintf("%.1f", h.DiameterMM),
			fmt.Sprintf("%.1f", reply.Round(h.OpensUp, 1)+0), fmt.Sprintf("%.0f", h.HandN), reply.PairCost(h).String(),
		} {
			table.Rows[j] = append(table.Rows[j], cell)
		}
		if i > 0 {
			r.Say("%s against %s: %s.", reply.Capital(x.name), list[0].name, played(list[0].head.Facts.Head, h))
		}
		text := x.name + ": " + t.Words().Brief(x.head.Stack)
		if i > 0 {
			against := reply.Against(list[0].head, x.head)
			text += "; against " + list[0].name + ": " + strings.ToLower(against[:1]) + against[1:]
		}
		lines = append(lines, strings.TrimSuffix(text, ".")+".")
	}
	r.Page = append(r.Page, table, page.List{Items: lines})
}

// asksBefore reports whether a line names the head before the one at hand.
func asksBefore(line string) bool {
	plain := " " + answer.Plain(line) + " "
	return slices.ContainsFunc([]string{" the one before ", " one before ", " before ", " the last one ", " the old one ", " the previous one "}, func(w string) bool { return strings.Contains(plain, w) })
}

// sides are the heads that a line names to be compared.
func (t Teller) sides(in reading.Reading, line string, before *settled.State) []side {
	var list []side
	add := func(name string, c propose.Candidate, ok bool) {
		if ok && !slices.ContainsFunc(list, func(x side) bool { return x.name == name }) {
			list = append(list, side{name, c})
		}
	}
	rest := strings.TrimSpace(line)
	if _, after, ok := strings.Cut(strings.ToLower(rest), "compare "); ok {
		rest = rest[len(rest)-len(after):]
	}
	for _, text := range strings.FieldsFunc(strings.NewReplacer(" and ", ";", " with ", ";", " against ", ";", " to ", ";", " or ", ";").Replace(rest), func(r rune) bool { return r == ';' || r == ',' }) {
		if !strings.Contains(text, "+") && (!strings.Contains(text, "-") || strings.Contains(strings.TrimSpace(text), " ")) {
			continue
		}
		if st, err := t.Kit.Stack(strings.TrimSpace(text)); err == nil {
			c, err := t.Kit.Offers.Consider(t.State, st)
			add(string(rune('A'+len(list))), c, err == nil)
		}
	}
	if len(list) > 0 { // stacks hold words of every other kind
		return list
	}
	plain := " " + answer.Plain(line) + " "
	if before != nil && asksBefore(line) {
		c, err := t.Kit.Offers.Best(before)
		add("the one before", c, err == nil)
	}
	for _, about := range in.About {
		if about.Kind == "choice" {
			c, ok := t.Kit.Offers.Choice(t.State, about.N)
			add(fmt.Sprintf("choice %d", about.N), c, ok)
		}
	}
	for _, p := range in.Supposed.Parts {
		// The rest stays as it is in the first, where that can be.
		if len(list) > 0 && len(p.IDs) > 0 {
			if c, ok := t.Kit.Offers.Replaced(t.State, list[0].head, p.IDs); ok && c.Refused == nil {
				add(p.Text, c.Candidate, true)
				continue
			}
		}
		c, ok := t.Kit.Offers.With(t.State, p)
		add(p.Text, c, ok)
	}
	if len(in.Supposed.Parts) == 0 {
		for _, x := range t.grades(plain) {
			add(x.name, x.head, true)
		}
	}
	return list
}

// grades are the best heads of each softness that a line names, in its order.
func (t Teller) grades(plain string) []side {
	q, ok := t.Kit.Catalogue.Question("want.softness")
	if !ok {
		return nil
	}
	choices := slices.Clone(q.Choices) // very soft before soft
	slices.SortStableFunc(choices, func(a, b knowledge.Choice) int { return len(b.Say) - len(a.Say) })
	var list []side
	var at []int // where in the line each stands
	for _, c := range choices {
		if words := " " + c.Say + " "; strings.Contains(plain, words) {
			i := strings.Index(plain, words)
			plain = strings.ReplaceAll(plain, words, " "+strings.Repeat("|", len(words)-2)+" ")
			st := t.State.Supposing(q, c)
			st.Stack = ""
			if best, err := t.Kit.Offers.Best(&st); err == nil {
				n, _ := slices.BinarySearch(at, i)
				at, list = slices.Insert(at, n, i), slices.Insert(list, n, side{c.Say, best})
			}
		}
	}
	return list
}
