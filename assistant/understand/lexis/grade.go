package lexis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"mallow/knowledge"
	"mallow/rules/facts"
)

// Grade is a word for a softness, and its notches.
type Grade struct {
	Name    string
	Notches float64
}

// addGrades takes the grades of softness from the question that offers them.
func (l *Lexicon) addGrades(cat *knowledge.Catalogue) error {
	for _, q := range cat.Questions {
		if q.ID != "want.softness" {
			continue
		}
		for _, c := range q.Choices {
			v, err := strconv.ParseFloat(c.Value, 64)
			if err != nil {
				return fmt.Errorf("question %s: choice %q: %w", q.ID, c.Say, err)
			}
			l.grades = append(l.grades, Grade{c.Say, v})
		}
	}
	slices.SortFunc(l.grades, func(a, b Grade) int { return cmp.Compare(a.Notches, b.Notches) })
	return nil
}

// Graded returns the softness of a grade's word, said with a degree: "very"
// is a grade on, "a bit" a grade back towards medium.
func (l *Lexicon) Graded(notches, degree float64) float64 {
	i := slices.IndexFunc(l.grades, func(g Grade) bool { return g.Notches == notches })
	if i < 0 || notches == 0 || len(l.grades) < 2 {
		return notches
	}
	at := float64(i) + 2*(degree-1)*float64(sign(notches))
	lo := min(max(int(math.Floor(at)), 0), len(l.grades)-2)
	v := l.grades[lo].Notches + (at-float64(lo))*(l.grades[lo+1].Notches-l.grades[lo].Notches)
	if v*notches <= 0 { // never across medium
		v = notches / 2
	}
	return math.Round(10*v) / 10
}

// Beyond returns the grade next to one on the softer side, or, when by is
// below zero, the harder.
func (l *Lexicon) Beyond(notches, by float64) float64 {
	i := slices.IndexFunc(l.grades, func(g Grade) bool { return g.Notches == notches })
	if i < 0 {
		return notches
	}
	return l.grades[min(max(i+sign(by), 0), len(l.grades)-1)].Notches
}

// Middle returns the softness halfway between two grades, counted in grades.
func (l *Lexicon) Middle(a, b float64) float64 {
	i := slices.IndexFunc(l.grades, func(g Grade) bool { return g.Notches == a })
	j := slices.IndexFunc(l.grades, func(g Grade) bool { return g.Notches == b })
	if i < 0 || j < 0 {
		return (a + b) / 2
	}
	lo, hi := (i+j)/2, (i+j+1)/2
	return (l.grades[lo].Notches + l.grades[hi].Notches) / 2
}

// Value reads a word as the value of a fact, a grade as its notches. It fails for what is no
// value, and for a path that is no fact.
func (l *Lexicon) Value(path, word string) (any, error) {
	if path == facts.WantSoftness {
		for _, g := range l.grades {
			if g.Name == word {
				return g.Notches, nil
			}
		}
	}
	return l.Parse(path, word)
}

// Grades lists the words for softness, hardest first.
func (l *Lexicon) Grades() []Grade { return l.grades }

func sign(v float64) int { return cmp.Compare(v, 0) }

// Flip returns the value of the fact at path that lies on the other side of its middle,
// and whether there is one.
func (l *Lexicon) Flip(path string, v any) (other any, ok bool) {
	if path == facts.WantSoftness {
		x, ok := v.(float64)
		return -x, ok && x != 0
	}
	if words := l.OneOf(path); len(words) == 3 {
		switch v {
		case words[0]:
			return words[2], true
		case words[2]:
			return words[0], true
		}
	}
	return nil, false
}

// Side returns which way more of a word moves its fact, 0 when it doesn't.
func (l *Lexicon) Side(x *Sense) (side float64, unit string) {
	switch x.Slot {
	case "want.softness":
		v, _ := x.Fact.(float64)
		return 2 * float64(sign(v)), "notches"
	case "want.colour", "want.attack", "want.opening":
		words := l.OneOf(x.Slot) // three words in order, the middle one even
		switch x.Value {
		case words[0]:
			return -1, ""
		case words[len(words)-1]:
			return 1, ""
		}
	}
	return 0, ""
}

// Opposed reports whether two values are the ends of a scale of three words.
func (l *Lexicon) Opposed(path string, x, y any) bool {
	switch path {
	case facts.WantColour, facts.WantAttack, facts.WantOpening:
		other, ok := l.Flip(path, x)
		return ok && y == other
	}
	return false
}
