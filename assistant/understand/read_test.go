package understand_test

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
	"mallow/knowledge/measure"
)

// TestLengths reads the spellings of a length that package measure accepts,
// and asks the two to agree.
func TestLengths(t *testing.T) {
	r := newReader(t)
	for _, text := range []string{
		`1-1/8"`, "1 1/8 in", "1 1/8 inches", "1-1/8 in", "1⅛ in", `1⅛"`, "1.125 in", `1.125"`, "1 1/8″", "1 1/8”",
		"28.6 mm", "28,6 mm", "28.6mm", "2.86 cm", "2,86cm", "3/4 in", "¾ in", "¾″", "0.75 inch", ".75 in", "35 millimetres",
		"35 millimeters", "1 inch", "1 in.", "1-3/8 in", "1 3/8-inch", "5/4 in", "0.0286 m", "1′",
	} {
		want, err := measure.ParseLength(text, 0)
		if err != nil {
			t.Fatal(err)
		}
		in := r.Read("birch shaft "+text, understand.Context{})
		if len(in.Parts) != 1 {
			t.Errorf("%q reads as %+v", text, in)
			continue
		}
		got := (in.Parts[0].Diameter + in.Parts[0].Length).MM()
		if d := got - want.MM(); d > 1e-5 || d < -1e-5 {
			t.Errorf("%q is %g mm here, %g mm to measure.ParseLength", text, got, want.MM())
		}
	}
}

// TestSpokenLengths reads spellings that package measure leaves to this one.
func TestSpokenLengths(t *testing.T) {
	r := newReader(t)
	for _, tt := range []struct {
		say    string
		inches float64
	}{
		{"inch and an eighth", 1.125}, {"an inch and an eighth", 1.125}, {"one and an eighth inches", 1.125},
		{"one and one eighth inch", 1.125}, {"one inch and an eighth", 1.125}, {"1 and 1/8 inch", 1.125},
		{"three quarters of an inch", 0.75}, {"three quarter inch", 0.75}, {"three-quarter-inch", 0.75}, {"3 quarters of an inch", 0.75},
		{"half an inch", 0.5}, {"half inch", 0.5}, {"a quarter inch", 0.25}, {"quarter of an inch", 0.25}, {"an eighth of an inch", 0.125},
		{"seven eighths of an inch", 0.875}, {"five sixteenths inch", 0.3125}, {"3 / 4 in", 0.75}, {"1 3 / 8 in", 1.375},
		{"1/8th inch", 0.125}, {"1 1/16th in", 1.0625}, {"1 ft 6 in", 18}, {`1' 6"`, 18}, {"a foot", 12}, {"half a foot", 6},
		{"a yard", 36}, {"inch and a half", 1.5}, {"two and a half inches", 2.5}, {"ONE INCH", 1},
	} {
		in := r.Read("birch shaft "+tt.say, understand.Context{})
		if len(in.Parts) != 1 || len(in.Missed) > 0 {
			t.Errorf("%q reads as %+v", tt.say, in)
			continue
		}
		got := (in.Parts[0].Diameter + in.Parts[0].Length).MM()
		if want := 25.4 * tt.inches; got < want-1e-5 || got > want+1e-5 {
			t.Errorf("%q is %g mm, want %g", tt.say, got, want)
		}
	}
}

// TestSame reads every utterance with two readers: nothing may depend on the
// order of a map.
func TestSame(t *testing.T) {
	a, b := newReader(t), newReader(t)
	for _, u := range utterances(t) {
		if diff := cmp.Diff(a.Read(u.say, u.ctx), b.Read(u.say, u.ctx)); diff != "" {
			t.Errorf("%s: %q reads two ways:\n%s", u.where, u.say, diff)
		}
	}
}

// TestMasses does the same for masses.
func TestMasses(t *testing.T) {
	r := newReader(t)
	for _, text := range []string{"22 g", "22g", "22.5 grams", "22,5 g", "1 oz", "1 1/2 oz", "1½ oz", "0.03 kg", "1 ounce", "22 gramme"} {
		want, err := measure.ParseMass(text, 0)
		if err != nil {
			t.Fatal(err)
		}
		in := r.Read(text, understand.Context{})
		if len(in.Takes) != 1 || in.Takes[0].Path != "want.mass_g" {
			t.Errorf("%q reads as %+v", text, in)
			continue
		}
		got, _ := in.Takes[0].Value.(float64)
		if d := got - want.Grams(); d > 1e-5 || d < -1e-5 {
			t.Errorf("%q is %g g here, %g g to measure.ParseMass", text, got, want.Grams())
		}
	}
}

