package harm_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/knowledge/knowledgetest"
)

// What lines of harm are made of. None of it was taken from harm.yaml: each is
// how somebody would say it who never saw that list.
var (
	youngOnes = []string{
		"my niece", "my grandson", "my eldest", "our youngest", "the kids at band", "two pupils of mine", "a scout troop", "our apprentice of 17",
		"my stepdaughter", "my 9 year old", "a ten-year-old", "my boy", "the girls in my group", "some teenagers", "my sixth graders", "a Year 7 class",
		"Grade 4", "a third grader", "my foster child", "twenty children", "the youth orchestra", "my little brother", "a high school junior",
		"two who are under age", "a thirteen-year-old", "the little ones", "my nephew", "our juniors", "a lad of 15", "the cubs", "class 9",
		"Standard VI", "my godson", "a toddler", "our sixth formers", "a freshman in high school", "my granddaughter", "the twins, both 11",
		"an infant class", "a schoolgirl", "my kid sister", "the under-14s", "an eleven year old", "a P6 class", "two minors",
	}
	youngLines = []string{
		"%s and I make mallets", "these are for %s", "%s will wind the yarn", "it is %s who plays the marimba", "medium vibraphone mallets for %s, please",
		"I need eight pairs since %s keep losing them", "they have to be light because of %s", "well, %s asked me about marimba mallets and I said yes",
		"soft, not heavy, for %s", "we got a xylophone for %s last week",
	}
	ages = []string{
		"I'm %d", "i am %d", "im %d n i luv marimba", "I am only %d", "I'll be %d in May", "I'm turning %d on Sunday", "we are both %d", "%d years old",
		"aged %d", "I am %d years of age", "my age is %d", "a %d-year-old here", "just turned %d", "%dyo", "I'm nearly %d", "she's %d", "he is %d and a half",
	}
	after = []string{"", ", vibraphone", " and I want soft mallets", ", not yet sure what I need", ", marimba, medium"}

	sufferers = []string{"me", "my wife", "one of my players", "her", "my husband", "somebody in the section", "our drummer", "him"}
	reactions = []string{
		"gives %s a rash", "makes %s itch", "brings %s out in hives", "makes the hands of %s swell", "leaves %s covered in welts", "gives %s blisters",
		"makes %s wheeze", "turns the skin of %s red", "makes %s break out", "is something %s can't touch", "is what %s is allergic to", "gives %s eczema",
		"makes %s sneeze", "gives %s itchy bumps",
	}
	materials = []string{"latex", "natural rubber", "rubber", "a balloon", "a rubber glove", "an elastic bandage", "a rubber band", "latex tubing", "a swimming cap", "an inner tube"}
	airs      = []string{
		"%s has asthma", "%s is pregnant", "%s uses an inhaler", "fumes make %s dizzy", "the doctor told %s to avoid solvents", "glue gives %s a headache",
		"%s can't breathe near solvent", "%s has bad lungs", "%s is expecting a baby", "solvent makes %s cough", "%s gets wheezy from glue",
	}
	beside = []string{"%s", "medium marimba mallets, and %s", "%s, so what can I use?", "I've got some yarn but %s", "well %s, you know", "25 g, and %s", "%s. Vibraphone, dark."}
)

// spoken is a line of harm, the facts of which one has to be read, and the
// words of which one has to be named as missed where none is.
type spoken struct {
	text  string
	paths []string
	words []string
}

// allSpoken returns every line that can be made of the parts.
func allSpoken() []spoken {
	var all []spoken
	for _, y := range youngOnes {
		for _, l := range youngLines {
			all = append(all, spoken{fmt.Sprintf(l, y), []string{harm.Minor}, strings.Fields(y)})
		}
	}
	for _, a := range ages {
		for n := 5; n < 18; n++ {
			for _, s := range after {
				text := fmt.Sprintf(a, n)
				all = append(all, spoken{text + s, []string{harm.Minor}, []string{fmt.Sprint(n)}})
			}
		}
	}
	for _, who := range sufferers {
		for _, what := range materials {
			for _, r := range reactions {
				for _, b := range beside {
					r := fmt.Sprintf(r, who)
					all = append(all, spoken{fmt.Sprintf(b, what+" "+r), []string{harm.LatexOK, harm.RubberOK}, strings.Fields(r)})
				}
			}
		}
		for _, a := range airs {
			if strings.HasPrefix(a, "%s") && (who == "me" || who == "her" || who == "him") {
				continue
			}
			for _, b := range beside {
				a := fmt.Sprintf(a, who)
				all = append(all, spoken{fmt.Sprintf(b, a), []string{harm.SolventOK}, strings.Fields(a)})
			}
		}
	}
	return all
}

// TestNeverSilent holds that a word of harm is never passed over: something is
// read of it, or it is named as not understood. Nearly all are read.
func TestNeverSilent(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r, err := understand.New(cat)
	if err != nil {
		t.Fatal(err)
	}
	check := func(all []spoken, read float64) {
		t.Helper()
		silent, missed := 0, 0
		for _, s := range all {
			got := r.Read(s.text, understand.Context{})
			if slices.ContainsFunc(got.Harm, func(f harm.Fact) bool { return slices.Contains(s.paths, f.Path) && f.Value == harm.Careful(f.Path) }) {
				continue
			}
			if missed++; missed < 40 {
				t.Logf("not read: %q (missed %q)", s.text, got.Missed)
			}
			lost := strings.Join(got.Missed, " ")
			if slices.ContainsFunc(s.words, func(w string) bool { return strings.Contains(lost, w) }) {
				continue
			}
			if silent++; silent < 20 {
				t.Errorf("%q: nothing is read of %q, and it is not named as missed", s.text, s.words)
			}
		}
		t.Logf("%d lines, %d not read, %d of these in silence", len(all), missed, silent)
		if part := 1 - float64(missed)/float64(len(all)); part < read {
			t.Errorf("%.1f %% of the lines are read, want %.1f", 100*part, 100*read)
		}
	}
	all := allSpoken()
	rng := rand.New(rand.NewPCG(11, 8))
	if testing.Short() {
		rng.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		all = all[:len(all)/4]
	}
	check(all, 0.99)

	// A letter lost, doubled or exchanged in the longest word of harm.
	var wrong []spoken
	for range len(all) / 3 {
		s := all[rng.IntN(len(all))]
		s.text = misspell(rng, s.text, slices.MaxFunc(s.words, func(a, b string) int { return len(a) - len(b) }))
		s.words = strings.Fields(s.text)
		wrong = append(wrong, s)
	}
	check(wrong, 0.98)
}

// misspell changes one letter of word within text.
func misspell(rng *rand.Rand, text, word string) string {
	at := strings.Index(text, word)
	if at < 0 || len(word) < 5 {
		return text
	}
	i := 1 + rng.IntN(len(word)-2)
	bad := word[:i] + word[i+1:]
	switch rng.IntN(3) {
	case 0:
		bad = word[:i] + word[i:i+1] + word[i:]
	case 1:
		bad = word[:i] + word[i+1:i+2] + word[i:i+1] + word[i+2:]
	}
	return text[:at] + bad + text[at+len(word):]
}
