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
// line settles, the grades first and the rest by more. Where a question of safety is
// open, the set waits for its answer; until then a line may say how far it goes.
func (s graduating) set(in reading.Reading, line string) (Reply, bool) {
	var r Reply
	d := due{Grades: in.Grades, Line: line}
	if wait := s.now.due; d.Grades == 0 && wait.Grades > 0 && s.kit.Spans(s.now.Facts.Instrument.Kind, line) {
		d = due{Grades: wait.Grades, Line: wait.Line + ", " + line}
	}
	if d.Grades == 0 || s.now.bench != nil {
		return r, false
	}
	s.remember()
	for _, a := range settled.LimitsFirst(in.Takes) {
		if trouble := s.now.Answer(a); trouble != "" {
			r.Say("%s", trouble)
		}
	}
	return s.show(r, d), true
}

// show shows a set, once the questions of safety are answered.
func (s graduating) show(r Reply, d due) Reply {
	why := "Before the set, this has to come from you."
	if s.now.due.Grades > 0 {
		why = "Noted for the set."
	}
	if s.owes(&r, why) {
		s.now.due = d
		return s.ask(r)
	}
	s.now.due = due{}
	if s.replaying {
		return r
	}
	const each = 2
	set, err := s.kit.Set(context.Background(), Wish{Request: s.now.Request()}, d.Line, graded.Options{Rungs: d.Grades, Each: each})
	var short *graded.Short
	if err != nil && !errors.As(err, &short) {
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	v, err := sets.New(reply.Default(s.kit.Catalogue), set, each)
	if err != nil {
		r.Say("%s", reply.Told(err))
		return s.ask(r)
	}
	if short != nil {
		v = v.Short(short)
	}
	screens := v.Screens(s.kit.Owned() > 0)
	r.Page, s.now.rest = append(r.Page, screens[0]...), screens[1:]
	return s.ask(r)
}
