package understand_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"mallow/assistant/understand"
	"mallow/assistant/understand/harm"
	"mallow/assistant/understand/lexis"
	"mallow/assistant/understand/reading"
	"mallow/knowledge"
	"mallow/knowledge/knowledgetest"
)

func Example() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := understand.New(cat)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := r.Read("four mallets, cross grip, low end of a marimba, dark but not mushy, made from moonlight", understand.Context{})
	for _, a := range in.Takes {
		fmt.Println(a.Path, a.Value)
	}
	fmt.Println("understood:", strings.Join(in.Said, "; "))
	fmt.Println("missed:", strings.Join(in.Missed, "; "))
	// Output:
	// player.mallets 4
	// player.grip cross
	// want.register low
	// instrument.kind marimba
	// want.colour dark
	// understood: four mallets in a cross grip; the low end; marimba; dark; not mushy
	// missed: made from moonlight
}

func ExampleReader_Read() {
	cat, err := knowledge.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := understand.New(cat)
	if err != nil {
		fmt.Println(err)
		return
	}
	// The same word reads differently when different things were asked.
	fmt.Println(r.Read("28", understand.Context{Asked: "want.diameter_mm"}).Said)
	fmt.Println(r.Read("28", understand.Context{Asked: "want.mass_g"}).Said)
	fmt.Println(r.Read("28", understand.Context{Asked: "player.minor"}).Noted)
	for _, p := range r.Read("two inch-and-an-eighth nylon balls", understand.Context{Asked: understand.AskParts}).Parts {
		fmt.Println(p.Holding, p.Amount, p.Unit, p.IDs)
	}
	// Output:
	// [28 mm across]
	// [28 g a head]
	// [the maker is an adult]
	// have 2 piece [nylon-1-1/8 nylon-1-1/8-drilled]
}

// TestQuestions reads what the questions themselves offer and give as
// examples: each must answer its question, a choice with its own value.
func TestQuestions(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r := newReader(t)
	for _, q := range cat.Questions {
		ctx := understand.Context{Asked: q.ID}
		for _, c := range q.Choices {
			in := r.Read(c.Say, ctx)
			got, ok := settled(in, q.ID)
			if !ok || !same(got, c.Value) && !(got == "default" && c.Value == "0") {
				t.Errorf("%s: choice %q reads as %q, want %q (missed %q)", q.ID, c.Say, got, c.Value, in.Missed)
			}
		}
		for _, say := range q.Examples {
			in := r.Read(say, ctx)
			if _, ok := settled(in, q.ID); !ok || len(in.Missed) > 0 {
				t.Errorf("%s: example %q reads as %+v", q.ID, say, in)
			}
		}
	}
}

// same reports whether two values of YAML are the same, or figures as close as
// people round them.
func same(a, b string) bool {
	x, errA := strconv.ParseFloat(a, 64)
	y, errB := strconv.ParseFloat(b, 64)
	return a == b || errA == nil && errB == nil && math.Abs(x-y) <= 0.02*math.Abs(y)
}

// settled returns what a reading answers to a question: a value, as YAML has
// it, or an act such as default.
func settled(in reading.Reading, path string) (value string, ok bool) {
	for _, a := range in.Takes {
		if a.Path == path && !a.Not {
			return fmt.Sprint(a.Value), true
		}
	}
	for _, a := range in.Takes {
		if strings.HasPrefix(path, "player.grip") && a.Path == "player.mallets" {
			return fmt.Sprint(a.Value), true
		}
	}
	for _, m := range in.Moves {
		if m.Path == path {
			return "", true
		}
	}
	return string(in.Act()), in.Act() == reading.Default || in.Act() == reading.Unsure
}

