package settled

import (
	"cmp"
	"fmt"
	"strings"

	"mallow/knowledge"
	"mallow/knowledge/measure"
	"mallow/knowledge/strike"
	"mallow/rules/facts"
)

// Say reads a fact in the words of its question.
func (st *State) Say(path string) string {
	v := facts.Get(&st.Facts, path)
	q, ok := st.Catalogue.Question(path)
	if ok {
		for _, c := range q.Choices {
			var at facts.Facts
			if facts.Parse(&at, path, c.Value) == nil && facts.Get(&at, path) == v {
				return inContext(q, c.Say)
			}
		}
	}
	switch x := v.(type) {
	case float64:
		switch path {
		case facts.WantSoftness:
			return fmt.Sprintf("%s (%s)", strike.Grade(x, st.Catalogue.Scale.For(st.Facts.Instrument.Kind)), Softness(x))
		case facts.PlayerMallets:
			return fmt.Sprintf("%g mallets", x)
		case facts.PlayerTensionN:
			return fmt.Sprintf("winding with %.2g N, %.2g kg on a spring balance", x, x/measure.Gravity)
		case facts.WantMassG:
			return fmt.Sprintf("about %.1f g a head", x)
		case facts.WantLeastG:
			return fmt.Sprintf("at least %.1f g a head", x)
		case facts.WantLeastMM:
			return "at least " + (measure.Length(x) * measure.Millimetre).String() + " across"
		case facts.WantDiameterMM:
			return "about " + (measure.Length(x) * measure.Millimetre).String() + " across"
		case facts.WantBudgetCents:
			return "at most " + measure.Money(x).String() + " for a pair"
		case facts.InstrumentLowHz:
			return "from " + measure.NoteNear(x).String() + " up"
		case facts.InstrumentHighHz:
			return "up to " + measure.NoteNear(x).String()
		}
		return fmt.Sprintf("%s: %g", path, x)
	case string:
		return x
	case bool:
		switch path {
		case facts.WantFewTurns:
			return map[bool]string{true: "few turns of yarn", false: "as many turns as it takes"}[x]
		case facts.PlayerSmall:
			return map[bool]string{true: "for small or light hands", false: "for grown hands"}[x]
		}
	}
	return fmt.Sprintf("%s: %v", path, v)
}

// inContext makes a choice readable away from its question.
func inContext(q knowledge.Question, say string) string {
	if q.Name == "" {
		return say
	}
	return q.Name + ": " + say
}

// plain picks the words of a text if it has any.
func plain(text, otherwise string) string { return cmp.Or(strings.TrimSpace(text), otherwise) }

// Softness is a place on the softness scale in words.
func Softness(v float64) string {
	switch {
	case v > 0.05:
		return fmt.Sprintf("%.1f notches softer than the medium mark", v)
	case v < -0.05:
		return fmt.Sprintf("%.1f notches harder than the medium mark", -v)
	}
	return "on the medium mark"
}
