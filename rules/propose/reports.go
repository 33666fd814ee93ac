package propose

import (
	"fmt"
	"sync"

	"mallow/knowledge/head"
	"mallow/knowledge/strike"
)

// reports remembers the full reports that were made last. Within a
// conversation, most heads that come up have come up before, and a report is
// what costs the most about one.
type reports struct {
	mu   sync.Mutex
	made map[string]strike.Report
}

// mostReports bounds what is remembered; a report takes a few kilobytes.
const mostReports = 2000

// of is strike.Of. Reports are shared: nobody changes one.
func (r *reports) of(h head.Head, set strike.Setting) (strike.Report, error) {
	s := h.Stack
	key := fmt.Sprint(s.Core, s.Material, s.Slices, set.Instrument, set.Low, set.High)
	if s.Wrap != nil {
		key += fmt.Sprint(*s.Wrap)
	}
	if s.Shaft != nil {
		key += fmt.Sprint(*s.Shaft)
	}
	r.mu.Lock()
	rep, ok := r.made[key]
	r.mu.Unlock()
	if ok {
		return rep, nil
	}
	rep, err := strike.Of(h, set)
	if err != nil {
		return rep, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.made == nil || len(r.made) >= mostReports {
		r.made = map[string]strike.Report{}
	}
	r.made[key] = rep
	return rep, nil
}
