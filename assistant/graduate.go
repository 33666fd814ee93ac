package assistant

import (
	"context"
	"errors"

	"mallow/assistant/page"
	"mallow/assistant/reply"
	"mallow/assistant/reply/sets"
	"mallow/assistant/shape"
	"mallow/rules/graded"
)

// graduating is the conversation where a graded set is asked for.
type graduating struct{ *Session }

// set shows the set that a line asks for, for what was answered, the grades
// first and the rest by more. It takes nothing in.
func (s graduating) set(line string) (Reply, bool) {
	var r Reply
	n, ok := shape.Grades(line)
	if !ok || s.now.bench != nil {
		return r, false
	}
	if s.replaying {
		return r, true
	}
	if q, ok := s.kit.Asker.Owed(&s.now.State); ok {
		s.now.open(q.ID)
		s.now.prompted = ""
		r.Say("Before a set, this has to come from you; then ask for the set again.")
		return s.ask(r), true
	}
	const each = 2
	set, err := s.kit.Set(context.Background(), Wish{Request: s.now.Request()}, line, graded.Options{Rungs: n, Each: each})
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
	screens := v.Screens()
	if last := len(screens) - 1; s.kit.Owned() > 0 {
		screens[last] = append(screens[last], page.Para(reply.TakeOff(each, v.Stacks()...)))
	}
	r.Page, s.now.rest = screens[0], screens[1:]
	return s.ask(r), true
}