// TestParts resolves descriptions to parts of the catalogue.
func TestParts(t *testing.T) {
	r := newReader(t)
	for _, tt := range []struct{ say, has, not string }{
		{"1 1/8 polypropylene ball", "poly-1-1/8", "poly-1"},
		{"28.5 mm polypropylene ball", "poly-1-1/8", "poly-1-1/4"},
		{"40A rubber ball 1 1/8", "rubber-40a-1-1/8", "rubber-50a-1-1/8"},
		{"3/4 x 1/8 latex", "latex-3/4x1/8", "silicone-3/4x1/8"},
		{"3/4 x 1/8 tubing", "silicone-3/4x1/8", "latex-3/4x1/16"},
		{"19 x 3 mm silicone", "silicone-3/4x1/8", "latex-3/4x1/8"},
		{"medium wool", "wool-medium", "wool-fine"},
		{"birch dowel 16 inch", "birch-16", "birch-15"},
		{"why not silicone-3/4x1/8", "silicone-3/4x1/8", "latex-3/4x1/8"},
		{"Poly-1-1/8, please", "poly-1-1/8", "poly-1"},
	} {
		in := r.Read(tt.say, understand.Context{Asked: understand.AskParts})
		parts := append(in.Parts, in.Supposed.Parts...)
		if len(parts) != 1 {
			t.Errorf("%q reads as %+v", tt.say, in)
			continue
		}
		ids := " " + strings.Join(parts[0].IDs, " ") + " "
		if !strings.Contains(ids, " "+tt.has+" ") || strings.Contains(ids, " "+tt.not+" ") {
			t.Errorf("%q could be %s: want %s and not %s", tt.say, ids, tt.has, tt.not)
		}
	}
}

// TestNever tries every slip of one letter in every pair of words that must
// not be taken for one another: what is not nearer to the one than to the
// other may read as neither.
func TestNever(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r := newReader(t)
	meaning := func(say string) string {
		in := r.Read(say, understand.Context{})
		for i := range in.Takes {
			in.Takes[i].Text, in.Takes[i].Sure = "", 0
		}
		return strings.Join(in.Said, ";")
	}
	known := map[string]bool{} // not slips at all, such as hart
	for _, w := range cat.Words {
		for _, say := range w.Say {
			known[say] = true
		}
	}
	pairs := 0
	for _, w := range cat.Words {
		if w.Slot != "never" {
			continue
		}
		pairs++
		a, b := w.Say[0], w.Say[1]
		if m := meaning(a); m != "" && m == meaning(b) {
			t.Errorf("%s and %s both read as %s", a, b, m)
		}
		near := map[string]bool{} // one slip from a
		for _, s := range slips(a) {
			near[s] = true
		}
		for _, s := range slips(b) {
			if !near[s] || known[s] {
				continue
			}
			if m := meaning(s); m != "" && (m == meaning(a) || m == meaning(b)) {
				t.Errorf("%q, one slip from both %s and %s, reads as %s", s, a, b, m)
			}
		}
	}
	if pairs < 10 {
		t.Errorf("%d pairs, want at least 10", pairs)
	}
}

// slips returns the words one letter left out, added, changed or exchanged
// from w.
func slips(w string) []string {
	var out []string
	for i := range len(w) + 1 {
		for c := 'a'; c <= 'z'; c++ {
			out = append(out, w[:i]+string(c)+w[i:])
			if i < len(w) {
				out = append(out, w[:i]+string(c)+w[i+1:])
			}
		}
		if i < len(w) {
			out = append(out, w[:i]+w[i+1:])
		}
		if i+1 < len(w) {
			out = append(out, w[:i]+w[i+1:i+2]+w[i:i+1]+w[i+2:])
		}
	}
	return out
}

