package assistant

import (
	"slices"
	"strings"

	"mallow/assistant/along"
	"mallow/assistant/answer"
	"mallow/assistant/reply"
	"mallow/assistant/settled"
	"mallow/assistant/tell"
	"mallow/assistant/understand/reading"
	"mallow/rules/propose"
)

// building is the conversation while something is built or looked into.
type building struct{ *Session }

// order takes a line that orders a job by name, with the stack it is for or
// for the head at hand.
func (s building) order(line string) (Reply, bool) {
	var r Reply
	lower := strings.ToLower(line)
	for _, w := range along.Orders() {
		rest, ok := strings.CutPrefix(lower, w.Say)
		if !ok || rest != "" && rest[0] != ' ' {
			continue
		}
		rest = strings.TrimSpace(line[len(w.Say):])
		if rest == "" || answer.Plain(rest) == "it" || answer.Plain(rest) == "this head" {
			if w.Job == "" {
				return r, false // an order like any other
			}
			if s.now.stage != proposed {
				return s.unknown(w.Job), true
			}
			return s.start(r, w.Job), true
		}
		st, err := s.kit.Stack(rest)
		if err != nil {
			if w.Job != "" && !strings.Contains(rest, "+") { // an old head that nobody knows
				r := s.unknown(w.Job)
				if _, ok := s.measured(rest); ok {
					return s.found(rest)
				}
				return r, true
			}
			if strings.Contains(rest, "+") {
				r.Say("%s", reply.Told(err))
				return s.ask(r), true
			}
			return r, false
		}
		s.remember()
		s.now.pick(st)
		return s.start(r, w.Job), true
	}
	return r, false
}

// build begins to build the head at hand.
func (s building) build(r Reply) Reply { return s.start(r, "") }

// start begins a job, once the questions of safety are answered.
func (s building) start(r Reply, job string) Reply {
	if s.owes(&r, "Before we build, this has to come from you.") {
		s.now.due = due{Job: true, ID: job}
		return s.ask(r)
	}
	s.now.due = due{}
	c, heads, err := s.atHand()
	if err != nil {
		s.teller().Clash(&r.Said, err)
		return s.ask(r)
	}
	if job == "" {
		if again, better := s.further(&r, c); better {
			return again
		}
	}
	x := along.Job{ID: job, Stack: c.Stack, Request: s.now.Request(), Heads: heads}
	if job == "" {
		if e, _, err := s.teller().Effort(c); err == nil {
			x.Buy = e.Bought()
		}
	}
	b, err := s.kit.Guide().Start(x)
	if err != nil {
		r.Say("%s", reply.Told(err))
		s.now.Stack = "" // the best that can be built stands
		return s.next(r)
	}
	if job == "" && !s.replaying {
		if sh, err := s.Sheet(); err == nil {
			r.Sheet, r.Built = &sh, true
		}
	}
	s.now.stage, s.now.asked, s.now.bench, s.now.done = proposed, "", b, false
	return s.along(r, b.Show())
}

// further looks once more, and longer, before anything is cut, where the head at
// hand was not proven to be the best. A better one is shown first, and picked.
func (s building) further(r *Reply, was propose.Candidate) (Reply, bool) {
	look := s.kit.Offers.Further(&s.now.State)
	switch {
	case look.Better != nil:
		s.remember()
		s.now.pick(look.Better.Stack)
		r.Say("Before anything is cut I looked at %d heads, and found one that does better. Say build for this one, or back for the one before.", look.Tried)
		if r.Broken = look.Broken; r.Broken {
			r.Say("I was stopped there: that none does better yet is not proven.")
		}
		s.revised(r, was, *look.Better)
		return s.ask(*r), true
	case look.Broken:
		r.Broken = true
		r.Say("Stopped (%d heads looked at): this is the best so far, and it is not proven that none does better.", look.Tried)
	case look.Tried > 0 && look.Proven:
		r.Say("Of all heads that can be built, none does better (%d looked at).", look.Tried)
	case look.Tried > 0:
		r.Say("Of %d heads looked at before cutting, none does better.", look.Tried)
	}
	return *r, false
}

// along makes a reply of what the build says.
func (s building) along(r Reply, a along.Reply) Reply {
	r.Page = append(r.Page, a.Page...)
	r.WaitMin = a.WaitMin
	switch {
	case a.Leave:
		r.Say("Kept where you are. Start mallow again and it goes on there.")
		r.Leave = true
		return r
	case a.Quit:
		s.now.bench = nil
		r.Say("The build is put away; the head stands.")
		return s.ask(r)
	case a.Rewrap:
		s.now.bench = nil
		return s.start(r, "rewrap")
	case a.Done:
		if a.Keep {
			r.Heads = s.now.bench.Built()
		}
		if b := s.now.bench; s.kit.Owned() > 0 && b.Whole() {
			r.Say("%s", reply.TakeOff(b.Count(), b.Stack().String()))
		}
		s.now.bench, s.now.done, s.now.turning = nil, true, len(s.now.later) > 0
		if s.now.turning {
			r.Say("Good playing.")
		} else {
			r.Say("Good playing. Say leave, or what you need next.")
		}
		return s.ask(r)
	}
	r.Ask = &Ask{ID: "build", Text: a.Ask, Enter: a.Enter}
	r.Words = append(r.Words, "done", "back", "why", "it slipped", "it tore", "stop here", "card", "another head")
	return r
}

