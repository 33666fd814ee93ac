package assistant

import "testing"

func TestGift(t *testing.T) {
	for _, c := range []struct {
		line string
		want int
	}{
		{"let me hear it", soundGift}, {"Play both", soundGift}, {"play", soundGift}, {"can I hear choice 2", soundGift}, {"listen to them", soundGift},
		{"save the sound", soundFile}, {"save it as a wav file", soundFile},
		{"save the sheet as html", sheetGift}, {"print the sheet", noGift}, {"open the build sheet in the browser", sheetGift},
		{"show me the heads on a page", pageGift}, {"save the comparison", pageGift}, {"make a page of both", pageGift}, {"show me pictures", pageGift},
		{"I play marimba", noGift}, {"save", noGift}, {"show me the stack", noGift}, {"what does it sound like", noGift},
		{"play softly", noGift}, {"compare 1 and 2", noGift}, {"show the sheet", noGift}, {"", noGift}, {"both", noGift}, {"I play with two mallets", noGift},
		{"two mallets", noGift}, {"four", noGift}, {"I want it soft", noGift},
	} {
		if got := gift(c.line); got != c.want {
			t.Errorf("%q asks for %d, want %d", c.line, got, c.want)
		}
	}
}