// TestSafety says in many ways what must not be misheard, each with every one
// of some things that people add. None may read as its opposite, or as nothing.
func TestSafety(t *testing.T) {
	r := newReader(t)
	frames := []string{
		"%s", "%s.", "%s!", "Soft, marimba, %s", "%s, four mallets cross grip", "I have some wool and %s", "well %s",
		"yes, %s", "%s, and a drill press", "medium hard, not too bright, %s, 30 g", "I don't have a scale and %s",
		"no drill and %s", "not too bright %s", "without yarn %s", "I don't want hard mallets and %s",
		"i don't want bright sound %s", "I can't drill and %s", "never made one and %s",
	}
	for _, tt := range []struct {
		path  string
		value bool
		say   []string
	}{
		{"player.latex_ok", false, []string{
			"no latex", "latex allergy", "allergic to latex", "I am allergic to latex", "my student is allergic to latex",
			"can't use latex", "I cannot have latex", "please avoid latex", "latex free", "without latex", "anything but latex",
			"don't want latex", "latex is a problem", "never latex", "not latex", "i hate latex", "she reacts to latex",
			"we must not use latex", "i do not want any latex", "latex gives me a rash", "my hands get itchy from latex",
			"I got hives from latex gloves", "one girl swells up from latex", "there's a latex reaction in my family",
			"I am very sensitive to natural rubber latex", "alergic to latex", "latex alergy", "allergy to natural rubber",
		}},
		{"player.minor", true, []string{
			"I'm 14", "i am 14 years old", "my daughter is 9", "it is for kids", "the makers are children", "we are teenagers",
			"my students are 12 years old", "im 16", "13 year olds will build them", "a middle school class",
		}},
		{"player.solvent_ok", false, []string{
			"no solvents", "no solvent glue", "water based glue only", "no fumes", "solvents not allowed", "without solvents",
		}},
	} {
		for _, say := range tt.say {
			for _, frame := range frames {
				text := strings.Replace(frame, "%s", say, 1)
				for _, asked := range []string{"", tt.path, "want.softness", understand.AskParts} {
					in := r.Read(text, understand.Context{Asked: asked})
					found := slices.ContainsFunc(in.Asks, func(d reading.Doubt) bool { return d.Path == tt.path }) // opened
					for _, a := range in.Takes {
						if a.Path == tt.path {
							found = a.Value == tt.value && !a.Not
						}
					}
					if !found {
						t.Errorf("%q, asked %q: no %s = %v in %q, nor is it asked", text, asked, tt.path, tt.value, in.Noted)
					}
				}
			}
		}
	}
}

// TestEveryday reads words of everyday English that stand one or two slips
// from words of the bench. None may be taken for one.
func TestEveryday(t *testing.T) {
	r := newReader(t)
	for _, say := range []string{
		"mallow", "hi mallow", "eyes", "tuning", "film", "former", "faster", "sorter", "rest", "chance", "exist", "shown", "plain",
		"plan", "reach", "selling", "hides", "fifth", "third", "cleared", "width", "poor", "state", "fail", "fair", "court", "yellow",
		"fellow", "bellow", "wallet", "ballet", "mullet", "card", "yard", "bard", "dart", "lark", "worm", "warn", "latest",
		"pool", "tool", "cool", "cope", "more or less", "tuba", "cube", "robber", "barn", "shift", "draft", "bitten", "button",
		"drastic", "elastic", "vines", "belts", "cells", "gross", "grill", "thrill", "mirror", "manor", "stew", "ready", "study",
		"ovens", "opera", "trick", "think", "chin", "trip", "grin", "heaven", "cheat", "cheek", "orange", "found a sound", "doctor",
		"brother", "weather", "leather", "colder", "older", "shoulder", "gender", "batter", "scatter", "tighten", "frighten",
	} {
		in := r.Read(say, understand.Context{})
		if len(in.Takes)+len(in.Parts)+len(in.Moves) > 0 || in.Act() != reading.Tell && in.Act() != reading.Social && say != "plan" {
			t.Errorf("%q reads as %+v", say, in)
		}
	}
}

// TestBadWords gives word lists that no reader can be made of.
func TestBadWords(t *testing.T) {
	for _, tt := range []struct {
		name string
		word knowledge.Word
		want string
	}{
		{"slot", knowledge.Word{Slot: "want.colur", Value: "dark", Say: []string{"dark"}}, `did you mean "want.colour"?`},
		{"choice", knowledge.Word{Slot: "want.colour", Value: "drak", Say: []string{"dark"}}, `did you mean "dark"?`},
		{"denied", knowledge.Word{Slot: "want.colour", Value: "dark", Not: "evne", Say: []string{"dark"}}, `did you mean "even"?`},
		{"number", knowledge.Word{Slot: "degree", Value: "very", Say: []string{"very"}}, "invalid syntax"},
		{"move", knowledge.Word{Slot: "move", Value: "want.mass_g up", Say: []string{"up"}}, "a move is a fact, + or -"},
		{"moved truth", knowledge.Word{Slot: "move", Value: "player.minor +", Say: []string{"up"}}, "can be moved"},
		{"topic", knowledge.Word{Slot: "topic", Value: "want.colr", Say: []string{"hue"}}, "neither a topic nor a fact"},
		{"asked", knowledge.Word{Slot: "asked", Value: "want.colour", Say: []string{"hue"}}, "the question and the value"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			tt.word.ID = "w"
			tt.word.Origin = knowledge.Origin{File: "my.yaml", Line: 7}
			_, err := understand.New(&knowledge.Catalogue{Words: []knowledge.Word{tt.word}})
			if err == nil || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "my.yaml:7: word w: ") {
				t.Errorf("New: %v, want my.yaml:7 and %s", err, tt.want)
			}
		})
	}
}

