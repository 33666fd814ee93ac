package understand

import (
	"errors"
	"fmt"

	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/hunch"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/part"
	"mallow/assistant/understand/retell"
	"mallow/knowledge"
)

// New returns a reader of the catalogue's words, terms and parts. It fails when a word of
// the list answers a fact that doesn't exist, or gives it a value it can't have.
func New(cat *knowledge.Catalogue) (*Reader, error) {
	r, err := First(cat)
	if err != nil {
		return nil, err
	}
	if r.hunch, err = hunch.New(r.words.Value); err != nil {
		return nil, fmt.Errorf("understand: %w", err)
	}
	return r, nil
}

// First returns a reader without a second opinion, which that is taught by.
func First(cat *knowledge.Catalogue) (*Reader, error) {
	l, err := lexis.New(cat)
	h, errHarm := harm.New(cat)
	if err := errors.Join(err, errHarm); err != nil {
		return nil, fmt.Errorf("understand: %w", err)
	}
	r := &Reader{
		bars:   cat.Instruments,
		words:  l,
		harm:   h,
		yes:    map[string]any{},
		retell: retell.New(cat, l.Grades()),
		stock:  part.NewStock(cat),
	}
	for _, q := range cat.Questions {
		if !l.IsTruth(q.ID) {
			continue
		}
		r.yes[q.ID] = true
		if q.Yes != "" {
			v, err := l.Parse(q.ID, q.Yes)
			if err != nil {
				return nil, fmt.Errorf("understand: question %s: yes: %w", q.ID, err)
			}
			r.yes[q.ID] = v
		}
	}
	return r, nil
}

// reply returns what yes or no answers to the asked fact.
func (r *Reader) reply(asked string, yes bool) (v any, ok bool) {
	if !r.words.IsTruth(asked) {
		return nil, false
	}
	means, told := r.yes[asked].(bool)
	return (means || !told) == yes, true
}
