package shape_test

import (
	"testing"

	"mallow/assistant/shape"
)

func TestRead(t *testing.T) {
	for line, want := range map[string]string{
		"what if two layers":                       "two rubber layers",
		"what if there is one slice":               "one rubber layer",
		"what if no layers":                        "no rubber layer",
		"why 127 turns":                            "127 turns",
		"why not 80 turns?":                        "80 turns",
		"what if the core is 1 in":                 "a ball of 1 in",
		"what if the ball is 7/8":                  "a ball of 7/8 in",
		"what if I use a 60 durometer rubber ball": "",
		"what if the core is 40 A":                 "",
		"why 1 1/8":                                "a ball of 1 1/8 in",
		"why not 1 inch":                           "a ball of 1 in",
		"what if the core were 25 mm":              "a ball of 25 mm",
		"what if 30 mm balls":                      "a ball of 30 mm",
		"what if one more layer":                   "two rubber layers", // than one
		"what if one layer less":                   "no rubber layer",
		"what if 20 turns more":                    "148 turns", // than 128
		"what if ten fewer turns":                  "118 turns",
		"what if 200 turns less":                   "0 turns",
		"what if I play four mallets":              "",
		"why not 3/4 by 1/8 tubing":                "",
		"what if the wall is 1/16":                 "",
		"compare 1 and 2":                          "",
		"what if it is 2 notches softer":           "",
		"":                                         "",
		"why 30 g":                                 "",
	} {
		s, ok := shape.Read(line)
		got := ""
		if ok {
			got = s.On(1, 128).String()
		}
		if got != want {
			t.Errorf("%q supposes %q, want %q", line, got, want)
		}
	}
}

// No line is too much for it.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"what if two layers", "1 1/8", "99999999999999999 in", "1/0 in ball", "ball 1e400 in"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, line string) {
		if s, ok := shape.Read(line); ok && (s.Layers > 5 || s.Turns > 999 || s.Core < 0) {
			t.Errorf("%q: %+v", line, s)
		}
	})
}
