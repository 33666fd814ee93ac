package assistant

import (
	"context"
	"errors"

	"mallow/assistant/reply"
	"mallow/assistant/reply/sets"
	"mallow/assistant/settled"
	"mallow/assistant/understand/reading"
	"mallow/rules/graded"
)

// graduating is the conversation where a graded set is asked for.
type graduating struct{ *Session }

// set shows the set that a line asks for, for what was answered and what else the
// line settles, the grades first and the rest by more.
func (s graduating) set(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	if in.Grades == 0 || s.now.bench != nil {
		return r, false
	}
	s.remember()
	for _, a := range settled.LimitsFirst(in.Takes) {
		if trouble := s.now.Answer(a); trouble != "" {
			r.Say("%s", trouble)
		}
	}
	if s.replaying {
		return r, true
	}
	if s.owes(&r, "Before a set, this has to come from you; then ask for the set again.") {
		return s.ask(r), true
	}
	const each = 2
	set, err := s.kit.Set(context.Background(), Wish{Request: s.now.Request()}, line, graded.Options{Rungs: in.Grades, Each: each})
	var short *graded.Short
	if err != nil && !errors.As(err, &short) {
		s.teller().Clash(&r.Said, err)
		return s.ask(r), true
	}
	v, err := sets.New(reply.Default(s.kit.Catalogue), set, each)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return s.ask(r), true
	}
	if short != nil {
		v = v.Short(short)
	}
	screens := v.Screens(s.kit.Owned() > 0)
	r.Page, s.now.rest = append(r.Page, screens[0]...), screens[1:]
	return s.ask(r), true
}