// TestWords reads every phrase of the word list by itself: it must mean what
// the list says, whatever else contains it.
func TestWords(t *testing.T) {
	cat := knowledgetest.Catalogue(t)
	r := newReader(t).First()
	for _, w := range cat.Words {
		for _, say := range samples(w.Say) {
			if strings.HasPrefix(w.Value, "any "+reading.Tool) { // by itself it says nothing
				say = "i have " + say
			}
			in := r.Read(say, understand.Context{})
			ok := true
			switch {
			case w.Slot == "want.softness":
				value, found := settled(in, w.Slot)
				ok = found && value != ""
			case w.Slot == reading.GradedSet:
				ok = fmt.Sprint(in.Grades) == w.Value && len(in.Missed) == 0
			case strings.Contains(w.Slot, "."):
				value, found := settled(in, w.Slot)
				ok = found && value == strings.TrimSuffix(w.Value, " at most") ||
					harm.Settles(w.Slot) && slices.ContainsFunc(in.Asks, func(d reading.Doubt) bool { return d.Path == w.Slot }) // of nobody young
			case w.Slot == "move" || w.Slot == "wish":
				path, _, _ := strings.Cut(w.Value, " ")
				ok = len(in.Moves) == 1 && in.Moves[0].Path == path &&
					(in.Moves[0].By < 0) == strings.Contains(w.Value, "-") && len(in.Takes) == 0
			case w.Slot == "act":
				ok = string(in.Act()) == w.Value || slices.Contains([]string{"whatif", "define", "show"}, w.Value) // may need what follows
			case w.Slot == "kind":
				ok = len(in.Parts) == 0 || in.Parts[0].Material+in.Parts[0].Made+in.Parts[0].Weight != "" // garden cane, aran
			case w.Slot == "material":
				m := (&lexis.Sense{Value: w.Value}).Material()
				ok = m.Kind == "glue" && len(in.Parts) == 0 || len(in.Parts) == 1 && in.Parts[0].Kind == m.Kind && in.Parts[0].Material == m.ID && in.Parts[0].Made == m.Made
			case w.Slot == "filler":
				ok = len(in.Missed) == 0
			case w.Slot == "plain", w.Slot == "paint":
				ok = len(in.Takes) <= len(in.Harm) && len(in.Parts) == 0
			}
			if !ok {
				t.Errorf("%s: %q (%s = %s) reads as %+v", w.ID, say, w.Slot, w.Value, in)
			}
		}
	}
}

// TestUnderstood reads what is said back, where it isn't plainly the words of
// the list.
func TestUnderstood(t *testing.T) {
	r := newReader(t).First()
	for _, tt := range []struct {
		say, asked, want string
	}{
		{"lighter but same sound", "", "lighter; the same sound"},
		{"a bit lighter, keep the core, not smaller", "", "a little lighter; the same core; the same size"},
		{"marimba and vibes", "", "marimba; vibraphone"},
		{"anything but xylophone", "", "not xylophone"},
		{"five octave marimba", "", "marimba, 5 octaves"},
		{"kerf and a zork", "", ""},
		{"under 30 g, about 1 1/4 in across, $20", "", "at most 30 g a head; about 1 1/4 in (31.8 mm) across; at most 20.00 to spend on a pair"},
		{"c2 to c4", "", "from C2 up; up to C4"},
		{"I have forty beads, two skeins of wool, 3 birch shafts and hot glue", "", "on hand: 40 balls; on hand: 2 skeins of wool yarn; on hand: 3 birch shafts; on hand: hot glue"},
		{"really soft", "", "very soft"},
		{"fairly soft", "", "2.2 notches softer than medium"},
		{"no drill", "", "no drill press"},
		{"two 40A rubber balls 1 in", "parts", "on hand: 2 1 in (25.4 mm) 40 A rubber balls"},
		{"half a metre of 3/4 by 1/8 latex", "parts", "on hand: 500 mm of 3/4 in (19.1 mm) by 1/8 in (3.18 mm) latex tubing"},
		{"3 mm smaller, much darker, two notches softer", "", "3 mm smaller; much darker; 2 notches softer"},
	} {
		got := strings.Join(r.Read(tt.say, understand.Context{Asked: tt.asked}).Said, "; ")
		if got != tt.want {
			t.Errorf("%q is said back as %q, want %q", tt.say, got, tt.want)
		}
	}
}

// samples are ways of saying, three of each pattern: the first, the second and the
// third of what stands between its bars.
func samples(say []string) []string {
	var out []string
	for _, s := range say {
		if !strings.Contains(s, "(") {
			out = append(out, s)
			continue
		}
		for k := range 3 {
			out = append(out, strings.Join(strings.Fields(groups.ReplaceAllStringFunc(s, func(g string) string {
				ways := strings.Split(g[1:len(g)-1], "|")
				return ways[k%len(ways)]
			})), " "))
		}
	}
	return out
}

var groups = regexp.MustCompile(`\([^)]*\)`)
