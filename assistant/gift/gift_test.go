package gift

import "testing"

func TestGift(t *testing.T) {
	for _, c := range []struct {
		line string
		want Kind
	}{
		{"let me hear it", Sound}, {"Play both", Sound}, {"play", Sound}, {"can I hear choice 2", Sound}, {"listen to them", Sound},
		{"save the sound", SoundFile}, {"save it as a wav file", SoundFile},
		{"save the sheet as html", Sheet}, {"print the sheet", None}, {"open the build sheet in the browser", Sheet},
		{"show me the heads on a page", Page}, {"save the comparison", Page}, {"make a page of both", Page}, {"show me pictures", Page},
		{"I play marimba", None}, {"save", None}, {"show me the stack", None}, {"what does it sound like", None},
		{"play softly", None}, {"compare 1 and 2", None}, {"show the sheet", None}, {"", None}, {"both", None}, {"I play with two mallets", None},
		{"two mallets", None}, {"four", None}, {"I want it soft", None},
	} {
		if got := Of(c.line); got != c.want {
			t.Errorf("%q asks for %d, want %d", c.line, got, c.want)
		}
	}
}
