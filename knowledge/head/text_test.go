package head

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"mallow/knowledge/measure"
)

func TestParse(t *testing.T) {
	cat := catalogue(t)
	for _, tt := range []struct{ text, want string }{
		{"poly-1-1/8", "poly-1-1/8"},
		{"poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16", "poly-1-1/8 + latex-3/4x1/8@1 + wool-medium*140 + birch-16"},
		{"poly-1-1/8+latex-3/4x1/8@1+wool-medium*140+birch-16", "poly-1-1/8 + latex-3/4x1/8@1 + wool-medium*140 + birch-16"},
		{"poly-1 + 3/4x1/8 + 7/8x1/16@1-1/16 + 1x1/8@25mm", "poly-1 + latex-3/4x1/8 + latex-7/8x1/16@1-1/16 + latex-1x1/8@25mm"},
		{"poly-1 + 0.75x0.125@1.0", "poly-1 + latex-3/4x1/8@1"},
		{"poly-1 + ¾×⅛ @ 1 in", "poly-1 + latex-3/4x1/8@1"},
		{"poly-1 + 3/4\" x 1/8\"", "poly-1 + latex-3/4x1/8"},
		{"Poly-1 + 3/4X1/8 + WOOL-medium", "poly-1 + latex-3/4x1/8 + wool-medium"},
		{"poly-1 + 11/16x1/8", "poly-1 + 11/16x1/8"},
		{"poly-1 + 11/16x0.07", "poly-1 + 11/16x0.0700"},
		{"poly-1 + 19mmx3mm@24 mm", "poly-1 + 19mmx3mm@24mm"},
		{"poly-1 + silicone-3/4x1/8", "poly-1 + silicone-3/4x1/8"},
		{"poly-1 + silicone-11/16x1/8", "poly-1 + silicone-11/16x1/8"},
		{"poly-1 + latex-11/16x1/8", "poly-1 + 11/16x1/8"},
		{"rubber-40a-1-1/8 + wool-medium", "rubber-40a-1-1/8 + wool-medium"},
		{"rubber-50a-1-1/8 + birch-16", "rubber-50a-1-1/8 + birch-16"},
	} {
		t.Run(tt.text, func(t *testing.T) {
			s, err := Parse(cat, tt.text)
			if err != nil {
				t.Fatal(err)
			}
			if got := s.String(); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
			again, err := Parse(cat, s.String())
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(s, again); diff != "" {
				t.Errorf("reads back differently (-first +second):\n%s", diff)
			}
		})
	}
}

