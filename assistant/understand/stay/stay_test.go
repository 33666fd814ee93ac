package stay_test

import (
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
	"mallow/assistant/understand/stay"
)

// TestStays holds what is said to stay as it is, and what a verdict refuses.
func TestStays(t *testing.T) {
	lex := lexistest.Words(t)
	over := func(text string) stay.Clause {
		c := cover.New(lex, text, "")
		return stay.Clause{Chart: c, From: 0, To: len(c.Items)}
	}
	for _, tt := range []struct{ text, want string }{
		{"keep it as soft as it is", "want.softness"},
		{"just as heavy as they are now", "want.mass_g"},
		{"as soft as possible", ""},
		{"not as soft as it is", ""},
	} {
		c, got := over(tt.text), ""
		for i := range c.Items {
			if path, _ := c.AsItIs(i); path != "" {
				got = path
			}
		}
		if got != tt.want {
			t.Errorf("%q keeps %q, want %q", tt.text, got, tt.want)
		}
	}
	for text, want := range map[string]bool{"harder would be wrong": true, "harder would be overkill": true, "heavier never": true, "harder would not be wrong": false, "harder would not be bad": false, "harder would be right": false, "harder": false} {
		if got := over(text).Refused(0); got != want {
			t.Errorf("%q: refused is %v, want %v", text, got, want)
		}
	}
}
