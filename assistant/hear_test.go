package assistant

import (
	"strings"
	"testing"

	"mallow/rules/gate"
)

// What keeps somebody from harm is heard whatever else a line says, stays
// through going back, starting anew and careless words, and is undone only by a
// taking back that was affirmed.
func TestHarmStays(t *testing.T) {
	tests := []struct {
		name string
		say  []string
		want gate.Stated // of Minor, LatexOK and RubberOK
	}{
		{"a child beside an adult", []string{"Marimba, medium, I am 12, an adult is with me"}, gate.Stated{Minor: gate.Yes}},
		{"a school year", []string{"vibes for my sixth grade class"}, gate.Stated{Minor: gate.Yes}},
		{"a rash", []string{"I have a rash from rubber"}, gate.Stated{LatexOK: gate.No, RubberOK: gate.No}},
		{"gloves", []string{"my hands itch from those gloves"}, gate.Stated{LatexOK: gate.No, RubberOK: gate.No}},
		{"misspelt", []string{"latex allergie"}, gate.Stated{LatexOK: gate.No}},
		{"back", []string{"marimba", "I am 12", "back"}, gate.Stated{Minor: gate.Yes}},
		{"undo of something later", []string{"I am 12", "marimba", "undo", "undo"}, gate.Stated{Minor: gate.Yes}},
		{"start again", []string{"I am 12 and allergic to latex", "start again"}, gate.Stated{Minor: gate.Yes, LatexOK: gate.No}},
		{"an adult afterwards", []string{"I am 12", "we are all adults"}, gate.Stated{Minor: gate.Yes}},
		{"not affirmed", []string{"I am 12", "scratch that, I am 34", "no"}, gate.Stated{Minor: gate.Yes}},
		{"affirmed by nothing", []string{"I am 12", "scratch that, I am 34", ""}, gate.Stated{Minor: gate.Yes}},
		{"affirmed by another wish", []string{"I am 12", "scratch that, I am 34", "softer please"}, gate.Stated{Minor: gate.Yes}},
		{"affirmed", []string{"I am 12", "scratch that, I am 34", "yes"}, gate.Stated{Minor: gate.No}},
		{"affirmed at once with another harm", []string{"I am 12", "scratch that, I am 34", "yes, but I am allergic to latex"}, gate.Stated{Minor: gate.Yes, LatexOK: gate.No}},
		{"allergy affirmed away", []string{"I am allergic to latex", "actually I am not allergic after all", "yes"}, gate.Stated{LatexOK: gate.Yes}},
		{"while a lesson is chosen", []string{"teach me", "1, but I am allergic to latex"}, gate.Stated{LatexOK: gate.No}},
		{"supposed", []string{"what if I am 12"}, gate.Stated{}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := NewSession(kit(t))
			for _, l := range tt.say {
				s.Say(l)
			}
			got := s.now.Stated()
			got.SolventOK, got.Supervised, got.Ventilated = 0, 0, 0
			if got != tt.want {
				t.Errorf("after %q: %+v, want %+v", tt.say, got, tt.want)
			}
		})
	}
}

// Harm said while a head is at hand changes the head at once.
func TestHarmAtAHead(t *testing.T) {
	s := NewSession(kit(t))
	s.Say(answered)
	finish(t, s)
	c, err := s.kit.Offers.Best(&s.now.State)
	if err != nil || !c.Facts.Head.Latex {
		t.Fatalf("the head to begin with is to hold latex: %s, %v", c.Stack, err)
	}
	r := s.Say("why wool? oh, and my son gets hives from balloons")
	if text := hear(t, r); !strings.Contains(text, "latex to be avoided: yes") {
		t.Errorf("not said:\n%s", text)
	}
	finish(t, s)
	if r = s.Say("build"); s.Asked() == gate.Supervised {
		r = s.Say("yes") // and the build begins
	}
	if r.Sheet == nil || r.Sheet.Safety.Latex {
		t.Errorf("the sheet still holds latex, or there is none:\n%s", hear(t, r))
	}
}
