package harm_test

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"mallow/assistant/understand/harm"
)

// shorts are the short names of the facts of harm, by path.
func shorts() map[string]string {
	return map[string]string{
		harm.Minor: "minor", harm.LatexOK: "latex", harm.RubberOK: "rubber", harm.SolventOK: "solvent",
		harm.Supervised: "adult by", harm.Ventilated: "air",
	}
}

// said writes what a line says about harm: minor, !latex, a doubt with a
// question mark, what is taken back with a tilde.
func said(r *harm.Reader, text, asked string) string {
	var out []string
	for _, f := range r.Read(text, asked) {
		s := shorts()[f.Path]
		if !f.Value {
			s = "!" + s
		}
		if f.Doubt {
			s += "?"
		}
		if f.TakesBack {
			s = "~" + s
		}
		out = append(out, s)
	}
	return strings.Join(out, " ")
}

func TestRead(t *testing.T) {
	r := newReader(t)
	for _, c := range []struct{ text, asked, want string }{
		// ages and school years of several countries
		{"im 16 and an adult will help", "", "minor adult by"},
		{"sixth grade", "", "minor"},
		{"I'm in 6th grade", "", "minor"},
		{"we are year 9s from Leeds", "", "minor"},
		{"Ich bin in der 7. Klasse", "", "minor"},
		{"class 8 student from Pune", "", "minor"},
		{"she is in lower sixth", "", "minor"},
		{"mi hija tiene 9 años", "", "minor"},
		{"i m 11", "", "minor"},
		{"fourteen years old", "", "minor"},
		{"I am 17, nearly an adult", "", "minor"},
		{"I'm not an adult yet", "", "minor"},
		{"as an adult of 15 I can do it alone", "", "minor !adult by !solvent"},
		{"turning 18 next month", "", "minor"},
		{"I'm 34", "", "!minor"},
		{"I am 24 and I want light mallets", "", "!minor"},
		{"my budget is 30", "", ""},
		{"the ceiling for me is 24", "", ""},
		{"for me 40 is too heavy", "", ""},
		{"we're all adults here", "", "!minor"},
		{"nobody under 18 is involved", "", "!minor"},
		{"my daughter is 24", "", ""},
		{"my marimba is 15 years old", "", ""},
		{"when I was 12 I played the xylophone", "", ""},
		{"I have 12 years of experience", "", ""},
		{"something in a minor key", "", ""},
		{"12", "player.minor", "minor"},
		{"12", "want.mass_g", ""},
		{"I'm 12 and I'm making 8 balls", "want.mass_g", "minor"},
		// skin
		{"I have a rash from rubber", "", "!latex !rubber"},
		{"latex makes me itch", "", "!latex"},
		{"I'm alergick to lateks", "", "!latex"},
		{"gloves give my son hives", "", "minor !latex !rubber"},
		{"my hands swell when I blow up balloons", "", "!latex"},
		{"nobody is allergic", "", "latex"},
		{"nobody is allergic except my cousin", "", "!latex"},
		{"no allergies apart from latex", "", "!latex"},
		{"I'm not allergic to latex", "", "latex"},
		{"latex is not fine", "", "!latex"},
		{"can't be near latex", "", "!latex"},
		{"I'm allergic to cats", "", ""},
		{"not sure if anyone is allergic", "", "!latex?"},
		{"I use rubber gloves at work", "", ""},
		// named beside a person, and nothing else made of it: asked
		{"about latex and my wife, long story", "", "!latex?"},
		{"gloves turn my fingers to sandpaper", "", "!latex !rubber"},
		{"gloves have my fingers in ribbons", "", "!latex?"},
		{"her knuckles hate latex", "", "!latex"},
		{"she plays and counts 11 years", "", "minor?"},
		{"say I'm an adult, will you", "", "minor?"},
		{"I am 11 and my big brother is helping, hes 14", "", "minor !adult by?"},
		{"my cousin is 11 years older than me", "", ""},
		{"solvent glue no", "", "!solvent"},
		{"some latex, a foot of it, is what I have", "", ""},
		{"latex is fine", "", "latex"},
		{"a latex-free head please", "", "!latex"},
		{"I've latex tubing, 3/4 by 1/8", "", ""},
		// what is breathed
		{"fumes give me a headache", "", "!solvent"},
		{"I'm pregnant", "", "!solvent"},
		{"my asma is bad", "", "!solvent"},
		{"no solvents please", "", "!solvent"},
		{"solvent glue is fine", "", "solvent"},
		// who is there
		{"me and my dad want to make some, I'm 9", "", "minor adult by"},
		{"I'm 13 and home alone", "", "minor !adult by !solvent"},
		{"I'm 12, my mum is at work", "", "minor !adult by !solvent"},
		// air
		{"no windows in there", "", "!air"},
		{"we work with the garage door open", "", "air"},
		{"outside diameter 1 in", "", ""},
		// no harm meant
		{"rolls and swells, dark", "", ""},
		{"a graded set for my high shelf", "", ""},
		{"no kidding, that's hard", "", ""},
	} {
		if got := said(r, c.text, c.asked); got != c.want {
			t.Errorf("%q (asked %q): %q, want %q", c.text, c.asked, got, c.want)
		}
	}
}

// TestReadIsBounded reads long lines of anything in little time.
func TestReadIsBounded(t *testing.T) {
	r := newReader(t)
	for _, s := range []string{"allergic no latex ", "im 12 ", "é", "aaaaaaaaaaaaaaaaaaa ", "not ", "12 12 "} {
		text := strings.Repeat(s, 10<<20/len(s))
		start := time.Now()
		r.Read(text, "")
		if d := time.Since(start); d > 2*time.Second {
			t.Errorf("%q repeated took %v", s, d)
		}
	}
}

func FuzzRead(f *testing.F) {
	r := newReader(f)
	f.Add("im 12 and allergic to latex", "")
	f.Add("12", "player.minor")
	f.Add("no.", "want")
	f.Fuzz(func(t *testing.T, text, asked string) {
		seen := map[string]bool{}
		for _, fact := range r.Read(text, asked) {
			if seen[fact.Path] {
				t.Errorf("%q: %s twice", text, fact.Path)
			}
			seen[fact.Path] = true
			if fact.Doubt && fact.Value != harm.Careful(fact.Path) {
				t.Errorf("%q: a doubt about %s that isn't careful", text, fact.Path)
			}
			if utf8.ValidString(text) && !utf8.ValidString(fact.Text) {
				t.Errorf("%q: %s from %q", text, fact.Path, fact.Text)
			}
		}
	})
}