// TestEmptyCatalogue reads with no words at all.
func TestEmptyCatalogue(t *testing.T) {
	r, err := understand.New(&knowledge.Catalogue{})
	if err != nil {
		t.Fatal(err)
	}
	if in := r.Read("soft 3/4 x 1/8", understand.Context{}); len(in.Missed) == 0 {
		t.Errorf("reads as %+v", in)
	}
}

// TestHostile reads text that is not meant kindly.
func TestHostile(t *testing.T) {
	r := newReader(t)
	for _, text := range []string{
		"\x1b[31msoft\x1b[0m \x07 zork\u202egnul\u200b\u0000", "so\x00ft", "\xff\xfe\xfd", strings.Repeat("a", 1_000_000),
		strings.Repeat("3/4 x ", 100_000), strings.Repeat("not ", 50_000) + "soft", strings.Repeat("1", 100_000) + "/0 in",
		"1/0 in", "0/0", "99999999999999999999999999999999 mm", strings.Repeat("\u0301", 5000), "((((((((((", `""""""''''`,
		strings.Repeat("one and a half ", 500), "NaN g", "Inf mm", "1e999 g", "-5 g",
	} {
		for _, asked := range []string{"", "want.mass_g", "want.diameter_mm", understand.AskParts, "no.such"} {
			check(t, text, r.Read(text, understand.Context{Asked: asked}))
		}
	}
	in := r.Read(strings.Repeat("soft ", 1000), understand.Context{})
	if len(in.Missed) != 1 || !strings.Contains(in.Missed[0], "2000") {
		t.Errorf("a long text says %q", in.Missed)
	}
}

// check asks of any reading that its strings can be printed, its figures are
// figures, and its confidences lie between 0 and 1.
func check(t *testing.T, text string, in reading.Reading) {
	t.Helper()
	var said []string
	said = append(append(said, in.Said...), in.Missed...)
	for _, a := range in.Takes {
		said = append(said, a.Text)
		if f, ok := a.Value.(float64); ok && !(f > -1e7 && f < 1e7) {
			t.Errorf("%.80q: %s = %g", text, a.Path, f)
		}
		if a.Sure < 0 || a.Sure > 1 || a.Value == nil {
			t.Errorf("%.80q: %+v", text, a)
		}
	}
	for _, p := range in.Parts {
		said = append(said, p.Text)
		if !(p.Amount > -1e9 && p.Amount < 1e9 && p.Bore >= 0 && p.Wall >= 0 && p.Diameter >= 0 && p.Length >= 0) {
			t.Errorf("%.80q: %+v", text, p)
		}
	}
	for _, m := range in.Moves {
		said = append(said, m.Text)
	}
	for _, a := range in.About {
		said = append(said, a.Text)
	}
	for _, s := range said {
		if !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsPrint(r) }) {
			t.Errorf("%.80q: says %q", text, s)
		}
	}
}

func FuzzRead(f *testing.F) {
	r := newReader(f)
	for _, u := range utterances(f) {
		f.Add(u.say, u.ctx.Asked)
	}
	f.Fuzz(func(t *testing.T, text, asked string) {
		in := r.Read(text, understand.Context{Asked: asked, Instrument: "marimba-5"})
		check(t, text, in)
		accounted(t, text, in)
	})
}

func BenchmarkRead(b *testing.B) {
	r := newReader(b)
	for _, bb := range []struct{ name, text string }{
		{"word", "softer"},
		{"sentence", "four mallets, cross grip, low end of a five-octave marimba, dark but not mushy, I have some 3/4 by 1/8 tubing"},
		{"misspelt", "vibrafone, reallly soft, two malets, meduim hardnes, artculate, polyproylene bal"},
		{"longest", strings.Repeat("qwertyui asdfghjk ", 110)},
		{"denials", strings.Repeat("not a one ", 199)},
	} {
		b.Run(bb.name, func(b *testing.B) {
			for b.Loop() {
				r.Read(bb.text, understand.Context{})
			}
		})
	}
}

func BenchmarkNew(b *testing.B) {
	cat := knowledgetest.Catalogue(b)
	for b.Loop() {
		if _, err := understand.New(cat); err != nil {
			b.Fatal(err)
		}
	}
}
