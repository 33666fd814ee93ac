package reply

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"mallow/assistant/page"
	"mallow/rules"
	"mallow/rules/schema"
	"mallow/rules/tally"
)

// Rules lists rules, and the ones that an overlay hides. Its JSON is the list.
type Rules struct {
	List, Hidden []*rules.Rule
}

// MarshalJSON writes the list.
func (v Rules) MarshalJSON() ([]byte, error) { return json.Marshal(v.List) }

// Page is the rules for people.
func (v Rules) Page() page.Page {
	t := page.Table{Head: []string{"rule", "on", "does", "about", "where"}}
	for _, r := range v.List {
		t.Rows = append(t.Rows, []string{r.ID, r.On, effect(r), r.Title, where(r)})
	}
	p := page.Page{page.Para(fmt.Sprintf("%d rules.", len(v.List))), t}
	for _, r := range v.Hidden {
		p = append(p, page.Para(fmt.Sprintf("%s is hidden by your rules.", r.ID)))
	}
	return p
}

// where says where a rule stands, and where it stood before it was changed.
func where(r *rules.Rule) string {
	at := r.File + ":" + strconv.Itoa(r.Line)
	if r.Was != "" {
		at += " (changes " + r.Was + ")"
	}
	return at
}

func effect(r *rules.Rule) string {
	s := string(r.Do)
	if r.Give != "" {
		s += " " + r.Give
	}
	if r.Weight != 0 {
		s += fmt.Sprintf(" %+g", r.Weight)
	}
	return s
}

// Rule is one rule whole. Its JSON is the rule.
type Rule struct {
	*rules.Rule
	Reads []string `json:"-"` // the facts it reads
}

// Page is the rule for people.
func (v Rule) Page() page.Page {
	r := v.Rule
	items := []string{
		"asked about: " + r.On,
		"when: " + strings.Join(strings.Fields(r.When), " "),
		"does: " + effect(r),
		"says: " + r.Reason,
	}
	if r.Change != "" {
		items = append(items, "what would change it: "+r.Change)
	}
	return page.Page{
		page.Heading{Level: 1, Text: r.ID + ": " + r.Title},
		page.List{Items: append(items,
			"reads: "+strings.Join(v.Reads, ", "),
			"source: "+r.Source,
			"stands at: "+where(r),
			fmt.Sprintf("examples: %d that fire it, %d that do not", len(r.Fires), len(r.Quiet)),
		)},
	}
}

// Facts are the facts that rules may read.
type Facts []schema.Fact

// Page is the facts for people.
func (list Facts) Page() page.Page {
	t := page.Table{Head: []string{"fact", "kind", "unit or words", "meaning"}}
	for _, f := range list {
		unit := f.Unit
		if len(f.OneOf) > 0 {
			unit = strings.Join(f.OneOf, ", ")
		}
		t.Rows = append(t.Rows, []string{f.Path, string(f.Kind), unit, f.Doc})
	}
	return page.Page{t}
}

// Coverage is how often each rule fired.
type Coverage struct{ tally.Coverage }

// Page is the coverage for people.
func (c Coverage) Page() page.Page {
	t := page.Table{Head: []string{"rule", "fired", "of"}, Right: []bool{false, true, true}}
	for _, n := range c.Counts {
		t.Rows = append(t.Rows, []string{n.Rule, strconv.Itoa(n.Fired), strconv.Itoa(c.Sets)})
	}
	p := page.Page{t}
	if quiet := c.Quiet(); len(quiet) > 0 {
		p = append(p, page.Para("Never fired: "+strings.Join(quiet, ", ")+"."))
	}
	return p
}
