package harm_test

import (
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"gopkg.in/yaml.v3"

	"mallow/assistant/understand/harm"
)

// Requests of the panel that say that latex hurts nobody are read so, and those
// that say whom it hurts are not.
func TestAllClear(t *testing.T) {
	r := newReader(t)
	clear := regexp.MustCompile(`(?i)latex (is |or rubber |and rubber |or rubber are |and rubber are )?(both )?(fine|ok|okay|all right|alright|welcome|no (problem|worry|trouble|issue))\b|no allerg(y|ies)|nobody('s| is| has| reacts)? ?(allergic|trouble|to rubber or latex)|no (latex|rubber|trouble with rubber or latex|latex or rubber) (trouble|problem)?|latex never bothered|don't bother me|rubber fine`)
	hurt := regexp.MustCompile(`(?i)hives|rash|react(s)? to (rubber of|every|latex)|\bone of (us|them)|swell|can't|cannot|no latex at|latex allergy|no latex;|keep away|no rubber|nothing with|no latex and|someone|my doctor|doctor says|latex-allergic|latex n?or any`)
	var said, held int
	files, err := filepath.Glob("../../../testdata/panel/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var list []struct{ ID, Say string }
		if err := yaml.Unmarshal(data, &list); err != nil {
			t.Fatal(err)
		}
		for _, c := range list {
			if !clear.MatchString(c.Say) && !hurt.MatchString(c.Say) {
				continue
			}
			var got *harm.Fact
			for _, f := range r.Read(c.Say, "") {
				if f.Path == harm.LatexOK {
					got = &f
				}
			}
			switch {
			case hurt.MatchString(c.Say):
				if held++; got != nil && got.Value && !got.TakesBack && !clear.MatchString(c.Say) {
					t.Errorf("%s: %q: latex is read as fine", c.ID, c.Say)
				}
			default:
				if said++; got == nil || !got.Value || got.Doubt || got.TakesBack {
					t.Errorf("%s: %q: %+v, want latex to be fine", c.ID, c.Say, got)
				}
			}
		}
	}
	if t.Logf("%d say that latex is fine, %d that something is not", said, held); said < 80 || held < 10 {
		t.Errorf("only %d requests say that latex is fine, and %d whom it hurts", said, held)
	}
	for _, line := range []string{"medium soft, dark, latex is fine, all adults", "No latex or rubber trouble", "nobody has trouble with latex or rubber",
		"no allergies to latex, rubber or anything", "latex is ok, no children", "latex is fine, no minors", "latex is fine, my wife doesn't mind",
		"latex is fine, they don't sell anything else here", "latex is fine, she is not allergic", "latex is fine but she wants it soft"} {
		if got := said1(r, line); got != "latex" {
			t.Errorf("%q: %s", line, got)
		}
	}
}

// said1 is what a line says of latex.
func said1(r *harm.Reader, line string) string {
	for _, f := range r.Read(line, "") {
		if f.Path == harm.LatexOK && f.Value && !f.Doubt && !f.TakesBack {
			return "latex"
		} else if f.Path == harm.LatexOK {
			return "not latex"
		}
	}
	return "nothing of latex"
}

// TestOfWhom reads facts that stand, or don't, by the word they are said of.
func TestOfWhom(t *testing.T) {
	r := newReader(t)
	for _, tt := range []struct {
		asked, say, path string
		want             string // true, false, or none where nothing is to be settled
	}{
		{"", "Kid: none.", harm.Minor, "false"},
		{"", "Kids: none. My son is 12.", harm.Minor, "true"},
		{"", "Care home, all residents over 70.", harm.Minor, "false"},
		{"", "kids over 7, no allergies", harm.Minor, "true"},
		{"", "I teach a class of 30", harm.Minor, "none"}, // how many, and not how old
		{"", "my class (28)", harm.Minor, "none"},
		{"", "class of 30 adults", harm.Minor, "false"},
		{"", "grew up, 44, have done a few", harm.Minor, "false"},
		{harm.Minor, "no", harm.Minor, "false"},
		{harm.Minor, "no, put that back", harm.Minor, "none"},
		{harm.Minor, "no, I'm 30", harm.Minor, "false"},
		{"", "no allergies, bright heads", harm.LatexOK, "true"},
		{"", "no allergies to wool", harm.LatexOK, "none"},
		{"", "kids are 9, we want bells, I'll be in the room", harm.Supervised, "true"},
		{"", "kids are 9, we want bells, I won't be in the room", harm.Supervised, "none"},
		{"", "kids are 9, I can't be in the room", harm.Supervised, "none"},
		{"", "you can skip the baby talk", harm.SolventOK, "none"},
		{harm.SolventOK, "ok", harm.SolventOK, "true"},
		{"", "adults, no allergies, no solvent, window open", harm.LatexOK, "true"},
		{"", "all adults, nobody allergic, no solvents", harm.LatexOK, "true"},
		{"", "adults, no allergies to solvents or dust", harm.LatexOK, "none"},
		{harm.SolventOK, "ok no glue please", harm.SolventOK, "none"},
		{harm.SolventOK, "ok, but is the glue safe?", harm.SolventOK, "none"},
		{harm.SolventOK, "ok what glue do I need", harm.SolventOK, "none"},
		{"", "im not allergic but my wife is", harm.LatexOK, "none"},
		{"", "she doesnt have any allergies but her best friend does and they play together", harm.LatexOK, "none"},
		{"", "no allergies, my cousin does though", harm.LatexOK, "none"},
		{"", "nobody is allergic, not even the teacher", harm.LatexOK, "true"},
		{"", "no allergies in the class, and yes they are all adults", harm.LatexOK, "true"},
		{"", "thirty-eight was the old pair; what I should like now is thirty-four", harm.Minor, "none"},
		{"", "what can I use? my son is 12", harm.Minor, "true"},
		{"", "the doctor says it isn't only latex, it's rubber of any sort", harm.RubberOK, "false"},
		{"", "it's not just latex, it's any rubber", harm.RubberOK, "false"},
		{"", "turns out it's all rubber, not only latex", harm.LatexOK, "false"},
		{"", "not only latex, I have other rubber too", harm.RubberOK, "none"},
		{"", "no allergies, fumes make me dizzy", harm.SolventOK, "false"},
		{harm.SolventOK, "sure, no problem", harm.SolventOK, "true"},
		{harm.SolventOK, "ok solvents are fine by me", harm.SolventOK, "true"},
		{harm.SolventOK, "ok lets build it", harm.SolventOK, "none"},
		{harm.SolventOK, "okay so what next", harm.SolventOK, "none"},
		{harm.SolventOK, "ok softer please", harm.SolventOK, "none"},
		{harm.SolventOK, "yes, let's build it", harm.SolventOK, "none"},
		{harm.Ventilated, "yes let's build it", harm.Ventilated, "none"},
		{harm.Ventilated, "yes", harm.Ventilated, "true"},
		{"", "the baby yarn is nice", harm.SolventOK, "none"},
		{"", "my baby is due in June", harm.SolventOK, "false"},
	} {
		got := "none"
		for _, f := range r.Read(tt.say, tt.asked) {
			if f.Path == tt.path && !f.Doubt {
				got = map[bool]string{true: "true", false: "false"}[f.Value]
			}
		}
		if got != tt.want {
			t.Errorf("%q, asked %q: %s is %s, want %s", tt.say, tt.asked, tt.path, got, tt.want)
		}
	}
}
