package talk

import (
	"strings"
	"testing"
	"time"
)

// Somebody who looks on is told that a reply takes long, and how far it has
// come, but not more often than they can read.
func TestWait(t *testing.T) {
	var out strings.Builder
	talk := &talk{Config: Config{Aside: &out}, kit: kit(t)}
	w := talk.wait()
	w.so(10)
	w.begin()
	w.so(20)
	w.said = time.Now().Add(-often)
	w.so(30)
	w.so(40)
	w.end()
	w.so(50)
	w.begin()
	want := "One moment: I look through the heads.\n\n30 heads so far.\n\n"
	if out.String() != want {
		t.Errorf("got %q, want %q", out.String(), want)
	}
	talk.Aside = nil
	talk.wait().end()
	if out.String() != want {
		t.Error("nobody is told something")
	}
}
