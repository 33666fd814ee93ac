package gate_test

import (
	"slices"
	"testing"

	"mallow/rules"
	"mallow/rules/facts"
	"mallow/rules/gate"
)

// everything calls f with each of the 729 things that can be stated.
func everything(f func(gate.Stated)) {
	all := []gate.Answer{gate.Unsaid, gate.Yes, gate.No}
	var s gate.Stated
	var at func(fields []*gate.Answer)
	at = func(fields []*gate.Answer) {
		if len(fields) == 0 {
			f(s)
			return
		}
		for _, a := range all {
			*fields[0] = a
			at(fields[1:])
		}
	}
	at([]*gate.Answer{&s.Minor, &s.LatexOK, &s.RubberOK, &s.SolventOK, &s.Supervised, &s.Ventilated})
}

func TestZeroPassIsCareful(t *testing.T) {
	var p gate.Pass
	f := facts.Facts{
		Player: facts.Player{LatexOK: true, SolventOK: true},
		Bench:  facts.Bench{Ventilated: true},
	}
	p.Apply(&f)
	if f.Player.LatexOK || f.Player.SolventOK || !f.Player.Minor || f.Bench.Ventilated {
		t.Errorf("a pass that nobody asked for allows %+v %+v", f.Player, f.Bench)
	}
	if !f.Bench.Supervised || p.Alone() {
		t.Error("steps leave the plan though nobody said that no adult is there")
	}
	want := []string{gate.LatexOK, gate.Minor, gate.SolventOK}
	if got := p.Assumed(); !slices.Equal(got, want) {
		t.Errorf("assumed %v, want %v", got, want)
	}
}

func TestNothingHarmfulPasses(t *testing.T) {
	n := 0
	everything(func(s gate.Stated) {
		n++
		var f facts.Facts
		p := gate.Settle(s)
		p.Apply(&f)
		switch {
		case f.Player.LatexOK && (s.LatexOK != gate.Yes || s.RubberOK == gate.No):
			t.Errorf("%+v: latex", s)
		case f.Player.RubberOK && s.RubberOK == gate.No:
			t.Errorf("%+v: rubber", s)
		case f.Player.SolventOK && (s.SolventOK != gate.Yes || s.Minor != gate.No || s.Ventilated != gate.Yes):
			t.Errorf("%+v: solvent", s)
		case !f.Player.Minor && s.Minor != gate.No:
			t.Errorf("%+v: taken as of age", s)
		case p.Alone() != (s.Minor == gate.Yes && s.Supervised == gate.No):
			t.Errorf("%+v: alone is %v", s, p.Alone())
		}
		for _, path := range p.Assumed() {
			if s.Said(path) {
				t.Errorf("%+v: %s was stated, not assumed", s, path)
			}
		}
	})
	if n != 729 {
		t.Errorf("tried %d statements, want 729", n)
	}
}

func TestAGroupIsAsCarefulAsItsMostCareful(t *testing.T) {
	var all []gate.Stated
	everything(func(s gate.Stated) { all = append(all, s) })
	for i, a := range all {
		b := all[(i*37+11)%len(all)]
		ab, ba := a.With(b), b.With(a)
		if ab != ba {
			t.Fatalf("%+v with %+v depends on who speaks first: %+v, %+v", a, b, ab, ba)
		}
		p, one := gate.Settle(ab), gate.Settle(a)
		if p.LatexOK() && a.LatexOK == gate.No || p.SolventOK() && !one.SolventOK() && a.SolventOK != gate.Unsaid && a.Minor != gate.Unsaid && a.Ventilated != gate.Unsaid {
			t.Errorf("%+v with %+v loses care: %+v", a, b, ab)
		}
		if a.Minor == gate.Yes && !p.Minor() || a.RubberOK == gate.No && p.RubberOK() {
			t.Errorf("%+v with %+v loses somebody: %+v", a, b, ab)
		}
	}
}

func TestOf(t *testing.T) {
	var f facts.Facts
	f.Player.Minor, f.Player.LatexOK, f.Player.SolventOK = true, true, true
	s := gate.Of(f, rules.Known{gate.Minor: true, gate.SolventOK: true})
	if want := (gate.Stated{Minor: gate.Yes, SolventOK: gate.Yes}); s != want {
		t.Errorf("got %+v, want %+v", s, want)
	}
}

func TestAgainst(t *testing.T) {
	tests := []struct {
		name string
		said gate.Stated
		want []string
	}{
		{"nothing said", gate.Stated{}, nil},
		{"all is well", gate.Stated{Minor: gate.No, LatexOK: gate.Yes, RubberOK: gate.Yes, SolventOK: gate.Yes, Ventilated: gate.Yes}, nil},
		{"an allergy", gate.Stated{LatexOK: gate.No}, []string{gate.LatexOK}},
		{"gloves itch", gate.Stated{LatexOK: gate.No, RubberOK: gate.No}, []string{gate.LatexOK, gate.RubberOK}},
		{"a child with an adult", gate.Stated{Minor: gate.Yes, Supervised: gate.Yes}, []string{gate.Minor}},
		{"a child alone", gate.Stated{Minor: gate.Yes, Supervised: gate.No}, []string{gate.Minor, gate.Supervised}},
		{"an adult alone", gate.Stated{Minor: gate.No, Supervised: gate.No}, nil},
	}
	for _, tt := range tests {
		if got := gate.Settle(tt.said).Against(); !slices.Equal(got, tt.want) {
			t.Errorf("%s: against %v, want %v", tt.name, got, tt.want)
		}
	}
}

// A stack that people name themselves is refused only for what was stated, and
// what was not asked is said where the stack holds it.
func TestGiven(t *testing.T) {
	latex := facts.Head{Latex: true}
	everything(func(s gate.Stated) {
		p := gate.Settle(s).Given()
		if p.LatexOK() == (s.LatexOK == gate.No || s.RubberOK == gate.No) {
			t.Errorf("%+v: latex is %v", s, p.LatexOK())
		}
		if p.SolventOK() == (s.SolventOK == gate.No || s.Ventilated == gate.No || s.Minor == gate.Yes) {
			t.Errorf("%+v: solvent is %v", s, p.SolventOK())
		}
		if p.Minor() != (s.Minor == gate.Yes) || p.OfAge() != (s.Minor == gate.No) {
			t.Errorf("%+v: under age %v, of age %v", s, p.Minor(), p.OfAge())
		}
		if said := slices.Contains(p.Assumed(latex), gate.LatexOK); said != (s.LatexOK == gate.Unsaid && s.RubberOK != gate.No) {
			t.Errorf("%+v: that latex was not asked is said: %v", s, said)
		}
		if slices.Contains(p.Assumed(facts.Head{}), gate.LatexOK) {
			t.Errorf("%+v: latex is spoken of though the stack holds none", s)
		}
	})
}
