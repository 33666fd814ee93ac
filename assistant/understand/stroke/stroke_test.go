package stroke_test

import (
	"testing"

	"mallow/assistant/understand/cover"
	"mallow/assistant/understand/lexis/lexistest"
	"mallow/assistant/understand/stroke"
)

// TestRead holds how sentences tie the sound to the force of the stroke.
func TestRead(t *testing.T) {
	lex := lexistest.Words(t)
	for _, tt := range []struct{ text, want string }{
		{"it should brighten when i hit harder", stroke.Opens},
		{"when i lay into it i want it to get brilliant, but quiet strokes should stay tame", stroke.Opens},
		{"i'd love it to sparkle a bit when played hard", stroke.Opens},
		{"it may brighten a little when i hit harder", stroke.Even},
		{"the tone shouldn't change from p to f", stroke.Steady},
		{"doesn't matter how hard i hit, the colour stays put", stroke.Steady},
		{"soft mallets for loud music", ""},
	} {
		c := cover.New(lex, tt.text, "")
		if got := stroke.Read(c, 0, len(c.Tokens)).How; got != tt.want {
			t.Errorf("%q: %q, want %q", tt.text, got, tt.want)
		}
	}
}
