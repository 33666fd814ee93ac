package reply

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"mallow/rules"
	"mallow/rules/facts"
)

// Reason is a fired rule's reason, and what would change it.
func Reason(f rules.Firing) string {
	text := Capital(f.Reason)
	if f.About != "" && !strings.Contains(f.Reason, f.About) {
		text = Capital(f.About) + ": " + f.Reason
	}
	if f.Change != "" {
		text += "; to change that: " + f.Change
	}
	return text + "."
}

// Met says the values that a rule met, and whose rule it is.
func Met(f rules.Firing) string {
	var values []string
	for _, v := range f.Values {
		if text := v.String(); !slices.Contains(values, text) {
			values = append(values, text)
		}
	}
	if len(values) == 0 {
		return ""
	}
	return fmt.Sprintf(" [%s%s: %s]", f.Rule.ID, ownRule(f.Rule), strings.Join(values, "; "))
}

// ownRule says where a rule stands that is the user's own.
func ownRule(r *rules.Rule) string {
	if strings.HasPrefix(r.File, facts.Shipped+"/") {
		return ""
	}
	return fmt.Sprintf(" (yours: %s, line %d)", r.File, r.Line)
}

// Spoke are the firings that have a reason, on a head, and that keep keeps,
// those that weigh most first.
func Spoke(trace []rules.Firing, keep func(rules.Firing) bool) []rules.Firing {
	var fired []rules.Firing
	for _, f := range trace {
		if f.State == rules.Fired && f.Reason != "" && f.Rule.Do != rules.Step && f.Rule.Do != rules.Choose && keep(f) {
			fired = append(fired, f)
		}
	}
	slices.SortStableFunc(fired, func(a, b rules.Firing) int {
		return cmp.Compare(math.Abs(b.Rule.Weight), math.Abs(a.Rule.Weight))
	})
	return fired
}

// Traced is a fired rule in full: its reason, what it counts, and the values
// that it met.
func Traced(f rules.Firing) string {
	text := Reason(f)
	if f.Rule.Do == rules.Prefer {
		text += fmt.Sprintf(" This counts %+.1f points.", f.Rule.Weight)
	}
	return text + Met(f)
}

// Notes are what the rules have to say about a head, at most most of them,
// each once. Those that skip picks out are left out.
func Notes(trace []rules.Firing, most int, skip func(*rules.Rule) bool) []string {
	var list []string
	for _, f := range trace {
		if f.State != rules.Fired || f.Rule.Do != rules.Note || f.Rule.On == "player" || len(list) == most {
			continue
		}
		if text := Reason(f); !skip(f.Rule) && !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	return list
}

// objections are the reasons against a head that count at least weight, at
// most most of them.
func objections(trace []rules.Firing, weight float64, most int) []string {
	var list []string
	for _, f := range trace {
		if f.State == rules.Fired && f.Rule.Do == rules.Prefer && f.Rule.Weight <= -weight && len(list) < most {
			list = append(list, f.Reason)
		}
	}
	return list
}

// Lacks is the first preference that speaks for a and not for b, or nothing.
func Lacks(a, b []rules.Firing) string {
	for _, f := range a {
		if f.State != rules.Fired || f.Rule.Do != rules.Prefer || f.Rule.Weight <= 0 {
			continue
		}
		if !slices.ContainsFunc(b, func(g rules.Firing) bool { return g.State == rules.Fired && g.Rule.ID == f.Rule.ID }) {
			return fmt.Sprintf("%s (%+.1f points)", Reason(f), f.Rule.Weight)
		}
	}
	return ""
}