func TestParseErrors(t *testing.T) {
	cat := catalogue(t)
	for _, tt := range []struct{ text, want string }{
		{"", "stack: nothing written; start with a core, such as poly-1-1/8 + 3/4x1/8@1 + wool-medium"},
		{" \n", "stack: nothing written; start with a core, such as poly-1-1/8 + 3/4x1/8@1 + wool-medium"},
		{"pollly-1", `stack, at pollly-1: no part of that name; did you mean "poly-1"?`},
		{"3/4x1/8 + poly-1", `stack, at 3/4x1/8: a stack starts with its core, then goes outwards`},
		{"latex-3/4x1/8 + poly-1", "stack, at latex-3/4x1/8: a stack starts with its core, then goes outwards"},
		{"poly-1 + wool-medum", `stack, at wool-medum: no part of that name; did you mean "wool-medium"?`},
		{"poly-1 + silcone-3/4x1/8", `stack, at silcone-3/4x1/8: no part of that name; did you mean "silicone-3/4x1/8"?`},
		{"poly-1 + wool-3x2", "stack, at wool-3x2: no part of that name"},
		{"poly-1 + poly-1", "stack, at poly-1: a head has one core"},
		{"poly-1 + wool-medium + 3/4x1/8", "stack, at 3/4x1/8: tubing goes under the yarn and before the shaft"},
		{"poly-1 + wool-medium + wool-fine", "stack, at wool-fine: a head has one yarn, over the tubing and before the shaft"},
		{"poly-1 + birch-16 + wool-fine", "stack, at wool-fine: a head has one yarn, over the tubing and before the shaft"},
		{"poly-1 + birch-16 + birch-16", "stack, at birch-16: a head has one shaft"},
		{"poly-1 ++ birch-16", "stack: a plus sign with no part beside it"},
		{"poly-1 +", "stack: a plus sign with no part beside it"},
		{"poly-1 + wool-medium@1in", "stack, at wool-medium@1in: a tension is 0.1 to 100 newtons, as in wool-medium*140@4N"},
		{"poly-1@1", "stack, at poly-1@1: only tubing is followed by @ and a slice length, and yarn by @ and a tension"},
		{"poly-1*3", "stack, at poly-1*3: only yarn is followed by * and a number of turns"},
		{"poly-1 + 3/4x1/0", "stack, at 3/4x1/0: wall 1/0: a fraction's bottom can't be 0; try 1/8"},
		{"poly-1 + 3/4x", "stack, at 3/4x: no part of that name"},
		{"poly-1 + 1/4x1/2", "stack, at 1/4x1/2: a wall of 1/2 in (12.7 mm) is thicker than the bore of 1/4 in (6.35 mm)"},
		{"poly-1 + 9x1/8", "stack, at 9x1/8: a bore of 9 in (228.6 mm) is not between 2 mm and 100 mm"},
		{"poly-1 + 3/4x1/8@-1", `stack, at 3/4x1/8@-1: -1: can't be below zero; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"poly-1 + 3/4x1/8@0", "stack, at 3/4x1/8@0: a slice can't be 0 long; leave @ out for the recommended cut"},
		{"poly-1 + 3/4x1/8@25", "stack, at 3/4x1/8@25: a slice of 25 in (635 mm) is not between 1/16 in and 4 in long"},
		{"poly-1 + 3/4x1/8@", `stack, at 3/4x1/8@: "": nothing written; try 1-1/8 in, 1.125" or 28.6 mm`},
		{"poly-1 + wool-medium*0", "stack, at wool-medium*0: turns are a whole number from 1 to 5000, as in wool-medium*140"},
		{"poly-1 + wool-medium*1e9", "stack, at wool-medium*1e9: turns are a whole number from 1 to 5000, as in wool-medium*140"},
		{"poly-1" + strings.Repeat(" + 3/4x1/8", 9), "stack: 9 slices: more than 8 are not computed"},
		{"poly-1 + \x1b[2J", `stack, at "\x1b[2J": no part of that name`},
		{strings.Repeat("x", 1001), "stack: longer than 1000 characters"},
	} {
		t.Run(tt.text, func(t *testing.T) {
			s, err := Parse(cat, tt.text)
			var te *TextError
			if !errors.As(err, &te) {
				t.Fatalf("got %v and error %v, want a *TextError", s, err)
			}
			if diff := cmp.Diff(tt.want, err.Error()); diff != "" {
				t.Errorf("error (-want +got):\n%s", diff)
			}
		})
	}
}

// Any stack that Check passes reads back as itself.
func TestStringReadsBack(t *testing.T) {
	cat := catalogue(t)
	rapid.Check(t, func(t *rapid.T) {
		want := anyStack(t)
		if err := want.Check(); err != nil {
			t.Skip(err)
		}
		got, err := Parse(cat, want.String())
		if err != nil {
			t.Fatalf("%s: %v", want, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Fatalf("%s (-want +got):\n%s", want, diff)
		}
	})
}

func FuzzParse(f *testing.F) {
	cat := catalogue(f)
	f.Add("poly-1-1/8 + 3/4x1/8@1 + wool-medium*140 + birch-16")
	f.Add("poly-1 + silicone-11/16x0.0701@25.4mm + birch-16")
	f.Add("poly-1 + ¾×⅛@⅞")
	f.Add("rubber-40a-1 + 19mm x 3mm")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Parse(cat, text)
		if err != nil {
			if msg := err.Error(); strings.ContainsAny(msg, "\x00\x1b\n\r") {
				t.Fatalf("%q: error with raw control characters %q", text, msg)
			}
			return
		}
		again, err := Parse(cat, s.String())
		if err != nil {
			t.Fatalf("%q reads as %s, then %v", text, s, err)
		}
		if diff := cmp.Diff(s, again); diff != "" {
			t.Fatalf("%q reads as %s, which differs:\n%s", text, s, diff)
		}
		if h := New(s, cat.Limits); !(h.Mass > 0 && h.Mass < 100*measure.Kilogram && h.Diameter >= s.Core.Diameter) {
			t.Fatalf("%s comes to %v and %v", s, h.Mass, h.Diameter)
		}
	})
}
