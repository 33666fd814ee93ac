package talk

import (
	"fmt"
	"io"
	"sync"
	"time"

	"mallow/assistant"
)

// A reply that is not there by hint is announced; from then on, somebody is
// told every so often how far it has come.
const (
	hint  = 300 * time.Millisecond
	often = 2 * time.Second
)

// waiting tells somebody who looks on about a reply that takes long.
type waiting struct {
	out  io.Writer // Aside
	kit  *assistant.Kit
	late *time.Timer

	mu   sync.Mutex
	said time.Time // when something was last told; zero for not yet
	over bool
}

// wait begins to wait for a reply; end ends it. Nothing is told to nobody.
func (t *talk) wait() *waiting {
	if t.Aside == nil {
		return nil
	}
	w := &waiting{out: t.Aside, kit: t.kit}
	w.late = time.AfterFunc(hint, w.begin)
	t.kit.Watch(w.so)
	return w
}

// further tells that a longer look begins, which Ctrl-C breaks off.
func (t *talk) further() {
	if t.Aside != nil {
		fmt.Fprint(t.Aside, "I look further before anything is cut. Ctrl-C goes on with the best so far.\n\n")
	}
}

func (w *waiting) begin() {
	w.mu.Lock()
	defer w.mu.Unlock()
	if !w.over {
		w.said = time.Now()
		fmt.Fprint(w.out, "One moment: I look through the heads.\n\n")
	}
}

// so is told how many heads have been looked at.
func (w *waiting) so(tried int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if now := time.Now(); !w.over && !w.said.IsZero() && now.Sub(w.said) >= often {
		w.said = now
		fmt.Fprintf(w.out, "%d heads so far.\n\n", tried)
	}
}

func (w *waiting) end() {
	if w == nil {
		return
	}
	w.late.Stop()
	w.kit.Watch(nil)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.over = true
}