// atBench answers a line while something is being built. What may hurt
// somebody was heard first, and stops a build that it forbids.
func (s building) atBench(in reading.Reading, line string, h settled.Heard) Reply {
	if h.Did() {
		var r Reply
		if of, how := curious(s).nearest(line); how >= answer.NearPlain && !of.Trouble {
			curious(s).tell(&r, of.ID, line)
		}
		return s.recheck(r)
	}
	if slices.Contains([]string{"sheet", "the sheet", "show the sheet", "the whole sheet", "print the sheet", "build sheet"}, answer.Plain(line)) {
		return s.whole(Reply{})
	}
	if a, ok := s.now.bench.Say(line); ok {
		return s.along(Reply{}, a)
	}
	if r, ok := curious(s).knows(in, line); ok {
		return r
	}
	if r, ok := queue(s).further(in, line); ok {
		return r
	}
	var r Reply
	switch act := in.Act(); {
	case act == reading.Why && len(in.Supposed.Said) == 0 && !s.replaying:
		if r, ok := curious(s).nearby(line, answer.NearLikely); ok {
			return r
		}
		if a, ok := s.now.bench.Say("why"); ok {
			return s.along(r, a)
		}
		return s.act(in, line)
	case slices.Contains([]reading.Act{reading.Why, reading.WhyNot, reading.WhatIf, reading.Compare, reading.Define, reading.Ask, reading.Show}, act) && !s.replaying:
		return s.act(in, line)
	case act == reading.Unsure && in.Empty() && len(in.About) == 0:
		r.Say("No hurry: why says what this is for. Else say done, back, what you see (it slipped, it tore), or stop here.")
	case in.Act() == reading.Leave && !along.Goes(line):
		return Reply{Leave: true}
	case in.Act() == reading.Save:
		r.Save = true
	case in.Act() == reading.Help:
		r.List([]string{
			"done: the next step; back: the one before; card: the whole build on one screen",
			"why: what the step is for; no: what to do when it is not right",
			"it slipped, it tore, it rattles: find out why, one check at a time",
			"a figure when I ask for one: 22.8 g, 1.34 in; Enter where you have none",
			"stop here: it is kept, and goes on at this step; another head: back to choosing",
		})
	case curious(s).guess(&r, in, line):
	case !in.Empty():
		r.Say("That would be another head. Say another head to go back to choosing, then say it again; what is built so far is not lost by talking.")
	case in.Act() == reading.Social:
		r.Say("%s", s.teller().Chat(in, line))
	case curious(s).hint(&r, line):
	default:
		r.Say("I did not understand that here. Say done, back, why, what you see (it slipped, it tore), or stop here.")
	}
	return s.along(r, s.now.bench.Again())
}

// recheck goes on with a build after something was settled, if the head may
// still be built.
func (s building) recheck(r Reply) Reply {
	c, err := s.kit.Finder.Consider(s.now.bench.Stack(), s.now.Request())
	if err == nil && c.Refused() == nil {
		return s.along(r, s.now.bench.Again())
	}
	s.now.bench, s.now.Stack = nil, ""
	r.Say("Stop: this head must not be built or used then. Put the parts away, wash your hands, and let whoever reacted see a doctor. Hives, a swollen face or trouble breathing: call the emergency number at once. This is another head.")
	return s.next(r)
}

// idle answers words that end a step of a build where nothing is being built.
func (s building) idle(line string) (Reply, bool) {
	if !answer.Done(line) || s.now.bench != nil {
		return Reply{}, false
	}
	var r Reply
	if s.now.stage == proposed {
		r.Say("Nothing is being built yet: press Enter to begin, or say leave to go.")
	} else {
		r.Say("There is no head yet. Press Enter to go on, or say leave to go; all you said is kept.")
	}
	return s.ask(r), true
}

// onlyBuild begins to build where a line says no more than that.
func (s building) onlyBuild(in reading.Reading, line string) (Reply, bool) {
	if s.now.stage == inviting || s.now.bench != nil || !answer.Begins(in, line) {
		return Reply{}, false
	}
	var r Reply
	if s.now.stage == asking {
		if s.now.asked == "" { // wishes clash
			return s.enter(), true
		}
		s.remember()
		s.now.seen = true
		r.Say("What you have not said is taken as most players have it.")
	}
	return s.build(r), true
}

// ails begins to look into what is wrong with a head, where a line says so and
// little else, if anything else was taken from it.
func (s building) ails(in reading.Reading, line string) (Reply, bool) {
	t, alone, ok := along.Find(s.kit.Catalogue, line)
	if !ok || !alone && len(in.Takes)+len(in.Moves) > 0 || s.now.stage != inviting && s.now.bench == nil && len(in.Moves) > 0 { // the head on offer is too heavy
		return Reply{}, false
	}
	return s.look(t.ID), true
}

// look begins to look into a trouble.
func (s building) look(id string) Reply {
	if s.now.bench != nil && s.now.asked == "" {
		r := s.along(Reply{}, s.now.bench.Look(id))
		r.Told = id
		return r
	}
	r := Reply{Told: id}
	t, _ := s.kit.Catalogue.Trouble(id)
	r.Say("%s", along.First(t))
	s.now.doctor, s.now.prompted = along.Doctor{ID: id}, "" // so that the check stands there whole
	return s.ask(r)
}

// examine takes the answer to a check, and reports whether it was one.
func (s building) examine(line string) (Reply, bool) {
	var a along.Reply
	over, ok := s.now.doctor.Say(s.kit.Catalogue, answer.Plain(line), &a)
	if over || !ok {
		s.now.doctor = along.Doctor{}
	}
	return s.ask(Reply{Said: tell.Said{Page: a.Page}}), ok
}
