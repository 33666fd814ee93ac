package understand_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"mallow/assistant/understand"
	"mallow/assistant/understand/reading"
)

// slipFrames are ways to put right what was said before: OLD stands for that, NEW for
// what it is to be.
var slipFrames = []string{
	"no, NEW",
	"sorry, NEW",
	"NEW, not OLD",
	"not OLD, NEW",
	"not OLD but NEW",
	"i said OLD but i meant NEW",
	"did i say OLD? i meant NEW",
	"did I say OLD? NEW, of course",
	"OLD was wrong, it's NEW",
	"OLD was a slip, it's NEW",
	"OLD is wrong. NEW is right",
	"scratch OLD, make it NEW",
	"change OLD to NEW",
	"it isn't OLD, it's NEW",
	"it's NEW, not OLD",
	"NEW instead of OLD",
	"instead of OLD let's say NEW",
	"whoops, NEW",
	"oops, it's NEW",
	"actually NEW",
	"make that NEW",
	"should be NEW",
	"should read NEW",
	"that should have been NEW",
	"NEW. I misread it",
	"NEW, dunno why I typed OLD",
	"NEW. don't know why I said OLD",
	"NEW. OLD was my old one",
	"I told you OLD but it's NEW",
	"I put OLD, it should have been NEW",
	"where I said OLD, read NEW",
	"for OLD read NEW",
	"NEW rather than OLD",
	"hang on, NEW",
	"autocorrect did that, NEW",
	"brain fade, NEW it is",
	"OLD? no, NEW",
	"on second thoughts NEW",
	"it was OLD, now it's NEW",
	"not so much OLD as NEW",
	"please correct OLD to NEW",
	"replace OLD by NEW",
	"turns out it's NEW",
	"NEW is what I meant",
	"strike OLD, say NEW",
	"I wrote OLD, my phone did that, NEW",
	"silly me, NEW",
	"my fingers slipped, it's NEW",
	"I was thinking of another one, it's NEW",
	"excuse me, NEW",
	"NEW, excuse me. OLD was nonsense",
	"I must have been asleep, NEW",
	"ignore the OLD, it's NEW",
	"forget OLD, I want NEW",
	"I've changed my mind, NEW",
	"let me correct myself: NEW",
	"correction: NEW",
	"typo, NEW",
	"OLD was the wrong answer, NEW",
	"I wasn't thinking, NEW",
	"NEW. I got it mixed up",
	"NEW. I looked at the wrong line",
	"*NEW",
	"you have OLD down, it's NEW",
	"you wrote OLD, but it's NEW",
}

// slipFacts are things that people put right, as they say them.
var slipFacts = []struct {
	name, before, was, is, path string
	value                       any
}{
	{"instrument", "its for a marimba", "marimba", "vibraphone", "instrument.kind", "vibraphone"},
	{"softness", "soft please", "soft", "medium hard", "want.softness", -1.4},
	{"colour", "i want it dark", "dark", "bright", "want.colour", "bright"},
	{"attack", "clear attack", "clear", "blended", "want.attack", "blended"},
	{"mallets", "i play with two mallets", "two mallets", "four mallets", "player.mallets", 4.0},
	{"grip", "cross grip", "cross grip", "independent grip", "player.grip", "independent"},
	{"mass", "about 25 g", "25 g", "28 g", "want.mass_g", 28.0},
	{"bare mass", "about 25 g", "25", "28", "want.mass_g", 28.0},
	{"diameter", "diameter 1 1/4 in", "1 1/4 in", "1 3/8 in", "want.diameter_mm", 34.925},
	{"pairs", "i need 2 pairs", "2 pairs", "3 pairs", "want.pairs", 3.0},
	{"budget", "20 dollars a pair", "20 dollars", "30 dollars", "want.budget", 3000.0},
	{"lowest note", "lowest note is C3", "C3", "A2", "instrument.low_hz", 110.0},
	{"octaves", "4 octaves", "4 octaves", "5 octaves", "instrument.octaves", 5.0},
	{"register", "for the low notes", "low notes", "whole range", "want.register", "whole"},
	{"loudness", "up to forte", "forte", "fortissimo", "want.loudest", "ff"},
	{"class", "there are 24 kids", "24 kids", "22 kids", "class.size", 22.0},
	{"material", "i have nylon balls", "nylon balls", "acetal balls", "core", "acetal"},
	{"ball", "i have a 30 mm ball", "30 mm", "28 mm", "core", 0.028},
}

// TestSlips puts every fact right in every way: what it is to be is taken, and neither
// what it was nor anything else is.
func TestSlips(t *testing.T) {
	r := newReader(t).First()
	wrong := map[string][]string{}
	n := 0
	for _, frame := range slipFrames {
		for _, f := range slipFacts {
			say := strings.NewReplacer("OLD", f.was, "NEW", f.is).Replace(frame)
			before := r.Read(f.before, understand.Context{})
			got := r.Read(say, understand.Context{Before: before})
			if c := slipComplaint(got, f.path, f.value); c != "" {
				if len(got.Asks)+len(got.Missed) == 0 {
					c += "!"
				}
				wrong[frame] = append(wrong[frame], f.name+": "+c)
				n++
			}
		}
	}
	for _, frame := range slipFrames {
		if len(wrong[frame]) > 0 {
			t.Logf("%2d %s: %s", len(wrong[frame]), frame, strings.Join(wrong[frame], "; "))
		}
	}
	const most = 24 // what was reached
	if all := len(slipFrames) * len(slipFacts); n > most {
		t.Errorf("%d of %d wrong, where %d were reached", n, all, most)
	}
}

// slipComplaint says what is wrong with a line that puts a fact right, or nothing.
func slipComplaint(got reading.Reading, path string, value any) string {
	var out []string
	same := func(v any) bool {
		x, ok := v.(float64)
		y, _ := value.(float64)
		return v == value || ok && math.Abs(x-y) < 0.01*math.Abs(y)
	}
	has := false
	for _, a := range got.Takes {
		switch {
		case a.Not, slices.Contains([]string{"player.grip", "player.mallets", "instrument.bars", "instrument.id", "player.minor"}, a.Path) && a.Path != path:
		case a.Path != path:
			out = append(out, "extra "+a.Path)
		case same(a.Value):
			has = true
		default:
			out = append(out, fmt.Sprint("still ", a.Value))
		}
	}
	for _, p := range got.Parts {
		switch {
		case p.Kind == path && (p.Material == value || same(float64(p.Diameter))):
			has = true
		case p.Kind == path && p.Holding != reading.Avoid && p.Holding != reading.Lack, p.Holding == reading.Have:
			out = append(out, "still "+p.Text)
		}
	}
	if !has {
		out = append(out, "lacks it")
	}
	for _, a := range got.Acts {
		if !slices.Contains([]reading.Act{reading.Tell, reading.No, reading.Yes, reading.Change, reading.Social, reading.Undo}, a) {
			out = append(out, string(a))
		}
	}
	return strings.Join(out, ", ")
}
