package graded_test

import (
	"context"
	"testing"

	"mallow/rules/gate"
	"mallow/rules/graded"
	"mallow/rules/propose/proposetest"
	"mallow/rules/propose/search"
)

// A head that loses an octave of the whole instrument is said to, and the head
// beside it is of its family, serves more, meets it and keeps the gate; who asked
// for one register is told nothing.
func TestServes(t *testing.T) {
	f := proposetest.Finder(t)
	for name, latex := range map[string]gate.Answer{"latex": gate.Yes, "no latex": gate.No} {
		q := proposetest.Player()
		q.Facts.Want.Register = "whole"
		q.Pass = gate.Settle(gate.Stated{Minor: gate.No, LatexOK: latex, RubberOK: gate.Yes, SolventOK: gate.No, Ventilated: gate.Yes})
		p, err := search.Propose(context.Background(), f, q)
		if err != nil {
			t.Fatal(err)
		}
		c := p.Best
		r, short := graded.Serves(context.Background(), f, c, q)
		if !short || r.LostTop < 1 {
			t.Fatalf("%s: %s serves %s to %s: %+v", name, c.Stack, c.Report.Low, c.Report.High, r)
		}
		x := r.Beside
		if x == nil {
			t.Fatalf("%s: nothing stands beside %s", name, c.Stack)
		}
		t.Logf("%s: %s serves %s to %s, beside it %s from %s to %s", name, c.Stack, c.Report.Low, c.Report.High, x.Stack, x.Report.Low, x.Report.High)
		if x.Report.High < c.Report.High+4 || x.Report.Low > c.Report.High {
			t.Errorf("%s: %s to %s, beside %s to %s", name, x.Report.Low, x.Report.High, c.Report.Low, c.Report.High)
		}
		if x.Stack.Core.ID != c.Stack.Core.ID || x.Stack.Wrap.Yarn.ID != c.Stack.Wrap.Yarn.ID || x.Refused() != nil {
			t.Errorf("%s: %s is no family of %s", name, x.Stack, c.Stack)
		}
		if latex == gate.No && x.Stack.Latex() {
			t.Errorf("%s: %s", name, x.Stack)
		}
		q.Facts.Want.Register = "middle"
		if c, err = f.Consider(c.Stack, q); err != nil {
			t.Fatal(err)
		}
		if _, short := graded.Serves(context.Background(), f, c, q); short {
			t.Errorf("%s: the middle was asked for", name)
		}
	}
}
