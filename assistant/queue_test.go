package assistant

import (
	"strings"
	"testing"
)

// said is what a session answers to lines, in one line of text each.
func said(t *testing.T, s *Session, lines ...string) string {
	t.Helper()
	var r Reply
	for _, l := range lines {
		r = s.Say(l)
	}
	return strings.Join(strings.Fields(hear(t, r)), " ")
}

func holds(t *testing.T, got string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("no %q in:\n%s", w, got)
		}
	}
}

// Two heads in one sentence are done one after the other: the second is kept,
// offered when the first is handed out, and has its own wishes.
func TestOneAfterTheOther(t *testing.T) {
	s := NewSession(kit(t))
	holds(t, said(t, s, "a medium pair for marimba and a soft pair for vibraphone, all adults, latex is fine, no solvents"), "first a medium head for marimba, then a soft head for vibraphone")
	finish(t, s)
	holds(t, said(t, s, "show the head"), "head for marimba", "After it: a soft head for vibraphone")
	holds(t, said(t, s, "what about the vibraphone?"), "comes after this one")
	if s.now.Facts.Instrument.Kind != "marimba" {
		t.Error("a question moved to the other head")
	}
	holds(t, said(t, s, "the sheet"), "Next is a soft head for vibraphone")
	if s.Done() {
		t.Error("done while a head waits")
	}
	said(t, s, "")
	if s.now.Facts.Instrument.Kind != "vibraphone" {
		t.Errorf("now for %s", s.now.Facts.Instrument.Kind)
	}
	finish(t, s)
	if c, err := s.kit.Offers.Best(&s.now.State); err != nil || c.Facts.Head.Softness < 1 || c.Facts.Want.Softness == 0 {
		t.Errorf("soft was asked for: %+v, %v", c.Facts.Head, err)
	}
	if _, latex := s.now.Said("player.latex_ok"); !latex {
		t.Error("what was said of latex is lost")
	}
}

// Another one beside the one at hand does not touch it, also in the middle of
// a build, and the build goes on where it was.
func TestAnotherOne(t *testing.T) {
	s := NewSession(kit(t))
	said(t, s, answered)
	finish(t, s)
	before := s.now.Facts
	holds(t, said(t, s, "another one for vibraphone too, soft"), "Kept for after this one: a soft head for vibraphone")
	if s.now.Facts != before {
		t.Error("the head at hand changed")
	}
	said(t, s, "build", "")
	at := s.now.bench.At()
	holds(t, said(t, s, "next head"), "Now a soft head for vibraphone")
	finish(t, s)
	said(t, s, "next head")
	if s.now.bench == nil || s.now.bench.At() != at {
		t.Error("the build did not go on where it was")
	}
}

// A class's total is shared out, what is bought is bought for all, and a share
// that nothing can be built for stands in nobody's way.
func TestClassBudget(t *testing.T) {
	s := NewSession(kit(t))
	holds(t, said(t, s, answered+", 30 students"), "30 students")
	holds(t, said(t, s, "total budget 600"), "at most 600.00 in all")
	if got := s.now.Facts.Want.BudgetCents; got != 2000 {
		t.Errorf("a pair may cost %g", got)
	}
	finish(t, s)
	holds(t, said(t, s, "what will it cost for the whole class"), "For 30 pairs", "of 600.00: enough")
	holds(t, said(t, s, "how many pairs is that"), "30 sets of 2 heads")

	s = NewSession(kit(t))
	said(t, s, answered+", 30 students", "total budget 30")
	finish(t, s)
	if s.now.stage != proposed {
		t.Error("nothing is proposed")
	}
	holds(t, said(t, s, "is there enough money"), "too much")
}

// Where wishes stand in each other's way, Enter gives one up and goes on.
func TestEnterGivesUp(t *testing.T) {
	s := NewSession(kit(t))
	said(t, s, answered+", at most 1 for the pair")
	for range 30 {
		if s.now.stage == proposed {
			return
		}
		s.Say("")
	}
	t.Error("Enter does not come to a head")
}
