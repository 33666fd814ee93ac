package propose

import (
	"fmt"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
)

// report is strike.Of, remembered: within a conversation, most heads that come up
// have come up before, and a report is what costs the most about one. Reports
// are shared: nobody changes one.
func (m *memory) report(h head.Head, set strike.Setting) (strike.Report, error) {
	s := h.Stack
	key := fmt.Sprint(s.Core, s.Material, s.Slices, set.Instrument, set.Low, set.High)
	if s.Wrap != nil {
		key += fmt.Sprint(*s.Wrap)
	}
	if s.Shaft != nil {
		key += fmt.Sprint(*s.Shaft)
	}
	if rep, ok := m.reports.Get(key); ok {
		return rep, nil
	}
	rep, err := strike.Of(h, set)
	if err == nil {
		m.reports.Put(key, rep)
	}
	return rep, err
}
