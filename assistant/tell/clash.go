package tell

import (
	"errors"
	"strings"

	"mallow/assistant/reply"
	"mallow/rules/propose"
)

// Clash says what can't be had together, and what is nearest.
func (t Teller) Clash(r *Said, err error) {
	var clash *propose.Clash
	*t.Wish = ""
	switch {
	case !errors.As(err, &clash):
		r.Say("%s", reply.Told(err))
		return
	case len(clash.Wishes) == 0:
		r.Say("The rules refuse every head that these parts make.")
		return
	case len(clash.Wishes) == 1:
		r.Say("No head that can be built has %s.", clash.Wishes[0])
	default:
		r.Say("No head that can be built has all of this together: %s.", strings.Join(clash.Wishes, "; "))
	}
	for _, w := range clash.Asked {
		if at := t.State.Clone(); !w.Firm && len(clash.Nearest) > 0 && at.GiveUp(w.Fact) {
			*t.Wish, *t.Without = w.Fact, w.Text
			break
		}
	}
	for _, n := range clash.Nearest {
		r.Say("%s: %s. %s", reply.Capital(n.Kind), t.Parts(n.Stack), reply.InShort(n.Candidate))
	}
}
